package drawing

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// chartTexts gathers every text of a drawing.
func chartTexts(n Node, shift Point, out *[]Text) {
	switch n := n.(type) {
	case *Group:
		for _, m := range n.Nodes {
			chartTexts(m, Point{shift.X + n.Shift.X, shift.Y + n.Shift.Y}, out)
		}
	case *Text:
		t := *n
		t.At = Point{t.At.X + shift.X, t.At.Y + shift.Y}
		*out = append(*out, t)
	}
}

// Lines that end in one place keep their labels a line apart.
func TestChartLabelsKeepApart(t *testing.T) {
	for n := 2; n <= 4; n++ {
		c := Chart{X: Axes{Label: "X"}, Y: Axes{Label: "Y", Min: 0, Max: 10}}
		for i := range n {
			c.Series = append(c.Series, Series{Label: "Line " + strconv.Itoa(i), Points: []Point{{0, float64(i)}, {1, 5}}})
		}
		d := c.Draw()
		var all, labels []Text
		chartTexts(&d.Root, Point{}, &all)
		for _, text := range all {
			if len(text.Text) != 6 || text.Text[:4] != "Line" {
				continue
			}
			if len(labels) == 0 || labels[len(labels)-1].Text != text.Text { // a cased text may stand twice
				labels = append(labels, text)
			}
		}
		if len(labels) != n {
			t.Fatalf("%d labels stand, want %d", len(labels), n)
		}
		for i := range labels {
			for j := range i {
				if gap := math.Abs(labels[i].At.Y - labels[j].At.Y); gap < labelPitch-1e-6 {
					t.Errorf("labels %d and %d of %d are %.3f mm apart", i, j, n, gap)
				}
			}
		}
	}
}

// Ticks are round numbers, between 2 and 12 of them, within the axis, and a
// step never prints digits it does not have.
func TestChartTicksAreRound(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 500 {
		lo := (r.Float64() - 0.5) * math.Pow(10, float64(r.IntN(7)-3))
		a := Axes{Min: lo, Max: lo + r.Float64()*math.Pow(10, float64(r.IntN(7)-3)) + 1e-6}
		ticks := a.ticks(5)
		if len(ticks) < 2 || len(ticks) > 12 {
			t.Fatalf("%g to %g: %d ticks", a.Min, a.Max, len(ticks))
		}
		step := ticks[1].At - ticks[0].At
		m := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9))
		if math.Abs(m-1) > 1e-6 && math.Abs(m-2) > 1e-6 && math.Abs(m-5) > 1e-6 && math.Abs(m-10) > 1e-6 {
			t.Errorf("%g to %g: a step of %g", a.Min, a.Max, step)
		}
		for _, tick := range ticks {
			if tick.At < a.Min-step*1e-6 || tick.At > a.Max+step*1e-6 {
				t.Errorf("%g to %g: a tick at %g", a.Min, a.Max, tick.At)
			}
		}
	}
}

// A chart says true: a point stands where its axes put it.
func TestChartPlaces(t *testing.T) {
	p := plot{x: Axes{Min: 0, Max: 10}, y: Axes{Min: -5, Max: 5}, x0: 10, x1: 90, y0: 5, y1: 45}
	for _, c := range []struct{ in, want Point }{
		{Point{0, -5}, Point{10, 45}}, {Point{10, 5}, Point{90, 5}}, {Point{5, 0}, Point{50, 25}},
	} {
		if got := p.at(c.in); got != c.want {
			t.Errorf("%v stands at %v, want %v", c.in, got, c.want)
		}
	}
}
