package pdf

import (
	"bytes"
	"image"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"wythe/renderer/drawing"
	"wythe/renderer/drawing/pdf/pdftest"
)

const width, height = 120.0, 90.0

var (
	ink  = drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkLine}
	text = drawing.Style{Face: drawing.Reading, Weight: 400, Size: 5, Ink: drawing.InkLine}
)

// bound prints one drawing on a page of its own, at a place.
func bound(t *testing.T, at drawing.Point, nodes ...drawing.Node) []byte {
	t.Helper()
	b := New(Info{Title: "Test", Date: time.Date(2026, 11, 2, 0, 0, 0, 0, time.UTC)})
	b.AddPage(width, height)
	b.Draw(&drawing.Drawing{Width: width, Height: height, Root: drawing.Group{Nodes: nodes}}, at)
	return written(t, b)
}

func written(t *testing.T, b *Book) []byte {
	t.Helper()
	var out bytes.Buffer
	n, err := b.WriteTo(&out)
	if err != nil || n != int64(out.Len()) {
		t.Fatalf("%d bytes of %d, %v", n, out.Len(), err)
	}
	return out.Bytes()
}

func rastered(t *testing.T, data []byte) *image.Gray {
	t.Helper()
	return pdftest.Raster(t, pdftest.Save(t, data), 1, pdftest.DPI)
}

// dark is the box of all that is darker than half, mm.
func dark(img *image.Gray) (x0, y0, x1, y1 float64) {
	x0, y0 = math.Inf(1), math.Inf(1)
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			if img.Pix[y*img.Stride+x] < 128 {
				x0, x1 = min(x0, float64(x)), max(x1, float64(x+1))
				y0, y1 = min(y0, float64(y)), max(y1, float64(y+1))
			}
		}
	}
	return x0 / pdftest.MM, y0 / pdftest.MM, x1 / pdftest.MM, y1 / pdftest.MM
}

// at is the grey at a place, mm: 0 black, 255 white.
func at(img *image.Gray, x, y float64) uint8 {
	return img.GrayAt(int(x*pdftest.MM), int(y*pdftest.MM)).Y
}

// TestAFootIsAFoot: twelve inches at 1:8 are 38.1 mm on paper, where they are
// said to be.
//
// Published: 1 ft = 304.8 mm exactly; 304.8 / 8 = 38.1. Tolerance: one dot of
// the raster on either side.
func TestAFootIsAFoot(t *testing.T) {
	const foot = 304.8 / 8
	img := rastered(t, bound(t, drawing.Point{X: 7, Y: 11}, (&drawing.Path{Fill: drawing.InkLine}).Rect(10, 20, 10+foot, 20+foot/2)))
	x0, y0, x1, y1 := dark(img)
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"left", x0, 17}, {"top", y0, 31}, {"width", x1 - x0, foot}, {"height", y1 - y0, foot / 2}} {
		if math.Abs(c.got-c.want) > 2/pdftest.MM {
			t.Errorf("%s %.2f mm; want %.2f", c.what, c.got, c.want)
		}
	}
}

