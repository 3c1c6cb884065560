package detail

import (
	"math"
	"slices"
	"testing"

	"wythe/renderer/units"
)

// near reports whether two SI values are the same but for the last digits of
// a float64.
func near[T ~float64](a, b T) bool {
	return math.Abs(float64(a-b)) < 1e-9*math.Max(1, math.Abs(float64(b)))
}

// TestGoodModel holds the sound library of testdata to what its files say,
// worked out by hand; the psf and the pound by NIST SP 811 appendix B.8.
func TestGoodModel(t *testing.T) {
	l, err := Read("testdata/good")
	if err != nil {
		t.Fatal(err)
	}
	f := l.Detail("F-101")
	a := f.Assembly
	if f.Title != "Insulated basement slab" || f.Status != Issued || a.Element != FloorOnGround || len(a.Layers) != 4 {
		t.Fatalf("F-101 is %q, %s, %s with %d layers", f.Title, f.Status, a.Element, len(a.Layers))
	}
	foam, film := a.Layer("foam"), a.Layer("film")
	if foam.Courses != 2 || !near(foam.Thickness, 0.0762) || !near(foam.Total(), 0.1524) || foam.Material.Name != "XPS type IV" || foam.Film() {
		t.Errorf("foam: %+v", foam)
	}
	if !near(film.Thickness, 0.000381) || !film.Film() || !slices.Equal(film.Control, []Control{AirTight, VaporTight}) || film.Joints != "lap 6 in and tape" {
		t.Errorf("film: %+v", film)
	}
	if lo := a.Loads; math.Abs(float64(lo.Live)-1915.2104) > 1e-4 || math.Abs(float64(lo.Point.Load)-5560.2770) > 1e-4 || !near(lo.Point.On[1], 0.1016) {
		t.Errorf("loads: %+v, %+v", lo, lo.Point)
	}
	if len(f.Revisions) != 2 || f.Revisions[0].Rev != "B" || f.Revisions[1].Date != "2026-06-03" {
		t.Errorf("revisions: %+v", f.Revisions)
	}
	if s := f.Sequence[0]; s.Trade != "earthwork" || s.Hold != "Level checked before foam is laid." || !slices.Equal(s.Shows, []string{"base"}) {
		t.Errorf("first step: %+v", s)
	}
	if p := a.Penetrations[0]; p.What != "3 in waste pipe" || p.Seals["film"] != "boot taped and bedded in sealant" || !slices.Equal(p.Order, []string{"film"}) {
		t.Errorf("penetration: %+v", p)
	}
	if s := a.Study; s.Vary != "foam" || !near(s.By, 0.0127) || !near(s.To, 0.254) {
		t.Errorf("study: %+v", s)
	}
	if g := a.Ground; g.Soil != "clay" || !near(g.Depth, units.Length(2.032)) || math.Abs(float64(g.Area)-94.7611) > 1e-4 {
		t.Errorf("ground: %+v", g)
	}

	r := l.Detail("R-101").Assembly
	if r.Scale != 8 || r.Pitch.Written != "8 in 12" || !near(r.Pitch.Angle, units.Angle(math.Atan2(8, 12))) {
		t.Errorf("R-101: scale %v, pitch %+v", r.Scale, r.Pitch)
	}
	if got := r.names(); !slices.Equal(got, []string{"gypsum board", "gypsum board 2", "service space", "rafters", "deck"}) {
		t.Errorf("names %q", got)
	}
	if x := r.Layer("rafters"); !near(x.Framing.Fraction, 0.25) || !near(x.Fasteners.Diameter, 0.00635) || !near(x.Thickness, 0.3) {
		t.Errorf("rafters: %+v, %+v", x.Framing, x.Fasteners)
	}
	if x := l.Detail("W-101").Assembly.Layer("studs"); !near(x.Framing.Fraction, 1.5/24) {
		t.Errorf("framing: %+v", x.Framing)
	}
	if x := r.Layer("service space"); x.Ventilation != Unventilated || len(x.Emittances) != 2 || x.Emittances[1] != 0.05 {
		t.Errorf("air: %+v", x)
	}
	if x := r.Layer("deck"); x.Material.Name != "test board" || x.Material.Conductivity != 0.04 {
		t.Errorf("deck: %+v", x.Material)
	}

	j := l.Detail("J-201").Junction
	names := []string{}
	for _, p := range j.Parts {
		names = append(names, p.Name)
	}
	if !slices.Equal(names, []string{"earth", "footing", "wall", "slab", "upturn", "turn-up", "bead", "drain"}) {
		t.Errorf("parts %q", names)
	}
	wall, slab, turnUp, bead, drain := j.Parts[2], j.Parts[3], j.Parts[5], j.Parts[6], j.Parts[7]
	if wall.Kind != Laid || wall.Assembly.Mark != "W-101" || wall.Inside != Right || wall.Top.Kind != EdgeCut || len(wall.Trims) != 2 ||
		!slices.Equal(wall.Trims[1].Layers, []string{"studs", "wool", "lining"}) || wall.Trims[1].Edge.Name() != "slab.top" || wall.Trims[1].Side != Bottom {
		t.Errorf("wall: %+v", wall)
	}
	if !slices.Equal(slab.Trims[0].Layers, []string{"slab", "film"}) || slab.Trims[0].Side != Left {
		t.Errorf("slab's trim: %+v", slab.Trims[0])
	}
	if turnUp.Kind != Film || len(turnUp.Over) != 4 || turnUp.Over[0].Side != "" || turnUp.Over[3].Direction != "up" || !slices.Equal(turnUp.Continues, []string{"slab.film"}) {
		t.Errorf("turn-up: %+v", turnUp)
	}
	if bead.Kind != Seal || bead.SealWord != "sealant" || len(bead.Joins) != 2 || bead.Place == nil {
		t.Errorf("bead: %+v", bead)
	}
	if drain.Kind != Round || !near(drain.Diameter, 0.1016) || drain.Center.Y.Of.Name() != "footing.bottom" {
		t.Errorf("drain: %+v", drain)
	}
	if len(j.Levels) != 1 || len(j.Break) != 1 || !near(j.Break[0].Omit, 1.27) || len(j.Spaces) != 2 || len(j.Ends) != 1 || len(j.Dimensions) != 1 || j.Scale != 8 {
		t.Errorf("J-201: %+v", j)
	}
	e := l.Detail("J-209").Junction
	roof, gutter := e.Parts[2], e.Parts[4]
	if roof.Seat.Layer != "rafters" || roof.Seat.Side != Bottom || roof.Ends != "plumb" || !slices.Equal(roof.Trims[0].Layers, []string{"service space", "rafters"}) {
		t.Errorf("roof: %+v %+v", roof, roof.Seat)
	}
	if gutter.Kind != Outline || len(gutter.Points) != 3 || !gutter.Points[2].Meets {
		t.Errorf("gutter: %+v", gutter)
	}
	if p := e.Parts[7]; !p.Hole || p.Material != nil {
		t.Errorf("opening: %+v", p)
	}
	if p := e.Parts[6]; p.Repeat.Count != 4 || !p.Beyond {
		t.Errorf("studs: %+v", p)
	}
	if s := e.Spaces[0]; s.Name != "room" || s.As != "inside" || s.Temperature == nil || !near(*s.Temperature, 20) {
		t.Errorf("room: %+v", s)
	}
	if s := e.Spaces[1]; len(s.Points) != 2 || s.As != "outside" || *s.Surface != 0.04 {
		t.Errorf("outside: %+v", s)
	}

	b := l.Buildings[0].Building
	if len(b.Areas) != 2 || !b.Areas[1].Gross || len(b.Lengths) != 1 || b.Openings[0].Count != 14 || b.Pins["F-101"] != "B" || b.Leakage.Rate != 0.6 || b.Leakage.Pressure != 50 {
		t.Errorf("building: %+v", b)
	}
	if l.Specs[0].Spec.Section != "07 26 00" || l.Climate == nil || l.Settings.Inside.MoistureClass != 3 || len(l.Settings.Targets) != 5 {
		t.Errorf("section %v, climate %v, settings %+v", l.Specs[0].Spec, l.Climate, l.Settings)
	}
	if m, _ := l.Materials.Lookup("dense-pack cellulose"); !near(m.Conductivity, 0.040) || m.At.File != "materials.yaml" {
		t.Errorf("the firm's own material: %+v", m)
	}
}

