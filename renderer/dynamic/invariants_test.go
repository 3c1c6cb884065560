package dynamic

import (
	"errors"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"testing"

	"wythe/renderer/basis"
	"wythe/renderer/published"
	"wythe/renderer/units"
)

func random(rng *rand.Rand) *Stack {
	s := &Stack{SurfaceInside: units.ThermalResistance(0.2 * rng.Float64()), SurfaceOutside: 0.04}
	for range 1 + rng.IntN(20) {
		l := Layer{Name: "layer", Thickness: units.Length(0.08 * rng.Float64()), Conductivity: units.Conductivity(0.03 + 2*rng.Float64()),
			Density: units.Density(10 + 2400*rng.Float64()), SpecificHeat: units.SpecificHeat(800 + 1200*rng.Float64())}
		if rng.IntN(4) == 0 {
			l = Layer{Name: "air", Massless: true, Resistance: units.ThermalResistance(rng.Float64())}
		}
		s.Layers = append(s.Layers, l)
	}
	if rng.IntN(3) == 0 { // a slab whose face is the boundary
		s.SurfaceInside = 0
	}
	return s
}

func solved(t *testing.T, s *Stack) *Result {
	t.Helper()
	r, err := Solve(s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// What holds for every wall (published case "invariants").
func TestInvariants(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		s := random(rng)
		r := solved(t, s)
		size := cmplx.Abs(r.Z11)*cmplx.Abs(r.Z22) + 1
		if det := r.Z11*r.Z22 - r.Z12*r.Z21; cmplx.Abs(det-1) > 1e-9*size {
			t.Fatalf("det Z = %v", det)
		}
		if !(r.DecrementFactor > 0 && r.DecrementFactor <= 1+1e-12) || r.TimeShiftH > 1e-9 {
			t.Fatalf("f %v, time shift %v h", r.DecrementFactor, r.TimeShiftH)
		}
		published.Near(t, "1/|Z12|", float64(r.Periodic), 1/cmplx.Abs(r.Z12), 1e-9*float64(r.Periodic))
		// The unfolded shift is the folded one by whole days.
		folded := cmplx.Phase(-1/r.Z12) * 24 / (2 * math.Pi)
		days := (r.TimeShiftH - folded) / 24
		published.Near(t, "whole days", days, math.Round(days), 1e-9)
		published.Near(t, "inside admittance", float64(r.InsideAdmittance), cmplx.Abs(r.Z11/r.Z12), 1e-9*float64(r.InsideAdmittance))
		published.Near(t, "outside admittance", float64(r.OutsideAdmittance), cmplx.Abs(r.Z22/r.Z12), 1e-9*float64(r.OutsideAdmittance))
		heat := 0.0
		for _, l := range r.Layers {
			heat += l.HeatJPerM2K
		}
		if r.ArealInsideJPerM2K > heat+1e-6 || r.ArealOutsideJPerM2K > heat+1e-6 {
			t.Fatalf("κ %v, %v J/(m²·K) over the wall's %v", r.ArealInsideJPerM2K, r.ArealOutsideJPerM2K, heat)
		}
		// Seen from the other side, Y12 is the same and κ change places.
		back := *s
		back.SurfaceInside, back.SurfaceOutside = s.SurfaceOutside, s.SurfaceInside
		back.Layers = slices.Clone(s.Layers)
		slices.Reverse(back.Layers)
		b := solved(t, &back)
		published.Near(t, "Y12 from outside", float64(b.Periodic), float64(r.Periodic), 1e-9*float64(r.Periodic))
		published.Near(t, "shift from outside", b.TimeShiftH, r.TimeShiftH, 1e-9*(1-r.TimeShiftH))
		published.Near(t, "κ2 from outside", b.ArealOutsideJPerM2K, r.ArealInsideJPerM2K, 1e-9*r.ArealInsideJPerM2K+1e-6)
	}
}

// Splitting layers into equal parts changes nothing.
func TestSplitting(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 100 {
		s := random(rng)
		r := solved(t, s)
		split := *s
		split.Layers = nil
		for _, l := range s.Layers {
			n := 2 + rng.IntN(4)
			l.Thickness /= units.Length(n)
			l.Resistance /= units.ThermalResistance(n)
			for range n {
				split.Layers = append(split.Layers, l)
			}
		}
		got := solved(t, &split)
		published.Near(t, "Y12", float64(got.Periodic), float64(r.Periodic), 1e-9*float64(r.Periodic))
		published.Near(t, "shift", got.TimeShiftH, r.TimeShiftH, 1e-9*(1-r.TimeShiftH))
	}
}

// As the period grows, f tends to 1 and Z12 to minus the resistance.
func TestLongPeriod(t *testing.T) {
	s := random(rand.New(rand.NewPCG(5, 6)))
	s.PeriodS = 1e12
	r := solved(t, s)
	published.Near(t, "f", r.DecrementFactor, 1, 1e-6)
	published.Near(t, "Z12", real(r.Z12), -1/float64(r.Steady), 1e-4)
}

func TestErrorsAreTyped(t *testing.T) {
	fine := Layer{Name: "concrete", Thickness: 0.2, Conductivity: 1.8, Density: 2400, SpecificHeat: 1000}
	for name, spoil := range map[string]func(*Stack){
		"negative thickness": func(s *Stack) { s.Layers[0].Thickness = -0.1 },
		"infinite thickness": func(s *Stack) { s.Layers[0].Thickness = units.Length(math.Inf(1)) },
		"no conductivity":    func(s *Stack) { s.Layers[0].Conductivity = 0 },
		"NaN density":        func(s *Stack) { s.Layers[0].Density = units.Density(math.NaN()) },
		"negative heat":      func(s *Stack) { s.Layers[0].SpecificHeat = -1 },
		"negative period":    func(s *Stack) { s.PeriodS = -1 },
		"negative film":      func(s *Stack) { s.SurfaceInside = -1 },
		"negative air":       func(s *Stack) { s.Layers[0] = Layer{Massless: true, Resistance: -1} },
		"nothing":            func(s *Stack) { *s = Stack{} },
	} {
		s := &Stack{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{fine}}
		spoil(s)
		var out *units.RangeError
		if _, err := Solve(s); !errors.As(err, &out) {
			t.Errorf("%s: %v; want a *units.RangeError", name, err)
		}
	}
	for _, l := range []Layer{{Name: "x", Thickness: 0.1, Conductivity: 1, Density: 1000}, {Name: "x", Thickness: 0.1, Conductivity: 1, SpecificHeat: 1000}} {
		var missing *basis.MissingError
		if _, err := Solve(&Stack{Layers: []Layer{l}}); !errors.As(err, &missing) {
			t.Errorf("%v; want a *basis.MissingError", err)
		}
	}
}

// A layer of no thickness changes nothing.
func TestZeroThickness(t *testing.T) {
	s := random(rand.New(rand.NewPCG(7, 8)))
	want := solved(t, s)
	s.Layers = append([]Layer{{Name: "film", Conductivity: 1, Density: 1000, SpecificHeat: 1000}}, s.Layers...)
	if got := solved(t, s); got.Periodic != want.Periodic || got.TimeShiftH != want.TimeShiftH {
		t.Errorf("a layer of no thickness changes %v, %v to %v, %v", want.Periodic, want.TimeShiftH, got.Periodic, got.TimeShiftH)
	}
}

func TestTrace(t *testing.T) {
	r := solved(t, random(rand.New(rand.NewPCG(9, 10))))
	if trace := r.Trace(); len(trace.Inputs) != len(r.Layers)+1 || len(trace.Limits) == 0 || trace.Method.Name != "ISO 13786:2017" {
		t.Errorf("%+v", trace)
	}
}

func BenchmarkSolve(b *testing.B) {
	s := &Stack{SurfaceInside: 0.13, SurfaceOutside: 0.04}
	for range 20 {
		s.Layers = append(s.Layers, Layer{Name: "layer", Thickness: 0.05, Conductivity: 0.5, Density: 1000, SpecificHeat: 1000})
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Solve(s); err != nil {
			b.Fatal(err)
		}
	}
}
