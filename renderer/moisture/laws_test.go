package moisture

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"wythe/renderer/basis"
	"wythe/renderer/published"
	"wythe/renderer/units"
)

func climate(t testing.TB) [12]Month {
	t.Helper()
	var out [12]Month
	for i := range out { // cold winters, humid summers
		out[i] = Month{units.Temperature(8.5 - 12*math.Cos(2*math.Pi*float64(i)/12)), 0.78}
	}
	return out
}

func year(t testing.TB) *Year {
	t.Helper()
	y, err := Conditions(climate(t), Inside{Temperature: 21, Class: 3})
	if err != nil {
		t.Fatal(err)
	}
	return y
}

func random(rng *rand.Rand) *Section {
	s := &Section{SurfaceInside: 0.13, SurfaceOutside: 0.04}
	for i := range 1 + rng.IntN(20) {
		s.Layers = append(s.Layers, Layer{
			Name: fmt.Sprint("layer ", i), Thickness: units.Length(0.2 * rng.Float64()),
			Resistance: units.ThermalResistance(3 * rng.Float64() * rng.Float64()), Sd: units.Length(math.Pow(10, 3*rng.Float64()-2)),
		})
	}
	return s
}

// The pressure line: ends at the airs, never over saturation, convex but where
// it is held, and below saturation only where it is straight. That makes it
// the greatest convex line under saturation.
func TestPressureLine(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	y := year(t)
	for range 300 {
		g, err := newGlaser(random(rng), y)
		if err != nil {
			t.Fatal(err)
		}
		for m := range 12 {
			clear(g.stock)
			g.month(m)
			last := len(g.nodes) - 1
			published.Near(t, "outer end", g.p[0], math.Min(float64(y.Outside[m].Pressure), g.psat[0]), 1e-9)
			published.Near(t, "inner end", g.p[last], math.Min(float64(y.Inside[m].Pressure), g.psat[last]), 1e-9)
			for i := 1; i < last; i++ {
				if g.p[i] > g.psat[i]*(1+1e-12) {
					t.Fatalf("pressure %v over saturation %v", g.p[i], g.psat[i])
				}
				bend := g.slope(i, i+1) - g.slope(i-1, i)
				scale := math.Abs(g.slope(i, i+1)) + math.Abs(g.slope(i-1, i)) + 1
				if bend < -1e-6*scale {
					t.Fatalf("the line bends the wrong way at %d by %v", i, bend)
				}
				if g.p[i] < g.psat[i]*(1-1e-9) && bend > 1e-6*scale {
					t.Fatalf("the line bends below saturation at %d", i)
				}
			}
		}
	}
}

// What condenses less what dries is what is left; nothing is ever negative.
func TestYearBalances(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	y := year(t)
	condensing := 0
	for range 300 {
		c, err := Condense(random(rng), y)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "balance", float64(c.Condensed-c.Dried), float64(c.Left), 1e-9*(1+float64(c.Condensed)))
		if c.StartMonth < 0 {
			if len(c.Months) != 0 || !c.DryAtEnd || c.Greatest != 0 {
				t.Fatalf("a dry year reports %+v", c)
			}
			continue
		}
		condensing++
		before := make([]units.MassPerArea, len(c.Interfaces))
		for k, m := range c.Months {
			if m.Month != (c.StartMonth+k)%12 {
				t.Fatalf("month %d in place %d from %d", m.Month, k, c.StartMonth)
			}
			for j, a := range m.Amounts {
				want := max(0, before[j]+a.Condensate)
				published.Near(t, "accumulated", float64(a.Accumulated), float64(want), 1e-12)
				before[j] = a.Accumulated
			}
		}
		if first := c.Months[0].Total; !(first > 0) {
			t.Fatal("the first month does not condense")
		}
	}
	if condensing < 50 {
		t.Errorf("only %d of 300 condense: the test says little", condensing)
	}
}

