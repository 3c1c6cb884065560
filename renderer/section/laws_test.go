package section

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"wythe/renderer/geometry"
)

func sortedInches(l []geometry.Point) string {
	l = slices.Clone(l)
	slices.SortFunc(l, func(a, b geometry.Point) int {
		if a.Less(b) {
			return -1
		}
		return 1
	})
	return inches(l)
}

func sortedText(s string) string {
	var l []geometry.Point
	for _, w := range strings.Split(strings.Trim(s, "()"), ")(") {
		var x, y float64
		fmt.Sscan(w, &x, &y)
		l = append(l, geometry.Point{X: int64(x * 25400), Y: int64(y * 25400)})
	}
	return sortedInches(l)
}

// heap writes n random parts over each other: boxes on a coarse grid, so that
// edges coincide and corners touch, slopes, rounds, outlines, films, assemblies.
func heap(r *rand.Rand, n int) string {
	var b strings.Builder
	b.WriteString("view: {left: 0, right: 40 in, bottom: 0, top: 40 in}\nparts:\n")
	mats := []string{"concrete", "timber", "XPS", "none", "air", "soil"}
	for i := range n {
		x, y := r.IntN(36), r.IntN(36)
		w, h := 1+r.IntN(12), 1+r.IntN(12)
		m := mats[r.IntN(len(mats))]
		fmt.Fprintf(&b, "  - p%d: ", i)
		switch r.IntN(8) {
		case 0:
			fmt.Fprintf(&b, "{material: %s, pitch: %d in 12, height: %d in, left: %d in, right: %d in, ends: %s, seat: {p%d.bottom: [%d in, %d in]}}\n",
				m, r.IntN(24)-12, 1+r.IntN(4), x, x+w+3, []string{"plumb", "square"}[r.IntN(2)], i, x, y)
		case 1:
			fmt.Fprintf(&b, "{round: pipe, diameter: %d in, at: [%d in, %d in]}\n", w, x+1, y+1)
		case 2:
			fmt.Fprintf(&b, "{material: %s, outline: [[%d in, %d in], [%d in, %d in], [%d in, %d in]]}\n", m, x, y, x+w, y, x+r.IntN(w+1), y+h)
		case 3:
			fmt.Fprintf(&b, "{film: membrane, thickness: 15 mil, along: [[%d in, %d in], [%d in, %d in], [%d in, %d in]]}\n", x, y, x+w, y, x+w, y+h)
		case 4:
			fmt.Fprintf(&b, "{assembly: F-101, inside: %s, left: %d in, right: %d in, bottom: %d in}\n", []string{"top", "bottom"}[r.IntN(2)], x, x+w, y)
		default:
			fmt.Fprintf(&b, "{material: %s, left: %d in, width: %d in, bottom: %d in, height: %d in}\n", m, x, w, y, h)
		}
	}
	return b.String()
}

// heaps runs f over random sections; their warnings are of no concern here.
func heaps(t *testing.T, f func(t *testing.T, r *rand.Rand, s *Section)) {
	for seed := uint64(1); seed <= 120; seed++ {
		r := rand.New(rand.NewPCG(seed, 11))
		text := heap(r, 1+int(seed)%40)
		s, list := Resolve(read(t, text, slabAndWall), nil, Options{})
		if n := list.Errors(); n > 0 {
			t.Fatalf("seed %d: %v\n%s", seed, list.Items, text)
		}
		f(t, r, s)
		if t.Failed() {
			t.Fatalf("at seed %d:\n%s", seed, text)
		}
	}
}

// Law 1.
func TestAreaIsConserved(t *testing.T) {
	heaps(t, func(t *testing.T, _ *rand.Rand, s *Section) {
		var sum int64
		for _, f := range s.Faces {
			sum += f.Polygon.Area2()
		}
		if want := 2 * s.View.Width() * s.View.Height(); sum != want {
			t.Errorf("faces hold %d, the view %d", sum, want)
		}
	})
}

// Law 2.
func TestTopmost(t *testing.T) {
	heaps(t, func(t *testing.T, r *rand.Rand, s *Section) {
		for range 60 {
			p := geometry.Point{X: r.Int64N(s.View.Width()), Y: r.Int64N(s.View.Height())}
			want, near := Open, false
			for i, g := range s.Regions {
				for k, a := range g.Ring {
					if _, d := geometry.Nearest(p.Vec(), a.Vec(), g.Ring[(k+1)%len(g.Ring)].Vec()); d < 2*sliverWidth {
						near = true
					}
				}
				if g.Ring.Locate(p) == geometry.In {
					want = int32(i)
				}
			}
			if near {
				continue
			}
			f, on := s.Arrangement.FaceAt(p)
			if !on && s.Owner[f] != want {
				t.Errorf("at %v: %s, want %s", p, s.Name(s.Owner[f]), s.Name(want))
			}
			found := -1
			for i := range s.Faces {
				if s.Faces[i].Polygon.Locate(p) == geometry.In {
					if found >= 0 {
						t.Errorf("%v lies in two faces", p)
					}
					found = i
				}
			}
			if !on && (found < 0 || s.FaceOf[f] != int32(found)) {
				t.Errorf("at %v: face %d, want %d", p, found, s.FaceOf[f])
			}
		}
	})
}

