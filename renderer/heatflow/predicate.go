package heatflow

import (
	"math"
	"math/bits"
)

// pt is a place in grains: 1/1024 µm, so that points set in while a mesh is
// refined are exact too. Coordinates stay within ±2^40 grains (about 1,070 m).
type pt struct{ x, y int64 }

// grainsPerMicrometre is how finely a mesh places its points.
const grainsPerMicrometre = 1024

const grain = 1e-6 / grainsPerMicrometre // m

// metres returns the coordinates in metres.
func (p pt) metres() (x, y float64) {
	return float64(p.x) * grain, float64(p.y) * grain
}

const epsilon = 1.0 / (1 << 53)

// orient returns +1 where a, b, c turn left, −1 right, 0 where they are in
// line. Exact: the difference of two coordinates fits a float64, so a float
// determinant outside its error bound has the right sign, and one inside it is
// worked out again in 128 bits.
func orient(a, b, c pt) int {
	ax, ay := b.x-a.x, b.y-a.y
	bx, by := c.x-a.x, c.y-a.y
	l, r := float64(ax)*float64(by), float64(ay)*float64(bx)
	det := l - r
	if bound := 4 * epsilon * (math.Abs(l) + math.Abs(r)); det > bound {
		return 1
	} else if det < -bound {
		return -1
	}
	return compareProducts(ax, by, ay, bx)
}

// compareProducts returns the sign of a·b − c·d, exactly.
func compareProducts(a, b, c, d int64) int {
	s, h, l := mul(a, b)
	t, i, m := mul(c, d)
	if s != t {
		return cmp(s, t)
	}
	switch {
	case h != i:
		return s * cmp(h, i)
	default:
		return s * cmp(l, m)
	}
}

func mul(a, b int64) (sign int, hi, lo uint64) {
	sign = 1
	if a < 0 {
		a, sign = -a, -sign
	}
	if b < 0 {
		b, sign = -b, -sign
	}
	hi, lo = bits.Mul64(uint64(a), uint64(b))
	if hi == 0 && lo == 0 {
		sign = 0
	}
	return sign, hi, lo
}

func cmp[T int | uint64](a, b T) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// inCircle returns +1 where d lies inside the circle through a, b, c (which
// turn left), −1 outside, 0 on it. Exact, by a filtered determinant.
//
// Bound: Shewchuk, Adaptive precision floating-point arithmetic (1997), the
// filter of incircle; here the differences are exact, so it is on the safe side.
func inCircle(a, b, c, d pt) int {
	adx, ady := float64(a.x-d.x), float64(a.y-d.y)
	bdx, bdy := float64(b.x-d.x), float64(b.y-d.y)
	cdx, cdy := float64(c.x-d.x), float64(c.y-d.y)
	bc, cb := bdx*cdy, cdx*bdy
	ca, ac := cdx*ady, adx*cdy
	ab, ba := adx*bdy, bdx*ady
	al, bl, cl := adx*adx+ady*ady, bdx*bdx+bdy*bdy, cdx*cdx+cdy*cdy
	det := al*(bc-cb) + bl*(ca-ac) + cl*(ab-ba)
	permanent := (math.Abs(bc)+math.Abs(cb))*al + (math.Abs(ca)+math.Abs(ac))*bl + (math.Abs(ab)+math.Abs(ba))*cl
	if bound := (10 + 96*epsilon) * epsilon * permanent; det > bound {
		return 1
	} else if det < -bound {
		return -1
	}
	return inCircleExact(a, b, c, d)
}

// inCircleExact is inCircle in whole numbers: with differences of at most 45
// bits the determinant has fewer than 192, so it is exact modulo 2^192.
func inCircleExact(a, b, c, d pt) int {
	adx, ady := wide(a.x-d.x), wide(a.y-d.y)
	bdx, bdy := wide(b.x-d.x), wide(b.y-d.y)
	cdx, cdy := wide(c.x-d.x), wide(c.y-d.y)
	term := func(x, y, u0, u1, v0, v1 int192) int192 {
		return x.times(x).plus(y.times(y)).times(u0.times(u1).minus(v0.times(v1)))
	}
	det := term(adx, ady, bdx, cdy, cdx, bdy).
		plus(term(bdx, bdy, cdx, ady, adx, cdy)).
		plus(term(cdx, cdy, adx, bdy, bdx, ady))
	switch {
	case det.hi < 0:
		return -1
	case det.hi == 0 && det.mid == 0 && det.lo == 0:
		return 0
	}
	return 1
}

// int192 is a whole number of 192 bits in two's complement.
type int192 struct {
	hi      int64
	mid, lo uint64
}

func wide(v int64) int192 { return int192{v >> 63, uint64(v >> 63), uint64(v)} }

func (a int192) plus(b int192) int192 {
	lo, c := bits.Add64(a.lo, b.lo, 0)
	mid, c := bits.Add64(a.mid, b.mid, c)
	return int192{a.hi + b.hi + int64(c), mid, lo}
}

func (a int192) minus(b int192) int192 {
	lo, c := bits.Sub64(a.lo, b.lo, 0)
	mid, c := bits.Sub64(a.mid, b.mid, c)
	return int192{a.hi - b.hi - int64(c), mid, lo}
}

func (a int192) times(b int192) int192 {
	h0, lo := bits.Mul64(a.lo, b.lo)
	h1, l1 := bits.Mul64(a.lo, b.mid)
	h2, l2 := bits.Mul64(a.mid, b.lo)
	mid, c1 := bits.Add64(h0, l1, 0)
	mid, c2 := bits.Add64(mid, l2, 0)
	hi := h1 + h2 + c1 + c2 + a.lo*uint64(b.hi) + a.mid*b.mid + uint64(a.hi)*b.lo
	return int192{int64(hi), mid, lo}
}
