package site

import (
	"html/template"

	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/figures"
	"wythe/renderer/moisture"
	"wythe/renderer/units"
)

func chart(prefix string, c *drawing.Chart) template.HTML {
	return inline(c.Draw(), svg.Options{Prefix: prefix, Class: "plot"})
}

// moisturePictures plot January's temperature with its dew point through the
// section, its vapor pressure against saturation, and the year's condensate.
func (v view) moisturePictures(d *detail.Detail, fig *figures.Assembly) template.HTML {
	m := fig.Moisture
	if m == nil || m.Snapshot == nil {
		return ""
	}
	system := v.View.Settings().Units
	depth := func(l units.Length) float64 {
		if system == units.Metric {
			return l.Millimeters()
		}
		return l.Inches()
	}
	degrees := func(t units.Temperature) float64 {
		if system == units.Metric {
			return float64(t)
		}
		return float64(t)*1.8 + 32
	}
	label, degree := "DEPTH FROM INSIDE, IN", "JANUARY, °F"
	if system == units.Metric {
		label, degree = "DEPTH FROM INSIDE, MM", "JANUARY, °C"
	}
	temp := drawing.Series{Label: "Temp.", Ink: drawing.InkMark}
	dew := drawing.Series{Label: "Dew point", Dash: []float64{1.6, 0.8}}
	sat := drawing.Series{Label: "Saturation", Ink: drawing.InkMark}
	vapor := drawing.Series{Label: "Vapor", Dash: []float64{1.6, 0.8}}
	for _, p := range m.Snapshot.Points {
		x := depth(p.Depth)
		temp.Points = append(temp.Points, drawing.Point{X: x, Y: degrees(p.Temperature)})
		if dp, err := moisture.DewPoint(p.Pressure); err == nil {
			dew.Points = append(dew.Points, drawing.Point{X: x, Y: degrees(dp)})
		}
		sat.Points = append(sat.Points, drawing.Point{X: x, Y: float64(p.Saturation)})
		vapor.Points = append(vapor.Points, drawing.Point{X: x, Y: float64(p.Pressure)})
	}
	var bands []drawing.Band
	at := units.Length(0)
	for i, l := range d.Assembly.Layers {
		if i >= len(fig.MoistureSection.Layers) {
			break
		}
		if !l.Film() {
			bands = append(bands, drawing.Band{From: depth(at), To: depth(at + l.Total()), Text: capital(l.Name)})
		}
		at += l.Total()
	}
	out := chart("ct", &drawing.Chart{Title: "Temperature and dew point through the section in January", Desc: "Where the dew point meets the temperature, vapor condenses. The numbers stand in the table.",
		X: drawing.Axes{Label: label}, Y: drawing.Axes{Label: degree}, Series: []drawing.Series{temp, dew}, Bands: bands})
	out += chart("cp", &drawing.Chart{Title: "Vapor pressure and saturation through the section in January", Desc: "Vapor pressure stays at or below saturation.",
		X: drawing.Axes{Label: label}, Y: drawing.Axes{Label: "VAPOR PRESSURE, PA"}, Series: []drawing.Series{sat, vapor}, Bands: bands})
	if c := m.Condensation; c.StartMonth >= 0 {
		s := drawing.Series{Bars: true}
		var ticks []drawing.AxisText
		for i, month := range c.Months {
			s.Points = append(s.Points, drawing.Point{X: float64(i), Y: float64(month.Total) * 1000})
			ticks = append(ticks, drawing.AxisText{At: float64(i), Text: month.Name})
		}
		out += chart("cy", &drawing.Chart{Title: "Condensate at the end of each month", Desc: "The months stand in the table with their amounts.",
			X: drawing.Axes{Label: "MONTH", Min: -0.6, Max: 11.6, Texts: ticks}, Y: drawing.Axes{Label: "CONDENSATE AT MONTH'S END, G/M²"}, Series: []drawing.Series{s}})
	}
	return out
}

// groundPicture plots U over the floor's characteristic dimension.
func (v view) groundPicture(fig *figures.Assembly) template.HTML {
	if fig.Ground == nil || len(fig.Ground.Curve) == 0 {
		return ""
	}
	metric := v.View.Settings().Units == units.Metric
	s := drawing.Series{Label: "U", Marks: true}
	for _, p := range fig.Ground.Curve {
		q := drawing.Point{X: float64(p.BPrime), Y: float64(p.WithEdge)}
		if !metric {
			q = drawing.Point{X: p.BPrime.Inches() / 12, Y: float64(p.WithEdge.UFactor())}
		}
		s.Points = append(s.Points, q)
	}
	x, y := "CHARACTERISTIC DIMENSION B′, FT", "U-FACTOR, BTU/H·FT²·°F"
	if metric {
		x, y = "CHARACTERISTIC DIMENSION B′, M", "U, W/M²K"
	}
	return chart("cb", &drawing.Chart{Title: "U over the characteristic dimension, slab on ground", Desc: "A larger floor loses less per area.",
		X: drawing.Axes{Label: x}, Y: drawing.Axes{Label: y}, Series: []drawing.Series{s}})
}

// studyPicture plots the year's heat over the thickness of the studied layer.
func (v view) studyPicture(fig *figures.Assembly) template.HTML {
	s := fig.Study
	if s == nil || len(s.Steps) < 2 {
		return ""
	}
	metric := v.View.Settings().Units == units.Metric
	heat := drawing.Series{Label: "Heat", Marks: true}
	for _, step := range s.Steps {
		q := drawing.Point{X: step.Thickness.Inches(), Y: step.Heat.BtuPerSquareFoot()}
		if metric {
			q = drawing.Point{X: step.Thickness.Millimeters(), Y: step.Heat.KilowattHoursPerM2()}
		}
		heat.Points = append(heat.Points, q)
	}
	x, y := "THICKNESS, IN", "HEAT IN A YEAR, BTU/FT²"
	if metric {
		x, y = "THICKNESS, MM", "HEAT IN A YEAR, KWH/M²"
	}
	c := &drawing.Chart{Title: "Heat in a year over the thickness of the " + s.Layer, Desc: "Each step saves less than the one before. The steps stand in the table.",
		X: drawing.Axes{Label: x}, Y: drawing.Axes{Label: y}, Series: []drawing.Series{heat}}
	if s.First >= 0 && s.Target > 0 {
		at := heat.Points[s.First].X
		c.Bands = []drawing.Band{{From: at, To: heat.Points[len(heat.Points)-1].X, Text: "Meets target"}}
	}
	return chart("cs", c)
}
