package section

import (
	"fmt"
	"math"
	"testing"

	"wythe/renderer/geometry"
)

var slabAndWall = map[string][]string{
	"F-101": {"slab concrete 5 in", "film membrane 15 mil", "foam XPS 6 in", "base stone 8 in"},
	"W-101": {"lining gypsum 1/2 in", "wool wool 3 1/2 in", "board XPS 2 in", "concrete concrete 8 in", "coat membrane 20 mil", "foam XPS 4 in"},
}

// Worked by hand: areas in square inches, by the sides of rectangles; slanting
// ones by trapezoids.
var byHand = []struct {
	name, text string
	areas      map[string]float64
}{
	{"a later part covers an earlier", `
view: {left: 0, right: 20 in, bottom: 0, top: 20 in}
parts:
  - a: {material: concrete, left: 2 in, width: 10 in, bottom: 2 in, height: 10 in}
  - b: {material: timber, left: 7 in, right: 17 in, bottom: 7 in, top: 17 in}
`, map[string]float64{"a": 100 - 25, "b": 100, "open air": 400 - 175}},

	{"edges in any order of definition", `
view: {left: 2 in left of c.left, right: 2 in right of a.right, bottom: 0, top: 10 in}
parts:
  - a: {material: concrete, left: 3 in right of b.right, width: 4 in, bottom: b.bottom, top: b.top}
  - b: {material: timber, left: 1 in right of c.right, width: 2 in, bottom: 1 in above c.bottom, height: 3 in}
  - c: {material: steel, left: 0, width: 1 in, bottom: 0, height: 10 in}
`, map[string]float64{"a": 12, "b": 6, "c": 10, "open air": 15*10 - 28}},

	{"a hole cuts through", `
view: {left: 0, right: 10 in, bottom: 0, top: 10 in}
parts:
  - a: {material: concrete, left: cut, right: cut, bottom: 3 in, top: 7 in}
  - gap: {material: none, left: 4 in, width: 2 in, bottom: a.bottom, top: 5 in}
`, map[string]float64{"a": 40 - 4, "gap": 4, "open air": 60}},

	{"midway, and on a level", `
levels: {grade: 2 in above a.top}
view: {left: 0, right: 10 in, bottom: 0, top: 4 in above grade}
parts:
  - a: {material: concrete, left: cut, right: cut, bottom: cut, height: 4 in}
  - b: {material: timber, left: midway between a.left and a.right, right: a.right, bottom: a.top, top: grade}
`, map[string]float64{"a": 40, "b": 10, "open air": 100 - 50}},

	{"a slab laid from its top, a wall from its face", `
view: {left: 0, right: 60 in, bottom: 0, top: 60 in}
parts:
  - wall: {assembly: W-101, inside: right, left: 6 in, bottom: cut, top: cut}
  - slab: {assembly: F-101, inside: top, left: wall.right, right: cut, top: 40 in}
`, map[string]float64{
		"wall.foam": 240, "wall.concrete": 480, "wall.board": 120, "wall.wool": 210, "wall.lining": 30,
		"slab.slab": 36 * 5, "slab.foam": 36 * 6, "slab.base": 36 * 8, "open air": 6*60 + 36*41,
	}},

	{"trims end layers elsewhere", `
view: {left: 0, right: 60 in, bottom: 0, top: 60 in}
parts:
  - wall: {assembly: W-101, inside: right, right: 40 in, bottom: 10 in, top: 50 in, top of foam: 45 in, bottom of board wool lining: 20 in}
`, map[string]float64{
		"wall.foam": 4 * 35, "wall.concrete": 8 * 40, "wall.board": 2 * 30, "wall.wool": 3.5 * 30, "wall.lining": 15,
		"open air": 3600 - 140 - 320 - 60 - 105 - 15,
	}},

	{"laid on all four sides", `
view: {left: 0, right: 100 in, bottom: 0, top: 100 in}
parts:
  - north: {assembly: F-101, inside: bottom, left: 30 in, right: 50 in, bottom: 50 in}
  - south: {assembly: F-101, inside: top, left: 30 in, right: 50 in, top: 30 in}
  - east: {assembly: F-101, inside: left, bottom: 30 in, top: 50 in, left: 50 in}
  - west: {assembly: F-101, inside: right, bottom: 30 in, top: 50 in, right: 30 in}
`, map[string]float64{
		"north.slab": 100, "north.foam": 120, "north.base": 160, "south.slab": 100, "south.foam": 120, "south.base": 160,
		"east.slab": 100, "east.foam": 120, "east.base": 160, "west.slab": 100, "west.foam": 120, "west.base": 160,
		"open air": 10000 - 4*380,
	}},

	{"a wall ends under a slope of 3 in 4", `
view: {left: 0, right: 40 in, bottom: 0, top: 60 in}
parts:
  - rafter: {material: timber, pitch: 9 in 12, height: 5 in, left: cut, right: cut, seat: {rafter.bottom: [0, 20 in]}}
  - wall: {material: concrete, left: 4 in, width: 8 in, bottom: 0, top: under rafter}
`, map[string]float64{
		// Underside y = 20 + 3x/4: 23 at x = 4, 29 at x = 12. The rafter stands
		// 5 × 5/4 = 6.25 deep, plumb, and its top is 56.25 at x = 40.
		"wall": 8 * 26, "rafter": 40 * 6.25, "open air": 2400 - 208 - 250,
	}},

	{"square ends reach as far as said", `
view: {left: -5 in, right: 50 in, bottom: -5 in, top: 60 in}
parts:
  - beam: {material: timber, pitch: 9 in 12, height: 5 in, left: 0, right: 43 in, ends: square, seat: {beam.bottom: [3 in, 0]}}
`, map[string]float64{
		// Upper left corner at x = 0, lower right at x = 43. Along the slope the
		// lower edge runs from x = 3 (square: 5 × 3/5 = 3 to the left, 4 up) to 43:
		// 40 × 5/4 = 50 long.
		"beam": 250, "open air": 55*65 - 250,
	}},

	{"an outline, and a corner that touches", `
view: {left: 0, right: 10 in, bottom: 0, top: 10 in}
parts:
  - wedge: {material: concrete, outline: [[0, 0], [10 in, 0], [10 in, 5 in]]}
  - block: {material: steel, left: 0, right: 2 in, bottom: 5 in, top: 7 in}
  - corner: {material: timber, left: block.right, width: 1 in, bottom: block.top, height: 1 in}
`, map[string]float64{"wedge": 25, "block": 4, "corner": 1, "open air": 70}},

	{"repeats, cut by the view", `
view: {left: 0, right: 40 in, bottom: 0, top: 10 in}
parts:
  - stud: {material: timber, left: 2 in, width: 2 in, bottom: cut, top: cut, repeat: {every: 9 in, count: 4}}
  - plate: {material: plywood, left: cut, right: cut, bottom: 4 in, height: 1 in}
`, map[string]float64{"stud": 4*20 - 8, "plate": 40, "open air": 400 - 72 - 40}},

	{"beyond is kept apart", `
view: {left: 0, right: 10 in, bottom: 0, top: 10 in}
parts:
  - a: {material: concrete, left: 1 in, width: 4 in, bottom: 1 in, height: 4 in}
  - b: {material: timber, left: 2 in, width: 6 in, bottom: 2 in, height: 6 in, seen: beyond}
`, map[string]float64{"a": 16, "open air": 84}},

	{"films take no room", `
view: {left: 0, right: 10 in, bottom: 0, top: 10 in}
parts:
  - a: {material: XPS, left: cut, right: cut, bottom: cut, top: 5 in}
  - f: {film: membrane, thickness: 15 mil, over: [a.top]}
  - b: {material: concrete, left: cut, right: cut, bottom: a.top, height: 3 in}
`, map[string]float64{"a": 50, "b": 30, "open air": 20}},

	{"joist ends along the underside of a slope", `
view: {left: 0, right: 60 in, bottom: 0, top: 60 in}
parts:
  - roof: {material: timber, pitch: -45 deg, height: 5 in, left: cut, right: cut, seat: {roof.bottom: [0, 50 in]}}
  - joist: {material: plywood, left: 10 in, right: under roof, bottom: 10 in, height: 6 in}
`, map[string]float64{
		// x + y = 50: 40 at the joist's bottom, 34 at its top. The roof is a band
		// 5√2 plumb, less its corner past the view at the bottom: from x = 50
		// (y = 0) on, between 50 − x + 5√2 and 0.
		"joist": (30 + 24) / 2 * 6, "roof": 50*5*math.Sqrt2 + 25,
		"open air": 3600 - 27*6 - 50*5*math.Sqrt2 - 25,
	}},
}

