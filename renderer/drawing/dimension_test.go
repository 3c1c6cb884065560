package drawing_test

import (
	"fmt"
	"math"
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

// TestDodge: words of upright strings keep clear of leaders where they can,
// stay between their ticks or in their order, and strings that end at one stop
// do not stand before each other.
func TestDodge(t *testing.T) {
	lead := func(y float64) drawing.PlacedCallout {
		return drawing.PlacedCallout{Callout: drawing.Callout{At: drawing.Point{X: 0, Y: y}}, Elbow: drawing.Point{X: 60, Y: y}, Bubble: drawing.Point{X: 64, Y: y}}
	}
	for _, c := range []*drawing.Chain{
		{Border: drawing.RightOf, At: 30, Stops: []float64{0, 40}, Texts: []string{"1′-0″"}},
		{Border: drawing.RightOf, At: 30, Stops: []float64{0, 18, 22, 40}, Texts: []string{"6″", "½″", "6″"}},
	} {
		placed := []drawing.PlacedCallout{lead((c.Stops[0] + c.Stops[1]) / 2), lead(20)}
		count := func() int {
			d := drawing.NewDraft()
			d.Dimension(c)
			root := d.Root()
			n, last := 0, math.Inf(-1)
			for _, x := range texts(&root, nil) {
				w := drawing.Measure(x.Face, x.Weight, x.Size, x.Text)
				var b drawing.Box
				if x.Turn == 90 {
					b.Add(x.At.X-2.2, x.At.Y-w/2)
					b.Add(x.At.X, x.At.Y+w/2)
				} else {
					b.Add(x.At.X, x.At.Y-2.2)
					b.Add(x.At.X+w, x.At.Y)
				}
				n += drawing.Crossed(placed, b)
				if x.At.Y <= last {
					t.Errorf("%v: the words stand out of order", c.Texts)
				}
				last = x.At.Y
				if b.Min.Y < -6 || b.Max.Y > 46 {
					t.Errorf("%v: %q stands at %v", c.Texts, x.Text, b)
				}
			}
			return n
		}
		if count() == 0 {
			t.Errorf("%v: no leader runs through the words at first", c.Texts)
		}
		c.Dodge(placed, 20)
		if n := count(); n != 0 {
			t.Errorf("%v: leaders run through %d words", c.Texts, n)
		}
	}
	a := &drawing.Chain{Border: drawing.LeftOf, Stops: []float64{0, 20}, Texts: []string{"6″"}}
	b := &drawing.Chain{Border: drawing.LeftOf, Stops: []float64{20, 40}, Texts: []string{"6″"}}
	c := &drawing.Chain{Border: drawing.LeftOf, Stops: []float64{10, 40}, Texts: []string{"9″"}}
	if a.Abreast(b) || b.Abreast(a) || !c.Abreast(a) || !c.Abreast(b) {
		t.Error("strings end to end stand before each other, or overlapping ones do not")
	}
}

// TestDodgeLevel: words between ticks that leaders leave no room along the line
// are set level between two leaders, if there is room beside it.
func TestDodgeLevel(t *testing.T) {
	var placed []drawing.PlacedCallout
	for y := 0.0; y <= 20; y += 5 {
		placed = append(placed, drawing.PlacedCallout{Callout: drawing.Callout{At: drawing.Point{X: 0, Y: y}}, Elbow: drawing.Point{X: 60, Y: y}, Bubble: drawing.Point{X: 64, Y: y}})
	}
	for _, c := range []struct {
		room float64
		turn float64 // of the words
	}{{20, 0}, {4, 90}} {
		chain := &drawing.Chain{Border: drawing.RightOf, At: 30, Stops: []float64{0, 20}, Texts: []string{"1 3/4″"}}
		chain.Dodge(placed, c.room)
		d := drawing.NewDraft()
		d.Dimension(chain)
		root := d.Root()
		for _, x := range texts(&root, nil) {
			if x.Turn != c.turn {
				t.Errorf("with %g mm beside the line the words are turned by %g degrees, want %g", c.room, x.Turn, c.turn)
			}
			if c.turn != 0 {
				continue
			}
			var b drawing.Box
			b.Add(x.At.X, x.At.Y-x.Size*0.7)
			b.Add(x.At.X+x.Width(), x.At.Y)
			if n := drawing.Crossed(placed, b); n > 0 {
				t.Errorf("%d leaders run through words set level at %v", n, b.Min)
			}
		}
	}
}
