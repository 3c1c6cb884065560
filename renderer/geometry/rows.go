package geometry

// rowIndex lists edges by level bands, to look left from a point.
type rowIndex struct {
	a      *Arrangement
	bottom int64
	band   int64
	start  []int32
	items  []int32
}

func newRowIndex(a *Arrangement) *rowIndex {
	lo, hi := a.Points[0].Y, a.Points[0].Y
	for _, p := range a.Points {
		lo, hi = min(lo, p.Y), max(hi, p.Y)
	}
	n := int64(1)
	for n*n < int64(len(a.Edges)) {
		n++
	}
	r := &rowIndex{a: a, bottom: lo, band: (hi-lo)/n + 1}
	rows := int((hi-lo)/r.band) + 1
	r.start = make([]int32, rows+1)
	for _, e := range a.Edges {
		f, t := r.span(e)
		for k := f; k <= t; k++ {
			r.start[k+1]++
		}
	}
	for k := 1; k <= rows; k++ {
		r.start[k] += r.start[k-1]
	}
	r.items = make([]int32, r.start[rows])
	at := append([]int32(nil), r.start...)
	for i, e := range a.Edges {
		f, t := r.span(e)
		for k := f; k <= t; k++ {
			r.items[at[k]] = int32(i)
			at[k]++
		}
	}
	return r
}

func (r *rowIndex) span(e Edge) (from, to int64) {
	y0, y1 := r.a.Points[e.U].Y, r.a.Points[e.V].Y
	return (min(y0, y1) - r.bottom) / r.band, (max(y0, y1) - r.bottom) / r.band
}

func (r *rowIndex) row(y int64) []int32 {
	if y < r.bottom {
		return nil
	}
	k := (y - r.bottom) / r.band
	if k >= int64(len(r.start)-1) {
		return nil
	}
	return r.items[r.start[k]:r.start[k+1]]
}

// leftOf looks left from p, a hair above its level, and returns the half-edge
// first met that has the way back to p on its left. Edges that touch p count
// where touching is set (p then lies on no edge, so none do); without it,
// edges from p itself are passed over.
func (r *rowIndex) leftOf(p Point, touching bool) (Half, bool) {
	best := Half(-1)
	var bestLow, bestHigh Point
	for _, e := range r.row(p.Y) {
		low, high, down := r.a.Points[r.a.Edges[e].U], r.a.Points[r.a.Edges[e].V], Half(2*e+1)
		if low.Y > high.Y {
			low, high, down = high, low, Half(2*e)
		}
		if low.Y > p.Y || high.Y <= p.Y {
			continue
		}
		// p right of the edge, looking up.
		if o := Orient(low, high, p); o > 0 || o == 0 && !touching {
			continue
		}
		if best >= 0 && !rightmost(low, high, bestLow, bestHigh, p.Y) {
			continue
		}
		best, bestLow, bestHigh = down, low, high
	}
	return best, best >= 0
}

// rightmost reports whether the edge a–b stands right of c–d a hair above
// level y, which both span. The two do not cross.
func rightmost(a, b, c, d Point, y int64) bool {
	// x = a.X + (y−a.Y)·dx/dy, as a fraction over dy, measured from c.X.
	n1 := sumOfProducts(a.X-c.X, b.Y-a.Y, y-a.Y, b.X-a.X)
	n2 := sumOfProducts(0, d.Y-c.Y, y-c.Y, d.X-c.X)
	if s := compareFractions(n1, b.Y-a.Y, n2, d.Y-c.Y); s != 0 {
		return s > 0
	}
	return compareFractions(b.X-a.X, b.Y-a.Y, d.X-c.X, d.Y-c.Y) > 0
}

// sumOfProducts returns a·b + c·d, exact where each factor is within twice [Limit].
func sumOfProducts(a, b, c, d int64) int64 { return a*b + c*d }

// through returns a half-edge whose edge holds p.
func (r *rowIndex) through(p Point) (Half, bool) {
	for _, e := range r.row(p.Y) {
		if OnSegment(p, r.a.Points[r.a.Edges[e].U], r.a.Points[r.a.Edges[e].V]) {
			return Half(2 * e), true
		}
	}
	return -1, false
}
