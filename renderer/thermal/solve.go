package thermal

import (
	"errors"
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Figure is one resistance, or the reason why it is not computed.
type Figure struct {
	Value    units.ThermalResistance
	Computed bool
	Why      string // where not computed
}

// Result is an element's steady heat flow.
type Result struct {
	Layers []LayerResult

	// Upper, Lower and Combined are ISO 6946's limits and their mean;
	// ParallelPath and IsothermalPlanes ASHRAE's. Air to air, uncorrected.
	Upper, Lower, Combined, ParallelPath, IsothermalPlanes Figure

	Method     Method // of the headline
	Resistance Figure // the headline's, uncorrected, air to air
	// Uncorrected is 1/Resistance; Transmittance adds the corrections. Zero
	// where Resistance is not computed.
	Uncorrected, Transmittance units.ThermalTransmittance
	Corrections                Corrections

	// Spread is half the distance between the limits over their mean: ISO
	// 6946's maximum relative error, and the difference between each ASHRAE
	// method and the combined figure.
	Spread        units.Ratio
	FamiliesApart bool // Spread is over 5 %

	// Insulation is the resistance clear of all framing.
	Insulation units.ThermalResistance
	Sections   []Section // the ways through the element; one where nothing is framed
	Studs      []StudLayer

	NotComputed []basis.NotComputed
	Notes       []string // what a page says beside the figure

	core core
	s    *Stack
}

// LayerResult is one layer's share.
type LayerResult struct {
	Name, Material string
	Thickness      units.Length
	Conductivity   units.Conductivity // 0 where its resistance is given
	// Resistance is the layer's own, clear of framing; with steel studs the
	// effective one; at the thin end where tapered.
	Resistance units.ThermalResistance
	Framing    units.ThermalResistance // of the framing member; 0: none
	Fraction   units.Ratio             // of framing
	Equivalent units.ThermalResistance // of both side by side
	LeftOut    bool                    // lies at or outside a well-ventilated air layer
}

// core is a stack as the formulas see it, in m²·K/W.
type core struct {
	paths                      []path
	inside, outside, sheltered float64
}

// end is the number of layers up to a well-ventilated air layer.
func (c *core) end() int {
	for i, p := range c.paths {
		if p.vent == 1 {
			return i
		}
	}
	return len(c.paths)
}

// Solve returns an element's resistance and transmittance by both families of
// methods.
//
// Methods: ISO 6946:2017, 6.7 (limits and their mean), 6.9 (air layers),
// Annexes E and F; ASHRAE Handbook-Fundamentals, parallel path and isothermal
// planes; ASHRAE 90.1, Table A9.2-1 (steel studs).
// Framed layers are taken as crossing each other independently.
// Errors: *[units.RangeError], *[basis.MissingError] or *[basis.RefusedError]
// where no figure at all can be given. A method that does not cover the stack
// while others do is a Figure with the reason.
func Solve(s *Stack) (*Result, error) {
	r := &Result{s: s, Layers: make([]LayerResult, len(s.Layers))}
	c := &r.core
	if err := c.films(s); err != nil {
		return nil, err
	}
	c.paths = make([]path, len(s.Layers))
	framed, metal := 0, ""
	for i := range s.Layers {
		l := &s.Layers[i]
		p, err := resolve(l)
		if err != nil {
			return nil, err
		}
		if p.studs {
			stud, err := SteelStuds(*l.Studs, units.ThermalResistance(p.insulation))
			if err != nil {
				return nil, fmt.Errorf("%q: %w", l.Name, err)
			}
			p.insulation = float64(stud.Effective)
			r.Studs = append(r.Studs, stud)
			if stud.Note != "" {
				r.Notes = append(r.Notes, fmt.Sprintf("%s: %s", l.Name, stud.Note))
			}
		}
		if p.fraction > 0 {
			framed++
			if p.metal && metal == "" {
				metal = l.Name
			}
		}
		c.paths[i] = p
	}
	if framed > mostFramedLayers {
		return nil, &units.RangeError{Quantity: "framed layers", Value: float64(framed), Limit: mostFramedLayers, Says: "are too many to combine"}
	}
	end := c.end()
	for i := range s.Layers {
		l, p := &s.Layers[i], c.paths[i]
		r.Layers[i] = LayerResult{
			Name: l.Name, Material: l.Material, Thickness: l.Thickness,
			Resistance: units.ThermalResistance(p.insulation), Framing: units.ThermalResistance(p.framing),
			Fraction: units.Ratio(p.fraction), Equivalent: units.ThermalResistance(p.across()), LeftOut: i >= end,
		}
		if !l.Given {
			r.Layers[i].Conductivity = l.Conductivity
		}
	}
	shape, added, err := taper(s.Layers[:end])
	if err != nil {
		return nil, err
	}
	films := c.inside + c.outside
	if end < len(c.paths) {
		films = c.inside + c.sheltered
	}
	r.Sections = sections(c.paths[:end], films)
	r.Insulation = units.ThermalResistance(c.overVentilation(through))
	if err := r.combine(metal, shape, added); err != nil {
		return nil, err
	}
	return r, r.headline()
}

// films checks the surface resistances.
func (c *core) films(s *Stack) error {
	c.inside, c.outside, c.sheltered = float64(s.SurfaceInside), float64(s.SurfaceOutside), float64(s.SurfaceSheltered)
	if s.OnGround {
		c.outside = 0
	}
	if c.sheltered == 0 {
		c.sheltered = c.inside
	}
	for _, f := range []struct {
		name string
		r    float64
	}{{"inside surface resistance", c.inside}, {"outside surface resistance", c.outside}, {"sheltered surface resistance", c.sheltered}} {
		if !(f.r >= 0) || math.IsInf(f.r, 1) {
			return &units.RangeError{Quantity: f.name, Value: f.r, Unit: "m²·K/W", Says: "must be finite and not negative"}
		}
	}
	return nil
}

// combine works out the limits and the methods, or says why not.
func (r *Result) combine(metal string, shape TaperShape, added float64) error {
	c := &r.core
	if metal != "" {
		why := fmt.Sprintf("%q is metal framing, which neither limits nor parallel paths nor isothermal planes cover; give it as steel studs (depth and spacing) or work it out in two dimensions", metal)
		for _, f := range []*Figure{&r.Upper, &r.Lower, &r.Combined, &r.ParallelPath, &r.IsothermalPlanes} {
			f.Why = why
		}
		return nil
	}
	up, low := c.overVentilation(upper), c.overVentilation(lower)
	if !(up > 0) || !(low > 0) {
		return &units.RangeError{Quantity: "total resistance", Value: low, Unit: "m²·K/W", Says: "must be above zero"}
	}
	combined := (up + low) / 2
	for _, f := range []struct {
		to *Figure
		r  float64
	}{{&r.Upper, up}, {&r.Lower, low}, {&r.Combined, combined}, {&r.ParallelPath, up}, {&r.IsothermalPlanes, low}} {
		v := units.ThermalResistance(f.r)
		if shape != noTaper && !math.IsInf(f.r, 1) {
			u, err := TaperedTransmittance(shape, v, units.ThermalResistance(added))
			if err != nil {
				return err
			}
			v = units.ThermalResistance(1 / float64(u))
		}
		*f.to = Figure{Value: v, Computed: true}
	}
	if up != low {
		r.Spread = units.Ratio((up - low) / (up + low))
		r.FamiliesApart = r.Spread > familiesDiffer
	}
	if r.FamiliesApart {
		r.Notes = append(r.Notes, fmt.Sprintf("ISO 6946 and the ASHRAE methods differ by %.1f %%: the true figure lies between parallel path and isothermal planes", 100*float64(r.Spread)))
	}
	if up > greatestRatio*low {
		r.Combined = Figure{Why: fmt.Sprintf("ISO 6946:2017 6.7.2 is not valid where the upper limit is more than 1.5 times the lower; here it is %.2f times", up/low)}
	}
	if len(r.Studs) > 0 {
		why := "ISO 6946:2017 6.7.2 does not cover insulation bridged by metal; the ASHRAE 90.1 correction factors are used"
		r.Upper, r.Lower, r.Combined = Figure{Why: why}, Figure{Why: why}, Figure{Why: why}
	}
	return nil
}

// headline chooses the resistance that is printed large and corrects its
// transmittance.
func (r *Result) headline() error {
	r.Method = r.s.Headline
	if r.Method == "" {
		r.Method = CombinedLimits
	}
	switch {
	case len(r.Studs) > 0 && r.Method == IsothermalPlanes:
		r.Method, r.Resistance = StudFactors, r.IsothermalPlanes
	case len(r.Studs) > 0:
		r.Method, r.Resistance = StudFactors, r.ParallelPath
	case r.Method == CombinedLimits:
		r.Resistance = r.Combined
	case r.Method == ParallelPath:
		r.Resistance = r.ParallelPath
	case r.Method == IsothermalPlanes:
		r.Resistance = r.IsothermalPlanes
	default:
		return &units.RangeError{Quantity: fmt.Sprintf("headline %q", r.Method), Says: "must be parallel path, combined limits or isothermal planes"}
	}
	for _, f := range []struct {
		key string
		f   Figure
	}{
		{"resistance_m2K_W", r.Resistance}, {"transmittance_W_m2K", r.Resistance}, {"upper_m2K_W", r.Upper}, {"lower_m2K_W", r.Lower},
		{"parallel_path_m2K_W", r.ParallelPath}, {"isothermal_planes_m2K_W", r.IsothermalPlanes},
	} {
		if !f.f.Computed {
			r.NotComputed = append(r.NotComputed, basis.NotComputed{Key: f.key, Why: f.f.Why})
		}
	}
	if !r.Resistance.Computed {
		return nil
	}
	r.Uncorrected = units.ThermalTransmittance(1 / float64(r.Resistance.Value))
	var err error
	r.Corrections, err = r.core.correct(r.s, r.Resistance.Value)
	var refused *basis.RefusedError
	if errors.As(err, &refused) {
		r.NotComputed = append(r.NotComputed, basis.NotComputed{Key: "transmittance_W_m2K", Why: err.Error()})
		return nil
	}
	r.Transmittance = r.Uncorrected + r.Corrections.Total
	return err
}
