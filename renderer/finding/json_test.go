package finding

import (
	"encoding/json"
	"testing"
)

func TestJSON(t *testing.T) {
	var l List
	if got, err := json.Marshal(l); err != nil || string(got) != "[]" {
		t.Errorf("an empty list is %s, %v", got, err)
	}
	l.Errorf(Position{"a.md", 9, 15}, "unknown-material", `did you mean "concrete"?`, "unknown material %q", "concret")
	l.Warnf(Position{File: "b.md"}, "unknown-file", "", "b.md is not read")
	got, err := json.Marshal(l)
	const want = `[{"level":"error","file":"a.md","line":9,"column":15,"rule":"unknown-material","message":"unknown material \"concret\"","mend":"did you mean \"concrete\"?"},` +
		`{"level":"warning","file":"b.md","line":0,"column":0,"rule":"unknown-file","message":"b.md is not read","mend":""}]`
	if err != nil || string(got) != want {
		t.Errorf("got %s, %v\nwant %s", got, err, want)
	}
}
