package drawing_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"wythe/renderer/drawing"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/units"
)

var updateSpecimens = flag.Bool("update", false, "write the golden drawings of stacks")

const inch = units.Length(0.0254)

func fahrenheits(f ...float64) []units.Temperature {
	out := make([]units.Temperature, len(f))
	for i, v := range f {
		out[i] = units.Temperature((v - 32) / 1.8)
	}
	return out
}

func studs(width, spacing float64) *drawing.StackFraming {
	return &drawing.StackFraming{Hatch: "sawn timber", Width: units.Length(width) * inch, Spacing: units.Length(spacing) * inch}
}

func basementSlab() *drawing.Stack {
	t := fahrenheits(70, 48.5, 69.4, 69.2, 69.2, 49.3, 48.5)
	return &drawing.Stack{
		Mark: "F-101", Title: "Insulated basement slab", ViewName: "SECTION", InsideTop: true,
		InsideLabel: "INSIDE", OutsideLabel: "GROUND",
		Layers: []drawing.StackLayer{
			{Part: "slab", Hatch: "concrete", Thickness: 5 * inch, Key: 1, Head: "Concrete slab", Notes: []string{"3,500 psi, mesh on chairs"}, Step: 6},
			{Part: "film", Hatch: "membrane", Thickness: 0.015 * inch, Film: true, Key: 2, Head: "Vapor retarder film", Controls: "AV", Notes: []string{"Lap 6″ and tape"}, Step: 4},
			{Part: "foam", Hatch: "rigid insulation", Thickness: 3 * inch, Courses: 2, Key: 3, Head: "XPS type IV", Controls: "T", Notes: []string{"Stagger the joints"}, Step: 3},
			{Part: "base", Hatch: "washed stone", Thickness: 8 * inch, Key: 4, Head: "Washed stone", Notes: []string{"Capillary break", "Level to 1/4″"}, Step: 2},
		},
		Beyond:       &drawing.StackLayer{Part: "subgrade", Hatch: "earth", Key: 5, Head: "Compacted subgrade", Notes: []string{"Soft spots dug out and refilled"}},
		Temperatures: &drawing.Profile{Inside: t[0], Outside: t[1], Faces: t[2:]},
		UseFor:       []string{"heated basements on drained ground", "point loads of posts to 1,250 lb"},
		NotFor:       []string{"ground with water over the footing drain", "vehicle loads"},
	}
}

func deepWall() *drawing.Stack {
	t := fahrenheits(70, 5, 67.6, 66.9, 62.1, 62.1, 61.6, 22.5, 11.2, 11.1, 8.2, 6.1)
	return &drawing.Stack{
		Mark: "W-102", Title: "Timber wall, deep cavity", ViewName: "PLAN SECTION",
		InsideLabel: "INSIDE", OutsideLabel: "OUTSIDE",
		Layers: []drawing.StackLayer{
			{Part: "lining", Hatch: "gypsum", Thickness: 0.5 * inch, Key: 1, Head: "Gypsum board", Notes: []string{"Screwed to the battens at 12″"}},
			{Part: "service", Hatch: "batt", Thickness: 1.5 * inch, Framing: studs(1.5, 24), Key: 2, Head: "Service space", Notes: []string{"2×2 battens at 24″, mineral wool between"}},
			{Part: "paint", Hatch: "membrane", Film: true, Thickness: 0.006 * inch, Key: 3, Head: "Vapor retarder paint", Controls: "V"},
			{Part: "sheathing", Hatch: "plywood", Thickness: 0.5 * inch, Key: 4, Head: "Plywood, taped joints", Controls: "A", Notes: []string{"Tape every joint and edge before the battens go on"}},
			{Part: "studs", Hatch: "loose fill", Thickness: 7.25 * inch, Framing: studs(1.5, 16), Key: 5, Head: "Dense-pack cellulose", Controls: "T", Notes: []string{"Between 2×8 studs at 16″"}},
			{Part: "board", Hatch: "fiber board", Thickness: 2 * inch, Key: 6, Head: "Wood-fiber board", Controls: "T"},
			{Part: "membrane", Hatch: "membrane", Film: true, Thickness: 0.02 * inch, Key: 7, Head: "Water-resistive membrane", Controls: "W", Notes: []string{"Lap 6″, upper over lower"}},
			{Part: "cavity", Hatch: "air", Thickness: 0.75 * inch, Framing: studs(2.5, 16), Key: 8, Head: "Vented cavity", Notes: []string{"Battens at 16″, screens top and bottom"}},
			{Part: "cladding", Hatch: "finish timber", Thickness: 0.75 * inch, Key: 9, Head: "Cedar boards"},
		},
		Temperatures:       &drawing.Profile{Inside: t[0], Outside: t[1], Faces: append(t[2:11:11], t[11])},
		NotForConstruction: true, StatusWords: "FOR REVIEW",
		UseFor: []string{"outside walls to three storeys"},
	}
}