// TestPrimitives draws each kind, and looks where ink must be and must not.
func TestPrimitives(t *testing.T) {
	mark := (&drawing.Path{Stroke: ink}).Move(0, 0).Line(2, 0)
	mark.Again = []drawing.Point{{X: 0, Y: 10}, {X: 20, Y: 10}}
	dots := &drawing.Path{Stroke: drawing.Stroke{Pen: 1, Ink: drawing.InkHatch, Round: true}, Segs: []drawing.Seg{
		{Op: drawing.Dot, P: [3]drawing.Point{{X: 4, Y: 30}}}, {Op: drawing.Dot, P: [3]drawing.Point{{X: 8, Y: 30}}},
	}}
	arc := (&drawing.Path{Stroke: ink}).Move(40, 40).Arc(10, false, true, drawing.Point{X: 60, Y: 40}) // over the top
	clipped := &drawing.Group{
		Clip: (&drawing.Path{}).Rect(0, 0, 5, 5), Shift: drawing.Point{X: 80, Y: 10},
		Nodes: []drawing.Node{(&drawing.Path{Fill: drawing.InkLine}).Rect(-3, -3, 20, 20)},
	}
	after := (&drawing.Path{Stroke: ink}).Move(100, 20).Line(110, 20) // outside the clip
	hole := (&drawing.Path{Fill: drawing.InkLine}).Rect(80, 60, 100, 80)
	hole.Move(85, 65).Line(85, 75).Line(95, 75).Line(95, 65).Shut()
	disc := &drawing.Circle{Stroke: ink, Fill: drawing.InkPaper, Center: drawing.Point{X: 20, Y: 60}, R: 6}
	under := (&drawing.Path{Fill: drawing.InkLine}).Rect(10, 50, 30, 70)
	named := &drawing.Group{Tag: drawing.Tag{ID: "a"}, Nodes: []drawing.Node{(&drawing.Path{Fill: drawing.InkLine}).Rect(0, 80, 3, 83)}}
	dashed := (&drawing.Path{Stroke: drawing.Stroke{Pen: 1, Ink: drawing.InkLine, Dash: []float64{4, 2}}}).Move(40, 85).Line(58, 85)
	img := rastered(t, bound(t, drawing.Point{X: 2, Y: 2}, mark, dots, arc, clipped, after, hole, under, disc, named,
		&drawing.Use{ID: "a", Shift: drawing.Point{X: 30}}, dashed))
	for _, c := range []struct {
		what  string
		x, y  float64
		inked bool
	}{
		{"the path itself", 1, 0, true}, {"again below", 1, 10, true}, {"again beside", 21, 10, true}, {"nowhere else", 11, 10, false},
		{"a dot", 4, 30, true}, {"half its pen away", 4.4, 30, true}, {"past its pen", 4.7, 30, false}, {"between dots", 6, 30, false}, {"the second dot", 8, 30, true},
		{"top of the arc", 50, 30, true}, {"its chord", 50, 40, false}, {"its quarter", 50 + 10*math.Sqrt2/2, 40 - 10*math.Sqrt2/2, true},
		{"inside the clip", 82, 12, true}, {"outside the clip", 87, 12, false}, {"above it", 82, 8, false}, {"after it", 105, 20, true},
		{"beside the hole", 82, 70, true}, {"in the hole", 90, 70, false},
		{"paper over ink", 20, 60, false}, {"the disc's line", 26, 60, true}, {"outside the disc", 28.5, 68.5, true},
		{"the group", 1, 81, true}, {"its use", 31, 81, true},
		{"a dash", 42, 85, true}, {"a gap", 45, 85, false}, {"the next dash", 48, 85, true},
	} {
		if got := at(img, c.x+2, c.y+2) < 128; got != c.inked {
			t.Errorf("%s, at %v, %v: inked %v; want %v", c.what, c.x, c.y, got, c.inked)
		}
	}
}

// TestSharedHatches: hatches that drawings share print as those that none
// does, drawn twice in one book, and are not changed by it.
func TestSharedHatches(t *testing.T) {
	region := drawing.Region{Outer: []drawing.Point{{X: 0, Y: 0}, {X: 50, Y: 0}, {X: 50, Y: 30}, {X: 0, Y: 30}}}
	hatch := func() []drawing.Node {
		return drawing.Hatch("rigid insulation", region, drawing.Hatching{Seed: "foam", Grain: 1})
	}
	b := New(Info{})
	for range 2 {
		b.AddPage(width, height)
		b.Draw(&drawing.Drawing{Root: drawing.Group{Nodes: hatch()}}, drawing.Point{X: 10, Y: 10})
	}
	file := pdftest.Save(t, written(t, b))
	one, two := pdftest.Raster(t, file, 1, 100), pdftest.Raster(t, file, 2, 100)
	if !bytes.Equal(one.Pix, two.Pix) {
		t.Error("the second page differs")
	}
	if x0, y0, x1, y1 := dark(pdftest.Raster(t, file, 1, pdftest.DPI)); x0 < 9.8 || y0 < 9.8 || x1 > 60.2 || y1 > 40.2 || x1-x0 < 45 {
		t.Errorf("the hatch stands from %.2f, %.2f to %.2f, %.2f; want 10, 10 to 60, 40", x0, y0, x1, y1)
	}
}

