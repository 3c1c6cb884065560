package continuity

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/section"
)

// lay reads a junction's front matter beside the corpus' assemblies.
func lay(t *testing.T, text string) (*section.Section, *detail.Detail) {
	t.Helper()
	fs := fstest.MapFS{
		"library.yaml": {Data: []byte("firm: Oriel & Strand Architects\nmarks: \"[A-Z]-[0-9]{3}\"\n")},
		"J-101.md":     {Data: []byte("---\nmark: J-101\ntitle: Section\nview: {left: 0, right: 60 in, bottom: 0, top: 60 in}\n" + text + "---\n")},
	}
	for _, m := range []string{"F-101", "W-101", "W-102", "R-101"} {
		b, err := os.ReadFile("testdata/corpus/assemblies/" + m + ".md")
		if err != nil {
			t.Fatal(err)
		}
		fs[m+".md"] = &fstest.MapFile{Data: b}
	}
	lib, err := detail.ReadFS(fs)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range lib.Findings.Items {
		t.Errorf("%s", f)
	}
	for _, d := range lib.Details {
		if d.Junction == nil {
			continue
		}
		s, list := section.Resolve(d.Junction, nil, section.Options{})
		for _, f := range list.Items {
			if f.Rule != "spaces-joined" {
				t.Errorf("%s", f)
			}
		}
		if s == nil {
			t.FailNow()
		}
		return s, d
	}
	t.Fatal("no junction")
	return nil, nil
}

const outsideLeft = "spaces: {inside: {at: [50 in, 30 in]}, outside: {at: [2 in, 55 in]}}\n"

// rules lists the rules of findings, with the words each begins with.
func rules(l finding.List) (out []string) {
	for _, i := range l.Items {
		out = append(out, i.Rule+": "+i.Message)
	}
	return out
}

