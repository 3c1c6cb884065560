package heatflow

import (
	"fmt"
	"math"
	"testing"

	"wythe/renderer/geometry"
)

// circle is a polygon of the area of a circle.
func circle(x, y, radius float64, n int) (out geometry.Ring) {
	r := radius * math.Sqrt(2*math.Pi/float64(n)/math.Sin(2*math.Pi/float64(n)))
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out = append(out, at(x+r*cos, y+r*sin))
	}
	return out
}

func closed(r geometry.Ring) []geometry.Point {
	return append(append([]geometry.Point(nil), r...), r[0])
}

// A pipe in a round sleeve: 2π/(ln(D/d)/λ + resistances), by both bounds.
func TestPipeInSleeve(t *testing.T) {
	inner, outer := circle(0, 0, 0.03, 96), circle(0, 0, 0.08, 96)
	l := &Layout{
		Areas:    []Area{{0, outer}, {None, inner}},
		Surfaces: []Line{{0, closed(inner)}, {1, closed(outer)}},
	}
	p := l.Problem()
	p.Regions = []Region{{0.04}}
	p.Spaces = []Space{{"pipe", 60}, {"room", 20}}
	p.Surfaces = []Surface{{0, 0}, {1, 0.1}}
	f := solved(t, p, 0.0005)
	want := 2 * math.Pi / (math.Log(8.0/3)/0.04 + 0.1/0.08)
	lo, hi, ok := f.Bracket()
	if !ok || hi < lo {
		t.Fatalf("bracket %g to %g", lo, hi)
	}
	isNear(t, "coupling", (lo+hi)/2, want, 0.001*want) // polygons of 96 sides
	if f.ErrorEstimate() > 0.0005 {
		t.Errorf("error %g", f.ErrorEstimate())
	}
}

// Two pipes in a wall between two rooms: four spaces, three outlines. The
// couplings of pipes and rooms by both bounds.
func TestTwoPipesInAWall(t *testing.T) {
	a, b := circle(0.3, 0.1, 0.02, 24), circle(0.5, 0.12, 0.03, 24)
	l := &Layout{
		Areas:    []Area{box(0, 0, 0, 1, 0.1), box(1, 0, 0.1, 1, 0.25), {None, a}, {None, b}},
		Surfaces: []Line{{0, closed(a)}, {1, closed(b)}, line(2, at(0, 0), at(1, 0)), line(3, at(0, 0.25), at(1, 0.25))},
		Films:    []Line{line(0, at(0.6, 0.1), at(0.9, 0.1))},
	}
	p := l.Problem()
	p.Regions = []Region{{0.5}, {0.04}}
	p.Spaces = []Space{{"flow", 60}, {"return", 40}, {"room", 20}, {"yard", -10}}
	p.Surfaces = []Surface{{0, 0.02}, {1, 0.02}, {2, 0.13}, {3, 0.04}}
	p.Films = []Film{{0.0001, 160}}
	f := solved(t, p, 0.001)
	if e := f.ErrorEstimate(); e > 0.001 {
		t.Errorf("error %g", e)
	}
	for i := range 4 {
		lo, hi := f.bounds[0][i][i], f.bounds[1][i][i]
		if hi < lo*(1-1e-9) || hi-lo > 0.004*hi {
			t.Errorf("space %d: %g to %g", i, lo, hi)
		}
		for j := range 4 {
			isNear(t, fmt.Sprintf("reciprocity %d %d", i, j), f.bounds[0][i][j], f.bounds[0][j][i], 1e-9*hi)
		}
	}
	sum := 0.0
	for _, e := range f.m.misfit(f.p, f.d, []float64{0, 1}) {
		sum += e
	}
	isNear(t, "misfit", sum, f.bounds[1][1][1]-f.bounds[0][1][1], 1e-9*f.bounds[1][1][1])
	c := Cache{t.TempDir()}
	if _, _, err := c.Solve(p, Options{}); err != nil {
		t.Fatal(err)
	}
	if _, kept, err := c.Solve(p, Options{}); err != nil || !kept {
		t.Errorf("solved again: %v", err)
	}
}

// A hole that faces no space needs no cut and lets no heat through.
func TestHollowBlock(t *testing.T) {
	l := &Layout{
		Areas:    []Area{box(0, 0, 0, 0.4, 0.2), box(None, 0.1, 0.05, 0.3, 0.15)},
		Surfaces: []Line{line(0, at(0, 0), at(0.4, 0)), line(1, at(0, 0.2), at(0.4, 0.2))},
	}
	p := l.Problem()
	p.Regions = []Region{{0.5}}
	p.Spaces = []Space{{"in", 1}, {"out", 0}}
	p.Surfaces = []Surface{{0, 0.13}, {1, 0.04}}
	f := solved(t, p, 0.001)
	if e := f.ErrorEstimate(); e > 0.001 {
		t.Errorf("error %g", e)
	}
	whole := 0.4 / (0.17 + 0.2/0.5)
	if lo, hi, _ := f.Bracket(); lo > hi || hi > whole {
		t.Errorf("%g to %g, %g without the hole", lo, hi, whole)
	}
}
