package continuity

import (
	"math"
	"slices"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/geometry"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

// settle finds which contacts are whole, and by what.
func (m *model) settle(o Options) {
	for i := range m.contacts {
		c := &m.contacts[i]
		switch {
		case m.control == detail.Thermal:
			c.join("touch")
		case m.closing(c.a) || m.closing(c.b):
			c.join("closed")
		case m.sameLayer(c.a, c.b):
			c.join("same layer")
		case m.continues(c.a, c.b) || m.continues(c.b, c.a):
			c.join("continues")
		case m.bridges(c.a, c.b) || m.bridges(c.b, c.a):
			c.join("seal")
		}
	}
	if m.control == detail.Thermal {
		return
	}
	for i := range m.s.Seals {
		m.seal(&m.s.Seals[i])
	}
	if m.control == detail.Water {
		m.laps(o)
	}
}

func (c *contact) join(by string) { c.joined, c.by = true, by }

func (m *model) closing(item int32) bool {
	f := m.film(item)
	return f != nil && f.Seal == section.ClosingFilm
}

// layerKey is the mark and layer an item was laid from.
func (m *model) layerKey(item int32) (mark string, layer int) {
	if f := m.film(item); f != nil {
		return f.Mark, f.Layer
	}
	g := &m.s.Regions[item]
	return g.Mark, g.Layer
}

func (m *model) sameLayer(a, b int32) bool {
	mark, layer := m.layerKey(a)
	other, k := m.layerKey(b)
	return mark != "" && mark == other && layer == k
}

// part of an item; nil for a film drawn in.
func (m *model) part(item int32) *detail.Part {
	i := -1
	if f := m.film(item); f != nil {
		i = f.Part
	} else {
		i = m.s.Regions[item].Part
	}
	if i < 0 {
		return nil
	}
	return m.s.Junction.Parts[i]
}

// continues reports whether a's part says that it continues b.
func (m *model) continues(a, b int32) bool {
	p := m.part(a)
	if p == nil || len(p.Continues) == 0 {
		return false
	}
	name := m.name(b)
	for _, c := range p.Continues {
		if c == name || strings.HasPrefix(name, c+".") {
			return true
		}
	}
	return false
}

// bridges reports whether a is the bridge of a seal that joins b.
func (m *model) bridges(a, b int32) bool {
	f := m.film(a)
	if f == nil || f.Seal < 0 {
		return false
	}
	for _, member := range m.s.Seals[f.Seal].Joins {
		if m.is(b, member) {
			return true
		}
	}
	return false
}

// seal joins the contacts between its members nearest its place.
func (m *model) seal(l *section.Seal) {
	if !l.Holds {
		return
	}
	for i, x := range l.Joins {
		for _, y := range l.Joins[i+1:] {
			best := float64(l.Reach)*1e6 + 1
			var hit []int
			for k := range m.contacts {
				c := &m.contacts[k]
				if !(m.is(c.a, x) && m.is(c.b, y) || m.is(c.a, y) && m.is(c.b, x)) {
					continue
				}
				d := 0.0
				if l.Placed {
					d = m.distance(c, l.Place)
				}
				switch {
				case d < best-1:
					best, hit = d, append(hit[:0], k)
				case d <= best+1:
					hit = append(hit, k)
				}
			}
			for _, k := range hit {
				m.contacts[k].join("seal " + m.s.Junction.Parts[l.Part].Name)
			}
		}
	}
}

// distance of a contact from a place, µm.
func (m *model) distance(c *contact, p geometry.Point) float64 {
	best := math.Inf(1)
	for _, v := range c.vertices {
		best = math.Min(best, m.a.Points[v].Distance(p))
	}
	for _, l := range c.lanes {
		e := m.a.Edges[m.lanes[l].edge]
		_, d := geometry.Nearest(p.Vec(), m.a.Points[e.U].Vec(), m.a.Points[e.V].Vec())
		best = math.Min(best, d)
	}
	return best
}

// LapLeast is the least lap that sheds where no part says otherwise: 4 in.
const LapLeast units.Length = 0.1016

// shedSlope is the least slope on which a lap sheds: 1/4 in 12 (common practice).
const shedSlope = 0.25 / 12

// lapRounding is how far two rounded ends may leave a lap short, m.
const lapRounding = 2e-6

// laps joins sheets that shed on to each other: the upper over the lower on
// the wet side, and long enough. In plan nothing sheds.
func (m *model) laps(o Options) {
	if m.s.Junction.Plan {
		return
	}
	var wet []int64
	for i := range m.contacts {
		c := &m.contacts[i]
		if c.joined || c.length == 0 || m.film(c.a) == nil && m.film(c.b) == nil {
			continue
		}
		if wet == nil {
			wet = m.wetness()
		}
		upper, flat := m.upper(c)
		over, length := 0, 0.0
		for _, l := range c.lanes {
			k := m.lanes[l]
			u, v := m.ends(k.edge)
			if steep := math.Abs(float64(v.Y - u.Y)); steep < shedSlope*float64(v.X-u.X) {
				continue // lies flat
			}
			length += u.Distance(v)
			left := wet[m.a.FaceOf(geometry.Half(2*k.edge))]
			right := wet[m.a.FaceOf(geometry.Half(2*k.edge+1))]
			if left == right {
				continue
			}
			outer := k.a
			if right > left {
				outer = k.b
			}
			if outer == upper {
				over++
			} else {
				over--
			}
		}
		least := o.lap()
		if s := max(m.lapOf(c.a), m.lapOf(c.b)); s > 0 {
			least = s
		}
		sheets := m.film(c.a) != nil && m.film(c.b) != nil
		switch {
		case flat || length == 0:
			if sheets {
				c.fault = "lies flat and does not shed"
			}
		case over < 0 && sheets:
			c.fault = reverseLap
		case over < 0: // a sheet behind a body that stands before it
		case over == 0:
			c.fault = "has no wet side that can be told"
		case length*1e-6 < float64(least)-lapRounding:
			c.fault = "laps too little"
		default:
			c.join("lap")
		}
	}
}

// reverseLap is the fault of a lap that leads water in.
const reverseLap = "laps the wrong way"

func (m *model) lapOf(item int32) units.Length {
	if f := m.film(item); f != nil {
		return f.Lap
	}
	if p := m.part(item); p != nil {
		return p.Lap
	}
	return 0
}

// upper tells which of two lapped sheets comes from above. flat is true where
// neither does.
func (m *model) upper(c *contact) (item int32, flat bool) {
	const level = 1000 // µm: less than this is level
	a, b := m.bounds(c.a), m.bounds(c.b)
	switch d := a.Max.Y - b.Max.Y; {
	case d > level:
		return c.a, false
	case d < -level:
		return c.b, false
	}
	switch d := a.Min.Y - b.Min.Y; {
	case d > level:
		return c.a, false
	case d < -level:
		return c.b, false
	}
	return 0, true
}

func (m *model) bounds(item int32) geometry.Box {
	if f := m.film(item); f != nil {
		return geometry.Ring(f.Line).Bounds()
	}
	return m.s.Regions[item].Ring.Bounds()
}

// wetness of every face: how much nearer to an outside than to an inside it
// lies, counting each carrier crossed as far as a thousand faces.
func (m *model) wetness() []int64 {
	in, out := m.hops(m.inside), m.hops(m.outside)
	w := make([]int64, len(in))
	for f := range w {
		w[f] = in[f] - out[f]
	}
	return w
}

func (m *model) hops(from []source) []int64 {
	const far = math.MaxInt64 / 4
	d := make([]int64, m.a.Faces())
	for i := range d {
		d[i] = far
	}
	// Buckets by distance: steps cost 1 or about 1000.
	level := map[int64][]int32{}
	for _, s := range from {
		if d[s.face] != 0 {
			d[s.face] = 0
			level[0] = append(level[0], s.face)
		}
	}
	for len(level) > 0 {
		at := int64(far)
		for k := range level {
			at = min(at, k)
		}
		list := level[at]
		delete(level, at)
		slices.Sort(list)
		for _, f := range list {
			if d[f] != at {
				continue
			}
			for _, h := range m.a.Halves(f) {
				n := m.a.FaceOf(h.Twin())
				if m.item[n] == wall {
					continue
				}
				step := at + 1 + 1000*int64(len(m.films[h.Edge()]))
				if m.item[n] >= 0 {
					step += 1000
				}
				if step < d[n] {
					d[n] = step
					level[step] = append(level[step], n)
				}
			}
		}
	}
	return d
}