func terraceRoof() *drawing.Stack {
	t := fahrenheits(70, 5, 69.1, 68.4, 68.4, 68.4, 7, 6.4, 5.6)
	return &drawing.Stack{
		Mark: "R-104", Title: "Protected-membrane terrace over a heated room, with pavers on pedestals", ViewName: "SECTION",
		InsideLabel: "INSIDE", OutsideLabel: "OUTSIDE",
		Layers: []drawing.StackLayer{
			{Part: "deck", Hatch: "reinforced concrete", Thickness: 6 * inch, Key: 1, Head: "Concrete deck", Controls: "A", Notes: []string{"Falls 1/4″ per ft to the drains"}},
			{Part: "primer", Hatch: "membrane", Film: true, Thickness: 0.06 * inch, Key: 2, Head: "Membrane, first ply", Controls: "VW"},
			{Part: "membrane", Hatch: "membrane", Film: true, Thickness: 0.16 * inch, Key: 3, Head: "Membrane, cap ply", Controls: "VW", Notes: []string{"Flood test 48 hours before the foam is laid"}},
			{Part: "foam", Hatch: "rigid insulation", Thickness: 4 * inch, Courses: 3, Key: 4, Head: "XPS type VI", Controls: "T", Notes: []string{"Loose, joints staggered, rebated edges"}},
			{Part: "fabric", Hatch: "membrane", Film: true, Thickness: 0.02 * inch, Key: 5, Head: "Filter fabric", Notes: []string{"Open to vapor"}},
			{Part: "gap", Hatch: "air", Thickness: 0.75 * inch, Framing: studs(4, 24), Key: 6, Head: "Pedestals"},
			{Part: "pavers", Hatch: "concrete", Thickness: 2 * inch, Key: 7, Head: "Concrete pavers", Notes: []string{"24″ × 24″, open joints"}},
		},
		Temperatures: &drawing.Profile{Inside: t[0], Outside: t[1], Faces: append(t[2:9:9], t[8])},
		NotFor:       []string{"vehicles"},
	}
}

var hatchWords = []string{"gypsum", "batt", "plywood", "rigid insulation", "concrete", "fiber board", "air", "brick", "washed stone", "loose fill"}

func twentyLayers() *drawing.Stack {
	s := &drawing.Stack{Mark: "W-920", Title: "Twenty layers", ViewName: "PLAN SECTION", InsideLabel: "INSIDE", OutsideLabel: "OUTSIDE"}
	faces := []float64{68}
	for i := range 20 {
		l := drawing.StackLayer{
			Part: fmt.Sprint("layer ", i+1), Hatch: hatchWords[i%len(hatchWords)], Thickness: units.Length([]float64{0.5, 2, 0.5, 1, 3, 0.25}[i%6]) * inch,
			Key: i + 1, Head: "Layer of the stack", Notes: []string{"A note that says how it is laid and fixed, and what it must not touch"},
		}
		if i%5 == 3 {
			l.Film, l.Hatch, l.Thickness = true, "membrane", 0.015*inch
		}
		s.Layers = append(s.Layers, l)
		faces = append(faces, 68-60*float64(i+1)/20)
	}
	t := fahrenheits(faces...)
	s.Temperatures = &drawing.Profile{Inside: units.Temperature(21), Outside: units.Temperature(-15), Faces: t}
	return s
}

