package thermal

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// LayerResistance returns R = d/λ, in m²·K/W, of one homogeneous layer that
// heat crosses along its thickness d (m). lambda is the design thermal
// conductivity, in W/(m·K).
//
// Method: ISO 6946:2017, 6.7.1.1 (clause from memory).
// Valid for solid layers; air layers come with their resistance.
// Errors: *[units.RangeError] if d < 0, lambda ≤ 0, or either is not finite.
// A zero d is a layer of no resistance, not an error.
func LayerResistance(d units.Length, lambda units.Conductivity) (units.ThermalResistance, error) {
	if err := basis.NotNegative("thickness", float64(d), "m"); err != nil {
		return 0, err
	}
	if err := basis.Finite("thickness", float64(d), "m"); err != nil {
		return 0, err
	}
	if err := basis.Positive("conductivity", float64(lambda), "W/(m·K)"); err != nil {
		return 0, err
	}
	return units.ThermalResistance(float64(d) / float64(lambda)), nil
}

// path is one layer as its two paths see it, in m²·K/W.
type path struct {
	insulation, framing float64
	fraction            float64 // of framing; 0: one path
	studs               bool    // insulation is the effective resistance of a steel-stud layer
	metal               bool    // metal framing without a method
	vent                float64 // weight of the well-ventilated state, 0 to 1
}

// across is the layer's resistance with its paths side by side.
func (p path) across() float64 {
	if p.fraction == 0 {
		return p.insulation
	}
	return 1 / ((1-p.fraction)/p.insulation + p.fraction/p.framing)
}

// resolve checks a layer and works out its paths.
func resolve(l *Layer) (path, error) {
	var p path
	named := func(what string) string { return fmt.Sprintf("%s of %q", what, l.Name) }
	if !(l.Thickness >= 0) || math.IsInf(float64(l.Thickness), 1) {
		return p, &units.RangeError{Quantity: named("thickness"), Value: float64(l.Thickness), Unit: "m", Says: "must be finite and not negative"}
	}
	if l.Given {
		if !(l.Resistance >= 0) {
			return p, &units.RangeError{Quantity: named("resistance"), Value: float64(l.Resistance), Unit: "m²·K/W", Says: "must not be negative"}
		}
		p.insulation = float64(l.Resistance)
	} else {
		r, err := LayerResistance(l.Thickness, l.Conductivity)
		if err != nil {
			return p, basis.Positive(named("conductivity"), float64(l.Conductivity), "W/(m·K)")
		}
		p.insulation = float64(r)
	}
	if f := l.Framing; f != nil && l.Studs == nil {
		if err := basis.Within("framing fraction", float64(f.Fraction), 0, 1, ""); err != nil {
			return p, fmt.Errorf("%q: %w", l.Name, err)
		}
		if err := basis.Positive("framing conductivity", float64(f.Conductivity), "W/(m·K)"); err != nil {
			return p, fmt.Errorf("%q: %w", l.Name, err)
		}
		if l.Thickness == 0 && p.insulation > 0 && f.Fraction > 0 {
			return p, basis.Positive(named("thickness"), 0, "m")
		}
		p.fraction = float64(f.Fraction)
		p.framing = float64(l.Thickness) / float64(f.Conductivity)
		p.metal = p.fraction > 0 && (f.Metal || f.Conductivity >= metalAbove)
		if p.fraction == 1 {
			p.insulation, p.fraction, p.metal = p.framing, 0, false
		}
	}
	if l.Studs != nil {
		p.studs = true
	}
	if l.Taper != nil && (p.fraction > 0 || p.studs) {
		return p, &basis.RefusedError{Method: annexE, Case: fmt.Sprintf("%q is tapered and framed", l.Name), Why: "tapered layers are plain"}
	}
	var err error
	p.vent, err = ventilated(l)
	return p, err
}

// upper returns the upper limit: the sections side by side from air to air,
// framed layers taken as crossing each other independently.
//
// Method: ISO 6946:2017, 6.7.2.3; the same figure as ASHRAE's parallel path.
func upper(paths []path, films float64) float64 {
	plain := films
	var buf [mostFramedLayers]path
	framed := buf[:0]
	for _, p := range paths {
		if p.fraction > 0 {
			framed = append(framed, p)
		} else {
			plain += p.insulation
		}
	}
	if len(framed) == 0 {
		return plain
	}
	return 1 / conductance(framed, plain)
}

// conductance sums the fraction over the resistance of every section of the
// framed layers, each with r in series.
func conductance(framed []path, r float64) float64 {
	if len(framed) == 0 {
		return 1 / r
	}
	p, rest := framed[0], framed[1:]
	return (1-p.fraction)*conductance(rest, r+p.insulation) + p.fraction*conductance(rest, r+p.framing)
}

// lower returns the lower limit: each layer's paths side by side, the layers
// in series.
//
// Method: ISO 6946:2017, 6.7.2.4; the same figure as ASHRAE's isothermal planes.
func lower(paths []path, films float64) float64 {
	r := films
	for _, p := range paths {
		r += p.across()
	}
	return r
}

// through returns the resistance along the insulation path, "ignoring any
// thermal bridging".
func through(paths []path, films float64) float64 {
	r := films
	for _, p := range paths {
		r += p.insulation
	}
	return r
}

// Section is one way through the element from air to air.
type Section struct {
	Framed     []int       // indexes of the layers crossed at their framing
	Fraction   units.Ratio // of the area
	Resistance units.ThermalResistance
}

// sections lists every section, the one clear of framing first.
func sections(paths []path, films float64) []Section {
	var at []int
	for i, p := range paths {
		if p.fraction > 0 {
			at = append(at, i)
		}
	}
	out := make([]Section, 0, 1<<len(at))
	for mask := 0; mask < 1<<len(at); mask++ {
		s := Section{Fraction: 1}
		r := through(paths, films)
		for bit, i := range at {
			p := paths[i]
			if mask&(1<<bit) != 0 {
				s.Framed = append(s.Framed, i)
				s.Fraction *= units.Ratio(p.fraction)
				r += p.framing - p.insulation
			} else {
				s.Fraction *= units.Ratio(1 - p.fraction)
			}
		}
		s.Resistance = units.ThermalResistance(r)
		out = append(out, s)
	}
	return out
}
