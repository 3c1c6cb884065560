package moisture

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Days of each month, January first; leap days are left out.
var Days = [12]float64{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// MonthNames are the names in results, January first.
var MonthNames = [12]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

// Month is the mean of one month outside.
type Month struct {
	Temperature units.Temperature
	Humidity    units.Ratio // relative, 0 to 1
}

// Inside is what the rooms are kept at. Class or Humidity is set.
type Inside struct {
	Temperature units.Temperature
	Class       int         // ISO 13788 humidity class, 1 to 4; 0: Humidity holds
	Humidity    units.Ratio // relative, of the whole year
	Margin      units.Ratio // on the class's vapor excess; 0 none, 0.1 the standard's
}

// Air is the mean state of one month on one side.
type Air struct {
	Temperature units.Temperature
	Pressure    units.Pressure // of vapor
}

// Humidity is the relative humidity of the air, by ISO 13788's saturation.
func (a Air) Humidity() units.Ratio {
	return units.Ratio(float64(a.Pressure) / saturation(float64(a.Temperature)))
}

// Year is both sides through the year, January first.
type Year struct {
	Inside, Outside [12]Air
	// Saturated names the months, from 0, in which the inside excess had to be
	// cut back to saturation.
	Saturated []int
}

// Excess returns the upper limit of a humidity class: the vapor pressure of
// the inside over the outside air, in Pa, at a monthly mean outside.
//
// Method: ISO 13788:2012, Annex A: constant up to 0 °C, falling in a straight
// line to nothing at 20 °C; 270, 540, 810 and 1080 Pa for classes 1 to 4.
// Errors: *[basis.RefusedError] for class 5, which has no upper limit;
// *[units.RangeError] for any other.
func Excess(class int, outside units.Temperature) (units.Pressure, error) {
	if class == 5 {
		return 0, &basis.RefusedError{Method: "ISO 13788:2012 Annex A", Case: "moisture class 5 has no upper limit", Why: "state the humidity of the rooms instead"}
	}
	if class < 1 || class > 5 {
		return 0, &units.RangeError{Quantity: "moisture class", Value: float64(class), Limit: 5, Says: "must be 1 to 5"}
	}
	if err := basis.Finite("outside temperature", float64(outside), "°C"); err != nil {
		return 0, err
	}
	share := math.Min(1, math.Max(0, 1-float64(outside)/20))
	return units.Pressure(270 * float64(class) * share), nil
}

// Conditions returns both sides through the year: outside as the climate has
// it, inside by humidity class or at a fixed relative humidity.
//
// Method: ISO 13788:2012, 4.3 and Annex A. Errors: *[units.RangeError],
// *[basis.RefusedError] for class 5.
func Conditions(months [12]Month, inside Inside) (*Year, error) {
	if err := basis.Within("inside temperature", float64(inside.Temperature), lowest, highest, "°C"); err != nil {
		return nil, err
	}
	if err := basis.NotNegative("moisture margin", float64(inside.Margin), ""); err != nil {
		return nil, err
	}
	y := &Year{}
	for i, m := range months {
		if err := basis.Within("temperature of "+MonthNames[i], float64(m.Temperature), lowest, highest, "°C"); err != nil {
			return nil, err
		}
		if err := basis.Within("humidity of "+MonthNames[i], float64(m.Humidity), 0, 1, ""); err != nil {
			return nil, err
		}
		out := float64(m.Humidity) * saturation(float64(m.Temperature))
		y.Outside[i] = Air{m.Temperature, units.Pressure(out)}
		saturated := saturation(float64(inside.Temperature))
		var in float64
		if inside.Class != 0 {
			excess, err := Excess(inside.Class, m.Temperature)
			if err != nil {
				return nil, err
			}
			in = out + float64(excess)*(1+float64(inside.Margin))
		} else {
			if err := basis.Within("inside humidity", float64(inside.Humidity), 0, 1, ""); err != nil {
				return nil, err
			}
			in = float64(inside.Humidity) * saturated
		}
		if in > saturated {
			in = saturated
			y.Saturated = append(y.Saturated, i)
		}
		y.Inside[i] = Air{inside.Temperature, units.Pressure(in)}
	}
	return y, nil
}

// coldest is the month with the lowest outside temperature, the first of equals.
func (y *Year) coldest() int {
	at := 0
	for i, a := range y.Outside {
		if a.Temperature < y.Outside[at].Temperature {
			at = i
		}
	}
	return at
}

// Soil is the ground beside or beneath an element.
type Soil struct {
	Name         string
	Conductivity units.Conductivity
	// HeatCapacityJPerM3K is ρ·c, J/(m³·K).
	HeatCapacityJPerM3K float64
}

// GroundMonths returns the ground's temperature at a depth (m) below grade
// through the year, and its air saturated: the outside boundary of walls and
// slabs below grade. deep is the ground's mean.
//
// Method: the wave of a half-space under a yearly sine: half the range of the
// months' means, fallen by e^(-z/δ) and late by z/δ, about the deep ground's
// temperature; δ by ISO 13370:2017 Annex H. The soil is taken as saturated.
// Errors: *[units.RangeError].
func GroundMonths(months [12]Month, deep units.Temperature, depth units.Length, soil Soil) ([12]Air, error) {
	var out [12]Air
	if err := basis.Positive("soil conductivity", float64(soil.Conductivity), "W/(m·K)"); err != nil {
		return out, err
	}
	if err := basis.Positive("soil heat capacity", soil.HeatCapacityJPerM3K, "J/(m³·K)"); err != nil {
		return out, err
	}
	if err := basis.Within("depth below grade", float64(depth), 0, 1000, "m"); err != nil {
		return out, err
	}
	if err := basis.Within("deep ground temperature", float64(deep), lowest, highest, "°C"); err != nil {
		return out, err
	}
	low, high, cold := math.Inf(1), math.Inf(-1), 0
	for i, m := range months {
		if v := float64(m.Temperature); v < low {
			low, cold = v, i
		}
		high = math.Max(high, float64(m.Temperature))
	}
	if err := basis.Finite("monthly temperatures", high-low, "K"); err != nil {
		return out, err
	}
	x := float64(depth) / math.Sqrt(3.15e7*float64(soil.Conductivity)/(math.Pi*soil.HeatCapacityJPerM3K))
	swing := (high - low) / 2 * math.Exp(-x)
	for i := range out {
		t := float64(deep) - swing*math.Cos(2*math.Pi*float64(i-cold)/12-x)
		out[i] = Air{units.Temperature(t), units.Pressure(saturation(t))}
	}
	return out, nil
}

// Crawl is a vented crawl space: what its air exchanges heat with, per area of
// floor, in W/(m²·K).
type Crawl struct {
	Floor, Ground, Outside units.ThermalTransmittance
}

// CrawlMonths returns the air of a vented crawl space through the year: its
// temperature by the balance of the floor above, the ground and the outside;
// its vapor that of the outside air, cut back to saturation. wet names the
// months, from 0, in which it had to be cut: moisture settles there.
//
// Method: steady balance of ISO 13370:2017, suspended floors (U_f, U_g, U_x).
// Errors: *[units.RangeError].
func CrawlMonths(y *Year, ground [12]Air, c Crawl) (air [12]Air, wet []int, err error) {
	for _, u := range []units.ThermalTransmittance{c.Floor, c.Ground, c.Outside} {
		if err := basis.NotNegative("transmittance about the crawl space", float64(u), "W/(m²·K)"); err != nil {
			return air, nil, err
		}
	}
	sum := float64(c.Floor + c.Ground + c.Outside)
	if err := basis.Positive("transmittance about the crawl space", sum, "W/(m²·K)"); err != nil {
		return air, nil, err
	}
	for i := range air {
		t := (float64(c.Floor)*float64(y.Inside[i].Temperature) + float64(c.Ground)*float64(ground[i].Temperature) + float64(c.Outside)*float64(y.Outside[i].Temperature)) / sum
		p := float64(y.Outside[i].Pressure)
		if most := saturation(t); p > most {
			p, wet = most, append(wet, i)
		}
		air[i] = Air{units.Temperature(t), units.Pressure(p)}
	}
	return air, wet, nil
}

func monthList(months []int) string {
	s := ""
	for i, m := range months {
		if i > 0 {
			s += ", "
		}
		s += MonthNames[m]
	}
	return s
}

func celsius(t float64) string { return fmt.Sprintf("%.1f °C", t) }