func thinLayers() *drawing.Stack {
	s := &drawing.Stack{
		Mark: "W-910", Title: "Lining on a board", ViewName: "PLAN SECTION", System: units.Metric,
		InsideLabel: "INSIDE", OutsideLabel: "OUTSIDE",
	}
	for i, mm := range []float64{12.5, 12.5, 6, 0.2, 15, 100, 0.7, 3} {
		s.Layers = append(s.Layers, drawing.StackLayer{
			Part: fmt.Sprint("layer ", i+1), Hatch: []string{"gypsum", "gypsum", "fiber board", "membrane", "plywood", "batt", "steel", "membrane"}[i],
			Thickness: units.Length(mm / 1000), Film: mm == 0.2, Key: i + 1,
			Head: []string{"Gypsum board", "Gypsum board", "Fiber board", "Vapor retarder", "Plywood", "Mineral wool", "Steel sheet", "Render"}[i],
		})
	}
	return s
}

func belowGrade() *drawing.Stack {
	return &drawing.Stack{
		Mark: "W-101", Title: "Basement wall", ViewName: "PLAN SECTION", InsideLabel: "INSIDE", OutsideLabel: "EARTH",
		Layers: []drawing.StackLayer{
			{Part: "lining", Hatch: "gypsum", Thickness: 0.5 * inch, Key: 1, Head: "Gypsum board"},
			{Part: "studs", Hatch: "batt", Thickness: 3.5 * inch, Framing: studs(1.5, 16), Key: 2, Head: "Service wall", Notes: []string{"2×4 studs at 16″, mineral wool between"}},
			{Part: "inner foam", Hatch: "rigid insulation", Thickness: 2 * inch, Key: 3, Head: "Rigid foam", Controls: "T", Notes: []string{"Against the concrete"}},
			{Part: "concrete", Hatch: "reinforced concrete", Thickness: 8 * inch, Key: 4, Head: "Concrete wall", Controls: "AV"},
			{Part: "coat", Hatch: "membrane", Film: true, Thickness: 0.04 * inch, Key: 5, Head: "Dampproofing", Controls: "W"},
			{Part: "foam", Hatch: "rigid insulation", Thickness: 4 * inch, Key: 6, Head: "XPS type IV", Controls: "T"},
			{Part: "mat", Hatch: "air", Thickness: 0.375 * inch, Key: 7, Head: "Drainage mat"},
		},
		Beyond: &drawing.StackLayer{Part: "backfill", Hatch: "backfill", Key: 8, Head: "Free-draining backfill"},
	}
}

func attic() *drawing.Stack {
	t := fahrenheits(70, 5, 69, 68.2, 65.9, 65.9, 47, 6)
	return &drawing.Stack{
		Mark: "R-103", Title: "Attic ceiling, loose fill", ViewName: "SECTION", InsideLabel: "INSIDE", OutsideLabel: "ATTIC",
		Layers: []drawing.StackLayer{
			{Part: "lining", Hatch: "gypsum", Thickness: 0.5 * inch, Key: 1, Head: "Gypsum board"},
			{Part: "furring", Hatch: "air", Thickness: 0.75 * inch, Framing: studs(2.5, 16), Key: 2, Head: "Furring", Notes: []string{"1×3 at 16″, wires run here"}},
			{Part: "membrane", Hatch: "membrane", Film: true, Thickness: 0.02 * inch, Key: 3, Head: "Membrane, taped", Controls: "AV", Notes: []string{"Tape to the walls' plywood"}},
			{Part: "joists", Hatch: "loose fill", Thickness: 5.5 * inch, Framing: studs(1.5, 24), Key: 4, Head: "Cellulose between joists", Controls: "T"},
			{Part: "fill", Hatch: "loose fill", Thickness: 12 * inch, Key: 5, Head: "Loose-fill cellulose", Controls: "T", Notes: []string{"Settled depth; rulers every 10 ft"}},
		},
		Temperatures: &drawing.Profile{Inside: t[0], Outside: t[1], Faces: t[2:8]},
	}
}

