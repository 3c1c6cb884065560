package figures

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"
)

// drawn is a section for the judge and, written as an author would, for the
// figures.
type drawn struct {
	femCase
	turn   float64      // degrees by which the author's section is turned
	file   string       // the author's own words; else of outlines and faces
	places [][2]float64 // asked for
	// flanks are U, inside and outside length where psi is expected.
	flanks [][3]float64
	least  float64 // the judge's finest cells, m; 0: 1 mm
}

func (d *drawn) space(name string, celsius float64) *drawn {
	d.Environments = append(d.Environments, struct {
		Name        string
		Temperature float64
	}{name, celsius})
	return d
}

func (d *drawn) box(material string, lambda, x0, y0, x1, y1 float64) *drawn {
	known := false
	for _, m := range d.Materials {
		known = known || m.Name == material
	}
	if !known {
		d.Materials = append(d.Materials, struct {
			Name         string
			Conductivity float64
		}{material, lambda})
	}
	d.Regions = append(d.Regions, struct {
		Name, Material string
		Polygon        [][2]float64
	}{fmt.Sprintf("part %d", len(d.Regions)+1), material, [][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}})
	return d
}

func (d *drawn) face(space string, r float64, line ...[2]float64) *drawn {
	d.Boundaries = append(d.Boundaries, struct {
		Name, Environment string
		Adiabatic         bool
		SurfaceResistance float64 `yaml:"surface_resistance"`
		Polyline          [][2]float64
	}{fmt.Sprintf("face %d", len(d.Boundaries)+1), space, space == "", r, line})
	return d
}

func (d *drawn) ask(x, y float64) *drawn {
	d.places = append(d.places, [2]float64{x, y})
	return d
}

func (d *drawn) flank(u, internal, external float64) *drawn {
	d.flanks = append(d.flanks, [3]float64{u, internal, external})
	return d
}

// turned turns a point as the author has it.
func (d *drawn) turned(p [2]float64) [2]float64 {
	sin, cos := math.Sincos(d.turn * math.Pi / 180)
	return [2]float64{math.Round((p[0]*cos-p[1]*sin)*1e6) / 1e6, math.Round((p[0]*sin+p[1]*cos)*1e6) / 1e6}
}

// written is the section in the author's words.
func (d *drawn) written() string {
	if d.file != "" {
		return d.file
	}
	c := d.femCase
	c.Regions = append(c.Regions[:0:0], c.Regions...)
	c.Boundaries = append(c.Boundaries[:0:0], c.Boundaries...)
	turn := func(l [][2]float64) (out [][2]float64) {
		for _, p := range l {
			out = append(out, d.turned(p))
		}
		return out
	}
	for i := range c.Regions {
		c.Regions[i].Polygon = turn(c.Regions[i].Polygon)
	}
	for i := range c.Boundaries {
		c.Boundaries[i].Polyline = turn(c.Boundaries[i].Polyline)
	}
	return c.file()
}

// inOut is a section between 20 and −5 °C.
func inOut() *drawn { return (&drawn{}).space("interior", 20).space("exterior", -5) }

// xy is a point.
func xy(x, y float64) [2]float64 { return [2]float64{x, y} }

// plainU is the U-value of layers between 0.13 and 0.04 m²K/W.
func plainU(layers ...[2]float64) float64 {
	r := 0.13 + 0.04
	for _, l := range layers {
		r += l[0] / l[1]
	}
	return 1 / r
}

