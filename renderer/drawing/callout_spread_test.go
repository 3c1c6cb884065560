package drawing

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// TestSpread holds the fast method to a slow plain one: coordinate descent on
// the same least squares.
func TestSpread(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 1))
		n := 1 + r.IntN(12)
		slots := make([]slot, n)
		need, y := -2.4, 0.0
		for i := range slots {
			y += r.Float64() * r.Float64() * 20
			slots[i] = slot{target: y - 10, height: 3 + 10*r.Float64()}
			need += slots[i].height + 2.4
		}
		top, bottom := -5.0, -5+need+r.Float64()*30
		plain := descend(slots, top, bottom, 2.4)
		spread(slots, top, bottom, 2.4)
		for i := range slots {
			if math.Abs(slots[i].y-plain[i]) > 1e-3 {
				t.Fatalf("seed %d: slot %d of %d at %.4f; plainly %.4f", seed, i, n, slots[i].y, plain[i])
			}
			if i > 0 && slots[i].y < slots[i-1].y+slots[i-1].height+2.4-1e-9 {
				t.Fatalf("seed %d: slots %d and %d meet", seed, i-1, i)
			}
		}
		if slots[0].y < top-1e-9 || slots[n-1].y+slots[n-1].height > bottom+1e-9 {
			t.Fatalf("seed %d: out of bounds", seed)
		}
	}
}

// descend is the judge of spread: projection on to each constraint by turns
// with corrections (Dykstra), which converges to the nearest point.
func descend(slots []slot, top, bottom, gap float64) []float64 {
	n := len(slots)
	x := make([]float64, n)
	for i, s := range slots {
		x[i] = s.target
	}
	type pair struct{ a, b float64 }
	rest := make([]pair, n+1)
	for range 20000 {
		moved := 0.0
		for c := range n + 1 {
			switch c {
			case 0:
				v := x[0] + rest[c].a
				w := max(v, top)
				rest[c].a, moved = v-w, moved+math.Abs(x[0]-w)
				x[0] = w
			case n:
				v := x[n-1] + rest[c].a
				w := min(v, bottom-slots[n-1].height)
				rest[c].a, moved = v-w, moved+math.Abs(x[n-1]-w)
				x[n-1] = w
			default:
				a, b := x[c-1]+rest[c].a, x[c]+rest[c].b
				lack := max(0, a+slots[c-1].height+gap-b)
				p, q := a-lack/2, b+lack/2
				rest[c] = pair{a - p, b - q}
				moved += math.Abs(x[c-1]-p) + math.Abs(x[c]-q)
				x[c-1], x[c] = p, q
			}
		}
		if moved < 1e-10 {
			break
		}
	}
	return x
}

// TestSettleNeverCrosses throws dots together so that leaders must be put in
// another order, and some swap boxes of unequal height round and round.
func TestSettleNeverCrosses(t *testing.T) {
	for seed := range uint64(3000) {
		r := rand.New(rand.NewPCG(seed, 2))
		n := 2 + r.IntN(14)
		slots := make([]slot, n)
		total := 0.0
		for i := range slots {
			p := Point{-20 * r.Float64() * r.Float64(), 60 * r.Float64()}
			slots[i] = slot{at: i, target: p.Y, dot: p, height: 5 + float64(r.IntN(4))*4}
			total += slots[i].height + 3
		}
		first := append([]slot(nil), slots...)
		slices.SortFunc(first, func(a, b slot) int { return compare(a.target, b.target) })
		spread(first, 0, max(total, 60), 3)
		far := 0.0 // of the boxes nearest to their dots, whatever crosses
		for _, s := range first {
			far += abs(s.y - s.target)
		}
		settle(slots, 10, 0, max(total, 60), 3)
		moved := -far
		for _, s := range slots {
			moved += abs(s.y - s.target)
		}
		if moved/float64(n) > 12 {
			t.Fatalf("seed %d: boxes of %d stand %.1f mm further from their dots than they need", seed, n, moved/float64(n))
		}
		if anyCross(slots, 10) {
			t.Fatalf("seed %d: leaders cross", seed)
		}
		for i := 1; i < n; i++ {
			if slots[i].y < slots[i-1].y+slots[i-1].height+3-1e-9 {
				t.Fatalf("seed %d: boxes meet", seed)
			}
		}
	}
}

func TestWrap(t *testing.T) {
	for _, s := range []string{
		"Air and vapor control. Lap 6″ and tape every joint, 3 1/2″ at corners",
		"Unterspannbahnverbindungsklebebandrollenhalterung",
		"a b c d e f g h i j k l m n o p q r s t u v w x y z",
		"2 COURSES × 3″", "  spaces   between ",
	} {
		for _, room := range []float64{4, 12, 25, 60} {
			lines := styleNote.wrap(s, room)
			for _, l := range lines {
				if l == "" || strings.TrimSpace(l) != l {
					t.Errorf("%q at %v mm has line %q", s, room, l)
				}
				// A piece that must not be broken may be wider than the room
				// only if it is broken where the line is full.
				if w := styleNote.Width(l); w > room+1e-9 && len([]rune(l)) > 1 {
					t.Errorf("%q at %v mm: line %q is %.2f mm wide", s, room, l, w)
				}
			}
			squeeze := func(s string) string { return strings.ReplaceAll(s, " ", "") }
			if squeeze(strings.Join(lines, "")) != squeeze(s) {
				t.Errorf("%q at %v mm lost signs: %q", s, room, lines)
			}
		}
	}
	lines := styleNote.wrap("Fix at 3 1/2″ all round", styleNote.Width("Fix at 3 "))
	if lines[0] != "Fix at" || lines[1] != "3 1/2″ all" && lines[1] != "3 1/2″" {
		t.Errorf("a fraction was parted from its number: %q", lines)
	}
	// A size stays whole where a line holds it, and is parted at its sign where not.
	size := "7 1/4″ × 1 1/2″"
	lines = styleHead.wrap("PLATE, "+size, styleHead.Width("PLATE, 7 1/4″ ×"))
	if len(lines) != 2 || lines[1] != size {
		t.Errorf("a size was parted: %q", lines)
	}
	lines = styleHead.wrap(size, styleHead.Width("7 1/4″ ×"))
	if len(lines) != 2 || lines[0] != "7 1/4″ ×" {
		t.Errorf("a size too wide for its line was parted: %q", lines)
	}
}

func TestCrossed(t *testing.T) {
	var b Box
	b.Add(10, 10)
	b.Add(20, 15)
	leader := func(x0, y0, x1, y1 float64) PlacedCallout {
		p := PlacedCallout{Bubble: Point{x1 + 10, y1}, Elbow: Point{x1, y1}}
		p.At = Point{x0, y0}
		return p
	}
	for _, c := range []struct {
		p    PlacedCallout
		want int
	}{
		{leader(0, 0, 30, 25), 1},   // through
		{leader(12, 12, 14, 14), 1}, // from within
		{leader(0, 12, 5, 12), 1},   // its shoulder
		{leader(0, 0, 30, 5), 0},    // over
		{leader(15, 0, 15, 8), 0},   // above, upright
		{leader(0, 20, 30, 20), 0},  // under
		{leader(0, 26, 30, -4), 1},  // over a corner and through
		{leader(0, 40, 30, 14), 0},  // past a corner
	} {
		if got := Crossed([]PlacedCallout{c.p}, b); got != c.want {
			t.Errorf("leader %v %v: %d, want %d", c.p.At, c.p.Elbow, got, c.want)
		}
	}
}
