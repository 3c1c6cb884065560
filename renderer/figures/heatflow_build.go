package figures

import (
	"fmt"
	"math"
	"slices"

	"wythe/renderer/basis"
	"wythe/renderer/detail"
	"wythe/renderer/geometry"
	"wythe/renderer/heatflow"
	"wythe/renderer/material"
	"wythe/renderer/section"
	"wythe/renderer/thermal"
	"wythe/renderer/units"
)

// heatBuilder turns a section into a problem of heat flow.
type heatBuilder struct {
	c      Context
	s      *section.Section
	lookup func(mark string) *detail.Detail

	p            *heatflow.Problem
	view         *heatflow.Problem // p as viewed, without the ground beyond
	grade        int64             // height of the soil outside, µm
	spaces       []HeatSpace
	temperatures bool
	ground       *HeatGround
	notes        []string
	idle         []string // notes of `faces` that settle nothing
	soil         []bool   // of each region of p

	space    []int32 // of each arrangement face: the space whose air it is; none
	region   []int32 // of each arrangement face: the region of p; none
	surfaces map[heatflow.Surface]int32
	names    []regionName // of each region of p
}

// regionName says what a region of the problem is of.
type regionName struct {
	mark string // of the assembly laid
	part int
}

const none32 = heatflow.None

func (b *heatBuilder) note(format string, args ...any) {
	n := fmt.Sprintf(format, args...)
	if !slices.Contains(b.notes, n) {
		b.notes = append(b.notes, n)
	}
}

func (b *heatBuilder) build() error {
	b.p = &heatflow.Problem{Points: slices.Clone(b.s.Arrangement.Points)}
	b.surfaces = map[heatflow.Surface]int32{}
	if err := b.findSpaces(); err != nil {
		return err
	}
	if err := b.findRegions(); err != nil {
		return err
	}
	b.edges()
	b.idleFaces()
	b.view = b.p
	if len(b.s.Settled) == 0 {
		return b.addGround()
	}
	return nil
}

// findSpaces lists the spaces with their temperatures and floods their air.
func (b *heatBuilder) findSpaces() error {
	a := b.s.Arrangement
	b.space = make([]int32, a.Faces())
	for f := range b.space {
		b.space[f] = none32
	}
	b.temperatures = true
	known := make([]bool, len(b.s.Spaces))
	for i := range b.s.Spaces {
		sp := &b.s.Spaces[i]
		h := HeatSpace{Name: sp.Name, Inside: sp.Inside}
		switch {
		case sp.Space.Temperature != nil:
			h.Temperature, known[i] = *sp.Space.Temperature, true
		case sp.Inside && b.c.Settings != nil:
			h.Temperature, known[i] = b.c.Settings.Inside.Temperature, true
		case !sp.Inside && b.c.Climate != nil:
			h.Temperature, known[i] = b.c.Climate.Heating, true
		}
		b.temperatures = b.temperatures && known[i]
		b.spaces = append(b.spaces, h)
		todo := slices.Clone(sp.Faces)
		for len(todo) > 0 {
			f := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			if b.space[f] == int32(i) {
				continue
			}
			if other := b.space[f]; other != none32 {
				if len(b.s.Settled) == 0 {
					return &basis.RefusedError{Method: "Heat flow", Case: fmt.Sprintf("spaces %q and %q lie in the same air", b.s.Spaces[other].Name, sp.Name), Why: "draw what parts them, or settle what each edge faces in `faces`"}
				}
				continue
			}
			b.space[f] = int32(i)
			for _, h := range a.Halves(f) {
				if g := a.FaceOf(h.Twin()); b.openAir(g) && len(b.s.FilmsOn[h.Edge()]) == 0 {
					todo = append(todo, g)
				}
			}
		}
	}
	if !b.temperatures { // only ratios hold: inside at 1, outside at 0
		for i := range b.spaces {
			b.spaces[i].Temperature = 0
			if b.spaces[i].Inside {
				b.spaces[i].Temperature = 1
			}
		}
	}
	for _, h := range b.spaces {
		b.p.Spaces = append(b.p.Spaces, heatflow.Space{Name: h.Name, Temperature: float64(h.Temperature)})
	}
	if len(b.spaces) == 0 {
		return &basis.MissingError{Method: "Heat flow", Quantity: "spaces that the section faces", Put: "`spaces`"}
	}
	return nil
}

// openAir reports whether a face is air that belongs to the room beside it: no
// part, or a hole. An air layer is a cavity of its own.
func (b *heatBuilder) openAir(f int32) bool {
	o := b.s.Owner[f]
	return o == section.Open || o >= 0 && (b.s.Regions[o].Hole || b.s.Regions[o].Material == nil)
}

// findRegions gives each arrangement face that conducts its region.
func (b *heatBuilder) findRegions() error {
	b.region = make([]int32, len(b.space))
	of := make(map[int32]int32, len(b.s.Regions))
	for f := range b.region {
		b.region[f] = none32
		o := b.s.Owner[f]
		if o < 0 || b.space[f] != none32 || b.s.Regions[o].Air() {
			continue
		}
		k, known := of[o]
		if !known {
			lambda, err := b.conductivity(&b.s.Regions[o])
			if err != nil {
				return fmt.Errorf("%q: %w", b.s.Regions[o].Name, err)
			}
			k = b.addRegion(lambda, &b.s.Regions[o])
			of[o] = k
		}
		b.region[f] = k
	}
	b.cavities()
	return nil
}

