package drawing

import (
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"slices"
	"sync"
	"testing"

	"gopkg.in/yaml.v3"
)

// The hatch words of the file language.
func TestHatchWords(t *testing.T) {
	want := []string{"concrete", "reinforced concrete", "block", "brick", "stone", "mortar", "plaster", "gypsum", "earth", "backfill",
		"washed stone", "sand", "rigid insulation", "batt", "loose fill", "sawn timber", "finish timber", "plywood", "fiber board",
		"steel", "metal", "glass", "membrane", "air", "none"}
	slices.Sort(want)
	if got := Words(); !slices.Equal(got, want) {
		t.Errorf("words are %q, want %q", got, want)
	}
	for _, word := range want {
		drawn := len(Hatch(word, RectRegion(0, 0, 40, 12), Hatching{})) > 0
		if blank := word == "air" || word == "none"; drawn == blank {
			t.Errorf("%s: drawn %t", word, drawn)
		}
	}
}

// outOf is how far (x, y) lies outside r, mm; 0 inside.
func outOf(r Region, x, y float64) float64 {
	in, gap := false, math.Inf(1)
	for _, ring := range append([][]Point{r.Outer}, r.Holes...) {
		for i, b := range ring {
			a := ring[(i+len(ring)-1)%len(ring)]
			if (a.Y > y) != (b.Y > y) && x < (b.X-a.X)*(y-a.Y)/(b.Y-a.Y)+a.X {
				in = !in
			}
			if a != b {
				gap = min(gap, math.Sqrt(segmentDistance2(x, y, a, b)))
			}
		}
	}
	if in {
		return 0
	}
	return gap
}

// eachDrawn calls do with points close together along all that nodes draw.
func eachDrawn(nodes []Node, do func(x, y float64, p *Path)) {
	eachPath(nodes, Point{}, func(p *Path, by Point) {
		for _, shift := range append([]Point{{}}, p.Again...) {
			shift.X += by.X
			shift.Y += by.Y
			var at, start Point
			line := func(to Point) {
				for k := range 9 {
					f := float64(k) / 8
					do(shift.X+at.X+f*(to.X-at.X), shift.Y+at.Y+f*(to.Y-at.Y), p)
				}
				at = to
			}
			for i := range p.Segs {
				s := &p.Segs[i]
				switch s.Op {
				case MoveTo, Dot:
					at, start = s.P[0], s.P[0]
					line(at)
				case LineTo:
					line(s.P[0])
				case Close:
					line(start)
				case CurveTo:
					for k := range 9 {
						u := float64(k) / 8
						v := 1 - u
						a, b, c, e := v*v*v, 3*v*v*u, 3*v*u*u, u*u*u
						do(shift.X+a*at.X+b*s.P[0].X+c*s.P[1].X+e*s.P[2].X, shift.Y+a*at.Y+b*s.P[0].Y+c*s.P[1].Y+e*s.P[2].Y, p)
					}
					at = s.P[2]
				case ArcTo:
					c, r, begin, turn := ArcCenter(at, s)
					for k := range 17 {
						sin, cos := math.Sincos(begin + turn*float64(k)/16)
						do(shift.X+c.X+r*cos, shift.Y+c.Y+r*sin, p)
					}
					at = s.P[0]
				}
			}
		}
	})
}

// eachPath calls do with every path among nodes and how far it is moved.
func eachPath(nodes []Node, by Point, do func(p *Path, by Point)) {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Group:
			eachPath(n.Nodes, Point{by.X + n.Shift.X, by.Y + n.Shift.Y}, do)
		case *Path:
			do(n, by)
		}
	}
}

// within is how far a hatch may pass its region, mm: the 0.01 its coordinates
// are written to, of which arcs near a full turn make the most.
const within = 0.01

func checkInside(t *testing.T, word string, r Region, opt Hatching) {
	t.Helper()
	worst, wx, wy := 0.0, 0.0, 0.0
	eachDrawn(Hatch(word, r, opt), func(x, y float64, _ *Path) {
		if math.IsNaN(x) || math.IsNaN(y) {
			t.Fatalf("%s %+v in %v: a coordinate is no number", word, opt, r)
		}
		if o := outOf(r, x, y); o > worst {
			worst, wx, wy = o, x, y
		}
	})
	if worst > within {
		t.Errorf("%s %+v in %v: (%.3f, %.3f) is %.3f mm outside", word, opt, r, wx, wy, worst)
	}
}

