package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"wythe/renderer/finding"
	"wythe/site"
)

func (a *app) bind() *cobra.Command {
	o := bindOptions{to: "set.pdf"}
	c := &cobra.Command{
		Use:   "bind [MARK...]",
		Short: "Bind details into a set of sheets, as PDF",
		Long: `Sets details out on sheets of the library's paper, one or more sheets each, and
binds them into one PDF with an index: drawings true to scale, with a junction's
temperatures and its most crowded corner enlarged, title block, schedule,
figures, cautions, revisions, bookmarks and links. What is not issued says so
across the drawing. Where the library has a site address, a code on each sheet
leads to the detail at its revision.`,
		Example: `  wythe bind F-101 J-201 --to set.pdf
  wythe bind --all --to library.pdf
  wythe bind --building "Ferry Landing" --to ferry-landing.pdf`,
		Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error { return a.runBind(args, o) },
	}
	c.Flags().StringVar(&o.to, "to", o.to, "the file to write")
	c.Flags().BoolVar(&o.all, "all", false, "bind every detail of the library")
	c.Flags().StringVar(&o.building, "building", "", "bind what a building is built of")
	return c
}

type bindOptions struct {
	to       string
	all      bool
	building string
}

func (a *app) runBind(marks []string, o bindOptions) error {
	const write = "write one of: wythe bind F-101 F-102, wythe bind --all, wythe bind --building NAME"
	ways := 0
	for _, given := range []bool{len(marks) > 0, o.all, o.building != ""} {
		if given {
			ways++
		}
	}
	switch {
	case ways == 0:
		return usagef(write, "wythe bind needs to know which details")
	case ways > 1:
		return usagef(write, "marks, --all and --building exclude each other")
	}
	dir, err := a.library()
	if err != nil {
		return err
	}
	lib, err := site.Open(dir)
	if err != nil {
		return err
	}
	title, marks, err := chosen(lib, marks, o)
	if err != nil {
		return err
	}
	if own := lib.ErrorsOfAll(marks); len(own.Items) > 0 {
		printFindings(a.stderr, own)
		return &findingsError{fmt.Sprintf("%s in the way: nothing is bound\n\tmend them and try again", count(len(own.Items), "error"))}
	}
	p := newProgress(a.stderr, "Binding")
	bind := site.BindOptions{Marks: marks, Building: title, Progress: p.step}
	pages := 0
	err = writeAside(o.to, func(out io.Writer) error {
		result, err := lib.Bind(out, bind)
		pages = result.Pages
		p.end()
		a.sayBound(result.Stepped, "is drawn smaller than its own scale to fit the paper, and says so")
		a.sayBound(result.Split, "does not fit the paper at a scale near its own and is drawn on several sheets")
		a.sayBound(result.Uncoded, "has no code: the site address in library.yaml must be of plain ASCII signs, and shorter")
		return err
	})
	if err != nil {
		return failf("name another file with --to", "cannot write the set: %v", err)
	}
	fmt.Fprintf(a.stdout, "Bound %s on %s to %s.\n", count(len(marks), "detail"), count(pages, "page"), o.to)
	return nil
}

func (a *app) sayBound(marks []string, what string) {
	for _, m := range marks {
		fmt.Fprintf(a.stderr, "wythe: %s %s\n", m, what)
	}
}

// chosen returns the marks to be bound and the building they are for.
func chosen(lib *site.Library, marks []string, o bindOptions) (title string, list []string, err error) {
	known := lib.Marks()
	switch {
	case o.building != "":
		title, list, err = lib.MarksOf(o.building)
		var none *site.NoBuildingError
		if errors.As(err, &none) {
			mend := finding.DidYouMean(o.building, none.Have)
			if mend == "" {
				mend = "the library has " + strings.Join(none.Have, ", ")
			}
			if len(none.Have) == 0 {
				mend = "the library has no buildings"
			}
			return "", nil, failf(mend, "%v", err)
		}
		if len(list) == 0 && err == nil {
			return "", nil, failf("add areas or lengths to its file", "%s names no details", title)
		}
		return title, list, err
	case o.all:
		if len(known) == 0 {
			return "", nil, failf("see: wythe review", "the library has no details")
		}
		return "", known, nil
	}
	for _, m := range marks {
		if lib.Detail(m) == nil {
			return "", nil, unknownMark(m, known)
		}
	}
	for _, m := range known { // in the library's order, each once
		for _, asked := range marks {
			if asked == m {
				list = append(list, m)
				break
			}
		}
	}
	return "", list, nil
}

// unknownMark says that no detail has a mark, and which have.
func unknownMark(mark string, marks []string) error {
	mend := finding.DidYouMean(mark, marks)
	switch {
	case mend != "":
	case len(marks) == 0:
		mend = "the library has no details yet; see: wythe review"
	default:
		mend = "the library has " + strings.Join(marks[:min(len(marks), 20)], ", ")
		if len(marks) > 20 {
			mend += ", …"
		}
	}
	return failf(mend, "no detail has the mark %q", mark)
}

// writeAside writes a file beside its place and swaps it in when it is whole.
func writeAside(name string, write func(io.Writer) error) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".wythe-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	err = write(f)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Chmod(f.Name(), 0o644)
	}
	if err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}