// Law 3.
func TestOutlinesOnce(t *testing.T) {
	heaps(t, func(t *testing.T, _ *rand.Rand, s *Section) {
		// The outlines of each face, run with the face on the left, close up
		// and hold its area.
		sum := make([]int64, len(s.Faces))
		for _, o := range s.Outlines {
			if o.Left == o.Right {
				t.Fatalf("outline with %d on both sides", o.Left)
			}
			for k := 1; k < len(o.Line); k++ {
				z := geometry.Cross(o.Line[k-1], o.Line[k])
				if o.Left >= 0 {
					sum[o.Left] += z
				}
				if o.Right >= 0 {
					sum[o.Right] -= z
				}
			}
		}
		for i, f := range s.Faces {
			if sum[i] != f.Area2 {
				t.Errorf("face %d: its outlines hold %d, it %d", i, sum[i], f.Area2)
			}
		}
	})
}

// Walls end under a slope, posts stand on it, purlins are square to it, at
// places that are no whole number: they meet it without slivers.
func TestSlopesMeet(t *testing.T) {
	for seed := uint64(1); seed <= 150; seed++ {
		r := rand.New(rand.NewPCG(seed, 77))
		var b strings.Builder
		b.WriteString("view: {left: 0, right: 100 in, bottom: 0, top: 100 in}\nparts:\n")
		pitch := fmt.Sprintf("%d.%d deg", r.IntN(80)-40, r.IntN(10))
		fmt.Fprintf(&b, "  - roof: {assembly: W-101, inside: bottom, pitch: %s, left: cut, right: cut, seat: {board.bottom: [%d in, %d in]}}\n", pitch, 40+r.IntN(20), 40+r.IntN(20))
		for i := range 1 + r.IntN(6) {
			fmt.Fprintf(&b, "  - w%d: {material: concrete, left: %d.%02d in, width: %d in, bottom: 1 in, top: under roof}\n", i, 40+r.IntN(20), r.IntN(100), 1+r.IntN(9))
		}
		for i := range r.IntN(4) {
			fmt.Fprintf(&b, "  - u%d: {material: timber, left: %d.%02d in, width: %d in, bottom: over roof, top: 99 in}\n", i, 40+r.IntN(20), r.IntN(100), 1+r.IntN(9))
		}
		fmt.Fprintf(&b, "  - purlin: {material: timber, pitch: %s, left: 45 in, width: 3 in, height: 2 in, ends: square, seat: {purlin.bottom: [45 in, roof.top at 45 in]}, repeat: {every: 2 in, count: 5}}\n", pitch)
		b.WriteString("  - sheet: {film: membrane, thickness: 15 mil, over: [w0.left, roof.bottom, w0.right up 2 in]}\n")
		s, list := Resolve(read(t, b.String(), slabAndWall), nil, Options{})
		if list.Errors() > 0 {
			t.Fatalf("seed %d: %v\n%s", seed, list.Items, b.String())
		}
		for _, f := range s.Faces {
			if f.Area2 < in2/1_000_000 {
				t.Errorf("seed %d: %q shows a sliver of %d µm²\n%s", seed, f.Name, f.Area2/2, b.String())
			}
		}
	}
}

// Two runs give the same section.
func TestDeterministic(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	text := heap(r, 40)
	a, _ := Resolve(read(t, text, slabAndWall), nil, Options{})
	b, _ := Resolve(read(t, text, slabAndWall), nil, Options{})
	if x, y := fmt.Sprint(a.Outlines, a.Runs, a.Owner), fmt.Sprint(b.Outlines, b.Runs, b.Owner); x != y {
		t.Error("two runs differ")
	}
}

// wallOf writes n parts as a wall of courses: rows of blocks with films between.
func wallOf(n int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "view: {left: 0, right: 160 in, bottom: 0, top: %d in}\nparts:\n", 10*(n/15+1))
	for i := range n {
		x, y := i%15*10, i/15*10
		if i%5 == 4 {
			fmt.Fprintf(&b, "  - p%d: {film: membrane, thickness: 15 mil, over: [p%d.top, p%d.right down 2 in]}\n", i, i-1, i-1)
			continue
		}
		fmt.Fprintf(&b, "  - p%d: {assembly: W-101, inside: right, right: %d in, bottom: %d in, top: %d in, top of foam: 1 in below p%d.top}\n", i, x+30, y, y+8, i)
	}
	return b.String()
}

// Law 4 is read off this.
func BenchmarkResolve(b *testing.B) {
	for _, n := range []int{15, 60, 240} {
		j := read(b, wallOf(n), slabAndWall)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, list := Resolve(j, nil, Options{}); list.Errors() > 0 {
					b.Fatal(list.Items)
				}
			}
		})
	}
}
