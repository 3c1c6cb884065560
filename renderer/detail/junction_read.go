package detail

import (
	"slices"

	"wythe/renderer/material"
	"wythe/renderer/strict"
	"wythe/renderer/units"
)

// mostParts of one junction.
const mostParts = 500

// junction reads a section. It is read after all assemblies, whose layers its
// edges name.
func (r *reader) junction() {
	m, ok := openFile(r.top.Node, junctionKeys)
	if !ok {
		return
	}
	s := &section{reader: r, j: r.d.Junction, parts: map[string]*Part{}}
	j := s.j
	j.Scale = scale(m.Get("scale"))
	j.Plan = oneOf[string](m, junctionKeys, "drawn") == "plan"
	levels := m.Get("levels").Pairs()
	for _, p := range levels {
		name := p.Key.Written()
		if fault := NameFault(name); fault != "" {
			p.Key.Errorf("bad-name", "take another name", "%s", fault)
			continue
		}
		s.levels = append(s.levels, name)
	}
	items := s.gather(m.Get("parts"))
	for _, p := range levels {
		if name := p.Key.Written(); has(s.levels, name) {
			j.Levels = append(j.Levels, Level{Name: name, Edge: s.edge(p.Value, upright), At: p.Key.At()})
		}
	}
	if v, ok := open(m.Get("view"), viewKeys); ok {
		s.sides(v, &j.View)
		for _, key := range viewKeys.names {
			if e := v.Get(key); e.Written() == "cut" {
				e.Errorf("bad-edge", "say how far the drawing reaches: 12 in right of wall.right", "the view itself cannot run past the view")
			}
		}
		s.ordered(v, &j.View.Left, &j.View.Right, "right", "left")
		s.ordered(v, &j.View.Bottom, &j.View.Top, "top", "bottom")
	}
	for _, i := range items {
		s.part(i)
	}
	s.surroundings(m)
	s.asked(m)
	r.sequence(m.Get("sequence"), "part", s.all())
}

// partItem is a part with its place in the file.
type partItem struct {
	p   *Part
	key strict.Node
	m   strict.Map
}

// gather takes the names and kinds of all parts.
func (s *section) gather(n strict.Node) []partItem {
	list := n.List()
	switch {
	case n.IsList() && len(list) == 0:
		n.Errorf("no-parts", "list what is drawn, each part laid over those before it", "the junction has no parts")
	case len(list) > mostParts:
		n.Errorf("too-many-parts", "part it into several junctions", "%d parts are more than %d", len(list), mostParts)
		list = list[:mostParts]
	}
	items := make([]partItem, 0, len(list))
	for _, n := range list {
		pair, ok := n.OneKey()
		if !ok {
			if n.IsText() {
				n.Errorf("not-a-map", "write it as - NAME: {material: …}", "a part has a name and keys")
			}
			continue
		}
		name := pair.Key.Written()
		p := &Part{Name: name, At: pair.Key.At()}
		switch fault := NameFault(name); {
		case fault != "":
			pair.Key.Errorf("bad-name", "take another name", "%s", fault)
		case s.parts[name] != nil:
			pair.Key.Errorf("duplicate-name", "give each part a name of its own", "part %q stands twice: the first is in line %d", name, s.parts[name].At.Line)
		case has(s.levels, name):
			pair.Key.Errorf("duplicate-name", "give the part a name of its own", "%q is a level too", name)
		default:
			s.parts[name] = p
			s.names = append(s.names, name)
		}
		m := pair.Value.MapFunc(partKeys.names, isTrim)
		if pair.Value.IsEmpty() || !m.IsMap() {
			continue
		}
		s.kind(p, m)
		s.j.Parts = append(s.j.Parts, p)
		items = append(items, partItem{p, pair.Key, m})
	}
	return items
}

// kinds of parts, by the key that makes them.
var partKinds = [...]struct {
	key  string
	kind PartKind
}{{"assembly", Laid}, {"outline", Outline}, {"film", Film}, {"round", Round}, {"seal", Seal}}

// kind settles what a part is, and the assembly that it lays.
func (s *section) kind(p *Part, m strict.Map) {
	first := ""
	for _, k := range partKinds {
		switch {
		case !m.Has(k.key):
		case first == "":
			first, p.Kind = k.key, k.kind
		default:
			m.Get(k.key).Errorf("two-kinds", "keep one of them", "%q and %q make two kinds of one part", first, k.key)
		}
	}
	if p.Kind != Laid {
		return
	}
	n := m.Get("assembly")
	p.Mark, p.MaterialAt = n.Text(), n.At()
	if p.Mark == "" {
		return
	}
	s.laid = append(s.laid, p.Mark)
	d := s.lib.named(n, p.Mark, isAssembly)
	if d == nil {
		return
	}
	p.Assembly = d
	if d.Status == Superseded && s.d.Status != Superseded {
		mend := "lay the detail that takes its place"
		if d.SupersededBy != "" {
			mend = "lay " + d.SupersededBy
		}
		n.Errorf("superseded-assembly", mend, "%s is superseded", p.Mark)
	}
}