// options makes hatching options of random bits.
func options(rnd *rand.Rand) Hatching {
	grains := [...]float64{0, 1, 0.72, 0.62, 0.5}
	return Hatching{
		Seed: string(rune('a' + rnd.IntN(26))), Grain: grains[rnd.IntN(len(grains))], Axis: Axis(rnd.IntN(3)),
		Angle: float64(rnd.IntN(3)) * rnd.Float64() * 40, Courses: rnd.IntN(4), Open: Sides(rnd.IntN(16)), Fade: Sides(rnd.IntN(16)),
		Along: rnd.IntN(2) == 0, Thumb: rnd.IntN(4) == 0,
	}
}

// star is a random polygon about a center: its corners go round, so that it
// does not cross itself.
func star(rnd *rand.Rand, cx, cy, size float64) []Point {
	n := 3 + rnd.IntN(9)
	pts := make([]Point, n)
	for i := range pts {
		a := (float64(i) + 0.8*rnd.Float64()) * 2 * math.Pi / float64(n)
		r := size * (0.35 + 0.65*rnd.Float64())
		pts[i] = Point{cx + r*math.Cos(a), cy + r*math.Sin(a)}
	}
	return pts
}

// Law: every hatch lies in its region, whatever its shape and options.
func TestHatchInsideRegion(t *testing.T) {
	rnd := rand.New(rand.NewPCG(20, 26))
	for _, word := range Words() {
		for range 25 {
			x, y := rnd.Float64()*50, rnd.Float64()*50
			wide, high := 0.3+rnd.ExpFloat64()*30, 0.3+rnd.ExpFloat64()*12
			if rnd.IntN(2) == 0 {
				wide, high = high, wide
			}
			checkInside(t, word, RectRegion(x, y, x+min(wide, 160), y+min(high, 160)), options(rnd))
		}
		for range 25 {
			r := Region{Outer: star(rnd, 40, 40, 2+rnd.Float64()*30)}
			if rnd.IntN(2) == 0 {
				r.Holes = append(r.Holes, star(rnd, 40, 40, 0.6))
			}
			checkInside(t, word, r, options(rnd))
		}
	}
}

func FuzzHatchInside(f *testing.F) {
	f.Add(uint64(1), uint8(3), false)
	f.Add(uint64(7), uint8(20), true)
	f.Fuzz(func(t *testing.T, seed uint64, word uint8, rect bool) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		words := Words()
		r := Region{Outer: star(rnd, 30, 30, 1+rnd.Float64()*25)}
		if rect {
			r = RectRegion(5, 5, 5.2+rnd.Float64()*100, 5.2+rnd.Float64()*30)
		}
		checkInside(t, words[int(word)%len(words)], r, options(rnd))
	})
}

// Law: the same arguments give the same hatch; another seed another one.
func TestHatchSeed(t *testing.T) {
	r := RectRegion(3, 4, 143, 20)
	for _, word := range Words() {
		a, b := drawHatch(word, r, Hatching{}, 5), drawHatch(word, r, Hatching{}, 5)
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%s: two hatches of one seed differ", word)
		}
	}
	for _, word := range []string{"concrete", "washed stone", "earth", "gypsum", "loose fill"} {
		if reflect.DeepEqual(drawHatch(word, r, Hatching{}, 5), drawHatch(word, r, Hatching{}, 6)) {
			t.Errorf("%s: two seeds give one hatch", word)
		}
	}
}

