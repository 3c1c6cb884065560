package revision

import (
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wythe/renderer/geometry"
)

func seg(ax, ay, bx, by int64) geometry.Segment {
	return geometry.Segment{A: geometry.Point{X: ax, Y: ay}, B: geometry.Point{X: bx, Y: by}}
}

func TestPartLines(t *testing.T) {
	before := []geometry.Segment{seg(0, 0, 10, 0), seg(0, 0, 0, 5), seg(0, 0, 6, 3), seg(20, 1, 20, 1)}
	after := []geometry.Segment{seg(14, 0, 4, 0), seg(0, 0, 0, 5), seg(4, 2, 8, 4)}
	same, removed, added := partLines(before, after)
	for _, c := range []struct{ got, want []geometry.Segment }{
		{same, []geometry.Segment{seg(4, 0, 10, 0), seg(0, 0, 0, 5), seg(4, 2, 6, 3)}},
		{removed, []geometry.Segment{seg(0, 0, 4, 0), seg(0, 0, 4, 2)}},
		{added, []geometry.Segment{seg(10, 0, 14, 0), seg(6, 3, 8, 4)}},
	} {
		if diff := cmp.Diff(c.want, c.got); diff != "" {
			t.Error(diff)
		}
	}
}

// Each place of a line is in exactly one of the three, as a plain look at
// every unit of it says.
func TestPartLinesAgainstUnits(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		var lists [2][]geometry.Segment
		var has [2][40][4]bool
		for k := range lists {
			for range rng.IntN(6) {
				row, a, b := rng.IntN(4), rng.IntN(40), rng.IntN(40)
				lists[k] = append(lists[k], seg(int64(a), int64(row), int64(b), int64(row)))
				for x := min(a, b); x < max(a, b); x++ {
					has[k][x][row] = true
				}
			}
		}
		var got [3][40][4]int
		same, removed, added := partLines(lists[0], lists[1])
		for i, list := range [][]geometry.Segment{same, removed, added} {
			for _, s := range list {
				for x := s.A.X; x < s.B.X; x++ {
					got[i][x][s.A.Y]++
				}
			}
		}
		for x := range 40 {
			for row := range 4 {
				was, is := has[0][x][row], has[1][x][row]
				want := [3]int{}
				switch {
				case was && is:
					want[0] = 1
				case was:
					want[1] = 1
				case is:
					want[2] = 1
				}
				if g := [3]int{got[0][x][row], got[1][x][row], got[2][x][row]}; g != want {
					t.Fatalf("%v: at %d, %d: %v; want %v", lists, x, row, g, want)
				}
			}
		}
	}
}

func TestLists(t *testing.T) {
	d := &differ{}
	d.lists("note", "step", []string{"a", "b", "c", "d"}, []string{"a", "x", "c", "e", "d"})
	want := []Change{{"note", "step", "", "b", "x", nil}, {"note", "step", "", "", "e", nil}}
	if diff := cmp.Diff(want, d.list); diff != "" {
		t.Error(diff)
	}
}
