package binder

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"math/rand"
	"os"
	"strings"
	"testing"
	"time"

	"gopkg.in/yaml.v3"

	"wythe/renderer/drawing"
	"wythe/renderer/drawing/pdf/pdftest"
	"wythe/renderer/units"
)

// TestPapers holds each size to the published tables.
//
// Published: testdata/published/paper.yaml. Tolerance: none.
func TestPapers(t *testing.T) {
	data, err := os.ReadFile("../../testdata/published/paper.yaml")
	if err != nil {
		t.Fatal(err)
	}
	type table struct{ Sizes map[string][2]float64 }
	var file struct {
		ISO table `yaml:"iso_mm"`
		US  table `yaml:"us_in"`
	}
	if err := yaml.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	published := map[string]string{"Letter": "ANSI A", "Tabloid": "ANSI B"}
	for _, p := range Papers {
		name := cmp.Or(published[p.Name], p.Name)
		size, unit := file.ISO.Sizes[name], 1.0
		if us, ok := file.US.Sizes[name]; ok {
			size, unit = us, 25.4
		}
		if size[0] == 0 || math.Abs(p.Width-size[1]*unit) > 1e-9 || math.Abs(p.Height-size[0]*unit) > 1e-9 {
			t.Errorf("%s is %g × %g mm; published %v × %g mm", p.Name, p.Width, p.Height, size, unit)
		}
		if got, ok := PaperOf(strings.ToLower(p.Name)); !ok || got != p {
			t.Errorf("PaperOf(%q) = %v", strings.ToLower(p.Name), got)
		}
	}
}

// box draws a rectangle of a size, so that what is drawn is known.
func box(width, height, scale float64) *drawing.Drawing {
	p := (&drawing.Path{Stroke: drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkLine}, Fill: drawing.InkPaper}).Rect(0.25, 0.25, width-0.25, height-0.25)
	return &drawing.Drawing{Width: width, Height: height, Scale: scale, Root: drawing.Group{Nodes: []drawing.Node{p}}}
}

// growing is a drawing of width × height mm at 1:1, with words beside it that
// do not shrink.
func growing(own, width, height, words float64) func(float64, bool) *drawing.Drawing {
	return func(scale float64, _ bool) *drawing.Drawing {
		if scale == 0 {
			scale = own
		}
		return box(width/scale+words, height/scale, scale)
	}
}

func testBinder(paper string, entries ...Entry) *binder {
	p, ok := PaperOf(paper)
	if !ok {
		panic(paper)
	}
	return newBinder(Set{Paper: p, System: units.Inch, Firm: "Oriel & Strand Architects", Library: "Envelope details", Site: "https://details.example.org/"}, entries)
}

var words = strings.Fields("film lap 6 in and tape 3 1/2 in washed stone concrete R 32.6 Unbrokeninthissection,althoughthewordislong at a face, h·ft²·°F/Btu λ ≤ 2")

func phrase(r *rand.Rand, most int) string {
	var s []string
	for range r.Intn(most + 1) {
		s = append(s, words[r.Intn(len(words))])
	}
	return strings.Join(s, " ")
}

// blocks makes tables of every kind, some of them long.
func blocks(r *rand.Rand) []Block {
	list := []Block{{Title: "Layers, from inside", Note: "Small figures are SI", Columns: []Column{
		{Width: 5}, {Head: "Material", Share: 1}, {Head: "Thickness", Width: 21, End: true}, {Head: "R-value", Width: 14, End: true}, {Head: "Controls", Width: 15},
	}}, {Title: "Cautions", Columns: []Column{{Share: 1}}}, {Title: "Revisions", Columns: []Column{{Head: "Rev", Width: 9}, {Head: "Note", Share: 1}}}}
	for k := range list {
		b := &list[k]
		for range r.Intn(40) {
			row := Row{Total: r.Intn(9) == 0}
			for range b.Columns {
				row.Cells = append(row.Cells, Cell{Text: phrase(r, 12), Small: phrase(r, 3), Under: phrase(r, 14), Bold: r.Intn(2) == 0})
			}
			if k == 0 {
				row.Cells[0] = Cell{Key: r.Intn(120)}
				row.Cells[4] = Cell{Controls: "AVWT"[:r.Intn(5)]}
			}
			b.Rows = append(b.Rows, row)
		}
	}
	list[1].Rows = append(list[1].Rows, Row{Cells: []Cell{{Text: phrase(r, 900)}}}) // taller than a sheet
	return list
}

// leafNodes calls do with everything that a sheet draws and its box on paper.
func leafNodes(l *leaf, p Paper, do func(n drawing.Node, b drawing.Box, window *drawing.Box)) {
	var walk func(n drawing.Node, at drawing.Point, window *drawing.Box)
	walk = func(n drawing.Node, at drawing.Point, window *drawing.Box) {
		g, ok := n.(*drawing.Group)
		if !ok {
			b := drawing.Bounds(n)
			if !b.Empty() {
				var moved drawing.Box
				moved.Add(b.Min.X+at.X, b.Min.Y+at.Y)
				moved.Add(b.Max.X+at.X, b.Max.Y+at.Y)
				do(n, moved, window)
			}
			return
		}
		at.X += g.Shift.X
		at.Y += g.Shift.Y
		if g.Clip != nil {
			w := drawing.Bounds(g.Clip)
			window = &w
		}
		for _, c := range g.Nodes {
			walk(c, at, window)
		}
	}
	for _, d := range l.drawings(p) {
		walk(&d.Root, drawing.Point{}, nil)
	}
}

