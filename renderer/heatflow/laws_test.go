package heatflow

import (
	"fmt"
	"math"
	"testing"

	"wythe/renderer/geometry"
)

func isNear(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.9g, want %.9g ± %.2g", what, got, want, within)
	}
}

// compositeWall lays the composite wall of the check values, width long,
// turned by an angle about the origin.
func compositeWall(width, turn float64) *Problem {
	sin, cos := math.Sincos(turn)
	put := func(x, y float64) geometry.Point { return at(x*cos-y*sin, x*sin+y*cos) }
	ys := []float64{0, 0.0125, 0.2125, 0.3625}
	l := &Layout{}
	for i := range 3 {
		l.Areas = append(l.Areas, Area{int32(i), geometry.Ring{put(0, ys[i]), put(width, ys[i]), put(width, ys[i+1]), put(0, ys[i+1])}})
	}
	l.Surfaces = []Line{line(0, put(0, 0), put(width, 0)), line(1, put(0, ys[3]), put(width, ys[3]))}
	p := l.Problem()
	p.Regions = []Region{{0.25}, {0.04}, {2.0}}
	p.Spaces = []Space{{"inside", 20}, {"outside", -5}}
	p.Surfaces = []Surface{{0, 0.13}, {1, 0.04}}
	return p
}

// Series resistances, for any mesh and any width.
func TestCompositeIsOneDimensional(t *testing.T) {
	want := decode[struct {
		U            float64 `yaml:"U"`
		Temperatures []float64
	}](t, published(t, "composite").Expected)
	r := 0.13 + 0.0125/0.25 + 0.2/0.04 + 0.15/2.0 + 0.04
	for _, width := range []float64{0.05, 0.37, 1, 12} {
		f := solved(t, compositeWall(width, 0), 0.002)
		l, ok := f.L2D()
		if !ok {
			t.Fatal("two temperatures and no coupling")
		}
		isNear(t, "L2D", l, width/r, 1e-9*width/r)
		isNear(t, "U", l/width, want.U, 1e-9)
		for i, y := range []float64{0, 0.0125, 0.2125, 0.3625} {
			got, _ := f.TemperatureAt(width/3, y)
			isNear(t, fmt.Sprintf("temperature at %g", y), got, want.Temperatures[i], 1e-6)
		}
	}
}

// A stack laid at any slope is the same stack: what the micrometre moves is all.
func TestSlopeChangesNothing(t *testing.T) {
	want := decode[map[string]float64](t, published(t, "slope").Expected)["U"]
	for _, degrees := range []float64{26.565, 33.69, 90, 137, 200} {
		f := solved(t, compositeWall(1.2, degrees*math.Pi/180), 0.002)
		l, _ := f.L2D()
		isNear(t, fmt.Sprintf("U at %g°", degrees), l/1.2, want, 2e-5*want)
	}
}

// angleWall is a corner of equal walls of thickness d with inside legs.
func angleWall(d, legs, lambda, rsi, rse float64) *Problem {
	e := d + legs
	l := &Layout{
		Areas: []Area{{0, geometry.Ring{at(0, 0), at(e, 0), at(e, d), at(d, d), at(d, e), at(0, e)}}},
		Surfaces: []Line{
			line(0, at(e, d), at(d, d), at(d, e)),
			line(1, at(0, e), at(0, 0), at(e, 0)),
		},
	}
	p := l.Problem()
	p.Regions = []Region{{lambda}}
	p.Spaces = []Space{{"inside", 1}, {"outside", 0}}
	p.Surfaces = []Surface{{0, rsi}, {1, rse}}
	return p
}

// Conformal mapping: a square corner counts 0.5587 of a square more.
func TestCornerOfIsothermalFaces(t *testing.T) {
	c := published(t, "corner-exact")
	want := decode[map[string]float64](t, c.Expected)["extra_shape_factor"]
	f := solved(t, angleWall(1, 7, 1, 0, 0), 0.000002)
	lo, hi, ok := f.Bracket()
	if !ok || lo-14 > want || hi-14 < want {
		t.Errorf("extra shape factor between %.7f and %.7f, want %.7f", lo-14, hi-14, want)
	}
	isNear(t, "extra shape factor", (lo+hi)/2-14, want, 0.0005/10)
}

