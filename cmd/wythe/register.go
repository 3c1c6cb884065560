package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"wythe/site"
)

func (a *app) register() *cobra.Command {
	var asJSON, asCSV bool
	c := &cobra.Command{
		Use:   "register",
		Short: "List every mark with its revision, status and address",
		Long: `Lists the details of the library: mark, title, revision, status, the address that
stays for as long as the mark lives, and the specification sections that cite it.`,
		Example: `  wythe register
  wythe register --csv > register.csv`,
		Args: takes(),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runRegister(asJSON, asCSV) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print a JSON array")
	c.Flags().BoolVar(&asCSV, "csv", false, "print comma-separated values")
	return c
}

func (a *app) runRegister(asJSON, asCSV bool) error {
	if asJSON && asCSV {
		return usagef("give one of the two", "--json and --csv are two forms")
	}
	dir, err := a.library()
	if err != nil {
		return err
	}
	lib, err := site.Open(dir)
	if err != nil {
		return err
	}
	switch {
	case asJSON:
		return a.printJSON(lib.Register())
	case asCSV:
		_, err := a.stdout.Write(lib.RegisterCSV())
		return err
	}
	out := tabwriter.NewWriter(a.stdout, 0, 0, 3, ' ', 0)
	for _, r := range lib.Register() {
		rev := r.Revision
		if rev != "" {
			rev = "rev " + rev
		}
		fmt.Fprintf(out, "%s\t%s\t%s\t%s\t%s\t%s\n", r.Mark, r.Title, rev, r.Status, r.Address, strings.Join(r.Sections, ", "))
	}
	return out.Flush()
}
