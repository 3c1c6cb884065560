package detail

import (
	"strings"
	"testing"
)

func TestAssemblyMistakes(t *testing.T) {
	const a = "W-102.md"
	ok := "layers:\n  - {name: board, material: gypsum board, thickness: 1/2 in}\n"
	checkWrong(t, []wrong{
		// Keys.
		{"unknown-key", a, assemblyOf(ok + "▸lods: {live: 40 psf}\n"), `"loads"`},
		{"unknown-key", a, layersOf("material: concrete, ▸thicknes: 1 in, thickness: 1 in"), `"thickness"`},
		{"missing-key", a, assemblyOf("layers:\n  - ▸{material: concrete}\n"), "thickness"},
		{"missing-key", a, "---\n▸title: Wall\nelement: wall\n" + ok + "---\n", "mark"},
		{"missing-key", a, "---\n▸mark: W-102\nelement: wall\n" + ok + "---\n", "title"},
		{"missing-key", a, "---\n▸mark: W-102\ntitle: Wall\n" + ok + "---\n", "element"},
		{"duplicate-key", a, assemblyOf(ok + "▸title: Again\n"), ""},
		{"two-kinds", a, assemblyOf(ok + "areas: ▸[]\n"), ""},

		// Words.
		{"unknown-word", a, "---\nmark: W-102\ntitle: Wall\nelement: ▸wal\n" + ok + "---\n", `"wall"`},
		{"unknown-word", a, assemblyOf(ok + "status: ▸isued\n"), `"issued"`},
		{"unknown-word", a, layersOf("material: concrete, thickness: 1 in, control: [air, ▸vapour]"), `"vapor"`},
		{"stands-twice", a, layersOf("material: concrete, thickness: 1 in, control: [air, ▸air]"), ""},

		// Quantities.
		{"bad-quantity", a, layersOf("material: concrete, thickness: 5▸"), "5 in"},
		{"bad-quantity", a, layersOf("material: concrete, thickness: 5 ▸inn"), `"in"`},
		{"bad-quantity", a, layersOf("material: concrete, thickness: ▸-5 in"), ""},
		{"not-above-zero", a, layersOf("material: concrete, thickness: ▸0"), ""},
		{"not-above-zero", a, assemblyOf(ok + "loads: {live: ▸0 psf}\n"), ""},
		{"bad-quantity", a, assemblyOf(ok + "loads: {point: {load: 1250▸, on: 4 in x 4 in}}\n"), ""},
		{"bad-scale", a, assemblyOf(ok + "scale: ▸8\n"), "1:8"},
		{"bad-scale", a, assemblyOf(ok + "scale: ▸1:0\n"), "1:8"},

		// Materials.
		{"unknown-material", a, layersOf("material: ▸concret, thickness: 1 in"), `"concrete"`},
		{"unknown-material", a, layersOf("material: ▸XPS typ IV, thickness: 1 in"), `"XPS type IV"`},
		{"unknown-material", a, layersOf("material: concrete, thickness: 1 in, framing: {material: ▸softwod, fraction: 10 %}"), `"softwood"`},

		// Layers.
		{"no-layers", a, assemblyOf("layers: ▸[]\n"), ""},
		{"not-a-list", a, assemblyOf("layers: ▸concrete\n"), ""},
		{"duplicate-name", a, assemblyOf(ok + "  - {name: ▸board, material: concrete, thickness: 1 in}\n"), ""},
		{"bad-name", a, layersOf("name: ▸left, material: concrete, thickness: 1 in"), ""},
		{"out-of-range", a, layersOf("material: concrete, thickness: 1 in, courses: ▸0"), "1 to 20"},
		{"out-of-range", a, layersOf("material: concrete, thickness: 1 in, gaps: ▸3"), "0 to 2"},

		// Framing, air, fasteners.
		{"out-of-range", a, layersOf("material: concrete, thickness: 1 in, framing: {material: softwood, width: 16 in, spacing: ▸1 1/2 in}"), "center to center"},
		{"out-of-range", a, layersOf("material: concrete, thickness: 1 in, framing: {material: softwood, fraction: ▸100 %}"), ""},
		{"bad-quantity", a, layersOf("material: concrete, thickness: 1 in, framing: {material: softwood, fraction: 25▸}"), ""},
		{"not-an-air-layer", a, layersOf("material: concrete, thickness: 1 in, ventilation: ▸well"), "material: air"},
		{"not-an-air-layer", a, layersOf("material: concrete, thickness: 1 in, emittances: ▸[0.9, 0.05]"), ""},
		{"too-many-values", a, layersOf("material: air, thickness: 1 in, emittances: ▸[0.9, 0.9, 0.9]"), ""},
		{"bad-quantity", a, layersOf("material: air, thickness: 1 in, emittances: [▸1.2, 0.9]"), ""},
		{"openings-not-used", a, layersOf("material: air, thickness: 1 in, openings: ▸500 mm2"), "slight"},
		{"unknown-word", a, layersOf("material: air, thickness: 1 in, ventilation: ▸wel"), `"well"`},
		{"not-above-zero", a, layersOf("material: concrete, thickness: 1 in, fasteners: {material: steel, diameter: ▸0, each: 2 sq ft}"), ""},

		// Names of layers used.
		{"unknown-name", a, assemblyOf(ok + "study: {vary: ▸bord, from: 1 in, to: 2 in, by: 1 in}\n"), `"board"`},
		{"study-range", a, assemblyOf(ok + "study: {vary: board, from: 2 in, to: ▸1 in, by: 1 in}\n"), ""},
		{"study-range", a, assemblyOf(ok + "study: {vary: board, from: 1 in, to: 10 in, by: ▸1 mil}\n"), "larger"},
		{"unknown-name", a, assemblyOf(ok + "penetrations:\n  - {what: pipe, seals: {▸bord: boot}}\n"), `"board"`},
		{"unknown-name", a, assemblyOf(ok + "sequence:\n  - {do: Hang it., shows: [▸bord]}\n"), `"board"`},
		{"stands-twice", a, assemblyOf(ok + "sequence:\n  - {do: Hang it., shows: [board, ▸board]}\n"), ""},
		{"released-without-hold", a, assemblyOf(ok + "sequence:\n  - {do: Hang it., released by: ▸the engineer}\n"), ""},

		// The whole.
		{"pitch-of-no-roof", a, assemblyOf(ok + "pitch: ▸8 in 12\n"), ""},
		{"ground-of-no-ground-element", a, assemblyOf(ok + "ground: ▸{soil: clay}\n"), ""},
		{"unknown-word", a, strings.Replace(assemblyOf(ok+"ground: {soil: ▸clya}\n"), "element: wall", "element: floor on ground", 1), `"clay"`},
		{"bad-quantity", a, assemblyOf(ok + "surfaces: {inside: ▸R, outside: R 0.17}\n"), ""},

		// Status and revisions.
		{"no-successor", a, assemblyOf(ok + "status: ▸superseded\n"), "superseded by"},
		{"unknown-mark", a, assemblyOf(ok + "status: superseded\nsuperseded by: ▸W-011\n"), `"W-101"`},
		{"successor-of-itself", a, assemblyOf(ok + "status: superseded\nsuperseded by: ▸W-102\n"), ""},
		{"successor-but-not-superseded", a, assemblyOf(ok + "superseded by: ▸W-101\n"), "status: superseded"},
		{"issued-without-revision", a, assemblyOf(ok + "status: ▸issued\n"), "revisions"},
		{"bad-date", a, assemblyOf(ok + "revisions:\n  - {rev: A, date: ▸2026-02-30, note: First.}\n"), ""},
		{"bad-revision", a, assemblyOf(ok + "revisions:\n  - {rev: ▸first, date: 2026-02-03, note: First.}\n"), ""},
		{"duplicate-revision", a, assemblyOf(ok + "revisions:\n  - {rev: A, date: 2026-02-03, note: First.}\n  - {rev: ▸A, date: 2026-02-03, note: First.}\n"), ""},
		{"revision-order", a, assemblyOf(ok + "revisions:\n  - {rev: B, date: 2026-02-03, note: B.}\n  - {rev: A, date: ▸2026-03-03, note: A.}\n"), ""},
		{"revision-order", a, assemblyOf(ok + "revisions:\n  - {rev: C, date: 2026-02-03, note: C.}\n  - {rev: A, date: 2026-02-03, note: A.}\n  - {rev: ▸B, date: 2026-02-03, note: B.}\n"), ""},
		{"unknown-caution", a, assemblyOf(ok + "cautions: [▸silica dst]\n"), `"silica dust"`},

		// Marks.
		{"mark-pattern", a, strings.Replace(assemblyOf(ok), "W-102", "▸W-12", 1), ""},
		{"bad-mark", a, strings.Replace(assemblyOf(ok), "W-102", "▸../W", 1), ""},

		// A # that YAML would read as a comment.
		{"comment-cuts-text", a, assemblyOf(ok + "sequence:\n  - do: Tie ▸#4 bars\n"), "quotes"},
		{"alias", a, assemblyOf(ok + "tags: [▸*all]\n"), ""},
		{"merge-key", a, assemblyOf(ok + "▸<<: {a: b}\n"), ""},
		{"not-a-map", a, "---\n▸- a list\n---\n", ""},
	})
}

