package heatflow

import "slices"

// extent is how far an element reaches, m.
type extent struct{ x0, x1, y0, y1 float64 }

// dissect orders elements by their middles so that halving the list again and
// again, as the factorisation does, halves the section where fewest elements
// lie across the cut.
func dissect(order []int32, x, y []float64, reach []extent) {
	for i := range order {
		order[i] = int32(i)
	}
	var part func(s []int32)
	part = func(s []int32) {
		if len(s) <= leafSize {
			return
		}
		key := x
		if upright(s, x, y, reach) {
			key = y
		}
		half := len(s) / 2
		selectAt(s, half, key)
		part(s[:half])
		part(s[half:])
	}
	part(order)
}

// upright reports whether elements are better halved by height than by width:
// few are by their spread, many by how many lie across a cut near the median.
func upright(s []int32, x, y []float64, reach []extent) bool {
	const few, sample = 32, 15
	if len(s) > few && reach != nil {
		var xs, ys [sample]float64
		for k := range sample {
			i := s[(2*k+1)*len(s)/(2*sample)]
			xs[k], ys[k] = x[i], y[i]
		}
		slices.Sort(xs[:])
		slices.Sort(ys[:])
		cx, cy := xs[sample/2], ys[sample/2]
		across, along := 0, 0
		for _, i := range s {
			b := &reach[i]
			if b.x0 < cx && cx < b.x1 {
				across++
			}
			if b.y0 < cy && cy < b.y1 {
				along++
			}
		}
		return along < across
	}
	x0, x1, y0, y1 := x[s[0]], x[s[0]], y[s[0]], y[s[0]]
	for _, i := range s[1:] {
		x0, x1 = min(x0, x[i]), max(x1, x[i])
		y0, y1 = min(y0, y[i]), max(y1, y[i])
	}
	return y1-y0 > x1-x0
}

// selectAt moves the k least of s, by key and then by index, to its front.
func selectAt(s []int32, k int, key []float64) {
	less := func(a, b int32) bool {
		return key[a] < key[b] || key[a] == key[b] && a < b
	}
	lo, hi := 0, len(s)-1
	for lo < hi {
		// Median of three, moved to hi.
		mid := (lo + hi) / 2
		if less(s[mid], s[lo]) {
			s[mid], s[lo] = s[lo], s[mid]
		}
		if less(s[hi], s[lo]) {
			s[hi], s[lo] = s[lo], s[hi]
		}
		if less(s[mid], s[hi]) {
			s[mid], s[hi] = s[hi], s[mid]
		}
		pivot := s[hi]
		i := lo
		for j := lo; j < hi; j++ {
			if less(s[j], pivot) {
				s[i], s[j] = s[j], s[i]
				i++
			}
		}
		s[i], s[hi] = s[hi], s[i]
		switch {
		case i == k:
			return
		case i < k:
			lo = i + 1
		default:
			hi = i - 1
		}
	}
}
