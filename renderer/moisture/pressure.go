// Package moisture computes how water vapor stands in a layer stack over the
// year: saturation and dew point, humidity at the inside surface, condensation
// and drying between the layers, and what room air would meet on cold faces.
//
// Methods: ISO 13788:2012. Layers run inside to outside, months from January.
// No storage, no rain, no capillary flow and no air leakage are in the
// figures. This package knows no file, drawing or page.
package moisture

import (
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Constants of ISO 13788:2012, 4.4, 5.3, 6.3 and Annex A (from memory).
const (
	// SurfaceMould is the inside surface resistance for the mould check of
	// opaque elements, in m²·K/W.
	SurfaceMould units.ThermalResistance = 0.25
	// SurfaceGlazing is that for glazing and frames.
	SurfaceGlazing units.ThermalResistance = 0.13
	// SurfaceOutside is the outside surface resistance.
	SurfaceOutside units.ThermalResistance = 0.04
	// CriticalMould and CriticalCorrosion are surface humidities not to pass.
	CriticalMould     units.Ratio = 0.8
	CriticalCorrosion units.Ratio = 0.6
	// DivideAbove is the resistance above which a layer is divided.
	DivideAbove units.ThermalResistance = 0.25
	// UsualMargin is the margin on the moisture load that the standard
	// proposes; it is applied where the library asks for it.
	UsualMargin units.Ratio = 0.10
	// AcceptedFactor is the temperature factor accepted for dwellings, BRE
	// IP 1/06.
	AcceptedFactor = 0.75
)

// ISO 13788:2012, Annex E.
const (
	psat0           = 610.5 // Pa, at 0 °C
	waterA, waterB  = 17.269, 237.3
	iceA, iceB      = 21.875, 265.5
	lowest          = -100.0 // °C; the formulas are not used beyond these
	highest         = 200.0
	secondsPerDay   = 86400.0
	delta0          = float64(units.VaporPermeabilityOfAir) // kg/(m·s·Pa)
	leastDifference = 2.0                                   // K between the airs for a temperature factor
	vaporTightSd    = 1e6                                   // m, stands for vapor tight
	leastCondensate = 1e-9                                  // kg/m² in a month; less is rounding
)

// SaturationPressure returns the saturation vapor pressure over water at and
// above 0 °C and over ice below, in Pa.
//
// Method: ISO 13788:2012, Annex E, E.7 and E.8. Valid from -100 to 200 °C; it
// lies 0.1 % (0.5 % at -20 °C) below [SaturationPressureASHRAE].
// Errors: *[units.RangeError].
func SaturationPressure(t units.Temperature) (units.Pressure, error) {
	if err := basis.Within("temperature", float64(t), lowest, highest, "°C"); err != nil {
		return 0, err
	}
	return units.Pressure(saturation(float64(t))), nil
}

func saturation(t float64) float64 {
	if t >= 0 {
		return psat0 * math.Exp(waterA*t/(waterB+t))
	}
	return psat0 * math.Exp(iceA*t/(iceB+t))
}

// DewPoint returns the temperature at which air of vapor pressure p is
// saturated, in °C; below 0 °C over ice.
//
// Method: ISO 13788:2012, Annex E, E.9 and E.10, the inverse of
// [SaturationPressure]. Errors: *[units.RangeError] unless p > 0 and within
// the saturation pressures of -100 to 200 °C.
func DewPoint(p units.Pressure) (units.Temperature, error) {
	if err := basis.Within("vapor pressure", float64(p), saturation(lowest), saturation(highest), "Pa"); err != nil {
		return 0, err
	}
	return units.Temperature(dewPoint(float64(p))), nil
}

func dewPoint(p float64) float64 {
	ln := math.Log(p / psat0)
	if p >= psat0 {
		return waterB * ln / (waterA - ln)
	}
	return iceB * ln / (iceA - ln)
}

// SurfaceLimit returns the lowest temperature at which a surface in air of
// vapor pressure p stays at or below the surface humidity, in °C: with 0.8 the
// mould limit, with 1 the dew point.
//
// Method: ISO 13788:2012, 5.3. Errors: *[units.RangeError].
func SurfaceLimit(p units.Pressure, humidity units.Ratio) (units.Temperature, error) {
	if err := basis.Within("surface humidity", float64(humidity), 0.01, 1, ""); err != nil {
		return 0, err
	}
	return DewPoint(p / units.Pressure(humidity))
}

// SaturationPressureASHRAE returns the saturation vapor pressure by Hyland and
// Wexler, in Pa: for checks, never mixed with [SaturationPressure].
//
// Method: ASHRAE Handbook-Fundamentals, ch. 1, eqs. 5 and 6. Valid from -100
// to 200 °C. Errors: *[units.RangeError].
func SaturationPressureASHRAE(t units.Temperature) (units.Pressure, error) {
	if err := basis.Within("temperature", float64(t), lowest, highest, "°C"); err != nil {
		return 0, err
	}
	return units.Pressure(hylandWexler(float64(t))), nil
}

func hylandWexler(t float64) float64 {
	k := t + 273.15
	if t < 0 {
		return math.Exp(-5674.536/k + 6.392525 + k*(-0.009677843+k*(6.22157e-07+k*(2.074783e-09-9.484024e-13*k))) + 4.163502*math.Log(k))
	}
	return math.Exp(-5800.2206/k + 1.3914993 + k*(-0.048640239+k*(4.1764768e-05-1.4452093e-08*k)) + 6.5459673*math.Log(k))
}

// DewPointASHRAE returns the dew point by Hyland and Wexler, in °C, found by
// bisection to 1e-9 K. Errors: *[units.RangeError].
func DewPointASHRAE(p units.Pressure) (units.Temperature, error) {
	low, high := lowest, highest
	if err := basis.Within("vapor pressure", float64(p), hylandWexler(low), hylandWexler(high), "Pa"); err != nil {
		return 0, err
	}
	for high-low > 1e-9 {
		if mid := (low + high) / 2; hylandWexler(mid) < float64(p) {
			low = mid
		} else {
			high = mid
		}
	}
	return units.Temperature((low + high) / 2), nil
}

// HumidityRatio returns kg of water per kg of dry air, at a vapor pressure p
// and an air pressure total, both in Pa.
//
// Method: ASHRAE Handbook-Fundamentals, ch. 1: 0.621945 p/(total-p).
// Errors: *[units.RangeError] unless 0 ≤ p < total.
func HumidityRatio(p, total units.Pressure) (units.Ratio, error) {
	if err := basis.Positive("air pressure", float64(total), "Pa"); err != nil {
		return 0, err
	}
	if !(p >= 0 && p < total) {
		return 0, &units.RangeError{Quantity: "vapor pressure", Value: float64(p), Limit: float64(total), Unit: "Pa", Says: "must lie between zero and the air pressure"}
	}
	return units.Ratio(0.621945 * float64(p) / float64(total-p)), nil
}

// EquivalentAirLayer returns sd = δ0/W, in m, of a sheet of permeance W.
// A permeance of zero is vapor tight: +Inf.
//
// Method: ISO 13788:2012, 4.2. Errors: *[units.RangeError] if w < 0.
func EquivalentAirLayer(w units.Permeance) (units.Length, error) {
	if err := basis.NotNegative("permeance", float64(w), "kg/(m²·s·Pa)"); err != nil {
		return 0, err
	}
	return units.Length(delta0 / float64(w)), nil
}
