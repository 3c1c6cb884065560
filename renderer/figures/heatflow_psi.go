package figures

import (
	"fmt"
	"math"
	"slices"

	"wythe/renderer/detail"
	"wythe/renderer/geometry"
	"wythe/renderer/ground"
	"wythe/renderer/heatflow"
	"wythe/renderer/material"
	"wythe/renderer/thermal"
	"wythe/renderer/units"
)

// PsiValues are the linear thermal transmittances of a junction, or why there
// are none.
type PsiValues struct {
	Internal, External       units.LinearTransmittance
	HasInternal, HasExternal bool
	Why                      string // where one is missing
	Flanks                   []heatflow.Flank
	// Soil is set where the floor on the ground is a flank: Ψ = L2D − h U_wall −
	// 0.5 B′ U_ground.
	Soil bool
}

func (v *PsiValues) missing(format string, args ...any) PsiValues {
	v.Why = fmt.Sprintf(format, args...)
	return *v
}

// cutStack is what leaves the view at a cut, from void to void.
type cutStack struct {
	inside, outside faceLine // the faces it ends with
	name            string
	u               float64
	thickness       float64
	soil            bool
	floor           float64 // resistance of what lies on the soil
	onSoil          float64 // conductivity of that soil
}

// faceLine is a face where it meets a cut: where, and which way it runs in.
type faceLine struct {
	at      geometry.Point
	dx, dy  float64
	surface int32
	stretch int // of the outline between two cuts
}

// psi measures the coupling against the assemblies that reach a cut: U as
// meshed; internal lengths to the meeting of the inside faces, external ones to
// that of the outside faces.
func (b *heatBuilder) psi(h *HeatFlow) PsiValues {
	v := PsiValues{}
	if h.Unbounded {
		return v.missing(unboundedWhy)
	}
	if !h.HasCoupling {
		return v.missing("the spaces have more than two temperatures, or one")
	}
	if len(b.s.Junction.Reference) > 0 {
		return b.reference(h)
	}
	stacks, why := b.stacks()
	if why != "" {
		return v.missing("%s", why)
	}
	var floor *cutStack
	for i := range stacks {
		if stacks[i].soil {
			if floor != nil {
				return v.missing("two floors on the ground reach a cut")
			}
			floor = &stacks[i]
		}
	}
	switch {
	case len(stacks) == 0:
		return v.missing("no assembly between inside and outside reaches a cut")
	case floor != nil && len(stacks) == 2:
		return b.groundPsi(h, floor, stacks)
	case floor != nil:
		return v.missing("%d assemblies reach a cut beside the floor on the ground, and one is known how to measure; say them in `reference`", len(stacks)-1)
	case len(stacks) == 1:
		return v.missing("one assembly alone reaches a cut, and its length has no end to measure to; say it in `reference`")
	}
	for _, s := range stacks {
		v.Flanks = append(v.Flanks, heatflow.Flank{Name: s.name, U: s.u})
	}
	b.insideLengths(v.Flanks, stacks)
	v.HasInternal = true
	v.HasExternal, v.Why = b.outsideLengths(v.Flanks, stacks)
	v.take(h)
	return v
}

// insideLengths measures inside faces to where they meet that of the flank next
// to them in the room, or as far as they run straight on; two that are one face
// share it.
func (b *heatBuilder) insideLengths(flanks []heatflow.Flank, stacks []cutStack) {
	for i := range stacks {
		a := &stacks[i]
		k := partner(stacks, i, func(s *cutStack) int { return s.inside.stretch })
		if k < 0 {
			flanks[i].Internal = b.straight(a.inside)
			continue
		}
		l, _, meets := meetingOf(a.inside, stacks[k].inside)
		if !meets {
			l = b.straight(a.inside)
			if gap, one := inLine(a.inside, stacks[k].inside); one && l > gap-1e-5 {
				l = gap / 2
			}
		}
		flanks[i].Internal = l
	}
}

// outsideLengths measures outside faces to where they meet; what lies between
// two in one line is halved, beyond their inside lengths.
func (b *heatBuilder) outsideLengths(flanks []heatflow.Flank, stacks []cutStack) (ok bool, why string) {
	for i := range stacks {
		a := &stacks[i]
		k := partner(stacks, i, func(s *cutStack) int { return s.outside.stretch })
		if k < 0 {
			return false, "the outside face of " + a.name + " runs to a cut of its own; say the lengths in `reference`"
		}
		c := &stacks[k]
		if l, _, meets := meetingOf(a.outside, c.outside); meets {
			flanks[i].External = l
		} else if gap, straight := inLine(a.outside, c.outside); straight {
			flanks[i].External = flanks[i].Internal + (gap-flanks[i].Internal-flanks[k].Internal)/2
		} else {
			return false, "the outside faces run side by side and never meet; say the lengths in `reference`"
		}
	}
	return true, ""
}

