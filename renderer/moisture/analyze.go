package moisture

import (
	"fmt"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Result is all that a page shows of an element's moisture.
type Result struct {
	Year *Year

	Required *Factor // lowest temperature factor against mold, [CriticalMould]
	Dew      *Factor // the same against condensation on the surface
	// FRsi is the element's own temperature factor, with [SurfaceMould].
	FRsi          float64
	Surface       [12]SurfaceMonth
	SurfaceBelow  bool  // surface humidity is below 80 % in every month
	SurfaceMonths []int // months, from 0, in which it is not

	Condensation *Condensation
	Snapshot     *Snapshot // of January
	Coldest      *Snapshot // of the coldest month
	Retarders    []Retarder
	Faces        []Face
	Reserve      *Reserve // nil where the section has no plane within
	Hold         *Hold    // nil where there is no wood

	// Verdict is the one line: what was computed, never more. Verdicts says
	// the same question by question.
	Verdict  string
	Verdicts []string

	section *Section
	inside  Inside
	total   float64
}

// Options are what a library may ask for.
type Options struct {
	// SurfaceMould replaces the inside surface resistance of the mould check;
	// zero: 0.25 m²·K/W.
	SurfaceMould units.ThermalResistance
	ThirdClass   bool // list class III retarders too
}

// Analyze works out all of an element's moisture figures for a year. inside is
// what the year was made from, for the trace.
//
// Methods: ISO 13788:2012, clauses 4 to 6. Errors: *[units.RangeError],
// *[basis.MissingError].
func Analyze(s *Section, y *Year, inside Inside, o Options) (*Result, error) {
	g, err := newGlaser(s, y)
	if err != nil {
		return nil, err
	}
	r := &Result{Year: y, section: s, inside: inside, total: g.total}
	if r.Required, err = RequiredFactor(y, CriticalMould); err != nil {
		return nil, err
	}
	if r.Dew, err = RequiredFactor(y, 1); err != nil {
		return nil, err
	}
	if o.SurfaceMould == 0 {
		o.SurfaceMould = SurfaceMould
	}
	face := units.ThermalResistance(g.nodes[len(g.nodes)-1].r - g.rse)
	if r.FRsi, err = TemperatureFactor(face, o.SurfaceMould, units.ThermalResistance(g.rse)); err != nil {
		return nil, err
	}
	if r.Surface, err = SurfaceMonths(y, r.FRsi); err != nil {
		return nil, err
	}
	for m, v := range r.Surface {
		if v.Humidity >= CriticalMould {
			r.SurfaceMonths = append(r.SurfaceMonths, m)
		}
	}
	r.SurfaceBelow = len(r.SurfaceMonths) == 0
	r.Condensation = g.condense()
	r.Snapshot = g.snapshot(0)
	r.Coldest = r.Snapshot
	if c := y.coldest(); c != 0 {
		r.Coldest = g.snapshot(c)
	}
	if r.Retarders, err = g.retarders(o.ThirdClass); err != nil {
		return nil, err
	}
	r.Faces = g.concealed()
	r.Reserve = g.reserve(r.Condensation)
	r.Hold = WoodHold(s)
	r.say()
	return r, nil
}

// say writes the verdicts.
func (r *Result) say() {
	c := r.Condensation
	switch {
	case c.StartMonth < 0:
		r.Verdict = "No condensation between the layers is computed in any month, under these conditions."
	case c.DryAtEnd:
		r.Verdict = fmt.Sprintf("Condensation is computed between the layers, at most %.0f g/m² in %s; it dries within the year, under these conditions.", 1000*float64(c.Greatest), MonthNames[c.GreatestMonth])
	default:
		r.Verdict = fmt.Sprintf("Condensation is computed between the layers, at most %.0f g/m² in %s; %.0f g/m² is left at the end of the year, under these conditions.", 1000*float64(c.Greatest), MonthNames[c.GreatestMonth], 1000*float64(c.Left))
	}
	r.Verdicts = append(r.Verdicts, r.Verdict)
	if r.SurfaceBelow {
		r.Verdicts = append(r.Verdicts, "Surface humidity is computed below 80 % in every month, under these conditions.")
	} else {
		r.Verdicts = append(r.Verdicts, fmt.Sprintf("Surface humidity is computed at 80 %% or above in %s, under these conditions.", monthList(r.SurfaceMonths)))
	}
	if len(c.SurfaceWet) > 0 {
		r.Verdicts = append(r.Verdicts, fmt.Sprintf("Room air condenses on the inside face in %s, under these conditions.", monthList(c.SurfaceWet)))
	}
	for _, f := range r.Faces {
		air := "room air"
		if !f.FromInside {
			air = "outside air"
		}
		place := fmt.Sprintf("the face between %s and %s", f.Inner, f.Outer)
		if len(f.Below) > 0 {
			r.Verdicts = append(r.Verdicts, fmt.Sprintf("If %s leaks to %s, it meets a face below its dew point in %s.", air, place, monthList(f.Below)))
		} else {
			r.Verdicts = append(r.Verdicts, fmt.Sprintf("If %s leaks to %s, it meets no temperature below its dew point in any month (least margin %.1f K, in %s).", air, place, f.MarginK, MonthNames[f.Worst]))
		}
	}
	for _, v := range r.Retarders {
		if !v.Suits {
			r.Verdicts = append(r.Verdicts, fmt.Sprintf("The place of the class %s retarder %s does not suit: %s.", v.Class, v.Layer, v.Stands(func(t units.Temperature) string { return celsius(float64(t)) })))
		}
	}
}

// Limits are what the figures leave out, in the page's words.
var Limits = []string{
	"Diffusion alone: no storage in the materials, no rain, no capillary flow, no air leakage.",
	"Monthly means of the climate stated; the element begins dry.",
}

// Trace says what the figures rest on.
func (r *Result) Trace() basis.Trace {
	t := basis.Trace{Method: basis.Method{Name: "ISO 13788:2012", Clause: "4 to 6", Says: "Vapor pressure from side to side by sd, kept at or below saturation; what arrives over what leaves condenses, month by month."}}
	input := func(name, format string, args ...any) {
		t.Inputs = append(t.Inputs, basis.Input{Name: name, Value: fmt.Sprintf(format, args...)})
	}
	input("inside", "%s", celsius(float64(r.inside.Temperature)))
	if r.inside.Class != 0 {
		if r.inside.Margin != 0 {
			input("moisture class", "%d with a margin of %.0f %%", r.inside.Class, 100*float64(r.inside.Margin))
		} else {
			input("moisture class", "%d without margin", r.inside.Class)
		}
	} else {
		input("inside humidity", "%.0f %%", 100*float64(r.inside.Humidity))
	}
	input("inside surface", "%.2f m²·K/W; %.2f for the mold check", float64(r.section.SurfaceInside), float64(SurfaceMould))
	for _, l := range r.section.Layers {
		if l.Ventilated {
			t.Limits = append(t.Limits, fmt.Sprintf("%s is ventilated: it and all outside it are left out.", l.Name))
			break
		}
		input(l.Name, "%.3f m²·K/W, sd %.3g m", float64(l.Resistance), float64(l.Sd))
	}
	t.Limits = append(t.Limits, Limits...)
	if r.Condensation.VaporTight {
		t.Limits = append(t.Limits, "A vapor-tight layer is taken as sd 1,000 km.")
	}
	if len(r.Year.Saturated) > 0 {
		t.Limits = append(t.Limits, fmt.Sprintf("Room air is cut back to saturation in %s.", monthList(r.Year.Saturated)))
	}
	return t
}
