package figures

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"gopkg.in/yaml.v3"

	"wythe/renderer/detail"
	"wythe/renderer/heatflow"
)

// femCase is a section solved by a general finite-element program.
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
		SurfaceResistance float64 `yaml:"surface_resistance"`
		Polyline          [][2]float64
	}
	Results struct {
		HeatFlow2   float64  `yaml:"heat_flow_interior_to_exterior"`
		L2D         float64  `yaml:"L2D"`
		PsiInternal *float64 `yaml:"psi_internal"`
		PsiExternal *float64 `yaml:"psi_external"`
		Coldest     float64  `yaml:"T_si_min"`
		Factor      float64  `yaml:"f_Rsi"`
		Couplings   []struct {
			Between [2]string
			L       float64 `yaml:"L"`
		}
		Probes []struct {
			Name string
			At   [2]float64
			T    float64 `yaml:"T"`
		}
	}
}

// file writes a case as an author would: parts by outline, materials in place,
// every face settled by hand.
func (c *femCase) file() string {
	var s strings.Builder
	lambda := map[string]float64{}
	for _, m := range c.Materials {
		lambda[m.Name] = m.Conductivity
	}
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	points := func(p [][2]float64) string {
		var out []string
		for _, x := range p {
			out = append(out, fmt.Sprintf("[%g m, %g m]", x[0], x[1]))
		}
		return "[" + strings.Join(out, ", ") + "]"
	}
	var parts strings.Builder
	for _, r := range c.Regions {
		for _, x := range r.Polygon {
			for k := range x {
				lo[k], hi[k] = min(lo[k], x[k]), max(hi[k], x[k])
			}
		}
		fmt.Fprintf(&parts, "  - %s: {material: {name: %s, conductivity: %g W/mK, hatch: rigid insulation}, outline: %s}\n", r.Name, r.Material, lambda[r.Material], points(r.Polygon))
	}
	fmt.Fprintf(&s, "---\nmark: J-201\ntitle: It\nstatus: draft\nscale: 1:10\nview: {left: %g m, right: %g m, bottom: %g m, top: %g m}\nparts:\n%sspaces:\n", lo[0], hi[0], lo[1], hi[1], parts.String())
	for _, e := range c.Environments {
		as := "inside"
		if e.Name == "exterior" {
			as = "outside"
		}
		fmt.Fprintf(&s, "  %s: {as: %s, temperature: %g C}\n", e.Name, as, e.Temperature)
	}
	s.WriteString("faces:\n")
	for _, b := range c.Boundaries {
		if b.Adiabatic {
			fmt.Fprintf(&s, "  - {along: %s, adiabatic: true}\n", points(b.Polyline))
			continue
		}
		fmt.Fprintf(&s, "  - {along: %s, space: %s, surface: %g m2K/W}\n", points(b.Polyline), b.Environment, b.SurfaceResistance)
	}
	s.WriteString("---\n")
	return s.String()
}

// junction reads a library of one junction and works its heat flow out.
func junction(t *testing.T, file string) (*HeatFlow, string) {
	t.Helper()
	lib, err := detail.ReadFS(fstest.MapFS{
		"library.yaml":     {Data: []byte("units: metric\n")},
		"junctions/it.md":  {Data: []byte(file)},
		"assemblies/it.md": {Data: []byte("---\nmark: W-101\ntitle: It\nstatus: draft\nelement: wall\nlayers:\n  - {name: plaster, material: {name: plaster, conductivity: 0.25 W/mK, hatch: plaster}, thickness: 12.5 mm}\n  - {name: wool, material: {name: wool, conductivity: 0.04 W/mK, hatch: batt}, thickness: 200 mm}\n  - {name: block, material: {name: block, conductivity: 2 W/mK, hatch: block}, thickness: 150 mm}\n---\n")},
	})
	if err != nil {
		t.Fatal(err)
	}
	d := lib.Detail("J-201")
	if d == nil || d.Junction == nil {
		t.Fatalf("no junction: %v", lib.Findings.Items)
	}
	for _, f := range lib.Findings.Items {
		if f.Rule != "no-outside" { // which a test asks for
			t.Errorf("%s", f)
		}
	}
	c := Context{Settings: &lib.Settings, Climate: lib.Climate}
	return HeatFlowOf(c, OfJunction(c, d, lib.Detail), lib.Detail, heatflow.Cache{})
}