func TestAround(t *testing.T) {
	for _, c := range []struct {
		name, text string
		check      func(*section.Section, *detail.Detail) finding.List
		want       []string
	}{
		{"a level ledge", `parts:
  - base: {material: concrete, left: 16 in, right: 30 in, bottom: cut, top: 20 in}
  - wall: {material: brick, left: 20 in, right: 30 in, bottom: base.top, top: cut}
` + outsideLeft, water, []string{"flat-ledge: the top of base lies level in the weather"}},
		{"a ledge under a flashing", `parts:
  - base: {material: concrete, left: 16 in, right: 30 in, bottom: cut, top: 20 in}
  - wall: {material: brick, left: 20 in, right: 30 in, bottom: base.top, top: cut}
  - cap: {film: flashing, thickness: 20 mil, over: [base.top left 4 in, wall.left up 4 in]}
` + outsideLeft, water, nil},
		{"a terrace", `parts:
  - base: {material: concrete, left: cut, right: 30 in, bottom: cut, top: 20 in}
  - wall: {material: brick, left: 20 in, right: 30 in, bottom: base.top, top: cut}
` + outsideLeft, water, nil},
		{"a ledge that slopes out", `parts:
  - base: {material: concrete, outline: [[16 in, 0], [30 in, 0], [30 in, 20 in], [20 in, 20 in], [16 in, 19 in]]}
  - wall: {material: brick, left: 20 in, right: 30 in, bottom: 20 in, top: cut}
` + outsideLeft, water, nil},
		{"a ledge that slopes in", `parts:
  - base: {material: concrete, outline: [[16 in, 0], [30 in, 0], [30 in, 19 in], [20 in, 19 in], [16 in, 20 in]]}
  - wall: {material: brick, left: 20 in, right: 30 in, bottom: 19 in, top: cut}
` + outsideLeft, water, []string{"ledge-slopes-in: the top of base slopes towards the inside"}},
		{"a ledge indoors", `parts:
  - base: {material: concrete, left: 16 in, right: 30 in, bottom: cut, top: 20 in}
  - wall: {material: brick, left: 16 in, right: 26 in, bottom: base.top, top: cut}
` + outsideLeft, water, nil},
		{"in plan no water falls", `drawn: plan
parts:
  - base: {material: concrete, left: 16 in, right: 30 in, bottom: cut, top: 20 in}
  - wall: {material: brick, left: 20 in, right: 30 in, bottom: base.top, top: cut}
` + outsideLeft, water, nil},
		{"siding near earth", `parts:
  - ground: {material: soil, left: cut, right: 20 in, bottom: cut, top: 20 in}
  - base: {material: concrete, left: 20 in, right: 30 in, bottom: cut, top: 26 in}
  - siding: {material: cedar boards, left: 19 in, width: 1 in, bottom: 24 in, top: cut}
  - wall: {material: brick, left: 20 in, right: 30 in, bottom: base.top, top: cut}
` + outsideLeft, water, []string{"wood-near-earth: siding is wood and stands 4 in from earth; 6 in is usual"}},
		{"siding clear of earth, a sill not", `parts:
  - ground: {material: soil, left: cut, right: 20 in, bottom: cut, top: 20 in}
  - base: {material: concrete, left: 20 in, right: 30 in, bottom: cut, top: 27 in}
  - sill: {material: softwood, left: 20 in, right: 30 in, bottom: base.top, height: 2 in}
  - wall: {material: brick, left: 20 in, right: 30 in, bottom: sill.top, top: cut}
  - siding: {material: cedar boards, left: 19 in, width: 1 in, bottom: 26 in, top: cut}
` + outsideLeft, water, []string{"wood-near-earth: sill is wood and stands 7 in from earth; 8 in is usual"}},
		{"a treated sill", `parts:
  - ground: {material: soil, left: cut, right: 20 in, bottom: cut, top: 20 in}
  - base: {material: concrete, left: 20 in, right: 30 in, bottom: cut, top: 26 in}
  - sill: {material: pressure-treated softwood, left: 20 in, right: 30 in, bottom: base.top, height: 2 in}
  - wall: {material: brick, left: 20 in, right: 30 in, bottom: sill.top, top: cut}
` + outsideLeft, water, nil},
		{"a sill without a drip", `parts:
  - wall: {material: brick, left: 20 in, right: 30 in, bottom: cut, top: 28 in}
  - sill: {material: limestone, water: shed, outline: [[19 1/2 in, 28 in], [30 in, 28 in], [30 in, 31 in], [19 1/2 in, 30 in]]}
  - frame: {material: softwood, left: 24 in, width: 3 in, bottom: 29 in, top: cut}
` + outsideLeft, water, []string{"drip-short: sill sheds water, and stands 0.5 in out over what is below"}},
		{"a sill with a drip", `parts:
  - wall: {material: brick, left: 20 in, right: 30 in, bottom: cut, top: 28 in}
  - sill: {material: limestone, water: shed, outline: [[18 1/2 in, 28 in], [30 in, 28 in], [30 in, 31 in], [18 1/2 in, 30 in]]}
  - frame: {material: softwood, left: 24 in, width: 3 in, bottom: 29 in, top: cut}
` + outsideLeft, water, nil},

		{"stone as waterproofing", `parts:
  - bed: {material: washed stone, left: cut, right: cut, bottom: 10 in, height: 4 in, control: [water]}
  - slab: {material: concrete, left: cut, right: cut, bottom: bed.top, height: 4 in}
` + outsideLeft, water, []string{"water-kind: bed (washed stone) drains and breaks capillary rise; it is no waterproofing"}},
		{"stone as a capillary break", `parts:
  - bed: {material: washed stone, left: cut, right: cut, bottom: 10 in, height: 4 in, control: [water], water: capillary}
  - slab: {material: concrete, left: cut, right: cut, bottom: bed.top, height: 4 in}
` + outsideLeft, water, nil},
		{"a coat under pressure", `parts:
  - wall: {material: concrete, left: 20 in, width: 8 in, bottom: cut, top: cut}
  - coat: {film: dampproofing, thickness: 60 mil, control: [water], water: under pressure, over: [wall.left]}
` + outsideLeft, water, []string{"water-kind: coat (dampproofing) keeps damp off; it does not hold water under pressure"}},

		{"a membrane on foam that it harms", `parts:
  - foam: {material: XPS type IV, left: cut, right: cut, bottom: 20 in, height: 4 in}
  - sheet: {film: PVC roof membrane, thickness: 60 mil, control: [water], over: [foam.top]}
spaces: {inside: {at: [30 in, 5 in]}, outside: {at: [30 in, 55 in]}}
`, compat, []string{"not-against: sheet (PVC roof membrane) lies against foam (XPS type IV): it must not touch XPS"}},
		{"the same with a layer between", `parts:
  - foam: {material: XPS type IV, left: cut, right: cut, bottom: 20 in, height: 4 in}
  - board: {material: cover board, left: cut, right: cut, bottom: foam.top, height: 1/2 in}
  - sheet: {film: PVC roof membrane, thickness: 60 mil, control: [water], over: [board.top]}
spaces: {inside: {at: [30 in, 5 in]}, outside: {at: [30 in, 55 in]}}
`, compat, nil},
		{"tape on what it does not hold to", `parts:
  - low: {material: plywood, left: 20 in, width: 1 in, bottom: cut, top: 30 in, control: [air]}
  - high: {material: brick, left: 20 in, width: 1 in, bottom: low.top, top: cut, control: [air]}
  - strip: {seal: tape, joins: [low, high], at: [20 in, 30 in]}
` + outsideLeft, compat, []string{"holds-to: strip (tape) is not known to hold to high (brick)"}},

		{"a seal set too late", `parts:
  - low: {material: plywood, left: 20 in, width: 1 in, bottom: cut, top: 30 in, control: [air]}
  - high: {material: plywood, left: 20 in, width: 1 in, bottom: low.top, top: cut, control: [air]}
  - inner: {material: gypsum board, left: 21 in, width: 1 in, bottom: cut, top: cut}
  - outer: {material: cedar boards, left: 19 in, width: 1 in, bottom: cut, top: cut}
  - strip: {seal: tape, joins: [low, high], at: [low.left, 30 in]}
` + outsideLeft + `sequence:
  - {do: Set the panels and both faces., shows: [low, high, inner, outer]}
  - {do: Tape the joint., shows: [low, high, inner, outer, strip]}
`, reachOnly, []string{`seal-unreachable: seal "strip" is set in the step "Tape the joint", and all around it stands before`}},
		{"a seal set in time", `parts:
  - low: {material: plywood, left: 20 in, width: 1 in, bottom: cut, top: 30 in, control: [air]}
  - high: {material: plywood, left: 20 in, width: 1 in, bottom: low.top, top: cut, control: [air]}
  - inner: {material: gypsum board, left: 21 in, width: 1 in, bottom: cut, top: cut}
  - outer: {material: cedar boards, left: 19 in, width: 1 in, bottom: cut, top: cut}
  - strip: {seal: tape, joins: [low, high], at: [low.left, 30 in]}
` + outsideLeft + `sequence:
  - {do: Set the panels and tape the joint., shows: [low, high, inner, strip]}
  - {do: Close the outer face., shows: [low, high, inner, strip, outer]}
`, reachOnly, nil},

		{"a vent that runs through", `parts:
  - wall: {assembly: W-102, inside: right, left: 20 in, bottom: cut, top: 50 in}
` + outsideLeft + "keep open: {through: wall.cavity, least: 3/4 in}\n", open2, nil},
		{"a vent too narrow", `parts:
  - wall: {assembly: W-102, inside: right, left: 20 in, bottom: cut, top: 50 in}
  - batten: {material: softwood, left: 20 in, width: 1 in, bottom: 20 in, height: 2 in}
` + outsideLeft + "keep open: {through: wall.cavity, least: 3/4 in}\n", open2,
			[]string{`not-open: "wall.cavity" narrows to 0.5 in at [21.25 in, 22 in]; at least 0.75 in is wanted`}},
		{"a vent blocked", `parts:
  - wall: {assembly: W-102, inside: right, left: 20 in, bottom: cut, top: 50 in}
  - stop: {material: softwood, left: 20 in, width: 2 in, bottom: 20 in, height: 2 in}
` + outsideLeft + "keep open: {through: wall.cavity, least: 3/4 in}\n", open2,
			[]string{`not-open: "wall.cavity" is to stay open, and is blocked: it shows in 2 stretches`}},
		{"a vent closed at its head", `parts:
  - wall: {assembly: W-102, inside: right, left: 20 in, bottom: cut, top: 50 in}
  - cap: {material: softwood, left: 18 in, right: 30 in, bottom: wall.top, height: 2 in}
` + outsideLeft + "keep open: {through: wall.cavity, least: 3/4 in}\n", open2,
			[]string{`not-open: "wall.cavity" is to stay open, and has 1 of two mouths`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, d := lay(t, c.text)
			if got := rules(c.check(s, d)); !slices.Equal(got, c.want) {
				t.Errorf("got  %q\nwant %q", got, c.want)
			}
		})
	}
}

