package site

import (
	"image"
	"math"
	"strings"
	"testing"

	"wythe/renderer/drawing"
	"wythe/renderer/drawing/pdf/pdftest"
)

// longestRun is the longest level dark line in a box of a page, mm.
func longestRun(img *image.Gray, x0, y0, x1, y1 float64) (longest float64) {
	for y := int(y0 * pdftest.MM); y < int(y1*pdftest.MM); y++ {
		run := 0
		for x := int(x0 * pdftest.MM); x < int(x1*pdftest.MM); x++ {
			if img.GrayAt(x, y).Y >= 128 {
				run = 0
			} else if run++; float64(run)/pdftest.MM > longest {
				longest = float64(run) / pdftest.MM
			}
		}
	}
	return longest
}

// bands are the middles of the dark bands met from a place on: along a line of
// the page, each dark over so far to both sides of it, mm.
func bands(img *image.Gray, from, to, at, half float64, upright bool) (middles []float64) {
	dark := func(along float64) bool {
		for off := -half; off <= half; off += 0.2 {
			x, y := at+off, along
			if upright {
				x, y = along, at+off
			}
			if img.GrayAt(int(x*pdftest.MM), int(y*pdftest.MM)).Y >= 128 {
				return false
			}
		}
		return true
	}
	begun := -1.0
	for v := from; v < to; v += 1 / pdftest.MM {
		switch on := dark(v); {
		case on && begun < 0:
			begun = v
		case !on && begun >= 0:
			middles = append(middles, (begun+v)/2)
			begun = -1
		}
	}
	return middles
}

// bandsApart reports whether two bands stand so far from one another, within 0.2 mm.
func bandsApart(middles []float64, want float64) bool {
	for i, a := range middles {
		for _, b := range middles[i+1:] {
			if math.Abs(b-a-want) <= 0.2 {
				return true
			}
		}
	}
	return false
}

// TestPicturesOnBoundSheets reads and measures what J-202's page shows beside its
// drawing: its temperatures at 1:8, its most crowded corner at 1:4.
//
// Published: the foot of a bar is 38.1 mm at 1:8, 6 in at 1:4 as much; the slab
// is 6 in thick, 19.05 mm at 1:8; the edge foam 5 in, 31.75 mm at 1:4, all
// exactly. Tolerance: 0.2 mm.
func TestPicturesOnBoundSheets(t *testing.T) {
	lib := withSite(t, "Tabloid")
	file, result := bindFile(t, lib, BindOptions{Marks: []string{"J-202", "W-104"}})
	pages := strings.Split(pdftest.Text(t, file, 0), "\f")
	page := 0
	for k, text := range pages {
		if strings.Contains(text, "Temperatures on the design day") && strings.Contains(text, "SCALE 1:8") {
			page = k + 1
			break
		}
	}
	if page != 3 {
		t.Fatalf("the temperatures stand on page %d of %d", page, result.Pages)
	}
	text := strings.Join(strings.Fields(pages[page-1]), " ")
	for _, want := range []string{"64.4 °F", "dew point 51.1 °F", "Heavy dashes: dew point of the rooms", "Where most comes together", "SCALE 1:4", "Sheet 2 of 2", "J-202", "Workshop slab edge", "OUTSIDE"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet lacks %q:\n%s", want, pages[page-1])
		}
	}
	if !strings.Contains(strings.Join(strings.Fields(pages[0]), " "), "W-104 Steel-stud workshop wall Issued C 25 Nov 2026 1:8 4") {
		t.Errorf("the index does not lead past the pictures:\n%s", pages[0])
	}
	xml := pdftest.Run(t, "pdftohtml", "-xml", "-i", "-stdout", file)
	if !strings.Contains(xml, `<item page="3">Temperatures on the design day</item>`) {
		t.Error("no bookmark of the temperatures")
	}

	img := pdftest.Raster(t, file, page, pdftest.DPI)
	pictures := lib.sheetOf(lib.byMark["J-202"], nil).Pictures
	heat, near := pictures[0].Draw(0), pictures[1].Draw(0)
	const edge = 8 + 2.5                                                                                                      // of the frame, and of what stands in it
	places := [2]drawing.Point{{X: edge, Y: edge + 6.6 + 2*3.6 + 1.3}, {X: edge + heat.Width + 7, Y: edge + 6.6 + 3.6 + 1.3}} // below title and words
	for k, d := range [2]*drawing.Drawing{heat, near} {
		at := &places[k]
		at.X += d.Root.Shift.X
		at.Y += d.Root.Shift.Y
		bar := find(&d.Root, "scale")
		got := longestRun(img, at.X+bar.Min.X-3, at.Y+bar.Min.Y, at.X+bar.Max.X+3, at.Y+bar.Max.Y) - float64(drawing.PenDimension)
		if math.Abs(got-38.1) > 0.2 {
			t.Errorf("the bar of picture %d is %.2f mm long; want 38.1", k, got)
		}
	}
	outline := find(&heat.Root, "outline")
	slab := places[0].X + outline.Max.X - 14
	if level := bands(img, places[0].Y, places[0].Y+outline.Max.Y, slab, 7, false); !bandsApart(level, 19.05) {
		t.Errorf("no two level lines of the slab are 19.05 mm apart: %.2f", level)
	}
	found := false
	for y := 10.0; y < 50 && !found; y++ {
		upright := bands(img, places[1].X, places[1].X+near.Width, places[1].Y+y, 1.5, true)
		found = bandsApart(upright, 31.75)
	}
	if !found {
		t.Error("no two upright lines of the corner are 31.75 mm apart")
	}
	if n, bare := pdftest.Fonts(t, file); n == 0 || len(bare) > 0 {
		t.Errorf("%d fonts; not embedded: %v", n, bare)
	}
}
