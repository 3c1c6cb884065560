package geometry

import (
	"math/big"
	"math/rand/v2"
	"reflect"
	"testing"
)

// field returns n random segments. A small span makes coincident, touching and
// collinear ones common; level and plumb ones are half of all.
func field(r *rand.Rand, n int, span int64) []Segment {
	p := func() Point { return Point{r.Int64N(2*span+1) - span, r.Int64N(2*span+1) - span} }
	out := make([]Segment, n)
	for i := range out {
		a, b := p(), p()
		switch r.IntN(4) {
		case 0:
			b.X = a.X
		case 1:
			b.Y = a.Y
		}
		out[i] = Segment{a, b, int32(i)}
	}
	return out
}

// fields runs f over many random fields, from crowded to sparse.
func fields(t *testing.T, f func(t *testing.T, s []Segment)) {
	for seed := uint64(1); seed <= 150; seed++ {
		r := rand.New(rand.NewPCG(seed, 7))
		span := []int64{3, 8, 40, 1000, 20_000_000, Limit}[seed%6]
		f(t, field(r, 1+int(seed%30), span))
		if t.Failed() {
			t.Fatalf("at seed %d", seed)
		}
	}
}

// Law 1.
func TestOrientExact(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 20000 {
		p := func() Point { return Point{r.Int64N(2*Limit+1) - Limit, r.Int64N(2*Limit+1) - Limit} }
		a, b := p(), p()
		c := p()
		if r.IntN(2) == 0 { // nearly in line
			k := r.Int64N(1000)
			c = Point{a.X + (b.X-a.X)/1000*k + r.Int64N(3) - 1, a.Y + (b.Y-a.Y)/1000*k + r.Int64N(3) - 1}
		}
		bi := func(x int64) *big.Int { return big.NewInt(x) }
		m := func(x, y *big.Int) *big.Int { return new(big.Int).Mul(x, y) }
		d := func(x, y int64) *big.Int { return new(big.Int).Sub(bi(x), bi(y)) }
		want := new(big.Int).Sub(m(d(b.X, a.X), d(c.Y, a.Y)), m(d(b.Y, a.Y), d(c.X, a.X))).Sign()
		if got := Orient(a, b, c); got != want {
			t.Fatalf("Orient(%v, %v, %v) = %d, want %d", a, b, c, got, want)
		}
	}
}

// Law 1, for the rounded crossing and the pixel test, judged in big rationals.
func TestCrossingExact(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 1))
	crossed := 0
	for i := range 20000 {
		span := []int64{4, 60, Limit}[i%3]
		s := field(r, 2, span)
		a, b, c, d := s[0].A, s[0].B, s[1].A, s[1].B
		u, v, w := b.Sub(a), d.Sub(c), c.Sub(a)
		den := new(big.Int).Sub(mul(u.X, v.Y), mul(u.Y, v.X))
		if den.Sign() == 0 {
			continue
		}
		tt := new(big.Rat).SetFrac(new(big.Int).Sub(mul(w.X, v.Y), mul(w.Y, v.X)), den)
		ss := new(big.Rat).SetFrac(new(big.Int).Sub(mul(w.X, u.Y), mul(w.Y, u.X)), den)
		one := big.NewRat(1, 1)
		want := tt.Sign() >= 0 && tt.Cmp(one) <= 0 && ss.Sign() >= 0 && ss.Cmp(one) <= 0
		p, ok := crossing(a, b, c, d)
		if ok != want {
			t.Fatalf("crossing(%v) found %v, want %v", s, ok, want)
		}
		if !ok {
			continue
		}
		crossed++
		if want := (Point{roundAlong(a.X, u.X, tt), roundAlong(a.Y, u.Y, tt)}); p != want {
			t.Fatalf("crossing(%v) = %v, want %v", s, p, want)
		}
		if !inPixel(a, b, p) || !inPixel(c, d, p) {
			t.Fatalf("crossing %v of %v lies in a pixel that a segment misses", p, s)
		}
	}
	if crossed < 3000 {
		t.Fatalf("only %d crossings tried", crossed)
	}
}

