package units

import (
	"strings"

	"wythe/renderer/finding"
)

// unit is one written unit of a quantity.
type unit struct {
	word   string  // as normalised: without spaces, dots, brackets, degree signs
	factor float64 // SI = number × factor + offset
	offset float64
}

// quantity is how one kind of quantity is written.
type quantity struct {
	name     string // "a length"
	inch     string // the unit a mend offers first
	metric   string
	units    []unit
	negative bool // allowed
	noZero   bool // a bare 0 is refused
}

// parse reads s as number and unit and returns the SI value.
func (q *quantity) parse(s string) (float64, error) {
	n, err := scan(s, 0)
	if err != nil {
		if err.Mend == "" {
			err.Mend = "write " + q.name + " as 4 " + q.inch + " or 4 " + q.metric
		}
		return 0, err
	}
	return q.finish(s, n)
}

// finish reads the unit after a number.
func (q *quantity) finish(s string, n number) (float64, error) {
	if n.value < 0 && !q.negative {
		return 0, &ParseError{s, 0, q.name + " must not be negative", ""}
	}
	at := skipSpace(s, n.end)
	var buf [32]byte
	word := normalise(buf[:0], s[at:])
	if len(word) == 0 {
		if n.value == 0 && !q.noZero {
			return 0, nil
		}
		num := strings.TrimSpace(s[:n.end])
		return 0, &ParseError{s, at, q.name + " needs a unit", "write " + num + " " + q.inch + " or " + num + " " + q.metric}
	}
	if u := find(q.units, word); u != nil {
		return n.value*u.factor + u.offset, nil
	}
	return 0, q.unknown(s, at)
}

// find returns the unit written as word, or nil.
func find(units []unit, word []byte) *unit {
	for i := range units {
		if u := &units[i]; len(u.word) == len(word) && u.word == string(word) {
			return u
		}
	}
	return nil
}

// unknown says that s[at:] is no unit of q, and which is near.
func (q *quantity) unknown(s string, at int) *ParseError {
	written := strings.TrimSpace(s[at:])
	e := &ParseError{s, at, "unknown unit \"" + shorten(written) + "\"", ""}
	var buf [32]byte
	word := normalise(buf[:0], written)
	for _, other := range everyQuantity() {
		if u := find(other.units, word); u != nil {
			e.Message = "\"" + shorten(written) + "\" is not a unit of " + q.name + " but of " + other.name
			break
		}
	}
	words := make([]string, len(q.units))
	for i, u := range q.units {
		words[i] = u.word
	}
	if near := finding.Nearest(string(word), words); near != "" {
		e.Mend = "did you mean \"" + near + "\"?"
	} else {
		e.Mend = "write " + q.name + " in " + q.inch + " or " + q.metric
	}
	return e
}

// normalise appends s to buf without the signs that do not tell units apart:
// spaces, dots, brackets, carets, hyphens, degree signs, product signs;
// superscripts become digits. A unit longer than 32 bytes is cut there, which
// matches none.
func normalise(buf []byte, s string) []byte {
	for i := 0; i < len(s) && len(buf) < cap(buf); i++ {
		switch c := s[i]; c {
		case ' ', '\t', '.', '*', '(', ')', '^', '-':
		case 0xC2: // U+0080 to U+00BF
			if i+1 == len(s) {
				return append(buf, '?')
			}
			i++
			switch s[i] {
			case 0xA0, 0xB0, 0xB7: // no-break space, degree sign, middle dot
			case 0xB2: // ²
				buf = append(buf, '2')
			case 0xB3: // ³
				buf = append(buf, '3')
			default:
				buf = append(buf, '?')
			}
		case 0xE2:
			switch {
			case strings.HasPrefix(s[i:], "⋅"), strings.HasPrefix(s[i:], "\u202f"), strings.HasPrefix(s[i:], "‑"):
			case strings.HasPrefix(s[i:], "′"):
				buf = append(buf, '\'')
			case strings.HasPrefix(s[i:], "″"):
				buf = append(buf, '"')
			default:
				buf = append(buf, '?')
			}
			if i+2 < len(s) {
				i += 2
			}
		default:
			buf = append(buf, c)
		}
	}
	return buf
}

// everyQuantity lists the tables, for messages that name the right quantity.
func everyQuantity() []*quantity {
	return []*quantity{&lengths, &areas, &volumes, &temperatures, &pressures, &forces, &masses, &densities,
		&conductivities, &resistances, &transmittances, &specificHeats, &permeances, &permeabilities, &angles}
}