// Finite volumes elsewhere.
func TestOutsideCornerOfWall(t *testing.T) {
	want := decode[map[string]float64](t, published(t, "junction-corner").Expected)
	f := solved(t, angleWall(0.3, 1.5, 0.3, 0.13, 0.04), 0.002)
	l, _ := f.L2D()
	isNear(t, "L2D", l, want["L2D"], 0.004)
	isNear(t, "psi internal", l-3*want["U"], want["psi_internal"], 0.004)
	isNear(t, "psi external", l-3.6*want["U"], want["psi_external"], 0.004)
	spot, ok := f.ColdestOf(0)
	if !ok || math.Hypot(spot.X-0.3, spot.Y-0.3) > 1e-6 {
		t.Errorf("coldest inside at %.4f, %.4f, want the corner", spot.X, spot.Y)
	}
	isNear(t, "temperature factor", spot.Celsius, want["temperature_factor_inside_corner"], 0.003)
}

// Closed form of a half-infinite strip; at 8 widths the far end is felt by 1e-11.
func TestHalfInfiniteStrip(t *testing.T) {
	want := decode[[][3]float64](t, published(t, "half-strip").Expected)
	l := &Layout{
		Areas:    []Area{box(0, 0, 0, 1, 8)},
		Surfaces: []Line{line(0, at(0, 0), at(1, 0)), line(1, at(0, 0), at(0, 8), at(1, 8), at(1, 0))},
	}
	p := l.Problem()
	p.Regions = []Region{{0.04}}
	p.Spaces = []Space{{"end", 1}, {"sides", 0}}
	p.Surfaces = []Surface{{0, 0}, {1, 0}}
	f := solved(t, p, 0.0005)
	for _, w := range want {
		got, _ := f.TemperatureAt(w[0], w[1])
		isNear(t, fmt.Sprintf("at %g, %g", w[0], w[1]), got, w[2], 2e-4)
	}
}

// Textbook shape factor, half of it by symmetry; the domain is cut off at 20
// depths, its cuts adiabatic.
func TestBuriedPipe(t *testing.T) {
	want := decode[map[string]float64](t, published(t, "buried-cylinder").Expected)["S"]
	const depth, radius, far = 1.0, 0.1, 20.0
	var pipe []geometry.Point
	for i := range 97 {
		sin, cos := math.Sincos(math.Pi * float64(i) / 96)
		// The polygon has the area of the circle.
		r := radius * math.Sqrt(math.Pi/96/math.Sin(math.Pi/96))
		pipe = append(pipe, at(r*sin, -depth-r*cos))
	}
	ring := append(geometry.Ring{at(0, -far), at(far, -far), at(far, 0), at(0, 0)}, nil...)
	for i := len(pipe) - 1; i >= 0; i-- {
		ring = append(ring, pipe[i])
	}
	l := &Layout{
		Areas:    []Area{{0, ring}},
		Surfaces: []Line{{0, pipe}, line(1, at(0, 0), at(far, 0))},
	}
	p := l.Problem()
	p.Regions = []Region{{1}}
	p.Spaces = []Space{{"pipe", 1}, {"surface", 0}}
	p.Surfaces = []Surface{{0, 0}, {1, 0}}
	f := solved(t, p, 0.001)
	l2d, _ := f.L2D()
	isNear(t, "shape factor", 2*l2d, want, 0.01*want)
}

// What holds at every refinement.
func TestInvariants(t *testing.T) {
	problems := []*Problem{metalCase(), angleWall(0.3, 1.5, 0.3, 0.13, 0.04), compositeWall(1, 0.4)}
	for _, c := range femCases(t) {
		problems = append(problems, c.problem())
	}
	for k, p := range problems {
		lowest, highest := 0.0, math.Inf(1)
		for _, tolerance := range []float64{0.3, 0.03, 0.003, 0.0003} {
			f := solved(t, p, tolerance)
			sum, most := 0.0, 0.0
			for _, q := range f.HeatFlow() {
				sum, most = sum+q, max(most, math.Abs(q))
			}
			if math.Abs(sum) > 1e-12*most {
				t.Errorf("%d: heat flows sum to %g", k, sum)
			}
			for b := range f.bounds {
				for i, row := range f.bounds[b] {
					rest := 0.0
					for j, v := range row {
						rest += f.bounds[b][j][i]
						isNear(t, "reciprocity", v, f.bounds[b][j][i], 1e-9*f.bounds[b][i][i])
					}
					isNear(t, "conservation", rest, 0, 1e-9*f.bounds[b][i][i])
				}
			}
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, s := range p.Spaces {
				lo, hi = min(lo, s.Temperature), max(hi, s.Temperature)
			}
			for v, c := range f.t {
				if c < lo-0.02*(hi-lo) || c > hi+0.02*(hi-lo) {
					t.Errorf("%d: node %d at %g °C, spaces %g to %g", k, v, c, lo, hi)
				}
			}
			if a, b, ok := f.Bracket(); ok {
				if a > b*(1+1e-12) || a < lowest*(1-1e-3) || b > highest*(1+1e-3) {
					t.Errorf("%d: bracket %g to %g after %g to %g", k, a, b, lowest, highest)
				}
				if a > highest*(1+1e-9) || b < lowest*(1-1e-9) {
					t.Errorf("%d: brackets do not meet", k)
				}
				lowest, highest = max(lowest, a), min(highest, b)
			}
			if r := f.Residual(); r > 1e-10 {
				t.Errorf("%d: residual %g", k, r)
			}
		}
	}
}

