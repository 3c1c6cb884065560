package material

import (
	"strings"

	"wythe/renderer/basis"
	"wythe/renderer/finding"
	"wythe/renderer/strict"
	"wythe/renderer/units"
)

// properties are the keys of a material, beside its name.
var properties = []string{
	"conductivity", "resistance", "density", "specific heat", "vapor", "wet", "compressive", "emissivity",
	"hatch", "carbon", "not against", "holds to", "seal", "source", "note",
}

var (
	tableKeys = append([]string{"material"}, properties...)
	placeKeys = append([]string{"name"}, properties...)
)

// Keys returns the keys of an item of materials.yaml; a material in place has
// "name" for "material". They must not be changed.
func Keys() []string { return tableKeys }

// ReadFile reads a firm's materials.yaml and returns a table with its
// materials on top of base. A material that base has too keeps base's values
// where the file states none. Whatever is wrong is a finding; what is right is
// in the table all the same.
func ReadFile(file string, data []byte, base *Table) (*Table, finding.List) {
	var list finding.List
	root, ok := strict.Load(file, data, &list)
	if !ok || root.IsZero() {
		return base, list
	}
	var own []*Material
	var places []place
	for _, item := range root.List() {
		m := item.Map(tableKeys)
		name := fold(m.Need("material").Text())
		if name == "" {
			continue
		}
		for _, o := range own {
			if o.Name == name {
				m.Get("material").Errorf("duplicate-material", "keep one of them", "material %q stands twice: the first is in line %d", name, o.At.Line)
			}
		}
		under := base.byName[name]
		if read, ok := read(m, name, under); ok {
			own = append(own, read)
			places = append(places, place{m, read})
		}
		if !m.Has("source") {
			m.Get("material").Warnf("no-source", "add \"source:\" with the standard, the test report or the maker's sheet", "material %q names no source", name)
		}
	}
	t := base.with(own)
	for _, p := range places {
		t.checkNames(p.m, "not against", p.own.NotAgainst)
		t.checkNames(p.m, "holds to", p.own.HoldsTo)
	}
	return t, list
}

type place struct {
	m   strict.Map
	own *Material
}

// checkNames warns of a name in a list that no material has.
func (t *Table) checkNames(m strict.Map, key string, names []string) {
	if !m.Has(key) {
		return
	}
	items := m.Get(key).OneOrMore()
	for _, i := range items {
		name := i.Written()
		if name == "" || !contains(names, name) {
			continue
		}
		if _, ok := t.Lookup(name); !ok {
			i.Warnf("unknown-material", t.Suggest(name), "%q names no material %q", key, name)
		}
	}
}

// InPlace reads a material written where it is used: {name: test board,
// conductivity: 0.04 W/mK, hatch: rigid insulation}. It stands alone: no value
// comes from a table. Whatever is wrong is a finding of the node's list; false
// means that there is no material to go on with.
func InPlace(n strict.Node) (*Material, bool) {
	m := n.Map(placeKeys)
	if !m.IsMap() {
		return nil, false
	}
	name := fold(m.Need("name").Text())
	if name == "" {
		return nil, false
	}
	return read(m, name, nil)
}

// read reads the properties of a material over those of another, or alone.
func read(m strict.Map, name string, under *Material) (*Material, bool) {
	out := &Material{Name: name, At: m.At(), Origins: map[Property]basis.Source{}}
	if under != nil {
		*out = *under
		out.At = m.At()
		out.Origins = make(map[Property]basis.Source, len(under.Origins))
		for k, v := range under.Origins {
			out.Origins[k] = v
		}
	}
	from := basis.Source{Text: m.Get("source").Text(), Kind: basis.Stated}
	if from.Text == "" {
		from.Text = "stated in " + m.At().File
	}
	ok := true
	take := func(key string, p Property, read func(strict.Node) bool) {
		n := m.Get(key)
		if n.IsZero() {
			return
		}
		if !read(n) {
			ok = false
			return
		}
		out.Origins[p] = from
	}

	if w := m.Get("hatch"); !w.IsZero() {
		h, good := strict.Word(w, "hatch", Hatches...)
		out.Hatch = h
		ok = ok && good
	} else if under == nil {
		m.Need("hatch")
		ok = false
	}
	heat(m, out, take)
	take("density", PropDensity, above0(&out.Density, units.ParseDensity))
	take("specific heat", PropSpecificHeat, above0(&out.SpecificHeat, units.ParseSpecificHeat))
	take("vapor", PropVapor, func(n strict.Node) (good bool) {
		out.VaporDry, good = strict.Quantity(n, ParseVapor)
		out.VaporWet = out.VaporDry
		return good
	})
	take("wet", PropVapor, func(n strict.Node) (good bool) {
		out.VaporWet, good = strict.Quantity(n, ParseVapor)
		if good && !out.VaporDry.Known && !m.Has("vapor") {
			n.Errorf("wet-alone", "add \"vapor:\" with the dry-cup value", "\"wet\" stands without \"vapor\"")
			return false
		}
		return good
	})
	take("compressive", PropCompressive, above0(&out.Compressive, units.ParsePressure))
	take("emissivity", PropEmissivity, func(n strict.Node) (good bool) {
		out.Emissivity, good = strict.Quantity(n, units.ParseEmissivity)
		return good
	})
	take("carbon", PropCarbon, func(n strict.Node) (good bool) {
		out.Carbon, good = strict.Quantity(n, ParseCarbon)
		return good
	})
	take("holds to", PropHoldsTo, func(n strict.Node) bool { out.HoldsTo = n.Texts(); return true })
	if n := m.Get("not against"); !n.IsZero() {
		out.NotAgainst = n.Texts()
	}
	if n := m.Get("seal"); !n.IsZero() {
		w, good := strict.Word(n, "seal word", SealWords...)
		out.SealWord = w
		ok = ok && good
	}
	if n := m.Get("note"); !n.IsZero() {
		out.Note = n.Text()
	}
	return out, ok
}