func brickWall() *drawing.Stack {
	return &drawing.Stack{
		Mark: "W-105", Title: "Brick cavity wall", ViewName: "PLAN SECTION", System: units.Metric, InsideLabel: "INSIDE", OutsideLabel: "OUTSIDE",
		Layers: []drawing.StackLayer{
			{Part: "block", Hatch: "block", Thickness: 0.14, Key: 1, Head: "Concrete block"},
			{Part: "membrane", Hatch: "membrane", Film: true, Thickness: 0.001, Key: 2, Head: "Membrane", Controls: "AWV", Notes: []string{"Fully adhered, laps rolled"}},
			{Part: "wool", Hatch: "batt", Thickness: 0.15, Key: 3, Head: "Mineral wool", Controls: "T", Notes: []string{"Two layers, no gaps at ties"}},
			{Part: "cavity", Hatch: "air", Thickness: 0.04, Key: 4, Head: "Cavity", Notes: []string{"Clear of mortar; weep holes at the foot"}},
			{Part: "brick", Hatch: "brick", Thickness: 0.1025, Key: 5, Head: "Brick", Notes: []string{"Stainless ties at 450 mm"}},
		},
		Temperatures:       &drawing.Profile{Inside: 21, Outside: -12, Faces: []units.Temperature{19.9, 18.6, 18.6, -9.4, -10.7, -11.7}},
		NotForConstruction: true, StatusWords: "DRAFT",
		NotFor: []string{"walls below grade"},
	}
}

// wallStep is a wall going up: studs, then the boards on both their sides, then
// the fill.
func wallStep(after int) *drawing.Stack {
	s := deepWall()
	s.Dress, s.After, s.NotForConstruction, s.Temperatures = drawing.StepPicture, after, after == 2, nil
	for i, step := range []int{9, 9, 9, 2, 3, 2, 2, 9, 9} {
		s.Layers[i].Step = step
	}
	s.Layers[4].Framing.Step = 1
	return s
}

type specimen struct {
	name  string
	stack *drawing.Stack
}

func specimens() []specimen {
	list := []specimen{
		{"f-101", basementSlab()}, {"w-102", deepWall()}, {"r-104", terraceRoof()},
		{"twenty", twentyLayers()}, {"thin", thinLayers()}, {"w-101", belowGrade()},
		{"r-103", attic()}, {"w-105", brickWall()},
	}
	for _, s := range list[:8:8] {
		phone, thumb := *s.stack, *s.stack
		phone.Dress, thumb.Dress = drawing.Phone, drawing.Thumb
		list = append(list, specimen{s.name + "-phone", &phone}, specimen{s.name + "-thumb", &thumb})
	}
	for after := 1; after <= 3; after++ {
		list = append(list, specimen{fmt.Sprint("w-102-step-", after), wallStep(after)})
	}
	for _, after := range []int{2, 4} {
		step := *basementSlab()
		step.Dress, step.After = drawing.StepPicture, after
		list = append(list, specimen{"f-101-step-" + string(rune('0'+after)), &step})
	}
	return list
}

func TestSpecimens(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range specimens() {
		t.Run(s.name, func(t *testing.T) {
			d := s.stack.Draw()
			measureStack(t, s.stack, d)
			got := svg.Append(nil, d, svg.Options{Dress: svg.Standalone, Prefix: s.name})
			file := filepath.Join("testdata", "stack", s.name+".svg")
			seen[file] = true
			if *updateSpecimens {
				if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(file, got, 0o666); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(file)
			if err != nil || !bytes.Equal(got, want) {
				t.Errorf("%s differs (%v)", file, err)
			}
		})
	}
	files, err := filepath.Glob("testdata/stack/*.svg")
	if err != nil || len(files) == 0 {
		t.Fatalf("no golden drawings: %v", err)
	}
	for _, f := range files {
		if !seen[f] {
			t.Errorf("%s has no specimen", f)
		}
	}
}
