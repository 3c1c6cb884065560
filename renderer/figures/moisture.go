package figures

import (
	"fmt"

	"wythe/renderer/basis"
	"wythe/renderer/climate"
	"wythe/renderer/detail"
	"wythe/renderer/material"
	"wythe/renderer/moisture"
	"wythe/renderer/units"
)

// moisture works out a year of vapor through the assembly, along the path
// through the insulation.
func (a *Assembly) moisture(c Context) {
	if a.Thermal == nil {
		a.miss("moisture", "the thermal resistance is not computed")
		return
	}
	if c.Climate == nil {
		a.miss("moisture", (&basis.MissingError{Method: "ISO 13788:2012", Quantity: "monthly climate", Put: "library.yaml (climate: NAME) and climates/NAME.yaml"}).Error())
		return
	}
	section, err := a.moistureSection()
	if err != nil {
		a.miss("moisture", reason(err))
		return
	}
	year, inside, err := a.moistureYear(c)
	if err != nil {
		a.miss("moisture", reason(err))
		return
	}
	r, err := moisture.Analyze(section, year, inside, moisture.Options{ThirdClass: true})
	if err != nil {
		a.miss("moisture", reason(err))
		return
	}
	a.Moisture, a.MoistureSection = r, section
}

func (a *Assembly) moistureSection() (*moisture.Section, error) {
	asm := a.Detail.Assembly
	s := &moisture.Section{}
	s.SurfaceInside, s.SurfaceOutside, _ = material.SurfacesISO6946(Direction(asm))
	s.SurfaceSheltered = s.SurfaceInside
	if a.Thermal.OnGround {
		s.SurfaceOutside = 0
	}
	for i, l := range asm.Layers {
		m := moisture.Layer{
			Name: l.Name, Thickness: l.Total(), Resistance: a.Thermal.Layers[i].Resistance,
			Ventilated: l.Material.Hatch == material.Air && l.Ventilation == detail.WellVentilated,
			AirStop:    carries(l, detail.AirTight),
			Wood:       timber(l.Material.Hatch) || (l.Framing != nil && timber(l.Framing.Material.Hatch)),
		}
		if len(a.Thermal.Studs) > 0 && l.Framing != nil && l.Material.Conductivity > 0 {
			m.Resistance = units.ThermalResistance(float64(l.Total()) / float64(l.Material.Conductivity))
		}
		switch l.Material.Hatch {
		case material.Batt, material.LooseFill, material.Air:
			m.AirOpen = true
		}
		if m.Ventilated {
			s.Layers = append(s.Layers, m)
			break
		}
		sd, err := l.Material.VaporDry.SdOf(l.Total())
		if !l.Material.VaporDry.Known && l.Material.Hatch == material.Air {
			sd, err = l.Total(), nil // still air resists as itself: mu is 1 by definition
		}
		if err != nil {
			return nil, &basis.MissingError{Method: "ISO 13788:2012", Quantity: fmt.Sprintf("vapor resistance of %q", l.Material.Name), Put: "materials.yaml (vapor:)"}
		}
		m.Sd = sd
		s.Layers = append(s.Layers, m)
	}
	return s, nil
}

// moistureYear returns both sides through the year; below grade the outside is
// the ground, with its lag.
func (a *Assembly) moistureYear(c Context) (*moisture.Year, moisture.Inside, error) {
	in := c.Settings.Inside
	inside := moisture.Inside{Temperature: in.Temperature, Class: in.MoistureClass, Humidity: in.Humidity, Margin: c.Settings.MoistureMargin}
	months := outdoor(c.Climate)
	year, err := moisture.Conditions(months, inside)
	if err != nil {
		return nil, inside, err
	}
	asm := a.Detail.Assembly
	if !OnGround(asm.Element) {
		return year, inside, a.crawlYear(c.Climate, year)
	}
	soil, _ := a.soil()
	depth := units.Length(0)
	if g := asm.Ground; g != nil {
		depth = g.Depth
		if asm.Element == detail.WallBelowGrade {
			depth /= 2 // its middle
		}
	}
	air, err := moisture.GroundMonths(months, c.Climate.Ground, depth, moisture.Soil{Name: soil.Name, Conductivity: soil.Conductivity, HeatCapacityJPerM3K: soil.HeatCapacityJPerM3K})
	if err != nil {
		return nil, inside, err
	}
	year.Outside = air
	return year, inside, nil
}

func outdoor(c *climate.Climate) (months [12]moisture.Month) {
	for i, m := range c.Months {
		months[i] = moisture.Month{Temperature: m.Temperature, Humidity: m.Humidity}
	}
	return months
}
