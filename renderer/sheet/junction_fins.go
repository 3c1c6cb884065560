package sheet

import (
	"math"

	"wythe/renderer/geometry"
)

// finMost is how thick a carrier may be, mm on paper, for two lines on its two
// faces to be one: a floor deck between two rooms.
const finMost = 12.0

// stub is a stretch of a track: of a piece, from and to shares of its length.
type stub struct {
	a, b geometry.Point
	name string
}

// folded takes out of a control's tracks what runs out along one face of a
// carrier and back along the other: the carrier has the same space, or two of
// one kind, on both sides there, and parts nothing. What is left is joined
// across it.
func (j *junction) folded(list []track) []track {
	most := finMost * 1000 * j.scale
	var pieces []stub
	var first []bool // begins a track
	for _, t := range list {
		for i, n := range t.name {
			pieces = append(pieces, stub{t.pts[i], t.pts[i+1], n})
			first = append(first, i == 0)
		}
	}
	found := false
	var out []track
	add := func(s stub, begins bool) {
		n := len(out)
		if n > 0 && !begins {
			if last := out[n-1].pts[len(out[n-1].pts)-1]; last == s.a {
				out[n-1].pts = append(out[n-1].pts, s.b)
				out[n-1].name = append(out[n-1].name, s.name)
				return
			}
		}
		out = append(out, track{[]geometry.Point{s.a, s.b}, []string{s.name}})
	}
	for i := range pieces {
		p := &pieces[i]
		from, to := 0.0, 1.0 // what is kept, as the shares before and after the fin
		cut := false
		for k := range pieces {
			if k == i || pieces[k].name != p.name {
				continue
			}
			if lo, hi, ok := opposite(p, &pieces[k], most); ok {
				from, to, cut = lo, hi, true
				break
			}
		}
		if !cut {
			add(*p, first[i])
			continue
		}
		found = true
		at := func(t float64) geometry.Point {
			return geometry.Point{X: p.a.X + int64(math.Round(t*float64(p.b.X-p.a.X))), Y: p.a.Y + int64(math.Round(t*float64(p.b.Y-p.a.Y)))}
		}
		if from > 1e-6 {
			add(stub{p.a, at(from), p.name}, first[i])
		}
		if to < 1-1e-6 {
			add(stub{at(to), p.b, p.name}, true)
		}
	}
	if !found {
		return list
	}
	// Ends that face each other across the carrier are one line.
	for i := 0; i < len(out); i++ {
		for k := 0; k < len(out); k++ {
			end, start := out[i].pts[len(out[i].pts)-1], out[k].pts[0]
			if i == k || j.onSide(end) || j.onSide(start) || end.Distance(start) > most {
				continue
			}
			if end != start {
				out[i].pts = append(out[i].pts, start)
				out[i].name = append(out[i].name, out[k].name[0])
			}
			out[i].pts = append(out[i].pts, out[k].pts[1:]...)
			out[i].name = append(out[i].name, out[k].name...)
			out = append(out[:k], out[k+1:]...)
			return j.folded(out)
		}
	}
	return out
}

// opposite finds the stretch of p, in shares of its length, that q runs along
// the other way within a distance.
func opposite(p, q *stub, most float64) (lo, hi float64, ok bool) {
	dx, dy := float64(p.b.X-p.a.X), float64(p.b.Y-p.a.Y)
	ex, ey := float64(q.b.X-q.a.X), float64(q.b.Y-q.a.Y)
	l, m := math.Hypot(dx, dy), math.Hypot(ex, ey)
	if l == 0 || m == 0 || (dx*ex+dy*ey)/(l*m) > -0.999 {
		return 0, 0, false
	}
	off := (float64(q.a.X-p.a.X)*-dy + float64(q.a.Y-p.a.Y)*dx) / l
	if off <= 0 || off > most { // the carrier lies on the left
		return 0, 0, false
	}
	t := func(v geometry.Point) float64 {
		return (float64(v.X-p.a.X)*dx + float64(v.Y-p.a.Y)*dy) / (l * l)
	}
	lo, hi = max(t(q.b), 0), min(t(q.a), 1)
	return lo, hi, hi-lo > 1e-6
}
