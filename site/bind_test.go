package site

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"wythe/renderer/binder"
	"wythe/renderer/drawing"
	"wythe/renderer/drawing/pdf/pdftest"
)

const siteAddress = "https://details.example.org/library"

// demoWhere is a copy of the demonstration library with other settings.
func demoWhere(t testing.TB, set func(settings string) string) *Library {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(demo)); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "library.yaml")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(set(string(data))), 0o666); err != nil {
		t.Fatal(err)
	}
	lib, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// withSite is the demonstration library with a site address and a paper.
func withSite(t testing.TB, paper string) *Library {
	t.Helper()
	return demoWhere(t, func(s string) string {
		s = regexp.MustCompile(`(?m)^site:.*$`).ReplaceAllString(s, "site: "+siteAddress)
		return regexp.MustCompile(`(?m)^sheet:.*$`).ReplaceAllString(s, "sheet: "+paper)
	})
}

// inUnits is the demonstration library in units of its own.
func inUnits(t testing.TB, units string) *Library {
	t.Helper()
	return demoWhere(t, func(s string) string { return strings.Replace(s, "units: inch", "units: "+units, 1) })
}

func bindFile(t *testing.T, lib *Library, o BindOptions) (string, binder.Result) {
	t.Helper()
	var out bytes.Buffer
	result, err := lib.Bind(&out, o)
	if err != nil {
		t.Fatal(err)
	}
	return pdftest.Save(t, out.Bytes()), result
}

// find returns the box of the first node of a kind, mm.
func find(g *drawing.Group, kind string) drawing.Box {
	for _, n := range g.Nodes {
		if c, ok := n.(*drawing.Group); ok {
			if c.Tag.Kind == kind {
				return drawing.Bounds(c)
			}
			if b := find(c, kind); !b.Empty() {
				return b
			}
		}
	}
	return drawing.Box{}
}

// TestBoundSheetIsTrueToScale measures the printed sheet: the scale bar of
// F-101, and the concrete of its slab.
//
// Published: 12 in at 1:8 are 38.1 mm, 5 in 15.875 mm, exactly. Tolerance:
// 0.2 mm.
func TestBoundSheetIsTrueToScale(t *testing.T) {
	lib := withSite(t, "Tabloid")
	file, _ := bindFile(t, lib, BindOptions{Marks: []string{"F-101"}})
	img := pdftest.Raster(t, file, 2, pdftest.DPI)
	d, err := lib.drawingOf(lib.Detail("F-101"), 0)
	if err != nil {
		t.Fatal(err)
	}
	if d.Scale != 8 {
		t.Fatalf("F-101 is drawn at 1:%g", d.Scale)
	}
	// The drawing stands at the top left of the field, inside the frame; look
	// for its bar about where that puts it, and take its length from the paper.
	bar := find(&d.Root, "scale")
	left, top := 8+2.5+bar.Min.X, 8+2.5+bar.Min.Y
	longest := 0.0
	for y := top; y < top+bar.Height(); y += 1 / pdftest.MM {
		run := 0.0
		for x := left - 3; x < left+bar.Width()+3; x += 1 / pdftest.MM {
			if img.GrayAt(int(x*pdftest.MM), int(y*pdftest.MM)).Y < 128 {
				run += 1 / pdftest.MM
				longest = max(longest, run)
			} else {
				run = 0
			}
		}
	}
	if longest -= float64(drawing.PenDimension); math.Abs(longest-38.1) > 0.2 {
		t.Errorf("the foot of the scale bar is %.2f mm long; want 38.1", longest)
	}
	// Outlines cross the paper level: the first two down the middle of the
	// section are the faces of the concrete.
	outline := find(&d.Root, "outline")
	x := 8 + 2.5 + (outline.Min.X+outline.Max.X)/2
	var faces []float64
	for y := 8 + 2.5 + outline.Min.Y - 1; y < 8+2.5+outline.Max.Y+1 && len(faces) < 2; y += 1 / pdftest.MM {
		level := true
		for dx := -15.0; dx <= 15; dx += 0.25 {
			level = level && img.GrayAt(int((x+dx)*pdftest.MM), int(y*pdftest.MM)).Y < 128
		}
		if level && (len(faces) == 0 || y-faces[len(faces)-1] > 5) {
			faces = append(faces, y)
		}
	}
	// Their upper edges are found: of a cut outline above, of a film below.
	want := 15.875 + float64(drawing.PenCut-drawing.PenMembrane)/2
	if len(faces) < 2 || math.Abs(faces[1]-faces[0]-want) > 0.2 {
		t.Errorf("the faces of 5 in of concrete are at %.2f mm; want %.2f apart", faces, want)
	}
}

