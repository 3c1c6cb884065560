package figures

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/finding"
)

// tapedWall is a wall of two plywood sheets, 5 in apart: {} is the status,
// <> a part that may close the gap.
const tapedWall = `---
mark: J-901
title: Two sheets
status: {}
tags: [TAG]
view: {left: 0, right: 20 in, bottom: 0, top: 30 in}
parts:
  - lower: {material: plywood, left: 10 in, width: 1 in, bottom: cut, top: 10 in, control: [air]}
  - upper: {material: plywood, left: 10 in, width: 1 in, bottom: 15 in, top: cut, control: [air]}
  - fill: {material: mineral wool batt, left: 10 in, width: 1 in, bottom: lower.top, top: upper.bottom}
<>
spaces:
  inside: {at: [15 in, 15 in]}
  outside: {at: [5 in, 15 in]}
---
`

func trace(t *testing.T, text string) *Junction {
	t.Helper()
	lib, err := detail.ReadFS(fstest.MapFS{
		"library.yaml": {Data: []byte("firm: Oriel & Strand Architects\nmarks: \"[A-Z]-[0-9]{3}\"\n")},
		"J-901.md":     {Data: []byte(text)},
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range lib.Findings.Items {
		if f.Level == finding.Error {
			t.Fatalf("%s", f)
		}
	}
	return OfJunction(Context{Settings: &lib.Settings}, lib.Detail("J-901"), lib.Detail)
}

func wall(status, tag, part string) string {
	return strings.NewReplacer("{}", status, "TAG", tag, "<>", part).Replace(tapedWall)
}

// TestJunctionJSON holds the contract of figures --json: the gap's place and
// width worked by hand.
func TestJunctionJSON(t *testing.T) {
	raw, err := json.Marshal(trace(t, wall("draft", "wall", "")))
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Mark       string
		Continuity []struct {
			Control, Verdict string
			Chain            []string
			Gaps             []struct {
				Between [2]string
				X       float64 `json:"x_m"`
				Y       float64 `json:"y_m"`
				Width   float64 `json:"width_m"`
			}
		}
		NotComputed []any `json:"not_computed"`
	}
	if err := json.Unmarshal(raw, &got); err != nil {
		t.Fatal(err)
	}
	if got.Mark != "J-901" || len(got.Continuity) != 1 || got.NotComputed == nil {
		t.Fatalf("%s", raw)
	}
	c := got.Continuity[0]
	if c.Control != "air" || c.Verdict != "broken" || len(c.Gaps) != 1 {
		t.Fatalf("%s", raw)
	}
	g := c.Gaps[0]
	between := map[string]bool{g.Between[0]: true, g.Between[1]: true}
	if !between["lower"] || !between["upper"] {
		t.Errorf("between %v", g.Between)
	}
	if math.Abs(g.Width-5*0.0254) > 1e-6 || math.Abs(g.Y-12.5*0.0254) > 1e-6 || g.X < 10*0.0254 || g.X > 11*0.0254 {
		t.Errorf("a gap of %v m at %v, %v; want 0.127 at 0.254 to 0.2794, 0.3175", g.Width, g.X, g.Y)
	}
	whole, err := json.Marshal(trace(t, wall("draft", "wall", "  - middle: {material: plywood, left: 10 in, width: 1 in, bottom: lower.top, top: upper.bottom, control: [air]}\n  - a: {seal: tape, joins: [lower, middle], at: [11 in, lower.top]}\n  - b: {seal: tape, joins: [middle, upper], at: [11 in, upper.bottom]}")))
	if err != nil {
		t.Fatal(err)
	}
	if s := string(whole); !strings.Contains(s, `"verdict":"continuous"`) || !strings.Contains(s, `"gaps":[]`) || !strings.Contains(s, `"chain":["lower","middle","upper"]`) && !strings.Contains(s, `"chain":["upper","middle","lower"]`) {
		t.Errorf("%s", whole)
	}
}

// TestJunctionLevels holds what a broken control is by status: an error where
// the detail is built from.
func TestJunctionLevels(t *testing.T) {
	for _, c := range []struct {
		status, tag  string
		level        finding.Level
		rule         string
		errs, others int
	}{
		{"draft", "wall", finding.Warning, "control-broken", 0, 1},
		{"for review", "wall", finding.Warning, "control-broken", 0, 1},
		{"issued", "wall", finding.Error, "control-broken", 1, 0},
		{"issued", "lesson", finding.Error, "", 0, 0},
	} {
		j := trace(t, wall(c.status, c.tag, ""))
		errs := j.Findings.Errors()
		if errs != c.errs || len(j.Findings.Items)-errs != c.others {
			t.Errorf("%s, %s: %v", c.status, c.tag, j.Findings.Items)
			continue
		}
		for _, f := range j.Findings.Items {
			if f.Rule != c.rule || f.File != "J-901.md" || f.Line != 8 && f.Line != 9 || !strings.Contains(f.Message, "5 in") {
				t.Errorf("%s: %s", c.status, f)
			}
		}
		if j.Worst() != continuity.Broken {
			t.Errorf("worst is %s", j.Worst())
		}
	}
}

// TestJunctionUnsealed finds two sheets that touch and are not joined.
func TestJunctionUnsealed(t *testing.T) {
	j := trace(t, wall("issued", "wall", "  - middle: {material: plywood, left: 10 in, width: 1 in, bottom: lower.top, top: upper.bottom, control: [air]}\n  - a: {seal: tape, joins: [lower, middle], at: [11 in, lower.top]}"))
	if j.Worst() != continuity.Unsealed || j.Findings.Errors() != 1 {
		t.Fatalf("%s: %v", j.Worst(), j.Findings.Items)
	}
	if f := j.Findings.Items[0]; f.Rule != "control-unsealed" || !strings.Contains(f.Message, `"middle"`) || !strings.Contains(f.Message, "nothing seals them") {
		t.Errorf("%s", f)
	}
}

// TestJunctionNotLaid says why nothing is computed of a view that cannot be.
func TestJunctionNotLaid(t *testing.T) {
	j := trace(t, strings.Replace(wall("issued", "wall", ""), "left: 0, right: 20 in", "left: 10 in, right: lower.left", 1))
	if j.Section != nil || j.Findings.Errors() == 0 || len(j.NotComputed) != 1 || j.NotComputed[0].Key != "continuity" {
		t.Errorf("%+v %v", j.NotComputed, j.Findings.Items)
	}
}
