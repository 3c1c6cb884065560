package thermal

import (
	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// The convective coefficients inside, in W/(m²·K), by the direction of heat
// flow. Source: ISO 6946:2017, Annex C (from memory).
const (
	ConvectionUp         = 5.0
	ConvectionHorizontal = 2.5
	ConvectionDown       = 0.7

	stefanBoltzmann = 5.67e-8 // W/(m²·K⁴)
)

// ConvectionOutside returns the convective coefficient outside, in W/(m²·K),
// at a wind speed (m/s) beside the face.
//
// Method: ISO 6946:2017, Annex C: 4 + 4v (from memory).
// Errors: *[units.RangeError] if the speed is negative or not finite.
func ConvectionOutside(windMPerS float64) (float64, error) {
	if err := basis.NotNegative("wind speed", windMPerS, "m/s"); err != nil {
		return 0, err
	}
	return 4 + 4*windMPerS, basis.Finite("wind speed", windMPerS, "m/s")
}

// BlackBodyCoefficient returns the radiative coefficient h_r0 = 4σT³ of a
// black body at a temperature, in W/(m²·K).
//
// Method: ISO 6946:2017, Annex C. Errors: *[units.RangeError] below absolute zero.
func BlackBodyCoefficient(at units.Temperature) (float64, error) {
	k := at.Kelvin()
	if err := basis.Positive("absolute temperature", k, "K"); err != nil {
		return 0, err
	}
	return 4 * stefanBoltzmann * k * k * k, nil
}

// SurfaceResistance returns R_s = 1/(h_c + ε h_r0) of a face of an emissivity,
// in m²·K/W, at the mean temperature of the face and what it sees. convection
// is h_c, in W/(m²·K). An emissivity of zero is a perfect mirror.
//
// Method: ISO 6946:2017, Annex C. Errors: *[units.RangeError].
func SurfaceResistance(convection float64, emissivity units.Emissivity, at units.Temperature) (units.ThermalResistance, error) {
	if err := basis.NotNegative("convective coefficient", convection, "W/(m²·K)"); err != nil {
		return 0, err
	}
	if err := basis.Within("emissivity", float64(emissivity), 0, 1, ""); err != nil {
		return 0, err
	}
	radiation, err := BlackBodyCoefficient(at)
	if err != nil {
		return 0, err
	}
	h := convection + float64(emissivity)*radiation
	if err := basis.Positive("surface coefficient", h, "W/(m²·K)"); err != nil {
		return 0, err
	}
	return units.ThermalResistance(1 / h), nil
}
