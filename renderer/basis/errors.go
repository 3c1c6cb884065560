package basis

import (
	"fmt"
	"math"

	"wythe/renderer/units"
)

// RefusedError says that a method does not cover a case, and why.
type RefusedError struct {
	Method string // "ISO 6946:2017 6.7.2"
	Case   string // `"studs" is metal framing`
	Why    string // the reason, and what would serve instead
}

// Error prints the case and the reason.
func (e *RefusedError) Error() string {
	return fmt.Sprintf("%s does not cover this: %s; %s", e.Method, e.Case, e.Why)
}

// MissingError says that a value is needed and not given.
type MissingError struct {
	Method   string // what needs it
	Quantity string // `density of "panel"`
	Put      string // where to put it: "materials.yaml"
}

// Error prints what is missing and where to put it.
func (e *MissingError) Error() string {
	s := fmt.Sprintf("%s needs the %s", e.Method, e.Quantity)
	if e.Put != "" {
		s += "; put it in " + e.Put
	}
	return s
}

// NotNegative returns a *units.RangeError unless value ≥ 0; infinity passes.
func NotNegative(quantity string, value float64, unit string) error {
	if value >= 0 {
		return nil
	}
	return &units.RangeError{Quantity: quantity, Value: value, Unit: unit, Says: "must not be negative"}
}

// Positive returns a *units.RangeError unless value > 0 and finite.
func Positive(quantity string, value float64, unit string) error {
	if value > 0 && !math.IsInf(value, 1) {
		return nil
	}
	return &units.RangeError{Quantity: quantity, Value: value, Unit: unit, Says: "must be above zero and finite"}
}

// Finite returns a *units.RangeError unless value is a finite number.
func Finite(quantity string, value float64, unit string) error {
	if !math.IsNaN(value) && !math.IsInf(value, 0) {
		return nil
	}
	return &units.RangeError{Quantity: quantity, Value: value, Unit: unit, Says: "must be a finite number"}
}

// Within returns a *units.RangeError unless low ≤ value ≤ high.
func Within(quantity string, value, low, high float64, unit string) error {
	switch {
	case math.IsNaN(value):
		return &units.RangeError{Quantity: quantity, Value: value, Limit: low, Unit: unit, Says: "must be a number"}
	case value < low:
		return &units.RangeError{Quantity: quantity, Value: value, Limit: low, Unit: unit, Says: fmt.Sprintf("must be at least %g", low)}
	case value > high:
		return &units.RangeError{Quantity: quantity, Value: value, Limit: high, Unit: unit, Says: fmt.Sprintf("must be at most %g", high)}
	}
	return nil
}