// Sections written as junctions: through the file language to the figures.
func TestHeatFlowOfFiniteElementSections(t *testing.T) {
	files, err := filepath.Glob("../../testdata/published/fem/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	for _, file := range files {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var c femCase
		if err := yaml.Unmarshal(b, &c); err != nil {
			t.Fatal(err)
		}
		h, why := junction(t, c.file())
		if h == nil {
			t.Errorf("%s: %s", c.ID, why)
			continue
		}
		near := func(what string, got, want, within float64) {
			t.Helper()
			if !(math.Abs(got-want) <= within) {
				t.Errorf("%s: %s: %.6f, want %.6f ± %.2g", c.ID, what, got, want, within)
			}
		}
		r := &c.Results
		if r.L2D != 0 {
			near("L2D", float64(h.Coupling), r.L2D, 0.002*r.L2D)
			if off := math.Abs(float64(h.Coupling)/r.L2D - 1); off > h.Error {
				t.Errorf("%s: off by %.3g of itself, at most %.3g by its own word", c.ID, off, h.Error)
			}
			near("heat flow", h.HeatFlow, r.HeatFlow2, 0.002*r.HeatFlow2)
			near("coldest", h.Coldest.Celsius, r.Coldest, 0.05)
			near("temperature factor", h.Factor, r.Factor, 0.002)
		}
		for _, k := range r.Couplings {
			found := false
			for _, l := range h.Couplings {
				if l.Between == k.Between {
					found = true
					near(fmt.Sprint(l.Between), float64(l.Coupling), k.L, 0.002*k.L)
				}
			}
			if !found {
				t.Errorf("%s: no coupling %v", c.ID, k.Between)
			}
		}
		for _, p := range r.Probes {
			near(p.Name, float64(h.At([][2]float64{p.At})[0].Temperature), p.T, 0.05)
		}
		if r.PsiInternal != nil {
			if !h.Psi.HasInternal || !h.Psi.HasExternal {
				t.Errorf("%s: no psi: %s", c.ID, h.Psi.Why)
			}
			near("psi internal", float64(h.Psi.Internal), *r.PsiInternal, 0.001)
			near("psi external", float64(h.Psi.External), *r.PsiExternal, 0.001)
		}
	}
}

const wallMaterials = `
  - wall: {assembly: W-101, inside: left, left: 0, bottom: cut, top: cut}
`

// plainWall is one assembly from cut to cut, inside on its left.
func plainWall(more string) string {
	return `---
mark: J-201
title: It
status: draft
scale: 1:10
view: {left: -0.3 m, right: 0.8 m, bottom: 0, top: 1 m}
parts:` + wallMaterials + more + `
---
`
}

// A wall from cut to cut is the assembly: coupling U·l, no psi beyond it.
func TestHeatFlowOfAPlainWall(t *testing.T) {
	h, why := junction(t, plainWall(`spaces:
  inside: {at: [-0.1 m, 0.5 m], temperature: 20 C}
  outside: {at: [0.6 m, 0.5 m], temperature: -5 C}
`))
	if h == nil {
		t.Fatal(why)
	}
	want := 1 / (0.13 + 0.0125/0.25 + 0.2/0.04 + 0.15/2.0 + 0.04)
	near := func(what string, got, want, within float64) {
		t.Helper()
		if !(math.Abs(got-want) <= within) {
			t.Errorf("%s: %.9g, want %.9g", what, got, want)
		}
	}
	near("coupling", float64(h.Coupling), want, 1e-9)
	near("heat flow", h.HeatFlow, 25*want, 1e-7)
	near("coldest", h.Coldest.Celsius, 20-25*want*0.13, 1e-6)
	near("factor", h.Factor, 1-want*0.13, 1e-8)
	mold := 1 / (1/want - 0.13 + 0.25)
	near("factor of the mold check", h.FactorMold, 1-mold*0.25, 1e-8)
	// Two cuts, two flanks in one line: half the wall each and nothing left.
	if !h.Psi.HasInternal || !h.Psi.HasExternal {
		t.Fatalf("no psi: %s", h.Psi.Why)
	}
	if len(h.Psi.Flanks) != 2 || h.Psi.Flanks[0].Name != "W-101" {
		t.Errorf("flanks %v", h.Psi.Flanks)
	}
	near("U of a flank", h.Psi.Flanks[0].U, want, 1e-9)
	near("psi inside", float64(h.Psi.Internal), 0, 1e-9)
	near("psi outside", float64(h.Psi.External), 0, 1e-9)
}

func TestHeatFlowSaysWhyNot(t *testing.T) {
	for name, c := range map[string]struct{ more, want string }{
		"one air": {`  - hole: {material: none, left: -0.1 m, right: 0.5 m, bottom: 0.4 m, top: 0.6 m}
spaces:
  inside: {at: [-0.2 m, 0.5 m]}
  outside: {at: [0.6 m, 0.5 m]}
`, "same air"},
		"one space": {`spaces:
  inside: {at: [-0.2 m, 0.5 m]}
`, "one space"},
	} {
		if h, why := junction(t, plainWall(c.more)); h != nil || !strings.Contains(why, c.want) {
			t.Errorf("%s: %v, %q", name, h != nil, why)
		}
	}
}

// Without a climate only ratios hold.
func TestHeatFlowWithoutTemperatures(t *testing.T) {
	h, why := junction(t, plainWall(`spaces:
  inside: {at: [-0.1 m, 0.5 m]}
  outside: {at: [0.6 m, 0.5 m]}
`))
	if h == nil {
		t.Fatal(why)
	}
	b := h.json()
	if h.Temperatures || !math.IsNaN(float64(b.HeatFlow)) || !math.IsNaN(float64(b.Coldest)) || math.IsNaN(float64(b.Coupling)) || math.IsNaN(float64(b.Factor)) {
		t.Errorf("%+v", b)
	}
}

