package continuity

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/geometry"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

// mostRounds bounds how many gaps are looked for in one control.
const mostRounds = 24

// Check traces every control that a part of the section carries, in the order
// of pages. The findings are those a report cannot hold: a reverse lap is an
// error whatever else is sealed.
func Check(s *section.Section, o Options) ([]Report, finding.List) {
	var out []Report
	var list finding.List
	for _, c := range detail.Controls {
		if carried(s, c) {
			out = append(out, check(s, c, o, &list))
		}
	}
	keepOpen(s, &list)
	list.Sort()
	return out, list
}

// Review traces the controls and checks all else that a section shows of
// them: water beside its control, what may lie against what, and whether a
// hand reaches each seal at its step of the sequence.
func Review(s *section.Section, steps []detail.Step, o Options) ([]Report, finding.List) {
	reports, list := Check(s, o)
	list.Add(Water(s))
	list.Add(Compatibility(s))
	list.Add(Reachable(s, steps))
	list.Sort()
	return reports, list
}

func carried(s *section.Section, c detail.Control) bool {
	for i := range s.Regions {
		if slices.Contains(s.Regions[i].Control, c) {
			return true
		}
	}
	for i := range s.Films {
		if slices.Contains(s.Films[i].Control, c) {
			return true
		}
	}
	return false
}

// tracer looks for the gaps of one control, closing each as it is found.
type tracer struct {
	s        *section.Section
	o        Options
	m        *model
	closings [][2]geometry.Point
	closed   []string // what each closing starts from
	forced   []force
	report   *Report
	last     *graph // with nothing left open
}

// force is a contact taken as joined, to look for what else is open.
type force struct {
	a, b int32
	at   geometry.Point
}

func check(s *section.Section, c detail.Control, o Options, list *finding.List) Report {
	r := Report{Control: c, Verdict: Continuous}
	t := &tracer{s: s, o: o, report: &r}
	t.m = newModel(s, c)
	t.m.settle(o)
	t.reverseLaps(list)
	t.penetrations()
	for _, e := range s.Ends {
		if e.Control == c {
			r.Ends = append(r.Ends, e)
		}
	}
	switch {
	case len(t.m.inside) == 0:
		r.Verdict, r.Reason = NotTraced, "no space is inside"
		return r
	case len(t.m.outside) == 0:
		r.Verdict, r.Reason = NotTraced, "no space is outside and no soil reaches a cut"
		return r
	}
	if len(r.Ends) > 0 {
		t.ended()
		t.exits()
		return r
	}
	for range mostRounds {
		if !t.round() {
			break
		}
	}
	if r.Verdict == Continuous && c == detail.Thermal {
		t.thin()
	}
	t.trace()
	t.exits()
	return r
}

// round finds one thing that is open and closes it. It reports whether it did.
func (t *tracer) round() bool {
	m, r := t.m, t.report
	g := m.reach(false)
	if nodes, _, from, to := g.route(); nodes != nil {
		if r.Verdict == Continuous {
			t.leaks()
		}
		r.Verdict = Broken
		z := m.trapezoids()
		start, end := m.point(from), m.point(to)
		path := z.path(z.cellAt(from.face, start), z.cellAt(to.face, end), start, end)
		if r.Path == nil {
			r.Path = rounded(path)
		}
		return t.closeGaps(path)
	}
	t.last = g
	if m.control == detail.Thermal {
		return false
	}
	g = m.reach(true)
	nodes, via, from, to := g.route()
	if nodes == nil {
		t.last = g
		return false
	}
	if r.Verdict == Continuous {
		t.leaks()
	}
	if r.Verdict != Broken {
		r.Verdict = Unsealed
	}
	if r.Path == nil {
		r.Path = rounded(t.slipPath(nodes, via, from, to))
	}
	return t.sealContacts(nodes, via)
}

// closeGaps finds the cheapest chain across the path and draws its gaps shut.
func (t *tracer) closeGaps(path []geometry.Vec) bool {
	p := t.m.pieces()
	touches := p.touchBonds(nil, unsealedWeight)
	var run []bond
	v := t.s.View
	for _, step := range [...]int64{0, max(v.Width(), v.Height()) / 24} {
		t.m.within(func(width float64) (cost float64) {
			run, cost = chain(len(p.item), append(touches, p.gapBonds(path, step, width)...))
			return cost
		})
		if run != nil { // else the path ends between two long edges: look at shorter ones
			break
		}
	}
	closed := false
	for _, b := range run {
		if !b.gap {
			continue
		}
		closed = true
		t.shut(p, b)
	}
	if !closed {
		t.report.Reason = "no chain of parts that carry it could part the two"
		return false
	}
	t.rebuild()
	return true
}

