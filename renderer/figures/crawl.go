package figures

import (
	"wythe/renderer/basis"
	"wythe/renderer/climate"
	"wythe/renderer/detail"
	"wythe/renderer/ground"
	"wythe/renderer/material"
	"wythe/renderer/moisture"
	"wythe/renderer/units"
)

// crawlSpace returns the well-ventilated air layer of a floor that states its
// plan on the ground: a floor over a vented crawl space. Nil: it is none.
func crawlSpace(asm *detail.Assembly) *detail.Layer {
	if asm.Element != detail.Floor || asm.Ground == nil {
		return nil
	}
	for _, l := range asm.Layers {
		if l.Material.Hatch == material.Air && l.Ventilation == detail.WellVentilated {
			return l
		}
	}
	return nil
}

// crawl works out a floor over a vented crawl space by ISO 13370's suspended
// floor. The standard's usual openings, wind and shielding are taken, and said.
func (a *Assembly) crawl(space *detail.Layer) {
	plan := a.Detail.Assembly.Ground
	g := &Ground{Planned: plan.Area > 0}
	var note string
	if g.Soil, note = a.soil(); note != "" {
		g.Notes = append(g.Notes, note)
	}
	t := a.Thermal
	g.Resistance = t.Resistance.Value - t.SurfaceInside - t.SurfaceInside
	// Films on both sides of the floor, by ISO 13370: heat flows down on both.
	u := units.ThermalTransmittance(1 / (float64(ground.SurfaceFloor) + float64(g.Resistance) + float64(ground.SurfaceFloor)))
	s := &ground.Suspended{
		Plan: ground.Plan{Area: plan.Area, Perimeter: plan.Perimeter, Wall: plan.Wall}, Soil: g.Soil, Floor: u,
		SurfaceInside: ground.SurfaceFloor, SurfaceOutside: ground.SurfaceOutside,
		Height: space.Total(), Below: plan.Depth, Openings: ground.VentOpenings[0], WindMPerS: ground.WindSpeedMPerS, Shield: ground.ShieldAverage,
	}
	if s.Wall == 0 {
		s.Wall = usualWall
		g.Notes = append(g.Notes, "wall thickness not stated: 0.3 m (common practice)")
	}
	g.Notes = append(g.Notes,
		"openings 1,500 mm² per m of perimeter, wind 4 m/s, average shielding: the usual values of ISO 13370",
		"the walls of the crawl space are not counted: their transmittance is not stated")
	if plan.Area == 0 {
		a.miss("ground", (&basis.MissingError{Method: ground.Method, Quantity: "area and perimeter of the floor", Put: "the assembly (ground: {area: …, perimeter: …})"}).Error())
		return
	}
	r, err := s.Solve()
	if err != nil {
		a.miss("ground", reason(err))
		return
	}
	g.Result, g.Transmittance, g.CouplingWPerK, g.Trace = r, r.Transmittance, r.AnnualWPerK, r.Trace()
	a.Ground = g
}

// crawlYear puts the air of the crawl space in the place of the outside.
func (a *Assembly) crawlYear(c *climate.Climate, y *moisture.Year) error {
	g := a.Ground
	if g == nil || g.Result == nil || g.Void == nil || crawlSpace(a.Detail.Assembly) == nil {
		return nil
	}
	saturated, err := moisture.SaturationPressure(c.Ground)
	if err != nil {
		return err
	}
	var deep [12]moisture.Air
	for i := range deep {
		deep[i] = moisture.Air{Temperature: c.Ground, Pressure: saturated}
	}
	floor := units.ThermalTransmittance(1 / (2*float64(ground.SurfaceFloor) + float64(g.Resistance)))
	air, wet, err := moisture.CrawlMonths(y, deep, moisture.Crawl{Floor: floor, Ground: g.Void.Ground, Outside: g.Void.Vented})
	if err != nil {
		return err
	}
	y.Outside = air
	a.CrawlWet = wet
	return nil
}
