package strict

import (
	"io/fs"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wythe/renderer/finding"
)

// TestSavedIsRestored holds what is restored to what was read, for every file
// of the demonstration library.
func TestSavedIsRestored(t *testing.T) {
	files := 0
	err := fs.WalkDir(os.DirFS("../../details"), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".md") {
			return err
		}
		data, err := os.ReadFile("../../details/" + name)
		if err != nil {
			return err
		}
		var list, again finding.List
		front, _, _, ok := Split(name, data, &list)
		if !ok || len(list.Items) > 0 {
			t.Errorf("%s: %v", name, list.Items)
			return nil
		}
		saved := string(front.AppendSaved(nil))
		got, rest, ok := Restore(name, saved+"more", &again)
		if !ok || rest != "more" {
			t.Errorf("%s: not restored; %q is left", name, rest)
			return nil
		}
		if print(got) != print(front) {
			t.Errorf("%s (-want +got):\n%s", name, cmp.Diff(print(front), print(got)))
		}
		got.Errorf("rule", "mend", "wrong")
		if len(again.Items) != 1 || again.Items[0].Position != front.At() && front.y != nil {
			t.Errorf("%s: a finding falls on %v", name, again.Items)
		}
		files++
		return nil
	})
	if err != nil || files < 20 {
		t.Errorf("%d files, %v", files, err)
	}
}

// print shows all that a value tells.
func print(n Node) string {
	var b strings.Builder
	var put func(n Node, in string)
	put = func(n Node, in string) {
		b.WriteString(in + n.At().String() + " " + n.AtOffset(3).String() + " " + n.kind() + " " + n.Written() + "\n")
		if n.y == nil {
			return
		}
		for _, c := range n.items() {
			put(c, in+"  ")
		}
	}
	put(n, "")
	return b.String()
}

// FuzzRestore: no text breaks the reader of saved values, and what it takes
// prints to the same again.
func FuzzRestore(f *testing.F) {
	var list finding.List
	front, _ := Load("x.yaml", []byte("a: [1, \"two\", {b: c}]\nd: |\n  text\n"), &list)
	f.Add(string(front.AppendSaved(nil)))
	f.Add("\x00\x00")
	f.Add("")
	f.Fuzz(func(t *testing.T, saved string) {
		var list finding.List
		n, _, ok := Restore("x.md", saved, &list)
		if !ok {
			return
		}
		again := string(n.AppendSaved(nil))
		twice, rest, ok := Restore("x.md", again, &list)
		if !ok || rest != "" || print(twice) != print(n) {
			t.Errorf("not the same twice: %q", saved)
		}
	})
}
