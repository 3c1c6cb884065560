package drawing_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"wythe/renderer/drawing"
)

// eachGroup calls do for every group of a kind.
func eachGroup(n drawing.Node, kind string, do func(*drawing.Group)) {
	g, ok := n.(*drawing.Group)
	if !ok {
		return
	}
	if g.Tag.Kind == kind {
		do(g)
	}
	for _, c := range g.Nodes {
		eachGroup(c, kind, do)
	}
}

func texts(n drawing.Node, into []*drawing.Text) []*drawing.Text {
	switch n := n.(type) {
	case *drawing.Group:
		for _, c := range n.Nodes {
			into = texts(c, into)
		}
	case *drawing.Text:
		into = append(into, n)
	}
	return into
}

// levels returns the heights of the level lines in a group that run from cut
// to cut, top down, each once.
func levels(g *drawing.Group) []float64 {
	type line struct{ y, length float64 }
	var lines []line
	longest := 0.0
	for _, n := range g.Nodes {
		p, ok := n.(*drawing.Path)
		if !ok {
			continue
		}
		for i := 1; i < len(p.Segs); i++ {
			a, b := p.Segs[i-1].P[0], p.Segs[i].P[0]
			if p.Segs[i].Op == drawing.LineTo && a.Y == b.Y {
				lines = append(lines, line{a.Y, math.Abs(a.X - b.X)})
				longest = max(longest, lines[len(lines)-1].length)
			}
		}
	}
	var ys []float64
	for _, l := range lines {
		if l.length == longest {
			ys = append(ys, l.y)
		}
	}
	slices.Sort(ys)
	return slices.Compact(ys)
}

// placed is a callout as drawn.
type placed struct {
	key    int
	box    drawing.Box // of bubble and words
	leader []drawing.Point
	dot    *drawing.Circle
	words  string
}

func callouts(d *drawing.Drawing) []placed {
	var list []placed
	eachGroup(&d.Root, "callout", func(g *drawing.Group) {
		p := placed{key: g.Tag.Key}
		for _, n := range g.Nodes {
			switch n := n.(type) {
			case *drawing.Circle:
				if n.Fill == drawing.InkPaper {
					p.box.Join(drawing.Bounds(n))
				} else {
					p.dot = n
				}
			case *drawing.Text:
				p.box.Join(drawing.Bounds(n))
				p.words += n.Text + " "
			case *drawing.Path:
				if n.Stroke.Ink == drawing.InkLine {
					for _, s := range n.Segs {
						p.leader = append(p.leader, s.P[0])
					}
				}
			}
		}
		list = append(list, p)
	})
	return list
}

func crosses(a, b, c, d drawing.Point) bool {
	side := func(p, q, r drawing.Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// distance of p from the segment ab.
func distance(p, a, b drawing.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = max(0, min(1, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/l))
	}
	return math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy)
}

// entersBox reports whether the segment ab has a point inside box.
func entersBox(a, b drawing.Point, box drawing.Box) bool {
	lo, hi := 0.0, 1.0
	for _, c := range [...][4]float64{{a.X, b.X - a.X, box.Min.X, box.Max.X}, {a.Y, b.Y - a.Y, box.Min.Y, box.Max.Y}} {
		if math.Abs(c[1]) < 1e-12 {
			if c[0] <= c[2] || c[0] >= c[3] {
				return false
			}
			continue
		}
		t0, t1 := (c[2]-c[0])/c[1], (c[3]-c[0])/c[1]
		if t0 > t1 {
			t0, t1 = t1, t0
		}
		lo, hi = max(lo, t0), min(hi, t1)
	}
	return hi-lo > 1e-9
}

// measureCallouts holds drawn callouts to the rules of the house: boxes apart
// by least mm, leaders clear of each other, of boxes and of dots.
func measureCallouts(t *testing.T, list []placed, least float64) {
	t.Helper()
	for i, a := range list {
		if len(a.leader) < 2 || a.dot == nil {
			t.Fatalf("callout %d has no leader or no dot", a.key)
		}
		for j, b := range list {
			if i == j {
				continue
			}
			apart := a.box
			apart.Min.Y -= least
			apart.Max.Y += least
			if apart.Overlaps(b.box) {
				t.Errorf("callouts %d and %d are not %.1f mm apart: %v %v", a.key, b.key, least, a.box, b.box)
			}
			for k := 1; k < len(a.leader); k++ {
				p, q := a.leader[k-1], a.leader[k]
				if entersBox(p, q, b.box) {
					t.Errorf("the leader of callout %d runs through callout %d", a.key, b.key)
				}
				// Dots of layers thinner than a dot cannot all stand clear.
				apart := math.Abs(a.dot.Center.Y-b.dot.Center.Y) >= 0.9
				if d := distance(b.dot.Center, p, q) - b.dot.R; apart && d < 0.02 {
					t.Errorf("the leader of callout %d runs %.2f mm from the dot of callout %d", a.key, d, b.key)
				}
				for m := 1; j > i && m < len(b.leader); m++ {
					if crosses(p, q, b.leader[m-1], b.leader[m]) {
						t.Errorf("the leaders of callouts %d and %d cross", a.key, b.key)
					}
				}
			}
		}
	}
}

