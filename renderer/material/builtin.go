package material

import (
	"math"
	"sync"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// row is one built-in material as its source writes it. Exactly one of k, rin
// and r is set (none for air); at most one form of vapor.
type row struct {
	name  string
	also  []string // other names the trade has for it
	hatch Hatch

	k   float64 // W/(m·K)
	rin float64 // h·ft²·°F/Btu per inch
	r   float64 // h·ft²·°F/Btu of the sheet
	rho float64 // kg/m³
	c   float64 // J/(kg·K)

	mu, wet       float64 // vapor resistance factor, dry and wet cup
	tight         bool    // infinite mu
	permin        float64 // perm inch
	perm, permWet float64 // of the sheet
	isTightSheet  bool    // 0 perm
	sd            float64 // m

	psi, psf float64 // compressive resistance
	emit     float64

	from                                  basis.Source // of all values without one of their own
	kFrom, rhoFrom, cFrom, vFrom, psiFrom basis.Source
	eFrom, hFrom                          basis.Source
	seal, note                            string
	notAgainst, holdsTo                   []string
}

// also returns the names as a list.
func also(names ...string) []string { return names }

// Builtin returns the built-in table. It is made once, on first use, and must
// not be changed.
func Builtin() *Table { return builtin() }

var builtin = sync.OnceValue(func() *Table {
	parts := [][]row{masonryRows, groundRows, woodRows, insulationRows, metalRows, sheetRows}
	t := &Table{byName: map[string]*Material{}, also: map[string]string{}}
	for _, rows := range parts {
		for i := range rows {
			m := rows[i].material()
			if t.byName[m.Name] != nil {
				panic("material: two built-in rows are named " + m.Name)
			}
			t.byName[m.Name] = m
			for _, other := range rows[i].also {
				t.also[other] = m.Name
			}
		}
	}
	t.sortNames()
	return t
})

// material returns the row in SI, with the source of each value.
func (r *row) material() *Material {
	m := &Material{
		Name: r.name, Hatch: r.hatch, Note: r.note, SealWord: r.seal, NotAgainst: r.notAgainst, HoldsTo: r.holdsTo,
		Density: units.Density(r.rho), SpecificHeat: units.SpecificHeat(r.c), Emissivity: units.Emissivity(r.emit),
		Origins: make(map[Property]basis.Source, 6),
	}
	origin := func(p Property, own basis.Source) {
		if own.Text == "" {
			own = r.from
		}
		if own.Text == "" {
			panic("material: " + r.name + " has no source for its " + string(p))
		}
		m.Origins[p] = own
	}
	switch {
	case r.k > 0:
		m.Conductivity = units.Conductivity(r.k)
		origin(PropConductivity, r.kFrom)
	case r.rin > 0:
		m.Conductivity = perInch(r.rin)
		origin(PropConductivity, r.kFrom)
	case r.r > 0:
		m.Resistance = units.RValue(r.r).SI()
		origin(PropResistance, r.kFrom)
	}
	if r.rho > 0 {
		origin(PropDensity, r.rhoFrom)
	}
	if r.c > 0 {
		origin(PropSpecificHeat, r.cFrom)
	}
	if m.VaporDry = r.vapor(r.mu, r.perm); m.VaporDry.Known {
		origin(PropVapor, r.vFrom)
		m.VaporWet = m.VaporDry
		if r.wet > 0 || r.permWet > 0 {
			m.VaporWet = r.vapor(r.wet, r.permWet)
		}
	}
	if r.psi > 0 || r.psf > 0 {
		m.Compressive = poundsPerSquareInch(r.psi + r.psf/144)
		origin(PropCompressive, r.psiFrom)
	}
	if r.emit > 0 {
		origin(PropEmissivity, r.eFrom)
	}
	if len(r.holdsTo) > 0 {
		origin(PropHoldsTo, r.hFrom)
	}
	return m
}

func (r *row) vapor(mu, perm float64) Vapor {
	switch {
	case r.tight:
		return Vapor{Known: true, Mu: units.Ratio(math.Inf(1))}
	case mu > 0:
		return Vapor{Known: true, Mu: units.Ratio(mu)}
	case r.permin > 0:
		return Vapor{Known: true, Permeability: must(units.ParsePermeability("1 perm in")) * units.Permeability(r.permin)}
	case perm > 0 || r.isTightSheet:
		return Vapor{Known: true, IsSheet: true, Sheet: must(units.ParsePermeance("1 perm")) * units.Permeance(perm)}
	case r.sd > 0:
		return Vapor{Known: true, Sd: units.Length(r.sd)}
	}
	return Vapor{}
}

func perInch(r float64) units.Conductivity {
	return must(units.ParseConductivity("R 1 per in")) / units.Conductivity(r)
}

func poundsPerSquareInch(psi float64) units.Pressure {
	return must(units.ParsePressure("1 psi")) * units.Pressure(psi)
}

// must returns a value that cannot be wrong.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
