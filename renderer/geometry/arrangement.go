package geometry

import "slices"

// Half is a half-edge: 2e runs along edge e from U to V, 2e+1 back.
type Half int32

// Twin is the half-edge that runs the other way.
func (h Half) Twin() Half { return h ^ 1 }

// Edge is the edge the half-edge runs along.
func (h Half) Edge() int32 { return int32(h >> 1) }

// Arrangement is the plane cut by noded edges: vertices, edges, faces. Face 0
// is the unbounded one. A face lies to the left of its half-edges.
type Arrangement struct {
	*Noded
	next   []Half
	face   []int32 // per half-edge
	out    []Half  // half-edges from each vertex, counter-clockwise
	outAt  []int32 // per vertex, into out; one more
	halves []Half  // half-edges of each face
	faceAt []int32 // per face, into halves; one more
	outer  []Half  // per face, one half-edge of its outer loop; -1 for face 0
	inner  [][]Half
	rows   *rowIndex
}

// Arrange builds the arrangement of the segments.
func Arrange(segments []Segment) *Arrangement { return arrange(Node(segments)) }

func arrange(n *Noded) *Arrangement {
	a := &Arrangement{Noded: n}
	a.sortOutgoing()
	a.link()
	a.faces()
	return a
}

// From and To are the vertices a half-edge runs between.
func (a *Arrangement) From(h Half) int32 {
	if h&1 == 0 {
		return a.Edges[h>>1].U
	}
	return a.Edges[h>>1].V
}

// To is the vertex the half-edge ends at.
func (a *Arrangement) To(h Half) int32 { return a.From(h ^ 1) }

// Start and End are the places a half-edge runs between.
func (a *Arrangement) Start(h Half) Point { return a.Points[a.From(h)] }

// End is the place the half-edge ends at.
func (a *Arrangement) End(h Half) Point { return a.Points[a.To(h)] }

// Next is the half-edge that follows h along its face.
func (a *Arrangement) Next(h Half) Half { return a.next[h] }

// FaceOf is the face to the left of h.
func (a *Arrangement) FaceOf(h Half) int32 { return a.face[h] }

// Faces counts the faces, the unbounded one too.
func (a *Arrangement) Faces() int { return len(a.outer) }

// Halves returns the half-edges that bound a face, loop after loop.
func (a *Arrangement) Halves(face int32) []Half {
	return a.halves[a.faceAt[face]:a.faceAt[face+1]]
}

// Outgoing returns the half-edges that start at a vertex, counter-clockwise
// from the direction of +x.
func (a *Arrangement) Outgoing(v int32) []Half { return a.out[a.outAt[v]:a.outAt[v+1]] }

// Polygon returns a bounded face as a polygon; dangling edges appear twice in
// its rings.
func (a *Arrangement) Polygon(face int32) Polygon {
	p := Polygon{Outer: a.loop(a.outer[face])}
	for _, h := range a.inner[face] {
		p.Holes = append(p.Holes, a.loop(h))
	}
	return p
}

// Area2 returns twice the area of a bounded face, µm².
func (a *Arrangement) Area2(face int32) int64 {
	var sum int64
	if face == 0 {
		return 0
	}
	o := a.Start(a.outer[face])
	for _, h := range a.Halves(face) {
		sum += Cross(a.Start(h).Sub(o), a.End(h).Sub(o))
	}
	return sum
}

func (a *Arrangement) loop(h Half) Ring {
	var r Ring
	for g := h; ; {
		r = append(r, a.Start(g))
		if g = a.next[g]; g == h {
			return r
		}
	}
}

