package drawing_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"wythe/renderer/drawing"
	"wythe/renderer/units"
)

// randomStack makes a stack of up to 20 layers: films beside films, layers
// thinner than a line, framing, courses, earth on either side.
func randomStack(seed uint64) *drawing.Stack {
	r := rand.New(rand.NewPCG(seed, 5))
	s := &drawing.Stack{
		Mark: fmt.Sprintf("R-%03d", seed), Title: "A random stack", ViewName: "SECTION",
		InsideTop: r.IntN(2) == 0, System: units.System(r.IntN(2)),
		InsideLabel: "INSIDE", OutsideLabel: "OUTSIDE", NotForConstruction: r.IntN(3) == 0,
		UseFor: []string{"tests"},
	}
	words := drawing.Words()
	n := 1 + r.IntN(20)
	solid := false
	for i := range n {
		l := drawing.StackLayer{
			Part: fmt.Sprint("layer ", i+1), Head: fmt.Sprint("Layer ", i+1), Key: i + 1,
			Thickness: units.Length(0.001 + 0.2*r.Float64()*r.Float64()*r.Float64()),
			Hatch:     words[r.IntN(len(words))], Controls: []string{"", "A", "AV", "T", "W"}[r.IntN(5)],
		}
		for range r.IntN(3) {
			l.Notes = append(l.Notes, strings.Repeat("some words ", 1+r.IntN(4)))
		}
		switch r.IntN(5) {
		case 0:
			l.Film, l.Hatch, l.Thickness = true, "membrane", 0.0004
		case 1:
			l.Courses = 2 + r.IntN(2)
		case 2:
			l.Framing = studs(0.5+3*r.Float64(), 8+16*r.Float64())
		}
		solid = solid || !l.Film
		s.Layers = append(s.Layers, l)
	}
	if !solid {
		s.Layers[0].Film, s.Layers[0].Thickness = false, 0.1
	}
	if r.IntN(3) == 0 {
		s.Beyond = &drawing.StackLayer{Part: "earth", Hatch: "earth", Head: "Earth", Key: n + 1}
	}
	if r.IntN(3) > 0 {
		p := &drawing.Profile{Inside: 21, Outside: units.Temperature(-25 + 40*r.Float64())}
		for i := range n + 1 {
			p.Faces = append(p.Faces, p.Inside+(p.Outside-p.Inside)*units.Temperature(float64(i)+0.5)/units.Temperature(float64(n)+1))
		}
		s.Temperatures = p
	}
	return s
}

func TestRandomStacks(t *testing.T) {
	for seed := range uint64(400) {
		s := randomStack(seed)
		for _, dress := range []drawing.Dress{drawing.Wide, drawing.Phone, drawing.Thumb} {
			s.Dress = dress
			t.Run(fmt.Sprintf("%d-%d", seed, dress), func(t *testing.T) {
				measureStack(t, s, s.Draw())
			})
		}
	}
}
