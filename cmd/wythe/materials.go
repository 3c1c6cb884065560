package main

import (
	"fmt"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"wythe/renderer/material"
	"wythe/renderer/units"
	"wythe/site"
)

func (a *app) materials() *cobra.Command {
	return &cobra.Command{
		Use:   "materials [WORD]",
		Short: "List the materials, or those with a word in their name",
		Long: `Lists the built-in materials and the library's own with conductivity or
resistance, density, hatch, and where the thermal value comes from. With a word,
only those that have it in their name, hatch or note. Works without a library
too: then the built-in table is listed.`,
		Example: `  wythe materials
  wythe materials wool`,
		Args: takes("[WORD]"),
		RunE: func(cmd *cobra.Command, args []string) error {
			word := ""
			if len(args) > 0 {
				word = args[0]
			}
			return a.runMaterials(word)
		},
	}
}

func (a *app) runMaterials(word string) error {
	table, system := material.Builtin(), units.Inch
	dir, err := a.library()
	switch {
	case err == nil:
		lib, err := site.Open(dir)
		if err != nil {
			return err
		}
		table, system = lib.Materials(), lib.Settings().Units
	case a.libraryFlag != "":
		return err
	}
	found := table.Search(word)
	if len(found) == 0 {
		return failf(table.Suggest(word), "no material has %q in its name, hatch or note", word)
	}
	out := tabwriter.NewWriter(a.stdout, 0, 0, 3, ' ', 0)
	fmt.Fprintln(out, "MATERIAL\tTHERMAL\t\tDENSITY\tHATCH\tSOURCE")
	for _, m := range found {
		heat, other, from := "–", "", m.Origins[material.PropConductivity]
		switch {
		case m.Conductivity > 0:
			heat, other = units.Pair(m.Conductivity, system)
		case m.Resistance > 0:
			heat, other = units.Pair(m.Resistance, system)
			from = m.Origins[material.PropResistance]
		}
		density := "–"
		if m.Density > 0 {
			density = m.Density.Show(system)
		}
		fmt.Fprintf(out, "%s\t%s\t%s\t%s\t%s\t%s\n", m.Name, heat, other, density, m.Hatch, from.Text)
	}
	return out.Flush()
}
