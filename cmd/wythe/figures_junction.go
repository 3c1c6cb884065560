package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"wythe/renderer/continuity"
	"wythe/renderer/figures"
	"wythe/renderer/units"
)

// printJunction prints the verdict on each control in words.
func printJunction(w io.Writer, system units.System, j *figures.Junction) error {
	out := tabwriter.NewWriter(w, 0, 0, 3, ' ', 0)
	fmt.Fprintf(out, "%s %s, junction\n", j.Detail.Mark, j.Detail.Title)
	for i := range j.Continuity {
		r := &j.Continuity[i]
		fmt.Fprintf(out, "%s control\t%s\t%s\n", r.Control, verdictWords(r), strings.Join(r.Chain, ", "))
		for _, g := range r.Gaps {
			if g.Touch {
				fmt.Fprintf(out, "  between\t%s and %s\t%s\n", g.Between[0], g.Between[1], g.Mend)
				continue
			}
			fmt.Fprintf(out, "  gap %s\t%s and %s\t%s\n", g.Width.Show(system), g.Between[0], g.Between[1], g.Mend)
		}
		for _, e := range r.Ends {
			fmt.Fprintf(out, "  ends\t%s\t\n", e.Why)
		}
	}
	for _, n := range j.NotComputed {
		fmt.Fprintf(out, "%s\tnot computed\t%s\n", n.Key, n.Why)
	}
	return out.Flush()
}

func verdictWords(r *continuity.Report) string {
	switch r.Verdict {
	case continuity.Continuous:
		return "unbroken in this section"
	case continuity.Unsealed:
		return "touches, not sealed"
	case continuity.NotTraced:
		return "not traced: " + r.Reason
	}
	return string(r.Verdict)
}
