package figures

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"wythe/renderer/detail"
	"wythe/renderer/published"
)

// of writes an assembly as a library of one file, reads it and works it out.
func of(t *testing.T, library, front string) *Assembly {
	t.Helper()
	lib, err := detail.ReadFS(fstest.MapFS{
		"library.yaml":     {Data: []byte(library)},
		"assemblies/it.md": {Data: []byte("---\nmark: W-101\ntitle: It\nstatus: draft\n" + front + "---\n")},
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range lib.Findings.Items {
		t.Fatalf("finding: %s", f)
	}
	return OfAssembly(Context{Settings: &lib.Settings, Climate: lib.Climate}, lib.Detail("W-101"))
}

const (
	inch   = "firm: F\ntitle: T\nunits: inch\n"
	metric = "firm: F\ntitle: T\nunits: metric\n"
)

// Published: the wood-frame wall of ASHRAE Handbook-Fundamentals ch. 27 (from
// memory), written as a detail file. Tolerance: as the source prints it.
func TestWoodFrameWall(t *testing.T) {
	var in struct {
		OutsideFilm float64 `yaml:"outside_film"`
		InsideFilm  float64 `yaml:"inside_film"`
	}
	var want struct {
		Parallel   float64 `yaml:"U_parallel_path"`
		Isothermal float64 `yaml:"U_isothermal_planes"`
	}
	published.Read(t, "steady_1d.yaml", "wood-frame-ashrae", &in, &want)
	front := fmt.Sprintf(`element: wall
surfaces: {inside: R %g, outside: R %g}
layers:
  - {name: board, material: {name: board, resistance: R 0.45, hatch: gypsum}, thickness: 1/2 in}
  - name: cavity
    material: {name: batt, resistance: R 13, hatch: batt}
    thickness: 3 1/2 in
    framing: {material: {name: stud, resistance: R 4.38, hatch: sawn timber}, fraction: 25 %%}
  - {name: foam, material: {name: foam, resistance: R 4, hatch: rigid insulation}, thickness: 1 in}
  - {name: siding, material: {name: siding, resistance: R 0.81, hatch: finish timber}, thickness: 1/2 in}
`, in.InsideFilm, in.OutsideFilm)
	a := of(t, inch, front)
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"parallel path", 1 / float64(a.Thermal.ParallelPath.Value.RValue()), want.Parallel},
		{"isothermal planes", 1 / float64(a.Thermal.IsothermalPlanes.Value.RValue()), want.Isothermal},
	} {
		if math.Abs(c.got-c.want) > 0.0005 {
			t.Errorf("%s: U %.5f, want %.3f", c.name, c.got, c.want)
		}
	}
	if a.Thermal.Method != "parallel path" || a.Thermal.Resistance.Value != a.Thermal.ParallelPath.Value {
		t.Errorf("an inch library's headline is %s", a.Thermal.Method)
	}
}

// Published: ANSI/ASHRAE/IES 90.1-2016, Table A2.2.3, insulation entirely
// above deck, every row. Tolerance: half of the last digit.
func TestRoofOfTableA223(t *testing.T) {
	var in struct {
		R []float64 `yaml:"R_insulation"`
	}
	var want []float64
	published.Read(t, "steady_1d.yaml", "roof-901", &in, &want)
	for i, r := range in.R {
		front := fmt.Sprintf(`element: roof
layers:
  - {name: deck, material: {name: deck, conductivity: 50 W/mK, hatch: metal}, thickness: 0.036 in}
  - {name: foam, material: {name: foam, resistance: R %g, hatch: rigid insulation}, thickness: 1 in}
`, r)
		if r == 0 {
			front = front[:strings.LastIndex(front, "  - {name: foam")]
		}
		a := of(t, inch, front)
		if got := float64(a.Thermal.Transmittance.UFactor()); math.Abs(got-want[i]) > 0.0005 {
			t.Errorf("R-%g: U %.4f, want %.3f", r, got, want[i])
		}
	}
}

// Computed from ISO 6946:2017, 6.7.2; the case's well-ventilated cladding is
// written here as the layers outside it. Tolerance: 1e-5 relative.
func TestTimberFrameWithCladding(t *testing.T) {
	var in struct{}
	var want struct {
		Upper float64 `yaml:"upper_limit"`
		Lower float64 `yaml:"lower_limit"`
		Total float64 `yaml:"R_total"`
		U     float64 `yaml:"U"`
	}
	published.Read(t, "steady_1d.yaml", "comb-timber-frame", &in, &want)
	a := of(t, metric, `element: wall
layers:
  - {name: board, material: {name: board, conductivity: 0.25 W/mK, hatch: gypsum}, thickness: 12.5 mm}
  - name: frame
    material: {name: wool, conductivity: 0.038 W/mK, hatch: batt}
    thickness: 140 mm
    framing: {material: {name: stud, conductivity: 0.13 W/mK, hatch: sawn timber}, fraction: 15 %}
  - {name: sheathing, material: {name: panel, conductivity: 0.13 W/mK, hatch: plywood}, thickness: 9 mm}
  - {name: cavity, material: air, thickness: 25 mm, ventilation: well}
  - {name: cladding, material: {name: boards, conductivity: 0.13 W/mK, hatch: finish timber}, thickness: 20 mm}
`)
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"upper limit", float64(a.Thermal.Upper.Value), want.Upper},
		{"lower limit", float64(a.Thermal.Lower.Value), want.Lower},
		{"resistance", float64(a.Thermal.Resistance.Value), want.Total},
		{"transmittance", float64(a.Thermal.Transmittance), want.U},
	} {
		if math.Abs(c.got-c.want) > 1e-5*c.want {
			t.Errorf("%s: %.6f, want %.6f", c.name, c.got, c.want)
		}
	}
}