// partner returns the flank that shares the stretch of outline of another, on
// the side that of tells; of two flanks each is the other's. −1: none.
func partner(stacks []cutStack, i int, of func(s *cutStack) int) int {
	for k := range stacks {
		if k != i && (len(stacks) == 2 || of(&stacks[k]) == of(&stacks[i])) {
			return k
		}
	}
	return -1
}

func (v *PsiValues) take(h *HeatFlow) {
	in, out := heatflow.Psi(float64(h.Coupling), v.Flanks)
	v.Internal = units.LinearTransmittance(in)
	if v.HasExternal {
		v.External = units.LinearTransmittance(out)
	}
}

// reference measures against the flanks the author states.
func (b *heatBuilder) reference(h *HeatFlow) PsiValues {
	v := PsiValues{HasInternal: true, HasExternal: true}
	for _, r := range b.s.Junction.Reference {
		var d *detail.Detail
		if b.lookup != nil {
			d = b.lookup(r.Mark)
		}
		if d == nil || d.Assembly == nil || b.c.Settings == nil {
			return v.missing("%s is no assembly here", r.Mark)
		}
		stack, _, err := thermalStack(b.c, d.Assembly)
		if err != nil {
			return (&PsiValues{}).missing("%s: %s", r.Mark, reason(err))
		}
		result, err := thermal.Solve(stack)
		if err != nil {
			return (&PsiValues{}).missing("%s: %s", r.Mark, reason(err))
		}
		if !result.Resistance.Computed {
			return (&PsiValues{}).missing("the U-value of %s is not computed", r.Mark)
		}
		f := heatflow.Flank{Name: r.Mark, U: float64(result.Transmittance), Internal: float64(r.Length), External: float64(r.External)}
		if r.External == 0 {
			v.HasExternal = false
			v.Why = "`reference` gives no external length for " + r.Mark
		}
		v.Flanks = append(v.Flanks, f)
	}
	v.take(h)
	return v
}

// rimEdge is an edge of the outline with the section on its left.
type rimEdge struct {
	from, to geometry.Point
	surface  int32
	region   int32
}

// outline returns the edges of the outline in loops: each with the one after it.
func outline(p *heatflow.Problem) (edges []rimEdge, next []int) {
	at := map[geometry.Point][]int{}
	for _, e := range p.Edges {
		if (e.Left == none32) == (e.Right == none32) {
			continue
		}
		r := rimEdge{p.Points[e.A], p.Points[e.B], e.Surface, e.Left}
		if e.Left == none32 {
			r = rimEdge{p.Points[e.B], p.Points[e.A], e.Surface, e.Right}
		}
		at[r.from] = append(at[r.from], len(edges))
		edges = append(edges, r)
	}
	next = make([]int, len(edges))
	for i, e := range edges {
		next[i] = -1
		if k := at[e.to]; len(k) > 0 {
			next[i] = k[0]
			if len(k) > 1 { // two outlines touch: each keeps to its own
				at[e.to] = k[1:]
			}
		}
	}
	return edges, next
}

// stacks finds what is cut between an inside and an outside space, or on the
// ground; why says what stands in the way.
func (b *heatBuilder) stacks() (out []cutStack, why string) {
	edges, next := outline(b.view)
	stretch := stretches(edges, next)
	for i, before := range edges {
		k := next[i]
		if before.surface == none32 || k < 0 || edges[k].surface != none32 {
			continue
		}
		var run []rimEdge
		for ; k >= 0 && edges[k].surface == none32 && len(run) <= len(edges); k = next[k] {
			run = append(run, edges[k])
		}
		if k < 0 || len(run) > len(edges) {
			continue
		}
		first, last := faceOf(before, before.to, before.from), faceOf(edges[k], edges[k].from, edges[k].to)
		first.stretch, last.stretch = stretch[i], stretch[k]
		s, take, why := b.stack(run, first, last)
		if why != "" {
			return nil, why
		}
		if take {
			out = append(out, s)
		}
	}
	return out, ""
}

// stretches names each edge of the outline by the run of faced edges it is of.
func stretches(edges []rimEdge, next []int) []int {
	of := make([]int, len(edges))
	for i, e := range edges {
		if e.surface == none32 || of[i] != 0 {
			continue
		}
		for k := i; k >= 0 && edges[k].surface != none32 && of[k] != i+1; k = next[k] {
			of[k] = i + 1
		}
	}
	return of
}

