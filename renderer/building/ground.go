package building

import (
	"math"

	"wythe/renderer/detail"
	"wythe/renderer/energy"
	"wythe/renderer/figures"
	"wythe/renderer/ground"
	"wythe/renderer/units"
)

// ground adds the floors on the ground and, with the floor of a basement, its
// walls below grade.
func (b *Budget) ground(c Context) {
	bd := b.Building.Building
	var floors, walls []detail.AreaUse
	for _, u := range bd.Areas {
		fig := c.Assembly(u.Mark)
		if fig == nil {
			continue // said before
		}
		switch fig.Detail.Assembly.Element {
		case detail.FloorOnGround:
			floors = append(floors, u)
		case detail.WallBelowGrade:
			walls = append(walls, u)
		}
	}
	below := 0 // basements
	for _, f := range floors {
		if f.Depth > 0 {
			below++
		}
	}
	for _, f := range floors {
		switch {
		case f.Perimeter == 0:
			b.miss(f.Mark, "a floor on the ground needs its perimeter: add \"perimeter:\" to its area")
		case f.Depth == 0:
			b.slab(c, f)
		case len(walls) == 0:
			b.miss(f.Mark, "a basement's floor needs its walls below grade among the areas")
		case below > 1:
			b.miss(f.Mark, "the building has more than one basement: which walls are whose is not stated")
		default:
			b.basement(c, f, walls)
		}
	}
	if below == 0 {
		for _, w := range walls {
			b.miss(w.Mark, "walls below grade are worked out with their floor: give the floor its depth")
		}
	}
}

// months returns the flow of each month, where there is a climate.
func (b *Budget) months(c Context, r *ground.Result) *ground.Months {
	if c.Climate == nil {
		return nil
	}
	var outside [12]units.Temperature
	for i, m := range c.Climate.Months {
		outside[i] = m.Temperature
	}
	swing, err := ground.SwingOf(outside, b.Inside)
	if err != nil {
		return nil
	}
	m, err := r.Months(swing)
	if err != nil {
		return nil
	}
	return m
}

// season turns the months' flows into a season's heat and the coldest month's
// flow. Months whose mean outside is not below the base count nothing.
func season(c Context, m *ground.Months) (year energy.Heat, most float64) {
	for i, w := range m.FlowW {
		most = math.Max(most, w)
		if c.Climate.Months[i].Temperature < energy.UsualBase {
			year += energy.Heat(math.Max(0, w) * energy.Days[i] * 86400)
		}
	}
	return year, most
}

func (b *Budget) addGround(c Context, l Line, r *ground.Result, share float64) {
	if m := b.months(c, r); m != nil {
		year, most := season(c, m)
		l.Year, l.DesignW = year*energy.Heat(share), most*share
	} else if c.Climate != nil {
		b.miss(l.Mark, "the months of the ground are not computed")
	}
	b.Lines = append(b.Lines, l)
}

func (b *Budget) slab(c Context, u detail.AreaUse) {
	fig := c.Assembly(u.Mark)
	r, soil, note, ok := fig.InGround()
	if !ok {
		b.miss(u.Mark, "its thermal resistance is not computed: "+fig.Why("thermal"))
		return
	}
	if note != "" {
		b.note(u.Mark + ": " + note)
	}
	s := &ground.Slab{Plan: ground.Plan{Area: u.Area, Perimeter: u.Perimeter, Wall: b.wallOf(fig)}, Soil: soil, Floor: r,
		SurfaceInside: ground.SurfaceFloor, SurfaceOutside: ground.SurfaceOutside}
	if g := fig.Detail.Assembly.Ground; g != nil && g.Edge != nil && g.Edge.Material != nil {
		e := g.Edge
		s.Edge = &ground.Edge{Thickness: e.Thickness, Conductivity: e.Material.Conductivity, Horizontal: e.Horizontal, Vertical: e.Vertical}
	}
	result, err := s.Solve()
	if err != nil {
		b.miss(u.Mark, err.Error())
		return
	}
	b.onGround(c, u.Mark, s.Plan, 0, result, soil, r)
	b.addGround(c, Line{Kind: Ground, Mark: u.Mark, Name: fig.Detail.Title, Area: u.Area, Transmittance: result.WithEdge, WPerK: result.AnnualWPerK,
		Note: "ISO 13370, slab on ground"}, result, 1)
}

