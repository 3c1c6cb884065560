package heatflow

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"gopkg.in/yaml.v3"

	"wythe/renderer/geometry"
)

// heatflowCase is one entry of heatflow_2d.yaml.
type heatflowCase struct {
	ID       string
	Expected yaml.Node
	Exact    [][]float64
	Inputs   yaml.Node
}

func published(t testing.TB, id string) heatflowCase {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(publishedFolder, "heatflow_2d.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	var all struct{ Cases []heatflowCase }
	if err := yaml.Unmarshal(b, &all); err != nil {
		t.Fatal(err)
	}
	for _, c := range all.Cases {
		if c.ID == id {
			return c
		}
	}
	t.Fatalf("no case %q", id)
	return heatflowCase{}
}

func decode[T any](t testing.TB, n yaml.Node) (v T) {
	t.Helper()
	if err := n.Decode(&v); err != nil {
		t.Fatal(err)
	}
	return v
}

func at(x, y float64) geometry.Point { return micrometres([2]float64{x, y}) }

func box(region int32, x0, y0, x1, y1 float64) Area {
	return Area{region, geometry.Ring{at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1)}}
}

func line(of int32, p ...geometry.Point) Line { return Line{of, p} }

func solved(t testing.TB, p *Problem, tolerance float64) *Field {
	t.Helper()
	f, err := Solve(p, Options{Tolerance: tolerance})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func halfColumn() *Problem {
	const a = 1.0
	l := &Layout{
		Areas:    []Area{box(0, 0, 0, a, 2*a)},
		Surfaces: []Line{line(0, at(0, 2*a), at(a, 2*a)), line(1, at(0, 2*a), at(0, 0), at(a, 0))},
	}
	p := l.Problem()
	p.Regions = []Region{{1}}
	p.Spaces = []Space{{"top", 20}, {"sides", 0}}
	p.Surfaces = []Surface{{0, 0}, {1, 0}}
	return p
}

// ISO 10211:2017 Annex C case 1, from memory; exact: its Fourier series.
func TestHalfColumn(t *testing.T) {
	c := published(t, "iso10211-1")
	table := decode[[][]float64](t, c.Expected)
	f := solved(t, halfColumn(), 0.0002)
	if !f.Unbounded() || !math.IsInf(f.ErrorEstimate(), 1) {
		t.Error("the top corner is discontinuous: the flow has no bound and this is not said")
	}
	for row := range table {
		for col, want := range table[row] {
			got, ok := f.TemperatureAt(float64(col+1)/4, 2-float64(row+1)/4)
			if !ok || math.Abs(got-want) > 0.1 {
				t.Errorf("row %d column %d: %.4f, table %.1f", row, col, got, want)
			}
			if exact := c.Exact[row][col]; math.Abs(got-exact) > 0.002 {
				t.Errorf("row %d column %d: %.5f, exact %.4f", row, col, got, exact)
			}
		}
	}
	t.Logf("%d unknowns in %d rounds", f.Unknowns(), f.Rounds)
}

func metalCase() *Problem {
	l := &Layout{
		Areas: []Area{
			box(3, 0, 0, 0.5, 0.0415),
			box(0, 0, 0.0415, 0.5, 0.0475),
			box(1, 0, 0.0365, 0.015, 0.0415),
			box(2, 0, 0.0350, 0.015, 0.0365),
			box(2, 0, 0.0015, 0.0015, 0.0350),
			box(2, 0, 0, 0.5, 0.0015),
		},
		Surfaces: []Line{line(0, at(0, 0), at(0.5, 0)), line(1, at(0, 0.0475), at(0.5, 0.0475))},
	}
	p := l.Problem()
	p.Regions = []Region{{1.15}, {0.12}, {230}, {0.029}}
	p.Spaces = []Space{{"inside", 20}, {"outside", 0}}
	p.Surfaces = []Surface{{0, 0.11}, {1, 0.06}}
	return p
}

// ISO 10211:2017 Annex C case 2.
func TestMetalCase(t *testing.T) {
	c := published(t, "iso10211-2")
	want := decode[map[string]float64](t, c.Expected)
	places := decode[struct{ Points map[string][2]float64 }](t, c.Inputs).Points
	for _, tolerance := range []float64{0.005, 0.002, 0.0005} {
		f := solved(t, metalCase(), tolerance)
		for name, x := range places {
			got, ok := f.TemperatureAt(x[0], x[1])
			if !ok || math.Abs(got-want[name]) > 0.1 {
				t.Errorf("within %g: %s: %.3f, want %.1f", tolerance, name, got, want[name])
			}
		}
		if q := f.HeatFlow(); math.Abs(q[0]-want["heat_flow_W_m"]) > 0.1 || math.Abs(q[0]+q[1]) > 1e-12 {
			t.Errorf("within %g: heat flow %v, want %g", tolerance, q, want["heat_flow_W_m"])
		}
		lo, hi, _ := f.Bracket()
		t.Logf("within %g: %d unknowns in %d rounds, %.4f to %.4f W/m", tolerance, f.Unknowns(), f.Rounds, 20*lo, 20*hi)
	}
}

// Every sample section: couplings, heat flows, coldest places and probes.
func TestFiniteElementCases(t *testing.T) {
	for _, c := range femCases(t) {
		for _, tolerance := range []float64{0.002, 0.001} {
			f, err := Solve(c.problem(), Options{Tolerance: tolerance})
			if err != nil {
				t.Fatalf("%s: %v", c.ID, err)
			}
			near := func(what string, got, want, within float64) {
				t.Helper()
				if !(math.Abs(got-want) <= within) {
					t.Errorf("%s within %g: %s: %.6f, want %.6f ± %.2g", c.ID, tolerance, what, got, want, within)
				}
			}
			space := map[string]int32{}
			span := 0.0
			for i, e := range c.Environments {
				space[e.Name] = int32(i)
				span = max(span, math.Abs(e.Temperature-c.Environments[0].Temperature))
			}
			q := f.HeatFlow()
			for name, want := range c.Results.HeatFlow {
				near("heat flow of "+name, q[space[name]], want, tolerance*math.Abs(want))
			}
			if want := c.Results.L2D; want != 0 {
				lo, hi, ok := f.Bracket()
				if !ok || lo > want*(1+1e-6) || hi < want*(1-1e-6) {
					t.Errorf("%s: bracket %.7f to %.7f misses %.7f", c.ID, lo, hi, want)
				}
				l, _ := f.L2D()
				near("L2D", l, want, f.ErrorEstimate()*want)
				near("heat flow", q[0], c.Results.HeatFlow2, tolerance*c.Results.HeatFlow2)
			}
			for _, k := range c.Results.Couplings {
				l, within := f.Coupling(space[k.Between[0]], space[k.Between[1]])
				near("coupling", l, k.L, min(within, 0.004*k.L)+1e-6)
			}
			for _, s := range c.Results.SurfaceTemperatures {
				for i, b := range c.Boundaries {
					if b.Name == s.Boundary {
						spot, _ := f.Coldest(func(k int32) bool { return k == int32(i) })
						near("coldest of "+b.Name, spot.Celsius, s.TMin, tolerance*span+s.Error)
					}
				}
			}
			for _, p := range c.Results.Probes {
				got, ok := f.TemperatureAt(p.At[0], p.At[1])
				if !ok {
					t.Errorf("%s: %s lies outside", c.ID, p.Name)
				}
				near(p.Name, got, p.T, tolerance*span+p.Error)
			}
			t.Logf("%s within %g: %d unknowns, error at most %.3g %%", c.ID, tolerance, f.Unknowns(), f.ErrorEstimate()*100)
		}
	}
}
