package section

import (
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/units"
)

// Resolve lays a junction. lookup gives the detail of a mark, for assemblies
// the junction does not hold already; it may be nil.
func Resolve(j *detail.Junction, lookup func(mark string) *detail.Detail, opts Options) (*Section, finding.List) {
	r := newResolver(j, lookup)
	s := &Section{Junction: j, Parts: make([]PartGeometry, len(j.Parts)), Cut: map[detail.Side]bool{}}
	r.section = s
	if !r.view() {
		r.findings.Sort()
		return nil, r.findings
	}
	r.layParts()
	r.measure()
	r.paint()
	r.placeSpaces()
	r.findings.Sort()
	return s, r.findings
}

// Whose side: a part's index, or one of these.
const (
	ofView  = -2
	ofLevel = -3
)

// sideKey names one side: of a part (layer -1), of a layer, of the view, or a
// level (by its index in layer).
type sideKey struct {
	part, layer int
	side        detail.Side
}

type sideState struct {
	l    line
	ok   bool
	done bool
	work bool
}

// resolver works out sides as they are asked for, each once.
type resolver struct {
	j        *detail.Junction
	lookup   func(string) *detail.Detail
	section  *Section
	findings finding.List

	byName  map[string]int
	stacks  []*stack // per part; nil unless laid
	sides   []sideState
	sideAt  []int32         // per part, into sides; then the view, then the levels
	asking  []sideKey       // the chain of sides in work
	bad     []bool          // parts with an error: their sides are not asked again
	points  map[int][]vec   // outlines, films and rounds in work or done
	pointOK map[int]int8    // 1 in work, 2 done, 3 failed
	pieces  map[int][]piece // faces under the pieces of a film laid over faces
}

// stack is an assembly as laid: its layers and their offsets from the inside
// face, in nm. A film takes no room.
type stack struct {
	detail *detail.Detail
	layers []*detail.Layer
	from   []nm
	total  nm
}

func newResolver(j *detail.Junction, lookup func(string) *detail.Detail) *resolver {
	r := &resolver{
		j: j, lookup: lookup,
		byName:  make(map[string]int, len(j.Parts)),
		stacks:  make([]*stack, len(j.Parts)),
		bad:     make([]bool, len(j.Parts)),
		points:  map[int][]vec{},
		pointOK: map[int]int8{},
		pieces:  map[int][]piece{},
	}
	for i, p := range j.Parts {
		if first, taken := r.byName[p.Name]; taken {
			r.findings.Errorf(p.At, "duplicate-part", "give one of the two another name",
				"part %q is named twice; the first stands at line %d", p.Name, j.Parts[first].At.Line)
			r.bad[i] = true
			continue
		}
		r.byName[p.Name] = i
		if p.Kind == detail.Laid {
			r.stacks[i] = r.stackOf(i, p)
		}
	}
	n := int32(0)
	for _, s := range r.stacks {
		r.sideAt = append(r.sideAt, n)
		n += 4
		if s != nil {
			n += 4 * int32(len(s.layers))
		}
	}
	r.sideAt = append(r.sideAt, n, n+4)
	r.sides = make([]sideState, n+4+int32(len(j.Levels)))
	return r
}

// state is where a side's line is kept.
func (r *resolver) state(k sideKey) *sideState {
	s := int32(0)
	switch k.side {
	case detail.Right:
		s = 1
	case detail.Bottom:
		s = 2
	case detail.Top:
		s = 3
	}
	parts := len(r.stacks)
	switch k.part {
	case ofView:
		return &r.sides[r.sideAt[parts]+s]
	case ofLevel:
		return &r.sides[int(r.sideAt[parts+1])+k.layer]
	}
	return &r.sides[r.sideAt[k.part]+4*int32(k.layer+1)+s]
}

// stackOf takes the layers of a laid assembly.
func (r *resolver) stackOf(i int, p *detail.Part) *stack {
	d := p.Assembly
	if d == nil && r.lookup != nil {
		d = r.lookup(p.Mark)
	}
	switch {
	case d == nil || d.Assembly == nil:
		r.fail(i, "unknown-assembly", "lay an assembly of this library", "part %q lays %q, which is no assembly here", p.Name, p.Mark)
		return nil
	case len(d.Assembly.Layers) == 0:
		r.fail(i, "empty-assembly", "give the assembly its layers", "part %q lays %q, which has no layers", p.Name, p.Mark)
		return nil
	case p.Inside == "":
		r.fail(i, "inside-missing", "say `inside: left`, right, top or bottom", "part %q does not say where its inside face lies", p.Name)
		return nil
	}
	s := &stack{detail: d, layers: d.Assembly.Layers}
	for _, l := range s.layers {
		s.from = append(s.from, s.total)
		if !l.Film() {
			s.total += nanometres(l.Total())
		}
	}
	return s
}

// span returns where layer k lies from the inside face; the whole stack for -1.
func (s *stack) span(k int) (from, to nm) {
	if k < 0 {
		return 0, s.total
	}
	from = s.from[k]
	if s.layers[k].Film() {
		return from, from
	}
	return from, from + nanometres(s.layers[k].Total())
}

