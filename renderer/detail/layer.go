package detail

import (
	"strconv"

	"wythe/renderer/finding"
	"wythe/renderer/strict"
	"wythe/renderer/units"
)

// mostLayers of one stack: more is a slip, and no page shows it.
const mostLayers = 60

func (r *reader) layers(n strict.Node, a *Assembly) {
	items := n.List()
	switch {
	case n.IsList() && len(items) == 0:
		n.Errorf("no-layers", "list the layers from inside to outside", "the stack has no layers")
	case len(items) > mostLayers:
		n.Errorf("too-many-layers", "part it into several assemblies", "%d layers are more than %d", len(items), mostLayers)
		items = items[:mostLayers]
	}
	block := make([]Layer, len(items))
	a.Layers = make([]*Layer, 0, len(items))
	for i, item := range items {
		if l := &block[i]; r.layer(item, l, a.Layers) {
			a.Layers = append(a.Layers, l)
		}
	}
	a.nameTheRest()
}

// nameTheRest gives each layer without a name that of its material, numbered
// where it would stand twice.
func (a *Assembly) nameTheRest() {
	for i, l := range a.Layers {
		if l.Named {
			continue
		}
		base := "layer " + strconv.Itoa(i+1)
		if l.Material != nil {
			base = l.Material.Name
		}
		name := base
		for n := 2; a.Layer(name) != nil; n++ {
			name = base + " " + strconv.Itoa(n)
		}
		l.Name = name
	}
}

// layer reads one layer; before are those already read.
func (r *reader) layer(n strict.Node, l *Layer, before []*Layer) bool {
	m, ok := open(n, layerKeys)
	if !ok {
		return false
	}
	*l = Layer{Courses: 1, Waste: -1, At: m.At(), MaterialAt: m.Get("material").At(), ThicknessAt: m.Get("thickness").At()}
	if name := m.Get("name"); !name.IsZero() {
		l.Name = name.Text()
		l.Named = l.Name != ""
		r.layerName(name, l.Name, before)
	}
	l.Material = r.material(m.Get("material"))
	l.Thickness = r.length(m.Get("thickness"))
	if c := m.Get("courses"); !c.IsZero() {
		l.Courses = max(1, count(c, 1, 20))
	}
	l.Framing = r.framing(m.Get("framing"))
	l.Control = controls(m.Get("control"))
	l.Joints = r.text(m.Get("joints"))
	l.Note = r.text(m.Get("note"))
	l.Fasteners = r.fasteners(m.Get("fasteners"))
	if t, ok := open(m.Get("taper"), taperKeys); ok {
		l.Taper = &Taper{To: quantity(t.Get("to"), units.ParseLength), Shape: oneOf[string](t, taperKeys, "shape"), At: t.At()}
	}
	if s, ok := open(m.Get("metal studs"), metalStudKeys); ok {
		l.MetalStuds = &MetalStuds{Depth: r.length(s.Get("depth")), Spacing: r.length(s.Get("spacing")), At: s.At()}
	}
	if g := m.Get("gaps"); !g.IsZero() {
		l.Gaps = count(g, 0, 2)
	}
	if w := m.Get("waste"); !w.IsZero() {
		if v, ok := strict.Quantity(w, units.ParseRatio); ok {
			l.Waste = v
		}
	}
	l.Lap = r.length(m.Get("lap"))
	if s := m.Get("sheet"); !s.IsZero() {
		l.Sheet = pair(s)
	}
	airSpace(m, l)
	return true
}

func (r *reader) layerName(n strict.Node, name string, before []*Layer) {
	for _, b := range before {
		if b.Named && b.Name == name && name != "" {
			n.Errorf("duplicate-name", "give each layer a name of its own", "layer %q stands twice: the first is in line %d", name, b.At.Line)
			return
		}
	}
	if isSide(name) {
		n.Errorf("bad-name", "name what the layer is", "a layer cannot be named %q, which is a side", name)
	}
}

