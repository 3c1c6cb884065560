package units

import "math"

// Show returns the R-value, "R 32.6", or "5.74 m²K/W".
func (r ThermalResistance) Show(s System) string {
	if s == Metric {
		return shortFigure(float64(r)) + " m²K/W"
	}
	return r.RValue().String()
}

// String returns "R 32.6".
func (r RValue) String() string { return "R " + shortFigure(float64(r)) }

// shortFigure prints two decimals below 10, one below 100, then none.
func shortFigure(v float64) string {
	switch a := math.Abs(v); {
	case a < 9.995:
		return fixed(v, 2)
	case a < 99.95:
		return fixed(v, 1)
	}
	return fixed(v, 0)
}

// Show returns the U-factor, "U 0.031", or "0.174 W/m²K".
func (u ThermalTransmittance) Show(s System) string {
	if s == Metric {
		return transmittanceFigure(float64(u)) + " W/m²K"
	}
	return u.UFactor().String()
}

// String returns "U 0.031".
func (u UFactor) String() string { return "U " + transmittanceFigure(float64(u)) }

// ShowStated returns a U-factor that was stated: without zeros past the second
// decimal, "U 0.20".
func (u ThermalTransmittance) ShowStated(s System) string {
	figure := func(v float64) string {
		if f := rounded(v, 3); math.Abs(v) < 0.9995 && len(f) > len("0.20") {
			return f
		}
		return fixed(v, 2)
	}
	if s == Metric {
		return figure(float64(u)) + " W/m²K"
	}
	return "U " + figure(float64(u.UFactor()))
}

func transmittanceFigure(v float64) string {
	if math.Abs(v) < 0.9995 {
		return fixed(v, 3)
	}
	return fixed(v, 2)
}

// Show returns ψ in "Btu/h·ft·°F" or "W/mK".
func (t LinearTransmittance) Show(s System) string {
	if s == Metric {
		return fixed(float64(t), 3) + " W/mK"
	}
	return fixed(t.BtuPerHourFootF(), 3) + " Btu/h·ft·°F"
}

// Show returns the resistance of an inch, "R 4.2 per in", or "0.034 W/mK".
func (c Conductivity) Show(s System) string {
	if s == Metric {
		if c < 1 {
			return trimmed(float64(c), 3) + " W/mK"
		}
		return rounded(float64(c), 2) + " W/mK"
	}
	return "R " + significant(float64(c.PerInch()), 2) + " per in"
}

// Show returns "70 °F" or "21 °C", to the degree.
func (t Temperature) Show(s System) string {
	if s == Metric {
		return fixed(float64(t), 0) + " °C"
	}
	return fixed(t.Fahrenheit(), 0) + " °F"
}

// ShowTenth returns the temperature to a tenth of a degree: "48.5 °F".
func (t Temperature) ShowTenth(s System) string {
	if s == Metric {
		return fixed(float64(t), 1) + " °C"
	}
	return fixed(t.Fahrenheit(), 1) + " °F"
}

// ShowStated returns a temperature that was stated, to a tenth of a degree where
// it has one: "70 °F", "21.1 °C".
func (t Temperature) ShowStated(s System) string {
	if s == Metric {
		return trimmed(float64(t), 1) + " °C"
	}
	return trimmed(t.Fahrenheit(), 1) + " °F"
}

// Show returns "18 °F" or "10 K".
func (d TemperatureDifference) Show(s System) string {
	if s == Metric {
		return fixed(float64(d), 1) + " K"
	}
	return fixed(float64(d)/degreeF, 1) + " °F"
}

// Show returns "1,180 sq ft" or "110 m²"; small areas in "sq in" or "mm²".
func (a Area) Show(s System) string {
	if s == Metric {
		if a > 0 && a < 0.01 {
			return rounded(float64(a)*1e6, 3) + " mm²"
		}
		return rounded(float64(a), 3) + " m²"
	}
	if a > 0 && a < foot*foot {
		return rounded(float64(a)/(inch*inch), 3) + " sq in"
	}
	return rounded(a.SquareFeet(), 3) + " sq ft"
}