// Layers that cancel: one of no sd and no resistance changes nothing, nor does
// a layer split in two as the standard would split it.
func TestLayersThatCancel(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	y := year(t)
	for range 100 {
		s := random(rng)
		want, err := Condense(s, y)
		if err != nil {
			t.Fatal(err)
		}
		more := *s
		more.Layers = nil
		for _, l := range s.Layers {
			n := 1
			if parts(&l)%2 == 0 {
				n = 2
			}
			half := l
			half.Resistance /= units.ThermalResistance(n)
			half.Sd /= units.Length(n)
			for range n {
				more.Layers = append(more.Layers, half, Layer{Name: "nothing"})
			}
		}
		got, err := Condense(&more, y)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "greatest", float64(got.Greatest), float64(want.Greatest), 1e-9*(1+float64(want.Greatest)))
		published.Near(t, "left", float64(got.Left), float64(want.Left), 1e-9*(1+float64(want.Left)))
		if got.StartMonth != want.StartMonth {
			t.Errorf("start %d; want %d", got.StartMonth, want.StartMonth)
		}
	}
}

// A vapor-tight layer lets nothing through; nothing breaks.
func TestVaporTight(t *testing.T) {
	s := &Section{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{
		{Name: "gypsum", Resistance: 0.05, Sd: 0.1}, {Name: "wool", Resistance: 3, Sd: 0.1}, {Name: "steel", Resistance: 0, Sd: units.Length(math.Inf(1))},
	}}
	c, err := Condense(s, year(t))
	if err != nil {
		t.Fatal(err)
	}
	if c.StartMonth < 0 || !c.VaporTight || len(c.Interfaces) != 1 || c.Interfaces[0].Outer != "steel" || c.Interfaces[0].Inner != "wool" {
		t.Errorf("%+v", c)
	}
	// Turned round, the steel keeps the wool dry.
	s.Layers[0], s.Layers[2] = s.Layers[2], s.Layers[0]
	if c, err = Condense(s, year(t)); err != nil || c.StartMonth >= 0 {
		t.Errorf("steel inside: %+v, %v; want a dry year", c, err)
	}
}

