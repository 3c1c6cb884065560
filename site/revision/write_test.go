package revision

import (
	"bytes"
	"strings"
	"testing"

	"wythe/renderer/detail"
)

var entry = detail.Revision{Rev: "B", Date: "2026-11-24", Note: "Foam  3 in, was \"2\" # in.", Fingerprint: "1-ab"}

const oneLine = `{rev: B, date: 2026-11-24, note: "Foam 3 in, was \"2\" # in.", fingerprint: 1-ab}`

// Where ▸ stands the entry goes; all else stays byte for byte.
func TestInsert(t *testing.T) {
	for name, c := range map[string]struct{ file, put string }{
		"no table":      {"---\nmark: F-101  # the mark\n\n▸---\nText.\n", "revisions:\n  - " + oneLine + "\n"},
		"empty table":   {"---\nrevisions:   # none yet\n▸mark: F-101\n---\n", "  - " + oneLine + "\n"},
		"one line":      {"---\nrevisions:\n▸  # first\n  - {rev: A, date: 2026-01-02, note: x}\ntrades: [a]\n---\n", "  - " + oneLine + "\n"},
		"no indent":     {"---\nrevisions:\n▸- {rev: A, date: 2026-01-02, note: x}\n---\n", "- " + oneLine + "\n"},
		"a line a key":  {"---\nrevisions: # list\n▸    - rev: A\n      date: 2026-01-02\n      note: x\n---\n", "    - rev: B\n      date: 2026-11-24\n      note: \"Foam 3 in, was \\\"2\\\" # in.\"\n      fingerprint: 1-ab\n"},
		"oldest first":  {"---\nrevisions:\n  - {rev: 1, date: 2026-01-02, note: x}\n  - {rev: 2, date: 2026-01-02,\n     note: x}\n▸\n# next\ntrades: [a]\n---\n", "  - " + oneLine + "\n"},
		"brackets":      {"---\nrevisions: [▸{rev: A, date: 2026-01-02, note: \"λ\"}]\n---\n", oneLine + ", "},
		"empty list":    {"---\ntitle: \"¾ in ✓\"\nrevisions:  [▸ ]   # λ\n---\n", oneLine},
		"CRLF":          {"---\r\nmark: F-101\r\nrevisions:\r\n▸  - {rev: A, date: 2026-01-02, note: x}\r\n---\r\nText.\r\n", "  - " + oneLine + "\r\n"},
		"CRLF no table": {"---\r\nmark: F-101\r\n▸---\r\nText.\n", "revisions:\r\n  - " + oneLine + "\r\n"},
		"byte mark":     {"\ufeff---\nmark: \"é λ  \u00a0\"\t\n▸---\nText without end", "revisions:\n  - " + oneLine + "\n"},
		"old line ends": {"---\rmark: F-101\r▸---\rText.\r", "revisions:\r  - " + oneLine + "\r"},
		"odd spacing":   {"---\nmark:    F-101\nrevisions   :\n▸     -   {  rev : A ,date: 2026-01-02, note: x }\n---   \n", "     - " + oneLine + "\n"},
	} {
		t.Run(name, func(t *testing.T) {
			before, after, ok := strings.Cut(c.file, "▸")
			if !ok {
				t.Fatal("no place marked")
			}
			got, err := Insert("a.md", []byte(before+after), entry)
			if err != nil {
				t.Fatal(err)
			}
			if want := before + c.put + after; string(got) != want {
				t.Errorf("got\n%q\nwant\n%q", got, want)
			}
		})
	}
}

func TestInsertRefuses(t *testing.T) {
	for name, file := range map[string]string{
		"no front matter": "Text.\n",
		"not closed":      "---\nmark: F-101\n",
		"all in braces":   "---\n{mark: F-101}\n---\n",
		"no list":         "---\nrevisions: A\n---\n",
		"rising brackets": "---\nrevisions: [{rev: A}, {rev: B}]\n---\n",
		"not yaml":        "---\n\tmark: x\n---\n",
	} {
		if got, err := Insert("a.md", []byte(file), entry); err == nil {
			t.Errorf("%s: no error, but\n%s", name, got)
		}
	}
}

func TestNext(t *testing.T) {
	for _, c := range []struct{ rev, want string }{
		{"", "A"}, {"A", "B"}, {"H", "I"}, {"Z", "AA"}, {"AZ", "BA"}, {"ZZZ", ""}, {"1", "2"}, {"9", "10"}, {"999", ""}, {"A9", "A10"}, {"P01", "P02"},
	} {
		d := &detail.Detail{}
		if c.rev != "" {
			d.Revisions = []detail.Revision{{Rev: c.rev}}
		}
		if got := Next(d); got != c.want {
			t.Errorf("after %q comes %q; want %q", c.rev, got, c.want)
		}
	}
}

func FuzzInsert(f *testing.F) {
	f.Add([]byte("---\nrevisions:\n  - {rev: A, date: 2026-01-02, note: x}\n---\n"))
	f.Add([]byte("---\r\nrevisions: []\r\n---\r\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := Insert("a.md", data, entry)
		if err != nil {
			return
		}
		if len(got) <= len(data) {
			t.Fatalf("nothing was added to %q", data)
		}
		// What was put in is one stretch: without it the file is as it was.
		n := 0
		for n < len(data) && data[n] == got[n] {
			n++
		}
		for ; n >= 0; n-- {
			if bytes.Equal(got[n+len(got)-len(data):], data[n:]) {
				return
			}
		}
		t.Fatalf("%q became %q", data, got)
	})
}
