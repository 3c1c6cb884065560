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
}

// placeText tries to place all callouts with their words.
func placeText(list []Callout, cols Columns) ([]PlacedCallout, bool) {
	out := make([]PlacedCallout, len(list))
	left := make([]float64, len(list)) // box heights in either column
	right := make([]float64, len(list))
	wrapped := make([][4][]string, len(list))
	for i := range list {
		c := &list[i]
		if !cols.Left.none() && c.Side != RightSide {
			room := math.Abs(cols.Left.Outer-cols.Left.Edge) - bubbleText
			wrapped[i][0], wrapped[i][1] = styleHead.wrap(c.Head, room), styleNote.wrap(c.Note, room)
			left[i] = textHeight(len(wrapped[i][0]) + len(wrapped[i][1]))
		}
		if !cols.Right.none() && c.Side != LeftSide {
			room := math.Abs(cols.Right.Outer-cols.Right.Edge) - bubbleText
			wrapped[i][2], wrapped[i][3] = styleHead.wrap(c.Head, room), styleNote.wrap(c.Note, room)
			right[i] = textHeight(len(wrapped[i][2]) + len(wrapped[i][3]))
		}
	}
	room := cols.Bottom - cols.Top
	sides := sideOf(list, cols, left, right, room, calloutGap)
	gap := calloutGap
	if !fits(sides, left, right, room, gap) {
		gap = calloutTight
		sides = sideOf(list, cols, left, right, room, gap)
		if !fits(sides, left, right, room, gap) {
			return nil, false
		}
	}
	n := 0
	for _, side := range [...]Side{LeftSide, RightSide} {
		col, heights, w := cols.Left, left, 0
		if side == RightSide {
			col, heights, w = cols.Right, right, 2
		}
		slots := slotsOn(list, sides, side, heights)
		if len(slots) == 0 {
			continue
		}
		sign := col.outwards()
		settle(slots, col.Edge-sign*shoulder, cols.Top+calloutUp, cols.Bottom+calloutUp, gap)
		for _, s := range slots {
			p := &out[n]
			n++
			p.Callout, p.R = list[s.at], bubbleR
			p.Side = side
			p.Elbow = Point{col.Edge - sign*shoulder, s.y}
			p.Bubble = Point{col.Edge + sign*bubbleR, s.y}
			p.firstWords = col.Edge + sign*bubbleText
			p.Heads, p.Notes = wrapped[s.at][w], wrapped[s.at][w+1]
			reach := bubbleR * 2
			for _, h := range p.Heads {
				reach = max(reach, bubbleText+styleHead.Width(h))
			}
			for _, h := range p.Notes {
				reach = max(reach, bubbleText+styleNote.Width(h))
			}
			p.Box.Add(col.Edge, s.y-calloutUp)
			p.Box.Add(col.Edge+sign*reach, s.y-calloutUp+s.height)
		}
	}
	return out, true
}

// placeBubbles places all callouts as bubbles alone, in the columns if they
// can, else about their middle.
func placeBubbles(list []Callout, cols Columns) []PlacedCallout {
	heights := make([]float64, len(list))
	for i := range heights {
		heights[i] = 2 * keynoteR
	}
	const gap = keynotePitch - 2*keynoteR
	sides := sideOf(list, cols, heights, heights, cols.Bottom-cols.Top, gap)
	out := make([]PlacedCallout, len(list))
	n := 0
	for _, side := range [...]Side{LeftSide, RightSide} {
		col := cols.Left
		if side == RightSide {
			col = cols.Right
		}
		slots := slotsOn(list, sides, side, heights)
		if len(slots) == 0 {
			continue
		}
		top, bottom := cols.Top, cols.Bottom
		if need := float64(len(slots))*keynotePitch - gap; need > bottom-top {
			top = (top + bottom - need) / 2
			bottom = top + need
		}
		sign := col.outwards()
		settle(slots, col.Edge-sign*keynoteElbow, top+keynoteR, bottom+keynoteR, gap)
		for _, s := range slots {
			p := &out[n]
			n++
			p.Callout, p.R = list[s.at], keynoteR
			p.Side = side
			p.Elbow = Point{col.Edge - sign*keynoteElbow, s.y}
			p.Bubble = Point{col.Edge + sign*keynoteR, s.y}
			p.Box.Add(col.Edge, s.y-keynoteR)
			p.Box.Add(col.Edge+sign*2*keynoteR, s.y+keynoteR)
		}
	}
	return out
}

func (c Column) outwards() float64 {
	if c.Outer < c.Edge {
		return -1
	}
	return 1
}

// textHeight is the height of a box of n lines.
func textHeight(n int) float64 {
	return max(2*calloutUp, calloutUp+1.2+float64(n-1)*calloutLine+calloutDescend)
}

func stackHeight(sides []Side, side Side, heights []float64, gap float64) float64 {
	h := -gap
	for i, s := range sides {
		if s == side {
			h += heights[i] + gap
		}
	}
	return max(h, 0)
}

func fits(sides []Side, left, right []float64, room, gap float64) bool {
	return stackHeight(sides, LeftSide, left, gap) <= room+1e-9 &&
		stackHeight(sides, RightSide, right, gap) <= room+1e-9
}

// sideOf gives every callout its side. Those free to choose are parted by x,
// at the middle of the columns or, where one side would overflow, as near to
// it as lets both fit. Sides that were set are changed only where a leader to
// the left would otherwise meet one to the right.
func sideOf(list []Callout, cols Columns, left, right []float64, room, gap float64) []Side {
	sides := make([]Side, len(list))
	free := make([]int, 0, len(list))
	for i := range list {
		switch {
		case cols.Left.none():
			sides[i] = RightSide
		case cols.Right.none():
			sides[i] = LeftSide
		case list[i].Side != AnySide:
			sides[i] = list[i].Side
		default:
			free = append(free, i)
		}
	}
	if len(free) == 0 {
		return sides
	}
	slices.SortStableFunc(free, func(a, b int) int { return compare(list[a].At.X, list[b].At.X) })
	middle := (cols.Left.Edge + cols.Right.Edge) / 2
	natural := 0
	for natural < len(free) && list[free[natural]].At.X < middle {
		natural++
	}
	l, r := stackHeight(sides, LeftSide, left, gap), stackHeight(sides, RightSide, right, gap)
	for _, i := range free {
		r += right[i] + gap
	}
	best, bestOver, bestFar := 0, math.Inf(1), 0
	for k := 0; ; k++ {
		over := max(l-room, 0) + max(r-room, 0)
		far := max(k-natural, natural-k)
		if over < bestOver-1e-9 || over < bestOver+1e-9 && far < bestFar {
			best, bestOver, bestFar = k, over, far
		}
		if k == len(free) {
			break
		}
		l += left[free[k]] + gap
		r -= right[free[k]] + gap
	}
	for k, i := range free {
		sides[i] = RightSide
		if k < best {
			sides[i] = LeftSide
		}
	}
	return sides
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
			slots = append(slots, slot{at: i, target: list[i].At.Y, height: heights[i], dot: list[i].At})
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
