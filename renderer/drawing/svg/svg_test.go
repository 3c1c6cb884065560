package svg

import (
	"bytes"
	"encoding/xml"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"wythe/renderer/drawing"
	"wythe/themes/fonts"
)

var update = flag.Bool("update", false, "write the golden drawings")

// sample holds every kind of node, and signs that must be escaped.
func sample() *drawing.Drawing {
	ink := drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkLine}
	outline := &drawing.Path{Tag: drawing.Tag{Kind: "outline", Part: `slab "A" & <B>`, Key: 3, Step: 2}, Stroke: ink, Fill: drawing.InkPaper}
	outline.Rect(10, 10.0005, 50.8, 25.875)
	arc := &drawing.Path{Stroke: drawing.Stroke{Pen: drawing.PenSecondary, Ink: drawing.InkSecond, Dash: []float64{2.6, 1.1}, Round: true}}
	arc.Move(5, 30).Arc(4, true, false, drawing.Point{X: 9, Y: 34}).Curve(drawing.Point{X: 10, Y: 30}, drawing.Point{X: 12, Y: 30}, drawing.Point{X: 13, Y: 34})
	quads := &drawing.Path{Tag: drawing.Tag{Kind: "hatch"}, Stroke: drawing.Stroke{Pen: drawing.PenHatch, Ink: drawing.InkHatch}, Again: []drawing.Point{{X: 20}, {X: 40}}}
	quads.Move(1, 40)
	from := drawing.Point{X: 1, Y: 40}
	for _, q := range [][2]drawing.Point{{{X: 2, Y: 39}, {X: 3, Y: 40}}, {{X: 4, Y: 41}, {X: 5, Y: 40}}} {
		c, e := q[0], q[1]
		quads.Curve(drawing.Point{X: from.X + 2*(c.X-from.X)/3, Y: from.Y + 2*(c.Y-from.Y)/3},
			drawing.Point{X: e.X + 2*(c.X-e.X)/3, Y: e.Y + 2*(c.Y-e.Y)/3}, e)
		from = e
	}
	clip := new(drawing.Path)
	clip.Rect(0, 0, 30, 30)
	return &drawing.Drawing{
		Title: "Slab <on> foam", Desc: `Inside to "outside" & back`, Width: 92.5, Height: 60, Scale: 8,
		Root: drawing.Group{Nodes: []drawing.Node{
			outline, arc, quads,
			&drawing.Group{Tag: drawing.Tag{Kind: "callout", Part: "foam", ID: "foam"}, Clip: clip, Shift: drawing.Point{X: 1.5, Y: -2}, Nodes: []drawing.Node{
				&drawing.Circle{Tag: drawing.Tag{Part: "foam"}, Center: drawing.Point{X: 4, Y: 4}, R: 2.5, Stroke: drawing.Stroke{Pen: drawing.PenSecondary, Ink: drawing.InkLine}, Fill: drawing.InkPaper},
				&drawing.Text{At: drawing.Point{X: 4, Y: 5}, Size: 2.75, Weight: 600, Anchor: drawing.Middle, Text: "1", Ink: drawing.InkLine},
			}},
			&drawing.Text{At: drawing.Point{X: 30, Y: 50}, Size: 3.2, Face: drawing.Lettering, Weight: 600, Ink: drawing.InkLine, Tracking: 0.05, Text: "XPS <TYPE IV> & 2 1/2″ − 1/16″"},
			&drawing.Text{At: drawing.Point{X: 60, Y: 50}, Size: 3.2, Face: drawing.Reading, Weight: 400, Ink: drawing.InkMark, Turn: 90, Anchor: drawing.End, Casing: 1, Text: "69.4 °F"},
			&drawing.Use{ID: "foam", Shift: drawing.Point{X: 40}},
		}},
	}
}

