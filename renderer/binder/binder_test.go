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
	p := (&drawing.Path{Stroke: drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkLine}}).Rect(0.25, 0.25, width-0.25, height-0.25)
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

// TestLaw1EverythingStandsInsideTheFrame, and no word on another.
func TestLaw1EverythingStandsInsideTheFrame(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for _, p := range Papers {
		for k := range 8 {
			e := Entry{Mark: "F-10" + fmt.Sprint(k), Title: phrase(r, 20), Status: "Superseded by F-102", Rev: "C", Date: "2 Nov 2026"}
			b := testBinder(p.Name, e)
			s := &Sheet{Entry: e, Issued: k%2 == 0, DrawnBy: phrase(r, 6), CheckedBy: phrase(r, 3), IssuedFor: phrase(r, 9), Blocks: blocks(r)}
			switch k % 4 {
			case 0:
				s.Draw = growing(8, 8*258, 8*r.Float64()*300, 0)
			case 1:
				s.Draw = growing(8, 8*500, 8*r.Float64()*900, 90)
			case 2:
				s.Draw = func(float64, bool) *drawing.Drawing { return box(300+r.Float64(), 2500, 8) }
			case 3:
				s.Why = "its section cannot be laid out"
			}
			if k%3 > 0 {
				s.Code = "https://details.example.org/" + strings.Repeat("details/", 6*k) + "F-101/rev/C/"
			}
			w := b.setOut(s)
			f := b.frame
			for i, l := range w.leaves {
				w.block(l.draft, i)
				var texts []drawing.Box
				var said []string
				leafNodes(l, p, func(n drawing.Node, box drawing.Box, window *drawing.Box) {
					if window != nil {
						box = *window
					}
					const tiny = 1e-6
					if box.Min.X < f.x-tiny || box.Min.Y < f.y-tiny || box.Max.X > f.x+f.width+tiny || box.Max.Y > f.y+f.height+tiny {
						t.Errorf("%s, case %d, sheet %d: %T %v stands outside the frame %v", p.Name, k, i+1, n, box, f)
					}
					if n, ok := n.(*drawing.Text); ok {
						for j := range texts {
							if box.Overlaps(texts[j]) {
								t.Errorf("%s, case %d, sheet %d: %q lies on %q", p.Name, k, i+1, n.Text, said[j])
							}
						}
						texts, said = append(texts, box), append(said, n.Text)
					}
				})
				if t.Failed() {
					return
				}
			}
		}
	}
}

// TestLaw3NoRowIsLost: every word of every table is on some sheet, in order.
func TestLaw3NoRowIsLost(t *testing.T) {
	for seed := range int64(15) {
		r := rand.New(rand.NewSource(seed))
		p := Papers[int(seed)%len(Papers)]
		b := testBinder(p.Name)
		s := &Sheet{Entry: Entry{Mark: "F-101"}, Issued: true, Blocks: blocks(r), Draw: growing(8, 8*258, 8*120, 0)}
		w := b.setOut(s)
		var drawn strings.Builder
		for _, l := range w.leaves {
			leafNodes(l, p, func(n drawing.Node, _ drawing.Box, _ *drawing.Box) {
				if n, ok := n.(*drawing.Text); ok {
					drawn.WriteString(n.Text)
				}
			})
		}
		count := map[rune]int{}
		for _, c := range drawn.String() {
			count[c]++
		}
		for i := range s.Blocks {
			for _, row := range s.Blocks[i].Rows {
				for _, c := range row.Cells {
					for _, sign := range c.Text + c.Small + c.Under + c.Controls {
						if sign != ' ' {
							count[sign]--
						}
					}
				}
			}
		}
		for sign, n := range count {
			if n < 0 {
				t.Errorf("seed %d, %s: %q is missing %d times", seed, p.Name, sign, -n)
			}
		}
	}
}

// TestLaw2Scales: the drawing has its own scale where that fits, else the
// largest standard one that does, which the sheet says; else it is split.
func TestLaw2Scales(t *testing.T) {
	field := testBinder("Tabloid").setOut(&Sheet{Issued: true}).field
	for _, c := range []struct {
		what                 string
		own                  float64
		width, height, words float64 // at 1:1
		scale                float64
		split                bool
	}{
		{"as it is", 8, 8 * 258, 8 * 200, 0, 8, false},
		{"just", 8, 8 * field.width, 8 * field.height, 0, 8, false},
		{"a hair too wide", 8, 8 * (field.width + 0.1), 8 * 100, 0, 12, false},
		{"a hair too tall", 8, 8 * 100, 8 * (field.height + 0.1), 0, 12, false},
		{"two steps", 8, 8 * 100, 13 * field.height, 0, 16, false},
		{"no room for the note", 8, 8 * 100, 12 * (field.height - 2), 0, 16, false},
		{"its own is none of the trade", 10, 10 * 100, 10 * field.height * 1.1, 0, 12, false},
		{"words alone are too wide", 8, 8, 8, field.width * 1.2, 8, true},
		{"far too large", 8, 8 * field.width * 5, 8 * 100, 0, 8, true},
	} {
		b := testBinder("Tabloid")
		w := b.setOut(&Sheet{Entry: Entry{Mark: "F-101"}, Issued: true, Draw: growing(c.own, c.width, c.height, c.words)})
		first := w.leaves[0].placed[0]
		if first.d.Scale != c.scale || (first.window != nil) != c.split {
			t.Errorf("%s: 1:%g, split %v; want 1:%g, %v", c.what, first.d.Scale, first.window != nil, c.scale, c.split)
		}
		stepped := first.d.Scale != c.own
		if stepped != (w.note != "") || stepped != (len(b.result.Stepped) == 1) || c.split != (len(b.result.Split) == 1) {
			t.Errorf("%s: said %q, %v", c.what, w.note, b.result)
		}
		if want := fmt.Sprintf("1:%g", c.scale); w.ratio != want {
			t.Errorf("%s: the title block says %s; want %s", c.what, w.ratio, want)
		}
	}
}

