package sheet

import (
	"slices"
	"strings"
	"testing"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
	"wythe/renderer/material"
	"wythe/renderer/section"
)

// TestThermalAmid holds the line of thermal control to what carries it: it runs
// within the carriers as laid, and leaves by every side by which they do.
func TestThermalAmid(t *testing.T) {
	measured := 0
	for _, c := range both(t) {
		i := slices.IndexFunc(c.reports, func(r continuity.Report) bool { return r.Control == detail.Thermal })
		if i < 0 || len(c.reports[i].Lines) == 0 || len(c.reports[i].Gaps) > 0 {
			continue
		}
		r := &c.reports[i]
		for _, dress := range []drawing.Dress{drawing.Wide, drawing.Phone} {
			j, _ := c.drawn(dress)
			var runs []controlRun
			for _, run := range j.controlRuns() {
				if run.control == detail.Thermal {
					runs = append(runs, run)
				}
			}
			in, all := 0, 0
			leaves := map[detail.Side]bool{}
			for _, run := range runs {
				total := pathLength(run.pts)
				for s := 0.25; s < total; s += 0.5 {
					at, _ := along(run.pts, s)
					p, ok := j.real(at)
					if !ok {
						continue
					}
					all++
					if slices.ContainsFunc(c.s.Regions, func(g section.Region) bool {
						return slices.Contains(r.Chain, g.Name) && geometry.Polygon{Outer: g.Ring}.Locate(p) != geometry.Out
					}) {
						in++
					}
				}
				for _, p := range []drawing.Point{run.pts[0], run.pts[len(run.pts)-1]} {
					leaves[detail.Left] = leaves[detail.Left] || p.X < j.at.X+0.01
					leaves[detail.Right] = leaves[detail.Right] || p.X > j.at.X+j.x.length-0.01
					leaves[detail.Top] = leaves[detail.Top] || p.Y < j.at.Y+0.01
					leaves[detail.Bottom] = leaves[detail.Bottom] || p.Y > j.at.Y+j.y.length-0.01
				}
			}
			measured++
			if all == 0 || float64(in) < 0.96*float64(all) {
				t.Errorf("%s, dress %d: %d of %d places on the thermal line lie in %v", c.d.Mark, dress, in, all, r.Chain)
			}
			for _, e := range r.Exits {
				if !leaves[e.Side] {
					t.Errorf("%s, dress %d: %s leaves by the %s, and no thermal line does", c.d.Mark, dress, e.Name, e.Side)
				}
			}
		}
	}
	if measured < 20 {
		t.Errorf("%d thermal lines were measured", measured)
	}
}

// real is the place in the section that shows at a place on paper.
func (j *junction) real(p drawing.Point) (geometry.Point, bool) {
	for i := range j.windows {
		if w := &j.windows[i]; p.X >= w.on.Min.X && p.X <= w.on.Max.X && p.Y >= w.on.Min.Y && p.Y <= w.on.Max.Y {
			return w.real(p), true
		}
	}
	return geometry.Point{}, false
}

// TestLooseFill tells fill poured on a ceiling, between chords and over them,
// from fill packed into walls and between rafters.
func TestLooseFill(t *testing.T) {
	seen := 0
	for _, c := range both(t) {
		j, _ := c.drawn(drawing.Wide)
		for i := range c.s.Faces {
			f := &c.s.Faces[i]
			if f.Material == nil || f.Material.Hatch != material.LooseFill {
				continue
			}
			seen++
			if poured := strings.HasPrefix(f.Material.Name, "loose"); j.loose(f) != poured {
				t.Errorf("%s: %s, %s: drawn as poured is %t", c.d.Mark, f.Name, f.Material.Name, !poured)
			}
		}
	}
	if seen == 0 {
		t.Error("no fill is drawn")
	}
}
