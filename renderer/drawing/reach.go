package drawing

// Reaches reports whether n draws something within a box: straight strokes
// piece by piece; curves, areas and words by the boxes that hold them.
func Reaches(n Node, within Box) bool { return reaches(n, Point{}, within) }

func reaches(n Node, shift Point, within Box) bool {
	switch n := n.(type) {
	case *Group:
		if n.Clip != nil {
			break
		}
		shift.X += n.Shift.X
		shift.Y += n.Shift.Y
		for _, c := range n.Nodes {
			if reaches(c, shift, within) {
				return true
			}
		}
		return false
	case *Path:
		if n.Fill != InkNone {
			break
		}
		for _, again := range append([]Point{{}}, n.Again...) {
			if strokeReaches(n, Point{shift.X + again.X, shift.Y + again.Y}, within) {
				return true
			}
		}
		return false
	}
	b := Bounds(n)
	if b.Empty() {
		return false
	}
	var box Box
	box.Add(b.Min.X+shift.X-hairline, b.Min.Y+shift.Y-hairline)
	box.Add(b.Max.X+shift.X+hairline, b.Max.Y+shift.Y+hairline)
	return box.Overlaps(within)
}

// hairline is the least a line is taken to be wide, mm.
const hairline = 0.01

func strokeReaches(p *Path, shift Point, within Box) bool {
	var from, start Point
	move := func(q Point) Point { return Point{q.X + shift.X, q.Y + shift.Y} }
	for i := range p.Segs {
		s := &p.Segs[i]
		switch s.Op {
		case MoveTo:
			from = move(s.P[0])
			start = from
		case Dot:
			from = move(s.P[0])
			if start = from; segmentEnters(from, from, within) {
				return true
			}
		case LineTo:
			to := move(s.P[0])
			if segmentEnters(from, to, within) {
				return true
			}
			from = to
		case Close:
			if segmentEnters(from, start, within) {
				return true
			}
			from = start
		default: // a curve
			b := Bounds(&Path{Segs: []Seg{{Op: MoveTo, P: [3]Point{{from.X - shift.X, from.Y - shift.Y}}}, *s}})
			if (Box{Min: move(b.Min), Max: move(b.Max), full: true}).Overlaps(within) {
				return true
			}
			if from = move(s.P[0]); s.Op == CurveTo {
				from = move(s.P[2])
			}
		}
	}
	return false
}
