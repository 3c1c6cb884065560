package units

import (
	"math"
	"os"
	"testing"

	"gopkg.in/yaml.v3"
)

// siOf reads a text as the quantity named and returns the SI number.
var siOf = map[string]func(string) (float64, error){
	"length":        func(s string) (float64, error) { v, err := ParseLength(s); return float64(v), err },
	"area":          func(s string) (float64, error) { v, err := ParseArea(s); return float64(v), err },
	"volume":        func(s string) (float64, error) { v, err := ParseVolume(s); return float64(v), err },
	"temperature":   func(s string) (float64, error) { v, err := ParseTemperature(s); return float64(v), err },
	"difference":    func(s string) (float64, error) { v, err := ParseTemperatureDifference(s); return float64(v), err },
	"pressure":      func(s string) (float64, error) { v, err := ParsePressure(s); return float64(v), err },
	"force":         func(s string) (float64, error) { v, err := ParseForce(s); return float64(v), err },
	"mass":          func(s string) (float64, error) { v, err := ParseMass(s); return float64(v), err },
	"mass per area": func(s string) (float64, error) { v, err := ParseMassPerArea(s); return float64(v), err },
	"density":       func(s string) (float64, error) { v, err := ParseDensity(s); return float64(v), err },
	"conductivity":  func(s string) (float64, error) { v, err := ParseConductivity(s); return float64(v), err },
	"resistance":    func(s string) (float64, error) { v, err := ParseResistance(s); return float64(v), err },
	"transmittance": func(s string) (float64, error) { v, err := ParseTransmittance(s); return float64(v), err },
	"U-factor":      func(s string) (float64, error) { v, err := ParseUFactor(s); return float64(v), err },
	"linear":        func(s string) (float64, error) { v, err := ParseLinearTransmittance(s); return float64(v), err },
	"specific heat": func(s string) (float64, error) { v, err := ParseSpecificHeat(s); return float64(v), err },
	"permeance":     func(s string) (float64, error) { v, err := ParsePermeance(s); return float64(v), err },
	"permeability":  func(s string) (float64, error) { v, err := ParsePermeability(s); return float64(v), err },
	"sd":            func(s string) (float64, error) { v, err := ParseSd(s); return float64(v), err },
	"mu":            func(s string) (float64, error) { v, err := ParseMu(s); return float64(v), err },
	"ratio":         func(s string) (float64, error) { v, err := ParseRatio(s); return float64(v), err },
	"share":         func(s string) (float64, error) { v, err := ParseShare(s); return float64(v), err },
	"emissivity":    func(s string) (float64, error) { v, err := ParseEmissivity(s); return float64(v), err },
	"angle":         func(s string) (float64, error) { v, err := ParseAngle(s); return float64(v), err },
	"leakage":       func(s string) (float64, error) { v, _, err := ParseLeakage(s); return float64(v), err },
	"price":         func(s string) (float64, error) { v, _, err := ParsePrice(s); return v, err },
	"number":        ParseNumber,
	"coordinate":    func(s string) (float64, error) { v, err := ParseCoordinate(s); return float64(v), err },
}

type publishedUnits struct {
	Conversions, Worked []struct {
		Written, Quantity string
		SI                float64
		Within            float64
	}
	Gauges [][2]float64
}

// Published: NIST SP 811 (2008), appendix B.8 (from memory; re-derived from
// exact definitions); tolerance half a unit of the last printed digit.
func TestPublishedConversions(t *testing.T) {
	data, err := os.ReadFile("../../testdata/published/units.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var p publishedUnits
	if err := yaml.Unmarshal(data, &p); err != nil {
		t.Fatal(err)
	}
	if len(p.Conversions) < 25 || len(p.Worked) < 8 || len(p.Gauges) < 10 {
		t.Fatal("the table is short")
	}
	for _, c := range append(p.Conversions, p.Worked...) {
		parse := siOf[c.Quantity]
		if parse == nil {
			t.Fatalf("%s: no quantity %q", c.Written, c.Quantity)
		}
		got, err := parse(c.Written)
		if err != nil || math.Abs(got-c.SI) > c.Within {
			t.Errorf("%s %q = %.12g, %v; want %.12g ± %.0e", c.Quantity, c.Written, got, err, c.SI, c.Within)
		}
	}
	for _, g := range p.Gauges {
		got, err := SheetSteelGauge(int(g[0]))
		if err != nil || math.Abs(got.Inches()-g[1]) > 5e-5 {
			t.Errorf("gauge %g = %.4f in, %v; want %.4f", g[0], got.Inches(), err, g[1])
		}
	}
}
