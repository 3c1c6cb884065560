package heatflow

import (
	"math"
	"testing"

	"wythe/renderer/geometry"
)

// filmCase is two blocks of insulation with a film between them that turns
// with the joint, thickness d and conductivity lambda.
func filmCase(d, lambda float64) *Problem {
	l := &Layout{
		Areas: []Area{
			box(0, 0, 0, 0.4, 0.1), box(1, 0, 0.1, 0.4, 0.3), box(2, 0.15, 0.05, 0.25, 0.1),
		},
		Surfaces: []Line{line(0, at(0, 0), at(0.4, 0)), line(1, at(0, 0.3), at(0.4, 0.3))},
		Films:    []Line{line(0, at(0, 0.1), at(0.15, 0.1), at(0.15, 0.05), at(0.25, 0.05), at(0.25, 0.1), at(0.33, 0.1))},
	}
	p := l.Problem()
	p.Regions = []Region{{0.035}, {0.04}, {1.5}}
	p.Spaces = []Space{{"inside", 20}, {"outside", -10}}
	p.Surfaces = []Surface{{0, 0.13}, {1, 0.04}}
	p.Films = []Film{{d, lambda}}
	return p
}

// meshedFilm is filmCase with the film as a region, half its thickness on
// either side of the line.
func meshedFilm(d, lambda float64) *Problem {
	h := d / 2
	l := &Layout{
		Areas: []Area{
			box(0, 0, 0, 0.4, 0.1), box(1, 0, 0.1, 0.4, 0.3), box(2, 0.15, 0.05, 0.25, 0.1),
			{3, geometry.Ring{
				at(0, 0.1-h), at(0.15-h, 0.1-h), at(0.15-h, 0.05-h), at(0.25+h, 0.05-h), at(0.25+h, 0.1-h), at(0.33, 0.1-h),
				at(0.33, 0.1+h), at(0.25-h, 0.1+h), at(0.25-h, 0.05+h), at(0.15+h, 0.05+h), at(0.15+h, 0.1+h), at(0, 0.1+h),
			}},
		},
		Surfaces: []Line{line(0, at(0, 0), at(0.4, 0)), line(1, at(0, 0.3), at(0.4, 0.3))},
	}
	p := l.Problem()
	p.Regions = []Region{{0.035}, {0.04}, {1.5}, {lambda}}
	p.Spaces = []Space{{"inside", 20}, {"outside", -10}}
	p.Surfaces = []Surface{{0, 0.13}, {1, 0.04}}
	return p
}

// A film counts as much as the same film meshed, and without it the figure is
// another.
func TestFilmsAreNotLost(t *testing.T) {
	for _, c := range []struct {
		name      string
		d, lambda float64
	}{{"foil", 0.00004, 1000}, {"felt", 0.001, 0.0003}} {
		film := solved(t, filmCase(c.d, c.lambda), 0.0002)
		fine := solved(t, meshedFilm(c.d, c.lambda), 0.0002)
		bare := filmCase(c.d, c.lambda)
		for i := range bare.Edges {
			bare.Edges[i].Film = None
		}
		none := solved(t, bare, 0.0002)
		a, _ := film.L2D()
		b, _ := fine.L2D()
		n, _ := none.L2D()
		t.Logf("%s: %.6f as a film, %.6f meshed, %.6f without", c.name, a, b, n)
		if math.Abs(a-b) > 0.02*math.Abs(b-n) {
			t.Errorf("%s: %.6f as a film, %.6f meshed, %.6f without", c.name, a, b, n)
		}
	}
}

