package drawing

import (
	"math"

	"wythe/renderer/units"
)

// Stack is a layered construction to be drawn as a section: its layers lie
// level, one on another, at true scale.
type Stack struct {
	Mark, Title string
	ViewName    string  // "SECTION" or "PLAN SECTION"
	Scale       float64 // 1 to Scale; 0: the largest standard scale that fits
	System      units.System

	Layers    []StackLayer // from inside to outside
	Beyond    *StackLayer  // what the outside lies on or against, of no stated depth: subgrade, backfill
	InsideTop bool         // inside is drawn on top: floors

	InsideLabel, OutsideLabel string // "INSIDE", "GROUND"; "" none

	Temperatures *Profile // nil: no temperature strip

	NotForConstruction bool
	StatusWords        string // printed beside the scale: "FOR REVIEW"; "" none
	UseFor, NotFor     []string

	Rev string // whose delta stands by layers that changed

	Dress Dress
	// Listed says that the keynotes' words stand in a schedule beside: they are
	// not listed under the section too.
	Listed bool
	Keyed  bool    // callouts are bubbles alone
	After  int     // StepPicture only: what stands after this step
	Width  float64 // mm of paper; 0: that of the dress. Wide is never narrower than 180, Phone than 84
}

// StackLayer is one layer of a stack.
type StackLayer struct {
	Part      string // its name, for tags
	Hatch     string // hatch word
	Thickness units.Length
	Courses   int  // 0 and 1 are one; Thickness is that of one
	Film      bool // a line that takes no room; Thickness is only told
	Framing   *StackFraming

	Key      int    // keynote number
	Head     string // "Concrete slab"; set in capitals, with the thickness
	Notes    []string
	Controls string // letters of A, V, W, T
	Href     string // of the layer in the schedule beside; "" none
	Step     int    // the first step after which it stands; 0 from the start
	Changed  bool   // since the revision before: see [Stack.Rev]
}

// StackFraming is members across a layer, cut.
type StackFraming struct {
	Hatch          string
	Width, Spacing units.Length // of one member; center to center. Either 0: not drawn
	Fraction       units.Ratio
	// Step is the first step after which the members stand bare, before their
	// layer does; 0: none is stated. Members stand at the latest when the
	// layers on both their sides do, which nothing else holds apart.
	Step int
}

// Profile is the temperatures through a stack.
type Profile struct {
	Inside, Outside units.Temperature
	// Faces are the temperatures at the inside face, at each joint between
	// two layers and at the outside face: one more than there are layers.
	Faces []units.Temperature
}

// Dress is what a drawing is made for.
type Dress int

const (
	Wide        Dress = iota // a desk: words in the callouts; 258 mm
	Phone                    // numbered keynotes, the schedule beside; 92 mm
	Thumb                    // an index: no words, 1:24, so that thickness compares; 28 mm
	StepPicture              // a sequence: what stands so far, no words, 1:16; 46 mm
)

// Widths of the dresses, mm.
const (
	wideWidth  = 258.0
	phoneWidth = 92.0
	thumbWidth = 28.0
	stepWidth  = 46.0
)

// courses is at least one.
func (l *StackLayer) courses() int { return max(1, l.Courses) }

// room is the thickness that the layer takes in a section.
func (l *StackLayer) room() units.Length {
	if l.Film {
		return 0
	}
	return l.Thickness * units.Length(l.courses())
}

// Thickness is that of the whole stack, films excepted.
func (s *Stack) Thickness() units.Length {
	t := units.Length(0)
	for i := range s.Layers {
		t += s.Layers[i].room()
	}
	return t
}

// Draw draws the stack in its dress. Every layer is as thick on paper as
// Thickness × Courses / Scale.
//
// It panics if a thickness is negative or not finite, or if the temperatures
// are not one more than the layers: those are faults of the caller.
func (s *Stack) Draw() *Drawing {
	s.check()
	switch s.Dress {
	case Thumb, StepPicture:
		return s.drawPicture()
	case Phone:
		return s.drawSheet(&phoneSheet)
	}
	return s.drawSheet(&wideSheet)
}

func (s *Stack) check() {
	if len(s.Layers) == 0 {
		panic("drawing: a stack without layers")
	}
	for i := range s.Layers {
		l := &s.Layers[i]
		if t := float64(l.Thickness); t < 0 || math.IsInf(t, 0) || math.IsNaN(t) {
			panic("drawing: a layer's thickness is negative or not finite")
		}
	}
	if p := s.Temperatures; p != nil && len(p.Faces) != len(s.Layers)+1 {
		panic("drawing: temperatures must be one more than layers")
	}
}
