package continuity

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"wythe/renderer/detail"
	"wythe/renderer/geometry"
	"wythe/renderer/material"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

// The judge floods a lattice of whole inches: cells, the edges between them
// and their corners. It knows nothing of arrangements, lanes or chains.
//
//   - A cell is open unless its topmost part carries the control.
//   - An edge is open unless one part carries it on both sides, or a film
//     that carries it lies there.
//   - A corner is open to any opening around it that no one carrier parts from
//     another: carriers side by side with one part between them hang together.
type judge struct {
	n     int
	part  [][]int  // by cell; -1 open
	level [][]bool // film on the edge below cell (x, y), from (x, y) to (x+1, y)
	plumb [][]bool // film on the edge left of cell (x, y)
}

const inch = 25400

// pile is n random boxes and straight films on whole inches, half of them
// carrying air, each overlaying those before.
func pile(r *rand.Rand, size, n int) (*detail.Junction, *judge) {
	abs := func(k int) detail.Edge {
		return detail.Edge{Kind: detail.EdgeAbsolute, Length: units.Length(k) * 0.0254}
	}
	j := &detail.Junction{View: detail.Box{Left: abs(0), Right: abs(size), Bottom: abs(0), Top: abs(size)}}
	g := &judge{n: size}
	for range size + 1 {
		col := make([]int, size)
		for y := range col {
			col[y] = -1
		}
		g.part = append(g.part, col)
		g.level = append(g.level, make([]bool, size+1))
		g.plumb = append(g.plumb, make([]bool, size+1))
	}
	stuff := &material.Material{Name: "board", Hatch: material.Plywood}
	for i := range n {
		p := &detail.Part{Name: fmt.Sprint("p", i), Material: stuff}
		if r.IntN(2) == 0 {
			p.Control = []detail.Control{detail.AirTight}
		}
		x, y := r.IntN(size-1), r.IntN(size-1)
		if r.IntN(4) == 0 {
			p.Kind, p.Control = detail.Film, []detail.Control{detail.AirTight}
			w := 1 + r.IntN(size-x)
			if r.IntN(2) == 0 {
				y++ // not along the view's edge
				p.Points = []detail.Point{{X: abs(x), Y: abs(y)}, {X: abs(x + w), Y: abs(y)}}
				for k := x; k < x+w; k++ {
					g.level[k][y] = true
				}
			} else {
				x, y = y+1, x
				p.Points = []detail.Point{{X: abs(x), Y: abs(y)}, {X: abs(x), Y: abs(y + w)}}
				for k := y; k < y+w; k++ {
					g.plumb[x][k] = true
				}
			}
		} else {
			w, h := 1+r.IntN(size-x), 1+r.IntN(size-y)
			switch r.IntN(4) {
			case 0:
				w = 1 + r.IntN(2)
			case 1:
				h = 1 + r.IntN(2)
			case 2:
				w, y, h = 1+r.IntN(2), 0, size
			default:
				h, x, w = 1+r.IntN(2), 0, size
			}
			w, h = min(w, size-x), min(h, size-y)
			p.Left, p.Right, p.Bottom, p.Top = abs(x), abs(x+w), abs(y), abs(y+h)
			owner := -1
			if p.Control != nil {
				owner = i
			}
			for k := x; k < x+w; k++ {
				for m := y; m < y+h; m++ {
					g.part[k][m] = owner
					if m > y {
						g.level[k][m] = false
					}
					if k > x {
						g.plumb[k][m] = false
					}
				}
			}
		}
		j.Parts = append(j.Parts, p)
	}
	return j, g
}

const walled = -2

func (g *judge) cell(x, y int) int {
	if x < 0 || y < 0 || x >= g.n || y >= g.n {
		return walled
	}
	return g.part[x][y]
}

// spot is a place of the doubled lattice: odd, odd a cell; odd, even or even,
// odd an edge.
type spot struct{ x, y int }

// film and sides of an edge spot.
func (g *judge) edge(s spot) (film bool, a, b int) {
	if s.x%2 == 0 {
		film = s.y/2 < g.n && s.x/2 <= g.n && g.plumb[s.x/2][s.y/2]
		return film, g.cell(s.x/2-1, s.y/2), g.cell(s.x/2, s.y/2)
	}
	film = s.x/2 < g.n && s.y/2 <= g.n && g.level[s.x/2][s.y/2]
	return film, g.cell(s.x/2, s.y/2-1), g.cell(s.x/2, s.y/2)
}

