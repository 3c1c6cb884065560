package sheet

import (
	"strconv"
	"strings"

	"wythe/renderer/continuity"
	"wythe/renderer/units"
)

// GapFlag is what the flag of a report's gap k says: the control's letter, its
// number where there are several, and its width: "A GAP 5 in", "W 2 NOT SEALED".
func GapFlag(r *continuity.Report, k int, system units.System) string {
	s := strings.ToUpper(string(r.Control)[:1])
	if len(r.Gaps) > 1 {
		s += " " + strconv.Itoa(k+1)
	}
	g := &r.Gaps[k]
	switch {
	case r.Verdict == continuity.Thin:
		return s + " THIN " + g.Width.Show(system)
	case g.Touch:
		return s + " NOT SEALED"
	}
	return s + " GAP " + g.Width.Show(system)
}
