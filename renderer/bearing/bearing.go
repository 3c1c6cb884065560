// Package bearing checks insulation under a slab against its loads, and holds
// the insulation down while concrete is poured on it.
//
// Methods: statics; 45° spread of a point load; plate on an elastic bed
// (Westergaard); buoyancy; ACI 347 for upturns. These are checks for
// discussion: a licensed engineer decides. This package knows no file, drawing
// or page.
package bearing

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Gravity is the standard acceleration, in m/s².
const Gravity = 9.80665

// The shares of the rated compressive resistance that last. Source: a
// manufacturer's foundation table for load-bearing slabs of XPS: a third for
// lasting load against creep, a fifth for load that repeats.
const (
	LongTerm units.Ratio = 1.0 / 3
	Repeated units.Ratio = 1.0 / 5
	// EPSLongTerm is EN 13163's 50-year share of the stress at 10 % (from memory).
	EPSLongTerm units.Ratio = 0.30
)

// Where a point load stands.
type Where string

// The places. A joint counts as an edge: no load transfer is counted.
const (
	Middle Where = "middle"
	EdgeOf Where = "edge"
	Joint  Where = "joint"
	Corner Where = "corner"
)

// Approach is the method whose point pressure governs.
type Approach string

// The approaches; the empty word is Worse.
const (
	Worse  Approach = "worse"
	Spread Approach = "spread"
	Plate  Approach = "plate"
)

// FoundationModulus is pressure per settlement, in Pa/m.
type FoundationModulus float64

// PerCubicInch returns the modulus in lbf/in³.
func (k FoundationModulus) PerCubicInch() float64 { return float64(k) / pci }

// PerCubicInch returns the modulus of so many lbf/in³.
func PerCubicInch(v float64) FoundationModulus { return FoundationModulus(v * pci) }

const (
	inch       = 0.0254                         // m
	poundForce = 0.45359237 * Gravity           // N
	psi        = poundForce / (inch * inch)     // Pa
	pci        = psi / inch                     // Pa/m
	psf        = poundForce / (0.3048 * 0.3048) // Pa
)

// Load is what a slab bears on its insulation.
type Load struct {
	// Dead is the weight of all above the insulation, the slab included.
	Dead, Live units.Pressure
	Point      *Point
	Slab       Slab
	Rated      units.Pressure // compressive resistance of the weakest insulation
	Derating   units.Ratio    // lasting share; 0: a third
	Bed        []FoundationModulus
	Approach   Approach
}

// Slab is the concrete that spreads a point load.
type Slab struct {
	Thickness units.Length
	Strength  units.Pressure // f′c; read by the plate; 0: 3,000 psi
	Elastic   units.Pressure // Young's modulus; 0: by ACI 318 from the strength
	Poisson   units.Ratio    // 0: 0.15
}

// UsualStrength is concrete of 3,000 psi. Source: common practice.
const UsualStrength units.Pressure = 3000 * psi

// Point is a force on a plate.
type Point struct {
	Force units.Force
	On    [2]units.Length
	Where Where // empty: Middle
	Lasts string
}

// Result is the check of the insulation.
type Result struct {
	Rated     units.Pressure
	Derating  units.Ratio
	Allowable units.Pressure
	Dead      units.Pressure
	Live      units.Pressure
	Uniform   units.Pressure // dead and live
	// PointSpread and PointPlate are the point load's own pressure by the two
	// methods, without dead load.
	PointSpread, PointPlate units.Pressure
	HasPoint                bool
	Spread                  *SpreadResult
	Plate                   *PlateResult
	PlateWhy                string         // why the plate is not computed
	Applied                 units.Pressure // the governing one, dead load in it
	Utilisation             units.Ratio
	Passes                  bool
	Governs                 string
	LiveOnRepeated          units.Ratio // live load alone on a fifth of the rated resistance
	NotComputed             []basis.NotComputed
	load                    *Load
}