func TestFramingNeedsItsMeasures(t *testing.T) {
	checkWrong(t, []wrong{
		{"missing-key", "W-102.md", layersOf("material: concrete, thickness: 1 in, framing: ▸{material: softwood, width: 1 1/2 in}"), "spacing"},
		{"missing-key", "W-102.md", layersOf("material: concrete, thickness: 1 in, framing: ▸{material: softwood}"), "spacing"},
	})
}

func TestMarksStandOnce(t *testing.T) {
	checkFiles(t, "duplicate-mark", "of its own", map[string]string{
		"a.md": layersOf("material: concrete, thickness: 1 in"),
		"b.md": strings.Replace(layersOf("material: concrete, thickness: 1 in"), "mark: ", "mark: ▸", 1),
	})
	checkFiles(t, "duplicate-mark", "of its own", map[string]string{
		"library.yaml": "marks: \"[A-Za-z]-[0-9]{3}\"\n",
		"a.md":         layersOf("material: concrete, thickness: 1 in"),
		"b.md":         strings.Replace(layersOf("material: concrete, thickness: 1 in"), "mark: W", "mark: ▸w", 1),
	})
	checkFiles(t, "duplicate-section", "", map[string]string{
		"a.md": "---\nsection: 07 26 00\ntitle: Vapor retarders\n---\n",
		"b.md": "---\nsection: ▸07 26 00\ntitle: Vapor retarders\n---\n",
	})
	checkFiles(t, "duplicate-building", "", map[string]string{
		"a.md": "---\ntitle: Ferry Landing\nareas: [{detail: W-101, area: 1 m2}]\n---\n",
		"b.md": "---\ntitle: ▸Ferry Landing\nareas: [{detail: W-101, area: 1 m2}]\n---\n",
	})
}

func TestSuccessorsThatRunInACircle(t *testing.T) {
	one := strings.Replace(layersOf("material: concrete, thickness: 1 in"), "title", "status: superseded\nsuperseded by: ▸W-103\ntitle", 1)
	two := strings.Replace(strings.Replace(one, "W-103", "W-104", 1), "mark: W-102", "mark: W-103", 1)
	three := strings.Replace(strings.Replace(one, "W-103", "W-102", 1), "mark: W-102", "mark: W-104", 1)
	checkFiles(t, "successor-of-itself", "", map[string]string{"a.md": one, "b.md": two, "c.md": three})
}