func TestAreasByHand(t *testing.T) {
	if len(byHand) < 12 {
		t.Fatalf("%d sections", len(byHand))
	}
	for _, c := range byHand {
		t.Run(c.name, func(t *testing.T) {
			s := resolve(t, c.text, slabAndWall)
			got := s.areas()
			for name, want := range c.areas {
				// A slanting side's corners are rounded to 1 µm: over 60 in
				// that is 1.5e6 µm², 0.003 in².
				if g := float64(got[name]) / in2; math.Abs(g-want) > 0.003 {
					t.Errorf("%s: %.6f in², want %.6f", name, g, want)
				}
				delete(got, name)
			}
			if len(got) > 0 {
				t.Errorf("areas not expected: %v", got)
			}
		})
	}
}

// inches writes points for comparison.
func inches(l []geometry.Point) string {
	s := ""
	for _, p := range l {
		s += fmt.Sprintf("(%.4g %.4g)", float64(p.X)/25400, float64(p.Y)/25400)
	}
	return s
}

// The film of a basement slab turns up over the edge insulation and onto the
// wall. Worked by hand: slab.top 19 in, slab 5 in thick, upturn 2 in wide from
// the concrete's face at 10 in.
func TestFilmOverFaces(t *testing.T) {
	s := resolve(t, `
view: {left: 0, right: 60 in, bottom: -10 in, top: 60 in}
parts:
  - wall: {material: concrete, left: 2 in, width: 8 in, bottom: 0, top: cut}
  - slab: {assembly: F-101, inside: top, left: wall.right, right: cut, top: 19 in, left of slab film: upturn.right}
  - upturn: {material: XPS, left: wall.right, width: 2 in, bottom: slab.foam.top, top: slab.top}
  - turn-up: {film: membrane, thickness: 15 mil, over: [slab.film, upturn.right, upturn.top, wall.right up 2 in]}
  - bead: {seal: sealant, joins: [turn-up, wall], at: [wall.right, 2 in above upturn.top]}
`, slabAndWall)
	var got []string
	for _, r := range s.Runs {
		got = append(got, s.Films[r.Film].Name+" "+inches(r.Line))
	}
	want := "[slab.film (12 14)(60 14) turn-up (12 14)(12 19)(10 19)(10 21)]"
	if fmt.Sprint(got) != want {
		t.Errorf("films %v\nwant %s", got, want)
	}
	if !s.Seals[0].Holds || s.Seals[0].Bridge {
		t.Errorf("the bead holds %v, bridges %v", s.Seals[0].Holds, s.Seals[0].Bridge)
	}
}