func TestWriteGolden(t *testing.T) {
	for name, opt := range map[string]Options{
		"sample-inline":     {Prefix: "f-101"},
		"sample-standalone": {Dress: Standalone},
	} {
		got := Append(nil, sample(), opt)
		wellFormed(t, got)
		file := "testdata/" + name + ".svg"
		if *update {
			if err := os.WriteFile(file, got, 0o666); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s differs (%v); got:\n%s", file, err, got)
		}
	}
}

// wellFormed parses the file and checks that no attribute comes twice and
// every id is unique.
func wellFormed(t *testing.T, file []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(file))
	ids := map[string]bool{}
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Fatalf("not well formed: %v in\n%s", err, file)
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		seen := map[xml.Name]bool{}
		for _, a := range e.Attr {
			if seen[a.Name] {
				t.Errorf("<%s> has %s twice", e.Name.Local, a.Name.Local)
			}
			seen[a.Name] = true
			if a.Name.Local == "id" {
				if ids[a.Value] {
					t.Errorf("id %q comes twice", a.Value)
				}
				ids[a.Value] = true
			}
		}
	}
}

func TestInlineDress(t *testing.T) {
	got := string(Append(nil, sample(), Options{Prefix: "f-101"}))
	for _, ban := range []string{"style=", "<?xml", "<!--", "<style", "#14191c"} {
		if strings.Contains(got, ban) {
			t.Errorf("a page's drawing holds %s", ban)
		}
	}
	if !strings.HasPrefix(got, `<svg width="92.5mm" height="60mm" viewBox="0 0 92.5 60" `) {
		t.Errorf("not at true size: %.120s", got)
	}
}

// The style sheet names the fonts that text is measured in, and every class
// that a drawing uses.
func TestStyleSheet(t *testing.T) {
	for _, stack := range []string{fonts.LetteringStack, fonts.ReadingStack} {
		if !strings.Contains(CSS, "font-family:"+stack+"}") {
			t.Errorf("drawing.css does not name %s", stack)
		}
	}
	if strings.Contains(CSS, ".dwg .") {
		t.Error("a selector with an ancestor does not reach into a use: repeated hatches would vanish")
	}
	var want []string
	for _, p := range pens {
		want = append(want, fmt.Sprintf(".p%d{stroke-width:calc(%spx*var(--pen,1))}", p, appendNumber(nil, float64(p)/100)))
	}
	for _, ink := range inkNames[1:drawing.InkShade] {
		want = append(want, ".s-"+ink+"{stroke:var(--"+ink+")}", ".f-"+ink+"{fill:var(--"+ink+")}")
	}
	for k := 1; k < drawing.Shades; k++ {
		want = append(want, fmt.Sprintf(".f-h%d{fill:color-mix(in srgb,var(--warm) %d%%,var(--cold))}", k, (200*k+drawing.Shades)/(2*drawing.Shades)))
	}
	want = append(want, ".f-h0{fill:var(--cold)}", fmt.Sprintf(".f-h%d{fill:var(--warm)}", drawing.Shades))
	r, g, b := drawing.ShadeOnPaper(0)
	R, G, B := drawing.ShadeOnPaper(drawing.Shades)
	want = append(want, fmt.Sprintf("--cold:#%02x%02x%02x;--warm:#%02x%02x%02x;", r, g, b, R, G, B))
	for _, w := range want {
		if !strings.Contains(CSS, w) {
			t.Errorf("drawing.css lacks %s", w)
		}
	}
}

