package sheet

import (
	"math"
	"slices"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/geometry"
)

// followed is a stretch of a carrier that a control's line follows.
type followed struct {
	control detail.Control
	line    []geometry.Point
}

// following lists what follows each carrier, in the order of pages.
func (j *junction) following() map[string][]followed {
	list := map[string][]followed{}
	for i := range j.reports {
		for _, l := range j.reports[i].Lines {
			list[l.Name] = append(list[l.Name], followed{j.reports[i].Control, l.Points})
		}
	}
	return list
}

// abreast lists the controls of which a line runs where a–b does.
func abreast(list []followed, a, b geometry.Point) []detail.Control {
	mid := geometry.Vec{X: float64(a.X+b.X) / 2, Y: float64(a.Y+b.Y) / 2}
	var out []detail.Control
	for _, f := range list {
		if slices.Contains(out, f.control) {
			continue
		}
		for i := range f.line[1:] {
			if _, d := geometry.Nearest(mid, f.line[i].Vec(), f.line[i+1].Vec()); d < 10 {
				out = append(out, f.control)
				break
			}
		}
	}
	return out
}

// controlOffset is how far to the left of a carrier's inner face its line is
// drawn, mm. The inside is on the right as one walks; where a control is
// declared to end no way is said, and the side that looks to the inside is
// taken for it.
func (j *junction) controlOffset(r *continuity.Report, name string, on []detail.Control, a, b geometry.Point) float64 {
	lane, lanes := 0, 0
	for _, c := range on {
		if c == r.Control {
			lane = lanes
		}
		if c != detail.Thermal {
			lanes++
		}
	}
	side := 1.0
	if len(r.Ends) > 0 && j.insideOnLeft(a, b) {
		side = -1
	}
	for i := range j.s.Films {
		if f := &j.s.Films[i]; f.Name == name {
			return side*-(controlFirst+controlPitch*float64(lane)) + j.filmOffset(i, a, b)
		}
	}
	// The carrier's own face says on which hand it lies.
	switch name {
	case j.besideName(a, b, 1):
		side = 1
	case j.besideName(a, b, -1):
		side = -1
	}
	t := j.thickness(a, b, side)
	if r.Control == detail.Thermal {
		return side * min(t/2, 14)
	}
	if t >= 1.5+controlPitch*float64(lanes-1)+1 {
		return side * (1.5 + controlPitch*float64(lane))
	}
	return side * (t/2 + (float64(lane)-float64(lanes-1)/2)*controlPitch)
}

// insideOnLeft reports whether an inside lies to the left of a→b.
func (j *junction) insideOnLeft(a, b geometry.Point) bool {
	for i := range j.s.Spaces {
		if s := &j.s.Spaces[i]; s.Inside && len(s.Points) > 0 {
			return geometry.Orient(a, b, s.Points[0]) > 0
		}
	}
	return false
}

// beside is the face beside the middle of a→b: to its left for side +1; -1
// outside the view.
func (j *junction) beside(a, b geometry.Point, side float64) int32 {
	d := b.Sub(a)
	l := math.Hypot(float64(d.X), float64(d.Y))
	if l == 0 {
		return -1
	}
	f, _ := j.s.Arrangement.FaceAt(geometry.Point{
		X: int64(math.Round(float64(a.X+b.X)/2 - float64(d.Y)/l*side*60)),
		Y: int64(math.Round(float64(a.Y+b.Y)/2 + float64(d.X)/l*side*60)),
	})
	return j.s.FaceOf[f]
}

func (j *junction) besideName(a, b geometry.Point, side float64) string {
	if k := j.beside(a, b, side); k >= 0 {
		return j.s.Faces[k].Name
	}
	return ""
}

// thickness is how deep the face beside a→b is at its middle, mm on paper: to
// its left for side +1.
func (j *junction) thickness(a, b geometry.Point, side float64) float64 {
	d := b.Sub(a)
	l := math.Hypot(float64(d.X), float64(d.Y))
	if l == 0 {
		return 0
	}
	nx, ny := -float64(d.Y)/l*side, float64(d.X)/l*side
	mx, my := float64(a.X+b.X)/2, float64(a.Y+b.Y)/2
	k := j.beside(a, b, side)
	if k < 0 {
		return 0
	}
	best := math.Inf(1)
	p := &j.s.Faces[k].Polygon
	for h := -1; h < len(p.Holes); h++ {
		ring := p.Outer
		if h >= 0 {
			ring = p.Holes[h]
		}
		for i, u := range ring {
			v := ring[(i+1)%len(ring)]
			ex, ey := float64(v.X-u.X), float64(v.Y-u.Y)
			den := nx*ey - ny*ex
			if math.Abs(den) < 1e-9 {
				continue
			}
			wx, wy := float64(u.X)-mx, float64(u.Y)-my
			t, s := (wx*ey-wy*ex)/den, (wx*ny-wy*nx)/den
			if t > 80 && s >= 0 && s <= 1 && t < best {
				best = t
			}
		}
	}
	if math.IsInf(best, 1) {
		return 0
	}
	return best / (1000 * j.scale)
}
