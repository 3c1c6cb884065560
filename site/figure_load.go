package site

import (
	"fmt"
	"strings"

	"wythe/renderer/bearing"
	"wythe/renderer/energy"
	"wythe/renderer/figures"
	"wythe/renderer/material"
	"wythe/renderer/takeoff"
	"wythe/renderer/units"
	"wythe/site/page"
)

// load prints a pressure in both systems.
func load(row *page.FigureRow, p units.Pressure) {
	row.Inch, row.InchUnit, _ = strings.Cut(p.ShowLoad(units.Inch), " ")
	row.SI, row.SIUnit, _ = strings.Cut(p.ShowLoad(units.Metric), " ")
}

func (v view) loadRows(fig *figures.Assembly) []page.FigureRow {
	var rows []page.FigureRow
	system := v.View.Settings().Units
	if b := fig.Bearing; b != nil {
		row := page.FigureRow{Name: "Bearing on the " + b.Insulation, Sub: "Governs: " + b.Governs, LimitName: "Allowable", Limit: b.Allowable.ShowLoad(system),
			Verdict: page.Good, Finding: fmt.Sprintf("%.0f %% used", 100*float64(b.Utilisation)), Method: method(b.Trace.Method), Inputs: inputs(b.Trace),
			Bar: &page.LoadBar{Used: float64(b.Applied), Allowed: float64(b.Allowable), Words: fmt.Sprintf("Applied %s of %s allowable", b.Applied.ShowLoad(system), b.Allowable.ShowLoad(system))}}
		load(&row, b.Applied)
		if !b.Passes {
			row.Verdict = page.Bad
		}
		row.FindingSub = "Slab bending and punching not checked; a building post needs its own pad. A licensed engineer decides."
		rows = append(rows, row)
		if b.HasPoint {
			spread := page.FigureRow{Name: "Point load, 45° spread", Method: "45° spread, common practice"}
			if b.Spread != nil {
				load(&spread, b.PointSpread)
			}
			plate := page.FigureRow{Name: "Point load, plate on an elastic bed", Method: "Westergaard 1926, from memory"}
			if b.Plate != nil {
				load(&plate, b.PointPlate)
			} else {
				plate.NotComputed = b.PlateWhy
			}
			rows = append(rows, spread, plate)
		}
		uniform := page.FigureRow{Name: "Dead and live, spread evenly"}
		load(&uniform, b.Uniform)
		rated := page.FigureRow{Name: "Rated resistance", Sub: fmt.Sprintf("Short-term; %.0f %% of it lasts", 100*float64(b.Derating))}
		load(&rated, b.Rated)
		rows = append(rows, uniform, rated)
	} else {
		rows = append(rows, missing("Bearing", fig, "bearing")...)
	}
	if p := fig.Pour; p != nil {
		row := page.FigureRow{Name: "Uplift on the foam during the pour", Sub: "If wet concrete runs under the boards", LimitName: "Hold down with",
			Limit: p.Ballast.ShowLoad(system), Method: "Buoyancy: displaced weight less its own and what lies on it, each counted once"}
		load(&row, p.Uplift)
		if p.Uplift > 0 {
			row.Verdict, row.Finding = page.Bad, "Boards lift"
			row.FindingSub = "Foam the edges and joints. Place from the middle outward."
		}
		rows = append(rows, row)
	}
	rows = append(rows, upturnRow(fig)...)
	if d := fig.Dead; d != nil && len(d.Missing) == 0 {
		row := page.FigureRow{Name: "Dead weight of the stack", Method: "Density times thickness, framing by its share"}
		load(&row, d.Weight)
		for _, l := range d.Layers {
			row.Inputs = append(row.Inputs, page.Input{Name: capital(l.Name), Value: l.Weight.ShowLoad(units.Inch) + ", " + l.Weight.ShowLoad(units.Metric)})
		}
		rows = append(rows, row)
	} else {
		rows = append(rows, missing("Dead weight of the stack", fig, "dead_load_Pa")...)
	}
	if fig.Bearing != nil {
		rows[0].Inputs = append(rows[0].Inputs, page.Input{Name: "Note", Value: strings.Join(bearing.Facts, " ")})
	}
	return rows
}

