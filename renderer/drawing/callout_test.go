package drawing_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"wythe/renderer/drawing"
)

// randomCallouts scatters callouts over a field of 120 × 130 mm: freely, on a
// coarse grid (dots in line, dots on one another), or in one crowded corner.
func randomCallouts(r *rand.Rand, n int, sided bool) []drawing.Callout {
	words := []string{"XPS", "TYPE IV,", "CONCRETE", "SLAB,", "VAPOR RETARDER", "FILM,", "2 COURSES × 3″,", "WATER-RESISTIVE", "1/2″"}
	pick := func(most int) string {
		var s []string
		for range r.IntN(most + 1) {
			s = append(s, words[r.IntN(len(words))])
		}
		return strings.Join(s, " ")
	}
	manner := r.IntN(3)
	list := make([]drawing.Callout, n)
	for i := range list {
		x, y := r.Float64(), r.Float64()
		switch manner {
		case 1:
			x, y = float64(r.IntN(7))/6, float64(r.IntN(9))/8
		case 2:
			x, y = x*x*x, y*y*y
		}
		list[i] = drawing.Callout{
			Head: strings.TrimSpace("PART " + pick(4)), Note: pick(9), At: drawing.Point{X: 65 + 120*x, Y: 130 * y},
			Tag: drawing.Tag{Part: fmt.Sprint("part ", i)},
		}
		if r.IntN(3) == 0 {
			list[i].Slide = 6 * r.Float64()
		}
		if sided {
			list[i].Side = drawing.Side(r.IntN(3))
		}
	}
	return list
}

func TestPlaceCallouts(t *testing.T) {
	modes := map[drawing.CalloutMode]int{}
	for seed := range uint64(1500) {
		r := rand.New(rand.NewPCG(seed, 7))
		n := 1 + r.IntN(30)
		cols := drawing.Columns{Top: -10, Bottom: 140, Right: drawing.Column{Edge: 196, Outer: 258, Inmost: 188}}
		two := seed%3 > 0
		if two {
			cols.Left = drawing.Column{Edge: 54, Outer: 0, Inmost: 60}
			n *= 2
		}
		list := randomCallouts(r, n, two)
		placed, mode := drawing.PlaceCallouts(list, cols, seed%11 == 10)
		modes[mode]++
		name := fmt.Sprintf("seed %d, %d callouts, mode %d", seed, n, mode)
		checkPlaced(t, name, list, placed, mode, cols)
		if t.Failed() {
			return
		}
	}
	for mode, least := range map[drawing.CalloutMode]int{drawing.TextCallouts: 300, drawing.WidenedCallouts: 5, drawing.Keynotes: 300} {
		if modes[mode] < least {
			t.Errorf("mode %d was tried %d times only", mode, modes[mode])
		}
	}
}

func checkPlaced(t *testing.T, name string, list []drawing.Callout, placed []drawing.PlacedCallout, mode drawing.CalloutMode, cols drawing.Columns) {
	t.Helper()
	if len(placed) != len(list) {
		t.Fatalf("%s: %d placed", name, len(placed))
	}
	heads := map[string]drawing.Callout{}
	for _, c := range list {
		heads[c.Tag.Part] = c
	}
	least := 2.4
	if mode == drawing.Keynotes {
		least = 0.3
	}
	leader := func(p *drawing.PlacedCallout) [3]drawing.Point {
		edge := p.Box.Min.X
		if p.Side == drawing.LeftSide {
			edge = p.Box.Max.X
		}
		return [3]drawing.Point{{X: edge, Y: p.Bubble.Y}, p.Elbow, p.At}
	}
	for i := range placed {
		p := &placed[i]
		if p.Key != i+1 {
			t.Errorf("%s: callout %d has number %d", name, i+1, p.Key)
		}
		if i > 0 && placed[i-1].Side == p.Side && placed[i-1].Box.Max.Y > p.Box.Min.Y || i > 0 && placed[i-1].Side == drawing.RightSide && p.Side == drawing.LeftSide {
			t.Errorf("%s: numbers do not run down the left, then down the right", name)
		}
		was, ok := heads[p.Tag.Part]
		if !ok {
			t.Errorf("%s: %q is placed twice or is new", name, p.Tag.Part)
		}
		delete(heads, p.Tag.Part)
		if was.At.Y != p.At.Y || math.Abs(was.At.X-p.At.X) > was.Slide+1e-9 {
			t.Errorf("%s: a dot moved from %v to %v", name, was.At, p.At)
		}
		if mode != drawing.Keynotes {
			if got := strings.Join(p.Heads, " ") + "|" + strings.Join(p.Notes, " "); got != was.Head+"|"+was.Note {
				t.Errorf("%s: words became %q", name, got)
			}
			if p.Box.Min.Y < cols.Top-1e-9 || p.Box.Max.Y > cols.Bottom+1e-9 {
				t.Errorf("%s: box %v is out of its column's height", name, p.Box)
			}
		}
		if p.Box.Min.X < -1e-9 || p.Box.Max.X > cols.Right.Outer+1e-9 {
			t.Errorf("%s: box %v is off the paper", name, p.Box)
		}
		a := leader(p)
		for j := range placed {
			q := &placed[j]
			if j == i {
				continue
			}
			b := leader(q)
			wider := q.Box
			wider.Min.Y -= least - 1e-9
			wider.Max.Y += least - 1e-9
			if p.Box.Overlaps(wider) {
				t.Errorf("%s: boxes of %d and %d are not %.1f mm apart", name, p.Key, q.Key, least)
			}
			for k := range 2 {
				if entersBox(a[k], a[k+1], q.Box) {
					t.Errorf("%s: the leader of %d runs through box %d", name, p.Key, q.Key)
				}
				for m := range 2 {
					if j > i && crosses(a[k], a[k+1], b[m], b[m+1]) {
						t.Errorf("%s: leaders of %d and %d cross", name, p.Key, q.Key)
					}
				}
			}
		}
	}
}

// TestPlaceCalloutsSameOrder: what is placed does not hang on the order in
// which callouts are given, ties aside.
func TestPlaceCalloutsSameOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	cols := drawing.Columns{Top: 0, Bottom: 150, Right: drawing.Column{Edge: 196, Outer: 258}, Left: drawing.Column{Edge: 54}}
	for range 200 {
		var list []drawing.Callout
		for len(list) < 9 {
			list = append(list, drawing.Callout{Head: fmt.Sprint("PART ", len(list)), At: drawing.Point{X: 65 + 120*r.Float64(), Y: 130 * r.Float64()}})
		}
		first, _ := drawing.PlaceCallouts(list, cols, false)
		r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		again, _ := drawing.PlaceCallouts(list, cols, false)
		for i := range first {
			if first[i].Head != again[i].Head || first[i].Box != again[i].Box {
				t.Fatalf("callout %d is %q at %v, then %q at %v", i+1, first[i].Head, first[i].Box, again[i].Head, again[i].Box)
			}
		}
	}
}

func TestPlaceCalloutsRefuses(t *testing.T) {
	right := drawing.Columns{Bottom: 100, Right: drawing.Column{Edge: 100, Outer: 150}}
	for name, c := range map[string]drawing.Callout{
		"no column":      {Side: drawing.LeftSide, At: drawing.Point{X: 50, Y: 50}},
		"past the edge":  {At: drawing.Point{X: 120, Y: 50}},
		"in the leaders": {At: drawing.Point{X: 97, Y: 50}},
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("placed")
				}
			}()
			drawing.PlaceCallouts([]drawing.Callout{c}, right, false)
		})
	}
}
