package main

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
)

// starter is the library that begin lays down.
//
//go:embed starter
var starter embed.FS

func (a *app) begin() *cobra.Command {
	return &cobra.Command{
		Use:   "begin DIR",
		Short: "Begin a new library with one worked assembly",
		Long: `Lays down a new library in DIR, a folder that is empty or not there yet: a
library.yaml with a remark beside each setting, and one worked assembly.`,
		Example: `  wythe begin my-library`,
		Args:    takes("DIR"),
		RunE:    func(cmd *cobra.Command, args []string) error { return a.runBegin(args[0]) },
	}
}

func (a *app) runBegin(dir string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case err == nil && len(entries) > 0:
		return failf("name a folder that is empty or not there yet; nothing was written", "%s is not empty: it holds %s", dir, entries[0].Name())
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		if info, statErr := os.Stat(dir); statErr == nil && !info.IsDir() {
			return failf("name a folder that is empty or not there yet", "%s is a file", dir)
		}
		return err
	}
	files, err := fs.Sub(starter, "starter")
	if err != nil {
		return err
	}
	var laid []string
	err = fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		full := filepath.Join(dir, filepath.FromSlash(name))
		if d.IsDir() {
			return os.MkdirAll(full, 0o777)
		}
		data, err := fs.ReadFile(files, name)
		if err != nil {
			return err
		}
		laid = append(laid, name)
		return os.WriteFile(full, data, 0o666)
	})
	if err != nil {
		return failf("mend that, empty the folder and begin again", "cannot begin in %s: %v", dir, err)
	}
	fmt.Fprintf(a.stdout, "Began a library in %s:\n", dir)
	for _, name := range laid {
		fmt.Fprintf(a.stdout, "\t%s\n", name)
	}
	fmt.Fprintf(a.stdout, "Next: cd %s, then: wythe publish\n", dir)
	return nil
}