// A page's drawings hold each hatch once: those after the first use it.
func TestPageHoldsHatchOnce(t *testing.T) {
	page := new(Page)
	var both []byte
	var sizes []int
	for _, prefix := range []string{"wide", "step"} {
		from := len(both)
		both = Append(both, slab("F-101"), Options{Prefix: prefix, Page: page})
		sizes = append(sizes, len(both)-from)
	}
	if sizes[1] > sizes[0]/2 {
		t.Errorf("the second drawing is %d bytes, the first %d", sizes[1], sizes[0])
	}
	wellFormed(t, append(append([]byte("<body>"), both...), "</body>"...))
	ids, uses := map[string]bool{}, 0
	for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllSubmatch(both, -1) {
		ids[string(m[1])] = true
	}
	for _, m := range regexp.MustCompile(`xlink:href="#([^"]+)"`).FindAllSubmatch(both, -1) {
		uses++
		if !ids[string(m[1])] {
			t.Errorf("%s is used but stands nowhere", m[1])
		}
	}
	if uses < 5 {
		t.Errorf("%d uses", uses)
	}
	alone := Append(nil, slab("F-101"), Options{Prefix: "step", Page: new(Page)})
	if len(alone) < sizes[0]-200 {
		t.Error("a page of its own knows another's hatches")
	}
}

func TestBrokenDrawingPanics(t *testing.T) {
	for name, n := range map[string][]drawing.Node{
		"NaN":      {new(drawing.Path).Move(math.NaN(), 0)},
		"infinite": {new(drawing.Path).Move(0, 0).Line(math.Inf(1), 0)},
		"same id":  {&drawing.Group{Tag: drawing.Tag{ID: "a"}}, &drawing.Group{Tag: drawing.Tag{ID: "a"}}},
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("no panic")
				}
			}()
			Append(nil, &drawing.Drawing{Root: drawing.Group{Nodes: n}}, Options{})
		})
	}
}

// FuzzPathData draws random paths and reads them back: each point must land
// within half a unit of the last decimal.
func FuzzPathData(f *testing.F) {
	f.Add([]byte{0, 10, 20, 1, 30, 20, 1, 30, 40, 2, 1, 2, 3, 4, 5, 6, 4, 0, 250, 3, 1, 7, 7}, true)
	f.Add([]byte{0, 0, 0, 1, 0, 0, 4, 1, 1, 1}, false)
	f.Fuzz(func(t *testing.T, script []byte, fine bool) {
		p := randomPath(script)
		decimals, unit := 2, 100.0
		if fine {
			decimals, unit = 3, 1000
		}
		d := data(nil, p.Segs, decimals)
		got := readData(t, string(d))
		var want []drawing.Point
		for i := range p.Segs {
			s := &p.Segs[i]
			switch s.Op {
			case drawing.MoveTo, drawing.LineTo, drawing.ArcTo:
				want = append(want, s.P[0])
			case drawing.Dot:
				want = append(want, s.P[0], s.P[0])
			case drawing.CurveTo:
				want = append(want, s.P[:]...)
			}
		}
		if len(got) != len(want) {
			t.Fatalf("%d points read from %q, want %d", len(got), d, len(want))
		}
		for i := range got {
			if math.Abs(got[i].X-want[i].X) > 0.5/unit+1e-9 || math.Abs(got[i].Y-want[i].Y) > 0.5/unit+1e-9 {
				t.Errorf("point %d of %q is %v, want %v", i, d, got[i], want[i])
			}
		}
	})
}

func randomPath(script []byte) *drawing.Path {
	p := new(drawing.Path).Move(0, 0)
	at := func() (v float64) {
		if len(script) > 0 {
			v = float64(int8(script[0]))*0.3337 + float64(len(script))*0.01
			script = script[1:]
		}
		return v
	}
	pt := func() drawing.Point { return drawing.Point{X: at(), Y: at()} }
	for len(script) > 0 {
		op := script[0] % 6
		script = script[1:]
		switch op {
		case 0:
			q := pt()
			p.Move(q.X, q.Y)
		case 1:
			q := pt()
			p.Line(q.X, q.Y)
		case 2:
			p.Curve(pt(), pt(), pt())
		case 3:
			p.Arc(math.Abs(at()), at() > 0, at() > 0, pt())
		case 4:
			p.Shut()
		case 5:
			p.Segs = append(p.Segs, drawing.Seg{Op: drawing.Dot, P: [3]drawing.Point{pt()}})
		}
	}
	return p
}

