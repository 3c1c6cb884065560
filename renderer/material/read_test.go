package material

import (
	"slices"
	"strings"
	"testing"

	"wythe/renderer/basis"
	"wythe/renderer/finding"
	"wythe/renderer/strict"
	"wythe/renderer/units"
)

const firm = `
- material: test cellulose
  conductivity: 0.040 W/mK
  density: 3.5 pcf
  specific heat: 1600 J/kgK
  vapor: mu 2
  hatch: loose fill
  source: ISO 10456:2007 table 3
- material: thick  board          # two spaces
  resistance: R 3.7 per in
  vapor: 30 perm in
  wet: mu 1.5
  compressive: 25 psi
  carbon: 2.1 kg CO2e per kg
  hatch: rigid insulation
  not against: [PVC, copper]
  emissivity: 0.05
  source: maker's sheet of 2025
- material: sheet
  resistance: R 0.6
  vapor: sd 100 m
  hatch: membrane
  source: test report 12
- material: strong tape
  seal: tape
  holds to: plywood
  vapor: 0.06 perm
  hatch: membrane
  source: maker's sheet
- material: XPS type IV
  conductivity: 0.030 W/mK
  source: maker's sheet, 2026
`

func TestReadFile(t *testing.T) {
	table, list := ReadFile("materials.yaml", []byte(firm), Builtin())
	if len(list.Items) > 0 {
		t.Fatal(list.Items)
	}
	if table.Len() != Builtin().Len()+4 {
		t.Errorf("%d materials over %d", table.Len(), Builtin().Len())
	}
	get := func(name string) *Material {
		m, ok := table.Lookup(name)
		if !ok {
			t.Fatalf("no %q", name)
		}
		return m
	}
	c := get("test cellulose")
	if c.Conductivity != 0.04 || c.SpecificHeat != 1600 || !near(float64(c.Density), 56.064617, 1e-5) || c.VaporDry.Mu != 2 || c.VaporWet.Mu != 2 || c.Hatch != LooseFill {
		t.Errorf("%+v", c)
	}
	if o := c.Origins[PropConductivity]; o != (basis.Source{Text: "ISO 10456:2007 table 3", Kind: basis.Stated}) {
		t.Errorf("source %+v", o)
	}
	if c.At.String() != "materials.yaml:2:3" {
		t.Errorf("at %v", c.At)
	}
	b := get("thick board")
	if !near(float64(b.Conductivity.PerInch()), 3.7, 1e-12) || b.Resistance != 0 || b.VaporDry.Permeability == 0 || b.VaporWet.Mu != 1.5 ||
		!near(b.Compressive.PSI(), 25, 1e-12) || b.Carbon.KgCO2ePerKg != 2.1 || !slices.Equal(b.NotAgainst, []string{"PVC", "copper"}) || b.Emissivity != 0.05 {
		t.Errorf("%+v", b)
	}
	s := get("sheet")
	if !near(float64(s.Resistance.RValue()), 0.6, 1e-12) || s.Conductivity != 0 || s.VaporDry.Sd != 100 || s.Origins[PropResistance].Kind != basis.Stated {
		t.Errorf("%+v", s)
	}
	if p := get("strong tape"); p.SealWord != "tape" || !slices.Equal(p.HoldsTo, []string{"plywood"}) || !p.VaporDry.IsSheet {
		t.Errorf("%+v", p)
	}
	// The firm's own value over a built-in row: the rest stands, with its source.
	x, was := get("XPS type IV"), (*Material)(nil)
	was, _ = Builtin().Lookup("XPS type IV")
	if x.Conductivity != 0.03 || x.Compressive != was.Compressive || x.Hatch != RigidInsulation ||
		x.Origins[PropConductivity].Text != "maker's sheet, 2026" || x.Origins[PropCompressive] != was.Origins[PropCompressive] {
		t.Errorf("%+v", x)
	}
	if was.Conductivity == 0.03 || was.Origins[PropConductivity].Kind != basis.Declared {
		t.Errorf("the built-in row was changed: %+v", was)
	}
}

