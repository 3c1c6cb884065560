package heatflow

import "testing"

func TestProbe(t *testing.T) {
	for _, c := range femCases(t) {
		for _, tol := range []float64{0.005,0.001} {
		f, err := Solve(c.problem(), Options{Tolerance: tol, trace: t.Logf})
		if err != nil {
			t.Fatal(err)
		}
		t.Log(c.ID, f.bounds, c.Results.L2D, c.Results.Couplings, f.p.worst)
		}
	}
}
