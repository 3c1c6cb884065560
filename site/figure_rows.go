package site

import (
	"fmt"
	"strings"

	"wythe/renderer/basis"
	"wythe/renderer/codes"
	"wythe/renderer/detail"
	"wythe/renderer/figures"
	"wythe/renderer/thermal"
	"wythe/renderer/units"
	"wythe/site/page"
)

// figureGroups fills the figures of an assembly's page and says under which
// conditions they hold.
func (v view) figureGroups(d *detail.Detail, fig *figures.Assembly) ([]page.FigureGroup, string) {
	t := fig.Thermal
	if t == nil {
		return []page.FigureGroup{{Rows: []page.FigureRow{{Name: "Thermal resistance, R-value", NotComputed: fig.Why("thermal")}}}}, ""
	}
	groups := []page.FigureGroup{{Title: "Heat flow", Rows: v.heatRows(d, t)}}
	note := "Steady, no climate named"
	if t.Insulation != nil {
		outside := "outside"
		if t.OnGround {
			outside = "deep ground"
		}
		system := v.View.Settings().Units
		note = fmt.Sprintf("Steady, %s inside, %s %s", condition(t.Insulation.Inside, system), condition(t.Insulation.Outside, system), outside)
		groups = append(groups, page.FigureGroup{Title: "Temperatures on the design day", Rows: temperatureRows(d, t)})
	}
	return groups, note
}

// condition prints a given temperature: to the tenth only where it has one.
func condition(t units.Temperature, system units.System) string {
	return strings.Replace(t.ShowTenth(system), ".0 ", " ", 1)
}

// heatRows are resistance and transmittance: the headline, then each method.
func (v view) heatRows(d *detail.Detail, t *figures.Thermal) []page.FigureRow {
	rows := []page.FigureRow{
		resistanceRow("Thermal resistance, R-value", t.Resistance),
		{Name: "Thermal transmittance, U-factor", Method: "One over the resistance"},
	}
	head, u := &rows[0], &rows[1]
	head.Method = method(t.Trace.Method)
	head.Inputs = inputs(t.Trace)
	if t.Resistance.Computed {
		u.Inch, u.InchUnit, u.SI, u.SIUnit = both(t.Transmittance, "U ", "Btu/h·ft²·°F", "W/m²K")
		u.Finding = "One over R"
		if t.Transmittance != t.Uncorrected {
			u.Finding = "Corrected"
			u.Method = "One over the resistance, corrected by ISO 6946:2017, annex F"
			u.FindingSub = "Uncorrected " + t.Uncorrected.Show(v.View.Settings().Units)
		}
	} else {
		u.NotComputed = t.Resistance.Why
	}
	v.target(d, t, head, u)
	if agree(t) {
		return append(rows, page.FigureRow{Name: "R by the other methods", Finding: "All agree",
			FindingSub: "Nothing is framed: parallel path, isothermal planes and both limits of ISO 6946 give the same."})
	}
	for _, m := range []struct {
		name   string
		figure thermal.Figure
		method string
	}{
		{"R by parallel path", t.ParallelPath, "ASHRAE parallel path"},
		{"R by isothermal planes", t.IsothermalPlanes, "ASHRAE isothermal planes"},
		{"R by ISO 6946", t.Combined, "ISO 6946:2017, 6.7.2, mean of the upper and lower limit"},
		{"Upper limit", t.Upper, "ISO 6946:2017, 6.7.2"},
		{"Lower limit", t.Lower, "ISO 6946:2017, 6.7.2"},
	} {
		row := resistanceRow(m.name, m.figure)
		row.Method = m.method
		rows = append(rows, row)
	}
	return rows
}

// agree reports whether every method gives the headline's resistance.
func agree(t *figures.Thermal) bool {
	for _, f := range [...]thermal.Figure{t.Resistance, t.ParallelPath, t.IsothermalPlanes, t.Combined, t.Upper, t.Lower} {
		if !f.Computed || f.Value != t.Resistance.Value {
			return false
		}
	}
	return true
}

func resistanceRow(name string, f thermal.Figure) page.FigureRow {
	row := page.FigureRow{Name: name}
	if !f.Computed {
		row.NotComputed = f.Why
		return row
	}
	row.Inch, row.InchUnit, row.SI, row.SIUnit = both(f.Value, "R ", "h·ft²·°F/Btu", "m²K/W")
	return row
}