// heat reads the conductivity or the resistance.
func heat(m strict.Map, out *Material, take func(string, Property, func(strict.Node) bool)) {
	if m.Has("conductivity") && m.Has("resistance") {
		m.Get("resistance").Errorf("two-resistances", "keep one of them", "a material states a conductivity or a resistance, not both")
	}
	take("conductivity", PropConductivity, func(n strict.Node) bool {
		k, good := strict.Quantity(n, units.ParseConductivity)
		if good {
			out.Conductivity, out.Resistance = k, 0
			delete(out.Origins, PropResistance)
		}
		return good
	})
	r := m.Get("resistance")
	switch {
	case r.IsZero():
	case units.IsPerInch(r.Written()):
		take("resistance", PropConductivity, func(n strict.Node) bool {
			k, good := strict.Quantity(n, units.ParseConductivity)
			if good {
				out.Conductivity, out.Resistance = k, 0
				delete(out.Origins, PropResistance)
			}
			return good
		})
	default:
		take("resistance", PropResistance, func(n strict.Node) bool {
			v, good := strict.Quantity(n, units.ParseResistance)
			if good {
				out.Conductivity, out.Resistance = 0, v
				delete(out.Origins, PropConductivity)
			}
			return good
		})
	}
	_, k := out.Origins[PropConductivity]
	_, sheet := out.Origins[PropResistance]
	if !k && !sheet && !m.Has("conductivity") && !m.Has("resistance") && out.Hatch != Air && out.Hatch != Membrane && !m.Has("seal") {
		m.Warnf("no-conductivity", "add \"conductivity: 0.036 W/mK\" or \"resistance: R 4 per in\"", "material %q states neither conductivity nor resistance: no R-value can be worked out through it", out.Name)
	}
}

// above0 reads a quantity that must be above 0 into its place.
func above0[T ~float64](into *T, parse func(string) (T, error)) func(strict.Node) bool {
	return func(n strict.Node) bool {
		v, ok := strict.Quantity(n, parse)
		if ok && v <= 0 {
			n.Errorf("bad-quantity", "leave the key out where the value is not known", "%q: the value must be above 0", n.Written())
			return false
		}
		if ok {
			*into = v
		}
		return ok
	}
}

// ParseCarbon reads product-stage carbon: 2.1 kg CO2e per kg, or
// 320 kg CO2e per m3. It may be negative.
// Errors: *[units.ParseError].
func ParseCarbon(s string) (Carbon, error) {
	number, per, ok := strings.Cut(s, "kg CO2e per ")
	if !ok {
		return Carbon{}, &units.ParseError{Text: s, Message: "is not how carbon is stated", Mend: "write 2.1 kg CO2e per kg, or 320 kg CO2e per m3"}
	}
	v, err := units.ParseNumber(number)
	if err != nil {
		return Carbon{}, err
	}
	switch strings.TrimSpace(per) {
	case "kg":
		return Carbon{Stated: true, KgCO2ePerKg: v}, nil
	case "m3", "m³":
		return Carbon{Stated: true, KgCO2ePerCubicM: v}, nil
	}
	return Carbon{}, &units.ParseError{Text: s, Offset: len(s) - len(per), Message: "unknown unit \"" + per + "\"", Mend: "carbon is stated per kg or per m3"}
}

func fold(s string) string { return strings.Join(strings.Fields(s), " ") }
