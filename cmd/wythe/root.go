package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"wythe/renderer/finding"
)

// app is what every command works with.
type app struct {
	stdout, stderr io.Writer
	libraryFlag    string
}

func newRoot(a *app) *cobra.Command {
	root := &cobra.Command{
		Use:   "wythe",
		Short: "Publish a library of construction details",
		Long: `wythe turns a folder of detail files into a published library: to-scale drawings,
figures by published standards, and pages that link to each other.

The library is the current folder if it has library.yaml, else details/, else
the folder named with --library.

Exit status: 0 done; 1 errors in the library, or work that failed; 2 a command
that makes no sense.`,
		Example: `  wythe begin my-library
  cd my-library
  wythe publish`,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			var names []string
			for _, c := range cmd.Commands() {
				names = append(names, c.Name())
			}
			mend := finding.DidYouMean(args[0], names)
			if mend == "" {
				mend = "list the commands with: wythe --help"
			}
			return usagef(mend, "unknown command %q", args[0])
		},
		RunE: func(cmd *cobra.Command, args []string) error { return cmd.Help() },
	}
	root.PersistentFlags().StringVar(&a.libraryFlag, "library", "", "the library's folder (default: the current one, else details/)")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usagef("see: "+cmd.CommandPath()+" --help", "%v", err)
	})
	root.Version = version()
	root.SetVersionTemplate("wythe {{.Version}}\n")
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetHelpCommand(&cobra.Command{Hidden: true})
	root.AddCommand(a.begin(), a.review(), a.publish(), a.draw(), a.figures(), a.bind(), a.materials())
	root.AddCommand(a.revise(), a.compare(), a.cited(), a.register(), a.takeoff())
	root.AddCommand(a.schema(), a.preview())
	return root
}

// takes returns a check that a command is given its arguments, each named in
// names; those in brackets may be left out.
func takes(names ...string) cobra.PositionalArgs {
	least := 0
	for _, n := range names {
		if !strings.HasPrefix(n, "[") {
			least++
		}
	}
	return func(cmd *cobra.Command, args []string) error {
		write := "write: " + cmd.CommandPath() + " " + strings.Join(names, " ")
		switch {
		case len(args) < least:
			return usagef(write, "%s needs %s", cmd.CommandPath(), names[len(args)])
		case len(args) > len(names):
			return usagef(strings.TrimSpace(write), "%s takes no %q", cmd.CommandPath(), args[len(names)])
		}
		return nil
	}
}

// libraryFile is the file that makes a folder a library.
const libraryFile = "library.yaml"

// library returns the library's folder.
func (a *app) library() (string, error) {
	if dir := a.libraryFlag; dir != "" {
		info, err := os.Stat(dir)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return "", failf("begin one with: wythe begin "+dir, "there is no folder %s", dir)
		case err != nil:
			return "", err
		case !info.IsDir():
			return "", failf("name the folder that holds "+libraryFile, "%s is no folder", dir)
		case !isLibrary(dir):
			return "", failf("begin a library with: wythe begin DIR", "%s is no library: it has no %s", dir, libraryFile)
		}
		return dir, nil
	}
	for _, dir := range []string{".", "details"} {
		if isLibrary(dir) {
			return dir, nil
		}
	}
	return "", failf("begin one with: wythe begin DIR\nor name one with: --library DIR",
		"there is no library here: neither %s nor %s", libraryFile, filepath.Join("details", libraryFile))
}

func isLibrary(dir string) bool {
	info, err := os.Stat(filepath.Join(dir, libraryFile))
	return err == nil && info.Mode().IsRegular()
}
