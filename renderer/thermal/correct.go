package thermal

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

const annexF = "ISO 6946:2017 Annex F"

// Corrections are what is added to the transmittance, in W/(m²·K).
type Corrections struct {
	Gaps, Fasteners, Rain units.ThermalTransmittance
	Total                 units.ThermalTransmittance
	Share                 units.Ratio // of the uncorrected transmittance
	// Negligible: the total is below 3 % of the transmittance and may be left
	// out (Annex F.1). It is counted all the same.
	Negligible bool
}

// GapCorrection returns what air gaps in an insulation layer add to the
// transmittance, in W/(m²·K). level is 0 (none), 1 (gaps bridge the
// insulation, no air circulates on its warm side) or 2 (air circulates).
// r1 is the resistance of the layer with gaps, total that of the element, in
// m²·K/W, without thermal bridging.
//
// Method: ISO 6946:2017, Annex F.2: ΔU_g = ΔU″ (R1/R_tot)², ΔU″ 0, 0.01 or
// 0.04 (values from memory). Errors: *[units.RangeError] for another level,
// or r1 outside 0 to total.
func GapCorrection(level int, r1, total units.ThermalResistance) (units.ThermalTransmittance, error) {
	if level < 0 || level > 2 {
		return 0, &units.RangeError{Quantity: "level of air gaps", Value: float64(level), Limit: 2, Says: "must be 0, 1 or 2"}
	}
	share, err := partOf(r1, total)
	return units.ThermalTransmittance([3]float64{0, 0.01, 0.04}[level] * share * share), err
}

// FastenerCorrection returns what mechanical fasteners through one insulation
// layer add to the transmittance, in W/(m²·K). d0 is the thickness of the
// layer, in m, lambda its conductivity as r1 = d0/lambda, total the
// resistance of the element without thermal bridging.
//
// Method: ISO 6946:2017, Annex F.3.2: ΔU_f = α λ_f A_f n_f/d1 (R1/R_tot)²,
// α 0.8 where the fastener goes right through and 0.8 d1/d0 where it is
// recessed; R1 of a recessed fastener is d1/λ (from memory, of low
// confidence). No correction for fasteners of less than 1 W/(m·K).
// Errors: *[basis.RefusedError] where both ends touch metal;
// *[units.RangeError] for lengths out of range.
func FastenerCorrection(f Fastener, d0 units.Length, r1, total units.ThermalResistance) (units.ThermalTransmittance, error) {
	if f.MetalAtBothEnds {
		return 0, &basis.RefusedError{Method: annexF, Case: "a fastener touches metal sheets at both ends", Why: "work it out in two or three dimensions (ISO 10211)"}
	}
	for _, c := range []struct {
		quantity string
		value    float64
		unit     string
	}{
		{"fastener conductivity", float64(f.Conductivity), "W/(m·K)"},
		{"fastener diameter", float64(f.Diameter), "m"},
		{"area per fastener", float64(f.Each), "m²"},
		{"thickness of the fastened layer", float64(d0), "m"},
	} {
		if err := basis.Positive(c.quantity, c.value, c.unit); err != nil {
			return 0, err
		}
	}
	if f.Conductivity < 1 {
		return 0, nil
	}
	if err := basis.Within("length of the fastener in the insulation", float64(f.Penetrates), 0, float64(d0), "m"); err != nil {
		return 0, err
	}
	d1, alpha := float64(d0), 0.8
	if f.Penetrates > 0 && f.Penetrates < d0 {
		d1 = float64(f.Penetrates)
		alpha *= d1 / float64(d0)
		r1 *= units.ThermalResistance(d1 / float64(d0))
	}
	share, err := partOf(r1, total)
	section := math.Pi / 4 * float64(f.Diameter) * float64(f.Diameter)
	return units.ThermalTransmittance(alpha * float64(f.Conductivity) * section / float64(f.Each) / d1 * share * share), err
}

// RainCorrection returns what rain between the insulation and the
// waterproofing of an inverted roof adds to the transmittance, in W/(m²·K).
// perDay is the mean of the heating season (m per day), drainage f·x in
// W·day/(m²·K·mm), r1 the resistance of the insulation above the
// waterproofing, total that of the element.
//
// Method: ISO 6946:2017, Annex F.4: ΔU_r = p f x (R1/R_T)². For heating
// calculations and polystyrene boards.
// Errors: *[units.RangeError] for a negative input or r1 over total.
func RainCorrection(perDay units.Length, drainage float64, r1, total units.ThermalResistance) (units.ThermalTransmittance, error) {
	if err := basis.Within("rain per day", float64(perDay), 0, 1, "m"); err != nil {
		return 0, err
	}
	if err := basis.Within("drainage factor f·x", drainage, 0, 1, "W·day/(m²·K·mm)"); err != nil {
		return 0, err
	}
	share, err := partOf(r1, total)
	return units.ThermalTransmittance(float64(perDay) * 1000 * drainage * share * share), err
}

// partOf returns r1/total.
func partOf(r1, total units.ThermalResistance) (float64, error) {
	if err := basis.Positive("total resistance", float64(total), "m²·K/W"); err != nil {
		return 0, err
	}
	// The allowance is rounding of a sum of up to 20 layers.
	if err := basis.Within("resistance of the corrected layer", float64(r1), 0, float64(total)*(1+1e-12), "m²·K/W"); err != nil {
		return 0, err
	}
	return float64(r1 / total), nil
}

// correct sums the corrections of a stack. total is the resistance that the
// uncorrected transmittance comes from; layers from end on are outside a
// well-ventilated air layer and bear no correction.
func (c *core) correct(s *Stack, total units.ThermalResistance) (Corrections, error) {
	var out Corrections
	end := c.end()
	if math.IsInf(float64(total), 1) {
		return out, nil
	}
	plain := units.ThermalResistance(c.overVentilation(through))
	for i := range s.Layers[:end] {
		l := &s.Layers[i]
		r1 := units.ThermalResistance(c.paths[i].insulation)
		if l.Gaps != 0 {
			du, err := GapCorrection(l.Gaps, r1, plain)
			if err != nil {
				return out, fmt.Errorf("%q: %w", l.Name, err)
			}
			out.Gaps += du
		}
		if l.Air != nil { // a tie across an air layer needs no correction
			continue
		}
		for _, f := range l.Fasteners {
			du, err := FastenerCorrection(f, l.Thickness, r1, plain)
			if err != nil {
				return out, fmt.Errorf("%q: %w", l.Name, err)
			}
			out.Fasteners += du
		}
	}
	if s.Rain != nil {
		var r1 units.ThermalResistance
		for _, i := range s.Rain.Above {
			if i < 0 || i >= end {
				return out, &units.RangeError{Quantity: "layer above the waterproofing", Value: float64(i), Limit: float64(end - 1), Says: "must be one of the stack's"}
			}
			r1 += units.ThermalResistance(c.paths[i].across())
		}
		du, err := RainCorrection(s.Rain.PerDay, s.Rain.DrainageFactor, r1, total)
		if err != nil {
			return out, err
		}
		out.Rain = du
	}
	out.Total = out.Gaps + out.Fasteners + out.Rain
	out.Share = units.Ratio(float64(out.Total) * float64(total))
	out.Negligible = out.Share < 0.03
	return out, nil
}
