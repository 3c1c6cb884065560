package continuity

import (
	"fmt"
	"slices"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
)

// reverseLaps reports laps that lead water in, sealed or not.
func (t *tracer) reverseLaps(list *finding.List) {
	m := t.m
	if m.control != detail.Water {
		return
	}
	for i := range m.contacts {
		c := &m.contacts[i]
		if c.fault != reverseLap {
			continue
		}
		upper, _ := m.upper(c)
		lower := c.a + c.b - upper
		at := m.s.Junction.At
		if p := m.part(max(c.a, c.b)); p != nil {
			at = p.At
		}
		list.Errorf(at, "reverse-lap", "lay the upper sheet over the lower on the wet side",
			"%s laps behind %s: water running down %s is led in", m.name(upper), m.name(lower), m.name(upper))
	}
}

// penetrations notes what is said to pass through a carrier without a seal:
// the junction's own list, and those and the fasteners of each assembly laid.
func (t *tracer) penetrations() {
	if t.m.control == detail.Thermal {
		return
	}
	s := t.s
	note := func(format string, args ...any) {
		n := fmt.Sprintf(format, args...)
		if !slices.Contains(t.report.Notes, n) {
			t.report.Notes = append(t.report.Notes, n)
		}
	}
	for _, p := range s.Junction.Penetrations {
		for _, name := range p.Order {
			if p.Seals[name] == "" && t.carriedBy(name) {
				note("%s passes %s without a seal", p.What, name)
			}
		}
		if len(p.Order) == 0 {
			note("%s: it is not said what seals it", p.What)
		}
	}
	for i, p := range s.Junction.Parts {
		if p.Kind != detail.Laid || p.Assembly == nil || p.Assembly.Assembly == nil || !s.Parts[i].Laid {
			continue
		}
		a := p.Assembly.Assembly
		for _, l := range a.Layers {
			if !slices.Contains(l.Control, t.m.control) {
				continue
			}
			if l.Fasteners != nil {
				note("fasteners pass %s.%s: seal each, or use a sheet that closes round them", p.Name, l.Name)
			}
			for _, q := range a.Penetrations {
				if q.Seals[l.Name] == "" {
					note("%s passes %s.%s without a seal", q.What, p.Name, l.Name)
				}
			}
		}
	}
}

// carriedBy reports whether a part, or a layer of one, carries the control.
func (t *tracer) carriedBy(name string) bool {
	m := t.m
	for i := range m.carries {
		if n := m.name(int32(i)); m.carries[i] && (n == name || strings.HasPrefix(n, name+".")) {
			return true
		}
	}
	return false
}
