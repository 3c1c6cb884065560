package detail

import "testing"

func TestGoodLibraryHasNoFindings(t *testing.T) {
	l, err := Read("testdata/good")
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range l.Findings.Items {
		t.Error(i)
	}
}

// TestDemonstrationHasNoErrors: marks of details that are still to be drawn
// are warnings, and nothing else is found.
func TestDemonstrationHasNoErrors(t *testing.T) {
	l, err := Read("../../details")
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Details) == 0 {
		t.Fatal("no detail was read")
	}
	for _, i := range l.Findings.Items {
		if i.Rule != "unknown-mark" {
			t.Error(i)
		}
	}
}
