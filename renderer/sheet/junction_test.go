package sheet

import (
	"bytes"
	"compress/gzip"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

// drawable is a junction laid out and traced.
type drawable struct {
	d       *detail.Detail
	s       *section.Section
	reports []continuity.Report
}

func (c *drawable) sheet() *JunctionSheet {
	return NewJunction(c.d, c.s, c.reports, units.Inch)
}

// laid reads a library and lays out every junction in it.
func laid(t testing.TB, dir string) []drawable {
	t.Helper()
	lib, err := detail.ReadFS(os.DirFS(dir))
	if err != nil {
		t.Fatal(err)
	}
	var list []drawable
	for _, d := range lib.Details {
		if d.Junction == nil {
			continue
		}
		s, findings := section.Resolve(d.Junction, lib.Detail, section.Options{})
		if s == nil || findings.Errors() > 0 {
			t.Fatalf("%s: %v", d.File, findings.Items)
		}
		reports, _ := continuity.Check(s, continuity.Options{})
		list = append(list, drawable{d, s, reports})
	}
	if len(list) == 0 {
		t.Fatalf("%s holds no junction", dir)
	}
	return list
}

// both are the sections kept to draw, and the demonstration library's.
func both(t testing.TB) []drawable {
	return append(laid(t, "testdata/library"), laid(t, "../../details")...)
}

func written(t testing.TB, d *drawing.Drawing) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := svg.Write(&b, d, svg.Options{Prefix: "w"}); err != nil {
		t.Fatal(err)
	}
	return append(b.Bytes(), '\n')
}

// TestJunctionGolden holds each section kept to draw to the drawings looked
// at by eye, in all dresses.
func TestJunctionGolden(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range laid(t, "testdata/library") {
		sh := c.sheet()
		for _, dress := range []struct {
			name string
			look JunctionLook
		}{
			{"", JunctionLook{Look: Look{Dress: drawing.Wide, System: units.Inch, Linked: true, Listed: true}, Framed: true, Link: func(mark string) string { return "../" + mark + "/index.html" }}},
			{"-phone", JunctionLook{Look: Look{Dress: drawing.Phone, System: units.Inch, Linked: true, Listed: true}}},
			{"-thumb", JunctionLook{Look: Look{Dress: drawing.Thumb, System: units.Inch}}},
			{"-step", JunctionLook{Look: Look{Dress: drawing.StepPicture, System: units.Inch, After: 2}}},
		} {
			if dress.look.After > len(c.d.Sequence) {
				continue
			}
			name := strings.ToLower(c.d.Mark) + dress.name
			t.Run(name, func(t *testing.T) {
				got := written(t, sh.Draw(dress.look))
				golden := filepath.Join("testdata", "junction", name+".svg")
				seen[golden] = true
				if *update {
					if err := os.WriteFile(golden, got, 0o666); err != nil {
						t.Fatal(err)
					}
					return
				}
				want, err := os.ReadFile(golden)
				if err != nil {
					t.Fatal(err)
				}
				if !bytes.Equal(got, want) {
					t.Errorf("%s differs; look at it, then: go test ./renderer/sheet -update", golden)
				}
			})
		}
	}
	files, err := filepath.Glob("testdata/junction/*.svg")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !seen[f] {
			t.Errorf("%s belongs to no section", f)
		}
	}
}

// drawn lays a junction's wide sheet out as Draw does.
func (c *drawable) drawn(dress drawing.Dress) (*junction, []drawing.PlacedCallout) {
	sh := c.sheet()
	sh.name()
	j := sh.begin(JunctionLook{Look: Look{Dress: dress, System: units.Inch, Linked: true, Listed: true}})
	j.bare = dress == drawing.Phone
	j.arrange()
	placed, _ := j.callouts()
	return j, placed
}

