package heatflow

import (
	"fmt"

	"wythe/renderer/basis"
	"wythe/renderer/geometry"
	"wythe/renderer/units"
)

// None marks what an edge does not have: a region on a side, a surface, a film.
const None = int32(-1)

// Problem is a plane section that conducts heat. Edges meet at shared points
// only (see [geometry.Node]).
type Problem struct {
	Points   []geometry.Point
	Edges    []Edge
	Regions  []Region
	Surfaces []Surface
	Films    []Film
	Spaces   []Space
}

// Edge is a straight piece between two points.
type Edge struct {
	A, B int32
	// Left and Right are the regions seen so from A to B; None where nothing
	// conducts.
	Left, Right int32
	// Surface is what an edge with one region faces; None: adiabatic.
	Surface int32
	// Film is what lies along the edge.
	Film int32
}

// Region is an area of one conductivity, W/(m·K).
type Region struct{ Conductivity float64 }

// Surface joins an edge to a space by a surface resistance, m²·K/W; 0 holds
// the edge itself at the temperature of the space.
type Surface struct {
	Space      int32
	Resistance float64
}

// Film is a layer too thin to mesh. It either holds heat back across it
// (resistance) or carries heat along it (conductance), whichever its
// conductivity does more of beside its neighbours'. On the outline it does
// both where it conducts better than the region.
type Film struct {
	Thickness    float64 // m
	Conductivity float64 // W/(m·K)
}

// Space is what surfaces face.
type Space struct {
	Name        string
	Temperature float64 // °C
}

const method = "ISO 10211:2017"

// check returns why a problem cannot be solved, or nil.
func (p *Problem) check() error {
	for i, r := range p.Regions {
		if err := basis.Within(fmt.Sprintf("conductivity of region %d", i), r.Conductivity, 1e-4, 1e4, "W/(m·K)"); err != nil {
			return err
		}
	}
	for i, f := range p.Films {
		if err := basis.Positive(fmt.Sprintf("thickness of film %d", i), f.Thickness, "m"); err != nil {
			return err
		}
		if err := basis.Positive(fmt.Sprintf("conductivity of film %d", i), f.Conductivity, "W/(m·K)"); err != nil {
			return err
		}
	}
	for i, s := range p.Surfaces {
		if err := basis.NotNegative(fmt.Sprintf("surface resistance %d", i), s.Resistance, "m²·K/W"); err != nil {
			return err
		}
		if s.Space < 0 || int(s.Space) >= len(p.Spaces) {
			panic("heatflow: a surface faces no space")
		}
	}
	for _, s := range p.Spaces {
		if err := basis.Within(fmt.Sprintf("temperature of %q", s.Name), s.Temperature, -273.15, 2000, "°C"); err != nil {
			return err
		}
	}
	facing := false
	for _, e := range p.Edges {
		if (e.Left == None || e.Right == None) && e.Left != e.Right && e.Surface != None {
			facing = true
		}
		for _, v := range [2]int32{e.A, e.B} {
			q := p.Points[v]
			if max(q.X, -q.X) > geometry.Limit || max(q.Y, -q.Y) > geometry.Limit {
				return &units.RangeError{Quantity: "coordinate", Value: float64(max(q.X, -q.X, q.Y, -q.Y)) * 1e-6,
					Limit: geometry.Limit * 1e-6, Unit: "m", Says: "must be nearer the origin"}
			}
		}
	}
	if !facing {
		return &basis.MissingError{Method: method, Quantity: "space that a surface of the section faces"}
	}
	return nil
}

// resists reports whether a film between two conductivities counts by its
// resistance, rather than by the heat it carries along.
func (f Film) resists(left, right float64) bool {
	return f.Conductivity*f.Conductivity < left*right
}

func (f Film) resistance() float64  { return f.Thickness / f.Conductivity }
func (f Film) conductance() float64 { return f.Thickness * f.Conductivity }
