package site

import (
	"slices"
	"strings"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/site/page"
)

// builtOn lists the assemblies of each building, by its title; for a library
// without buildings, all assemblies that junctions lay.
func (v view) builtOn(list []met) map[string][]string {
	out := map[string][]string{}
	for _, b := range v.View.Details(detail.AllBuildings) {
		for _, a := range b.Building.Areas {
			if !slices.Contains(out[b.Title], a.Mark) {
				out[b.Title] = append(out[b.Title], a.Mark)
			}
		}
	}
	if len(out) == 0 {
		for _, m := range list {
			for _, mark := range m.marks {
				if !slices.Contains(out[""], mark) {
					out[""] = append(out[""], mark)
				}
			}
		}
	}
	return out
}

// element is what an assembly is; "" where the mark is none.
func (v view) element(mark string) detail.Element {
	var is detail.Element
	if d := v.lib.Detail(mark); d != nil && d.Assembly != nil {
		is = d.Assembly.Element
	}
	v.reads.Record("element/"+mark, "is "+string(is))
	return is
}

func isFloor(e detail.Element) bool { return e == detail.FloorOnGround || e == detail.Floor }
func isWall(e detail.Element) bool  { return e == detail.Wall || e == detail.WallBelowGrade }
func isRoof(e detail.Element) bool  { return e == detail.Roof || e == detail.Ceiling }

// loops walks from each floor of a building to the roof that is fewest
// junctions away.
func (v view) loops(list []met, link func(string) page.Link) []page.Loop {
	var out []page.Loop
	var seen []string
	built := v.builtOn(list)
	titles := make([]string, 0, len(built))
	for t := range built {
		titles = append(titles, t)
	}
	slices.Sort(titles)
	for _, title := range titles {
		marks := built[title]
		slices.Sort(marks)
		for _, from := range marks {
			if !isFloor(v.element(from)) {
				continue
			}
			path := v.climb(from, marks, list)
			if path == nil || slices.Contains(seen, strings.Join(path, " ")) {
				continue
			}
			seen = append(seen, strings.Join(path, " "))
			out = append(out, v.loop(path, list, link))
		}
	}
	return out
}

// climb finds the fewest junctions from a floor to a roof: assemblies and
// junctions by turns; nil where no way is drawn.
func (v view) climb(from string, marks []string, list []met) []string {
	type step struct {
		mark string
		back int
		by   string
	}
	steps := []step{{from, -1, ""}}
	for i := 0; i < len(steps); i++ {
		at := steps[i].mark
		if isRoof(v.element(at)) {
			var path []string
			for k := i; k >= 0; k = steps[k].back {
				path = append(path, steps[k].mark)
				if steps[k].by != "" {
					path = append(path, steps[k].by)
				}
			}
			slices.Reverse(path)
			return path
		}
		for n := range list {
			m := &list[n]
			if !slices.Contains(m.marks, at) {
				continue
			}
			for _, next := range m.marks {
				e := v.element(next)
				if !slices.Contains(marks, next) || isFloor(e) || slices.ContainsFunc(steps, func(s step) bool { return s.mark == next }) {
					continue
				}
				if isRoof(e) && !isWall(v.element(at)) {
					continue
				}
				steps = append(steps, step{next, i, m.e.d.Mark})
			}
		}
	}
	return nil
}

// loop says what carries each control along a path.
func (v view) loop(path []string, list []met, link func(string) page.Link) page.Loop {
	var l page.Loop
	for _, mark := range path {
		to := link(mark)
		l.Stations = append(l.Stations, page.Link{Href: to.Href, Text: mark})
	}
	junction := func(mark string) *met {
		for i := range list {
			if list[i].e.d.Mark == mark {
				return &list[i]
			}
		}
		return nil
	}
	for _, c := range detail.Controls {
		row := page.LoopRow{Control: c}
		carried := false
		for i, mark := range path {
			if i%2 == 1 {
				cell := page.LoopCell{Words: "not carried"}
				for _, of := range junction(mark).j.Controls {
					if of.Control == c {
						carried = true
						cell = page.LoopCell{Words: of.Words, Verdict: page.Bad}
						if of.Verdict == continuity.Continuous {
							cell = page.LoopCell{Words: "Unbroken", Verdict: page.Good}
						}
					}
				}
				row.Cells = append(row.Cells, cell)
				continue
			}
			var below, above []string
			if i > 0 {
				below = leaving(junction(path[i-1]), mark, c)
			}
			if i+1 < len(path) {
				above = leaving(junction(path[i+1]), mark, c)
			}
			row.Cells = append(row.Cells, station(below, above))
		}
		if carried {
			l.Rows = append(l.Rows, row)
		}
	}
	return l
}

// leaving lists the layers of an assembly by which a control leaves a junction.
func leaving(m *met, mark string, c detail.Control) []string {
	var layers []string
	for _, h := range m.j.Handovers {
		if h.Mark == mark && h.Control == c {
			layers = append(layers, h.Layer)
		}
	}
	return layers
}

// station says which layer of an assembly carries a control from the junction
// below to the one above.
func station(below, above []string) page.LoopCell {
	switch {
	case len(below) == 0 && len(above) == 0:
		return page.LoopCell{Words: "–"}
	case len(below) == 0:
		return page.LoopCell{Words: strings.Join(above, ", ")}
	case len(above) == 0:
		return page.LoopCell{Words: strings.Join(below, ", ")}
	}
	for _, l := range below {
		if slices.Contains(above, l) {
			return page.LoopCell{Words: l}
		}
	}
	return page.LoopCell{Words: strings.Join(below, ", ") + " below, " + strings.Join(above, ", ") + " above", Verdict: page.Bad}
}

// undrawn lists the pairs of a building whose kinds meet, with no junction
// drawn: floors with walls, walls below grade with walls, walls with roofs and
// ceilings.
func (v view) undrawn(list []met, link func(string) page.Link) []page.Undrawn {
	var out []page.Undrawn
	built := v.builtOn(list)
	titles := make([]string, 0, len(built))
	for t := range built {
		titles = append(titles, t)
	}
	slices.Sort(titles)
	for _, title := range titles {
		marks := built[title]
		for i, a := range marks {
			for _, b := range marks[i+1:] {
				if !kindsMeet(v.element(a), v.element(b)) || slices.ContainsFunc(list, func(m met) bool { return m.joins(a, b) }) {
					continue
				}
				out = append(out, page.Undrawn{A: link(a), B: link(b), Where: title})
			}
		}
	}
	return out
}

func kindsMeet(a, b detail.Element) bool {
	if a == detail.WallBelowGrade && b == detail.Wall || a == detail.Wall && b == detail.WallBelowGrade {
		return true
	}
	if isWall(b) {
		a, b = b, a
	}
	switch {
	case !isWall(a) || isWall(b):
		return false
	case a == detail.WallBelowGrade:
		return b == detail.FloorOnGround
	}
	return true
}
