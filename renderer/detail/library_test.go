package detail

import (
	"testing"

	"wythe/renderer/units"
)

func TestLibraryMistakes(t *testing.T) {
	const f = "library.yaml"
	checkWrong(t, []wrong{
		{"unknown-key", f, "▸frim: Oriel & Strand Architects\n", `"firm"`},
		{"unknown-word", f, "units: ▸inhc\n", `"inch"`},
		{"unknown-word", f, "headline: ▸parallel paths\n", `"parallel path"`},
		{"unknown-word", f, "surfaces: ▸ASHRAE summer\n", `"ASHRAE winter"`},
		{"unknown-word", f, "sheet: ▸Tabliod\n", `"Tabloid"`},
		{"bad-pattern", f, "marks: ▸\"[A-Z\"\n", "regular expression"},
		{"bad-pattern", f, "marks: ▸\"[A-Z]*\"\n", ""},
		{"unknown-climate", f, "climate: ▸marrow-pint\n", "climates/"},
		{"bad-address", f, "site: ▸details.example.org\n", "https://"},
		{"bad-address", f, "site: ▸javascript:alert(1)\n", "https://"},
		{"missing-key", f, "inside: ▸{temperature: 70 F}\n", "humidity"},
		{"missing-key", f, "inside: ▸{humidity: 45 %}\n", "temperature"},
		{"over-constrained", f, "inside: {temperature: 70 F, moisture class: 3, humidity: ▸45 %}\n", ""},
		{"out-of-range", f, "inside: {temperature: 70 F, moisture class: ▸6}\n", "1 to 5"},
		{"out-of-range", f, "inside: {temperature: ▸70 C, humidity: 45 %}\n", "F or C"},
		{"bad-quantity", f, "inside: {temperature: 70▸, humidity: 45 %}\n", ""},
		{"target-of-what", f, "targets: [▸{R-value: at least R 35}]\n", ""},
		{"target-of-what", f, "targets: [▸{element: wall, junction: any, R-value: at least R 35}]\n", ""},
		{"unknown-word", f, "targets: [{element: ▸wal, R-value: at least R 35}]\n", `"wall"`},
		{"missing-key", f, "targets: [▸{element: wall}]\n", "R-value"},
		{"over-constrained", f, "targets: [{element: wall, R-value: at least R 35, U-factor: ▸at most U 0.03}]\n", ""},
		{"bad-target", f, "targets: [{element: wall, R-value: ▸R 35}]\n", "at least"},
		{"bad-quantity", f, "targets: [{element: wall, R-value: at least ▸x}]\n", ""},
		{"out-of-range", f, "targets: [{junction: any, temperature factor: ▸at least 1.2}]\n", ""},
		{"unknown-mark", f, "targets: [{junction: ▸J-210, temperature factor: at least 0.7}]\n", `"J-201"`},
		{"wrong-kind", f, "targets: [{junction: ▸W-101, temperature factor: at least 0.7}]\n", ""},
		{"bad-quantity", f, "energy: [{fuel: gas, price: 1.20▸}]\n", "per kWh"},
		{"not-above-zero", f, "energy: [{fuel: gas, price: 1.20 per therm, efficiency: ▸0 %}]\n", ""},
		{"not-above-zero", f, "thermal at least: ▸0\n", ""},
		{"bad-quantity", f, "thermal at least: ▸R 5\n", ""},
		{"not-a-map", f, "▸- a list\n", ""},
	})
}

func TestSpecAndBuildingMistakes(t *testing.T) {
	ok := "areas: [{detail: W-101, area: 1 m2}]\n"
	building := func(lines string) string { return "---\ntitle: Ferry Landing\n" + lines + "---\n" }
	checkWrong(t, []wrong{
		{"bad-section", "s.md", "---\nsection: ▸07 26\ntitle: Vapor retarders\n---\n", "07 26 00"},
		{"bad-section", "s.md", "---\nsection: ▸072600\ntitle: Vapor retarders\n---\n", "07 26 00"},
		{"missing-key", "s.md", "---\n▸section: 07 26 00\n---\n", "title"},
		{"unknown-key", "s.md", "---\nsection: 07 26 00\ntitle: Vapor retarders\n▸part: 1\n---\n", ""},

		{"bad-quantity", "b.md", building("areas: [{detail: W-101, area: 1020▸}]\n"), "sq ft"},
		{"bad-quantity", "b.md", building("areas: [{detail: W-101, area: 1020 ▸ft}]\n"), ""},
		{"unknown-mark", "b.md", building("areas: [{detail: ▸W-110, area: 1 m2}]\n"), `"W-101"`},
		{"wrong-kind", "b.md", building("areas: [{detail: ▸J-201, area: 1 m2}]\n"), ""},
		{"missing-key", "b.md", building("areas: [▸{detail: W-101}]\n"), "area"},
		{"no-areas", "b.md", building("areas: ▸[]\n"), ""},
		{"unknown-word", "b.md", building("areas: [{detail: W-101, area: 1 m2, gross: ▸ture}]\n"), `"true"`},
		{"unknown-mark", "b.md", building(ok + "lengths: [{junction: ▸J-210, length: 1 m}]\n"), `"J-201"`},
		{"wrong-kind", "b.md", building(ok + "lengths: [{junction: ▸W-101, length: 1 m}]\n"), ""},
		{"bad-quantity", "b.md", building(ok + "lengths: [{junction: J-201, length: 132▸}]\n"), "in"},
		{"opening-in-nothing", "b.md", building(ok + "openings: [{what: door, area: 1 m2, U-factor: 0.2, in: ▸F-101}]\n"), "F-101"},
		{"unknown-mark", "b.md", building(ok + "openings: [{what: door, area: 1 m2, U-factor: 0.2, in: ▸F-110}]\n"), `"F-101"`},
		{"missing-key", "b.md", building(ok + "openings: [▸{what: door, area: 1 m2}]\n"), "U-factor"},
		{"bad-quantity", "b.md", building(ok + "volume: 17400▸\n"), "cu ft"},
		{"bad-quantity", "b.md", building(ok + "air leakage: 0.6 per hour▸\n"), "50 Pa"},
		{"unknown-revision", "b.md", building(ok + "issued with: {W-101: ▸B}\n"), ""},
		{"unknown-mark", "b.md", building(ok + "issued with: {▸W-110: B}\n"), `"W-101"`},
		{"apart-unused", "b.md", building(ok + "apart: [{detail: W-101, from: [▸F-101]}]\n"), "F-101"},
		{"unknown-mark", "b.md", building(ok + "apart: [{detail: ▸W-110, from: [W-101]}]\n"), `"W-101"`},
		{"missing-key", "b.md", building(ok + "apart: [▸{detail: W-101}]\n"), "from"},
	})
}