// Law: the lattice of rigid insulation meets both faces of each course, and
// its lines stand at 60° to them.
func TestRigidClosesOnFaces(t *testing.T) {
	const top, bottom = 10.0, 29.05
	for _, courses := range []int{1, 2, 3} {
		thick := (bottom - top) / float64(courses)
		met := map[int]int{}
		eachPath(Hatch("rigid insulation", RectRegion(0, top, 100, bottom), Hatching{Courses: courses, Open: SideLeft | SideRight}), Point{}, func(p *Path, by Point) {
			var at Point
			for _, s := range p.Segs {
				q := Point{s.P[0].X + by.X, s.P[0].Y + by.Y}
				if s.Op == LineTo {
					if slope := math.Abs(q.Y-at.Y) / math.Abs(q.X-at.X); math.Abs(slope-math.Sqrt(3)) > 1e-9 {
						t.Fatalf("a line rises %.4f, want tan 60°", slope)
					}
					if q.X > 0.001 && q.X < 99.999 {
						face := (q.Y - top) / thick
						if math.Abs(face-math.Round(face)) > 1e-9 {
							t.Fatalf("a line ends at (%.3f, %.3f), between faces", q.X, q.Y)
						}
						met[int(math.Round(face))]++
					}
				}
				at = q
			}
		})
		for face := range courses + 1 {
			if met[face] < 20 {
				t.Errorf("%d courses: face %d is met %d times", courses, face, met[face])
			}
		}
	}
}

// Law: parallel lines of hatches stand apart at any grain by what the standard
// asks. Steel is left out: it stands for a tone, see leastPitch.
// Published: ISO 128 practice, in testdata/published/drafting.yaml; the least
// is itself the tolerance.
func TestParallelLines(t *testing.T) {
	data, err := os.ReadFile("../../testdata/published/drafting.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var published struct {
		ParallelLines struct {
			Least float64 `yaml:"least_mm"`
		} `yaml:"parallel_lines"`
	}
	if err := yaml.Unmarshal(data, &published); err != nil {
		t.Fatal(err)
	}
	least := published.ParallelLines.Least
	if least <= 0 {
		t.Fatal("no published distance was read")
	}
	for _, word := range []string{"brick", "block", "stone", "metal", "finish timber", "sawn timber", "plywood", "membrane", "rigid insulation"} {
		for _, grain := range []float64{1, 0.72, 0.62} {
			for _, along := range []bool{false, true} {
				if !along && word == "finish timber" {
					continue // rings: TestGrowthRings
				}
				for _, gap := range gaps(Hatch(word, RectRegion(0, 0, 60, 16), Hatching{Grain: grain, Along: along})) {
					if gap < least-1e-6 {
						t.Errorf("%s at grain %g: parallel lines %.3f mm apart", word, grain, gap)
						break
					}
				}
			}
		}
	}
}

// gaps returns the distances between straight parallel lines that run beside
// each other, those of one line with itself aside.
func gaps(nodes []Node) (out []float64) {
	type line struct{ angle, offset, from, to float64 }
	var lines []line
	eachPath(nodes, Point{}, func(p *Path, _ Point) {
		if p.Stroke.Round {
			return // dots
		}
		var at Point
		for _, s := range p.Segs {
			q := s.P[0]
			if s.Op == LineTo && math.Hypot(q.X-at.X, q.Y-at.Y) > 1.5 {
				a := math.Mod(math.Atan2(q.Y-at.Y, q.X-at.X)+2*math.Pi, math.Pi)
				if math.Pi-a < 1e-6 {
					a = 0
				}
				sin, cos := math.Sincos(a)
				f, g := at.X*cos+at.Y*sin, q.X*cos+q.Y*sin
				lines = append(lines, line{a, at.Y*cos - at.X*sin, min(f, g), max(f, g)})
			}
			at = q
		}
	})
	for i, a := range lines {
		for _, b := range lines[:i] {
			if math.Abs(a.angle-b.angle) > 1e-6 || min(a.to, b.to)-max(a.from, b.from) < 0.3 {
				continue
			}
			if g := math.Abs(a.offset - b.offset); g > 1e-6 {
				out = append(out, g)
			}
		}
	}
	return out
}

// Law: the rings of finish timber share a center and stand 0.7 mm apart or more.
func TestGrowthRings(t *testing.T) {
	for _, grain := range []float64{1, 0.62} {
		var radii []float64
		eachPath(Hatch("finish timber", RectRegion(0, 0, 20, 16), Hatching{Grain: grain}), Point{}, func(p *Path, _ Point) {
			for _, s := range p.Segs {
				if s.Op == ArcTo {
					radii = append(radii, s.R)
				}
			}
		})
		slices.Sort(radii)
		radii = slices.Compact(radii)
		if len(radii) < 10 {
			t.Fatalf("%d rings", len(radii))
		}
		for i := 1; i < len(radii); i++ {
			if radii[i]-radii[i-1] < 0.7-1e-9 {
				t.Errorf("rings %.3f mm apart", radii[i]-radii[i-1])
			}
		}
	}
}

