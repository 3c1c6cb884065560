package page

import (
	"html/template"
	"strings"
	"testing"

	"wythe/renderer/detail"
	"wythe/site/prose"
)

// junctionPicture stands in for a junction's drawing.
func junctionPicture(prefix, width, height string) template.HTML {
	return template.HTML(`<svg class="dwg" width="` + width + `mm" height="` + height + `mm" viewBox="0 0 ` + width + ` ` + height +
		`" role="group" aria-label="J-201, section"><g class="k-control"><path d="M0 0H9"/></g><a href="#part-1" id="` + prefix + `1" data-key="1" aria-label="Keynote 1"><circle cx="10" cy="10" r="2.8"/></a></svg>`)
}

func slabEdge() *Junction {
	return &Junction{
		Frame: Frame{
			Root: "../", Mark: "J-201", Title: "Basement slab edge at wall and footing", Status: detail.ForReview, Rev: "B", Date: "16 Nov 2026",
			Lead:  "Section where W-101 and F-101 meet.",
			Scale: "1 1/2 in = 1 ft", ScaleRatio: "1:8",
		},
		UseFor: []string{"drained ground"}, NotFor: []string{"ground under water pressure"},
		Wide: junctionPicture("w-k-", "258", "160"), Phone: junctionPicture("n-k-", "92", "110"),
		Lines:   []detail.Control{detail.AirTight, detail.VaporTight, detail.Water, detail.Thermal},
		Toggles: []Toggle{ToggleHatch, ToggleDimensions},
		Keynotes: []Keynote{
			{1, "Upturn", "XPS type IV. Full depth of the slab, tight to the concrete", "2 in", Link{}, []detail.Control{detail.Thermal}},
			{2, "Vapor retarder film", "Lap 6 in and tape", "15 mil", Link{"F-101/index.html", "F-101", ""}, []detail.Control{detail.AirTight, detail.VaporTight}},
			{3, "Reinforced concrete", "", "8 in", Link{"W-101/index.html", "W-101", ""}, []detail.Control{detail.AirTight, detail.VaporTight}},
			{4, "Soil", "", "", Link{}, nil},
		},
		Continuity: []Verdicts{
			{Control: detail.AirTight, Chain: []ChainPart{{"slab film", 2}, {"wall concrete", 3}}, Verdict: Good, Words: "Unbroken in this section"},
			{Control: detail.Water, Chain: []ChainPart{{"wall coat", 0}}, Verdict: Good, Words: "Unbroken in this section", Notes: []string{"Ends here: drained to the footing drain"}},
		},
		Corners:   "Corners where three planes meet are not proved by it.",
		Meets:     []Link{{"W-101/index.html", "W-101", "Basement wall"}, {"F-101/index.html", "F-101", "Insulated basement slab"}},
		Used:      []Link{{"buildings/ferry-landing/index.html", "Ferry Landing", "132 ft"}},
		Cautions:  []Caution{{"Excavation.", prose.Plain("Slope or shore it.")}},
		Steps:     []Step{step("concrete", "Pour the footing.", ""), step("insulation", "Bed the film.", "Bead seen all round.")},
		Revisions: []Revision{{Rev: "B", Date: "16 Nov 2026", Note: "Rigid lining meets the upturn."}},
		Body:      prose.Plain("The foam turns up at the edge."),
	}
}

func brokenEdge() *Junction {
	p := slabEdge()
	p.Status, p.Meets, p.Used = detail.Draft, nil, nil
	p.Wide = junctionPicture("w-k-", "258", "240")
	p.Continuity = []Verdicts{
		{Control: detail.AirTight, Chain: []ChainPart{{"slab film", 2}, {"wall concrete", 3}}, Verdict: Bad, Words: "Gap 3 in"},
		{Control: detail.Thermal, Verdict: Bad, Words: "Not traced: no space is inside"},
	}
	p.Gaps = []Gap{{Label: "A GAP 3 in", Between: [2]ChainPart{{"slab film", 2}, {"wall concrete", 3}}, Where: "Inside is open to outside and earth.", Do: "Carry slab film on to wall concrete and seal it there."}}
	return p
}

func continuityMatrix() *Matrix {
	f, w := Link{"F-101/index.html", "F-101", "Insulated basement slab"}, Link{"W-101/index.html", "W-101", "Basement wall"}
	j := Link{"J-201/index.html", "J-201", "Basement slab edge"}
	return &Matrix{
		Frame:      Frame{Root: "../", Title: "Continuity matrix", Lead: "Which assemblies meet."},
		Assemblies: []Link{f, w},
		Cells:      [][][]MatrixJunction{{nil}, {{{j, true}}, {{Link{"J-205/index.html", "J-205", ""}, false}}}},
		Junctions: []MatrixRow{{j, []Link{w, f}, []Verdicts{
			{Control: detail.AirTight, Verdict: Good, Words: "Unbroken"}, {Control: detail.Thermal, Verdict: Bad, Words: "Gap 5 in"},
		}}},
		Loops: []Loop{{[]Link{f, j, w}, []LoopRow{{detail.AirTight, []LoopCell{{"film", Neutral}, {"Unbroken", Good}, {"concrete", Neutral}}},
			{detail.Thermal, []LoopCell{{"foam", Neutral}, {"Gap 5 in", Bad}, {"lining below, foam above", Bad}}}}}},
		Mismatches:  []string{"Thermal control of W-101: J-201 carries it in lining, J-203 in foam."},
		Undrawn:     []Undrawn{{f, w, "Ferry Landing"}},
		CornersNote: "A section proves a line.",
		Corners:     []Corner{{j, Link{"J-205/index.html", "J-205", "Outside corner"}}},
	}
}

func lessonPage() *Prose {
	return &Prose{
		Frame: Frame{Root: "../", Title: "A broken section"}, Body: prose.Plain("This page shows a section that fails."),
		Shown: brokenEdge(), Cited: []Link{{"J-290/index.html", "J-290", "Lesson"}},
	}
}

// TestJunctionWithoutDrawing leaves out what belongs to a drawing.
func TestJunctionWithoutDrawing(t *testing.T) {
	p := &Junction{Frame: Frame{Root: "../", Mark: "J-900", Title: "A junction", Status: detail.Draft}, Continuity: []Verdicts{{Control: detail.AirTight, Verdict: Good, Words: "Unbroken in this section"}}}
	got := written(t, p, officeSite())
	checkRules(t, got)
	for _, out := range []string{`id="drawing"`, `id="keynotes"`, `name="ln"`, `class="gap"`} {
		if strings.Contains(got, out) {
			t.Errorf("a junction without a drawing has %s", out)
		}
	}
	if !strings.Contains(got, "Unbroken in this section") {
		t.Error("the verdict is not there")
	}
}

// Isotherms can be shown also where no control is drawn: then they are.
func TestIsothermsWithoutControls(t *testing.T) {
	p := Junction{Isotherms: true}
	got := string(p.lines(&writer{}))
	if !strings.Contains(got, `id="ln-iso" checked`) || strings.Contains(got, "ln-ctl") || !strings.Contains(got, "t-shd") {
		t.Errorf("%s", got)
	}
	if p.Isotherms = false; p.lines(&writer{}) != "" {
		t.Error("a choice of nothing")
	}
}
