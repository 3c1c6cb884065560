package figures

import (
	"math"
	"os"
	"strings"
	"testing"

	"wythe/renderer/detail"
	"wythe/renderer/heatflow"
	"wythe/renderer/moisture"
)

// The demo library's junctions: each is solved or says why, within its bounds,
// and what is said of mold and chains follows from the field.
func TestHeatFlowOfTheDemoLibrary(t *testing.T) {
	lib, err := detail.ReadFS(os.DirFS("../../details"))
	if err != nil {
		t.Fatal(err)
	}
	c := Context{Settings: &lib.Settings, Climate: lib.Climate}
	solved, chains := 0, 0
	for _, d := range lib.Details {
		if d.Junction == nil {
			continue
		}
		j := OfJunction(c, d, lib.Detail)
		j.SolveHeat(c, lib.Detail, heatflow.Cache{})
		h := j.Heat
		if h == nil {
			said := false
			for _, n := range j.NotComputed {
				said = said || n.Key == "heatflow" && n.Why != ""
			}
			if !said {
				t.Errorf("%s: no heat flow and no reason", d.Mark)
			}
			continue
		}
		solved++
		if h.Error > 0.002 || h.HasCoupling && !(h.Low <= h.Coupling && h.Coupling <= h.High) {
			t.Errorf("%s: error %g, %g to %g", d.Mark, h.Error, h.Low, h.High)
		}
		if h.HasFactor && !(h.Factor > 0 && h.Factor < 1 && h.FactorMold < h.Factor) {
			t.Errorf("%s: temperature factor %g, mold check %g", d.Mark, h.Factor, h.FactorMold)
		}
		m := h.Moisture
		if m == nil {
			continue
		}
		if m.MoldFree != (h.FactorMold >= m.Mold.Required) || m.Mold.Required <= m.Condensation.Required {
			t.Errorf("%s: mold free %v at %g, required %g", d.Mark, m.MoldFree, h.FactorMold, m.Mold.Required)
		}
		for _, k := range m.Chains {
			chains++
			if got, ok := h.Field.TemperatureAt(k.Spot.X, k.Spot.Y); !ok || math.Abs(got-k.Spot.Celsius) > 1e-9 {
				t.Errorf("%s: %s chain: %g °C said, %g found", d.Mark, k.Control, k.Spot.Celsius, got)
			}
			warned := false
			for _, i := range j.Findings.Items {
				warned = warned || i.Rule == "control-cold" && strings.HasPrefix(i.Message, string(k.Control))
			}
			if warned && !k.Cold {
				t.Errorf("%s: warned of a %s chain at %.1f °C against %.1f °C", d.Mark, k.Control, float64(k.Temperature), float64(k.DewPoint))
			}
		}
	}
	if solved < 5 || chains < 5 {
		t.Errorf("%d solved, %d chains", solved, chains)
	}
}

// By hand: a place at factor 0.4 in a year of one month kind is 0.4 of the way
// from outside to inside, and cold where that is below the dew point.
func TestColdChainByHand(t *testing.T) {
	y := &moisture.Year{}
	for i := range y.Inside {
		y.Inside[i] = moisture.Air{Temperature: 20, Pressure: 1168.6} // 50 %: dew point 9.3 °C
		y.Outside[i] = moisture.Air{Temperature: 5, Pressure: 600}
	}
	y.Outside[3].Temperature = -5
	k := ColdChain{Factor: 0.4}
	if err := k.worst(y); err != nil {
		t.Fatal(err)
	}
	if k.Month != 3 || math.Abs(float64(k.Temperature)-5) > 1e-12 || math.Abs(float64(k.DewPoint)-9.27) > 0.05 || !k.Cold {
		t.Errorf("%+v", k)
	}
	k = ColdChain{Factor: 0.9}
	if err := k.worst(y); err != nil || k.Cold {
		t.Errorf("%+v, %v", k, err)
	}
}
