package ground

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"wythe/renderer/basis"
	"wythe/renderer/published"
	"wythe/renderer/units"
)

func plain() *Slab {
	return &Slab{Plan: Plan{Area: 100, Perimeter: 40, Wall: 0.3}, Soil: Soils[0], Floor: 1, SurfaceInside: 0.17, SurfaceOutside: 0.04}
}

func solved(t *testing.T, s interface{ Solve() (*Result, error) }) *Result {
	t.Helper()
	r, err := s.Solve()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Published case "limits": U falls as B′ grows and as Rf grows, across the
// join too, but for the join's own step of 0.014 %.
func TestMonotone(t *testing.T) {
	for _, lambda := range []float64{1.5, 2, 3.5} {
		last := math.Inf(1)
		for b := 1.0; b < 40; b *= 1.02 {
			u, _ := slab(lambda, b, 5)
			if u > last*(1+1.5e-4) {
				t.Errorf("U rises to %v at B′ %v", u, b)
			}
			last = u
		}
		last = math.Inf(1)
		for dt := 0.3; dt < 40; dt *= 1.02 {
			u, _ := slab(lambda, 5, dt)
			if u > last {
				t.Errorf("U rises to %v at d_t %v", u, dt)
			}
			last = u
		}
	}
}

func TestThickFloor(t *testing.T) {
	s := plain()
	s.Floor = 50
	r := solved(t, s)
	want := 1 / (0.17 + 50 + 0.04 + 0.457*5/1.5 + 0.3/1.5)
	published.Near(t, "U", float64(r.Transmittance), want, 1e-12)
}

func TestShallowBasementIsASlab(t *testing.T) {
	slabU := solved(t, plain()).Transmittance
	for _, z := range []units.Length{0, 1e-9} {
		b := &Basement{Plan: plain().Plan, Soil: Soils[0], Floor: 1, Walls: 2, SurfaceFloor: 0.17, SurfaceWall: 0.13, SurfaceOutside: 0.04, Depth: z}
		r := solved(t, b)
		published.Near(t, "U_bf", float64(r.Transmittance), float64(slabU), 1e-8)
		published.Near(t, "H", r.AnnualWPerK, 100*float64(slabU), 1e-6)
		published.Near(t, "H_pe", r.Periodic.OutsideWPerK, solved(t, plain()).Periodic.OutsideWPerK, 1e-6)
	}
}

func TestEdgeBounds(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		s := plain()
		s.Edge = &Edge{Thickness: units.Length(0.2 * rng.Float64()), Conductivity: units.Conductivity(0.02 + 3*rng.Float64())}
		if rng.IntN(2) == 0 {
			s.Edge.Horizontal = units.Length(2 * rng.Float64())
		} else {
			s.Edge.Vertical = units.Length(2 * rng.Float64())
		}
		r := solved(t, s)
		least := -float64(s.Soil.Conductivity) / math.Pi * math.Log(2*math.Max(float64(s.Edge.Horizontal), float64(s.Edge.Vertical))/float64(r.Dt)+1)
		if psi := float64(r.Edge.Psi); psi > 0 || psi < least {
			t.Fatalf("ψ %v outside %v to 0", psi, least)
		}
		published.Near(t, "H", r.AnnualWPerK, float64(r.WithEdge)*100, 1e-9)
		if r.Edge.Psi == 0 {
			continue
		}
		if bare := solved(t, plain()); r.Periodic.OutsideWPerK >= bare.Periodic.OutsideWPerK {
			t.Fatalf("edge insulation does not damp the outside's swing")
		}
	}
}

func TestEdgeByHand(t *testing.T) {
	// d_t 1, λ 2, 50 mm of 0.04: R′ = 1.25 - 0.025, d′ = 2.45; D = 1.
	e := Edge{Thickness: 0.05, Conductivity: 0.04, Horizontal: 1}
	got, err := EdgePsi(2, 1, e)
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "ψ horizontal", float64(got.Psi), -2/math.Pi*(math.Log(2)-math.Log(1/3.45+1)), 1e-12)
	e = Edge{Thickness: 0.05, Conductivity: 0.04, Vertical: 1}
	if got, err = EdgePsi(2, 1, e); err != nil || !got.Vertical {
		t.Fatalf("%+v, %v", got, err)
	}
	published.Near(t, "ψ vertical", float64(got.Psi), -2/math.Pi*(math.Log(3)-math.Log(2/3.45+1)), 1e-12)
}

