package material

import (
	"errors"
	"math"
	"testing"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

func TestAirLayerLimits(t *testing.T) {
	for _, c := range []struct {
		d      float64
		e1, e2 float64
	}{{-0.01, 0.9, 0.9}, {0.31, 0.9, 0.9}, {math.NaN(), 0.9, 0.9}, {math.Inf(1), 0.9, 0.9}, {0.02, 1.1, 0.9}, {0.02, 0.9, -0.1}, {0.02, math.NaN(), 0.9}} {
		_, _, err := AirLayerResistance(units.Length(c.d), Up, units.Emissivity(c.e1), units.Emissivity(c.e2))
		if r := new(units.RangeError); !errors.As(err, &r) {
			t.Errorf("%+v: %v; want a RangeError", c, err)
		}
	}
	// No emissivity stated is 0.9.
	a, _, _ := AirLayerResistance(0.02, Down, 0, 0)
	b, _, _ := AirLayerResistance(0.02, Down, 0.9, 0.9)
	if a != b || a == 0 {
		t.Errorf("unstated %g, 0.9 %g", a, b)
	}
	if r, _, err := AirLayerResistance(0, Up, 0.05, 0.9); r != 0 || err != nil {
		t.Errorf("no thickness: %g, %v", r, err)
	}
}

// A thicker layer never resists less, brighter faces always more, and flow
// down no less than horizontal, nor that less than up.
func TestAirLayerOrder(t *testing.T) {
	for _, dir := range []Direction{Up, Horizontal, Down} {
		for _, e := range []units.Emissivity{0.03, 0.05, 0.2, 0.5, 0.79, 0.9} {
			before := units.ThermalResistance(0)
			for mm := 0.0; mm <= 300; mm++ {
				r, _, err := AirLayerResistance(units.Millimeters(mm), dir, e, 0.9)
				if err != nil || r < before-1e-12 {
					t.Fatalf("%g mm %v e %g: %g after %g, %v", mm, dir, e, r, before, err)
				}
				before = r
				if dir == Up {
					h, _, _ := AirLayerResistance(units.Millimeters(mm), Horizontal, e, 0.9)
					d, _, _ := AirLayerResistance(units.Millimeters(mm), Down, e, 0.9)
					if h < r-1e-12 || d < h-1e-12 {
						t.Fatalf("%g mm e %g: up %g, horizontal %g, down %g", mm, e, r, h, d)
					}
				}
			}
		}
	}
}

func TestAirSpaceLimits(t *testing.T) {
	var r *units.RangeError
	for _, c := range []struct {
		inches float64
		dir    Direction
	}{{0.4, Horizontal}, {3.6, Horizontal}, {0.75, Up}} {
		if _, _, err := AirSpaceResistance(units.Inches(c.inches), c.dir, 0.9, 0.9); !errors.As(err, &r) {
			t.Errorf("%+v: %v; want a RangeError", c, err)
		}
	}
	if _, _, err := AirSpaceResistance(units.Inches(1), Horizontal, 0.01, 0.9); !errors.As(err, &r) {
		t.Errorf("emittance 0.01: %v", err)
	}
	var refused *basis.RefusedError
	if _, _, err := AirSpaceResistance(units.Inches(1), Down, 0.9, 0.9); !errors.As(err, &refused) {
		t.Errorf("heat flow down: %v", err)
	}
	// Between two rows the value lies between theirs.
	got, by, err := AirSpaceResistance(units.Inches(1), Horizontal, 0.9, 0.9)
	if err != nil || got.RValue() < 1.01 || got.RValue() > 1.03 || len(by.Limits) == 0 {
		t.Errorf("1 in: %g, %v", got.RValue(), err)
	}
}

func TestVapor(t *testing.T) {
	for _, c := range []struct {
		written, shown string
		sd             float64 // of 0.1 m
	}{
		{"mu 50", "mu 50", 5},
		{"mu 1.5", "mu 1.5", 0.15},
		{"μ 2", "mu 2", 0.2},
		{"mu infinite", "vapor tight", math.Inf(1)},
		{"sd 100 m", "sd 100 m", 100},
		{"sd 20 cm", "sd 0.2 m", 0.2},
		{"1 perm", "1 perm", 2e-10 / 5.7213491e-11},
		{"0 perm", "vapor tight", math.Inf(1)},
		{"0 perm in", "vapor tight", math.Inf(1)},
		{"30 perm in", "30 perm in", 2e-10 / (30 * 1.4532227e-12) * 0.1},
		{"200 ng/(s·m²·Pa)", "3.5 perm", 1},
	} {
		v, err := ParseVapor(c.written)
		if err != nil || !v.Known {
			t.Errorf("%q: %v", c.written, err)
			continue
		}
		sd, err := v.SdOf(0.1)
		if err != nil || sd != units.Length(c.sd) && math.Abs(float64(sd)/c.sd-1) > 1e-6 {
			t.Errorf("%q: sd %g, %v; want %g m", c.written, sd, err, c.sd)
		}
		if got := v.Show(units.Inch); got != c.shown {
			t.Errorf("%q shows %q; want %q", c.written, got, c.shown)
		}
		p, err := v.PermeanceOf(0.1)
		if err != nil || math.Abs(float64(p)*float64(sd)-2e-10) > 1e-16 && !v.Tight() || v.Tight() && p != 0 {
			t.Errorf("%q: permeance %g, %v", c.written, p, err)
		}
	}
	for _, s := range []string{"50", "mu 0.5", "sd 5", "sd 0", "5 perms per in", "open", ""} {
		_, err := ParseVapor(s)
		if e := new(units.ParseError); !errors.As(err, &e) {
			t.Errorf("%q: %v; want a ParseError", s, err)
		}
	}
	var missing *basis.MissingError
	if _, err := (Vapor{}).SdOf(0.1); !errors.As(err, &missing) {
		t.Errorf("no vapor value: %v", err)
	}
	var r *units.RangeError
	if _, err := (Vapor{Known: true, Mu: 2}).SdOf(-1); !errors.As(err, &r) {
		t.Errorf("negative thickness: %v", err)
	}
	if sd, err := (Vapor{Known: true, Mu: units.Ratio(math.Inf(1))}).SdOf(0); sd != 0 || err != nil {
		t.Errorf("no thickness: %g, %v", sd, err)
	}
}
