package energy

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Step is one thickness of a study.
type Step struct {
	Thickness     units.Length
	Resistance    units.ThermalResistance
	Transmittance units.ThermalTransmittance
	Heat          HeatPerArea // a year's
	MoneyPerM2    float64     // a year's, by the first price; 0 without prices
	// HeatSaved and MoneySaved are against the step before; zero in the first.
	HeatSaved  HeatPerArea
	MoneySaved float64
	SavedShare units.Ratio // HeatSaved over the first step's heat
	Meets      bool        // the target, where there is one
}

// Study is a layer's total thickness swept.
type Study struct {
	Layer  string
	Steps  []Step
	Target units.ThermalResistance // 0: none
	First  int                     // index of the first step that meets the target; -1: none does
	Price  *Price                  // nil without prices
}

const mostSteps = 500

// Thicknesses returns from, from+by, … up to and with to, in m; the last step
// is to even where the steps miss it.
//
// Errors: *[units.RangeError] if from < 0, to < from, by ≤ 0 or more than 500
// steps.
func Thicknesses(from, to, by units.Length) ([]units.Length, error) {
	if err := basis.NotNegative("first thickness", float64(from), "m"); err != nil {
		return nil, err
	}
	if !(to >= from) || math.IsInf(float64(to), 1) {
		return nil, &units.RangeError{Quantity: "last thickness", Value: float64(to), Limit: float64(from), Unit: "m", Says: "must be at least the first"}
	}
	if err := basis.Positive("step of thickness", float64(by), "m"); err != nil {
		return nil, err
	}
	// A step's rounding, by which a last step may miss or pass the end.
	const rounding = 1e-9
	n := math.Floor(float64((to-from)/by) + rounding)
	if n >= mostSteps {
		return nil, &units.RangeError{Quantity: "steps of a study", Value: n + 1, Limit: mostSteps, Says: "are too many"}
	}
	out := make([]units.Length, 0, int(n)+2)
	for i := range int(n) + 1 {
		out = append(out, from+units.Length(i)*by)
	}
	if last := out[len(out)-1]; to-last > by*rounding {
		out = append(out, to)
	}
	return out, nil
}

// Sweep studies a layer: R and U of the element at each thickness come from
// the caller; heat by degree-days, money by the first price.
//
// Errors: those of the caller, *[units.RangeError], *[basis.MissingError].
func Sweep(layer string, thicknesses []units.Length, target units.ThermalResistance, dd DegreeDays, prices []Price, element func(units.Length) (units.ThermalResistance, units.ThermalTransmittance, error)) (*Study, error) {
	if err := basis.NotNegative("degree-days", float64(dd), "K·d"); err != nil {
		return nil, err
	}
	if err := basis.NotNegative("target resistance", float64(target), "m²·K/W"); err != nil {
		return nil, err
	}
	s := &Study{Layer: layer, Steps: make([]Step, len(thicknesses)), Target: target, First: -1}
	if len(prices) > 0 {
		s.Price = &prices[0]
	}
	for i, d := range thicknesses {
		r, u, err := element(d)
		if err != nil {
			return nil, fmt.Errorf("study of %q at %.4g m: %w", layer, float64(d), err)
		}
		if err := checkU(u); err != nil {
			return nil, err
		}
		step := Step{Thickness: d, Resistance: r, Transmittance: u, Heat: HeatPerArea(float64(u) * float64(dd) * secondsPerDay)}
		if s.Price != nil {
			if _, step.MoneyPerM2, err = s.Price.Of(Heat(step.Heat)); err != nil {
				return nil, err
			}
		}
		if i > 0 {
			step.HeatSaved = s.Steps[i-1].Heat - step.Heat
			step.MoneySaved = s.Steps[i-1].MoneyPerM2 - step.MoneyPerM2
			if s.Steps[0].Heat > 0 {
				step.SavedShare = units.Ratio(step.HeatSaved / s.Steps[0].Heat)
			}
		}
		if step.Meets = target > 0 && r >= target; step.Meets && s.First < 0 {
			s.First = i
		}
		s.Steps[i] = step
	}
	return s, nil
}

// Payback is what an investment comes to.
type Payback struct {
	SavingPerYear   float64 // money
	SimpleYears     float64 // +Inf without a saving
	PresentWorth    float64 // factor (1-(1+i)^-n)/i, years
	NetPresentValue float64 // money
}

// PaybackOf returns simple payback and net present value of a cost that saves
// money each year, over years at a real rate.
//
// Method: present worth as in ASTM E917 and E1074. Errors: *[units.RangeError].
func PaybackOf(cost, savingPerYear, years float64, rate units.Ratio) (*Payback, error) {
	for _, c := range []struct {
		quantity string
		value    float64
	}{{"cost", cost}, {"years", years}} {
		if err := basis.NotNegative(c.quantity, c.value, ""); err != nil {
			return nil, err
		}
	}
	if !(rate > -1) {
		return nil, &units.RangeError{Quantity: "real rate", Value: float64(rate), Limit: -1, Says: "must be above -1"}
	}
	p := &Payback{SavingPerYear: savingPerYear, SimpleYears: math.Inf(1), PresentWorth: years}
	if savingPerYear > 0 {
		p.SimpleYears = cost / savingPerYear
	}
	if rate != 0 {
		p.PresentWorth = -math.Expm1(-years*math.Log1p(float64(rate))) / float64(rate)
	}
	p.NetPresentValue = savingPerYear*p.PresentWorth - cost
	return p, nil
}