func TestVentilatedLayerEndsTheSection(t *testing.T) {
	s := &Section{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{
		{Name: "gypsum", Resistance: 0.05, Sd: 0.1}, {Name: "wool", Resistance: 3, Sd: 0.2}, {Name: "cavity", Resistance: 0.18, Sd: 0.01, Ventilated: true}, {Name: "steel", Sd: 1000},
	}}
	r, err := Analyze(s, year(t), Inside{Temperature: 21, Class: 3}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Condensation.StartMonth >= 0 {
		t.Errorf("the steel outside the cavity counts: %s", r.Verdict)
	}
	published.Near(t, "f_Rsi", r.FRsi, 1-0.25/(0.25+3.05+0.13), 1e-12)
	for _, v := range r.Verdicts {
		if strings.Contains(strings.ToLower(v), "no mold") {
			t.Errorf("a verdict promises: %q", v)
		}
	}
}

func TestClassLimits(t *testing.T) {
	perm := 1 / units.Permeance(1).Perms()
	for perms, want := range map[float64]Class{0: ClassI, 0.1: ClassI, 0.11: ClassII, 1: ClassII, 1.1: ClassIII, 10: ClassIII, 10.1: NotRetarder} {
		got, err := ClassOf(units.Permeance(perms * perm))
		if err != nil || got != want {
			t.Errorf("%v perm: %q, %v; want %q", perms, got, err, want)
		}
	}
	if _, err := ClassOf(-1); err == nil {
		t.Error("a negative permeance has a class")
	}
}

func TestRetarderPlaces(t *testing.T) {
	film := Layer{Name: "film", Sd: 50}
	gypsum, wool, board := Layer{Name: "gypsum", Resistance: 0.05, Sd: 0.1}, Layer{Name: "wool", Resistance: 4, Sd: 0.2, AirOpen: true}, Layer{Name: "board", Resistance: 0.1, Sd: 0.1}
	warm := &Section{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{gypsum, film, wool, board}}
	cold := &Section{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{gypsum, wool, film, board}}
	for s, want := range map[*Section]bool{warm: true, cold: false} {
		got, err := Retarders(s, year(t), false)
		if err != nil || len(got) != 1 || got[0].Suits != want || got[0].Class != ClassI || got[0].Month < 0 {
			t.Errorf("%+v, %v; want suits %v", got, err, want)
		}
	}
}

// July air on cold concrete: dry in January by diffusion and by leakage, but
// in summer room air meets the ground's cold behind the wool.
func TestSummerOnColdConcrete(t *testing.T) {
	soil := Soil{"clay", 1.5, 3e6}
	months := climate(t)
	ground, err := GroundMonths(months, 8.5, 2, soil)
	if err != nil {
		t.Fatal(err)
	}
	y, err := Conditions(months, Inside{Temperature: 21, Class: 2})
	if err != nil {
		t.Fatal(err)
	}
	y.Outside = ground
	s := &Section{SurfaceInside: 0.13, Layers: []Layer{{Name: "gypsum", Resistance: 0.05, Sd: 0.1}, {Name: "wool", Resistance: 2.5, Sd: 0.1, AirOpen: true}, {Name: "concrete", Resistance: 0.1, Sd: 20}, {Name: "coating", Sd: 50}}}
	faces, err := ConcealedFaces(s, y)
	if err != nil || len(faces) != 1 {
		t.Fatalf("%v, %v; want the face behind the wool", faces, err)
	}
	f := faces[0]
	if f.Outer != "concrete" || f.Inner != "wool" || !f.Months[6].Below {
		t.Errorf("%+v; want July below the dew point", f)
	}
	s.Layers[0].AirStop = true
	if faces, err = ConcealedFaces(s, y); err != nil || len(faces) != 0 {
		t.Errorf("%v, %v; want none behind the air control", faces, err)
	}
}

func TestGroundWave(t *testing.T) {
	months := climate(t)
	soil := Soil{"clay", 1.5, 3e6}
	surface, err := GroundMonths(months, 8.5, 0, soil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range surface {
		published.Near(t, "at grade "+MonthNames[i], float64(surface[i].Temperature), float64(months[i].Temperature), 1e-9)
		published.Near(t, "humidity", float64(surface[i].Humidity()), 1, 1e-12)
	}
	deep, err := GroundMonths(months, 8.5, 100, soil)
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "deep", float64(deep[0].Temperature), 8.5, 1e-9)
	// At a depth of π δ the wave is half a year late.
	late, err := GroundMonths(months, 8.5, units.Length(math.Pi*math.Sqrt(3.15e7*1.5/(math.Pi*3e6))), soil)
	if err != nil || late[0].Temperature <= late[6].Temperature {
		t.Errorf("January %v, July %v at half a year's lag", late[0].Temperature, late[6].Temperature)
	}
}

func TestCrawlSpace(t *testing.T) {
	months := climate(t)
	y := year(t)
	ground, err := GroundMonths(months, 8.5, 1.5, Soil{"clay", 1.5, 3e6})
	if err != nil {
		t.Fatal(err)
	}
	air, wet, err := CrawlMonths(y, ground, Crawl{Floor: 0.2, Ground: 2, Outside: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	if len(wet) == 0 {
		t.Error("July air does not reach saturation in a cold crawl space")
	}
	for i := range air {
		low := min(y.Inside[i].Temperature, y.Outside[i].Temperature, ground[i].Temperature)
		high := max(y.Inside[i].Temperature, y.Outside[i].Temperature, ground[i].Temperature)
		if air[i].Temperature < low || air[i].Temperature > high || air[i].Humidity() > 1+1e-12 {
			t.Errorf("%s: %+v", MonthNames[i], air[i])
		}
	}
}

func TestReserveAndHold(t *testing.T) {
	open := &Section{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{
		{Name: "gypsum", Resistance: 0.05, Sd: 0.1}, {Name: "panel", Resistance: 0.12, Sd: 2.5, Wood: true}, {Name: "cellulose", Resistance: 4.5, Sd: 0.4}, {Name: "fiber board", Resistance: 1, Sd: 0.25, Wood: true},
	}}
	r, err := DryingReserve(open, year(t))
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "reserve", float64(r.Reserve), float64(r.Potential-r.Condensed), 1e-15)
	if r.Outer != "fiber board" || !r.EnoughForRoof || len(r.DryingMonths) == 0 {
		t.Errorf("%+v", r)
	}
	tight := *open
	tight.Layers = append(append([]Layer{}, open.Layers...), Layer{Name: "roofing", Sd: 300})
	worse, err := DryingReserve(&tight, year(t))
	if err != nil || worse.Reserve >= r.Reserve {
		t.Errorf("a tight roofing leaves %v of %v, %v", worse.Reserve, r.Reserve, err)
	}
	if h := WoodHold(open); h == nil || len(h.Layers) != 2 || h.Limit != 0.19 {
		t.Errorf("%+v", h)
	}
	if h := WoodHold(&Section{Layers: []Layer{{Name: "concrete"}}}); h != nil {
		t.Errorf("%+v; want no hold without wood", h)
	}
}

// The dew point undoes saturation.
func TestDewPointInverts(t *testing.T) {
	for c := -100.0; c <= 200; c += 0.37 {
		got, err := DewPoint(units.Pressure(psat(t, c)))
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "dew point", float64(got), c, 1e-9)
	}
}

func TestErrorsAreTyped(t *testing.T) {
	nan := math.NaN()
	var out *units.RangeError
	for name, err := range map[string]error{
		"cold":            second(SaturationPressure(-101)),
		"NaN":             second(SaturationPressure(units.Temperature(nan))),
		"no pressure":     second(DewPoint(0)),
		"class 6":         second(Excess(6, 0)),
		"negative sd":     second(Condense(&Section{Layers: []Layer{{Sd: -1}}}, year(t))),
		"no sd":           second(Condense(&Section{Layers: []Layer{{Resistance: 1}}}, year(t))),
		"infinite R":      second(Condense(&Section{Layers: []Layer{{Sd: 1, Resistance: units.ThermalResistance(math.Inf(1))}}}, year(t))),
		"negative film":   second(Condense(&Section{SurfaceInside: -1, Layers: []Layer{{Sd: 1, Resistance: 1}}}, year(t))),
		"month 12":        second(SnapshotOf(&Section{Layers: []Layer{{Sd: 1, Resistance: 1}}}, year(t), 12)),
		"humid":           second(Conditions([12]Month{}, Inside{Temperature: 20, Humidity: 1.5})),
		"wet air":         second(HumidityRatio(2e5, 1e5)),
		"no soil":         second(GroundMonths(climate(t), 8, 1, Soil{})),
		"f over one":      second(SurfaceMonths(year(t), 1.2)),
		"negative layers": second(TemperatureFactor(-1, 0.25, 0.04)),
	} {
		if !errors.As(err, &out) {
			t.Errorf("%s: %v; want a *units.RangeError", name, err)
		}
	}
	var refused *basis.RefusedError
	if _, err := Conditions(climate(t), Inside{Temperature: 21, Class: 5}); !errors.As(err, &refused) {
		t.Errorf("class 5: %v; want a refusal", err)
	}
	var missing *basis.MissingError
	if _, err := Condense(&Section{}, year(t)); !errors.As(err, &missing) {
		t.Errorf("no layers: %v; want what is missing", err)
	}
}

func second[T any](_ T, err error) error { return err }

func TestTrace(t *testing.T) {
	s := random(rand.New(rand.NewPCG(7, 8)))
	r, err := Analyze(s, year(t), Inside{Temperature: 21, Class: 3}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if trace := r.Trace(); len(trace.Inputs) != 3+len(s.Layers) || len(trace.Limits) < 2 {
		t.Errorf("%+v", trace)
	}
}

func BenchmarkAnalyze(b *testing.B) {
	y := year(b)
	for _, n := range []int{5, 20} {
		b.Run(fmt.Sprint(n, " layers"), func(b *testing.B) {
			s := &Section{SurfaceInside: 0.13, SurfaceOutside: 0.04}
			for i := range n {
				s.Layers = append(s.Layers, Layer{Name: "layer", Thickness: 0.05, Resistance: 0.4, Sd: units.Length(0.1 + float64(i%3))})
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Analyze(s, y, Inside{Temperature: 21, Class: 3}, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
