package building

import (
	"maps"
	"math"
	"strings"
	"testing"

	"wythe/renderer/detail"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

// house is a small one in which each figure can be worked by hand.
var house = map[string]string{
	"library.yaml": "firm: Oriel & Strand Architects\nunits: metric\nsurfaces: ISO 6946\n",
	"F-101.md":     "---\nmark: F-101\ntitle: Floor\nelement: floor on ground\nlayers:\n  - {name: slab, material: concrete, thickness: 100 mm}\n  - {name: foam, material: XPS type IV, thickness: 50 mm, courses: 2}\n---\n",
	"W-101.md":     "---\nmark: W-101\ntitle: Basement wall\nelement: wall below grade\nlayers:\n  - {name: wall, material: concrete, thickness: 200 mm}\n---\n",
	"W-102.md":     "---\nmark: W-102\ntitle: Wall\nelement: wall\nsurfaces: {inside: 0.13 m2K/W, outside: 0.07 m2K/W}\nlayers:\n  - {name: wool, material: {name: wool, conductivity: 0.04 W/mK, hatch: batt}, thickness: 192 mm}\nsequence:\n  - {do: Fill., trade: insulation, shows: [wool]}\n---\n",
	"R-101.md":     "---\nmark: R-101\ntitle: Roof\nelement: roof\nlayers:\n  - {name: wool, material: {name: wool, conductivity: 0.04 W/mK, hatch: batt}, thickness: 400 mm}\n---\n",
	"J-201.md": `---
mark: J-201
title: Edge
view: {left: 0, right: 1 m, bottom: 0, top: 1 m}
parts:
  - earth: {material: soil, left: 0, right: cut, bottom: 0, top: 200 mm}
  - wall: {assembly: W-101, inside: right, left: 200 mm, bottom: 200 mm, top: cut}
  - slab: {assembly: F-101, inside: top, left: wall.right, right: cut, top: 500 mm}
  - block: {material: concrete, left: 500 mm, width: 100 mm, bottom: 600 mm, height: 200 mm}
  - tape: {seal: tape, joins: [wall, slab], at: [wall.right, 500 mm]}
spaces:
  inside: {at: [800 mm, 900 mm]}
---
`,
	"b.md": `---
title: House
areas:
  - {detail: F-101, area: 80 m2, perimeter: 36 m, depth: 2 m}
  - {detail: W-101, area: 90 m2}
  - {detail: W-102, area: 120 m2, gross: true}
  - {detail: R-101, area: 100 m2}
lengths:
  - {junction: J-201, length: 36 m}
openings:
  - {what: windows, count: 8, area: 20 m2, U-factor: 1.0 W/m2K, in: W-102}
volume: 400 m3
air leakage: 3 per hour at 50 Pa
---
`,
}

func byMark(b *Budget, kind Kind, mark string) *Line {
	for i := range b.Lines {
		if b.Lines[i].Kind == kind && b.Lines[i].Mark == mark {
			return &b.Lines[i]
		}
	}
	return &Line{}
}

func TestBudget(t *testing.T) {
	c, d := library(t, house)
	c.Psi = func(string) Linear { return Linear{Psi: 0.1} }
	b := Solve(c, d)
	// R of the wall: 0.192/0.04 + 0.13 + 0.07 = 5: U 0.2 on 120 - 20 m².
	near(t, "wall, W/K", byMark(b, Element, "W-102").WPerK, 20, 1e-9)
	near(t, "windows, W/K", byMark(b, Opening, "").WPerK, 20, 1e-9)
	near(t, "junction, W/K", byMark(b, Junction, "J-201").WPerK, 3.6, 1e-9)
	// 90 m² of wall below grade, 2 m × 36 m of them in the ground.
	near(t, "above grade, m²", float64(byMark(b, Element, "W-101").Area), 18, 1e-9)
	near(t, "in the ground, m²", float64(byMark(b, Ground, "W-101").Area), 72, 1e-9)
	sum := 0.0
	for i := range b.Lines {
		sum += b.Lines[i].WPerK
	}
	near(t, "sum", b.WPerK, sum, 1e-9)
	shares := 0.0
	for i := range b.Lines {
		shares += b.Lines[i].Share
	}
	near(t, "shares", shares, 1, 1e-9)
	if len(b.Missing) != 1 || b.Missing[0].Key != "year" {
		t.Errorf("%v", b.Missing)
	}
}

func TestMissing(t *testing.T) {
	for name, c := range map[string]struct{ old, fresh, key string }{
		"no perimeter":    {"perimeter: 36 m, depth: 2 m", "depth: 2 m", "F-101"},
		"no depth":        {", depth: 2 m", "", "W-101"},
		"no walls":        {"  - {detail: W-101, area: 90 m2}\n", "", "F-101"},
		"no volume":       {"volume: 400 m3\n", "", "air leakage"},
		"no leakage":      {"air leakage: 3 per hour at 50 Pa\n", "", "air leakage"},
		"openings larger": {"area: 120 m2", "area: 20 m2", "W-102"},
		"psi":             {"length: 36 m", "length: 35 m", "J-201"},
	} {
		files := map[string]string{}
		for k, v := range house {
			files[k] = v
		}
		if !strings.Contains(files["b.md"], c.old) {
			t.Fatalf("%s: the building does not hold %q", name, c.old)
		}
		files["b.md"] = strings.Replace(files["b.md"], c.old, c.fresh, 1)
		ctx, d := library(t, files)
		found := false
		for _, m := range Solve(ctx, d).Missing {
			found = found || m.Key == c.key && m.Why != ""
		}
		if !found {
			t.Errorf("%s: nothing is said of %s", name, c.key)
		}
	}
}

func TestSavings(t *testing.T) {
	inch := maps.Clone(house)
	inch["library.yaml"] = strings.Replace(house["library.yaml"], "metric", "inch", 1)
	for _, x := range []struct {
		files map[string]string
		more  float64 // m
		said  string
	}{{house, 0.025, "25 mm more "}, {inch, 0.0254, "1 in more "}} {
		savings(t, x.files, x.more, x.said)
	}
}

// savings holds those of the house, whose layers are so much thicker.
func savings(t *testing.T, files map[string]string, more float64, said string) {
	c, d := library(t, files)
	c.Psi = func(string) Linear { return Linear{Psi: 0.1} }
	list := Savings(c, d)
	for _, s := range list {
		switch {
		case s.Mark == "W-102":
			// 100 m² (1/5 - 1/(5 + more/0.04)).
			near(t, said+"wool, W/K", s.WPerK, 100*(0.2-1/(5+more/0.04)), 1e-9)
			if !strings.HasPrefix(s.What, said) {
				t.Errorf("%q; want %q", s.What, said)
			}
		case s.Mark == "J-201":
			near(t, "the junction, W/K", s.WPerK, 3.6, 1e-9)
		case s.WPerK <= 0:
			t.Errorf("%s of %s saves nothing", s.What, s.Mark)
		}
	}
	if len(list) != 4 { // foam, two wools, the junction
		t.Errorf("%+v", list)
	}
}

func TestUnjoined(t *testing.T) {
	_, d := library(t, house)
	lib := lookupOf(t, house)
	got := Unjoined(d, lib)
	want := []Pair{{"W-101", "W-102"}, {"W-102", "R-101"}}
	if len(got) != len(want) || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("%v; want %v", got, want)
	}
	d.Building.Apart = [][2]string{{"R-101", "W-102"}}
	if got = Unjoined(d, lib); len(got) != 1 || got[0] != want[0] {
		t.Errorf("with R-101 apart from W-102: %v; want %v", got, want[:1])
	}
}

