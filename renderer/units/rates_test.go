package units

import (
	"math"
	"testing"
)

// Published: NIST SP 811 (2008), appendix B.8 (from memory; re-derived from
// exact definitions). Tolerance: half a unit of the last digit printed there.
func TestRates(t *testing.T) {
	for _, c := range []struct {
		name              string
		got, want, within float64 // of one inch-pound unit, in SI
	}{
		{"Btu/h, W", 1 / BtuPerHour(1), 2.930711e-1, 5e-8},
		{"Btu/(h·ft·°F), W/(m·K)", 1 / LinearTransmittance(1).BtuPerHourFootF(), 1.730735, 5e-7},
		{"Btu/(ft²·°F), J/(m²·K)", 1 / BtuPerSquareFootF(1), 1.135653e4 * 1.8, 0.9e-2},
		{"lbf/ft, N/m", 1 / PoundsPerFoot(1), 1.459390e1, 5e-6},
		{"lb/ft², kg/m²", 1 / MassPerArea(1).PoundsPerSquareFoot(), 4.882428, 5e-7},
		{"Btu/h and Btu/(h·ft), by the foot", BtuPerHour(1) / BtuPerHourFoot(1), 1 / 0.3048, 1e-12},
		{"Btu/h and Btu/(h·°F), by the degree", BtuPerHour(1) / BtuPerHourF(1), 1.8, 1e-12},
	} {
		if math.Abs(c.got-c.want) > c.within {
			t.Errorf("%s: %.9g, want %.9g ± %.0e", c.name, c.got, c.want, c.within)
		}
	}
}
