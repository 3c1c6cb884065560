package thermal

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"wythe/renderer/basis"
	"wythe/renderer/published"
	"wythe/renderer/units"
)

// random is a stack of up to 20 plain and framed layers.
func random(rng *rand.Rand, framed int) *Stack {
	s := &Stack{SurfaceInside: 0.13, SurfaceOutside: 0.04}
	n := 1 + rng.IntN(20)
	for i := range n {
		l := Layer{Name: fmt.Sprint("layer ", i), Thickness: units.Length(0.001 + 0.3*rng.Float64()), Conductivity: units.Conductivity(0.02 + 2*rng.Float64())}
		if framed > 0 && rng.IntN(2) == 0 {
			framed--
			l.Framing = &Framing{Fraction: units.Ratio(rng.Float64()), Conductivity: units.Conductivity(0.02 + 2*rng.Float64())}
		}
		s.Layers = append(s.Layers, l)
	}
	return s
}

// The lower limit never exceeds the upper; the sections make up the whole
// area; their conductances add up to the upper limit's.
func TestLimitsEnclose(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		s := random(rng, 4)
		r := solved(t, s)
		if r.Lower.Value > r.Upper.Value*(1+1e-12) {
			t.Fatalf("lower %v over upper %v", r.Lower.Value, r.Upper.Value)
		}
		area, u := 0.0, 0.0
		for _, section := range r.Sections {
			area += float64(section.Fraction)
			u += float64(section.Fraction) / float64(section.Resistance)
		}
		published.Near(t, "area", area, 1, 1e-12)
		published.Near(t, "1/upper", u, 1/float64(r.Upper.Value), 1e-12*u)
	}
}

// Splitting a layer, or adding one of no thickness, changes nothing.
func TestSplitAndZeroLayers(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		s := random(rng, 0)
		want := solved(t, s).Resistance.Value
		split := *s
		split.Layers = nil
		for _, l := range s.Layers {
			half := l
			half.Thickness /= 2
			split.Layers = append(split.Layers, half, Layer{Name: "nothing", Conductivity: 0.5}, half)
		}
		published.Near(t, "R", float64(solved(t, &split).Resistance.Value), float64(want), 1e-12*float64(want))
	}
}

func TestInfiniteResistance(t *testing.T) {
	s := &Stack{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{
		{Name: "board", Resistance: 1, Given: true},
		{Name: "perfect", Resistance: units.ThermalResistance(math.Inf(1)), Given: true},
		{Name: "cladding", Resistance: 1, Given: true},
	}}
	r := solved(t, s)
	if r.Transmittance != 0 || !math.IsInf(float64(r.Resistance.Value), 1) || r.Spread != 0 {
		t.Errorf("U %v, R %v, spread %v; want 0, +Inf, 0", r.Transmittance, r.Resistance.Value, r.Spread)
	}
	plain, _ := r.Temperatures(20, -5)
	for i, want := range []float64{20, 20, -5, -5} {
		published.Near(t, fmt.Sprint("face ", i), float64(plain.Faces[i]), want, 0)
	}
	if plain.FluxWPerM2 != 0 {
		t.Errorf("heat flows: %v W/m²", plain.FluxWPerM2)
	}
}

// Temperatures fall from inside to outside, and the two ends obey the films.
func TestTemperaturesAreOrdered(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		plain, planes := solved(t, random(rng, 3)).Temperatures(20, -5)
		for _, got := range []Temperatures{plain, planes} {
			published.Near(t, "inside face", float64(got.Faces[0]), 20-0.13*got.FluxWPerM2, 1e-9)
			published.Near(t, "outside face", float64(got.Faces[len(got.Faces)-1]), -5+0.04*got.FluxWPerM2, 1e-9)
			for i := 1; i < len(got.Faces); i++ {
				if got.Faces[i] > got.Faces[i-1] {
					t.Fatalf("face %d is warmer than the one inside it: %v", i, got.Faces)
				}
			}
		}
	}
}

func TestGroundHasNoOutsideFilm(t *testing.T) {
	s := &Stack{SurfaceInside: 0.17, SurfaceOutside: 0.04, OnGround: true, Layers: []Layer{{Name: "foam", Resistance: 3, Given: true}}}
	published.Near(t, "R", float64(solved(t, s).Resistance.Value), 3.17, 1e-15)
}