func (v view) energyRows(fig *figures.Assembly) []page.FigureRow {
	y := fig.Energy
	if y == nil {
		return missing("A year of heat", fig, "energy")
	}
	t := y.Trace()
	rows := []page.FigureRow{{Name: "Heat in a year", Sub: "Through a unit area",
		Inch: units.Whole(y.Heat.BtuPerSquareFoot()), InchUnit: "Btu/ft²", SI: fmt.Sprintf("%.1f", y.Heat.KilowattHoursPerM2()), SIUnit: "kWh/m²",
		Method: method(t.Method), Inputs: inputs(t), FindingSub: energy.Undercount}}
	fuels := v.View.Settings().Energy
	for i, c := range y.Costs {
		name := c.Fuel
		if i < len(fuels) {
			name = fuels[i].Name
		}
		rows = append(rows, page.FigureRow{Name: capital(name), Sub: fmt.Sprintf("%.2f per %s at %.0f %%", c.PerUnit, c.Unit, 100*float64(c.Efficiency)),
			Inch: fmt.Sprintf("%.2f", c.MoneyPerM2/units.Area(1).SquareFeet()), InchUnit: "per ft² a year", SI: fmt.Sprintf("%.2f", c.MoneyPerM2), SIUnit: "per m² a year"})
	}
	return append(rows, v.studyRows(fig)...)
}

// heatPerArea prints heat through a unit area, the library's own units first.
func heatPerArea(h energy.HeatPerArea, s units.System) string {
	inch, si := units.Whole(h.BtuPerSquareFoot())+" Btu/ft²", units.Figure(h.KilowattHoursPerM2(), 2)+" kWh/m²"
	if s == units.Metric {
		return si + " (" + inch + ")"
	}
	return inch + " (" + si + ")"
}

// moneyPerArea prints money for a unit area of the library's own.
func moneyPerArea(perM2 float64, places int, s units.System) string {
	if s == units.Metric {
		return units.Figure(perM2, places) + " per m²"
	}
	return units.Figure(perM2/units.Area(1).SquareFeet(), places) + " per ft²"
}

func (v view) studyRows(fig *figures.Assembly) []page.FigureRow {
	s := fig.Study
	if s == nil {
		return missing("Study", fig, "study")
	}
	system := v.View.Settings().Units
	row := page.FigureRow{Name: "Study: " + s.Layer + " from " + s.Steps[0].Thickness.Show(system) + " to " + s.Steps[len(s.Steps)-1].Thickness.Show(system),
		Method: "R and U at each thickness; heat by degree-days", Finding: "No target to meet"}
	if figures.OnGround(fig.Detail.Assembly.Element) {
		row.Method = "R and U at each thickness; heat by degree-days as to outside air: compare the steps, not the year above"
	}
	if s.Target > 0 {
		row.Verdict, row.Finding = page.Bad, "No step meets the target"
		if s.First >= 0 {
			row.Verdict, row.Finding = page.Good, s.Steps[s.First].Thickness.Show(system)+" first meets the target"
		}
	}
	for i, step := range s.Steps {
		value := step.Resistance.Show(system) + ", " + heatPerArea(step.Heat, system) + " a year"
		if s.Price != nil {
			value += ", " + moneyPerArea(step.MoneyPerM2, 2, system) + " a year"
		}
		saved := ""
		if i > 0 {
			saved = "saves " + heatPerArea(step.HeatSaved, system) + " on the step before"
			if s.Price != nil {
				saved += ", " + moneyPerArea(step.MoneySaved, 3, system)
			}
		}
		row.Inputs = append(row.Inputs, page.Input{Name: step.Thickness.Show(system), Value: value, Source: saved})
	}
	return []page.FigureRow{row}
}