func (b *heatBuilder) addRegion(lambda float64, r *section.Region) int32 {
	b.p.Regions = append(b.p.Regions, heatflow.Region{Conductivity: lambda})
	name := regionName{part: -1}
	soil := false
	if r != nil {
		name, soil = regionName{r.Mark, r.Part}, r.Soil()
	}
	b.names, b.soil = append(b.names, name), append(b.soil, soil)
	return int32(len(b.p.Regions) - 1)
}

// conductivity of a region, W/(m·K). A framed layer is drawn between its
// members and solved with both, as one that conducts alike throughout (ISO
// 10211:2017, quasi-homogeneous layers): wood by its share, steel studs by the
// effective resistance of ASHRAE 90.1.
func (b *heatBuilder) conductivity(r *section.Region) (float64, error) {
	if l := r.LayerOf; l != nil {
		t, _, err := thermalLayer(b.set(), b.direction(r.Mark), l)
		if err != nil {
			return 0, err
		}
		lambda := float64(t.Conductivity)
		if t.Given && t.Resistance > 0 {
			lambda = float64(l.Total()) / float64(t.Resistance)
		}
		switch f := t.Framing; {
		case t.Studs != nil:
			s, err := thermal.SteelStuds(*t.Studs, units.ThermalResistance(float64(l.Total())/lambda))
			if err != nil {
				b.note("%s: drawn and solved between its metal studs, without them: %s", r.Name, reason(err))
				break
			}
			b.note("%s: solved with its steel studs, %.0f %% of the resistance between them (ASHRAE 90.1, table A9.2-1)", r.Name, 100*float64(s.Factor))
			lambda = float64(l.Total()) / float64(s.Effective)
		case f != nil && f.Metal:
			b.note("%s: drawn and solved between its metal members, without them: no method counts these", r.Name)
		case f != nil && f.Fraction > 0:
			b.note("%s: solved with its framing, %.0f %% of its width", r.Name, 100*float64(f.Fraction))
			lambda += float64(f.Fraction) * (float64(f.Conductivity) - lambda)
		}
		if lambda > 0 {
			return lambda, nil
		}
	}
	m := r.Material
	switch {
	case m.Conductivity > 0:
		return float64(m.Conductivity), nil
	case m.Resistance > 0: // a sheet: across its lesser extent
		box := r.Ring.Bounds()
		return float64(min(box.Width(), box.Height())) * 1e-6 / float64(m.Resistance), nil
	}
	return 0, &basis.MissingError{Method: "Heat flow", Quantity: fmt.Sprintf("conductivity of %q", m.Name), Put: "materials.yaml"}
}

func (b *heatBuilder) set() detail.SurfaceSet {
	if b.c.Settings != nil {
		return b.c.Settings.Surfaces
	}
	return detail.SurfacesISO6946
}

// direction of the heat flow through an assembly laid.
func (b *heatBuilder) direction(mark string) material.Direction {
	if b.lookup != nil && mark != "" {
		if d := b.lookup(mark); d != nil && d.Assembly != nil {
			return Direction(d.Assembly)
		}
	}
	return material.Horizontal
}

// edges lays the edges between regions, and those that face a space.
func (b *heatBuilder) edges() {
	a := b.s.Arrangement
	for e := range a.Edges {
		h := geometry.Half(2 * e)
		l, r := a.FaceOf(h), a.FaceOf(h.Twin())
		edge := heatflow.Edge{A: a.From(h), B: a.To(h), Left: b.region[l], Right: b.region[r], Surface: none32, Film: none32}
		films := b.s.FilmsOn[int32(e)]
		if edge.Left == edge.Right && (edge.Left == none32 || len(films) == 0) {
			continue
		}
		edge.Film = b.film(films)
		if (edge.Left == none32) == (edge.Right == none32) {
			b.p.Edges = append(b.p.Edges, edge)
			continue
		}
		void := l
		if edge.Left != none32 {
			void = r
		}
		for _, part := range b.split(edge) {
			part.Surface = b.surface(part, b.space[void], b.s.Owner[void])
			b.p.Edges = append(b.p.Edges, part)
		}
	}
}

// film returns the film that stands for all on an edge, or none.
func (b *heatBuilder) film(on []section.FilmEdge) int32 {
	resistance, conductance := 0.0, 0.0
	for _, f := range on {
		film := &b.s.Films[f.Film]
		if film.Material == nil || film.Thickness <= 0 {
			continue
		}
		if r := float64(film.Material.Resistance); r > 0 {
			resistance += r
			conductance += float64(film.Thickness) * float64(film.Thickness) / r
		} else if k := float64(film.Material.Conductivity); k > 0 {
			resistance += float64(film.Thickness) / k
			conductance += float64(film.Thickness) * k
		}
	}
	if resistance == 0 {
		return none32
	}
	f := heatflow.Film{Thickness: math.Sqrt(resistance * conductance), Conductivity: math.Sqrt(conductance / resistance)}
	for i, g := range b.p.Films {
		if g == f {
			return int32(i)
		}
	}
	b.p.Films = append(b.p.Films, f)
	return int32(len(b.p.Films) - 1)
}
