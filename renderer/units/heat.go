package units

import "strings"

var (
	conductivities = quantity{name: "a conductivity", inch: "Btu in/h ft2 F", metric: "W/mK", units: []unit{
		{"W/mK", 1, 0}, {"Btuin/hft2F", perInchRValue, 0}, {"Btu/hftF", perInchRValue * 12, 0}, {"mW/mK", 0.001, 0}, {"W/mC", 1, 0},
	}}
	resistances = quantity{name: "a thermal resistance", inch: "h ft2 F/Btu", metric: "m2K/W", units: []unit{
		{"m2K/W", 1, 0}, {"hft2F/Btu", oneRValue, 0}, {"ft2hF/Btu", oneRValue, 0},
	}}
	transmittances = quantity{name: "a transmittance", inch: "Btu/h ft2 F", metric: "W/m2K", units: []unit{
		{"W/m2K", 1, 0}, {"Btu/hft2F", oneUFactor, 0},
	}}
	linears = quantity{name: "a linear transmittance", inch: "Btu/h ft F", metric: "W/mK", negative: true, units: []unit{
		{"W/mK", 1, 0}, {"Btu/hftF", perInchRValue * 12, 0},
	}}
	specificHeats = quantity{name: "a specific heat", inch: "Btu/lb F", metric: "J/kgK", units: []unit{
		{"J/kgK", 1, 0}, {"kJ/kgK", 1000, 0}, {"Btu/lbF", btu / (pound * degreeF), 0}, {"Wh/kgK", 3600, 0},
	}}
)

// ParseConductivity reads a conductivity and returns W/(m·K): 0.036 W/mK,
// 0.25 Btu in/h ft2 F, or the resistance of one inch, R 4.2 per in.
// Errors: *[ParseError], also for a conductivity that is not above 0.
func ParseConductivity(s string) (Conductivity, error) {
	if i := afterLetter(s, 'R'); i >= 0 {
		return parsePerInch(s, i)
	}
	v, err := conductivities.parse(s)
	if err == nil && v <= 0 {
		return 0, &ParseError{s, 0, "a conductivity must be above 0", ""}
	}
	return Conductivity(v), err
}

// parsePerInch reads "R 4.2 per in" from its number on.
func parsePerInch(s string, i int) (Conductivity, error) {
	n, bad := scan(s, i)
	if bad != nil {
		return 0, bad
	}
	at := skipSpace(s, n.end)
	switch rest := strings.TrimSpace(s[at:]); rest {
	case "per in", "per inch", "/in", "/inch", "/ in":
	case "":
		return 0, &ParseError{s, at, "an R-value alone is a resistance, not a conductivity", "write R " + s[n.start:n.end] + " per in"}
	default:
		return 0, &ParseError{s, at, "\"" + shorten(rest) + "\" does not belong after an R-value", "write R " + s[n.start:n.end] + " per in"}
	}
	if n.value <= 0 {
		return 0, &ParseError{s, n.start, "an R-value per inch must be above 0", ""}
	}
	return Conductivity(perInchRValue / n.value), nil
}

// IsPerInch reports whether s is a resistance per thickness, such as
// R 4.2 per in, rather than the resistance of a sheet.
func IsPerInch(s string) bool {
	i := afterLetter(s, 'R')
	return i >= 0 && (strings.Contains(s[i:], "per") || strings.Contains(s[i:], "/in"))
}

// ParseResistance reads a thermal resistance and returns m²·K/W:
// 0.13 m2K/W, R 0.68, R-20.
// Errors: *[ParseError]; a resistance per inch is refused.
func ParseResistance(s string) (ThermalResistance, error) {
	if i := afterLetter(s, 'R'); i >= 0 {
		n, bad := scan(s, i)
		if bad != nil {
			return 0, bad
		}
		if end := skipSpace(s, n.end); end < len(s) {
			if IsPerInch(s) {
				return 0, &ParseError{s, end, "a resistance per inch is a property of a material, not of a layer", "write R " + s[n.start:n.end]}
			}
			return 0, &ParseError{s, end, "an R-value takes no unit", "write R " + s[n.start:n.end]}
		}
		if n.value < 0 {
			return 0, &ParseError{s, i, "a thermal resistance must not be negative", ""}
		}
		return RValue(n.value).SI(), nil
	}
	v, err := resistances.parse(s)
	if e, ok := err.(*ParseError); ok && strings.HasSuffix(e.Message, "needs a unit") {
		e.Mend = "write R " + strings.TrimSpace(s) + " or " + strings.TrimSpace(s) + " m2K/W"
	}
	return ThermalResistance(v), err
}

// ParseTransmittance reads a transmittance and returns W/(m²·K):
// 0.25 W/m2K, 0.04 Btu/h ft2 F, U 0.04 (inch-pound).
// Errors: *[ParseError].
func ParseTransmittance(s string) (ThermalTransmittance, error) {
	if i := afterLetter(s, 'U'); i >= 0 {
		n, bad := scan(s, i)
		if bad != nil {
			return 0, bad
		}
		if end := skipSpace(s, n.end); end < len(s) {
			return 0, &ParseError{s, end, "U with a number is a U-factor and takes no unit", "write U " + s[n.start:n.end]}
		}
		if n.value < 0 {
			return 0, &ParseError{s, i, "a transmittance must not be negative", ""}
		}
		return UFactor(n.value).SI(), nil
	}
	v, err := transmittances.parse(s)
	return ThermalTransmittance(v), err
}

// ParseUFactor reads a U-factor as a window's label gives it and returns
// W/(m²·K): a bare number is inch-pound, 0.20; a unit may be written.
// Errors: *[ParseError].
func ParseUFactor(s string) (ThermalTransmittance, error) {
	if n, bad := scan(s, 0); bad == nil && skipSpace(s, n.end) == len(s) {
		if n.value < 0 {
			return 0, &ParseError{s, 0, "a U-factor must not be negative", ""}
		}
		return UFactor(n.value).SI(), nil
	}
	return ParseTransmittance(s)
}

// ParseLinearTransmittance reads a ψ-value and returns W/(m·K); it may be
// negative.
// Errors: *[ParseError].
func ParseLinearTransmittance(s string) (LinearTransmittance, error) {
	v, err := linears.parse(s)
	return LinearTransmittance(v), err
}

// ParseSpecificHeat reads a specific heat and returns J/(kg·K): 1600 J/kgK,
// 0.38 Btu/lb F.
// Errors: *[ParseError].
func ParseSpecificHeat(s string) (SpecificHeat, error) {
	v, err := specificHeats.parse(s)
	return SpecificHeat(v), err
}

// afterLetter returns where the number begins after "R ", "R-" or "R", with
// the letter given, or -1 if s does not begin so.
func afterLetter(s string, letter byte) int {
	i := skipSpace(s, 0)
	if i >= len(s) || s[i] != letter {
		return -1
	}
	i = skipSpace(s, i+1)
	if i+1 < len(s) && s[i] == '-' && (isDigit(s[i+1]) || s[i+1] == '.') {
		i++
	}
	if i < len(s) && (isDigit(s[i]) || s[i] == '.' || s[i] == '-' || s[i] == '+') {
		return i
	}
	return -1
}
