// Command wythe turns a folder of detail files into a published library.
//
// It reads arguments, calls package site and prints; the work is done there.
// Exit status: 0 done; 1 findings of level error, or work that failed; 2 a
// command line that makes no sense.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"wythe/renderer/finding"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// The exit statuses.
const (
	done     = 0
	failed   = 1
	misusage = 2
)

// run is the program: it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	root := newRoot(&app{stdout: stdout, stderr: stderr})
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.Execute()
	if err == nil {
		return done
	}
	var usage *usageError
	var findings *findingsError
	switch {
	case errors.As(err, &usage):
		fmt.Fprintf(stderr, "wythe: %v\n", err)
		return misusage
	case errors.As(err, &findings):
		// The findings themselves are printed where they were met.
		if findings.closing != "" {
			fmt.Fprintf(stderr, "wythe: %s\n", findings.closing)
		}
		return failed
	}
	fmt.Fprintf(stderr, "wythe: %v\n", err)
	return failed
}

// usageError is a command line that makes no sense, with what to write
// instead.
type usageError struct{ message, mend string }

func (e *usageError) Error() string {
	if e.mend == "" {
		return e.message
	}
	return e.message + "\n\t" + e.mend
}

func usagef(mend, format string, args ...any) error {
	return &usageError{fmt.Sprintf(format, args...), mend}
}

// mendError is work that failed, with what to do next.
type mendError struct{ message, mend string }

func (e *mendError) Error() string { return e.message + "\n\t" + e.mend }

func failf(mend, format string, args ...any) error {
	return &mendError{fmt.Sprintf(format, args...), mend}
}

// findingsError ends a command that met findings of level error.
type findingsError struct{ closing string }

func (e *findingsError) Error() string { return e.closing }

// printFindings prints each finding; the list is sorted.
func printFindings(w io.Writer, list finding.List) {
	for _, item := range list.Items {
		fmt.Fprintln(w, item)
	}
}

// count says how many there are of a thing: "1 error", "2 errors".
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
