package climate

import (
	"math"
	"strings"

	"wythe/renderer/finding"
	"wythe/renderer/strict"
	"wythe/renderer/units"
)

var (
	climateKeys = []string{"climate", "design", "months", "source"}
	designKeys  = []string{"heating", "ground"}
	monthNames  = [12]string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}
)

// Keys returns the keys of a climate's file and those of its design
// conditions. They must not be changed.
func Keys() (file, design []string) { return climateKeys, designKeys }

// MonthName returns the name of a month, January for 0.
func MonthName(month int) string { return monthNames[month] }

// What is outside these is a slip of the pen: no place on earth has it as the
// mean of a month.
const (
	coldestMonth units.Temperature = -60
	hottestMonth units.Temperature = 50
)

// Read reads one file of climates/. Whatever is wrong is a finding. The
// climate is nil if it cannot be used.
func Read(file string, data []byte) (*Climate, finding.List) {
	var list finding.List
	root, ok := strict.Load(file, data, &list)
	if !ok {
		return nil, list
	}
	if root.IsZero() {
		list.Errorf(finding.Position{File: file, Line: 1, Column: 1}, "missing-key", "write \"climate:\", \"design:\" and \"months:\"", "the file is empty")
		return nil, list
	}
	m := root.Map(climateKeys)
	if !m.IsMap() {
		return nil, list
	}
	c := &Climate{At: root.At(), Source: m.Get("source").Text()}
	c.Name = strings.TrimSpace(m.Need("climate").Text())

	design := m.Need("design").Map(designKeys)
	heating, heatingOK := temperature(design.Need("heating"))
	c.Heating = heating
	ground, groundOK := temperature(design.Get("ground"))
	c.Ground, c.GroundStated = ground, groundOK

	months := m.Need("months")
	items := months.List()
	monthsOK := len(items) == 12
	if months.IsList() && len(items) != 12 {
		months.Errorf("months", "write twelve lines, January first: - [-3.1 C, 80 %]", "%d months are given, not 12", len(items))
	}
	for i, item := range items {
		if i == 12 {
			break
		}
		month, ok := readMonth(item, monthNames[i])
		monthsOK = monthsOK && ok
		c.Months[i] = month
	}
	if !heatingOK || !monthsOK || c.Name == "" {
		return nil, list
	}
	c.check(design)
	return c, list
}

func temperature(n strict.Node) (units.Temperature, bool) {
	t, ok := strict.Quantity(n, units.ParseTemperature)
	if ok && (t < 2*coldestMonth || t > hottestMonth) {
		n.Errorf("out-of-range", "check the scale: F or C", "%q is no temperature of a climate", n.Written())
		return 0, false
	}
	return t, ok
}

func readMonth(n strict.Node, name string) (Month, bool) {
	pair := n.List()
	if !n.IsList() {
		return Month{}, false
	}
	if len(pair) != 2 {
		n.Errorf("months", "write mean temperature and relative humidity: - [-3.1 C, 80 %]", "%s has %d values, not 2", name, len(pair))
		return Month{}, false
	}
	t, okT := strict.Quantity(pair[0], units.ParseTemperature)
	rh, okH := strict.Quantity(pair[1], units.ParseShare)
	if okT && (t < coldestMonth || t > hottestMonth) {
		pair[0].Errorf("out-of-range", "check the scale: F or C", "%q is no mean of a month", pair[0].Written())
		okT = false
	}
	if okH && rh == 0 {
		pair[1].Errorf("out-of-range", "write the mean relative humidity: 80 %", "air without any vapor is no mean of a month")
		okH = false
	}
	return Month{Temperature: t, Humidity: rh}, okT && okH
}

// check warns of what can be but is seldom meant.
func (c *Climate) check(design strict.Map) {
	coldest := units.Temperature(math.Inf(1))
	for _, m := range c.Months {
		coldest = min(coldest, m.Temperature)
	}
	if c.Heating > coldest {
		design.Get("heating").Warnf("design-heating", "the design day is colder than any month's mean", "heating design %s is warmer than the coldest month, %s",
			c.Heating.ShowTenth(units.Metric), coldest.ShowTenth(units.Metric))
	}
	if !design.Has("ground") {
		design.Warnf("design-ground", "add \"ground:\", near the mean of the year, "+c.YearMean().ShowTenth(units.Metric), "deep ground is not stated: no figure that needs it is computed")
	}
}
