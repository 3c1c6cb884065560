package units

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestForms(t *testing.T) {
	const in, ft, sf = 0.0254, 0.3048, 0.09290304
	const perInch = 0.0254 * 1055.05585262 * 1.8 / (3600 * sf)
	for _, c := range []struct {
		quantity, written string
		want              float64
	}{
		{"length", "4 in", 4 * in},
		{"length", "4in", 4 * in},
		{"length", "4 in.", 4 * in},
		{"length", " 4 in ", 4 * in},
		{"length", "4\u00a0in", 4 * in},
		{"length", "2 1/2 in", 2.5 * in},
		{"length", "2-1/2 in", 2.5 * in},
		{"length", "2½ in", 2.5 * in},
		{"length", "2 ½ in", 2.5 * in},
		{"length", "½ in", 0.5 * in},
		{"length", "1/2 in", 0.5 * in},
		{"length", "1⁄2 in", 0.5 * in},
		{"length", "11 7/8 in", 11.875 * in},
		{"length", "2.5 in", 2.5 * in},
		{"length", ".5 in", 0.5 * in},
		{"length", "2 inches", 2 * in},
		{"length", "4\"", 4 * in},
		{"length", "4″", 4 * in},
		{"length", "2 1/2\"", 2.5 * in},
		{"length", "3'-6 1/2\"", 42.5 * in},
		{"length", "3'-6½\"", 42.5 * in},
		{"length", "3′-6 1/2″", 42.5 * in},
		{"length", "3' 6\"", 42 * in},
		{"length", "3'6\"", 42 * in},
		{"length", "3' - 6\"", 42 * in},
		{"length", "3 ft-6 in", 42 * in},
		{"length", "3'-0\"", 36 * in},
		{"length", "0'-6\"", 6 * in},
		{"length", "3'", 3 * ft},
		{"length", "3 ft 6 in", 42 * in},
		{"length", "6 ft 8 in", 80 * in},
		{"length", "6 ft. 8 in.", 80 * in},
		{"length", "6ft8in", 80 * in},
		{"length", "132 ft", 132 * ft},
		{"length", "1,250 ft", 1250 * ft},
		{"length", "3.5 ft", 3.5 * ft},
		{"length", "10 mil", 0.01 * in},
		{"length", "15 mils", 0.015 * in},
		{"length", "20 gauge", 0.0359 * in},
		{"length", "20 ga", 0.0359 * in},
		{"length", "90 mm", 0.09},
		{"length", "2 cm", 0.02},
		{"length", "0.3 m", 0.3},
		{"length", "0", 0},
		{"length", "0 in", 0},
		{"coordinate", "-4 in", -4 * in},
		{"coordinate", "−4 in", -4 * in},
		{"coordinate", "-3'-6 1/2\"", -42.5 * in},
		{"coordinate", "-3 ft 6 in", -42 * in},
		{"coordinate", "-0'-6\"", -6 * in},
		{"area", "1180 sq ft", 1180 * sf},
		{"area", "1,180 ft²", 1180 * sf},
		{"area", "1180 sf", 1180 * sf},
		{"area", "110 m2", 110},
		{"area", "110 m²", 110},
		{"area", "2 sq ft", 2 * sf},
		{"area", "0", 0},
		{"volume", "17400 cu ft", 17400 * ft * ft * ft},
		{"volume", "490 m³", 490},
		{"temperature", "21 C", 21},
		{"temperature", "70 °F", 38. / 1.8},
		{"temperature", "70F", 38. / 1.8},
		{"temperature", "-3.1 C", -3.1},
		{"temperature", "293.15 K", 20},
		{"difference", "18 F", 10},
		{"difference", "5 K", 5},
		{"pressure", "150 kPa", 150e3},
		{"pressure", "1.9 kN/m²", 1900},
		{"pressure", "2 ksf", 2000 * 4.4482216152605 / sf},
		{"force", "1250 lb", 1250 * 4.4482216152605},
		{"force", "5.5 kN", 5500},
		{"density", "2400 kg/m3", 2400},
		{"conductivity", "0.036 W/mK", 0.036},
		{"conductivity", "0.036 W/(m·K)", 0.036},
		{"conductivity", "0.036 W/m K", 0.036},
		{"conductivity", "R 4.2 per in", perInch / 4.2},
		{"conductivity", "R-4.2 per inch", perInch / 4.2},
		{"conductivity", "R4.2/in", perInch / 4.2},
		{"resistance", "0.13 m2K/W", 0.13},
		{"resistance", "0.13 m²·K/W", 0.13},
		{"resistance", "R 0.68", 0.68 * 0.176110183682},
		{"resistance", "R-20", 20 * 0.176110183682},
		{"resistance", "R20", 20 * 0.176110183682},
		{"resistance", "R .68", 0.68 * 0.176110183682},
		{"transmittance", "0.25 W/m2K", 0.25},
		{"U-factor", "0.20", 0.2 * 5.678263341},
		{"U-factor", "1.1 W/m²K", 1.1},
		{"linear", "-0.05 W/mK", -0.05},
		{"specific heat", "1600 J/kgK", 1600},
		{"specific heat", "1.6 kJ/(kg·K)", 1600},
		{"permeance", "57 ng/(s·m²·Pa)", 57e-12},
		{"sd", "sd 100 m", 100},
		{"sd", "sd 20 cm", 0.2},
		{"mu", "mu 2", 2},
		{"mu", "mu 1.5", 1.5},
		{"ratio", "25 %", 0.25},
		{"ratio", "25%", 0.25},
		{"ratio", "280 %", 2.8},
		{"ratio", "0.25", 0.25},
		{"share", "25 percent", 0.25},
		{"share", "0", 0},
		{"emissivity", "0.05", 0.05},
		{"angle", "30 deg", math.Pi / 6},
		{"angle", "30°", math.Pi / 6},
		{"angle", "12 in 12", math.Pi / 4},
		{"angle", "8 in 12", math.Atan2(8, 12)},
		{"angle", "1/4 in 12", math.Atan2(0.25, 12)},
		{"angle", "4:12", math.Atan2(4, 12)},
		{"angle", "-30 deg", -math.Pi / 6},
		{"leakage", "0.6 per hour at 50 Pa", 0.6},
		{"price", "0.24 per kWh", 0.24},
		{"price", "$3.10 per gal", 3.1},
		{"number", "42", 42},
		{"number", "3.14159265358979324", math.Pi},
	} {
		got, err := siOf[c.quantity](c.written)
		if err != nil || math.Abs(got-c.want) > 1e-12*math.Max(1, math.Abs(c.want)) && math.Abs(got-c.want) > 1e-9*math.Abs(c.want) {
			t.Errorf("%s %q = %.15g, %v; want %.15g", c.quantity, c.written, got, err, c.want)
		}
	}
}