// sections are of the kinds that junctions are made of.
func sections() map[string]*drawn {
	wall := plainU([2]float64{0.2, 0.9}, [2]float64{0.16, 0.035}, [2]float64{0.01, 0.8})
	corner := func() *drawn {
		return inOut().
			box("render", 0.8, -0.37, -0.37, 1.5, 1.5).box("foam", 0.035, -0.36, -0.36, 1.5, 1.5).box("block", 0.9, -0.2, -0.2, 1.5, 1.5).
			box("room", 0, 0, 0, 1.5, 1.5)
	}
	all := map[string]*drawn{}
	// The room is cut away by a hole: a later part of no conductivity.
	c := corner().face("interior", 0.13, xy(0, 1.5), xy(0, 0), xy(1.5, 0)).face("exterior", 0.04, xy(-0.37, 1.5), xy(-0.37, -0.37), xy(1.5, -0.37)).
		ask(-0.1, -0.1).ask(-0.3, 0.7).ask(-0.05, 1).flank(wall, 1.5, 1.87).flank(wall, 1.5, 1.87)
	all["outer corner"] = c
	c = corner().face("exterior", 0.04, xy(0, 1.5), xy(0, 0), xy(1.5, 0)).face("interior", 0.13, xy(-0.37, 1.5), xy(-0.37, -0.37), xy(1.5, -0.37)).
		ask(-0.1, -0.1).ask(-0.3, 0.7).flank(wall, 1.87, 1.5).flank(wall, 1.87, 1.5)
	all["inner corner"] = c
	balcony := func() *drawn {
		return inOut().
			box("block", 0.9, 0, -1.5, 0.2, 1.7).box("foam", 0.035, 0.2, -1.5, 0.36, 1.7).box("render", 0.8, 0.36, -1.5, 0.37, 1.7).
			box("slab", 2.3, -1, 0, 1.2, 0.2)
	}
	faces := func(d *drawn) *drawn {
		return d.face("interior", 0.13, xy(0, 1.7), xy(0, 0.2)).face("interior", 0.17, xy(0, 0.2), xy(-1, 0.2)).face("interior", 0.10, xy(-1, 0), xy(0, 0)).face("interior", 0.13, xy(0, 0), xy(0, -1.5)).
			face("exterior", 0.04, xy(0.37, 1.7), xy(0.37, 0.2), xy(1.2, 0.2), xy(1.2, 0), xy(0.37, 0), xy(0.37, -1.5))
	}
	// Finer where little of a large coupling is asked for, or a small one.
	fine := func(d *drawn, least float64) *drawn { d.least = least; return d }
	all["balcony"] = faces(fine(balcony(), 0.0005)).ask(0.1, 0.1).ask(0.28, 0.6).ask(-0.5, 0.1).flank(wall, 1.5, 1.6).flank(wall, 1.5, 1.6)
	all["balcony on steel bars"] = faces(fine(balcony(), 0.0005).box("foam", 0.035, 0.2, 0, 0.32, 0.2).box("steel", 50, 0.05, 0.03, 0.6, 0.042).box("steel", 50, 0.05, 0.16, 0.6, 0.168)).
		ask(0.25, 0.1).ask(0.1, 0.036).flank(wall, 1.5, 1.6).flank(wall, 1.5, 1.6)
	framed := plainU([2]float64{0.0125, 0.25}, [2]float64{0.2, 0.035}, [2]float64{0.012, 0.13})
	// A steel web through insulation, its flanges in the boards.
	all["steel in insulation"] = inOut().box("board", 0.25, 0, 0, 0.8, 0.0125).box("wool", 0.035, 0, 0.0125, 0.8, 0.2125).box("panel", 0.13, 0, 0.2125, 0.8, 0.2245).
		box("steel", 50, 0.36, 0.0125, 0.44, 0.0145).box("steel", 50, 0.36, 0.2105, 0.44, 0.2125).box("steel", 50, 0.399, 0.0125, 0.401, 0.2125).
		face("interior", 0.13, xy(0, 0), xy(0.8, 0)).face("exterior", 0.04, xy(0, 0.2245), xy(0.8, 0.2245)).ask(0.4, 0.1).ask(0.2, 0.1).ask(0.41, 0.05).
		flank(framed, 0.4, 0.4).flank(framed, 0.4, 0.4)
	// The same turned: every cut aslant.
	turned := *all["steel in insulation"]
	turned.turn = 33
	all["steel in insulation, turned"] = &turned
	foil := inOut().box("wool", 0.03, 0, 0, 0.6, 0.3).box("foil", 200, 0, 0.1, 0.35, 0.1002).box("foil", 200, 0.3498, 0.1, 0.35, 0.28).box("block", 1.2, 0.5, 0, 0.6, 0.3).
		face("interior", 0.13, xy(0, 0), xy(0.6, 0)).face("exterior", 0.04, xy(0, 0.3), xy(0.6, 0.3)).ask(0.2, 0.05).ask(0.4, 0.2)
	all["foil in foam, 1 : 6,700"] = foil
	reveal := inOut().box("block", 0.8, 0, 0, 0.24, 1).box("foam", 0.032, 0.24, 0, 0.4, 1).box("frame", 0.13, 0.2, 1, 0.28, 1.1).box("foam", 0.032, 0.28, 1, 0.4, 1.03).
		face("interior", 0.13, xy(0, 0), xy(0, 1)).face("interior", 0.20, xy(0, 1), xy(0.2, 1), xy(0.2, 1.03)).face("interior", 0.13, xy(0.2, 1.03), xy(0.2, 1.1)).
		face("exterior", 0.04, xy(0.28, 1.1), xy(0.28, 1.03), xy(0.4, 1.03), xy(0.4, 0)).face("", 0, xy(0.2, 1.1), xy(0.28, 1.1)).ask(0.12, 0.95).ask(0.24, 1.05)
	all["window reveal"] = reveal
	all["three spaces"] = (&drawn{}).space("room", 20).space("attic", 4).space("exterior", -5).
		box("block", 0.7, 0, -1.2, 0.24, 0.6).box("foam", 0.035, 0.24, -1.2, 0.4, 0.6).box("slab", 2.1, -1.2, 0, 0.24, 0.16).box("wool", 0.04, -1.2, 0.16, 0, 0.4).
		face("room", 0.10, xy(-1.2, 0), xy(0, 0)).face("room", 0.13, xy(0, 0), xy(0, -1.2)).face("attic", 0.10, xy(-1.2, 0.4), xy(0, 0.4)).face("attic", 0.13, xy(0, 0.4), xy(0, 0.6)).
		face("exterior", 0.04, xy(0.4, -1.2), xy(0.4, 0.6)).ask(0.1, 0.1).ask(-0.6, 0.3)
	all["four spaces"] = (&drawn{}).space("east room", 20).space("west room", 17).space("cellar", 9).space("exterior", -8).
		box("slab", 2, -1, -0.2, 1, 0).box("wool", 0.04, -1, -0.3, 1, -0.2).box("partition", 0.5, -0.06, 0, 0.06, 1).box("block", 0.3, 1, -1, 1.3, 1).
		face("west room", 0.17, xy(-1, 0), xy(-0.06, 0)).face("west room", 0.13, xy(-0.06, 0), xy(-0.06, 1)).face("east room", 0.13, xy(0.06, 1), xy(0.06, 0)).face("east room", 0.17, xy(0.06, 0), xy(1, 0)).
		face("east room", 0.13, xy(1, 0), xy(1, 1)).face("cellar", 0.17, xy(-1, -0.3), xy(1, -0.3)).face("cellar", 0.13, xy(1, -0.3), xy(1, -1)).face("exterior", 0.04, xy(1.3, -1), xy(1.3, 1)).
		ask(0, 0.5).ask(0.9, -0.1)
	all["two rooms of one temperature"] = (&drawn{}).space("upper room", 20).space("lower room", 20).space("exterior", -5).
		box("block", 0.9, 0, -1, 0.2, 1.2).box("foam", 0.035, 0.2, -1, 0.36, 1.2).box("slab", 2.3, -1, 0, 0.2, 0.2).
		face("upper room", 0.13, xy(0, 1.2), xy(0, 0.2)).face("upper room", 0.17, xy(0, 0.2), xy(-1, 0.2)).face("lower room", 0.10, xy(-1, 0), xy(0, 0)).face("lower room", 0.13, xy(0, 0), xy(0, -1)).
		face("exterior", 0.04, xy(0.36, -1), xy(0.36, 1.2)).ask(0.1, 0.1).
		flank(plainU([2]float64{0.2, 0.9}, [2]float64{0.16, 0.035}), 1, 1.1).flank(plainU([2]float64{0.2, 0.9}, [2]float64{0.16, 0.035}), 1, 1.1)
	all["faces held, without resistance"] = inOut().box("a", 0.5, 0, 0, 1, 0.3).box("b", 2, 0.4, 0.1, 0.7, 0.2).
		face("interior", 0, xy(0, 0), xy(1, 0)).face("exterior", 0, xy(0, 0.3), xy(1, 0.3)).ask(0.2, 0.1).ask(0.55, 0.15)
	all["an adiabatic stretch"] = fine(inOut(), 0.0001).box("a", 0.5, 0, 0, 1, 0.3).
		face("interior", 0.13, xy(0, 0), xy(1, 0)).face("", 0, xy(0.3, 0), xy(0.6, 0)).face("exterior", 0.04, xy(0, 0.3), xy(1, 0.3)).ask(0.45, 0.15).ask(0.9, 0.05)
	all["a void that faces shut"] = inOut().box("a", 0.5, 0, 0, 1, 0.4).box("hole", 0, 0.3, 0.1, 0.7, 0.3).
		face("", 0, xy(0.3, 0.1), xy(0.7, 0.1), xy(0.7, 0.3), xy(0.3, 0.3), xy(0.3, 0.1)).face("interior", 0.13, xy(0, 0), xy(1, 0)).face("exterior", 0.04, xy(0, 0.4), xy(1, 0.4)).ask(0.15, 0.2)
	all["a void that faces give to outside"] = inOut().box("a", 0.5, 0, 0, 1, 0.4).box("hole", 0, 0.3, 0.2, 0.7, 0.3).
		face("interior", 0.13, xy(0, 0), xy(1, 0)).face("exterior", 0.04, xy(0, 0.4), xy(1, 0.4)).face("exterior", 0.13, xy(0.3, 0.2), xy(0.7, 0.2), xy(0.7, 0.3), xy(0.3, 0.3), xy(0.3, 0.2)).ask(0.15, 0.2).ask(0.5, 0.1)
	// ISO 13370, slab on ground: B' = 2 · 5.7 m, wall 0.4 m.
	dt := 0.4 + 1.5*(0.17+0.06/1.4+0.14/0.035+0.04)
	floor := 2 * 1.5 / (math.Pi*11.4 + dt) * math.Log(math.Pi*11.4/dt+1)
	all["slab edge with its soil"] = inOut().
		box("earth", 1.5, -12, -12, 6, 0).box("concrete", 2, 0, -0.8, 0.3, 0.3).box("block", 0.5, 0, 0.3, 0.3, 1.5).box("foam", 0.035, -0.1, -0.6, 0, 1.5).
		box("foam", 0.035, 0.3, -0.2, 6, -0.06).box("screed", 1.4, 0.3, -0.06, 6, 0).
		face("interior", 0.13, xy(0.3, 1.5), xy(0.3, 0)).face("interior", 0.17, xy(0.3, 0), xy(6, 0)).face("exterior", 0.04, xy(-12, 0), xy(-0.1, 0)).face("exterior", 0.04, xy(-0.1, 0), xy(-0.1, 1.5)).
		ask(0.15, 0.1).ask(3, -0.03).ask(-2, -2).flank(1/(0.13+0.04+0.1/0.035+0.3/0.5), 1.5, 1.5).flank(floor, 5.7, 6.1)
	// Two storeys between two walls: four flanks.
	pair := plainU([2]float64{0.2, 0.9}, [2]float64{0.16, 0.035})
	all["floor between two walls"] = inOut().box("block", 0.9, 0, -1, 0.2, 1.2).box("foam", 0.035, -0.16, -1, 0, 1.2).box("block", 0.9, 2.2, -1, 2.4, 1.2).box("foam", 0.035, 2.4, -1, 2.56, 1.2).box("slab", 2.3, -0.16, 0, 2.4, 0.2).
		face("interior", 0.13, xy(0.2, 1.2), xy(0.2, 0.2), xy(2.2, 0.2), xy(2.2, 1.2)).face("interior", 0.13, xy(0.2, -1), xy(0.2, 0), xy(2.2, 0), xy(2.2, -1)).
		face("exterior", 0.04, xy(-0.16, -1), xy(-0.16, 1.2)).face("exterior", 0.04, xy(2.56, -1), xy(2.56, 1.2)).ask(1, 0.1).
		flank(pair, 1, 1.1).flank(pair, 1, 1.1).flank(pair, 1, 1.1).flank(pair, 1, 1.1)
	all["parapet"] = inOut().box("block", 0.8, 0, -1.2, 0.24, 0.6).box("slab", 2.3, -1.2, 0, 0.24, 0.2).box("foam", 0.035, 0.24, -1.2, 0.4, 0.6).box("fine foam", 0.03, -1.2, 0.2, 0, 0.4).box("cap", 0.13, 0, 0.6, 0.4, 0.64).
		face("interior", 0.10, xy(-1.2, 0), xy(0, 0)).face("interior", 0.13, xy(0, 0), xy(0, -1.2)).face("exterior", 0.04, xy(-1.2, 0.4), xy(0, 0.4), xy(0, 0.64), xy(0.4, 0.64), xy(0.4, -1.2)).
		ask(0.12, 0.3).ask(-0.5, 0.1).ask(0.3, -0.5).
		flank(plainU([2]float64{0.24, 0.8}, [2]float64{0.16, 0.035}), 1.2, 1.6).flank(1/(0.10+0.04+0.2/2.3+0.2/0.03), 1.2, 1.6)
	return all
}

