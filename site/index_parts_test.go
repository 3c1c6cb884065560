package site

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"wythe/renderer/detail"
	"wythe/site/page"
	"wythe/themes"
)

// TestIndexInParts: a library of 300 has its index on one page; with one more
// each detail stands once in parts of 200 at most, of one element, in order.
func TestIndexInParts(t *testing.T) {
	entries := func(n int) []*entry {
		list := make([]*entry, n)
		for i := range list {
			d := &detail.Detail{Mark: fmt.Sprintf("D-%05d", i)}
			if i%3 > 0 { // of three, one is a junction
				d.Assembly = &detail.Assembly{Element: []detail.Element{"", detail.Wall, detail.Roof}[i%3]}
			}
			list[i] = &entry{d: d}
		}
		return list
	}
	if parts := newIndexParts(entries(onePageIndex)); parts != nil {
		t.Errorf("%d details stand in %d parts", onePageIndex, len(parts))
	}
	for _, n := range []int{onePageIndex + 1, 1000, 10_000} {
		list := entries(n)
		seen := make([]int, n)
		hrefs := map[string]bool{}
		for _, p := range newIndexParts(list) {
			if len(p.of) != p.Count || p.Count > partRows || p.Count == 0 {
				t.Errorf("%d details: %s has %d rows", n, p.Href, len(p.of))
			}
			if hrefs[p.Href] {
				t.Errorf("%d details: two parts at %s", n, p.Href)
			}
			hrefs[p.Href] = true
			if want := list[p.of[0]].d.Mark + " to " + list[p.of[len(p.of)-1]].d.Mark; p.Text != want {
				t.Errorf("%s is called %q; want %q", p.Href, p.Text, want)
			}
			for k, i := range p.of {
				seen[i]++
				if elementOf(list[i]) != p.Element || k > 0 && p.of[k-1] >= i {
					t.Errorf("%s: detail %d is of another element or out of order", p.Href, i)
				}
			}
		}
		for i, times := range seen {
			if times != 1 {
				t.Fatalf("%d details: %d stands %d times", n, i, times)
			}
		}
	}
}

// TestIndexStaysLight holds the pages of the index of 10,000 details to a
// weight; a full part is about as heavy at any size of library.
func TestIndexStaysLight(t *testing.T) {
	parts := newIndexParts(func() []*entry {
		list := make([]*entry, 10_000)
		for i := range list {
			element := []detail.Element{detail.FloorOnGround, detail.Wall, detail.Roof}[i%3]
			list[i] = &entry{d: &detail.Detail{Mark: generatedMark(i), Assembly: &detail.Assembly{Element: element}}}
		}
		return list
	}())
	front, part := &page.Index{}, &page.Index{}
	for i, p := range parts {
		front.Parts = append(front.Parts, p.IndexPart)
		p.Here = i == 1
		part.Parts = append(part.Parts, p.IndexPart)
	}
	for i := range partRows {
		part.Rows = append(part.Rows, page.IndexRow{
			Mark: generatedMark(3 * i), Title: "Slab on stone, heated, for boats and trailers", Href: generatedMark(3*i) + "/index.html", Element: detail.FloorOnGround,
			MakeUp:    "Concrete 5, vapor retarder film 15 mil, XPS type IV 2 × 3, washed stone 8 in",
			ThumbFile: generatedMark(3*i) + "/thumb.svg", ThumbWidth: 28, ThumbHeight: 18,
			Controls: []detail.Control{detail.AirTight, detail.VaporTight, detail.Thermal}, Trades: []string{"earthwork", "insulation", "concrete"},
			Figure: page.Pair{Main: "R 32.9", Small: "RSI 5.80"}, Status: detail.Issued, Rev: "C", Date: "2 Nov 2026", Version: "0123456789abcdef",
		})
	}
	theme, err := themes.Open(nil)
	if err != nil {
		t.Fatal(err)
	}
	assets, err := theme.Bundle()
	if err != nil {
		t.Fatal(err)
	}
	with := &press{theme: theme, assets: assets, site: &page.Site{Firm: "Oriel & Strand Architects", Title: "Envelope details", Assets: assets}}
	for name, c := range map[string]struct {
		p    *page.Index
		most int // bytes, compressed
	}{"first page": {front, 4 << 10}, "a part": {part, 32 << 10}} {
		data, err := rendered(c.p, with)
		if err != nil {
			t.Fatal(err)
		}
		size := zippedSize(t, data)
		t.Logf("%s of the index of 10,000: %d KB, %.1f KB compressed", name, len(data)>>10, float64(size)/1024)
		if size > c.most {
			t.Errorf("%s of the index is %d bytes compressed; want at most %d", name, size, c.most)
		}
		if name == "first page" && bytes.Contains(data, []byte("<table")) {
			t.Error("the first page has rows of its own")
		}
		if name == "a part" && strings.Count(string(data), `<tr class="d `) != partRows {
			t.Errorf("the part has %d rows", strings.Count(string(data), `<tr class="d `))
		}
	}
}

// TestIndexInPartsPublishedAgain holds a site whose index stands in parts to a
// cold publish after random edits: new details shift all parts behind them.
func TestIndexInPartsPublishedAgain(t *testing.T) {
	one, rows := onePageIndex, partRows
	onePageIndex, partRows = 8, 3
	defer func() { onePageIndex, partRows = one, rows }()
	editedAtRandom(t, demoCopy(t), 23, 6)
}