// A pixel holds its left and lower sides and not its right and upper ones,
// whichever way a segment runs.
func TestPixelHalfOpen(t *testing.T) {
	for _, c := range []struct {
		a, b, p Point
		want    bool
	}{
		{Point{0, 1}, Point{1, 0}, Point{1, 1}, true},    // through its lower left corner
		{Point{0, 1}, Point{1, 0}, Point{0, 0}, false},   // through its upper right corner
		{Point{0, 0}, Point{1, 1}, Point{1, 0}, false},   // through its upper left corner
		{Point{0, 0}, Point{1, 1}, Point{0, 1}, false},   // through its lower right corner
		{Point{-1, 0}, Point{2, 1}, Point{0, 0}, true},   // through it
		{Point{-1, 0}, Point{2, 1}, Point{1, 0}, false},  // leaves by the upper left corner
		{Point{-1, 0}, Point{2, 1}, Point{0, 1}, false},  // touches the lower right corner
		{Point{0, 0}, Point{10, 0}, Point{5, 1}, false},  // passes below
		{Point{0, 0}, Point{10, 0}, Point{11, 0}, false}, // ends before
	} {
		if got := inPixel(c.a, c.b, c.p); got != c.want {
			t.Errorf("inPixel(%v, %v, %v) = %v", c.a, c.b, c.p, got)
		}
		if got := inPixel(c.b, c.a, c.p); got != c.want {
			t.Errorf("inPixel(%v, %v, %v) = %v", c.b, c.a, c.p, got)
		}
	}
	r := rand.New(rand.NewPCG(6, 6))
	for range 20000 {
		s := field(r, 2, 5)
		if a, b, p := s[0].A, s[0].B, s[1].A; inPixel(a, b, p) != inPixel(b, a, p) {
			t.Fatalf("inPixel(%v, %v, %v) depends on the way it runs", a, b, p)
		}
	}
}

func mul(a, b int64) *big.Int { return new(big.Int).Mul(big.NewInt(a), big.NewInt(b)) }

// roundAlong returns ⌊a + d·t + ½⌋.
func roundAlong(a, d int64, t *big.Rat) int64 {
	x := new(big.Rat).Mul(big.NewRat(d, 1), t)
	x.Add(x, big.NewRat(a, 1)).Add(x, big.NewRat(1, 2))
	q := new(big.Int).Div(x.Num(), x.Denom()) // Euclidean: floor for positive denominators
	return q.Int64()
}

// Law 2.
func TestNodedMeetAtEndsOnly(t *testing.T) {
	fields(t, func(t *testing.T, s []Segment) {
		n := Node(s)
		for i, e := range n.Edges {
			a, b := n.Points[e.U], n.Points[e.V]
			for v, p := range n.Points {
				if int32(v) != e.U && int32(v) != e.V && OnSegment(p, a, b) {
					t.Errorf("vertex %v lies on edge %v–%v", p, a, b)
				}
			}
			for _, f := range n.Edges[i+1:] {
				c, d := n.Points[f.U], n.Points[f.V]
				shared := e.U == f.U || e.U == f.V || e.V == f.U || e.V == f.V
				if !shared && segmentsMeet(a, b, c, d) {
					t.Errorf("%v–%v meets %v–%v", a, b, c, d)
				}
				if e.U == f.U && e.V == f.V {
					t.Errorf("edge %v–%v twice", a, b)
				}
			}
		}
	})
}

// Law 3.
func TestNodingMovesLessThanAPixel(t *testing.T) {
	fields(t, func(t *testing.T, s []Segment) {
		n := Node(s)
		reach := make(map[int32]int64) // twice dot travelled, to see each chain complete
		for e := range n.Edges {
			a, b := n.Points[n.Edges[e].U], n.Points[n.Edges[e].V]
			for _, use := range n.Uses(int32(e)) {
				src := s[use.Label]
				for _, p := range []Point{a, b} {
					if _, d := Nearest(p.Vec(), src.A.Vec(), src.B.Vec()); d > 0.7072 {
						t.Errorf("segment %v bent to %v, %g µm away", src, p, d)
					}
				}
				if src.A.X == src.B.X && (a.X != src.A.X || b.X != src.A.X) || src.A.Y == src.B.Y && (a.Y != src.A.Y || b.Y != src.A.Y) {
					t.Errorf("level or plumb %v moved to %v–%v", src, a, b)
				}
				reach[use.Label] += int64(use.Turn) * ((b.X - a.X) + 3*(b.Y-a.Y))
			}
		}
		for _, src := range s {
			if want := (src.B.X - src.A.X) + 3*(src.B.Y-src.A.Y); reach[src.Label] != want {
				t.Errorf("pieces of %v do not run from end to end", src)
			}
		}
	})
}