// Films over faces in line, up a wall from a floor that runs on, over another
// film, and along a slope. Worked by hand.
func TestFilmRuns(t *testing.T) {
	const parts = `
view: {left: 0, right: 60 in, bottom: 0, top: 60 in}
parts:
  - a: {material: concrete, left: 5 in, right: 20 in, bottom: 0, top: 10 in}
  - b: {material: timber, left: 22 in, right: 40 in, bottom: 0, top: 10 in}
  - wall: {material: concrete, left: 30 in, right: 40 in, bottom: 10 in, top: 50 in}
  - slope: {material: timber, pitch: 9 in 12, height: 5 in, left: 40 in, right: 60 in, seat: {slope.bottom: [40 in, 20 in]}}
  - first: {film: membrane, thickness: 15 mil, over: [b.top, wall.left up 6 in]}
`
	for _, c := range []struct{ name, film, want string }{
		{"in line", "over: [a.top, b.top]", "(5 10)(20 10)(40 10)"},
		{"up from the floor before it", "over: [b.top, wall.left up 3 in]", "(22 10)(30 10)(30 13)"},
		{"one face", "over: [a.top]", "(5 10)(20 10)"},
		{"up one face", "over: [a.left up 4 in]", "(5 0)(5 4)"},
		{"down one face", "over: [a.left down 4 in]", "(5 10)(5 6)"},
		{"on from a film", "over: [first, wall.top right 3 in]", "(30 50)(33 50)"},
		{"over a film and on", "over: [first.left, wall.top]", "(30 10)(30 50)(40 50)"},
		// The underside: y = 20 + 3(x − 40)/4; 5 in along it is 4 across, 3 up.
		{"along a slope", "over: [wall.right up 5 in, slope.bottom right 5 in]", "(40 25)(40 20)(44 23)"},
	} {
		s := resolve(t, parts+"  - film: {film: membrane, thickness: 15 mil, "+c.film+"}\n", nil)
		for _, f := range s.Films {
			if f.Name == "film" {
				if got := inches(f.Line); got != c.want {
					t.Errorf("%s: %s, want %s", c.name, got, c.want)
				}
			}
		}
	}
}

