package main

import (
	"bytes"
	"errors"
	"fmt"
	"go/format"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// bench is what the checks work with.
type bench struct {
	root           string
	stdout, stderr io.Writer
	env            []string // on top of the environment, for every command
	sources        sources
}

// command is one program run in the project's root, its output let through:
// the closing lines of go test are for people and for build servers.
type command struct {
	b    *bench
	args []string
	env  []string
}

func (b *bench) command(name string, args ...string) *command {
	return &command{b: b, args: append([]string{name}, args...)}
}

func (c *command) run() error {
	cmd := exec.Command(c.args[0], c.args[1:]...)
	cmd.Dir = c.b.root
	cmd.Env = append(append(os.Environ(), c.b.env...), c.env...)
	cmd.Stdout, cmd.Stderr = c.b.stdout, c.b.stderr
	return cmd.Run()
}

// browserPackage drives a browser, and stands apart from the other tests.
const browserPackage = "./site/browser"

// checkFormat holds every source to gofmt.
func checkFormat(b *bench) error {
	var wrong []string
	for _, f := range b.sources.files {
		data, err := os.ReadFile(filepath.Join(b.root, f.path))
		if err != nil {
			return err
		}
		formatted, err := format.Source(data)
		if err != nil {
			return fmt.Errorf("%s: %w", f.path, err)
		}
		if !bytes.Equal(data, formatted) {
			wrong = append(wrong, f.path)
		}
	}
	if len(wrong) > 0 {
		return fmt.Errorf("run gofmt -w %s", strings.Join(wrong, " "))
	}
	fmt.Fprintf(b.stdout, "%d files\n", len(b.sources.files))
	return nil
}

func checkVet(b *bench) error { return b.command("go", "vet", "./...").run() }

// targets are the systems the program is promised for, each with the processor
// it is most met on.
var targets = []string{"linux/amd64", "darwin/arm64", "windows/amd64"}

// checkBinaries builds the program for each of the targets; it runs none.
func checkBinaries(b *bench) error {
	dir, err := os.MkdirTemp("", "wythe-binaries-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	for _, target := range targets {
		system, arch, _ := strings.Cut(target, "/")
		c := b.command("go", "build", "-trimpath", "-o", filepath.Join(dir, system+"-"+arch), "./cmd/wythe")
		c.env = []string{"CGO_ENABLED=0", "GOOS=" + system, "GOARCH=" + arch}
		if err := c.run(); err != nil {
			return fmt.Errorf("%s: %w", target, err)
		}
		fmt.Fprintf(b.stdout, "built for %s\n", target)
	}
	return nil
}

// checkTests runs the tests of the packages that start no goroutine.
func checkTests(b *bench) error {
	return b.test(nil, func(p *pkg) bool { return !p.concurrent })
}

// checkRaces runs the tests of the packages that do, under the race detector.
func checkRaces(b *bench) error {
	return b.test([]string{"-race"}, func(p *pkg) bool { return p.concurrent })
}

func (b *bench) test(flags []string, want func(*pkg) bool) error {
	args := append([]string{"test", "-count=1", "-timeout=10m"}, flags...)
	n := 0
	for _, p := range b.sources.packages {
		if p.path != browserPackage && p.tested && want(p) {
			args = append(args, p.path)
			n++
		}
	}
	if n == 0 {
		return errors.New("no package with tests was found")
	}
	return b.command("go", args...).run()
}

func checkBrowser(b *bench) error {
	return b.command("go", "test", "-count=1", "-timeout=10m", browserPackage).run()
}

// fuzzRuns is how many inputs each fuzz target tries: a number and not a time,
// since the fuzzer takes its own deadline for a failure now and then.
const fuzzRuns = "5000x"

// checkFuzz runs each fuzz target for a bounded number of inputs.
func checkFuzz(b *bench) error {
	targets := 0
	var failed []error
	for _, p := range b.sources.packages {
		for _, name := range p.fuzz {
			targets++
			err := b.command("go", "test", "-run=^$", "-fuzz=^"+name+"$", "-fuzztime="+fuzzRuns, "-timeout=5m", p.path).run()
			if err != nil {
				failed = append(failed, fmt.Errorf("%s in %s: %w", name, p.path, err))
			}
		}
	}
	if targets == 0 {
		return errors.New("no fuzz target was found")
	}
	return errors.Join(failed...)
}
