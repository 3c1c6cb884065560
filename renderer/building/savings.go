package building

import (
	"sort"

	"wythe/renderer/detail"
	"wythe/renderer/energy"
	"wythe/renderer/figures"
	"wythe/renderer/material"
	"wythe/renderer/units"
)

// More is by how much each insulation is thickened: an inch, or 25 mm where a
// library is metric.
func More(s units.System) units.Length {
	if s == units.Metric {
		return 0.025
	}
	return 0.0254
}

// Saving is what one change saves.
type Saving struct {
	Mark  string
	What  string // "1 in more XPS type IV (foam)"
	WPerK float64
	Heat  energy.Heat // a year
	Money float64     // a year, by the first fuel; 0 without prices
}

// Savings returns what [More] of each insulation of a building saves,
// and what mending each junction down to nothing would, the most first.
//
// Method: the budget solved again with the one change. A layer that cannot be
// computed with more is left out.
func Savings(c Context, d *detail.Detail) []Saving {
	base, more := Solve(c, d), More(c.Settings.Units)
	var out []Saving
	seen := map[string]bool{}
	for _, u := range d.Building.Areas {
		fig := c.Assembly(u.Mark)
		if fig == nil || seen[u.Mark] {
			continue
		}
		seen[u.Mark] = true
		for i, l := range fig.Detail.Assembly.Layers {
			if !insulates(l) {
				continue
			}
			thicker := figures.OfAssembly(figures.Context{Settings: c.Settings, Climate: c.Climate}, thickened(fig.Detail, i, more))
			again := c
			again.Assembly = func(mark string) *figures.Assembly {
				if mark == u.Mark {
					return thicker
				}
				return c.Assembly(mark)
			}
			after := Solve(again, d)
			if len(after.Missing) != len(base.Missing) {
				continue // no method holds for the thicker layer, such as studs of an odd depth
			}
			out = append(out, saved(base, after, u.Mark, more.Show(c.Settings.Units)+" more "+l.Material.Name+" ("+l.Name+")"))
		}
	}
	for _, l := range base.Lines {
		if l.Kind != Junction || l.WPerK <= 0 {
			continue
		}
		again := c
		again.Psi = func(mark string) Linear {
			if mark == l.Mark {
				return Linear{}
			}
			return c.Psi(mark)
		}
		out = append(out, saved(base, Solve(again, d), l.Mark, "the junction mended to Ψ 0"))
	}
	sort.SliceStable(out, func(i, j int) bool {
		if out[i].Heat != out[j].Heat {
			return out[i].Heat > out[j].Heat
		}
		return out[i].WPerK > out[j].WPerK
	})
	return out
}

func saved(base, after *Budget, mark, what string) Saving {
	s := Saving{Mark: mark, What: what, WPerK: base.WPerK - after.WPerK, Heat: base.Year - after.Year}
	if len(base.Costs) > 0 && len(after.Costs) > 0 {
		s.Money = base.Costs[0].Money - after.Costs[0].Money
	}
	return s
}

// insulates reports whether a layer is there to hold heat.
func insulates(l *detail.Layer) bool {
	if l.Material == nil {
		return false
	}
	switch l.Material.Hatch {
	case material.RigidInsulation, material.Batt, material.LooseFill:
		return true
	}
	for _, c := range l.Control {
		if c == detail.Thermal {
			return true
		}
	}
	return false
}

// thickened is a detail with more of one layer.
func thickened(d *detail.Detail, layer int, more units.Length) *detail.Detail {
	other := *d
	asm := *d.Assembly
	asm.Layers = append([]*detail.Layer(nil), d.Assembly.Layers...)
	l := *asm.Layers[layer]
	l.Thickness += more / units.Length(max(1, l.Courses))
	asm.Layers[layer] = &l
	other.Assembly = &asm
	return &other
}
