package heatflow

import "math"

// sector is a part of the surroundings of a point.
type sector struct{ angle, conductivity float64 }

// exponents returns for each point of a mesh how temperature starts from it,
// as r^α with the least α above 0, where that is below 1: there the heat flow
// has no bound and the mesh must be graded. 1 elsewhere.
func (m *model) exponents(g *mesh) []float64 {
	alpha := make([]float64, len(g.p))
	at := make([]int32, len(g.p))
	for t := range g.tri {
		for _, v := range g.tri[t].v {
			at[v] = int32(t)
		}
	}
	var round []sector
	for v := range alpha {
		round = round[:0]
		// Clockwise to the rim, then all the way round.
		start := at[v]
		closed := true
		for t := start; ; {
			u := g.tri[t].n[before(g.corner(t, int32(v)))]
			if u < 0 {
				start, closed = t, false
				break
			}
			if t = u; t == start {
				break
			}
		}
		first, last := int32(-1), int32(-1)
		for t := start; ; {
			k := g.corner(t, int32(v))
			a := angle(g.p[v], g.p[g.tri[t].v[after(k)]], g.p[g.tri[t].v[before(k)]])
			c := m.Regions[g.tri[t].region].Conductivity
			if n := len(round); n > 0 && round[n-1].conductivity == c {
				round[n-1].angle += a
			} else {
				round = append(round, sector{a, c})
			}
			if !closed && t == start {
				first = g.tri[t].s[before(k)]
			}
			u := g.tri[t].n[after(k)]
			if u < 0 {
				last = g.tri[t].s[after(k)]
				break
			}
			if t = u; t == start {
				break
			}
		}
		hold := func(s int32) bool {
			l, r := m.faces(g.seg[s].edge)
			return l >= 0 && r == 0
		}
		alpha[v] = exponent(round, closed, !closed && hold(first), !closed && hold(last))
		if !closed && m.steps(g, first, last, round) {
			alpha[v] = min(alpha[v], stepped)
		}
	}
	m.filmEnds(g, alpha)
	return alpha
}

// stepped stands for the exponent where what an outline faces changes along
// it: temperature runs as r ln r there.
const stepped = 0.98

// steps reports whether the outline changes what it faces at a point that is
// wider than square; at a square one the field mirrors into a smooth one.
func (m *model) steps(g *mesh, first, last int32, round []sector) bool {
	l, r := m.faces(g.seg[first].edge)
	k, q := m.faces(g.seg[last].edge)
	wide := 0.0
	for _, s := range round {
		wide += s.angle
	}
	return (l != k || r != q) && wide > math.Pi/2*1.01
}

// filmEnds lowers the exponent at the free ends of films within the section:
// ½, as at the tip of a cut.
func (m *model) filmEnds(g *mesh, alpha []float64) {
	count := map[int32]int{}
	for t := range g.tri {
		for i := range int32(3) {
			s := g.tri[t].s[i]
			if s < 0 || m.film[g.seg[s].edge] < 0 {
				continue
			}
			w := 1
			if g.tri[t].n[i] < 0 {
				w = 2 // seen once only
			}
			count[g.seg[s].a] += w
			count[g.seg[s].b] += w
		}
	}
	for v, n := range count {
		if n == 2 {
			alpha[v] = min(alpha[v], 0.5)
		}
	}
}

func angle(at, a, b pt) float64 {
	ax, ay := float64(a.x-at.x), float64(a.y-at.y)
	bx, by := float64(b.x-at.x), float64(b.y-at.y)
	return math.Atan2(ax*by-ay*bx, ax*bx+ay*by)
}

// exponent returns the least α below 1 for which r^α Θ(φ) conducts without
// sources round a point, 1 if there is none. Closed: all round it; else from
// one face to another, each held at a temperature or not.
func exponent(round []sector, closed, holdFirst, holdLast bool) float64 {
	if len(round) == 1 && (closed || holdFirst == holdLast) {
		if closed || round[0].angle <= math.Pi*1.001 {
			return 1
		}
		return math.Pi / round[0].angle
	}
	// The matrix that takes (Θ, λΘ′) through the sectors.
	f := func(alpha float64) float64 {
		a, b, c, d := 1.0, 0.0, 0.0, 1.0
		for _, s := range round {
			sin, cos := math.Sincos(alpha * s.angle)
			w := alpha * s.conductivity
			a, b, c, d = cos*a+sin/w*c, cos*b+sin/w*d, cos*c-w*sin*a, cos*d-w*sin*b
		}
		switch {
		case closed:
			return 2 - (a + d)
		case holdFirst && holdLast:
			return b
		case holdFirst:
			return d
		case holdLast:
			return a
		}
		return -c
	}
	const step = 0.06
	lo, was := 0.04, f(0.04)
	for lo < 0.98 {
		hi := lo + step
		now := f(hi)
		if (was > 0) != (now > 0) {
			for range 12 {
				mid := (lo + hi) / 2
				if (f(mid) > 0) == (was > 0) {
					lo = mid
				} else {
					hi = mid
				}
			}
			return min(lo, 1)
		}
		lo, was = hi, now
	}
	return 1
}