// The author's word on a face wins: no resistance, another, none at all.
func TestFacesSettleSurfaces(t *testing.T) {
	spaces := `spaces:
  inside: {as: inside, at: [-0.1 m, 0.5 m], temperature: 20 C, surface: 0.10 m2K/W}
  outside: {as: outside, at: [0.6 m, 0.5 m], temperature: -5 C, surface: 0}
`
	r := 0.0125/0.25 + 0.2/0.04 + 0.15/2.0
	h, why := junction(t, plainWall(spaces))
	if h == nil {
		t.Fatal(why)
	}
	if got := 1 / float64(h.Coupling); math.Abs(got-(r+0.10)) > 1e-8 {
		t.Errorf("surfaces of spaces: R %.9f, want %.9f", got, r+0.10)
	}
	h, why = junction(t, plainWall(spaces+`faces:
  - {along: [[0, 0], [0, 1 m]], space: inside, surface: 0.25 m2K/W}
  - {along: [[0, 0.5 m], [0, 1 m]], adiabatic: true}
`))
	if h == nil {
		t.Fatal(why)
	}
	if l := float64(h.Coupling); l > 0.999/(r+0.25) || l < 0.5/(r+0.25) {
		t.Errorf("half the face adiabatic: coupling %.6f, whole %.6f", l, 1/(r+0.25))
	}
}

// A line of faces along which nothing ends is said, with its line in the file.
func TestFacesThatSettleNothing(t *testing.T) {
	h, why := junction(t, plainWall(`spaces:
  inside: {as: inside, at: [-0.1 m, 0.5 m], temperature: 20 C}
  outside: {as: outside, at: [0.6 m, 0.5 m], temperature: -5 C}
faces:
  - {along: [[0, 0], [0, 1 m]], space: inside, surface: 0.13 m2K/W}
  - {along: [[0.1 m, 0], [0.1 m, 1 m]], space: inside, surface: 0.25 m2K/W}
`))
	if h == nil {
		t.Fatal(why)
	}
	if len(h.Notes) != 1 || !strings.HasPrefix(h.Notes[0], "faces, line 14: ") {
		t.Errorf("notes %q", h.Notes)
	}
}

func TestPlacesAskedFor(t *testing.T) {
	h, why := junction(t, plainWall(`spaces:
  inside: {at: [-0.1 m, 0.5 m], temperature: 20 C}
  outside: {at: [0.6 m, 0.5 m], temperature: -5 C}
`))
	if h == nil {
		t.Fatal(why)
	}
	p := h.At([][2]float64{{0, 0.5}, {-0.1, 0.5}})
	if math.Abs(float64(p[0].Temperature)-h.Coldest.Celsius) > 1e-9 || !math.IsNaN(float64(p[1].Temperature)) {
		t.Errorf("places %v", p)
	}
}

// The keys of `figures --json`, with their units, and null where not computed.
func TestHeatFlowKeys(t *testing.T) {
	h, why := junction(t, plainWall(`spaces:
  inside: {at: [-0.1 m, 0.5 m], temperature: 20 C}
  outside: {at: [0.6 m, 0.5 m], temperature: -5 C}
`))
	if h == nil {
		t.Fatal(why)
	}
	j := &Junction{Detail: &detail.Detail{Mark: "J-201"}, Heat: h}
	h.Places = h.At([][2]float64{{0, 0.5}})
	ms := 1.5
	h.SolveMs = &ms
	b, err := json.Marshal(j)
	if err != nil {
		t.Fatal(err)
	}
	var got struct{ Heatflow map[string]any }
	if err := json.Unmarshal(b, &got); err != nil {
		t.Fatal(err)
	}
	for _, k := range []string{"heat_flow_W_m", "coupling_W_mK", "psi_internal_W_mK", "psi_external_W_mK", "coldest_inside_C", "temperature_factor", "couplings", "error_estimate_percent", "unknowns", "solve_ms", "at"} {
		if _, ok := got.Heatflow[k]; !ok {
			t.Errorf("no key %s in %s", k, b)
		}
	}
	place := got.Heatflow["at"].([]any)[0].(map[string]any)
	if place["x_m"] != 0.0 || place["y_m"] != 0.5 || place["temperature_C"] == nil {
		t.Errorf("place %v", place)
	}
	pair := got.Heatflow["couplings"].([]any)[0].(map[string]any)
	if fmt.Sprint(pair["between"]) != "[inside outside]" || pair["coupling_W_mK"] == nil {
		t.Errorf("coupling %v", pair)
	}
	h.SolveMs, h.HasCoupling = nil, false
	if b, _ = json.Marshal(j); strings.Contains(string(b), "solve_ms") || !strings.Contains(string(b), `"coupling_W_mK":null`) {
		t.Errorf("published bytes: %s", b)
	}
}