// ▸ marks the places of the findings, in order.
func TestReadFileMistakes(t *testing.T) {
	for _, c := range []struct{ rule, input, mend string }{
		{"unknown-key", "- material: a\n  ▸densty: 3 pcf\n  conductivity: 1 W/mK\n  hatch: stone\n  source: x\n", `did you mean "density"?`},
		{"missing-key", "- ▸material: a\n  conductivity: 1 W/mK\n  source: x\n", `add "hatch:"`},
		{"missing-key", "- ▸conductivity: 1 W/mK\n  hatch: stone\n  source: x\n", `add "material:"`},
		{"unknown-word", "- material: a\n  conductivity: 1 W/mK\n  hatch: ▸ston\n  source: x\n", `did you mean "stone"?`},
		{"unknown-word", "- material: a\n  seal: ▸glue\n  hatch: membrane\n  source: x\n", "write one of: tape"},
		{"bad-quantity", "- material: a\n  conductivity: 0.04▸\n  hatch: stone\n  source: x\n", "write 0.04 Btu in/h ft2 F or 0.04 W/mK"},
		{"bad-quantity", "- material: a\n  conductivity: 1 W/mK\n  density: 3 ▸pcs\n  hatch: stone\n  source: x\n", `did you mean "pcf"?`},
		{"bad-quantity", "- material: a\n  conductivity: 1 W/mK\n  density: ▸0\n  hatch: stone\n  source: x\n", "leave the key out"},
		{"bad-quantity", "- material: a\n  conductivity: 1 W/mK\n  vapor: 2▸\n  hatch: stone\n  source: x\n", "mu 2, 30 perm in"},
		{"bad-quantity", "- material: a\n  conductivity: 1 W/mK\n  carbon: ▸2 kg per kg\n  hatch: stone\n  source: x\n", "write 2.1 kg CO2e per kg"},
		{"bad-quantity", "- material: a\n  conductivity: 1 W/mK\n  emissivity: ▸3\n  hatch: stone\n  source: x\n", "0.05"},
		{"two-resistances", "- material: a\n  conductivity: 1 W/mK\n  resistance: ▸R 3\n  hatch: stone\n  source: x\n", "keep one"},
		{"wet-alone", "- material: a\n  conductivity: 1 W/mK\n  wet: ▸mu 2\n  hatch: stone\n  source: x\n", `add "vapor:"`},
		{"duplicate-material", "- {material: a, conductivity: 1 W/mK, hatch: stone, source: x}\n- {material: ▸a, conductivity: 2 W/mK, hatch: stone, source: x}\n", "keep one"},
		{"no-source", "- {material: ▸a, conductivity: 1 W/mK, hatch: stone}\n", "add \"source:\""},
		{"no-conductivity", "- ▸{material: a, hatch: stone, source: x}\n", "add \"conductivity"},
		{"unknown-material", "- {material: a, conductivity: 1 W/mK, hatch: stone, source: x, not against: [▸coper]}\n", `did you mean "copper"?`},
		{"not-a-list", "▸material: a\n", "- "},
		{"not-a-map", "- ▸softwood\n", "key: value"},
		{"duplicate-key", "- material: a\n  hatch: stone\n  ▸hatch: stone\n  conductivity: 1 W/mK\n  source: x\n", "keep one"},
		{"alias", "- material: a\n  hatch: stone\n  conductivity: ▸*k\n  source: x\n", "write the value out"},
		{"comment-cuts-text", "- material: a\n  hatch: stone\n  conductivity: 1 W/mK\n  source: sheet ▸#4\n", "quotes"},
	} {
		var want []finding.Position
		line, column := 1, 1
		for _, r := range c.input {
			switch r {
			case '▸':
				want = append(want, finding.Position{File: "materials.yaml", Line: line, Column: column})
				continue
			case '\n':
				line, column = line+1, 0
			}
			column++
		}
		input := strings.ReplaceAll(c.input, "▸", "")
		table, list := ReadFile("materials.yaml", []byte(input), Builtin())
		if table == nil || len(list.Items) != 1 {
			t.Errorf("%q: %v", input, list.Items)
			continue
		}
		if i := list.Items[0]; i.Rule != c.rule || i.Position != want[0] || !strings.Contains(i.Mend, c.mend) {
			t.Errorf("%q: %v; want %s at %v, %s", input, i, c.rule, want[0], c.mend)
		}
	}
}

