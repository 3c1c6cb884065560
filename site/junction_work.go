package site

import (
	"sync"

	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/figures"
	"wythe/renderer/finding"
	"wythe/renderer/sheet"
)

// Junction returns what is worked out of a junction, or nil for another
// detail and for one with errors.
func (l *Library) Junction(d *detail.Detail) *figures.Junction {
	if e := l.byFile[d.File]; e != nil {
		return e.junction()
	}
	return nil
}

func (l *Library) traceJunction(e *entry) *figures.Junction {
	if e.broken || e.d.Junction == nil {
		return nil
	}
	return figures.OfJunction(figures.Context{Settings: &l.lib.Settings, Climate: l.lib.Climate}, e.d, l.lib.Detail)
}

// mostFields is how many solved junctions a library keeps in memory, at about
// half a megabyte each.
const mostFields = 1000

// keepSome works a junction out once, as long as room is kept for it; one for
// which none is left is worked out each time.
func (l *Library) keepSome(work func() *figures.Junction) func() *figures.Junction {
	var mu sync.Mutex
	var done bool
	var kept *figures.Junction
	return func() *figures.Junction {
		mu.Lock()
		defer mu.Unlock()
		if done {
			return kept
		}
		j := work()
		if done = j == nil || l.fields.Add(1) <= mostFields; done {
			kept = j
		}
		return j
	}
}

// junctionFindings are those of laying out, tracing and solving every junction:
// all must be known before a page is made, since a broken control may stop it.
func (l *Library) junctionFindings() finding.List {
	var list finding.List
	for _, found := range l.facts.heard() {
		for _, f := range found.is {
			list.Items = append(list.Items, f.finding())
		}
	}
	list.Add(l.handoverFindings())
	return list
}

// layingErrors are the errors that keep a junction from being drawn.
func (l *Library) layingErrors(d *detail.Detail) finding.List {
	var list finding.List
	if j := l.Junction(d); j != nil {
		for _, f := range j.Laying.Items {
			if f.Level == finding.Error {
				list.Items = append(list.Items, f)
			}
		}
	}
	return list
}

// drawJunction returns a junction's drawing as a file of its own.
func (l *Library) drawJunction(d *detail.Detail, scale detail.Scale) ([]byte, error) {
	j := l.Junction(d)
	if j == nil || j.Section == nil {
		return nil, &NotDrawnError{d.Mark, "its file has errors; see: wythe review"}
	}
	system := l.lib.Settings.Units
	picture := sheet.NewJunction(d, j.Section, j.Continuity, system).Draw(sheet.JunctionLook{
		Look: sheet.Look{Dress: drawing.Wide, System: system, Scale: float64(scale)},
	})
	return append(svg.Append(nil, picture, svg.Options{Dress: svg.Standalone}), '\n'), nil
}

// junction is what is worked out of a junction, or nil; it follows from its
// file, the assemblies it lays, and the settings.
func (v view) junction(e *entry) *figures.Junction {
	v.View.Settings()
	v.View.Detail(e.d.Mark)
	return e.junction()
}

// solved is junction with its heat flow, which the climate is part of.
func (v view) solved(e *entry) *figures.Junction {
	v.View.Settings()
	v.View.Detail(e.d.Mark)
	v.View.Climate()
	return e.solved()
}