func faceOf(e rimEdge, at, to geometry.Point) faceLine {
	d := to.Sub(at)
	l := math.Hypot(float64(d.X), float64(d.Y))
	return faceLine{at: at, dx: float64(d.X) / l, dy: float64(d.Y) / l, surface: e.surface}
}

// stack measures what is cut between two faces.
func (b *heatBuilder) stack(run []rimEdge, first, last faceLine) (s cutStack, take bool, why string) {
	p := b.view
	insideAt := func(f faceLine) bool { return b.spaces[p.Surfaces[f.surface].Space].Inside }
	for _, c := range run {
		s.soil = s.soil || b.soil[c.region]
	}
	s.inside, s.outside = first, last
	if insideAt(last) {
		s.inside, s.outside = last, first
		slices.Reverse(run) // from the inside
	}
	if insideAt(first) == insideAt(last) && !(s.soil && insideAt(first)) {
		return s, false, ""
	}
	resistance := 0.0
	for _, c := range run {
		d := c.to.Sub(c.from)
		x, y := float64(d.X)*1e-6, float64(d.Y)*1e-6
		t := math.Abs(x*s.inside.dy - y*s.inside.dx) // square to the inside face
		lambda := p.Regions[c.region].Conductivity
		if s.soil {
			if b.soil[c.region] {
				s.onSoil = lambda
				break
			}
			if !b.granular(c.region) {
				s.floor += t / lambda
			}
		}
		if n := b.names[c.region].mark; n != "" {
			s.name = n
		}
		s.thickness += t
		resistance += t / lambda
	}
	if s.name == "" {
		s.name = "flank"
		if k := b.names[run[0].region].part; k >= 0 {
			s.name = b.s.Junction.Parts[k].Name
		}
	}
	if s.soil {
		return s, true, ""
	}
	a, z := run[0], run[len(run)-1]
	for _, c := range run {
		d, e := c.to.Sub(c.from), z.to.Sub(a.from)
		l := math.Hypot(float64(d.X), float64(d.Y)) * math.Hypot(float64(e.X), float64(e.Y))
		if math.Abs(float64(d.X)*float64(e.Y)-float64(d.Y)*float64(e.X)) > 0.01*l {
			return s, false, "a part leaves the view at its corner, or beside air that no space claims; say the flanks in `reference`"
		}
	}
	if math.Abs(first.dx*last.dy-first.dy*last.dx) > 0.01 {
		return s, false, "the faces of a part that reaches a cut are not parallel"
	}
	d := z.to.Sub(a.from)
	if along := math.Abs(float64(d.X)*s.inside.dx+float64(d.Y)*s.inside.dy) / math.Hypot(float64(d.X), float64(d.Y)); along > 0.02 {
		b.note("%s: cut aslant, not square to its faces; near that cut heat runs along the cut", s.name)
	}
	s.u = 1 / (p.Surfaces[first.surface].Resistance + p.Surfaces[last.surface].Resistance + resistance)
	return s, true, ""
}

// granular reports whether a region is fill that ISO 13370 counts as ground.
func (b *heatBuilder) granular(region int32) bool {
	for i := range b.s.Regions {
		r := &b.s.Regions[i]
		n := b.names[region]
		if r.Part == n.part && r.Mark == n.mark && r.Material != nil && b.regionOf(int32(i)) == region {
			return r.Material.Hatch == material.WashedStone || r.Material.Hatch == material.Sand
		}
	}
	return false
}

func (b *heatBuilder) regionOf(owner int32) int32 {
	for f, o := range b.s.Owner {
		if o == owner && b.region[f] != none32 {
			return b.region[f]
		}
	}
	return none32
}

// meetingOf returns how far, m, two faces run to where their lines meet.
func meetingOf(a, c faceLine) (l, m float64, ok bool) {
	det := a.dx*c.dy - a.dy*c.dx
	if math.Abs(det) < 0.02 {
		return 0, 0, false
	}
	x, y := float64(c.at.X-a.at.X)*1e-6, float64(c.at.Y-a.at.Y)*1e-6
	l, m = (x*c.dy-y*c.dx)/det, (x*a.dy-y*a.dx)/det
	return l, m, l > 0 && m > 0
}

