package main

import (
	"errors"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"wythe/renderer/finding"
	"wythe/site"
)

func (a *app) publish() *cobra.Command {
	to := "published"
	c := &cobra.Command{
		Use:   "publish",
		Short: "Publish the library as a site",
		Long: `Reads the library and writes it as a site: an index, a page for each detail with
its drawing and figures, and pages of materials and prose.

The new site is written aside and swapped in whole. On an error in the library
nothing is written, and the last good site stays. Only files that an earlier
publish wrote are ever removed; others in the folder are refused by name.`,
		Example: `  wythe publish
  wythe publish --to ../site
  wythe publish --library details`,
		Args: takes(),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runPublish(to) },
	}
	c.Flags().StringVar(&to, "to", to, "the site's folder")
	return c
}

// someWarnings is how many warnings a publish prints; review prints all.
const someWarnings = 8

// printSome prints all errors, and the first warnings.
func (a *app) printSome(list finding.List) {
	most := list.Errors() + someWarnings
	if len(list.Items) <= most+1 {
		printFindings(a.stderr, list)
		return
	}
	printFindings(a.stderr, finding.List{Items: list.Items[:most]})
	fmt.Fprintf(a.stderr, "and %s more; see them all with: wythe review\n", count(len(list.Items)-most, "warning"))
}

func (a *app) runPublish(to string) error {
	dir, err := a.library()
	if err != nil {
		return err
	}
	p := newProgress(a.stderr, "Publishing")
	result, err := site.Publish(site.Options{Library: dir, To: to, Progress: p.step})
	p.end()
	a.printSome(result.Findings)
	var findings *site.FindingsError
	if errors.As(err, &findings) {
		return &findingsError{fmt.Sprintf("%s: nothing is published, and what was published before stays\n\tmend the errors and publish again", count(result.Findings.Errors(), "error"))}
	}
	if err != nil {
		return err
	}
	if result.Leftover != nil {
		fmt.Fprintf(a.stderr, "wythe: the new site stands, but what it replaced could not all be removed: %v\n", result.Leftover)
	}
	fmt.Fprintf(a.stdout, "Published %s in %s to %s.\n", count(result.Details, "detail"), count(result.Files, "file"), to)
	fmt.Fprintf(a.stdout, "Next: open %s in a browser.\n", filepath.Join(to, "index.html"))
	return nil
}
