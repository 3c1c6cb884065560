package main

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"wythe/renderer/units"
	"wythe/site/page"
)

// printGroups prints figures as their page does: under each question a line a
// figure, the library's units first, then its limit and what is found; under
// it its method.
func printGroups(w io.Writer, system units.System, groups []page.FigureGroup) {
	var lines [][]string // a line of one cell is not aligned
	for _, g := range groups {
		if len(g.Rows) == 0 {
			continue
		}
		if g.Title != "" {
			lines = append(lines, []string{""}, []string{g.Title})
		}
		for i := range g.Rows {
			lines = append(lines, figureLine(&g.Rows[i], system))
			if r := &g.Rows[i]; r.Method != "" {
				lines = append(lines, []string{"    by " + r.Method})
			}
		}
	}
	var wide [5]int
	for _, l := range lines {
		if len(l) == 1 {
			continue
		}
		for i, cell := range l {
			wide[i] = max(wide[i], utf8.RuneCountInString(cell))
		}
	}
	for _, l := range lines {
		var b strings.Builder
		for i, cell := range l {
			b.WriteString(cell)
			if len(l) > 1 {
				b.WriteString(strings.Repeat(" ", wide[i]-utf8.RuneCountInString(cell)+3))
			}
		}
		fmt.Fprintln(w, strings.TrimRight(b.String(), " "))
	}
}

// figureLine is a figure's cells: name, two values, limit, finding.
func figureLine(r *page.FigureRow, system units.System) []string {
	name := r.Name
	if r.Sub != "" {
		name += ": " + strings.ToLower(r.Sub[:1]) + r.Sub[1:]
	}
	if r.NotComputed != "" {
		return []string{name, "not computed", "", "", r.NotComputed}
	}
	value := func(number, unit string) string { return strings.TrimSpace(number + " " + unit) }
	first, second := value(r.Inch, r.InchUnit), value(r.SI, r.SIUnit)
	if system == units.Metric {
		first, second = second, first
	}
	if first == second {
		second = ""
	}
	limit := r.Limit
	if limit != "" && r.LimitName != "" {
		limit = strings.ToLower(r.LimitName[:1]) + r.LimitName[1:] + " " + limit
	}
	finding := r.Finding
	if r.FindingSub != "" {
		if finding != "" {
			finding += "; "
		}
		finding += r.FindingSub
	}
	return []string{name, first, second, limit, finding}
}
