package bearing

import (
	"fmt"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Layer is one layer as weight.
type Layer struct {
	Name      string
	Thickness units.Length
	Density   units.Density // 0: not stated, unless Weightless
	// Framing members take Fraction of the layer.
	Fraction       units.Ratio
	FramingDensity units.Density
	Weightless     bool // air
}

// LayerWeight is one layer's share of the dead load.
type LayerWeight struct {
	Name   string
	Mass   units.MassPerArea
	Weight units.Pressure
}

// DeadLoad is the weight of a stack per area.
type DeadLoad struct {
	Layers  []LayerWeight // those whose density is known
	Mass    units.MassPerArea
	Weight  units.Pressure
	Missing []string // names of layers without a density; Weight is then a part only
}

// Weigh returns the dead load of layers.
//
// Method: Σ ρ d g, framing by its share. Errors: *[units.RangeError].
func Weigh(layers []Layer) (*DeadLoad, error) {
	out := &DeadLoad{Layers: make([]LayerWeight, 0, len(layers))}
	for i := range layers {
		l := &layers[i]
		if err := l.check(); err != nil {
			return nil, fmt.Errorf("%q: %w", l.Name, err)
		}
		if l.Weightless {
			l = &Layer{Name: l.Name, Thickness: l.Thickness, Fraction: l.Fraction, FramingDensity: l.FramingDensity, Weightless: true}
		}
		if l.Thickness > 0 && (l.Density == 0 && !l.Weightless || l.Fraction > 0 && l.FramingDensity == 0) {
			out.Missing = append(out.Missing, l.Name)
			continue
		}
		rho := float64(l.Density)*(1-float64(l.Fraction)) + float64(l.FramingDensity)*float64(l.Fraction)
		mass := rho * float64(l.Thickness)
		out.Layers = append(out.Layers, LayerWeight{l.Name, units.MassPerArea(mass), units.Pressure(mass * Gravity)})
		out.Mass += units.MassPerArea(mass)
		out.Weight += units.Pressure(mass * Gravity)
	}
	return out, nil
}

func (l *Layer) check() error {
	if err := basis.NotNegative("thickness", float64(l.Thickness), "m"); err != nil {
		return err
	}
	if err := basis.Finite("thickness", float64(l.Thickness), "m"); err != nil {
		return err
	}
	for _, rho := range [2]units.Density{l.Density, l.FramingDensity} {
		if err := basis.NotNegative("density", float64(rho), "kg/m³"); err != nil {
			return err
		}
		if err := basis.Finite("density", float64(rho), "kg/m³"); err != nil {
			return err
		}
	}
	return basis.Within("framing fraction", float64(l.Fraction), 0, 1, "")
}

// UnitWeight is a usual weight for dead load.
type UnitWeight struct {
	Material  string
	PoundsFt3 float64 // lb/ft³
}

// UnitWeights are usual weights. Source: ASCE 7, Table C3.1-2 (from memory).
var UnitWeights = []UnitWeight{
	{"concrete", 145}, {"reinforced concrete", 150}, {"lightweight concrete", 110}, {"brick masonry", 130}, {"dry gravel", 105}, {"dry sand", 100},
	{"dry earth", 76}, {"moist packed earth", 96}, {"softwood", 32}, {"plywood", 36}, {"gypsum", 50}, {"steel", 490}, {"aluminum", 165}, {"glass", 160},
	{"water", 62.4}, {"XPS", 2}, {"mineral wool", 3},
}

// LiveLoad is a residential live load.
type LiveLoad struct {
	Use  string
	Load units.Pressure
}

// LiveLoads are residential live loads. Source: IRC 2000, Table R301.4; the
// adopted edition varies: defer to the local code.
var LiveLoads = []LiveLoad{
	{"rooms", 40 * psf}, {"sleeping rooms", 30 * psf}, {"attic with storage", 20 * psf}, {"attic without storage", 10 * psf}, {"decks", 40 * psf},
	{"exterior balconies", 60 * psf}, {"garage", 50 * psf}, {"stairs", 40 * psf},
}

// Concentrated residential loads of the same table.
const (
	GuardLoad  units.Force = 200 * poundForce
	GarageLoad units.Force = 2000 * poundForce // on GarageArea
	GarageArea units.Area  = 20 * inch * inch
)
