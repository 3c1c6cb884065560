package heatflow

import (
	"math"
	"slices"
	"testing"
)

func TestRoundValues(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		most      int
		want      []float64
	}{
		{-5, 20, 6, []float64{0, 5, 10, 15}},
		{-5.1, 20.3, 6, []float64{-5, 0, 5, 10, 15, 20}},
		{0, 1, 3, []float64{0.5}},
		{0.05, 0.75, 7, []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7}},
		{3, 3, 5, nil},
		{0, 1000, 2, []float64{500}},
	} {
		if got := RoundValues(c.low, c.high, c.most); !slices.Equal(got, c.want) {
			t.Errorf("%g to %g, at most %d: %v, want %v", c.low, c.high, c.most, got, c.want)
		}
	}
}

// Every point of an isotherm has its temperature, lines are whole, and they
// end at the outline or close.
func TestIsotherms(t *testing.T) {
	for _, c := range femCases(t) {
		p := c.problem()
		f := solved(t, p, 0.002)
		lines := f.Isotherms(RoundValues(-5, 20, 12), 0.0005)
		if len(lines) < 8 {
			t.Fatalf("%s: %d lines", c.ID, len(lines))
		}
		for _, l := range lines {
			for i, x := range l.Points {
				got, ok := f.TemperatureAt(x[0], x[1])
				if !ok || math.Abs(got-l.Value) > 0.15 {
					t.Errorf("%s: %g °C line passes %.4f, %.4f at %.3f °C", c.ID, l.Value, x[0], x[1], got)
				}
				if i == 0 || i == len(l.Points)-1 {
					if l.Points[0] == l.Points[len(l.Points)-1] {
						continue
					}
					if d := f.fromRim(x[0], x[1]); d > 1e-9 {
						t.Errorf("%s: %g °C line ends %.2g m from the outline", c.ID, l.Value, d)
					}
				}
			}
		}
	}
}

func (f *Field) fromRim(x, y float64) float64 {
	least := math.Inf(1)
	for _, s := range f.g.rim {
		v := f.g.tri[s.t].v
		a, b := v[after(s.i)], v[before(s.i)]
		dx, dy := f.g.x[b]-f.g.x[a], f.g.y[b]-f.g.y[a]
		w := min(max(((x-f.g.x[a])*dx+(y-f.g.y[a])*dy)/(dx*dx+dy*dy), 0), 1)
		least = min(least, math.Hypot(x-f.g.x[a]-w*dx, y-f.g.y[a]-w*dy))
	}
	return least
}

// In a plain wall isotherms are level lines at their depths, and flow lines
// stand square to them, evenly spaced.
func TestLinesOfAPlainWall(t *testing.T) {
	f := solved(t, compositeWall(2, 0), 0.002)
	lines := f.Isotherms([]float64{10}, 0.0001)
	if len(lines) != 1 || len(lines[0].Points) != 2 {
		t.Fatalf("isotherm %v", lines)
	}
	y := 0.0125 + 0.2*(19.150142-10)/(19.150142+4.457035)
	for _, p := range lines[0].Points {
		isNear(t, "depth of 10 °C", p[1], y, 1e-7)
	}
	isNear(t, "length", lines[0].Length(), 2, 1e-9)
	x, _, angle := lines[0].Label(0.25)
	isNear(t, "label", math.Min(math.Abs(x-0.5), math.Abs(x-1.5)), 0, 1e-9)
	isNear(t, "angle", angle, 0, 1e-9)
	flow := f.FlowLines(4, 0.0001)
	if len(flow) != 3 {
		t.Fatalf("%d flow lines", len(flow))
	}
	for _, l := range flow {
		if len(l.Points) != 2 {
			t.Errorf("a flow line of %d points", len(l.Points))
		}
		isNear(t, "flow line", math.Mod(l.Points[0][0]+0.25, 0.5), 0.25, 1e-9)
		isNear(t, "flow line length", l.Length(), 0.3625, 1e-9)
	}
}
