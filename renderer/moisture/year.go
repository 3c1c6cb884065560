package moisture

import (
	"wythe/renderer/units"
)

// Interface is a plane on which condensate stands in some month.
type Interface struct {
	Outer, Inner string      // the layers on its two sides; the same within a layer
	Part         units.Ratio // within a layer: the share of it that lies outside; else 0
	node         int
}

// Amount is what one interface gains in one month.
type Amount struct {
	// Condensate is negative for drying. In the month in which an interface
	// dries out it is what could have dried, and Accumulated is zero.
	Condensate  units.MassPerArea
	Accumulated units.MassPerArea // at the end of the month
}

// MonthResult is one month, its interfaces in the order of Result.Interfaces.
type MonthResult struct {
	Month   int // from 0: January
	Name    string
	Amounts []Amount
	Total   units.MassPerArea // accumulated on all interfaces
}

// Condensation is the year of an element, from its first month of condensation.
type Condensation struct {
	// StartMonth is from 0; -1: no month condenses.
	StartMonth    int
	Interfaces    []Interface   // the outermost first
	Months        []MonthResult // twelve from StartMonth; none where nothing condenses
	Greatest      units.MassPerArea
	GreatestMonth int  // from 0; -1 where nothing condenses
	DryAtEnd      bool // nothing is left after twelve months
	// Condensed and Dried are the year's sums; what is left is the difference.
	Condensed, Dried, Left units.MassPerArea
	SurfaceWet             []int // months, from 0, whose room air condenses on the inside face
	VaporTight             bool  // a vapor-tight layer was taken as sd 1,000 km
}

// glaser is the work space of one section: everything a month needs, so that
// no month allocates.
type glaser struct {
	grid
	year  *Year
	psat  []float64 // of the month, Pa
	p     []float64 // of the month, Pa
	stock []float64 // kg/m²
	gain  []float64 // of the month, kg/m²
	hull  []int     // nodes at which the pressure line bends or is held
	first []int     // first node of the group of nodes without sd between them
	wet   bool      // room air condenses on the inside face
}

func newGlaser(s *Section, y *Year) (*glaser, error) {
	grid, err := divide(s)
	if err != nil {
		return nil, err
	}
	n := len(grid.nodes)
	room := make([]float64, 4*n)
	g := &glaser{grid: *grid, year: y, psat: room[:n:n], p: room[n : 2*n : 2*n], stock: room[2*n : 3*n : 3*n], gain: room[3*n:], hull: make([]int, 0, n), first: make([]int, n)}
	for i := 1; i < n; i++ {
		if g.first[i] = i; g.nodes[i].s == g.nodes[i-1].s {
			g.first[i] = g.first[i-1]
		}
	}
	return g, nil
}

// slope is the pressure's between two nodes, in Pa/m.
func (g *glaser) slope(a, b int) float64 { return (g.p[b] - g.p[a]) / (g.nodes[b].s - g.nodes[a].s) }

// month works one month out: the pressure line, and what each node gains.
//
// Between planes held at saturation (and the two faces, held at the airs) the
// line is the greatest convex one that stays at or below saturation: where it
// touches, vapor arrives faster than it leaves. Planes that are wet from
// earlier months are held at saturation whatever they gain or lose.
//
// Method: ISO 13788:2012, 6.4 and 6.5, for any number of interfaces.
func (g *glaser) month(m int) {
	in, ex := g.year.Inside[m], g.year.Outside[m]
	n := len(g.nodes)
	for i := range g.nodes {
		g.psat[i], g.gain[i] = saturation(g.temperature(i, in, ex)), 0
		// Planes without sd between them share one pressure: the lowest holds.
		if f := g.first[i]; f != i && g.psat[i] < g.psat[f] {
			g.psat[f] = g.psat[i]
		}
	}
	last := g.first[n-1]
	copy(g.p, g.psat)
	g.p[0] = min(float64(ex.Pressure), g.psat[0])
	if last > 0 {
		g.p[last] = min(float64(in.Pressure), g.psat[last])
	}
	g.wet = float64(in.Pressure) > g.psat[last]*(1+1e-12)
	h, held := g.hull[:0], 0 // nodes of the hull from the last held one on may be dropped
	for i := range n {
		if g.first[i] != i {
			continue
		}
		for len(h) > held+1 && g.slope(h[len(h)-2], h[len(h)-1]) >= g.slope(h[len(h)-1], i) {
			h = h[:len(h)-1]
		}
		h = append(h, i)
		if g.stock[i] > 0 {
			held = len(h) - 1
		}
	}
	g.hull = h
	seconds := Days[m] * secondsPerDay
	for k := 1; k < len(h)-1; k++ {
		gain := delta0 * (g.slope(h[k], h[k+1]) - g.slope(h[k-1], h[k])) * seconds
		if g.stock[h[k]] > 0 || gain > leastCondensate {
			g.gain[h[k]] = gain
		}
	}
	// Between the bends the line is straight.
	for k := 1; k < len(h); k++ {
		for i := h[k-1] + 1; i < h[k]; i++ {
			if g.first[i] == i {
				g.p[i] = g.p[h[k-1]] + g.slope(h[k-1], h[k])*(g.nodes[i].s-g.nodes[h[k-1]].s)
			}
		}
	}
	for i := range n {
		g.p[i] = g.p[g.first[i]]
	}
}

