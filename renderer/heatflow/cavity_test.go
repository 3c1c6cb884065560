package heatflow

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"gopkg.in/yaml.v3"

	"wythe/renderer/units"
)

// ISO 6946:2017 Annex D, table 8: unventilated air layers between surfaces of
// high emissivity at 10 °C.
func TestCavityOfAirLayer(t *testing.T) {
	b, err := os.ReadFile(filepath.Join(publishedFolder, "steady_1d.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	var all struct {
		Cases []struct {
			ID       string
			Expected yaml.Node
		}
	}
	if err := yaml.Unmarshal(b, &all); err != nil {
		t.Fatal(err)
	}
	for _, c := range all.Cases {
		if c.ID != "air-iso-table8" {
			continue
		}
		rows := decode[[][4]float64](t, c.Expected)
		if len(rows) < 8 {
			t.Fatalf("%d rows", len(rows))
		}
		for _, row := range rows[1:] {
			for i, d := range []Direction{Upward, Horizontal, Downward} {
				a := row[0] / 1000
				lambda, err := Cavity{Along: a, Across: 100 * a, Direction: d, Warm: 0.9, Cold: 0.9, Mean: 10, Difference: 5}.ISO6946()
				if err != nil {
					t.Fatal(err)
				}
				isNear(t, "resistance", a/lambda, row[1+i], 0.00501)
			}
		}
	}
}

// Source: ISO 10077-2:2017, 6.4.2, worked by hand for a square cavity of 20 mm
// at 10 °C, ε 0.9, 10 K: h_a = max(0.025/0.02, 1.57) = 1.5728; h_r = 4σ·283.15³
// · 0.8182 · ½(1 + √2 − 1) = 2.9787.
func TestCavityOfFrame(t *testing.T) {
	c := Cavity{Along: 0.02, Across: 0.02, Warm: 0.9, Cold: 0.9, Mean: 10}
	got, err := c.ISO10077()
	if err != nil {
		t.Fatal(err)
	}
	ha := 0.73 * math.Cbrt(10)
	hr := 4 * 5.670374419e-8 * 283.15 * 283.15 * 283.15 / (2/0.9 - 1) * math.Sqrt2 / 2
	isNear(t, "conductivity", got, 0.02*(ha+hr), 1e-12)
	isNear(t, "conductivity", got, 0.0910, 0.0002)
	c.Across = 0.004
	narrow, _ := c.ISO10077()
	if narrow >= got {
		t.Errorf("a cavity too narrow for convection conducts %g, a wide one %g", narrow, got)
	}
}

func TestCavityLimits(t *testing.T) {
	var out *units.RangeError
	if _, err := (Cavity{Along: 0.4, Across: 1, Warm: 0.9, Cold: 0.9}).ISO6946(); !errors.As(err, &out) {
		t.Errorf("a cavity of 0.4 m: %v", err)
	}
	if _, err := (Cavity{Along: 0.1, Across: 1, Warm: 0, Cold: 0.9}).ISO10077(); !errors.As(err, &out) {
		t.Errorf("an emissivity of 0: %v", err)
	}
	// Walls between the faces shade them: a divided cavity conducts less.
	wide, _ := Cavity{Along: 0.05, Across: 0.51, Warm: 0.9, Cold: 0.9, Mean: 10}.ISO6946()
	narrow, _ := Cavity{Along: 0.05, Across: 0.05, Warm: 0.9, Cold: 0.9, Mean: 10}.ISO6946()
	if !(narrow < wide) {
		t.Errorf("divided %g, wide %g", narrow, wide)
	}
	along, across := AsRectangle(0.5, 1, 1)
	isNear(t, "area", along*across, 0.5, 1e-12)
	isNear(t, "proportion", along/across, 1, 1e-12)
}

// ISO 6946:2017, 6.8: horizontal holds within 30° of the horizontal plane.
func TestFacesByTheirSlope(t *testing.T) {
	for _, c := range []struct {
		degrees float64 // of the normal into the room above the horizontal
		want    Direction
		rsi     float64
	}{
		{0, Horizontal, 0.13}, {29, Horizontal, 0.13}, {30, Horizontal, 0.13}, {31, Downward, 0.17}, {90, Downward, 0.17},
		{-29, Horizontal, 0.13}, {-31, Upward, 0.10}, {-90, Upward, 0.10}, {180, Horizontal, 0.13},
	} {
		sin, cos := math.Sincos(c.degrees * math.Pi / 180)
		d := InsideFace(cos, sin)
		if d != c.want || SurfaceInside(d) != c.rsi {
			t.Errorf("normal at %g°: direction %d, %g", c.degrees, d, SurfaceInside(d))
		}
	}
	p := compositeWall(1, 0)
	for i, e := range p.Edges {
		if e.Surface == 0 { // the bottom face of a flat stack: heat flows up into it
			nx, ny, ok := p.Normal(int32(i))
			if !ok || nx != 0 || ny != -1 || InsideFace(nx, ny) != Upward {
				t.Errorf("normal %g, %g", nx, ny)
			}
		}
	}
}
