package heatflow

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"gopkg.in/yaml.v3"

	"wythe/renderer/geometry"
)

const publishedFolder = "../../testdata/published"

// femCase is a section solved by a general finite-element program, with its
// own estimate of error beside each figure.
type femCase struct {
	ID           string
	Environments []struct {
		Name        string
		Temperature float64
	}
	Materials []struct {
		Name         string
		Conductivity float64
	}
	Regions []struct {
		Name, Material string
		Polygon        [][2]float64
	}
	Boundaries []struct {
		Name, Environment string
		Adiabatic         bool
		Temperature       *float64
		SurfaceResistance float64 `yaml:"surface_resistance"`
		Polyline          [][2]float64
	}
	Results struct {
		HeatFlow  map[string]float64 `yaml:"heat_flow"`
		HeatFlow2 float64            `yaml:"heat_flow_interior_to_exterior"`
		L2D       float64            `yaml:"L2D"`
		Couplings []struct {
			Between [2]string
			L       float64 `yaml:"L"`
		}
		SurfaceTemperatures []struct {
			Boundary string
			TMin     float64 `yaml:"T_min"`
			At       [2]float64
			Error    float64 `yaml:"error_estimate"`
		} `yaml:"surface_temperatures"`
		Probes []struct {
			Name  string
			At    [2]float64
			T     float64 `yaml:"T"`
			Error float64 `yaml:"error_estimate"`
		}
	}
}

func femCases(t testing.TB) []*femCase {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(publishedFolder, "fem", "*.yaml"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	var out []*femCase
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		c := &femCase{}
		if err := yaml.Unmarshal(b, c); err != nil {
			t.Fatalf("%s: %v", f, err)
		}
		out = append(out, c)
	}
	return out
}

func micrometres(x [2]float64) geometry.Point {
	return geometry.Point{X: int64(math.Round(x[0] * 1e6)), Y: int64(math.Round(x[1] * 1e6))}
}

// problem lays a case out. Boundary i is surface i.
func (c *femCase) problem() *Problem {
	l := &Layout{}
	var p Problem
	for _, m := range c.Materials {
		p.Regions = append(p.Regions, Region{m.Conductivity})
	}
	for _, e := range c.Environments {
		p.Spaces = append(p.Spaces, Space{e.Name, e.Temperature})
	}
	for _, r := range c.Regions {
		a := Area{Region: None}
		for i, m := range c.Materials {
			if m.Name == r.Material {
				a.Region = int32(i)
			}
		}
		for _, x := range r.Polygon {
			a.Ring = append(a.Ring, micrometres(x))
		}
		l.Areas = append(l.Areas, a)
	}
	for i, b := range c.Boundaries {
		s := Surface{Resistance: b.SurfaceResistance}
		for k, e := range c.Environments {
			if e.Name == b.Environment {
				s.Space = int32(k)
			}
		}
		p.Surfaces = append(p.Surfaces, s)
		if b.Adiabatic {
			continue
		}
		line := Line{Of: int32(i)}
		for _, x := range b.Polyline {
			line.Points = append(line.Points, micrometres(x))
		}
		l.Surfaces = append(l.Surfaces, line)
	}
	q := l.Problem()
	q.Regions, q.Spaces, q.Surfaces = p.Regions, p.Spaces, p.Surfaces
	return q
}