func TestMisspeltAndMissingKinds(t *testing.T) {
	const rest = "title: Wall\nelement: wall\n"
	ok := "[{material: concrete, thickness: 1 in}]\n"
	checkWrong(t, []wrong{
		{"unknown-key", "J-202.md", "---\nmark: J-202\ntitle: Edge\n▸lengthz: 1\n---\n", ""},
	})
	for _, c := range []struct{ text, rules string }{
		{"---\nmark: W-102\n" + rest + "layrs: " + ok + "---\n", "x.md missing-key; x.md unknown-key"},
		{"---\nmark: W-102\n" + rest + "---\n", "x.md missing-key"},
		{"---\nmark: J-202\ntitle: Edge\nview: {left: 0, right: 1 in, bottom: 0, top: 1 in}\n---\n", "x.md missing-key; x.md missing-key"},
		{"---\ntitle: Ferry Landing\nvolume: 10 m3\n---\n", "x.md missing-key"},
	} {
		fsys, _ := sources(map[string]string{"x.md": c.text})
		l, err := ReadFS(fsys)
		if err != nil || rules(l) != c.rules {
			t.Errorf("%q: %v, %q; want %q", c.text, err, rules(l), c.rules)
		}
	}
}

// TestBrokenFilesAreNamedOnce: what names a file that cannot be read draws no
// further complaint.
func TestBrokenFilesAreNamedOnce(t *testing.T) {
	fsys, _ := sources(map[string]string{
		"W-101.md": "---\nmark: W-101\ntitle: \"Wall\nlayers: []\n---\n",
		"page.md":  "See W-101.\n",
	})
	l, err := ReadFS(fsys)
	if err != nil || rules(l) != "W-101.md yaml-syntax" {
		t.Errorf("%v, %q", err, rules(l))
	}
}
