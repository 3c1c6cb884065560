package moisture

import (
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Point is one plane of a snapshot.
type Point struct {
	Depth       units.Length // from the inside face
	Sd          units.Length // from the inside face
	Face        bool         // a face of a layer; else within one
	Temperature units.Temperature
	Saturation  units.Pressure
	// Pressure is the vapor's, kept at or below saturation; Straight is the
	// line that it would follow if nothing condensed.
	Pressure, Straight units.Pressure
	Condenses          bool
}

// Snapshot is one month's pressure against saturation across a dry section.
type Snapshot struct {
	Month           int // from 0
	Inside, Outside Air
	Points          []Point // inside to outside
	Condenses       bool
}

// SnapshotOf returns the vapor pressure across the section in a month, from
// 0: January, for an element that is dry before it.
//
// Method: ISO 13788:2012, 6.4. Errors: *[units.RangeError], *[basis.MissingError].
func SnapshotOf(s *Section, y *Year, month int) (*Snapshot, error) {
	if err := basis.Within("month", float64(month), 0, 11, ""); err != nil {
		return nil, err
	}
	g, err := newGlaser(s, y)
	if err != nil {
		return nil, err
	}
	return g.snapshot(month), nil
}

func (g *glaser) snapshot(month int) *Snapshot {
	clear(g.stock)
	g.month(month)
	in, ex := g.year.Inside[month], g.year.Outside[month]
	out := &Snapshot{Month: month, Inside: in, Outside: ex, Points: make([]Point, len(g.nodes))}
	depth := make([]float64, len(g.nodes)) // from the outside face
	for i, n := range g.nodes {
		if n.layer >= 0 {
			thickness := float64(g.layers[n.layer].Thickness)
			share := n.part
			if share == 0 {
				share = 1
			}
			base := 0.0
			for k := len(g.layers) - 1; k > n.layer; k-- {
				base += float64(g.layers[k].Thickness)
			}
			depth[i] = base + share*thickness
		}
	}
	last := len(g.nodes) - 1
	for i := range g.nodes {
		n := g.nodes[i]
		t := g.temperature(i, in, ex)
		straight := float64(ex.Pressure) + (float64(in.Pressure)-float64(ex.Pressure))*n.s/g.sd
		if math.IsNaN(straight) {
			panic("moisture: a section without sd was let through")
		}
		out.Points[last-i] = Point{
			Depth: units.Length(depth[last] - depth[i]), Sd: units.Length(g.sd - n.s), Face: n.part == 0,
			Temperature: units.Temperature(t), Saturation: units.Pressure(saturation(t)),
			Pressure: units.Pressure(g.p[i]), Straight: units.Pressure(straight), Condenses: g.gain[i] > 0,
		}
		out.Condenses = out.Condenses || g.gain[i] > 0
	}
	return out
}
