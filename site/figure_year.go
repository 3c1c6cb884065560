package site

import (
	"fmt"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/figures"
	"wythe/renderer/moisture"
	"wythe/renderer/units"
	"wythe/site/page"
)

// figuresByQuestion groups an assembly's figures by what an architect asks of
// it, the verdict first in each.
func (v view) figuresByQuestion(d *detail.Detail, fig *figures.Assembly) ([]page.FigureGroup, string) {
	groups, note := v.figureGroups(d, fig)
	if fig.Thermal == nil {
		return groups, note
	}
	groups[0].Title = "How warm?"
	groups[0].Rows = append(groups[0].Rows, dynamicRows(fig)...)
	groups[0].Rows = append(groups[0].Rows, codeRow(fig)...)
	groups = append(groups,
		page.FigureGroup{Title: "Will it stay dry?", Rows: v.moistureRows(d, fig), Picture: v.moisturePictures(d, fig)},
		page.FigureGroup{Title: "How much goes into the ground?", Rows: groundRows(fig), Picture: v.groundPicture(fig)},
		page.FigureGroup{Title: "Will it carry?", Rows: v.loadRows(fig)},
		page.FigureGroup{Title: "What does it cost to heat?", Rows: v.energyRows(fig), Picture: v.studyPicture(fig)},
		page.FigureGroup{Title: "What goes into it?", Rows: v.stockRows(fig)},
	)
	return groups, note
}

// FigureGroups are the figures of a detail as its page prints them: of an assembly by question; of a junction, worked out
// as solved, its heat flow. Nil for another detail and for one with errors.
func (l *Library) FigureGroups(d *detail.Detail, solved *figures.Junction) []page.FigureGroup {
	v := l.view(nil)
	var groups []page.FigureGroup
	if fig := l.Figures(d); fig != nil {
		groups, _ = v.figuresByQuestion(d, fig)
	} else if solved != nil {
		groups, _ = v.heatFlowRows(d, solved)
	}
	return groups
}

func missing(name string, fig *figures.Assembly, key string) []page.FigureRow {
	if why := fig.Why(key); why != "" {
		return []page.FigureRow{{Name: name, NotComputed: why}}
	}
	return nil
}

func dynamicRows(fig *figures.Assembly) []page.FigureRow {
	r := fig.Dynamic
	if r == nil {
		return missing("Daily swing", fig, "dynamic")
	}
	t := r.Trace()
	rows := []page.FigureRow{
		{Name: "Decrement factor", Sub: "Share of the outside's daily swing that arrives", Inch: fmt.Sprintf("%.2f", r.DecrementFactor), SI: fmt.Sprintf("%.2f", r.DecrementFactor), Method: method(t.Method), Inputs: inputs(t)},
		{Name: "Time shift", Sub: "Later inside than outside", Inch: fmt.Sprintf("%.1f", -r.TimeShiftH), InchUnit: "h", SI: fmt.Sprintf("%.1f", -r.TimeShiftH), SIUnit: "h"},
		{Name: "Periodic transmittance"},
		{Name: "Areal heat capacity, inside", Inch: fmt.Sprintf("%.2f", units.BtuPerSquareFootF(r.ArealInsideJPerM2K)), InchUnit: "Btu/ft²·°F", SI: fmt.Sprintf("%.0f", r.ArealInsideJPerM2K/1000), SIUnit: "kJ/m²K"},
		{Name: "Areal heat capacity, outside", Inch: fmt.Sprintf("%.2f", units.BtuPerSquareFootF(r.ArealOutsideJPerM2K)), InchUnit: "Btu/ft²·°F", SI: fmt.Sprintf("%.0f", r.ArealOutsideJPerM2K/1000), SIUnit: "kJ/m²K"},
	}
	p := &rows[2]
	p.Inch, p.InchUnit, p.SI, p.SIUnit = both(r.Periodic, "U ", "Btu/h·ft²·°F", "W/m²K")
	return rows
}

