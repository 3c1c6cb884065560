package section

import (
	"testing"

	"wythe/renderer/detail"
	"wythe/renderer/geometry"
	"wythe/renderer/units"
)

// What a drawing is asked to show beside its parts, worked by hand.
func TestMeasures(t *testing.T) {
	j := read(t, `
levels: {grade: 6 in above wall.bottom, eave: 2 in below wall.top}
view: {left: 0, right: 60 in, bottom: 0, top: 60 in}
parts:
  - wall: {assembly: W-101, inside: right, left: 10 in, bottom: 5 in, top: 55 in}
  - post: {material: timber, left: 40 in, width: 4 in, bottom: 5 in, height: 20 in, seen: beyond}
`, slabAndWall)
	edge := func(s string) detail.Edge {
		e, err := detail.ParseEdge(s)
		if err != nil {
			t.Fatal(err)
		}
		e.Written = s
		return e
	}
	j.Break = []detail.Break{{From: edge("20 in above wall.bottom"), Omit: units.Length(0.254)}, {From: edge("wall.right"), Omit: units.Length(0.0254)}}
	j.Dimensions = []detail.Dimension{
		{From: edge("wall.left"), To: edge("wall.concrete.right"), Where: "below", Part: "wall"},
		{From: edge("wall.bottom"), To: edge("grade"), Where: "left of", Part: "wall"},
	}
	j.Ends = []detail.ControlEnd{{Control: detail.Water, Place: detail.Point{X: edge("wall.coat.left"), Y: edge("wall.bottom")}, Why: "drained"}}
	s, list := Resolve(j, nil, Options{})
	for _, i := range list.Items {
		t.Errorf("%s", i)
	}
	const in = 25400
	if len(s.Levels) != 2 || s.Levels[0] != (Level{"grade", 11 * in}) || s.Levels[1] != (Level{"eave", 53 * in}) {
		t.Errorf("levels %v", s.Levels)
	}
	// The wall is 4 + 8 + 2 + 3.5 + 0.5 = 18 in thick.
	if len(s.Breaks) != 2 || s.Breaks[0] != (Break{25 * in, 10 * in, false}) || s.Breaks[1] != (Break{28 * in, in, true}) {
		t.Errorf("breaks %v", s.Breaks)
	}
	wall := geometry.Box{Min: geometry.Point{X: 10 * in, Y: 5 * in}, Max: geometry.Point{X: 28 * in, Y: 55 * in}}
	want := []Dimension{
		{From: 10 * in, To: 22 * in, Across: true, Where: "below", Around: wall},
		{From: 5 * in, To: 11 * in, Where: "left of", Around: wall},
	}
	if len(s.Dimensions) != 2 || s.Dimensions[0] != want[0] || s.Dimensions[1] != want[1] {
		t.Errorf("dimensions %v, want %v", s.Dimensions, want)
	}
	if len(s.Ends) != 1 || s.Ends[0].Place != (geometry.Point{X: 14 * in, Y: 5 * in}) {
		t.Errorf("ends %v", s.Ends)
	}
	if s.Parts[0].Bounds != wall || !s.Parts[0].Laid || len(s.Parts[0].Faces) != 5 || len(s.Parts[0].Films) != 1 {
		t.Errorf("wall %+v", s.Parts[0])
	}
	if s.Faces[s.Parts[0].Faces[0]].Polygon.Locate(s.Parts[0].Anchor) == geometry.Out {
		for _, f := range s.Parts[0].Faces {
			if s.Faces[f].Polygon.Locate(s.Parts[0].Anchor) == geometry.In {
				return
			}
		}
		t.Errorf("the wall's anchor %v lies outside it", s.Parts[0].Anchor)
	}
	if p := s.Parts[1]; len(p.Faces) != 0 || len(s.Beyond) != 1 || s.Beyond[0].Ring.Locate(p.Anchor) != geometry.In {
		t.Errorf("beyond %+v", p)
	}
}

// A dimension of no length and a break that omits nothing are said so.
func TestBadMeasures(t *testing.T) {
	j := read(t, badHead+"  - a: {material: timber, left: 10 in, width: 4 in, bottom: 5 in, height: 20 in}\n", nil)
	edge := func(s string) detail.Edge {
		e, err := detail.ParseEdge(s)
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	j.Break = []detail.Break{{From: edge("a.top")}}
	j.Dimensions = []detail.Dimension{{From: edge("a.left"), To: edge("4 in left of a.right"), Where: "below", Part: "a"}}
	s, list := Resolve(j, nil, Options{})
	if len(list.Items) != 2 || len(s.Breaks) != 0 || len(s.Dimensions) != 0 {
		t.Fatalf("%v", list.Items)
	}
	rules := map[string]bool{list.Items[0].Rule: true, list.Items[1].Rule: true}
	if !rules["break-size"] || !rules["dimension-empty"] {
		t.Errorf("%v", list.Items)
	}
}
