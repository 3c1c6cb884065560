package detail

import (
	"slices"

	"wythe/renderer/strict"
	"wythe/renderer/units"
)

// building reads where details are used. Its marks are those of the library,
// so it is read after all other files.
func (r *reader) building() {
	m, ok := openFile(r.top.Node, buildingKeys)
	if !ok {
		return
	}
	b := r.d.Building
	r.sequence(m.Get("sequence"), "layer", nil)
	if a := m.Get("areas"); a.IsList() && len(a.List()) == 0 {
		a.Errorf("no-areas", "list the assemblies with their areas", "the building has no areas")
	}
	for _, n := range m.Get("areas").List() {
		i, ok := open(n, areaKeys)
		if !ok {
			continue
		}
		u := AreaUse{
			Mark: i.Get("detail").Text(), Area: positive(i.Get("area"), units.ParseArea), Gross: i.Get("gross").Bool(),
			Perimeter: r.length(i.Get("perimeter")), Depth: quantity(i.Get("depth"), units.ParseLength), At: i.At(),
		}
		if u.Mark != "" && r.lib.named(i.Get("detail"), u.Mark, isAssembly) != nil && u.Area > 0 {
			b.Areas = append(b.Areas, u)
		}
	}
	for _, n := range m.Get("lengths").List() {
		i, ok := open(n, lengthKeys)
		if !ok {
			continue
		}
		u := LengthUse{Mark: i.Get("junction").Text(), Length: r.length(i.Get("length")), At: i.At()}
		if u.Mark != "" && r.lib.named(i.Get("junction"), u.Mark, isJunction) != nil && u.Length > 0 {
			b.Lengths = append(b.Lengths, u)
		}
	}
	for _, n := range m.Get("openings").List() {
		if o, ok := r.opening(n, b); ok {
			b.Openings = append(b.Openings, o)
		}
	}
	for _, n := range m.Get("apart").List() {
		r.apart(n, b)
	}
	b.Volume = positive(m.Get("volume"), units.ParseVolume)
	b.FloorArea = positive(m.Get("floor area"), units.ParseArea)
	if n := m.Get("air leakage"); !n.IsZero() {
		l, ok := strict.Quantity(n, func(s string) (Leakage, error) {
			rate, pressure, err := units.ParseLeakage(s)
			return Leakage{Rate: rate, Pressure: pressure}, err
		})
		if ok {
			b.Leakage = l
			b.Leakage.At = n.At()
		}
	}
	for _, p := range m.Get("issued with").Pairs() {
		mark, rev := p.Key.Written(), p.Value.Text()
		d := r.lib.named(p.Key, mark, func(*Detail) string { return "" })
		if d == nil || rev == "" {
			continue
		}
		if !d.hasRevision(rev) {
			p.Value.Errorf("unknown-revision", "name a revision of its table", "%s has no revision %s", mark, rev)
			continue
		}
		if b.Pins == nil {
			b.Pins = map[string]string{}
		}
		b.Pins[mark] = rev
	}
}

func (r *reader) opening(n strict.Node, b *Building) (Opening, bool) {
	m, ok := open(n, openingKeys)
	if !ok {
		return Opening{}, false
	}
	o := Opening{
		What: m.Get("what").Text(), Count: 1, Area: positive(m.Get("area"), units.ParseArea),
		UFactor: positive(m.Get("U-factor"), units.ParseUFactor), In: m.Get("in").Text(), At: m.At(),
	}
	if c := m.Get("count"); !c.IsZero() {
		o.Count = count(c, 1, 100_000)
	}
	if o.In == "" {
		return o, o.Area > 0
	}
	d := r.lib.named(m.Get("in"), o.In, isAssembly)
	if d != nil && !b.uses(o.In) {
		m.Get("in").Errorf("opening-in-nothing", "add "+o.In+" to \"areas:\"", "the openings stand in %s, which has no area in this building", o.In)
	}
	return o, o.Area > 0 && d != nil
}

// uses reports whether an assembly has an area in the building.
func (b *Building) uses(mark string) bool {
	return slices.ContainsFunc(b.Areas, func(u AreaUse) bool { return u.Mark == mark })
}

// apart reads which elements an element does not touch.
func (r *reader) apart(n strict.Node, b *Building) {
	m, ok := open(n, apartKeys)
	if !ok {
		return
	}
	element := func(n strict.Node) (mark string, ok bool) {
		mark = n.Text()
		if mark == "" || r.lib.named(n, mark, isAssembly) == nil {
			return mark, false
		}
		if !b.uses(mark) {
			n.Errorf("apart-unused", "add "+mark+" to \"areas:\", or take it out here", "%s has no area in this building", mark)
			return mark, false
		}
		return mark, true
	}
	a, ok := element(m.Get("detail"))
	for _, n := range m.Get("from").List() {
		if z, there := element(n); ok && there {
			b.Apart = append(b.Apart, [2]string{a, z})
		}
	}
}
