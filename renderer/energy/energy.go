// Package energy computes the heat that a unit area lets through in a year,
// the fuel and money that it takes, and what one more step of insulation saves.
//
// Methods: degree-days, monthly balance, present worth. This package knows no
// file, drawing or page.
package energy

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Heat is an amount of heat, in J.
type Heat float64

// HeatPerArea is heat through an area, in J/m².
type HeatPerArea float64

// DegreeDays is a sum of temperature differences over days, in K·d.
type DegreeDays float64

const (
	btu           = 1055.05585262 // J, International Table
	foot          = 0.3048        // m
	secondsPerDay = 86400.0
	kilowattHour  = 3.6e6 // J
	// AirHeatJPerM3K is what a volume of air holds: 0.018 Btu/(ft³·°F), in
	// J/(m³·K). Source: ASHRAE; ISO 13789 uses 1200.
	AirHeatJPerM3K = 0.018 * btu / (foot * foot * foot * 5 / 9)
	// UsualBase is 65 °F, in °C.
	UsualBase units.Temperature = 55.0 / 3
)

// KilowattHours returns the heat in kWh.
func (h Heat) KilowattHours() float64 { return float64(h) / kilowattHour }

// Btu returns the heat in International Table Btu.
func (h Heat) Btu() float64 { return float64(h) / btu }

// HeatOfBtu returns the heat of so many Btu.
func HeatOfBtu(v float64) Heat { return Heat(v * btu) }

// KilowattHoursPerM2 returns kWh/m².
func (h HeatPerArea) KilowattHoursPerM2() float64 { return float64(h) / kilowattHour }

// BtuPerSquareFoot returns Btu/ft².
func (h HeatPerArea) BtuPerSquareFoot() float64 { return float64(h) / btu * foot * foot }

// Fahrenheit returns °F·d: 1.8 times K·d.
func (d DegreeDays) Fahrenheit() float64 { return float64(d) * 1.8 }

// Days of each month, January first; leap days are left out.
var Days = [12]float64{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// Undercount says what monthly means leave out.
const Undercount = "Monthly means undercount mild months, whose days swing about the base: some percent of the degree-days are missed."

// HeatingDegreeDays returns the sum over the months of days times base less
// mean, where that is positive, in K·d.
//
// Method: by definition, from monthly means; see [Undercount].
// Errors: *[units.RangeError] if a temperature is not finite.
func HeatingDegreeDays(months [12]units.Temperature, base units.Temperature) (DegreeDays, error) {
	if err := basis.Finite("base temperature", float64(base), "°C"); err != nil {
		return 0, err
	}
	sum := 0.0
	for i, t := range months {
		if err := basis.Finite("monthly temperature", float64(t), "°C"); err != nil {
			return 0, err
		}
		sum += Days[i] * math.Max(0, float64(base-t))
	}
	return DegreeDays(sum), nil
}

// Year is what a unit area lets through in a year.
type Year struct {
	Transmittance units.ThermalTransmittance
	Base          units.Temperature
	DegreeDays    DegreeDays
	Heat          HeatPerArea // by degree-days
	// Months is the loss of each month at the inside temperature, never
	// negative: an upper figure, without gains of sun and use.
	Months      [12]HeatPerArea
	MonthsTotal HeatPerArea
	Inside      units.Temperature
	Costs       []Cost // in the order of the prices
}

// Cost is a year's fuel and money per area.
type Cost struct {
	Price
	UnitsPerM2 float64 // of the fuel, per m² and year
	MoneyPerM2 float64 // per m² and year
}

// Solve returns a year of heat through a unit area of an element to outside air.
//
// Method: U × degree-days × 86400 s; monthly balance U Σ days (θi - θe)⁺.
// Errors: *[units.RangeError]; *[basis.MissingError] for a fuel whose heat
// content is not known.
func Solve(u units.ThermalTransmittance, months [12]units.Temperature, base, inside units.Temperature, prices []Price) (*Year, error) {
	if err := checkU(u); err != nil {
		return nil, err
	}
	if err := basis.Finite("inside temperature", float64(inside), "°C"); err != nil {
		return nil, err
	}
	dd, err := HeatingDegreeDays(months, base)
	if err != nil {
		return nil, err
	}
	y := &Year{Transmittance: u, Base: base, DegreeDays: dd, Inside: inside, Heat: HeatPerArea(float64(u) * float64(dd) * secondsPerDay)}
	for i, t := range months {
		y.Months[i] = HeatPerArea(float64(u) * Days[i] * secondsPerDay * math.Max(0, float64(inside-t)))
		y.MonthsTotal += y.Months[i]
	}
	return y, y.cost(prices)
}

// SolveGround returns the same for a ground element, from its mean heat flow
// in each month (W) and its area; inflow in a month counts nothing.
//
// Errors: as [Solve].
func SolveGround(flowW [12]float64, area units.Area, inside units.Temperature, prices []Price) (*Year, error) {
	if err := basis.Positive("area", float64(area), "m²"); err != nil {
		return nil, err
	}
	y := &Year{Inside: inside}
	for i, w := range flowW {
		if err := basis.Finite("monthly heat flow", w, "W"); err != nil {
			return nil, err
		}
		y.Months[i] = HeatPerArea(math.Max(0, w) * Days[i] * secondsPerDay / float64(area))
		y.MonthsTotal += y.Months[i]
	}
	y.Heat = y.MonthsTotal
	return y, y.cost(prices)
}

func checkU(u units.ThermalTransmittance) error {
	if err := basis.NotNegative("transmittance", float64(u), "W/(m²·K)"); err != nil {
		return err
	}
	return basis.Finite("transmittance", float64(u), "W/(m²·K)")
}

func (y *Year) cost(prices []Price) error {
	y.Costs = make([]Cost, 0, len(prices))
	for _, p := range prices {
		used, money, err := p.Of(Heat(y.Heat))
		if err != nil {
			return err
		}
		y.Costs = append(y.Costs, Cost{Price: p, UnitsPerM2: used, MoneyPerM2: money})
	}
	return nil
}

// Trace says what the figures rest on.
func (y *Year) Trace() basis.Trace {
	t := basis.Trace{Method: basis.Method{Name: "Degree-days", Says: "U times the year's degree-days; money by the fuel's heat content, its price and the seasonal efficiency."}}
	input := func(name, format string, args ...any) {
		t.Inputs = append(t.Inputs, basis.Input{Name: name, Value: fmt.Sprintf(format, args...)})
	}
	if y.DegreeDays > 0 || y.Transmittance > 0 {
		input("U", "%.4g W/(m²·K)", float64(y.Transmittance))
		input("degree-days", "%.0f K·d below %.1f °C", float64(y.DegreeDays), float64(y.Base))
		t.Limits = append(t.Limits, Undercount)
	} else {
		t.Method = basis.Method{Name: "Monthly balance", Says: "The ground's heat flow of each month, summed where it leaves the rooms."}
	}
	for _, c := range y.Costs {
		input(c.Fuel, "%.4g per %s at %.0f %%", c.PerUnit, c.Unit, 100*float64(c.Efficiency))
	}
	t.Limits = append(t.Limits, "Loss alone: gains of sun and use, and air leakage, are not in it.")
	return t
}
