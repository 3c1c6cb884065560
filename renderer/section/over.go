package section

import (
	"math"

	"wythe/renderer/detail"
)

// piece is the straight run of a film on one face.
type piece struct {
	outward vec // the side of the face; zero where not known
	rank    int
}

// rankLayer orders films of an assembly's layers over films laid on a solid.
const rankLayer = 1 << 30

// overRun is one face a film is laid over.
type overRun struct {
	l       line
	a, b    vec // ends of the face
	film    bool
	outward vec
	rank    int
	of      *detail.OverFace
}

// overFaces lays a film over faces, each met where it crosses the next. The
// pieces' faces are kept in r.pieces.
func (r *resolver) overFaces(part int, p *detail.Part) ([]vec, bool) {
	runs := make([]overRun, 0, len(p.Over))
	for i := range p.Over {
		o, ok := r.overRun(part, &p.Over[i])
		if !ok {
			return nil, false
		}
		runs = append(runs, o)
	}
	last := len(runs) - 1
	var pts []vec
	var pieces []piece
	add := func(v vec, on overRun) {
		if len(pts) > 0 {
			if last := pts[len(pts)-1]; math.Hypot(v.x-last.x, v.y-last.y) < 500 {
				return
			}
			pieces = append(pieces, piece{on.outward, on.rank})
		}
		pts = append(pts, v)
	}
	if last == 0 {
		o := runs[0]
		start, end := o.a, o.b
		if o.of.Direction != "" {
			d, ok := r.direction(part, o)
			if !ok {
				return nil, false
			}
			if (end.x-start.x)*d.x+(end.y-start.y)*d.y < 0 {
				start = end
			}
			end = stepAlong(start, d, float64(o.of.Length))
		}
		add(start, o)
		add(end, o)
		r.pieces[part] = pieces
		return pts, true
	}
	for i, o := range runs {
		var q vec // where it meets the next
		if i < last {
			var ok bool
			if q, ok = meet(o.l, runs[i+1].l); !ok {
				if !sameLine(o.l, runs[i+1].l) {
					r.failAt(part, o.of.At, "faces-apart", "name the face between the two",
						"film %q cannot go from %q to %q: they run side by side", p.Name, faceName(o.of), faceName(runs[i+1].of))
					return nil, false
				}
				// In line: they meet where the one ends nearest the other.
				q = nearestEnd(o, runs[i+1])
			}
		}
		from := q
		if i == last && i > 0 {
			from = pts[len(pts)-1]
		}
		if o.of.Direction != "" && i > 0 && i < last {
			r.failAt(part, o.of.At, "length-between", "give a length to the first or the last face only",
				"film %q turns before it has run its length on %q", p.Name, faceName(o.of))
			return nil, false
		}
		if i == 0 || i == last {
			next := runs[min(i+1, last)]
			if i == last {
				next = runs[i-1]
			}
			end, ok := r.filmEnd(part, o, from, next)
			if !ok {
				return nil, false
			}
			add(end, o)
		}
		if i < last {
			add(q, o)
		}
	}
	r.pieces[part] = pieces
	return pts, true
}

// filmEnd is where a film begins or ends on its first or last face, which it
// leaves or enters at from.
// Where the face runs on to both sides of that place, the film lies on the
// side that the other face looks to: it turns up a wall from outside it.
func (r *resolver) filmEnd(part int, o overRun, from vec, other overRun) (vec, bool) {
	switch {
	case o.of.Direction != "":
		d, ok := r.direction(part, o)
		return stepAlong(from, d, float64(o.of.Length)), ok
	case o.film:
		return from, true
	}
	toA, toB := vec{o.a.x - from.x, o.a.y - from.y}, vec{o.b.x - from.x, o.b.y - from.y}
	lengthA, lengthB := math.Hypot(toA.x, toA.y), math.Hypot(toB.x, toB.y)
	atA := lengthA > lengthB
	const end = 1e6 // nm: nearer to an end than 1 mm is at the end
	if look := other.outward; min(lengthA, lengthB) > end && toA.x*toB.x+toA.y*toB.y < 0 && look != (vec{}) {
		if s := toA.x*look.x + toA.y*look.y; s != 0 {
			atA = s > 0
		}
	}
	if atA {
		return o.a, true
	}
	return o.b, true
}

// direction along a face from its word.
func (r *resolver) direction(part int, o overRun) (vec, bool) {
	_, d := o.l.form()
	w := map[string]vec{"up": {0, 1}, "down": {0, -1}, "left": {-1, 0}, "right": {1, 0}}[o.of.Direction]
	s := d.x*w.x + d.y*w.y
	if s == 0 || o.of.Length <= 0 {
		r.failAt(part, o.of.At, "face-direction", "say a direction the face runs in, and a length above zero",
			"film %q cannot run %s on %q", r.j.Parts[part].Name, o.of.Direction, faceName(o.of))
		return vec{}, false
	}
	l := math.Hypot(d.x, d.y) * s / math.Abs(s)
	return vec{d.x / l, d.y / l}, true
}