// Films on one edge stand in the order they lie, from the solid outwards.
func TestFilmsOnAnEdge(t *testing.T) {
	s := resolve(t, `
view: {left: 0, right: 40 in, bottom: 0, top: 40 in}
parts:
  - board: {material: plywood, left: 20 in, right: 30 in, bottom: cut, top: cut}
  - one: {film: membrane, thickness: 15 mil, over: [board.left]}
  - two: {film: membrane, thickness: 15 mil, over: [board.left]}
  - tucked: {film: membrane, thickness: 15 mil, over: [two.right]}
  - outer: {film: membrane, thickness: 15 mil, over: [two.left]}
`, nil)
	for e, list := range s.FilmsOn {
		if u := s.Arrangement.Points[s.Arrangement.Edges[e].U]; u.X != 20*25400 {
			continue
		}
		// The edge runs up: its left hand is the open, its right the board.
		got := ""
		for _, f := range list {
			got += s.Films[f.Film].Name + " "
		}
		if got != "outer two tucked one " {
			t.Errorf("from the open to the board: %s", got)
		}
	}
}

// A pipe through a film hides it where it passes; the film shows on both sides.
func TestFilmCut(t *testing.T) {
	s := resolve(t, `
view: {left: 0, right: 20 in, bottom: 0, top: 20 in}
parts:
  - f: {film: membrane, thickness: 15 mil, along: [[0, 10 in], [20 in, 10 in]]}
  - pipe: {material: pipe, left: 8 in, width: 4 in, bottom: cut, top: cut}
  - lid: {material: steel, left: 15 in, right: 20 in, bottom: 10 in, height: 1 in}
`, nil)
	var got []string
	for _, r := range s.Runs {
		got = append(got, inches(r.Line))
	}
	if want := "[(0 10)(8 10) (12 10)(20 10)]"; fmt.Sprint(got) != want {
		t.Errorf("runs %v, want %s", got, want)
	}
}

// Places worked by hand: a beam of 3-4-5 slope with square, level and plumb ends.
func TestPitchedCorners(t *testing.T) {
	for _, c := range []struct{ ends, want string }{
		// Square: the upper left corner reaches x = 0, the lower right x = 43.
		{"square", "(3 0)(43 30)(40 34)(0 4)"},
		// Plumb: 5 × 5/4 = 6.25 deep.
		{"plumb", "(0 -2.25)(43 30)(43 36.25)(0 4)"},
		// Level: at the left the upper face at x = 0, y = 4, the lower face at
		// y = 4 where x = 3 + 4 × 4/3; right the lower face at x = 43, y = 30,
		// the upper at x = 43 − 6.25 × 4/3.
		{"level", "(0 4)(8.333 4)(43 30)(34.67 30)"},
	} {
		s := resolve(t, `
view: {left: -5 in, right: 50 in, bottom: -5 in, top: 60 in}
parts:
  - beam: {material: timber, pitch: 9 in 12, height: 5 in, left: 0, right: 43 in, ends: `+c.ends+`, seat: {beam.bottom: [3 in, 0]}}
`, nil)
		ring := s.Faces[s.Parts[0].Faces[0]].Polygon.Outer
		if got := sortedInches(ring); got != sortedText(c.want) {
			t.Errorf("%s: %s, want %s", c.ends, got, sortedText(c.want))
		}
	}
}