// TestBoundSetHoldsWhatPagesSay reads the set as a reader does.
func TestBoundSetHoldsWhatPagesSay(t *testing.T) {
	lib := withSite(t, "Letter")
	marks := []string{"F-101", "R-103", "W-102"}
	file, result := bindFile(t, lib, BindOptions{Marks: marks, Building: "Ferry Landing"})
	pages := strings.Split(pdftest.Text(t, file, 0), "\f")
	if len(pages) != result.Pages+1 {
		t.Fatalf("%d pages, %d texts", result.Pages, len(pages))
	}
	for _, want := range append(marks, "Ferry Landing", "Oriel & Strand Architects", "Sheet index", "Insulated basement slab", "Letter") {
		if !strings.Contains(pages[0], want) {
			t.Errorf("the index lacks %q", want)
		}
	}
	all := strings.Join(strings.Fields(strings.Join(pages, " ")), " ")
	for _, mark := range marks {
		d := lib.Detail(mark)
		for _, r := range d.Revisions {
			if !strings.Contains(all, r.Note) {
				t.Errorf("%s: revision note %q is not printed", mark, r.Note)
			}
		}
		for _, c := range d.Cautions {
			if text, ok := lib.Settings().Caution(c); ok && !strings.Contains(all, strings.Fields(text)[0]) {
				t.Errorf("%s: caution %q is not printed", mark, c)
			}
		}
		fig := lib.Figures(d)
		if r := strings.TrimPrefix(fig.Thermal.Resistance.Value.Show(lib.Settings().Units), "R "); !strings.Contains(all, r) {
			t.Errorf("%s: R %s is not printed", mark, r)
		}
	}
	if n, bare := pdftest.Fonts(t, file); n == 0 || len(bare) > 0 {
		t.Errorf("%d fonts; not embedded: %v", n, bare)
	}
	if info := pdftest.Run(t, "pdfinfo", file); !strings.Contains(info, "Page size:       792 x 612 pts (letter)") {
		t.Errorf("pdfinfo says\n%s", info)
	}
	xml := pdftest.Run(t, "pdftohtml", "-xml", "-i", "-stdout", file)
	for _, mark := range marks {
		if !strings.Contains(xml, ">"+mark+" ") {
			t.Errorf("no bookmark of %s", mark)
		}
	}
	// A draft says what it is not for, a detail that is issued does not.
	for _, p := range pages[1:] {
		draft := strings.Contains(p, "R-103") && strings.Contains(p, "NUMBER") && strings.Contains(p, "Draft")
		if said := strings.Contains(p, "Not for construction"); said != draft {
			t.Errorf("not for construction: said %v; draft %v:\n%s", said, draft, p)
		}
	}
}

// TestMetricSheetsSayTheRatio and no scale of feet and inches, in the title
// block and under the drawing.
func TestMetricSheetsSayTheRatio(t *testing.T) {
	for _, c := range []struct {
		units string
		said  int
	}{{"inch", 2}, {"metric", 0}} {
		set, _ := bindFile(t, inUnits(t, c.units), BindOptions{Marks: []string{"J-202", "W-104"}})
		text := strings.NewReplacer("′", "'", "″", `"`).Replace(pdftest.Text(t, set, 2))
		if n := strings.Count(text, "= 1'-0\""); n != c.said || !strings.Contains(text, "1:8") {
			t.Errorf("%s: a scale of feet is said %d times:\n%s", c.units, n, text)
		}
	}
}

// TestCodeOnTheSheet reads the code as a telephone does.
func TestCodeOnTheSheet(t *testing.T) {
	lib := withSite(t, "Letter")
	file, _ := bindFile(t, lib, BindOptions{Marks: []string{"F-101"}})
	want := siteAddress + "/F-101/#issue-c" // no history holds revision C: its row on the page
	if got := pdftest.Code(t, file, 2, 200); got != want {
		t.Errorf("the code says %q; want %q", got, want)
	}
	if got := pdftest.Run(t, "pdfinfo", "-url", file); !strings.Contains(got, siteAddress+"/F-101/") {
		t.Errorf("no link leads to the page:\n%s", got)
	}
}

// TestNoSiteNoCode: a library without an address prints none, and links
// nowhere outside.
func TestNoSiteNoCode(t *testing.T) {
	lib, err := Open("../details")
	if err != nil {
		t.Fatal(err)
	}
	lib.lib.Settings.Site = ""
	file, result := bindFile(t, lib, BindOptions{Marks: []string{"F-101"}})
	if got := pdftest.Run(t, "pdfinfo", "-url", file); strings.Contains(got, "http") || len(result.Uncoded) > 0 {
		t.Errorf("addresses: %s %v", got, result.Uncoded)
	}
	if lib.PageCode(lib.Detail("F-101")) != "" {
		t.Error("a code without an address")
	}
}

func TestBindIsTheSame(t *testing.T) {
	var sets [2][]byte
	for i := range sets {
		lib := withSite(t, "A3")
		var out bytes.Buffer
		if _, err := lib.Bind(&out, BindOptions{Marks: []string{"F-101", "W-102"}}); err != nil {
			t.Fatal(err)
		}
		sets[i] = out.Bytes()
	}
	if !bytes.Equal(sets[0], sets[1]) {
		t.Error("two bindings differ")
	}
}

