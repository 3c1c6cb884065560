package heatflow

import (
	"math"
	"testing"

	"wythe/renderer/geometry"
)

// A sheet over insulation that ends against steel: heat enters the sheet at a
// point, so that no mesh there is fine enough. It is solved all the same, and
// not by triangles too small to reckon with.
func TestFilmEndsAgainstSteel(t *testing.T) {
	at := func(x, y int64) geometry.Point { return geometry.Point{X: x * 1000, Y: y * 1000} }
	p := &Problem{
		Points: []geometry.Point{at(0, 0), at(12, 0), at(612, 0), at(612, 240), at(12, 240), at(12, 600), at(0, 600), at(0, 240)},
		Edges: []Edge{
			{A: 0, B: 1, Left: 0, Right: None, Surface: 0, Film: None},
			{A: 1, B: 2, Left: 1, Right: None, Surface: 0, Film: None},
			{A: 2, B: 3, Left: 1, Right: None, Surface: None, Film: None},
			{A: 3, B: 4, Left: 1, Right: None, Surface: 1, Film: 0},
			{A: 4, B: 5, Left: 0, Right: None, Surface: 1, Film: None},
			{A: 5, B: 6, Left: 0, Right: None, Surface: None, Film: None},
			{A: 6, B: 7, Left: 0, Right: None, Surface: None, Film: None},
			{A: 7, B: 0, Left: 0, Right: None, Surface: None, Film: None},
			{A: 1, B: 4, Left: 0, Right: 1, Surface: None, Film: None},
		},
		Regions:  []Region{{50}, {0.036}},
		Surfaces: []Surface{{Space: 0, Resistance: 0.1}, {Space: 1, Resistance: 0.04}},
		Films:    []Film{{Thickness: 0.0015, Conductivity: 0.17}},
		Spaces:   []Space{{"inside", 20}, {"outside", -12}},
	}
	f, err := Solve(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if f.Rounds >= maxRounds {
		t.Errorf("%d rounds", f.Rounds)
	}
	least := math.Inf(1)
	for k := range f.g.tri {
		_, long := f.g.longest(int32(k))
		least = min(least, math.Sqrt(long))
	}
	if least < finest/2 {
		t.Errorf("a triangle is %g µm long", least/grainsPerMicrometre)
	}
	l, within := f.Coupling(0, 1)
	fine, err := Solve(p, Options{Tolerance: 2e-4, Temperature: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	best, off := fine.Coupling(0, 1)
	if math.Abs(l-best) > within+off {
		t.Errorf("coupling %g ± %g; solved finer %g ± %g", l, within, best, off)
	}
}

// Steel that touches steel at a point within wood: heat crowds there without
// end, and the solve ends when more triangles gain nothing.
func TestMetalTouchesMetalAtAPoint(t *testing.T) {
	at := func(x, y int64) geometry.Point { return geometry.Point{X: x * 1000, Y: y * 1000} }
	l := &Layout{
		Areas: []Area{
			{Region: 1, Ring: geometry.Ring{at(0, 0), at(400, 0), at(400, 200), at(0, 200)}},
			{Region: 0, Ring: geometry.Ring{at(0, 0), at(400, 0), at(400, 40), at(200, 40), at(0, 40)}},
			{Region: 0, Ring: geometry.Ring{at(200, 40), at(280, 45), at(280, 160), at(120, 160), at(120, 45)}},
		},
		Surfaces: []Line{{Of: 0, Points: []geometry.Point{at(0, 0), at(400, 0)}}, {Of: 1, Points: []geometry.Point{at(400, 200), at(0, 200)}}},
	}
	p := l.Problem()
	p.Regions = []Region{{50}, {0.13}}
	p.Surfaces = []Surface{{Space: 0, Resistance: 0.1}, {Space: 1, Resistance: 0.04}}
	p.Spaces = []Space{{"inside", 20}, {"outside", -12}}
	f, err := Solve(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if n := f.Unknowns(); n > 20000 {
		t.Errorf("%d unknowns", n)
	}
	l1, within := f.Coupling(0, 1)
	fine, err := Solve(p, Options{Tolerance: 1e-4, Temperature: 1})
	if err != nil {
		t.Fatal(err)
	}
	if best, off := fine.Coupling(0, 1); math.Abs(l1-best) > within+off {
		t.Errorf("coupling %g ± %g; finer %g ± %g", l1, within, best, off)
	}
}