// The misfit of the triangles sums to the gap between the bounds.
func TestMisfitIsTheGap(t *testing.T) {
	for _, p := range []*Problem{metalCase(), angleWall(0.3, 1.5, 0.3, 0.13, 0.04), femCases(t)[0].problem(), filmCase(0.0002, 200)} {
		f := solved(t, p, 0.02)
		sum := 0.0
		for _, e := range f.m.misfit(f.p, f.d, []float64{1}) {
			sum += e
		}
		gap := f.bounds[1][0][0] - f.bounds[0][0][0]
		isNear(t, "misfit", sum, gap, 1e-9*f.bounds[1][0][0])
	}
}

// Lengths and surface resistances over conductivities alike: the same L2D.
func TestScaleChangesNothing(t *testing.T) {
	a := solved(t, angleWall(0.3, 1.5, 0.3, 0.13, 0.04), 0.001)
	b := solved(t, angleWall(3, 15, 0.3, 1.3, 0.4), 0.001)
	la, _ := a.L2D()
	lb, _ := b.L2D()
	isNear(t, "scaled", lb, la, 1e-9*la)
}

// A section and its mirror image agree within their bounds.
func TestMirror(t *testing.T) {
	p := femCases(t)[1].problem()
	a := solved(t, p, 0.001)
	q := *p
	q.Points = append([]geometry.Point(nil), p.Points...)
	q.Edges = append([]Edge(nil), p.Edges...)
	for i := range q.Points {
		q.Points[i].X = -q.Points[i].X
	}
	for i := range q.Edges {
		q.Edges[i].Left, q.Edges[i].Right = q.Edges[i].Right, q.Edges[i].Left
	}
	b := solved(t, &q, 0.001)
	la, _ := a.L2D()
	lb, _ := b.L2D()
	isNear(t, "mirrored", lb, la, (a.ErrorEstimate()+b.ErrorEstimate())*la)
}

// Steel and foil in insulation, 1 to 10,000, do no harm.
func TestContrast(t *testing.T) {
	p := metalCase()
	p.Regions[2].Conductivity = 290
	p.Regions[3].Conductivity = 0.029
	f := solved(t, p, 0.001)
	if f.Residual() > 1e-10 {
		t.Errorf("residual %g", f.Residual())
	}
	if e := f.ErrorEstimate(); e > 0.001 {
		t.Errorf("error %g", e)
	}
}

// The gap falls with the square of the unknowns, as quadratic elements on a
// mesh graded to its corners must; halves of one size fall short of it.
func TestOrderOfConvergence(t *testing.T) {
	for name, p := range map[string]*Problem{"corner": angleWall(0.3, 1.5, 0.3, 0.13, 0.04), "metal": metalCase(), "rim": femCases(t)[0].problem()} {
		var n, gap []float64
		for _, tolerance := range []float64{1e-3, 1e-4, 1e-5, 1e-6} {
			f, err := Solve(p, Options{Tolerance: tolerance, Temperature: 1})
			if err != nil {
				t.Fatal(err)
			}
			n, gap = append(n, float64(f.Unknowns())), append(gap, f.ErrorEstimate())
		}
		k := len(n) - 1
		order := math.Log(gap[0]/gap[k]) / math.Log(n[k]/n[0])
		t.Logf("%s: unknowns %v, error %.2g: order %.2f", name, n, gap, order)
		if order < 1.7 {
			t.Errorf("%s: the gap falls with the power %.2f of the unknowns, want 2", name, order)
		}
	}
}

func TestColdestAlongALine(t *testing.T) {
	f := solved(t, compositeWall(1, 0), 0.002)
	spot, ok := f.ColdestAlong([][2]float64{{0.2, 0.1}, {0.6, 0.2125}, {0.9, 0.1}, {0.9, -1}}, 0.005)
	if !ok || spot.X != 0.6 || spot.Y != 0.2125 {
		t.Errorf("coldest at %g, %g", spot.X, spot.Y)
	}
	isNear(t, "coldest", spot.Celsius, -4.457035, 1e-5)
	if _, ok := f.ColdestAlong([][2]float64{{2, 2}, {3, 3}}, 0.01); ok {
		t.Error("a line outside the section has a temperature")
	}
}
