package continuity

import (
	"slices"

	"wythe/renderer/detail"
	"wythe/renderer/geometry"
)

// trace follows the control from cut to cut: the boundary between what the
// inside reaches and what the outside lies in, all gaps found being shut.
func (t *tracer) trace() {
	m := t.m
	g := t.last
	if g == nil || g.m != m { // the search was given up
		g = m.reach(m.control != detail.Thermal)
	}
	inside := map[int32]bool{}
	for _, s := range m.inside {
		inside[g.find(s.face)] = true
	}
	in := make([]bool, m.a.Faces())
	for f := range in {
		in[f] = m.item[f] == open && inside[g.find(int32(f))]
	}
	beyond := make([]bool, m.a.Faces())
	var stack []int32
	push := func(f int32) {
		if !beyond[f] && !in[f] && m.item[f] != wall {
			beyond[f] = true
			stack = append(stack, f)
		}
	}
	for _, s := range m.outside {
		push(s.face)
	}
	for len(stack) > 0 {
		f := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, h := range m.a.Halves(f) {
			push(m.a.FaceOf(h.Twin()))
		}
	}
	edge := func(h geometry.Half) bool { return in[m.a.FaceOf(h)] && !in[m.a.FaceOf(h.Twin())] }
	shown := func(h geometry.Half) bool { return beyond[m.a.FaceOf(h.Twin())] }
	seen := make([]bool, 2*len(m.a.Edges))
	var loop []geometry.Half
	var chains [][]Line
	for i := range seen {
		first := geometry.Half(i)
		if seen[i] || !edge(first) {
			continue
		}
		loop = loop[:0]
		for h := first; ; {
			seen[h] = true
			loop = append(loop, h)
			h = m.a.Next(h)
			for !edge(h) {
				h = m.a.Next(h.Twin())
			}
			if h == first {
				break
			}
		}
		// Begin where the control comes in from the cut.
		start := 0
		for k := range loop {
			if shown(loop[k]) && !shown(loop[(k+len(loop)-1)%len(loop)]) {
				start = k
				break
			}
		}
		last := ""
		var lines []Line
		for k := range loop {
			h := loop[(start+k)%len(loop)]
			if !shown(h) {
				last = ""
				continue
			}
			item := m.facing(h)
			name, gap := m.name(item), m.closing(item)
			if n := len(lines); name == last && n > 0 && end(lines[n-1]) == m.a.Start(h) {
				lines[n-1].Points = append(lines[n-1].Points, m.a.End(h))
			} else {
				lines = append(lines, Line{Name: name, Points: []geometry.Point{m.a.Start(h), m.a.End(h)}, Gap: gap})
			}
			last = name
		}
		if len(lines) > 0 {
			chains = append(chains, lines)
		}
	}
	t.read(chains)
}

// read sets chains down with the inside on the right: up a wall whose outside
// is left, to the right over a roof, from a floor to the wall that it meets.
// Of several chains, the one that begins farthest left comes first.
func (t *tracer) read(chains [][]Line) {
	for _, lines := range chains {
		slices.Reverse(lines)
		for i := range lines {
			slices.Reverse(lines[i].Points)
		}
	}
	slices.SortStableFunc(chains, func(a, b []Line) int {
		if p, q := a[0].Points[0], b[0].Points[0]; p != q {
			if p.Less(q) {
				return -1
			}
			return 1
		}
		return 0
	})
	for _, lines := range chains {
		t.report.Lines = append(t.report.Lines, lines...)
	}
	for i := range t.report.Lines {
		l := &t.report.Lines[i]
		l.Points = straightened(l.Points)
		if l.Gap {
			l.Name = ""
			continue
		}
		if n := len(t.report.Chain); n == 0 || t.report.Chain[n-1] != l.Name {
			t.report.Chain = append(t.report.Chain, l.Name)
		}
	}
	if n := len(t.report.Chain); n > 1 && t.report.Chain[0] == t.report.Chain[n-1] && closedLoop(t.report.Lines) {
		t.report.Chain = t.report.Chain[:n-1]
	}
}

func end(l Line) geometry.Point { return l.Points[len(l.Points)-1] }

func closedLoop(l []Line) bool { return l[0].Points[0] == end(l[len(l)-1]) }

// facing is the carrier that the open face to the left of h looks at.
func (m *model) facing(h geometry.Half) int32 {
	f := m.films[h.Edge()]
	switch {
	case len(f) == 0:
		return m.item[m.a.FaceOf(h.Twin())]
	case h&1 == 0:
		return f[0]
	}
	return f[len(f)-1]
}

// straightened drops points that lie between their neighbours.
func straightened(l []geometry.Point) []geometry.Point {
	out := l[:1:1]
	for i := 1; i < len(l); i++ {
		if i+1 < len(l) && geometry.Orient(out[len(out)-1], l[i], l[i+1]) == 0 && geometry.Dot(l[i].Sub(out[len(out)-1]), l[i+1].Sub(l[i])) > 0 {
			continue
		}
		out = append(out, l[i])
	}
	return out
}
