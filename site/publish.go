package site

import (
	"fmt"
	"os"
	"strings"

	"wythe/renderer/finding"
	"wythe/site/tree"
	"wythe/themes"
)

// Options say what is published and where.
type Options struct {
	Library string // folder
	To      string // folder of the site
	// Progress is told of each file written; it may be nil.
	Progress func(done, total int)
	// Workers is how many files are made at a time; 0: one for each core.
	Workers int
	// Files does the writing; nil: the operating system.
	Files tree.Files
}

// Result is what a publish came to.
type Result struct {
	Findings finding.List // of the library, sorted; warnings alone where it was published
	Details  int          // assemblies and junctions
	Files    int          // that the site is made of
	// Leftover says what of the former site could not be removed; nil: nothing.
	Leftover error
}

// FindingsError says that errors in the library stand in the way. They are in
// the result's Findings.
type FindingsError struct{ Errors int }

func (e *FindingsError) Error() string {
	return fmt.Sprintf("the library has %d errors", e.Errors)
}

// Publish reads a library and writes its site, whole or not at all.
//
// Errors: *[FindingsError] where the library has findings of level error; the
// errors of [tree.Publish]; and errors of reading the library.
func Publish(o Options) (Result, error) {
	defer collectLate()()
	store := openStore(o.Library)
	lib, err := open(o.Library, store, nil)
	if err != nil {
		return Result{}, err
	}
	result := Result{Findings: lib.firstFindings(), Details: lib.Details()}
	if n := result.Findings.Errors(); n > 0 {
		result.Findings = lib.Review()
		return result, &FindingsError{n}
	}
	outputs, press, err := lib.pressed()
	if err != nil {
		return result, err
	}
	keeper := lib.keeper(o.To, press)
	published, err := tree.Publish(outputs, tree.Options{
		To: o.To, Never: never(o.Library), Workers: o.Workers, Progress: o.Progress, Files: o.Files, Keep: keeper.keep(),
		Last: lib.offlineOutputs(), Outlive: hashed, Spare: keeper.spare(),
	})
	if err != nil {
		return result, err
	}
	keeper.stamp()
	_ = store.Save() // a store that cannot be written costs time at the next publish
	result.Findings.Add(lib.lastFindings())
	result.Findings.Sort()
	result.Files, result.Leftover = len(published.Record.Files), published.Leftover
	return result, nil
}

// hashed reports whether a file is one of the assets whose names change with
// their bytes. The last generation of them stays in the site, so that a page
// that was opened before finds its style, script and fonts.
func hashed(path string) bool {
	return strings.HasPrefix(path, themes.AssetFolder+"/") && path != manifestFile
}

// never lists the folders that a site must not take the place of.
func never(library string) []tree.Place {
	places := []tree.Place{{Dir: library, Is: "the library"}}
	if dir, err := os.Getwd(); err == nil {
		places = append(places, tree.Place{Dir: dir, Is: "the current folder"})
	}
	if dir, err := os.UserHomeDir(); err == nil {
		places = append(places, tree.Place{Dir: dir, Is: "your home folder"})
	}
	return places
}
