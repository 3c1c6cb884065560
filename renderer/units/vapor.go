package units

import "strings"

var (
	permeances = quantity{name: "a vapor permeance", inch: "perm", metric: "ng/(s m2 Pa)", units: []unit{
		{"perm", onePerm, 0}, {"perms", onePerm, 0}, {"ng/sm2Pa", 1e-12, 0}, {"ng/Pasm2", 1e-12, 0}, {"ng/m2sPa", 1e-12, 0},
	}}
	permeabilities = quantity{name: "a vapor permeability", inch: "perm in", metric: "ng/(s m Pa)", units: []unit{
		{"permin", onePermInch, 0}, {"perminch", onePermInch, 0}, {"ng/smPa", 1e-12, 0}, {"ng/Pasm", 1e-12, 0}, {"ng/msPa", 1e-12, 0},
	}}
)

// ParsePermeance reads the vapor permeance of a sheet and returns
// kg/(m²·s·Pa): 0.1 perm, 57 ng/(s m2 Pa). The perm is that at 0 °C.
// Errors: *[ParseError].
func ParsePermeance(s string) (Permeance, error) {
	v, err := permeances.parse(s)
	return Permeance(v), err
}

// ParsePermeability reads the vapor permeability of a material and returns
// kg/(m·s·Pa): 30 perm in.
// Errors: *[ParseError].
func ParsePermeability(s string) (Permeability, error) {
	v, err := permeabilities.parse(s)
	return Permeability(v), err
}

// ParseSd reads an equivalent air layer, sd 100 m, and returns metres.
// Errors: *[ParseError].
func ParseSd(s string) (Length, error) {
	i := afterWord(s, "sd")
	if i < 0 {
		return 0, &ParseError{s, 0, "does not begin with sd", "write sd 100 m"}
	}
	l, err := ParseLength(s[i:])
	if err != nil {
		return 0, moved(err, s, i)
	}
	return l, nil
}

// ParseMu reads a vapor resistance factor, mu 50. It is at least 1: nothing
// lets more vapor through than still air.
// Errors: *[ParseError].
func ParseMu(s string) (Ratio, error) {
	i := afterWord(s, "mu")
	if i < 0 {
		if i = afterWord(s, "μ"); i < 0 {
			return 0, &ParseError{s, 0, "does not begin with mu", "write mu 50"}
		}
	}
	v, err := ParseNumber(s[i:])
	if err != nil {
		return 0, moved(err, s, i)
	}
	if v < 1 {
		return 0, &ParseError{s, i, "mu is at least 1, that of still air", ""}
	}
	return Ratio(v), nil
}

// afterWord returns where the text after a leading word begins, or -1.
func afterWord(s, word string) int {
	i := skipSpace(s, 0)
	if !strings.HasPrefix(s[i:], word) {
		return -1
	}
	j := skipSpace(s, i+len(word))
	if j == i+len(word) && j < len(s) && !isDigit(s[j]) && s[j] != '.' && s[j] != '-' {
		return -1
	}
	return j
}
