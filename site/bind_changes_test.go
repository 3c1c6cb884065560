package site

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"wythe/renderer/drawing"
	"wythe/renderer/drawing/pdf/pdftest"
)

// clouds are the boxes of the clouds on a detail's sheet, and the letters of
// their deltas.
func clouds(t *testing.T, lib *Library, mark string) (boxes []drawing.Box, letters string, d *drawing.Drawing) {
	t.Helper()
	d = lib.sheetOf(lib.byMark[mark], nil).Draw(0, false)
	var walk func(g *drawing.Group, in bool)
	walk = func(g *drawing.Group, in bool) {
		if g.Tag.Kind == "cloud" {
			in = true
			boxes = append(boxes, drawing.Bounds(g.Nodes[0]))
		}
		for _, n := range g.Nodes {
			switch n := n.(type) {
			case *drawing.Group:
				walk(n, in)
			case *drawing.Text:
				if in {
					letters += n.Text
				}
			}
		}
	}
	walk(&d.Root, false)
	return boxes, letters, d
}

func opening(t *testing.T, dir string) *Library {
	t.Helper()
	lib, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// said is what the table of revisions says of clouds.
func said(lib *Library, mark string) string {
	_, words := lib.changesOf(lib.byMark[mark])
	return words
}

// TestChangesAreClouded: the layer that grew, and it alone, within the sheet;
// with the letter of the revision that changed it.
func TestChangesAreClouded(t *testing.T) {
	dir := gitLibrary(t)
	lib := opening(t, dir)
	boxes, letters, d := clouds(t, lib, "F-101")
	if len(boxes) != 1 || letters != "B" {
		t.Fatalf("%d clouds, deltas %q; want one of B", len(boxes), letters)
	}
	// Three courses of 3 in at the drawing's scale, a reach and a scallop above
	// and below.
	foam := 9 * 25.4 / d.Scale
	if h := boxes[0].Height(); h < foam+4 || h > foam+12 || boxes[0].Min.Y < 0 || boxes[0].Max.Y > d.Height || boxes[0].Min.X < 0 || boxes[0].Max.X > d.Width {
		t.Errorf("the cloud stands at %v on %g × %g; the foam is %g mm", boxes[0], d.Width, d.Height, foam)
	}
	if got := said(lib, "F-101"); got != "Clouds with a delta B mark what changed since revision A." {
		t.Errorf("said %q", got)
	}
	// The junction changed where its wall and its slab grew, and its seal did.
	if boxes, letters, d := clouds(t, lib, "J-201"); len(boxes) == 0 || letters != strings.Repeat("B", len(boxes)) {
		t.Errorf("%d clouds, deltas %q", len(boxes), letters)
	} else {
		for _, b := range boxes {
			if b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > d.Width || b.Max.Y > d.Height {
				t.Errorf("a cloud leaves the sheet: %v on %g × %g", b, d.Width, d.Height)
			}
		}
	}
	// A layer that was taken out is clouded where it was, and a change after
	// the last issue is said.
	change(t, filepath.Join(dir, "F-101.md"), "  - {name: film, material: vapor retarder film, thickness: 15 mil, control: [air, vapor]}\n", "")
	lib = opening(t, dir)
	if boxes, _, _ := clouds(t, lib, "F-101"); len(boxes) != 1 || boxes[0].Height() < foam+10 {
		t.Errorf("clouds %v; want one of slab and foam", boxes)
	}
	if got := said(lib, "F-101"); !strings.HasSuffix(got, "Changed again since revision B was issued.") {
		t.Errorf("said %q", got)
	}
}

// TestNoHistoryNoClouds: what cannot be seen is said, and not guessed.
func TestNoHistoryNoClouds(t *testing.T) {
	dir := gitLibrary(t)
	shallow := filepath.Join(t.TempDir(), "shallow")
	git(t, filepath.Dir(dir), "clone", "-q", "--depth", "1", "file://"+filepath.Dir(dir), shallow)
	bare := t.TempDir()
	if err := os.CopyFS(bare, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ dir, says string }{
		{filepath.Join(shallow, "lib"), "Not clouded: the history is cut short, and revision A is not in what is here."},
		{bare, "Not clouded: there is no history that could hold revision A."},
		{"../details", "Not clouded: revision B bears no fingerprint by which the history would find it."},
	} {
		lib := opening(t, c.dir)
		boxes, _, _ := clouds(t, lib, "F-101")
		if got := said(lib, "F-101"); len(boxes) > 0 || got != c.says {
			t.Errorf("%s: %d clouds; says %q, want %q", c.dir, len(boxes), got, c.says)
		}
		var out bytes.Buffer
		if _, err := lib.Bind(&out, BindOptions{Marks: []string{"F-101"}}); err != nil {
			t.Fatal(err)
		}
		if text := strings.Join(strings.Fields(pdftest.Text(t, pdftest.Save(t, out.Bytes()), 0)), " "); !strings.Contains(text, "Not clouded") {
			t.Errorf("%s: the sheet does not say so: %s", c.dir, text)
		}
	}
}

// TestCodeLeadsToTheRevisionHeld: where the history holds the newest revision
// its own page is what a sheet leads to.
func TestCodeLeadsToTheRevisionHeld(t *testing.T) {
	dir := gitLibrary(t)
	change(t, filepath.Join(dir, "library.yaml"), "title: Details", "title: Details\nsite: "+siteAddress)
	lib := opening(t, dir)
	if got, want := lib.view(nil).codeAddress(lib.Detail("F-101")), siteAddress+"/F-101/rev/B/"; got != want {
		t.Errorf("the code leads to %q; want %q", got, want)
	}
}