// TestTrueToScale measures the paper: a millimetre on it is one of the
// section's, divided by the scale, in every window, and each dimension's
// ticks stand as far apart as its words say.
func TestTrueToScale(t *testing.T) {
	for _, c := range both(t) {
		j, _ := c.drawn(drawing.Wide)
		for i := range j.windows {
			w := &j.windows[i]
			if wide, want := w.on.Width(), float64(w.box.Width())/1000/j.scale; math.Abs(wide-want) > 1e-9 {
				t.Errorf("%s: a window %v mm wide is %v on paper at 1:%v", c.d.Mark, want*j.scale, wide, j.scale)
			}
			if high, want := w.on.Height(), float64(w.box.Height())/1000/j.scale; math.Abs(high-want) > 1e-9 {
				t.Errorf("%s: a window %v mm high is %v on paper at 1:%v", c.d.Mark, want*j.scale, high, j.scale)
			}
		}
		dims := 0
		for border, list := range j.strings {
			breaks := len(j.y.pieces) > 1
			if border == drawing.Above || border == drawing.Below {
				breaks = len(j.x.pieces) > 1
			}
			for _, s := range list {
				for i, text := range s.Texts {
					dims++
					real := units.Length((s.Stops[i+1] - s.Stops[i]) * j.scale / 1000)
					if want := drawing.DimensionText(real, units.Inch); text != want && !breaks {
						t.Errorf("%s: a dimension says %s and measures %s", c.d.Mark, text, want)
					}
				}
			}
		}
		if dims == 0 && c.d.Mark != "J-214" {
			t.Errorf("%s has no dimension", c.d.Mark)
		}
	}
}

// TestOutlinesOnce measures the outlines drawn of a section without a break:
// each line between two faces once, true in length, none left out.
func TestOutlinesOnce(t *testing.T) {
	checked := 0
	for _, c := range both(t) {
		if len(c.s.Breaks) > 0 {
			continue
		}
		j, _ := c.drawn(drawing.Wide)
		want := 0.0
		for i := range c.s.Outlines {
			o := &c.s.Outlines[i]
			if o.Left < 0 || o.Right < 0 {
				continue
			}
			a, b := &c.s.Faces[o.Left], &c.s.Faces[o.Right]
			if j.isRound(a) || j.isRound(b) || j.soft(a) && j.soft(b) && j.empty(a) == j.empty(b) || a.Part >= 0 && a.Part == b.Part && a.Layer == b.Layer && a.Material == b.Material {
				continue
			}
			for k := 1; k < len(o.Line); k++ {
				want += o.Line[k-1].Distance(o.Line[k]) / 1000 / j.scale
			}
		}
		j.outlines()
		got := 0.0
		root := j.draft.Root()
		for _, n := range root.Nodes {
			var from drawing.Point
			for _, s := range n.(*drawing.Path).Segs {
				if s.Op == drawing.LineTo {
					got += math.Hypot(s.P[0].X-from.X, s.P[0].Y-from.Y)
				}
				from = s.P[0]
			}
		}
		checked++
		if math.Abs(got-want) > 1e-6*want+1e-6 {
			t.Errorf("%s: outlines are %.4f mm long on paper, want %.4f", c.d.Mark, got, want)
		}
	}
	if checked < 5 {
		t.Errorf("%d sections without a break were measured", checked)
	}
}

// TestCalloutsApart holds every callout of every section, wide and narrow.
func TestCalloutsApart(t *testing.T) {
	for _, c := range both(t) {
		for _, dress := range []drawing.Dress{drawing.Wide, drawing.Phone} {
			j, placed := c.drawn(dress)
			name := fmt.Sprintf("%s, dress %d", c.d.Mark, dress)
			keys := map[int]bool{}
			for i := range placed {
				a := &placed[i]
				if keys[a.Key] {
					t.Errorf("%s: two callouts have the number %d", name, a.Key)
				}
				keys[a.Key] = true
				for k := i + 1; k < len(placed); k++ {
					b := &placed[k]
					if a.Box.Overlaps(b.Box) {
						t.Errorf("%s: callouts %d and %d overlap", name, a.Key, b.Key)
					}
					if crossing(a.Elbow, a.At, b.Elbow, b.At) {
						t.Errorf("%s: leaders %d and %d cross", name, a.Key, b.Key)
					}
				}
			}
			for i, m := range j.members {
				if m.key != i+1 {
					t.Errorf("%s: %s has the number %d at place %d", name, m.name, m.key, i+1)
				}
				if !keys[m.key] {
					t.Errorf("%s: %s has no callout", name, m.name)
				}
			}
		}
	}
}

// crossSide is the side of the line p→q that r lies on.
func crossSide(p, q, r drawing.Point) float64 {
	return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X)
}

// TestKeynotes names each part that shows once, in one order for all dresses.
func TestKeynotes(t *testing.T) {
	for _, c := range both(t) {
		names := map[string]bool{}
		for i, k := range c.sheet().Keynotes() {
			if k.Key != i+1 || k.Head == "" {
				t.Errorf("%s: keynote %d: %+v", c.d.Mark, i+1, k)
			}
			if names[k.Name] {
				t.Errorf("%s: %s is named twice", c.d.Mark, k.Name)
			}
			names[k.Name] = true
		}
		for i := range c.s.Faces {
			if f := &c.s.Faces[i]; f.Region >= 0 && f.Material != nil && !names[f.Name] {
				t.Errorf("%s: %s shows and is not named", c.d.Mark, f.Name)
			}
		}
		// What carries a control is named, so that chains can say its number.
		for _, r := range c.reports {
			for _, n := range r.Chain {
				if !names[n] {
					t.Errorf("%s: %s carries %s and has no keynote", c.d.Mark, n, r.Control)
				}
			}
		}
	}
}

