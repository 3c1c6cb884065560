package figures

import (
	"wythe/renderer/basis"
	"wythe/renderer/detail"
	"wythe/renderer/ground"
	"wythe/renderer/units"
)

// Ground is the heat flow of an element on the ground.
type Ground struct {
	*ground.Result
	// Transmittance and CouplingWPerK are this element's own: of the floor, or
	// of the walls below grade.
	Transmittance units.ThermalTransmittance
	CouplingWPerK float64
	Planned       bool // area and perimeter are stated; else only Curve holds
	Soil          ground.Soil
	Resistance    units.ThermalResistance // of the layers that count, face to face
	Curve         []ground.CurvePoint     // of a floor, over B′
	Months        *ground.Months          // nil without a climate or a plan
	Trace         basis.Trace
	Notes         []string // what was taken where the file does not say
}

// usualWall is the wall thickness in d_t where the file states none, m.
// Source: common practice.
const usualWall units.Length = 0.3

// soil is the ground that the assembly states, or what ISO 13370 takes where
// it is not known.
func (a *Assembly) soil() (ground.Soil, string) {
	if g := a.Detail.Assembly.Ground; g != nil && g.Soil != "" {
		if s, ok := ground.SoilNamed(g.Soil); ok {
			return s, ""
		}
	}
	s, _ := ground.SoilNamed("sand")
	return s, "soil not stated: sand or gravel, as ISO 13370 takes where the ground is not known"
}

func (a *Assembly) ground(c Context) {
	asm := a.Detail.Assembly
	space := crawlSpace(asm)
	if !OnGround(asm.Element) && space == nil {
		return
	}
	if a.Thermal == nil {
		a.miss("ground", "the thermal resistance is not computed")
		return
	}
	if space != nil {
		a.crawl(space)
		return
	}
	g := &Ground{}
	var note string
	if g.Soil, note = a.soil(); note != "" {
		g.Notes = append(g.Notes, note)
	}
	for i := len(asm.Layers) - 1; i >= 0 && granular(asm.Layers[i]); i-- {
		g.Notes = append(g.Notes, asm.Layers[i].Name+": fill counts as ground, not as floor")
	}
	g.Resistance = a.floorResistance()
	var err error
	if asm.Element == detail.WallBelowGrade {
		err = g.wall(asm)
	} else {
		err = g.floor(asm)
	}
	if err != nil {
		a.miss("ground", reason(err))
		return
	}
	if g.Result != nil {
		g.Trace = g.Result.Trace()
		if c.Climate != nil && asm.Element == detail.FloorOnGround {
			g.months(c)
		}
	}
	a.Ground = g
}

// floorResistance is that of the layers that ISO 13370 counts, face to face:
// all but granular fill at the outside.
func (a *Assembly) floorResistance() units.ThermalResistance {
	t := a.Thermal
	r := t.Resistance.Value - t.SurfaceInside
	asm := a.Detail.Assembly
	for i := len(asm.Layers) - 1; i >= 0 && granular(asm.Layers[i]); i-- {
		r -= t.Layers[i].Resistance
	}
	return r
}

func (g *Ground) floor(asm *detail.Assembly) error {
	slab := &ground.Slab{Soil: g.Soil, Floor: g.Resistance, SurfaceInside: ground.SurfaceFloor, SurfaceOutside: ground.SurfaceOutside}
	plan := asm.Ground
	slab.Wall = usualWall
	if plan != nil {
		slab.Area, slab.Perimeter = plan.Area, plan.Perimeter
		if plan.Wall > 0 {
			slab.Wall = plan.Wall
		}
		if e := plan.Edge; e != nil && e.Material != nil {
			slab.Edge = &ground.Edge{Thickness: e.Thickness, Conductivity: e.Material.Conductivity, Horizontal: e.Horizontal, Vertical: e.Vertical}
		}
	}
	if plan == nil || plan.Wall == 0 {
		g.Notes = append(g.Notes, "wall thickness not stated: 0.3 m (common practice)")
	}
	curve, err := slab.Curve(ground.UsualBPrimes)
	if err != nil {
		return err
	}
	g.Curve = curve
	if plan == nil || plan.Area == 0 {
		g.Notes = append(g.Notes, "no plan stated: U is given for B′ as listed; put ground: {area, perimeter} in the assembly")
		return nil
	}
	g.Planned = true
	if plan.Depth > 0 {
		b := &ground.Basement{Plan: slab.Plan, Soil: g.Soil, Depth: plan.Depth, Floor: g.Resistance, Walls: g.Resistance,
			SurfaceFloor: ground.SurfaceFloor, SurfaceWall: ground.SurfaceWall, SurfaceOutside: ground.SurfaceOutside}
		r, err := b.Solve()
		if err != nil {
			return err
		}
		g.Result = r
		g.Transmittance = r.Transmittance
		g.CouplingWPerK = float64(plan.Area) * float64(r.Transmittance)
		return nil
	}
	r, err := slab.Solve()
	if err != nil {
		return err
	}
	g.Result = r
	g.Transmittance, g.CouplingWPerK = r.Transmittance, r.AnnualWPerK
	return nil
}

func (g *Ground) wall(asm *detail.Assembly) error {
	plan := asm.Ground
	if plan == nil || plan.Depth == 0 {
		return &basis.MissingError{Method: ground.Method, Quantity: "depth below grade", Put: "the assembly (ground: {depth: …})"}
	}
	dw, err := ground.EquivalentThickness(0, g.Soil.Conductivity, ground.SurfaceWall, g.Resistance, ground.SurfaceOutside)
	if err != nil {
		return err
	}
	g.Notes = append(g.Notes, "the basement's floor is not known here: taken as well insulated as the wall (d_t = d_w)")
	w, err := ground.WallTransmittance(g.Soil.Conductivity, plan.Depth, dw, g.Resistance, ground.SurfaceWall, ground.SurfaceOutside)
	if err != nil {
		return err
	}
	g.Result = &ground.Result{Dt: dw, Wall: w}
	g.Transmittance = w.Transmittance
	if plan.Perimeter > 0 {
		g.Planned = true
		g.CouplingWPerK = float64(plan.Depth) * float64(plan.Perimeter) * float64(w.Transmittance)
	}
	return nil
}

func (g *Ground) months(c Context) {
	if !g.Planned {
		return
	}
	var outside [12]units.Temperature
	for i, m := range c.Climate.Months {
		outside[i] = m.Temperature
	}
	swing, err := ground.SwingOf(outside, c.Settings.Inside.Temperature)
	if err != nil {
		return
	}
	if months, err := g.Result.Months(swing); err == nil {
		g.Months = months
	}
}
