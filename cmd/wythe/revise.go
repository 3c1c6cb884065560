package main

import (
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"wythe/renderer/detail"
	"wythe/site"
)

func (a *app) revise() *cobra.Command {
	var note, date string
	c := &cobra.Command{
		Use:   "revise MARK",
		Short: "Write a detail's next revision into its file",
		Long: `Writes the next revision letter into the detail's file, with the date, a note, and
the fingerprint of what is drawn and said. Every other byte of the file stays as
it is. Commit the file afterwards: from that commit the revision is drawn again.

The fingerprint covers geometry, laid assemblies, names of materials and notes.
Status, figures and values of materials are not in it.`,
		Example: `  wythe revise F-101 --note "Stone 8 in, was 6 in."
  wythe revise J-201 --note "First issue." --date 2026-11-24`,
		Args: takes("MARK"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runRevise(args[0], note, date) },
	}
	c.Flags().StringVar(&note, "note", "", "what changed, in a sentence")
	c.Flags().StringVar(&date, "date", "", "the date as year-month-day (default: today)")
	return c
}

func (a *app) runRevise(mark, note, date string) error {
	if note == "" {
		return usagef("write: wythe revise "+mark+" --note \"what changed\"", "wythe revise needs --note")
	}
	if date == "" {
		date = time.Now().Format(time.DateOnly) // the one place where a clock is read
	} else if _, err := time.Parse(time.DateOnly, date); err != nil {
		return usagef("write year-month-day: --date 2026-11-24", "--date %q is no date", date)
	}
	lib, d, err := a.detail(mark)
	if err != nil {
		return err
	}
	entry, err := lib.Revise(d, note, date)
	var findings *site.FindingsError
	switch {
	case errors.As(err, &findings):
		return failf("see: wythe review", "%s in %s stand in the way", count(findings.Errors, "error"), d.Mark)
	case err != nil:
		return refused(err)
	}
	fmt.Fprintf(a.stdout, "%s is revision %s of %s, in %s.\n", d.Mark, entry.Rev, entry.Date, d.File)
	if d.Status != detail.Issued {
		fmt.Fprintf(a.stdout, "Its status is %q: set it to \"issued\" when it goes out.\n", d.Status)
	}
	fmt.Fprintf(a.stdout, "Commit %s, so that the revision can be drawn again.\n", d.File)
	return nil
}

// refused gives a refusal of the house the form of the command line's.
func refused(err error) error {
	var r *site.RefusedError
	if errors.As(err, &r) {
		return failf(r.Mend, "%s", r.Why)
	}
	return err
}