// codeRow says which zones' prescriptive maxima the transmittance meets.
func codeRow(fig *figures.Assembly) []page.FigureRow {
	if len(fig.Codes) == 0 {
		return nil
	}
	table := fig.Codes[0].Table
	row := page.FigureRow{Name: "Prescriptive maximum U, by climate zone", Method: table.Edition + ", " + table.Section, Source: source(table.Source)}
	short := 0
	for _, z := range fig.Codes {
		words := z.Words
		if !z.Passes {
			short++
		}
		row.Inputs = append(row.Inputs, page.Input{Name: "Zone " + z.Zone, Value: "at most U " + strings.TrimPrefix(z.Written, "U "), Source: words})
	}
	row.Finding = "Passes in every zone"
	if short > 0 {
		row.Verdict, row.Finding = page.Bad, fmt.Sprintf("Short in %d of %d zones", short, len(fig.Codes))
	}
	row.FindingSub = "Adopted editions vary: verify with the local authority."
	return []page.FigureRow{row}
}

func (v view) moistureRows(d *detail.Detail, fig *figures.Assembly) []page.FigureRow {
	m := fig.Moisture
	if m == nil {
		return missing("A year of vapor", fig, "moisture")
	}
	t, system := m.Trace(), v.View.Settings().Units
	c := m.Condensation
	head := page.FigureRow{Name: "Between the layers", Finding: "No condensation computed", FindingSub: m.Verdict, Verdict: page.Good, Method: method(t.Method), Inputs: inputs(t)}
	if c.StartMonth >= 0 {
		head.Finding = "Condenses and dries in the year"
		head.Inch, head.InchUnit = fmt.Sprintf("%.3f", c.Greatest.PoundsPerSquareFoot()), "lb/ft²"
		head.SI, head.SIUnit = units.Whole(float64(c.Greatest)*1000), "g/m²"
		if !c.DryAtEnd {
			head.Verdict, head.Finding = page.Bad, "Stays wet through the year"
		}
	}
	surface := page.FigureRow{Name: "Inside surface", Sub: "Temperature factor, with 0.25 m²K/W at the surface",
		Inch: fmt.Sprintf("%.2f", m.FRsi), SI: fmt.Sprintf("%.2f", m.FRsi), Verdict: page.Good, Finding: "Below 80 % in every month",
		FindingSub: "Surface humidity, under these conditions", Method: "ISO 13788:2012, 5.3: lowest factor that keeps the surface at or below 80 %"}
	if m.Required.Month >= 0 {
		surface.Limit = fmt.Sprintf("at least %.2f", m.Required.Required)
	}
	if !m.SurfaceBelow {
		surface.Verdict, surface.Finding = page.Bad, "Above 80 % in "+monthNames(m.SurfaceMonths)
	}
	rows := []page.FigureRow{head, surface}
	if len(fig.CrawlWet) > 0 {
		rows = append(rows, page.FigureRow{Name: "Air of the crawl space", Sub: "Outside air on cold ground", Verdict: page.Bad,
			Finding: "Moisture settles in " + monthNames(fig.CrawlWet), FindingSub: "Keep the ground cover whole and the openings clear. A January check alone misses this.",
			Method: "Balance of the floor, the ground and the vents, ISO 13370:2017"})
	}
	for _, r := range m.Retarders {
		row := page.FigureRow{Name: "Class " + string(r.Class) + " vapor retarder", Sub: capital(r.Layer), Finding: "Place suits the climate", Verdict: page.Good, FindingSub: r.Stands(func(t units.Temperature) string { return t.ShowTenth(system) })}
		row.Inch, row.InchUnit, _ = strings.Cut(r.Permeance.Show(units.Inch), " ")
		row.SI, row.SIUnit, _ = strings.Cut(r.Permeance.Show(units.Metric), " ")
		if !r.Suits {
			row.Verdict, row.Finding = page.Bad, "Cold side of the vapor in "+moisture.MonthNames[r.Month]
		}
		rows = append(rows, row)
	}
	for _, f := range m.Faces {
		air := "Outside air"
		if f.FromInside {
			air = "Room air"
		}
		row := page.FigureRow{Name: "Face between " + f.Outer + " and " + f.Inner, Sub: air + " that leaked would meet it", Finding: "Above the dew point all year", Verdict: page.Good}
		worst := f.Months[f.Worst]
		row.FindingSub = fmt.Sprintf("Nearest in %s: face %s, dew point %s", moisture.MonthNames[f.Worst], worst.Temperature.ShowTenth(system), worst.DewPoint.ShowTenth(system))
		if len(f.Below) > 0 {
			row.Verdict, row.Finding = page.Bad, "Below the dew point in "+monthNames(f.Below)
			row.FindingSub += ". Seal the air control: leaking air wets this face."
		}
		rows = append(rows, row)
	}
	if r := m.Reserve; r != nil {
		least, enough := r.LeastForWalls, r.EnoughForWall
		if e := d.Assembly.Element; e == detail.Roof || e == detail.Ceiling {
			least, enough = r.LeastForRoofs, r.EnoughForRoof
		}
		row := page.FigureRow{Name: "Drying reserve", Sub: "Between " + r.Outer + " and " + r.Inner + ", for air leakage",
			Inch: fmt.Sprintf("%.2f", r.Reserve.PoundsPerSquareFoot()), InchUnit: "lb/ft² a year", SI: units.Whole(float64(r.Reserve) * 1000), SIUnit: "g/m² a year",
			Limit: fmt.Sprintf("at least %.0f g/m²", float64(least)*1000), Verdict: page.Good, Finding: "Enough for timber", Method: "DIN 68800-2:2012, from memory", FindingSub: r.Chosen}
		if !enough {
			row.Verdict, row.Finding = page.Bad, "Little to spare"
		}
		if m.Hold == nil {
			row.Verdict, row.Finding, row.Limit = page.Neutral, "No timber here", ""
		}
		rows = append(rows, row)
	}
	if m.Hold != nil {
		rows = append(rows, page.FigureRow{Name: "Before closing in", Sub: strings.Join(m.Hold.Layers, ", "), Finding: "HOLD", FindingSub: m.Hold.Text, Source: source(m.Hold.Source)})
	}
	rows = append(rows, snapshotRow(m)...)
	return append(rows, monthRows(c)...)
}