func water(s *section.Section, _ *detail.Detail) finding.List  { return Water(s) }
func compat(s *section.Section, _ *detail.Detail) finding.List { return Compatibility(s) }
func reachOnly(s *section.Section, d *detail.Detail) finding.List {
	return Reachable(s, d.Sequence)
}
func open2(s *section.Section, _ *detail.Detail) finding.List {
	_, l := Check(s, Options{})
	return l
}

// What passes a carrier in words alone is noted beside the verdict.
func TestPenetrationNotes(t *testing.T) {
	s, _ := lay(t, `parts:
  - wall: {assembly: W-102, inside: right, left: 20 in, bottom: cut, top: cut}
`+outsideLeft+`penetrations:
  - {what: Dryer duct, seals: {wall.sheathing: gasketed collar}}
  - {what: Dryer duct, seals: {wall: gasketed collar, wall.membrane: flashed}}
  - {what: Hose bib}
`)
	reports, _ := Check(s, Options{})
	for _, r := range reports {
		var want []string
		if r.Control != detail.Thermal {
			want = []string{"Hose bib: it is not said what seals it"}
		}
		if !slices.Equal(r.Notes, want) {
			t.Errorf("%s: notes %q, want %q", r.Control, r.Notes, want)
		}
	}
}

// A chain leaves by the layers that carry it; two junctions that use different
// layers of one assembly do not hand it on.
func TestHandovers(t *testing.T) {
	s, _ := lay(t, `parts:
  - slab: {assembly: F-101, inside: top, left: wall.concrete.right, right: cut, top: 30 in}
  - wall: {assembly: W-101, inside: right, left: 10 in, bottom: cut, top: cut, bottom of lining: slab.top}
  - ground: {material: soil, left: cut, right: wall.left, bottom: cut, top: 40 in}
  - bead: {seal: sealant, joins: [slab.film, wall.concrete], at: [wall.concrete.right, 25 in]}
spaces: {inside: {at: [50 in, 50 in]}, outside: {at: [2 in, 55 in]}}
`)
	reports, _ := Check(s, Options{})
	got := fmt.Sprint(Handovers("J-101", reports))
	want := "[{J-101 F-101 film air} {J-101 W-101 concrete air} {J-101 F-101 film vapor} {J-101 W-101 concrete vapor} {J-101 W-101 coat water} {J-101 F-101 foam thermal} {J-101 W-101 lining thermal}]"
	if got != want {
		t.Errorf("handovers %s\nwant %s", got, want)
	}
	list := []Handover{
		{"J-101", "W-101", "concrete", detail.AirTight}, {"J-102", "W-101", "lining", detail.AirTight},
		{"J-103", "W-101", "lining", detail.AirTight}, {"J-103", "W-101", "concrete", detail.AirTight},
		{"J-102", "W-101", "lining", detail.Thermal}, {"J-101", "W-101", "lining", detail.Thermal},
	}
	m := Mismatches(list)
	if len(m) != 1 || m[0].A.Junction != "J-101" || m[0].B.Junction != "J-102" || m[0].Control != detail.AirTight {
		t.Errorf("mismatches %v", m)
	}
}

