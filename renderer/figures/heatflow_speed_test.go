package figures

import (
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
