package drawing

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"sync"
	"testing"
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