// TestKeyedBeforeSmaller: where words alone make a drawing too large, its
// callouts are keyed to the schedule, and it keeps its scale.
func TestKeyedBeforeSmaller(t *testing.T) {
	for _, c := range []struct {
		what        string
		words, body float64 // heights at 1:1
		scale       float64
		keyed       bool
	}{
		{"words fit", 150, 8 * 200, 8, false},
		{"words do not", 300, 8 * 200, 8, true},
		{"nor does the body", 300, 10 * 230, 12, true},
	} {
		var last bool
		b := testBinder("Tabloid")
		w := b.setOut(&Sheet{Entry: Entry{Mark: "J-213"}, Issued: true, Draw: func(scale float64, keyed bool) *drawing.Drawing {
			last = keyed
			if scale == 0 {
				scale = 8
			}
			h := c.body / scale
			if !keyed {
				h = max(h, c.words)
			}
			return box(258, h, scale)
		}})
		if got := w.leaves[0].placed[0].d; got.Scale != c.scale || last != c.keyed || (w.note != "") != (c.scale != 8) {
			t.Errorf("%s: 1:%g, keyed %v, said %q; want 1:%g, %v", c.what, got.Scale, last, w.note, c.scale, c.keyed)
		}
	}
}

// TestPiecesHoldTheWholeDrawing: every place of a split drawing is on some
// piece, at one shift for each, and each piece but the last reaches past its
// match line.
func TestPiecesHoldTheWholeDrawing(t *testing.T) {
	for _, size := range [][2]float64{{700, 100}, {100, 900}, {950, 700}} {
		b := testBinder("Letter")
		w := b.setOut(&Sheet{Entry: Entry{Mark: "F-101"}, Issued: true, Draw: func(float64, bool) *drawing.Drawing { return box(size[0], size[1], 8) }})
		for y := 0.0; y <= size[1]; y += 3 {
			for x := 0.0; x <= size[0]; x += 3 {
				held := false
				for _, l := range w.leaves {
					p := l.placed[0]
					px, py := p.at.X+x, p.at.Y+y
					held = held || px >= p.window.x && px <= p.window.x+p.window.width && py >= p.window.y && py <= p.window.y+p.window.height
				}
				if wide := x > 20 && x < size[0]-20 && y > 20 && y < size[1]-20; wide && held {
					// What is near a match line is whole on one piece or the other.
					held = false
					for _, l := range w.leaves {
						p := l.placed[0]
						px, py := p.at.X+x, p.at.Y+y
						held = held || px-11 >= p.window.x && px+11 <= p.window.x+p.window.width && py-11 >= p.window.y && py+11 <= p.window.y+p.window.height
					}
				}
				if !held {
					t.Fatalf("%v: %g, %g is on none of %d pieces", size, x, y, len(w.leaves))
				}
			}
		}
	}
}

func sample(n int) ([]Entry, func(int) *Sheet) {
	entries := make([]Entry, n)
	for i := range entries {
		entries[i] = Entry{Mark: fmt.Sprintf("F-%03d", 100+i), Title: "Insulated slab " + strings.Repeat("over stone ", i%4), Status: "Issued", Rev: "C", Date: "2 Nov 2026"}
	}
	return entries, func(i int) *Sheet {
		return &Sheet{Entry: entries[i], Issued: i%2 == 0, Code: "https://details.example.org/" + entries[i].Mark + "/rev/C/",
			Page: "https://details.example.org/" + entries[i].Mark + "/", Draw: growing(8, 8*258, 8*120, 0), Blocks: blocks(rand.New(rand.NewSource(int64(i)))),
		}
	}
}

func bindSample(t testing.TB, n int) ([]byte, Result) {
	t.Helper()
	p, _ := PaperOf("Tabloid")
	entries, sheet := sample(n)
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
	data, result := bindSample(t, n)
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
	few := testing.AllocsPerRun(1, func() { bindSample(t, 20) })
	many := testing.AllocsPerRun(1, func() { bindSample(t, 80) })
	if many > 4.4*few {
		t.Errorf("20 details: %.0f allocations; 80: %.0f", few, many)
	}
}

func BenchmarkBind100(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		bindSample(b, 100)
	}
}
