package browser

import (
	"context"
	"fmt"
	"image"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"wythe/renderer/drawing"
	"wythe/renderer/drawing/pdf/pdftest"
	"wythe/site"
)

// paper is what a page is printed on, standing, mm.
type paper struct {
	name          string
	width, height float64
}

var papers = []paper{{"Letter", 215.9, 279.4}, {"A4", 210, 297}}

const siteAddress = "https://details.example.org/library"

// addressed publishes the demonstration library with a site address, and
// returns the folder of the site.
func addressed(t *testing.T) string {
	t.Helper()
	library, to := t.TempDir(), filepath.Join(t.TempDir(), "published")
	if err := os.CopyFS(library, os.DirFS(filepath.Join("..", "..", "details"))); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(library, "library.yaml")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	data = regexp.MustCompile(`(?m)^site:.*$`).ReplaceAll(data, []byte("site: "+siteAddress))
	if err := os.WriteFile(file, data, 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := site.Publish(site.Options{Library: library, To: to}); err != nil {
		t.Fatal(err)
	}
	return to
}

// printed prints a page of a site's folder, from the disk, and returns the
// file. ready, which may be "", is run in the page before.
func printed(t *testing.T, folder, path, ready string, on paper) string {
	t.Helper()
	ctx, closeTab := chromedp.NewContext(bench.browser)
	t.Cleanup(closeTab)
	p := &tab{t: t, ctx: ctx}
	p.run(chromedp.Sleep(0))
	limited, cancel := context.WithTimeout(ctx, 5*time.Minute)
	t.Cleanup(cancel)
	p.ctx = limited
	p.run(chromedp.Navigate("file://" + filepath.ToSlash(folder) + "/" + path))
	ask[bool](p, `document.fonts.ready.then(() => true)`)
	if ready != "" {
		ask[bool](p, "(() => {%s; return true})()", ready)
	}
	yes := true
	out, err := chromedp.Call(p.ctx, page.PrintToPDF, page.PrintToPDFParams{
		PrintBackground: &yes, PreferCSSPageSize: &yes, PaperWidth: on.width / 25.4, PaperHeight: on.height / 25.4,
	})
	if err != nil {
		t.Fatal(err)
	}
	return pdftest.Save(t, out.Data)
}

// codes are what the codes of a printed page say.
func codes(t *testing.T, file string, n int) string {
	t.Helper()
	base := filepath.Join(t.TempDir(), "sheet")
	sheet := strconv.Itoa(n)
	pdftest.Run(t, "pdftoppm", "-gray", "-png", "-singlefile", "-r", "200", "-f", sheet, "-l", sheet, file, base)
	cmd := exec.Command("zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", base+".png")
	said, err := cmd.Output()
	if code, is := err.(*exec.ExitError); err != nil && !(is && code.ExitCode() == 4) { // 4: it found none
		t.Fatalf("%v: %v", cmd, err)
	}
	return strings.TrimSpace(string(said))
}

// TestPrintLeadsBack reads the code off a printed page as a telephone does.
// Its address leads to the revision's row, as long as no history holds it.
func TestPrintLeadsBack(t *testing.T) {
	folder := addressed(t)
	for _, on := range papers {
		for _, mark := range []string{"F-101", "J-201"} {
			file := printed(t, folder, mark+"/index.html", "", on)
			got := codes(t, file, 1)
			place, row, _ := strings.Cut(strings.TrimPrefix(got, siteAddress+"/"), "#")
			html, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(place), "index.html"))
			if place != mark+"/" || err != nil || row == "" || !strings.Contains(string(html), `<tr id="`+row+`"`) {
				t.Errorf("%s on %s: the code says %q, %v", mark, on.name, got, err)
			}
		}
	}
	if got := codes(t, printed(t, bench.folder, "F-101/index.html", "", papers[0]), 1); got != "" {
		t.Errorf("a library without an address prints a code: %q", got)
	}
}

// word is a word on paper, mm from the top left.
type word struct {
	text           string
	x0, y0, x1, y1 float64
}

var wordBox = regexp.MustCompile(`<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*)</word>`)

func words(t *testing.T, file string, n int) []word {
	t.Helper()
	sheet := strconv.Itoa(n)
	var list []word
	for _, m := range wordBox.FindAllStringSubmatch(pdftest.Run(t, "pdftotext", "-bbox", "-f", sheet, "-l", sheet, file, "-"), -1) {
		w := word{text: m[5]}
		for i, to := range []*float64{&w.x0, &w.y0, &w.x1, &w.y1} {
			v, err := strconv.ParseFloat(m[i+1], 64)
			if err != nil {
				t.Fatal(err)
			}
			*to = v * 25.4 / 72
		}
		list = append(list, w)
	}
	return list
}

// longestLevel is the longest level run of ink in a box of a raster, mm.
func longestLevel(img *image.Gray, x0, y0, x1, y1 float64) float64 {
	longest := 0
	for y := int(y0 * pdftest.MM); y < int(y1*pdftest.MM); y++ {
		run := 0
		for x := int(x0 * pdftest.MM); x < int(x1*pdftest.MM); x++ {
			if img.GrayAt(x, y).Y < 128 {
				run++
				longest = max(longest, run)
			} else {
				run = 0
			}
		}
	}
	return float64(longest) / pdftest.MM
}

