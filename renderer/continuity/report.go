package continuity

import (
	"wythe/renderer/detail"
	"wythe/renderer/geometry"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

// Verdict on one control.
type Verdict string

// Verdicts, worst first. NotTraced is none of them: its Reason says what is
// missing.
const (
	Broken     Verdict = "broken"
	Unsealed   Verdict = "unsealed"
	Thin       Verdict = "thin"
	Continuous Verdict = "continuous"
	NotTraced  Verdict = "not traced"
)

// Options of Check.
type Options struct {
	ThermalLeast units.Length // the library's least thickness of a thermal touch; 0: 1 in
}

// ThermalLeast is the least thickness where neither junction nor library says
// otherwise: 1 in.
const ThermalLeast units.Length = 0.0254

func (o Options) lap() units.Length { return LapLeast }

func (o Options) thermalLeast(j *detail.Junction) units.Length {
	switch {
	case j.ThermalLeast > 0:
		return j.ThermalLeast
	case o.ThermalLeast > 0:
		return o.ThermalLeast
	}
	return ThermalLeast
}

// Report is what is found of one control.
type Report struct {
	Control detail.Control
	Verdict Verdict
	Reason  string // why it cannot be traced, or why no gap is named
	// Chain names the parts that carry it, from cut to cut (or round), as one
	// walks with the inside on the right. Gaps stand in it where they lie.
	Chain []string
	Gaps  []Gap
	Leaks []Leak
	// Path runs from inside to outside and avoids the control: the evidence.
	Path []geometry.Point
	// Lines follow the carriers on their inner face, for the drawing.
	Lines []Line
	// Ends is where the control is declared to stop, for print beside the verdict.
	Ends  []section.End
	Exits []Exit
	Notes []string // what a reader must know beside the verdict
}

// Gap is one place where a chain is not whole.
type Gap struct {
	Between [2]string
	At      geometry.Point
	Ends    [2]geometry.Point
	Width   units.Length // 0 where the two touch; for Thin, the thickness there
	Touch   bool         // they touch and are not joined
	Through []string     // what stands in the gap
	Mend    string       // what would close it
	Fault   string       // what was tried and does not hold: a short lap
}

// Leak names two spaces that the control should part and does not.
type Leak struct{ From, To string }

// Line is a run of one carrier.
type Line struct {
	Name   string
	Points []geometry.Point
	Gap    bool // drawn in where the chain is broken
}