func BenchmarkHatch(b *testing.B) {
	region := RectRegion(20, 30, 160, 55.4) // 8 in at 1:8, 140 mm wide
	for _, word := range Words() {
		b.Run(word, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				drawHatch(word, region, Hatching{Open: SideLeft | SideRight}, 5)
			}
		})
	}
}

// BenchmarkHatchPolygon hatches the L of a footing and wall, as junctions do.
func BenchmarkHatchPolygon(b *testing.B) {
	l := Region{Outer: []Point{{20, 10}, {40, 10}, {40, 60}, {56, 60}, {56, 85}, {6, 85}, {6, 60}, {20, 60}}}
	for _, word := range []string{"concrete", "washed stone", "earth", "rigid insulation"} {
		b.Run(word, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Hatch(word, l, Hatching{Seed: "part", Open: SideTop})
			}
		})
	}
}

// BenchmarkSharedHatch is a hatch that some drawing had before: the usual
// case.
func BenchmarkSharedHatch(b *testing.B) {
	region := RectRegion(20, 30, 160, 55.4)
	b.ReportAllocs()
	for b.Loop() {
		Hatch("washed stone", region, Hatching{Seed: "part", Open: SideLeft | SideRight})
	}
}

// What is kept is bounded, whatever is drawn, and what is drawn does not
// depend on what is kept.
func TestSharedHatchIsBounded(t *testing.T) {
	first := Hatch("gypsum", RectRegion(0, 0, 60, 20), Hatching{Seed: "a"})[0].(*Group).Nodes
	for i := range 300 {
		Hatch("gypsum", RectRegion(0, 0, 80, 20+float64(i)/10), Hatching{Seed: "a"})
		if shared.segs > sharedSegs {
			t.Fatalf("%d segments are kept", shared.segs)
		}
	}
	again := Hatch("gypsum", RectRegion(0, 0, 60, 20), Hatching{Seed: "a"})[0].(*Group).Nodes
	if &first[0] == &again[0] {
		t.Fatal("nothing was given up: the test is too small")
	}
	for i := range first {
		a, b := first[i].(*Path), again[i].(*Path)
		if !reflect.DeepEqual(a.Segs, b.Segs) {
			t.Error("drawn again, the hatch differs")
		}
		if a.Memo == b.Memo || a.Memo.Key() != b.Memo.Key() {
			t.Error("drawn again, a path is taken for another")
		}
	}
}

// Many drawings are made at once; run with the race detector, this finds
// what they share and change.
func TestSharedHatchAtOnce(t *testing.T) {
	var all sync.WaitGroup
	for k := range 6 {
		all.Go(func() {
			for i := range 40 {
				Hatch(Words()[(i+k)%len(hatches)], RectRegion(0, 0, 30, 4+float64(i%3)), Hatching{})
			}
		})
	}
	all.Wait()
}

// What a hatch costs is bounded, whatever the region.
func TestHatchOfVastRegion(t *testing.T) {
	for _, word := range Words() {
		segs := 0
		eachPath(drawHatch(word, RectRegion(0, 0, 6000, 4000), Hatching{}, 5), Point{}, func(p *Path, _ Point) { segs += len(p.Segs) })
		if segs > 1_500_000 {
			t.Errorf("%s takes %d segments", word, segs)
		}
	}
}

func TestBrokenHatchPanics(t *testing.T) {
	for name, draw := range map[string]func(){
		"no such word": func() { Hatch("cheese", RectRegion(0, 0, 9, 9), Hatching{}) },
		"no number":    func() { Hatch("brick", RectRegion(0, 0, math.NaN(), 9), Hatching{}) },
		"too far":      func() { Hatch("brick", RectRegion(0, 0, 9, 1e7), Hatching{}) },
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("no panic")
				}
			}()
			draw()
		})
	}
}
