package detail

import (
	"wythe/renderer/basis"
	"wythe/renderer/material"
	"wythe/renderer/strict"
	"wythe/renderer/units"
)

// elements are the words of element.
var elements = []Element{Wall, WallBelowGrade, Floor, FloorOnGround, Ceiling, Roof}

// assembly reads a layer stack.
func (r *reader) assembly(root strict.Node) {
	m, ok := openFile(root, assemblyKeys)
	if !ok {
		return
	}
	a := &Assembly{At: r.d.At}
	r.d.Assembly = a
	r.mark(m.Get("mark"))
	r.common(m, true)
	a.Element, _ = wordOf(m.Get("element"), "element", elements)
	r.layers(m.Get("layers"), a)
	names := a.names()
	if n := m.Get("surfaces"); !n.IsZero() {
		a.Surfaces = surfaces(n)
	}
	a.Loads = loads(m.Get("loads"))
	a.Penetrations = r.penetrations(m.Get("penetrations"), "layer", func(n strict.Node, name string) {
		if !has(names, name) {
			unknownName(n, "layer", name, names)
		}
	})
	a.Study = a.study(m.Get("study"), names)
	a.Ground = r.ground(m.Get("ground"), a.Element)
	a.Pitch = slope(m.Get("pitch"))
	if a.Pitch != nil && a.Element != Roof && a.Element != Ceiling && a.Element != "" {
		m.Get("pitch").Errorf("pitch-of-no-roof", "take the key out, or set the element", "a %s has no pitch", a.Element)
	}
	a.Scale = scale(m.Get("scale"))
	a.Corrections = corrections(m.Get("corrections"))
	r.sequence(m.Get("sequence"), "layer", names)
}

// names returns the names of the layers, inside to outside.
func (a *Assembly) names() []string {
	out := make([]string, len(a.Layers))
	for i, l := range a.Layers {
		out[i] = l.Name
	}
	return out
}

// Layer returns the layer of a name, or nil.
func (a *Assembly) Layer(name string) *Layer {
	for _, l := range a.Layers {
		if l.Name == name {
			return l
		}
	}
	return nil
}

// wordOf reads a word of a closed list; a missing key is no finding here.
func wordOf[T ~string](n strict.Node, what string, known []T) (T, bool) {
	if n.IsZero() {
		return "", false
	}
	return strict.Word(n, what, known...)
}

func surfaces(n strict.Node) *SurfacePair {
	m, ok := open(n, surfacesKeys)
	if !ok {
		return nil
	}
	in, ok1 := strict.Quantity(m.Get("inside"), units.ParseResistance)
	out, ok2 := strict.Quantity(m.Get("outside"), units.ParseResistance)
	if !ok1 || !ok2 {
		return nil
	}
	return &SurfacePair{in, out}
}

func loads(n strict.Node) *Loads {
	if n.IsZero() {
		return nil
	}
	m := n.Map(loadKeys.names)
	if !m.IsMap() {
		return nil
	}
	l := &Loads{At: m.At(), Live: positive(m.Get("live"), units.ParsePressure), Derating: share(m.Get("derating"))}
	p, ok := open(m.Get("point"), pointLoadKeys)
	if !ok {
		return l
	}
	l.Point = &PointLoad{
		Load: positive(p.Get("load"), units.ParseForce), On: pair(p.Get("on")),
		Where: oneOf[string](p, pointLoadKeys, "where"), Lasts: p.Get("lasts").Text(), At: p.At(),
	}
	return l
}

// share reads a ratio above 0 and at most 1.
func share(n strict.Node) units.Ratio { return positive(n, units.ParseShare) }

// penetrations reads what goes through; known complains of a name in seals.
func (r *reader) penetrations(n strict.Node, what string, known func(strict.Node, string)) []Penetration {
	items := n.List()
	if len(items) == 0 {
		return nil
	}
	out := make([]Penetration, 0, len(items))
	for _, i := range items {
		m, ok := open(i, penetrationKeys)
		if !ok {
			continue
		}
		p := Penetration{What: r.text(m.Get("what")), At: m.At()}
		for _, pair := range m.Get("seals").Pairs() {
			name := pair.Key.Written()
			known(pair.Key, name)
			words := r.text(pair.Value)
			if p.Seals == nil {
				p.Seals = map[string]string{}
			}
			if _, twice := p.Seals[name]; !twice {
				p.Order = append(p.Order, name)
				p.Seals[name] = words
			}
		}
		out = append(out, p)
	}
	return out
}

