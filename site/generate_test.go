package site

import (
	"testing"

	"wythe/site/specimen"
)

// generateLibrary lays down a library of n assemblies.
func generateLibrary(tb testing.TB, n int) string {
	tb.Helper()
	dir := tb.TempDir()
	if err := specimen.Assemblies(dir, n); err != nil {
		tb.Fatal(err)
	}
	return dir
}

// generateWhole lays down a library of at least n details of all kinds.
func generateWhole(tb testing.TB, n int) (dir string, details int) {
	tb.Helper()
	dir = tb.TempDir()
	details, err := specimen.Whole(dir, demo, n)
	if err != nil {
		tb.Fatal(err)
	}
	return dir, details
}

func generatedMark(i int) string { return specimen.Mark(i) }