// sides reads the four edges of a box.
func (s *section) sides(m strict.Map, b *Box) {
	b.Left, b.Right = s.edge(m.Get("left"), across), s.edge(m.Get("right"), across)
	b.Bottom, b.Top = s.edge(m.Get("bottom"), upright), s.edge(m.Get("top"), upright)
}

// ordered complains where two edges, measured from the same place, leave no
// room between them.
func (s *section) ordered(m strict.Map, low, high *Edge, highKey, lowKey string) {
	a, x, ok1 := low.from()
	b, y, ok2 := high.from()
	if ok1 && ok2 && a == b && y <= x {
		m.Get(highKey).Errorf("no-room", "check the two edges", "%s is not beyond %s: no room is left between them", highKey, lowKey)
	}
}

// from returns where an edge is measured from and how far from there.
func (e *Edge) from() (base string, by units.Length, ok bool) {
	switch e.Kind {
	case EdgeAbsolute:
		return "", e.Length, true
	case EdgeRef:
		return e.Name(), 0, true
	case EdgeOffset:
		base, by, ok = e.Of.from()
		return base, by + e.Length, ok
	}
	return "", 0, false
}

// surroundings reads spaces, ends and all else that stands beside the parts.
func (s *section) surroundings(m strict.Map) {
	j := s.j
	for _, p := range m.Get("spaces").Pairs() {
		if sp := s.space(p); sp != nil {
			j.Spaces = append(j.Spaces, sp)
		}
	}
	if n := m.Get("spaces"); n.IsMap() {
		s.bothSides(n)
	}
	for _, p := range m.Get("ends").Pairs() {
		c, ok := strict.Word(p.Key, "control", AirTight, VaporTight, Water, Thermal)
		for _, n := range p.Value.OneOrMore() {
			e, opened := open(n, endKeys)
			if !opened {
				continue
			}
			at, good := s.point(e.Get("at"))
			if ok && good {
				j.Ends = append(j.Ends, ControlEnd{Control: c, Place: at, Why: s.text(e.Get("why")), At: p.Key.At()})
			}
		}
	}
	for _, n := range m.Get("keep open").OneOrMore() {
		if k, ok := open(n, keepOpenKeys); ok {
			through := k.Get("through")
			name := through.Text()
			if !s.isSpace(name) {
				name = s.carrier(through)
			}
			if least := s.length(k.Get("least")); name != "" && least > 0 {
				j.KeepOpen = append(j.KeepOpen, KeepOpen{Through: name, Least: least, At: n.At()})
			}
		}
	}
	j.Penetrations = s.penetrations(m.Get("penetrations"), "part", func(n strict.Node, _ string) { s.carrier(n) })
	j.ThermalLeast = s.length(m.Get("thermal at least"))
	j.GroundWidth = s.length(m.Get("ground width"))
	for _, n := range m.Get("break").OneOrMore() {
		if b, ok := open(n, breakKeys); ok {
			cut := Break{From: s.edge(b.Get("from"), either), Omit: s.length(b.Get("omit")), At: n.At()}
			if cut.From.Kind != EdgeUnset && cut.Omit > 0 {
				j.Break = append(j.Break, cut)
			}
		}
	}
}

func (s *section) isSpace(name string) bool {
	for _, sp := range s.j.Spaces {
		if sp.Name == name {
			return true
		}
	}
	return false
}

func (s *section) space(p strict.Pair) *Space {
	m, ok := open(p.Value, spaceKeys)
	if !ok {
		return nil
	}
	sp := &Space{Name: p.Key.Written(), As: oneOf[string](m, spaceKeys, "as"), At: p.Key.At()}
	if s.parts[sp.Name] != nil {
		p.Key.Errorf("duplicate-name", "give the space a name of its own", "%q is a part too", sp.Name)
	}
	switch own := sp.Name == "inside" || sp.Name == "outside"; {
	case own && sp.As != "" && sp.As != sp.Name:
		m.Get("as").Errorf("space-as", "take the key out, or give the space another name", "the space %q cannot be %s", sp.Name, sp.As)
		sp.As = ""
	case own:
		sp.As = sp.Name
	case !m.Has("as"):
		p.Key.Errorf("space-as", "add \"as: inside\" or \"as: outside\"", "it is not said which the space %q is", sp.Name)
	}
	if sp.Points = s.onePointOrMore(m.Get("at")); !m.Has("at") {
		s.placeless = append(s.placeless, p)
	}
	if t, ok := strict.Quantity(m.Get("temperature"), units.ParseTemperature); ok {
		sp.Temperature = &t
	}
	if r, ok := strict.Quantity(m.Get("surface"), units.ParseResistance); ok {
		sp.Surface = &r
	}
	return sp
}

