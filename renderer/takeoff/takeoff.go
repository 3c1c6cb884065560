// Package takeoff counts the materials of a layer stack for an area: boards by
// sheet, rolls with their laps, volumes of what is poured or placed, members of
// framing, tape for joints.
//
// Method: areas and sizes alone; waste as stated, or usual allowances said to
// be so. This package knows no file, drawing or page.
package takeoff

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Form is how a layer's material is bought.
type Form string

// The forms.
const (
	Board  Form = "board"  // sheets of a size
	Roll   Form = "roll"   // films and membranes with laps
	Volume Form = "volume" // concrete, stone, loose fill, backfill
	Area   Form = "area"   // batts, coatings, coverings: by area
	Void   Form = "void"   // air: nothing is bought
)

// Usual waste, where the layer states none. Source: common practice.
var usualWaste = map[Form]units.Ratio{Board: 0.10, Roll: 0.10, Volume: 0.05, Area: 0.05}

// UsualWaste returns the usual allowance of a form, 0 for a void.
func UsualWaste(f Form) units.Ratio { return usualWaste[f] }

// UsualSheet is 4 by 8 ft. Source: common practice.
var UsualSheet = [2]units.Length{4 * 0.3048, 8 * 0.3048}

// Layer is one layer to count.
type Layer struct {
	Name, Material string
	Form           Form
	Thickness      units.Length // of one course
	Courses        int          // 0: 1
	Sheet          [2]units.Length
	Lap            units.Length // of rolls: side and end
	Taped          bool         // its joints are taped
	Waste          units.Ratio  // negative: not stated
	Density        units.Density
	Settles        units.Ratio // loose fill: share to add for settling
	Framing        *Framing
}

// Framing is members at a spacing, or a fraction of the area.
type Framing struct {
	Material       string
	Width, Spacing units.Length // both 0: by Fraction
	Fraction       units.Ratio
	// Folded members are of thin metal: their width and depth make no volume.
	Folded bool
}

// Item is one line of the takeoff.
type Item struct {
	Layer, Material string
	Form            Form
	NetArea         units.Area // covered, all courses
	Area            units.Area // to buy: with laps and waste
	Waste           units.Ratio
	WasteUsual      bool // not stated: a usual allowance
	Sheet           [2]units.Length
	Sheets          int // whole ones; 0 where not by sheet
	// Rolls of Sheet size; 0 where no size is stated.
	Rolls     int
	LapFactor float64 // area bought over area covered by laps alone, 1 or more
	Volume    units.Volume
	Mass      units.Mass   // 0 where the density is not stated
	Length    units.Length // of framing members
	Tape      units.Length // of joints; 0 where none is taped
	Note      string
}

// Result is a stack's takeoff.
type Result struct {
	Area  units.Area
	Items []Item // inside to outside; a framed layer's members follow its cavity
	Tape  units.Length
}

// Limits are what the takeoff leaves out, in the page's words.
var Limits = []string{"Plain area: no openings, edges, corners or cuts to fit beyond the waste.", "Fasteners, sealants and accessories are not counted."}

// Count returns the materials of a stack over an area.
//
// Method: boards: area with waste over the sheet, rounded up; rolls: each roll
// covers its size less a side and an end lap; volumes: area × thickness with
// waste and settling; framing: area over spacing, or fraction over width; tape:
// the joints between sheets, (1/width + 1/length) per area, edges left out.
// Errors: *[units.RangeError]; *[basis.RefusedError] for a lap that eats its
// roll.
func Count(layers []Layer, area units.Area) (*Result, error) {
	if err := basis.NotNegative("area", float64(area), "m²"); err != nil {
		return nil, err
	}
	if err := basis.Finite("area", float64(area), "m²"); err != nil {
		return nil, err
	}
	r := &Result{Area: area, Items: make([]Item, 0, len(layers))}
	for i := range layers {
		l := &layers[i]
		if err := l.check(); err != nil {
			return nil, fmt.Errorf("%q: %w", l.Name, err)
		}
		covered := 1.0
		var members Item
		if l.Framing != nil {
			members = l.Framing.members(l, float64(area))
			covered = 1 - float64(l.Framing.fraction())
		}
		if l.Form != Void {
			item, err := l.item(float64(area), covered)
			if err != nil {
				return nil, fmt.Errorf("%q: %w", l.Name, err)
			}
			r.Items = append(r.Items, item)
			r.Tape += item.Tape
		}
		if l.Framing != nil {
			r.Items = append(r.Items, members)
		}
	}
	return r, nil
}

func (l *Layer) check() error {
	for _, c := range []struct {
		quantity string
		value    units.Length
	}{{"thickness", l.Thickness}, {"width of the sheet", l.Sheet[0]}, {"length of the sheet", l.Sheet[1]}, {"lap", l.Lap}} {
		if err := basis.NotNegative(c.quantity, float64(c.value), "m"); err != nil {
			return err
		}
		if err := basis.Finite(c.quantity, float64(c.value), "m"); err != nil {
			return err
		}
	}
	if l.Courses < 0 {
		return &units.RangeError{Quantity: "courses", Value: float64(l.Courses), Says: "must not be negative"}
	}
	if err := basis.Within("waste", math.Max(0, float64(l.Waste)), 0, 10, ""); err != nil {
		return err
	}
	if err := basis.Within("settling", float64(l.Settles), 0, 1, ""); err != nil {
		return err
	}
	if err := basis.NotNegative("density", float64(l.Density), "kg/m³"); err != nil {
		return err
	}
	switch l.Form {
	case Board, Roll, Volume, Area, Void:
	default:
		return &units.RangeError{Quantity: fmt.Sprintf("form %q", l.Form), Says: "must be board, roll, volume, area or void"}
	}
	if f := l.Framing; f != nil {
		if f.Spacing != 0 || f.Width != 0 {
			if err := basis.Positive("framing spacing", float64(f.Spacing), "m"); err != nil {
				return err
			}
			return basis.Within("framing width", float64(f.Width), 0, float64(f.Spacing), "m")
		}
		return basis.Within("framing fraction", float64(f.Fraction), 0, 1, "")
	}
	return nil
}

