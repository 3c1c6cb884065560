package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"wythe/renderer/detail"
	"wythe/renderer/figures"
	"wythe/renderer/thermal"
	"wythe/renderer/units"
)

func (a *app) figures() *cobra.Command {
	var asJSON bool
	var places []string
	c := &cobra.Command{
		Use:   "figures MARK",
		Short: "Print the figures of one detail",
		Long: `Prints what is computed of one detail, with the method of each figure. With --json
numbers are not rounded and keys carry their units; what is not computed is
null, and "not_computed" says why.

Of a junction they are the verdict on each control and the two-dimensional heat
flow; --at adds the temperature at a place of the section, from its own origin.`,
		Example: `  wythe figures F-101
  wythe figures W-102 --json
  wythe figures J-201 --json --at "4 in, 2 ft"`,
		Args: takes("MARK"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runFigures(args[0], asJSON, places) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print a JSON object")
	c.Flags().StringArrayVar(&places, "at", nil, `of a junction: the temperature at "X, Y", lengths with units; may be repeated`)
	return c
}

func (a *app) runFigures(mark string, asJSON bool, places []string) error {
	at := make([][2]float64, 0, len(places))
	for _, p := range places {
		x, y, _ := strings.Cut(p, ",")
		px, err := units.ParseCoordinate(strings.TrimSpace(x))
		if err == nil {
			var py units.Length
			if py, err = units.ParseCoordinate(strings.TrimSpace(y)); err == nil {
				at = append(at, [2]float64{float64(px), float64(py)})
				continue
			}
		}
		return failf(`write a place as "4 in, 2 ft"`, "--at %q: %v", p, err)
	}
	lib, d, err := a.detail(mark)
	if err != nil {
		return err
	}
	if j, took := lib.Solved(d); j != nil {
		if j.Heat != nil {
			ms := float64(took.Microseconds()) / 1000
			j.Heat.SolveMs = &ms
			j.Heat.Places = j.Heat.At(at)
		}
		if asJSON {
			return a.printJSON(j)
		}
		return printJunction(a.stdout, lib.Settings().Units, j)
	}
	fig := lib.Figures(d)
	if fig == nil {
		return failf("mend the errors in its file: wythe review", "%s has no figures", d.Mark)
	}
	if asJSON {
		return a.printJSON(fig)
	}
	return printFigures(a.stdout, lib.Settings().Units, d, fig)
}

// printFigures prints figures in words, the library's units first.
func printFigures(w io.Writer, system units.System, d *detail.Detail, fig *figures.Assembly) error {
	out := tabwriter.NewWriter(w, 0, 0, 3, ' ', 0)
	fmt.Fprintf(out, "%s %s, %s\n", d.Mark, d.Title, d.Assembly.Element)
	line := func(name string, q units.Shower, computed bool, note string) {
		if !computed {
			fmt.Fprintf(out, "%s\tnot computed\t\t%s\n", name, note)
			return
		}
		main, other := units.Pair(q, system)
		fmt.Fprintf(out, "%s\t%s\t%s\t%s\n", name, main, other, note)
	}
	if t := fig.Thermal; t != nil {
		method := func(f thermal.Figure, words string) string {
			if !f.Computed {
				return f.Why
			}
			return words
		}
		head := t.Trace.Method
		line("R-value", t.Resistance.Value, t.Resistance.Computed, method(t.Resistance, head.Name+", "+head.Clause))
		over := "one over R"
		if t.Transmittance != t.Uncorrected {
			over = "one over R, corrected by ISO 6946:2017, annex F"
		}
		line("U-factor", t.Transmittance, t.Resistance.Computed, method(t.Resistance, over))
		line("R by parallel path", t.ParallelPath.Value, t.ParallelPath.Computed, method(t.ParallelPath, "ASHRAE"))
		line("R by isothermal planes", t.IsothermalPlanes.Value, t.IsothermalPlanes.Computed, method(t.IsothermalPlanes, "ASHRAE"))
		line("R by upper and lower limit", t.Combined.Value, t.Combined.Computed, method(t.Combined, "ISO 6946:2017, 6.7.2"))
		for _, l := range t.Layers {
			if l.LeftOut {
				fmt.Fprintf(out, "  %s\tnot counted\t\tat or outside a well ventilated air layer\n", l.Name)
				continue
			}
			r := l.Resistance
			if l.Fraction > 0 {
				r = l.Equivalent
			}
			line("  "+l.Name, r, true, l.Material)
		}
		if t.Insulation != nil {
			for i, face := range t.Insulation.Faces {
				name := "at the outside face"
				if i < len(t.Layers) {
					name = "at the inside of " + t.Layers[i].Name
				}
				fmt.Fprintf(out, "  %s\t%s\t%s\tdesign day\n", name, face.ShowTenth(system), face.ShowTenth(system.Other()))
			}
		}
	}
	for _, n := range fig.NotComputed {
		fmt.Fprintf(out, "%s\tnot computed\t\t%s\n", n.Key, n.Why)
	}
	return out.Flush()
}