// ▸ marks the place that the error must name.
func TestMistakes(t *testing.T) {
	for _, c := range []struct{ quantity, written, says string }{
		{"length", "4▸", "write 4 in or 4 mm"},
		{"length", "4 ▸inn", `did you mean "in"?`},
		{"length", "4 ▸psf", "but of a pressure"},
		{"length", "4 ▸in2", "but of an area"},
		{"length", "▸four in", "does not begin with a number"},
		{"length", "▸", "does not begin with a number"},
		{"length", "▸NaN in", "does not begin with a number"},
		{"length", "▸Inf", "does not begin with a number"},
		{"length", "0▸x10 in", "unknown unit"},
		{"length", "1▸e3 in", "without an exponent"},
		{"length", "1▸e-3 m", "without an exponent"},
		{"length", "▸012 in", "leading zero; write 12"},
		{"length", "▸9999999999 in", "too large"},
		{"length", "▸99999999999999999999999 in", "too many digits"},
		{"length", "▸-4 in", "must not be negative"},
		{"length", "4 in ▸wide", "does not belong"},
		{"length", "2▸,5 in", "write 2.5 in"},
		{"length", "2 ▸5/4 in", "less than 1"},
		{"length", "1/▸0 in", "lower number"},
		{"length", "3' ▸14\"", "less than 12"},
		{"length", "▸3.5' 6\"", "whole"},
		{"length", "3' 6▸", "after feet come inches"},
		{"length", "▸2 gauge", "from 3 to 30"},
		{"length", "4 ▸µin", "unknown unit"},
		{"length", "4 ▸\xff", "unknown unit"},
		{"length", "1 ▸/2 in", "unknown unit"},
		{"area", "1180 ▸sq fet", `did you mean "sqft"?`},
		{"area", "1180▸", "write 1180 sq ft or 1180 m2"},
		{"temperature", "0▸", "write 0 F or 0 C"},
		{"temperature", "70 ▸G", "write a temperature in F or C"},
		{"pressure", "25▸", "write 25 psi or 25 kPa"},
		{"conductivity", "R 4.2▸", "write R 4.2 per in"},
		{"conductivity", "▸0 W/mK", "above 0"},
		{"conductivity", "R ▸0 per in", "above 0"},
		{"resistance", "R 3.7 ▸per in", "property of a material"},
		{"resistance", "20▸", "write R 20 or 20 m2K/W"},
		{"sd", "sd 100▸", "write 100 in or 100 mm"},
		{"mu", "mu ▸0.5", "at least 1"},
		{"share", "45▸", "write 45 %"},
		{"share", "▸145 %", "cannot exceed"},
		{"emissivity", "▸1.2", "at most at 1"},
		{"angle", "30▸", "write 30 in 12 or 30 deg"},
		{"angle", "▸100 deg", "between -90 and 90"},
		{"angle", "8 in ▸0", "the run"},
		{"leakage", "0.6▸", "0.6 per hour at 50 Pa"},
		{"leakage", "0.6 per hour▸", "test pressure"},
		{"leakage", "0.6 per hour at 50▸", "write 50 psi"},
		{"price", "0.24▸", "0.24 per kWh"},
		{"price", "0.24 per ▸kWhr", "unknown unit"},
		{"number", "5 ▸in", "write 5"},
		{"ratio", "▸-5 %", "negative"},
		{"ratio", "280▸", "write 280 %"},
		{"length", "6 ft ▸- 3 in", "does not belong"},
		{"length", "0 ▸apart", "unknown unit"},
		{"length", "▸" + strings.Repeat("1", 200), "too long"},
	} {
		at := strings.Index(c.written, "▸")
		written := strings.Replace(c.written, "▸", "", 1)
		_, err := siOf[c.quantity](written)
		var e *ParseError
		if !errors.As(err, &e) {
			t.Errorf("%s %q: error %v; want a ParseError", c.quantity, written, err)
			continue
		}
		if e.Offset != at || !strings.Contains(e.Error(), c.says) {
			t.Errorf("%s %q: at %d: %v; want at %d: %s", c.quantity, written, e.Offset, e, at, c.says)
		}
	}
	if _, err := ParseTemperature("-300 C"); err == nil {
		t.Error("-300 C was taken")
	} else if r := new(RangeError); !errors.As(err, &r) || r.Limit != -273.15 {
		t.Errorf("-300 C: %v; want a RangeError at -273.15", err)
	}
}

