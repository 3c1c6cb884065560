package dynamic

import (
	"math"
	"testing"

	"wythe/renderer/published"
	"wythe/renderer/units"
)

type publishedLayer struct{ D, Lambda, Rho, C float64 }

func (p publishedLayer) layer() Layer {
	return Layer{Name: "layer", Thickness: units.Length(p.D), Conductivity: units.Conductivity(p.Lambda), Density: units.Density(p.Rho), SpecificHeat: units.SpecificHeat(p.C)}
}

type walls struct {
	Period float64          `yaml:"period_s"`
	Rsi    float64          `yaml:"Rsi"`
	Rse    float64          `yaml:"Rse"`
	Layers []publishedLayer `yaml:"layers_from_inside"`
}

func (w walls) stack() *Stack {
	s := &Stack{SurfaceInside: units.ThermalResistance(w.Rsi), SurfaceOutside: units.ThermalResistance(w.Rse), PeriodS: w.Period}
	for _, l := range w.Layers {
		s.Layers = append(s.Layers, l.layer())
	}
	return s
}

// expected are the printed figures of a published wall; pairs are real and
// imaginary parts.
type expected struct {
	R          float64    `yaml:"R_total"`
	U          float64    `yaml:"U"`
	Z11        [2]float64 `yaml:"Z11"`
	Z12        [2]float64 `yaml:"Z12"`
	Z21        [2]float64 `yaml:"Z21"`
	Z22        [2]float64 `yaml:"Z22"`
	Inside     float64    `yaml:"thermal_admittance_inside_W_m2K"`
	InsideLead float64    `yaml:"admittance_inside_lead_h"`
	Outside    float64    `yaml:"thermal_admittance_outside_W_m2K"`
	OutLead    float64    `yaml:"admittance_outside_lead_h"`
	Periodic   float64    `yaml:"periodic_transmittance_W_m2K"`
	Shift      float64    `yaml:"time_shift_h"`
	Decrement  float64    `yaml:"decrement_factor"`
	Kappa1     float64    `yaml:"areal_heat_capacity_inside"`
	Kappa2     float64    `yaml:"areal_heat_capacity_outside"`
}

// Tolerance of the source: 1e-4 relative; 0.01 h. The matrix is printed to
// six decimals, so a part near zero keeps half a unit of the last.
func TestPublishedWalls(t *testing.T) {
	seen := 0
	for _, c := range published.Cases(t, "dynamic.yaml") {
		var in walls
		var want expected
		if c.Inputs.Decode(&in) != nil || len(in.Layers) == 0 {
			continue
		}
		seen++
		t.Run(c.ID, func(t *testing.T) {
			t.Logf("%s (%s)", c.Source, c.Provenance)
			if err := c.Expected.Decode(&want); err != nil {
				t.Fatal(err)
			}
			got, err := Solve(in.stack())
			if err != nil {
				t.Fatal(err)
			}
			relative := func(what string, got, want float64) {
				t.Helper()
				published.Near(t, what, got, want, 1e-4*math.Abs(want))
			}
			relative("R", 1/float64(got.Steady), want.R)
			relative("U", float64(got.Steady), want.U)
			for _, z := range []struct {
				name string
				got  complex128
				want [2]float64
			}{{"Z11", got.Z11, want.Z11}, {"Z12", got.Z12, want.Z12}, {"Z21", got.Z21, want.Z21}, {"Z22", got.Z22, want.Z22}} {
				published.Near(t, z.name+" real", real(z.got), z.want[0], math.Max(5e-7, 1e-4*math.Abs(z.want[0])))
				published.Near(t, z.name+" imaginary", imag(z.got), z.want[1], math.Max(5e-7, 1e-4*math.Abs(z.want[1])))
			}
			relative("inside admittance", float64(got.InsideAdmittance), want.Inside)
			published.Near(t, "inside lead", got.InsideLeadH, want.InsideLead, 0.01)
			relative("outside admittance", float64(got.OutsideAdmittance), want.Outside)
			published.Near(t, "outside lead", got.OutsideLeadH, want.OutLead, 0.01)
			relative("periodic transmittance", float64(got.Periodic), want.Periodic)
			published.Near(t, "time shift", got.TimeShiftH, want.Shift, 0.01)
			// Printed to five decimals.
			published.Near(t, "decrement factor", got.DecrementFactor, want.Decrement, math.Max(5e-6, 1e-4*want.Decrement))
			relative("κ1", got.ArealInsideJPerM2K, want.Kappa1)
			relative("κ2", got.ArealOutsideJPerM2K, want.Kappa2)
		})
	}
	if seen != 5 {
		t.Errorf("%d published walls; want 5", seen)
	}
}

