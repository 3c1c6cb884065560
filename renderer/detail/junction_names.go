package detail

import (
	"strings"

	"wythe/renderer/finding"
	"wythe/renderer/strict"
	"wythe/renderer/units"
)

// section reads one junction: first the names of all its parts and levels,
// then what is said of them, so that names may be used before they are laid.
type section struct {
	*reader
	j      *Junction
	parts  map[string]*Part
	names  []string // of parts, in order
	levels []string
	// placeless are the spaces without a place: faces must name them.
	placeless []strict.Pair
}

// axis is the direction in which an edge is a place.
type axis int

const (
	across  axis = iota // x: left, right
	upright             // y: bottom, top
	either
)

func (a axis) other() axis {
	switch a {
	case across:
		return upright
	case upright:
		return across
	}
	return either
}

// edge reads an edge and checks its names and its direction.
func (s *section) edge(n strict.Node, a axis) Edge {
	if n.IsZero() {
		return Edge{}
	}
	text := n.Text()
	if text == "" {
		return Edge{}
	}
	e, err := parseEdge(text, n.AtOffset)
	if err != nil {
		s.badWords(n, "bad-edge", err)
		return Edge{}
	}
	s.check(&e, a)
	return e
}

// badWords is a finding at the word that is wrong.
func (s *section) badWords(n strict.Node, rule string, err error) {
	if p, ok := err.(*units.ParseError); ok {
		s.list.Errorf(n.AtOffset(p.Offset), rule, p.Mend, "%q: %s", p.Text, p.Message)
		return
	}
	n.Errorf(rule, "", "%v", err)
}

// check holds an edge to the names there are, and to its axis.
func (s *section) check(e *Edge, a axis) {
	switch e.Kind {
	case EdgeRef:
		if e.Side == "" {
			s.checkLevel(e, a)
			return
		}
		s.checkNames(e)
		s.checkSide(e, a)
	case EdgeAtEdge:
		s.checkNames(e)
		s.check(e.Of, a.other())
	case EdgeUnder, EdgeOver:
		s.checkNames(e)
	case EdgeOffset:
		if own := across; a != either {
			if e.Vertical {
				own = upright
			}
			if own != a {
				says, mend := "above and below are heights, and a place across is needed", "write left of or right of"
				if own == across {
					says, mend = "left of and right of are places across, and a height is needed", "write above or below"
				}
				s.list.Errorf(e.At, "wrong-direction", mend, "%q: %s", e.Written, says)
				return
			}
		} else if e.Vertical {
			a = upright
		} else {
			a = across
		}
		s.check(e.Of, a)
	case EdgeMidway:
		s.check(e.A, a)
		s.check(e.B, a)
	}
}

func (s *section) checkSide(e *Edge, a axis) {
	own := across
	if e.Side == Bottom || e.Side == Top {
		own = upright
	}
	if a == either || a == own {
		return
	}
	if own == upright {
		s.list.Errorf(e.At, "wrong-direction", "name a left or right side, or say where: "+e.Name()+" at EDGE", "%q is a height, and a place across is needed", e.Written)
		return
	}
	s.list.Errorf(e.At, "wrong-direction", "name a bottom or top side, or say where: "+e.Name()+" at EDGE", "%q is a place across, and a height is needed", e.Written)
}

func (s *section) checkLevel(e *Edge, a axis) {
	switch {
	case has(s.levels, e.Part):
		if a == across {
			s.list.Errorf(e.At, "wrong-direction", "name a left or right side", "level %q is a height, and a place across is needed", e.Part)
		}
	case s.parts[e.Part] != nil:
		s.list.Errorf(e.At, "side-missing", "say which side: "+e.Part+".left, .right, .bottom or .top", "%q is a part; which of its sides is meant?", e.Part)
	default:
		known := append(append([]string{}, s.levels...), s.names...)
		s.unknown(e.At, "part or level", e.Part, known)
	}
}

// checkNames checks the part and the layer that an edge names.
func (s *section) checkNames(e *Edge) {
	s.checkPartLayer(e.At, e.Part, e.Layer)
	if p := s.parts[e.Part]; p != nil && p.Kind == Seal {
		s.list.Errorf(e.At, "side-missing", "measure from a part that the seal joins", "%q is a seal and has no sides", e.Part)
	}
}

