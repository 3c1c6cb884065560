package heatflow

import (
	"math"
	"math/rand/v2"
	"testing"
)

// within reports whether an odd number of rings go round a place, and how far
// it lies from the nearest of them.
func (b *Band) within(x, y float64) (in bool, away float64) {
	away = math.Inf(1)
	for _, r := range b.Rings {
		for i := range r[1:] {
			p, q := r[i], r[i+1]
			if (p[1] > y) != (q[1] > y) && x < p[0]+(y-p[1])/(q[1]-p[1])*(q[0]-p[0]) {
				in = !in
			}
			dx, dy := q[0]-p[0], q[1]-p[1]
			w := 0.0
			if l := dx*dx + dy*dy; l > 0 {
				w = min(max(((x-p[0])*dx+(y-p[1])*dy)/l, 0), 1)
			}
			away = min(away, math.Hypot(x-p[0]-w*dx, y-p[1]-w*dy))
		}
	}
	return in, away
}

// A place lies within a band just where its temperature says so, but for the
// tolerance at the band's edge; every ring is closed; the lowest band is all
// of the section. Temperatures leap at films that resist: bands end there.
func TestBands(t *testing.T) {
	for _, c := range femCases(t) {
		holdBands(t, c.ID, solved(t, c.problem(), 0.002), RoundValues(-5, 20, 12))
	}
	holdBands(t, "felt", solved(t, filmCase(0.001, 0.0003), 0.002), RoundValues(-10, 20, 12))
}

func holdBands(t *testing.T, name string, f *Field, values []float64) {
	t.Helper()
	const tolerance = 0.0005
	bands := f.Bands(append([]float64{math.Inf(-1)}, values...), tolerance)
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, r := range bands[0].Rings {
		for _, q := range r {
			for i := range 2 {
				lo[i], hi[i] = min(lo[i], q[i]), max(hi[i], q[i])
			}
		}
	}
	for _, b := range bands {
		for _, r := range b.Rings {
			if r[0] != r[len(r)-1] {
				t.Fatalf("%s: a ring of %g °C is open", name, b.From)
			}
		}
	}
	random := rand.New(rand.NewPCG(1, 2))
	inside := 0
	for range 1500 {
		x, y := lo[0]+random.Float64()*(hi[0]-lo[0]), lo[1]+random.Float64()*(hi[1]-lo[1])
		celsius, felt := f.TemperatureAt(x, y)
		for _, b := range bands {
			in, away := b.within(x, y)
			want := felt && celsius >= b.From
			if in != want && away > tolerance && (!felt || math.Abs(celsius-b.From) > 0.15) {
				t.Errorf("%s: %.4f, %.4f at %.3f °C (felt %t): within %g °C is %t", name, x, y, celsius, felt, b.From, in)
			}
			if in {
				inside++
			}
		}
	}
	if inside == 0 {
		t.Fatalf("%s: nothing lies in any band", name)
	}
}
