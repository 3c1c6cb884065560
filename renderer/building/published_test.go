package building

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"gopkg.in/yaml.v3"

	"wythe/renderer/climate"
	"wythe/renderer/detail"
	"wythe/renderer/energy"
	"wythe/renderer/figures"
	"wythe/renderer/units"
)

// published reads a published case: its inputs and what is expected, numbers
// alone.
func published(t *testing.T, file, id string) (in, want map[string]float64) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "published", file))
	if err != nil {
		t.Fatal(err)
	}
	var list []struct {
		ID       string         `yaml:"id"`
		Inputs   map[string]any `yaml:"inputs"`
		Expected any            `yaml:"expected"`
		Follows  map[string]any `yaml:"follows"`
	}
	var root yaml.Node
	if err := yaml.Unmarshal(data, &root); err != nil {
		t.Fatal(err)
	}
	cases := root.Content[0]
	if cases.Kind == yaml.MappingNode {
		for i := 0; i+1 < len(cases.Content); i += 2 {
			if cases.Content[i+1].Kind == yaml.SequenceNode && cases.Content[i].Value == "cases" {
				cases = cases.Content[i+1]
				break
			}
		}
	}
	if err := cases.Decode(&list); err != nil {
		t.Fatal(err)
	}
	numbers := func(v any) map[string]float64 {
		out := map[string]float64{}
		m, _ := v.(map[string]any)
		for k, x := range m {
			switch n := x.(type) {
			case float64:
				out[k] = n
			case int:
				out[k] = float64(n)
			}
		}
		return out
	}
	for _, c := range list {
		if c.ID == id {
			want = numbers(c.Expected)
			for k, v := range numbers(c.Follows) {
				want[k] = v
			}
			return numbers(c.Inputs), want
		}
	}
	t.Fatalf("%s has no case %s", file, id)
	return nil, nil
}

// library reads files and returns the context and the one building.
func library(t *testing.T, files map[string]string) (Context, *detail.Detail) {
	t.Helper()
	lib := readLibrary(t, files)
	c := figures.Context{Settings: &lib.Settings, Climate: lib.Climate}
	return Context{
		Settings: &lib.Settings, Climate: lib.Climate,
		Assembly: func(mark string) *figures.Assembly { return figures.OfAssembly(c, lib.Detail(mark)) },
		Psi:      func(string) Linear { return Linear{Why: "not solved in this test"} },
	}, lib.Buildings[0]
}

const settings = "firm: Oriel & Strand Architects\ntitle: T\nunits: metric\nsurfaces: ISO 6946\n"

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within || math.IsNaN(got) {
		t.Errorf("%s is %.8g; want %.8g ± %.2g", what, got, want, within)
	}
}

// A house of one loss coefficient, its season by degree-days, its oil.
func TestHouseByDegreeDays(t *testing.T) {
	in, want := published(t, "energy.yaml", "hdd-oil")
	c, d := library(t, map[string]string{
		"library.yaml": settings,
		"W-101.md":     "---\nmark: W-101\ntitle: W\nelement: wall\nlayers:\n  - {material: concrete, thickness: 100 mm}\n---\n",
		"b.md":         fmt.Sprintf("---\ntitle: House\nareas:\n  - {detail: W-101, area: 1000 sq ft, gross: true}\nopenings:\n  - {what: all of it, area: 1000 sq ft, U-factor: %g, in: W-101}\n---\n", in["loss_Btu_h_F"]/1000),
	})
	mean := energy.UsualBase - units.Temperature(in["hdd_F_day"]/1.8/365)
	c.Climate = &climate.Climate{Heating: mean}
	for i := range c.Climate.Months {
		c.Climate.Months[i].Temperature = mean
	}
	c.Prices = []energy.Price{{Fuel: "heating oil", Unit: "gal", PerUnit: 2, Efficiency: units.Ratio(in["efficiency"])}}
	b := Solve(c, d)
	near(t, "season, Btu", b.Year.Btu(), want["season_Btu"], 1)
	near(t, "oil, gal", b.Costs[0].Units, want["gallons"], 0.01)
	near(t, "money", b.Costs[0].Money, 2*want["gallons"], 0.02)
	if len(b.Lines) != 1 || math.Abs(b.Lines[0].Share-1) > 1e-12 {
		t.Errorf("%+v", b.Lines)
	}
}

