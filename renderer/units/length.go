package units

import "strings"

var lengths = quantity{name: "a length", inch: "in", metric: "mm", units: []unit{
	{"in", inch, 0}, {"mm", 0.001, 0}, {"ft", foot, 0}, {"mil", mil, 0}, {"m", 1, 0}, {"cm", 0.01, 0},
	{"\"", inch, 0}, {"'", foot, 0}, {"inch", inch, 0}, {"inches", inch, 0}, {"foot", foot, 0}, {"feet", foot, 0},
	{"mils", mil, 0}, {"gauge", 0, 0}, {"ga", 0, 0}, {"yd", yard, 0}, {"km", 1000, 0}, {"um", 1e-6, 0},
}}

var coordinates = quantity{name: "a length", inch: "in", metric: "mm", units: lengths.units, negative: true}

// ParseLength reads a length that is not negative, and returns metres.
//
// Forms: 4 in, 2 1/2 in, 2½ in, 2.5 in, 4", 3'-6 1/2", 3' 6", 3 ft 6 in,
// 10 mil, 20 gauge (sheet steel), 90 mm, 2 cm, 0.3 m, and 0.
// Errors: *[ParseError].
func ParseLength(s string) (Length, error) { return parseLength(s, &lengths) }

// ParseCoordinate reads a length that may be negative, and returns metres.
// Errors: *[ParseError].
func ParseCoordinate(s string) (Length, error) { return parseLength(s, &coordinates) }

func parseLength(s string, q *quantity) (Length, error) {
	l, end, err := lengthAt(s, q)
	if err != nil {
		return 0, err
	}
	if end = skipSpace(s, end); end < len(s) {
		return 0, &ParseError{s, end, "\"" + shorten(s[end:]) + "\" does not belong after a length", ""}
	}
	return l, nil
}

// LengthBefore reads the length that s begins with, which may be negative,
// and returns metres and what follows: "2 in left of footing.left" gives 2 in
// and "left of footing.left".
// Errors: *[ParseError].
func LengthBefore(s string) (l Length, rest string, err error) {
	l, end, err := lengthAt(s, &coordinates)
	if err != nil {
		return 0, s, err
	}
	return l, s[skipSpace(s, end):], nil
}

// ParsePair reads two lengths with an x between: 4 in x 4 in, 4 x 8 ft,
// 600 × 1200 mm. A first length without a unit takes that of the second.
// Errors: *[ParseError].
func ParsePair(s string) (a, b Length, err error) {
	i, size := strings.IndexByte(s, 'x'), 1
	if k := strings.Index(s, "×"); k >= 0 {
		i, size = k, len("×")
	}
	if i < 0 {
		return 0, 0, &ParseError{s, len(s), "two lengths with an x between are needed", "write 4 in x 4 in"}
	}
	if b, err = ParseLength(s[i+size:]); err != nil {
		return 0, 0, moved(err, s, i+size)
	}
	first := s[:i]
	if n, bad := scan(first, 0); bad == nil && skipSpace(first, n.end) == len(first) {
		m, _ := scan(s, i+size)
		first = first[:n.end] + " " + s[m.end:]
	}
	if a, err = ParseLength(first); err != nil {
		return 0, 0, moved(err, s, 0)
	}
	return a, b, nil
}

// moved puts an error of a part of a text at its place in the whole.
func moved(err error, whole string, by int) error {
	e, ok := err.(*ParseError)
	if !ok {
		return err
	}
	return &ParseError{whole, e.Offset + by, e.Message, e.Mend}
}

