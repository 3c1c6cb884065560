package climate

import (
	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// daysOf is the length of each month of a common year, January first.
var daysOf = [12]float64{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// DegreeDays is a year's sum of degrees below a base, in K·d.
type DegreeDays float64

// Fahrenheit returns the sum in °F·d.
func (d DegreeDays) Fahrenheit() float64 { return float64(d) * 1.8 }

// BaseOf65F is the base that American heating degree-days are counted from.
var BaseOf65F = units.FromFahrenheit(65)

// HeatingDegreeDays returns the heating degree-days of a common year from the
// monthly means, in K·d: days times base less mean, where positive.
//
// Method: definition, on monthly means. The figure leaves out the days below
// the base in months whose mean is above it, so that it undercounts by some
// percent; the trace says so.
func (c *Climate) HeatingDegreeDays(base units.Temperature) (DegreeDays, basis.Trace) {
	sum := 0.0
	for i, m := range c.Months {
		if d := float64(base - m.Temperature); d > 0 {
			sum += daysOf[i] * d
		}
	}
	return DegreeDays(sum), basis.Trace{
		Method: basis.Method{Name: "heating degree-days", Clause: "from monthly means", Says: "Days times the degrees below the base, month by month"},
		Inputs: []basis.Input{
			{Name: "base", Value: base.ShowTenth(units.Inch)},
			{Name: "climate", Value: c.Name, Source: basis.Source{Text: c.Source, Kind: basis.Stated}},
		},
		Limits: []string{"monthly means undercount degree-days by some percent: cold days of mild months are lost"},
	}
}

// YearMean returns the mean temperature of a common year, each month by its
// days.
func (c *Climate) YearMean() units.Temperature {
	sum := 0.0
	for i, m := range c.Months {
		sum += daysOf[i] * float64(m.Temperature)
	}
	return units.Temperature(sum / 365)
}

// ColdestMonth returns the month of the lowest mean, 0 for January; the first
// of equals.
func (c *Climate) ColdestMonth() int {
	coldest := 0
	for i, m := range c.Months {
		if m.Temperature < c.Months[coldest].Temperature {
			coldest = i
		}
	}
	return coldest
}
