package revision

import (
	"math"
	"sort"

	"wythe/renderer/detail"
	"wythe/renderer/geometry"
	"wythe/renderer/section"
)

// Linework is what two drawings of one detail have in common, and what only
// one of them has: straight lines in micrometres, x to the right and y up.
type Linework struct {
	Same, Added, Removed []geometry.Segment
	// Heavy are films, sealed in one weight; they are compared by themselves.
	SameFilms, AddedFilms, RemovedFilms []geometry.Segment
}

// Changed reports whether the two differ.
func (l *Linework) Changed() bool {
	return len(l.Added)+len(l.Removed)+len(l.AddedFilms)+len(l.RemovedFilms) > 0
}

// lines are the lines of one drawing.
type lines struct{ outlines, films []geometry.Segment }

// compareLines parts two drawings' lines. Each stretch of a line is the same,
// added or removed: what two lines share is the same.
func compareLines(before, after lines) *Linework {
	l := &Linework{}
	l.Same, l.Removed, l.Added = partLines(before.outlines, after.outlines)
	l.SameFilms, l.RemovedFilms, l.AddedFilms = partLines(before.films, after.films)
	return l
}

// sectionLines are those of a section.
func sectionLines(s *section.Section) lines {
	var out lines
	add := func(to *[]geometry.Segment, line []geometry.Point) {
		for i := 1; i < len(line); i++ {
			*to = append(*to, geometry.Segment{A: line[i-1], B: line[i]})
		}
	}
	for i := range s.Outlines {
		add(&out.outlines, s.Outlines[i].Line)
	}
	for i := range s.Beyond {
		ring := s.Beyond[i].Ring
		add(&out.outlines, append(append([]geometry.Point(nil), ring...), ring[0]))
	}
	for _, r := range s.Runs {
		add(&out.films, r.Line)
	}
	for i := range s.Seals {
		if x := &s.Seals[i]; x.Placed {
			const arm = 6000 // a cross of 12 mm stands for a seal
			p := x.Place
			add(&out.films, []geometry.Point{{X: p.X - arm, Y: p.Y - arm}, {X: p.X + arm, Y: p.Y + arm}})
			add(&out.films, []geometry.Point{{X: p.X - arm, Y: p.Y + arm}, {X: p.X + arm, Y: p.Y - arm}})
		}
	}
	return out
}

// stackHeight is how much of a stack a comparison shows.
const stackHeight = 250_000 // µm

// stackLines are the faces of a stack's layers, inside at the left.
func stackLines(a *detail.Assembly) lines {
	var out lines
	x := int64(0)
	face := func(to *[]geometry.Segment) {
		*to = append(*to, geometry.Segment{A: geometry.Point{X: x}, B: geometry.Point{X: x, Y: stackHeight}})
	}
	face(&out.outlines)
	for _, l := range a.Layers {
		if l.Film() {
			face(&out.films)
			continue
		}
		for range l.Courses {
			from := x
			x += int64(float64(l.Thickness)*1e6 + 0.5)
			face(&out.outlines)
			for _, y := range []int64{0, stackHeight} {
				out.outlines = append(out.outlines, geometry.Segment{A: geometry.Point{X: from, Y: y}, B: geometry.Point{X: x, Y: y}})
			}
		}
	}
	return out
}

// layerPlace is the middle of a layer in those lines.
func layerPlace(a *detail.Assembly, layer *detail.Layer) *geometry.Point {
	x := 0.0
	for _, l := range a.Layers {
		if l == layer {
			return &geometry.Point{X: int64((x + float64(l.Total())/2) * 1e6), Y: stackHeight / 2}
		}
		if !l.Film() {
			x += float64(l.Total())
		}
	}
	return nil
}

// carrier is an endless line: its direction in lowest terms, and its distance
// from the origin in those terms.
type carrier struct{ dx, dy, c int64 }

type span struct{ from, to int64 }

// partLines parts the stretches of two sets of lines.
func partLines(before, after []geometry.Segment) (same, removed, added []geometry.Segment) {
	b, order := onCarriers(before, nil)
	a, order := onCarriers(after, order)
	for _, c := range order {
		old, fresh := merged(b[c]), merged(a[c])
		for _, s := range both(old, fresh) {
			same = append(same, c.segment(s))
		}
		for _, s := range without(old, fresh) {
			removed = append(removed, c.segment(s))
		}
		for _, s := range without(fresh, old) {
			added = append(added, c.segment(s))
		}
	}
	return same, removed, added
}

func onCarriers(list []geometry.Segment, order []carrier) (map[carrier][]span, []carrier) {
	out := map[carrier][]span{}
	known := map[carrier]bool{}
	for _, c := range order {
		known[c] = true
	}
	for _, s := range list {
		dx, dy := s.B.X-s.A.X, s.B.Y-s.A.Y
		if dx == 0 && dy == 0 {
			continue
		}
		g := gcd(dx, dy)
		dx, dy = dx/g, dy/g
		if dx < 0 || dx == 0 && dy < 0 {
			dx, dy = -dx, -dy
		}
		c := carrier{dx, dy, dx*s.A.Y - dy*s.A.X}
		from, to := c.along(s.A), c.along(s.B)
		if from > to {
			from, to = to, from
		}
		if !known[c] {
			known[c] = true
			order = append(order, c)
		}
		out[c] = append(out[c], span{from, to})
	}
	return out, order
}

// along places a point of the line by the axis that the line runs along.
func (c carrier) along(p geometry.Point) int64 {
	if c.dx != 0 {
		return p.X
	}
	return p.Y
}

func (c carrier) segment(s span) geometry.Segment {
	return geometry.Segment{A: c.at(s.from), B: c.at(s.to)}
}

// at is the point of the line at a place along it. Ends that were given come
// back exactly: the line holds them.
func (c carrier) at(v int64) geometry.Point {
	if c.dx == 0 {
		return geometry.Point{X: -c.c / c.dy, Y: v}
	}
	return geometry.Point{X: v, Y: (c.c + c.dy*v) / c.dx}
}

func gcd(a, b int64) int64 {
	if a < 0 {
		a = -a
	}
	if b < 0 {
		b = -b
	}
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func merged(list []span) []span {
	sort.Slice(list, func(i, j int) bool { return list[i].from < list[j].from })
	var out []span
	for _, s := range list {
		if n := len(out); n > 0 && s.from <= out[n-1].to {
			out[n-1].to = max(out[n-1].to, s.to)
			continue
		}
		out = append(out, s)
	}
	return out
}

func both(a, b []span) []span {
	var out []span
	for i, j := 0, 0; i < len(a) && j < len(b); {
		from, to := max(a[i].from, b[j].from), min(a[i].to, b[j].to)
		if from < to {
			out = append(out, span{from, to})
		}
		if a[i].to < b[j].to {
			i++
		} else {
			j++
		}
	}
	return out
}

func without(a, b []span) []span {
	var out []span
	for _, s := range a {
		at := s.from
		for _, cut := range b {
			if cut.to <= at || cut.from >= s.to {
				continue
			}
			if cut.from > at {
				out = append(out, span{at, cut.from})
			}
			at = max(at, cut.to)
		}
		if at < s.to {
			out = append(out, span{at, s.to})
		}
	}
	return out
}

// Meters is the length of lines, in metres.
func Meters(lists ...[]geometry.Segment) float64 {
	sum := 0.0
	for _, list := range lists {
		for _, s := range list {
			sum += math.Hypot(float64(s.B.X-s.A.X), float64(s.B.Y-s.A.Y)) * 1e-6
		}
	}
	return sum
}
