package section

import (
	"strings"
	"testing"
)

const badHead = "view: {left: 0, right: 40 in, bottom: 0, top: 40 in}\nparts:\n"

// Every complaint stands at its line and names the part. Lines count from 1 in
// the text; the parts begin at line 3.
func TestBadJunctions(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string // line:rule words
	}{
		{"cycle", badHead + `  - a: {material: concrete, left: b.right, width: 4 in, bottom: 0, height: 4 in}
  - b: {material: timber, left: c.right, width: 4 in, bottom: 0, height: 4 in}
  - c: {material: steel, left: a.right, width: 4 in, bottom: 0, height: 4 in}
  - d: {material: steel, left: 20 in, width: 4 in, bottom: 0, height: 4 in}
`, []string{`3:edge-cycle these edges hang on each other: a.left → b.right → b.left → c.right → c.left → a.right → a.left`}},
		{"its own edge", badHead + "  - a: {material: concrete, left: a.right, width: 4 in, bottom: 0, height: 4 in}\n",
			[]string{`3:edge-cycle these edges hang on each other: a.left → a.right → a.left`}},
		{"the view hangs on a cut part", "view: {left: a.left, right: 40 in, bottom: 0, top: 40 in}\nparts:\n  - a: {material: concrete, left: cut, right: 4 in, bottom: 0, height: 4 in}\n",
			[]string{`edge-cycle these edges hang on each other: view.left → a.left → view.left`}},
		{"unknown part", badHead + "  - footing: {material: concrete, left: 0, width: 4 in, bottom: 0, height: 4 in}\n  - a: {material: concrete, left: foting.right, width: 4 in, bottom: 0, height: 4 in}\n",
			[]string{`4:unknown-part no part is named "foting"`}},
		{"unknown layer", badHead + "  - w: {assembly: W-101, inside: right, left: 0, bottom: 0, top: cut, top of fom: 4 in}\n",
			[]string{`3:unknown-layer W-101, laid as "w", has no layer "fom"`}},
		{"no such assembly", badHead + "  - w: {assembly: W-900, inside: right, left: 0, bottom: 0, top: cut}\n",
			[]string{`3:unknown-assembly part "w" lays "W-900", which is no assembly here`}},
		{"under-constrained", badHead + "  - a: {material: concrete, left: 0, bottom: 0, height: 4 in}\n",
			[]string{`3:under-constrained part "a" does not say where it stands from left to right`}},
		{"over-constrained", badHead + "  - a: {material: concrete, left: 0, right: 4 in, width: 4 in, bottom: 0, height: 4 in}\n",
			[]string{`3:over-constrained part "a" gives both edges and a size from left to right`}},
		{"a stack given its thickness", badHead + "  - w: {assembly: W-101, inside: right, left: 0, right: 20 in, bottom: 0, top: cut}\n",
			[]string{`3:over-constrained part "w" is as thick as W-101 makes it`}},
		{"turned inside out", badHead + "  - a: {material: concrete, left: 8 in, right: 4 in, bottom: 0, height: 4 in}\n",
			[]string{`3:negative-size "a" has no size`}},
		{"no width", badHead + "  - a: {material: concrete, left: 8 in, right: 8 in, bottom: 0, height: 4 in}\n",
			[]string{`3:negative-size "a" has no size`}},
		{"layer trimmed away", badHead + "  - w: {assembly: W-101, inside: right, left: 0, bottom: 10 in, top: cut, top of foam: 4 in}\n",
			[]string{`3:negative-size "w.foam" has no size`}},
		{"round of no size", badHead + "  - a: {round: pipe, diameter: 0, at: [4 in, 4 in]}\n",
			[]string{`3:negative-size round "a"`}},
		{"outside the view", badHead + "  - a: {material: concrete, left: 44 in, width: 4 in, bottom: 0, height: 4 in}\n",
			[]string{`3:outside-view part "a" lies outside the view`}},
		{"film of one point", badHead + "  - f: {film: membrane, thickness: 15 mil, along: [[1 in, 1 in]]}\n",
			[]string{`3:film-points film "f" has 1 point`}},
		{"pitch without a seat", badHead + "  - a: {material: timber, pitch: 6 in 12, height: 5 in, left: cut, right: cut}\n",
			[]string{`3:seat-missing part "a" is pitched 6 in 12 and has no seat`}},
		{"outline crossed", badHead + "  - a: {material: timber, outline: [[0, 0], [10 in, 10 in], [10 in, 0], [0, 10 in]]}\n",
			[]string{`3:outline-crossed the outline of "a" crosses or touches itself`}},
		{"a height for a place", badHead + "  - a: {material: timber, left: 0, width: 4 in, bottom: 0, height: 4 in}\n  - b: {material: timber, left: a.top, width: 4 in, bottom: 0, height: 4 in}\n",
			[]string{`4:wrong-axis "a.top" is a height`}},
		{"a slope has no one height", badHead + "  - a: {material: timber, pitch: 6 in 12, height: 5 in, left: 0, right: 30 in, seat: {a.bottom: [0, 10 in]}}\n  - b: {material: timber, left: 0, width: 4 in, bottom: 0, top: a.bottom}\n  - c: {material: timber, left: 8 in, width: 4 in, bottom: 1 in above a.bottom at 8 in, top: 25 in}\n  - d: {material: timber, outline: [[0, a.bottom], [10 in, 0], [0, 0]]}\n",
			[]string{`6:sloped-edge "a.bottom" slopes and has no one place`}},
		{"inside in a wall", badHead + "  - a: {material: concrete, left: 0, width: 10 in, bottom: 0, top: cut}\nspaces:\n  inside: {at: [4 in, 4 in]}\n",
			[]string{`5:space-in-part the point of space "inside" lies in "a"`}},
		{"space without a side", badHead + "  - a: {material: concrete, left: 0, width: 10 in, bottom: 0, top: cut}\nspaces:\n  attic: {at: [20 in, 4 in]}\n",
			[]string{`5:space-as space "attic" is neither inside nor outside`}},
		{"named twice", badHead + "  - a: {material: concrete, left: 0, width: 10 in, bottom: 0, top: cut}\n  - a: {material: concrete, left: 20 in, width: 10 in, bottom: 0, top: cut}\n",
			[]string{`4:duplicate-part part "a" is named twice`}},
		{"a seal out of reach", badHead + "  - a: {material: concrete, left: 0, width: 10 in, bottom: 0, top: cut}\n  - b: {material: timber, left: 20 in, width: 10 in, bottom: 0, top: cut}\n  - s: {seal: tape, joins: [a, b], at: [11 in, 20 in]}\n",
			[]string{`5:seal-short seal "s" stands 9 in from "b" and reaches 2 in`}},
		{"a seal of two parts that stand apart", badHead + "  - a: {material: concrete, left: 0, width: 10 in, bottom: 0, top: cut}\n  - b: {material: timber, left: 20 in, width: 10 in, bottom: 0, top: cut}\n  - s: {seal: tape, joins: [a, b]}\n",
			[]string{`5:seal-apart seal "s" joins "a" and "b", which do not touch`}},
		{"a seal on what does not show", badHead + "  - a: {material: concrete, left: 1 in, width: 8 in, bottom: 0, top: 20 in}\n  - b: {material: timber, left: 0, width: 10 in, bottom: 0, top: cut}\n  - s: {seal: tape, joins: [a, b], at: [1 in, 20 in]}\n",
			[]string{`5:seal-hidden seal "s" joins "a", which does not show`, `3:covered part "a" is wholly covered by later parts`}},
		{"a film that runs its length between faces", badHead + "  - a: {material: concrete, left: 0, width: 10 in, bottom: 0, top: 30 in}\n  - f: {film: membrane, thickness: 15 mil, over: [a.left, a.top right 2 in, a.right]}\n",
			[]string{`4:length-between film "f" turns before it has run its length on "a.top"`}},
		{"a film up a level face", badHead + "  - a: {material: concrete, left: 0, width: 10 in, bottom: 0, top: 30 in}\n  - f: {film: membrane, thickness: 15 mil, over: [a.left, a.top up 2 in]}\n",
			[]string{`4:face-direction film "f" cannot run up on "a.top"`}},
		{"an outline of two points", badHead + "  - a: {material: timber, outline: [[0, 0], [10 in, 10 in]]}\n", []string{`3:outline-points outline "a" has 2 points`}},
		{"a seat by its side", badHead + "  - a: {material: timber, pitch: 6 in 12, height: 5 in, left: 0, right: 20 in, seat: {a.left: [0, 10 in]}}\n", []string{`3:seat-side part "a" is seated by its left`}},
		{"a pitched wall", badHead + "  - w: {assembly: W-101, inside: right, pitch: 6 in 12, left: 0, right: 20 in, seat: {foam.bottom: [0, 10 in]}}\n", []string{`3:pitch-inside part "w" is pitched and has its inside at the right`}},
		{"a repeat of none", badHead + "  - a: {material: timber, left: 0, width: 2 in, bottom: 0, height: 5 in, repeat: {every: 0, count: 3}}\n", []string{`3:repeat-size part "a" cannot be repeated so`}},
		{"two lines that never meet", badHead + "  - a: {material: timber, left: 0, width: 2 in, bottom: 0, height: 5 in}\n  - b: {material: timber, outline: [where a.left meets a.right, [10 in, 0], [0, 9 in]]}\n", []string{`4:edges-parallel "a.left" and "a.right" never meet`}},
		{"trimmed across its thickness", badHead + "  - w: {assembly: W-101, inside: right, left: 0, bottom: 0, top: cut, right of foam: 4 in}\n", []string{`3:trim-across part "w" is trimmed across its thickness at its right`}},
		{"faces side by side", badHead + "  - a: {material: concrete, left: 0, width: 10 in, bottom: 0, top: 30 in}\n  - f: {film: membrane, thickness: 15 mil, over: [a.left, a.right]}\n",
			[]string{`4:faces-apart film "f" cannot go from "a.left" to "a.right"`}},
		{"covered", badHead + "  - a: {material: concrete, left: 2 in, width: 10 in, bottom: 0, top: 30 in}\n  - b: {material: timber, left: 0, width: 30 in, bottom: 0, top: 32 in}\n",
			[]string{`3:covered part "a" is wholly covered by later parts`}},
		{"empty view", "view: {left: 0, right: 0, bottom: 0, top: 40 in}\nparts: []\n", []string{`view-empty the view holds nothing`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, list := Resolve(read(t, c.text, slabAndWall), nil, Options{})
			if len(list.Items) != len(c.want) {
				t.Errorf("%d findings, want %d", len(list.Items), len(c.want))
			}
			for i, item := range list.Items {
				if i >= len(c.want) {
					t.Errorf("and %s", item)
					continue
				}
				line, rest, ok := strings.Cut(c.want[i], ":")
				if !ok || strings.Contains(line, " ") {
					line, rest = "", c.want[i]
				}
				rule, words, _ := strings.Cut(rest, " ")
				if item.Rule != rule || !strings.HasPrefix(item.Message, words) || line != "" && !strings.HasPrefix(item.Position.String(), "J.md:"+line+":") {
					t.Errorf("%s\nwant %s", item, c.want[i])
				}
			}
			if s != nil { // what is left still holds the view
				var sum int64
				for _, f := range s.Faces {
					sum += f.Polygon.Area2()
				}
				if sum != 2*s.View.Width()*s.View.Height() {
					t.Errorf("faces hold %d", sum)
				}
			}
		})
	}
}

// What one assembly's file says changes every junction that lays it.
func TestAssemblyChanges(t *testing.T) {
	text := badHead + "  - w: {assembly: W-101, inside: right, right: 30 in, bottom: cut, top: cut}\n"
	before := resolve(t, text, slabAndWall).areas()
	after := resolve(t, text, map[string][]string{"W-101": {"lining gypsum 1 in", "concrete concrete 6 in"}}).areas()
	if before["w.concrete"] != 320*in2 || after["w.concrete"] != 240*in2 || after["w.foam"] != 0 || after["w.lining"] != 40*in2 {
		t.Errorf("before %v\nafter %v", before, after)
	}
}