func sample(n int) ([]Entry, func(int) *Sheet) {
	entries := make([]Entry, n)
	for i := range entries {
		entries[i] = Entry{Mark: fmt.Sprintf("F-%03d", 100+i), Title: "Insulated slab " + strings.Repeat("over stone ", i%4), Status: "Issued", Rev: "C", Date: "2 Nov 2026"}
	}
	return entries, func(i int) *Sheet {
		return &Sheet{Entry: entries[i], Issued: i%2 == 0, Code: "https://details.example.org/" + entries[i].Mark + "/rev/C/",
			Page: "https://details.example.org/" + entries[i].Mark + "/", Draw: growing(8, 8*258, 8*120, 0), Blocks: blocks(rand.New(rand.NewSource(int64(i % 5)))),
		}
	}
}

func bindSample(t testing.TB, n int) ([]byte, Result) {
	t.Helper()
	entries, sheet := sample(n)
	return bindSheets(t, entries, sheet)
}

func bindSheets(t testing.TB, entries []Entry, sheet func(int) *Sheet) ([]byte, Result) {
	t.Helper()
	p, _ := PaperOf("Tabloid")
	var out bytes.Buffer
	result, err := Bind(&out, Set{Paper: p, Firm: "Oriel & Strand Architects", Library: "Envelope details", Date: time.Date(2026, 11, 2, 0, 0, 0, 0, time.UTC)}, entries, sheet, nil)
	if err != nil {
		t.Fatal(err)
	}
	return out.Bytes(), result
}

// TestLaw4TheSameBytes.
func TestLaw4TheSameBytes(t *testing.T) {
	one, _ := bindSample(t, 5)
	two, _ := bindSample(t, 5)
	if !bytes.Equal(one, two) {
		t.Error("two bindings differ")
	}
}

// TestIndexSaysWhereSheetsAre on an index of several pages.
func TestIndexSaysWhereSheetsAre(t *testing.T) {
	const n = 150
	entries, sheet := sample(n)
	data, result := bindSheets(t, entries, func(i int) *Sheet {
		s := sheet(i)
		s.Blocks = nil
		return s
	})
	file := pdftest.Save(t, data)
	info := pdftest.Run(t, "pdfinfo", file)
	if !strings.Contains(info, fmt.Sprintf("Pages:           %d\n", result.Pages)) || !strings.Contains(info, "Page size:       1224 x 792 pts") {
		t.Errorf("%d pages; pdfinfo says\n%s", result.Pages, info)
	}
	pages := strings.Split(pdftest.Text(t, file, 0), "\f")
	index := strings.Join(strings.Fields(pages[0]+pages[1]), " ")
	if !strings.Contains(pages[1], "Sheet 2 of 2") {
		t.Fatalf("the index is not on two pages:\n%s", pages[1])
	}
	for _, i := range []int{0, 1, n - 1} {
		mark := fmt.Sprintf("F-%03d", 100+i)
		page := 0
		for k, text := range pages {
			if k > 1 && strings.Contains(text, mark) && strings.Contains(text, "Sheet 1 of") {
				page = k + 1
				break
			}
		}
		if page == 0 || !strings.Contains(index, fmt.Sprintf("1:8 %d ", page)) {
			t.Errorf("%s stands on page %d, which the index does not say", mark, page)
		}
	}
}

// TestIndexKeepsItsLength whatever the number of its lines.
func TestIndexKeepsItsLength(t *testing.T) {
	for n := range 140 {
		entries, _ := sample(n)
		b := testBinder("Letter", entries...)
		for i := range b.listed {
			b.listed[i] = listed{page: i + 2, scale: "1:192"}
		}
		if got := len(b.indexLeaves()); got != b.indexed || n > 100 && got < 2 {
			t.Fatalf("%d entries: %d pages kept, %d needed", n, b.indexed, got)
		}
	}
}

// TestCodeLeadsToThePage reads the code off the printed sheet.
func TestCodeLeadsToThePage(t *testing.T) {
	data, _ := bindSample(t, 1)
	if got, want := pdftest.Code(t, pdftest.Save(t, data), 2, 150), "https://details.example.org/F-100/rev/C/"; got != want {
		t.Errorf("the code says %q; want %q", got, want)
	}
}

// TestAnAddressThatIsNoCodeIsSaid, and its sheet is printed without.
func TestAnAddressThatIsNoCodeIsSaid(t *testing.T) {
	b := testBinder("Letter")
	w := b.setOut(&Sheet{Entry: Entry{Mark: "F-101"}, Code: "https://détails.example.org/"})
	if w.code != nil || len(b.result.Uncoded) != 1 {
		t.Errorf("code %v, result %v", w.code, b.result)
	}
}

// TestWorkIsProportionalToPages: four times the details cost four times the
// allocations, of fonts and of the document itself as little more.
func TestWorkIsProportionalToPages(t *testing.T) {
	few := testing.AllocsPerRun(1, func() { bindSample(t, 10) })
	many := testing.AllocsPerRun(1, func() { bindSample(t, 40) })
	if many > 4.4*few {
		t.Errorf("10 details: %.0f allocations; 40: %.0f", few, many)
	}
}

func BenchmarkBind100(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		bindSample(b, 100)
	}
}
