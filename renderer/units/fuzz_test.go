package units

import (
	"errors"
	"math"
	"testing"
)

var seeds = []string{
	"4 in", "2 1/2 in", "2.5 in", "3'-6 1/2\"", "3′-6½″", "10 mil", "20 gauge", "90 mm", "2 cm", "0.3 m", "0", "-4 in",
	"70 F", "21 C", "25 psi", "40 psf", "150 kPa", "150 pcf", "2400 kg/m3", "0.036 W/mK", "0.13 m2K/W", "R 4.2 per in", "R-20",
	"1250 lb", "0.1 perm", "sd 100 m", "mu 2", "1180 sq ft", "110 m2", "25 %", "8 in 12", "30 deg", "0.6 per hour at 50 Pa",
	"0.24 per kWh", "1,250 lb", "2,5 in", "012", "1e300", "NaN", "0x1p4", "1/0", "\xff\xfe", "4 ½ in", "⅞\"", "'", "-", "R", "1.", "..5",
}

// Whatever is written, every parser returns: a finite value, or an error of
// this package whose place lies in the text.
func FuzzParse(f *testing.F) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for name, parse := range siOf {
			v, err := parse(s)
			if err == nil {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Errorf("%s %q = %g", name, s, v)
				}
				continue
			}
			var p *ParseError
			var r *RangeError
			switch {
			case errors.As(err, &p):
				if p.Offset < 0 || p.Offset > len(s) || p.Message == "" || p.Text != s {
					t.Errorf("%s %q: error at %d of %q: %v", name, s, p.Offset, p.Text, err)
				}
			case !errors.As(err, &r):
				t.Errorf("%s %q: %v is no error of this package", name, s, err)
			}
		}
	})
}

// What is printed parses, and prints the same again; String is exact.
func FuzzRoundTrip(f *testing.F) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if l, err := ParseCoordinate(s); err == nil {
			roundTrip(t, "own", l, Length.String, ParseCoordinate, 0)
			roundTrip(t, "fraction", l, Length.InchFraction, ParseCoordinate, inch/32)
			roundTrip(t, "feet", l, Length.FeetInch, ParseCoordinate, inch/32)
			roundTrip(t, "drawing", l, Length.FeetInchDrawing, ParseCoordinate, inch/32)
			roundTrip(t, "words", l, Length.FeetWords, ParseCoordinate, inch/32)
			roundTrip(t, "mm", l, Length.Millimeter, ParseCoordinate, 0.0005)
		}
		for _, sys := range []System{Inch, Metric} {
			if v, err := ParseResistance(s); err == nil {
				stable(t, v, sys, ParseResistance)
			}
			if v, err := ParseTransmittance(s); err == nil {
				stable(t, v, sys, ParseTransmittance)
			}
			if v, err := ParseTemperature(s); err == nil {
				stable(t, v, sys, ParseTemperature)
			}
			if v, err := ParsePressure(s); err == nil {
				stable(t, v, sys, ParsePressure)
			}
			if v, err := ParseDensity(s); err == nil {
				stable(t, v, sys, ParseDensity)
			}
			if v, err := ParseForce(s); err == nil {
				stable(t, v, sys, ParseForce)
			}
			if v, err := ParseArea(s); err == nil && v >= foot*foot {
				stable(t, v, sys, ParseArea)
			}
		}
	})
}

func roundTrip(t *testing.T, name string, l Length, print func(Length) string, parse func(string) (Length, error), within float64) {
	t.Helper()
	p := print(l)
	back, err := parse(p)
	if err != nil {
		// A length too long to write is refused again, never misread.
		if math.Abs(float64(l)) < 9e5 { // 9e8 mm
			t.Errorf("%s of %g m prints %q: %v", name, float64(l), p, err)
		}
		return
	}
	if off := math.Abs(float64(back - l)); off > within+1e-9*math.Abs(float64(l)) || within == 0 && off > 0 {
		t.Errorf("%s of %.17g m prints %q, which is %.17g m", name, float64(l), p, float64(back))
	}
	if again := print(back); again != p {
		t.Errorf("%s of %g m prints %q, then %q", name, float64(l), p, again)
	}
}

// stable checks that a figure printed for reading parses to a value that
// prints the same.
func stable[Q Shower](t *testing.T, v Q, s System, parse func(string) (Q, error)) {
	t.Helper()
	p := v.Show(s)
	back, err := parse(p)
	if err != nil {
		return // past the largest number
	}
	if again := back.Show(s); again != p {
		t.Errorf("%T prints %q, then %q", v, p, again)
	}
}