// snapshotRow is January's temperature and vapor pressure through the section,
// the numbers behind its two pictures.
func snapshotRow(m *moisture.Result) []page.FigureRow {
	s := m.Snapshot
	if s == nil {
		return nil
	}
	row := page.FigureRow{Name: "January through the section", Method: "ISO 13788:2012, 6.4", Finding: "Vapor below saturation"}
	if s.Condenses {
		row.Finding = "Vapor meets saturation"
	}
	for _, p := range s.Points {
		if !p.Face {
			continue
		}
		dew := "dry"
		if t, err := moisture.DewPoint(p.Pressure); err == nil {
			dew = t.ShowTenth(units.Metric)
		}
		row.Inputs = append(row.Inputs, page.Input{Name: p.Depth.Show(units.Inch) + ", " + p.Depth.Show(units.Metric),
			Value:  fmt.Sprintf("%s, dew point %s", p.Temperature.ShowTenth(units.Metric), dew),
			Source: fmt.Sprintf("vapor %.0f Pa of %.0f Pa at saturation", float64(p.Pressure), float64(p.Saturation))})
	}
	return []page.FigureRow{row}
}

// monthRows are the year of condensation, month by month.
func monthRows(c *moisture.Condensation) []page.FigureRow {
	if c.StartMonth < 0 {
		return nil
	}
	row := page.FigureRow{Name: "Month by month", Method: "ISO 13788:2012, 6.4 to 6.6", Finding: "From " + moisture.MonthNames[c.StartMonth]}
	for _, m := range c.Months {
		var parts []string
		for i, a := range m.Amounts {
			parts = append(parts, fmt.Sprintf("%s to %s: %+.1f g/m², %.1f g/m² stand", c.Interfaces[i].Outer, c.Interfaces[i].Inner, float64(a.Condensate)*1000, float64(a.Accumulated)*1000))
		}
		row.Inputs = append(row.Inputs, page.Input{Name: m.Name, Value: strings.Join(parts, "; ")})
	}
	return []page.FigureRow{row}
}

