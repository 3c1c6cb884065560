package units

var (
	areas = quantity{name: "an area", inch: "sq ft", metric: "m2", units: []unit{
		{"sqft", foot * foot, 0}, {"m2", 1, 0}, {"ft2", foot * foot, 0}, {"sf", foot * foot, 0}, {"sqm", 1, 0},
		{"sqin", inch * inch, 0}, {"in2", inch * inch, 0}, {"mm2", 1e-6, 0}, {"cm2", 1e-4, 0}, {"sqyd", yard * yard, 0},
	}}
	volumes = quantity{name: "a volume", inch: "cu ft", metric: "m3", units: []unit{
		{"cuft", foot * foot * foot, 0}, {"m3", 1, 0}, {"ft3", foot * foot * foot, 0}, {"cf", foot * foot * foot, 0},
		{"cuyd", yard * yard * yard, 0}, {"yd3", yard * yard * yard, 0}, {"cuin", inch * inch * inch, 0}, {"L", 0.001, 0}, {"gal", usGallon, 0},
	}}
	temperatures = quantity{name: "a temperature", inch: "F", metric: "C", negative: true, noZero: true, units: []unit{
		{"F", 1 / 1.8, -32 / 1.8}, {"C", 1, 0}, {"degF", 1 / 1.8, -32 / 1.8}, {"degC", 1, 0}, {"K", 1, -273.15},
	}}
	differences = quantity{name: "a temperature difference", inch: "F", metric: "K", negative: true, units: []unit{
		{"F", degreeF, 0}, {"K", 1, 0}, {"C", 1, 0},
	}}
	pressures = quantity{name: "a pressure", inch: "psi", metric: "kPa", units: []unit{
		{"psi", psi, 0}, {"psf", psf, 0}, {"kPa", 1000, 0}, {"Pa", 1, 0}, {"ksf", 1000 * psf, 0}, {"ksi", 1000 * psi, 0},
		{"MPa", 1e6, 0}, {"kN/m2", 1000, 0}, {"N/mm2", 1e6, 0}, {"N/m2", 1, 0}, {"lb/ft2", psf, 0}, {"lb/in2", psi, 0},
		{"lb/sqft", psf, 0}, {"lb/sqin", psi, 0}, {"hPa", 100, 0}, {"inHg", inchOfMercury, 0},
	}}
	forces = quantity{name: "a force", inch: "lb", metric: "kN", units: []unit{
		{"lb", poundForce, 0}, {"lbf", poundForce, 0}, {"lbs", poundForce, 0}, {"kN", 1000, 0}, {"N", 1, 0}, {"kip", kip, 0}, {"kips", kip, 0},
	}}
	masses = quantity{name: "a mass", inch: "lb", metric: "kg", units: []unit{
		{"lb", pound, 0}, {"kg", 1, 0}, {"lbs", pound, 0}, {"g", 0.001, 0}, {"oz", ounce, 0}, {"t", 1000, 0},
	}}
	arealMasses = quantity{name: "a mass per area", inch: "lb/ft2", metric: "kg/m2", units: []unit{
		{"lb/ft2", pound / (foot * foot), 0}, {"psf", pound / (foot * foot), 0}, {"kg/m2", 1, 0}, {"g/m2", 0.001, 0}, {"oz/yd2", ounce / (yard * yard), 0},
	}}
	densities = quantity{name: "a density", inch: "pcf", metric: "kg/m3", units: []unit{
		{"pcf", pound / (foot * foot * foot), 0}, {"kg/m3", 1, 0}, {"lb/ft3", pound / (foot * foot * foot), 0},
		{"lb/cuft", pound / (foot * foot * foot), 0}, {"g/cm3", 1000, 0}, {"t/m3", 1000, 0},
	}}
	angles = quantity{name: "an angle", inch: "in 12", metric: "deg", negative: true, units: []unit{
		{"deg", degree, 0}, {"degrees", degree, 0}, {"degree", degree, 0}, {"rad", 1, 0},
	}}
)

// ParseArea reads an area and returns m²: 1180 sq ft, 110 m2, 4 sq in.
// Errors: *[ParseError].
func ParseArea(s string) (Area, error) { v, err := areas.parse(s); return Area(v), err }

// ParseVolume reads a volume and returns m³: 17400 cu ft, 490 m3, 30 cu yd.
// Errors: *[ParseError].
func ParseVolume(s string) (Volume, error) { v, err := volumes.parse(s); return Volume(v), err }

// ParseTemperature reads a temperature and returns °C: 70 F, -3.1 C, 70 °F.
// A bare 0 is refused: it could be either scale.
// Errors: *[ParseError]; *[RangeError] below absolute zero.
func ParseTemperature(s string) (Temperature, error) {
	v, err := temperatures.parse(s)
	if err == nil && v < -273.15 {
		return 0, &RangeError{"temperature", v, -273.15, "C", "lies below absolute zero"}
	}
	return Temperature(v), err
}

// ParseTemperatureDifference reads a difference and returns kelvins: 10 F, 5 K.
// Errors: *[ParseError].
func ParseTemperatureDifference(s string) (TemperatureDifference, error) {
	v, err := differences.parse(s)
	return TemperatureDifference(v), err
}

// ParsePressure reads a pressure or a load per area and returns Pa: 25 psi,
// 40 psf, 3 ksf, 150 kPa, 1.9 kN/m2.
// Errors: *[ParseError].
func ParsePressure(s string) (Pressure, error) { v, err := pressures.parse(s); return Pressure(v), err }

// ParseForce reads a force and returns newtons: 1250 lb (pounds-force), 5.5 kN,
// 2 kips.
// Errors: *[ParseError].
func ParseForce(s string) (Force, error) { v, err := forces.parse(s); return Force(v), err }

// ParseMass reads a mass and returns kilograms: 94 lb, 20 kg.
// Errors: *[ParseError].
func ParseMass(s string) (Mass, error) { v, err := masses.parse(s); return Mass(v), err }

// ParseMassPerArea reads a mass per area and returns kg/m²: 2 psf, 10 kg/m2.
// Errors: *[ParseError].
func ParseMassPerArea(s string) (MassPerArea, error) {
	v, err := arealMasses.parse(s)
	return MassPerArea(v), err
}

// ParseDensity reads a density and returns kg/m³: 150 pcf, 2400 kg/m3.
// Errors: *[ParseError].
func ParseDensity(s string) (Density, error) { v, err := densities.parse(s); return Density(v), err }
