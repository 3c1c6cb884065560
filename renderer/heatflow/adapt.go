package heatflow

import "math"

// sizes returns how long edges may be at each point, grains, so that the
// misfit comes down to target.
//
// The misfit of a triangle in a smooth field falls with the sixth power of its
// size: cut in n it leaves 1/n² of itself, and n ∝ misfit^(1/3) is the cheapest.
// At a point where temperature starts as r^α it falls with the power 2α.
func (m *model) sizes(g *grid, misfit, alpha []float64, target float64) []float64 {
	corner := make([]bool, len(g.tri))
	for t := range g.tri {
		for _, v := range g.tri[t].v {
			corner[t] = corner[t] || (int(v) < len(alpha) && alpha[v] < 0.99)
		}
	}
	// Each triangle is to keep mu.
	sum := 0.0
	for t, e := range misfit {
		if !corner[t] {
			sum += math.Cbrt(e)
		}
	}
	mu := 0.0
	if sum > 0 {
		mu = math.Pow(target/sum, 1.5)
	}
	for range 4 { // those that need no cut keep what they have
		kept, rest := 0.0, 0.0
		for t, e := range misfit {
			if corner[t] {
				continue
			}
			if e <= mu {
				kept += e
			} else {
				rest += math.Cbrt(e)
			}
		}
		if rest == 0 || kept >= target {
			break
		}
		mu = math.Pow((target-kept)/rest, 1.5)
	}
	size := make([]float64, len(g.p))
	for v := range size {
		size[v] = math.Inf(1)
	}
	at := make([]float64, len(alpha))
	for t, e := range misfit {
		_, long := g.longest(int32(t))
		long = math.Sqrt(long)
		if !corner[t] {
			n := 1.0
			if e > mu {
				n = min(math.Cbrt(e/mu), 30)
			}
			for _, v := range g.tri[t].v {
				size[v] = min(size[v], long*math.Sqrt(1/n))
			}
			continue
		}
		for _, v := range g.tri[t].v {
			if int(v) < len(alpha) && alpha[v] < 0.99 {
				at[v] += e
			}
		}
	}
	for t := range misfit {
		if !corner[t] {
			continue
		}
		_, long := g.longest(int32(t))
		long = math.Sqrt(long)
		for _, v := range g.tri[t].v {
			if int(v) < len(alpha) && alpha[v] < 0.99 {
				s := long
				if want := cornerShare * mu; at[v] > want {
					s *= max(math.Pow(want/at[v], 1/(2*alpha[v])), 1.0/256)
				}
				size[v] = min(size[v], s)
			} else {
				size[v] = min(size[v], long)
			}
		}
	}
	return size
}

var cornerShare = 4.0
