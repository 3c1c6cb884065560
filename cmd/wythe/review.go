package main

import (
	"encoding/json"
	"fmt"

	"github.com/spf13/cobra"

	"wythe/renderer/finding"
	"wythe/site"
)

func (a *app) review() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "review",
		Short: "Print what is wrong with the library",
		Long: `Reads every file of the library and prints each finding with its place and what
would put it right: errors first, then warnings. Exit status 1 on errors.`,
		Example: `  wythe review
  wythe review --library details --json`,
		Args: takes(),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runReview(asJSON) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print a JSON array")
	return c
}

func (a *app) runReview(asJSON bool) error {
	dir, err := a.library()
	if err != nil {
		return err
	}
	list, details, err := site.Review(dir)
	if err != nil {
		return err
	}
	if asJSON {
		if err := a.printJSON(list); err != nil {
			return err
		}
	} else {
		printFindings(a.stdout, list)
		fmt.Fprintln(a.stdout, reviewClosing(list, details))
	}
	if list.Errors() > 0 {
		return &findingsError{}
	}
	return nil
}

func reviewClosing(list finding.List, details int) string {
	errors := list.Errors()
	warnings := len(list.Items) - errors
	switch {
	case errors > 0:
		return fmt.Sprintf("%s, %s. Mend the errors before you publish.", count(errors, "error"), count(warnings, "warning"))
	case warnings > 0:
		return fmt.Sprintf("No errors, %s in %s. Next: wythe publish", count(warnings, "warning"), count(details, "detail"))
	}
	return fmt.Sprintf("Nothing to mend in %s. Next: wythe publish", count(details, "detail"))
}

// printJSON prints a value as JSON, set in by two spaces.
func (a *app) printJSON(v any) error {
	e := json.NewEncoder(a.stdout)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}
