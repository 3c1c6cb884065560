package site

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wythe/site/tree"
)

// demo is the demonstration library.
const demo = "../details"

// readSite returns every file of a site, by path.
func readSite(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(full string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, full)
		if err != nil {
			return err
		}
		data, err := os.ReadFile(full)
		files[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func mustPublish(t *testing.T, o Options) Result {
	t.Helper()
	result, err := Publish(o)
	if err != nil {
		for _, f := range result.Findings.Items {
			t.Log(f)
		}
		t.Fatal(err)
	}
	if result.Leftover != nil {
		t.Fatal(result.Leftover)
	}
	return result
}

// TestPublishIsTheSameEveryTime publishes with one worker and with many, into
// a new folder and over an old site, in two time zones.
func TestPublishIsTheSameEveryTime(t *testing.T) {
	for _, library := range []string{demo, generateLibrary(t, 130)} {
		dir := t.TempDir()
		mustPublish(t, Options{Library: library, To: filepath.Join(dir, "one"), Workers: 1})
		want := readSite(t, filepath.Join(dir, "one"))
		for _, c := range []struct {
			to, zone string
			workers  int
		}{{"two", "", 2}, {"two", "", 16}, {"one", "Pacific/Auckland", 3}} {
			t.Setenv("TZ", c.zone)
			mustPublish(t, Options{Library: library, To: filepath.Join(dir, c.to), Workers: c.workers})
			got := readSite(t, filepath.Join(dir, c.to))
			for name, text := range want {
				if got[name] != text {
					t.Errorf("%s: %s differs with %d workers", library, name, c.workers)
				}
			}
			if len(got) != len(want) {
				t.Errorf("%s: %d files with %d workers; want %d", library, len(got), c.workers, len(want))
			}
		}
	}
}

// TestTheDemonstrationIsWhole holds the demonstration library to what it is
// there to show.
func TestTheDemonstrationIsWhole(t *testing.T) {
	out := filepath.Join(t.TempDir(), "site")
	result := mustPublish(t, Options{Library: demo, To: out})
	files := readSite(t, out)
	for _, mark := range strings.Fields("F-101 F-102 F-103 F-104 W-101 W-102 W-103 W-104 W-105 R-101 R-102 R-103 R-104") {
		page := files[mark+"/index.html"]
		for _, part := range []string{"<svg", `id="layers"`, `id="figures"`, `id="cautions"`, `id="sequence"`, `id="revisions"`} {
			if !strings.Contains(page, part) {
				t.Errorf("%s: its page has no %s", mark, part)
			}
		}
		if !strings.Contains(files["index.html"], `href="`+mark+`/index.html"`) {
			t.Errorf("%s: not in the index", mark)
		}
	}
	if result.Files != len(files)-1 { // the record is not one of its own files
		t.Errorf("%d files are counted; %d are there", result.Files, len(files)-1)
	}
}

// inlined is what a strict content policy forbids in a page.
var inlined = regexp.MustCompile(`(?i)<style|\sstyle\s*=|<script(?:[^>]*)>[^<]|\son[a-z]+\s*=\s*["']|javascript:`)

// outside are addresses that a browser would ask by itself.
var outside = regexp.MustCompile(`(?i)(?:src|href)\s*=\s*["'](?:https?:)?//|url\(\s*["']?(?:https?:)?//|@import`)

func TestPagesHoldNothingInlineAndAskNothingOutside(t *testing.T) {
	out := filepath.Join(t.TempDir(), "site")
	mustPublish(t, Options{Library: demo, To: out})
	for name, text := range readSite(t, out) {
		if strings.HasSuffix(name, ".html") {
			if at := inlined.FindStringIndex(text); at != nil {
				t.Errorf("%s: …%s…", name, text[max(0, at[0]-40):min(len(text), at[1]+40)])
			}
		}
		if strings.HasSuffix(name, ".html") || strings.HasSuffix(name, ".css") || strings.HasSuffix(name, ".svg") {
			if at := outside.FindStringIndex(text); at != nil {
				t.Errorf("%s: …%s…", name, text[max(0, at[0]-40):min(len(text), at[1]+40)])
			}
		}
	}
}

// TestEveryPageRecordsWhatItRead holds the reads of a page to the files that
// its bytes follow from.
func TestEveryPageRecordsWhatItRead(t *testing.T) {
	out := filepath.Join(t.TempDir(), "site")
	mustPublish(t, Options{Library: demo, To: out})
	record, err := tree.ReadRecord(out)
	if err != nil {
		t.Fatal(err)
	}
	reads := map[string]map[string]bool{}
	for _, f := range record.Files {
		reads[f.Path] = map[string]bool{}
		for _, n := range f.Reads {
			reads[f.Path][record.Reads[n].Key] = true
		}
		if len(f.Reads) == 0 {
			t.Errorf("%s: no read is recorded", f.Path)
		}
	}
	for _, c := range []struct {
		path       string
		want, wont []string
	}{
		{"F-101/index.html", []string{"detail/F-101", "settings", "climate", "material/concrete", "material/XPS type IV", "theme", "mark/J-201", "cited-in/F-101", "after/F-101"},
			[]string{"detail/W-101", "detail/F-102", "material/cedar boards"}},
		{"W-102/index.html", []string{"detail/W-102", "material/dense-pack cellulose", "material/softwood"}, []string{"material/concrete"}},
		{"index.html", []string{"row/assemblies/F-101.md", "row/assemblies/W-105.md", "settings", "theme"}, nil},
		{"materials/concrete/index.html", []string{"material/concrete", "uses/concrete"}, []string{"detail/F-101"}},
		{"specs/07-26-00/index.html", []string{"spec/07 26 00", "mark/F-101", "title/F-101"}, []string{"material/concrete", "detail/F-101"}},
	} {
		for _, key := range c.want {
			if !reads[c.path][key] {
				t.Errorf("%s: %q is not among its reads", c.path, key)
			}
		}
		for _, key := range c.wont {
			if reads[c.path][key] {
				t.Errorf("%s: %q is among its reads, and nothing on it follows from that", c.path, key)
			}
		}
	}
}

// failing fails the write number at.
type failing struct {
	tree.System
	n, at int
}

func (f *failing) WriteFile(name string, data []byte) error {
	f.n++
	if f.n == f.at {
		return syscall.ENOSPC
	}
	return f.System.WriteFile(name, data)
}

// TestTheOldSiteOutlivesEveryFailedWrite fails the first write of a publish,
// then the second, until none is left to fail.
func TestTheOldSiteOutlivesEveryFailedWrite(t *testing.T) {
	out := filepath.Join(t.TempDir(), "site")
	small := generateLibrary(t, 4)
	mustPublish(t, Options{Library: small, To: out})
	want := readSite(t, out)
	other := generateLibrary(t, 6)
	for at := 1; ; at++ {
		f := &failing{at: at}
		_, err := Publish(Options{Library: other, To: out, Workers: 1, Files: f})
		if f.n < at {
			if err != nil {
				t.Fatal(err)
			}
			break
		}
		if !errors.Is(err, syscall.ENOSPC) {
			t.Fatalf("write %d: got %v; want a full disk", at, err)
		}
		if diff := cmp.Diff(want, readSite(t, out)); diff != "" {
			t.Fatalf("write %d: the old site changed (-want +got):\n%s", at, diff)
		}
	}
}

func TestFolderOfAMark(t *testing.T) {
	for _, c := range []struct{ mark, want string }{
		{"F-101", "F-101"}, {"A 101/2", "A-101-2"}, {"..", "-.."}, {"", "-"}, {"W.1_b", "W.1_b"}, {"Ä-1", "--1"}, {`a\b:c`, "a-b-c"},
	} {
		if got := folder(c.mark); got != c.want {
			t.Errorf("folder(%q) = %q; want %q", c.mark, got, c.want)
		}
	}
}

func TestDay(t *testing.T) {
	for _, c := range []struct{ date, want string }{
		{"2026-11-02", "2 Nov 2026"}, {"2026-01-31", "31 Jan 2026"}, {"spring 2026", "spring 2026"}, {"2026-13-01", "2026-13-01"}, {"", ""},
	} {
		if got := day(c.date); got != c.want {
			t.Errorf("day(%q) = %q; want %q", c.date, got, c.want)
		}
	}
}
