package geometry

import "math/bits"

// crossing returns the micrometre pixel that holds the single point two
// segments share, where neither ends in it by touching: proper crossings and
// T-junctions at an end are both found; the second is reported as the end
// itself. ok is false where the segments share no point or a stretch (whose
// ends are then end points already).
func crossing(a, b, c, d Point) (p Point, ok bool) {
	if max(a.X, b.X) < min(c.X, d.X) || max(c.X, d.X) < min(a.X, b.X) ||
		max(a.Y, b.Y) < min(c.Y, d.Y) || max(c.Y, d.Y) < min(a.Y, b.Y) {
		return Point{}, false
	}
	u, v := b.Sub(a), d.Sub(c)
	den := Cross(u, v)
	if den == 0 {
		return Point{}, false
	}
	w := c.Sub(a)
	num := Cross(w, v)  // along a–b
	num2 := Cross(w, u) // along c–d
	if den < 0 {
		den, num, num2 = -den, -num, -num2
	}
	if num < 0 || num > den || num2 < 0 || num2 > den {
		return Point{}, false
	}
	return Point{a.X + scaleRound(u.X, num, den), a.Y + scaleRound(u.Y, num, den)}, true
}

// scaleRound returns ⌊d·num/den + ½⌋ exactly, for 0 ≤ num ≤ den, den > 0.
func scaleRound(d, num, den int64) int64 {
	if d == 0 || num == 0 {
		return 0
	}
	hi, lo := bits.Mul64(magnitude(d)*2, uint64(num))
	twice := uint64(den) * 2
	if d > 0 {
		var carry uint64
		lo, carry = bits.Add64(lo, uint64(den), 0)
		q, _ := bits.Div64(hi+carry, lo, twice)
		return int64(q)
	}
	if hi == 0 && lo <= uint64(den) {
		return 0
	}
	var borrow uint64
	lo, borrow = bits.Sub64(lo, uint64(den), 0)
	q, r := bits.Div64(hi-borrow, lo, twice)
	if r > 0 {
		q++
	}
	return -int64(q)
}

// inPixel reports whether the segment a–b meets the half-open pixel
// [x−½, x+½) × [y−½, y+½) around p, exactly.
func inPixel(a, b, p Point) bool {
	if p == a || p == b {
		return true
	}
	lo := bound{0, 1, false}
	hi := bound{1, 1, false}
	return clip(&lo, &hi, 2*a.X, 2*(b.X-a.X), 2*p.X) &&
		clip(&lo, &hi, 2*a.Y, 2*(b.Y-a.Y), 2*p.Y)
}

// bound is one end of a stretch of a segment: the fraction n/d, left out
// itself where strict.
type bound struct {
	n, d   int64
	strict bool
}

// clip narrows lo..hi to where start + t·step lies in [middle−1, middle+1).
func clip(lo, hi *bound, start, step, middle int64) bool {
	from, to := middle-1-start, middle+1-start
	switch {
	case step == 0:
		return from <= 0 && 0 < to
	case step > 0:
		raise(lo, bound{from, step, false})
		lower(hi, bound{to, step, true})
	default:
		raise(lo, bound{-to, -step, true})
		lower(hi, bound{-from, -step, false})
	}
	switch c := sign(lo.n*hi.d - hi.n*lo.d); {
	case c < 0:
		return true
	case c == 0:
		return !lo.strict && !hi.strict
	}
	return false
}

func raise(lo *bound, b bound) {
	switch c := sign(b.n*lo.d - lo.n*b.d); {
	case c > 0:
		*lo = b
	case c == 0:
		lo.strict = lo.strict || b.strict
	}
}

func lower(hi *bound, b bound) {
	switch c := sign(b.n*hi.d - hi.n*b.d); {
	case c < 0:
		*hi = b
	case c == 0:
		hi.strict = hi.strict || b.strict
	}
}