// Show returns "17,400 cu ft" or "493 m³".
func (v Volume) Show(s System) string {
	if s == Metric {
		return rounded(float64(v), 3) + " m³"
	}
	return rounded(float64(v)/(foot*foot*foot), 3) + " cu ft"
}

// Show returns a compressive resistance or a bearing pressure: "25 psi" or
// "172 kPa".
func (p Pressure) Show(s System) string {
	if s == Metric {
		if math.Abs(float64(p)) < 999.5 {
			return rounded(float64(p), 3) + " Pa"
		}
		return rounded(float64(p)/1000, 3) + " kPa"
	}
	return rounded(p.PSI(), 3) + " psi"
}

// ShowLoad returns a load per area: "3,600 psf" or "172 kPa".
func (p Pressure) ShowLoad(s System) string {
	if s == Metric {
		return rounded(float64(p)/1000, 3) + " kPa"
	}
	return rounded(p.PSF(), 3) + " psf"
}

// Show returns "1,250 lb" or "5.56 kN".
func (f Force) Show(s System) string {
	if s == Metric {
		return rounded(float64(f)/1000, 3) + " kN"
	}
	return rounded(f.Pounds(), 3) + " lb"
}

// Show returns "94 lb" or "42.6 kg".
func (m Mass) Show(s System) string {
	if s == Metric {
		return rounded(float64(m), 3) + " kg"
	}
	return rounded(float64(m)/pound, 3) + " lb"
}

// Show returns "2.1 lb/ft²" or "10.3 kg/m²".
func (m MassPerArea) Show(s System) string {
	if s == Metric {
		return rounded(float64(m), 3) + " kg/m²"
	}
	return rounded(float64(m)/(pound/(foot*foot)), 3) + " lb/ft²"
}

// Show returns "150 pcf" or "2,400 kg/m³".
func (d Density) Show(s System) string {
	if s == Metric {
		return rounded(float64(d), 3) + " kg/m³"
	}
	return rounded(float64(d)/(pound/(foot*foot*foot)), 3) + " pcf"
}

// Show returns "0.38 Btu/lb°F" or "1,600 J/kgK".
func (c SpecificHeat) Show(s System) string {
	if s == Metric {
		return rounded(float64(c), 3) + " J/kgK"
	}
	return rounded(float64(c)/(btu/(pound*degreeF)), 2) + " Btu/lb°F"
}

// Show returns "0.1 perm" or "5.7 ng/(s·m²·Pa)".
func (p Permeance) Show(s System) string {
	if s == Metric {
		return rounded(float64(p)*1e12, 3) + " ng/(s·m²·Pa)"
	}
	return rounded(p.Perms(), 2) + " perm"
}

// Show returns "30 perm in" or "43.6 ng/(s·m·Pa)".
func (p Permeability) Show(s System) string {
	if s == Metric {
		return rounded(float64(p)*1e12, 3) + " ng/(s·m·Pa)"
	}
	return rounded(p.PermInches(), 2) + " perm in"
}

// Percent returns "25 %".
func (r Ratio) Percent() string { return trimmed(float64(r)*100, 1) + " %" }

// Show returns the ratio in percent, in both systems.
func (r Ratio) Show(System) string { return r.Percent() }

// Degrees returns "33.7°".
func (a Angle) Degrees() string { return trimmed(float64(a)/degree, 1) + "°" }

// RiseIn12 returns the slope as the trade says it: "8 in 12".
func (a Angle) RiseIn12() string {
	return string(Length(math.Tan(float64(a))*12*inch).inFraction().appendSigned(nil)) + " in 12"
}

// Show returns "8 in 12" or "33.7°".
func (a Angle) Show(s System) string {
	if s == Metric {
		return a.Degrees()
	}
	return a.RiseIn12()
}

func (f Fraction) appendSigned(b []byte) []byte {
	if f.Negative {
		b = append(b, '-')
	}
	return f.append(b)
}

// Show returns "0.6 per hour", in both systems.
func (a AirChange) Show(System) string { return rounded(float64(a), 3) + " per hour" }
