package figures

import (
	"math"
	"slices"
)

// gridJudge solves a section whose edges are level or upright by finite volumes
// on a graded tensor grid: it shares nothing with the solver but the section.
type gridJudge struct {
	c              *femCase
	x, y           []float64 // grid lines
	lambda         []float64 // of each cell; 0: void
	nx, ny         int
	environment    map[string]int
	flow           []float64
	coupling       [][]float64
	temperature    []float64
	coldest        float64
	inside         []bool
	east, north, d []float64 // of each cell: conductances to its neighbours, and the diagonal
}

// lines returns the coordinates of a section in one direction, with cells that
// grow away from each.
func gridLines(at []float64, least, growth float64) []float64 {
	slices.Sort(at)
	var out []float64
	for i, a := range at {
		if i == 0 || a-out[len(out)-1] > 1e-9 {
			if i > 0 {
				lo, hi := out[len(out)-1], a
				var left, right []float64
				l, r, h := lo, hi, min(least, (hi-lo)/4)
				for r-l > 2.5*h {
					l, r = l+h, r-h
					left, right = append(left, l), append(right, r)
					h *= growth
				}
				if r-l > 1.2*h/growth {
					left = append(left, (l+r)/2)
				}
				slices.Reverse(right)
				out = append(append(out, left...), right...)
			}
			out = append(out, a)
		}
	}
	return out
}

