package ground

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Slab is a slab on ground.
type Slab struct {
	Plan
	Soil Soil
	// Floor is the resistance of the slab and all insulation over or under the
	// whole of it; dense concrete and floor coverings may be left out.
	Floor          units.ThermalResistance
	SurfaceInside  units.ThermalResistance // usually 0.17
	SurfaceOutside units.ThermalResistance // usually 0.04
	Edge           *Edge
}

// Edge is insulation along the slab's perimeter. One of Horizontal and
// Vertical is set; where both are, the greater reduction counts.
type Edge struct {
	Thickness    units.Length
	Conductivity units.Conductivity
	Horizontal   units.Length // width under the slab's edge
	Vertical     units.Length // depth below grade
}

// Result is the heat flow of a floor on ground, or of a basement.
type Result struct {
	BPrime, Dt units.Length
	Branch     Branch
	// Transmittance is that of the floor; edge insulation is not in it but in
	// WithEdge. Of a basement it is the floor's.
	Transmittance units.ThermalTransmittance
	Edge          *EdgeResult // nil where there is none
	WithEdge      units.ThermalTransmittance
	AnnualWPerK   float64 // H_g, W/K: area, perimeter and walls

	Wall *WallResult      // of a basement
	Void *SuspendedResult // of a suspended floor

	Periodic *Periodic // nil where the soil's heat capacity is not stated

	soil Soil
	plan Plan
	kind string
}

// EdgeResult is edge insulation's share.
type EdgeResult struct {
	Extra    units.ThermalResistance   // R′ = R_n - d_n/λ
	Added    units.Length              // d′ = R′ λ
	Psi      units.LinearTransmittance // ψ, never positive
	Vertical bool
	Depth    units.Length // D, of the kind that counts
	Note     string
}

// EdgePsi returns the linear transmittance ψ_g,e of edge insulation, in
// W/(m·K): never positive, never below -(λ/π) ln(2D/d_t + 1).
//
// Method: ISO 13370:2017, Annex B (from memory): horizontal -(λ/π)[ln(D/d_t+1)
// - ln(D/(d_t+d′)+1)], vertical with 2D for D, d′ = (R_n - d_n/λ) λ. Insulation
// that resists no better than the ground it displaces changes nothing.
// Errors: *[units.RangeError].
func EdgePsi(soil units.Conductivity, dt units.Length, e Edge) (*EdgeResult, error) {
	for _, c := range []struct {
		quantity string
		value    float64
		unit     string
	}{{"soil conductivity", float64(soil), "W/(m·K)"}, {"equivalent thickness d_t", float64(dt), "m"}, {"edge insulation's conductivity", float64(e.Conductivity), "W/(m·K)"}} {
		if err := basis.Positive(c.quantity, c.value, c.unit); err != nil {
			return nil, err
		}
	}
	for _, c := range []struct {
		quantity string
		value    units.Length
	}{{"edge insulation's thickness", e.Thickness}, {"edge insulation's width", e.Horizontal}, {"edge insulation's depth", e.Vertical}} {
		if err := basis.NotNegative(c.quantity, float64(c.value), "m"); err != nil {
			return nil, err
		}
		if err := basis.Finite(c.quantity, float64(c.value), "m"); err != nil {
			return nil, err
		}
	}
	lambda := float64(soil)
	extra := float64(e.Thickness)/float64(e.Conductivity) - float64(e.Thickness)/lambda
	out := &EdgeResult{Extra: units.ThermalResistance(extra)}
	if extra <= 0 {
		out.Extra, out.Note = 0, "the edge insulation resists no better than the ground it displaces"
		return out, nil
	}
	out.Added = units.Length(extra * lambda)
	psi := func(d float64) float64 {
		return -lambda / math.Pi * (math.Log1p(d/float64(dt)) - math.Log1p(d/float64(dt+out.Added)))
	}
	h, v := psi(float64(e.Horizontal)), psi(2*float64(e.Vertical))
	if out.Psi, out.Depth = units.LinearTransmittance(h), e.Horizontal; v < h {
		out.Psi, out.Depth, out.Vertical = units.LinearTransmittance(v), e.Vertical, true
	}
	if e.Horizontal > 0 && e.Vertical > 0 {
		out.Note = "horizontal and vertical edge insulation: the greater reduction counts"
	}
	return out, nil
}

