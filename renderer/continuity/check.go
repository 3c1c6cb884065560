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

// Verdict on one control.
type Verdict string

// Verdicts, worst first. NotTraced is none of them: its Reason says what is
// missing.
const (
	Broken     Verdict = "broken"
	Unsealed   Verdict = "unsealed"
	Thin       Verdict = "thin"
	Continuous Verdict = "continuous"
	NotTraced  Verdict = "not traced"
)

// Options of Check.
type Options struct {
	ThermalLeast units.Length // the library's least thickness of a thermal touch; 0: 1 in
}

// ThermalLeast is the least thickness where neither junction nor library says
// otherwise: 1 in.
const ThermalLeast units.Length = 0.0254

func (o Options) lap() units.Length { return LapLeast }

func (o Options) thermalLeast(j *detail.Junction) units.Length {
	switch {
	case j.ThermalLeast > 0:
		return j.ThermalLeast
	case o.ThermalLeast > 0:
		return o.ThermalLeast
	}
	return ThermalLeast
}

// Report is what is found of one control.
type Report struct {
	Control detail.Control
	Verdict Verdict
	Reason  string // why it cannot be traced, or why no gap is named
	// Chain names the parts that carry it, from cut to cut (or round), as one
	// walks with the inside on the right. Gaps stand in it where they lie.
	Chain []string
	Gaps  []Gap
	Leaks []Leak
	// Path runs from inside to outside and avoids the control: the evidence.
	Path []geometry.Point
	// Lines follow the carriers on their inner face, for the drawing.
	Lines []Line
	// Ends is where the control is declared to stop, for print beside the verdict.
	Ends  []section.End
	Exits []Exit
	Notes []string // what a reader must know beside the verdict
}

// Gap is one place where a chain is not whole.
type Gap struct {
	Between [2]string
	At      geometry.Point
	Ends    [2]geometry.Point
	Width   units.Length // 0 where the two touch; for Thin, the thickness there
	Touch   bool         // they touch and are not joined
	Through []string     // what stands in the gap
	Mend    string       // what would close it
	Fault   string       // what was tried and does not hold: a short lap
}

// Leak names two spaces that the control should part and does not.
type Leak struct{ From, To string }