// Facts are what stands beside every finding.
var Facts = []string{
	"The figures are for discussion: a licensed engineer decides.",
	"Rated resistance is short-term, at yield or 10 % strain; the lasting share is stated.",
	"Slab bending and punching not checked; a building post needs its own pad.",
	"Subgrade, edge, joints and shrinkage are not checked.",
}

// Solve checks insulation under a slab.
//
// Methods: statics; a point load by 45° spread and by a plate on an elastic
// bed, the worse governing unless the load says otherwise; dead load is added
// to both. Allowable pressure is the derated resistance.
// Errors: *[units.RangeError]; *[basis.MissingError] where the rated
// resistance is not stated.
func Solve(l *Load) (*Result, error) {
	r := &Result{Rated: l.Rated, Derating: l.Derating, Dead: l.Dead, Live: l.Live, Uniform: l.Dead + l.Live, load: l}
	if l.Rated == 0 {
		return nil, &basis.MissingError{Method: "bearing check", Quantity: "compressive resistance of the insulation", Put: "materials.yaml"}
	}
	if err := basis.Positive("rated compressive resistance", float64(l.Rated), "Pa"); err != nil {
		return nil, err
	}
	if r.Derating == 0 {
		r.Derating = LongTerm
	}
	if err := basis.Within("lasting share of the rated resistance", float64(r.Derating), 0, 1, ""); err != nil {
		return nil, err
	}
	for _, c := range []struct {
		quantity string
		p        units.Pressure
	}{{"dead load", l.Dead}, {"live load", l.Live}} {
		if err := basis.NotNegative(c.quantity, float64(c.p), "Pa"); err != nil {
			return nil, err
		}
		if err := basis.Finite(c.quantity, float64(c.p), "Pa"); err != nil {
			return nil, err
		}
	}
	r.Allowable = r.Rated * units.Pressure(r.Derating)
	r.Applied, r.Governs = r.Uniform, "uniform load"
	if l.Point != nil {
		if err := r.point(); err != nil {
			return nil, err
		}
	}
	r.Utilisation = units.Ratio(r.Applied / r.Allowable)
	r.Passes = r.Utilisation <= 1
	r.LiveOnRepeated = units.Ratio(float64(l.Live) / (float64(r.Rated) * float64(Repeated)))
	return r, nil
}

func (r *Result) point() error {
	l := r.load
	r.HasPoint = true
	var err error
	if r.Spread, err = SpreadPressure(*l.Point, l.Slab.Thickness); err != nil {
		return err
	}
	r.PointSpread = r.Spread.Pressure
	if len(l.Bed) == 0 {
		r.PlateWhy = "the foundation modulus of the bed is not stated"
	} else if r.Plate, err = PlatePressure(*l.Point, l.Slab, l.Bed); err != nil {
		r.PlateWhy = err.Error()
	} else {
		r.PointPlate = r.Plate.Pressure
	}
	if r.Plate == nil {
		r.NotComputed = append(r.NotComputed, basis.NotComputed{Key: "point_plate_Pa", Why: r.PlateWhy})
	}
	spread, plate := l.Approach != Plate, l.Approach != Spread
	switch l.Approach {
	case "", Worse, Spread:
	case Plate:
		if r.Plate == nil {
			return &basis.MissingError{Method: "plate on an elastic bed", Quantity: "foundation modulus of the bed", Put: "the assembly, or let the 45° spread govern"}
		}
	default:
		return &units.RangeError{Quantity: fmt.Sprintf("approach %q", l.Approach), Says: "must be worse, spread or plate"}
	}
	govern := func(p units.Pressure, what string) {
		if p += l.Dead; p > r.Applied {
			r.Applied, r.Governs = p, what
		}
	}
	if spread {
		govern(r.PointSpread, "point load, 45° spread")
	}
	if plate && r.Plate != nil {
		govern(r.PointPlate, "point load, plate on an elastic bed")
	}
	return nil
}

