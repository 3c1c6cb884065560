package energy

import (
	"errors"
	"math"
	"testing"

	"wythe/renderer/basis"
	"wythe/renderer/published"
	"wythe/renderer/units"
)

var cold = [12]units.Temperature{-3.1, -2.4, 1.5, 6.8, 12.2, 17.1, 20.6, 20.2, 16.4, 10.9, 5.4, -0.6}

func TestYear(t *testing.T) {
	prices := []Price{{"heat pump", 0.24, "kWh", 2.8}, {"oil", 4, "gal", 0.85}}
	y, err := Solve(0.2, cold, UsualBase, 21, prices)
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "heat", float64(y.Heat), 0.2*float64(y.DegreeDays)*86400, 1e-6)
	sum := HeatPerArea(0)
	for i, h := range y.Months {
		if h < 0 {
			t.Errorf("month %d gains", i)
		}
		sum += h
	}
	published.Near(t, "months", float64(sum), float64(y.MonthsTotal), 1e-6)
	if y.MonthsTotal <= y.Heat {
		t.Error("a base below the inside temperature does not lower the heat")
	}
	published.Near(t, "kWh", y.Costs[0].UnitsPerM2, y.Heat.KilowattHoursPerM2()/2.8, 1e-4*y.Costs[0].UnitsPerM2)
	published.Near(t, "money", y.Costs[1].MoneyPerM2, 4*y.Costs[1].UnitsPerM2, 1e-12)
	if trace := y.Trace(); len(trace.Inputs) != 4 || len(trace.Limits) != 2 {
		t.Errorf("%+v", trace)
	}
	none, err := Solve(0, cold, UsualBase, 21, nil)
	if err != nil || none.Heat != 0 || none.MonthsTotal != 0 {
		t.Errorf("%+v, %v; want nothing through a U of zero", none, err)
	}
}

func TestGroundYear(t *testing.T) {
	flow := [12]float64{300, 300, 200, 100, 0, -50, -100, -50, 0, 100, 200, 300}
	y, err := SolveGround(flow, 100, 21, nil)
	if err != nil {
		t.Fatal(err)
	}
	want := (300.0*(31+28+31) + 200*(31+30) + 100*(30+31)) * 86400 / 100
	published.Near(t, "heat", float64(y.Heat), want, 1e-6)
	if trace := y.Trace(); trace.Method.Name != "Monthly balance" {
		t.Errorf("%+v", trace)
	}
}

func TestThicknesses(t *testing.T) {
	for _, c := range []struct {
		from, to, by float64 // in
		n            int
		last         float64
	}{{1, 10, 0.5, 19, 10}, {0, 0, 1, 1, 0}, {1, 2.2, 0.5, 4, 2.2}, {0.5, 0.8, 0.1, 4, 0.8}} {
		got, err := Thicknesses(units.Inches(c.from), units.Inches(c.to), units.Inches(c.by))
		if err != nil || len(got) != c.n {
			t.Errorf("%v: %d steps, %v; want %d", c, len(got), err, c.n)
			continue
		}
		published.Near(t, "last", got[len(got)-1].Inches(), c.last, 1e-9)
	}
	for name, err := range map[string]error{
		"no step":      second(Thicknesses(0, 1, 0)),
		"backward":     second(Thicknesses(1, 0, 0.1)),
		"too many":     second(Thicknesses(0, 1, 1e-6)),
		"negative":     second(Thicknesses(-1, 1, 0.1)),
		"NaN end":      second(Thicknesses(0, units.Length(math.NaN()), 0.1)),
		"infinite end": second(Thicknesses(0, units.Length(math.Inf(1)), 0.1)),
	} {
		var out *units.RangeError
		if !errors.As(err, &out) {
			t.Errorf("%s: %v; want a *units.RangeError", name, err)
		}
	}
}

func second[T any](_ T, err error) error { return err }