// reaches floods from one cell; slits says whether touching carriers leave an
// opening. Films are looked at without slits beside them where slits is off;
// with slits, only sections without films are judged.
func (g *judge) reaches(from, to spot, slits bool) bool {
	seen := map[spot]bool{from: true}
	queue := []spot{from}
	push := func(s spot) {
		if !seen[s] {
			seen[s] = true
			queue = append(queue, s)
		}
	}
	for len(queue) > 0 {
		s := queue[0]
		queue = queue[1:]
		if s == to {
			return true
		}
		if s.x%2 == 1 && s.y%2 == 1 { // a cell: to its four edges
			for _, d := range [...]spot{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				e := spot{s.x + d.x, s.y + d.y}
				if film, a, b := g.edge(e); !film && a != walled && b != walled {
					push(e)
				}
			}
			if slits {
				for _, d := range [...]spot{{1, 1}, {-1, 1}, {1, -1}, {-1, -1}} {
					g.corner(spot{s.x + d.x, s.y + d.y}, s, push)
				}
			}
			continue
		}
		_, a, b := g.edge(s)
		// An edge: to its open cells, and along the slit.
		for k, d := range [...]spot{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
			if (s.x%2 == 0) != (k < 2) {
				continue
			}
			c := spot{s.x + d.x, s.y + d.y}
			if g.cell(c.x/2, c.y/2) == -1 {
				push(c)
			}
		}
		if slits && a >= 0 && b >= 0 && a != b {
			for _, d := range [...]spot{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				if v := (spot{s.x + d.x, s.y + d.y}); v.x%2 == 0 && v.y%2 == 0 {
					g.corner(v, s, push)
				}
			}
		}
	}
	return false
}

// corner pushes what is open around a corner and not parted there from s.
func (g *judge) corner(v, s spot, push func(spot)) {
	// Around: cell NE, edge N, cell NW, edge W, cell SW, edge S, cell SE, edge E.
	around := [...]spot{{1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}, {1, 0}}
	atEdge := v.x == 0 || v.y == 0 || v.x == 2*g.n || v.y == 2*g.n
	var owner [8]int // of cells; edges: -1 open slit, -3 nothing
	for i, d := range around {
		p := spot{v.x + d.x, v.y + d.y}
		if i%2 == 0 {
			owner[i] = g.cell(floorHalf(p.x), floorHalf(p.y))
			if atEdge && owner[i] >= 0 {
				owner[i] = walled // runs on beyond the cut
			}
			continue
		}
		owner[i] = -3
	}
	open := func(i int) bool {
		p := spot{v.x + around[i].x, v.y + around[i].y}
		if i%2 == 0 {
			return owner[i] == -1
		}
		a, b := g.cell2(p, true), g.cell2(p, false)
		return a >= 0 && b >= 0 && a != b
	}
	at := -1
	for i, d := range around {
		if s == (spot{v.x + d.x, v.y + d.y}) {
			at = i
		}
	}
	for j := range around {
		if j == at || !open(j) || !open(at) {
			continue
		}
		parted := false
		for i := (at + 1) % 8; i != j; i = (i + 1) % 8 {
			for k := (j + 1) % 8; k != at; k = (k + 1) % 8 {
				if i%2 == 0 && k%2 == 0 && owner[i] == owner[k] && owner[i] != -1 {
					parted = true
				}
			}
		}
		if !parted {
			push(spot{v.x + around[j].x, v.y + around[j].y})
		}
	}
}

func floorHalf(x int) int {
	if x < 0 {
		return -1
	}
	return x / 2
}

func (g *judge) cell2(e spot, first bool) int {
	_, a, b := g.edge(spot{max(e.x, 0), max(e.y, 0)})
	if e.x < 0 || e.y < 0 {
		return walled
	}
	if first {
		return a
	}
	return b
}