// inLine returns the distance between two faces that run towards each other in
// one line, m.
func inLine(a, c faceLine) (gap float64, ok bool) {
	x, y := float64(c.at.X-a.at.X)*1e-6, float64(c.at.Y-a.at.Y)*1e-6
	return math.Hypot(x, y), math.Abs(x*a.dy-y*a.dx) < 1e-5 && math.Abs(a.dx*c.dy-a.dy*c.dx) < 0.02
}

// straight returns how far a face runs straight on in its space, m.
func (b *heatBuilder) straight(f faceLine) float64 {
	p := b.view
	far, at := 0.0, f.at
	for moved := true; moved; {
		moved = false
		for _, e := range p.Edges {
			if e.Surface == none32 || p.Surfaces[e.Surface].Space != p.Surfaces[f.surface].Space {
				continue
			}
			q, r := p.Points[e.A], p.Points[e.B]
			if r == at {
				q, r = r, q
			}
			if q != at {
				continue
			}
			x, y := float64(r.X-f.at.X)*1e-6, float64(r.Y-f.at.Y)*1e-6
			if on := x*f.dx + y*f.dy; on > far && math.Abs(x*f.dy-y*f.dx) < 1e-5 {
				far, at, moved = on, r, true
			}
		}
	}
	return far
}

// groundPsi measures against the wall above grade, the wall below it and the
// floor, by ISO 13370 for a floor as wide as the ground is modelled.
//
// Method: ISO 10211:2017, 12.4: inside, the wall from the floor up and half of
// the floor's width; outside (the clause from memory), the wall from grade up and
// the floor with the wall's thickness.
func (b *heatBuilder) groundPsi(h *HeatFlow, floor *cutStack, stacks []cutStack) PsiValues {
	v := PsiValues{Soil: true}
	wall := &stacks[0]
	if wall == floor {
		wall = &stacks[1]
	}
	if math.Abs(floor.inside.dy) > 0.02 {
		return v.missing("the view cuts a wall in the ground, with no floor on that side to measure it by; say the flanks in `reference`")
	}
	height, half, ok := meetingOf(wall.inside, floor.inside)
	if !ok {
		return v.missing("the inside faces of wall and floor do not meet")
	}
	grade := b.grade
	if h.Ground != nil {
		half = float64(h.Ground.Width) / 2
	} else if grade, ok = b.gradeInView(); !ok { // the author draws the soil: half the floor is what is in the view
		return v.missing("no outside air lies on the soil")
	}
	depth := float64(grade-floor.inside.at.Y) * 1e-6
	r := &ground.Basement{
		Plan:  ground.Plan{Area: units.Area(2 * half), Perimeter: 2, Wall: units.Length(wall.thickness)},
		Soil:  ground.Soil{Name: "as modelled", Conductivity: units.Conductivity(floor.onSoil)},
		Depth: units.Length(max(depth, 0)), Floor: units.ThermalResistance(floor.floor),
		Walls:        units.ThermalResistance(1/wall.u) - surfaceOf(b.view, wall.inside) - surfaceOf(b.view, wall.outside),
		SurfaceFloor: surfaceOf(b.view, floor.inside), SurfaceWall: surfaceOf(b.view, wall.inside), SurfaceOutside: ground.SurfaceOutside,
	}
	g, err := r.Solve()
	if err != nil {
		return v.missing("%s", reason(err))
	}
	above := max(height-depth, 0) // from grade
	v.Flanks = []heatflow.Flank{
		{Name: wall.name, U: wall.u, Internal: min(above, height), External: above},
		{Name: floor.name, U: float64(g.Transmittance), Internal: half, External: half + wall.thickness},
	}
	if depth > 0 {
		below := min(depth, height)
		v.Flanks = append(v.Flanks, heatflow.Flank{Name: wall.name + " below grade", U: float64(g.Wall.Transmittance), Internal: below, External: below})
	}
	v.HasInternal, v.HasExternal = true, true
	v.take(h)
	return v
}

// gradeInView returns the height of the soil that outside air lies on, µm.
func (b *heatBuilder) gradeInView() (y int64, ok bool) {
	for _, e := range b.view.Edges {
		if e.Surface == none32 || !b.soil[max(e.Left, e.Right)] || b.spaces[b.view.Surfaces[e.Surface].Space].Inside {
			continue
		}
		if top := max(b.view.Points[e.A].Y, b.view.Points[e.B].Y); !ok || top > y {
			y, ok = top, true
		}
	}
	return y, ok
}

func surfaceOf(p *heatflow.Problem, f faceLine) units.ThermalResistance {
	return units.ThermalResistance(p.Surfaces[f.surface].Resistance)
}
