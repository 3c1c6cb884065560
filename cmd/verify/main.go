// Command verify is the project's one test command. It brings the tools that
// the tests need, then runs every check, and ends with one line:
//
//	go run ./cmd/verify
//
// A check that fails does not stop the ones after it; a tool that is missing
// and cannot be installed stops the run.
package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

const usage = `Checks the whole project: format, vet, tests, race detector, browser tests,
fuzz targets, cross-compiled binaries. Installs Chromium, Poppler, ZBar and axe-core
where they are missing.

Usage:
  go run ./cmd/verify
`

// check is one thing that is verified.
type check struct {
	name string
	run  func(*bench) error
}

// checks in the order they run: what is cheap and often wrong comes first.
var checks = []check{
	{"format", checkFormat},
	{"vet", checkVet},
	{"binaries", checkBinaries},
	{"tests", checkTests},
	{"tests with the race detector", checkRaces},
	{"browser tests", checkBrowser},
	{"fuzz targets", checkFuzz},
}

func run(args []string, stdout, stderr io.Writer) int {
	if len(args) > 0 {
		fmt.Fprint(stderr, usage)
		return 2
	}
	start := time.Now()
	root, err := findRoot()
	if err != nil {
		fmt.Fprintln(stderr, "verify:", err)
		return 1
	}
	b := &bench{root: root, stdout: stdout, stderr: stderr}
	if err := b.bringTools(); err != nil {
		fmt.Fprintln(stderr, "verify:", err)
		return 1
	}
	if b.sources, err = readSources(root); err != nil {
		fmt.Fprintln(stderr, "verify:", err)
		return 1
	}
	var failed []string
	for i, c := range checks {
		began := time.Now()
		fmt.Fprintf(stdout, "\n== %d of %d: %s\n", i+1, len(checks), c.name)
		err := c.run(b)
		took := time.Since(began).Round(100 * time.Millisecond)
		if err != nil {
			failed = append(failed, c.name)
			fmt.Fprintf(stdout, "== %s: FAILED after %v: %v\n", c.name, took, err)
			continue
		}
		fmt.Fprintf(stdout, "== %s: passed in %v\n", c.name, took)
	}
	took := time.Since(start).Round(time.Second)
	if len(failed) > 0 {
		fmt.Fprintf(stdout, "\nverify: FAILED in %v: %q\n", took, failed)
		return 1
	}
	fmt.Fprintf(stdout, "\nverify: all %d checks passed in %v\n", len(checks), took)
	return 0
}

// findRoot returns the folder of go.mod, from the current one upwards.
func findRoot() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for at := dir; ; at = filepath.Dir(at) {
		if _, err := os.Stat(filepath.Join(at, "go.mod")); err == nil {
			return at, nil
		}
		if filepath.Dir(at) == at {
			return "", fmt.Errorf("no go.mod in %s or above; run it inside the project", dir)
		}
	}
}