func TestPublishedPureResistance(t *testing.T) {
	var in struct {
		R   float64 `yaml:"R"`
		Rsi float64 `yaml:"Rsi"`
		Rse float64 `yaml:"Rse"`
	}
	var want expected
	published.Read(t, "dynamic.yaml", "d6", &in, &want)
	got, err := Solve(&Stack{SurfaceInside: units.ThermalResistance(in.Rsi), SurfaceOutside: units.ThermalResistance(in.Rse),
		Layers: []Layer{{Name: "air", Massless: true, Resistance: units.ThermalResistance(in.R)}}})
	if err != nil {
		t.Fatal(err)
	}
	const tol = 1e-9
	published.Near(t, "Z11", real(got.Z11), want.Z11[0], tol)
	published.Near(t, "Z12", real(got.Z12), want.Z12[0], tol)
	published.Near(t, "Z21", real(got.Z21), want.Z21[0], tol)
	published.Near(t, "Z22", real(got.Z22), want.Z22[0], tol)
	published.Near(t, "periodic transmittance", float64(got.Periodic), want.Periodic, 5e-7) // printed to six decimals
	published.Near(t, "periodic transmittance", float64(got.Periodic), 1/2.67, tol)
	published.Near(t, "decrement factor", got.DecrementFactor, want.Decrement, tol)
	published.Near(t, "time shift", got.TimeShiftH, want.Shift, tol)
	published.Near(t, "κ1", got.ArealInsideJPerM2K, want.Kappa1, tol)
}

func TestPublishedPenetrationDepth(t *testing.T) {
	var in struct {
		Rows [][3]float64
		T    float64 `yaml:"T"`
	}
	var want []float64
	published.Read(t, "dynamic.yaml", "depth", &in, &want)
	for i, row := range in.Rows {
		got, err := PenetrationDepth(units.Conductivity(row[0]), units.Density(row[1]), units.SpecificHeat(row[2]), in.T)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "δ", float64(got), want[i], 1e-6)
	}
}

func TestPublishedHalfSpace(t *testing.T) {
	var in struct {
		Lambda, Rho, C float64
		T              float64 `yaml:"T"`
	}
	var want struct {
		Modulus float64
		Lead    float64 `yaml:"lead_h"`
	}
	published.Read(t, "dynamic.yaml", "semi-infinite", &in, &want)
	for _, depths := range []float64{10, 500} { // at 500 the matrix overflows, the figures don't
		delta, err := PenetrationDepth(units.Conductivity(in.Lambda), units.Density(in.Rho), units.SpecificHeat(in.C), in.T)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Solve(&Stack{PeriodS: in.T, Layers: []Layer{publishedLayer{float64(delta) * depths, in.Lambda, in.Rho, in.C}.layer()}})
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "admittance", float64(got.InsideAdmittance), want.Modulus, 1e-4)
		published.Near(t, "lead", got.InsideLeadH, want.Lead, 1e-4)
		published.Near(t, "time shift", got.TimeShiftH, -24*(depths-math.Pi/4)/(2*math.Pi), 1e-4)
	}
}