// Line is a run of one carrier.
type Line struct {
	Name   string
	Points []geometry.Point
	Gap    bool // drawn in where the chain is broken
}

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
	forced   []force
	report   *Report
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
	t.leaks()
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
		r.Verdict = Broken
		z := m.trapezoids()
		start, end := m.point(from), m.point(to)
		path := z.path(z.cellAt(from.face, start), z.cellAt(to.face, end), start, end)
		if r.Path == nil {
			r.Path = rounded(path)
		}
		return t.closeGaps(path)
	}
	if m.control == detail.Thermal {
		return false
	}
	g = m.reach(true)
	nodes, via, from, to := g.route()
	if nodes == nil {
		return false
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
	run := chain(len(p.item), append(touches, p.gapBonds(path, 0)...))
	if run == nil { // the path ends between two long edges: look at shorter ones
		v := t.s.View
		run = chain(len(p.item), append(touches, p.gapBonds(path, max(v.Width(), v.Height())/24)...))
	}
	closed := false
	for _, b := range run {
		if !b.gap {
			continue
		}
		closed = true
		t.report.Gaps = append(t.report.Gaps, t.gap(p, b))
		t.closings = append(t.closings, [2]geometry.Point{point(b.from), point(b.to)})
	}
	if !closed {
		t.report.Reason = "no chain of parts that carry it could part the two"
		return false
	}
	t.rebuild()
	return true
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
		Between: [2]string{p.name(b.a, b.from), p.name(b.b, b.to)},
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

// through names what stands along a segment, in order.
func (t *tracer) through(a, b geometry.Vec) []string {
	var out []string
	const steps = 16
	for k := 0; k < steps; k++ {
		f := (float64(k) + 0.5) / steps
		p := point(geometry.Vec{X: a.X + (b.X-a.X)*f, Y: a.Y + (b.Y-a.Y)*f})
		face, _ := t.s.Arrangement.FaceAt(p)
		o := t.s.Owner[face]
		if o < 0 || t.s.Regions[o].Hole {
			continue
		}
		if n := t.s.Regions[o].Name; !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// sealContacts finds the touches that would shut the way found.
func (t *tracer) sealContacts(nodes []int32, via []link) bool {
	m := t.m
	odd := m.slipped(nodes, via)
	p := m.pieces()
	run := chain(len(p.item), p.touchBonds(odd, 1))
	var hit []int32
	for _, b := range run {
		if b.contact >= 0 && !m.contacts[b.contact].joined {
			hit = append(hit, b.contact)
		}
	}
	if hit == nil { // no chain shuts it: take every touch that it slips through
		for c := range m.contacts {
			if odd[int32(c)] {
				hit = append(hit, int32(c))
			}
		}
	}
	for _, c := range hit {
		k := &m.contacts[c]
		at := m.place(k)
		if l := t.closing(k); !l {
			t.report.Gaps = append(t.report.Gaps, Gap{
				Between: [2]string{m.name(k.a), m.name(k.b)}, At: point(at), Ends: m.contactEnds(k), Touch: true,
				Fault: k.fault, Mend: t.sealMend(k),
			})
		}
		t.forced = append(t.forced, force{k.a, k.b, m.a.Points[k.vertices[0]]})
		k.join("forced")
	}
	return len(hit) > 0
}

func (t *tracer) closing(k *contact) bool { return t.m.closing(k.a) || t.m.closing(k.b) }

func (t *tracer) sealMend(k *contact) string {
	a, b := t.m.name(k.a), t.m.name(k.b)
	switch k.fault {
	case reverseLap:
		return "lay the upper sheet over the lower on the wet side"
	case "":
	default:
		if t.m.control == detail.Water && k.fault == "laps too little" {
			return fmt.Sprintf("lap %s over %s by at least 4 in, or seal the lap", a, b)
		}
	}
	return fmt.Sprintf("seal %s to %s where they touch", a, b)
}

// contactEnds are the outermost vertices of a contact.
func (m *model) contactEnds(c *contact) [2]geometry.Point {
	lo, hi := m.a.Points[c.vertices[0]], m.a.Points[c.vertices[0]]
	for _, v := range c.vertices {
		if p := m.a.Points[v]; p.Less(lo) {
			lo = p
		} else if hi.Less(p) {
			hi = p
		}
	}
	return [2]geometry.Point{lo, hi}
}

// slipped finds the contacts that a way passes through an odd number of times.
func (m *model) slipped(nodes []int32, via []link) map[int32]bool {
	faces := int32(m.a.Faces())
	odd := map[int32]bool{}
	contactOf := func(n int32) int32 {
		if n < faces {
			return -1
		}
		return m.lanes[n-faces].contact
	}
	last := int32(-1)
	for _, n := range nodes {
		c := contactOf(n)
		if c >= 0 && c != last {
			odd[c] = !odd[c]
		}
		last = c
	}
	var ring []token
	for i, l := range via {
		if l.vertex < 0 {
			continue
		}
		for _, c := range m.byVertex[l.vertex] {
			k := &m.contacts[c]
			if k.joined || c == contactOf(nodes[i]) || c == contactOf(nodes[i+1]) {
				continue
			}
			ring = m.tokens(l.vertex, ring[:0])
			m.classes(l.vertex, ring)
			if m.wouldPart(ring, k, nodes[i], nodes[i+1]) {
				odd[c] = !odd[c]
			}
		}
	}
	return odd
}

// wouldPart reports whether joining a contact at a vertex parts two open nodes.
func (m *model) wouldPart(ring []token, k *contact, from, to int32) bool {
	free := func() bool {
		for i := range ring {
			for j := i + 1; j < len(ring); j++ {
				x, y := ring[i], ring[j]
				if !x.carrier && !y.carrier && (x.id == from && y.id == to || x.id == to && y.id == from) && !parted(ring, i, j) {
					return true
				}
			}
		}
		return false
	}
	for i := range ring {
		for j := range ring {
			if ring[i].carrier && ring[j].carrier && ring[i].id == k.a && ring[j].id == k.b {
				merge(ring, i, j)
			}
		}
	}
	return !free()
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

// slipPath draws the way through faces and slits: by trapezoids through what
// is open, along the edges of slits.
func (t *tracer) slipPath(nodes []int32, via []link, from, to source) []geometry.Vec {
	m := t.m
	z := m.trapezoids()
	faces := int32(m.a.Faces())
	at := m.point(from)
	out := []geometry.Vec{at}
	face := nodes[0] // of the stretch in the open
	for i, l := range via {
		if l.vertex < 0 {
			continue
		}
		v := m.a.Points[l.vertex].Vec()
		if n := nodes[i]; n < faces {
			if p := z.path(z.cellAt(face, at), z.cellAt(n, v), at, v); len(p) > 0 {
				out = append(out, p[1:]...)
			}
		} else {
			out = append(out, v)
		}
		at = v
		if n := nodes[i+1]; n < faces {
			face = n
		}
	}
	end := m.point(to)
	if p := z.path(z.cellAt(face, at), z.cellAt(to.face, end), at, end); len(p) > 0 {
		out = append(out, p[1:]...)
	}
	return out
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
