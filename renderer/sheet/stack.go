// Package sheet turns a detail and its figures into a drawing: it says which
// way up a stack is drawn, what its callouts say, which temperatures stand
// beside it and what stands after which step.
package sheet

import (
	"fmt"
	"slices"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/figures"
	"wythe/renderer/geometry"
	"wythe/renderer/material"
	"wythe/renderer/units"
)

// Look is how an assembly is to be drawn.
type Look struct {
	Dress  drawing.Dress
	System units.System
	Scale  float64 // 1 to Scale; 0: the file's own, else the largest standard scale that fits
	After  int     // [drawing.StepPicture]: the step after which the picture is taken, from 1
	// Linked makes keynotes lead to the schedule of the page the drawing stands in.
	Linked bool
	// Listed says that the keynotes' words stand in a schedule beside the
	// drawing: where its callouts are bubbles alone, it does not list them too.
	Listed bool
	// Keyed makes callouts bubbles alone, for want of room; their words then
	// stand where Listed says.
	Keyed bool
	// Changes are to be clouded; nil: none.
	Changes *Changes
}

// Changes are what of a detail changed since the revision before.
type Changes struct {
	Rev    string   // that changed it
	Layers []string // of an assembly
	// Lines and Places are of a junction, in its section's own micrometres:
	// lines that came or went, and what changed without moving a line.
	Lines  []geometry.Segment
	Places []geometry.Point
}

// Assembly returns an assembly's layer section. fig may lack temperatures;
// the strip is then left out.
func Assembly(d *detail.Detail, fig *figures.Assembly, look Look) *drawing.Drawing {
	a := d.Assembly
	s := &drawing.Stack{
		Mark: d.Mark, Title: d.Title,
		ViewName: "SECTION",
		Scale:    look.Scale, System: look.System,
		InsideTop:   InsideTop(a.Element),
		InsideLabel: "INSIDE", OutsideLabel: outsideLabel(a.Element),
		NotForConstruction: d.Status != detail.Issued,
		UseFor:             d.UseFor, NotFor: d.NotFor,
		Dress: look.Dress, After: look.After, Listed: look.Listed, Keyed: look.Keyed,
	}
	if s.NotForConstruction {
		s.StatusWords = strings.ToUpper(string(d.Status))
	}
	if a.Element == detail.Wall || a.Element == detail.WallBelowGrade {
		s.ViewName = "PLAN SECTION"
	}
	if s.Scale == 0 && (look.Dress == drawing.Wide || look.Dress == drawing.Phone) {
		s.Scale = float64(a.Scale)
	}
	for i, l := range a.Layers {
		layer := stackLayer(d, l, Key(a, i))
		if look.Linked {
			layer.Href = fmt.Sprintf("#layer-%d", layer.Key)
		}
		if look.Changes != nil {
			s.Rev, layer.Changed = look.Changes.Rev, slices.Contains(look.Changes.Layers, l.Name)
		}
		s.Layers = append(s.Layers, layer)
	}
	if s.Beyond = Beyond(a); s.Beyond != nil && look.Linked {
		s.Beyond.Href = fmt.Sprintf("#layer-%d", s.Beyond.Key)
	}
	if t := fig.Thermal; t != nil && t.Insulation != nil && look.Dress != drawing.Thumb && look.Dress != drawing.StepPicture {
		s.Temperatures = &drawing.Profile{Inside: t.Insulation.Inside, Outside: t.Insulation.Outside, Faces: t.Insulation.Faces}
	}
	return s.Draw()
}

// InsideTop reports whether an element is drawn with its inside on top:
// floors are; walls (in plan), roofs and ceilings are drawn outside on top.
func InsideTop(e detail.Element) bool {
	return e == detail.Floor || e == detail.FloorOnGround
}

// Key returns the keynote number of layer i (from inside, from 0): numbers run
// down the drawing from 1, with those of what lies beyond.
func Key(a *detail.Assembly, i int) int {
	switch {
	case InsideTop(a.Element):
		return i + 1
	case a.Element == detail.WallBelowGrade:
		return len(a.Layers) - i + 1 // the backfill is on top
	}
	return len(a.Layers) - i
}

func outsideLabel(e detail.Element) string {
	switch e {
	case detail.FloorOnGround, detail.WallBelowGrade:
		return "GROUND"
	case detail.Ceiling:
		return "ATTIC"
	}
	return "OUTSIDE"
}

// Beyond is what the outside of an element on the ground lies on or against;
// nil: air.
func Beyond(a *detail.Assembly) *drawing.StackLayer {
	switch a.Element {
	case detail.FloorOnGround:
		return &drawing.StackLayer{Part: "ground", Hatch: string(material.Earth), Head: "Compacted subgrade", Notes: []string{"Soft spots dug out and refilled"}, Key: len(a.Layers) + 1}
	case detail.WallBelowGrade:
		return &drawing.StackLayer{Part: "ground", Hatch: string(material.Backfill), Head: "Backfill", Notes: []string{"Free-draining, in 8 in lifts"}, Key: 1}
	}
	return nil
}

func stackLayer(d *detail.Detail, l *detail.Layer, key int) drawing.StackLayer {
	out := drawing.StackLayer{
		Part: l.Name, Hatch: string(l.Material.Hatch),
		Thickness: l.Thickness, Courses: l.Courses, Film: l.Film(),
		Key: key, Head: l.Material.Name, Notes: LayerNotes(l),
		Controls: Letters(l.Control), Step: FirstStep(d, l.Name),
	}
	if f := l.Framing; f != nil {
		out.Framing = &drawing.StackFraming{Hatch: string(f.Material.Hatch), Width: f.Width, Spacing: f.Spacing, Fraction: f.Fraction}
	}
	return out
}

// LayerNotes returns what a layer's callout and its row of the schedule say
// beneath its name: its note, its joints, its framing.
func LayerNotes(l *detail.Layer) []string {
	var notes []string
	if l.Note != "" {
		notes = append(notes, sentence(l.Note))
	}
	if l.Joints != "" {
		notes = append(notes, sentence(l.Joints))
	}
	if f := l.Framing; f != nil && f.Width > 0 && l.Note == "" {
		notes = append(notes, sentence(fmt.Sprintf("%s %s at %s", f.Material.Name, f.Width.InchFraction(), f.Spacing.InchFraction())))
	}
	return notes
}

// sentence begins with a capital.
func sentence(s string) string {
	for i := range s {
		if i > 0 {
			return strings.ToUpper(s[:i]) + s[i:]
		}
	}
	return strings.ToUpper(s)
}

// Letters returns the letters of the controls a layer carries, in the order of pages.
func Letters(controls []detail.Control) string {
	var b strings.Builder
	for _, c := range detail.Controls {
		for _, has := range controls {
			if has == c {
				b.WriteByte(strings.ToUpper(string(c))[0])
			}
		}
	}
	return b.String()
}

// FirstStep returns the first step of the sequence, from 1, after which a part
// stands; 0 where no step shows it, so that it stands from the start.
func FirstStep(d *detail.Detail, part string) int {
	for i, s := range d.Sequence {
		for _, shown := range s.Shows {
			if shown == part {
				return i + 1
			}
		}
	}
	return 0
}
