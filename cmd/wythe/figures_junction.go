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

// printContinuity prints the verdict on each control in words.
func printContinuity(w io.Writer, system units.System, j *figures.Junction) error {
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
		if n.Key == "continuity" {
			fmt.Fprintf(out, "continuity\tnot traced\t%s\n", n.Why)
		}
	}
	return out.Flush()
}

// printPlaces prints the temperatures asked for with --at.
func printPlaces(w io.Writer, system units.System, j *figures.Junction) error {
	if j.Heat == nil || len(j.Heat.Places) == 0 {
		return nil
	}
	fmt.Fprintln(w, "\nTemperature at")
	out := tabwriter.NewWriter(w, 0, 0, 3, ' ', 0)
	for _, p := range j.Heat.Places {
		where := units.Length(p.X).Show(system) + ", " + units.Length(p.Y).Show(system)
		if t := float64(p.Temperature); t == t {
			fmt.Fprintf(out, "%s\t%s\t%s\n", where, units.Temperature(t).ShowTenth(system), units.Temperature(t).ShowTenth(system.Other()))
			continue
		}
		fmt.Fprintf(out, "%s\tnot computed\toutside the section, or a temperature is not known\n", where)
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