// sortOutgoing lists the half-edges of each vertex counter-clockwise.
func (a *Arrangement) sortOutgoing() {
	a.outAt = make([]int32, len(a.Points)+1)
	for _, e := range a.Edges {
		a.outAt[e.U+1]++
		a.outAt[e.V+1]++
	}
	for v := 1; v < len(a.outAt); v++ {
		a.outAt[v] += a.outAt[v-1]
	}
	a.out = make([]Half, 2*len(a.Edges))
	at := slices.Clone(a.outAt)
	for i, e := range a.Edges {
		a.out[at[e.U]] = Half(2 * i)
		at[e.U]++
		a.out[at[e.V]] = Half(2*i + 1)
		at[e.V]++
	}
	for v := range a.Points {
		o := a.Points[v]
		slices.SortFunc(a.out[a.outAt[v]:a.outAt[v+1]], func(g, h Half) int {
			p, q := a.End(g).Sub(o), a.End(h).Sub(o)
			if hp, hq := lowerHalf(p), lowerHalf(q); hp != hq {
				return hp - hq
			}
			return -sign(Cross(p, q))
		})
	}
}

// lowerHalf is 0 for directions in [0°, 180°), 1 for the rest.
func lowerHalf(d Point) int {
	if d.Y > 0 || d.Y == 0 && d.X > 0 {
		return 0
	}
	return 1
}

// link finds the half-edge after each: at its end, the next one clockwise.
func (a *Arrangement) link() {
	a.next = make([]Half, 2*len(a.Edges))
	for v := range a.Points {
		out := a.out[a.outAt[v]:a.outAt[v+1]]
		for i, h := range out {
			before := out[(i+len(out)-1)%len(out)]
			a.next[h.Twin()] = before
		}
	}
}

// faces traces loops, gives each counter-clockwise loop a face and each other
// loop to the face around it.
func (a *Arrangement) faces() {
	loopOf := make([]int32, len(a.next))
	for i := range loopOf {
		loopOf[i] = -1
	}
	type hole struct {
		loop  int32
		least int32 // its least vertex
		first Half
	}
	var holes []hole
	var loopFace []int32
	a.outer = append(a.outer, -1)
	for h := range a.next {
		if loopOf[h] >= 0 {
			continue
		}
		id := int32(len(loopFace))
		var area int64
		o := a.Start(Half(h))
		least := a.From(Half(h))
		for g := Half(h); ; {
			loopOf[g] = id
			area += Cross(a.Start(g).Sub(o), a.End(g).Sub(o))
			least = min(least, a.From(g))
			if g = a.next[g]; g == Half(h) {
				break
			}
		}
		if area > 0 {
			loopFace = append(loopFace, int32(len(a.outer)))
			a.outer = append(a.outer, Half(h))
		} else {
			loopFace = append(loopFace, -1)
			holes = append(holes, hole{id, least, Half(h)})
		}
	}
	a.inner = make([][]Half, len(a.outer))
	slices.SortFunc(holes, func(x, y hole) int {
		if x.least != y.least {
			return int(x.least) - int(y.least)
		}
		return int(x.loop) - int(y.loop)
	})
	if len(a.Edges) > 0 {
		a.rows = newRowIndex(a)
	}
	for _, l := range holes {
		f := int32(0)
		if h, ok := a.rows.leftOf(a.Points[l.least], false); ok {
			f = loopFace[loopOf[h]]
		}
		loopFace[l.loop] = f
		a.inner[f] = append(a.inner[f], l.first)
	}
	a.face = make([]int32, len(a.next))
	a.faceAt = make([]int32, len(a.outer)+1)
	for h := range a.next {
		f := loopFace[loopOf[h]]
		a.face[h] = f
		a.faceAt[f+1]++
	}
	for f := 1; f < len(a.faceAt); f++ {
		a.faceAt[f] += a.faceAt[f-1]
	}
	a.halves = make([]Half, len(a.next))
	at := slices.Clone(a.faceAt)
	for h, f := range a.face {
		a.halves[at[f]] = Half(h)
		at[f]++
	}
}

// FaceAt returns the face p lies in. Where p lies on an edge or a vertex, on
// is true and face is one that touches it.
func (a *Arrangement) FaceAt(p Point) (face int32, on bool) {
	if a.rows == nil {
		return 0, false
	}
	if h, ok := a.rows.through(p); ok {
		return a.face[h], true
	}
	if h, ok := a.rows.leftOf(p, true); ok {
		return a.face[h], false
	}
	return 0, false
}
