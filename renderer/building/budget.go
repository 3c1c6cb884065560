package building

import (
	"fmt"
	"math"
	"sort"

	"wythe/renderer/basis"
	"wythe/renderer/climate"
	"wythe/renderer/detail"
	"wythe/renderer/energy"
	"wythe/renderer/figures"
	"wythe/renderer/units"
)

// Kind is the way by which heat leaves.
type Kind string

const (
	Element  Kind = "element"
	Opening  Kind = "opening"
	Ground   Kind = "ground"
	Junction Kind = "junction"
	Air      Kind = "air leakage"
)

// Line is one way by which heat leaves.
type Line struct {
	Kind Kind
	Mark string // of the detail; ""
	Name string // "windows in W-102"
	// Area, Length or Volume is what is counted, net; the others are zero.
	Area   units.Area
	Length units.Length
	Volume units.Volume // of air, changed by the budget's Natural
	// Transmittance is per area; Linear per length.
	Transmittance units.ThermalTransmittance
	Linear        units.LinearTransmittance

	WPerK   float64     // coupling, W/K; of the ground its steady part
	DesignW float64     // on the design day
	Year    energy.Heat // in a heating season
	Share   float64     // of the budget's Year, 0 to 1; below zero for a junction that gains
	Note    string
}

// Budget is where a building's heat goes.
type Budget struct {
	Building *detail.Detail
	Lines    []Line // the most heat in a year first
	WPerK    float64
	DesignW  float64
	Year     energy.Heat
	Costs    []Cost // in the order of the library's fuels

	DegreeDays energy.DegreeDays
	Inside     units.Temperature
	Outside    units.Temperature // of the design day
	Natural    units.AirChange   // the air change taken
	// NoClimate: the library names none, so that only couplings are given.
	NoClimate bool

	Inputs  []basis.Input       // what the sums rest on
	Missing []basis.NotComputed // what is left out, and why
	Notes   []string            // what was taken where nothing is stated
}

// Cost is what a year's heat takes in one fuel.
type Cost struct {
	energy.Price
	Units, Money float64
}

// Context is what a budget rests on.
type Context struct {
	Settings *detail.Settings
	Climate  *climate.Climate // nil: none
	Prices   []energy.Price
	Assembly func(mark string) *figures.Assembly
	// Psi gives a junction's linear thermal transmittance.
	Psi func(mark string) Linear
}

// Linear is the linear thermal transmittance of a junction with outside
// measures, or with those that its note names.
type Linear struct {
	Psi  units.LinearTransmittance
	Note string
	Why  string // why there is none; "" there is
}

// Solve returns a building's heat budget. It never fails: what is not stated
// or not computed is in Missing, and the sums are without it.
//
// Method: H = Σ U A + Σ Ψ l + H_g + 0.018 Btu/(ft³·°F) V n; ISO 13789:2017
// (from memory), outside measures. On the design day H × (θi − θe), the
// ground by its coldest month. In a year H × degree-days below 65 °F, the
// ground by the months of ISO 13370 in which the mean outside is below 65 °F.
func Solve(c Context, d *detail.Detail) *Budget {
	b := &Budget{Building: d, Inside: c.Settings.Inside.Temperature, NoClimate: c.Climate == nil}
	if c.Climate != nil {
		b.Outside = c.Climate.Heating
		var months [12]units.Temperature
		for i, m := range c.Climate.Months {
			months[i] = m.Temperature
		}
		dd, err := energy.HeatingDegreeDays(months, energy.UsualBase)
		if err != nil {
			b.miss("degree-days", err.Error())
		}
		b.DegreeDays = dd
	}
	b.bases(c)
	b.elements(c)
	b.openings(c)
	b.ground(c)
	b.junctions(c)
	b.air(c)
	b.sum(c.Prices)
	return b
}

func (b *Budget) miss(key, why string) {
	b.Missing = append(b.Missing, basis.NotComputed{Key: key, Why: why})
}

func (b *Budget) note(words string) {
	for _, n := range b.Notes {
		if n == words {
			return
		}
	}
	b.Notes = append(b.Notes, words)
}

// add takes a line of what meets the outside air.
func (b *Budget) add(l Line) {
	l.DesignW = l.WPerK * float64(b.Inside-b.Outside)
	l.Year = energy.Heat(l.WPerK * float64(b.DegreeDays) * 86400)
	if b.NoClimate {
		l.DesignW, l.Year = 0, 0
	}
	b.Lines = append(b.Lines, l)
}

// NetArea is an element's area without its openings, where the building gives
// it gross.
func NetArea(b *detail.Building, u detail.AreaUse) units.Area {
	if !u.Gross {
		return u.Area
	}
	net := u.Area
	for _, o := range b.Openings {
		if o.In == u.Mark {
			net -= o.Area / units.Area(uses(b, u.Mark))
		}
	}
	return max(0, net)
}

