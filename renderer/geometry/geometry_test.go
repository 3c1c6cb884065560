package geometry

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

func TestRing(t *testing.T) {
	square := Box{Point{0, 0}, Point{10, 10}}.Ring()
	for _, c := range []struct {
		name   string
		ring   Ring
		area2  int64
		simple bool
	}{
		{"square", square, 200, true},
		{"clockwise", square.Reversed(), -200, true},
		{"bow tie", Ring{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, 0, false},
		{"uneven bow tie", Ring{{0, 0}, {10, 12}, {10, 0}, {0, 10}}, -20, false},
		{"spike", Ring{{0, 0}, {10, 0}, {20, 0}, {10, 0}, {10, 10}}, 100, false},
		{"folded back at the start", Ring{{0, 0}, {10, 0}, {10, 10}, {5, 0}}, 50, false},
		{"two points", Ring{{0, 0}, {1, 1}}, 0, false},
		{"repeated point", Ring{{0, 0}, {10, 0}, {10, 0}, {0, 10}}, 100, false},
		{"pinched", Ring{{0, 0}, {5, 5}, {10, 0}, {10, 10}, {5, 5}, {0, 10}}, 100, false},
	} {
		if got := c.ring.Area2(); got != c.area2 {
			t.Errorf("%s: twice the area %d, want %d", c.name, got, c.area2)
		}
		if got := c.ring.Simple(); got != c.simple {
			t.Errorf("%s: simple %v, want %v", c.name, got, c.simple)
		}
	}
}

func TestLocate(t *testing.T) {
	p := Polygon{
		Outer: Box{Point{0, 0}, Point{10, 10}}.Ring(),
		Holes: []Ring{Box{Point{2, 2}, Point{4, 4}}.Ring().Reversed()},
	}
	for _, c := range []struct {
		at   Point
		want Place
	}{
		{Point{1, 1}, In}, {Point{3, 3}, Out}, {Point{2, 3}, On}, {Point{0, 5}, On},
		{Point{10, 10}, On}, {Point{11, 5}, Out}, {Point{5, 2}, In}, {Point{-1, 10}, Out},
	} {
		if got := p.Locate(c.at); got != c.want {
			t.Errorf("Locate(%v) = %v, want %v", c.at, got, c.want)
		}
	}
	if p.Area2() != 192 {
		t.Errorf("twice the area %d, want 192", p.Area2())
	}
}

func TestSegmentDistance(t *testing.T) {
	for _, c := range []struct {
		name       string
		a, b, c, d Point
		want       float64
		at         Vec // on a–b
	}{
		{"level pair, overlapping 4 to 10", Point{0, 0}, Point{10, 0}, Point{4, 3}, Point{20, 3}, 3, Vec{7, 0}},
		{"crossing", Point{0, 0}, Point{10, 10}, Point{0, 10}, Point{10, 0}, 0, Vec{5, 5}},
		{"T", Point{0, 0}, Point{10, 0}, Point{6, 0}, Point{6, 9}, 0, Vec{6, 0}},
		{"end to face", Point{0, 0}, Point{10, 0}, Point{6, 2}, Point{7, 9}, 2, Vec{6, 0}},
		{"end to end", Point{0, 0}, Point{10, 0}, Point{13, 4}, Point{20, 4}, 5, Vec{10, 0}},
		{"in line", Point{0, 0}, Point{10, 0}, Point{12, 0}, Point{20, 0}, 2, Vec{10, 0}},
	} {
		p, q, got := SegmentDistance(c.a, c.b, c.c, c.d)
		if math.Abs(got-c.want) > 1e-9 || math.Abs(p.X-c.at.X) > 1e-9 || math.Abs(p.Y-c.at.Y) > 1e-9 {
			t.Errorf("%s: %g at %v, want %g at %v", c.name, got, p, c.want, c.at)
		}
		if l := math.Hypot(p.X-q.X, p.Y-q.Y); math.Abs(l-got) > 1e-9 {
			t.Errorf("%s: places %g apart, distance %g", c.name, l, got)
		}
	}
}

// A face inside a face inside a face: holes belong to the face around them,
// also where the ray to the left passes through vertices.
func TestNestedFaces(t *testing.T) {
	var s []Segment
	ring := func(r Ring) {
		for i := range r {
			s = append(s, Segment{r[i], r[(i+1)%len(r)], 0})
		}
	}
	ring(Box{Point{0, 0}, Point{100, 100}}.Ring())
	ring(Ring{{30, 50}, {20, 40}, {30, 30}}) // a point towards the left at the level of …
	ring(Box{Point{40, 40}, Point{60, 60}}.Ring())
	ring(Box{Point{45, 45}, Point{55, 55}}.Ring())
	s = append(s, Segment{Point{70, 40}, Point{80, 40}, 0}) // a film in the open
	a := Arrange(s)
	if a.Faces() != 5 {
		t.Fatalf("%d faces, want 5", a.Faces())
	}
	var areas []int64
	for f := 1; f < a.Faces(); f++ {
		areas = append(areas, a.Area2(int32(f))/2)
	}
	if got, want := fmt.Sprint(areas), "[9500 100 300 100]"; got != want {
		t.Errorf("areas %s, want %s", got, want)
	}
}

// BenchmarkArrange shows that time grows with the number of segments.
func BenchmarkArrange(b *testing.B) {
	for _, n := range []int{15, 60, 240, 960} {
		r := rand.New(rand.NewPCG(9, 9))
		var s []Segment
		for i := range n { // boxes spread along a wall, each touching a few others
			x, y := int64(i%16)*100_000+r.Int64N(30_000), int64(i/16)*100_000+r.Int64N(30_000)
			ring := Box{Point{x, y}, Point{x + 110_000, y + 110_000}}.Ring()
			for k := range ring {
				s = append(s, Segment{ring[k], ring[(k+1)%4], int32(i)})
			}
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Arrange(s)
			}
		})
	}
}