// Law 4.
func TestNodingTwice(t *testing.T) {
	fields(t, func(t *testing.T, s []Segment) {
		for i := range s {
			if i%2 == 0 {
				s[i].B.X = s[i].A.X
			} else {
				s[i].B.Y = s[i].A.Y
			}
		}
		n := Node(s)
		var again []Segment
		for e := range n.Edges {
			again = append(again, Segment{n.Points[n.Edges[e].U], n.Points[n.Edges[e].V], 0})
		}
		m := Node(again)
		if len(m.Edges) != len(n.Edges) {
			t.Fatalf("%d edges became %d", len(n.Edges), len(m.Edges))
		}
		for e := range m.Edges {
			if m.Points[m.Edges[e].U] != n.Points[n.Edges[e].U] || m.Points[m.Edges[e].V] != n.Points[n.Edges[e].V] {
				t.Fatalf("edge %d moved", e)
			}
		}
	})
}

// Laws 5 and 6.
func TestFaces(t *testing.T) {
	fields(t, func(t *testing.T, s []Segment) {
		a := Arrange(s)
		used := map[int32]bool{}
		parent := make([]int, len(a.Points))
		for i := range parent {
			parent[i] = i
		}
		var find func(i int) int
		find = func(i int) int {
			if parent[i] != i {
				parent[i] = find(parent[i])
			}
			return parent[i]
		}
		for _, e := range a.Edges {
			used[e.U], used[e.V] = true, true
			parent[find(int(e.U))] = find(int(e.V))
		}
		components := map[int]bool{}
		for v := range used {
			components[find(int(v))] = true
		}
		if got, want := len(used)-len(a.Edges)+a.Faces(), 1+len(components); got != want {
			t.Errorf("V−E+F = %d, want %d", got, want)
		}
		seen := 0
		var sum, outside int64
		for f := range a.Faces() {
			for _, h := range a.Halves(int32(f)) {
				seen++
				if a.FaceOf(h) != int32(f) {
					t.Errorf("half-edge %d listed on face %d, is of %d", h, f, a.FaceOf(h))
				}
			}
			if f > 0 {
				p := a.Polygon(int32(f))
				if p.Area2() != a.Area2(int32(f)) || p.Area2() <= 0 {
					t.Errorf("face %d: area %d and %d", f, p.Area2(), a.Area2(int32(f)))
				}
				sum += p.Area2()
			}
		}
		if seen != 2*len(a.Edges) {
			t.Errorf("%d half-edges on faces of %d", seen, 2*len(a.Edges))
		}
		for _, h := range a.inner[0] {
			outside -= a.loop(h).Area2()
		}
		if sum != outside {
			t.Errorf("faces sum to %d, the outermost loops hold %d", sum, outside)
		}
	})
}

// Law 7.
func TestOrderOfSegments(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	fields(t, func(t *testing.T, s []Segment) {
		a := Arrange(s)
		r.Shuffle(len(s), func(i, j int) { s[i], s[j] = s[j], s[i] })
		b := Arrange(s)
		if !reflect.DeepEqual(a.Points, b.Points) || !reflect.DeepEqual(a.Edges, b.Edges) ||
			!reflect.DeepEqual(a.uses, b.uses) || !reflect.DeepEqual(a.face, b.face) {
			t.Errorf("another order, another arrangement")
		}
	})
}

// FaceAt agrees with the plain test of every face's polygon.
func TestFaceAt(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	fields(t, func(t *testing.T, s []Segment) {
		a := Arrange(s)
		box := EmptyBox()
		for _, p := range a.Points {
			box = box.Grow(p)
		}
		for range 20 {
			p := Point{box.Min.X - 1 + r.Int64N(box.Width()+3), box.Min.Y - 1 + r.Int64N(box.Height()+3)}
			want, on := int32(0), false
			for f := 1; f < a.Faces(); f++ {
				if a.Polygon(int32(f)).Locate(p) == In {
					want = int32(f)
				}
			}
			for _, e := range a.Edges {
				on = on || OnSegment(p, a.Points[e.U], a.Points[e.V])
			}
			got, gotOn := a.FaceAt(p)
			if gotOn != on || !on && got != want {
				t.Errorf("FaceAt(%v) = %d, %v; want %d, %v", p, got, gotOn, want, on)
			}
		}
	})
}
