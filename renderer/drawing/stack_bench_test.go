package drawing_test

import (
	"testing"

	"wythe/renderer/drawing"
)

// BenchmarkStack draws one assembly in three dresses, hatches included.
func BenchmarkStack(b *testing.B) {
	for _, c := range []struct {
		name  string
		stack *drawing.Stack
	}{{"slab", basementSlab()}, {"wall", deepWall()}} {
		b.Run(c.name, func(b *testing.B) { benchDresses(b, c.stack) })
		plain := *c.stack
		plain.Layers = append([]drawing.StackLayer(nil), plain.Layers...)
		for i := range plain.Layers {
			l := &plain.Layers[i]
			l.Hatch = "none"
			if l.Framing != nil {
				f := *l.Framing
				f.Hatch = "none"
				l.Framing = &f
			}
		}
		if plain.Beyond != nil {
			beyond := *plain.Beyond
			beyond.Hatch = "none"
			plain.Beyond = &beyond
		}
		b.Run(c.name+"-without-hatches", func(b *testing.B) { benchDresses(b, &plain) })
	}
}

func benchDresses(b *testing.B, s *drawing.Stack) {
	b.ReportAllocs()
	for b.Loop() {
		for _, dress := range []drawing.Dress{drawing.Wide, drawing.Phone, drawing.Thumb} {
			s.Dress = dress
			s.Draw()
		}
	}
	s.Dress = drawing.Wide
}
