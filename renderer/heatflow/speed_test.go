package heatflow

import (
	"fmt"
	"testing"
)

func BenchmarkCases(b *testing.B) {
	for _, c := range femCases(b) {
		p := c.problem()
		for _, tol := range []float64{0.005, 0.001} {
			b.Run(fmt.Sprintf("%s/%g%%", c.ID, tol*100), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					f, err := Solve(p, Options{Tolerance: tol})
					if err != nil {
						b.Fatal(err)
					}
					b.ReportMetric(float64(f.p.n), "unknowns")
				}
			})
		}
	}
}