// item counts the layer's own material over the share of the area it covers.
func (l *Layer) item(area, covered float64) (Item, error) {
	courses := math.Max(1, float64(l.Courses))
	net := area * covered * courses
	it := Item{Layer: l.Name, Material: l.Material, Form: l.Form, NetArea: units.Area(net), Waste: l.Waste, LapFactor: 1, Sheet: l.Sheet}
	if it.WasteUsual = l.Waste < 0; it.WasteUsual {
		it.Waste = UsualWaste(l.Form)
	}
	more := 1 + float64(it.Waste)
	sheet := l.Sheet
	sized := sheet[0] > 0 && sheet[1] > 0
	switch l.Form {
	case Board:
		if !sized {
			sheet, it.Note = UsualSheet, "sheet size not stated: 4 by 8 ft"
			it.Sheet, sized = sheet, true
		}
		it.Sheets = whole(net * more / (float64(sheet[0]) * float64(sheet[1])))
	case Roll:
		if sized {
			w, n := float64(sheet[0]-l.Lap), float64(sheet[1]-l.Lap)
			if w <= 0 || n <= 0 {
				return it, &basis.RefusedError{Method: "takeoff", Case: "the lap is as wide as the roll", Why: "check the roll's size and the lap"}
			}
			it.LapFactor = float64(sheet[0]) * float64(sheet[1]) / (w * n)
			it.Rolls = whole(net * more / (w * n))
		} else if l.Lap > 0 {
			it.Note = "roll size not stated: laps are not counted"
		}
	case Volume:
		it.Volume = units.Volume(net * float64(l.Thickness) * more * (1 + float64(l.Settles)))
	}
	it.Area = units.Area(net * it.LapFactor * more)
	if l.Density > 0 {
		it.Mass = units.Mass(net * float64(l.Thickness) * float64(l.Density) * (1 + float64(l.Settles)) * more * it.LapFactor)
	}
	if l.Taped && sized {
		w, n := float64(sheet[0]-l.Lap), float64(sheet[1]-l.Lap)
		if l.Form == Board {
			w, n = float64(sheet[0]), float64(sheet[1])
		}
		it.Tape = units.Length(net * (1/w + 1/n) * more)
	} else if l.Taped {
		it.Note = "sheet size not stated: tape is not counted"
	}
	return it, nil
}

// whole rounds up, allowing what a float adds to a whole number.
func whole(v float64) int {
	const rounding = 1e-9
	return int(math.Ceil(v - rounding))
}

func (f *Framing) fraction() units.Ratio {
	if f.Spacing > 0 && f.Fraction == 0 {
		return units.Ratio(f.Width / f.Spacing)
	}
	return f.Fraction
}

// members counts framing by length where its width or spacing is stated, and by
// volume.
func (f *Framing) members(l *Layer, area float64) Item {
	courses := math.Max(1, float64(l.Courses))
	it := Item{Layer: l.Name, Material: f.Material, Form: Volume, Waste: 0.10, WasteUsual: true, LapFactor: 1}
	fraction := float64(f.fraction())
	it.NetArea = units.Area(area * fraction * courses)
	more := 1 + float64(it.Waste)
	it.Area = it.NetArea * units.Area(more)
	it.Volume = units.Volume(area * fraction * float64(l.Thickness) * courses * more)
	if f.Folded {
		it.NetArea, it.Area, it.Volume = 0, 0, 0
	}
	switch {
	case f.Spacing > 0 && f.Fraction == 0:
		it.Length = units.Length(area / float64(f.Spacing) * courses * more)
		it.Note = "members at their spacing; plates, blocking and openings are not counted"
	case f.Width > 0:
		it.Length = units.Length(area * fraction / float64(f.Width) * courses * more)
	default:
		it.Note = "by fraction of the area: no lengths"
	}
	return it
}

// Trace says what the takeoff rests on.
func (r *Result) Trace() basis.Trace {
	t := basis.Trace{Method: basis.Method{Name: "Takeoff by area", Says: "Area over sheet sizes less laps, with waste; whole sheets and rolls."}, Limits: Limits}
	t.Inputs = append(t.Inputs, basis.Input{Name: "area", Value: fmt.Sprintf("%.4g m²", float64(r.Area))})
	for _, it := range r.Items {
		in := basis.Input{Name: it.Layer, Value: fmt.Sprintf("waste %.0f %%", 100*float64(it.Waste)), Source: basis.Source{Kind: basis.Stated}}
		if it.WasteUsual {
			in.Source.Kind = basis.CommonPractice
		}
		t.Inputs = append(t.Inputs, in)
	}
	return t
}