// layer finds a layer by its name; -1 where there is none.
func (s *stack) layer(name string) int {
	for k, l := range s.layers {
		if l.Name == name {
			return k
		}
	}
	return -1
}

// fail adds an error at a part and leaves the part out.
func (r *resolver) fail(part int, rule, mend, format string, args ...any) {
	if r.bad[part] {
		return
	}
	r.bad[part] = true
	r.findings.Errorf(r.j.Parts[part].At, rule, mend, format, args...)
}

// failAt is fail at a place within the part.
func (r *resolver) failAt(part int, at finding.Position, rule, mend, format string, args ...any) {
	if part >= 0 {
		if r.bad[part] {
			return
		}
		r.bad[part] = true
		if at.Line == 0 {
			at = r.j.Parts[part].At
		}
	}
	if at.Line == 0 {
		at = r.j.At
	}
	r.findings.Errorf(at, rule, mend, format, args...)
}

// keyName says a side as an author would.
func (r *resolver) keyName(k sideKey) string {
	switch k.part {
	case ofView:
		return "view." + string(k.side)
	case ofLevel:
		return r.j.Levels[k.layer].Name
	}
	name := r.j.Parts[k.part].Name
	if k.layer >= 0 {
		name += "." + r.stacks[k.part].layers[k.layer].Name
	}
	if k.side == "" {
		return name
	}
	return name + "." + string(k.side)
}

// side returns the line of a side, working it out where it is not known yet.
func (r *resolver) side(k sideKey, at finding.Position) (line, bool) {
	st := r.state(k)
	if !st.done && !st.work {
		st.work = true
		r.asking = append(r.asking, k)
		st.l, st.ok = r.work(k)
		r.asking = r.asking[:len(r.asking)-1]
		st.done = true
		return st.l, st.ok
	}
	if !st.done {
		r.cycle(k, at)
		return line{}, false
	}
	return st.l, st.ok
}

// cycle reports the chain of sides that leads back to k.
func (r *resolver) cycle(k sideKey, at finding.Position) {
	start := 0
	for i, a := range r.asking {
		if a == k {
			start = i
		}
	}
	var chain []string
	part := -1
	for _, a := range r.asking[start:] {
		chain = append(chain, r.keyName(a))
		if part < 0 && a.part >= 0 {
			part = a.part
		}
	}
	chain = append(chain, r.keyName(k))
	r.failAt(part, at, "edge-cycle", "give one of these edges a length of its own",
		"these edges hang on each other: %s", strings.Join(chain, " → "))
	for _, a := range r.asking[start:] {
		if a.part >= 0 {
			r.bad[a.part] = true
		}
	}
}

// work finds the line of a side from what the file says.
func (r *resolver) work(k sideKey) (line, bool) {
	switch k.part {
	case ofView:
		return r.workView(k)
	case ofLevel:
		l := r.j.Levels[k.layer]
		return r.edge(&l.Edge, upward, -1, "")
	}
	if r.bad[k.part] {
		return line{}, false
	}
	p := r.j.Parts[k.part]
	switch p.Kind {
	case detail.Rectangle, detail.Laid:
		if p.Pitch != nil && (p.Pitch.Angle != 0 || p.Seat != nil) {
			return r.pitchedSide(k, p)
		}
		return r.boxSide(k, p)
	}
	return r.extent(k)
}

func (r *resolver) workView(k sideKey) (line, bool) {
	e := boxEdge(&r.j.View, k.side)
	if e.Kind == detail.EdgeUnset {
		r.failAt(-1, r.j.At, "view-incomplete", "give the view left, right, bottom and top", "the view has no %s", k.side)
		return line{}, false
	}
	if e.Kind == detail.EdgeCut {
		r.failAt(-1, e.At, "view-cut", "give the view's side a place", "the view's %s cannot be cut", k.side)
		return line{}, false
	}
	return r.edge(e, sideAxis(k.side), -1, "")
}

func boxEdge(b *detail.Box, s detail.Side) *detail.Edge {
	switch s {
	case detail.Left:
		return &b.Left
	case detail.Right:
		return &b.Right
	case detail.Bottom:
		return &b.Bottom
	}
	return &b.Top
}

func sideAxis(s detail.Side) axis {
	if s == detail.Left || s == detail.Right {
		return across
	}
	return upward
}

func opposite(s detail.Side) detail.Side {
	switch s {
	case detail.Left:
		return detail.Right
	case detail.Right:
		return detail.Left
	case detail.Bottom:
		return detail.Top
	}
	return detail.Bottom
}

// sign is +1 for the sides at the greater end of their axis.
func sideSign(s detail.Side) nm {
	if s == detail.Right || s == detail.Top {
		return 1
	}
	return -1
}

// length of the part along an axis as given: width or height.
func given(p *detail.Part, a axis) units.Length {
	if a == across {
		return p.Width
	}
	return p.Height
}