func stepAlong(from, d vec, metres float64) vec {
	n := math.Round(metres * 1e9)
	return vec{from.x + d.x*n, from.y + d.y*n}
}

func sameLine(a, b line) bool {
	p, d := a.form()
	q, _ := b.form()
	return math.Abs((q.x-p.x)*d.y-(q.y-p.y)*d.x) <= 500*math.Hypot(d.x, d.y)
}

func nearestEnd(o, next overRun) vec {
	best, least := o.a, math.Inf(1)
	for _, v := range []vec{o.a, o.b} {
		for _, w := range []vec{next.a, next.b} {
			if d := math.Hypot(v.x-w.x, v.y-w.y); d < least {
				best, least = v, d
			}
		}
	}
	return best
}

func faceName(o *detail.OverFace) string {
	s := o.Part
	if o.Layer != "" {
		s += "." + o.Layer
	}
	if o.Side != "" {
		s += "." + string(o.Side)
	}
	return s
}

// overRun resolves one face of a film's path.
func (r *resolver) overRun(part int, of *detail.OverFace) (overRun, bool) {
	k, ok := r.memberKey(of.Part, of.Layer, part, of.At)
	if !ok {
		return overRun{}, false
	}
	o := overRun{of: of, rank: (part + 1) << 10}
	q := r.j.Parts[k.part]
	layerFilm := k.layer >= 0 && r.stacks[k.part].layers[k.layer].Film()
	if q.Kind == detail.Film {
		return r.overFilmPart(part, k, o)
	}
	k.side = of.Side
	if of.Side == "" {
		if !layerFilm {
			r.failAt(part, of.At, "side-missing", "add .left, .right, .bottom or .top", "%q names no face", faceName(of))
			return o, false
		}
		o.film = true
		k.side = q.Inside
	}
	if o.l, ok = r.side(k, of.At); !ok {
		return o, false
	}
	o.outward = outwardOf(k.side, o.l)
	if layerFilm {
		o.rank = rankLayer + k.layer<<12
		if k.side == q.Inside && of.Side != "" {
			// On the inner side of the film: tucked behind it.
			o.rank += part + 1 - 1<<11
			o.outward = vec{-o.outward.x, -o.outward.y}
		} else {
			o.rank += part + 1
		}
		if of.Side == "" {
			o.outward = vec{-o.outward.x, -o.outward.y}
		}
	}
	// Its ends are where the neighbouring sides cut it.
	s1, s2 := detail.Bottom, detail.Top
	if sideAxis(k.side) == upward {
		s1, s2 = detail.Left, detail.Right
	}
	for n, s := range [...]detail.Side{s1, s2} {
		e, ok := r.side(sideKey{k.part, k.layer, s}, of.At)
		if !ok {
			return o, false
		}
		v, ok := meet(o.l, e)
		if !ok {
			r.failAt(part, of.At, "faces-apart", "name a face that has two ends", "%q has no end", faceName(of))
			return o, false
		}
		if n == 0 {
			o.a = v
		} else {
			o.b = v
		}
	}
	return o, true
}

// overFilmPart takes a film part as a face: its longest level or plumb extent
// on the side named, or for joining, the last piece of its path.
func (r *resolver) overFilmPart(part int, k sideKey, o overRun) (overRun, bool) {
	pts, ok := r.pointsOf(k.part, o.of.At)
	if !ok {
		return o, false
	}
	if len(pts) < 2 {
		return o, false
	}
	n := len(pts) - 2
	if o.of.Side == "" {
		o.film = true
	} else {
		// The piece that turns most to the side named, the longest of them.
		best := -1.0
		for i := range len(pts) - 1 {
			d := vec{pts[i+1].x - pts[i].x, pts[i+1].y - pts[i].y}
			w := math.Abs(d.y)
			if sideAxis(o.of.Side) == upward {
				w = math.Abs(d.x)
			}
			if w > best {
				best, n = w, i
			}
		}
	}
	o.a, o.b = pts[n], pts[n+1]
	o.l = through2(o.a, o.b)
	side := o.of.Side
	o.rank = (k.part + 1) << 10
	if ps := r.pieces[k.part]; n < len(ps) {
		o.rank, o.outward = ps[n].rank, ps[n].outward
	}
	if side != "" {
		out := outwardOf(side, o.l)
		if o.outward == (vec{}) {
			o.outward = out
		}
		if out.x*o.outward.x+out.y*o.outward.y < 0 {
			o.rank -= 1<<9 - (part + 1)
		} else {
			o.rank += part + 1
		}
	}
	return o, true
}

// outwardOf is the direction a face on that side looks, square to its line.
func outwardOf(side detail.Side, l line) vec {
	_, d := l.form()
	n := vec{-d.y, d.x}
	w := map[detail.Side]vec{detail.Left: {-1, 0}, detail.Right: {1, 0}, detail.Bottom: {0, -1}, detail.Top: {0, 1}}[side]
	if n.x*w.x+n.y*w.y < 0 {
		n = vec{-n.x, -n.y}
	}
	return n
}