// measureStack holds a drawing to its stack: everything on its paper, every
// layer as thick as Thickness × Courses / Scale, every film in its place,
// every layer called out, no text over another.
func measureStack(t *testing.T, s *drawing.Stack, d *drawing.Drawing) {
	t.Helper()
	b := drawing.Bounds(&d.Root)
	if b.Min.X < -0.01 || b.Min.Y < -0.01 || b.Max.X > d.Width+0.01 || b.Max.Y > d.Height+0.01 {
		t.Errorf("drawn outside its paper: %.2f,%.2f to %.2f,%.2f on %.2f × %.2f", b.Min.X, b.Min.Y, b.Max.X, b.Max.Y, d.Width, d.Height)
	}
	measureLayers(t, s, d)
	if s.Dress != drawing.Wide && s.Dress != drawing.Phone {
		if n := texts(&d.Root, nil); len(n) > 0 {
			t.Errorf("%d texts in a picture without words", len(n))
		}
		return
	}
	list := callouts(d)
	keys := map[int]int{}
	bare := true
	for _, c := range list {
		keys[c.key]++
		bare = bare && !strings.ContainsAny(c.words, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
	}
	want := len(s.Layers)
	if s.Beyond != nil {
		want++
	}
	if len(list) != want || len(keys) != want {
		t.Errorf("%d callouts with %d numbers for %d layers", len(list), len(keys), want)
	}
	least := 2.0 // the boxes' own margins about bubble and words are less than the 2.4 between boxes
	if bare {
		least = 0.25
	}
	measureCallouts(t, list, least)
	if s.Dress == drawing.Wide {
		all := ""
		for _, x := range texts(&d.Root, nil) {
			all += x.Text + " "
		}
		for i := range s.Layers {
			for _, w := range strings.Fields(strings.ToUpper(s.Layers[i].Head)) {
				if !strings.Contains(all, w) {
					t.Errorf("the words of layer %d are nowhere in the drawing", i+1)
				}
			}
		}
	}
	measureTexts(t, d)
}

// stepReaches says whether the bottom layer stands in a picture of a step:
// layers are measured from there.
func stepReaches(s *drawing.Stack) bool {
	k := 0
	if s.InsideTop {
		k = len(s.Layers) - 1
	}
	return s.Layers[k].Step <= s.After
}

func measureLayers(t *testing.T, s *drawing.Stack, d *drawing.Drawing) {
	t.Helper()
	var lines []float64
	eachGroup(&d.Root, "outline", func(g *drawing.Group) { lines = levels(g) })
	if len(lines) == 0 {
		t.Fatal("no outlines")
	}
	if s.Dress == drawing.StepPicture && !stepReaches(s) {
		return // what stands is measured in later steps
	}
	// Measured from the side that stands whatever the step: the bottom.
	order := make([]drawing.StackLayer, len(s.Layers))
	for i, l := range s.Layers {
		if s.InsideTop {
			i = len(s.Layers) - 1 - i
		}
		order[i] = l // from the bottom
	}
	y := lines[len(lines)-1]
	next := map[string]float64{}
	var wantLines []float64
	top := len(order) - 1 // of the layers that take room
	for top > 0 && order[top].Film {
		top--
	}
	for k, l := range order {
		if l.Film {
			next[l.Part] = y
			continue
		}
		if s.Dress == drawing.StepPicture && l.Step > s.After {
			return // what stands over it is measured in the whole
		}
		n := max(1, l.Courses)
		for range n {
			wantLines = append(wantLines, y)
			y -= float64(l.Thickness) * 1000 / d.Scale
		}
		if k == top && l.Hatch == "loose fill" && s.ViewName != "PLAN SECTION" && (s.Beyond == nil || s.InsideTop) {
			break
		}
		wantLines = append(wantLines, y)
	}
	fill := false
	for _, l := range order {
		if l.Film {
			continue
		}
		if fill && l.Hatch == "loose fill" {
			return // one body of fill, without a line in it
		}
		fill = l.Hatch == "loose fill"
	}
	for _, w := range wantLines {
		found := false
		for _, got := range lines {
			found = found || math.Abs(got-w) < 1e-6
		}
		if !found {
			t.Errorf("no line at %.3f mm, where a layer ends; lines at %.3f", w, lines)
		}
	}
	if want := len(slices.Compact(wantLines)); len(lines) > want {
		t.Errorf("%d level outlines for %d faces and joints", len(lines), want)
	}
	seen := map[string]int{}
	var films func(n drawing.Node)
	films = func(n drawing.Node) {
		switch n := n.(type) {
		case *drawing.Group:
			for _, c := range n.Nodes {
				films(c)
			}
		case *drawing.Path:
			if n.Tag.Kind == "film" {
				seen[n.Tag.Part]++
				if want, ok := next[n.Tag.Part]; ok && math.Abs(n.Segs[0].P[0].Y-want) > 4 {
					t.Errorf("film %q lies at %.2f, not near %.2f", n.Tag.Part, n.Segs[0].P[0].Y, want)
				}
			}
		}
	}
	films(&d.Root)
	if s.Dress != drawing.StepPicture {
		n := 0
		for _, c := range seen {
			n += c
		}
		m := 0
		for _, l := range s.Layers {
			if l.Film {
				m++
			}
		}
		if n != m {
			t.Errorf("%d films drawn of %d", n, m)
		}
	}
}

// measureTexts: no text lies over another.
func measureTexts(t *testing.T, d *drawing.Drawing) {
	t.Helper()
	list := texts(&d.Root, nil)
	boxes := make([]drawing.Box, len(list))
	for i, x := range list {
		boxes[i] = drawing.Bounds(x)
		boxes[i].Min.X += 0.05
		boxes[i].Min.Y += 0.05
		boxes[i].Max.X -= 0.05
		boxes[i].Max.Y -= 0.05
	}
	for i := range boxes {
		for j := i + 1; j < len(boxes); j++ {
			if again := list[i].Text == list[j].Text && list[i].At == list[j].At; !again && boxes[i].Overlaps(boxes[j]) { // a text is set again over its casing
				t.Errorf("%q lies over %q", list[i].Text, list[j].Text)
			}
		}
	}
}
