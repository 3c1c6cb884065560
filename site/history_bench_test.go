package site

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"wythe/renderer/detail"
	"wythe/site/revision"
)

// issuedLibrary lays down a generated library in a git repository: every
// detail was issued in the first commit, changed and issued again in one of
// its own.
func issuedLibrary(tb testing.TB, n int) string {
	tb.Helper()
	dir := generateLibrary(tb, n)
	git(tb, dir, "init", "-q", "-b", "main", ".")
	var stream bytes.Buffer
	commit := func(files map[string][]byte) {
		fmt.Fprintf(&stream, "commit refs/heads/main\ncommitter a <a@example.invalid> 1780000000 +0000\ndata 1\nx\n")
		for _, name := range sortedKeys(files) {
			fmt.Fprintf(&stream, "M 100644 inline %s\ndata %d\n%s\n", name, len(files[name]), files[name])
		}
	}
	issued := func(rev, date string) map[string][]byte {
		l, err := Open(dir)
		if err != nil {
			tb.Fatal(err)
		}
		files := map[string][]byte{}
		for _, name := range []string{"library.yaml", "climates/marrow-point.yaml"} {
			files[name], _ = os.ReadFile(filepath.Join(dir, name))
		}
		for _, e := range l.details {
			data, err := os.ReadFile(filepath.Join(dir, e.d.File))
			if err == nil {
				data, err = revision.Insert(e.d.File, data, detail.Revision{Rev: rev, Date: date, Note: "Issued.", Fingerprint: l.Fingerprint(e.d)})
			}
			if err != nil {
				tb.Fatal(err)
			}
			files[e.d.File] = data
		}
		for name, data := range files {
			put(tb, filepath.Join(dir, filepath.FromSlash(name)), string(data))
		}
		return files
	}
	commit(issued("Y1", "2027-06-03"))
	for i := range n {
		name := filepath.Join(dir, "assemblies", generatedMark(i)+".md")
		data, err := os.ReadFile(name)
		if err != nil {
			tb.Fatal(err)
		}
		put(tb, name, string(data)+"\nSeen on site.\n")
	}
	for name, data := range issued("Y2", "2027-08-14") {
		if strings.HasSuffix(name, ".md") {
			commit(map[string][]byte{name: data})
		}
	}
	c := exec.Command("git", "fast-import", "--quiet")
	c.Dir, c.Stdin = dir, &stream
	if out, err := c.CombinedOutput(); err != nil {
		tb.Fatalf("%v\n%s", err, out)
	}
	git(tb, dir, "reset", "-q", "--hard", "main")
	git(tb, dir, "gc", "-q")
	return dir
}

// BenchmarkReviewIssued1000 holds a review of 1,000 details, each issued twice
// in 1,001 commits, to the parsing of the same files: with nothing kept from earlier runs, and with what the run
// before kept. The aim is 1.5.
func BenchmarkReviewIssued1000(b *testing.B) {
	dir := issuedLibrary(b, 1000)
	var parse, review, again time.Duration
	for b.Loop() {
		start := time.Now()
		if _, err := detail.Read(dir); err != nil {
			b.Fatal(err)
		}
		parse += time.Since(start)
		b.Setenv("XDG_CACHE_HOME", b.TempDir())
		for _, took := range []*time.Duration{&review, &again} {
			runtime.GC()
			start = time.Now()
			if list, _, err := Review(dir); err != nil || list.Errors() > 0 {
				b.Fatal(err, list.Items)
			}
			*took += time.Since(start)
		}
		runtime.GC()
	}
	b.ReportMetric(float64(review)/float64(parse), "×parsing")
	b.ReportMetric(float64(again)/float64(parse), "×parsing-kept")
	b.ReportMetric(parse.Seconds()*1e3/float64(b.N), "parse-ms")
}

// BenchmarkCompareOf1000 compares with the last issue in a history of 1,001
// commits over 1,000 details: the cost follows the details that changed.
func BenchmarkCompareOf1000(b *testing.B) {
	dir := issuedLibrary(b, 1000)
	for _, n := range []int{1, 10, 100} {
		for i := range n {
			name := filepath.Join(dir, "assemblies", generatedMark(i)+".md")
			data, err := os.ReadFile(name)
			if err != nil {
				b.Fatal(err)
			}
			put(b, name, string(data)+"\nMore.\n")
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				c, err := Compare(dir, "", "")
				if err != nil || len(c.Details) != n {
					b.Fatal(err, len(c.Details))
				}
			}
		})
	}
}
