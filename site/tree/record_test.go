package tree

import (
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wythe/renderer/trace"
)

func TestRecordThatCannotBeBelieved(t *testing.T) {
	for _, c := range []struct{ name, text string }{
		{"empty", ""},
		{"not JSON", "<html>"},
		{"another form", `{"wythe": 99, "reads": [], "files": []}`},
		{"an unknown key", `{"wythe": 1, "remove": ["/"], "reads": [], "files": []}`},
		{"a path above", `{"wythe": 1, "reads": [], "files": [{"path": "../a", "hash": "", "size": 0}]}`},
		{"a rooted path", `{"wythe": 1, "reads": [], "files": [{"path": "/etc/passwd", "hash": "", "size": 0}]}`},
		{"a winding path", `{"wythe": 1, "reads": [], "files": [{"path": "a/../../b", "hash": "", "size": 0}]}`},
		{"a read that is not there", `{"wythe": 1, "reads": [], "files": [{"path": "a", "hash": "", "size": 0, "reads": [0]}]}`},
	} {
		if r, err := decodeRecord([]byte(c.text)); err == nil {
			t.Errorf("%s: taken as %v", c.name, r)
		}
	}
}

// FuzzRecord holds decode to encode: what is read prints to the same record.
func FuzzRecord(f *testing.F) {
	f.Add([]byte(`{"wythe": 1, "reads": [["k","h"]], "files": [{"path": "a/b", "hash": "00", "size": 3, "reads": [0]}]}`))
	f.Add(Record{Reads: []trace.Read{{Key: "ψ \"of\" J-203", Hash: trace.Missing}}, Files: []File{{Path: "x"}}}.encode())
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := decodeRecord(data)
		if err != nil {
			return
		}
		printed := r.encode()
		again, err := decodeRecord(printed)
		if err != nil {
			t.Fatalf("printed record is refused: %v\n%s", err, printed)
		}
		if twice := again.encode(); !bytes.Equal(printed, twice) {
			t.Errorf("not the same twice:\n%s", cmp.Diff(string(printed), string(twice)))
		}
	})
}
