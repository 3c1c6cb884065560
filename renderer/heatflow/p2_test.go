package heatflow

import (
	"fmt"
	"math"
	"testing"
)

func tuneSet(t testing.TB) map[string]*Problem {
	out := map[string]*Problem{"iso2": metalCase(), "slab": slabEdge()}
	for _, c := range femCases(t) {
		out[c.ID] = c.problem()
	}
	return out
}
func slabEdge() *Problem {
	// Materials: soil, concrete, foam, stone, wool, board.
	l := &Layout{Areas: []Area{
		box(0, -20, -20, 4, 2.032),
		box(3, 0.2, -0.33, 4, -0.127),        // stone
		box(1, -0.05, -0.483, 0.458, -0.229), // footing
		box(2, 0.2, -0.203, 4, -0.127),
		box(1, 0.2, -0.127, 4, 0),
		box(2, 0.2, -0.203, 0.251, 0),
		box(1, 0, -0.229, 0.2, 3.4),
		box(2, 0.2, 0.0127, 0.276, 3.4),
		box(4, 0.276, 0, 0.366, 3.4),
		box(5, 0.366, 0, 0.3787, 3.4),
		box(2, 0.2, 0, 0.276, 0.0127),
	}, Surfaces: []Line{
		line(0, at(0.3787, 3.4), at(0.3787, 0)), line(1, at(0.3787, 0), at(4, 0)),
		line(2, at(-20, 2.032), at(0, 2.032)), line(2, at(0, 2.032), at(0, 3.4)),
	}}
	p := l.Problem()
	p.Regions = []Region{{1.5}, {1.95}, {0.034}, {1.4}, {0.037}, {0.25}}
	p.Spaces = []Space{{"inside", 20}, {"outside", -10}}
	p.Surfaces = []Surface{{0, 0.13}, {0, 0.17}, {1, 0.04}}
	return p
}
func TestTrace(t *testing.T) {
	for _, name := range []string{"iso2", "slab", "case-04", "case-05", "case-10b"} {
		for _, tol := range []float64{0.005, 0.001} {
			sum := ""
			cost := 0.0
			f, err := Solve(tuneSet(t)[name], Options{Tolerance: tol, trace: func(s string, a ...any) {
				sum += fmt.Sprintf(" | %d %.2g %.2g", a[2], a[3], a[4])
				cost += math.Pow(float64(a[2].(int)), 1.2)
			}})
			if err != nil {
				t.Fatal(err)
			}
			lo, hi, _ := f.Bracket()
			t.Logf("%s %g cost %.0f L %.6f: %s", name, tol, cost, (lo+hi)/2, sum)
		}
	}
}