// SpreadResult is a point load spread at 45° to the underside of the slab.
type SpreadResult struct {
	Sides    [2]units.Length // of the area beneath
	Area     units.Area
	Pressure units.Pressure
}

// SpreadPressure returns the pressure beneath a slab from a force that spreads
// at 45° in every direction that has concrete: all around in the middle, not
// beyond an edge or joint, not beyond the two edges of a corner. At an edge,
// the side of the plate that gives the smaller area lies along it.
//
// Method: 45° spread (common practice, conservative).
// Errors: *[units.RangeError] for sizes or a force not above zero.
func SpreadPressure(p Point, slab units.Length) (*SpreadResult, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := basis.NotNegative("slab thickness", float64(slab), "m"); err != nil {
		return nil, err
	}
	if err := basis.Finite("slab thickness", float64(slab), "m"); err != nil {
		return nil, err
	}
	a, b := p.On[0], p.On[1]
	var sides [2]units.Length
	switch p.Where {
	case "", Middle:
		sides = [2]units.Length{a + 2*slab, b + 2*slab}
	case EdgeOf, Joint:
		sides = [2]units.Length{a + slab, b + 2*slab}
		if other := [2]units.Length{a + 2*slab, b + slab}; other[0]*other[1] < sides[0]*sides[1] {
			sides = other
		}
	case Corner:
		sides = [2]units.Length{a + slab, b + slab}
	}
	area := float64(sides[0]) * float64(sides[1])
	return &SpreadResult{Sides: sides, Area: units.Area(area), Pressure: units.Pressure(float64(p.Force) / area)}, nil
}

func (p *Point) check() error {
	if err := basis.Positive("point load", float64(p.Force), "N"); err != nil {
		return err
	}
	for _, side := range p.On {
		if err := basis.Positive("side of the loaded plate", float64(side), "m"); err != nil {
			return err
		}
	}
	switch p.Where {
	case "", Middle, EdgeOf, Joint, Corner:
		return nil
	}
	return &units.RangeError{Quantity: fmt.Sprintf("place %q", p.Where), Says: "must be middle, edge, joint or corner"}
}

// PlateResult is a point load on a plate on an elastic bed.
type PlateResult struct {
	Elastic   units.Pressure // Young's modulus of the slab
	Poisson   units.Ratio
	Modulus   FoundationModulus // of the bed, its parts in series
	Stiffness units.Length      // radius of relative stiffness l
	Radius    units.Length      // of the circle of the plate's area
	Settles   units.Length
	Pressure  units.Pressure
}

