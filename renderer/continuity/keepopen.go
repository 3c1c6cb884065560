package continuity

import (
	"math"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/geometry"
	"wythe/renderer/section"
)

// keepOpen proves every path that is to stay open: the air of a part, of a
// layer or of a space runs unbroken between two mouths and is nowhere
// narrower than said. A mouth is where it meets other air or the edge of the
// view.
func keepOpen(s *section.Section, list *finding.List) {
	for _, k := range s.Junction.KeepOpen {
		face, ok := throughFace(s, k)
		switch {
		case !ok:
			list.Errorf(k.At, "not-open", "draw the path, or take the line out", "%q is to stay open, and no air of it shows", k.Through)
		case len(face) > 1:
			list.Errorf(k.At, "not-open", "clear what stands in it", "%q is to stay open, and is blocked: it shows in %d stretches", k.Through, len(face))
		default:
			keepFaceOpen(s, k, face[0], list)
		}
	}
}

// throughFace finds the faces of what is to stay open.
func throughFace(s *section.Section, k detail.KeepOpen) (faces []int32, ok bool) {
	for i, f := range s.Faces {
		if f.Name == k.Through && s.Regions[f.Region].Air() || f.Space == k.Through {
			faces = append(faces, int32(i))
		}
	}
	return faces, len(faces) > 0
}

// keepFaceOpen walks round a face: walls between mouths must stand apart.
func keepFaceOpen(s *section.Section, k detail.KeepOpen, face int32, list *finding.List) {
	a := s.Arrangement
	air := func(f int32) bool { return f < 0 || s.Faces[f].Region < 0 || s.Regions[s.Faces[f].Region].Air() }
	inFace := func(h geometry.Half) bool { return s.FaceOf[a.FaceOf(h)] == face }
	edge := func(h geometry.Half) bool { return inFace(h) && !inFace(h.Twin()) }
	type wallEdge struct {
		chain int
		u, v  geometry.Point
	}
	var walls []wallEdge
	mouths, chains := 0, 0
	seen := make([]bool, 2*len(a.Edges))
	for i := range seen {
		first := geometry.Half(i)
		if seen[i] || !edge(first) {
			continue
		}
		var loop []geometry.Half
		for h := first; ; {
			seen[h] = true
			loop = append(loop, h)
			h = a.Next(h)
			for !edge(h) {
				h = a.Next(h.Twin())
			}
			if h == first {
				break
			}
		}
		isMouth := func(h geometry.Half) bool {
			return air(s.FaceOf[a.FaceOf(h.Twin())]) && len(s.FilmsOn[h.Edge()]) == 0
		}
		start := 0
		for n := range loop {
			if !isMouth(loop[n]) && isMouth(loop[(n+len(loop)-1)%len(loop)]) {
				start = n
				break
			}
		}
		before := true
		for n := range loop {
			h := loop[(start+n)%len(loop)]
			mouth := isMouth(h)
			switch {
			case mouth && !before:
				mouths++
			case !mouth && before:
				chains++
			}
			if !mouth {
				walls = append(walls, wallEdge{chains, a.Start(h), a.End(h)})
			}
			before = mouth
		}
	}
	if mouths < 2 {
		list.Errorf(k.At, "not-open", "open it at both ends", "%q is to stay open, and has %d of two mouths", k.Through, mouths)
		return
	}
	least := math.Inf(1)
	var at geometry.Vec
	for i, x := range walls {
		for _, y := range walls[i+1:] {
			if x.chain == y.chain {
				continue
			}
			if p, q, d := geometry.SegmentDistance(x.u, x.v, y.u, y.v); d < least {
				least, at = d, geometry.Vec{X: (p.X + q.X) / 2, Y: (p.Y + q.Y) / 2}
			}
		}
	}
	if want := float64(k.Least) * 1e6; least < want-thinRounding {
		list.Errorf(k.At, "not-open", "widen it there", "%q narrows to %.3g in at [%.4g in, %.4g in]; at least %.3g in is wanted",
			k.Through, least/25400, at.X/25400, at.Y/25400, want/25400)
	}
}
