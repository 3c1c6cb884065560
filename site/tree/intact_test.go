package tree

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestAFolderWithItsTimeSetBackHidesNothing: a foreign file is found in a folder
// whose time says that it never changed, as tools leave it that copy times too.
func TestAFolderWithItsTimeSetBackHidesNothing(t *testing.T) {
	out := filepath.Join(t.TempDir(), "published")
	mustPublish(t, pages("one", somePaths...), Options{To: out})
	folder := filepath.Join(out, "F-101")
	was, err := os.Stat(folder)
	if err != nil {
		t.Fatal(err)
	}
	time.Sleep(20 * time.Millisecond)
	mine := filepath.Join(folder, "mine.txt")
	if err := os.WriteFile(mine, []byte("mine"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(mine, was.ModTime(), was.ModTime()); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(folder, was.ModTime(), was.ModTime()); err != nil {
		t.Fatal(err)
	}
	_, err = Publish(pages("two", somePaths...), Options{To: out})
	if err == nil || !strings.Contains(err.Error(), "F-101/mine.txt") {
		t.Errorf("got %v; want F-101/mine.txt refused", err)
	}
	if data, err := os.ReadFile(mine); err != nil || string(data) != "mine" {
		t.Errorf("got %q, %v", data, err)
	}
}

// TestFilesThatAreGoneAreMadeAgain: what was taken out of a tree comes back.
func TestFilesThatAreGoneAreMadeAgain(t *testing.T) {
	out := filepath.Join(t.TempDir(), "published")
	o := Options{To: out, Spare: filepath.Join(t.TempDir(), "spare")}
	for _, gone := range []string{"index.html", "F-101/index.html", "F-101"} {
		mustPublish(t, pages("one", somePaths...), o)
		mustPublish(t, pages("one", somePaths...), o)
		if err := os.RemoveAll(filepath.Join(out, gone)); err != nil {
			t.Fatal(err)
		}
		mustPublish(t, pages("one", somePaths...), o)
		if got := contents(t, out); len(got) != len(somePaths) {
			t.Errorf("without %s: %d files of %d", gone, len(got), len(somePaths))
		}
	}
}
