package heatflow

import (
	"math"
	"slices"
)

// Polyline is a line of equal value, m. A closed one ends where it begins.
type Polyline struct {
	Value  float64 // °C, or W/m for lines of flow
	Points [][2]float64
}

// Length of the line, m.
func (p *Polyline) Length() (sum float64) {
	for i := range p.Points[1:] {
		sum += math.Hypot(p.Points[i+1][0]-p.Points[i][0], p.Points[i+1][1]-p.Points[i][1])
	}
	return sum
}

// Label returns where a label may stand: the point at a share (0…1) of the
// line's length, and the angle of the line there, radians, within ±π/2 so that
// text reads upright.
func (p *Polyline) Label(share float64) (x, y, angle float64) {
	rest := p.Length() * share
	for i := range p.Points[1:] {
		a, b := p.Points[i], p.Points[i+1]
		l := math.Hypot(b[0]-a[0], b[1]-a[1])
		if rest <= l || i == len(p.Points)-2 {
			s := 0.0
			if l > 0 {
				s = min(rest/l, 1)
			}
			angle = math.Atan2(b[1]-a[1], b[0]-a[0])
			if angle > math.Pi/2 {
				angle -= math.Pi
			} else if angle <= -math.Pi/2 {
				angle += math.Pi
			}
			return a[0] + s*(b[0]-a[0]), a[1] + s*(b[1]-a[1]), angle
		}
		rest -= l
	}
	return p.Points[0][0], p.Points[0][1], 0
}

// RoundValues returns evenly spaced round numbers strictly within low…high:
// steps of 1, 2 or 5 times a power of ten, at most the number given.
func RoundValues(low, high float64, most int) []float64 {
	if !(high > low) || most < 1 {
		return nil
	}
	for k := math.Floor(math.Log10((high - low) / float64(most+1))); ; k++ {
		for _, m := range [...]float64{1, 2, 5} {
			step := m * math.Pow(10, k)
			first, last := math.Floor(low/step)+1, math.Ceil(high/step)-1
			if n := int(last-first) + 1; n <= most {
				var out []float64
				for i := range max(n, 0) {
					v := (first + float64(i)) * step
					if k < 0 { // away from sums of rounding: 0.3, not 0.30000000000000004
						v = (first + float64(i)) * m / math.Pow(10, -k)
					}
					out = append(out, v)
				}
				return out
			}
		}
	}
}

// Isotherms returns the lines of the temperatures given, °C, drawn within
// tolerance, m: a third for the chords of the curve, the rest for points left out.
func (f *Field) Isotherms(values []float64, tolerance float64) []Polyline {
	return f.contours(f.p.system, f.t, values, tolerance)
}

// FlowLines returns lines along which heat flows, between each two neighbours
// of which flows the same share of the heat: parts of it in all.
func (f *Field) FlowLines(parts int, tolerance float64) []Polyline {
	lo, hi := math.Inf(1), math.Inf(-1)
	for t := range f.g.tri {
		if f.p.index[t] >= 0 {
			for _, v := range f.d.node[t] {
				lo, hi = min(lo, f.psi[v]), max(hi, f.psi[v])
			}
		}
	}
	var values []float64
	for i := range max(parts-1, 0) {
		values = append(values, lo+(hi-lo)*float64(i+1)/float64(parts))
	}
	return f.contours(f.d.system, f.psi, values, tolerance)
}

// crossing is where a line of value meets an edge between two places of the
// fine lattice: a name that both triangles at the edge know, and the place.
type crossing struct {
	name [3]int32
	x, y float64
}

// contours follows lines of equal value through a quadratic field. Triangles
// are cut evenly so that chords keep to the curve; those that share an edge cut
// it alike.
func (f *Field) contours(s *system, u []float64, values []float64, tolerance float64) []Polyline {
	var out []Polyline
	pieces := f.pieces(s, u, values)
	for k, value := range values {
		for _, points := range join(pieces[k]) {
			if line := (Polyline{value, simplify(points, tolerance)}); len(line.Points) > 1 {
				out = append(out, line)
			}
		}
	}
	return out
}

// parts is into how many an edge is cut to follow a line through a triangle.
const parts = 4

// pieces returns the pieces of the lines of each value, in the order of the
// triangles.
func (f *Field) pieces(s *system, u []float64, values []float64) [][][2]crossing {
	out := make([][][2]crossing, len(values))
	for t := range f.g.tri {
		if f.p.index[t] < 0 {
			continue
		}
		n := &s.node[t]
		lo, hi := bounds(n, u)
		var l *lattice
		for k, value := range values {
			if value < lo || value > hi {
				continue
			}
			if l == nil {
				l = latticeOf(n, u)
			}
			out[k] = f.march(n, int32(t), l, value, out[k])
		}
	}
	return out
}

// bounds are values between which a quadratic stays in a triangle: its own at
// the nodes, and what it may run beyond them between two, an eighth of its bend
// along each edge.
func bounds(n *[6]int32, u []float64) (lo, hi float64) {
	lo, hi = u[n[0]], u[n[0]]
	bend := 0.0
	for i := range 3 {
		a, b, mid := u[n[(i+1)%3]], u[n[(i+2)%3]], u[n[3+i]]
		lo, hi = min(lo, a, mid), max(hi, a, mid)
		bend += math.Abs(a + b - 2*mid)
	}
	over := bend/8 + 1e-9*(hi-lo) // and what rounding adds
	return lo - over, hi + over
}

// lattice is a quadratic at the places that cut a triangle evenly.
type lattice [parts + 1][parts + 1]float64

