package heatflow

import (
	"fmt"
	"syscall"
	"testing"
)

func BenchmarkCases(b *testing.B) {
	for _, c := range femCases(b) {
		p := c.problem()
		for _, tol := range []float64{0.005, 0.001} {
			b.Run(fmt.Sprintf("%s/%g%%", c.ID, tol*100), func(b *testing.B) {
				b.ReportAllocs()
				start := processorTime()
				for b.Loop() {
					f, err := Solve(p, Options{Tolerance: tol})
					if err != nil {
						b.Fatal(err)
					}
					b.ReportMetric(float64(f.p.n), "unknowns")
				}
				b.ReportMetric((processorTime()-start)*1e3/float64(b.N), "cpu-ms/op")
			})
		}
	}
}

// processorTime is what the process has used of the processors, s: other work
// on the machine does not count.
func processorTime() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return float64(u.Utime.Sec+u.Stime.Sec) + float64(u.Utime.Usec+u.Stime.Usec)*1e-6
}
