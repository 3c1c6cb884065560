package site

import (
	"wythe/renderer/building"
	"wythe/renderer/detail"
	"wythe/renderer/energy"
	"wythe/renderer/figures"
	"wythe/renderer/finding"
	"wythe/renderer/section"
)

// built is a building as issued: each of its marks in the revision that the
// building pins, where the history holds it.
type built struct {
	l     *Library
	e     *entry
	now   map[string]*detail.Detail    // by mark, of pinned ones
	lib   map[string]*Library          // the library they stand in
	figs  map[string]*figures.Assembly // worked out
	notes []string
	moved []string // marks whose pin is not the newest revision
}

func (l *Library) built(e *entry) *built {
	b := &built{l: l, e: e, now: map[string]*detail.Detail{}, lib: map[string]*Library{}, figs: map[string]*figures.Assembly{}}
	for _, mark := range sortedKeys(e.d.Building.Pins) {
		rev := e.d.Building.Pins[mark]
		d := l.lib.Detail(mark)
		if d == nil || len(d.Revisions) == 0 {
			continue
		}
		if d.Revisions[0].Rev == rev {
			continue
		}
		b.moved = append(b.moved, mark)
		p := l.past()
		versions := p.issued[issueKey{mark, rev}]
		if len(versions) == 0 {
			b.notes = append(b.notes, mark+" is pinned to revision "+rev+", which the history does not hold: it is counted as it now stands.")
			continue
		}
		for _, r := range d.Revisions {
			if r.Rev != rev {
				continue
			}
			if _, old, ok := issuedAs(p.repo, versions, mark, r); ok {
				b.now[mark], b.lib[mark] = old.lib.Detail(mark), old
			} else {
				b.notes = append(b.notes, mark+" is pinned to revision "+rev+", which does not match its fingerprint: it is counted as it now stands.")
			}
		}
	}
	return b
}

// detail is that of a mark as the building pins it.
func (b *built) detail(mark string) *detail.Detail {
	if d := b.now[mark]; d != nil {
		return d
	}
	return b.l.lib.Detail(mark)
}

// assembly is worked out under the settings and the climate of today.
func (b *built) assembly(mark string) *figures.Assembly {
	if f, done := b.figs[mark]; done {
		return f
	}
	var f *figures.Assembly
	if d := b.now[mark]; d != nil && d.Assembly != nil {
		f = figures.OfAssembly(figures.Context{Settings: &b.l.lib.Settings, Climate: b.l.lib.Climate}, d)
	} else if e := b.l.byMark[mark]; e != nil {
		f = e.figures()
	}
	b.figs[mark] = f
	return f
}

// section is a junction laid out as the building pins it.
func (b *built) section(mark string) *section.Section {
	d := b.detail(mark)
	if d == nil {
		return nil
	}
	of := b.l
	if old := b.lib[mark]; old != nil {
		of = old
	}
	if j := of.Junction(d); j != nil {
		return j.Section
	}
	return nil
}

func (b *built) context() building.Context {
	l := b.l
	c := building.Context{Settings: &l.lib.Settings, Climate: l.lib.Climate, Assembly: b.assembly, Psi: b.psi}
	for _, f := range l.lib.Settings.Energy {
		fuel := f.Name
		if f.PriceUnit == "kWh" {
			fuel = "electricity" // whatever the machine that turns it to heat
		}
		c.Prices = append(c.Prices, energy.Price{Fuel: fuel, PerUnit: f.Price, Unit: f.PriceUnit, Efficiency: f.Efficiency})
	}
	return c
}

// psi is the linear transmittance of a junction, in the revision that the
// building pins.
func (b *built) psi(mark string) building.Linear {
	of := b.l
	if old := b.lib[mark]; old != nil {
		of = old
	}
	e := of.byMark[mark]
	if e == nil {
		return building.Linear{Why: "its file has errors"}
	}
	return e.transmittance()
}

// BuildingNamed returns the building of a title or of its address's last word, or
// nil.
func (l *Library) BuildingNamed(name string) *detail.Detail {
	for _, e := range l.builds {
		if e.name == name || stem(e.d.File) == name {
			return e.d
		}
	}
	return nil
}

// BuildingNames are the titles of all buildings.
func (l *Library) BuildingNames() []string {
	names := make([]string, len(l.builds))
	for i, e := range l.builds {
		names[i] = e.name
	}
	return names
}

// Takeoff counts the materials of a building.
func (l *Library) Takeoff(d *detail.Detail) *building.Takeoff {
	b := l.built(l.byFile[d.File])
	return building.Count(d, b.detail, b.section, l.lib.Settings.Units)
}

// Budget is a building's heat budget.
func (l *Library) Budget(d *detail.Detail) *building.Budget {
	return building.Solve(l.built(l.byFile[d.File]).context(), d)
}

// buildingFindings are the elements of buildings that meet without a junction,
// and pins that the library moved on from.
func (l *Library) buildingFindings() finding.List {
	var list finding.List
	for _, e := range l.builds {
		if e.broken {
			continue
		}
		for _, mark := range sortedKeys(e.d.Building.Pins) {
			d := l.lib.Detail(mark)
			if rev := e.d.Building.Pins[mark]; d != nil && len(d.Revisions) > 0 && d.Revisions[0].Rev != rev && l.past().repo != nil && l.revisionHref(mark, rev) == "" {
				list.Warnf(e.d.At, "pin-not-found", "issue the building with a revision that is held", "%s is issued with %s rev %s, which the history does not hold", e.d.Title, mark, rev)
			}
		}
	}
	return list
}
