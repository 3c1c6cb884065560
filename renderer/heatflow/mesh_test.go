package heatflow

import (
	"math"
	"math/rand/v2"
	"testing"
)

// square returns points, edges and sides of nested squares: a wall of two
// materials and a slanting line between.
func slantedSection() ([]pt, [][2]int32, []sides) {
	const g = grainsPerMicrometre
	p := []pt{{0, 0}, {400000 * g, 0}, {400000 * g, 300000 * g}, {0, 300000 * g}, {100000 * g, 0}, {250000 * g, 300000 * g}}
	e := [][2]int32{{0, 4}, {4, 1}, {1, 2}, {2, 5}, {5, 3}, {3, 0}, {4, 5}}
	s := []sides{{0, -1}, {1, -1}, {1, -1}, {1, -1}, {0, -1}, {0, -1}, {0, 1}}
	return p, e, s
}

// checkMesh asserts that triangles turn left, know their neighbours, are
// Delaunay but for segments, and cover the area.
func checkMesh(t *testing.T, m *mesh, area2 float64) {
	t.Helper()
	sum := 0.0
	for k := range m.tri {
		tr := &m.tri[k]
		if orient(m.p[tr.v[0]], m.p[tr.v[1]], m.p[tr.v[2]]) <= 0 {
			t.Fatalf("triangle %d does not turn left", k)
		}
		_, a := m.shape(int32(k))
		sum += a
		for i := range int32(3) {
			u := tr.n[i]
			if u < 0 {
				if tr.s[i] < 0 {
					t.Fatalf("triangle %d ends without a segment", k)
				}
				continue
			}
			j := m.facing(u, int32(k))
			if m.tri[u].s[j] != tr.s[i] {
				t.Fatalf("triangles %d and %d disagree on their segment", k, u)
			}
			if tr.s[i] < 0 {
				if m.tri[u].region != tr.region {
					t.Fatalf("a region leaks from triangle %d to %d", k, u)
				}
				if inCircle(m.p[tr.v[0]], m.p[tr.v[1]], m.p[tr.v[2]], m.p[m.tri[u].v[j]]) > 0 {
					t.Fatalf("the edge between triangles %d and %d is not Delaunay", k, u)
				}
			}
		}
	}
	// Halving a slanting edge bends it by less than a grain.
	slack := 1e-12 * area2
	for _, g := range m.seg {
		slack += math.Sqrt(square(m.p[g.a], m.p[g.b]))
	}
	if math.Abs(sum-area2) > slack {
		t.Errorf("triangles cover %g, want %g", sum, area2)
	}
}

func TestMeshConforms(t *testing.T) {
	p, e, s := slantedSection()
	m := triangulate(p, e, s)
	const g = grainsPerMicrometre
	area2 := 2 * 400000.0 * g * 300000 * g
	checkMesh(t, m, area2)
	before := len(m.tri)
	w := even(m, math.Inf(1))
	for k := range m.tri {
		v := m.tri[k].v
		a, b, c := m.p[v[0]], m.p[v[1]], m.p[v[2]]
		w.spots = append(w.spots, spot{pt{(a.x + b.x + c.x) / 3, (a.y + b.y + c.y) / 3}, int32(k), 30000 * g})
	}
	w.point[4] = 1000 * g
	m.refine(w, 1e5)
	checkMesh(t, m, area2)
	if len(m.tri) < 4*before {
		t.Errorf("refined from %d to %d triangles only", before, len(m.tri))
	}
	for k := range m.tri {
		_, e := m.longest(int32(k))
		for _, v := range m.tri[k].v {
			if v == 4 && math.Sqrt(e) > 1000*g {
				t.Errorf("at the graded point, triangle %d is %g grains long", k, math.Sqrt(e))
			}
		}
	}
	for _, s := range w.spots {
		k, _, _ := m.locate(0, s.at, false)
		if _, e := m.longest(k); math.Sqrt(e) > s.size {
			t.Errorf("triangle %d is %g grains long", k, math.Sqrt(e))
		}
	}
}

// even asks for one size at every point.
func even(m *mesh, size float64) *wants {
	w := &wants{}
	for range m.p {
		w.point = append(w.point, size)
	}
	return w
}

func TestRandomConstraints(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		// A random star-shaped polygon with a fan of inner lines to its middle.
		n := 5 + r.IntN(20)
		p := []pt{{0, 0}}
		area2 := 0.0
		for i := range n {
			a := (float64(i) + r.Float64()*0.9) * 2 * math.Pi / float64(n)
			d := 1e6 * (0.05 + r.Float64()) * grainsPerMicrometre
			p = append(p, pt{int64(d * math.Cos(a)), int64(d * math.Sin(a))})
		}
		var e [][2]int32
		var s []sides
		for i := range n {
			j := (i+1)%n + 1
			e = append(e, [2]int32{int32(i + 1), int32(j)})
			s = append(s, sides{int32(i), -1})
			e = append(e, [2]int32{0, int32(i + 1)})
			s = append(s, sides{int32(i), int32((i + n - 1) % n)})
			area2 += float64(p[i+1].x)*float64(p[j].y) - float64(p[j].x)*float64(p[i+1].y)
		}
		bad := false
		for i := range n { // the fan must turn left everywhere
			if orient(p[0], p[i+1], p[(i+1)%n+1]) <= 0 {
				bad = true
			}
		}
		if bad {
			continue
		}
		m := triangulate(p, e, s)
		checkMesh(t, m, area2)
		w := even(m, 3e5*grainsPerMicrometre)
		for i := range w.point {
			w.point[i] *= 0.01 + r.Float64()
		}
		m.refine(w, 20000)
		checkMesh(t, m, area2)
	}
}

func TestPredicatesExact(t *testing.T) {
	a, b := pt{0, 0}, pt{1 << 39, (1 << 39) - 1}
	if got := orient(a, b, pt{1 << 38, 1 << 38}); got != 1 {
		t.Errorf("a point just left of a long line: orient %d, want 1", got)
	}
	if got := orient(a, pt{3 << 30, 7 << 30}, pt{6 << 30, 14 << 30}); got != 0 {
		t.Errorf("points in line: orient %d, want 0", got)
	}
	c := pt{1 << 38, 0}
	if got := inCircle(pt{0, 0}, c, pt{1 << 38, 1 << 38}, pt{0, 1 << 38}); got != 0 {
		t.Errorf("four corners of a square: inCircle %d, want 0", got)
	}
	if got := inCircle(pt{0, 0}, c, pt{1 << 38, 1 << 38}, pt{1, (1 << 38) - 1}); got != 1 {
		t.Errorf("a grain within the corner of a square: inCircle %d, want 1", got)
	}
}
