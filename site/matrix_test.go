package site

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/site/page"
)

// matrixLibrary is a floor, two walls and a roof of two sheets each, the walls
// on the floor and under the roof. The upper junction hands air on in the
// inner sheet; SHEET says in which the lower does, and the other is held up
// from the floor.
var matrixLibrary = map[string]string{
	"library.yaml": "firm: Oriel & Strand Architects\ntitle: Two sheets\nunits: inch\nmarks: \"[A-Z]-[0-9]{3}\"\n",
	"F-901.md":     "---\nmark: F-901\ntitle: Floor\nelement: floor on ground\nlayers:\n  - {name: deck, material: plywood, thickness: 1 in, control: [air]}\n---\n",
	"W-901.md": "---\nmark: W-901\ntitle: Wall\nelement: wall\nlayers:\n  - {name: inner, material: plywood, thickness: 1 in, control: [air]}\n" +
		"  - {name: wool, material: mineral wool batt, thickness: 4 in}\n  - {name: outer, material: plywood, thickness: 1 in, control: [air]}\n---\n",
	"W-902.md": "---\nmark: W-902\ntitle: Other wall\nelement: wall\nlayers:\n  - {name: inner, material: plywood, thickness: 1 in, control: [air]}\n---\n",
	"R-901.md": "---\nmark: R-901\ntitle: Roof\nelement: roof\nlayers:\n  - {name: sheet, material: plywood, thickness: 1 in, control: [air]}\n---\n",
	"J-901.md": `---
mark: J-901
title: Foot
view: {left: 0, right: 40 in, bottom: 0, top: 40 in}
parts:
  - floor: {assembly: F-901, inside: top, left: 10 in, right: cut, top: 8 in}
  - wall: {assembly: W-901, inside: right, left: 10 in, bottom: floor.top, top: cut, bottom of TRIM: 20 in above floor.top}
  - earth: {material: soil, left: cut, right: cut, bottom: cut, top: floor.bottom}
  - foot: {seal: tape, joins: [floor.deck, wall.SHEET], at: [wall.SHEET.right, floor.top]}
spaces:
  inside: {at: [30 in, 30 in]}
  outside: {at: [5 in, 30 in]}
---
`,
	"J-902.md": `---
mark: J-902
title: Head
view: {left: 0, right: 40 in, bottom: 0, top: 40 in}
parts:
  - roof: {assembly: R-901, inside: bottom, left: 6 in, right: cut, bottom: 30 in}
  - wall: {assembly: W-901, inside: right, left: 10 in, bottom: cut, top: roof.bottom}
  - head: {seal: tape, joins: [roof.sheet, wall.inner], at: [wall.inner.right, roof.bottom]}
spaces:
  inside: {at: [30 in, 10 in]}
  outside: {at: [5 in, 10 in]}
---
`,
	"J-903.md": `---
mark: J-903
title: Corner
drawn: plan
view: {left: 0, right: 40 in, bottom: 0, top: 40 in}
parts:
  - long: {assembly: W-901, inside: right, left: 10 in, bottom: 10 in, top: cut}
  - short: {assembly: W-901, inside: top, left: long.right, right: cut, bottom: 10 in}
  - tape: {seal: tape, joins: [long.inner, short.inner], at: [long.inner.right, short.inner.top]}
spaces:
  inside: {at: [30 in, 30 in]}
  outside: {at: [5 in, 30 in]}
---
`,
	"J-904.md": "---\nmark: J-904\ntitle: Broken on purpose\ntags: [lesson]\nstatus: issued\nrevisions: [{rev: A, date: 2026-11-02, note: First.}]\nview: {left: 0, right: 40 in, bottom: 0, top: 40 in}\n" +
		"parts:\n  - wall: {assembly: W-902, inside: right, left: 10 in, bottom: 4 in, top: cut}\nspaces:\n  inside: {at: [30 in, 30 in]}\n  outside: {at: [5 in, 30 in]}\n---\n",
	"lesson.md":  "---\ntitle: What a gap is\n---\nSee J-904.\n",
	"landing.md": "---\ntitle: Ferry Landing\nareas:\n  - {detail: F-901, area: 100 sq ft}\n  - {detail: W-901, area: 100 sq ft}\n  - {detail: W-902, area: 100 sq ft}\n  - {detail: R-901, area: 100 sq ft}\n---\n",
}