func lookupOf(t *testing.T, files map[string]string) func(string) *detail.Detail {
	t.Helper()
	return readLibrary(t, files).Detail
}

func TestCount(t *testing.T) {
	lib := readLibrary(t, house)
	d := lib.Buildings[0]
	r := Count(d, lib.Detail, func(mark string) *section.Section {
		s, _ := section.Resolve(lib.Detail(mark).Junction, lib.Detail, section.Options{})
		return s
	}, units.Inch)
	get := func(mark, part string) Quantity {
		for _, q := range r.List {
			if q.Mark == mark && q.Part == part {
				return q
			}
		}
		t.Fatalf("%s %s is not counted", mark, part)
		return Quantity{}
	}
	q := get("W-102", "wool")
	near(t, "wool, gross", float64(q.Gross), 120, 1e-9)
	near(t, "wool, net", float64(q.Net), 100, 1e-9)
	near(t, "wool to buy", float64(q.Buy), 105, 1e-9) // 5 % usual waste
	if q.Trade != "insulation" || q.Source != "usual waste (common practice)" {
		t.Errorf("%+v", q)
	}
	q = get("F-101", "foam")
	near(t, "foam, both courses", float64(q.Covered), 160, 1e-9)
	if q.Sheets == 0 {
		t.Error("foam is bought by the sheet")
	}
	near(t, "tape", float64(get("J-201", "tape").Length), 36, 1e-9)
	// 0.1 m × 0.2 m × 36 m and 5 % waste.
	near(t, "block, m³", float64(get("J-201", "block").Volume), 0.02*36*1.05, 1e-6)
	for _, q := range r.List {
		if q.Mark == "J-201" && (q.Part == "earth" || q.Part == "slab" || q.Part == "wall") {
			t.Errorf("%s is counted with the junction", q.Part)
		}
		if math.IsNaN(float64(q.Buy)) {
			t.Errorf("%+v", q)
		}
	}
	if len(r.Missing) > 0 {
		t.Errorf("%v", r.Missing)
	}
}
