package heatflow

// dissect orders elements by their middles so that halving the list again and
// again, as the factorisation does, halves the section across its longer side.
func dissect(order []int32, x, y []float64) {
	for i := range order {
		order[i] = int32(i)
	}
	var part func(s []int32)
	part = func(s []int32) {
		if len(s) <= leafSize {
			return
		}
		x0, x1, y0, y1 := x[s[0]], x[s[0]], y[s[0]], y[s[0]]
		for _, i := range s[1:] {
			x0, x1 = min(x0, x[i]), max(x1, x[i])
			y0, y1 = min(y0, y[i]), max(y1, y[i])
		}
		key := x
		if y1-y0 > x1-x0 {
			key = y
		}
		half := len(s) / 2
		selectAt(s, half, key)
		part(s[:half])
		part(s[half:])
	}
	part(order)
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
