package site

import (
	"strings"

	"wythe/renderer/building"
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

// linearOf is the linear transmittance by which a building counts a junction.
// It is that of outside measures where there is one; but a floor on the ground
// is measured inside, as ISO 13370 measures it, and beside an opening, where
// outside faces never meet, inside measures are the opening's own.
func linearOf(j *figures.Junction) building.Linear {
	switch {
	case j == nil || j.Section == nil:
		return building.Linear{Why: "its section cannot be laid out"}
	case j.Heat == nil:
		for _, n := range j.NotComputed {
			if n.Key == "heatflow" {
				return building.Linear{Why: n.Why}
			}
		}
		return building.Linear{Why: "its heat flow is not solved"}
	}
	psi := &j.Heat.Psi
	switch {
	case psi.HasInternal && psi.Soil:
		return building.Linear{Psi: psi.Internal, Note: "ψ by inside dimensions, as ISO 13370 measures the floor"}
	case psi.HasExternal:
		return building.Linear{Psi: psi.External, Note: "ψ by outside dimensions"}
	case psi.HasInternal:
		why, _, _ := strings.Cut(psi.Why, ";")
		return building.Linear{Psi: psi.Internal, Note: "ψ by inside dimensions: " + why}
	}
	return building.Linear{Why: psi.Why}
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
