package detail

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"wythe/renderer/units"
)

var withoutPlaces = cmpopts.IgnoreFields(Edge{}, "At", "Written")

func ref(part, layer string, side Side) Edge {
	return Edge{Kind: EdgeRef, Part: part, Layer: layer, Side: side}
}

func from(e Edge, inches float64, vertical bool) Edge {
	return Edge{Kind: EdgeOffset, Length: units.Inches(inches), Of: &e, Vertical: vertical}
}

func TestParseEdge(t *testing.T) {
	slabTop, wallRight := ref("slab", "", Top), ref("wall", "concrete", Right)
	at := func(e, of Edge) Edge { e.Kind, e.Of = EdgeAtEdge, &of; return e }
	mid := func(a, b Edge) Edge { return Edge{Kind: EdgeMidway, A: &a, B: &b} }
	for _, c := range []struct {
		text string
		want Edge
	}{
		{"0", Edge{Kind: EdgeAbsolute}},
		{"4 in", Edge{Kind: EdgeAbsolute, Length: units.Inches(4)}},
		{"-2 1/2 in", Edge{Kind: EdgeAbsolute, Length: units.Inches(-2.5)}},
		{"3'-6 1/2\"", Edge{Kind: EdgeAbsolute, Length: units.Feet(3) + units.Inches(6.5)}},
		{"½ in", Edge{Kind: EdgeAbsolute, Length: units.Inches(0.5)}},
		{"slab.top", slabTop},
		{"  wall.concrete.right ", wallRight},
		{"wall.service space.left", ref("wall", "service space", Left)},
		{"wood  fiber.left", ref("wood fiber", "", Left)},
		{"turn-up.top", ref("turn-up", "", Top)},
		{"2x4 plate.top", ref("2x4 plate", "", Top)},
		{"wall.2x8 studs.left", ref("wall", "2x8 studs", Left)},
		{"grade", Edge{Kind: EdgeRef, Part: "grade"}},
		{"6 ft 8 in above slab.top", from(slabTop, 80, true)},
		{"2 in below slab.top", from(slabTop, -2, true)},
		{"2 in left of wall.concrete.right", from(wallRight, -2, false)},
		{"2 in right of wall.concrete.right", from(wallRight, 2, false)},
		{"12 in above grade", from(Edge{Kind: EdgeRef, Part: "grade"}, 12, true)},
		{"1 in right of 2 in left of wall.concrete.right", from(from(wallRight, -2, false), 1, false)},
		{"1 in above 2x4 plate.top", from(ref("2x4 plate", "", Top), 1, true)},
		{"midway between slab.top and grade", mid(slabTop, Edge{Kind: EdgeRef, Part: "grade"})},
		{"midway between midway between 0 and slab.top and 1 in above slab.top", mid(mid(Edge{Kind: EdgeAbsolute}, slabTop), from(slabTop, 1, true))},
		{"rafters.bottom at wall.concrete.right", at(ref("rafters", "", Bottom), wallRight)},
		{"2 in above roof.deck.top at 1 in right of wall.concrete.right", from(at(ref("roof", "deck", Top), from(wallRight, 1, false)), 2, true)},
		{"midway between roof.top at wall.concrete.right and slab.top", mid(at(ref("roof", "", Top), wallRight), slabTop)},
		{"under roof", Edge{Kind: EdgeUnder, Part: "roof"}},
		{"over roof.deck", Edge{Kind: EdgeOver, Part: "roof", Layer: "deck"}},
		{"cut", Edge{Kind: EdgeCut}},
		{"cut stone.left", ref("cut stone", "", Left)},
	} {
		got, err := ParseEdge(c.text)
		if err != nil {
			t.Errorf("ParseEdge(%q): %v", c.text, err)
			continue
		}
		if d := cmp.Diff(c.want, got, withoutPlaces); d != "" {
			t.Errorf("ParseEdge(%q) (-want +got):\n%s", c.text, d)
		}
		if got.Written != strings.TrimSpace(c.text) {
			t.Errorf("ParseEdge(%q) keeps %q as written", c.text, got.Written)
		}
		again, err := ParseEdge(got.String())
		if err != nil {
			t.Errorf("%q prints as %q: %v", c.text, got.String(), err)
		} else if d := cmp.Diff(got, again, withoutPlaces); d != "" {
			t.Errorf("%q prints as %q (-want +got):\n%s", c.text, got.String(), d)
		}
	}
}

func TestPlacesWithinEdges(t *testing.T) {
	e, err := ParseEdge("½ in above midway between slab.top and grade")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		e      *Edge
		column int
	}{{&e, 1}, {e.Of, 12}, {e.Of.A, 27}, {e.Of.B, 40}} {
		if c.e.At.Column != c.column {
			t.Errorf("%q at column %d; want %d", c.e.Written, c.e.At.Column, c.column)
		}
	}
}

