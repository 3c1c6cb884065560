package sheet

import (
	"math"

	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
)

// Sizes of where leaders point, mm on paper.
const (
	dotMargin = 2.0  // from a side of the view or of a break
	filmEnd   = 30.0 // of a film's piece, past which a longer one is no better
	filmSlant = 7.0  // how far off its height the bubble of a level film stands
	filmLevel = 0.3  // the most that a level film rises on its length
	filmLong  = 12.0 // the least length along which a leader would hide in one
)

// dot is where a member's leader points, on paper, and how far off that height
// its bubble would rather stand: in the largest of what shows of it, at heights
// by turns, so that leaders of tall parts fan out.
func (j *junction) dot(m *member) (at drawing.Point, lift float64, ok bool) {
	if m.film {
		return j.filmDot(m)
	}
	if m.seal {
		if at, _, ok := j.shown(m.anchor); ok {
			if j.onLevelFilm(m.anchor) {
				lift = j.slant(at)
			}
			return at, lift, true
		}
	}
	room := 0.0
	for i := range j.windows {
		w := &j.windows[i]
		for k := range j.s.Faces {
			f := &j.s.Faces[k]
			if f.Name != m.name || !overlap(f.Polygon.Bounds(), w.box) {
				continue
			}
			b := f.Polygon.Bounds()
			lo := geometry.Point{X: max(b.Min.X, w.box.Min.X), Y: max(b.Min.Y, w.box.Min.Y)}
			hi := geometry.Point{X: min(b.Max.X, w.box.Max.X), Y: min(b.Max.Y, w.box.Max.Y)}
			wide, high := float64(hi.X-lo.X)*w.k, float64(hi.Y-lo.Y)*w.k
			if wide*high <= room {
				continue
			}
			p := m.anchor
			if high > 12 && high > 3*wide {
				share := 0.25 + 0.5*math.Mod(float64(m.turn)*0.618, 1)
				p = geometry.Point{X: (lo.X + hi.X) / 2, Y: lo.Y + int64(share*float64(hi.Y-lo.Y))}
			}
			p = within(p, lo, hi, int64(dotMargin/w.k))
			if f.Polygon.Locate(p) != geometry.In {
				if p = m.anchor; !w.box.Contains(p) {
					continue
				}
			}
			at, ok, room = w.point(p), true, wide*high
		}
	}
	return at, 0, ok
}

// within moves a place into a box, clear of its sides by a margin where the box
// has room for that.
func within(p, lo, hi geometry.Point, margin int64) geometry.Point {
	one := func(v, lo, hi int64) int64 {
		if m := min(margin, (hi-lo)/2); m > 0 {
			lo, hi = lo+m, hi-m
		}
		return min(max(v, lo), hi)
	}
	return geometry.Point{X: one(p.X, lo.X, hi.X), Y: one(p.Y, lo.Y, hi.Y)}
}

// filmDot points at the longest piece of a film that shows, rather at one that
// a level leader meets across than at one that it would run along. To a level
// one it comes at a slant.
func (j *junction) filmDot(m *member) (at drawing.Point, lift float64, ok bool) {
	best := 0.0
	for _, run := range j.s.Runs {
		if f := &j.s.Films[run.Film]; f.Name != m.name || f.Seal >= 0 {
			continue
		}
		for i := range j.windows {
			w := &j.windows[i]
			for _, line := range w.line(j.onPaper(w, run.Line)) {
				for k := range line[1:] {
					a, b := line[k], line[k+1]
					length := math.Hypot(b.X-a.X, b.Y-a.Y)
					if length == 0 {
						continue
					}
					across := math.Abs(b.Y-a.Y) / length
					if score := min(length, filmEnd) * (0.35 + across); score > best {
						best, ok = score, true
						share := 0.5
						if across > 0.9 && length > 12 {
							share = 0.25 + 0.5*math.Mod(float64(m.turn)*0.618, 1)
						}
						at = drawing.Point{X: a.X + share*(b.X-a.X), Y: a.Y + share*(b.Y-a.Y)}
						if lift = 0; across < filmLevel {
							lift = j.slant(at)
						}
					}
				}
			}
		}
	}
	return at, lift, ok
}

// slant is how far off the height of a place the bubble of something level
// stands there: away from the middle of the view.
func (j *junction) slant(at drawing.Point) float64 {
	if at.Y < j.at.Y+j.y.length/2 {
		return -filmSlant
	}
	return filmSlant
}

// onLevelFilm reports whether a place lies on a long level piece of a film, in
// which a level leader would not be seen.
func (j *junction) onLevelFilm(p geometry.Point) bool {
	mm := 1000 * j.scale
	for _, run := range j.s.Runs {
		for k, a := range run.Line[1:] {
			b := run.Line[k]
			if l := a.Distance(b); l < filmLong*mm || math.Abs(float64(b.Y-a.Y)) > filmLevel*l {
				continue
			}
			if _, d := geometry.Nearest(p.Vec(), a.Vec(), b.Vec()); d < mm {
				return true
			}
		}
	}
	return false
}