func TestWellVentilatedLayerEndsTheStack(t *testing.T) {
	s := &Stack{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{
		{Name: "board", Resistance: 0.5, Given: true},
		{Name: "cavity", Resistance: 0.18, Given: true, Air: &Air{Ventilation: Well}},
		{Name: "brick", Resistance: 0.2, Given: true},
	}}
	r := solved(t, s)
	published.Near(t, "R", float64(r.Resistance.Value), 0.13+0.5+0.13, 1e-15)
	if r.Layers[0].LeftOut || !r.Layers[1].LeftOut || !r.Layers[2].LeftOut {
		t.Errorf("left out: %v", r.Layers)
	}
	plain, _ := r.Temperatures(20, 0)
	published.Near(t, "outside face of the brick", float64(plain.Faces[3]), 0, 0)
	published.Near(t, "face to the cavity", float64(plain.Faces[1]), 20*0.13/0.76, 1e-12)
	// Two slightly ventilated layers weigh three stacks.
	half := &Air{Ventilation: Slight, Openings: 1000e-6}
	s.Layers[1].Air = half
	s.Layers = append(s.Layers, Layer{Name: "outer cavity", Resistance: 0.18, Given: true, Air: half}, Layer{Name: "screen", Resistance: 0.1, Given: true})
	first, second, third := 0.76, 0.13+0.5+0.18+0.2+0.13, 0.13+0.5+0.18+0.2+0.18+0.1+0.04
	published.Near(t, "R", float64(solved(t, s).Resistance.Value), 0.5*first+0.25*second+0.25*third, 1e-14)
}

// The closed forms agree with the mean over the area, taken by the midpoint
// rule in 2,000 strips (error below 1e-6 here).
func TestTaperAgainstQuadrature(t *testing.T) {
	for _, c := range []struct{ r0, r float64 }{{1, 2}, {0.3, 5}, {2, 1e-4}, {2, 0.0199}, {2, 0.0201}, {1, 0}} {
		for shape, weight := range map[TaperShape]func(x float64) float64{
			Rectangle:      func(float64) float64 { return 1 },
			ThickestAtApex: func(x float64) float64 { return 2 * (1 - x) },
			ThinnestAtApex: func(x float64) float64 { return 2 * x },
		} {
			const n = 2000
			want := 0.0
			for i := range n {
				x := (float64(i) + 0.5) / n
				want += weight(x) / (c.r0 + x*c.r) / n
			}
			got, err := TaperedTransmittance(shape, units.ThermalResistance(c.r0), units.ThermalResistance(c.r))
			if err != nil {
				t.Fatal(err)
			}
			within := 2e-6
			if c.r < 0.1 { // the midpoint rule is exact to 2.1e-10 here
				within = 2.1e-10
			}
			published.Near(t, fmt.Sprint(shape, c), float64(got), want, within)
		}
	}
}

func TestTriangleAgainstQuadrature(t *testing.T) {
	for _, c := range [][3]float64{{1, 1, 2}, {0.5, 0.2, 4}, {1, 1e-9, 2}, {1, 2, 2}, {1, 1.99999, 2}, {2, 0.001, 3}} {
		const n = 600
		want, count := 0.0, 0.0
		for i := range n {
			for j := range n - i { // barycentric, small triangles' centers of both kinds
				b, a := (float64(i)+1.0/3)/n, (float64(j)+1.0/3)/n
				want, count = want+1/(c[0]+a*c[1]+b*c[2]), count+1
				if i+j < n-1 {
					b, a = (float64(i)+2.0/3)/n, (float64(j)+2.0/3)/n
					want, count = want+1/(c[0]+a*c[1]+b*c[2]), count+1
				}
			}
		}
		got, err := TriangleTransmittance(units.ThermalResistance(c[0]), units.ThermalResistance(c[1]), units.ThermalResistance(c[2]))
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, fmt.Sprint(c), float64(got), want/count, 5e-6)
	}
}

func TestFastenerRightThrough(t *testing.T) {
	// By hand from Annex F.3.2: 0.8 × 50 × π/4 × 0.005² × 4 / 0.15 × (4/4.4)².
	want := 0.8 * 50 * math.Pi / 4 * 0.005 * 0.005 * 4 / 0.15 * (4 / 4.4) * (4 / 4.4)
	f := Fastener{Conductivity: 50, Diameter: 0.005, Each: 0.25}
	got, err := FastenerCorrection(f, 0.15, 4, 4.4)
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "ΔU_f", float64(got), want, 1e-12)
	f.Penetrates = 0.15
	if same, err := FastenerCorrection(f, 0.15, 4, 4.4); err != nil || same != got {
		t.Errorf("a fastener of the full length gives %v, %v; want %v", same, err, got)
	}
	// Two equal courses are one layer of both.
	halves, err := FastenerCorrection(Fastener{Conductivity: 50, Diameter: 0.005, Each: 0.25}, 0.075, 2, 4.4)
	published.Near(t, "two courses", 2*float64(halves), want, 1e-12)
	if err != nil {
		t.Fatal(err)
	}
	// Recessed by the reading in the comment: (d1/d0)² of right through.
	f.Penetrates = 0.05
	recessed, err := FastenerCorrection(f, 0.15, 4, 4.4)
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "recessed", float64(recessed), want/9, 1e-12)
	f.Penetrates, f.Conductivity = 0, 0.5
	if du, err := FastenerCorrection(f, 0.15, 4, 4.4); err != nil || du != 0 {
		t.Errorf("a plastic fastener gives %v, %v; want 0", du, err)
	}
}