func latticeOf(n *[6]int32, u []float64) *lattice {
	l := new(lattice)
	for i := range parts + 1 {
		for j := range parts + 1 - i {
			l[i][j] = quadratic(n, u, [3]float64{float64(parts-i-j) / parts, float64(i) / parts, float64(j) / parts})
		}
	}
	return l
}

// march appends the pieces of a line of value in a triangle.
func (f *Field) march(n *[6]int32, t int32, value2 *lattice, value float64, out [][2]crossing) [][2]crossing {
	v := &f.g.tri[t].v
	cross := func(i, j, k, l int) crossing {
		a, b := value2[i][j], value2[k][l]
		w := (value - a) / (b - a)
		p, q := float64(i)+w*float64(k-i), float64(j)+w*float64(l-j)
		p, q = p/parts, q/parts
		c := crossing{name: [3]int32{-1 - t, int32(i*8 + j), int32(k*8 + l)}}
		c.x = f.g.x[v[0]]*(1-p-q) + f.g.x[v[1]]*p + f.g.x[v[2]]*q
		c.y = f.g.y[v[0]]*(1-p-q) + f.g.y[v[1]]*p + f.g.y[v[2]]*q
		// On an edge of the triangle: its middle node and which piece of it, from
		// the end with the lower number.
		name := func(mid, from, to int32, i, k int) {
			if n[from] > n[to] {
				i, k = parts-i, parts-k
			}
			c.name = [3]int32{n[mid], int32(min(i, k)), 0}
		}
		switch {
		case i == 0 && k == 0:
			name(4, 0, 2, j, l)
		case j == 0 && l == 0:
			name(5, 0, 1, i, k)
		case i+j == parts && k+l == parts:
			name(3, 1, 2, j, l)
		}
		return c
	}
	small := func(at [3][2]int) {
		var c [2]crossing
		found := 0
		for e := range 3 {
			a, b := at[e], at[(e+1)%3]
			// One order for an edge from either side.
			if a[0] > b[0] || a[0] == b[0] && a[1] > b[1] {
				a, b = b, a
			}
			if (value2[a[0]][a[1]] >= value) != (value2[b[0]][b[1]] >= value) {
				c[found] = cross(a[0], a[1], b[0], b[1])
				found++
			}
		}
		if found == 2 {
			out = append(out, c)
		}
	}
	for i := range parts {
		for j := range parts - i {
			small([3][2]int{{i, j}, {i + 1, j}, {i, j + 1}})
			if i+j < parts-1 {
				small([3][2]int{{i + 1, j}, {i + 1, j + 1}, {i, j + 1}})
			}
		}
	}
	return out
}

// join strings pieces together to lines.
func join(pieces [][2]crossing) [][][2]float64 {
	at := make(map[[3]int32][2]int32, len(pieces)+1) // up to two pieces at a crossing, from 1
	for i, p := range pieces {
		for _, c := range p {
			e := at[c.name]
			if e[0] == 0 {
				e[0] = int32(i + 1)
			} else {
				e[1] = int32(i + 1)
			}
			at[c.name] = e
		}
	}
	used := make([]bool, len(pieces))
	follow := func(piece int, c crossing, line [][2]float64) [][2]float64 {
		for {
			line = append(line, [2]float64{c.x, c.y})
			next := -1
			for _, k := range at[c.name] {
				if k > 0 && !used[k-1] {
					next = int(k - 1)
				}
			}
			if next < 0 {
				return line
			}
			used[next] = true
			if p := pieces[next]; p[0].name == c.name {
				c = p[1]
			} else {
				c = p[0]
			}
		}
	}
	var out [][][2]float64
	for i, p := range pieces {
		if used[i] {
			continue
		}
		used[i] = true
		back := follow(i, p[0], nil)
		slices.Reverse(back)
		out = append(out, follow(i, p[1], back))
	}
	return out
}

// simplify leaves out points nearer than tolerance to the line of the others
// (Douglas and Peucker 1973).
func simplify(points [][2]float64, tolerance float64) [][2]float64 {
	if len(points) < 3 {
		return points
	}
	keep := make([]bool, len(points))
	keep[0], keep[len(points)-1] = true, true
	type span struct{ a, b int }
	todo := []span{{0, len(points) - 1}}
	if points[0] == points[len(points)-1] { // closed: the farthest point first
		far, at := -1.0, 0
		for i, p := range points {
			if d := math.Hypot(p[0]-points[0][0], p[1]-points[0][1]); d > far {
				far, at = d, i
			}
		}
		keep[at] = true
		todo = []span{{0, at}, {at, len(points) - 1}}
	}
	for len(todo) > 0 {
		s := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		a, b := points[s.a], points[s.b]
		dx, dy := b[0]-a[0], b[1]-a[1]
		l := dx*dx + dy*dy
		far, at := tolerance, -1
		for i := s.a + 1; i < s.b; i++ {
			ex, ey := points[i][0]-a[0], points[i][1]-a[1]
			w := 0.0
			if l > 0 {
				w = min(max((ex*dx+ey*dy)/l, 0), 1)
			}
			if d := math.Hypot(ex-w*dx, ey-w*dy); d > far {
				far, at = d, i
			}
		}
		if at >= 0 {
			keep[at] = true
			todo = append(todo, span{s.a, at}, span{at, s.b})
		}
	}
	out := points[:0:0]
	for i, k := range keep {
		if k {
			out = append(out, points[i])
		}
	}
	return out
}
