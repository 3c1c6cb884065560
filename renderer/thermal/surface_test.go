package thermal

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"wythe/renderer/published"
	"wythe/renderer/units"
)

func TestPublishedSurfaceCoefficients(t *testing.T) {
	var in map[string]any
	var want map[string]float64
	c := published.Read(t, "steady_1d.yaml", "rs-iso-annex-c", &in, &want)
	for _, at := range []int{-10, 0, 10, 20, 30} {
		got, err := BlackBodyCoefficient(units.Temperature(at))
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, fmt.Sprint("h_r0 at ", at), got, want[fmt.Sprintf("hr0_at_%dC", at)], c.Within(t, ""))
	}
	// The conventional resistances are these, rounded to two decimals.
	var conventional map[string]float64
	published.Read(t, "steady_1d.yaml", "rs-iso", nil, &conventional)
	outside, err := ConvectionOutside(4)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []struct {
		key, conventional string
		convection        float64
		at                units.Temperature
	}{{"hc_upward", "Rsi_upward", ConvectionUp, 20}, {"hc_horizontal", "Rsi_horizontal", ConvectionHorizontal, 20}, {"hc_downward", "Rsi_downward", ConvectionDown, 20}, {"", "Rse", outside, 0}} {
		if s.key != "" && in[s.key] != s.convection {
			t.Errorf("%s = %v; want %v", s.key, s.convection, in[s.key])
		}
		got, err := SurfaceResistance(s.convection, 0.9, s.at)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, s.conventional, math.Round(100*float64(got))/100, conventional[s.conventional], 1e-12)
	}
	var out *units.RangeError
	for name, err := range map[string]error{
		"below absolute zero": second(SurfaceResistance(2.5, 0.9, -300)),
		"emissivity over one": second(SurfaceResistance(2.5, 1.1, 20)),
		"negative convection": second(SurfaceResistance(-1, 0.9, 20)),
		"nothing at all":      second(SurfaceResistance(0, 0, 20)),
		"negative wind":       second(ConvectionOutside(-1)),
		"endless wind":        second(ConvectionOutside(math.Inf(1))),
	} {
		if !errors.As(err, &out) {
			t.Errorf("%s: %v; want a *units.RangeError", name, err)
		}
	}
}

func second[T any](_ T, err error) error { return err }

func TestPublishedRPerInch(t *testing.T) {
	var want map[string]float64
	c := published.Read(t, "steady_1d.yaml", "r-per-inch-common", nil, &want)
	for key, layer := range map[string][2]float64{"EPS_5in_at_4.2": {5, 4.2}, "EPS_5in_at_4.1": {5, 4.1}, "dense_pack_3.5in_at_3.8": {3.5, 3.8}, "dense_pack_3.5in_at_4.0": {3.5, 4}} {
		lambda := units.Conductivity(float64(units.Inches(1)) / float64(units.RValue(layer[1]).SI()))
		r, err := LayerResistance(units.Inches(layer[0]), lambda)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, key, float64(r.RValue()), want[key], c.Within(t, ""))
	}
}
