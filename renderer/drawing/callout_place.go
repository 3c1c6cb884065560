package drawing

import (
	"math"
	"slices"
)

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
			p.Side, p.At = side, s.dot
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
			p.Side, p.At = side, s.dot
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