// TestTextIsAsMeasured holds printed words to the widths that layout relies
// on, in each face and cut, level and turned.
//
// Tolerance: one dot, and the sidebearings of the first and last letter,
// which are straight stems: under 0.1 of the size.
func TestTextIsAsMeasured(t *testing.T) {
	for _, c := range []drawing.Text{
		{Text: "HILLH HILLH", Face: drawing.Lettering, Weight: 600, Size: 5},
		{Text: "HILLH HILLH", Face: drawing.Reading, Weight: 400, Size: 5, Anchor: drawing.Middle},
		{Text: "HILL 3 1/2 H", Face: drawing.Reading, Weight: 500, Size: 5, Anchor: drawing.End},
		{Text: "HILLH", Face: drawing.Lettering, Weight: 700, Size: 5, Tracking: 1.5},
		{Text: "HILLH HILL", Face: drawing.Lettering, Weight: 500, Size: 5, Turn: 90},
	} {
		c.At, c.Ink = drawing.Point{X: 60, Y: 70}, drawing.InkLine
		x0, y0, x1, y1 := dark(rastered(t, bound(t, drawing.Point{}, &c)))
		box := drawing.Bounds(&c)
		from, to, low, high := box.Min.X, box.Max.X, x0, x1
		if c.Turn == 90 {
			from, to, low, high = box.Min.Y, box.Max.Y, y0, y1
		}
		to -= c.Tracking // after the last sign
		slack := 0.1*c.Size + 1/pdftest.MM
		if low < from-1/pdftest.MM || low > from+slack || high > to+1/pdftest.MM || high < to-slack {
			t.Errorf("%q, turned %v: printed from %.2f to %.2f; measured %.2f to %.2f", c.Text, c.Turn, low, high, from, to)
		}
	}
}

// TestTextIsFound: words are read back as they were given, fractions and
// signs of every face with them, and casings are no second text.
func TestTextIsFound(t *testing.T) {
	var nodes []drawing.Node
	words := []string{`3 1/2″ XPS, R 32.6`, `λ 0.036 W/mK ≤ 2 ✓`, `(brackets) and \ strokes`, `Water control: 10 mil`}
	for i, s := range words {
		nodes = append(nodes, &drawing.Text{Text: s, At: drawing.Point{X: 10, Y: 20 + 15*float64(i)}, Size: 4, Weight: 400, Face: drawing.Reading, Ink: drawing.InkLine, Casing: 1.5 * float64(i%2)})
	}
	file := pdftest.Save(t, bound(t, drawing.Point{}, nodes...))
	got := pdftest.Run(t, "pdftotext", "-raw", file, "-")
	for _, s := range words {
		if strings.Count(got, s) != 1 {
			t.Errorf("%q stands %d times in %q", s, strings.Count(got, s), got)
		}
	}
	if n, bare := pdftest.Fonts(t, file); n == 0 || len(bare) > 0 {
		t.Errorf("%d fonts; not embedded: %v", n, bare)
	}
}

// TestASignOfNoFace prints a sign past the basic plane without harm.
func TestASignOfNoFace(t *testing.T) {
	file := pdftest.Save(t, bound(t, drawing.Point{}, &drawing.Text{Text: "H😀H", At: drawing.Point{X: 10, Y: 20}, Size: 4, Ink: drawing.InkLine}))
	if got := pdftest.Text(t, file, 1); !strings.Contains(got, "H") {
		t.Errorf("text %q", got)
	}
}

