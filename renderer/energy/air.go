package energy

import (
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// UsualLeakDivisor turns the 50 Pa air change into a natural one at a first
// guess; its users call it a rough rule.
const UsualLeakDivisor = 20.0

// LeakFactors are those of n = C H S L. Source: Sherman 1987, Estimation of
// infiltration from leakage and climate indicators (from memory).
type LeakFactors struct {
	Climate float64 // C, 14 to 26
	Height  float64 // H: 1 one story, 0.9 one and a half, 0.8 two, 0.7 three
	Shield  float64 // S: 1.2 well shielded, 1 normal, 0.9 exposed
	Cracks  float64 // L: 1.4 small cracks, 1 normal, 0.7 large holes
}

// Divisor returns n = C H S L.
//
// Errors: *[units.RangeError] outside the published ranges.
func (f LeakFactors) Divisor() (float64, error) {
	for _, c := range []struct {
		quantity         string
		value, low, high float64
	}{{"climate factor C", f.Climate, 14, 26}, {"height factor H", f.Height, 0.7, 1}, {"shielding factor S", f.Shield, 0.9, 1.2}, {"crack factor L", f.Cracks, 0.7, 1.4}} {
		if err := basis.Within(c.quantity, c.value, c.low, c.high, ""); err != nil {
			return 0, err
		}
	}
	return f.Climate * f.Height * f.Shield * f.Cracks, nil
}

// NaturalAirChange returns the air change in use from that at 50 Pa.
//
// Method: ACH50/n. Errors: *[units.RangeError].
func NaturalAirChange(at50 units.AirChange, divisor float64) (units.AirChange, error) {
	if err := basis.NotNegative("air change at 50 Pa", float64(at50), "1/h"); err != nil {
		return 0, err
	}
	if err := basis.Positive("leak divisor n", divisor, ""); err != nil {
		return 0, err
	}
	return at50 / units.AirChange(divisor), nil
}

// LeakFlow returns the air flow of an air change through a volume, in m³/s.
func LeakFlow(volume units.Volume, rate units.AirChange) float64 {
	return float64(volume) * float64(rate) / 3600
}

// LeakHeat returns the heat that an air change costs, in W/K.
//
// Method: V n × [AirHeatJPerM3K].
func LeakHeat(volume units.Volume, rate units.AirChange) float64 {
	return LeakFlow(volume, rate) * AirHeatJPerM3K
}

// FlowRatio returns the flow at one pressure over that at another.
//
// Method: power law, exponent 0.65 (from memory).
// Errors: *[units.RangeError] unless both are above zero.
func FlowRatio(at, from units.Pressure) (float64, error) {
	if err := basis.Positive("pressure", float64(at), "Pa"); err != nil {
		return 0, err
	}
	if err := basis.Positive("pressure", float64(from), "Pa"); err != nil {
		return 0, err
	}
	return math.Pow(float64(at/from), 0.65), nil
}

// LeakageArea returns the effective leakage area of an air change at 50 Pa.
//
// Method: 0.055 in² per cfm at 50 Pa (from memory).
func LeakageArea(volume units.Volume, at50 units.AirChange) units.Area {
	const inch = foot / 12
	cfm := LeakFlow(volume, at50) * 60 / (foot * foot * foot)
	return units.Area(0.055 * cfm * inch * inch)
}