// The mean of the months is the annual figure.
func TestMonthsAverage(t *testing.T) {
	slab := plain()
	slab.Edge = &Edge{Thickness: 0.1, Conductivity: 0.035, Vertical: 0.6}
	for _, s := range []interface{ Solve() (*Result, error) }{
		slab,
		&Basement{Plan: slab.Plan, Soil: Soils[1], Depth: 2.1, Floor: 2, Walls: 3, SurfaceFloor: 0.17, SurfaceWall: 0.13, SurfaceOutside: 0.04},
		&Suspended{Plan: slab.Plan, Soil: Soils[0], Floor: 0.23, SurfaceInside: 0.17, SurfaceOutside: 0.04, Height: 0.3, Walls: 1.7, Openings: 0.0015, WindMPerS: 4, Shield: 0.05},
	} {
		r := solved(t, s)
		m, err := r.Months(Swing{Inside: 20, Outside: 9, InsideSwing: 2, OutsideSwing: 10, ColdestMonth: 1})
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, v := range m.FlowW {
			sum += v / 12
		}
		published.Near(t, "mean", sum, m.AnnualMeanW, 1e-9)
		published.Near(t, "mean", m.AnnualMeanW, 11*r.AnnualWPerK, 1e-9)
		if trace := r.Trace(); len(trace.Inputs) < 6 || len(trace.Limits) == 0 {
			t.Errorf("%+v", trace)
		}
	}
}

func TestSwingOfMonths(t *testing.T) {
	var months [12]units.Temperature
	for i := range months {
		months[i] = units.Temperature(9 - 10*math.Cos(2*math.Pi*float64(i-1)/12))
	}
	s, err := SwingOf(months, 20)
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "mean", float64(s.Outside), 9, 1e-12)
	published.Near(t, "swing", float64(s.OutsideSwing), 10, 1e-12)
	published.Near(t, "τ", s.ColdestMonth, 2, 0)
}

func TestCurve(t *testing.T) {
	points, err := plain().Curve(UsualBPrimes)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range points {
		s := plain()
		s.Perimeter = units.Length(2 * float64(s.Area) / float64(p.BPrime))
		published.Near(t, "U", float64(p.Transmittance), float64(solved(t, s).Transmittance), 1e-12)
		if i > 0 && p.Transmittance >= points[i-1].Transmittance {
			t.Errorf("the curve rises at B′ %v", p.BPrime)
		}
	}
}

// A space deep below grade counts its walls; a floor of great resistance
// leaves nothing.
func TestSuspendedLimits(t *testing.T) {
	s := &Suspended{Plan: plain().Plan, Soil: Soils[0], Floor: 0.5, SurfaceInside: 0.17, SurfaceOutside: 0.04, Height: 0.3, Walls: 1.7, Openings: 0.0015, WindMPerS: 4, Shield: 0.05, Below: 0.5}
	shallow := solved(t, s)
	s.Below = 1
	if deep := solved(t, s); deep.Void.Ground <= shallow.Void.Ground {
		t.Errorf("walls below grade carry nothing: %v, %v", deep.Void.Ground, shallow.Void.Ground)
	}
	if shallow.Transmittance >= s.Floor {
		t.Errorf("the space adds no resistance: U %v of a floor of %v", shallow.Transmittance, s.Floor)
	}
}

