package bearing

import (
	"errors"
	"math"
	"testing"

	"wythe/renderer/basis"
	"wythe/renderer/published"
	"wythe/renderer/units"
)

func middle() Point { return Point{Force: pounds(2000), On: [2]units.Length{0.1016, 0.1016}} }

// By hand: f′c 3,000 psi, E 3.122e6 psi, h 5 in, ν 0.15, k 565 pci: l 15.16 in,
// a 2.257 in; middle 2000/(8 l²) (1 - 0.0153...) = 1.07 psi.
func TestPlateByHand(t *testing.T) {
	got, err := PlatePressure(middle(), Slab{Thickness: units.Inches(5)}, []FoundationModulus{PerCubicInch(565)})
	if err != nil {
		t.Fatal(err)
	}
	e := 57000 * math.Sqrt(3000)
	l := math.Pow(e*125/(12*(1-0.0225)*565), 0.25)
	a := 4 / math.Sqrt(math.Pi)
	want := 2000 / (8 * l * l) * (1 + (math.Log(a/(2*l))-0.673)/(2*math.Pi)*(a/l)*(a/l))
	published.Near(t, "l, in", got.Stiffness.Inches(), l, 1e-9*l)
	published.Near(t, "pressure, psi", float64(got.Pressure)/psi, want, 1e-9*want)
	published.Near(t, "settlement, in", got.Settles.Inches(), want/565, 1e-9)
	// The trap of the source: the spread gives about ten times as much.
	spread, err := SpreadPressure(middle(), units.Inches(5))
	if err != nil {
		t.Fatal(err)
	}
	if ratio := float64(spread.Pressure / got.Pressure); ratio < 8 || ratio > 12 {
		t.Errorf("the spread gives %.1f times the plate", ratio)
	}
}

// Nearer the edges it gets worse, by both methods.
func TestPlacesInOrder(t *testing.T) {
	lastSpread, lastPlate := 0.0, 0.0
	for _, where := range []Where{Middle, EdgeOf, Corner} {
		p := middle()
		p.Where = where
		s, err := SpreadPressure(p, units.Inches(5))
		if err != nil {
			t.Fatal(err)
		}
		b, err := PlatePressure(p, Slab{Thickness: units.Inches(5)}, []FoundationModulus{PerCubicInch(300)})
		if err != nil {
			t.Fatal(err)
		}
		if float64(s.Pressure) <= lastSpread || float64(b.Pressure) <= lastPlate {
			t.Errorf("%s: %v, %v Pa are not worse than before", where, s.Pressure, b.Pressure)
		}
		lastSpread, lastPlate = float64(s.Pressure), float64(b.Pressure)
	}
}

// At an edge the worse side of an oblong plate lies along it.
func TestOblongPlateAtAnEdge(t *testing.T) {
	a, err := SpreadPressure(Point{Force: 1e4, On: [2]units.Length{0.1, 0.3}, Where: EdgeOf}, 0.15)
	if err != nil {
		t.Fatal(err)
	}
	b, err := SpreadPressure(Point{Force: 1e4, On: [2]units.Length{0.3, 0.1}, Where: EdgeOf}, 0.15)
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "area", float64(a.Area), float64(b.Area), 1e-12)
	published.Near(t, "area", float64(a.Area), math.Min(0.25*0.6, 0.4*0.45), 1e-12)
}

func TestTheWorseGoverns(t *testing.T) {
	p := middle()
	l := &Load{Dead: 3000, Live: 2000, Rated: psis(25), Point: &p, Slab: Slab{Thickness: units.Inches(5)}, Bed: []FoundationModulus{PerCubicInch(565)}}
	for approach, want := range map[Approach]string{"": "point load, 45° spread", Worse: "point load, 45° spread", Spread: "point load, 45° spread", Plate: "point load, plate on an elastic bed"} {
		l.Approach = approach
		r, err := Solve(l)
		if err != nil || r.Governs != want || r.PointSpread == 0 || r.PointPlate == 0 {
			t.Errorf("%q: %+v, %v; want %s, both shown", approach, r, err, want)
		}
		if r.Applied < r.Uniform {
			t.Errorf("%q: %v Pa is below the uniform load", approach, r.Applied)
		}
		if trace := r.Trace(); len(trace.Inputs) < 6 || len(trace.Limits) != len(Facts) {
			t.Errorf("%+v", trace)
		}
	}
	l.Live = 60e3 // a load that outweighs the point
	l.Approach = Plate
	if r, err := Solve(l); err != nil || r.Governs != "uniform load" {
		t.Errorf("%+v, %v; want the uniform load", r, err)
	}
	l.Bed = nil
	var missing *basis.MissingError
	if _, err := Solve(l); !errors.As(err, &missing) {
		t.Errorf("%v; want what is missing", err)
	}
}