// A film across a wall adds its resistance and no more.
func TestFilmInSeries(t *testing.T) {
	p := compositeWall(1, 0)
	p.Films = []Film{{0.001, 0.01}}
	for i, e := range p.Edges {
		if e.Left >= 0 && e.Right >= 0 && min(e.Left, e.Right) == 1 {
			p.Edges[i].Film = 0
		}
	}
	f := solved(t, p, 0.002)
	l, _ := f.L2D()
	r := 0.13 + 0.0125/0.25 + 0.2/0.04 + 0.15/2.0 + 0.04 + 0.001/0.01
	isNear(t, "L2D", l, 1/r, 1e-9/r)
	below, _ := f.TemperatureAt(0.5, 0.2124)
	above, _ := f.TemperatureAt(0.5, 0.2126)
	isNear(t, "step across the film", below-above, 25/r*(0.1+0.0001/0.04+0.0001/2), 1e-6)
	// On the outline too.
	q := compositeWall(1, 0)
	q.Films = p.Films
	for i, e := range q.Edges {
		if e.Surface == 0 {
			q.Edges[i].Film = 0
		}
	}
	g := solved(t, q, 0.002)
	l, _ = g.L2D()
	isNear(t, "L2D, film on the face", l, 1/r, 1e-9/r)
}

// sheathedCase is a wall with a foil on its outer face that turns in along a
// joint to the inside; meshed as a region of thickness d, or as a film.
func sheathedCase(d, lambda float64, meshed bool) *Problem {
	l := &Layout{Areas: []Area{box(0, 0, 0, 0.2, 0.1), box(1, 0.2, 0, 0.4, 0.1), box(2, 0.17, 0, 0.2, 0.03)}}
	l.Surfaces = []Line{line(0, at(0, 0), at(0.4, 0)), line(1, at(0, 0.1), at(0.4, 0.1))}
	if meshed {
		l.Areas = append(l.Areas, box(3, 0.05, 0.1, 0.2+d/2, 0.1+d), box(3, 0.2-d/2, 0.02, 0.2+d/2, 0.1+d))
		l.Surfaces[1] = line(1, at(0, 0.1), at(0.05, 0.1), at(0.05, 0.1+d), at(0.2+d/2, 0.1+d), at(0.2+d/2, 0.1), at(0.4, 0.1))
	} else {
		l.Films = []Line{line(0, at(0.05, 0.1), at(0.2, 0.1), at(0.2, 0.02))}
	}
	p := l.Problem()
	p.Regions = []Region{{0.035}, {0.05}, {0.5}, {lambda}}
	p.Spaces = []Space{{"inside", 20}, {"outside", -10}}
	p.Surfaces = []Surface{{0, 0.13}, {1, 0.04}}
	p.Films = []Film{{d, lambda}}
	return p
}

// A foil that runs on from a joint over the face counts as the same foil meshed,
// and the misfit sums to the gap with it.
func TestFilmRunsOutOnTheFace(t *testing.T) {
	const d, lambda = 0.00004, 1000
	film := solved(t, sheathedCase(d, lambda, false), 0.0005)
	fine := solved(t, sheathedCase(d, lambda, true), 0.0005)
	bare := sheathedCase(d, lambda, false)
	for i := range bare.Edges {
		bare.Edges[i].Film = None
	}
	none := solved(t, bare, 0.0005)
	face := sheathedCase(d, lambda, false)
	for i, e := range face.Edges {
		if e.Left >= 0 && e.Right >= 0 {
			face.Edges[i].Film = None
		}
	}
	a, _ := film.L2D()
	b, _ := fine.L2D()
	n, _ := none.L2D()
	onFace, _ := solved(t, face, 0.0005).L2D()
	t.Logf("%.6f as a film, %.6f meshed, %.6f on the face only, %.6f without", a, b, onFace, n)
	if math.Abs(a-b) > 0.02*math.Abs(b-n) {
		t.Errorf("%.6f as a film, %.6f meshed, %.6f without", a, b, n)
	}
	if onFace < n*(1-1e-9) || a < onFace {
		t.Errorf("more foil conducts less: %.6f, %.6f, %.6f", n, onFace, a)
	}
	sum := 0.0
	for _, e := range film.m.misfit(film.p, film.d, []float64{1}) {
		sum += e
	}
	isNear(t, "misfit", sum, film.bounds[1][0][0]-film.bounds[0][0][0], 1e-9*a)
}
