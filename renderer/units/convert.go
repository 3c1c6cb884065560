package units

// Exact definitions. The derived factors below follow from these alone.
//
// Source: NIST SP 811 (2008), appendix B (from memory); the international
// yard and pound agreement of 1959; the International Table Btu.
const (
	inch  = 0.0254       // m
	foot  = 12 * inch    // m
	yard  = 3 * foot     // m
	mil   = inch / 1000  // m
	pound = 0.45359237   // kg
	grain = pound / 7000 // kg
	ounce = pound / 16   // kg

	standardGravity = 9.80665                 // m/s²
	poundForce      = pound * standardGravity // N
	kip             = 1000 * poundForce       // N

	psi = poundForce / (inch * inch) // Pa
	psf = poundForce / (foot * foot) // Pa

	// inchOfMercury is at 0 °C: 25.4 mm of mercury of 13595.1 kg/m³.
	inchOfMercury = inch * 13595.1 * standardGravity // Pa

	btu           = 1055.05585262 // J
	degreeF       = 5.0 / 9.0     // K per Fahrenheit degree
	hour          = 3600.0        // s
	usGallon      = 231 * inch * inch * inch
	oneUFactor    = btu / (hour * foot * foot * degreeF) // W/(m²·K) in 1 Btu/(h·ft²·°F)
	oneRValue     = 1 / oneUFactor                       // m²·K/W in 1 h·ft²·°F/Btu
	perInchRValue = inch * oneUFactor                    // W/(m·K) at R 1 per inch

	// onePerm is one US perm, grain/(h·ft²·inHg) with mercury at 0 °C.
	onePerm = grain / (hour * foot * foot * inchOfMercury) // kg/(m²·s·Pa)
	// onePermInch is one perm-inch.
	onePermInch = onePerm * inch // kg/(m·s·Pa)
)

// VaporPermeabilityOfAir is δ0, the vapor permeability of still air, in
// kg/(m·s·Pa): what sd and mu are measured by.
//
// Source: ISO 13788:2012, 4.2 (from memory), one value for building use.
const VaporPermeabilityOfAir Permeability = 2e-10

// RValue returns the inch-pound R-value of a resistance.
func (r ThermalResistance) RValue() RValue { return RValue(float64(r) * oneUFactor) }

// SI returns the resistance of an R-value, in m²·K/W.
func (r RValue) SI() ThermalResistance { return ThermalResistance(float64(r) * oneRValue) }

// UFactor returns the inch-pound U-factor of a transmittance.
func (u ThermalTransmittance) UFactor() UFactor { return UFactor(float64(u) * oneRValue) }

// SI returns the transmittance of a U-factor, in W/(m²·K).
func (u UFactor) SI() ThermalTransmittance { return ThermalTransmittance(float64(u) * oneUFactor) }

// Fahrenheit returns the temperature in °F.
func (t Temperature) Fahrenheit() float64 { return float64(t)*1.8 + 32 }

// FromFahrenheit returns the temperature of so many °F.
func FromFahrenheit(degrees_F float64) Temperature { return Temperature((degrees_F - 32) / 1.8) }

// Kelvin returns the thermodynamic temperature, in K.
func (t Temperature) Kelvin() float64 { return float64(t) + 273.15 }

// Inches returns the length in inches.
func (l Length) Inches() float64 { return float64(l) / inch }

// Millimeters returns the length in millimetres.
func (l Length) Millimeters() float64 { return float64(l) * 1000 }

// Mils returns the length in thousandths of an inch.
func (l Length) Mils() float64 { return float64(l) / mil }

// Inches returns the length of so many inches.
func Inches(inches float64) Length { return Length(inches * inch) }

// Feet returns the length of so many feet.
func Feet(feet float64) Length { return Length(feet * foot) }

// Millimeters returns the length of so many millimetres.
func Millimeters(millimeters float64) Length { return Length(millimeters / 1000) }

// Perms returns the permeance in US perms.
func (p Permeance) Perms() float64 { return float64(p) / onePerm }

// PermInches returns the permeability in US perm-inches.
func (p Permeability) PermInches() float64 { return float64(p) / onePermInch }

// psi returns the pressure in pounds-force per square inch.
func (p Pressure) PSI() float64 { return float64(p) / psi }

// psf returns the pressure in pounds-force per square foot.
func (p Pressure) PSF() float64 { return float64(p) / psf }

// Pounds returns the force in pounds-force.
func (f Force) Pounds() float64 { return float64(f) / poundForce }

// SquareFeet returns the area in square feet.
func (a Area) SquareFeet() float64 { return float64(a) / (foot * foot) }

// PerInch returns the R-value of one inch of the material.
func (c Conductivity) PerInch() RValue { return RValue(perInchRValue / float64(c)) }