// A tie across an air layer needs no correction; through insulation it does.
func TestTiesAcrossAir(t *testing.T) {
	tie := []Fastener{{Conductivity: 17, Diameter: 0.004, Each: 0.25}}
	s := &Stack{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{
		{Name: "wool", Thickness: 0.1, Conductivity: 0.035},
		{Name: "cavity", Thickness: 0.05, Resistance: 0.18, Given: true, Air: &Air{}, Fasteners: tie},
		{Name: "brick", Thickness: 0.1, Conductivity: 0.77},
	}}
	if r := solved(t, s); r.Corrections.Total != 0 {
		t.Errorf("a tie across air adds %v", r.Corrections.Total)
	}
	s.Layers[0].Fasteners = tie
	if r := solved(t, s); !(r.Corrections.Fasteners > 0) || r.Transmittance != r.Uncorrected+r.Corrections.Fasteners {
		t.Errorf("%+v, U %v of %v", r.Corrections, r.Transmittance, r.Uncorrected)
	}
	var refused *basis.RefusedError
	if _, err := FastenerCorrection(Fastener{Conductivity: 17, Diameter: 0.004, Each: 0.25, MetalAtBothEnds: true}, 0.1, 3, 4); !errors.As(err, &refused) {
		t.Errorf("metal at both ends: %v; want a refusal", err)
	}
}

// Upper over lower limit: at 1.5 the mean holds, above it does not.
func TestRatioOfLimits(t *testing.T) {
	for lambda, want := range map[units.Conductivity]bool{0.6: true, 2: false} {
		s := &Stack{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{
			{Name: "board", Resistance: 1, Given: true},
			{Name: "panel", Thickness: 0.2, Conductivity: 0.04, Framing: &Framing{Fraction: 0.1, Conductivity: lambda}},
		}}
		r := solved(t, s)
		ratio := r.Upper.Value / r.Lower.Value
		if ratio < 1.2 || ratio > 2.5 {
			t.Fatalf("the ratio %.2f says little", float64(ratio))
		}
		if r.Combined.Computed != want || want != (ratio <= 1.5) {
			t.Errorf("ratio %.3f: combined computed %v; want %v", float64(ratio), r.Combined.Computed, want)
		}
	}
}

func TestMetalFramingIsRefused(t *testing.T) {
	s := &Stack{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{
		{Name: "girts", Thickness: 0.1, Conductivity: 0.035, Framing: &Framing{Fraction: 0.002, Conductivity: 50}},
	}}
	r := solved(t, s)
	for _, f := range []Figure{r.Resistance, r.Upper, r.Lower, r.ParallelPath, r.IsothermalPlanes} {
		if f.Computed || f.Why == "" || f.Value != 0 {
			t.Errorf("a figure for metal framing: %+v", f)
		}
	}
	if len(r.NotComputed) != 6 || r.Transmittance != 0 {
		t.Errorf("%d reasons, U %v; want 6 and 0", len(r.NotComputed), r.Transmittance)
	}
}

func TestLimitsTooFarApart(t *testing.T) {
	s := &Stack{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{
		{Name: "panel", Thickness: 0.2, Conductivity: 0.01, Framing: &Framing{Fraction: 0.1, Conductivity: 5}},
	}}
	r := solved(t, s)
	if r.Combined.Computed || r.Resistance.Computed || !r.Upper.Computed || !r.FamiliesApart {
		t.Errorf("combined %+v, apart %v; want it refused and said", r.Combined, r.FamiliesApart)
	}
	s.Headline = ParallelPath
	if r = solved(t, s); !r.Resistance.Computed || r.Transmittance <= 0 {
		t.Errorf("parallel path: %+v", r.Resistance)
	}
}