func TestEdgeMistakes(t *testing.T) {
	for _, c := range []struct{ text, message string }{
		{"▸", "missing"},
		{"▸   ", "missing"},
		{"4▸", "needs a unit"},
		{"4 ▸inn", "unknown unit"},
		{"4 in ▸slab.top", "which way"},
		{"4 in above▸", "missing"},
		{"4 in above ▸above slab.top", "missing"},
		{"midway ▸slab.top", "between"},
		{"midway between slab.top▸", "and"},
		{"midway between slab.top and▸", "missing"},
		{"slab.▸tp", "no side"},
		{"slab.▸concrete", "no side"},
		{"▸a.b.c.left", "too many dots"},
		{"▸.top", "beside the dot"},
		{"▸slab..top", "beside the dot"},
		{"grade ▸at slab.left", "only a side"},
		{"slab.top at▸", "missing"},
		{"under▸", "missing"},
		{"under ▸roof.deck.top", "without a side"},
		{"slab.top ▸and slab.left", "does not belong"},
		{"slab.top ▸up 2 in", "does not belong"},
		{"▸" + strings.Repeat("1 in above ", 40) + "slab.top", "too long"},
	} {
		text := strings.Replace(c.text, "▸", "", 1)
		_, err := ParseEdge(text)
		var p *units.ParseError
		if !errors.As(err, &p) {
			t.Errorf("ParseEdge(%q): %v", text, err)
			continue
		}
		offset := strings.Index(c.text, "▸")
		if strings.TrimSpace(text) == "" {
			offset = len(text)
		}
		if p.Offset != offset || !strings.Contains(p.Message, c.message) || p.Mend == "" {
			t.Errorf("ParseEdge(%q): at %d %q (%s); want at %d %q", text, p.Offset, p.Message, p.Mend, offset, c.message)
		}
	}
}

func TestParsePointAndOver(t *testing.T) {
	p, err := ParsePoint("where roof.rafters.bottom meets 2 in right of wall.right")
	if err != nil || !p.Meets {
		t.Fatal(p, err)
	}
	again, err := ParsePoint(p.String())
	if err != nil || cmp.Diff(p, again, withoutPlaces, cmpopts.IgnoreFields(Point{}, "At")) != "" {
		t.Errorf("prints as %q, %v", p, err)
	}
	for _, c := range []struct {
		text string
		want OverFace
	}{
		{"slab.film", OverFace{Part: "slab", Layer: "film"}},
		{"turn-up", OverFace{Part: "turn-up"}},
		{"upturn.right", OverFace{Part: "upturn", Side: Right}},
		{"wall.concrete.right up 2 in", OverFace{Part: "wall", Layer: "concrete", Side: Right, Direction: "up", Length: units.Inches(2)}},
		{"wall.wood fiber.left right 3'-6\"", OverFace{Part: "wall", Layer: "wood fiber", Side: Left, Direction: "right", Length: units.Feet(3) + units.Inches(6)}},
	} {
		got, err := ParseOver(c.text)
		if err != nil || got != c.want {
			t.Errorf("ParseOver(%q) = %+v, %v; want %+v", c.text, got, err, c.want)
			continue
		}
		if again, err := ParseOver(got.String()); err != nil || again != got {
			t.Errorf("%q prints as %q: %+v, %v", c.text, got, again, err)
		}
	}
	for _, text := range []string{"", ".", "slab", "a.b.c.left", "slab.top up 0", "slab.top up 2", "slab.film up 2 in", "slab.top and 2"} {
		if got, err := ParseOver(text); err == nil && text != "slab" {
			t.Errorf("ParseOver(%q) = %+v", text, got)
		}
	}
}

func TestNameFault(t *testing.T) {
	for _, name := range []string{"slab", "turn-up", "2x4 plate", "service space", "cut stone", "edge of slab", "No 4 bars"} {
		if f := NameFault(name); f != "" {
			t.Errorf("NameFault(%q) = %q", name, f)
		}
	}
	for _, name := range []string{"", " ", "a.b", "left", "cut", "under roof", "over", "midway", "where", "salt and pepper", "up stand", "4 in board", "left of slab", strings.Repeat("x", 61)} {
		if NameFault(name) == "" {
			t.Errorf("NameFault(%q) finds none", name)
		}
	}
}

// FuzzEdge: what is read prints and reads back to the same, and a name
// without a fault can be named.
func FuzzEdge(f *testing.F) {
	for _, s := range []string{
		"0", "4 in", "slab.top", "wall.concrete.right", "6 ft 8 in above slab.top", "2 in left of 3 in right of wall.left",
		"midway between slab.top and grade", "rafters.bottom at wall.left", "under roof", "over roof.deck", "cut", "2x4 plate.top",
		"-1/2 in below grade", "where a.left meets b.top", "wall.right up 2 in",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if e, err := ParseEdge(text); err == nil {
			printed := e.String()
			again, err := ParseEdge(printed)
			if err != nil && len(printed) <= longestEdge {
				t.Fatalf("%q prints as %q: %v", text, printed, err)
			}
			if d := cmp.Diff(e, again, withoutPlaces); err == nil && d != "" {
				t.Fatalf("%q prints as %q (-want +got):\n%s", text, printed, d)
			}
		} else if p := (*units.ParseError)(nil); !errors.As(err, &p) || p.Offset < 0 || p.Offset > len(text) {
			t.Fatalf("%q: %v", text, err)
		}
		if p, err := ParsePoint(text); err == nil {
			if _, err := ParsePoint(p.String()); err != nil && len(p.String()) <= longestEdge {
				t.Fatalf("%q prints as %q: %v", text, p, err)
			}
		}
		if o, err := ParseOver(text); err == nil {
			if again, err := ParseOver(o.String()); err != nil || again != o {
				t.Fatalf("%q prints as %q: %+v, %v", text, o, again, err)
			}
		}
		if name := strings.Join(strings.Fields(text), " "); name == text && NameFault(name) == "" {
			e, err := ParseEdge("1 in above " + name + ".top")
			if err != nil || e.Of.Part != name {
				t.Fatalf("the name %q cannot be named: %+v, %v", name, e.Of, err)
			}
		}
	})
}
