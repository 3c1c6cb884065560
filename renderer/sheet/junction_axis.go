package sheet

import (
	"math"
	"slices"

	"wythe/renderer/detail"
	"wythe/renderer/geometry"
	"wythe/renderer/section"
)

// Sizes of lines through the middle of what keeps heat, mm on paper.
const (
	axisDeepest = 14.0 // from the face that looks inside, in a deep carrier
	axisInset   = 5.0  // from the end of a long touch at which the line crosses over
	axisLook    = 0.8  // between the places looked at along a line
	axisWithin  = 0.93 // the least share of them within the carriers
)

// memberMost is how much framing may stand in a layer, µm, for the layer's line
// to run on through it instead of round it by a neighbour.
const memberMost = 150_000

// strip is a carrier as a long body: its direction, and how far its middle
// lies from the origin along the normal, µm.
type strip struct {
	u, n         geometry.Vec
	lo, mid, hi  float64
	from, beyond float64 // its ends, along u
}

func dot(a, b geometry.Vec) float64 { return a.X*b.X + a.Y*b.Y }

// foot is the place on the middle line nearest to p.
func (s *strip) foot(p geometry.Vec) geometry.Vec {
	d := s.mid - dot(p, s.n)
	return geometry.Vec{X: p.X + d*s.n.X, Y: p.Y + d*s.n.Y}
}

// stripOf takes a named carrier for a strip: a layer as it was laid, before
// others were set into it; else the face that shows where the track enters it,
// crossed the way the track goes. It is false where it is bent or no body.
func (j *junction) stripOf(name string, near, to geometry.Point) (strip, bool) {
	best, found := strip{}, false
	least := math.Inf(1)
	for i := range j.s.Faces {
		f := &j.s.Faces[i]
		if f.Name != name || f.Region < 0 {
			continue
		}
		r := &j.s.Regions[f.Region]
		part := j.d.Junction.Parts[r.Part]
		ring := f.Polygon.Outer
		if part.Kind == detail.Laid {
			ring = r.Ring
		}
		sin, cos := math.Sincos(r.Slope)
		s := strip{u: geometry.Vec{X: cos, Y: sin}, n: geometry.Vec{X: -sin, Y: cos}}
		lo, hi := geometry.Vec{X: math.Inf(1), Y: math.Inf(1)}, geometry.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
		area, away := 0.0, math.Inf(1)
		for k, p := range ring {
			q := ring[(k+1)%len(ring)]
			a, b := dot(p.Vec(), s.u), dot(p.Vec(), s.n)
			lo.X, hi.X, lo.Y, hi.Y = min(lo.X, a), max(hi.X, a), min(lo.Y, b), max(hi.Y, b)
			area += float64(p.X)*float64(q.Y) - float64(q.X)*float64(p.Y)
		}
		for k, p := range f.Polygon.Outer {
			_, d := geometry.Nearest(near.Vec(), p.Vec(), f.Polygon.Outer[(k+1)%len(f.Polygon.Outer)].Vec())
			away = min(away, d)
		}
		way := to.Sub(near).Vec()
		upright := math.Abs(dot(way, s.n)) > math.Abs(dot(way, s.u))
		if part.Kind == detail.Laid {
			upright = part.Inside == detail.Left || part.Inside == detail.Right
		} else if area/2 < 0.5*(hi.X-lo.X)*(hi.Y-lo.Y) {
			continue
		}
		if upright {
			s.u, s.n = s.n, geometry.Vec{X: -s.u.X, Y: -s.u.Y}
			lo, hi = geometry.Vec{X: lo.Y, Y: -hi.X}, geometry.Vec{X: hi.Y, Y: -lo.X}
		}
		s.lo, s.hi, s.mid = lo.Y, hi.Y, (lo.Y+hi.Y)/2
		s.from, s.beyond = lo.X, hi.X
		if away < least {
			best, found, least = s, true, away
		}
	}
	return best, found
}

// leg is the stretch of a track within one carrier.
type leg struct {
	strip
	name     string
	from, to geometry.Point
}

