package site

import (
	"math"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/material"
	"wythe/renderer/units"
)

// drawn is a material that a detail draws.
type drawn struct {
	m         *material.Material
	thickness units.Length // of one course; 0 where it has none of its own
	at        finding.Position
}

// drawnIn lists what a detail draws itself: layers with their members, parts.
// What is not bought, such as air, ground and a weld, is left out.
func drawnIn(d *detail.Detail) []drawn {
	var out []drawn
	add := func(m *material.Material, t units.Length, at finding.Position) {
		if m == nil {
			return
		}
		switch m.Hatch {
		case material.Air, material.Earth, material.Backfill, material.None:
			return
		}
		out = append(out, drawn{m, t, at})
	}
	if d.Assembly != nil {
		for _, l := range d.Assembly.Layers {
			add(l.Material, l.Thickness, l.At)
			if l.Framing != nil {
				add(l.Framing.Material, 0, l.At)
			}
		}
	}
	if d.Junction != nil {
		for _, p := range d.Junction.Parts {
			if p.SealWord != "weld" { // what is welded is
				add(p.Material, p.Thickness, p.At)
			}
		}
	}
	return out
}

// specFindings hold what sections specify, here or elsewhere, to what the
// details that they cite draw. Only sections that say what they specify are
// held, and only the details that one of those cites.
func (l *Library) specFindings() finding.List {
	var list finding.List
	specified := map[string]bool{}
	var held []*entry
	for _, e := range l.specs {
		if len(e.d.Spec.Specifies) == 0 || e.broken {
			continue
		}
		held = append(held, e)
		for _, s := range e.d.Spec.Specifies {
			specified[s.Material.Name] = true
		}
		for _, m := range e.d.Spec.Elsewhere {
			specified[m.Name] = true
		}
	}
	said := map[string]bool{}
	for _, e := range held {
		of := map[*material.Material][]units.Length{}
		for _, c := range e.d.Cites {
			to := l.byMark[c.Mark]
			if to == nil || to.broken || to.d.Status == detail.Superseded {
				continue
			}
			for _, x := range drawnIn(to.d) {
				if x.thickness > 0 {
					of[x.m] = append(of[x.m], x.thickness)
				}
				if !specified[x.m.Name] && !said[x.m.Name] {
					said[x.m.Name] = true
					list.Warnf(x.at, "not-specified", "add it to \"specifies:\" of a section, or to \"elsewhere:\" where a section outside the library specifies it", "%s draws %s, which no section specifies", to.d.Mark, x.m.Name)
				}
			}
		}
		for _, s := range e.d.Spec.Specifies {
			l.statedOtherwise(&s, of[s.Material], &list)
		}
	}
	return list
}

// asStated is how far two values that mean the same may lie apart: both are
// written, not worked out, and units are converted exactly.
const asStated = 1e-6

func apart(a, b float64) bool { return math.Abs(a-b) > asStated*math.Max(math.Abs(a), math.Abs(b)) }

func (l *Library) statedOtherwise(s *detail.Specified, thicknesses []units.Length, list *finding.List) {
	system := l.lib.Settings.Units
	if s.Thickness > 0 && len(thicknesses) > 0 {
		match := false
		for _, t := range thicknesses {
			match = match || !apart(float64(t), float64(s.Thickness))
		}
		if !match {
			list.Warnf(s.At, "stated-otherwise", "make the two agree", "the section states %s of %s; the details that it cites draw %s", s.Thickness.Show(system), s.Material.Name, thicknesses[0].Show(system))
		}
	}
	if s.Compressive > 0 && s.Material.Compressive > 0 && apart(float64(s.Compressive), float64(s.Material.Compressive)) {
		list.Warnf(s.At, "stated-otherwise", "make the two agree", "the section states %s of %s; the details rest on %s", s.Compressive.Show(system), s.Material.Name, s.Material.Compressive.Show(system))
	}
}