// wallOf is the thickness of the wall about a floor.
func (b *Budget) wallOf(fig *figures.Assembly) units.Length {
	if g := fig.Detail.Assembly.Ground; g != nil && g.Wall > 0 {
		return g.Wall
	}
	b.note(fig.Detail.Mark + ": wall about the floor 0.3 m, not stated (common practice)")
	return figures.UsualWall
}

// basement is one floor with all walls below grade: their resistance is the
// mean by area. What of the walls stands above grade meets the air.
func (b *Budget) basement(c Context, f detail.AreaUse, walls []detail.AreaUse) {
	floor := c.Assembly(f.Mark)
	rf, soil, note, ok := floor.InGround()
	if !ok {
		b.miss(f.Mark, "its thermal resistance is not computed: "+floor.Why("thermal"))
		return
	}
	if note != "" {
		b.note(f.Mark + ": " + note)
	}
	area, conductance := 0.0, 0.0
	for _, w := range walls {
		fig := c.Assembly(w.Mark)
		rw, _, _, ok := fig.InGround()
		if !ok || rw <= 0 {
			b.miss(w.Mark, "its thermal resistance is not computed: "+fig.Why("thermal"))
			return
		}
		net := float64(NetArea(b.Building.Building, w))
		area += net
		conductance += net / float64(rw)
	}
	if area == 0 || !finite(conductance) {
		b.miss(f.Mark, "the walls below grade have no area")
		return
	}
	s := &ground.Basement{Plan: ground.Plan{Area: f.Area, Perimeter: f.Perimeter, Wall: b.wallOf(floor)}, Soil: soil, Depth: f.Depth,
		Floor: rf, Walls: units.ThermalResistance(area / conductance),
		SurfaceFloor: ground.SurfaceFloor, SurfaceWall: ground.SurfaceWall, SurfaceOutside: ground.SurfaceOutside}
	r, err := s.Solve()
	if err != nil {
		b.miss(f.Mark, err.Error())
		return
	}
	b.onGround(c, f.Mark, s.Plan, f.Depth, r, soil, rf)
	ofFloor := float64(f.Area) * float64(r.Transmittance)
	inGround := float64(f.Depth) * float64(f.Perimeter)
	share := ofFloor / r.AnnualWPerK
	b.addGround(c, Line{Kind: Ground, Mark: f.Mark, Name: floor.Detail.Title, Area: f.Area, Transmittance: r.Transmittance, WPerK: ofFloor,
		Note: "ISO 13370, heated basement"}, r, share)
	below := math.Min(inGround, area)
	for _, w := range walls {
		fig := c.Assembly(w.Mark)
		net := float64(NetArea(b.Building.Building, w))
		part := net / area
		l := Line{Kind: Ground, Mark: w.Mark, Name: fig.Detail.Title, Area: units.Area(below * part), Transmittance: r.Wall.Transmittance,
			WPerK: (r.AnnualWPerK - ofFloor) * part, Note: "ISO 13370, heated basement"}
		b.addGround(c, l, r, (1-share)*part)
		if rest := net - inGround*part; rest > 0 {
			b.above(fig, w, rest)
		}
	}
	if inGround > area*1.02 {
		b.note("the walls below grade are less than depth times perimeter: ISO 13370 counts the latter")
	}
}

// above is what of a wall below grade stands in the air.
func (b *Budget) above(fig *figures.Assembly, w detail.AreaUse, rest float64) {
	t := fig.Thermal
	surface := t.SurfaceOutside
	if t.OnGround {
		surface = ground.SurfaceOutside // ISO 6946, of a face in the air
	}
	u := 1 / float64(t.Resistance.Value+surface)
	b.add(Line{Kind: Element, Mark: w.Mark, Name: fig.Detail.Title + ", above grade", Area: units.Area(rest), Transmittance: units.ThermalTransmittance(u), WPerK: u * rest,
		Note: "what its area holds beyond depth times perimeter"})
}
