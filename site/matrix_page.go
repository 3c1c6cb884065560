package site

import (
	"maps"
	"slices"
	"strings"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/figures"
	"wythe/renderer/finding"
	"wythe/site/page"
)

// matrixHref is the page that shows which assemblies meet, and what is proved.
const matrixHref = "continuity/index.html"

// mostGrid is the most assemblies whose grid is shown: beyond it the list of
// junctions says what meets what.
const mostGrid = 120

// met is a junction with the marks of the assemblies that it lays, each once.
type met struct {
	e     *entry
	j     *joint
	marks []string
}

// hasJunctions reports whether the library has a section where assemblies meet.
func (l *Library) hasJunctions() bool {
	return slices.ContainsFunc(l.details, func(e *entry) bool { return e.d.Junction != nil })
}

// met lists the junctions that stand, in order of mark.
func (v view) met() []met {
	v.View.Cards(detail.AllDetails)
	var list []met
	joints := v.facts.joints()
	for i, e := range v.details {
		if e.d.Junction == nil || e.d.Status == detail.Superseded || figures.Lesson(e.d) {
			continue
		}
		v.reads.Record("joint/"+e.d.File, joints[i].hash)
		m := met{e: e, j: joints[i].is}
		if m.j == nil { // it or an assembly that it lays has errors
			continue
		}
		for _, mark := range m.j.Laid {
			if !slices.Contains(m.marks, mark) {
				m.marks = append(m.marks, mark)
			}
		}
		list = append(list, m)
	}
	return list
}

// joins reports whether a junction lays both of two assemblies; for one and
// the same, whether it lays it twice.
func (m *met) joins(a, b string) bool {
	if a != b {
		return slices.Contains(m.marks, a) && slices.Contains(m.marks, b)
	}
	return len(m.j.Laid) > 1 && len(m.marks) == 1 && m.marks[0] == a
}

// matrixPage fills the continuity matrix.
func (v view) matrixPage() *page.Matrix {
	v.View.Settings()
	p := &page.Matrix{CornersNote: "A section proves a line where two planes meet. Where a run turns a corner, or two runs meet, three planes do, and no section shows it. These are built and looked at on site: cut a mock-up, and take a photograph before it is covered."}
	p.Root, p.Title = "../", "Continuity matrix"
	p.Lead = "Which assemblies meet, in which section, and what is proved of each control there."
	list := v.met()
	laid := map[string]bool{}
	for _, m := range list {
		for _, mark := range m.marks {
			laid[mark] = true
		}
	}
	marks := slices.Sorted(maps.Keys(laid))
	links := map[string]page.Link{}
	link := func(mark string) page.Link {
		if l, ok := links[mark]; ok {
			return l
		}
		l := page.Link{Text: mark}
		if to := v.link(mark); to != nil {
			l = *to
		}
		links[mark] = l
		return l
	}
	if len(marks) <= mostGrid {
		for i, a := range marks {
			p.Assemblies = append(p.Assemblies, link(a))
			row := make([][]page.MatrixJunction, i+1)
			for k, b := range marks[:i+1] {
				for n := range list {
					if m := &list[n]; m.joins(a, b) {
						row[k] = append(row[k], page.MatrixJunction{Link: page.Link{Href: m.e.href, Text: m.e.name}, Whole: m.j.Worst == continuity.Continuous})
					}
				}
			}
			p.Cells = append(p.Cells, row)
		}
	}
	for i := range list {
		p.Junctions = append(p.Junctions, v.matrixRow(&list[i], link))
	}
	p.Mismatches = mismatchWords(list)
	p.Loops = v.loops(list, link)
	p.Undrawn = v.undrawn(list, link)
	p.Corners = unproved(list, link)
	return p
}

func (v view) matrixRow(m *met, link func(string) page.Link) page.MatrixRow {
	row := page.MatrixRow{Link: page.Link{Href: m.e.href, Text: m.e.name, Note: m.j.Title}}
	for _, mark := range m.marks {
		row.Meets = append(row.Meets, link(mark))
	}
	for _, of := range m.j.Controls {
		c := page.Verdicts{Control: of.Control, Verdict: page.Bad, Words: of.Words}
		if of.Verdict == continuity.Continuous {
			c.Verdict, c.Words = page.Good, "Unbroken"
		}
		row.Verdicts = append(row.Verdicts, c)
	}
	return row
}

// handovers lists what all junctions hand on.
func handovers(list []met) []continuity.Handover {
	var all []continuity.Handover
	for i := range list {
		all = append(all, list[i].j.Handovers...)
	}
	return all
}

func mismatchWords(list []met) []string {
	var words []string
	for _, m := range continuity.Mismatches(handovers(list)) {
		words = append(words, handoverWords(m))
	}
	return words
}

func handoverWords(m continuity.Mismatch) string {
	return capital(string(m.Control)) + " control of " + m.Mark + ": " + m.A.Junction + " carries it in " + m.A.Layer + ", " + m.B.Junction + " in " + m.B.Layer + "."
}

// handoverFindings are the controls that two junctions hand to different
// layers of one assembly.
func (l *Library) handoverFindings() finding.List {
	var list finding.List
	for _, m := range continuity.Mismatches(handovers(l.view(nil).met())) {
		e := l.byMark[m.B.Junction]
		if e == nil {
			continue
		}
		list.Warnf(e.d.At, "handover", "carry it in one layer from section to section, or draw where it changes",
			"%s", strings.TrimSuffix(handoverWords(m), "."))
	}
	return list
}

// unproved lists where the runs of two sections meet: each corner in plan with
// every other junction of the same assembly.
func unproved(list []met, link func(string) page.Link) []page.Corner {
	var out []page.Corner
	for i := range list {
		a := &list[i]
		if !a.j.Plan {
			continue
		}
		for k := range list {
			b := &list[k]
			if i == k || b.j.Plan && k < i || !slices.ContainsFunc(a.marks, func(m string) bool { return slices.Contains(b.marks, m) }) {
				continue
			}
			out = append(out, page.Corner{A: link(b.e.d.Mark), B: link(a.e.d.Mark)})
		}
	}
	return out
}