// uses counts how often an element stands in a building: its openings are
// taken off in equal shares.
func uses(b *detail.Building, mark string) int {
	n := 0
	for _, a := range b.Areas {
		if a.Mark == mark && a.Gross {
			n++
		}
	}
	return n
}

// elements are those that meet the outside air.
func (b *Budget) elements(c Context) {
	bd := b.Building.Building
	for _, u := range bd.Areas {
		fig := c.Assembly(u.Mark)
		if fig == nil {
			b.miss(u.Mark, "its file has errors")
			continue
		}
		if figures.OnGround(fig.Detail.Assembly.Element) {
			continue
		}
		if fig.Thermal == nil || !fig.Thermal.Resistance.Computed {
			b.miss(u.Mark, "its U-factor is not computed: "+fig.Why("thermal"))
			continue
		}
		net := NetArea(bd, u)
		if net == 0 {
			b.miss(u.Mark, "its openings are larger than its area")
			continue
		}
		uf := fig.Thermal.Transmittance
		b.add(Line{Kind: Element, Mark: u.Mark, Name: fig.Detail.Title, Area: net, Transmittance: uf, WPerK: float64(uf) * float64(net)})
	}
}

func (b *Budget) openings(Context) {
	for _, o := range b.Building.Building.Openings {
		if o.UFactor <= 0 {
			b.miss(o.What, "no U-factor is stated")
			continue
		}
		name := o.What
		if o.In != "" {
			name += " in " + o.In
		}
		b.add(Line{Kind: Opening, Name: name, Area: o.Area, Transmittance: o.UFactor, WPerK: float64(o.UFactor) * float64(o.Area)})
	}
}

func (b *Budget) junctions(c Context) {
	for _, l := range b.Building.Building.Lengths {
		psi := c.Psi(l.Mark)
		if psi.Why != "" {
			b.miss(l.Mark, psi.Why)
			continue
		}
		b.add(Line{Kind: Junction, Mark: l.Mark, Name: "junction", Length: l.Length, Linear: psi.Psi, WPerK: float64(psi.Psi) * float64(l.Length), Note: psi.Note})
	}
}

// testPressure is that of a usual test of airtightness.
const testPressure units.Pressure = 50

func (b *Budget) air(c Context) {
	bd := b.Building.Building
	switch {
	case bd.Leakage.Rate == 0:
		b.miss("air leakage", "none is stated: add \"air leakage: 0.6 per hour at 50 Pa\"")
		return
	case bd.Volume == 0:
		b.miss("air leakage", "no volume is stated: add \"volume:\"")
		return
	}
	at50 := bd.Leakage.Rate
	if p := bd.Leakage.Pressure; p != testPressure {
		ratio, err := energy.FlowRatio(testPressure, p)
		if err != nil {
			b.miss("air leakage", err.Error())
			return
		}
		at50 *= units.AirChange(ratio)
		b.note("air leakage carried to 50 Pa by the power law, exponent 0.65 (from memory)")
	}
	natural, err := energy.NaturalAirChange(at50, energy.UsualLeakDivisor)
	if err != nil {
		b.miss("air leakage", err.Error())
		return
	}
	b.Natural = natural
	b.take("air change in use", fmt.Sprintf("%s, %s at 50 Pa over %.0f", natural.Show(c.Settings.Units), at50.Show(c.Settings.Units), energy.UsualLeakDivisor), basis.Source{Text: "leakage as the building states it; the divisor is a rough rule", Kind: basis.CommonPractice})
	b.add(Line{Kind: Air, Name: "air leakage", Volume: bd.Volume, WPerK: energy.LeakHeat(bd.Volume, natural), Note: "volume times air change in use"})
}

// sum adds the lines up, ranks them, and prices the year.
func (b *Budget) sum(prices []energy.Price) {
	for i := range b.Lines {
		l := &b.Lines[i]
		b.WPerK += l.WPerK
		b.DesignW += l.DesignW
		b.Year += l.Year
	}
	for i := range b.Lines {
		l := &b.Lines[i]
		switch {
		case b.Year > 0:
			l.Share = float64(l.Year) / float64(b.Year)
		case b.WPerK > 0:
			l.Share = l.WPerK / b.WPerK
		}
	}
	sort.SliceStable(b.Lines, func(i, j int) bool {
		x, y := &b.Lines[i], &b.Lines[j]
		if x.Year != y.Year {
			return x.Year > y.Year
		}
		return x.WPerK > y.WPerK
	})
	if b.NoClimate {
		b.miss("year", "the library names no climate: add \"climate:\" to library.yaml")
		return
	}
	for _, p := range prices {
		used, money, err := p.Of(max(0, b.Year))
		if err != nil {
			b.miss(p.Fuel, err.Error())
			continue
		}
		b.Costs = append(b.Costs, Cost{p, used, money})
	}
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