// TestSize bounds what a drawing costs a page.
func TestSize(t *testing.T) {
	for _, c := range both(t) {
		got := written(t, c.sheet().Draw(JunctionLook{Look: Look{Dress: drawing.Wide, System: units.Inch, Linked: true, Listed: true}}))
		var packed bytes.Buffer
		z := gzip.NewWriter(&packed)
		if _, err := z.Write(got); err != nil {
			t.Fatal(err)
		}
		if err := z.Close(); err != nil {
			t.Fatal(err)
		}
		if len(got) > 120_000 || packed.Len() > 25_000 {
			t.Errorf("%s: %d bytes, %d compressed; want at most 120,000 and 25,000", c.d.Mark, len(got), packed.Len())
		}
	}
}

// TestSameTwice draws each section twice.
func TestSameTwice(t *testing.T) {
	a, b := laid(t, "testdata/library"), laid(t, "testdata/library")
	for i := range a {
		look := JunctionLook{Look: Look{Dress: drawing.Wide, System: units.Metric}}
		if !bytes.Equal(written(t, a[i].sheet().Draw(look)), written(t, b[i].sheet().Draw(look))) {
			t.Errorf("%s differs from one run to the next", a[i].d.Mark)
		}
	}
}

// TestSteps holds pictures of steps: nothing vanishes from one to the next,
// and the last shows all that the drawing does.
func TestSteps(t *testing.T) {
	for _, c := range both(t) {
		var before []string
		for n := range c.d.Sequence {
			j := c.sheet().begin(JunctionLook{Look: Look{Dress: drawing.StepPicture, After: n + 1}})
			j.stand()
			var now []string
			for name, stands := range j.standing {
				if stands {
					now = append(now, name)
				}
			}
			for _, name := range before {
				if !slices.Contains(now, name) {
					t.Errorf("%s: %s stands after step %d and not after %d", c.d.Mark, name, n, n+1)
				}
			}
			before = now
		}
	}
}

// crossing reports whether the inner parts of two segments cross.
func crossing(a, b, c, d drawing.Point) bool {
	return crossSide(a, b, c)*crossSide(a, b, d) < -1e-12 && crossSide(c, d, a)*crossSide(c, d, b) < -1e-12
}

// TestBeyondIsHidden measures what stands behind the cut: dashed where something
// built is cut before it, whole over air, and all of it drawn.
func TestBeyondIsHidden(t *testing.T) {
	seen := 0
	for _, c := range both(t) {
		if len(c.s.Beyond) == 0 {
			continue
		}
		j, _ := c.drawn(drawing.Wide)
		want := 0.0
		for _, r := range c.s.Beyond {
			for k := range j.windows {
				for _, run := range j.windows[k].line(j.onPaper(&j.windows[k], append(slices.Clone(r.Ring), r.Ring[0]))) {
					want += pathLength(run)
				}
			}
		}
		j.beyond()
		root := j.draft.Root()
		got := 0.0
		for _, n := range root.Nodes[0].(*drawing.Group).Nodes {
			p := n.(*drawing.Path)
			var from drawing.Point
			for _, s := range p.Segs {
				if s.Op == drawing.LineTo {
					length := math.Hypot(s.P[0].X-from.X, s.P[0].Y-from.Y)
					got += length
					middle := drawing.Point{X: (s.P[0].X + from.X) / 2, Y: (s.P[0].Y + from.Y) / 2}
					// Along an edge between what is built and air, either will do.
					up, down := j.built(drawing.Point{X: middle.X + 0.05, Y: middle.Y + 0.05}), j.built(drawing.Point{X: middle.X - 0.05, Y: middle.Y - 0.05})
					if hidden := p.Stroke.Dash != nil; length > 3 && up == down && hidden != up {
						t.Errorf("%s: a line at %v is dashed: %t", c.d.Mark, middle, hidden)
					}
					seen++
				}
				from = s.P[0]
			}
		}
		if math.Abs(got-want) > 1e-6*want {
			t.Errorf("%s: %.3f mm of what lies beyond are drawn, of %.3f", c.d.Mark, got, want)
		}
	}
	if seen == 0 {
		t.Error("nothing lies beyond")
	}
}
