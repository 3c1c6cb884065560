package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

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
	if j := lib.Solved(d); j != nil {
		if j.Heat != nil {
			ms := float64(j.Heat.Took.Microseconds()) / 1000
			j.Heat.SolveMs = &ms
			j.Heat.Places = j.Heat.At(at)
		}
		if asJSON {
			return a.printJSON(j)
		}
		if err := printContinuity(a.stdout, lib.Settings().Units, j); err != nil {
			return err
		}
		printGroups(a.stdout, lib.Settings().Units, lib.FigureGroups(d, j))
		return printPlaces(a.stdout, lib.Settings().Units, j)
	}
	fig := lib.Figures(d)
	if fig == nil {
		return failf("mend the errors in its file: wythe review", "%s has no figures", d.Mark)
	}
	if asJSON {
		return a.printJSON(fig)
	}
	fmt.Fprintf(a.stdout, "%s %s, %s\n", d.Mark, d.Title, d.Assembly.Element)
	printGroups(a.stdout, lib.Settings().Units, lib.FigureGroups(d, nil))
	return nil
}
