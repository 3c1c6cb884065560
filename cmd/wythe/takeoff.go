package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wythe/renderer/finding"
	"wythe/site"
)

func (a *app) takeoff() *cobra.Command {
	var asCSV bool
	c := &cobra.Command{
		Use:   "takeoff BUILDING",
		Short: "Count what a building is made of",
		Long: `Counts the materials of a building by trade and material: net of openings, with
laps and waste and their source, in the units that a yard sells. A building is
named by its title or its file.`,
		Example: `  wythe takeoff "Ferry Landing"
  wythe takeoff ferry-landing --csv > takeoff.csv`,
		Args: takes("BUILDING"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runTakeoff(args[0], asCSV) },
	}
	c.Flags().BoolVar(&asCSV, "csv", false, "print comma-separated values")
	return c
}

func (a *app) runTakeoff(name string, asCSV bool) error {
	dir, err := a.library()
	if err != nil {
		return err
	}
	lib, err := site.Open(dir)
	if err != nil {
		return err
	}
	d := lib.BuildingNamed(name)
	if d == nil {
		names := lib.BuildingNames()
		mend := finding.DidYouMean(name, names)
		switch {
		case mend != "":
		case len(names) == 0:
			mend = "write one: a file with areas:"
		default:
			mend = "the library has " + strings.Join(names, ", ")
		}
		return failf(mend, "no building is called %q", name)
	}
	if own := lib.ErrorsOf(d); own.Errors() > 0 {
		printFindings(a.stderr, own)
		return &findingsError{fmt.Sprintf("%s in %s stand in the way\n\tmend them and try again", count(own.Errors(), "error"), d.File)}
	}
	t := lib.Takeoff(d)
	if asCSV {
		_, err := a.stdout.Write(lib.TakeoffCSV(t))
		return err
	}
	return site.PrintTakeoff(a.stdout, t, lib.Settings().Units)
}
