package tree

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wythe/renderer/trace"
)

// counted counts what a publish asks of the file system.
type counted struct {
	System
	links, folders, writes, removals int
}

func (c *counted) Link(from, to string) error          { c.links++; return c.System.Link(from, to) }
func (c *counted) Mkdir(dir string) error              { c.folders++; return c.System.Mkdir(dir) }
func (c *counted) WriteFile(n string, d []byte) error  { c.writes++; return c.System.WriteFile(n, d) }
func (c *counted) Remove(dir *os.Root, n string) error { c.removals++; return c.System.Remove(dir, n) }

// set returns outputs of a text each.
func set(texts map[string]string) []Output {
	var outs []Output
	for path, text := range texts {
		outs = append(outs, Output{path, func(reads *trace.Reads) ([]byte, error) {
			reads.Record(path, trace.Hash(text))
			return []byte(text), nil
		}})
	}
	slices.SortFunc(outs, func(a, b Output) int { return strings.Compare(a.Path, b.Path) })
	return outs
}

// TestASpareIsChangedWhereItDiffers publishes random trees one over the other:
// each comes out whole, and a small change takes few calls.
func TestASpareIsChangedWhereItDiffers(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 8))
	out := filepath.Join(t.TempDir(), "published")
	o := Options{To: out, Spare: filepath.Join(t.TempDir(), "spare"), Workers: 1}
	texts := map[string]string{}
	for i := range 100 {
		texts[fmt.Sprintf("F-%03d/index.html", i)] = "one\n"
	}
	names := []string{"a", "a/b", "a/b/c", "d", "d/e.txt", "f/g/h/i.txt", "F-003/index.html", "F-004/index.html", "F-004/more.svg"}
	for step := range 60 {
		for range 1 + random.IntN(3) {
			name := names[random.IntN(len(names))]
			for other := range texts { // a file cannot be a folder
				if strings.HasPrefix(other, name+"/") || strings.HasPrefix(name, other+"/") {
					delete(texts, other)
				}
			}
			if random.IntN(4) == 0 {
				delete(texts, name)
			} else {
				texts[name] = fmt.Sprintf("text %d\n", random.IntN(4))
			}
		}
		c := &counted{}
		o.Files = c
		mustPublish(t, set(texts), o)
		if diff := cmp.Diff(texts, contents(t, out)); diff != "" {
			t.Fatalf("step %d (-want +got):\n%s", step, diff)
		}
		if step > 2 && c.links+c.folders+c.writes+c.removals > 60 {
			t.Errorf("step %d took %d links, %d folders, %d writes, %d removals", step, c.links, c.folders, c.writes, c.removals)
		}
	}
	if diff := cmp.Diff([]string{"published"}, beside(t, out)); diff != "" {
		t.Errorf("beside the tree (-want +got):\n%s", diff)
	}
}

// TestASpareThatIsNotOursIsLeft: files that nobody can account for stay, and
// the publish goes on without.
func TestASpareThatIsNotOursIsLeft(t *testing.T) {
	out, elsewhere := filepath.Join(t.TempDir(), "published"), t.TempDir()
	spare := filepath.Join(t.TempDir(), "spare")
	o := Options{To: out, Spare: spare}
	mustPublish(t, pages("one", somePaths...), o)
	mustPublish(t, pages("two", somePaths...), o)
	precious := filepath.Join(spare, "precious.txt")
	if err := os.WriteFile(precious, []byte("mine"), 0o666); err != nil {
		t.Fatal(err)
	}
	mustPublish(t, pages("three", somePaths...), o)
	if data, err := os.ReadFile(precious); err != nil || string(data) != "mine" {
		t.Errorf("got %q, %v", data, err)
	}
	if diff := cmp.Diff(wanted("three", somePaths...), contents(t, out)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	// Nor does a link lead anywhere.
	if err := os.RemoveAll(spare); err != nil {
		t.Fatal(err)
	}
	if err := os.CopyFS(elsewhere, os.DirFS(out)); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(elsewhere, spare); err != nil {
		t.Fatal(err)
	}
	mustPublish(t, pages("four", somePaths[1:]...), o)
	if diff := cmp.Diff(wanted("three", somePaths...), contents(t, elsewhere)); diff != "" {
		t.Errorf("behind a link (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(wanted("four", somePaths[1:]...), contents(t, out)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// TestOneEarlierGenerationStays: of files that outlive their tree, the last
// generation stays and the one before goes.
func TestOneEarlierGenerationStays(t *testing.T) {
	for _, spare := range []bool{false, true} {
		out := filepath.Join(t.TempDir(), "published")
		o := Options{To: out, Outlive: func(p string) bool { return strings.HasPrefix(p, "assets/") }}
		if spare {
			o.Spare = filepath.Join(t.TempDir(), "spare")
		}
		page := func(text string, assets ...string) map[string]string {
			texts := map[string]string{"index.html": text}
			for _, a := range assets {
				texts["assets/"+a] = a
			}
			return texts
		}
		for _, step := range []struct {
			text         string
			made, stands []string
		}{
			{"one", []string{"a1", "b1"}, []string{"a1", "b1"}},
			{"two", []string{"a2", "b1"}, []string{"a1", "a2", "b1"}},
			{"three", []string{"a2", "b1"}, []string{"a1", "a2", "b1"}}, // the same generation
			{"four", []string{"a3", "b1"}, []string{"a2", "a3", "b1"}},
			{"five", []string{"a2", "b1"}, []string{"a2", "a3", "b1"}}, // back again
			{"six", []string{"a2"}, []string{"a2", "b1"}},
		} {
			result := mustPublish(t, set(page(step.text, step.made...)), o)
			if diff := cmp.Diff(page(step.text, step.stands...), contents(t, out)); diff != "" {
				t.Errorf("%s (-want +got):\n%s", step.text, diff)
			}
			if n := len(result.Record.Earlier); n != len(step.stands)-len(step.made) {
				t.Errorf("%s: %d files of an earlier generation in the record", step.text, n)
			}
		}
		// They are held to the record as all files are.
		if err := os.WriteFile(filepath.Join(out, "assets", "b1"), []byte("other"), 0o666); err != nil {
			t.Fatal(err)
		}
		_, err := Publish(set(page("seven", "a2")), o)
		if err == nil || !strings.Contains(err.Error(), "assets/b1") {
			t.Errorf("got %v; want assets/b1 refused", err)
		}
	}
}