func TestStudTableEnds(t *testing.T) {
	s := Studs{Depth: units.Inches(3.625), Spacing: units.Inches(16)}
	above, err := SteelStuds(s, units.RValue(20).SI())
	if err != nil || above.Note == "" {
		t.Fatalf("%+v, %v; want a note", above, err)
	}
	published.Near(t, "effective R above the table", float64(above.Effective.RValue()), 0.43*15, 1e-9)
	between, err := SteelStuds(s, units.RValue(12).SI())
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "factor between", float64(between.Factor), 0.48, 1e-9)
	below, err := SteelStuds(s, units.RValue(5).SI())
	if err != nil || below.Factor != 0.50 || below.Note == "" {
		t.Errorf("%+v, %v; want the factor 0.50 and a note", below, err)
	}
	var refused *basis.RefusedError
	if _, err := SteelStuds(Studs{Depth: units.Inches(4.5), Spacing: units.Inches(16)}, 2); !errors.As(err, &refused) {
		t.Errorf("4 1/2 in studs: %v; want a refusal", err)
	}
}

func TestErrorsAreTyped(t *testing.T) {
	fine := Layer{Name: "foam", Thickness: 0.1, Conductivity: 0.035}
	for name, spoil := range map[string]func(*Stack){
		"negative thickness":  func(s *Stack) { s.Layers[0].Thickness = -1 },
		"NaN thickness":       func(s *Stack) { s.Layers[0].Thickness = units.Length(math.NaN()) },
		"infinite thickness":  func(s *Stack) { s.Layers[0].Thickness = units.Length(math.Inf(1)) },
		"no conductivity":     func(s *Stack) { s.Layers[0].Conductivity = 0 },
		"negative resistance": func(s *Stack) { s.Layers[0].Resistance, s.Layers[0].Given = -1, true },
		"NaN film":            func(s *Stack) { s.SurfaceInside = units.ThermalResistance(math.NaN()) },
		"negative film":       func(s *Stack) { s.SurfaceOutside = -0.1 },
		"fraction over one":   func(s *Stack) { s.Layers[0].Framing = &Framing{Fraction: 1.1, Conductivity: 0.13} },
		"gap level 3":         func(s *Stack) { s.Layers[0].Gaps = 3 },
		"unknown ventilation": func(s *Stack) { s.Layers[0].Air = &Air{Ventilation: "lots"} },
		"unknown headline":    func(s *Stack) { s.Headline = "guess" },
		"taper downward":      func(s *Stack) { s.Layers[0].Taper = &Taper{To: 0.05} },
		"taper too steep":     func(s *Stack) { s.Layers[0].Taper = &Taper{To: 0.2, Run: 1} },
		"rain below":          func(s *Stack) { s.Rain = &Rain{PerDay: 0.003, DrainageFactor: 0.04, Above: []int{7}} },
		"nothing at all":      func(s *Stack) { s.Layers, s.SurfaceInside, s.SurfaceOutside = nil, 0, 0 },
		"framed, no thickness": func(s *Stack) {
			s.Layers[0] = Layer{Resistance: 1, Given: true, Framing: &Framing{Fraction: 0.1, Conductivity: 0.13}}
		},
		"eleven framed layers": func(s *Stack) {
			for range 11 {
				l := fine
				l.Framing = &Framing{Fraction: 0.1, Conductivity: 0.13}
				s.Layers = append(s.Layers, l)
			}
		},
	} {
		s := &Stack{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{fine}}
		spoil(s)
		var out *units.RangeError
		if _, err := Solve(s); !errors.As(err, &out) {
			t.Errorf("%s: %v; want a *units.RangeError", name, err)
		}
	}
	s := &Stack{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{{Name: "cavity", Resistance: 0.18, Given: true, Air: &Air{Ventilation: Slight}}}}
	var missing *basis.MissingError
	if _, err := Solve(s); !errors.As(err, &missing) {
		t.Errorf("slight ventilation without openings: %v; want a *basis.MissingError", err)
	}
}

func TestTraceNamesWhatCounts(t *testing.T) {
	s := random(rand.New(rand.NewPCG(7, 8)), 3)
	r := solved(t, s)
	trace := r.Trace()
	if trace.Method.Clause != "6.7.2" || len(trace.Inputs) != len(s.Layers)+2 || len(trace.Limits) == 0 {
		t.Errorf("%+v", trace)
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, framed := range []int{0, 2, 6} {
		b.Run(fmt.Sprint(framed, " framed of 20"), func(b *testing.B) {
			s := &Stack{SurfaceInside: 0.13, SurfaceOutside: 0.04}
			for i := range 20 {
				l := Layer{Name: "layer", Thickness: 0.1, Conductivity: 0.04}
				if i < framed {
					l.Framing = &Framing{Fraction: 0.15, Conductivity: 0.13}
				}
				s.Layers = append(s.Layers, l)
			}
			b.ReportAllocs()
			for b.Loop() {
				r, err := Solve(s)
				if err != nil {
					b.Fatal(err)
				}
				r.Temperatures(20, -5)
			}
		})
	}
}
