package building

import (
	"fmt"

	"wythe/renderer/basis"
	"wythe/renderer/energy"
	"wythe/renderer/ground"
	"wythe/renderer/units"
)

// Methods are those of a budget, in the page's words.
func Methods(system units.System) []basis.Method {
	air, base := "0.018 Btu/ft³·°F", "65 °F"
	if system == units.Metric {
		air, base = "0.335 Wh/m³K", "18.3 °C"
	}
	return []basis.Method{
		{Name: "ISO 13789:2017", Says: "H = Σ U·A + Σ ψ·L + H ground + H air: elements and openings by their net area, junctions by their length."},
		{Name: "ISO 10211:2017", Says: "ψ of each junction from its own section, solved in two dimensions; see its page."},
		{Name: "ISO 13370:2017", Says: "Floors on the ground and walls below grade: steady part and months, by the plan's B′."},
		{Name: "Air leakage", Says: "Volume times air change in use times " + air + "."},
		{Name: "Design day", Says: "Per degree times inside less outside; the ground by its coldest month."},
		{Name: "A year", Says: "Per degree times degree-days; the ground by the months whose mean outside is below " + base + "."},
	}
}

// take notes a value that the sums rest on.
func (b *Budget) take(name, value string, from basis.Source) {
	b.Inputs = append(b.Inputs, basis.Input{Name: name, Value: value, Source: from})
}

func stated(where string) basis.Source { return basis.Source{Text: where, Kind: basis.Stated} }

// bases are the values that all lines rest on.
func (b *Budget) bases(c Context) {
	system := c.Settings.Units
	b.take("inside", b.Inside.ShowStated(system), stated("library.yaml"))
	if c.Climate == nil {
		return
	}
	climate := stated("climate " + c.Climate.Name)
	b.take("outside, design day", b.Outside.ShowStated(system), climate)
	degreeDays := units.Whole(b.DegreeDays.Fahrenheit()) + " °F·d below 65 °F"
	if system == units.Metric {
		degreeDays = fmt.Sprintf("%s K·d below %.1f °C", units.Whole(float64(b.DegreeDays)), float64(energy.UsualBase))
	}
	b.take("degree-days", degreeDays, basis.Source{Text: "sum over the climate's monthly means", Kind: basis.Design})
	for _, p := range c.Prices {
		b.take(p.Fuel, fmt.Sprintf("%.2f per %s, %s", p.PerUnit, p.Unit, p.Efficiency.Percent()), stated("library.yaml"))
	}
}

// onGround are the values behind an element on the ground.
func (b *Budget) onGround(c Context, mark string, plan ground.Plan, depth units.Length, r *ground.Result, soil ground.Soil, floor units.ThermalResistance) {
	system := c.Settings.Units
	words := fmt.Sprintf("area %s, perimeter %s, B′ %s, d_t %s, %s, floor %s, wall %s",
		plan.Area.Show(system), plan.Perimeter.ShowStated(system), r.BPrime.ShowRounded(system), r.Dt.ShowRounded(system), soilWords(soil), floor.Show(system), plan.Wall.Show(system))
	if depth > 0 {
		words += ", depth " + depth.ShowStated(system)
	}
	b.take("ground under "+mark, words, basis.Source{Text: "ISO 13370:2017; area, perimeter and depth as stated", Kind: basis.FromMemory})
}

func soilWords(s ground.Soil) string {
	return fmt.Sprintf("%s of %.1f W/mK", s.Name, float64(s.Conductivity))
}
