package detail

import (
	"strings"
	"testing"
)

func TestJunctionMistakes(t *testing.T) {
	const j = "J-202.md"
	rect := func(edges string) string { return partsOf("  - pad: {material: concrete, " + edges + "}\n") }
	film := func(keys string) string { return partsOf("  - film: {film: roof membrane, " + keys + "}\n") }
	laid := func(keys string) string { return partsOf("  - slab: {assembly: F-101, " + keys + "}\n") }
	const box = "bottom: 0, height: 1 in"
	checkWrong(t, []wrong{
		// Over- and under-constrained rectangles.
		{"over-constrained", j, rect("left: 0, right: 2 in, width: ▸2 in, " + box), "take one"},
		{"over-constrained", j, rect("left: 0, right: 2 in, bottom: 0, top: 1 in, height: ▸1 in"), ""},
		{"under-constrained", j, partsOf("  - ▸pad: {material: concrete, left: 0, " + box + "}\n"), "one more"},
		{"under-constrained", j, partsOf("  - ▸pad: {material: concrete, left: 0, width: 1 in}\n"), "two of bottom, top and height"},

		// Sizes.
		{"not-above-zero", j, rect("left: 0, width: ▸0, " + box), ""},
		{"bad-quantity", j, rect("left: 0, width: ▸-1 in, " + box), ""},
		{"no-room", j, rect("left: 2 in, right: ▸1 in, " + box), ""},
		{"no-room", j, rect("left: 2 in right of footing.left, right: ▸footing.left, " + box), ""},
		{"no-room", j, rect("left: 0, width: 1 in, bottom: footing.top, top: ▸1 in below footing.top"), ""},
		{"no-room", j, strings.Replace(junctionOf(""), "right: 60 in", "right: ▸0", 1), ""},
		{"not-above-zero", j, partsOf("  - pipe: {round: drain pipe, diameter: ▸0, at: [0, 0]}\n"), ""},

		// Names.
		{"unknown-name", j, rect("left: ▸foting.left, width: 1 in, " + box), `"footing"`},
		{"unknown-name", j, rect("left: 2 in right of ▸foting.left, width: 1 in, " + box), `"footing"`},
		{"unknown-name", j, rect("left: midway between ▸fotting.left and wall.left, width: 1 in, " + box), `"footing"`},
		{"unknown-name", j, rect("left: ▸wall.concrte.right, width: 1 in, " + box), `"concrete"`},
		{"unknown-name", j, rect("left: ▸footing.concrete.right, width: 1 in, " + box), "footing"},
		{"unknown-name", j, rect("left: 0, width: 1 in, bottom: 0, top: ▸grad"), `"pad"`},
		{"unknown-name", j, rect("left: 0, width: 1 in, bottom: 0, top: ▸under roof"), ""},
		{"side-missing", j, rect("left: 0, width: 1 in, bottom: 0, top: ▸footing"), "footing.left"},
		{"duplicate-name", j, partsOf("  - ▸footing: {material: concrete, left: 0, width: 1 in, " + box + "}\n"), ""},
		{"duplicate-name", j, strings.Replace(junctionOf("levels: {grade: 20 in}\n"), "- footing", "- ▸grade: {material: concrete, left: 0, width: 1 in, bottom: 0, height: 1 in}\n  - footing", 1), ""},
		{"bad-name", j, partsOf("  - ▸left: {material: concrete, left: 0, width: 1 in, " + box + "}\n"), ""},
		{"bad-name", j, partsOf("  - ▸a.b: {material: concrete, left: 0, width: 1 in, " + box + "}\n"), ""},
		{"bad-name", j, partsOf("  - ▸salt and pepper: {material: concrete, left: 0, width: 1 in, " + box + "}\n"), ""},

		// Edges.
		{"bad-edge", j, rect("left: footing.▸lft, width: 1 in, " + box), `"left"`},
		{"bad-edge", j, rect("left: 4▸, width: 1 in, " + box), "4 in"},
		{"bad-edge", j, rect("left: 4 ▸inn right of footing.left, width: 1 in, " + box), `"in"`},
		{"bad-edge", j, rect("left: 4 in ▸footing.left, width: 1 in, " + box), "right of"},
		{"bad-edge", j, rect("left: midway ▸footing.left and wall.left, width: 1 in, " + box), "between"},
		{"bad-edge", j, rect("left: 4 in right of ▸cut, width: 1 in, " + box), ""},
		{"bad-edge", j, strings.Replace(junctionOf(""), "right: 60 in", "right: ▸cut", 1), ""},
		{"wrong-direction", j, rect("left: ▸footing.top, width: 1 in, " + box), ""},
		{"wrong-direction", j, rect("left: ▸2 in above footing.top, width: 1 in, " + box), ""},
		{"wrong-direction", j, rect("left: 0, width: 1 in, bottom: ▸2 in left of footing.left, height: 1 in"), ""},
		{"wrong-direction", j, strings.Replace(rect("left: ▸grade, width: 1 in, "+box), "parts:", "levels: {grade: 20 in}\nparts:", 1), ""},

		// Assemblies laid.
		{"unknown-mark", j, strings.Replace(laid("inside: top, left: 0, right: cut, top: 20 in"), "F-101", "▸F-110", 1), `"F-101"`},
		{"wrong-kind", j, strings.Replace(laid("inside: top, left: 0, right: cut, top: 20 in"), "F-101", "▸J-201", 1), ""},
		{"over-constrained", j, laid("inside: top, left: 0, right: cut, top: ▸20 in, bottom: 0"), ""},
		{"over-constrained", j, laid("inside: top, left: 0, right: cut, top: 20 in, height: ▸8 in"), ""},
		{"under-constrained", j, strings.Replace(laid("inside: top, left: 0, right: cut"), "slab", "▸slab", 1), ""},
		{"under-constrained", j, strings.Replace(laid("inside: top, left: 0, top: 20 in"), "slab", "▸slab", 1), ""},
		{"missing-key", j, strings.Replace(laid("left: 0, top: 20 in"), "{assembly: F", "▸{assembly: F", 1), "inside"},
		{"bad-edge", j, laid("inside: top, left: 0, right: cut, top: ▸cut"), ""},
		{"unknown-name", j, laid("inside: top, left: 0, right: cut, top: 20 in, left of slab ▸flim: footing.right"), `"film"`},
		{"wrong-direction", j, laid("inside: top, left: 0, right: cut, top: 20 in, ▸top of slab: footing.top"), ""},
		{"wrong-direction", j, laid("inside: top, left: 0, right: cut, top: 20 in, left of slab: ▸footing.top"), ""},
		{"unknown-word", j, laid("inside: ▸up, left: 0, right: cut, top: 20 in"), ""},
		{"wrong-key", j, laid("inside: top, left: 0, right: cut, top: 20 in, ▸control: [air]"), ""},

		// Kinds.
		{"two-kinds", j, film("thickness: 15 mil, along: [[0, 0], [1 in, 0]], round: ▸drain pipe"), ""},
		{"wrong-key", j, rect("left: 0, width: 1 in, " + box + ", ▸diameter: 2 in"), "its keys are"},
		{"wrong-key", j, rect("left: 0, width: 1 in, " + box + ", ▸left of slab: 2 in"), ""},
		{"unknown-key", j, rect("left: 0, width: 1 in, " + box + ", ▸heigth: 2 in"), `"height"`},
		{"second-key", j, partsOf("  - pad: {material: concrete, left: 0, width: 1 in, " + box + "}\n    ▸curb: {material: concrete, left: 0, width: 1 in, " + box + "}\n"), ""},
		{"unknown-material", j, strings.Replace(rect("left: 0, width: 1 in, "+box), "pad: {material: concrete", "pad: {material: ▸concret", 1), `"concrete"`},
		{"missing-key", j, partsOf("  - pad: ▸{left: 0, width: 1 in, " + box + "}\n"), "material"},

		// Films.
		{"too-few-points", j, film("thickness: 15 mil, along: ▸[[0, 0]]"), "two"},
		{"too-few-points", j, film("thickness: 15 mil, over: ▸[]"), ""},
		{"too-few-points", j, film("thickness: 15 mil, over: ▸[wall.coat]"), ""},
		{"under-constrained", j, strings.Replace(film("thickness: 15 mil"), "- film", "- ▸film", 1), "along"},
		{"over-constrained", j, film("thickness: 15 mil, along: [[0, 0], [1 in, 0]], over: ▸[footing.top]"), ""},
		{"missing-key", j, strings.Replace(film("over: [footing.top]"), "{film:", "▸{film:", 1), "thickness"},
		{"bad-face", j, film("thickness: 15 mil, over: [footing.top up 2 ▸inn]"), `"in"`},
		{"side-missing", j, film("thickness: 15 mil, over: [▸footing, footing.top]"), "footing.top"},
		{"unknown-name", j, film("thickness: 15 mil, over: [▸foting.top]"), `"footing"`},
		{"unknown-name", j, film("thickness: 15 mil, over: [footing.top], continues: ▸wall.cot"), `"coat"`},
		{"bad-point", j, film("thickness: 15 mil, along: [▸[0], [1 in, 0]]"), "edge"},
		{"bad-point", j, film("thickness: 15 mil, along: [where footing.top ▸and wall.left, [1 in, 0]]"), "meets"},
		{"bad-point", j, film("thickness: 15 mil, along: [[0, ▸cut], [1 in, 0]]"), ""},

		// Outlines, seals, rounds.
		{"too-few-points", j, partsOf("  - pad: {material: concrete, outline: ▸[[0, 0], [1 in, 0]]}\n"), "three"},
		{"too-few-joins", j, partsOf("  - bead: {seal: sealant, joins: ▸[footing]}\n"), ""},
		{"unknown-name", j, partsOf("  - bead: {seal: ▸selant, joins: [footing, wall.coat]}\n"), `"sealant"`},
		{"unknown-name", j, partsOf("  - bead: {seal: sealant, joins: [footing, ▸wall.cot]}\n"), `"coat"`},
		{"not-a-seal", j, partsOf("  - bead: {seal: ▸concrete, joins: [footing, wall.coat]}\n"), "sealant"},
		{"missing-key", j, partsOf("  - pipe: ▸{round: drain pipe, diameter: 4 in}\n"), `"at:"`},

		// Pitches.
		{"pitch-without-seat", j, rect("pitch: ▸8 in 12, left: 0, right: 10 in, height: 4 in"), "seat"},
		{"seat-without-pitch", j, rect("seat: ▸{bottom: [0, 0]}, left: 0, right: 10 in, height: 4 in"), "pitch"},
		{"missing-key", j, strings.Replace(rect("pitch: 8 in 12, seat: {bottom: [0, 0]}, left: 0, right: 10 in"), "{material: concrete, pitch", "▸{material: concrete, pitch", 1), "height"},
		{"unknown-word", j, rect("pitch: 8 in 12, seat: {▸botom: [0, 0]}, left: 0, right: 10 in, height: 1 in"), ""},
		{"unknown-word", j, rect("pitch: 8 in 12, ends: ▸plum, seat: {bottom: [0, 0]}, left: 0, right: 10 in, height: 1 in"), `"plumb"`},
		{"bad-quantity", j, rect("pitch: 8▸, seat: {bottom: [0, 0]}, left: 0, right: 10 in, height: 1 in"), ""},

		// Spaces and what stands beside the parts.
		{"space-as", j, strings.Replace(junctionOf(""), "  inside:", "  ▸attic: {at: [1 in, 1 in]}\n  inside:", 1), "as: inside"},
		{"space-as", j, strings.Replace(junctionOf(""), "inside: {at", "inside: {as: ▸outside, at", 1), ""},
		{"missing-key", j, strings.Replace(junctionOf(""), "inside: {at: [50 in, 50 in]}", "inside: ▸{temperature: 20 C}", 1), "faces"},
		{"no-inside", j, strings.Replace(strings.Replace(junctionOf(""), "  inside: {at: [50 in, 50 in]}\n", "", 1), "  outside", "  ▸outside", 1), ""},
		{"no-outside", j, strings.Replace(strings.Replace(junctionOf(""), "  outside: {at: [1 in, 50 in]}\n", "", 1), "  inside", "  ▸inside", 1), ""},
		{"under-constrained", j, junctionOf("dimensions:\n  - ▸{from: footing.left, to: footing.right}\n"), "below"},
		{"unknown-name", j, junctionOf("dimensions:\n  - {from: footing.left, to: footing.right, below: ▸foting}\n"), `"footing"`},
		{"wrong-direction", j, junctionOf("dimensions:\n  - {from: ▸footing.top, to: footing.right, below: footing}\n"), ""},
		{"bad-edge", j, junctionOf("dimensions:\n  - {from: ▸cut, to: footing.right, below: footing}\n"), ""},
		{"missing-key", j, junctionOf("ends: {water: ▸{at: [0, 0]}}\n"), "why"},
		{"unknown-word", j, junctionOf("ends: {▸watr: {at: [0, 0], why: drained}}\n"), `"water"`},
		{"unknown-name", j, junctionOf("keep open: {through: ▸wall.vent, least: 1 in}\n"), ""},
		{"unknown-name", j, junctionOf("sequence:\n  - {do: Pour., shows: [footing, ▸wal]}\n"), `"wall"`},
		{"unknown-name", j, junctionOf("faces:\n  - {along: [[0, 0], [1 in, 0]], space: ▸insid}\n"), `"inside"`},
		{"wrong-kind", j, junctionOf("reference:\n  - {mark: ▸J-201, length: 40 in}\n"), ""},
		{"not-above-zero", j, junctionOf("break: {from: 20 in above footing.top, omit: ▸0}\n"), ""},
		{"out-of-range", j, rect("left: 0, width: 1 in, " + box + ", repeat: {every: 16 in, count: ▸0}"), ""},
		{"missing-key", j, "---\n▸mark: J-202\ntitle: Edge\nparts:\n  - footing: {material: concrete, left: 0, width: 1 in, " + box + "}\nspaces: {inside: {at: [0, 0]}, outside: {at: [0, 0]}}\n---\n", "view"},
		{"missing-key", j, strings.Replace(junctionOf(""), "view: {left: 0, ", "view: ▸{", 1), "left"},
	})
}

func TestSupersededAssembliesAreNotLaid(t *testing.T) {
	old := strings.Replace(sound["W-101.md"], "title:", "status: superseded\nsuperseded by: W-102\ntitle:", 1)
	files := map[string]string{
		"W-101.md": old, "W-102.md": strings.Replace(sound["W-101.md"], "W-101", "W-102", 1),
		"J-201.md": strings.Replace(sound["J-201.md"], "assembly: W-101", "assembly: ▸W-101", 1),
	}
	checkFiles(t, "superseded-assembly", "lay W-102", files)

	// A junction that is superseded itself may stay as it was.
	files["J-201.md"] = strings.Replace(sound["J-201.md"], "title:", "status: superseded\nsuperseded by: J-202\ntitle:", 1)
	files["J-202.md"] = strings.Replace(strings.Replace(sound["J-201.md"], "J-201", "J-202", 1), "assembly: W-101", "assembly: W-102", 1)
	fsys, _ := sources(files)
	l, err := ReadFS(fsys)
	if err != nil || len(l.Findings.Items) > 0 {
		t.Error(err, l.Findings.Items)
	}
}
