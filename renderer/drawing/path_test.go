package drawing

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Law: an arc's circle passes through both ends, turns the way its flags say,
// and is the longer or the shorter of the two as they say.
func TestArcCenter(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		from, end := Point{rnd.Float64() * 10, rnd.Float64() * 10}, Point{rnd.Float64() * 10, rnd.Float64() * 10}
		s := Seg{Op: ArcTo, P: [3]Point{end}, R: rnd.Float64() * 12, Large: rnd.IntN(2) == 0, Sweep: rnd.IntN(2) == 0}
		c, r, start, turn := ArcCenter(from, &s)
		at := func(a float64) Point { return Point{c.X + r*math.Cos(a), c.Y + r*math.Sin(a)} }
		for _, pair := range [...][2]Point{{at(start), from}, {at(start + turn), end}} {
			if math.Hypot(pair[0].X-pair[1].X, pair[0].Y-pair[1].Y) > 1e-9 {
				t.Fatalf("%+v from %v: the circle misses %v", s, from, pair[1])
			}
		}
		if (turn > 0) != s.Sweep {
			t.Fatalf("%+v from %v turns by %.3f", s, from, turn)
		}
		if short := 2*s.R < math.Hypot(end.X-from.X, end.Y-from.Y); !short && (math.Abs(turn) > math.Pi) != s.Large {
			t.Fatalf("%+v from %v turns by %.3f", s, from, turn)
		}
	}
}

// Law: what is drawn lies in its bounds, and arcs and lines touch each side
// of them.
func TestBounds(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	pt := func() Point { return Point{rnd.Float64()*40 - 20, rnd.Float64()*40 - 20} }
	for range 500 {
		p := new(Path)
		a := pt()
		p.Move(a.X, a.Y)
		curved := false
		for range 1 + rnd.IntN(5) {
			switch rnd.IntN(4) {
			case 0:
				q := pt()
				p.Line(q.X, q.Y)
			case 1:
				p.Curve(pt(), pt(), pt())
				curved = true
			default:
				p.Arc(rnd.Float64()*20, rnd.IntN(2) == 0, rnd.IntN(2) == 0, pt())
			}
		}
		if rnd.IntN(3) == 0 {
			p.Again = []Point{pt(), pt()}
		}
		shift := pt()
		b := Bounds(&Group{Shift: shift, Nodes: []Node{p}})
		var seen Box
		eachDrawn([]Node{&Group{Shift: shift, Nodes: []Node{p}}}, func(x, y float64, _ *Path) { seen.Add(x, y) })
		const slack = 1e-9
		if seen.Min.X < b.Min.X-slack || seen.Min.Y < b.Min.Y-slack || seen.Max.X > b.Max.X+slack || seen.Max.Y > b.Max.Y+slack {
			t.Fatalf("%v is drawn, bounds are %v", seen, b)
		}
		// sixteenths of a turn of at most 20 mm radius rise under 0.8 mm
		if loose := max(seen.Min.X-b.Min.X, b.Max.X-seen.Max.X, seen.Min.Y-b.Min.Y, b.Max.Y-seen.Max.Y); !curved && loose > 0.8 {
			t.Fatalf("bounds %v are %.2f mm wider than what is drawn, %v", b, loose, seen)
		}
	}
}

func TestTextBounds(t *testing.T) {
	w := Measure(Lettering, 600, 4, "SLAB 1/2″")
	for _, c := range []struct {
		anchor                 Anchor
		turn                   float64
		left, top, right, down float64 // of the anchor, mm
	}{
		{Start, 0, 0, -ascent * 4, w, descent * 4},
		{Middle, 0, -w / 2, -ascent * 4, w / 2, descent * 4},
		{End, 0, -w, -ascent * 4, 0, descent * 4},
		{Start, 90, -ascent * 4, -w, descent * 4, 0}, // reads upwards
		{End, -90, -descent * 4, -w, ascent * 4, 0},  // reads downwards
	} {
		b := Bounds(&Text{At: Point{100, 50}, Size: 4, Weight: 600, Anchor: c.anchor, Turn: c.turn, Text: "SLAB 1/2″"})
		want := [4]float64{100 + c.left, 50 + c.top, 100 + c.right, 50 + c.down}
		for i, got := range [4]float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y} {
			if math.Abs(got-want[i]) > 1e-9 {
				t.Errorf("anchor %d turned %g: bounds %v, want %v", c.anchor, c.turn, b, want)
				break
			}
		}
	}
}

func TestClippedGroupBounds(t *testing.T) {
	line := new(Path).Move(0, 0).Line(100, 50)
	clip := new(Path).Rect(10, 20, 30, 90)
	b := Bounds(&Group{Clip: clip, Nodes: []Node{line}})
	if want := (Box{Point{10, 20}, Point{30, 50}, true}); b != want {
		t.Errorf("bounds %v, want %v", b, want)
	}
	if b := Bounds(&Group{Clip: clip, Nodes: []Node{new(Path).Move(40, 0).Line(50, 9)}}); !b.Empty() {
		t.Errorf("nothing shows, yet bounds are %v", b)
	}
}
