package section

import (
	"testing"

	"wythe/renderer/material"
)

// A pipe drawn white is no air: only a hole, an air layer, or nothing is.
func TestAirIsWhatNothingFills(t *testing.T) {
	table := material.Builtin()
	named := func(name string) *material.Material {
		m, ok := table.Lookup(name)
		if !ok {
			t.Fatalf("no material %q", name)
		}
		return m
	}
	for _, c := range []struct {
		name string
		r    Region
		want bool
	}{
		{"a hole", Region{Hole: true}, true},
		{"an air layer", Region{Material: named("air")}, true},
		{"PVC", Region{Material: named("PVC")}, false},
		{"concrete", Region{Material: named("concrete")}, false},
	} {
		if got := c.r.Air(); got != c.want {
			t.Errorf("%s: air %v, want %v", c.name, got, c.want)
		}
	}
}
