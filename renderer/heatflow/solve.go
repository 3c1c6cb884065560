package heatflow

import (
	"fmt"
	"math"
)

// Options of a solve; the zero value is the usual one.
type Options struct {
	// Tolerance is the greatest half bracket of the coupling of each space,
	// over the coupling; 0: 0.002.
	Tolerance float64
	// Most bounds the unknowns of one solve; 0: 400,000.
	Most int
	trace func(format string, a ...any)
}

// Field is a solved section.
type Field struct {
	m      *model
	g      *grid
	p      *primal
	d      *dual
	bounds [2][][]float64 // couplings by the stream function, by temperature
	Rounds int
}

// Solve finds the steady heat flow through a section.
func Solve(p *Problem, o Options) (*Field, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if o.Tolerance == 0 {
		o.Tolerance = 0.002
	}
	if o.Most == 0 {
		o.Most = 400000
	}
	m := newModel(p)
	points := make([]pt, len(p.Points))
	for i, q := range p.Points {
		points[i] = pt{q.X * grainsPerMicrometre, q.Y * grainsPerMicrometre}
	}
	ends, of := make([][2]int32, len(p.Edges)), make([]sides, len(p.Edges))
	for i, e := range p.Edges {
		ends[i], of[i] = [2]int32{e.A, e.B}, sides{e.Left, e.Right}
	}
	msh := triangulate(points, ends, of)
	alpha := m.exponents(msh)
	f := &Field{m: m}
	for {
		f.Rounds++
		f.g = newGrid(msh, m.film)
		idle := f.g.bodies(m)
		f.p, f.d = m.newPrimal(f.g, idle), m.newDual(f.g, idle)
		if err := f.p.solve(m); err != nil {
			return nil, err
		}
		if err := f.d.solve(m); err != nil {
			return nil, err
		}
		f.bounds = [2][][]float64{f.d.flows(m), f.p.flows(m)}
		scale := make([]float64, len(m.active)-1)
		worst := 0.0
		for l := range scale {
			lo, hi := f.bounds[0][l][l], f.bounds[1][l][l]
			if mean := (lo + hi) / 2; mean > 0 {
				scale[l] = 1 / mean
				worst = max(worst, (hi-lo)/2/mean)
			}
		}
		if o.trace != nil {
			o.trace("round %d: %d triangles, %d unknowns, half bracket %.3g", f.Rounds, len(f.g.tri), f.p.n, worst)
		}
		if worst <= o.Tolerance || f.p.n >= o.Most || f.Rounds > 20 {
			break
		}
		misfit := m.misfit(f.p, f.d, scale)
		sum := 0.0
		for _, e := range misfit {
			sum += e
		}
		target := max(2*o.Tolerance*0.7*float64(len(scale)), sum/40)
		msh.refine(m.sizes(f.g, misfit, alpha, target), o.Most)
	}
	if f.p.worst > 1e-8 || math.IsNaN(f.p.worst) {
		return nil, fmt.Errorf("heat flow: the residual is %g of the load", f.p.worst)
	}
	return f, nil
}
