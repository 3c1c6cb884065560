// Package geometry holds plane geometry on integer micrometres: points,
// exact predicates, polygons, and the planar arrangement of a set of
// segments.
//
// Laws. Each is a test.
//
//  1. Orient, Compare and every other predicate is exact for coordinates
//     within ±[Limit].
//  2. [Node] returns edges that meet at shared end points only: no two cross,
//     overlap or touch elsewhere.
//  3. Noding moves no point of a segment by more than one pixel (1 µm): each
//     output vertex is an end point, or the crossing of two segments rounded
//     to the nearest micrometre (halves up). A level or plumb segment stays
//     exactly where it was.
//  4. Noding level and plumb segments is exact: noding them twice changes
//     nothing. (A slanting edge, once bent, may pass a further pixel.)
//  5. Every half-edge of an [Arrangement] lies on exactly one face, and the
//     signed areas of its bounded faces (holes taken off) sum to the area the
//     outermost loops enclose.
//  6. Euler: vertices − edges + faces = 1 + connected components.
//  7. The order of the segments given does not change the arrangement.
//
// Crossings are found on a uniform grid, so that time grows with the number
// of segments where they are spread over the plane.
package geometry

import "math/bits"

// Limit bounds every coordinate, µm (about 537 m). Within it the difference
// of two coordinates has 30 bits and a cross product 61: int64 holds it.
const Limit = 1 << 29

// Point is a place, µm: x to the right, y up.
type Point struct{ X, Y int64 }

// Sub returns p − q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Less orders points by x, then y.
func (p Point) Less(q Point) bool { return p.X < q.X || p.X == q.X && p.Y < q.Y }

// Cross returns the z of p × q, exact within twice [Limit].
func Cross(p, q Point) int64 { return p.X*q.Y - p.Y*q.X }

// Dot returns p · q, exact within twice [Limit].
func Dot(p, q Point) int64 { return p.X*q.X + p.Y*q.Y }

// Orient returns +1 where a, b, c turn left, −1 right, 0 where they are in line.
func Orient(a, b, c Point) int {
	switch z := Cross(b.Sub(a), c.Sub(a)); {
	case z > 0:
		return 1
	case z < 0:
		return -1
	}
	return 0
}

// OnSegment reports whether p lies on the closed segment a–b.
func OnSegment(p, a, b Point) bool {
	return Orient(a, b, p) == 0 &&
		min(a.X, b.X) <= p.X && p.X <= max(a.X, b.X) &&
		min(a.Y, b.Y) <= p.Y && p.Y <= max(a.Y, b.Y)
}

// Box is an axis-parallel box, µm; both ends belong to it.
type Box struct{ Min, Max Point }

// EmptyBox is the box that holds nothing and grows from there.
func EmptyBox() Box {
	return Box{Point{Limit, Limit}, Point{-Limit, -Limit}}
}

// Grow returns the box that also holds p.
func (b Box) Grow(p Point) Box {
	return Box{Point{min(b.Min.X, p.X), min(b.Min.Y, p.Y)}, Point{max(b.Max.X, p.X), max(b.Max.Y, p.Y)}}
}

// Empty reports whether the box holds no point.
func (b Box) Empty() bool { return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y }

// Contains reports whether p lies in the closed box.
func (b Box) Contains(p Point) bool {
	return b.Min.X <= p.X && p.X <= b.Max.X && b.Min.Y <= p.Y && p.Y <= b.Max.Y
}

// Meets reports whether two closed boxes share a point.
func (b Box) Meets(c Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X && b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y
}

// Width and Height of the box, µm.
func (b Box) Width() int64  { return b.Max.X - b.Min.X }
func (b Box) Height() int64 { return b.Max.Y - b.Min.Y }

// Ring returns the box's corners, counter-clockwise from the lower left.
func (b Box) Ring() Ring {
	return Ring{b.Min, {b.Max.X, b.Min.Y}, b.Max, {b.Min.X, b.Max.Y}}
}

// compareFractions compares n1/d1 with n2/d2 for positive d, exactly.
func compareFractions(n1, d1, n2, d2 int64) int {
	return compareProducts(n1, d2, n2, d1)
}

// compareProducts compares a·b with c·d exactly, for b and d ≥ 0.
func compareProducts(a, b, c, d int64) int {
	sa, sc := sign(a), sign(c)
	if b == 0 {
		sa = 0
	}
	if d == 0 {
		sc = 0
	}
	if sa != sc {
		if sa < sc {
			return -1
		}
		return 1
	}
	if sa == 0 {
		return 0
	}
	h1, l1 := bits.Mul64(magnitude(a), uint64(b))
	h2, l2 := bits.Mul64(magnitude(c), uint64(d))
	r := 0
	switch {
	case h1 != h2:
		if r = 1; h1 < h2 {
			r = -1
		}
	case l1 != l2:
		if r = 1; l1 < l2 {
			r = -1
		}
	}
	return r * sa
}

func sign(a int64) int {
	switch {
	case a > 0:
		return 1
	case a < 0:
		return -1
	}
	return 0
}

func magnitude(a int64) uint64 {
	if a < 0 {
		return uint64(-a)
	}
	return uint64(a)
}
