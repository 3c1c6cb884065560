package units

import (
	"fmt"
	"math"
	"strconv"
)

// ParseError says why a text is not a quantity.
type ParseError struct {
	Text    string // what was read
	Offset  int    // in bytes, of the first sign that is wrong
	Message string // what is wrong: `unknown unit "inn"`
	Mend    string // what would put it right; may be empty
}

// Error returns the text, what is wrong and the mend, in one line.
func (e *ParseError) Error() string {
	s := strconv.Quote(shorten(e.Text)) + ": " + e.Message
	if e.Mend != "" {
		s += "; " + e.Mend
	}
	return s
}

// RangeError says that a value lies outside what a method or a quantity
// allows.
type RangeError struct {
	Quantity string  // "thickness"
	Value    float64 // in Unit
	Limit    float64 // in Unit
	Unit     string  // "m"
	Says     string  // the rule, in words: "must not be negative"
}

// Error returns the rule with the value and the limit.
func (e *RangeError) Error() string {
	s := fmt.Sprintf("%s %s %s", e.Quantity, number6(e.Value), e.Unit)
	if e.Unit == "" {
		s = fmt.Sprintf("%s %s", e.Quantity, number6(e.Value))
	}
	s += " " + e.Says
	if !math.IsNaN(e.Limit) && e.Limit != 0 {
		s += fmt.Sprintf(" (limit %s)", number6(e.Limit))
	}
	return s
}

func number6(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

// shorten cuts a text that would fill a screen.
func shorten(s string) string {
	const most = 60
	if len(s) <= most {
		return s
	}
	n := most
	for n > 0 && s[n]&0xC0 == 0x80 {
		n--
	}
	return s[:n] + "…"
}
