package drawing_test

import (
	"math"
	"strings"
	"testing"

	"wythe/renderer/drawing"
)

// TestFitness: what a detail is for and not for prints under its title, and
// what is not issued prints NOT FOR CONSTRUCTION across its drawing.
func TestFitness(t *testing.T) {
	for _, dress := range []drawing.Dress{drawing.Wide, drawing.Phone, drawing.StepPicture} {
		for _, issued := range []bool{true, false} {
			s := basementSlab()
			s.Dress, s.After, s.NotForConstruction, s.StatusWords = dress, 9, !issued, ""
			if !issued {
				s.StatusWords = "DRAFT"
			}
			d := s.Draw()
			var stamp *drawing.Group
			stamps, callouts, order := 0, 0, 0
			for _, n := range d.Root.Nodes {
				g, ok := n.(*drawing.Group)
				if !ok {
					continue
				}
				switch g.Tag.Kind {
				case "stamp":
					stamps++
					stamp = g
					order = callouts
				case "callouts":
					callouts++
				}
			}
			if want := map[bool]int{true: 0, false: 1}[issued]; stamps != want {
				t.Errorf("dress %d, issued %v: %d stamps", dress, issued, stamps)
			}
			if order != 0 {
				t.Errorf("dress %d: the stamp lies over the callouts", dress)
			}
			if strings.Contains(d.Desc, "Not for construction.") == issued {
				t.Errorf("dress %d, issued %v: described as %q", dress, issued, d.Desc)
			}
			if stamp != nil {
				b := drawing.Bounds(stamp)
				if b.Width() < d.Width*0.25 || b.Min.X < 0 || b.Max.X > d.Width || b.Min.Y < 0 || b.Max.Y > d.Height {
					t.Errorf("dress %d: a stamp from %v to %v on %.0f × %.0f", dress, b.Min, b.Max, d.Width, d.Height)
				}
			}
			if dress != drawing.Wide {
				continue
			}
			words := ""
			for _, x := range texts(&d.Root, nil) {
				words += x.Text + "\n"
			}
			for _, want := range []string{"INSULATED BASEMENT SLAB", "F-101", "SCALE 1 1/2″ = 1′-0″", "1:8", "USE FOR", "NOT FOR", "Heated basements on drained ground; point loads", "vehicle loads"} {
				if !strings.Contains(words, want) {
					t.Errorf("%q is not printed", want)
				}
			}
			if strings.Contains(words, "DRAFT") == issued {
				t.Errorf("issued %v, printed:\n%s", issued, words)
			}
		}
	}
}

// TestFilmsApart: films that touch are drawn beside each other with at least
// 0.7 mm of paper between them (ISO 128-3).
func TestFilmsApart(t *testing.T) {
	for n := 1; n <= 5; n++ {
		s := &drawing.Stack{Mark: "F-900", ViewName: "SECTION", InsideTop: true, Layers: []drawing.StackLayer{{Part: "slab", Hatch: "concrete", Thickness: 0.1, Key: 1}}}
		for i := range n {
			s.Layers = append(s.Layers, drawing.StackLayer{Part: string(rune('a' + i)), Hatch: "membrane", Film: true, Thickness: 0.0004, Key: 2 + i})
		}
		s.Layers = append(s.Layers, drawing.StackLayer{Part: "foam", Hatch: "rigid insulation", Thickness: 0.1, Key: 9})
		d := s.Draw()
		var ys []float64
		for _, node := range d.Root.Nodes {
			if p, ok := node.(*drawing.Path); ok && p.Tag.Kind == "film" {
				if p.Stroke.Pen != drawing.PenMembrane {
					t.Errorf("a film is drawn with %g mm", float64(p.Stroke.Pen))
				}
				ys = append(ys, p.Segs[0].P[0].Y)
			}
		}
		if len(ys) != n {
			t.Fatalf("%d films of %d", len(ys), n)
		}
		mean := 0.0
		for i, y := range ys {
			mean += y / float64(n)
			if i > 0 && y-ys[i-1]-float64(drawing.PenMembrane) < 0.7-1e-9 {
				t.Errorf("%d films: %.2f mm of paper between two", n, y-ys[i-1]-float64(drawing.PenMembrane))
			}
		}
		var lines []float64
		eachGroup(&d.Root, "outline", func(g *drawing.Group) { lines = levels(g) })
		if len(lines) != 3 || math.Abs(mean-lines[1]) > 1e-9 {
			t.Errorf("%d films lie about %.3f; the joint is at %.3f", n, mean, lines)
		}
	}
}