// TestLinks leads from a bubble to another page, to an address, and from the
// outline to each page; pages come back to are drawn over.
func TestLinks(t *testing.T) {
	b := New(Info{Title: "Links"})
	b.AddPage(width, height)
	b.Bookmark(0, "Index ″")
	b.AddPage(200, 100)
	b.Anchor("F-101")
	b.Bookmark(0, "F-101")
	b.Bookmark(1, "Sheet 2")
	b.Resume(1)
	linked := func(href string, x float64) drawing.Node {
		return &drawing.Group{Tag: drawing.Tag{Href: href}, Nodes: []drawing.Node{(&drawing.Path{Fill: drawing.InkLine}).Rect(x, 10, x+20, 20)}}
	}
	b.Draw(&drawing.Drawing{Root: drawing.Group{Nodes: []drawing.Node{linked("#F-101", 10), linked("https://details.example.org/F-101/?a=(b)", 60)}}}, drawing.Point{})
	data := written(t, b)
	file := pdftest.Save(t, data)
	if got := pdftest.Run(t, "pdfinfo", "-url", file); !strings.Contains(got, "https://details.example.org/F-101/?a=(b)") {
		t.Errorf("addresses: %s", got)
	}
	xml := pdftest.Run(t, "pdftohtml", "-xml", "-i", "-stdout", file)
	for _, want := range []string{`<item page="1">Index ″</item>`, `<item page="2">F-101</item>`, `<item page="2">Sheet 2</item>`} {
		if !strings.Contains(xml, want) {
			t.Errorf("the outline lacks %s:\n%s", want, xml)
		}
	}
	// The box of the inner link, in points from the bottom left.
	m := regexp.MustCompile(`/Rect \[([0-9. ]+)\] /Border \[0 0 0\] /Dest \[5 0 R`).FindSubmatch(data)
	if m == nil {
		t.Fatal("no link leads to the second page")
	}
	want := []float64{10, height - 10, 30, height - 20}
	for i, f := range strings.Fields(string(m[1])) {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil || math.Abs(v-want[i]*72/25.4) > 0.02 {
			t.Errorf("the link's box is %s pt; want %v mm", m[1], want)
			break
		}
	}
	if x0, y0, x1, y1 := dark(pdftest.Raster(t, file, 1, pdftest.DPI)); math.Abs(x0-10)+math.Abs(y0-10)+math.Abs(x1-80)+math.Abs(y1-20) > 0.3 {
		t.Errorf("drawn on the page come back to from %.2f, %.2f to %.2f, %.2f", x0, y0, x1, y1)
	}
}

func TestALinkToNowherePanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("no panic")
		}
	}()
	b := New(Info{})
	b.AddPage(width, height)
	b.link(drawing.Bounds((&drawing.Path{}).Rect(0, 0, 1, 1)), "#nowhere")
	_, _ = b.WriteTo(&bytes.Buffer{})
}

func TestTheSameBytes(t *testing.T) {
	make := func() []byte {
		d := drawing.NewDraft()
		d.Letter(drawing.Tag{}, &text, drawing.Point{X: 5, Y: 50}, drawing.Start, "Concrete, 3 1/2″ ✓ λ")
		d.NotForConstruction(drawing.Point{X: 60, Y: 45}, 80, 40)
		root := d.Root()
		nodes := drawing.Hatch("washed stone", drawing.Region{Outer: []drawing.Point{{X: 0, Y: 0}, {X: 50, Y: 0}, {X: 50, Y: 30}, {X: 0, Y: 30}}}, drawing.Hatching{Seed: "a", Grain: 1})
		return bound(t, drawing.Point{}, append(nodes, &root)...)
	}
	if !bytes.Equal(make(), make()) {
		t.Error("two runs differ")
	}
}

// failing takes some bytes, then fails.
type failing struct{ left int }

func (f *failing) Write(p []byte) (int, error) {
	if f.left -= len(p); f.left < 0 {
		return 0, errFull
	}
	return len(p), nil
}

var errFull = &fullError{}

type fullError struct{}

func (*fullError) Error() string { return "full" }

func TestAFullDiskIsSaid(t *testing.T) {
	b := New(Info{})
	b.AddPage(width, height)
	if _, err := b.WriteTo(&failing{left: 10}); err == nil || !strings.Contains(err.Error(), "full") {
		t.Errorf("error %v", err)
	}
}
