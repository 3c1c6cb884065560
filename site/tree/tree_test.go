package tree

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sort"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wythe/renderer/trace"
)

// pages returns outputs whose bytes tell their generation apart.
func pages(generation string, paths ...string) []Output {
	var outs []Output
	for _, p := range paths {
		outs = append(outs, Output{p, func(reads *trace.Reads) ([]byte, error) {
			reads.Record("source of "+p, trace.Hash(generation))
			reads.Record("theme", "t1")
			return []byte(generation + " " + p + "\n"), nil
		}})
	}
	return outs
}

var somePaths = []string{"index.html", "F-101/index.html", "F-101/rev/A/index.html", "W-101/index.html", "assets/style-0a.css"}

// contents reads a tree, but for its record.
func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	got := map[string]string{}
	err := walk(dir, func(name string, e fs.DirEntry) {
		if e.IsDir() || name == RecordName {
			return
		}
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		got[name] = string(data)
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	return got
}

func wanted(generation string, paths ...string) map[string]string {
	want := map[string]string{}
	for _, p := range paths {
		want[p] = generation + " " + p + "\n"
	}
	return want
}

func mustPublish(t *testing.T, outs []Output, o Options) Result {
	t.Helper()
	result, err := Publish(outs, o)
	if err != nil {
		t.Fatal(err)
	}
	if result.Leftover != nil {
		t.Fatalf("left over: %v", result.Leftover)
	}
	return result
}

// beside lists what lies in the folder of the tree.
func beside(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(dir))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func TestPublishReplacesTheWholeTree(t *testing.T) {
	for _, c := range []struct {
		name  string
		files Files
	}{{"exchange", System{}}, {"journal", noExchange{System{}}}} {
		t.Run(c.name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "above", "published")
			o := Options{To: out, Files: c.files}
			mustPublish(t, pages("one", somePaths...), o)
			if diff := cmp.Diff(wanted("one", somePaths...), contents(t, out)); diff != "" {
				t.Fatalf("first (-want +got):\n%s", diff)
			}
			mustPublish(t, pages("two", somePaths[1:]...), o)
			if diff := cmp.Diff(wanted("two", somePaths[1:]...), contents(t, out)); diff != "" {
				t.Errorf("second (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff([]string{"published"}, beside(t, out)); diff != "" {
				t.Errorf("beside the tree (-want +got):\n%s", diff)
			}
		})
	}
}

func TestPublishGivesTheSameBytesWhateverTheWorkers(t *testing.T) {
	var paths []string
	for i := range 200 {
		paths = append(paths, fmt.Sprintf("F-%03d/index.html", i))
	}
	var first []byte
	for _, workers := range []int{1, 2, 7, 64} {
		out := filepath.Join(t.TempDir(), "published")
		mustPublish(t, pages("one", paths...), Options{To: out, Workers: workers})
		if diff := cmp.Diff(wanted("one", paths...), contents(t, out)); diff != "" {
			t.Fatalf("%d workers (-want +got):\n%s", workers, diff)
		}
		record, err := os.ReadFile(filepath.Join(out, RecordName))
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = record
		} else if !bytes.Equal(first, record) {
			t.Errorf("%d workers: the record differs from that of one worker", workers)
		}
	}
}

func TestRecordHoldsHashesAndReads(t *testing.T) {
	out := filepath.Join(t.TempDir(), "published")
	result := mustPublish(t, pages("one", "b.html", "a/b.html"), Options{To: out})
	record, err := ReadRecord(out)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(result.Record, record); diff != "" {
		t.Errorf("record read back (-published +read):\n%s", diff)
	}
	want := Record{
		Reads: []trace.Read{{Key: "source of a/b.html", Hash: trace.Hash("one")}, {Key: "source of b.html", Hash: trace.Hash("one")}, {Key: "theme", Hash: "t1"}},
		Files: []File{
			{Path: "a/b.html", Hash: hashOf([]byte("one a/b.html\n")), Size: 13, Reads: []int{0, 2}},
			{Path: "b.html", Hash: hashOf([]byte("one b.html\n")), Size: 11, Reads: []int{1, 2}},
		},
	}
	if diff := cmp.Diff(want, record); diff != "" {
		t.Errorf("record (-want +got):\n%s", diff)
	}
}

func TestPublishReturnsTheEarliestFailure(t *testing.T) {
	var paths []string
	for i := range 100 {
		paths = append(paths, fmt.Sprintf("F-%03d.html", i))
	}
	for _, workers := range []int{1, 3, 16} {
		out := filepath.Join(t.TempDir(), "published")
		mustPublish(t, pages("one", paths...), Options{To: out})
		outs := pages("two", paths...)
		for i := 30; i < 90; i += 7 {
			outs[i].Make = func(*trace.Reads) ([]byte, error) {
				if i == 30 {
					runtime.Gosched()
				}
				return nil, fmt.Errorf("no ink")
			}
		}
		_, err := Publish(outs, Options{To: out, Workers: workers})
		var made *MakeError
		if !errors.As(err, &made) || made.Path != "F-030.html" {
			t.Errorf("%d workers: got %v; want the failure of F-030.html", workers, err)
		}
		if diff := cmp.Diff(wanted("one", paths...), contents(t, out)); diff != "" {
			t.Errorf("%d workers: the former tree changed (-want +got):\n%s", workers, diff)
		}
		if diff := cmp.Diff([]string{"published"}, beside(t, out)); diff != "" {
			t.Errorf("beside the tree (-want +got):\n%s", diff)
		}
	}
}

