package heatflow

import (
	"math"
	"slices"
)

// misfit returns, for each triangle, how much the two solves disagree, summed
// over loads, each over its own coupling: ∫ (1/λ)|q + λ∇u|² and the same on
// surfaces and films. Over the section it sums to the difference of the two
// energies (Prager and Synge 1947).
func (m *model) misfit(p *primal, d *dual, scale []float64) []float64 {
	g := p.g
	out := make([]float64, len(g.tri))
	for l := range scale {
		if scale[l] == 0 {
			continue
		}
		u, psi := p.u[l], d.u[l]
		for t := range g.tri {
			if p.index[t] < 0 {
				continue
			}
			lambda := m.Regions[g.tri[t].region].Conductivity
			b, c, area2 := g.slopes(int32(t))
			ux, uy := slopesAtMiddles(&p.node[t], u, &b, &c, area2)
			px, py := slopesAtMiddles(&d.node[t], psi, &b, &c, area2)
			sum := 0.0
			for i := range 3 {
				vx, vy := py[i]+lambda*ux[i], lambda*uy[i]-px[i]
				sum += vx*vx + vy*vy
			}
			out[t] += scale[l] * sum * area2 / (6 * lambda)
		}
		for i, s := range g.rim {
			if p.index[s.t] < 0 {
				continue
			}
			if c, film := m.sheathed(s.edge); film {
				out[s.t] += scale[l] * along(c, g.length(s.t, s.i), p.onSide(s), u, d.onSide(s), d.outer[i], psi)
			}
			k, r := m.faces(s.edge)
			if k < 0 || r == 0 {
				continue
			}
			own := 0.0
			if int(k) == l {
				own = 1
			}
			length := g.length(s.t, s.i)
			un, pn := p.onSide(s), d.outer[i]
			out[s.t] += scale[l] * r * length * gauss(func(x float64) float64 {
				v := slopeOn(pn, psi, x)/length - (valueOn(un, u, x)-own)/r
				return v * v
			})
		}
		for _, s := range g.filmy {
			if p.index[s.t] < 0 {
				continue
			}
			f, resists := m.filmAt(s.edge)
			length := g.length(s.t, s.i)
			a, b := p.bothSides(s), d.bothSides(s)
			u1, u2 := [3]int32(a[:3]), [3]int32(a[3:])
			p1, p2 := [3]int32(b[:3]), [3]int32(b[3:])
			if !resists {
				out[s.t] += scale[l] * along(f.conductance(), length, u1, u, p1, p2, psi)
				continue
			}
			out[s.t] += scale[l] * length * gauss(func(x float64) float64 {
				r := f.resistance()
				v := slopeOn(p1, psi, x)/length - (valueOn(u1, u, x)-valueOn(u2, u, x))/r
				return r * v * v
			})
		}
	}
	return out
}

// along returns the misfit of a film that carries heat: of the difference of ψ
// across it with the fall of temperature along it.
func along(c, length float64, n [3]int32, u []float64, near, far [3]int32, psi []float64) float64 {
	return length * gauss(func(x float64) float64 {
		v := valueOn(near, psi, x) - valueOn(far, psi, x) + c*slopeOn(n, u, x)/length
		return v * v / c
	})
}

// slopesAtMiddles returns the gradient of a quadratic field at the middle of
// each edge of a triangle.
func slopesAtMiddles(n *[6]int32, u []float64, b, c *[3]float64, area2 float64) (x, y [3]float64) {
	inv := 1 / area2
	for i := range 3 {
		j, k := (i+1)%3, (i+2)%3
		w := [3]float64{}
		w[i] = (2*(u[n[3+j]]+u[n[3+k]]-u[n[3+i]]) - u[n[i]]) * inv
		w[j], w[k] = u[n[j]]*inv, u[n[k]]*inv
		x[i] = w[0]*b[0] + w[1]*b[1] + w[2]*b[2]
		y[i] = w[0]*c[0] + w[1]*c[1] + w[2]*c[2]
	}
	return x, y
}

// valueOn returns a quadratic field at the share x of an edge, and slopeOn its
// change per edge length.
func valueOn(n [3]int32, u []float64, x float64) float64 {
	return u[n[0]]*(1-x)*(1-2*x) + u[n[1]]*x*(2*x-1) + u[n[2]]*4*x*(1-x)
}

func slopeOn(n [3]int32, u []float64, x float64) float64 {
	return u[n[0]]*(4*x-3) + u[n[1]]*(4*x-1) + u[n[2]]*(4-8*x)
}

// gauss integrates f over 0…1 by three points: exact to the fifth degree.
func gauss(f func(x float64) float64) float64 {
	const d = 0.3872983346207417 // √(3/5)/2
	return (5*f(0.5-d) + 8*f(0.5) + 5*f(0.5+d)) / 18
}

// steps are the points where faces held at different temperatures meet: there
// the heat flow has no bound, and the bounds of the section say nothing.
func (p *primal) steps() (at []int32) {
	for v, h := range p.held {
		if h.load[0] != h.load[1] {
			at = append(at, v)
		}
	}
	slices.Sort(at)
	return at
}

// forget takes the triangles at steps out of the misfit.
func (p *primal) forget(steps []int32, misfit []float64) {
	for t := range misfit {
		for _, v := range p.g.node[t][:3] {
			if slices.Contains(steps, v) {
				misfit[t] = 0
			}
		}
	}
}

// near returns the distance from a point to the nearest edge opposite it, grains.
func (g *grid) near(v int32) float64 {
	least := math.Inf(1)
	for t := range g.tri {
		for i, w := range g.tri[t].v {
			if w == v {
				least = min(least, g.reach(int32(t), int32(i)))
			}
		}
	}
	return least
}
