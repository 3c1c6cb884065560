package figures

import (
	"math"
	"os"
	"testing"

	"wythe/renderer/detail"
	"wythe/renderer/heatflow"
)

// BenchmarkHeatFlow works out the heat flow of the demo library's junctions with
// their ground, with the check against mold: two solves each.
func BenchmarkHeatFlow(b *testing.B) {
	lib, err := detail.ReadFS(os.DirFS("../../details"))
	if err != nil {
		b.Fatal(err)
	}
	c := Context{Settings: &lib.Settings, Climate: lib.Climate}
	for _, d := range lib.Details {
		if d.Junction == nil {
			continue
		}
		j := OfJunction(c, d, lib.Detail)
		b.Run(d.Mark, func(b *testing.B) {
			for b.Loop() {
				if h, why := HeatFlowOf(c, j, lib.Detail, heatflow.Cache{}); h != nil {
					b.ReportMetric(float64(h.Field.Unknowns()), "unknowns")
					b.ReportMetric(100*h.Error, "error-%")
				} else if why == "" {
					b.Fatal("no heat flow and no reason")
				}
			}
		})
	}
}

// BenchmarkJunctions solves the demo library's junctions with their soil, to 0.5 %
// of the heat flow and as pages have it: bound-% is the half bracket of their
// coupling, error-% and coldest-K how far the coupling and the coldest inside
// surface are from a far finer solve.
func BenchmarkJunctions(b *testing.B) {
	lib, err := detail.ReadFS(os.DirFS("../../details"))
	if err != nil {
		b.Fatal(err)
	}
	c := Context{Settings: &lib.Settings, Climate: lib.Climate}
	for _, d := range lib.Details {
		if d.Junction == nil {
			continue
		}
		j := OfJunction(c, d, lib.Detail)
		h := &heatBuilder{c: c, s: j.Section, lookup: lib.Detail}
		if h.s == nil || h.build() != nil || !h.facesTwo() {
			continue
		}
		inside := func(s int32) bool { return h.spaces[h.p.Surfaces[s].Space].Inside }
		fine, err := heatflow.Solve(h.p, heatflow.Options{Tolerance: 1e-5, Temperature: 0.0003, Most: 200_000})
		if err != nil {
			b.Fatal(err)
		}
		lo, hi, _ := fine.Bracket()
		cold, _ := fine.Coldest(inside)
		for _, o := range []struct {
			name string
			heatflow.Options
		}{{"0.5%", heatflow.Options{Tolerance: 0.005, Temperature: 1}}, {"as pages", heatflow.Options{Most: mostUnknowns}}} {
			b.Run(d.Mark+"/"+o.name, func(b *testing.B) {
				var f *heatflow.Field
				for b.Loop() {
					if f, err = heatflow.Solve(h.p, o.Options); err != nil {
						b.Fatal(err)
					}
				}
				l, u, _ := f.Bracket()
				spot, _ := f.Coldest(inside)
				b.ReportMetric(float64(f.Unknowns()), "unknowns")
				b.ReportMetric(100*f.ErrorEstimate(), "bound-%")
				b.ReportMetric(100*math.Abs((l+u)/(lo+hi)-1), "error-%")
				b.ReportMetric(math.Abs(spot.Celsius-cold.Celsius), "coldest-K")
			})
		}
	}
}
