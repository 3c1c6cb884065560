package ground

import (
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Periodic are the periodic coefficients of a ground element.
type Periodic struct {
	Depth        units.Length // δ, penetration of the yearly swing
	InsideWPerK  float64      // H_pi, W/K
	OutsideWPerK float64      // H_pe, W/K
	// InsideLead and OutsideLag are α and β, in months.
	InsideLead, OutsideLag float64
}

// damping returns λ/d √(2/((1+δ/d)²+1)), in W/(m²·K).
func damping(lambda, d, delta float64) float64 {
	return lambda / d * math.Sqrt(2/((1+delta/d)*(1+delta/d)+1))
}

// periodic is ISO 13370:2017, Annex H, slab on ground (from memory); edge
// insulation divides the perimeter term by depth.
func (s *Slab) periodic(dt units.Length, edge *EdgeResult) (*Periodic, error) {
	depth, err := s.Soil.PenetrationDepth()
	if err != nil {
		return nil, err
	}
	lambda, delta, d := float64(s.Soil.Conductivity), float64(depth), float64(dt)
	outside := math.Log1p(delta / d)
	if edge != nil && edge.Added > 0 {
		reach := float64(edge.Depth)
		if edge.Vertical {
			reach *= 2
		}
		e := math.Exp(-reach / delta)
		outside = (1-e)*math.Log1p(delta/(d+float64(edge.Added))) + e*math.Log1p(delta/d)
	}
	return &Periodic{Depth: depth, InsideWPerK: float64(s.Area) * damping(lambda, d, delta), OutsideWPerK: periodicEdge * float64(s.Perimeter) * lambda * outside, OutsideLag: 1}, nil
}

// periodic is ISO 13370:2017, Annex H, heated basement (from memory).
func (s *Basement) periodic(dt, dw units.Length) (*Periodic, error) {
	depth, err := s.Soil.PenetrationDepth()
	if err != nil {
		return nil, err
	}
	lambda, delta, d, w := float64(s.Soil.Conductivity), float64(depth), float64(dt), float64(dw)
	z, p := float64(s.Depth), float64(s.Perimeter)
	e := math.Exp(-z / delta)
	return &Periodic{
		Depth:        depth,
		InsideWPerK:  float64(s.Area)*damping(lambda, d, delta) + z*p*damping(lambda, w, delta),
		OutsideWPerK: periodicEdge * p * lambda * (e*math.Log1p(delta/d) + 2*(1-e)*math.Log1p(delta/w)),
		OutsideLag:   1,
	}, nil
}

// periodic is ISO 13370:2017, Annex H, suspended floor (from memory).
func (s *Suspended) periodic(void *SuspendedResult) (*Periodic, error) {
	depth, err := s.Soil.PenetrationDepth()
	if err != nil {
		return nil, err
	}
	lambda, delta, a := float64(s.Soil.Conductivity), float64(depth), float64(s.Area)
	uf, ux := float64(s.Floor), float64(void.Vented)
	return &Periodic{
		Depth:        depth,
		InsideWPerK:  a / (1/uf + 1/(lambda/delta+ux)),
		OutsideWPerK: uf * (periodicEdge*float64(s.Perimeter)*lambda*math.Log1p(delta/float64(void.Dg)) + ux*a) / (lambda/delta + ux + uf),
	}, nil
}

// Swing is the yearly course of the two airs as sine waves.
type Swing struct {
	Inside, Outside           units.Temperature           // means of the year
	InsideSwing, OutsideSwing units.TemperatureDifference // amplitudes
	ColdestMonth              float64                     // τ: 1 January … 12 December
}

// SwingOf fits the sine waves to monthly means: half the range for the
// amplitude, the coldest month for τ.
//
// Method: ISO 13370:2017, Annex H (convention from memory).
// Errors: *[units.RangeError] if a temperature is not finite.
func SwingOf(outside [12]units.Temperature, inside units.Temperature) (Swing, error) {
	low, high, sum, at := math.Inf(1), math.Inf(-1), 0.0, 0
	for i, t := range outside {
		if err := basis.Finite("monthly temperature", float64(t), "°C"); err != nil {
			return Swing{}, err
		}
		if float64(t) < low {
			low, at = float64(t), i
		}
		high, sum = math.Max(high, float64(t)), sum+float64(t)
	}
	if err := basis.Finite("inside temperature", float64(inside), "°C"); err != nil {
		return Swing{}, err
	}
	return Swing{Inside: inside, Outside: units.Temperature(sum / 12), OutsideSwing: units.TemperatureDifference((high - low) / 2), ColdestMonth: float64(at + 1)}, nil
}

// Months is the heat flow of a ground element, January first.
type Months struct {
	FlowW       [12]float64 // W
	AnnualMeanW float64     // W
}

// Months returns the mean heat flow of each month, in W.
//
// Method: ISO 13370:2017, Annex H: Φ_m = H_g (θi-θe) - H_pi âi cos(2π(m-τ+α)/12)
// + H_pe âe cos(2π(m-τ-β)/12). The mean of the twelve is H_g (θi-θe).
// Errors: *[basis.MissingError] where the soil's heat capacity is not stated.
func (r *Result) Months(s Swing) (*Months, error) {
	if r.Periodic == nil {
		return nil, &basis.MissingError{Method: Method, Quantity: "heat capacity of the soil", Put: "the soil"}
	}
	p := r.Periodic
	out := &Months{AnnualMeanW: r.AnnualWPerK * float64(s.Inside-s.Outside)}
	for i := range out.FlowW {
		m := float64(i+1) - s.ColdestMonth
		out.FlowW[i] = out.AnnualMeanW -
			p.InsideWPerK*float64(s.InsideSwing)*math.Cos(2*math.Pi*(m+p.InsideLead)/12) +
			p.OutsideWPerK*float64(s.OutsideSwing)*math.Cos(2*math.Pi*(m-p.OutsideLag)/12)
	}
	return out, nil
}
