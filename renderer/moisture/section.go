package moisture

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Section is an element as vapor crosses it.
type Section struct {
	Layers []Layer // inside to outside
	// SurfaceInside is that of the direction of heat flow (0.13 wall, 0.10 up,
	// 0.17 down), not the mould check's. SurfaceOutside is 0 on the ground.
	SurfaceInside, SurfaceOutside units.ThermalResistance
	// SurfaceSheltered stands in for SurfaceOutside where a ventilated layer
	// ends the section; zero: SurfaceInside.
	SurfaceSheltered units.ThermalResistance
}

// Layer is one layer along the path looked at.
type Layer struct {
	Name       string
	Thickness  units.Length
	Resistance units.ThermalResistance
	Sd         units.Length // equivalent air layer; +Inf: vapor tight
	// Ventilated: a well-ventilated air layer; it and all outside it are left out.
	Ventilated bool
	AirOpen    bool // room air passes: batt, loose fill, unventilated air
	AirStop    bool // carries the air control
	Wood       bool // sawn timber or a wood panel
}

// node is a plane on which vapor may condense, the outside face first.
type node struct {
	layer int     // index into the section's layers of the layer outside of it
	part  float64 // 0: at that layer's inside face; else the share of it outside of the node
	r     float64 // resistance from the outside air, m²·K/W
	s     float64 // sd from the outside face, m
}

// grid is a section divided, outside to inside.
type grid struct {
	layers  []Layer // inside to outside, without those left out
	nodes   []node
	total   float64 // resistance air to air
	sd      float64
	rse     float64
	tight   bool // some layer is vapor tight
	leftOut int
}

// divide checks a section and lays its nodes: layers of more than 0.25 m²K/W
// in the fewest equal parts that are not.
//
// Method: ISO 13788:2012, 6.3.
func divide(s *Section) (*grid, error) {
	g := &grid{layers: s.Layers, rse: float64(s.SurfaceOutside)}
	for i := range s.Layers {
		if s.Layers[i].Ventilated {
			g.layers, g.leftOut = s.Layers[:i], len(s.Layers)-i
			if g.rse = float64(s.SurfaceSheltered); g.rse == 0 {
				g.rse = float64(s.SurfaceInside)
			}
			break
		}
	}
	for _, f := range []float64{float64(s.SurfaceInside), g.rse} {
		if !(f >= 0) || math.IsInf(f, 1) {
			return nil, &units.RangeError{Quantity: "surface resistance", Value: f, Unit: "m²·K/W", Says: "must be finite and not negative"}
		}
	}
	if len(g.layers) == 0 {
		return nil, &basis.MissingError{Method: "ISO 13788:2012", Quantity: "layers inside the ventilated one", Put: "the assembly"}
	}
	count := 1
	for i := range g.layers {
		l := &g.layers[i]
		if !(l.Resistance >= 0) || math.IsInf(float64(l.Resistance), 1) {
			return nil, &units.RangeError{Quantity: fmt.Sprintf("resistance of %q", l.Name), Value: float64(l.Resistance), Unit: "m²·K/W", Says: "must be finite and not negative"}
		}
		if !(l.Sd >= 0) {
			return nil, &units.RangeError{Quantity: fmt.Sprintf("sd of %q", l.Name), Value: float64(l.Sd), Unit: "m", Says: "must not be negative"}
		}
		n := parts(l)
		if n > mostParts {
			return nil, &units.RangeError{Quantity: fmt.Sprintf("resistance of %q", l.Name), Value: float64(l.Resistance), Limit: mostParts * float64(DivideAbove), Unit: "m²·K/W", Says: "is too great to divide"}
		}
		count += n
	}
	g.nodes = make([]node, 0, count)
	at := node{layer: -1, r: g.rse}
	g.nodes = append(g.nodes, at)
	for i := len(g.layers) - 1; i >= 0; i-- {
		l := &g.layers[i]
		sd := float64(l.Sd)
		if sd > vaporTightSd {
			sd, g.tight = vaporTightSd, true
		}
		n := parts(l)
		for k := 1; k <= n; k++ {
			share := float64(k) / float64(n)
			next := node{layer: i, r: at.r + share*float64(l.Resistance), s: at.s + share*sd}
			if k < n {
				next.part = share
			}
			g.nodes = append(g.nodes, next)
		}
		at = g.nodes[len(g.nodes)-1]
	}
	g.total, g.sd = at.r+float64(s.SurfaceInside), at.s
	if !(g.sd > 0) {
		return nil, basis.Positive("sd of all layers", g.sd, "m")
	}
	return g, nil
}

const mostParts = 1000

func parts(l *Layer) int {
	// A resistance of a whole number of quarters, through floating point.
	const rounding = 1e-9
	return max(1, int(math.Ceil(float64(l.Resistance)/float64(DivideAbove)-rounding)))
}

// temperature at node i between two airs.
func (g *grid) temperature(i int, in, ex Air) float64 {
	if g.total == 0 {
		return float64(ex.Temperature)
	}
	return float64(ex.Temperature) + float64(in.Temperature-ex.Temperature)*g.nodes[i].r/g.total
}

// between names the layers outside and inside of a node; the same twice
// within a layer.
func (g *grid) between(i int) (outer, inner string) {
	n := g.nodes[i]
	switch {
	case n.layer < 0:
		return "outside", g.layers[len(g.layers)-1].Name
	case n.part > 0:
		return g.layers[n.layer].Name, g.layers[n.layer].Name
	case n.layer == 0:
		return g.layers[0].Name, "inside"
	}
	return g.layers[n.layer].Name, g.layers[n.layer-1].Name
}
