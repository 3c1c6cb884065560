package figures

import (
	"fmt"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/heatflow"
	"wythe/renderer/moisture"
	"wythe/renderer/units"
)

// HeatMoisture says whether the coldest inside surface stays free of mold and
// condensation through the year, and how cold each air and vapor chain gets.
//
// Method: ISO 13788:2012, 5.3 and 5.4, with the temperature factor of the
// two-dimensional field at the higher inside resistance.
type HeatMoisture struct {
	Mold, Condensation *moisture.Factor // required factors
	Factor             float64          // of the coldest inside surface, mold check
	MoldFree, Dry      bool
	// DesignMonth is the month that asks most against mold, from 0; −1: none.
	// DewPoint is the room's in it, Outside the air outside.
	DesignMonth       int
	DewPoint, Outside units.Temperature
	Chains            []ColdChain
}

// ColdChain is the coldest place on a chain of air or vapor control, in the
// month it comes nearest the room's dew point or falls most below it.
type ColdChain struct {
	Control     detail.Control
	Spot        heatflow.Spot // place; its temperature is that of the design day
	Factor      float64       // temperature factor there
	Month       int           // from 0
	Temperature units.Temperature
	DewPoint    units.Temperature
	Cold        bool // below the dew point
}

// chainStep is how closely a chain is looked along, m.
const chainStep = 0.02

// moist judges the coldest surface and the chains by the climate's year; nil
// with the reason where there is none, or inside and outside are not one each.
func (h *HeatFlow) moist(c Context, j *Junction, outside, inside float64, two bool) (*HeatMoisture, string) {
	switch {
	case c.Climate == nil || c.Settings == nil:
		return nil, "the library names no climate"
	case !two || !h.HasFactor:
		return nil, "inside or outside has more than one temperature"
	}
	in := c.Settings.Inside
	year, err := moisture.Conditions(outdoor(c.Climate), moisture.Inside{Temperature: in.Temperature, Class: in.MoistureClass, Humidity: in.Humidity, Margin: c.Settings.MoistureMargin})
	if err != nil {
		return nil, reason(err)
	}
	m := &HeatMoisture{Factor: h.FactorMold, DesignMonth: -1}
	if m.Mold, err = moisture.RequiredFactor(year, moisture.CriticalMould); err != nil {
		return nil, reason(err)
	}
	if m.Condensation, err = moisture.RequiredFactor(year, 1); err != nil {
		return nil, reason(err)
	}
	m.MoldFree, m.Dry = m.Factor >= m.Mold.Required, m.Factor >= m.Condensation.Required
	if k := m.Mold.Month; k >= 0 {
		m.DesignMonth, m.Outside = k, year.Outside[k].Temperature
		if m.DewPoint, err = moisture.DewPoint(year.Inside[k].Pressure); err != nil {
			return nil, reason(err)
		}
	}
	for i := range j.Continuity {
		r := &j.Continuity[i]
		if r.Control != detail.AirTight && r.Control != detail.VaporTight {
			continue
		}
		chain := ColdChain{Control: r.Control}
		found := false
		for _, l := range r.Lines {
			if l.Gap {
				continue
			}
			line := make([][2]float64, len(l.Points))
			for k, p := range l.Points {
				line[k] = [2]float64{float64(p.X) * 1e-6, float64(p.Y) * 1e-6}
			}
			if s, ok := h.Field.ColdestAlong(line, chainStep); ok && (!found || s.Celsius < chain.Spot.Celsius) {
				chain.Spot, found = s, true
			}
		}
		if !found {
			continue
		}
		chain.Factor, _ = heatflow.TemperatureFactor(chain.Spot.Celsius, inside, outside)
		if err := chain.worst(year); err != nil {
			return nil, reason(err)
		}
		m.Chains = append(m.Chains, chain)
	}
	return m, ""
}

// worst finds the month in which the place is farthest below the dew point, or
// nearest above it.
func (k *ColdChain) worst(y *moisture.Year) error {
	for i := range y.Inside {
		in, out := y.Inside[i], y.Outside[i]
		t := out.Temperature + units.Temperature(k.Factor)*(in.Temperature-out.Temperature)
		dew, err := moisture.DewPoint(in.Pressure)
		if err != nil {
			return err
		}
		if i == 0 || t-dew < k.Temperature-k.DewPoint {
			k.Month, k.Temperature, k.DewPoint = i, t, dew
		}
	}
	k.Cold = k.Temperature < k.DewPoint
	return nil
}

// warn adds a finding for each chain that is unbroken but cold.
func (j *Junction) warn(c Context) {
	if j.Heat == nil || j.Heat.Moisture == nil || j.Detail.Status == detail.Superseded {
		return
	}
	for _, k := range j.Heat.Moisture.Chains {
		for i := range j.Continuity {
			if r := &j.Continuity[i]; k.Cold && r.Control == k.Control && r.Verdict == continuity.Continuous {
				j.Findings.Items = append(j.Findings.Items, finding.Item{
					Position: j.Detail.At, Level: finding.Warning, Rule: "control-cold",
					Message: fmt.Sprintf("%s control is unbroken but cold: %s at its coldest point against a dew point of %s", k.Control, k.Temperature.ShowTenth(c.Settings.Units), k.DewPoint.ShowTenth(c.Settings.Units)),
					Mend:    "insulate outside it there, or keep the room's air drier",
				})
			}
		}
	}
	j.Findings.Sort()
}
