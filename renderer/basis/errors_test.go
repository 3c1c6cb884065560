package basis

import (
	"errors"
	"math"
	"testing"

	"wythe/renderer/units"
)

func TestRangeChecks(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, c := range []struct {
		name string
		err  error
		fine bool
	}{
		{"zero is not negative", NotNegative("q", 0, "m"), true},
		{"infinity is not negative", NotNegative("q", inf, "m"), true},
		{"negative", NotNegative("q", -1, "m"), false},
		{"NaN is not not-negative", NotNegative("q", nan, "m"), false},
		{"one is positive", Positive("q", 1, "m"), true},
		{"zero is not positive", Positive("q", 0, "m"), false},
		{"infinity is not finite and positive", Positive("q", inf, "m"), false},
		{"minus one is finite", Finite("q", -1, "m"), true},
		{"infinity is not finite", Finite("q", inf, "m"), false},
		{"NaN is not finite", Finite("q", nan, "m"), false},
		{"the ends are within", Within("q", 1, 1, 1, "m"), true},
		{"below", Within("q", 0.9, 1, 2, "m"), false},
		{"above", Within("q", 2.1, 1, 2, "m"), false},
		{"NaN is not within", Within("q", nan, 1, 2, "m"), false},
	} {
		if (c.err == nil) != c.fine {
			t.Errorf("%s: error %v", c.name, c.err)
		}
		var out *units.RangeError
		if c.err != nil && !errors.As(c.err, &out) {
			t.Errorf("%s: %T is not a *units.RangeError", c.name, c.err)
		}
	}
}

func TestErrorText(t *testing.T) {
	refused := &RefusedError{Method: "ISO 6946:2017 6.7.2", Case: `"studs" is metal framing`, Why: "use the correction factors"}
	if got, want := refused.Error(), `ISO 6946:2017 6.7.2 does not cover this: "studs" is metal framing; use the correction factors`; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	missing := &MissingError{Method: "dead load", Quantity: `density of "panel"`, Put: "materials.yaml"}
	if got, want := missing.Error(), `dead load needs the density of "panel"; put it in materials.yaml`; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
