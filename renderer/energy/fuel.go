package energy

import (
	"fmt"
	"strings"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Content is the heat in one unit of a fuel.
type Content struct {
	Fuel, Unit string
	Btu        float64
	Source     basis.Source
}

var (
	eia     = basis.Source{Text: "US Energy Information Administration, Btu conversion factors, 2012", Kind: basis.Design}
	toolbox = basis.Source{Text: "engineering reference table", Kind: basis.Design}
	exact   = basis.Source{Text: "by definition", Kind: basis.Design}
)

// Contents are the heat contents of fuels; they vary by a percent with the year.
var Contents = []Content{
	{"electricity", "kWh", 3412, eia},
	{"natural gas", "ft3", 1025, eia},
	{"natural gas", "therm", 100000, eia},
	{"heating oil", "gal", 138690, eia},
	{"diesel", "gal", 138690, eia},
	{"propane", "gal", 91333, eia},
	{"gasoline", "gal", 120524, eia},
	{"wood", "cord", 20000000, eia},
	{"wood", "lb", 8000, toolbox},
	{"kerosene", "gal", 135000, toolbox},
	{"pellets", "ton", 16500000, toolbox},
	{"coal", "ton", 28000000, toolbox},
}

// other names of fuels, and units that hold for any of them.
var (
	fuelNames = map[string]string{"heat pump": "electricity", "electric": "electricity", "electric resistance": "electricity", "gas": "natural gas", "oil": "heating oil", "fuel oil": "heating oil", "wood pellets": "pellets", "pellet": "pellets"}
	anyFuel   = []Content{{"", "kWh", 3412, eia}, {"", "therm", 100000, eia}, {"", "MMBtu", 1e6, exact}, {"", "Btu", 1, exact}, {"", "MJ", 1e6 / btu, exact}, {"", "GJ", 1e9 / btu, exact}}
)

// Efficiency is a typical seasonal efficiency.
type Efficiency struct {
	Appliance string
	Share     units.Ratio
}

// Efficiencies are typical seasonal efficiencies. Source: US DOE consumer
// guidance and appliance standards (from memory).
var Efficiencies = []Efficiency{
	{"old oil furnace", 0.65}, {"new oil boiler", 0.85}, {"minimum gas furnace", 0.8}, {"condensing gas", 0.95}, {"condensing propane", 0.93},
	{"electric resistance", 1}, {"cold-climate heat pump, low", 2.3}, {"cold-climate heat pump, high", 3.2}, {"ground-source heat pump", 3.5}, {"wood stove", 0.7}, {"pellet stove", 0.78},
}

// HeatContent returns the heat in one unit of a fuel.
//
// Errors: *[basis.MissingError] for a fuel and unit not known.
func HeatContent(fuel, unit string) (Content, error) {
	name := strings.ToLower(fuel)
	if other, ok := fuelNames[name]; ok {
		name = other
	}
	for _, c := range Contents {
		if c.Fuel == name && strings.EqualFold(c.Unit, unit) {
			return c, nil
		}
	}
	for _, c := range anyFuel {
		if strings.EqualFold(c.Unit, unit) {
			c.Fuel = fuel
			return c, nil
		}
	}
	return Content{}, &basis.MissingError{Method: "cost of heat", Quantity: fmt.Sprintf("heat in one %s of %s", unit, fuel), Put: "library.yaml: give the price per kWh, therm or MMBtu"}
}

// Price is what a library pays for a fuel.
type Price struct {
	Fuel       string
	PerUnit    float64 // money per Unit
	Unit       string  // kWh, therm, gal, …
	Efficiency units.Ratio
}

// Of returns the units of fuel and the money that a heat takes.
//
// Method: heat over content and seasonal efficiency.
// Errors: *[units.RangeError], *[basis.MissingError].
func (p Price) Of(h Heat) (used, money float64, err error) {
	c, err := HeatContent(p.Fuel, p.Unit)
	if err != nil {
		return 0, 0, err
	}
	used, err = FuelUsed(h, c.Btu, p.Efficiency)
	if err != nil {
		return 0, 0, err
	}
	return used, used * p.PerUnit, basis.NotNegative("price of "+p.Fuel, p.PerUnit, "")
}

// FuelUsed returns the units of a fuel of a content (Btu per unit) that a heat
// takes. Errors: *[units.RangeError].
func FuelUsed(h Heat, contentBtu float64, efficiency units.Ratio) (float64, error) {
	if err := basis.NotNegative("heat", float64(h), "J"); err != nil {
		return 0, err
	}
	if err := basis.Positive("heat content", contentBtu, "Btu"); err != nil {
		return 0, err
	}
	if err := basis.Positive("seasonal efficiency", float64(efficiency), ""); err != nil {
		return 0, err
	}
	return h.Btu() / contentBtu / float64(efficiency), nil
}

// PerMMBtu returns the money for a million Btu of delivered heat.
// Errors: as [Price.Of].
func (p Price) PerMMBtu() (float64, error) {
	_, money, err := p.Of(HeatOfBtu(1e6))
	return money, err
}

// COPOfHSPF returns the seasonal coefficient of performance of a heat pump.
func COPOfHSPF(hspf float64) units.Ratio { return units.Ratio(hspf / 3.412) }
