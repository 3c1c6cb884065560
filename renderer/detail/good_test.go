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