// onSheets fails for each word that leaves its sheet's margins, where paper or
// page cuts it off.
func onSheets(t *testing.T, file string, on paper) {
	t.Helper()
	for n := range strings.Count(pdftest.Text(t, file, 0), "\f") {
		for _, w := range words(t, file, n+1) {
			if w.x0 < 7.5 || w.y0 < 7 || w.x1 > on.height-7.5 || w.y1 > on.width-4 {
				t.Errorf("%s, sheet %d: %q stands at %.1f, %.1f to %.1f, %.1f, off the sheet", on.name, n+1, w.text, w.x0, w.y0, w.x1, w.y1)
			}
		}
	}
}

// TestPrintedPages prints pages and looks at the paper: they lie, the foot of
// the scale bar is a foot, and every word stands on the sheet.
//
// Published: 12 in at 1:8 are 38.1 mm exactly. Tolerance: 0.2 mm.
func TestPrintedPages(t *testing.T) {
	for _, on := range papers {
		file := printed(t, bench.folder, "F-101/index.html", "", on)
		info := pdftest.Run(t, "pdfinfo", file)
		wide, high := on.height*72/25.4, on.width*72/25.4
		var w, h float64
		_, after, _ := strings.Cut(info, "Page size:")
		if _, err := fmt.Sscanf(strings.TrimSpace(after), "%f x %f pts", &w, &h); err != nil || math.Abs(w-wide) > 1 || math.Abs(h-high) > 1 {
			t.Errorf("%s: %g × %g points; want %.0f × %.0f\n%s", on.name, w, h, wide, high, info)
		}
		onSheets(t, file, on)
		list := words(t, file, 1)
		// The bar stands under its words "0 3 6 12 in", a pen wider than its foot.
		foot := 0.0
		img := pdftest.Raster(t, file, 1, pdftest.DPI)
		for i := 1; i < len(list); i++ {
			if from, to := list[i-1], list[i]; foot == 0 && from.text == "12" && to.text == "in" {
				foot = longestLevel(img, from.x0-45, from.y1-1, to.x1+2, from.y1+4) - float64(drawing.PenDimension)
			}
		}
		if math.Abs(foot-38.1) > 0.2 {
			t.Errorf("%s: the foot of the scale bar is %.2f mm long; want 38.1", on.name, foot)
		}
		// Each further sheet says what it is of, and none is empty.
		sheets := strings.Split(strings.TrimSuffix(pdftest.Text(t, file, 0), "\f"), "\f")
		for i, text := range sheets[1:] {
			if len(strings.Fields(text)) < 20 {
				t.Errorf("%s: sheet %d is empty:\n%s", on.name, i+2, text)
			}
		}
		if all := strings.Join(sheets, " "); len(sheets) > 9 || !strings.Contains(sheets[0], "Layers, from inside") || !strings.Contains(all, "First issue") {
			t.Errorf("%s: %d sheets", on.name, len(sheets))
		}
		if n, bare := pdftest.Fonts(t, file); n == 0 || len(bare) > 0 {
			t.Errorf("%s: %d fonts; not embedded: %v", on.name, n, bare)
		}
	}
}

// TestPrintedSheetsSayWhatTheyAreOf: each later sheet of a page bears at its foot
// the mark, the revision, whether it may be built from, and its place among the
// sheets, within its margins, whichever way it lies; the first has its title
// block.
func TestPrintedSheetsSayWhatTheyAreOf(t *testing.T) {
	for _, on := range papers {
		for _, c := range []struct{ path, foot string }{
			{"J-201/index.html", "J-201 rev C · Basement slab edge at wall and footing · For review, not for construction · Oriel & Strand Architects"},
			{"F-101/index.html", "F-101 rev C · Insulated basement slab · Oriel & Strand Architects"},
			{"buildings/ferry-landing/index.html", "Ferry Landing · Oriel & Strand Architects"},
		} {
			file := printed(t, bench.folder, c.path, "", on)
			sheets := strings.Split(strings.TrimSuffix(pdftest.Text(t, file, 0), "\f"), "\f")
			if len(sheets) < 2 {
				t.Errorf("%s on %s: %d sheets", c.path, on.name, len(sheets))
			}
			for i, text := range sheets {
				text = strings.Join(strings.Fields(text), " ")
				foot := fmt.Sprintf("%s Sheet %d of %d", c.foot, i+1, len(sheets))
				if strings.HasSuffix(text, foot) != (i > 0 || strings.HasPrefix(c.path, "buildings")) {
					t.Errorf("%s on %s, sheet %d of %d: the foot is not %q in\n%s", c.path, on.name, i+1, len(sheets), foot, text)
				}
			}
			if !strings.HasPrefix(c.path, "buildings") { // those stand
				onSheets(t, file, on)
			}
		}
	}
}

// TestPrintedChecklist prints a sequence to take along: one sheet of boxes to
// tick, with a line for the initials at each hold, and nothing else.
func TestPrintedChecklist(t *testing.T) {
	for _, on := range papers {
		file := printed(t, bench.folder, "F-101/index.html", `document.body.classList.add('checking')`, on)
		onSheets(t, file, on)
		text := strings.Join(strings.Fields(pdftest.Text(t, file, 0)), " ")
		if n := strings.Count(pdftest.Text(t, file, 0), "\f"); n != 1 {
			t.Errorf("%s: %d sheets; want one", on.name, n)
		}
		for _, want := range []string{"F-101", "Insulated basement slab", "HOLD", "Level checked before any", "initials", "2 Nov 2026"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the checklist lacks %q: %s", on.name, want, text)
			}
		}
		for _, other := range []string{"R-value", "Revisions", "Used by"} {
			if strings.Contains(text, other) {
				t.Errorf("%s: the checklist prints %q", on.name, other)
			}
		}
	}
}
