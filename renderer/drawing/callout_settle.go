package drawing

import (
	"math"
	"slices"
)

// slot is one callout while its side is being settled.
type slot struct {
	at     int     // in the list
	target float64 // wished height of the elbow: that of the dot
	height float64 // of the box
	y      float64 // of the elbow
	dot    Point
	r      float64 // of the dot
	slide  float64 // how far it may move, level
}

func slotsOn(list []Callout, sides []Side, side Side, heights []float64) []slot {
	n := 0
	for _, s := range sides {
		if s == side {
			n++
		}
	}
	slots := make([]slot, 0, n)
	for i, s := range sides {
		if s == side {
			slots = append(slots, slot{at: i, target: list[i].At.Y + list[i].Lift, height: heights[i], dot: list[i].At, r: max(list[i].Dot, calloutDot), slide: list[i].Slide})
		}
	}
	slices.SortStableFunc(slots, func(a, b slot) int { return compare(a.dot.Y, b.dot.Y) })
	return slots
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// settle orders slots and gives each its height so that none meets another
// and no leaders cross. All elbows stand at x; the first may stand at top,
// and the last box must end at bottom (both measured at the elbow).
func settle(slots []slot, x, top, bottom, gap float64) {
	spread(slots, top, bottom, gap)
	for range len(slots) + 4 {
		if !anyCross(slots, x) {
			clearDots(slots, x, top, bottom, gap)
			return
		}
		untangle(slots, func(k int) Point { return Point{x, slots[k].y} })
		spread(slots, top, bottom, gap)
	}
	if !anyCross(slots, x) {
		return
	}
	// Reordering moved the boxes so that others cross, and round again. Set
	// close, a box's height depends only on those above it: so each is chosen
	// when its height is known, and no leader can cross.
	total := -gap
	mean := 0.0
	for _, s := range slots {
		total += s.height + gap
		mean += s.target / float64(len(slots))
	}
	y := max(min(mean-total/2, bottom-total), top)
	for k := range slots {
		first(slots[k:], Point{x, y})
		slots[k].y = y
		y += slots[k].height + gap
	}
}

// clearDots exchanges callouts, or slides their dots, while that leaves fewer
// leaders running over the dots of others, and none crossing.
func clearDots(slots []slot, x, top, bottom, gap float64) {
	for range len(slots) {
		i, j, n := overDot(slots, x)
		if n == 0 {
			return
		}
		better := func() bool {
			_, _, m := overDot(slots, x)
			return m < n && !anyCross(slots, x)
		}
		if !exchange(slots, i, j, better, top, bottom, gap) && !slide(&slots[j], x, better) && !slide(&slots[i], x, better) {
			return
		}
	}
}

// exchange moves slot i to the other side of slot j, if that is better.
func exchange(slots []slot, i, j int, better func() bool, top, bottom, gap float64) bool {
	var room [40]slot
	was := append(room[:0], slots...)
	s := slots[i]
	if i < j {
		copy(slots[i:j], slots[i+1:j+1])
	} else {
		copy(slots[j+1:i+1], slots[j:i])
	}
	slots[j] = s
	spread(slots, top, bottom, gap)
	if better() {
		return true
	}
	copy(slots, was)
	return false
}

// slide moves the dot of s along its part, the least that is better.
func slide(s *slot, x float64, better func() bool) bool {
	was := s.dot.X
	for _, share := range [...]float64{0.25, -0.25, 0.5, -0.5, 0.75, -0.75, 1, -1} {
		s.dot.X = was + share*s.slide
		// It stays on its side of the elbows.
		if s.slide > 0 && (s.dot.X-x)*(was-x) > 0 && abs(s.dot.X-x) > 1 && better() {
			return true
		}
	}
	s.dot.X = was
	return false
}

// overDot returns a leader that runs over another's dot, that dot, and how
// many do.
func overDot(slots []slot, x float64) (leader, dot, n int) {
	for i := range slots {
		a, e := slots[i].dot, Point{x, slots[i].y}
		for j := range slots {
			p := slots[j].dot
			if i == j || (p.X-a.X)*(e.X-a.X) <= 0 || abs(p.X-a.X) > abs(e.X-a.X) {
				continue // not beside the leader
			}
			if clearance(a, e, p) < slots[j].r+dotMargin {
				leader, dot, n = i, j, n+1
			}
		}
	}
	return leader, dot, n
}

const dotMargin = 0.3 // mm between a leader and another's dot

// clearance is the distance of p from the line through a and b.
func clearance(a, b, p Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	return abs(dx*(p.Y-a.Y)-dy*(p.X-a.X)) / math.Hypot(dx, dy)
}

func abs(v float64) float64 { return math.Abs(v) }

// untangle reorders slots, top down, so that leaders from the given elbows do
// not cross: each elbow takes the dot that has all others below its leader.
func untangle(slots []slot, elbow func(k int) Point) {
	for k := range slots {
		e, y := elbow(k), slots[k].y
		first(slots[k:], e)
		slots[k].y = y
	}
}

// first brings to the front the slot whose leader from the elbow leaves every
// other dot below it; of dots in one line, the nearest.
func first(slots []slot, elbow Point) {
	best := 0
	for i := 1; i < len(slots); i++ {
		a, b := slots[best].dot, slots[i].dot
		// Angles from straight away from the work, by cross product; both
		// dots lie on one side of the elbow.
		turn := (a.X-elbow.X)*(b.Y-elbow.Y) - (a.Y-elbow.Y)*(b.X-elbow.X)
		if a.X < elbow.X { // dots to the left: above is clockwise
			turn = -turn
		}
		near := math.Abs(b.X-elbow.X) < math.Abs(a.X-elbow.X)
		if turn < 0 || turn == 0 && near {
			best = i
		}
	}
	s := slots[best]
	copy(slots[1:best+1], slots[:best])
	slots[0] = s
}

// anyCross reports whether two leaders cross, or one runs over another's dot.
func anyCross(slots []slot, x float64) bool {
	for i := range slots {
		a := Point{x, slots[i].y}
		for j := i + 1; j < len(slots); j++ {
			b := Point{x, slots[j].y}
			if segmentsMeet(a, slots[i].dot, b, slots[j].dot) {
				return true
			}
		}
	}
	return false
}

// segmentsMeet reports whether the closed segments ab and cd share a point.
func segmentsMeet(a, b, c, d Point) bool {
	if max(a.Y, b.Y) < min(c.Y, d.Y) || max(c.Y, d.Y) < min(a.Y, b.Y) ||
		max(a.X, b.X) < min(c.X, d.X) || max(c.X, d.X) < min(a.X, b.X) {
		return false
	}
	side := func(p, q, r Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) <= 0 && side(c, d, a)*side(c, d, b) <= 0
}

// spread sets the slots' heights, in their order, nearest to their targets in
// the least squares under the gaps and bounds: isotonic regression by pooling
// adjacent violators, then clamped, which keeps it optimal.
func spread(slots []slot, top, bottom, gap float64) {
	type pool struct {
		mean float64
		n    int
	}
	var room [32]pool
	pools := room[:0]
	shift, total := 0.0, -gap
	for _, s := range slots {
		p := pool{s.target - shift, 1}
		for len(pools) > 0 && pools[len(pools)-1].mean >= p.mean {
			q := pools[len(pools)-1]
			pools = pools[:len(pools)-1]
			p = pool{(p.mean*float64(p.n) + q.mean*float64(q.n)) / float64(p.n+q.n), p.n + q.n}
		}
		pools = append(pools, p)
		shift += s.height + gap
		total += s.height + gap
	}
	k := 0
	shift = 0
	for _, p := range pools {
		z := max(min(p.mean, bottom-total), top)
		for range p.n {
			slots[k].y = z + shift
			shift += slots[k].height + gap
			k++
		}
	}
}