// shut reports a gap and draws it shut.
func (t *tracer) shut(p *pieces, b bond) {
	g := t.gap(p, b)
	t.report.Gaps = append(t.report.Gaps, g)
	t.closings = append(t.closings, b.closing())
	t.closed = append(t.closed, g.Between[0])
}

// rebuild draws the closings in and joins the forced contacts again.
func (t *tracer) rebuild() {
	t.m = newModel(t.s.With(t.closings), t.m.control)
	t.m.settle(t.o)
	for _, f := range t.forced {
		t.m.force(f)
	}
}

func (m *model) force(f force) {
	for i := range m.contacts {
		c := &m.contacts[i]
		if c.a != f.a || c.b != f.b {
			continue
		}
		for _, v := range c.vertices {
			if m.a.Points[v] == f.at {
				c.join("forced")
				break
			}
		}
	}
}

// gap describes one gap of a chain.
func (t *tracer) gap(p *pieces, b bond) Gap {
	mid := geometry.Vec{X: (b.from.X + b.to.X) / 2, Y: (b.from.Y + b.to.Y) / 2}
	g := Gap{
		Between: [2]string{t.name(p, b.a, b.from), t.name(p, b.b, b.to)},
		At:      point(mid),
		Ends:    [2]geometry.Point{point(b.from), point(b.to)},
		Width:   units.Length(b.width * 1e-6),
		Through: t.through(b.from, b.to),
	}
	switch {
	case len(g.Through) > 0 && g.Between[0] == g.Between[1]:
		g.Mend = fmt.Sprintf("%s passes through %s: have it carry %s and seal it on both sides, or close round it", strings.Join(g.Through, " and "), g.Between[0], t.m.control)
	case strings.HasPrefix(g.Between[0], "cut at ") || strings.HasPrefix(g.Between[1], "cut at "):
		g.Mend = "carry it on to the cut, or declare its end"
	case t.m.control == detail.Thermal:
		g.Mend = "bring the two together"
	default:
		g.Mend = fmt.Sprintf("carry %s on to %s and seal it there", g.Between[0], g.Between[1])
	}
	return g
}

// name of a piece; one that was drawn in to close a gap goes by what it closed.
func (t *tracer) name(p *pieces, id int32, at geometry.Vec) string {
	if item := p.item[id]; item >= 0 && t.m.closing(item) {
		if k := int(item-t.m.regions) - len(t.s.Films); k < len(t.closed) {
			return t.closed[k]
		}
	}
	return p.name(id, at)
}

// through names what a segment passes through, in order: what stands on both
// hands of it, not what it runs along.
func (t *tracer) through(a, b geometry.Vec) []string {
	var out []string
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if l == 0 {
		return nil
	}
	// 3 µm aside: more than noding bends an edge.
	nx, ny := -(b.Y-a.Y)*3/l, (b.X-a.X)*3/l
	const steps = 16
	for k := 0; k < steps; k++ {
		f := (float64(k) + 0.5) / steps
		x, y := a.X+(b.X-a.X)*f, a.Y+(b.Y-a.Y)*f
		left, _ := t.s.Arrangement.FaceAt(point(geometry.Vec{X: x + nx, Y: y + ny}))
		right, _ := t.s.Arrangement.FaceAt(point(geometry.Vec{X: x - nx, Y: y - ny}))
		o := t.s.Owner[left]
		if o != t.s.Owner[right] || o < 0 || t.s.Regions[o].Hole {
			continue
		}
		if n := t.s.Regions[o].Name; !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// leaks lists the pairs of spaces that are open to each other.
func (t *tracer) leaks() {
	g := t.m.reach(t.m.control != detail.Thermal)
	for _, i := range t.m.inside {
		for _, o := range t.m.outside {
			l := Leak{i.name, o.name}
			if g.find(i.face) == g.find(o.face) && !slices.Contains(t.report.Leaks, l) {
				t.report.Leaks = append(t.report.Leaks, l)
			}
		}
	}
}

// point of a source: the space's own, or a place well inside its face.
func (m *model) point(s source) geometry.Vec {
	for _, sp := range m.s.Spaces {
		if sp.Name != s.name {
			continue
		}
		for _, p := range sp.Points {
			if f, _ := m.a.FaceAt(p); f == s.face {
				return p.Vec()
			}
		}
	}
	return section.Inside(m.a.Polygon(s.face)).Vec()
}

func point(v geometry.Vec) geometry.Point {
	return geometry.Point{X: int64(math.Round(v.X)), Y: int64(math.Round(v.Y))}
}

func rounded(l []geometry.Vec) []geometry.Point {
	out := make([]geometry.Point, 0, len(l))
	for _, v := range l {
		if p := point(v); len(out) == 0 || out[len(out)-1] != p {
			out = append(out, p)
		}
	}
	return out
}