// mostSteps of a study: each is worked out and drawn.
const mostSteps = 200

func (a *Assembly) study(n strict.Node, names []string) *Study {
	m, ok := open(n, studyKeys)
	if !ok {
		return nil
	}
	s := &Study{
		Vary: m.Get("vary").Text(), At: m.At(),
		From: positive(m.Get("from"), units.ParseLength), To: positive(m.Get("to"), units.ParseLength), By: positive(m.Get("by"), units.ParseLength),
	}
	good := s.Vary != "" && s.From > 0 && s.To > 0 && s.By > 0
	if s.Vary != "" && !has(names, s.Vary) {
		unknownName(m.Get("vary"), "layer", s.Vary, names)
		good = false
	}
	switch {
	case !good:
		return nil
	case s.From >= s.To:
		m.Get("to").Errorf("study-range", "let the study run from the thinner to the thicker", "%q is not more than %q", m.Get("to").Written(), m.Get("from").Written())
		return nil
	case float64((s.To-s.From)/s.By) > mostSteps:
		m.Get("by").Errorf("study-range", "take a larger step", "the study has more than %d steps", mostSteps)
		return nil
	}
	return s
}

func (r *reader) ground(n strict.Node, e Element) *Ground {
	if n.IsZero() {
		return nil
	}
	m := n.Map(groundKeys.names)
	if !m.IsMap() {
		return nil
	}
	if e != FloorOnGround && e != WallBelowGrade && e != Floor && e != "" {
		n.Errorf("ground-of-no-ground-element", "take the key out, or set the element", "a %s does not stand in the ground", e)
	}
	g := &Ground{
		Soil: oneOf[string](m, groundKeys, "soil"), Area: positive(m.Get("area"), units.ParseArea),
		Perimeter: r.length(m.Get("perimeter")), Wall: r.length(m.Get("wall")), Depth: quantity(m.Get("depth"), units.ParseLength), At: m.At(),
	}
	e2, ok := open(m.Get("edge"), edgeInsulationKeys)
	if !ok {
		return g
	}
	g.Edge = &EdgeInsulation{Horizontal: r.length(e2.Get("horizontal")), Vertical: r.length(e2.Get("vertical"))}
	board, inside := open(e2.Get("insulation"), edgeBoardKeys)
	if !inside {
		board = e2
	}
	g.Edge.Thickness = r.length(board.Get("thickness"))
	switch {
	case board.Has("material"):
		g.Edge.Material = r.material(board.Get("material"))
	case inside && board.Has("conductivity"):
		if lambda := quantity(board.Get("conductivity"), units.ParseConductivity); lambda > 0 {
			g.Edge.Material = &material.Material{
				Name: "edge insulation", Conductivity: lambda, Hatch: material.RigidInsulation, At: board.At(),
				Origins: map[material.Property]basis.Source{material.PropConductivity: {Text: "stated in " + board.At().File, Kind: basis.Stated}},
			}
		}
	default:
		e2.Errorf("missing-key", "add \"insulation: {conductivity: …, thickness: …}\"", "the edge insulation has no board")
	}
	if !inside && !e2.Has("thickness") && e2.Has("material") {
		e2.Errorf("missing-key", "add \"thickness:\"", "\"thickness\" is missing")
	}
	if !e2.Has("horizontal") && !e2.Has("vertical") {
		e2.Errorf("missing-key", "add \"horizontal:\" or \"vertical:\" with its width or depth", "the edge insulation has no extent")
	}
	return g
}

// quantity reads a quantity, zero where it is not there or wrong.
func quantity[T any](n strict.Node, parse func(string) (T, error)) T {
	v, _ := strict.Quantity(n, parse)
	return v
}

func corrections(n strict.Node) Corrections {
	m := n.Map(correctionKeys.names)
	if !m.IsMap() {
		return Corrections{}
	}
	c := Corrections{
		RainPerDay: positive(m.Get("rain"), units.ParseLength), DrainageFactor: positive(m.Get("drainage"), units.ParseNumber), At: m.At(),
	}
	if m.Has("rain") != m.Has("drainage") {
		m.Errorf("missing-key", "give both \"rain:\" and \"drainage:\"", "rain and drainage belong together")
	}
	return c
}

// isAir reports whether a material is an air layer.
func isAir(m *material.Material) bool { return m != nil && m.Hatch == material.Air }