// All complaints come in one run, and what is right is kept.
func TestReadFileGoesOn(t *testing.T) {
	input := "- {material: good, conductivity: 1 W/mK, hatch: stone, source: x}\n- {material: bad, conductivity: 1 W, hatch: ston, source: x}\n- {material: also good, conductivity: 2 W/mK, hatch: brick, source: x}\n"
	table, list := ReadFile("materials.yaml", []byte(input), Builtin())
	if list.Errors() != 2 {
		t.Errorf("%v", list.Items)
	}
	for _, n := range []string{"good", "also good"} {
		if _, ok := table.Lookup(n); !ok {
			t.Errorf("no %q", n)
		}
	}
	if _, ok := table.Lookup("bad"); ok {
		t.Error("a material with errors is in the table")
	}
	if empty, list := ReadFile("materials.yaml", nil, Builtin()); empty != Builtin() || len(list.Items) > 0 {
		t.Error("an empty file changes the table")
	}
}

func TestInPlace(t *testing.T) {
	var list finding.List
	root, _ := strict.Load("F-101.md", []byte("{name: test board, conductivity: 0.04 W/mK, hatch: rigid insulation}"), &list)
	m, ok := InPlace(root)
	if !ok || len(list.Items) > 0 || m.Name != "test board" || m.Conductivity != 0.04 || m.Origins[PropConductivity].Text != "stated in F-101.md" {
		t.Errorf("%+v, %v", m, list.Items)
	}
	root, _ = strict.Load("F-101.md", []byte("{nam: test board, conductivity: 0.04 W/mK}"), &list)
	if _, ok := InPlace(root); ok || list.Errors() != 2 {
		t.Errorf("%v", list.Items)
	}
	list = finding.List{}
	root, _ = strict.Load("F-101.md", []byte("softwood"), &list)
	if _, ok := InPlace(root); ok || list.Errors() != 1 {
		t.Errorf("%v", list.Items)
	}
}

func TestParseCarbon(t *testing.T) {
	for _, c := range []struct {
		written string
		want    Carbon
	}{
		{"2.1 kg CO2e per kg", Carbon{Stated: true, KgCO2ePerKg: 2.1}},
		{"-1.6 kg CO2e per kg", Carbon{Stated: true, KgCO2ePerKg: -1.6}},
		{"320 kg CO2e per m3", Carbon{Stated: true, KgCO2ePerCubicM: 320}},
	} {
		if got, err := ParseCarbon(c.written); err != nil || got != c.want {
			t.Errorf("%q: %+v, %v", c.written, got, err)
		}
	}
	for _, s := range []string{"2.1", "x kg CO2e per kg", "2 kg CO2e per lb"} {
		if _, err := ParseCarbon(s); err == nil {
			t.Errorf("%q was taken", s)
		}
	}
}

func FuzzReadFile(f *testing.F) {
	f.Add(firm)
	f.Add("- {material: a, conductivity: R 3 per in, hatch: stone}\n")
	f.Add("- material: [a]\n  vapor: {x: 1}\n")
	f.Add("material: a")
	f.Fuzz(func(t *testing.T, s string) {
		table, list := ReadFile("materials.yaml", []byte(s), Builtin())
		if table == nil {
			t.Fatal("no table")
		}
		for _, i := range list.Items {
			if i.File != "materials.yaml" || i.Line < 1 || i.Column < 1 || i.Message == "" {
				t.Errorf("%q: %+v", s, i)
			}
		}
		for _, n := range table.Names() {
			m, _ := table.Lookup(n)
			if m == nil || !(m.Conductivity >= 0) || m.Hatch == "" {
				t.Errorf("%q: %q is %+v", s, n, m)
			}
			_ = m.VaporDry.Show(units.Inch)
		}
	})
}
