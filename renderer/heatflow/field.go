package heatflow

import "math"

// Field is a solved section.
type Field struct {
	m      *model
	g      *grid
	p      *primal
	d      *dual
	bounds [2][][]float64 // between active spaces: by the stream function, by temperature
	t      []float64      // °C at each node of p
	psi    []float64      // W/m at each node of d
	where  *locator
	uneven float64 // estimated error of temperatures over the span
	// Rounds is how often the section was meshed and solved.
	Rounds int
}

// finish lays the temperatures of the spaces over the solved loads.
func (f *Field) finish() {
	if f.where == nil {
		f.where = &locator{}
	}
	f.t, f.psi = make([]float64, f.p.nodes), make([]float64, f.d.nodes)
	for l, s := range f.m.active {
		// Beside the last space, so that equal temperatures give none of it back.
		last := f.m.Spaces[f.m.active[len(f.m.active)-1]].Temperature
		t := f.m.Spaces[s].Temperature - last
		for v, u := range f.p.u[l] {
			f.t[v] += t * u
		}
		for v, u := range f.d.u[l] {
			f.psi[v] += t * u
		}
		if l == len(f.m.active)-1 {
			for v := range f.t {
				f.t[v] += last
			}
		}
	}
}

// With returns the field under other temperatures of the spaces, °C, at next to
// no cost: the equations are not solved again.
func (f *Field) With(temperatures []float64) *Field {
	m, p := *f.m, *f.m.Problem
	p.Spaces = append([]Space(nil), p.Spaces...)
	for i, t := range temperatures {
		p.Spaces[i].Temperature = t
	}
	m.Problem = &p
	g := *f
	g.m = &m
	g.finish()
	return &g
}

// Unknowns is the number of temperatures solved for.
func (f *Field) Unknowns() int { return f.p.n }

// Residual is the true residual of the equations over their load, summed
// again from the elements after the solve.
func (f *Field) Residual() float64 { return max(f.p.worst, f.d.worst) }

// Coupling returns the thermal coupling coefficient between two spaces,
// W/(m·K), and by how much it may be off: half the width between the bounds.
//
// The couplings by the two solves bound the true ones as matrices (their
// differences have no negative eigenvalue), so the mean of an entry is off by
// no more than half the root of the product of its diagonals' widths.
func (f *Field) Coupling(a, b int32) (l, within float64) {
	i, j := f.m.load[a], f.m.load[b]
	if i < 0 || j < 0 || i == j {
		return 0, 0
	}
	width := func(k int32) float64 { return max(f.bounds[1][k][k]-f.bounds[0][k][k], 0) }
	return -f.mean(i, j), math.Sqrt(width(i)*width(j)) / 2
}

// mean is symmetric: it takes both entries of both bounds.
func (f *Field) mean(i, j int32) float64 {
	b := &f.bounds
	return (b[0][i][j] + b[0][j][i] + b[1][i][j] + b[1][j][i]) / 4
}

// HeatFlow returns the heat each space gives off to the section, W/m; they sum
// to zero but for rounding.
func (f *Field) HeatFlow() []float64 {
	out := make([]float64, len(f.m.Spaces))
	for i, s := range f.m.active {
		for j, r := range f.m.active {
			if i != j {
				out[s] -= f.mean(int32(i), int32(j)) * (f.m.Spaces[s].Temperature - f.m.Spaces[r].Temperature)
			}
		}
	}
	return out
}

// energy returns Σ T·(heat given off) of a bound, W·K/m.
func (f *Field) energy(bound int) float64 {
	sum := 0.0
	for i, s := range f.m.active {
		for j, r := range f.m.active {
			if i < j {
				d := f.m.Spaces[s].Temperature - f.m.Spaces[r].Temperature
				sum -= (f.bounds[bound][i][j] + f.bounds[bound][j][i]) / 2 * d * d
			}
		}
	}
	return sum
}

// Bracket returns the coupling coefficient between two temperatures, W/(m·K):
// the true value lies between low (by the stream function) and high (by
// temperature). ok is false where the spaces have one temperature or more
// than two.
func (f *Field) Bracket() (low, high float64, ok bool) {
	a, b := math.Inf(1), math.Inf(-1)
	for _, s := range f.m.active {
		t := f.m.Spaces[s].Temperature
		a, b = min(a, t), max(b, t)
	}
	for _, s := range f.m.active {
		if t := f.m.Spaces[s].Temperature; t != a && t != b {
			return 0, 0, false
		}
	}
	if !(b > a) || f.Unbounded() {
		return 0, 0, false
	}
	return f.energy(0) / ((b - a) * (b - a)), f.energy(1) / ((b - a) * (b - a)), true
}

// L2D returns the thermal coupling coefficient between two temperatures,
// W/(m·K): the middle of its bracket.
func (f *Field) L2D() (l float64, ok bool) {
	lo, hi, ok := f.Bracket()
	return (lo + hi) / 2, ok
}

// ErrorEstimate returns by what share of itself the heat flow may be off: half
// the distance between the two energies over their mean. It is a bound. With
// one temperature it is the greatest such share of the spaces' own couplings;
// +∞ where the flow has no bound.
func (f *Field) ErrorEstimate() float64 {
	if f.Unbounded() {
		return math.Inf(1)
	}
	span := 0.0
	for _, s := range f.m.active {
		for _, r := range f.m.active {
			span = max(span, f.m.Spaces[s].Temperature-f.m.Spaces[r].Temperature)
		}
	}
	if lo, hi := f.energy(0), f.energy(1); lo+hi > nothing*span*span {
		return max(hi-lo, 0) / (hi + lo)
	}
	return f.worst()
}

