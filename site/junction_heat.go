package site

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/energy"
	"wythe/renderer/figures"
	"wythe/renderer/heatflow"
	"wythe/renderer/moisture"
	"wythe/renderer/sheet"
	"wythe/renderer/units"
	"wythe/site/page"
)

// heatCache keeps solved sections between runs, where the system has a place
// for such things; else nothing is kept.
func heatCache() heatflow.Cache {
	folder, err := os.UserCacheDir()
	if err != nil {
		return heatflow.Cache{}
	}
	return heatflow.Cache{Folder: filepath.Join(folder, "wythe", "heat")}
}

// solveJunction works out the heat flow of a junction on a copy of what was
// traced: a review needs no heat, pages and figures do.
func (l *Library) solveJunction(e *entry, cache heatflow.Cache) *figures.Junction {
	j := e.junction()
	if j == nil || j.Section == nil || figures.Lesson(e.d) {
		return j
	}
	solved := *j
	solved.NotComputed = slices.Clone(j.NotComputed)
	solved.Findings.Items = slices.Clone(j.Findings.Items)
	solved.SolveHeat(figures.Context{Settings: &l.lib.Settings, Climate: l.lib.Climate}, l.lib.Detail, cache)
	return &solved
}

// Solved returns what is worked out of a junction with its heat flow, solved
// now and not taken from a cache; nil for another detail and for one with
// errors.
func (l *Library) Solved(d *detail.Detail) *figures.Junction {
	e := l.byFile[d.File]
	if e == nil || e.junction() == nil {
		return nil
	}
	return l.solveJunction(e, heatflow.Cache{})
}

// heat is what is drawn of a junction's temperatures: the field, and the dew
// point of the rooms in the design month. Nil: nothing.
func (v view) heat(j *figures.Junction) *sheet.Heat {
	if j == nil || j.Heat == nil || !j.Heat.Temperatures {
		return nil
	}
	h := &sheet.Heat{HeatFlow: j.Heat}
	if m := j.Heat.Moisture; m != nil && m.DesignMonth >= 0 {
		h.Dew = &m.DewPoint
	}
	return h
}

// linear prints a linear transmittance in both systems.
func linear(row *page.FigureRow, t units.LinearTransmittance) {
	row.Inch, row.InchUnit, row.SI, row.SIUnit = both(t, "", "Btu/h·ft·°F", "W/mK")
	row.Inch = strings.TrimSuffix(row.Inch, " "+row.InchUnit)
}

// heatFlowRows are the figures of heat flow at a junction.
func (v view) heatFlowRows(d *detail.Detail, j *figures.Junction) ([]page.FigureGroup, string) {
	h := j.Heat
	if h == nil {
		for _, n := range j.NotComputed {
			if n.Key == "heatflow" {
				return []page.FigureGroup{{Title: "Heat through the junction", Rows: []page.FigureRow{{Name: "Two-dimensional heat flow", NotComputed: n.Why}}}}, ""
			}
		}
		return nil, ""
	}
	var rows []page.FigureRow
	in := inputs(h.Trace)
	for _, n := range h.Notes {
		in = append(in, page.Input{Name: "Note", Value: n})
	}
	psi := func(name string, value units.LinearTransmittance, has bool) {
		row := page.FigureRow{Name: name}
		if !has {
			row.NotComputed = h.Psi.Why
		} else {
			linear(&row, value)
		}
		rows = append(rows, row)
	}
	psi("Linear transmittance ψ, inside dimensions", h.Psi.Internal, h.Psi.HasInternal)
	rows[0].Method, rows[0].Inputs = method(h.Trace.Method), in
	psi("Linear transmittance ψ, outside dimensions", h.Psi.External, h.Psi.HasExternal)
	for _, f := range h.Psi.Flanks {
		rows[0].Inputs = append(rows[0].Inputs, page.Input{Name: f.Name, Value: fmt.Sprintf("U %.4f W/m²K, %.3f m inside, %.3f m outside", float64(f.U), float64(f.Internal), float64(f.External))})
	}
	if h.HasCoupling {
		row := page.FigureRow{Name: "Thermal coupling",
			FindingSub: fmt.Sprintf("The true value lies between %.4f and %.4f W/mK.", float64(h.Low), float64(h.High)),
			Method:     "ISO 10211: the solve for temperature from above, for the stream function from below"}
		linear(&row, h.Coupling)
		rows = append(rows, row)
	}
	rows = append(rows, v.coldestRows(d, h)...)
	if len(h.Couplings) > 1 {
		for _, c := range h.Couplings {
			row := page.FigureRow{Name: "Coupling of " + c.Between[0] + " and " + c.Between[1]}
			linear(&row, c.Coupling)
			rows = append(rows, row)
		}
	}
	if h.Temperatures && !h.Unbounded {
		rows = append(rows, page.FigureRow{Name: "Heat flow on the design day", SI: fmt.Sprintf("%.1f", h.HeatFlow), SIUnit: "W/m", Inch: fmt.Sprintf("%.1f", units.BtuPerHourFoot(h.HeatFlow)), InchUnit: "Btu/h·ft"})
	}
	rows = append(rows, v.junctionYear(h)...)
	note := ""
	if h.Ground != nil {
		note = "Soil added to the section as ISO 10211 asks, floor " + h.Ground.Width.Show(v.View.Settings().Units) + " wide"
		if !h.Ground.Stated {
			note += ", not stated"
		}
	}
	return []page.FigureGroup{{Title: "Heat through the junction", Rows: rows}}, note
}

