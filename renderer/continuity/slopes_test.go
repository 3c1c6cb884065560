package continuity

import (
	"math"
	"math/rand/v2"
	"testing"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/material"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

// slopes is a heap of pitched boards, rounds, wedges and bent films, half of
// them carrying air and insulation, laid at places that are no whole number.
func slopes(r *rand.Rand, n int) *detail.Junction {
	abs := func(x float64) detail.Edge {
		return detail.Edge{Kind: detail.EdgeAbsolute, Length: units.Length(x)}
	}
	at := func() detail.Point { return detail.Point{X: abs(r.Float64()), Y: abs(r.Float64())} }
	j := &detail.Junction{View: detail.Box{Left: abs(0), Right: abs(1), Bottom: abs(0), Top: abs(1)}}
	stuff := &material.Material{Name: "board", Hatch: material.Plywood}
	for i := range n {
		p := &detail.Part{Name: string(rune('a'+i%26)) + string(rune('a'+i/26)), Material: stuff}
		if r.IntN(2) == 0 {
			p.Control = []detail.Control{detail.AirTight, detail.Thermal}
		}
		x := r.Float64() * 0.8
		switch r.IntN(5) {
		case 0:
			p.Pitch = &detail.Pitch{Angle: units.Angle((r.Float64() - 0.5) * 2)}
			p.Left, p.Right, p.Height = abs(x), abs(x+0.1+r.Float64()), units.Length(0.01+r.Float64()/10)
			p.Seat = &detail.Seat{Side: detail.Bottom, Point: at()}
			p.Ends = []string{"plumb", "square"}[r.IntN(2)]
		case 1:
			p.Kind, p.Center, p.Diameter = detail.Round, at(), units.Length(0.02+r.Float64()/3)
		case 2:
			p.Kind, p.Points = detail.Outline, []detail.Point{at(), at(), at()}
		case 3:
			p.Kind, p.Points = detail.Film, []detail.Point{at(), at(), at()}
			p.Control = []detail.Control{detail.AirTight}
		default:
			y := r.Float64() * 0.8
			p.Left, p.Bottom, p.Width, p.Height = abs(x), abs(y), units.Length(0.02+r.Float64()/2), units.Length(0.02+r.Float64()/2)
		}
		j.Parts = append(j.Parts, p)
	}
	place := func() detail.Point {
		return detail.Point{X: abs(0.05 + 0.9*math.Round(r.Float64()*16)/16), Y: abs(0.05 + 0.9*r.Float64())}
	}
	j.Spaces = []*detail.Space{
		{Name: "inside", As: "inside", Points: []detail.Point{place()}, At: finding.Position{}},
		{Name: "outside", As: "outside", Points: []detail.Point{place()}, At: finding.Position{}},
	}
	return j
}

// On slopes too: what is reported closes the control, and a way that is shown
// crosses no carrier but where it slips between two.
func TestSlopes(t *testing.T) {
	count := map[Verdict]int{}
	for seed := uint64(1); seed <= 250; seed++ {
		r := rand.New(rand.NewPCG(seed, 5))
		s, _ := section.Resolve(slopes(r, 2+int(seed%20)), nil, section.Options{})
		if len(s.Spaces) < 2 || len(s.Spaces[0].Points) == 0 || len(s.Spaces[1].Points) == 0 {
			continue
		}
		reports, _ := Check(s, Options{})
		for _, rep := range reports {
			count[rep.Verdict]++
			if rep.Verdict == Broken {
				m := newModel(s, rep.Control)
				m.settle(Options{})
				if k := len(rep.Path); k < 2 {
					t.Errorf("seed %d: broken, and no way is shown", seed)
				}
				for k := 1; k < len(rep.Path); k++ {
					for e := range m.a.Edges {
						u, v := m.ends(int32(e))
						blocked := len(m.films[e]) > 0 || m.left(int32(e)) != open || m.right(int32(e)) != open
						if blocked && properly(rep.Path[k-1].Vec(), rep.Path[k].Vec(), u.Vec(), v.Vec()) {
							t.Errorf("seed %d, %s: the way crosses %v–%v", seed, rep.Control, u, v)
						}
					}
				}
			}
		}
		if len(reports) > 0 && reports[0].Control == detail.AirTight {
			closes(t, seed, s)
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	for _, v := range []Verdict{Broken, Unsealed} {
		if count[v] < 2 {
			t.Errorf("only %d controls were %s", count[v], v)
		}
	}
}