// airSpace reads what belongs to an air layer alone.
func airSpace(m strict.Map, l *Layer) {
	air := isAir(l.Material)
	for _, key := range [...]string{"ventilation", "emittances", "openings"} {
		if n := m.Get(key); !n.IsZero() && !air && l.Material != nil {
			n.Errorf("not-an-air-layer", "take the key out, or write material: air", "%q belongs to an air layer, not to %q", key, l.Material.Name)
		}
	}
	if air {
		l.Ventilation = Unventilated
	}
	if v, ok := wordOf(m.Get("ventilation"), "ventilation", []Ventilation{Unventilated, SlightlyVentilated, WellVentilated}); ok {
		l.Ventilation = v
	}
	items := m.Get("emittances").OneOrMore()
	if len(items) > 2 {
		m.Get("emittances").Errorf("too-many-values", "write [inside, outside]", "an air layer has two faces, not %d", len(items))
		items = items[:2]
	}
	for _, i := range items {
		if e, ok := strict.Quantity(i, units.ParseEmissivity); ok {
			l.Emittances = append(l.Emittances, e)
		}
	}
	l.Openings = positive(m.Get("openings"), units.ParseArea)
	if o := m.Get("openings"); !o.IsZero() && air && l.Ventilation != SlightlyVentilated {
		o.Errorf("openings-not-used", "take the key out, or write ventilation: slight", "openings are counted in a slightly ventilated layer only")
	}
}

func (r *reader) framing(n strict.Node) *Framing {
	m, ok := open(n, framingKeys)
	if !ok {
		return nil
	}
	f := &Framing{
		Material: r.material(m.Get("material")), Width: r.length(m.Get("width")), Spacing: r.length(m.Get("spacing")), At: m.At(),
	}
	switch given := m.Get("fraction"); {
	case !given.IsZero():
		f.Fraction = share(given)
		if f.Fraction == 1 {
			given.Errorf("out-of-range", "write the share of the members, below 100 %", "members that fill the layer are no framing")
		}
	case m.Has("width") != m.Has("spacing"):
		missing := "spacing"
		if m.Has("spacing") {
			missing = "width"
		}
		m.Errorf("missing-key", "add \""+missing+":\"", "framing needs both width and spacing, or a fraction")
	case !m.Has("width"):
		m.Errorf("missing-key", "add \"width:\" and \"spacing:\", or \"fraction:\"", "framing needs width and spacing, or a fraction")
	case f.Width > 0 && f.Spacing > 0:
		f.Fraction = units.Ratio(f.Width / f.Spacing)
	}
	if f.Width > 0 && f.Spacing > 0 && f.Width >= f.Spacing {
		m.Get("spacing").Errorf("out-of-range", "spacing is from center to center, and more than the width", "spacing %q is not more than width %q", m.Get("spacing").Written(), m.Get("width").Written())
		f.Fraction = 0
	}
	return f
}

func (r *reader) fasteners(n strict.Node) *Fasteners {
	m, ok := open(n, fastenerKeys)
	if !ok {
		return nil
	}
	return &Fasteners{
		Material: r.material(m.Get("material")), Diameter: r.length(m.Get("diameter")), Each: positive(m.Get("each"), units.ParseArea),
		Recessed: quantity(m.Get("recessed"), units.ParseLength), At: m.At(),
	}
}

// mark reads a detail's number.
func (r *reader) mark(n strict.Node) {
	r.markNode = n
	mark := n.Text()
	if mark == "" {
		if n.IsText() {
			n.Errorf("empty-value", "write the detail's number", "the mark is empty")
		}
		return
	}
	r.d.Mark = mark
	if !isAddress(mark) {
		n.Errorf("bad-mark", "write it with letters, digits, hyphens and points, as F-101", "mark %q cannot be an address", mark)
		return
	}
	if m := r.lib.marks; m != nil && !m.Match(mark) {
		n.Errorf("mark-pattern", "write a mark that fits, or change \"marks:\" of "+libraryFile, "mark %q does not fit the library's pattern %s", mark, r.lib.Settings.Marks)
	}
}

// isAddress reports whether a mark can be a folder of the site as it stands.
func isAddress(s string) bool {
	if len(s) > 64 || s[0] == '.' || s[len(s)-1] == '.' {
		return false
	}
	for i := range len(s) {
		c := s[i]
		if !isLetter(c) && (c < '0' || c > '9') && c != '-' && c != '.' && c != '_' {
			return false
		}
	}
	return true
}

// at is the place of a whole file.
func at(file string) finding.Position { return finding.Position{File: file} }