func TestErrorsAreTyped(t *testing.T) {
	for name, spoil := range map[string]func(*Slab){
		"no area":            func(s *Slab) { s.Area = 0 },
		"no perimeter":       func(s *Slab) { s.Perimeter = 0 },
		"negative perimeter": func(s *Slab) { s.Perimeter = -1 },
		"no soil":            func(s *Slab) { s.Soil = Soil{} },
		"negative wall":      func(s *Slab) { s.Wall = -1 },
		"negative floor":     func(s *Slab) { s.Floor = -1 },
		"NaN floor":          func(s *Slab) { s.Floor = units.ThermalResistance(math.NaN()) },
		"edge of nothing":    func(s *Slab) { s.Edge = &Edge{Thickness: 0.1} },
		"negative edge":      func(s *Slab) { s.Edge = &Edge{Thickness: 0.1, Conductivity: 0.04, Vertical: -1} },
		"negative heat":      func(s *Slab) { s.Soil.HeatCapacityJPerM3K = -1 },
	} {
		s := plain()
		spoil(s)
		var out *units.RangeError
		if _, err := s.Solve(); !errors.As(err, &out) {
			t.Errorf("%s: %v; want a *units.RangeError", name, err)
		}
	}
	s := plain()
	s.Soil.HeatCapacityJPerM3K = 0
	var missing *basis.MissingError
	if _, err := solved(t, s).Months(Swing{}); !errors.As(err, &missing) {
		t.Errorf("%v; want what is missing", err)
	}
}

func TestSoilNames(t *testing.T) {
	for name, want := range map[string]string{"clay": "clay", "silt": "clay", "gravel": "sand", "rock": "rock"} {
		if got, ok := SoilNamed(name); !ok || got.Name != want {
			t.Errorf("%s: %v, %v", name, got, ok)
		}
	}
	if _, ok := SoilNamed("cheese"); ok {
		t.Error("cheese is a soil")
	}
}

func BenchmarkSlab(b *testing.B) {
	s := plain()
	s.Edge = &Edge{Thickness: 0.1, Conductivity: 0.035, Vertical: 0.6}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

// Vertical edge insulation damps the swing as horizontal of twice its depth.
func TestVerticalReachesTwice(t *testing.T) {
	vertical, horizontal := plain(), plain()
	vertical.Edge = &Edge{Thickness: 0.1, Conductivity: 0.035, Vertical: 0.6}
	horizontal.Edge = &Edge{Thickness: 0.1, Conductivity: 0.035, Horizontal: 1.2}
	v, h := solved(t, vertical), solved(t, horizontal)
	published.Near(t, "H_pe", v.Periodic.OutsideWPerK, h.Periodic.OutsideWPerK, 1e-12)
	published.Near(t, "ψ", float64(v.Edge.Psi), float64(h.Edge.Psi), 1e-12)
	// By hand: D 1.2, δ and d_t of clay.
	delta, dt, added := 2.23906, float64(h.Dt), float64(h.Edge.Added)
	e := math.Exp(-1.2 / delta)
	published.Near(t, "H_pe by hand", h.Periodic.OutsideWPerK, 0.37*40*1.5*((1-e)*math.Log(delta/(dt+added)+1)+e*math.Log(delta/dt+1)), 1e-4)
}

// The suspended floor's periodic coefficients by hand.
func TestSuspendedPeriodic(t *testing.T) {
	s := &Suspended{Plan: plain().Plan, Soil: Soils[0], Floor: 0.5, SurfaceInside: 0.17, SurfaceOutside: 0.04, Height: 0.3, Walls: 1.7, Openings: 0.0015, WindMPerS: 4, Shield: 0.05}
	r := solved(t, s)
	ux := (2*0.3*1.7 + 1450*0.0015*4*0.05) / 5
	ground := 1.5 / 2.239060
	published.Near(t, "U_x", float64(r.Void.Vented), ux, 1e-12)
	published.Near(t, "H_pi", r.Periodic.InsideWPerK, 100/(1/0.5+1/(ground+ux)), 1e-4)
	published.Near(t, "H_pe", r.Periodic.OutsideWPerK, 0.5*(0.37*40*1.5*math.Log(2.239060/0.615+1)+ux*100)/(ground+ux+0.5), 1e-4)
}
