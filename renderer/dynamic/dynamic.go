// Package dynamic computes how a layer stack answers to a temperature that
// swings once a day: periodic transmittance, decrement factor, time shift and
// areal heat capacities.
//
// Method: ISO 13786:2017. Layers run inside to outside. This package knows
// no file, drawing or page.
package dynamic

import (
	"fmt"
	"math"
	"math/cmplx"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Day is the usual period, in s.
const Day = 86400.0

// Stack is an element, air to air.
type Stack struct {
	Layers                        []Layer // inside to outside
	SurfaceInside, SurfaceOutside units.ThermalResistance
	PeriodS                       float64 // s; 0: Day
}

// Layer is one plain layer. A layer of no density or no specific heat that is
// marked Massless (air, thin films) is a pure resistance.
type Layer struct {
	Name         string
	Thickness    units.Length
	Conductivity units.Conductivity
	Density      units.Density
	SpecificHeat units.SpecificHeat
	// Resistance is read where Massless is set; the four above are not.
	Resistance units.ThermalResistance
	Massless   bool
}

// Result is an element's answer to a sinusoidal temperature.
type Result struct {
	PeriodS float64 // s
	// Z is the heat transfer matrix from inside to outside: Z11, Z12 (m²·K/W),
	// Z21 (W/(m²·K)), Z22. It is not finite for an element many penetration
	// depths thick; the figures below still are.
	Z11, Z12, Z21, Z22 complex128

	Steady              units.ThermalTransmittance // of the same stack in steady flow
	Periodic            units.ThermalTransmittance // |Y12|
	DecrementFactor     float64                    // Periodic/Steady, 1
	TimeShiftH          float64                    // h; negative: the outside swing arrives later. Not folded at -12 h.
	InsideAdmittance    units.ThermalTransmittance // |Y11|
	InsideLeadH         float64                    // h that the heat flow leads the temperature
	OutsideAdmittance   units.ThermalTransmittance // |Y22|
	OutsideLeadH        float64
	ArealInsideJPerM2K  float64 // κ1, J/(m²·K)
	ArealOutsideJPerM2K float64 // κ2, J/(m²·K)

	Layers []LayerResult
}

// LayerResult is one layer's share.
type LayerResult struct {
	Name             string
	Resistance       units.ThermalResistance
	PenetrationDepth units.Length // periodic, δ; 0 for a pure resistance
	Depths           float64      // thickness over δ, 1
	HeatJPerM2K      float64      // ρ c d, J/(m²·K)
}

// PenetrationDepth returns δ = √(λT/(π ρ c)), in m, the depth at which a
// swing of the period (s) is down to 1/e.
//
// Method: ISO 13786:2017, 6.2 (clause from memory).
// Errors: *[units.RangeError] unless all are above zero and finite.
func PenetrationDepth(lambda units.Conductivity, rho units.Density, c units.SpecificHeat, periodS float64) (units.Length, error) {
	for _, v := range []struct {
		quantity string
		value    float64
		unit     string
	}{{"conductivity", float64(lambda), "W/(m·K)"}, {"density", float64(rho), "kg/m³"}, {"specific heat", float64(c), "J/(kg·K)"}, {"period", periodS, "s"}} {
		if err := basis.Positive(v.quantity, v.value, v.unit); err != nil {
			return 0, err
		}
	}
	return units.Length(math.Sqrt(float64(lambda) * periodS / (math.Pi * float64(rho) * float64(c)))), nil
}

// slab is one layer as the formulas see it.
type slab struct {
	r  float64    // m²·K/W; a pure resistance where xi is 0
	xi float64    // thickness over penetration depth
	y0 complex128 // (λ/δ)(1+i), W/(m²·K)
}

// Solve returns an element's periodic characteristics.
//
// Method: ISO 13786:2017, clauses 6 and 7: product of the layers' heat
// transfer matrices, surfaces as pure resistances.
// Valid for plain layers; framed layers are taken along one path by the
// caller. Errors: *[units.RangeError] or *[basis.MissingError].
func Solve(s *Stack) (*Result, error) {
	out := &Result{PeriodS: s.PeriodS, Layers: make([]LayerResult, len(s.Layers))}
	if out.PeriodS == 0 {
		out.PeriodS = Day
	}
	if err := basis.Positive("period", out.PeriodS, "s"); err != nil {
		return nil, err
	}
	slabs := make([]slab, 0, len(s.Layers)+2)
	total := 0.0
	film := func(name string, r units.ThermalResistance) error {
		slabs, total = append(slabs, slab{r: float64(r)}), total+float64(r)
		if err := basis.Finite(name, float64(r), "m²·K/W"); err != nil {
			return err
		}
		return basis.NotNegative(name, float64(r), "m²·K/W")
	}
	if err := film("inside surface resistance", s.SurfaceInside); err != nil {
		return nil, err
	}
	for i := range s.Layers {
		b, result, err := resolve(&s.Layers[i], out.PeriodS)
		if err != nil {
			return nil, err
		}
		slabs, total = append(slabs, b), total+b.r
		out.Layers[i] = result
	}
	if err := film("outside surface resistance", s.SurfaceOutside); err != nil {
		return nil, err
	}
	if err := basis.Positive("total resistance", total, "m²·K/W"); err != nil {
		return nil, err
	}
	out.Steady = units.ThermalTransmittance(1 / total)
	out.matrix(slabs)
	out.figures(slabs)
	return out, nil
}

func resolve(l *Layer, period float64) (slab, LayerResult, error) {
	result := LayerResult{Name: l.Name}
	bad := func(err error) (slab, LayerResult, error) { return slab{}, result, fmt.Errorf("%q: %w", l.Name, err) }
	if l.Massless {
		result.Resistance = l.Resistance
		if err := basis.Finite("resistance", float64(l.Resistance), "m²·K/W"); err != nil {
			return bad(err)
		}
		if err := basis.NotNegative("resistance", float64(l.Resistance), "m²·K/W"); err != nil {
			return bad(err)
		}
		return slab{r: float64(l.Resistance)}, result, nil
	}
	if err := basis.NotNegative("thickness", float64(l.Thickness), "m"); err != nil {
		return bad(err)
	}
	if err := basis.Finite("thickness", float64(l.Thickness), "m"); err != nil {
		return bad(err)
	}
	switch {
	case l.Density == 0:
		return slab{}, result, &basis.MissingError{Method: "ISO 13786:2017", Quantity: fmt.Sprintf("density of %q", l.Name), Put: "materials.yaml"}
	case l.SpecificHeat == 0:
		return slab{}, result, &basis.MissingError{Method: "ISO 13786:2017", Quantity: fmt.Sprintf("specific heat of %q", l.Name), Put: "materials.yaml"}
	}
	delta, err := PenetrationDepth(l.Conductivity, l.Density, l.SpecificHeat, period)
	if err != nil {
		return bad(err)
	}
	y := float64(l.Conductivity) / float64(delta)
	result.Resistance = units.ThermalResistance(float64(l.Thickness) / float64(l.Conductivity))
	result.PenetrationDepth, result.Depths = delta, float64(l.Thickness/delta)
	result.HeatJPerM2K = float64(l.Density) * float64(l.SpecificHeat) * float64(l.Thickness)
	return slab{r: float64(result.Resistance), xi: result.Depths, y0: complex(y, y)}, result, nil
}

// matrix multiplies the layers' matrices, the inside one rightmost.
func (r *Result) matrix(slabs []slab) {
	z11, z12, z21, z22 := complex128(1), complex128(0), complex128(0), complex128(1)
	for _, b := range slabs {
		a11, a12, a21 := complex128(1), complex(-b.r, 0), complex128(0)
		if b.xi > 0 {
			sin, cos := math.Sincos(b.xi)
			sinh, cosh := math.Sinh(b.xi), math.Cosh(b.xi)
			a11 = complex(cosh*cos, sinh*sin)
			sinhz := complex(sinh*cos, cosh*sin)
			a12, a21 = -sinhz/b.y0, -sinhz*b.y0
		}
		z11, z12, z21, z22 = a11*z11+a12*z21, a11*z12+a12*z22, a21*z11+a11*z21, a21*z12+a11*z22
	}
	r.Z11, r.Z12, r.Z21, r.Z22 = z11, z12, z21, z22
}

// figures works out what the page shows. The phase of Z12 is summed layer by
// layer, so that the time shift is never folded, and its size is kept as a
// logarithm, so that no wall is too thick.
func (r *Result) figures(slabs []slab) {
	hours := r.PeriodS / (2 * math.Pi * 3600)
	logZ12, phase := transfer(slabs)
	periodic := math.Exp(-logZ12)
	r.Periodic = units.ThermalTransmittance(periodic)
	r.DecrementFactor = periodic / float64(r.Steady)
	r.TimeShiftH = -phase * hours

	inside, outside := admittance(slabs, true), admittance(slabs, false)
	r.InsideAdmittance, r.InsideLeadH = units.ThermalTransmittance(cmplx.Abs(inside)), cmplx.Phase(inside)*hours
	r.OutsideAdmittance, r.OutsideLeadH = units.ThermalTransmittance(cmplx.Abs(outside)), cmplx.Phase(outside)*hours

	heat := r.PeriodS / (2 * math.Pi)
	if finite(r.Z11) && finite(r.Z22) && finite(r.Z12) {
		r.ArealInsideJPerM2K = heat * cmplx.Abs((r.Z11-1)/r.Z12)
		r.ArealOutsideJPerM2K = heat * cmplx.Abs((r.Z22-1)/r.Z12)
		return
	}
	// Y12 has vanished beside the admittances.
	r.ArealInsideJPerM2K = heat * cmplx.Abs(inside)
	r.ArealOutsideJPerM2K = heat * cmplx.Abs(outside)
}

func finite(z complex128) bool { return !cmplx.IsNaN(z) && !cmplx.IsInf(z) }

// transfer returns ln|Z12| and the unfolded phase of -Z12, in rad.
//
// A unit of heat flow is sent through the inside face and followed outward.
// Across a pure resistance R the temperature grows by 1 + R w, across a slab
// by cosh z + (w/y0) sinh z = e^z/2 [(1+g) + (1-g) e^-2z], with w the
// admittance looking back, z = ξ(1+i) and g = w/y0. A passive wall keeps w in
// the first quadrant, so g lies within 45° of the real axis and each bracket
// keeps its phase under 180°: the sum of principal phases is the true phase.
func transfer(slabs []slab) (logSize, phase float64) {
	started := false
	w := cmplx.Inf() // the admittance looking back from the face reached
	for _, b := range slabs {
		if b.r == 0 && b.xi == 0 {
			continue
		}
		switch {
		case b.xi == 0 && !started:
			logSize, w = math.Log(b.r), complex(1/b.r, 0)
		case b.xi == 0:
			grow := 1 + complex(b.r, 0)*w
			logSize += math.Log(cmplx.Abs(grow))
			phase += cmplx.Phase(grow)
			w /= grow
		case !started:
			// sinh z / y0
			e := decay(b.xi)
			logSize = b.xi - math.Ln2 + math.Log(cmplx.Abs(1-e)) - math.Log(cmplx.Abs(b.y0))
			phase = b.xi + cmplx.Phase(1-e) - math.Pi/4
			w = b.y0 * (1 + e) / (1 - e)
		default:
			e, g := decay(b.xi), w/b.y0
			rho := (1 - g) / (1 + g)
			grow := 1 + rho*e
			logSize += b.xi - math.Ln2 + math.Log(cmplx.Abs(1+g)) + math.Log(cmplx.Abs(grow))
			phase += b.xi + cmplx.Phase(1+g) + cmplx.Phase(grow)
			w = b.y0 * (1 - rho*e) / grow
		}
		started = true
	}
	return logSize, phase
}

// decay returns e^-2z for z = ξ(1+i).
func decay(xi float64) complex128 { return cmplx.Exp(complex(-2*xi, -2*xi)) }

// admittance returns the surface admittance seen from one side while the
// other is held at a constant temperature: -Z11/Z12 from inside, -Z22/Z12
// from outside.
func admittance(slabs []slab, fromInside bool) complex128 {
	w := cmplx.Inf() // held at temperature
	for i := range slabs {
		b := slabs[i]
		if fromInside {
			b = slabs[len(slabs)-1-i]
		}
		switch {
		case b.r == 0 && b.xi == 0:
		case b.xi == 0 && cmplx.IsInf(w):
			w = complex(1/b.r, 0)
		case b.xi == 0:
			w /= 1 + complex(b.r, 0)*w
		case cmplx.IsInf(w):
			e := decay(b.xi)
			w = b.y0 * (1 + e) / (1 - e)
		default:
			e, g := decay(b.xi), w/b.y0
			rho := (1 - g) / (1 + g)
			w = b.y0 * (1 - rho*e) / (1 + rho*e)
		}
	}
	return w
}

// Trace says what the figures rest on.
func (r *Result) Trace() basis.Trace {
	t := basis.Trace{
		Method: basis.Method{Name: "ISO 13786:2017", Clause: "6 and 7", Says: "The layers' heat transfer matrices multiplied, for a temperature that swings as a sine wave."},
		Inputs: []basis.Input{{Name: "period", Value: fmt.Sprintf("%.4g h", r.PeriodS/3600)}},
		Limits: []string{"Plain layers along one path; framing is not mixed in.", "A sine wave once per period; no air leaks, no sun, no furniture."},
	}
	for _, l := range r.Layers {
		v := fmt.Sprintf("%.3f m²·K/W", float64(l.Resistance))
		if l.Depths > 0 {
			v += fmt.Sprintf(", %.4g J/(m²·K), %.3g penetration depths", l.HeatJPerM2K, l.Depths)
		}
		t.Inputs = append(t.Inputs, basis.Input{Name: l.Name, Value: v})
	}
	return t
}