// nothing is a coupling that is rounding only, W/(m·K): spaces apart.
const nothing = 1e-11

func (f *Field) worst() float64 {
	w := 0.0
	if len(f.m.active) < 2 {
		return 0 // one space: no heat flows
	}
	for l := range f.m.active {
		if lo, hi := f.bounds[0][l][l], f.bounds[1][l][l]; lo+hi > nothing {
			w = max(w, (hi-lo)/(hi+lo))
		}
	}
	return w
}

// Unbounded reports whether faces held at different temperatures meet in a
// point, where the heat flow has no bound. Temperatures hold all the same.
func (f *Field) Unbounded() bool {
	for _, h := range f.p.held {
		a, b := h.load[0], h.load[1]
		if a != b && f.m.Spaces[f.m.active[a]].Temperature != f.m.Spaces[f.m.active[b]].Temperature {
			return true
		}
	}
	return false
}

// TemperatureAt returns the temperature at a place, °C, and whether it lies in
// or on the section (within 2 µm) where some space is felt. On the corner of a
// good conductor it is the conductor's. On a film that resists, it is that of
// one of its sides.
func (f *Field) TemperatureAt(x, y float64) (celsius float64, ok bool) {
	const reach = 2e-6
	best := -reach
	f.where.near(f.g, x, y, reach, func(t int32) {
		if f.p.index[t] < 0 {
			return
		}
		b, c, area2 := f.g.slopes(t)
		v := &f.g.tri[t].v
		least := math.Inf(1)
		var l [3]float64
		for i := range 3 {
			j := v[(i+1)%3]
			l[i] = (b[i]*(x-f.g.x[j]) + c[i]*(y-f.g.y[j])) / area2
			// How far within the edge, m.
			least = min(least, l[i]*area2/math.Hypot(b[i], c[i]))
		}
		if least > best || least == best && !ok {
			best, ok = least, true
			celsius = quadratic(&f.p.node[t], f.t, l)
		}
	})
	return celsius, ok
}

// quadratic returns a field at the area coordinates l of a triangle.
func quadratic(n *[6]int32, u []float64, l [3]float64) float64 {
	sum := 0.0
	for i := range 3 {
		j, k := (i+1)%3, (i+2)%3
		sum += u[n[i]]*l[i]*(2*l[i]-1) + u[n[3+i]]*4*l[j]*l[k]
	}
	return sum
}

// Spot is a place on a surface and its temperature.
type Spot struct {
	X, Y    float64 // m
	Celsius float64
	Surface int32
}

// Coldest returns the coldest place among the surfaces that keep says; ok is
// false where there is none.
func (f *Field) Coldest(keep func(surface int32) bool) (spot Spot, ok bool) {
	spot.Celsius = math.Inf(1)
	for _, s := range f.g.rim {
		i := f.m.Edges[s.edge].Surface
		if i == None || !keep(i) {
			continue
		}
		n := f.p.onSide(s)
		ends := f.g.tri[s.t].v
		a, b := ends[after(s.i)], ends[before(s.i)]
		try := func(x float64) {
			if t := valueOn(n, f.t, x); t < spot.Celsius {
				spot = Spot{f.g.x[a] + x*(f.g.x[b]-f.g.x[a]), f.g.y[a] + x*(f.g.y[b]-f.g.y[a]), t, i}
				ok = true
			}
		}
		try(0)
		try(1)
		// The slope is linear along the edge.
		s0, s1 := slopeOn(n, f.t, 0), slopeOn(n, f.t, 1)
		if s0 < 0 && s1 > 0 {
			try(s0 / (s0 - s1))
		}
	}
	return spot, ok
}

// ColdestAlong returns the coldest place on a line within the section, looked
// for every step, m, and at its corners; ok is false where all of it lies outside.
func (f *Field) ColdestAlong(line [][2]float64, step float64) (spot Spot, ok bool) {
	spot = Spot{Celsius: math.Inf(1), Surface: None}
	try := func(x, y float64) {
		if t, in := f.TemperatureAt(x, y); in && t < spot.Celsius {
			spot.X, spot.Y, spot.Celsius, ok = x, y, t, true
		}
	}
	for i, p := range line {
		try(p[0], p[1])
		if i+1 == len(line) {
			break
		}
		q := line[i+1]
		n := int(math.Hypot(q[0]-p[0], q[1]-p[1]) / step)
		for k := 1; k <= n; k++ {
			w := float64(k) / float64(n+1)
			try(p[0]+w*(q[0]-p[0]), p[1]+w*(q[1]-p[1]))
		}
	}
	return spot, ok
}

// ColdestOf returns the coldest place on the surfaces of a space.
func (f *Field) ColdestOf(space int32) (Spot, bool) {
	return f.Coldest(func(s int32) bool { return f.m.Surfaces[s].Space == space })
}

// TemperatureError estimates by how much a temperature may be off, as a share
// of the difference between the spaces. It is no bound: the worst place of a
// solved section stayed within it on sections solved far finer.
func (f *Field) TemperatureError() float64 { return f.uneven }
