package heatflow

import (
	"fmt"
	"math"
	"sync"

	"wythe/renderer/basis"
	"wythe/renderer/hands"
)

// Options of a solve; the zero value is the usual one.
type Options struct {
	// Tolerance is the greatest half bracket of the coupling of each space,
	// over the coupling; 0: 0.002.
	Tolerance float64
	// Most bounds the unknowns of one solve; 0: 60,000.
	Most int
	// Temperature is the greatest estimated error of a temperature, over the
	// difference between the spaces; 0: three times Tolerance.
	Temperature float64
	trace       func(format string, a ...any)
}

// workspaces are kept between solves: their size, never what is in them,
// is of use to the next.
var workspaces = sync.Pool{New: func() any { return new(workspace) }}

// settled returns the options with what they leave open.
func (o Options) settled() Options {
	if o.Tolerance == 0 {
		o.Tolerance = 0.002
	}
	if o.Temperature == 0 {
		o.Temperature = 3 * o.Tolerance
	}
	if o.Most == 0 {
		o.Most = 60000
	}
	return o
}

// Solve finds the steady heat flow through a section.
func Solve(p *Problem, o Options) (*Field, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	o = o.settled()
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
	msh.refine(start(msh, alpha, o.Tolerance), o.Most)
	f := &Field{m: m}
	work := workspaces.Get().(*workspace)
	defer workspaces.Put(work)
	rounds, tighter, loose := 1, 1.0, 0
	best, idle := math.Inf(1), 0
	for {
		f.Rounds++
		laid, err := f.solveOn(msh, work)
		if err != nil {
			return nil, err
		}
		if !laid {
			if loose++; loose > 8 {
				return nil, &basis.RefusedError{Method: method, Case: "a space in a hole of the section that films or parts close in", Why: "join it to the outside or leave it out"}
			}
			m.loosen(msh, loose > 1)
			f.Rounds--
			continue
		}
		steps := f.p.steps()
		misfit, limit := f.estimate(steps, o.Temperature)
		if o.trace != nil {
			o.trace("round %d: %d triangles, %d unknowns, half bracket %.3g, temperature %.3g", f.Rounds, len(f.g.tri), f.p.n, f.worst(), f.uneven)
		}
		sum := 0.0
		for _, e := range misfit {
			sum += e
		}
		off := f.worst()
		if len(steps) > 0 {
			off, rounds = sum/2, stepRounds
		}
		aim := o.Temperature
		if f.Rounds >= nearRounds {
			aim *= nearMiss
		}
		if off <= o.Tolerance && f.uneven <= aim && f.Rounds >= rounds || f.p.n >= o.Most || f.Rounds >= maxRounds {
			break
		}
		if over := max(off/o.Tolerance, f.uneven/aim); over < 0.97*best {
			best, idle = over, 0
		} else if idle++; idle == idleRounds && f.Rounds >= rounds {
			break
		}
		if f.Rounds == 1 && off > o.Tolerance {
			// The first mesh shows where heat flows, not yet where it bends.
			for t := range limit {
				limit[t] = math.Inf(1)
			}
		}
		shrink := tune.shrink
		if f.Rounds > 2 {
			shrink = tune.shrinkOn
			for t := range limit {
				limit[t] *= 0.5 // another miss costs another round
			}
		}
		target := max(2*o.Tolerance*tune.aim, sum/tune.leap) * tighter
		w := plan(f.g, misfit, limit, alpha, target, shrink)
		for _, v := range steps {
			if f.Rounds <= stepRounds {
				w.point[v] = f.g.near(v) / 4
			}
		}
		before := len(msh.p)
		msh.refine(w, o.Most)
		if tighter = 1; len(msh.p) < before+before/20 {
			tighter = 0.25
		}
	}
	return f.settle()
}

// SolveOn solves a problem that differs from the field's in surface resistances
// and conductivities only, on the field's mesh. Its estimates are of that mesh.
func (f *Field) SolveOn(p *Problem) (*Field, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	work := workspaces.Get().(*workspace)
	defer workspaces.Put(work)
	g := &Field{m: newModel(p), Rounds: 1}
	laid, err := g.solveOn(f.g.mesh, work)
	if err != nil {
		return nil, err
	}
	if !laid {
		panic("heatflow: a mesh that held its cuts no longer does")
	}
	g.estimate(g.p.steps(), 1)
	return g.settle()
}

