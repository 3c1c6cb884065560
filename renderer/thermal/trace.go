package thermal

import (
	"fmt"

	"wythe/renderer/basis"
)

// methods says of each headline where it comes from and what it does.
var methods = map[Method]basis.Method{
	ParallelPath:     {Name: "ASHRAE parallel path", Clause: "Handbook-Fundamentals ch. 27", Says: "Heat crosses each section from air to air on its own; the sections are weighed by area. Equal to the upper limit of ISO 6946."},
	CombinedLimits:   {Name: "ISO 6946:2017", Clause: "6.7.2", Says: "Mean of the upper limit (sections side by side) and the lower limit (layers in series)."},
	IsothermalPlanes: {Name: "ASHRAE isothermal planes", Clause: "Handbook-Fundamentals ch. 27", Says: "Each layer is at one temperature across; its paths are weighed by area. Equal to the lower limit of ISO 6946."},
	StudFactors:      {Name: "ASHRAE 90.1", Clause: "Table A9.2-1", Says: "The insulation between steel studs counts a tabulated share of its R."},
}

// Trace says what the headline figure rests on.
func (r *Result) Trace() basis.Trace {
	t := basis.Trace{Method: methods[r.Method]}
	input := func(name string, format string, args ...any) {
		t.Inputs = append(t.Inputs, basis.Input{Name: name, Value: fmt.Sprintf(format, args...)})
	}
	end := r.core.end()
	input("inside surface", "%.3f m²·K/W", r.core.inside)
	for i, l := range r.Layers[:end] {
		switch {
		case r.core.paths[i].studs:
			input(l.Name, "%.3f m²·K/W with its steel studs", float64(l.Resistance))
		case l.Fraction > 0:
			input(l.Name, "%.3f m²·K/W, and %.3f m²·K/W over %.1f %% of the area", float64(l.Resistance), float64(l.Framing), 100*float64(l.Fraction))
		case l.Conductivity > 0:
			input(l.Name, "%.4g m at %.4g W/(m·K): %.3f m²·K/W", float64(l.Thickness), float64(l.Conductivity), float64(l.Resistance))
		default:
			input(l.Name, "%.3f m²·K/W", float64(l.Resistance))
		}
	}
	switch {
	case end < len(r.Layers):
		input("sheltered surface", "%.3f m²·K/W", r.core.sheltered)
		t.Limits = append(t.Limits, fmt.Sprintf("%s is well ventilated: it and all outside it count nothing.", r.Layers[end].Name))
	case r.s.OnGround:
		t.Limits = append(t.Limits, "The outside face lies on the ground: no outside film, and the ground's own resistance is not in this figure.")
	default:
		input("outside surface", "%.3f m²·K/W", r.core.outside)
	}
	framed := 0
	for _, p := range r.core.paths[:end] {
		if p.fraction > 0 {
			framed++
		}
	}
	if framed > 1 {
		t.Limits = append(t.Limits, "Framed layers are taken as crossing each other independently.")
	}
	if len(r.Studs) > 0 {
		t.Limits = append(t.Limits, "Studs of 33 to 54 mil; girts, brackets and stacked tracks are not covered.")
	}
	t.Limits = append(t.Limits, r.Notes...)
	t.Limits = append(t.Limits, "Steady heat flow; no air leaks through or around the layers.")
	return t
}