// The same beam given by its heights: its lowest corner at 0, its highest at 34.
func TestPitchedByHeight(t *testing.T) {
	for _, c := range []struct{ pitch, ends, seat, want string }{
		{"9 in 12", "square", "[3 in, 0]", "(3 0)(43 30)(40 34)(0 4)"},
		// Plumb: the upper face, 6.25 above the lower, is at 34 where the lower is at 27.75.
		{"9 in 12", "plumb", "[3 in, 0]", "(3 0)(40 27.75)(40 34)(3 6.25)"},
		{"9 in 12", "level", "[3 in, 0]", "(3 0)(48.33 34)(40 34)(-5.333 0)"},
		// Mirrored about x = 20.
		{"-9 in 12", "square", "[37 in, 0]", "(37 0)(-3 30)(0 34)(40 4)"},
	} {
		s := resolve(t, `
view: {left: -8 in, right: 50 in, bottom: -5 in, top: 60 in}
parts:
  - beam: {material: timber, pitch: `+c.pitch+`, height: 5 in, bottom: 0, top: 34 in, ends: `+c.ends+`, seat: {beam.bottom: `+c.seat+`}}
`, nil)
		ring := s.Faces[s.Parts[0].Faces[0]].Polygon.Outer
		if got := sortedInches(ring); got != sortedText(c.want) {
			t.Errorf("%s %s: %s, want %s", c.pitch, c.ends, got, sortedText(c.want))
		}
	}
}

// A round touches its place with four quarters exactly and stays in its circle.
func TestRound(t *testing.T) {
	s := resolve(t, `
view: {left: 0, right: 20 in, bottom: 0, top: 20 in}
parts:
  - drain: {round: pipe, diameter: 4 in, at: [10 in, 10 in]}
  - under: {material: stone, left: drain.left, right: drain.right, bottom: 2 in, top: drain.bottom}
`, nil)
	if s.Rounds[0].Radius != 50800 || s.Rounds[0].Center != (geometry.Point{X: 254000, Y: 254000}) {
		t.Errorf("circle %v", s.Rounds[0])
	}
	if got := s.areas()["under"]; got != 4*6*in2 {
		t.Errorf("under: %g in²", float64(got)/in2)
	}
	for _, p := range s.Regions[0].Ring {
		if d := p.Distance(s.Rounds[0].Center); d > 50801 || d < 50799 {
			t.Errorf("vertex %v at %g µm from the center", p, d)
		}
	}
	true2 := 2 * math.Pi * 50800 * 50800
	if got := float64(s.areas()["drain"]); got > true2 || got < true2*(1-4*float64(RoundTolerance)/0.0508) {
		t.Errorf("area %g of the true %g", got, true2)
	}
}

// A seal across a gap within its reach bridges it.
func TestSealBridges(t *testing.T) {
	s := resolve(t, `
view: {left: 0, right: 20 in, bottom: 0, top: 20 in}
parts:
  - a: {material: concrete, left: cut, right: 9 1/2 in, bottom: 5 in, height: 4 in}
  - b: {material: timber, left: 10 in, right: cut, bottom: 5 in, height: 4 in}
  - bead: {seal: sealant, joins: [a, b], at: [9 3/4 in, 9 in]}
`, nil)
	if !s.Seals[0].Bridge || !s.Seals[0].Holds {
		t.Fatalf("seal %+v", s.Seals[0])
	}
	if got := inches(s.Runs[0].Line); got != "(9.5 9)(10 9)" {
		t.Errorf("bridge %s", got)
	}
	// What the bridge shuts in is a face of its own, as air is.
	if len(s.Faces) != 4 {
		t.Errorf("%d faces", len(s.Faces))
	}
}