func TestProgressCountsEveryOutput(t *testing.T) {
	var told []int
	o := Options{To: filepath.Join(t.TempDir(), "p"), Progress: func(done, total int) {
		if total != len(somePaths) {
			t.Errorf("total %d; want %d", total, len(somePaths))
		}
		told = append(told, done)
	}}
	mustPublish(t, pages("one", somePaths...), o)
	if diff := cmp.Diff([]int{1, 2, 3, 4, 5}, told); diff != "" {
		t.Errorf("progress (-want +got):\n%s", diff)
	}
}

func TestOutputsMustNotClash(t *testing.T) {
	for _, c := range []struct{ a, b, want string }{
		{"F-101/index.html", "f-101/index.html", "capitals"},
		{"tags", "tags/water.html", "a file here and a folder"},
		{"Tags/deep/water.html", "tags", "a file here and a folder"},
	} {
		_, err := Publish(pages("one", c.a, c.b), Options{To: filepath.Join(t.TempDir(), "p")})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s and %s: got %v; want a refusal with %q", c.a, c.b, err, c.want)
		}
	}
}

func TestOutputsOutsideTheTreePanic(t *testing.T) {
	for _, p := range []string{"", ".", "..", "../a", "/a", "a/../b", "a//b", `a\b`, "c:a", RecordName, planName} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("path %q was taken", p)
				}
			}()
			Publish(pages("one", p), Options{To: filepath.Join(t.TempDir(), "p")})
		}()
	}
}

func TestForeignFilesAreRefusedByName(t *testing.T) {
	put := func(t *testing.T, name, text string) {
		t.Helper()
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		name    string
		spoil   func(t *testing.T, out string)
		foreign []string
	}{
		{"a file beside ours", func(t *testing.T, out string) { put(t, filepath.Join(out, "F-101", "photo.jpg"), "x") }, []string{"F-101/photo.jpg"}},
		{"a folder", func(t *testing.T, out string) { put(t, filepath.Join(out, "mine", "a.txt"), "x") }, []string{"mine/", "mine/a.txt"}},
		{"an empty folder", func(t *testing.T, out string) { os.Mkdir(filepath.Join(out, "mine"), 0o777) }, []string{"mine/"}},
		{"ours edited to another size", func(t *testing.T, out string) { put(t, filepath.Join(out, "index.html"), "by hand") }, []string{"index.html"}},
		{"ours edited to the same size", func(t *testing.T, out string) {
			full := filepath.Join(out, "index.html")
			put(t, full, "two index.html\n")
			younger(t, full)
		}, []string{"index.html"}},
		{"a link", func(t *testing.T, out string) {
			if err := os.Symlink("index.html", filepath.Join(out, "link.html")); err != nil {
				t.Fatal(err)
			}
		}, []string{"link.html"}},
		{"no record", func(t *testing.T, out string) { os.Remove(filepath.Join(out, RecordName)) },
			[]string{"F-101/", "F-101/index.html", "F-101/rev/", "F-101/rev/A/", "F-101/rev/A/index.html", "W-101/", "W-101/index.html", "assets/", "assets/style-0a.css", "index.html"}},
		{"a record that lies", func(t *testing.T, out string) {
			put(t, filepath.Join(out, RecordName), `{"wythe": 1, "reads": [], "files": [{"path": "../precious", "hash": "", "size": 0}]}`)
		}, append([]string{RecordName}, "F-101/", "F-101/index.html", "F-101/rev/", "F-101/rev/A/", "F-101/rev/A/index.html", "W-101/", "W-101/index.html", "assets/", "assets/style-0a.css", "index.html")},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			out := filepath.Join(dir, "published")
			mustPublish(t, pages("one", somePaths...), Options{To: out})
			put(t, filepath.Join(dir, "precious"), "keep")
			c.spoil(t, out)
			before := contents(t, out)
			_, err := Publish(pages("two", somePaths...), Options{To: out})
			var foreign *ForeignError
			if !errors.As(err, &foreign) {
				t.Fatalf("got %v; want a *ForeignError", err)
			}
			sort.Strings(foreign.Names)
			sort.Strings(c.foreign)
			if diff := cmp.Diff(c.foreign, foreign.Names); diff != "" {
				t.Errorf("foreign (-want +got):\n%s", diff)
			}
			if !strings.Contains(err.Error(), foreign.Names[0]) {
				t.Errorf("the message %q does not name %s", err, foreign.Names[0])
			}
			if diff := cmp.Diff(before, contents(t, out)); diff != "" {
				t.Errorf("the tree changed (-want +got):\n%s", diff)
			}
			if _, err := os.Stat(filepath.Join(dir, "precious")); err != nil {
				t.Error(err)
			}
		})
	}
}