func TestDefaultsFollowTheUnits(t *testing.T) {
	for _, c := range []struct {
		text     string
		units    units.System
		headline Headline
		surfaces SurfaceSet
	}{
		{"", units.Inch, ParallelPath, SurfacesASHRAEWinter},
		{"units: inch\n", units.Inch, ParallelPath, SurfacesASHRAEWinter},
		{"units: metric\n", units.Metric, CombinedLimits, SurfacesISO6946},
		{"units: metric\nheadline: isothermal planes\nsurfaces: ASHRAE winter\n", units.Metric, IsothermalPlanes, SurfacesASHRAEWinter},
	} {
		fsys, _ := sources(map[string]string{"library.yaml": c.text + " "})
		l, err := ReadFS(fsys)
		if err != nil || len(l.Findings.Items) > 0 {
			t.Fatal(err, l.Findings.Items)
		}
		s := l.Settings
		if s.Units != c.units || s.Headline != c.headline || s.Surfaces != c.surfaces || s.ThermalLeast != units.Inches(1) {
			t.Errorf("%q: %v, %v, %v, %v", c.text, s.Units, s.Headline, s.Surfaces, s.ThermalLeast)
		}
	}
}

func TestTargets(t *testing.T) {
	fsys, _ := sources(map[string]string{"library.yaml": "targets:\n  - {element: wall, R-value: at least R 35}\n" +
		"  - {element: roof, U-factor: at most U 0.02}\n  - {element: roof, U-factor: at most 0.02}\n  - {junction: any, temperature factor: at least 0.75}\n" +
		"  - {junction: J-201, temperature factor: at least 0.8}\n"})
	l, err := ReadFS(fsys)
	if err != nil || len(l.Findings.Items) > 0 || len(l.Settings.Targets) != 5 {
		t.Fatal(err, l.Findings.Items)
	}
	for i, want := range []Target{
		{Element: Wall, Quantity: "R-value", AtLeast: true, Resistance: units.RValue(35).SI()},
		{Element: Roof, Quantity: "U-factor", Transmittance: units.UFactor(0.02).SI()},
		{Element: Roof, Quantity: "U-factor", Transmittance: units.UFactor(0.02).SI()},
		{Junction: "any", Quantity: "temperature factor", AtLeast: true, Factor: 0.75},
		{Junction: "J-201", Quantity: "temperature factor", AtLeast: true, Factor: 0.8},
	} {
		got := l.Settings.Targets[i]
		want.Written, want.At = got.Written, got.At
		if !near(got.Resistance, want.Resistance) || !near(got.Transmittance, want.Transmittance) {
			t.Errorf("%q: %+v; want %+v", got.Written, got, want)
		}
		got.Resistance, got.Transmittance, want.Resistance, want.Transmittance = 0, 0, 0, 0
		if got != want {
			t.Errorf("%q: %+v; want %+v", got.Written, got, want)
		}
	}
}

func TestScales(t *testing.T) {
	for _, c := range []struct {
		text string
		want Scale
	}{
		{"1:8", 8}, {"1:1", 1}, {"1:12.5", 12.5}, {"1 1/2 in = 1 ft", 8}, {"3\" = 1'-0\"", 4}, {"1/4 in = 1 ft", 48}, {"1 cm = 1 m", 100},
		{"8", 0}, {"2:1", 0}, {"1:0.5", 0}, {"1:9000", 0}, {"1 in = ", 0}, {"0 in = 1 ft", 0}, {"1:x", 0}, {"", 0},
	} {
		if got, ok := parseScale(c.text); got != c.want || ok != (c.want > 0) {
			t.Errorf("parseScale(%q) = %v, %v; want %v", c.text, got, ok, c.want)
		}
	}
}
