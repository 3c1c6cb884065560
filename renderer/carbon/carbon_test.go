package carbon

import (
	"errors"
	"math"
	"slices"
	"testing"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

var declared = basis.Source{Text: "a maker's declaration, invented", Kind: basis.Stated}

func stack() []Layer {
	return []Layer{
		{Name: "slab", Material: "concrete", Thickness: 0.1, Density: 2400, PerCubicM: 300, Stated: true, Source: declared},
		{Name: "studs", Material: "softwood", Thickness: 0.2, Share: 0.1, Density: 500, PerKg: -1.5, Stated: true, Source: declared},
		{Name: "wool", Material: "mineral wool", Thickness: 0.2, Share: 0.9, Density: 50},
		{Name: "cavity", Material: "air", Thickness: 0.05, Weightless: true},
		{Name: "board", Material: "mineral wool", Thickness: 0.05, Density: 100},
	}
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-12*(1+math.Abs(want))) {
		t.Errorf("%s = %.15g; want %.15g", what, got, want)
	}
}

func TestSum(t *testing.T) {
	r, err := Solve(stack())
	if err != nil {
		t.Fatal(err)
	}
	near(t, "carbon", float64(r.Stated), 30-0.02*500*1.5)
	near(t, "share of volume", float64(r.ShareOfVolume), 0.12/0.35)
	near(t, "share of mass", float64(r.ShareOfMass), 250.0/(250+9+5))
	if r.Complete || !slices.Equal(r.Missing, []string{"mineral wool"}) || !r.Layers[3].Computed || r.Layers[2].Why == "" {
		t.Errorf("%+v", r)
	}
	if want := "15.0 kg CO2e/m², product stage, of the 95 % of the mass that states it"; r.Words() != want {
		t.Errorf("%q; want %q", r.Words(), want)
	}
	if trace := r.Trace(); len(trace.Inputs) != 2 || len(trace.Limits) != 2 {
		t.Errorf("%+v", trace)
	}
}

// A stated zero is a value; nothing stated is not.
func TestZeroIsNotMissing(t *testing.T) {
	r, err := Solve([]Layer{{Name: "stone", Material: "stone", Thickness: 0.2, Density: 1600, Stated: true, Source: declared}})
	if err != nil || !r.Complete || r.Stated != 0 || r.ShareOfMass != 1 {
		t.Errorf("%+v, %v", r, err)
	}
	r, err = Solve([]Layer{{Name: "stone", Material: "stone", Thickness: 0.2, PerKg: 0.01, Stated: true}})
	if err != nil || r.Complete || r.MassKnown || r.Stated != 0 {
		t.Errorf("per kg without a density: %+v, %v", r, err)
	}
	if want := "0.0 kg CO2e/m², product stage, of the 0 % of the volume that states it"; r.Words() != want {
		t.Errorf("%q; want %q", r.Words(), want)
	}
	if r, err = Solve(nil); err != nil || !r.Complete || r.MassKnown {
		t.Errorf("no layers: %+v, %v", r, err)
	}
}

// Splitting a layer changes nothing.
func TestSplit(t *testing.T) {
	whole, err := Solve(stack())
	if err != nil {
		t.Fatal(err)
	}
	var halves []Layer
	for _, l := range stack() {
		l.Thickness /= 2
		halves = append(halves, l, l)
	}
	split, err := Solve(halves)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "carbon", float64(split.Stated), float64(whole.Stated))
	near(t, "share", float64(split.ShareOfMass), float64(whole.ShareOfMass))
}

func TestErrorsAreTyped(t *testing.T) {
	for name, spoil := range map[string]func(*Layer){
		"negative thickness": func(l *Layer) { l.Thickness = -1 },
		"infinite thickness": func(l *Layer) { l.Thickness = units.Length(math.Inf(1)) },
		"negative density":   func(l *Layer) { l.Density = -1 },
		"NaN carbon":         func(l *Layer) { l.PerKg = math.NaN() },
		"share over one":     func(l *Layer) { l.Share = 1.5 },
	} {
		l := stack()[:1]
		spoil(&l[0])
		var out *units.RangeError
		if _, err := Solve(l); !errors.As(err, &out) {
			t.Errorf("%s: %v; want a *units.RangeError", name, err)
		}
	}
}

func BenchmarkSolve(b *testing.B) {
	layers := stack()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Solve(layers); err != nil {
			b.Fatal(err)
		}
	}
}
