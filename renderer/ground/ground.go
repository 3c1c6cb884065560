// Package ground computes heat flow through floors and walls on the ground:
// slab on ground with edge insulation, suspended floor, heated basement;
// steady, and month by month.
//
// Method: ISO 13370:2017 (formulas from memory; the same algebra in the 1998
// and 2007 editions). This package knows no file, drawing or page.
package ground

import (
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Method names the standard in results.
const Method = "ISO 13370:2017"

// Conventional inputs of ISO 13370:2017 (from memory).
const (
	SurfaceFloor   units.ThermalResistance = 0.17 // inside, floor
	SurfaceWall    units.ThermalResistance = 0.13 // inside, wall
	SurfaceOutside units.ThermalResistance = 0.04
	WindSpeedMPerS                         = 4.0 // m/s at 10 m, suspended floors

	ShieldSheltered = 0.02 // wind shielding f_w: city center
	ShieldAverage   = 0.05 // suburban
	ShieldExposed   = 0.10 // rural
)

// VentOpenings are the conventional areas of openings of a suspended floor, in
// m² per m of perimeter.
var VentOpenings = [2]units.Area{0.0015, 0.003}

const (
	secondsPerYear = 3.15e7 // as the standard rounds it
	linearSlope    = 0.457
	periodicEdge   = 0.37
)

// Soil is the ground.
type Soil struct {
	Name         string
	Conductivity units.Conductivity
	// HeatCapacityJPerM3K is ρ·c, J/(m³·K); read by the monthly figures only.
	HeatCapacityJPerM3K float64
}

// Soils are the three grounds of ISO 13370:2017, Table 7 (from memory).
var Soils = [3]Soil{
	{"clay", 1.5, 3e6},
	{"sand", 2.0, 2e6},
	{"rock", 3.5, 2e6},
}

// SoilNamed returns the ground of a name: clay (or silt), sand (or gravel),
// rock.
func SoilNamed(name string) (Soil, bool) {
	switch name {
	case "silt":
		name = "clay"
	case "gravel":
		name = "sand"
	}
	for _, s := range Soils {
		if s.Name == name {
			return s, true
		}
	}
	return Soil{}, false
}

// PenetrationDepth returns δ = √(3.15·10⁷ λ/(π ρ c)), in m, the depth at
// which the yearly swing is down to 1/e.
//
// Method: ISO 13370:2017, Annex H. Errors: *[units.RangeError].
func (s Soil) PenetrationDepth() (units.Length, error) {
	if err := basis.Positive("soil conductivity", float64(s.Conductivity), "W/(m·K)"); err != nil {
		return 0, err
	}
	if err := basis.Positive("soil heat capacity", s.HeatCapacityJPerM3K, "J/(m³·K)"); err != nil {
		return 0, err
	}
	return units.Length(math.Sqrt(secondsPerYear * float64(s.Conductivity) / (math.Pi * s.HeatCapacityJPerM3K))), nil
}

// Plan is the floor's plan.
type Plan struct {
	Area      units.Area
	Perimeter units.Length // exposed
	Wall      units.Length // thickness of the walls about it, w
}

// CharacteristicDimension returns B′ = A/(0.5 P), in m.
//
// Method: ISO 13370:2017, 8.1 (clause from memory). A floor with no exposed
// perimeter has B′ = +Inf. Errors: *[units.RangeError] if A ≤ 0 or P < 0.
func (p Plan) CharacteristicDimension() (units.Length, error) {
	if err := basis.Positive("floor area", float64(p.Area), "m²"); err != nil {
		return 0, err
	}
	if err := basis.NotNegative("exposed perimeter", float64(p.Perimeter), "m"); err != nil {
		return 0, err
	}
	return units.Length(float64(p.Area) / (0.5 * float64(p.Perimeter))), nil
}

// Branch says which of the two formulas holds.
type Branch string

// The branches.
const (
	LogBranch    Branch = "d_t < B′"
	LinearBranch Branch = "d_t >= B′"
)

// EquivalentThickness returns d_t = w + λ (Rsi + Rf + Rse), in m.
//
// Method: ISO 13370:2017, 8.2 (clause from memory).
// Errors: *[units.RangeError] if an input is negative or λ is not above zero.
func EquivalentThickness(wall units.Length, soil units.Conductivity, inside, floor, outside units.ThermalResistance) (units.Length, error) {
	if err := basis.Positive("soil conductivity", float64(soil), "W/(m·K)"); err != nil {
		return 0, err
	}
	if err := basis.NotNegative("wall thickness", float64(wall), "m"); err != nil {
		return 0, err
	}
	for _, r := range [3]units.ThermalResistance{inside, floor, outside} {
		if err := basis.NotNegative("resistance of the floor or a surface", float64(r), "m²·K/W"); err != nil {
			return 0, err
		}
	}
	return wall + units.Length(float64(soil)*float64(inside+floor+outside)), nil
}

// SlabTransmittance returns U of a slab on ground, in W/(m²·K), from B′ and
// d_t (m).
//
// Method: ISO 13370:2017, 9.1 (clause from memory): 2λ/(πB′+d_t) ln(πB′/d_t+1)
// below B′, λ/(0.457 B′+d_t) at and above it; a step of 0.014 % at the join.
// Errors: *[units.RangeError] unless B′ and d_t are above zero.
func SlabTransmittance(soil units.Conductivity, bPrime, dt units.Length) (units.ThermalTransmittance, Branch, error) {
	if err := basis.Positive("soil conductivity", float64(soil), "W/(m·K)"); err != nil {
		return 0, "", err
	}
	if err := basis.Positive("B′", float64(bPrime), "m"); err != nil {
		return 0, "", err
	}
	if err := basis.Positive("equivalent thickness d_t", float64(dt), "m"); err != nil {
		return 0, "", err
	}
	u, branch := slab(float64(soil), float64(bPrime), float64(dt))
	return units.ThermalTransmittance(u), branch, nil
}

func slab(lambda, b, dt float64) (float64, Branch) {
	if dt < b {
		return logForm(lambda, b, dt), LogBranch
	}
	return lambda / (linearSlope*b + dt), LinearBranch
}

func logForm(lambda, b, dt float64) float64 {
	return 2 * lambda / (math.Pi*b + dt) * math.Log1p(math.Pi*b/dt)
}

// StripTransmittance returns the exact U of an infinite strip floor of width B
// whose air meets the ground without resistance, the temperature falling in a
// straight line over wall zones of width w: the judge of the slab formula.
//
// Source: Laplace half-space, line-source integral. All in m and W/(m·K).
func StripTransmittance(soil units.Conductivity, width, wall units.Length) units.ThermalTransmittance {
	r := float64(width / wall)
	return units.ThermalTransmittance(2 * float64(soil) / (math.Pi * float64(width)) * ((1+r)*math.Log1p(r) - r*math.Log(r)))
}
