package heatflow

import "wythe/renderer/geometry"

// wallSection is a section of 60 parts as one is drawn: a timber house from its
// base to its eave, with an intermediate floor, a window, plates, battens, a
// steel sill and angles, and a roof of 30 degrees.
func wallSection() *Problem {
	const (
		gypsum = iota
		wool
		softwood
		panel
		fibre
		air
		concrete
		foam
		screed
		steel
		glass
		gas
	)
	l := &Layout{}
	add := func(region int32, x0, x1, y0, y1 float64) {
		l.Areas = append(l.Areas, box(region, x0, y0, x1, y1))
	}
	outline := func(region int32, p ...geometry.Point) {
		l.Areas = append(l.Areas, Area{region, p})
	}
	// Base: stem, slab, foam below and at its edge, screed.
	add(concrete, 0.0645, 0.2645, -0.8, 0)
	add(foam, 0.2645, 0.2945, -0.8, 0)
	add(foam, -1.8, 0.0645, -0.45, -0.27)
	add(concrete, -1.8, 0.0645, -0.27, -0.09)
	add(foam, -1.8, 0.0645, -0.09, -0.06)
	add(screed, -1.8, 0, -0.06, 0)
	add(foam, 0, 0.0645, -0.06, 0)
	add(steel, 0.2565, 0.2645, -0.1, 0.05)
	// Two storeys of wall.
	for _, y := range [2][2]float64{{0, 2.6}, {2.95, 5.5}} {
		add(gypsum, 0, 0.0125, y[0], y[1])
		add(wool, 0.0125, 0.0525, y[0], y[1])
		add(panel, 0.0525, 0.0645, y[0], y[1])
		add(wool, 0.0645, 0.2045, y[0], y[1])
		add(softwood, 0.0645, 0.2045, y[0], y[0]+0.06)
		add(softwood, 0.0645, 0.2045, y[1]-0.06, y[1])
		add(softwood, 0.0645, 0.2045, y[1]-0.12, y[1]-0.06)
		add(softwood, 0.0125, 0.0525, y[0], y[0]+0.04)
		add(softwood, 0.0125, 0.0525, y[1]-0.04, y[1])
	}
	add(softwood, 0.0125, 0.0525, 4.2, 4.24)
	add(fibre, 0.2045, 0.2645, 0, 5.5)
	add(air, 0.2645, 0.2945, 0, 5.5)
	add(softwood, 0.2945, 0.3165, 0, 5.5)
	add(softwood, 0.2645, 0.2945, 0, 0.03)
	// Intermediate floor.
	add(air, -1.8, 0, 2.6125, 2.85)
	add(wool, 0, 0.1595, 2.6, 2.85)
	add(softwood, 0.1595, 0.2045, 2.6, 2.85)
	add(panel, -1.8, 0.2045, 2.85, 2.872)
	add(fibre, -1.8, 0.0125, 2.872, 2.95)
	add(screed, -1.8, 0, 2.89, 2.95)
	add(wool, 0.0125, 0.0645, 2.872, 2.95)
	add(softwood, 0.0645, 0.2045, 2.872, 2.95)
	add(gypsum, -1.8, 0, 2.6, 2.6125)
	add(steel, 0.1545, 0.1595, 2.65, 2.85)
	// Window: opening, trimmers, header, frame, sash, panes, spacers, sills.
	add(None, 0, 0.3165, 1.0, 2.1)
	add(softwood, 0.0645, 0.2045, 0.94, 1.0)
	add(softwood, 0.0645, 0.1245, 2.1, 2.34)
	add(softwood, 0.1445, 0.2045, 2.1, 2.34)
	add(softwood, 0.1345, 0.2045, 1.0, 1.07)
	add(softwood, 0.1345, 0.2045, 2.03, 2.1)
	add(softwood, 0.1245, 0.1945, 1.05, 1.12)
	add(softwood, 0.1245, 0.1945, 1.98, 2.05)
	add(gas, 0.148, 0.164, 1.1, 2.0)
	add(glass, 0.144, 0.148, 1.1, 2.0)
	add(glass, 0.164, 0.168, 1.1, 2.0)
	add(steel, 0.148, 0.164, 1.1, 1.106)
	add(steel, 0.148, 0.164, 1.994, 2.0)
	add(softwood, 0, 0.1345, 1.0, 1.02)
	add(steel, 0.2045, 0.3365, 1.0, 1.002)
	// Roof over the wall, 30 degrees, its eave beyond the cladding.
	outline(wool, at(-1.5, 6.396), at(0, 5.53), at(0, 5.5), at(0.2645, 5.5), at(0.2645, 5.72), at(-1.37, 6.67))
	outline(gypsum, at(-1.5, 6.4), at(0, 5.534), at(0, 5.5195), at(-1.506, 6.389))
	outline(fibre, at(-1.3875, 6.6538), at(0.6, 5.5063), at(0.63, 5.5583), at(-1.3575, 6.7058))
	add(softwood, 0.1, 0.2, 5.5, 5.58)
	add(softwood, 0.4, 0.42, 5.48, 5.62)
	l.Surfaces = []Line{
		line(0, at(-1.8, 0), at(0, 0), at(0, 1.0)), line(0, at(0, 1), at(0, 1.02), at(0.1345, 1.02)),
		line(0, at(0.1345, 1.02), at(0.1345, 1.07)), line(0, at(0.1345, 1.05), at(0.1245, 1.05), at(0.1245, 1.12), at(0.148, 1.12)),
		line(0, at(0.144, 1.1), at(0.144, 2.0)), line(0, at(0.148, 1.98), at(0.1245, 1.98), at(0.1245, 2.05), at(0.1345, 2.05), at(0.1345, 2.1), at(0, 2.1), at(0, 2.6), at(-1.8, 2.6)),
		line(0, at(-1.8, 2.95), at(0, 2.95), at(0, 5.5195), at(-1.506, 6.389)),
		line(1, at(0.3165, 0), at(0.3165, 1.0)), line(1, at(0.3365, 1.0), at(0.3365, 1.002), at(0.2045, 1.002)), line(1, at(0.2045, 1.0), at(0.2045, 1.07), at(0.1945, 1.07), at(0.1945, 1.12), at(0.164, 1.12)),
		line(1, at(0.168, 1.1), at(0.168, 2.0)), line(1, at(0.164, 1.98), at(0.1945, 1.98), at(0.1945, 2.03), at(0.2045, 2.03), at(0.2045, 2.1), at(0.3165, 2.1), at(0.3165, 5.5)),
		line(1, at(0.2945, -0.8), at(0.2945, 0), at(0.3165, 0)), line(1, at(0.3165, 5.5), at(0.2645, 5.5), at(0.2645, 5.75)), line(1, at(0.4, 5.63), at(0.4, 5.48), at(0.42, 5.48), at(0.42, 5.62)), line(1, at(0.6, 5.5063), at(0.63, 5.5583), at(-1.3575, 6.7058)),
		line(1, at(0.2645, 5.700004), at(0.404, 5.619465)), line(1, at(0.3365, 1.0), at(0.3165, 1.0)),
	}
	if len(l.Areas) != 60+1 { // and a hole
		panic("heatflow: the section has not 60 parts")
	}
	p := l.Problem()
	p.Regions = []Region{{0.25}, {0.036}, {0.13}, {0.13}, {0.045}, {0.17}, {2}, {0.035}, {1.4}, {50}, {1}, {0.025}}
	p.Spaces = []Space{{"inside", 20}, {"outside", -10}}
	p.Surfaces = []Surface{{0, 0.13}, {1, 0.04}}
	return p
}