// The verdict of the arrangement is the judge's, and when all gaps reported
// are shut nothing is left open.
func TestAgainstJudge(t *testing.T) {
	count := map[Verdict]int{}
	for seed := uint64(1); seed <= 800; seed++ {
		r := rand.New(rand.NewPCG(seed, 3))
		size := 8 + int(seed%8)
		j, g := pile(r, size, 2+int(seed%14))
		var open []spot
		for x := range size {
			for y := range size {
				if g.part[x][y] < 0 {
					open = append(open, spot{2*x + 1, 2*y + 1})
				}
			}
		}
		if len(open) < 2 {
			continue
		}
		in, out := open[r.IntN(len(open))], open[r.IntN(len(open))]
		if in == out {
			continue
		}
		s, list := section.Resolve(j, nil, section.Options{})
		if list.Errors() > 0 {
			t.Fatalf("seed %d: %v", seed, list.Items)
		}
		// The places may lie in parts that do not carry it: put them in past the
		// check that they stand in air.
		for _, sp := range []struct {
			name string
			p    spot
		}{{"inside", in}, {"outside", out}} {
			pt := s.View.Min
			pt.X += int64(sp.p.x) * inch / 2
			pt.Y += int64(sp.p.y) * inch / 2
			s.Spaces = append(s.Spaces, section.Space{Name: sp.name, Inside: sp.name == "inside", Points: append(s.View.Ring()[:0:0], pt)})
		}
		films := false
		for _, p := range j.Parts {
			films = films || p.Kind == detail.Film
		}
		want := Continuous
		if !films && g.reaches(in, out, true) {
			want = Unsealed
		}
		if g.reaches(in, out, false) {
			want = Broken
		}
		reports, _ := Check(s, Options{})
		if len(reports) == 0 {
			continue
		}
		got := reports[0]
		if got.Verdict != want && !(films && want == Continuous && got.Verdict == Unsealed) {
			t.Fatalf("seed %d: %s, the judge says %s\n%s", seed, got.Verdict, want, draw(g, in, out))
		}
		count[got.Verdict]++
		if got.Verdict == Broken || got.Verdict == Unsealed {
			closes(t, seed, s)
		}
		if t.Failed() {
			t.Fatalf("at seed %d\n%s", seed, draw(g, in, out))
		}
	}
	for _, v := range []Verdict{Broken, Unsealed, Continuous} {
		if count[v] < 50 {
			t.Errorf("only %d sections were %s", count[v], v)
		}
	}
}

// closes checks that with the gaps reported shut no way is left.
func closes(t *testing.T, seed uint64, s *section.Section) {
	r := Report{Verdict: Continuous}
	tr := &tracer{s: s, report: &r}
	tr.m = newModel(s, detail.AirTight)
	tr.m.settle(Options{})
	if len(tr.m.pieces().item) == 1 {
		return // nothing that carries it shows: no gap can be named
	}
	rounds := 0
	for tr.round() {
		if rounds++; rounds > mostRounds {
			break
		}
	}
	if r.Reason != "" && len(r.Gaps) == 0 {
		return // a sheet far off, and two places an inch apart: said, not named
	}
	if nodes, _, _, _ := tr.m.reach(true).route(); nodes != nil {
		t.Errorf("seed %d: after %d rounds a way is left; gaps %v", seed, rounds, r.Gaps)
	}
}

func draw(g *judge, in, out spot) string {
	s := ""
	for y := g.n - 1; y >= 0; y-- {
		for x := range g.n {
			c := "."
			if p := g.part[x][y]; p >= 0 {
				c = string(rune('a' + p))
			}
			if in == (spot{2*x + 1, 2*y + 1}) {
				c = "I"
			}
			if out == (spot{2*x + 1, 2*y + 1}) {
				c = "O"
			}
			l := " "
			if g.plumb[x][y] {
				l = "|"
			}
			if g.level[x][y] {
				c += "_"
			} else {
				c += " "
			}
			s += l + c
		}
		s += "\n"
	}
	return s
}

// properly reports whether two segments cross between their ends, by more
// than the micrometre that a drawn path is rounded to.
func properly(a, b, c, d geometry.Vec) bool {
	turn := func(p, q, r geometry.Vec) float64 {
		return ((q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X)) / math.Hypot(q.X-p.X, q.Y-p.Y)
	}
	const slack = 2
	s, u := turn(a, b, c), turn(a, b, d)
	v, w := turn(c, d, a), turn(c, d, b)
	return math.Min(math.Abs(s), math.Abs(u)) > slack && math.Min(math.Abs(v), math.Abs(w)) > slack && s*u < 0 && v*w < 0
}
