package drawing

import "math"

// dodgeMost is how far a text set level may stand from its middle, mm.
const dodgeMost = 5.2

// Dodge moves the texts of an upright chain along its line, each as little as
// may be, to where no leader runs through them: those between their ticks stay
// between them, those set level stay in their order.
func (c *Chain) Dodge(placed []PlacedCallout) {
	if !c.upright() {
		return
	}
	out := 1.0
	if c.Border == LeftOf {
		out = -1
	}
	level := !c.fits()
	var slots []slot
	if level {
		slots, _ = c.levels()
	}
	places := make([]float64, len(c.Texts))
	for i, s := range c.Texts {
		wide := styleDimension.Width(s)
		middle := (c.Stops[i] + c.Stops[i+1]) / 2
		lo, hi := c.Stops[i]+wide/2+0.6, c.Stops[i+1]-wide/2-0.6
		box := func(at float64) (b Box) {
			b.Add(c.At-textOff-2.4, at-wide/2)
			b.Add(c.At-textOff+0.2, at+wide/2)
			return b
		}
		if level {
			middle = slots[i].y
			lo, hi = middle-dodgeMost, middle+dodgeMost
			if i > 0 {
				lo = max(lo, places[i-1]+levelPitch)
			}
			box = func(at float64) (b Box) {
				b.Add(c.At+out*levelOff, at-1.3)
				b.Add(c.At+out*(levelOff+wide), at+1.3)
				return b
			}
		}
		best, bestCost := max(middle, lo), math.Inf(1)
		for step := 0.0; step <= max(hi-middle, middle-lo, 0); step += 0.4 {
			for _, at := range [...]float64{middle - step, middle + step} {
				if at < lo-1e-9 || at > hi+1e-9 {
					continue
				}
				if cost := 8*float64(Crossed(placed, box(at))) + step; cost < bestCost {
					best, bestCost = at, cost
				}
			}
		}
		places[i] = best
	}
	c.places = places
}

// Abreast reports whether another string on the same border stands between c
// and the work somewhere along it.
func (c *Chain) Abreast(inner *Chain) bool {
	from, to := c.Extent()
	lo, hi := inner.Extent()
	const share = 2*dimensionPast + 0.1 // of two that end at one stop
	return from+share < hi && lo+share < to
}