func TestLengthBefore(t *testing.T) {
	for _, c := range []struct {
		written string
		inches  float64
		rest    string
	}{
		{"2 in left of footing.left", 2, "left of footing.left"},
		{"6 ft 8 in above slab.top", 80, "above slab.top"},
		{"1/2 in above slab.top", 0.5, "above slab.top"},
		{"3'-6 1/2\" below grade", 42.5, "below grade"},
		{"-4 in", -4, ""},
	} {
		l, rest, err := LengthBefore(c.written)
		if err != nil || math.Abs(l.Inches()-c.inches) > 1e-12 || rest != c.rest {
			t.Errorf("LengthBefore(%q) = %g in, %q, %v", c.written, l.Inches(), rest, err)
		}
	}
	if _, rest, err := LengthBefore("slab.top"); err == nil || rest != "slab.top" {
		t.Errorf("LengthBefore of a name = %q, %v", rest, err)
	}
}

func TestParsePair(t *testing.T) {
	for _, c := range []struct {
		written string
		a, b    float64 // mm
	}{
		{"4 in x 4 in", 101.6, 101.6},
		{"4 x 8 ft", 1219.2, 2438.4},
		{"600 × 1200 mm", 600, 1200},
		{"3 1/2 x 5 1/2 in", 88.9, 139.7},
	} {
		a, b, err := ParsePair(c.written)
		if err != nil || math.Abs(a.Millimeters()-c.a) > 1e-9 || math.Abs(b.Millimeters()-c.b) > 1e-9 {
			t.Errorf("ParsePair(%q) = %v, %v, %v", c.written, a, b, err)
		}
	}
	for _, c := range []struct {
		written string
		at      int
	}{{"4 in", 4}, {"4 in x 4", 8}, {"4 inn x 4 in", 2}, {"x 4 in", 0}} {
		_, _, err := ParsePair(c.written)
		if e := new(ParseError); !errors.As(err, &e) || e.Offset != c.at {
			t.Errorf("ParsePair(%q): %v; want an error at %d", c.written, err, c.at)
		}
	}
}

func BenchmarkParseLength(b *testing.B) {
	for _, s := range []string{"4 in", "2 1/2 in", "3'-6 1/2\"", "90 mm"} {
		b.Run(s, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := ParseLength(s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkParseConductivity(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseConductivity("0.036 W/mK"); err != nil {
			b.Fatal(err)
		}
	}
}
