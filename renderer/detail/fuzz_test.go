package detail

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"wythe/renderer/finding"
)

// readBeside reads one file as part of a library, in this goroutine alone, so
// that a fuzzer sees the same course each time.
func readBeside(lib *Library, text string) finding.List {
	l := *lib
	r := l.readPage(fstest.MapFS{"x.md": {Data: []byte(text)}}, "x.md", nil)
	l.byMark = map[string]*Detail{}
	for mark, d := range lib.byMark {
		l.byMark[mark] = d
	}
	if r.d != nil && r.d.Mark != "" {
		l.byMark[r.d.Mark] = r.d
	}
	r.finish()
	r.list.Sort()
	return r.list
}

// FuzzFrontMatter: whatever a file holds, it is read: no panic, every finding
// has its place within the file, a message and a rule, and another run finds
// the same.
func FuzzFrontMatter(f *testing.F) {
	for _, pattern := range []string{"testdata/good/*/*.md", "testdata/good/*.md", "../../details/*/*.md"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			f.Fatalf("no seeds in %s: %v", pattern, err)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(string(data))
		}
	}
	for _, text := range sound {
		f.Add(text)
	}
	fsys, _ := sources(map[string]string{"J-201.md": ""})
	lib, err := ReadFS(fsys)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		list := readBeside(lib, text)
		lines := 2
		for _, r := range text {
			if r == '\n' || r == '\r' {
				lines++
			}
		}
		for _, i := range list.Items {
			if i.File != "x.md" || i.Line < 0 || i.Line > lines || i.Line > 0 && i.Column < 1 || i.Message == "" || i.Rule == "" {
				t.Errorf("%q: %#v", text, i)
			}
			if utf8.ValidString(text) && !utf8.ValidString(i.Message+i.Mend) {
				t.Errorf("%q: a message is cut within a letter: %q", text, i.Message)
			}
		}
		if again := readBeside(lib, text); !slices.Equal(again.Items, list.Items) {
			t.Fatalf("%q: another run finds %v, not %v", text, again.Items, list.Items)
		}
	})
}