// Each step saves less than the one before, and the savings add up.
func TestSweep(t *testing.T) {
	depths, err := Thicknesses(units.Inches(1), units.Inches(10), units.Inches(0.5))
	if err != nil {
		t.Fatal(err)
	}
	element := func(d units.Length) (units.ThermalResistance, units.ThermalTransmittance, error) {
		r := units.ThermalResistance(0.5 + float64(d)/0.036)
		return r, units.ThermalTransmittance(1 / float64(r)), nil
	}
	target := units.RValue(28).SI()
	s, err := Sweep("foam", depths, target, 3600, []Price{{"heat pump", 0.24, "kWh", 2.8}}, element)
	if err != nil {
		t.Fatal(err)
	}
	total := HeatPerArea(0)
	for i, step := range s.Steps {
		total += step.HeatSaved
		if i > 1 && step.HeatSaved >= s.Steps[i-1].HeatSaved {
			t.Errorf("step %d saves more than the one before", i)
		}
		if step.Meets != (step.Resistance >= target) {
			t.Errorf("step %d: meets %v at R %v", i, step.Meets, step.Resistance)
		}
	}
	published.Near(t, "savings", float64(total), float64(s.Steps[0].Heat-s.Steps[len(s.Steps)-1].Heat), 1e-6)
	if s.First < 1 || !s.Steps[s.First].Meets || s.Steps[s.First-1].Meets {
		t.Errorf("first step that meets the target: %d", s.First)
	}
	if s, err = Sweep("foam", depths, 100, 3600, nil, element); err != nil || s.First != -1 || s.Price != nil {
		t.Errorf("%+v, %v; want none to meet R 568", s, err)
	}
	wrong := errors.New("no such thickness")
	if _, err := Sweep("foam", depths, 0, 3600, nil, func(units.Length) (units.ThermalResistance, units.ThermalTransmittance, error) { return 0, 0, wrong }); !errors.Is(err, wrong) {
		t.Errorf("%v; want the caller's own error", err)
	}
}

func TestErrors(t *testing.T) {
	var missing *basis.MissingError
	if _, err := Solve(0.2, cold, UsualBase, 21, []Price{{"peat", 1, "basket", 1}}); !errors.As(err, &missing) {
		t.Errorf("%v; want what is missing", err)
	}
	var out *units.RangeError
	for name, err := range map[string]error{
		"negative U":        second(Solve(-1, cold, UsualBase, 21, nil)),
		"infinite U":        second(Solve(units.ThermalTransmittance(math.Inf(1)), cold, UsualBase, 21, nil)),
		"NaN base":          second(Solve(0.2, cold, units.Temperature(math.NaN()), 21, nil)),
		"no efficiency":     second(Solve(0.2, cold, UsualBase, 21, []Price{{"oil", 4, "gal", 0}})),
		"negative price":    second(Solve(0.2, cold, UsualBase, 21, []Price{{"oil", -4, "gal", 1}})),
		"no area":           second(SolveGround([12]float64{}, 0, 21, nil)),
		"negative years":    second(PaybackOf(1, 1, -1, 0)),
		"rate of -1":        second(PaybackOf(1, 1, 1, -1)),
		"negative leak":     second(NaturalAirChange(-1, 20)),
		"no leak divisor":   second(NaturalAirChange(1, 0)),
		"no pressure":       second(FlowRatio(0, 50)),
		"NaN inside":        second(Solve(0.2, cold, UsualBase, units.Temperature(math.NaN()), nil)),
		"not a number flow": second(SolveGround([12]float64{math.NaN()}, 1, 21, nil)),
	} {
		if !errors.As(err, &out) {
			t.Errorf("%s: %v; want a *units.RangeError", name, err)
		}
	}
	p, err := PaybackOf(100, 10, 30, 0)
	if err != nil || p.PresentWorth != 30 || p.NetPresentValue != 200 {
		t.Errorf("%+v, %v at no interest", p, err)
	}
}

func BenchmarkSweep(b *testing.B) {
	depths, err := Thicknesses(0.02, 0.3, 0.01)
	if err != nil {
		b.Fatal(err)
	}
	prices := []Price{{"heat pump", 0.24, "kWh", 2.8}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Sweep("foam", depths, 5, 3600, prices, func(d units.Length) (units.ThermalResistance, units.ThermalTransmittance, error) {
			r := units.ThermalResistance(0.5 + float64(d)/0.036)
			return r, units.ThermalTransmittance(1 / float64(r)), nil
		}); err != nil {
			b.Fatal(err)
		}
	}
}