// solveOn solves for temperature and stream function on a mesh; laid is false
// where it is too coarse for the cuts that holes need. They are solved side by side.
func (f *Field) solveOn(msh *mesh, work *workspace) (laid bool, err error) {
	m := f.m
	f.g = newGrid(msh, m.film)
	idle := f.g.bodies(m)
	holes, ok := m.branches(f.g)
	if !ok {
		return false, nil
	}
	// The two systems know nothing of each other.
	var primalErr, dualErr error
	hands.Both(func() {
		own := workspaces.Get().(*workspace)
		defer workspaces.Put(own)
		f.p = m.newPrimal(f.g, idle, own)
		if primalErr = f.p.solve(m); primalErr == nil {
			f.bounds[1] = f.p.flows(m)
		}
	}, func() {
		f.d = m.newDual(f.g, idle, holes, work)
		if dualErr = f.d.solve(m); dualErr == nil {
			f.bounds[0] = f.d.flows(m)
		}
	})
	if primalErr != nil {
		return false, primalErr
	}
	return dualErr == nil, dualErr
}

// estimate returns the misfit of each triangle over all loads and the misfit
// at which its temperatures are off by the share given; it notes the estimate
// for temperatures.
func (f *Field) estimate(steps []int32, share float64) (misfit, limit []float64) {
	scale := make([]float64, len(f.m.active))
	if len(scale) <= 2 {
		scale = scale[:len(scale)-1] // the last load says the same
	}
	for l := range scale {
		if mean := (f.bounds[0][l][l] + f.bounds[1][l][l]) / 2; mean > nothing {
			scale[l] = 1 / mean
		}
	}
	misfit = f.m.misfit(f.p, f.d, scale)
	if len(steps) > 0 {
		f.p.forget(steps, misfit)
	}
	limit = f.m.limits(f.g, scale, share)
	f.uneven = 0
	for t, e := range misfit {
		f.uneven = max(f.uneven, e/limit[t])
	}
	f.uneven = share * math.Sqrt(f.uneven)
	return misfit, limit
}

// settle checks the residual and lays the temperatures of the spaces over the
// loads.
func (f *Field) settle() (*Field, error) {
	if r := f.Residual(); r > 1e-8 || math.IsNaN(r) {
		return nil, fmt.Errorf("heat flow: the residual is %g of the load", r)
	}
	f.p.release()
	f.d.release()
	f.finish()
	return f, nil
}

// nearMiss is how far over what is asked the estimate for temperatures may stay
// once nearRounds are done: the estimate itself errs by more.
const (
	nearMiss   = 1.5
	nearRounds = 3
)

const maxRounds = 16

// idleRounds without gain end a solve: heat that bends about a point without end
// (a sheet's end against metal, metal that touches metal at a point) is not
// caught by more triangles. The bounds say how far off it is.
const idleRounds = 4

// stepRounds is how often a step is graded, each time to a quarter: the
// temperature it gets wrong stays within its triangles.
const stepRounds = 6

// stray is the error of temperature in a triangle over the root of its
// misfit per conductivity, as it came out on sections solved far finer: 0.15
// to 0.44 for the worst place of each.
const stray = 0.45

// closer is what of that share a triangle at a surface may keep: surfaces are
// what is judged by their temperature.
const closer = 0.5

// limits returns the misfit of each triangle at which the error of its
// temperatures is about the share given of the difference between spaces.
func (m *model) limits(g *grid, scale []float64, share float64) []float64 {
	s := 0.0
	for _, v := range scale {
		s = max(s, v)
	}
	if s == 0 {
		s = 1
	}
	out := make([]float64, len(g.tri))
	for t := range out {
		out[t] = s * m.Regions[g.tri[t].region].Conductivity * (share / stray) * (share / stray)
	}
	for _, r := range g.rim {
		if l, _ := m.faces(r.edge); l >= 0 {
			out[r.t] *= closer * closer
		}
	}
	m.spare(g, out)
	return out
}

// spare lifts the limit of triangles that lie within the thickness of a film
// that carries heat from one of its points: where such a film ends, heat would
// enter it at a point, and the misfit there falls without end and to no purpose.
func (m *model) spare(g *grid, limit []float64) {
	most := 0.0
	thick := map[pt]float64{} // of the films at a point, grains
	put := func(edge int32) {
		e := &m.Edges[edge]
		t := m.Films[e.Film].Thickness * 1e6 * grainsPerMicrometre
		for _, v := range [2]int32{e.A, e.B} {
			q := pt{m.Points[v].X * grainsPerMicrometre, m.Points[v].Y * grainsPerMicrometre}
			thick[q] = max(thick[q], t)
		}
		most = max(most, t)
	}
	for _, s := range g.rim {
		if _, along := m.sheathed(s.edge); along {
			put(s.edge)
		}
	}
	for _, s := range m.films(g, false) {
		put(s.edge)
	}
	if most == 0 {
		return
	}
	for t := range limit {
		if _, long := g.longest(int32(t)); long > most*most {
			continue
		}
		a := g.p[g.tri[t].v[0]]
		for q, r := range thick {
			if square(a, q) <= r*r {
				limit[t] = math.Inf(1)
				break
			}
		}
	}
}