func within(p [][2]float64, x, y float64) bool {
	in := false
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if (a[1] > y) != (b[1] > y) && x < a[0]+(y-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

func judge(c *femCase, least, growth float64) *gridJudge {
	g := &gridJudge{c: c, environment: map[string]int{}}
	for i, e := range c.Environments {
		g.environment[e.Name] = i
		g.inside = append(g.inside, e.Name != "exterior")
	}
	lambda := map[string]float64{}
	for _, m := range c.Materials {
		lambda[m.Name] = m.Conductivity
	}
	var xs, ys []float64
	for _, r := range c.Regions {
		for _, p := range r.Polygon {
			xs, ys = append(xs, p[0]), append(ys, p[1])
		}
	}
	for _, b := range c.Boundaries {
		for _, p := range b.Polyline {
			xs, ys = append(xs, p[0]), append(ys, p[1])
		}
	}
	g.x, g.y = gridLines(xs, least, growth), gridLines(ys, least, growth)
	g.nx, g.ny = len(g.x)-1, len(g.y)-1
	n := g.nx * g.ny
	g.lambda = make([]float64, n)
	for j := range g.ny {
		for i := range g.nx {
			x, y := (g.x[i]+g.x[i+1])/2, (g.y[j]+g.y[j+1])/2
			for _, r := range c.Regions {
				if within(r.Polygon, x, y) {
					g.lambda[j*g.nx+i] = lambda[r.Material]
				}
			}
		}
	}
	g.solve()
	return g
}

// face returns what a face between cell and void looks at.
func (g *gridJudge) face(x, y float64) (space int, r float64) {
	space = -1
	for i := range g.c.Boundaries {
		b := &g.c.Boundaries[i]
		for k := range b.Polyline[1:] {
			p, q := b.Polyline[k], b.Polyline[k+1]
			if x < min(p[0], q[0])-1e-9 || x > max(p[0], q[0])+1e-9 || y < min(p[1], q[1])-1e-9 || y > max(p[1], q[1])+1e-9 {
				continue
			}
			space = -1
			if !b.Adiabatic {
				space, r = g.environment[b.Environment], b.SurfaceResistance
			}
		}
	}
	return space, r
}

type outerFace struct {
	cell, space int
	g, half, r  float64 // conductance; that of the half cell; resistance per area
	area        float64
}

func (g *gridJudge) solve() {
	n := g.nx * g.ny
	g.east, g.north, g.d = make([]float64, n), make([]float64, n), make([]float64, n)
	var outer []outerFace
	for j := range g.ny {
		for i := range g.nx {
			c := j*g.nx + i
			if g.lambda[c] == 0 {
				continue
			}
			dx, dy := g.x[i+1]-g.x[i], g.y[j+1]-g.y[j]
			for side, f := range [4]struct {
				x, y, half, area float64
				to               int
				ok               bool
			}{
				{g.x[i], (g.y[j] + g.y[j+1]) / 2, dx / 2, dy, c - 1, i > 0},
				{g.x[i+1], (g.y[j] + g.y[j+1]) / 2, dx / 2, dy, c + 1, i+1 < g.nx},
				{(g.x[i] + g.x[i+1]) / 2, g.y[j], dy / 2, dx, c - g.nx, j > 0},
				{(g.x[i] + g.x[i+1]) / 2, g.y[j+1], dy / 2, dx, c + g.nx, j+1 < g.ny},
			} {
				if f.ok && g.lambda[f.to] > 0 {
					other := 0.0
					switch side {
					case 1:
						other = (g.x[i+2] - g.x[i+1]) / 2
					case 3:
						other = (g.y[j+2] - g.y[j+1]) / 2
					default:
						continue
					}
					k := f.area / (f.half/g.lambda[c] + other/g.lambda[f.to])
					if side == 1 {
						g.east[c] = k
					} else {
						g.north[c] = k
					}
					g.d[c] += k
					g.d[f.to] += k
					continue
				}
				if s, r := g.face(f.x, f.y); s >= 0 {
					k := f.area / (f.half/g.lambda[c] + r)
					g.d[c] += k
					outer = append(outer, outerFace{c, s, k, g.lambda[c] / f.half, r, f.area})
				}
			}
		}
	}
	m := len(g.c.Environments)
	g.coupling, g.flow, g.temperature = make([][]float64, m), make([]float64, m), make([]float64, n)
	for s := range m {
		b := make([]float64, n)
		for _, f := range outer {
			if f.space == s {
				b[f.cell] += f.g
			}
		}
		u := g.iterate(b)
		g.coupling[s] = make([]float64, m)
		for _, f := range outer {
			if f.space != s {
				g.coupling[s][f.space] += f.g * u[f.cell]
			}
		}
		for c, v := range u {
			g.temperature[c] += v * g.c.Environments[s].Temperature
		}
	}
	g.coldest = math.Inf(1)
	for _, f := range outer {
		t := g.c.Environments[f.space].Temperature
		g.flow[f.space] += f.g * (t - g.temperature[f.cell])
		if g.inside[f.space] {
			// Heat through the face leaves its surface this far below the air.
			g.coldest = min(g.coldest, t-f.g/f.area*f.r*(t-g.temperature[f.cell]))
		}
	}
}

// iterate solves by conjugate gradients, preconditioned by modified incomplete
// factors of the five-point pattern.
func (g *gridJudge) iterate(b []float64) []float64 {
	n, w := len(b), g.nx
	inv := make([]float64, n)
	for c := range n {
		if g.d[c] == 0 {
			continue
		}
		d := g.d[c]
		if c >= 1 {
			e := g.east[c-1]
			d -= e * inv[c-1] * (e + 0.97*g.north[c-1])
		}
		if c >= w {
			e := g.north[c-w]
			d -= e * inv[c-w] * (e + 0.97*g.east[c-w])
		}
		inv[c] = 1 / d
	}
	apply := func(r, z []float64) {
		for c := range n {
			v := r[c]
			if c >= 1 {
				v += g.east[c-1] * z[c-1]
			}
			if c >= w {
				v += g.north[c-w] * z[c-w]
			}
			z[c] = v * inv[c]
		}
		for c := n - 1; c >= 0; c-- {
			v := 0.0
			if c+1 < n {
				v += g.east[c] * z[c+1]
			}
			if c+w < n {
				v += g.north[c] * z[c+w]
			}
			z[c] += v * inv[c]
		}
	}
	x, r, z, q := make([]float64, n), slices.Clone(b), make([]float64, n), make([]float64, n)
	apply(r, z)
	d := slices.Clone(z)
	dot := func(a, b []float64) (s float64) {
		for i := range a {
			s += a[i] * b[i]
		}
		return s
	}
	rho, first := dot(r, z), dot(b, b)
	for range 5000 {
		for c := range n {
			v := g.d[c] * d[c]
			if c >= 1 {
				v -= g.east[c-1] * d[c-1]
			}
			if c+1 < n {
				v -= g.east[c] * d[c+1]
			}
			if c >= w {
				v -= g.north[c-w] * d[c-w]
			}
			if c+w < n {
				v -= g.north[c] * d[c+w]
			}
			q[c] = v
		}
		a := rho / dot(d, q)
		for i := range x {
			x[i] += a * d[i]
			r[i] -= a * q[i]
		}
		if dot(r, r) < 1e-20*first {
			return x
		}
		apply(r, z)
		next := dot(r, z)
		for i := range d {
			d[i] = z[i] + next/rho*d[i]
		}
		rho = next
	}
	panic("the judge does not settle")
}

// at returns the temperature in the cell of a place, between its neighbours of
// one material.
func (g *gridJudge) at(x, y float64) float64 {
	i, _ := slices.BinarySearch(g.x, x)
	j, _ := slices.BinarySearch(g.y, y)
	i, j = i-1, j-1
	mid := func(l []float64, k int) float64 { return (l[k] + l[k+1]) / 2 }
	c := j*g.nx + i
	t := g.temperature[c]
	slope := func(step, k int, l []float64, at float64) float64 {
		o := k + 1
		if at < mid(l, k) {
			o, step = k-1, -step
		}
		if g.lambda[c+step] != g.lambda[c] {
			o, step = 2*k-o, -step
		}
		return (g.temperature[c+step] - t) / (mid(l, o) - mid(l, k)) * (at - mid(l, k))
	}
	return t + slope(1, i, g.x, x) + slope(g.nx, j, g.y, y)
}
