package main

import (
	"fmt"
	"os"
	"path/filepath"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"wythe/site"
)

func (a *app) cited() *cobra.Command {
	var asJSON bool
	var to string
	c := &cobra.Command{
		Use:   "cited FILE…",
		Short: "Hold the marks in other documents to the library",
		Long: `Reads specifications and other documents that are kept elsewhere (plain text, HTML,
.docx) and lists each mark in them with its state: current, superseded, an older
revision, unknown. Exit status 1 if any is wrong.

With --to a copy of each document is written into a folder, its marks linked to
the published site; all else in it stays as it is. The site's address is that of
library.yaml.`,
		Example: `  wythe cited spec.docx
  wythe cited *.txt notes.html --to linked`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usagef("write: wythe cited FILE…", "wythe cited needs a FILE")
			}
			return a.runCited(args, asJSON, to)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print a JSON array")
	c.Flags().StringVar(&to, "to", "", "the folder for the copies with links")
	return c
}

// citedJSON is one document as cited --json prints it.
type citedJSON struct {
	File  string          `json:"file"`
	Marks []site.Citation `json:"marks"`
}

func (a *app) runCited(files []string, asJSON bool, to string) error {
	dir, err := a.library()
	if err != nil {
		return err
	}
	lib, err := site.Open(dir)
	if err != nil {
		return err
	}
	docs := make([]citedJSON, len(files))
	copies := make([][]byte, len(files))
	names := map[string]string{}
	wrong := 0
	for i, f := range files {
		base := filepath.Base(f)
		if first, taken := names[base]; taken && to != "" {
			return failf("copy them one at a time", "%s and %s would have one name in %s", first, f, to)
		}
		names[base] = f
		list, copied, err := lib.Cited(f, to != "")
		if err != nil {
			return refused(err)
		}
		docs[i], copies[i] = citedJSON{f, list}, copied
		if copied == nil && to != "" {
			if copies[i], err = os.ReadFile(f); err != nil {
				return err
			}
		}
		for k := range list {
			if list[k].Wrong() {
				wrong++
			}
		}
	}
	if to != "" { // after all of them could be read
		if err := a.writeCopies(files, copies, to); err != nil {
			return err
		}
	}
	if asJSON {
		if err := a.printJSON(docs); err != nil {
			return err
		}
	} else if err := a.printCited(docs, to); err != nil {
		return err
	}
	if wrong > 0 {
		return &findingsError{fmt.Sprintf("%s must be mended", count(wrong, "mark"))}
	}
	return nil
}

func (a *app) writeCopies(files []string, copies [][]byte, to string) error {
	if err := os.MkdirAll(to, 0o777); err != nil {
		return failf("name another folder with --to", "cannot make the folder: %v", err)
	}
	for i, f := range files {
		name := filepath.Join(to, filepath.Base(f))
		if was, err := os.Stat(f); err == nil {
			if is, err := os.Stat(name); err == nil && os.SameFile(was, is) {
				return failf("name another folder with --to", "%s would be written over itself", f)
			}
		}
		if err := os.WriteFile(name, copies[i], 0o666); err != nil {
			return failf("name another folder with --to", "cannot write the copy: %v", err)
		}
	}
	return nil
}

func (a *app) printCited(docs []citedJSON, to string) error {
	out := tabwriter.NewWriter(a.stdout, 0, 0, 3, ' ', 0)
	for _, d := range docs {
		fmt.Fprintf(out, "%s: %s\n", d.File, count(len(d.Marks), "mark"))
		for _, c := range d.Marks {
			mark := c.Mark
			if c.Rev != "" {
				mark += " rev " + c.Rev
			}
			fmt.Fprintf(out, "  %s\t%s\t%s\t%s\n", mark, c.State, c.Place, c.Says)
		}
	}
	if err := out.Flush(); err != nil {
		return err
	}
	if to != "" {
		fmt.Fprintf(a.stdout, "Wrote %s to %s.\n", copiesOf(len(docs)), to)
	}
	return nil
}

func copiesOf(n int) string {
	if n == 1 {
		return "1 copy"
	}
	return fmt.Sprintf("%d copies", n)
}
