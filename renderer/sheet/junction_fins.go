package sheet

import (
	"math"

	"wythe/renderer/geometry"
)

// finMost is how thick a carrier may be, µm, for two lines on its two faces to
// be one: a floor deck between two rooms, at any scale.
const finMost = 80_000.0

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
	var pieces []stub
	var first []bool // begins a track
	for _, t := range list {
		for i, n := range t.name {
			pieces = append(pieces, stub{t.pts[i], t.pts[i+1], n})
			first = append(first, i == 0)
		}
	}
	found := false
	var out []foldedTrack
	open := false // the last track may go on
	add := func(s stub, begins, cut bool) {
		if n := len(out); open && !begins && !cut && out[n-1].pts[len(out[n-1].pts)-1] == s.a {
			t := &out[n-1].track
			t.pts, t.name = append(t.pts, s.b), append(t.name, s.name)
			return
		}
		out = append(out, foldedTrack{track: track{pts: []geometry.Point{s.a, s.b}, name: []string{s.name}}, cut: [2]bool{cut, false}})
		open = true
	}
	for i := range pieces {
		p := &pieces[i]
		cut := false
		var lo, hi float64
		for k := range pieces {
			if k != i && pieces[k].name == p.name {
				if lo, hi, cut = opposite(p, &pieces[k], finMost); cut {
					break
				}
			}
		}
		if !cut {
			begins := first[i]
			add(*p, begins, !begins && !open)
			continue
		}
		found = true
		at := func(t float64) geometry.Point {
			return geometry.Point{X: p.a.X + int64(math.Round(t*float64(p.b.X-p.a.X))), Y: p.a.Y + int64(math.Round(t*float64(p.b.Y-p.a.Y)))}
		}
		if lo > 1e-6 {
			add(stub{p.a, at(lo), p.name}, first[i], !first[i] && !open)
		}
		if n := len(out); open && n > 0 && !first[i] || n > 0 && lo > 1e-6 {
			out[n-1].cut[1] = true
		}
		open = false
		if hi < 1-1e-6 {
			add(stub{at(hi), p.b, p.name}, false, true)
		}
	}
	if !found {
		return list
	}
	kept := make([]track, 0, len(out))
	for _, t := range out {
		// What is left of a fin's end.
		if t.cut[0] && t.cut[1] && t.length() <= 1.5*finMost {
			continue
		}
		kept = append(kept, t.track)
	}
	return j.joinAcross(kept)
}

// foldedTrack is a track of which a fin was cut off at an end.
type foldedTrack struct {
	track
	cut [2]bool
}

func (t *track) length() float64 {
	l := 0.0
	for i := 1; i < len(t.pts); i++ {
		l += t.pts[i-1].Distance(t.pts[i])
	}
	return l
}

// joinAcross makes one line of two whose ends face each other across the
// carrier.
func (j *junction) joinAcross(list []track) []track {
	for i := 0; i < len(list); i++ {
		for k := 0; k < len(list); k++ {
			end, start := list[i].pts[len(list[i].pts)-1], list[k].pts[0]
			if i == k || j.onSide(end) || j.onSide(start) || end.Distance(start) > finMost {
				continue
			}
			if end != start {
				list[i].pts = append(list[i].pts, start)
				list[i].name = append(list[i].name, list[k].name[0])
			}
			list[i].pts = append(list[i].pts, list[k].pts[1:]...)
			list[i].name = append(list[i].name, list[k].name...)
			list = append(list[:k], list[k+1:]...)
			return j.joinAcross(list)
		}
	}
	return list
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