// axis is a track led through the middle of its carriers, from touch to touch;
// false where a carrier is no strip or the middle is not all of them. Where the
// control stops short, in a small piece, it stops amid that. Others says how
// many lines of other controls follow each carrier.
func (j *junction) axis(t *track, short [2]bool, others map[string]int) ([]geometry.Point, bool) {
	var legs []leg
	for i, name := range t.name {
		if n := len(legs); n > 0 && legs[n-1].name == name {
			legs[n-1].to = t.pts[i+1]
			continue
		}
		legs = append(legs, leg{name: name, from: t.pts[i], to: t.pts[i+1]})
	}
	for i := range legs {
		l := &legs[i]
		s, ok := j.stripOf(l.name, l.from, l.to)
		if !ok {
			return nil, false
		}
		l.strip = s
		// From the face that the line was traced on: no deeper than is usual, and
		// past the lines of the other controls that the carrier is lined with.
		mm := 1000 * j.scale
		depth := min(max((s.hi-s.lo)/2, (1.5+controlPitch*float64(others[l.name]))*mm), axisDeepest*mm, s.hi-s.lo-1.2*mm)
		if depth <= 0 {
			continue
		}
		d, near := dot(l.from.Vec(), s.n), min((s.hi-s.lo)/3, 4*mm)
		for _, share := range [...]float64{1, 0.7, 0.4, 0.2} { // not within a break of the view
			switch {
			case d-s.lo < near:
				l.mid = s.lo + share*depth
			case s.hi-d < near:
				l.mid = s.hi - share*depth
			}
			if !j.omitted(l.foot(l.from.Vec())) && !j.omitted(l.foot(l.to.Vec())) {
				break
			}
		}
	}
	legs = j.straightOn(legs)
	var line []geometry.Vec
	add := func(p geometry.Vec) {
		if n := len(line); n == 0 || math.Hypot(line[n-1].X-p.X, line[n-1].Y-p.Y) > 1000 {
			line = append(line, p)
		}
	}
	last := len(legs) - 1
	if !short[0] || last == 0 {
		add(legs[0].foot(legs[0].from.Vec()))
	}
	for i := range legs[:last] {
		c := j.touch(&legs[i], &legs[i+1])
		add(legs[i].foot(c))
		add(c)
		add(legs[i+1].foot(c))
	}
	if !short[1] || last == 0 {
		add(legs[last].foot(legs[last].to.Vec()))
	}
	out := make([]geometry.Point, 0, len(line))
	for _, v := range line {
		p := rounded(v)
		for len(out) > 1 && flat(out[len(out)-2], out[len(out)-1], p) {
			out = out[:len(out)-1]
		}
		out = append(out, p)
	}
	return out, len(out) > 1 && j.amid(out, t.name) >= axisWithin
}

// omitted reports whether a break leaves a place of the view out.
func (j *junction) omitted(v geometry.Vec) bool {
	p := rounded(v)
	_, _, ok := j.shown(p)
	return !ok && j.s.View.Contains(p)
}

func rounded(v geometry.Vec) geometry.Point {
	return geometry.Point{X: int64(math.Round(v.X)), Y: int64(math.Round(v.Y))}
}

// straightOn leaves out where a track leaves a carrier, to pass by a piece of
// framing or round a neighbour's corner, and comes back to it.
func (j *junction) straightOn(legs []leg) []leg {
	for i := 0; i < len(legs); i++ {
		for k := len(legs) - 1; k > i+1; k-- {
			a, b := &legs[i], &legs[k]
			if a.name == b.name && a.strip == b.strip && math.Abs(dot(b.from.Vec(), a.u)-dot(a.to.Vec(), a.u)) <= memberMost {
				a.to = b.to
				legs = slices.Delete(legs, i+1, k+1)
				break
			}
		}
	}
	return legs
}

// flat reports whether b lies within a tenth of a millimetre of the line from
// a to c, between them.
func flat(a, b, c geometry.Point) bool {
	_, d := geometry.Nearest(b.Vec(), a.Vec(), c.Vec())
	return d < 100
}

// amid is the share of a line within the view that lies in carriers of the
// names given, as they were laid.
func (j *junction) amid(line []geometry.Point, names []string) float64 {
	in, all := 0, 0
	step := axisLook * 1000 * j.scale
	for i := range line[1:] {
		a, b := line[i], line[i+1]
		n := max(1, int(a.Distance(b)/step))
		for k := range n {
			s := (float64(k) + 0.5) / float64(n)
			p := geometry.Point{X: a.X + int64(s*float64(b.X-a.X)), Y: a.Y + int64(s*float64(b.Y-a.Y))}
			if !j.s.View.Contains(p) {
				continue
			}
			all++
			if slices.ContainsFunc(j.s.Regions, func(r section.Region) bool {
				return slices.Contains(names, r.Name) && geometry.Polygon{Outer: r.Ring}.Locate(p) != geometry.Out
			}) {
				in++
			}
		}
	}
	if all == 0 {
		return 0
	}
	return float64(in) / float64(all)
}