// TestShare: the drawing as SVG and PDF of one size, the schedule as CSV.
func TestShare(t *testing.T) {
	lib := withSite(t, "Letter")
	d := lib.Detail("F-101")
	svg, err := lib.ShareSVG(d)
	if err != nil || !bytes.HasPrefix(svg, []byte("<?xml")) {
		t.Errorf("SVG %.40q, %v", svg, err)
	}
	doc, err := lib.SharePDF(d)
	if err != nil {
		t.Fatal(err)
	}
	file := pdftest.Save(t, doc)
	if text := pdftest.Text(t, file, 1); !strings.Contains(text, "INSULATED BASEMENT SLAB") {
		t.Errorf("PDF says %s", text)
	}
	if n, bare := pdftest.Fonts(t, file); n == 0 || len(bare) > 0 {
		t.Errorf("%d fonts; not embedded: %v", n, bare)
	}
	table, err := lib.ShareCSV(d)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
	if err != nil || len(rows) != len(d.Assembly.Layers)+1 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	// 5 in of concrete are 127 mm.
	if got := rows[1][:6]; strings.Join(got, "|") != "1|slab|concrete|1|5|127" {
		t.Errorf("first layer %q", got)
	}
	if code := string(lib.PageCode(d)); !strings.Contains(code, "<path") || strings.Contains(code, "style=") {
		t.Errorf("code %.80s", code)
	}
}

func TestInert(t *testing.T) {
	for s, want := range map[string]string{"=1+2": "'=1+2", "-2.5": "-2.5", "": "", "plain": "plain", "@x": "'@x"} {
		if got := inert(s); got != want {
			t.Errorf("inert(%q) = %q; want %q", s, got, want)
		}
	}
}

func BenchmarkBindLibrary(b *testing.B) {
	lib := withSite(b, "Tabloid")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := lib.Bind(&bytes.Buffer{}, BindOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkShare(b *testing.B) {
	lib := withSite(b, "Tabloid")
	d := lib.Detail("F-101")
	for _, kind := range []struct {
		name string
		make func() ([]byte, error)
	}{
		{"SVG", func() ([]byte, error) { return lib.ShareSVG(d) }},
		{"PDF", func() ([]byte, error) { return lib.SharePDF(d) }},
		{"CSV", func() ([]byte, error) { return lib.ShareCSV(d) }},
		{"code", func() ([]byte, error) { return []byte(lib.PageCode(d)), nil }},
	} {
		b.Run(kind.name, func(b *testing.B) {
			n := 0
			for b.Loop() {
				data, err := kind.make()
				if err != nil {
					b.Fatal(err)
				}
				n = len(data)
			}
			b.ReportMetric(float64(n), "bytes")
		})
	}
}

// TestPDFsWhereAsked: each detail's drawing stands beside its page as PDF,
// where the library asks for that, and its page leads there; else neither.
func TestPDFsWhereAsked(t *testing.T) {
	library := gitLibrary(t)
	settings := filepath.Join(library, "library.yaml")
	for _, asked := range []string{"", "pdf: true\n", "pdf: false\n"} {
		put(t, settings, pastFiles["library.yaml"]+asked)
		to := filepath.Join(t.TempDir(), "published")
		if result, err := Publish(Options{Library: library, To: to}); err != nil {
			t.Fatal(result.Findings.Items, err)
		}
		for _, mark := range []string{"F-101", "J-201", "W-100"} {
			page, err := os.ReadFile(filepath.Join(to, mark, "index.html"))
			if err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(to, mark, mark+".pdf")
			_, err = os.Stat(file)
			there, led := err == nil, bytes.Contains(page, []byte(mark+"/"+mark+`.pdf"`))
			if want := asked == "pdf: true\n"; there != want || led != want {
				t.Errorf("%q: %s as PDF: there %v, its page leads there %v", asked, mark, there, led)
			} else if want && !strings.Contains(pdftest.Text(t, file, 1), mark) {
				t.Errorf("%s: the PDF does not say its mark", mark)
			}
		}
	}
}

// BenchmarkBindGrowth binds 25, 50 and 100 details, and holds the time of a page
// to that among 25: binding takes time in proportion to pages.
func BenchmarkBindGrowth(b *testing.B) {
	dir, _ := generateWhole(b, 100)
	lib, err := Open(dir)
	if err != nil {
		b.Fatal(err)
	}
	var marks []string
	for _, e := range lib.details {
		if !e.broken {
			e.solved()
			marks = append(marks, e.d.Mark)
		}
	}
	// The kinds of details stand one after the other: every set takes of all.
	some := func(n int) []string {
		var list []string
		for i := range n {
			list = append(list, marks[i*len(marks)/n])
		}
		return list
	}
	sizes := []int{25, 50, 100}
	took, pages := make([]time.Duration, len(sizes)), make([]int, len(sizes))
	for b.Loop() {
		for i, n := range sizes {
			start := time.Now()
			r, err := lib.Bind(io.Discard, BindOptions{Marks: some(n)})
			if err != nil {
				b.Fatal(err)
			}
			took[i] += time.Since(start)
			pages[i] += r.Pages
		}
	}
	each := func(i int) float64 { return took[i].Seconds() * 1e3 / float64(pages[i]) }
	for i, n := range sizes {
		b.ReportMetric(each(i)/each(0), fmt.Sprint("x-page-of-25-at-", n))
	}
	b.ReportMetric(each(2), "ms/page")
}