// The contract of the figures in JSON: keys carry units, what is not computed
// is null and says why.
// Width times depth of a metal stud is no metal: its weight is not made up.
func TestFoldedMetalHasNoWeight(t *testing.T) {
	const wall = "element: wall\nlayers:\n  - {name: studs, material: mineral wool batt, thickness: 6 in, framing: {material: %s, width: 1 5/8 in, spacing: 16 in}}\n"
	wood, steel := of(t, "", fmt.Sprintf(wall, "softwood")), of(t, "", fmt.Sprintf(wall, "steel"))
	if wood.Dead == nil || steel.Dead != nil || !strings.Contains(steel.Why("dead_load_Pa"), "thin metal") {
		t.Errorf("wood %v, steel %v because %q", wood.Dead, steel.Dead, steel.Why("dead_load_Pa"))
	}
}

func TestJSONSaysWhatIsMissing(t *testing.T) {
	for _, c := range []struct {
		studs    string
		key, why string // what is missing, and a word of the reason
	}{
		{"steel, width: 40 mm, spacing: 350 mm", "thermal", "studs"}, // no table has 350 mm
		{"softwood, width: 40 mm, spacing: 400 mm", "moisture", "climate"},
	} {
		a := of(t, metric, `element: wall
layers:
  - {name: studs, material: mineral wool batt, thickness: 90 mm, framing: {material: `+c.studs+`}}
  - {name: board, material: gypsum board, thickness: 13 mm}
`)
		b, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		var got map[string]json.RawMessage
		if err := json.Unmarshal(b, &got); err != nil {
			t.Fatal(err)
		}
		if string(got[c.key]) != "null" {
			t.Errorf("%s: %s is %s, want null", c.studs, c.key, got[c.key])
		}
		if why := a.Why(c.key); !strings.Contains(why, c.why) {
			t.Errorf("%s: %s is missing for the reason %q", c.studs, c.key, why)
		}
	}
}

// Computed independently from ISO 13788:2012, 6.4 to 6.6, in the published
// file: the concrete wall insulated inside, written as a detail file with the
// demonstration's climate. Tolerance: 1e-3 g/m², the source's.
func TestYearOfCondensation(t *testing.T) {
	var in struct{}
	var want struct {
		Start    string          `yaml:"start_month"`
		Dry      bool            `yaml:"dry_at_end_of_year"`
		Greatest float64         `yaml:"greatest_accumulated_g_m2"`
		Months   [][]interface{} `yaml:"months"`
	}
	published.Read(t, "moisture.yaml", "year-m1", &in, &want)
	climate, err := os.ReadFile("../../details/climates/marrow-point.yaml")
	if err != nil {
		t.Fatal(err)
	}
	lib, err := detail.ReadFS(fstest.MapFS{
		"library.yaml":               {Data: []byte(metric + "climate: marrow-point\ninside: {temperature: 70 F, moisture class: 3}\n")},
		"climates/marrow-point.yaml": {Data: climate},
		"it.md": {Data: []byte(`---
mark: W-101
title: Concrete wall insulated inside without vapor control
status: draft
element: wall
layers:
  - {name: board, material: {name: board, conductivity: 0.25 W/mK, vapor: mu 10, hatch: gypsum}, thickness: 12.5 mm}
  - {name: wool, material: {name: wool, conductivity: 0.035 W/mK, vapor: mu 1, hatch: batt}, thickness: 100 mm}
  - {name: wall, material: {name: cast wall, conductivity: 2.0 W/mK, vapor: mu 100, hatch: concrete}, thickness: 200 mm}
---
`)}})
	if err != nil || len(lib.Findings.Items) > 0 {
		t.Fatal(err, lib.Findings.Items)
	}
	a := OfAssembly(Context{Settings: &lib.Settings, Climate: lib.Climate}, lib.Detail("W-101"))
	if a.Moisture == nil {
		t.Fatal(a.Why("moisture"))
	}
	got := moistureOf(a.Moisture)
	if got.Start == nil || *got.Start != want.Start || got.Dry != want.Dry {
		t.Errorf("starts %v, dry %v; want %s, %v", got.Start, got.Dry, want.Start, want.Dry)
	}
	if math.Abs(1000*float64(got.Greatest)-want.Greatest) > 1e-3 {
		t.Errorf("greatest %.3f g/m², want %.3f", 1000*float64(got.Greatest), want.Greatest)
	}
	if len(got.Months) != len(want.Months) {
		t.Fatalf("%d months, want %d", len(got.Months), len(want.Months))
	}
	for i, m := range got.Months {
		row := want.Months[i]
		if m.Month != row[0] || m.Interfaces[0].Between != [2]string{"wall", "wool"} {
			t.Errorf("month %d is %s between %v", i, m.Month, m.Interfaces[0].Between)
		}
		for k, v := range []Number{m.Interfaces[0].Condensate, m.Interfaces[0].Accumulated} {
			if w := row[1+k].(float64); math.Abs(1000*float64(v)-w) > 1e-3 {
				t.Errorf("%s: %.3f g/m², want %.3f", m.Month, 1000*float64(v), w)
			}
		}
	}
}
