package figures

import (
	"fmt"
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

// BenchmarkBasementEdge solves J-201 with its soil to an error of its heat flow.
func BenchmarkBasementEdge(b *testing.B) {
	lib, err := detail.ReadFS(os.DirFS("../../details"))
	if err != nil {
		b.Fatal(err)
	}
	c := Context{Settings: &lib.Settings, Climate: lib.Climate}
	j := OfJunction(c, lib.Detail("J-201"), lib.Detail)
	h := &heatBuilder{c: c, s: j.Section, lookup: lib.Detail}
	if err := h.build(); err != nil {
		b.Fatal(err)
	}
	for _, o := range []heatflow.Options{{Tolerance: 0.005, Temperature: 1}, {Tolerance: 0.001, Temperature: 1}, {}} {
		name := "as pages"
		if o.Tolerance > 0 {
			name = fmt.Sprintf("%g%%", 100*o.Tolerance)
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				f, err := heatflow.Solve(h.p, o)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(f.Unknowns()), "unknowns")
				b.ReportMetric(100*f.ErrorEstimate(), "error-%")
			}
		})
	}
}