func openMatrix(t *testing.T, sheet string) *Library {
	t.Helper()
	dir := t.TempDir()
	for name, text := range matrixLibrary {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(strings.NewReplacer("SHEET", sheet, "TRIM", map[string]string{"inner": "outer", "outer": "inner"}[sheet]).Replace(text)), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	lib, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

func texts(links []page.Link) string {
	var s []string
	for _, l := range links {
		s = append(s, l.Text)
	}
	return strings.Join(s, " ")
}

func TestMatrix(t *testing.T) {
	lib := openMatrix(t, "inner")
	for _, f := range lib.Review().Items {
		if f.Level == finding.Error || f.Rule == "handover" {
			t.Errorf("%s", f)
		}
	}
	m := lib.view(nil).matrixPage()
	if got := texts(m.Assemblies); got != "F-901 R-901 W-901" {
		t.Errorf("assemblies %s; a lesson's own does not count", got)
	}
	cell := func(i, k int) string {
		var s []string
		for _, j := range m.Cells[i][k] {
			s = append(s, j.Text)
		}
		return strings.Join(s, " ")
	}
	for _, c := range []struct {
		i, k int
		want string
	}{{2, 0, "J-901"}, {2, 1, "J-902"}, {2, 2, "J-903"}, {1, 0, ""}, {0, 0, ""}} {
		if got := cell(c.i, c.k); got != c.want {
			t.Errorf("%s and %s meet in %q, want %q", m.Assemblies[c.i].Text, m.Assemblies[c.k].Text, got, c.want)
		}
	}
	if len(m.Junctions) != 3 {
		t.Errorf("%d junctions; want three, without the lesson", len(m.Junctions))
	}
	if len(m.Loops) != 1 || texts(m.Loops[0].Stations) != "F-901 J-901 W-901 J-902 R-901" {
		t.Fatalf("loops %+v", m.Loops)
	}
	for _, r := range m.Loops[0].Rows {
		if r.Control != detail.AirTight {
			t.Errorf("a row for %s, which nothing carries", r.Control)
		}
		for i, c := range r.Cells {
			if c.Verdict == page.Bad {
				t.Errorf("station %s: %s", m.Loops[0].Stations[i].Text, c.Words)
			}
		}
		if got := r.Cells[2].Words; got != "inner" {
			t.Errorf("the wall carries air in %q, want inner", got)
		}
	}
	var undrawn []string
	for _, u := range m.Undrawn {
		undrawn = append(undrawn, u.A.Text+" "+u.B.Text)
	}
	if got := strings.Join(undrawn, ", "); got != "F-901 W-902, W-902 R-901" {
		t.Errorf("undrawn: %s", got)
	}
	if len(m.Corners) != 2 || m.Corners[0].A.Text != "J-901" || m.Corners[0].B.Text != "J-903" {
		t.Errorf("corners %+v", m.Corners)
	}
	if len(m.Mismatches) != 0 {
		t.Errorf("mismatches %v", m.Mismatches)
	}
}

// TestHandover finds a control that changes its layer between two sections.
func TestHandover(t *testing.T) {
	lib := openMatrix(t, "outer")
	m := lib.view(nil).matrixPage()
	// The head and the corner both take it up in the other sheet.
	if len(m.Mismatches) != 2 || !strings.Contains(m.Mismatches[0], "W-901") || !strings.Contains(m.Mismatches[0], "outer") || !strings.Contains(m.Mismatches[0], "inner") {
		t.Fatalf("mismatches %v", m.Mismatches)
	}
	if c := m.Loops[0].Rows[0].Cells[2]; c.Verdict != page.Bad || c.Words != "outer below, inner above" {
		t.Errorf("the wall's station: %+v", c)
	}
	found := 0
	for _, f := range lib.Review().Items {
		if f.Rule == "handover" {
			found++
			if f.Level != finding.Warning || f.File == "" {
				t.Errorf("%s", f)
			}
		}
	}
	if found != 2 {
		t.Errorf("%d findings of handover, want two", found)
	}
}

// TestLesson shows a broken section under the text that names it, and holds
// it to nothing.
func TestLesson(t *testing.T) {
	lib := openMatrix(t, "inner")
	for _, f := range lib.Review().Items {
		if f.File == "J-904.md" && strings.HasPrefix(f.Rule, "control-") {
			t.Errorf("%s", f)
		}
	}
	for _, e := range lib.pages {
		p := lib.view(nil).prosePage(e)
		if p.Shown == nil || p.Shown.Wide == "" || len(p.Shown.Gaps) == 0 {
			t.Errorf("%s shows no broken section", e.d.File)
		}
	}
}