// younger gives a file a time after its tree's record.
func younger(t *testing.T, name string) {
	t.Helper()
	info, err := os.Stat(name)
	if err != nil {
		t.Fatal(err)
	}
	later := info.ModTime().Add(10e9)
	if err := os.Chtimes(name, later, later); err != nil {
		t.Fatal(err)
	}
}

func TestACopiedTreeIsStillOurs(t *testing.T) {
	dir := t.TempDir()
	mustPublish(t, pages("one", somePaths...), Options{To: filepath.Join(dir, "a")})
	copied := filepath.Join(dir, "b")
	if err := os.CopyFS(copied, os.DirFS(filepath.Join(dir, "a"))); err != nil {
		t.Fatal(err)
	}
	for _, p := range somePaths {
		younger(t, filepath.Join(copied, p))
	}
	mustPublish(t, pages("two", somePaths...), Options{To: copied})
	if diff := cmp.Diff(wanted("two", somePaths...), contents(t, copied)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestPlacesThatAreRefused(t *testing.T) {
	dir := t.TempDir()
	library := filepath.Join(dir, "library")
	if err := os.MkdirAll(filepath.Join(library, "assemblies"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "file"), nil, 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(library, filepath.Join(dir, "link")); err != nil {
		t.Fatal(err)
	}
	never := []Place{{library, "the library"}}
	for _, c := range []struct{ to, want string }{
		{"", "no folder is named"},
		{"/", "the root of the file system"},
		{library, "it is the library"},
		{dir, "it holds the library"},
		{filepath.Join(library, "assemblies", ".."), "it is the library"},
		{filepath.Join(dir, "link"), "it is the library"},
		{filepath.Join(dir, "file"), "it is a file"},
	} {
		_, err := Publish(pages("one", "a"), Options{To: c.to, Never: never})
		var place *PlaceError
		if !errors.As(err, &place) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: got %v; want a refusal with %q", c.to, err, c.want)
		}
	}
	mustPublish(t, pages("one", "a"), Options{To: filepath.Join(library, "published"), Never: never})
}

func TestALinkedPlaceIsSwappedWhereItLeads(t *testing.T) {
	dir := t.TempDir()
	real := filepath.Join(dir, "real", "site")
	if err := os.MkdirAll(real, 0o777); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "link")
	if err := os.Symlink(real, link); err != nil {
		t.Fatal(err)
	}
	for _, generation := range []string{"one", "two"} {
		mustPublish(t, pages(generation, somePaths...), Options{To: link})
		if diff := cmp.Diff(wanted(generation, somePaths...), contents(t, real)); diff != "" {
			t.Errorf("(-want +got):\n%s", diff)
		}
	}
	if target, err := os.Readlink(link); err != nil || target != real {
		t.Errorf("the link leads to %q, %v; want %q", target, err, real)
	}
}

func TestTwoRunsDoNotMix(t *testing.T) {
	out := filepath.Join(t.TempDir(), "published")
	inside, release := make(chan bool), make(chan bool)
	slow := pages("one", somePaths...)
	make1 := slow[0].Make
	slow[0].Make = func(r *trace.Reads) ([]byte, error) {
		close(inside)
		<-release
		return make1(r)
	}
	var first error
	var wait sync.WaitGroup
	wait.Go(func() { _, first = Publish(slow, Options{To: out, Workers: 1}) })
	<-inside
	_, err := Publish(pages("two", somePaths...), Options{To: out})
	var busy *BusyError
	if !errors.As(err, &busy) {
		t.Errorf("the second run: got %v; want a *BusyError", err)
	}
	close(release)
	wait.Wait()
	if first != nil {
		t.Fatal(first)
	}
	if diff := cmp.Diff(wanted("one", somePaths...), contents(t, out)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestManyRunsAtOnceLeaveOneWholeTree(t *testing.T) {
	out := filepath.Join(t.TempDir(), "published")
	var done atomic.Int32
	var wait sync.WaitGroup
	for i := range 8 {
		wait.Go(func() {
			for range 10 {
				_, err := Publish(pages(fmt.Sprint(i), somePaths...), Options{To: out})
				var busy *BusyError
				if err == nil {
					done.Add(1)
				} else if !errors.As(err, &busy) {
					t.Errorf("run %d: %v", i, err)
				}
			}
		})
	}
	wait.Wait()
	got := contents(t, out)
	generation, _, _ := strings.Cut(got["index.html"], " ")
	if diff := cmp.Diff(wanted(generation, somePaths...), got); diff != "" || done.Load() == 0 {
		t.Errorf("after %d runs (-want +got):\n%s", done.Load(), diff)
	}
}

// noExchange is a system without an exchange of folders.
type noExchange struct{ Files }

func (noExchange) Exchange(a, b string) error { return ErrNoExchange }