// touch is where the line crosses from one carrier to the next: straight on
// where one ends on the other, else near the end of their touch from which the
// line goes on.
func (j *junction) touch(a, b *leg) geometry.Vec {
	from := a.to.Vec()
	dir, length := j.touching(a.name, b.name, a.to)
	if length == 0 {
		return from
	}
	s := min(length/2, axisInset*1000*j.scale)
	for _, l := range [...]*leg{a, b} {
		// Where the middle of l meets the touch, if it crosses it.
		if across := dot(dir, l.n); math.Abs(across) > 0.5 {
			s = min(max((l.mid-dot(from, l.n))/across, min(s, length*0.1)), length*0.9)
			break
		}
	}
	return geometry.Vec{X: from.X + dir.X*s, Y: from.Y + dir.Y*s}
}

// touching follows the edge between two carriers away from a place: the
// direction and the length of its straight stretch, µm, the longest of those
// that begin there. Where the place lies amid the edge, it is measured from
// the place.
func (j *junction) touching(a, b string, at geometry.Point) (dir geometry.Vec, length float64) {
	arr := j.s.Arrangement
	name := func(h geometry.Half) string {
		if k := j.s.FaceOf[arr.FaceOf(h)]; k >= 0 {
			return j.s.Faces[k].Name
		}
		return ""
	}
	between := func(e int) bool {
		l, r := name(geometry.Half(2*e)), name(geometry.Half(2*e+1))
		return l == a && r == b || l == b && r == a
	}
	for e := range arr.Edges {
		u, v := arr.Points[arr.Edges[e].U], arr.Points[arr.Edges[e].V]
		if !between(e) || !geometry.OnSegment(at, u, v) {
			continue
		}
		for _, far := range [...]geometry.Point{u, v} {
			l := at.Distance(far)
			if l == 0 {
				continue
			}
			d := geometry.Vec{X: float64(far.X-at.X) / l, Y: float64(far.Y-at.Y) / l}
			// On along the same line, edge by edge.
			for grown := true; grown; {
				grown = false
				for e := range arr.Edges {
					p, q := arr.Points[arr.Edges[e].U], arr.Points[arr.Edges[e].V]
					if q == far {
						p, q = q, p
					}
					if p == far && geometry.Orient(at, far, q) == 0 && at.Distance(q) > l && between(e) {
						far, l, grown = q, at.Distance(q), true
						break
					}
				}
			}
			if l > length {
				dir, length = d, l
			}
		}
	}
	return dir, length
}

// axisRuns lays out a line of thermal control; false where it must follow the
// carriers' faces.
func (j *junction) axisRuns(t *track, others map[string]int) (runs []controlRun, ok bool) {
	n := len(t.pts)
	on := [2]bool{j.onSide(t.pts[0]), j.onSide(t.pts[n-1])}
	line, ok := j.axis(t, [2]bool{!on[0] && !j.layer(t.name[0]), !on[1] && !j.layer(t.name[n-2])}, others)
	if !ok {
		return nil, false
	}
	reach := func(end, from geometry.Point) geometry.Point {
		l := end.Distance(from)
		out := 4 * axisDeepest * 1000 * j.scale / l
		return geometry.Point{X: end.X + int64(out*float64(end.X-from.X)), Y: end.Y + int64(out*float64(end.Y-from.Y))}
	}
	if on[0] {
		line[0] = reach(line[0], line[1])
	}
	if last := len(line) - 1; on[1] {
		line[last] = reach(line[last], line[last-1])
	}
	for k := range j.windows {
		w := &j.windows[k]
		pts := j.onPaper(w, line)
		for _, run := range w.line(pts) {
			if pathLength(run) > 1.2 {
				runs = append(runs, controlRun{control: detail.Thermal, pts: run, bars: [2]bool{
					run[0] == pts[0] && !on[0], run[len(run)-1] == pts[len(pts)-1] && !on[1]}})
			}
		}
	}
	return runs, true
}

// layer reports whether a name is that of a layer of an assembly.
func (j *junction) layer(name string) bool {
	return slices.ContainsFunc(j.s.Faces, func(f section.Face) bool { return f.Name == name && f.Layer >= 0 })
}
