package heatflow

import (
	"math/rand/v2"
	"testing"
)

// A mesh graded along an upright line, with coarse triangles far beside it, is
// cut across the line, not along it.
func TestDissectCutsAcrossALine(t *testing.T) {
	const fine = 1e-5
	var x, y []float64
	var reach []extent
	put := func(cx, cy, size float64) {
		x, y = append(x, cx), append(y, cy)
		reach = append(reach, extent{cx - size, cx + size, cy - size, cy + size})
	}
	for row := range 800 {
		for column := range 2 {
			put(0.175+float64(column)*fine, float64(row)*fine, fine)
		}
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 400 {
		put(0.2+0.6*r.Float64(), 0.01*r.Float64(), 2e-3)
	}
	order := make([]int32, len(x))
	dissect(order, x, y, reach)
	low, high := 0.0, 1.0
	for k, e := range order {
		if k < len(order)/2 {
			low = max(low, y[e])
		} else {
			high = min(high, y[e])
		}
	}
	if low > high {
		t.Errorf("the first half reaches up to %g, the second down to %g: they lie side by side", low, high)
	}
}