func TestWeights(t *testing.T) {
	got, err := Weigh([]Layer{
		{Name: "slab", Thickness: 0.1, Density: 2400},
		{Name: "studs", Thickness: 0.2, Density: 50, Fraction: 0.1, FramingDensity: 500},
		{Name: "cavity", Thickness: 0.05, Weightless: true, Density: 1.2},
		{Name: "panel", Thickness: 0.02},
		{Name: "nothing"},
	})
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "mass", float64(got.Mass), 240+0.2*(45+50), 1e-12)
	published.Near(t, "weight", float64(got.Weight), float64(got.Mass)*Gravity, 1e-9)
	if len(got.Missing) != 1 || got.Missing[0] != "panel" {
		t.Errorf("missing %v; want the panel", got.Missing)
	}
}

// Each weight counts once: what lies on the foam eases it, and never turns it
// negative.
func TestUpliftCountsOnce(t *testing.T) {
	p := &Pour{Concrete: 2400, Floats: []Layer{{Name: "foam", Thickness: 0.1, Density: 30}}, On: []Layer{{Name: "film", Thickness: 0.0004, Density: 950}}}
	r, err := p.Solve()
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "uplift", float64(r.Uplift), (240-3-0.38)*Gravity, 1e-9)
	published.Near(t, "parts", float64(r.Displaced-r.OwnWeight-r.OnWeight), float64(r.Uplift), 1e-9)
	p.On[0].Thickness = 1
	if r, err = p.Solve(); err != nil || r.Uplift != 0 || r.Ballast != 0 {
		t.Errorf("%+v, %v; want none under a load", r, err)
	}
	p.Floats[0].Density = 0
	var missing *basis.MissingError
	if _, err := p.Solve(); !errors.As(err, &missing) {
		t.Errorf("%v; want what is missing", err)
	}
}

func TestErrorsAreTyped(t *testing.T) {
	fine := func() *Load {
		p := middle()
		return &Load{Dead: 3000, Live: 2000, Rated: 1e5, Point: &p, Slab: Slab{Thickness: 0.1}, Bed: []FoundationModulus{1e8}}
	}
	for name, spoil := range map[string]func(*Load){
		"negative dead":       func(l *Load) { l.Dead = -1 },
		"NaN live":            func(l *Load) { l.Live = units.Pressure(math.NaN()) },
		"infinite live":       func(l *Load) { l.Live = units.Pressure(math.Inf(1)) },
		"negative rated":      func(l *Load) { l.Rated = -1 },
		"derating over one":   func(l *Load) { l.Derating = 2 },
		"no force":            func(l *Load) { l.Point.Force = 0 },
		"no plate":            func(l *Load) { l.Point.On[1] = 0 },
		"unknown place":       func(l *Load) { l.Point.Where = "roof" },
		"negative slab":       func(l *Load) { l.Slab.Thickness = -1 },
		"unknown approach":    func(l *Load) { l.Approach = "best" },
		"negative derating":   func(l *Load) { l.Derating = -1 },
		"infinite resistance": func(l *Load) { l.Rated = units.Pressure(math.Inf(1)) },
	} {
		l := fine()
		spoil(l)
		var out *units.RangeError
		if _, err := Solve(l); !errors.As(err, &out) {
			t.Errorf("%s: %v; want a *units.RangeError", name, err)
		}
	}
	l := fine()
	l.Rated = 0
	var missing *basis.MissingError
	if _, err := Solve(l); !errors.As(err, &missing) {
		t.Errorf("%v; want what is missing", err)
	}
	var refused *basis.RefusedError
	if _, err := XPSModulus(psis(33), units.Inches(2)); !errors.As(err, &refused) {
		t.Errorf("33 psi: %v; want a refusal", err)
	}
	var out *units.RangeError
	if _, err := XPSModulus(psis(25), units.Inches(6)); !errors.As(err, &out) {
		t.Errorf("6 in: %v; want a *units.RangeError", err)
	}
	wide := Point{Force: 1e4, On: [2]units.Length{3, 3}}
	if _, err := PlatePressure(wide, Slab{Thickness: 0.1}, []FoundationModulus{1e8}); !errors.As(err, &out) {
		t.Errorf("a plate of 3 m: %v; want a *units.RangeError", err)
	}
}

func BenchmarkSolve(b *testing.B) {
	p := middle()
	l := &Load{Dead: 3000, Live: 2000, Rated: 1e5, Point: &p, Slab: Slab{Thickness: 0.1}, Bed: []FoundationModulus{1e8}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Solve(l); err != nil {
			b.Fatal(err)
		}
	}
}

// Lighter and heavier concrete, by the coefficients of ACI 347: 110 pcf
// 0.5 (1 + 110/145), never under 0.8; 160 pcf 160/145.
func TestFormPressureByWeight(t *testing.T) {
	for w, want := range map[float64]float64{110: 0.5 * (1 + 110/145.0), 70: 0.8, 145: 1, 160: 160 / 145.0} {
		got, err := FormPressure(Form{Concrete: pcf(w), RiseMPerH: 5 * 0.3048, Temperature: units.FromFahrenheit(70), Height: units.Feet(13)})
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "design psf", float64(got)/psf, want*(150+9000*5/70.0), 1e-6)
	}
	head, err := FormPressure(Form{Concrete: pcf(150), RiseMPerH: 20 * 0.3048, Temperature: 20, Height: units.Feet(10)})
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "above 15 ft/h", float64(head)/psf, 1500, 1e-6)
}
