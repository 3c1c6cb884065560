package binder

import (
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"wythe/renderer/drawing"
)

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
			for n := range r.Intn(3) {
				width, height := 8*(80+r.Float64()*200), 8*(40+r.Float64()*200)
				s.Pictures = append(s.Pictures, Picture{Title: phrase(r, 9), Says: phrase(r, 30), Draw: func(scale float64) *drawing.Drawing {
					return growing(float64(4+4*n), width, height, 0)(scale, false)
				}})
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
		{"the body alone does not", 150, 10 * 240, 12, false},
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

// TestEmptyPiecesAreLeftOut: a piece on which nothing stands takes no sheet;
// match lines number the sheets that are; each piece bears the stamp.
func TestEmptyPiecesAreLeftOut(t *testing.T) {
	angle := func(float64, bool) *drawing.Drawing {
		d := drawing.NewDraft()
		pen := drawing.Stroke{Pen: drawing.PenTick, Ink: drawing.InkLine}
		d.Line(drawing.Tag{}, pen, drawing.Point{X: 2, Y: 0}, drawing.Point{X: 2, Y: 700})
		d.Line(drawing.Tag{}, pen, drawing.Point{X: 2, Y: 698}, drawing.Point{X: 700, Y: 698})
		d.NotForConstruction(drawing.Point{X: 350, Y: 350}, 500, 400)
		return &drawing.Drawing{Width: 700, Height: 700, Scale: 8, Root: d.Root()}
	}
	w := testBinder("Letter").setOut(&Sheet{Entry: Entry{Mark: "J-201"}, Draw: angle})
	pieces := 0
	for _, l := range w.leaves {
		if len(l.placed) == 0 || l.placed[0].window == nil {
			continue
		}
		pieces++
		if l.stamp == nil {
			t.Errorf("piece %d bears no stamp", pieces)
		}
	}
	if pieces != 7 { // five down, of which the last is one of three across
		t.Errorf("%d pieces", pieces)
	}
}

// TestPicturesKeepTheirScaleAndPlace: under the drawing where there is room, else
// at the head of the next sheets, each whole and at a scale that fits; a bookmark
// names each.
func TestPicturesKeepTheirScaleAndPlace(t *testing.T) {
	picture := func(own, width, height float64) Picture {
		return Picture{Title: fmt.Sprintf("Picture of %g", width), Says: "What its lines are.", Draw: func(scale float64) *drawing.Drawing {
			return growing(own, width, height, 0)(scale, false)
		}}
	}
	for _, c := range []struct {
		what     string
		paper    string
		pictures []Picture
		scales   []float64
		sheets   []int // on which each stands, from 0
		leaves   int
	}{
		{"room below", "Arch D", []Picture{picture(8, 8*130, 8*150), picture(4, 4*92, 4*80)}, []float64{8, 4}, []int{0, 0}, 1},
		{"room on the next", "Tabloid", []Picture{picture(8, 8*150, 8*180), picture(4, 4*92, 4*80)}, []float64{8, 4}, []int{1, 0}, 2},
		{"room for one on each", "Letter", []Picture{picture(8, 8*200, 8*100), picture(4, 4*92, 4*90)}, []float64{8, 4}, []int{1, 2}, 3},
		{"too large", "Letter", []Picture{picture(8, 8*300, 8*100)}, []float64{12}, []int{1}, 2},
		{"far too large", "Letter", []Picture{picture(8, 96*200, 96*100)}, []float64{96}, []int{1}, 2},
	} {
		b := testBinder(c.paper)
		w := b.setOut(&Sheet{Entry: Entry{Mark: "J-201"}, Issued: true, Draw: growing(8, 8*258, 8*150, 0), Pictures: c.pictures})
		if len(w.leaves) != c.leaves {
			t.Errorf("%s: %d sheets; want %d", c.what, len(w.leaves), c.leaves)
		}
		k := 0
		for sheet, l := range w.leaves {
			titles := 0
			for i, p := range l.placed {
				if sheet == 0 && i == 0 {
					continue // the drawing itself
				}
				at := slices.Index(c.scales, p.d.Scale)
				if at < 0 || sheet != c.sheets[at] || p.window != nil {
					t.Fatalf("%s: a picture at 1:%g on sheet %d, in a window %v", c.what, p.d.Scale, sheet, p.window != nil)
				}
				if l.titles[titles] != c.pictures[at].Title {
					t.Errorf("%s: bookmark %q", c.what, l.titles[titles])
				}
				titles++
				k++
			}
		}
		for sheet, l := range w.leaves {
			want := map[float64]string{4: `3″ = 1′-0″`, 8: `1 1/2″ = 1′-0″`, 12: `1″ = 1′-0″`, 96: `1/8″ = 1′-0″`}[w.leaves[sheet].placed[0].d.Scale]
			for _, p := range l.placed {
				if p.d.Scale != l.placed[0].d.Scale {
					want = "As noted"
				}
			}
			if got := w.scaleValues(l)[0].text; got != want {
				t.Errorf("%s: the title block of sheet %d says %q, want %q", c.what, sheet, got, want)
			}
		}
		if k != len(c.pictures) {
			t.Errorf("%s: %d pictures of %d", c.what, k, len(c.pictures))
		}
	}
}

// TestAPictureThatNoScaleFitsIsSplit at its own.
func TestAPictureThatNoScaleFitsIsSplit(t *testing.T) {
	b := testBinder("Letter")
	w := b.setOut(&Sheet{Entry: Entry{Mark: "J-201"}, Issued: true, Draw: growing(8, 8*258, 8*150, 0), Pictures: []Picture{{Title: "Wide", Draw: func(float64) *drawing.Drawing { return box(500, 100, 4) }}}})
	if len(w.leaves) != 4 || w.leaves[1].placed[0].window == nil || w.leaves[3].titles[0] != "Wide" {
		t.Errorf("%d sheets", len(w.leaves))
	}
}