// What cannot be traced is said to be so, never continuous.
func TestNotTraced(t *testing.T) {
	s, _ := lay(t, `parts:
  - wall: {assembly: W-102, inside: right, left: 20 in, bottom: cut, top: cut}
`+outsideLeft)
	for _, c := range []struct {
		keep string
		want string
	}{{"inside", "no space is outside"}, {"outside", "no space is inside"}} {
		u := *s
		u.Spaces = nil
		for _, sp := range s.Spaces {
			if sp.Name == c.keep {
				u.Spaces = append(u.Spaces, sp)
			}
		}
		reports, _ := Check(&u, Options{})
		if len(reports) != 3 {
			t.Errorf("%d reports", len(reports))
		}
		for _, r := range reports {
			if r.Verdict != NotTraced || !strings.HasPrefix(r.Reason, c.want) {
				t.Errorf("%s: %s, %q; want not traced, %q", r.Control, r.Verdict, r.Reason, c.want)
			}
		}
	}
}

// A declared end excuses the ground beyond it, not a way through the air.
func TestEndedInTheAir(t *testing.T) {
	const parts = `parts:
  - earth: {material: soil, left: cut, right: 20 in, bottom: cut, top: 50 in}
  - wall: {material: concrete, left: 20 in, width: 8 in, bottom: 10 in, top: cut}
  - slab: {material: concrete, left: 28 in, right: cut, bottom: 14 in, height: 5 in}
  - coat: {film: waterproofing membrane, thickness: 60 mil, control: [water], over: [wall.left]}
ends: {water: {at: [wall.left, wall.bottom], why: drained}}
`
	s, _ := lay(t, parts+"spaces: {inside: {at: [45 in, 55 in]}, outside: {at: [5 in, 55 in]}}\n")
	if r, _ := Check(s, Options{}); len(r) != 1 || r[0].Verdict != Continuous || len(r[0].Ends) != 1 || r[0].Ends[0].Why != "drained" {
		t.Errorf("closed: %+v", r)
	}
	s, _ = lay(t, parts+"spaces: {inside: {at: [45 in, 55 in]}, outside: {at: [[5 in, 55 in], [57 in, 55 in]]}}\n")
	r, _ := Check(s, Options{})
	if len(r) != 1 || r[0].Verdict != Broken || len(r[0].Path) < 2 || !slices.Equal(r[0].Leaks, []Leak{{"inside", "outside"}}) {
		t.Errorf("open at the right: %+v", r)
	}
	// An end where nothing carries the control proves nothing.
	s, _ = lay(t, strings.Replace(parts, "[wall.left, wall.bottom]", "[40 in, 30 in]", 1)+"spaces: {inside: {at: [45 in, 55 in]}, outside: {at: [5 in, 55 in]}}\n")
	if r, _ := Check(s, Options{}); len(r) != 1 || r[0].Verdict != NotTraced {
		t.Errorf("end in the air: %+v", r)
	}
}

