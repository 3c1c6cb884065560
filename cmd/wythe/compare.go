package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"wythe/site"
	"wythe/site/revision"
)

func (a *app) compare() *cobra.Command {
	var asJSON bool
	var to string
	c := &cobra.Command{
		Use:   "compare [FROM [TO]]",
		Short: "Print what changed between two states of the library",
		Long: `Compares two commits of git, or one with the folder as it stands, and prints the
details that were added, removed or changed: layers, parts, notes, figures,
continuity, lines. Without FROM it is the commit that last issued a revision;
without TO the folder as it stands.

With --to a page is written that stands alone, with the lines of each drawing
that came and went. Only files that changed are read.`,
		Example: `  wythe compare
  wythe compare HEAD~3 HEAD --json
  wythe compare v2 --to changes.html`,
		Args: takes("[FROM]", "[TO]"),
		RunE: func(cmd *cobra.Command, args []string) error {
			refs := append(args, "", "")
			return a.runCompare(refs[0], refs[1], asJSON, to)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print a JSON object")
	c.Flags().StringVar(&to, "to", "", "the page to write")
	return c
}

func (a *app) runCompare(from, to string, asJSON bool, file string) error {
	dir, err := a.library()
	if err != nil {
		return err
	}
	c, err := site.Compare(dir, from, to)
	var ref *revision.RefError
	if errors.As(err, &ref) {
		return err
	}
	if err != nil {
		return refused(err)
	}
	if file != "" {
		page, err := c.Report()
		if err != nil {
			return err
		}
		if err := os.WriteFile(file, page, 0o666); err != nil {
			return failf("name another file with --to", "cannot write the page: %v", err)
		}
	}
	if asJSON {
		return a.printJSON(c)
	}
	printComparison(a.stdout, c)
	if file != "" {
		fmt.Fprintf(a.stdout, "Wrote %s.\n", file)
	}
	return nil
}

func printComparison(w io.Writer, c *site.Comparison) {
	fmt.Fprintf(w, "From %s to %s.\n", c.From, c.To)
	for _, s := range c.Says {
		fmt.Fprintln(w, s)
	}
	for _, d := range c.Details {
		fmt.Fprintf(w, "%s %s %s\n", d.Kind, d.Mark, d.Title)
		for _, x := range d.Changes {
			fmt.Fprintf(w, "\t%s\n", x)
		}
		if d.Lines != nil && d.Lines.Changed() {
			fmt.Fprintf(w, "\tdrawing: lines changed; see them with --to FILE.html\n")
		}
	}
	for _, f := range c.Files {
		fmt.Fprintf(w, "changed file %s\n", f)
	}
	if len(c.Details)+len(c.Files) == 0 {
		fmt.Fprintln(w, "Nothing changed.")
	}
}
