// Package published reads, for tests, the values of standards and handbooks
// that testdata/published holds, each with its source, and compares figures
// with them. Only tests import it.
package published

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

// Case is one published case: where it was printed, how it came here, and the
// values, to be decoded into the shape that the test knows.
type Case struct {
	ID, Source, Provenance               string
	Tolerance, Inputs, Expected, Precise yaml.Node
	Facts                                []string
	Follows                              map[string]float64
	Remembered                           [][]float64 `yaml:"remembered_table"`
}

// folder is testdata/published of the module that the test runs in.
func folder(t testing.TB) string {
	t.Helper()
	at, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for ; at != filepath.Dir(at); at = filepath.Dir(at) {
		if _, err := os.Stat(filepath.Join(at, "go.mod")); err == nil {
			return filepath.Join(at, "testdata", "published")
		}
	}
	t.Fatal("no go.mod here or above")
	return ""
}

// Decode reads a whole file of the folder; a file that cannot be read fails
// the test.
func Decode(t testing.TB, file string, into any) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(folder(t), file))
	if err != nil {
		t.Fatal(err)
	}
	if err := yaml.Unmarshal(text, into); err != nil {
		t.Fatalf("%s: %v", file, err)
	}
}

// Cases lists the cases of a file; a file without any fails the test.
func Cases(t testing.TB, file string) []Case {
	t.Helper()
	var all struct{ Cases []Case }
	Decode(t, file, &all)
	if len(all.Cases) == 0 {
		t.Fatalf("%s has no cases", file)
	}
	return all.Cases
}

// Read finds a case and decodes its inputs and what is expected; nil leaves
// either aside. A case that is not there fails the test.
func Read(t testing.TB, file, id string, inputs, expected any) Case {
	t.Helper()
	for _, c := range Cases(t, file) {
		if c.ID != id {
			continue
		}
		t.Logf("%s: %s (%s)", id, c.Source, c.Provenance)
		if inputs != nil {
			if err := c.Inputs.Decode(inputs); err != nil {
				t.Fatalf("%s: inputs of %s: %v", file, id, err)
			}
		}
		if expected != nil {
			if err := c.Expected.Decode(expected); err != nil {
				t.Fatalf("%s: what is expected of %s: %v", file, id, err)
			}
		}
		return c
	}
	t.Fatalf("%s has no case %q", file, id)
	return Case{}
}

// Within is the case's tolerance: its first word, under a key where the case
// has several.
func (c Case) Within(t testing.TB, key string) float64 {
	t.Helper()
	text := c.Tolerance.Value
	if key != "" {
		var by map[string]string
		if err := c.Tolerance.Decode(&by); err != nil {
			t.Fatal(err)
		}
		text = by[key]
	}
	first, _, _ := strings.Cut(strings.TrimSpace(text), " ")
	v, err := strconv.ParseFloat(first, 64)
	if err != nil {
		t.Fatalf("%s: tolerance %q is not a number", c.ID, text)
	}
	return v
}

// Number is a value that stands among others that are not numbers.
func Number(t testing.TB, n yaml.Node) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(n.Value, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Near fails the test where got is further from want than within, or is not a
// number.
func Near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %.9g; want %.9g ± %.1g", what, got, want, within)
	}
}