// bothSides complains where the section has no inside, or no outside: soil
// counts as one.
func (s *section) bothSides(n strict.Node) {
	inside, outside, faulty := false, false, false
	for _, sp := range s.j.Spaces {
		inside = inside || sp.As == "inside"
		outside = outside || sp.As == "outside"
		faulty = faulty || sp.As == ""
	}
	for _, p := range s.j.Parts {
		if m := p.Material; m != nil && (m.Hatch == material.Earth || m.Hatch == material.Backfill) {
			outside = true
		}
	}
	switch {
	case faulty:
	case !inside:
		n.Errorf("no-inside", "add \"inside: {at: [edge, edge]}\"", "no space is inside: nothing can be proved of the controls")
	case !outside:
		n.Errorf("no-outside", "add \"outside: {at: [edge, edge]}\"", "neither a space nor soil is outside: nothing can be proved of the controls")
	}
}

// asked reads what the drawing and the heat flow are asked for.
func (s *section) asked(m strict.Map) {
	j := s.j
	for _, n := range m.Get("dimensions").List() {
		if d, ok := s.dimension(n); ok {
			j.Dimensions = append(j.Dimensions, d)
		}
	}
	for _, n := range m.Get("faces").List() {
		f, ok := open(n, faceKeys)
		if !ok {
			continue
		}
		face := Face{Along: s.points(f.Get("along"), "a face", 2), Space: f.Get("space").Text(), Adiabatic: f.Get("adiabatic").Bool(), At: n.At()}
		if face.Space != "" && !s.isSpace(face.Space) {
			unknownName(f.Get("space"), "space", face.Space, s.spaceNames())
		}
		if r, ok := strict.Quantity(f.Get("surface"), units.ParseResistance); ok {
			face.Surface = &r
		}
		j.Faces = append(j.Faces, face)
	}
	for _, p := range s.placeless {
		if !slices.ContainsFunc(j.Faces, func(f Face) bool { return f.Space == p.Key.Written() }) {
			p.Value.Errorf("missing-key", "add \"at:\", or say in \"faces:\" what faces it", "\"at\" is missing")
		}
	}
	for _, n := range m.Get("reference").List() {
		f, ok := open(n, flankKeys)
		if !ok {
			continue
		}
		k := Flank{Mark: f.Get("mark").Text(), Length: s.length(f.Get("length")), External: s.length(f.Get("external")), At: n.At()}
		if k.Mark != "" && s.lib.named(f.Get("mark"), k.Mark, isAssembly) != nil {
			j.Reference = append(j.Reference, k)
		}
	}
}

func (s *section) spaceNames() []string {
	out := make([]string, len(s.j.Spaces))
	for i, sp := range s.j.Spaces {
		out[i] = sp.Name
	}
	return out
}

func (s *section) dimension(n strict.Node) (Dimension, bool) {
	m, ok := open(n, dimensionKeys)
	if !ok {
		return Dimension{}, false
	}
	d := Dimension{At: n.At()}
	a := across
	for _, key := range [...]string{"below", "above", "left of", "right of"} {
		v := m.Get(key)
		switch {
		case v.IsZero():
		case d.Where != "":
			v.Errorf("over-constrained", "keep one of them", "a dimension stands in one place: %q stands here too", d.Where)
		default:
			d.Where, d.Part = key, s.carrier(v)
			if key == "left of" || key == "right of" {
				a = upright
			}
		}
	}
	if d.Where == "" {
		m.Errorf("under-constrained", "add \"below: PART\", above, left of or right of", "it is not said where the dimension stands")
	}
	d.From, d.To = s.edge(m.Get("from"), a), s.edge(m.Get("to"), a)
	for _, key := range [...]string{"from", "to"} {
		if v := m.Get(key); v.Written() == "cut" {
			v.Errorf("bad-edge", "measure to an edge of a part", "a dimension cannot end at a cut")
		}
	}
	return d, d.Where != "" && d.Part != "" && d.From.Kind != EdgeUnset && d.To.Kind != EdgeUnset
}
