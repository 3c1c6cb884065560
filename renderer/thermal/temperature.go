package thermal

import (
	"math"

	"wythe/renderer/units"
)

// Temperatures are those at the faces of the layers along one path.
type Temperatures struct {
	Path            string // how framed layers are taken, in the page's words
	Inside, Outside units.Temperature
	// Faces holds the inside face of each layer, then the outside face of the
	// last: one more than there are layers.
	Faces      []units.Temperature
	FluxWPerM2 float64 // heat flow outward, W/m²
}

// The paths of Temperatures.
const (
	InsulationPath = "through the insulation, clear of framing"
	EquivalentPath = "through each layer's mean of insulation and framing (isothermal planes)"
)

// Temperatures returns the temperature at every face for given air
// temperatures, along the insulation path and along the isothermal planes.
// With plain layers the two agree. Outside a well-ventilated air layer, the
// outdoor temperature holds; a slightly ventilated one is taken as
// unventilated, a tapered layer at its thin end. With steel studs the
// effective resistance stands for the layer on both paths.
//
// Method: resistances in series (ISO 13788:2012, 4.3.1 from memory).
func (r *Result) Temperatures(inside, outside units.Temperature) (insulation, equivalent Temperatures) {
	insulation = r.core.temperatures(inside, outside, path.insulated)
	insulation.Path = InsulationPath
	equivalent = r.core.temperatures(inside, outside, path.across)
	equivalent.Path = EquivalentPath
	return insulation, equivalent
}

func (p path) insulated() float64 { return p.insulation }

func (c *core) temperatures(inside, outside units.Temperature, of func(path) float64) Temperatures {
	end := c.end()
	last := c.outside
	if end < len(c.paths) {
		last = c.sheltered
	}
	// Across a layer of infinite resistance all the difference falls: such
	// layers count 1 and all others 0.
	infinite := false
	for _, p := range c.paths[:end] {
		infinite = infinite || math.IsInf(of(p), 1)
	}
	weigh := func(v float64) float64 {
		if !infinite {
			return v
		}
		if math.IsInf(v, 1) {
			return 1
		}
		return 0
	}
	total := weigh(c.inside) + weigh(last)
	for _, p := range c.paths[:end] {
		total += weigh(of(p))
	}
	t := Temperatures{Inside: inside, Outside: outside, Faces: make([]units.Temperature, len(c.paths)+1)}
	drop := float64(inside - outside)
	if !infinite {
		t.FluxWPerM2 = drop / total
	}
	sum := weigh(c.inside)
	for i := range t.Faces {
		if i > end {
			t.Faces[i] = outside
			continue
		}
		t.Faces[i] = inside - units.Temperature(drop*sum/total)
		if i < end {
			sum += weigh(of(c.paths[i]))
		}
	}
	return t
}