// readData is the plain reader that judges the writer: it knows the grammar's
// relative commands, and gives a quadratic as the cubic that it is.
func readData(t *testing.T, d string) (pts []drawing.Point) {
	t.Helper()
	i := 0
	num := func() float64 {
		for i < len(d) && d[i] == ' ' {
			i++
		}
		j := i
		if j < len(d) && d[j] == '-' {
			j++
		}
		for dot := false; j < len(d) && (d[j] >= '0' && d[j] <= '9' || d[j] == '.' && !dot); j++ {
			dot = dot || d[j] == '.'
		}
		v, err := strconv.ParseFloat(d[i:j], 64)
		if err != nil {
			t.Fatalf("number at %d of %q: %v", i, d, err)
		}
		i = j
		return v
	}
	flagged := func() {
		for d[i] == ' ' {
			i++
		}
		if d[i] != '0' && d[i] != '1' {
			t.Fatalf("flag at %d of %q", i, d)
		}
		i++
	}
	var cur, start, control drawing.Point
	rel := func() drawing.Point { x := num(); return drawing.Point{X: cur.X + x, Y: cur.Y + num()} }
	var c byte
	for i < len(d) {
		if d[i] >= 'A' && d[i] != ' ' {
			c = d[i]
			i++
		} else if c == 'm' {
			c = 'l'
		}
		switch c {
		case 'M':
			cur = drawing.Point{X: num(), Y: num()}
			start = cur
			pts = append(pts, cur)
		case 'm':
			cur = rel()
			start = cur
			pts = append(pts, cur)
		case 'l':
			cur = rel()
			pts = append(pts, cur)
		case 'h':
			cur.X += num()
			pts = append(pts, cur)
		case 'v':
			cur.Y += num()
			pts = append(pts, cur)
		case 'c':
			a, b, e := rel(), rel(), rel()
			pts = append(pts, a, b, e)
			cur = e
		case 'q', 't':
			if c == 'q' {
				control = rel()
			} else {
				control = drawing.Point{X: 2*cur.X - control.X, Y: 2*cur.Y - control.Y}
			}
			e := rel()
			pts = append(pts, drawing.Point{X: cur.X + 2*(control.X-cur.X)/3, Y: cur.Y + 2*(control.Y-cur.Y)/3},
				drawing.Point{X: e.X + 2*(control.X-e.X)/3, Y: e.Y + 2*(control.Y-e.Y)/3}, e)
			cur = e
		case 'a':
			num()
			num()
			num()
			flagged()
			flagged()
			cur = rel()
			pts = append(pts, cur)
		case 'z':
			cur = start
		default:
			t.Fatalf("command %q at %d of %q", c, i, d)
		}
	}
	return pts
}

func TestAppendNumber(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{{0, "0"}, {-0.0004, "0"}, {0.5, ".5"}, {-0.25, "-.25"}, {12, "12"}, {12.3456, "12.346"}, {-100.0101, "-100.01"}} {
		if got := string(appendNumber(nil, c.v)); got != c.want {
			t.Errorf("appendNumber(%v) = %q, want %q", c.v, got, c.want)
		}
	}
}

func ExampleWrite() {
	d := &drawing.Drawing{Width: 10, Height: 5, Title: "A line"}
	d.Root.Nodes = append(d.Root.Nodes, &drawing.Path{
		Stroke: drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkLine},
		Segs:   new(drawing.Path).Move(1, 1).Line(9, 1).Segs,
	})
	fmt.Println(strings.TrimSpace(string(Append(nil, d, Options{Prefix: "a"}))))
	// Output:
	// <svg width="10mm" height="5mm" viewBox="0 0 10 5" class="dwg" role="img" aria-labelledby="a-t" xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"><title id="a-t">A line</title>
	// <path d="M1 1h8" class="s-ink p50"/>
	// </svg>
}