// PlatePressure returns the greatest pressure beneath a slab that bends on an
// elastic bed under a force.
//
// Method: Westergaard 1926 for a plate on a bed of springs (from memory), l =
// ⁴√(E h³/(12(1-ν²)k)), a the radius of the loaded circle: middle P/(8l²)
// [1 + (1/2π)(ln(a/2l) - 0.673)(a/l)²]; edge and joint P√(2+1.2ν)√(k/(E h³))
// [1 - (0.76+0.4ν) a/l]; corner P/l² [1.1 - 0.88√2 a/l].
// Valid while a ≤ l/2 or so: refused above l/2 at edges and corners, above l in
// the middle. Errors: *[units.RangeError].
func PlatePressure(p Point, slab Slab, bed []FoundationModulus) (*PlateResult, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := basis.Positive("slab thickness", float64(slab.Thickness), "m"); err != nil {
		return nil, err
	}
	k, err := InSeries(bed)
	if err != nil {
		return nil, err
	}
	r := &PlateResult{Modulus: k, Elastic: slab.Elastic, Poisson: slab.Poisson}
	if r.Poisson == 0 {
		r.Poisson = 0.15
	}
	if err := basis.Within("Poisson's ratio", float64(r.Poisson), 0, 0.5, ""); err != nil {
		return nil, err
	}
	if r.Elastic == 0 {
		strength := slab.Strength
		if strength == 0 {
			strength = UsualStrength
		}
		if r.Elastic, err = ElasticModulus(strength); err != nil {
			return nil, err
		}
	}
	if err := basis.Positive("Young's modulus of the slab", float64(r.Elastic), "Pa"); err != nil {
		return nil, err
	}
	e, nu, h, kk := float64(r.Elastic), float64(r.Poisson), float64(slab.Thickness), float64(k)
	l := math.Pow(e*h*h*h/(12*(1-nu*nu)*kk), 0.25)
	a := math.Sqrt(float64(p.On[0]) * float64(p.On[1]) / math.Pi)
	r.Stiffness, r.Radius = units.Length(l), units.Length(a)
	force, pressure, most := float64(p.Force), 0.0, 0.5
	switch p.Where {
	case "", Middle:
		pressure, most = force/(8*l*l)*(1+(math.Log(a/(2*l))-0.673)/(2*math.Pi)*(a/l)*(a/l)), 1
	case EdgeOf, Joint:
		pressure = force * math.Sqrt(2+1.2*nu) * math.Sqrt(kk/(e*h*h*h)) * (1 - (0.76+0.4*nu)*a/l)
	case Corner:
		pressure = force / (l * l) * (1.1 - 0.88*math.Sqrt2*a/l)
	}
	if a > most*l {
		return nil, &units.RangeError{Quantity: "radius of the loaded plate", Value: a, Limit: most * l, Unit: "m", Says: "is too great for a point load on this slab"}
	}
	r.Pressure, r.Settles = units.Pressure(pressure), units.Length(pressure/kk)
	return r, nil
}

// ElasticModulus returns Young's modulus of normal-weight concrete, in Pa.
//
// Method: ACI 318, 19.2.2: 57000 √f′c in psi (from memory).
// Errors: *[units.RangeError] unless the strength is above zero.
func ElasticModulus(strength units.Pressure) (units.Pressure, error) {
	if err := basis.Positive("concrete strength", float64(strength), "Pa"); err != nil {
		return 0, err
	}
	return units.Pressure(57000 * math.Sqrt(float64(strength)/psi) * psi), nil
}

// Trace says what the check rests on.
func (r *Result) Trace() basis.Trace {
	t := basis.Trace{Method: basis.Method{Name: "Statics", Says: "Dead and live load, or dead and point load, against the lasting share of the rated compressive resistance."}, Limits: Facts}
	input := func(name, format string, args ...any) {
		t.Inputs = append(t.Inputs, basis.Input{Name: name, Value: fmt.Sprintf(format, args...)})
	}
	kilo := func(p units.Pressure) float64 { return float64(p) / 1000 }
	input("rated resistance", "%.1f kPa", kilo(r.Rated))
	input("lasting share", "%.1f %%", 100*float64(r.Derating))
	input("dead load", "%.3g kPa", kilo(r.Dead))
	input("live load", "%.3g kPa", kilo(r.Live))
	if r.HasPoint {
		p := r.load.Point
		where := p.Where
		if where == "" {
			where = Middle
		}
		input("point load", "%.4g kN on %.3g x %.3g m, %s", float64(p.Force)/1000, float64(p.On[0]), float64(p.On[1]), where)
		if p.Lasts != "" {
			input("lasts", "%s", p.Lasts)
		}
		input("45° spread", "%.3g x %.3g m: %.3g kPa", float64(r.Spread.Sides[0]), float64(r.Spread.Sides[1]), kilo(r.PointSpread))
		if r.Plate != nil {
			input("plate on an elastic bed", "k %.3g MPa/m, radius of stiffness %.3g m: %.3g kPa", float64(r.Plate.Modulus)/1e6, float64(r.Plate.Stiffness), kilo(r.PointPlate))
		}
	}
	return t
}