// coldestRows are the coldest inside surface, its temperature factor against
// the office's target, and the check against mold.
func (v view) coldestRows(d *detail.Detail, h *figures.HeatFlow) []page.FigureRow {
	var rows []page.FigureRow
	if h.HasColdest && h.Temperatures {
		row := page.FigureRow{Name: "Coldest inside surface", Sub: "On the design day"}
		row.Inch, row.InchUnit, row.SI, row.SIUnit = degrees(units.Temperature(h.Coldest.Celsius))
		rows = append(rows, row)
	}
	if !h.HasFactor {
		return rows
	}
	factor := page.FigureRow{Name: "Temperature factor", Inch: fmt.Sprintf("%.3f", h.Factor), SI: fmt.Sprintf("%.3f", h.Factor), Method: "ISO 10211: (coldest inside surface less outside) over (inside less outside)"}
	for _, t := range v.View.Settings().Targets {
		if t.Quantity != "temperature factor" || (t.Junction != "any" && t.Junction != d.Mark) {
			continue
		}
		factor.Limit, factor.Verdict, factor.Finding = t.Written, page.Good, "Meets target"
		if h.Factor < t.Factor {
			factor.Verdict, factor.Finding = page.Bad, "Below "+fmt.Sprintf("%.2f", t.Factor)
		}
	}
	mold := page.FigureRow{Name: "Temperature factor, mold check", Sub: "With 0.25 m²K/W at inside surfaces", Inch: fmt.Sprintf("%.3f", h.FactorMold), SI: fmt.Sprintf("%.3f", h.FactorMold),
		Method: "ISO 13788:2012, 5.3: lowest factor that keeps surface humidity at or below 80 %"}
	rows = append(rows, factor, mold)
	m := h.Moisture
	if m == nil {
		return rows
	}
	row := &rows[len(rows)-1]
	row.Limit = fmt.Sprintf("at least %.2f", m.Mold.Required)
	row.Verdict, row.Finding, row.FindingSub = page.Good, "Surface humidity below 80 %", "In every month, under these conditions"
	if !m.MoldFree {
		row.Verdict, row.Finding = page.Bad, "Surface humidity above 80 %"
		row.FindingSub = "In " + moisture.MonthNames[max(0, m.DesignMonth)] + ", under these conditions"
	}
	for _, k := range m.Chains {
		chain := page.FigureRow{Name: capital(string(k.Control)) + " control, coldest point", Sub: "In " + moisture.MonthNames[k.Month],
			Limit: "dew point " + k.DewPoint.ShowTenth(v.View.Settings().Units), Verdict: page.Good, Finding: "Above the room's dew point"}
		chain.Inch, chain.InchUnit, chain.SI, chain.SIUnit = degrees(k.Temperature)
		if k.Cold {
			chain.Verdict, chain.Finding, chain.FindingSub = page.Bad, "Unbroken but cold", "Keep room air off it: seal what lies inside, or insulate outside."
		}
		rows = append(rows, chain)
	}
	return rows
}

// junctionYear is the heat that a length of the junction costs in a year
// beyond its assemblies: psi times degree-days.
func (v view) junctionYear(h *figures.HeatFlow) []page.FigureRow {
	c := v.View.Climate()
	if !h.Psi.HasInternal || c == nil {
		return nil
	}
	var months [12]units.Temperature
	for i, m := range c.Months {
		months[i] = m.Temperature
	}
	dd, err := energy.HeatingDegreeDays(months, energy.UsualBase)
	if err != nil {
		return nil
	}
	joules := energy.Heat(float64(h.Psi.Internal) * float64(dd) * 86400) // per metre
	return []page.FigureRow{{Name: "Heat in a year", Sub: "Along the junction, by ψ inside", SI: fmt.Sprintf("%.1f", joules.KilowattHours()), SIUnit: "kWh/m",
		Inch: units.Whole(joules.Btu() * float64(units.Feet(1))), InchUnit: "Btu/ft", Method: "ψ times degree-days of the climate. " + energy.Undercount}}
}