func monthNames(months []int) string {
	var names []string
	for _, m := range months {
		names = append(names, moisture.MonthNames[m])
	}
	return strings.Join(names, ", ")
}

func groundRows(fig *figures.Assembly) []page.FigureRow {
	g := fig.Ground
	if g == nil {
		return missing("Heat into the ground", fig, "ground")
	}
	in := inputs(g.Trace)
	in = append(in, page.Input{Name: "Soil", Value: fmt.Sprintf("%s, %.1f W/mK", g.Soil.Name, float64(g.Soil.Conductivity))})
	for _, n := range g.Notes {
		in = append(in, page.Input{Name: "Note", Value: n})
	}
	if g.Result == nil {
		row := page.FigureRow{Name: "Transmittance by characteristic dimension", Method: "ISO 13370:2017", Inputs: in}
		row.Inputs = append(row.Inputs, curveInputs(g)...)
		row.FindingSub = "No plan stated: read U at your building's B′."
		return []page.FigureRow{row}
	}
	row := page.FigureRow{Name: "Transmittance with the ground", Method: method(g.Trace.Method), Inputs: append(in, curveInputs(g)...)}
	row.Inch, row.InchUnit, row.SI, row.SIUnit = both(g.Transmittance, "U ", "Btu/h·ft²·°F", "W/m²K")
	rows := []page.FigureRow{row}
	length := func(name string, l units.Length) {
		r := page.FigureRow{Name: name, Inch: fmt.Sprintf("%.1f", l.Inches()/12), InchUnit: "ft", SI: fmt.Sprintf("%.2f", float64(l)), SIUnit: "m"}
		rows = append(rows, r)
	}
	if g.BPrime > 0 {
		length("Characteristic dimension B′", g.BPrime)
	}
	length("Equivalent thickness d_t", g.Dt)
	if g.Edge != nil {
		e := page.FigureRow{Name: "Edge insulation ψ", SI: fmt.Sprintf("%.3f", float64(g.Edge.Psi)), SIUnit: "W/mK"}
		e.Inch, e.InchUnit, _ = strings.Cut(strings.TrimPrefix(g.Edge.Psi.Show(units.Inch), "ψ "), " ")
		rows = append(rows, e)
	}
	if g.Planned {
		rows = append(rows, page.FigureRow{Name: "Steady coupling", Inch: fmt.Sprintf("%.0f", units.BtuPerHourF(g.CouplingWPerK)), InchUnit: "Btu/h·°F", SI: fmt.Sprintf("%.1f", g.CouplingWPerK), SIUnit: "W/K"})
	}
	if g.Months != nil {
		m := page.FigureRow{Name: "Mean flow by month", Inch: units.Whole(units.BtuPerHour(g.Months.AnnualMeanW)), InchUnit: "Btu/h", SI: units.Whole(g.Months.AnnualMeanW), SIUnit: "W", Method: "ISO 13370:2017, annex H"}
		for i, f := range g.Months.FlowW {
			m.Inputs = append(m.Inputs, page.Input{Name: moisture.MonthNames[i], Value: units.Whole(f) + " W"})
		}
		rows = append(rows, m)
	}
	return rows
}

// curveInputs are the points of U over B′, the numbers behind the picture.
func curveInputs(g *figures.Ground) []page.Input {
	list := make([]page.Input, 0, len(g.Curve))
	for _, p := range g.Curve {
		list = append(list, page.Input{Name: "Slab on ground, B′ " + p.BPrime.Show(units.Metric), Value: p.WithEdge.Show(units.Metric) + ", " + p.WithEdge.Show(units.Inch)})
	}
	return list
}
