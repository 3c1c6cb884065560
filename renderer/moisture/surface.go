package moisture

import (
	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// FactorMonth is one month of the search for the lowest temperature factor.
type FactorMonth struct {
	Inside, Outside Air
	Humidity        units.Ratio       // of the room air
	SurfaceLeast    units.Temperature // the surface must not be colder
	Factor          float64           // f_Rsi,min, 1
	// LeftOut: the airs are within 2 K, where the quotient loses its meaning.
	LeftOut bool
}

// Factor is the lowest allowed temperature factor of the inside surface.
type Factor struct {
	Critical units.Ratio // surface humidity not to pass
	Months   [12]FactorMonth
	Month    int     // the month that asks most, from 0; -1: all left out
	Required float64 // f_Rsi,min of that month; 0 where Month is -1
}

// RequiredFactor returns the lowest allowed temperature factor of the inside
// surface, f = (θsi,min - θe)/(θi - θe), month by month, for a surface
// humidity: [CriticalMould], or 1 for condensation.
//
// Method: ISO 13788:2012, 5.3 and 5.4. Months whose airs lie within 2 K are
// left out. Errors: *[units.RangeError].
func RequiredFactor(y *Year, critical units.Ratio) (*Factor, error) {
	out := &Factor{Critical: critical, Month: -1}
	for i := range out.Months {
		in, ex := y.Inside[i], y.Outside[i]
		least, err := SurfaceLimit(in.Pressure, critical)
		if err != nil {
			return nil, err
		}
		m := FactorMonth{Inside: in, Outside: ex, Humidity: in.Humidity(), SurfaceLeast: least}
		if m.LeftOut = in.Temperature-ex.Temperature < leastDifference; !m.LeftOut {
			m.Factor = float64(least-ex.Temperature) / float64(in.Temperature-ex.Temperature)
			if out.Month < 0 || m.Factor > out.Required {
				out.Month, out.Required = i, m.Factor
			}
		}
		out.Months[i] = m
	}
	return out, nil
}

// TemperatureFactor returns f_Rsi = 1 - Rsi/R_T of a plain element, with the
// inside surface resistance of the mould check in place of its own.
//
// Method: ISO 13788:2012, 4.4.1 and 5.3. layers is the resistance from face to
// face. Errors: *[units.RangeError].
func TemperatureFactor(layers, inside, outside units.ThermalResistance) (float64, error) {
	for _, c := range []struct {
		quantity string
		r        units.ThermalResistance
	}{{"resistance of the layers", layers}, {"inside surface resistance", inside}, {"outside surface resistance", outside}} {
		if err := basis.NotNegative(c.quantity, float64(c.r), "m²·K/W"); err != nil {
			return 0, err
		}
	}
	total := layers + inside + outside
	if !(total > 0) {
		return 0, basis.Positive("total resistance", float64(total), "m²·K/W")
	}
	return 1 - float64(inside/total), nil
}

// SurfaceMonth is the inside surface in one month.
type SurfaceMonth struct {
	Temperature units.Temperature
	Humidity    units.Ratio // at the surface, relative; over 1: condensation
}

// SurfaceMonths returns the inside surface month by month for a temperature
// factor.
//
// Method: ISO 13788:2012, 5.3. Errors: *[units.RangeError].
func SurfaceMonths(y *Year, fRsi float64) ([12]SurfaceMonth, error) {
	var out [12]SurfaceMonth
	if err := basis.Within("temperature factor", fRsi, 0, 1, ""); err != nil {
		return out, err
	}
	for i := range out {
		in, ex := y.Inside[i], y.Outside[i]
		t := float64(ex.Temperature) + fRsi*float64(in.Temperature-ex.Temperature)
		out[i] = SurfaceMonth{units.Temperature(t), units.Ratio(float64(in.Pressure) / saturation(t))}
	}
	return out, nil
}