// Solve returns the slab's steady and periodic heat flow.
//
// Method: ISO 13370:2017, 9.1 and Annexes B and H (from memory): U by both
// branches of d_t against B′; U + 2ψ/B′ with edge insulation; H_g = A U + P ψ.
// Errors: *[units.RangeError].
func (s *Slab) Solve() (*Result, error) {
	b, err := s.CharacteristicDimension()
	if err != nil {
		return nil, err
	}
	dt, err := EquivalentThickness(s.Wall, s.Soil.Conductivity, s.SurfaceInside, s.Floor, s.SurfaceOutside)
	if err != nil {
		return nil, err
	}
	r := &Result{BPrime: b, Dt: dt, soil: s.Soil, plan: s.Plan, kind: "slab on ground"}
	if r.Transmittance, r.Branch, err = SlabTransmittance(s.Soil.Conductivity, b, dt); err != nil {
		return nil, err
	}
	r.WithEdge = r.Transmittance
	psi := 0.0
	if s.Edge != nil {
		if r.Edge, err = EdgePsi(s.Soil.Conductivity, dt, *s.Edge); err != nil {
			return nil, err
		}
		psi = float64(r.Edge.Psi)
		r.WithEdge += units.ThermalTransmittance(2 * psi / float64(b))
	}
	r.AnnualWPerK = float64(s.Area)*float64(r.Transmittance) + float64(s.Perimeter)*psi
	if s.Soil.HeatCapacityJPerM3K != 0 {
		if r.Periodic, err = s.periodic(dt, r.Edge); err != nil {
			return nil, err
		}
	}
	return r, nil
}

// CurvePoint is one point of U over B′.
type CurvePoint struct {
	BPrime        units.Length
	Transmittance units.ThermalTransmittance
	WithEdge      units.ThermalTransmittance
	Branch        Branch
}

// Curve returns U over B′ for a ground element without a building, from the
// slab's construction; its plan's area and perimeter are not read.
//
// Method: as [Slab.Solve]. Errors: *[units.RangeError].
func (s *Slab) Curve(bPrimes []units.Length) ([]CurvePoint, error) {
	dt, err := EquivalentThickness(s.Wall, s.Soil.Conductivity, s.SurfaceInside, s.Floor, s.SurfaceOutside)
	if err != nil {
		return nil, err
	}
	psi := 0.0
	if s.Edge != nil {
		e, err := EdgePsi(s.Soil.Conductivity, dt, *s.Edge)
		if err != nil {
			return nil, err
		}
		psi = float64(e.Psi)
	}
	out := make([]CurvePoint, len(bPrimes))
	for i, b := range bPrimes {
		u, branch, err := SlabTransmittance(s.Soil.Conductivity, b, dt)
		if err != nil {
			return nil, err
		}
		out[i] = CurvePoint{b, u, u + units.ThermalTransmittance(2*psi/float64(b)), branch}
	}
	return out, nil
}

// UsualBPrimes are the points of a curve over B′, in m.
var UsualBPrimes = []units.Length{2, 3, 4, 5, 6, 8, 10, 12, 15, 20}

// Trace says what the figures rest on.
func (r *Result) Trace() basis.Trace {
	t := basis.Trace{Method: basis.Method{Name: Method, Clause: "8 and 9", Says: "U of a " + r.kind + " from its plan, its resistance and the ground's conductivity."}}
	input := func(name, format string, args ...any) {
		t.Inputs = append(t.Inputs, basis.Input{Name: name, Value: fmt.Sprintf(format, args...)})
	}
	input("ground", "%s, %.3g W/(m·K)", r.soil.Name, float64(r.soil.Conductivity))
	input("area", "%.4g m²", float64(r.plan.Area))
	input("exposed perimeter", "%.4g m", float64(r.plan.Perimeter))
	input("wall thickness", "%.3g m", float64(r.plan.Wall))
	input("B′", "%.4g m", float64(r.BPrime))
	input("d_t", "%.4g m", float64(r.Dt))
	if r.Edge != nil {
		kind := "horizontal"
		if r.Edge.Vertical {
			kind = "vertical"
		}
		input("edge insulation", "%s %.3g m: ψ %.4g W/(m·K)", kind, float64(r.Edge.Depth), float64(r.Edge.Psi))
	}
	t.Limits = append(t.Limits, "Homogeneous ground, no ground water near; the formulas are from memory of the standard and agree with published tables.")
	return t
}
