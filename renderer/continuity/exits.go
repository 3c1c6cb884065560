package continuity

import (
	"slices"

	"wythe/renderer/detail"
	"wythe/renderer/geometry"
)

// Exit is where a control's chain leaves the section: the carrier that must
// take it up again in the next junction.
type Exit struct {
	Side  detail.Side
	Name  string // the carrier's name here
	Mark  string // of the assembly it is laid from; "" a part of this junction
	Layer string // of that assembly
	At    geometry.Point
}

// exits lists where the lines of a chain reach the edge of the view.
func (t *tracer) exits() {
	v := t.s.View
	for _, l := range t.report.Lines {
		if l.Gap {
			continue
		}
		for _, p := range [...]geometry.Point{l.Points[0], end(l)} {
			var side detail.Side
			switch {
			case p.X == v.Min.X:
				side = detail.Left
			case p.X == v.Max.X:
				side = detail.Right
			case p.Y == v.Min.Y:
				side = detail.Bottom
			case p.Y == v.Max.Y:
				side = detail.Top
			default:
				continue
			}
			e := Exit{Side: side, Name: l.Name, At: p}
			e.Mark, e.Layer = t.origin(l.Name)
			if !slices.Contains(t.report.Exits, e) {
				t.report.Exits = append(t.report.Exits, e)
			}
		}
	}
}

// origin is the assembly and layer a named carrier is laid from.
func (t *tracer) origin(name string) (mark, layer string) {
	for i := range t.s.Regions {
		if g := &t.s.Regions[i]; g.Name == name && g.LayerOf != nil {
			return g.Mark, g.LayerOf.Name
		}
	}
	for i := range t.s.Films {
		if f := &t.s.Films[i]; f.Name == name && f.LayerOf != nil {
			return f.Mark, f.LayerOf.Name
		}
	}
	return "", ""
}

// Handover is one junction's word on which layer of an assembly carries a
// control out of it.
type Handover struct {
	Junction, Mark, Layer string
	Control               detail.Control
}

// Handovers lists what a junction hands on, each once, in the order of its
// reports.
func Handovers(junction string, reports []Report) []Handover {
	var out []Handover
	for _, r := range reports {
		for _, e := range r.Exits {
			h := Handover{junction, e.Mark, e.Layer, r.Control}
			if e.Mark != "" && !slices.Contains(out, h) {
				out = append(out, h)
			}
		}
	}
	return out
}

// Mismatch is a control that two junctions hand to different layers of one
// assembly: somewhere between them it would have to change sides.
type Mismatch struct {
	Mark    string
	Control detail.Control
	A, B    Handover
}

// Mismatches compares what junctions hand on, for each assembly and control.
// A junction whose chain leaves by two layers of one assembly agrees with any
// that uses either.
func Mismatches(list []Handover) []Mismatch {
	type place struct {
		mark    string
		control detail.Control
	}
	at := map[place][]int{} // of list
	hands := make(map[Handover]bool, len(list))
	for i, h := range list {
		p := place{h.Mark, h.Control}
		at[p] = append(at[p], i)
		hands[h] = true
	}
	var out []Mismatch
	for i, a := range list {
		for _, k := range at[place{a.Mark, a.Control}] {
			b := list[k]
			if k <= i || a.Junction == b.Junction || a.Layer == b.Layer ||
				hands[Handover{a.Junction, b.Mark, b.Layer, b.Control}] || hands[Handover{b.Junction, a.Mark, a.Layer, a.Control}] {
				continue
			}
			out = append(out, Mismatch{a.Mark, a.Control, a, b})
		}
	}
	return out
}
