package drawing_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"wythe/renderer/drawing"
	"wythe/renderer/units"
)

func TestDimensionText(t *testing.T) {
	for _, c := range []struct {
		metres float64
		system units.System
		want   string
	}{
		{0.127, units.Inch, "5″"},
		{0.0889, units.Inch, "3 1/2″"},
		{0.301625, units.Inch, "11 7/8″"},
		{0.3048, units.Inch, "1′-0″"},
		{0.4826, units.Inch, "1′-7″"},
		{0.009525, units.Inch, "3/8″"},
		{0.1, units.Inch, "3 15/16″"}, // 3.937 in, to 1/16
		{0.127, units.Metric, "127"},
		{0.0125, units.Metric, "12.5"},
		{0.0127, units.Metric, "13"},
		{0.1025, units.Metric, "102.5"},
		{0.009525, units.Metric, "9.5"},
		{0.0007, units.Metric, "0.7"},
		{0.006, units.Metric, "6"},
		{0, units.Metric, "0"},
		{1.2, units.Metric, "1200"},
	} {
		if got := drawing.DimensionText(units.Length(c.metres), c.system); got != c.want {
			t.Errorf("%g m is %q; want %q", c.metres, got, c.want)
		}
	}
}

// TestChains: whatever the stops, no text of two tiers lies over another, and
// all stay within Extent along the line and Reach across it.
func TestChains(t *testing.T) {
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 9))
		border := drawing.Border(r.IntN(4))
		n := 1 + r.IntN(10)
		inner, outer := &drawing.Chain{Stops: []float64{20}}, &drawing.Chain{Texts: []string{"1′-10 1/2″"}}
		for range n {
			inner.Stops = append(inner.Stops, inner.Stops[len(inner.Stops)-1]+0.4+25*r.Float64()*r.Float64())
			inner.Texts = append(inner.Texts, []string{"5″", "11 7/8″", "3/4″", "1′-0″", "152"}[r.IntN(5)])
		}
		outer.Stops = []float64{inner.Stops[0], inner.Stops[n]}
		d := drawing.NewDraft()
		reach := d.Tiers(border, 100, 6, inner, outer)
		root := d.Root()
		drawn := &drawing.Drawing{Root: root, Width: 500, Height: 500}
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			measureTexts(t, drawn)
			box := drawing.Bounds(&root)
			far := map[drawing.Border]float64{drawing.Below: box.Max.Y - 100, drawing.Above: 100 - box.Min.Y, drawing.LeftOf: 100 - box.Min.X, drawing.RightOf: box.Max.X - 100}[border]
			if far > reach+1.1 { // ticks and rounding of letters' height aside
				t.Errorf("border %d: reaches %.2f mm, said %.2f", border, far, reach)
			}
			lines := 0
			eachGroup(&root, "dimension", func(*drawing.Group) { lines++ })
			if lines != 2 {
				t.Errorf("%d strings", lines)
			}
		})
	}
}