// Sections of every kind, through the file language to the keys of `figures
// --json`, against finite volumes that share nothing with the solver.
func TestHeatFlowOfDrawnSections(t *testing.T) {
	all := sections()
	maps.Copy(all, inWords())
	for name, d := range all {
		t.Run(name, func(t *testing.T) {
			for i := range d.Materials { // a hole is a part of no material
				if d.Materials[i].Conductivity == 0 {
					d.file = strings.NewReplacer(fmt.Sprintf("material: {name: %s, conductivity: 0 W/mK, hatch: rigid insulation}", d.Materials[i].Name), "material: none").Replace(d.written())
				}
			}
			h, why := junction(t, strings.ReplaceAll(d.written(), "{name: earth, conductivity: 1.5 W/mK, hatch: rigid insulation}", "{name: earth, conductivity: 1.5 W/mK, hatch: earth}"))
			if h == nil {
				t.Fatal(why)
			}
			for _, p := range d.places {
				h.Places = append(h.Places, h.At([][2]float64{d.turned(p)})...)
			}
			b, err := json.Marshal(h.json())
			if err != nil {
				t.Fatal(err)
			}
			var got struct {
				HeatFlow  *float64 `json:"heat_flow_W_m"`
				Coupling  *float64 `json:"coupling_W_mK"`
				Internal  *float64 `json:"psi_internal_W_mK"`
				External  *float64 `json:"psi_external_W_mK"`
				Coldest   *float64 `json:"coldest_inside_C"`
				Factor    *float64 `json:"temperature_factor"`
				Couplings []struct {
					Between  [2]string
					Coupling *float64 `json:"coupling_W_mK"`
				}
				Error *float64 `json:"error_estimate_percent"`
				At    []struct {
					T *float64 `json:"temperature_C"`
				}
			}
			if err := json.Unmarshal(b, &got); err != nil {
				t.Fatal(err)
			}
			g := judge(&d.femCase, 0.001, 1.35)
			if d.least > 0 {
				g = judge(&d.femCase, d.least, 1.25)
			}
			near := func(what string, got *float64, want, within float64) {
				t.Helper()
				if got == nil || !(math.Abs(*got-want) <= within) {
					v := math.NaN()
					if got != nil {
						v = *got
					}
					t.Errorf("%s: %.6f, by finite volumes %.6f ± %.2g", what, v, want, within)
				}
			}
			flow, least := 0.0, math.Inf(1)
			temperatures := map[float64]bool{}
			for i, e := range d.Environments {
				temperatures[e.Temperature] = true
				if g.inside[i] {
					flow += g.flow[i]
				} else {
					least = e.Temperature
				}
			}
			near("heat flow", got.HeatFlow, flow, 0.003*math.Abs(flow))
			near("coldest", got.Coldest, g.coldest, 0.05)
			for i, p := range d.places {
				near(fmt.Sprint("at ", p), got.At[i].T, g.at(p[0], p[1]), 0.05)
			}
			k, largest := 0, 0.0
			for _, row := range g.coupling {
				largest = max(largest, slices.Max(row))
			}
			for i := range d.Environments {
				for j := i + 1; j < len(d.Environments); j++ {
					c := got.Couplings[k]
					if c.Between != [2]string{d.Environments[i].Name, d.Environments[j].Name} {
						t.Errorf("coupling %d is between %v", k, c.Between)
					}
					near(fmt.Sprint("coupling ", c.Between), c.Coupling, g.coupling[i][j], 0.003*g.coupling[i][j]+1e-4*largest)
					k++
				}
			}
			if len(temperatures) == 2 {
				l := flow / (20 - least)
				near("coupling", got.Coupling, l, 0.003*l)
				near("temperature factor", got.Factor, (g.coldest-least)/(20-least), 0.002)
				if got.Error == nil || *got.Error < 0 || *got.Error > 0.2 {
					t.Errorf("error estimate %v", got.Error)
				}
			} else if got.Coupling != nil || got.Factor != nil {
				t.Errorf("more than two temperatures: coupling %v, factor %v", got.Coupling, got.Factor)
			}
			if in, out := flow/(20-least), flow/(20-least); d.flanks != nil {
				for _, f := range d.flanks {
					in -= f[0] * f[1]
					out -= f[0] * f[2]
				}
				near("psi internal", got.Internal, in, 0.003)
				near("psi external", got.External, out, 0.003)
			}
			t.Logf("unknowns %d, psi %v %v %q, notes %v", h.Field.Unknowns(), h.Psi.HasInternal, h.Psi.HasExternal, h.Psi.Why, h.Notes)
		})
	}
}