func (v view) stockRows(fig *figures.Assembly) []page.FigureRow {
	var rows []page.FigureRow
	if t := fig.Takeoff; t != nil {
		row := page.FigureRow{Name: "Materials for " + t.Area.Show(v.View.Settings().Units), Finding: fmt.Sprintf("%d lines", len(t.Items)), Method: "Areas and sizes; waste as stated or the usual allowance"}
		for _, item := range t.Items {
			row.Inputs = append(row.Inputs, page.Input{Name: capital(item.Layer), Value: stock(&item, v.View.Settings().Units), Source: item.Note})
		}
		for _, l := range takeoff.Limits {
			row.Inputs = append(row.Inputs, page.Input{Name: "Note", Value: l})
		}
		rows = append(rows, row)
	} else {
		rows = append(rows, missing("Materials", fig, "takeoff")...)
	}
	if c := fig.Carbon; c != nil {
		row := page.FigureRow{Name: "Product-stage carbon", FindingSub: c.Words()}
		if c.Stated > 0 {
			row.Inch, row.InchUnit = fmt.Sprintf("%.1f", c.Stated.PerSquareFoot()), "kg CO2e/ft²"
			row.SI, row.SIUnit = fmt.Sprintf("%.1f", float64(c.Stated)), "kg CO2e/m²"
			t := c.Trace()
			row.Method, row.Inputs = method(t.Method), inputs(t)
		} else {
			row.NotComputed = "no material here states its carbon; put carbon: … per kg and its source in materials.yaml"
			row.FindingSub = ""
		}
		rows = append(rows, row)
	}
	return rows
}

// stock prints what one line of a takeoff buys.
func stock(i *takeoff.Item, s units.System) string {
	var parts []string
	switch i.Form {
	case takeoff.Void:
		return "nothing to buy"
	case takeoff.Volume:
		if i.Volume > 0 {
			parts = append(parts, buyVolume(i.Volume, s).Show(s))
		} else { // thin metal
			parts = append(parts, runOf(i.Length, s)+" of members")
		}
	case takeoff.Board:
		parts = append(parts, fmt.Sprintf("%d sheets of %s × %s", i.Sheets, i.Sheet[0].Show(s), i.Sheet[1].Show(s)))
	default:
		if i.Area > 0 {
			parts = append(parts, buyArea(i.Area, s).Show(s))
		}
		if i.Length > 0 {
			parts = append(parts, runOf(i.Length, s))
		}
	}
	if i.Tape > 0 {
		parts = append(parts, runOf(i.Tape, s)+" of tape")
	}
	if i.Waste > 0 {
		word := "waste"
		if i.WasteUsual {
			word = "usual waste"
		}
		parts = append(parts, i.Waste.Percent()+" "+word+" in")
	}
	return strings.Join(parts, ", ")
}

// upturnRow is what fresh concrete of the slab's own depth presses against an
// upturn of insulation at its edge.
func upturnRow(fig *figures.Assembly) []page.FigureRow {
	if fig.Pour == nil {
		return nil
	}
	for _, l := range fig.Detail.Assembly.Layers {
		if l.Material.Hatch != material.Concrete && l.Material.Hatch != material.ReinforcedConcrete {
			continue
		}
		u, err := bearing.LiquidHead(l.Material.Density, l.Total())
		if err != nil {
			return nil
		}
		row := page.FigureRow{Name: "Side pressure on an upturn", Sub: "At the foot, as deep as the slab", Method: "ACI 347: full liquid head of fresh concrete",
			FindingSub: fmt.Sprintf("%s N per m of edge (%.0f lb/ft). Back the upturn up until the concrete has set.", units.Whole(u.ResultantNPerM), units.PoundsPerFoot(u.ResultantNPerM))}
		load(&row, u.Base)
		return []page.FigureRow{row}
	}
	return nil
}