// lengthAt reads a length at the start of s and returns where it ends.
func lengthAt(s string, q *quantity) (Length, int, error) {
	n, bad := scan(s, 0)
	if bad != nil {
		if bad.Mend == "" {
			bad.Mend = "write a length as 4 in, 2 1/2 in, 3'-6\" or 90 mm"
		}
		return 0, 0, bad
	}
	if n.value < 0 && !q.negative {
		return 0, 0, &ParseError{s, 0, "a length must not be negative here", ""}
	}
	at, end, u := lengthUnit(s, n.end)
	if u == nil {
		if end == at { // no unit at all
			if n.value == 0 && at == len(s) {
				return 0, at, nil
			}
			num := strings.TrimSpace(s[:n.end])
			return 0, 0, &ParseError{s, at, "a length needs a unit", "write " + num + " in or " + num + " mm"}
		}
		return 0, 0, q.unknown(s[:end], at).of(s)
	}
	switch {
	case u.factor == 0:
		d, err := sheetSteel(s, n)
		return d, end, err
	case u.factor != foot:
		return Length(n.value * u.factor), end, nil
	}
	inches, after, err := inchesAfterFeet(s, end, n)
	if err != nil {
		return 0, 0, err
	}
	if after == end {
		return Length(n.value * foot), end, nil
	}
	if strings.ContainsAny(s[:n.start], "-−") {
		inches = -inches
	}
	return Length(n.value*foot + inches*inch), after, nil
}

// of returns the error with the whole text in place of its beginning.
func (e *ParseError) of(whole string) *ParseError { e.Text = whole; return e }

// inchesAfterFeet reads the inches that may follow feet: -6 1/2", 6 in.
// Without any it returns i.
func inchesAfterFeet(s string, i int, feet number) (inches float64, end int, err error) {
	j := skipSpace(s, i)
	if j < len(s) && s[j] == '-' {
		k := skipSpace(s, j+1)
		if word := s[i-1] != '\'' && s[i-1]&0x80 == 0; word && (j > i || k > j+1) {
			return 0, i, nil // 6 ft - 3 in is a sum, which no length is
		}
		j = k
	}
	if j == len(s) || !isDigit(s[j]) && s[j] != 0xC2 && s[j] != 0xE2 {
		return 0, i, nil
	}
	n, bad := scanUnsigned(s, j)
	if bad != nil {
		if isDigit(s[j]) {
			return 0, 0, bad
		}
		return 0, i, nil
	}
	at, end, u := lengthUnit(s, n.end)
	if u == nil || u.factor != inch {
		return 0, 0, &ParseError{s, at, "after feet come inches", "write 3'-6\" or 3 ft 6 in"}
	}
	if !feet.whole {
		return 0, 0, &ParseError{s, feet.start, "feet beside inches must be whole", "write 3'-6\" or 3.5 ft"}
	}
	if n.value >= 12 {
		return 0, 0, &ParseError{s, j, "inches beside feet must be less than 12", ""}
	}
	return n.value, end, nil
}

// lengthUnit reads the unit of length at s[i:]: where it begins and ends,
// and which it is; nil if none is known.
func lengthUnit(s string, i int) (at, end int, u *unit) {
	at = skipSpace(s, i)
	rest := s[at:]
	size, word := 0, ""
	switch {
	case rest == "":
		return at, at, nil
	case rest[0] == '"', strings.HasPrefix(rest, "''"):
		size, word = 1, "\""
		if rest[0] == '\'' {
			size = 2
		}
	case rest[0] == '\'':
		size, word = 1, "'"
	case strings.HasPrefix(rest, "″"), strings.HasPrefix(rest, "”"):
		size, word = len("″"), "\""
	case strings.HasPrefix(rest, "′"), strings.HasPrefix(rest, "’"):
		size, word = len("′"), "'"
	default:
		for size < len(rest) && ('a' <= rest[size]|0x20 && rest[size]|0x20 <= 'z') {
			size++
		}
		word = rest[:size]
		switch {
		case size == 0:
			for size < len(rest) && rest[size] != ' ' {
				size++
			}
			return at, at + size, nil
		case word == "in" || word == "ft":
			if size < len(rest) && rest[size] == '.' {
				size++
			}
		}
	}
	for k := range lengths.units {
		if lengths.units[k].word == word {
			u = &lengths.units[k]
		}
	}
	// A unit runs to a space or a sign: "4 in2" is no length.
	if u != nil && size < len(rest) && word != "\"" && word != "'" {
		if c := rest[size]; c != ' ' && c != '\t' && c != '-' && c != ',' && c != ')' && c != ']' && !isNoBreak(rest[size:]) && !(isDigit(c) && u.factor == foot) {
			for size < len(rest) && rest[size] != ' ' {
				size++
			}
			return at, at + size, nil
		}
	}
	return at, at + size, u
}

func isNoBreak(s string) bool { return skipSpace(s, 0) > 0 }