// Two declared ends: a touch on the way to one and a gap on the way to the
// other are both reported, each once.
func TestTwoEnds(t *testing.T) {
	s, _ := lay(t, `parts:
  - left wall: {material: concrete, left: 15 in, width: 5 in, bottom: 10 in, top: cut}
  - right wall: {material: concrete, left: 40 in, width: 5 in, bottom: 10 in, top: cut}
  - low: {material: stucco, left: 14 in, width: 1 in, bottom: 10 in, top: 30 in, control: [water]}
  - high: {film: waterproofing membrane, thickness: 60 mil, control: [water], along: [[15 in, 30 in], [15 in, 60 in]]}
  - coat: {film: waterproofing membrane, thickness: 60 mil, control: [water], along: [[45 in, 10 in], [45 in, 40 in]]}
  - upper coat: {film: waterproofing membrane, thickness: 60 mil, control: [water], along: [[45 in, 43 in], [45 in, 60 in]]}
  - floor: {material: concrete, left: left wall.right, right: right wall.left, bottom: 10 in, height: 5 in}
  - roof: {material: concrete, left: left wall.right, right: right wall.left, bottom: 50 in, height: 5 in}
ends: {water: [{at: [14 in, 10 in], why: drained at the left}, {at: [45 in, 10 in], why: drained at the right}]}
spaces: {inside: {at: [30 in, 30 in]}, outside: {at: [[5 in, 30 in], [55 in, 30 in]]}}
`)
	reports, _ := Check(s, Options{})
	r := reports[0]
	var got []string
	for _, g := range r.Gaps {
		got = append(got, gapLine(r.Verdict, g))
	}
	slices.Sort(got)
	if want := []string{"gap 3 in coat | upper coat", "touch high | low"}; r.Verdict != Broken || !slices.Equal(got, want) {
		t.Errorf("%s, %q; want broken, %q", r.Verdict, got, want)
	}
	if got := strings.Join(r.Chain, " > "); got != "high > low > upper coat > coat" {
		t.Errorf("chain %s", got)
	}
	if len(r.Ends) != 2 || len(r.Lines) < 4 {
		t.Errorf("%d ends, %d lines", len(r.Ends), len(r.Lines))
	}
}