func TestBasementOfABuilding(t *testing.T) {
	in, want := published(t, "ground.yaml", "basement")
	c, d := library(t, map[string]string{
		"library.yaml": settings,
		"F-101.md":     fmt.Sprintf("---\nmark: F-101\ntitle: F\nelement: floor on ground\nlayers:\n  - {material: {name: a, conductivity: 0.04 W/mK, hatch: rigid insulation}, thickness: %g mm}\nground: {soil: clay, wall: %g m}\n---\n", 40*in["Rf"], in["w"]),
		"W-101.md":     fmt.Sprintf("---\nmark: W-101\ntitle: W\nelement: wall below grade\nlayers:\n  - {material: {name: b, conductivity: 0.04 W/mK, hatch: rigid insulation}, thickness: %g mm}\n---\n", 40*in["Rw"]),
		"b.md":         fmt.Sprintf("---\ntitle: House\nareas:\n  - {detail: F-101, area: %g m2, perimeter: %g m, depth: %g m}\n  - {detail: W-101, area: %g m2}\n---\n", in["A"], in["P"], in["z"], in["z"]*in["P"]),
	})
	b := Solve(c, d)
	near(t, "H_g", b.WPerK, want["H_g"], 1e-5*want["H_g"])
	for _, l := range b.Lines {
		u := want["U_floor"]
		if l.Mark == "W-101" {
			u = want["U_wall"]
		}
		near(t, "U of "+l.Mark, float64(l.Transmittance), u, 1e-5*u)
	}
	if len(b.Lines) != 2 || !b.NoClimate {
		t.Errorf("%+v", b)
	}
}

func TestSlabOfABuilding(t *testing.T) {
	in, want := published(t, "ground.yaml", "slab-insulated")
	c, d := library(t, map[string]string{
		"library.yaml": settings,
		"F-102.md": `---
mark: F-102
title: F
element: floor on ground
layers:
  - {material: {name: a, conductivity: 2.3 W/mK, hatch: concrete}, thickness: 150 mm}
  - {material: {name: b, conductivity: 0.035 W/mK, hatch: rigid insulation}, thickness: 100 mm}
ground: {soil: sand}
---
`,
		"b.md": fmt.Sprintf("---\ntitle: Shop\nareas:\n  - {detail: F-102, area: %g m2, perimeter: %g m}\n---\n", in["A"], in["P"]),
	})
	b := Solve(c, d)
	near(t, "H_g", b.WPerK, want["H_g_W_K"], 1e-5*want["H_g_W_K"])
	// Months of the same slab, ISO 13370: the year is what flows out of it.
	_, months := published(t, "ground.yaml", "slab-months")
	c.Climate = &climate.Climate{Heating: -10}
	for i := range c.Climate.Months {
		c.Climate.Months[i].Temperature = units.Temperature(9 - 10*math.Cos(2*math.Pi*float64(i)/12))
	}
	c.Settings.Inside.Temperature = 20
	b = Solve(c, d)
	// All months but July: its mean of 19 °C alone lies over the base.
	year := 0.0
	for i, w := range [12]float64{342.047, 357.657, 342.047, 299.399, 241.142, 182.885, 140.238, 124.628, 140.238, 182.885, 241.142, 299.399} {
		if i != 6 {
			year += w * energy.Days[i] * 86400
		}
	}
	near(t, "year", float64(b.Year), year, 1e-4*year)
	near(t, "coldest month", b.DesignW, 357.657, 0.04)
	if months["annual_mean_W"] == 0 {
		t.Error("the published months were not read")
	}
}

func TestAirLeakage(t *testing.T) {
	in, want := published(t, "energy.yaml", "leak-units")
	c, d := library(t, map[string]string{
		"library.yaml": settings,
		"W-101.md":     "---\nmark: W-101\ntitle: W\nelement: wall\nlayers:\n  - {material: concrete, thickness: 100 mm}\n---\n",
		"b.md":         fmt.Sprintf("---\ntitle: House\nareas:\n  - {detail: W-101, area: 10 m2}\nvolume: %g cu ft\nair leakage: %g per hour at 50 Pa\n---\n", in["V_ft3"], in["ACH50"]),
	})
	for _, l := range Solve(c, d).Lines {
		if l.Kind == Air {
			const perBtu = 1055.05585262 / 3600 / (5.0 / 9)
			near(t, "Btu/(h·°F)", l.WPerK/perBtu, want["heat_Btu_h_F_at_0.03_ACH"], 1e-4)
			return
		}
	}
	t.Error("no line of air leakage")
}

func readLibrary(t *testing.T, files map[string]string) *detail.Library {
	t.Helper()
	fsys := fstest.MapFS{}
	for name, text := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(text)}
	}
	lib, err := detail.ReadFS(fsys)
	if err != nil || lib.Findings.Errors() > 0 || len(lib.Buildings) != 1 {
		t.Fatalf("%v, %v, %d buildings", err, lib.Findings.Items, len(lib.Buildings))
	}
	return lib
}
