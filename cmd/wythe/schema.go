package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"wythe/renderer/finding"
	"wythe/renderer/material"
	"wythe/renderer/schema"
	"wythe/site"
)

func (a *app) schema() *cobra.Command {
	to := ""
	c := &cobra.Command{
		Use:   "schema [KIND]",
		Short: "Print JSON Schemas, for editors that check while you type",
		Long: `Prints the JSON Schema (draft 2020-12) of one kind of file: detail (the front
matter of any detail file, the default), assembly, junction, specification,
building, prose, library, materials or climate. With --to it writes the schemas
of all kinds into a folder, each as KIND.schema.json.

In a library the office's own materials are offered beside the built-in ones.`,
		Example: `  wythe schema --to .schemas
  wythe schema junction`,
		Args: takes("[KIND]"),
		RunE: func(cmd *cobra.Command, args []string) error {
			kind := "detail"
			if len(args) > 0 {
				kind = args[0]
			}
			if to != "" && len(args) > 0 {
				return usagef("write: wythe schema --to "+to, "--to writes every kind: it takes no KIND")
			}
			return a.runSchema(kind, to)
		},
	}
	c.Flags().StringVar(&to, "to", to, "write the schemas of all kinds into this folder")
	return c
}

func (a *app) runSchema(kind, to string) error {
	names, err := a.materialNames()
	if err != nil {
		return err
	}
	files := schema.Files(names)
	if to != "" {
		if err := os.MkdirAll(to, 0o777); err != nil {
			return failf("name a folder that can be written to", "cannot write schemas: %v", err)
		}
		for _, f := range files {
			if err := os.WriteFile(filepath.Join(to, f.Name+".schema.json"), f.Data, 0o666); err != nil {
				return failf("name a folder that can be written to", "cannot write schemas: %v", err)
			}
		}
		fmt.Fprintf(a.stdout, "Wrote %s to %s.\n", count(len(files), "schema"), to)
		fmt.Fprintf(a.stdout, "Next: tell your editor that *.md front matter answers to %s.\n", filepath.Join(to, "detail.schema.json"))
		return nil
	}
	var kinds []string
	for _, f := range files {
		if f.Name == kind {
			_, err := a.stdout.Write(f.Data)
			return err
		}
		kinds = append(kinds, f.Name)
	}
	mend := finding.DidYouMean(kind, kinds)
	if mend == "" {
		mend = "the kinds are: " + strings.Join(kinds, ", ")
	}
	return usagef(mend, "unknown kind %q", kind)
}

// materialNames are those of the library here, or of the built-in table where
// there is none and none is named.
func (a *app) materialNames() ([]string, error) {
	dir, err := a.library()
	if err != nil {
		if a.libraryFlag != "" {
			return nil, err
		}
		return material.Builtin().Names(), nil
	}
	lib, err := site.Open(dir)
	if err != nil {
		return nil, err
	}
	return lib.Materials().Names(), nil
}
