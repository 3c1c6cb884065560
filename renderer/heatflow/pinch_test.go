package heatflow

import (
	"math"
	"testing"

	"wythe/renderer/geometry"
)

// A rod that lies on a slab touches it along a line, of which the section shows
// a point: no heat passes, so that the slab conducts as it does alone.
func TestTouchingAtAPoint(t *testing.T) {
	at := func(x, y int64) geometry.Point { return geometry.Point{X: x * 1000, Y: y * 1000} }
	slab := &Layout{
		Areas:    []Area{{Region: 0, Ring: geometry.Ring{at(0, 0), at(400, 0), at(400, 50), at(200, 50), at(0, 50)}}},
		Surfaces: []Line{{Of: 0, Points: []geometry.Point{at(0, 0), at(400, 0)}}, {Of: 1, Points: []geometry.Point{at(0, 50), at(400, 50)}}},
	}
	with := *slab
	with.Areas = append(with.Areas, Area{Region: 1, Ring: geometry.Ring{at(200, 50), at(220, 70), at(200, 90), at(180, 70)}})
	with.Surfaces = append(with.Surfaces, Line{Of: 1, Points: []geometry.Point{at(200, 50), at(220, 70), at(200, 90), at(180, 70), at(200, 50)}})
	coupling := func(l *Layout) (float64, *Field) {
		p := l.Problem()
		p.Regions = []Region{{1.7}, {50}}
		p.Surfaces = []Surface{{Space: 0, Resistance: 0.1}, {Space: 1, Resistance: 0.04}}
		p.Spaces = []Space{{"inside", 20}, {"outside", -12}}
		f, err := Solve(p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		c, _ := f.Coupling(0, 1)
		return c, f
	}
	alone, _ := coupling(slab)
	touched, f := coupling(&with)
	if math.Abs(touched-alone) > 1e-9*alone {
		t.Errorf("coupling %.12g; alone %.12g", touched, alone)
	}
	if n := f.Unknowns(); n > 500 {
		t.Errorf("%d unknowns: the mesh is fine about a point that no heat passes", n)
	}
	if c, ok := f.TemperatureAt(0.200, 0.080); !ok || math.Abs(c+12) > 1e-9 {
		t.Errorf("the rod is at %g °C; it has the air's on all sides", c)
	}
}