// condenses reports whether a month condenses on a dry element.
func (g *glaser) condenses(m int) bool {
	clear(g.stock)
	g.month(m)
	for _, v := range g.gain {
		if v > 0 {
			return true
		}
	}
	return false
}

// start returns the first month of condensation, or -1: from the coldest
// month back to the first of its run, or else on to the next that condenses.
//
// Method: ISO 13788:2012, 6.5.
func (g *glaser) start() int {
	trial := g.year.coldest()
	if g.condenses(trial) {
		for back := 1; back < 12; back++ {
			if m := (trial - back + 12) % 12; !g.condenses(m) {
				return (m + 1) % 12
			}
		}
		return trial
	}
	for on := 1; on < 12; on++ {
		if m := (trial + on) % 12; g.condenses(m) {
			return m
		}
	}
	return -1
}

// Condense returns a year of condensation and drying between the layers of an
// element that begins dry in the first month of condensation.
//
// Method: ISO 13788:2012, 6.4 to 6.6: vapor flow by diffusion alone, a wet
// interface at saturation until it is empty; layers of more than 0.25 m²K/W
// divided. An interface that dries out within a month is empty at its end.
// Errors: *[units.RangeError], *[basis.MissingError].
func Condense(s *Section, y *Year) (*Condensation, error) {
	g, err := newGlaser(s, y)
	if err != nil {
		return nil, err
	}
	return g.condense(), nil
}

func (g *glaser) condense() *Condensation {
	out := &Condensation{StartMonth: g.start(), GreatestMonth: -1, DryAtEnd: true, VaporTight: g.tight}
	n := len(g.nodes)
	gains := make([]float64, 12*n)
	stocks := make([]float64, 12*n)
	clear(g.stock)
	first := max(out.StartMonth, 0)
	for k := range 12 {
		m := (first + k) % 12
		g.month(m)
		if g.wet {
			out.SurfaceWet = append(out.SurfaceWet, m)
		}
		for i, v := range g.gain {
			before := g.stock[i]
			after := before + v
			if after <= 0 {
				after = 0
			}
			if v > 0 {
				out.Condensed += units.MassPerArea(v)
			} else {
				out.Dried += units.MassPerArea(before - after)
			}
			g.stock[i] = after
			gains[k*n+i], stocks[k*n+i] = v, after
		}
	}
	if out.StartMonth < 0 {
		return out
	}
	for i := range n {
		for k := range 12 {
			if gains[k*n+i] > 0 {
				outer, inner := g.between(i)
				out.Interfaces = append(out.Interfaces, Interface{Outer: outer, Inner: inner, Part: units.Ratio(g.nodes[i].part), node: i})
				break
			}
		}
	}
	amounts := make([]Amount, 12*len(out.Interfaces))
	out.Months = make([]MonthResult, 12)
	for k := range 12 {
		m := (out.StartMonth + k) % 12
		row := amounts[k*len(out.Interfaces) : (k+1)*len(out.Interfaces) : (k+1)*len(out.Interfaces)]
		total := 0.0
		for j, f := range out.Interfaces {
			row[j] = Amount{units.MassPerArea(gains[k*n+f.node]), units.MassPerArea(stocks[k*n+f.node])}
			total += stocks[k*n+f.node]
		}
		out.Months[k] = MonthResult{Month: m, Name: MonthNames[m], Amounts: row, Total: units.MassPerArea(total)}
		if out.Months[k].Total > out.Greatest {
			out.Greatest, out.GreatestMonth = out.Months[k].Total, m
		}
		out.Left = units.MassPerArea(total)
	}
	out.DryAtEnd = out.Left == 0
	return out
}