// both prints a figure in both systems, its sign and units apart.
func both(q units.Shower, sign, inchUnit, siUnit string) (inch, inUnit, si, sUnit string) {
	inch = strings.TrimPrefix(q.Show(units.Inch), sign)
	si = strings.TrimSuffix(q.Show(units.Metric), " "+siUnit)
	return inch, inchUnit, si, siUnit
}

// target holds the headline figures to the office's targets of the element.
func (v view) target(d *detail.Detail, t *figures.Thermal, resistance, transmittance *page.FigureRow) {
	if !t.Resistance.Computed {
		return
	}
	for i := range v.View.Settings().Targets {
		target := &v.View.Settings().Targets[i]
		if target.Element != d.Assembly.Element {
			continue
		}
		row := resistance
		switch target.Quantity {
		case "R-value":
		case "U-factor":
			row = transmittance
		default:
			continue
		}
		met := meets(target, t)
		row.Limit = target.Written
		row.Verdict, row.Finding = page.Good, "Meets target"
		if !met {
			row.Verdict, row.Finding = page.Bad, misses(target)
		}
		if target.AtLeast && target.Quantity == "R-value" {
			row.FindingSub = codes.CompareR(t.Resistance.Value, target.Resistance).Words
		} else if !target.AtLeast && target.Quantity == "U-factor" {
			row.FindingSub = codes.CompareU(t.Transmittance, target.Transmittance).Words
		}
	}
}

// meets reports whether the headline figures meet a target.
func meets(target *detail.Target, t *figures.Thermal) bool {
	if target.Quantity == "U-factor" {
		if target.AtLeast {
			return t.Transmittance >= target.Transmittance
		}
		return t.Transmittance <= target.Transmittance
	}
	if target.AtLeast {
		return t.Resistance.Value >= target.Resistance
	}
	return t.Resistance.Value <= target.Resistance
}

// misses says by its limit what is missed: "Below R 35".
func misses(target *detail.Target) string {
	limit := strings.TrimSpace(strings.NewReplacer("at least", "", "at most", "").Replace(target.Written))
	if target.AtLeast {
		return "Below " + limit
	}
	return "Above " + limit
}

// temperatureRows are the temperatures at each face, inside to outside.
func temperatureRows(d *detail.Detail, t *figures.Thermal) []page.FigureRow {
	layers := d.Assembly.Layers
	rows := make([]page.FigureRow, 0, len(layers)+1)
	for i, face := range t.Insulation.Faces {
		name := "Outside face"
		switch {
		case i == 0:
			name = "Inside face"
		case i < len(layers):
			name = capital(layers[i-1].Name) + " to " + layers[i].Name
		}
		row := page.FigureRow{Name: name}
		row.Inch, row.InchUnit, row.SI, row.SIUnit = degrees(face)
		if i < len(t.Equivalent.Faces) && t.Equivalent.Faces[i].ShowTenth(units.Metric) != face.ShowTenth(units.Metric) {
			row.FindingSub = "Through the mean of framing and fill " + t.Equivalent.Faces[i].ShowTenth(units.Inch) + ", " + t.Equivalent.Faces[i].ShowTenth(units.Metric)
		}
		if i == 0 {
			row.Method = "Resistances in series, " + t.Insulation.Path
		}
		rows = append(rows, row)
	}
	return rows
}

func degrees(t units.Temperature) (inch, inchUnit, si, siUnit string) {
	inch, inchUnit, _ = strings.Cut(t.ShowTenth(units.Inch), " ")
	si, siUnit, _ = strings.Cut(t.ShowTenth(units.Metric), " ")
	return inch, inchUnit, si, siUnit
}

// method prints a method with its clause.
func method(m basis.Method) string {
	words := m.Name
	if m.Clause != "" {
		words += ", " + m.Clause
	}
	if m.Says != "" {
		words += ". " + m.Says
	}
	return words
}

// inputs prints what stands behind a figure, and what it leaves out.
func inputs(t basis.Trace) []page.Input {
	list := make([]page.Input, 0, len(t.Inputs)+len(t.Limits))
	for _, in := range t.Inputs {
		list = append(list, page.Input{Name: capital(in.Name), Value: in.Value, Source: source(in.Source)})
	}
	for _, limit := range t.Limits {
		list = append(list, page.Input{Name: "Note", Value: limit})
	}
	return list
}

// source prints an authority with how far it can be relied on.
func source(s basis.Source) string {
	switch {
	case s.Text == "":
		return capital(string(s.Kind))
	case s.Kind == "" || s.Kind == basis.Design || strings.Contains(strings.ToLower(s.Text), string(s.Kind)):
		return s.Text
	}
	return s.Text + ", " + string(s.Kind)
}
