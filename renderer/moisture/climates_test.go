package moisture

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"wythe/renderer/published"
	"wythe/renderer/units"
)

// Layers without sd share one pressure, and the coldest of their faces holds it.
func TestLayersWithoutSd(t *testing.T) {
	y := year(t)
	s := &Section{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{{Name: "gypsum", Resistance: 0.05, Sd: 0.1}, {Name: "wool", Resistance: 3}, {Name: "steel", Sd: 100}}}
	c, err := Condense(s, y)
	if err != nil {
		t.Fatal(err)
	}
	thin := *s
	thin.Layers = append([]Layer{}, s.Layers...)
	thin.Layers[1].Sd = 1e-9
	want, err := Condense(&thin, y)
	if err != nil {
		t.Fatal(err)
	}
	if c.StartMonth < 0 || len(c.Interfaces) != 1 || c.Interfaces[0].Outer != "steel" {
		t.Fatalf("%+v", c)
	}
	published.Near(t, "as a layer of next to no sd", float64(c.Greatest), float64(want.Greatest), 1e-6*float64(want.Greatest))
}

// In a hot and humid summer the moister air is outside, and a film near the
// cool room is the wrong way round.
func TestRetarderInAHotClimate(t *testing.T) {
	var hot [12]Month
	for i := range hot {
		hot[i] = Month{30, 0.85}
	}
	y, err := Conditions(hot, Inside{Temperature: 22, Humidity: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	s := &Section{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{{Name: "gypsum", Resistance: 0.05, Sd: 0.1}, {Name: "film", Sd: 50}, {Name: "wool", Resistance: 3, Sd: 0.1}, {Name: "board", Resistance: 0.1, Sd: 0.1}}}
	got, err := Retarders(s, y, false)
	if err != nil || len(got) != 1 || got[0].Suits || got[0].InsideFace {
		t.Errorf("%+v, %v; want a film that meets outside air below its dew point", got, err)
	}
}

// A quarter of a wave down, the ground is a quarter of a year late.
func TestGroundIsLate(t *testing.T) {
	depth := units.Length(math.Pi / 2 * math.Sqrt(3.15e7*1.5/(math.Pi*3e6)))
	got, err := GroundMonths(climate(t), 8.5, depth, Soil{"clay", 1.5, 3e6})
	if err != nil {
		t.Fatal(err)
	}
	coldest := 0
	for i := range got {
		if got[i].Temperature < got[coldest].Temperature {
			coldest = i
		}
	}
	if coldest != 3 {
		t.Errorf("coldest in %s; want Apr", MonthNames[coldest])
	}
}

// Room air cannot hold more than saturation.
func TestInsideIsCutBack(t *testing.T) {
	months := climate(t)
	months[6] = Month{24, 0.95}
	y, err := Conditions(months, Inside{Temperature: 20, Class: 4})
	if err != nil {
		t.Fatal(err)
	}
	if len(y.Saturated) != 1 || y.Saturated[0] != 6 {
		t.Errorf("cut back in %v; want July", y.Saturated)
	}
	published.Near(t, "humidity", float64(y.Inside[6].Humidity()), 1, 1e-12)
}

// A snapshot runs from the inside face to the outside one.
func TestSnapshotDepths(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	y := year(t)
	for range 50 {
		s := random(rng)
		snap, err := SnapshotOf(s, y, 0)
		if err != nil {
			t.Fatal(err)
		}
		thickness, faces := 0.0, 0
		for i, p := range snap.Points {
			if i > 0 && (p.Depth < snap.Points[i-1].Depth || p.Sd < snap.Points[i-1].Sd || p.Temperature > snap.Points[i-1].Temperature) {
				t.Fatalf("point %d is out of order", i)
			}
			if p.Face {
				if faces > 0 {
					thickness += float64(s.Layers[faces-1].Thickness)
				}
				published.Near(t, "depth", float64(p.Depth), thickness, 1e-12)
				faces++
			}
		}
		if faces != len(s.Layers)+1 {
			t.Errorf("%d faces of %d layers", faces, len(s.Layers))
		}
		first, last := snap.Points[0], snap.Points[len(snap.Points)-1]
		published.Near(t, "straight inside", float64(first.Straight), float64(y.Inside[0].Pressure), 1e-9)
		published.Near(t, "straight outside", float64(last.Straight), float64(y.Outside[0].Pressure), 1e-9)
	}
}

// The same where the inner face is the colder one.
func TestLayersWithoutSdInAHotClimate(t *testing.T) {
	var hot [12]Month
	for i := range hot {
		hot[i] = Month{30, 0.85}
	}
	y, err := Conditions(hot, Inside{Temperature: 22, Humidity: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	greatest := func(sd units.Length) float64 {
		c, err := Condense(&Section{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{{Name: "film", Sd: 50}, {Name: "wool", Resistance: 3, Sd: sd}, {Name: "board", Resistance: 0.1, Sd: 0.1}}}, y)
		if err != nil {
			t.Fatal(err)
		}
		return float64(c.Greatest)
	}
	if want := greatest(1e-9); want == 0 {
		t.Error("the film stays dry: the test says little")
	} else {
		published.Near(t, "as a layer of next to no sd", greatest(0), want, 1e-6*want)
	}
}

// A poor wall: the surface is humid, and the verdict names the months.
func TestHumidSurface(t *testing.T) {
	y := year(t)
	s := &Section{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{{Name: "concrete", Resistance: 0.3, Sd: 10}}}
	r, err := Analyze(s, y, Inside{Temperature: 21, Class: 3}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if r.SurfaceBelow || len(r.SurfaceMonths) == 0 || !(r.FRsi < r.Required.Required) || !strings.Contains(r.Verdicts[1], "80 % or above in Jan") {
		t.Errorf("f %.3f of %.3f, months %v, %q", r.FRsi, r.Required.Required, r.SurfaceMonths, r.Verdicts)
	}
	for m, v := range r.Surface {
		if least := r.Required.Months[m].SurfaceLeast; (v.Humidity >= CriticalMould) != (v.Temperature <= least) {
			t.Errorf("%s: %.3f humid at %v, limit %v", MonthNames[m], float64(v.Humidity), v.Temperature, least)
		}
	}
}