// Heat insulation under a slab that a pipe and a pier go through ends on each
// side of both: every stretch has its line, from the cut to its end or from end
// to end, and leaves by both sides.
func TestThermalEnds(t *testing.T) {
	s, _ := lay(t, `parts:
  - foam: {material: XPS type IV, left: cut, right: cut, bottom: 20 in, height: 6 in, control: [thermal]}
  - ring: {material: closed-cell spray foam, left: 14 in, width: 5 in, bottom: 20 in, height: 6 in, control: [thermal]}
  - slab: {material: concrete, left: cut, right: cut, bottom: foam.top, height: 5 in}
  - pipe: {material: concrete, left: 15 in, width: 3 in, bottom: cut, top: 40 in}
  - pier: {material: concrete, left: 40 in, width: 8 in, bottom: cut, top: slab.top}
ends: {thermal: [{at: [pipe.left, foam.top], why: a pipe}, {at: [pipe.right, foam.top], why: a pipe}, {at: [pier.left, foam.top], why: a pier}, {at: [pier.right, foam.top], why: a pier}]}
spaces: {inside: {at: [30 in, 50 in]}, outside: {at: [30 in, 5 in]}}
`)
	reports, _ := Check(s, Options{})
	for i := range reports {
		r := &reports[i]
		if r.Control != detail.Thermal {
			continue
		}
		var got []string
		for _, l := range r.Lines {
			got = append(got, fmt.Sprintf("%s %d-%d", l.Name, min(l.Points[0].X, l.Points[1].X)/25400, max(l.Points[0].X, l.Points[1].X)/25400))
		}
		slices.Sort(got)
		want := []string{"foam 0-14", "foam 19-40", "foam 48-60", "ring 14-15", "ring 18-19"}
		if !slices.Equal(got, want) {
			t.Errorf("lines %q, want %q", got, want)
		}
		if len(r.Exits) != 2 {
			t.Errorf("leaves by %v", r.Exits)
		}
		return
	}
	t.Fatal("no thermal control was traced")
}
