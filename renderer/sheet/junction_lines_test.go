package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
)

// TestParallel works corners by hand: a mitre, a step between two offsets, a
// jog too short for its offset, and a sharp corner cut off.
func TestParallel(t *testing.T) {
	pt := func(v ...float64) (out []drawing.Point) {
		for i := 0; i < len(v); i += 2 {
			out = append(out, drawing.Point{X: v[i], Y: v[i+1]})
		}
		return out
	}
	for _, c := range []struct {
		name string
		line []drawing.Point
		left []float64
		want []drawing.Point
	}{
		// Paper's y runs down: left of a line to the right is up.
		{"straight", pt(0, 0, 10, 0), []float64{2}, pt(0, -2, 10, -2)},
		{"mitre", pt(0, 0, 10, 0, 10, 10), []float64{2, 2}, pt(0, -2, 12, -2, 12, 10)},
		{"inner corner", pt(0, 0, 10, 0, 10, 10), []float64{-2, -2}, pt(0, 2, 8, 2, 8, 10)},
		{"step", pt(0, 0, 5, 0, 10, 0), []float64{2, -2}, pt(0, -2, 5, -2, 5, 2, 10, 2)},
		{"short jog", pt(0, 0, 10, 0, 10, -1, 8, -1, 8, -10), []float64{2, 2, 2, 2}, pt(0, -2, 6, -2, 6, -10)},
		{"none", pt(0, 0, 10, 0), []float64{0}, pt(0, 0, 10, 0)},
	} {
		got := parallel(c.line, c.left)
		same := len(got) == len(c.want)
		for i := range got {
			same = same && math.Hypot(got[i].X-c.want[i].X, got[i].Y-c.want[i].Y) < 1e-9
		}
		if !same {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
	// A corner of 10 degrees would run 11 times its offset past the line.
	sharp := parallel(pt(0, 0, 10, 0, 10-10*math.Cos(0.1745), -10*math.Sin(0.1745)), []float64{-1, -1})
	for _, p := range sharp {
		if p.X > 14 {
			t.Errorf("a sharp corner runs out to %v", p)
		}
	}
}

// TestFolded takes out a deck that runs to the cut between two rooms.
func TestFolded(t *testing.T) {
	j := &junction{scale: 8}
	j.s = laid(t, "testdata/library")[0].s
	p := func(x, y int64) geometry.Point { return geometry.Point{X: x * 1000, Y: y * 1000} }
	// Up the rim, out along the deck's underside to 900; then from 900 back
	// along its top, and up the wall at 300.
	list := []track{
		{[]geometry.Point{p(100, -300), p(100, 0), p(900, 0)}, []string{"rim", "deck"}},
		{[]geometry.Point{p(900, 20), p(300, 20), p(300, 400)}, []string{"deck", "wall"}},
	}
	got := j.folded(list)
	want := []geometry.Point{p(100, -300), p(100, 0), p(300, 0), p(300, 20), p(300, 400)}
	if len(got) != 1 || fmt.Sprint(got[0].pts) != fmt.Sprint(want) {
		t.Errorf("got %v, want one track %v", got, want)
	}
	if len(got) == 1 && len(got[0].name) != len(got[0].pts)-1 {
		t.Errorf("%d names for %d points", len(got[0].name), len(got[0].pts))
	}
	alone := []track{{[]geometry.Point{p(0, 0), p(500, 0)}, []string{"film"}}}
	if kept := j.folded(alone); len(kept) != 1 || len(kept[0].pts) != 2 {
		t.Errorf("a line alone became %v", kept)
	}
}

// TestControlLines holds the lines of every section: within the view, each
// control lettered, letters apart, lines along one film 1.8 mm apart, a whole
// chain without a bar but where an end is declared.
func TestControlLines(t *testing.T) {
	for _, c := range both(t) {
		for _, dress := range []drawing.Dress{drawing.Wide, drawing.Phone} {
			j, placed := c.drawn(dress)
			rm := newRoom(placed)
			runs := j.controlRuns()
			for i := range runs {
				runs[i].letter(rm)
			}
			name := fmt.Sprintf("%s, dress %d", c.d.Mark, dress)
			lettered := map[detail.Control]int{}
			bars := map[detail.Control]int{}
			var letters []drawing.Point
			for i := range runs {
				r := &runs[i]
				lettered[r.control] += len(r.letters)
				for _, l := range r.letters {
					letters = append(letters, l.at)
				}
				for _, b := range r.bars {
					if b {
						bars[r.control]++
					}
				}
				for _, p := range r.pts {
					if p.X < j.at.X-1e-6 || p.X > j.at.X+j.x.length+1e-6 || p.Y < j.at.Y-1e-6 || p.Y > j.at.Y+j.y.length+1e-6 {
						t.Errorf("%s: the line of %s leaves the view at %v", name, r.control, p)
					}
				}
			}
			for _, r := range c.reports {
				if len(r.Lines) > 0 && lettered[r.Control] == 0 {
					t.Errorf("%s: no letter on the line of %s", name, r.Control)
				}
				if r.Verdict == continuity.Continuous && len(r.Ends) == 0 && bars[r.Control] > 0 {
					t.Errorf("%s: the whole line of %s ends %d times inside the view", name, r.Control, bars[r.Control])
				}
			}
			for i := range letters {
				for k := i + 1; k < len(letters); k++ {
					if d := math.Hypot(letters[i].X-letters[k].X, letters[i].Y-letters[k].Y); d < 1.7 {
						t.Errorf("%s: two letters stand %.2f mm apart", name, d)
					}
				}
			}
		}
	}
}

// TestControlPitch measures how far apart two controls on one film run.
func TestControlPitch(t *testing.T) {
	c := laid(t, "testdata/library")[0]
	if c.d.Mark != "J-201" {
		t.Fatalf("the first section is %s", c.d.Mark)
	}
	j, _ := c.drawn(drawing.Wide)
	level := map[detail.Control]float64{} // of the long level piece over the slab's film
	for _, r := range j.controlRuns() {
		for i := 1; i < len(r.pts); i++ {
			a, b := r.pts[i-1], r.pts[i]
			if math.Abs(a.Y-b.Y) < 1e-9 && math.Abs(b.X-a.X) > 40 {
				level[r.control] = a.Y
			}
		}
	}
	apart := level[detail.AirTight] - level[detail.VaporTight]
	if len(level) != 3 || math.Abs(apart-controlPitch) > 1e-6 {
		t.Errorf("air at %.3f and vapor at %.3f mm over the film; want %v apart", level[detail.AirTight], level[detail.VaporTight], controlPitch)
	}
	film := 0.0
	for _, run := range c.s.Runs {
		if c.s.Films[run.Film].Name == "slab.film" {
			at, _, _ := j.shown(run.Line[0])
			film = at.Y
		}
	}
	if d := film - level[detail.AirTight]; math.Abs(d-controlFirst) > 1e-6 {
		t.Errorf("air runs %.3f mm from the film, want %v", d, controlFirst)
	}
}

// TestGapMarks rings every gap of the broken section, with its flag clear of
// rings, callouts and other flags.
func TestGapMarks(t *testing.T) {
	for _, c := range laid(t, "testdata/library") {
		j, placed := c.drawn(drawing.Wide)
		rm := newRoom(placed)
		marks := j.gapMarks(rm)
		j.flagGaps(rm, marks, 250)
		want := 0
		for _, r := range c.reports {
			want += len(r.Gaps)
		}
		words := 0
		for i, m := range marks {
			words += len(m.words)
			if m.flag.Empty() {
				t.Errorf("%s: the gap %v has no flag", c.d.Mark, m.words)
			}
			for k := range marks {
				if k != i && marks[k].flag.Overlaps(m.flag) {
					t.Errorf("%s: flags %v and %v overlap", c.d.Mark, m.words, marks[k].words)
				}
				if o := marks[k]; m.flag.Overlaps(boxAt(o.at, 2*o.r, 2*o.r)) {
					t.Errorf("%s: the flag %v covers a ring", c.d.Mark, m.words)
				}
			}
			for _, p := range placed {
				if p.Box.Overlaps(m.flag) {
					t.Errorf("%s: the flag %v covers callout %d", c.d.Mark, m.words, p.Key)
				}
			}
		}
		if words != want {
			t.Errorf("%s: %d gaps are flagged, want %d", c.d.Mark, words, want)
		}
		if broken := c.d.Mark == "J-290"; broken != (want > 0) {
			t.Errorf("%s has %d gaps", c.d.Mark, want)
		}
	}
}

// TestMarksStand holds level marks to tops, space names to their own air, and
// references to the assemblies they name.
func TestMarksStand(t *testing.T) {
	for _, c := range both(t) {
		j, placed := c.drawn(drawing.Wide)
		rm := newRoom(placed)
		refs := j.bubbles(rm, j.controlRuns())
		levels, names := j.levelMarks(rm), j.spaceNames(rm)
		if len(names) == 0 {
			t.Errorf("%s names no space", c.d.Mark)
		}
		for _, b := range refs {
			f := j.face(b.at)
			if f < 0 || c.s.Faces[f].Part != b.part {
				t.Errorf("%s: the reference to %s stands beside it", c.d.Mark, c.d.Junction.Parts[b.part].Mark)
			}
		}
		for _, m := range levels {
			under, over := j.face(drawing.Point{X: m.at.X, Y: m.at.Y + 0.4}), j.face(drawing.Point{X: m.at.X, Y: m.at.Y - 0.4})
			if under >= 0 && under == over && c.s.Faces[under].Part >= 0 {
				t.Errorf("%s: the level %q stands amid %s", c.d.Mark, m.words, c.s.Faces[under].Name)
			}
			if under < 0 || c.s.Faces[under].Part < 0 {
				t.Errorf("%s: the level %q stands on air", c.d.Mark, m.words)
			}
		}
		for _, n := range names {
			f := j.face(n.at)
			if r := c.s.Faces[max(f, 0)].Region; f < 0 || r >= 0 && !c.s.Regions[r].Air() {
				t.Errorf("%s: %s is lettered over what is built", c.d.Mark, n.words)
			}
		}
		for i, a := range rm.taken {
			for _, b := range rm.taken[i+1:] {
				if a.Overlaps(b) {
					t.Errorf("%s: two marks overlap: %v %v", c.d.Mark, a, b)
				}
			}
		}
	}
}

// TestThinSheets says no size as nought.
func TestThinSheets(t *testing.T) {
	for _, c := range both(t) {
		j, placed := c.drawn(drawing.Wide)
		for i := range placed {
			if h := placed[i].Head; strings.HasSuffix(h, " 0″") || strings.Contains(h, " 0 ") {
				t.Errorf("%s: %s", c.d.Mark, h)
			}
		}
		for _, list := range j.strings {
			for _, s := range list {
				if slices.Contains(s.Texts, "0″") {
					t.Errorf("%s: a dimension of nothing: %v", c.d.Mark, s.Texts)
				}
			}
		}
	}
}
