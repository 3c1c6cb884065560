package units

// The figures of a page that have no type of their own, in inch-pound units.
// Each follows from the exact definitions above it in this package.

// BtuPerHour returns a heat flow of so many W in Btu/h.
func BtuPerHour(watts float64) float64 { return watts * hour / btu }

// BtuPerHourFoot returns a heat flow of so many W/m in Btu/(h·ft).
func BtuPerHourFoot(wattsPerMeter float64) float64 { return BtuPerHour(wattsPerMeter) * foot }

// BtuPerHourF returns a coupling of so many W/K in Btu/(h·°F).
func BtuPerHourF(wattsPerKelvin float64) float64 { return BtuPerHour(wattsPerKelvin) * degreeF }

// BtuPerSquareFootF returns a heat capacity of so many J/(m²·K) in Btu/(ft²·°F).
func BtuPerSquareFootF(joulesPerM2K float64) float64 {
	return joulesPerM2K * foot * foot * degreeF / btu
}

// PoundsPerFoot returns a force of so many N/m in lbf/ft.
func PoundsPerFoot(newtonsPerMeter float64) float64 { return newtonsPerMeter * foot / poundForce }

// PoundsPerSquareFoot returns the mass per area in lb/ft².
func (m MassPerArea) PoundsPerSquareFoot() float64 { return float64(m) * foot * foot / pound }

// BtuPerHourFootF returns the linear transmittance in Btu/(h·ft·°F).
func (t LinearTransmittance) BtuPerHourFootF() float64 { return float64(t) / (perInchRValue * 12) }
