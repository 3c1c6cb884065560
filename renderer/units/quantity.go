// Package units holds quantities: a type for each, SI inside, parsed and
// printed as the trade writes them.
package units

// Each quantity is a float64 in the unit its comment names.
type (
	Length                float64 // m
	Area                  float64 // m²
	Volume                float64 // m³
	Angle                 float64 // rad
	Temperature           float64 // °C
	TemperatureDifference float64 // K
	Conductivity          float64 // W/(m·K)
	ThermalResistance     float64 // m²·K/W
	ThermalTransmittance  float64 // W/(m²·K)
	LinearTransmittance   float64 // W/(m·K)
	Density               float64 // kg/m³
	SpecificHeat          float64 // J/(kg·K)
	Pressure              float64 // Pa; also load per area
	Force                 float64 // N
	Mass                  float64 // kg
	MassPerArea           float64 // kg/m²
	Permeability          float64 // kg/(m·s·Pa)
	Permeance             float64 // kg/(m²·s·Pa)
	Ratio                 float64 // 1: fractions, percent, relative humidity, mu
	AirChange             float64 // 1/h
	Emissivity            float64 // 1

	// RValue and UFactor are the inch-pound pair, for print only.
	RValue  float64 // h·ft²·°F/Btu
	UFactor float64 // Btu/(h·ft²·°F)
)

// System says which units are shown first.
type System int

const (
	Inch System = iota
	Metric
)
