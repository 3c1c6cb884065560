package heatflow

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"wythe/renderer/basis"
	"wythe/renderer/geometry"
)

// randomSection lays a wall of random parts: slanting, overlapping, thin,
// holes, films anywhere, conductivities over six decades.
func randomSection(r *rand.Rand) *Problem {
	l := &Layout{Areas: []Area{box(0, 0, 0, 1, 0.3)}}
	some := func() geometry.Point { return at(math.Round(r.Float64()*40)/40, math.Round(r.Float64()*24)/80) }
	lambda := func() float64 { return math.Pow(10, -2+4.5*r.Float64()) }
	regions := []Region{{lambda()}}
	for range 1 + r.IntN(12) {
		k := int32(len(regions))
		a, b, c := some(), some(), some()
		ring := geometry.Ring{a, {X: b.X, Y: a.Y}, b, {X: a.X, Y: b.Y}}
		switch r.IntN(4) {
		case 0:
			ring = geometry.Ring{a, b, c}
		case 1: // a sheet
			ring = geometry.Ring{a, {X: b.X, Y: a.Y}, {X: b.X, Y: a.Y + 1500}, {X: a.X, Y: a.Y + 1500}}
		}
		if !ring.Simple() {
			continue
		}
		if r.IntN(8) == 0 {
			k = None
		} else {
			regions = append(regions, Region{lambda()})
		}
		l.Areas = append(l.Areas, Area{k, ring})
	}
	films := []Film{{0.0005, 0.0005 + r.Float64()*0.01}, {0.0001, 50 + 400*r.Float64()}}
	knots := []geometry.Point{some(), some(), some(), some(), some()} // films meet and end on one another
	for range r.IntN(5) {
		knot := func() geometry.Point { return knots[r.IntN(len(knots))] }
		if a, b, c := knot(), knot(), knot(); a != b && b != c {
			l.Films = append(l.Films, line(int32(r.IntN(2)), a, b, c))
		}
	}
	l.Surfaces = []Line{line(0, at(0, 0), at(0.5, 0)), line(1, at(0.5, 0), at(1, 0)), line(2, at(0, 0.3), at(1, 0.3))}
	p := l.Problem()
	p.Regions, p.Films = regions, films
	p.Spaces = []Space{{"a", 20}, {"b", 14}, {"out", -10}}
	p.Surfaces = []Surface{{0, 0.13}, {1, 0.13}, {2, 0.04}}
	return p
}

// Whatever is laid is solved: bounds in order, reciprocity, no heat lost, the
// misfit as the gap.
func TestRandomSections(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	for trial := range 300 {
		p := randomSection(r)
		f, err := Solve(p, Options{Tolerance: 0.02, Temperature: 0.5, Most: 6000})
		var refused *basis.RefusedError
		if errors.As(err, &refused) { // a hole that films close in
			continue
		}
		if err != nil {
			t.Fatalf("section %d: %v", trial, err)
		}
		for i := range f.m.active {
			lo, hi := f.bounds[0][i][i], f.bounds[1][i][i]
			if lo > hi*(1+1e-8)+1e-10 {
				t.Errorf("section %d: space %d: from %g to %g", trial, i, lo, hi)
			}
			for b := range f.bounds {
				sum := 0.0
				for j := range f.m.active {
					sum += f.bounds[b][j][i]
					isNear(t, "reciprocity", f.bounds[b][i][j], f.bounds[b][j][i], 1e-7*hi+1e-10)
				}
				isNear(t, "conservation", sum, 0, 1e-7*hi+1e-10)
			}
			scale := make([]float64, len(f.m.active))
			scale[i] = 1
			gap := 0.0
			for _, e := range f.m.misfit(f.p, f.d, scale) {
				gap += e
			}
			isNear(t, "misfit", gap, hi-lo, 1e-7*hi+1e-10)
		}
		if f.ErrorEstimate() > 0.05 && f.Unknowns() < 6000 {
			t.Errorf("section %d: error %g with %d unknowns in %d rounds", trial, f.ErrorEstimate(), f.Unknowns(), f.Rounds)
		}
	}
}