func (s *section) checkPartLayer(at finding.Position, part, layer string) bool {
	p := s.parts[part]
	if p == nil {
		s.unknown(at, "part", part, s.names)
		return false
	}
	if layer == "" || p.Kind == Laid && p.Assembly == nil { // said already
		return true
	}
	if p.Kind != Laid {
		s.list.Errorf(at, "unknown-name", "name the part alone: "+part, "%q is no assembly and has no layer %q", part, layer)
		return false
	}
	if p.Assembly.Assembly.Layer(layer) == nil {
		s.unknown(at, "layer of "+p.Mark, layer, p.Assembly.Assembly.names())
		return false
	}
	return true
}

func (s *section) unknown(at finding.Position, what, name string, known []string) {
	mend := finding.DidYouMean(name, known)
	if mend == "" {
		mend = "there are: " + strings.Join(known, ", ")
		if len(known) == 0 {
			mend = "there is none"
		}
	}
	s.list.Errorf(at, "unknown-name", mend, "no %s is named %q", what, name)
}

// carrier checks a name that is a part or one of its layers: slab, slab.film.
func (s *section) carrier(n strict.Node) string {
	name := n.Text()
	if name == "" {
		return ""
	}
	part, layer, _ := strings.Cut(name, ".")
	if !s.checkPartLayer(n.At(), part, layer) {
		return ""
	}
	return name
}

func (s *section) carriers(n strict.Node) []string {
	var out []string
	for _, i := range n.OneOrMore() {
		name := s.carrier(i)
		switch {
		case name == "":
		case has(out, name):
			i.Errorf("stands-twice", "keep one of them", "%q stands twice", name)
		default:
			out = append(out, name)
		}
	}
	return out
}

// all are the names that a step may show: parts and their layers.
func (s *section) all() []string {
	out := append([]string{}, s.names...)
	for _, name := range s.names {
		if p := s.parts[name]; p.Kind == Laid && p.Assembly != nil {
			for _, l := range p.Assembly.Assembly.Layers {
				out = append(out, name+"."+l.Name)
			}
		}
	}
	return out
}

// point reads a point.
func (s *section) point(n strict.Node) (Point, bool) {
	switch {
	case n.IsZero():
		return Point{}, false
	case n.IsText():
		p, err := parsePoint(n.Written(), n.AtOffset)
		if err != nil {
			s.badWords(n, "bad-point", err)
			return Point{}, false
		}
		s.check(&p.X, either)
		s.check(&p.Y, either)
		return p, true
	}
	if !n.IsList() {
		n.Errorf("bad-point", pointMend, "a point is needed here")
		return Point{}, false
	}
	items := n.List()
	if len(items) != 2 {
		n.Errorf("bad-point", pointMend, "a point has two edges, not %d", len(items))
		return Point{}, false
	}
	p := Point{X: s.edge(items[0], across), Y: s.edge(items[1], upright), At: n.At()}
	for i, e := range [...]*Edge{&p.X, &p.Y} {
		if e.Kind == EdgeCut {
			items[i].Errorf("bad-point", pointMend, "a point does not lie at a cut")
			return Point{}, false
		}
	}
	return p, p.X.Kind != EdgeUnset && p.Y.Kind != EdgeUnset
}

// points reads a list of at least so many points.
func (s *section) points(n strict.Node, what string, least int) []Point {
	items := n.List()
	if n.IsList() && len(items) < least {
		n.Errorf("too-few-points", "give at least "+countWord(least), "%s has %d of the %d points that it needs", what, len(items), least)
	}
	out := make([]Point, 0, len(items))
	for _, i := range items {
		if p, ok := s.point(i); ok {
			out = append(out, p)
		}
	}
	return out
}

func countWord(n int) string {
	switch n {
	case 1:
		return "one"
	case 2:
		return "two"
	}
	return "three"
}

// onePointOrMore reads a point, or a list of them.
func (s *section) onePointOrMore(n strict.Node) []Point {
	if n.IsList() {
		items := n.List()
		if len(items) > 0 && (items[0].IsList() || strings.HasPrefix(items[0].Written(), "where ")) {
			return s.points(n, "this", 1)
		}
	}
	if p, ok := s.point(n); ok {
		return []Point{p}
	}
	return nil
}
