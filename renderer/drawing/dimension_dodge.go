package drawing

import "math"

const (
	dodgeMost  = 5.2 // how far from its middle a text set level may stand beyond its ticks, mm
	dodgeClear = 0.7 // between a text and a leader, where there is room, mm
)

// Dodge moves the texts of an upright chain along its line, each as little as
// may be, to where no leader runs through them: those between their ticks stay
// between them, those set level stay in their order. Where leaders leave no
// such place between ticks, all are set level, if that is no wider than room,
// the width free beyond the line, mm.
func (c *Chain) Dodge(placed []PlacedCallout, room float64) {
	if !c.upright() {
		return
	}
	places, crossed := c.dodge(placed)
	if crossed > 0 && c.fits() {
		c.level = true
		level, fewer := c.dodge(placed)
		if fewer < crossed && c.Reach() <= room {
			places = level
		} else {
			c.level = false
		}
	}
	c.places = places
}

// dodge returns where the texts stand best, and how many leaders run through
// them there.
func (c *Chain) dodge(placed []PlacedCallout) (places []float64, crossed int) {
	out := 1.0
	if c.Border == LeftOf {
		out = -1
	}
	level := !c.fits()
	var slots []slot
	if level {
		slots, _ = c.levels()
	}
	places = make([]float64, len(c.Texts))
	for i, s := range c.Texts {
		wide := styleDimension.Width(s)
		middle := (c.Stops[i] + c.Stops[i+1]) / 2
		lo, hi := c.Stops[i]+wide/2+0.6, c.Stops[i+1]-wide/2-0.6
		box := func(at, clear float64) (b Box) {
			b.Add(c.At-textOff-2.4, at-wide/2-clear)
			b.Add(c.At-textOff+0.2, at+wide/2+clear)
			return b
		}
		if level {
			middle = slots[i].y
			lo, hi = min(middle-dodgeMost, c.Stops[i]+levelHalf), max(middle+dodgeMost, c.Stops[i+1]-levelHalf)
			if i > 0 {
				lo = max(lo, places[i-1]+levelPitch)
			}
			box = func(at, clear float64) (b Box) {
				b.Add(c.At+out*levelOff, at-levelHalf-clear)
				b.Add(c.At+out*(levelOff+wide), at+levelHalf+clear)
				return b
			}
		}
		best, bestCost, through := max(middle, lo), math.Inf(1), 0
		for step := 0.0; step <= max(hi-middle, middle-lo, 0) && step < bestCost; step += 0.4 {
			for _, at := range [...]float64{middle - step, middle + step} {
				if at < lo-1e-9 || at > hi+1e-9 {
					continue
				}
				n := Crossed(placed, box(at, 0))
				cost := 8*float64(n) + step
				if cost < bestCost {
					if cost += 2 * float64(Crossed(placed, box(at, dodgeClear))-n); cost < bestCost {
						best, bestCost, through = at, cost, n
					}
				}
			}
		}
		places[i] = best
		crossed += through
	}
	return places, crossed
}

// Abreast reports whether another string on the same border stands between c
// and the work somewhere along it.
func (c *Chain) Abreast(inner *Chain) bool {
	from, to := c.Extent()
	lo, hi := inner.Extent()
	const share = 2*dimensionPast + 0.1 // of two that end at one stop
	return from+share < hi && lo+share < to
}
