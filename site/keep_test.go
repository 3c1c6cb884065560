package site

import (
	"bytes"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wythe/site/tree"
)

// treeOf reads a whole site.
func treeOf(tb testing.TB, dir string) map[string][]byte {
	tb.Helper()
	out := map[string][]byte{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		out[name], err = os.ReadFile(filepath.Join(dir, name))
		return err
	})
	if err != nil {
		tb.Fatal(err)
	}
	return out
}

// TestPublishOnAnotherIsAColdOne edits a library at random and publishes it
// over the last site each time: byte for byte, record and all, what comes out
// is what a publish into an empty folder gives. Files of every kind are
// changed, renamed, copied, taken out, and broken and mended; what is kept in
// the cache folder is damaged now and then.
func TestPublishOnAnotherIsAColdOne(t *testing.T) {
	steps := 14
	if raced {
		steps = 3
	}
	if os.Getenv("WYTHE_EDITS") != "" {
		if _, err := fmt.Sscan(os.Getenv("WYTHE_EDITS"), &steps); err != nil {
			t.Fatal(err)
		}
	}
	editedAtRandom(t, demoCopy(t), 11, steps)
}

// TestPublishOnAnotherOfManyDetails is the same of a library whose pictures
// stand in files of their own.
func TestPublishOnAnotherOfManyDetails(t *testing.T) {
	editedAtRandom(t, generateLibrary(t, inlineThumbs+6), 4, 4)
}

// TestPublishOnAnotherOfIssuedDetails is the same of a library with a history,
// whose revisions have pages of their own.
func TestPublishOnAnotherOfIssuedDetails(t *testing.T) {
	steps := 10
	if raced {
		steps = 3
	}
	editedAtRandom(t, gitLibrary(t), 7, steps)
}

func editedAtRandom(t *testing.T, dir string, seed uint64, steps int) {
	cache := t.TempDir()
	t.Setenv("XDG_CACHE_HOME", cache)
	random := rand.New(rand.NewPCG(seed, 3))
	to := filepath.Join(t.TempDir(), "site")
	published, kept := 0, 0
	for step := 0; published < steps; step++ {
		if step > 12*steps {
			t.Fatalf("of %d edits %d could be published", step, published)
		}
		what, back := editAtRandom(t, dir, random)
		if what == "" {
			continue
		}
		if step%2 == 0 {
			time.Sleep(100 * time.Millisecond) // files are settled, so that they are not read again
		}
		before, _ := os.ReadDir(to)
		if _, err := Publish(Options{Library: dir, To: to}); err != nil {
			back() // an edit that breaks the library is taken back
			continue
		}
		published++
		cold := filepath.Join(t.TempDir(), "cold")
		t.Setenv("XDG_CACHE_HOME", t.TempDir())
		if _, err := Publish(Options{Library: dir, To: cold}); err != nil {
			t.Fatal(err)
		}
		t.Setenv("XDG_CACHE_HOME", cache)
		sameAsCold(t, what, to, cold)
		if t.Failed() {
			return
		}
		if len(before) > 0 {
			kept++
		}
		if published%4 == 3 {
			damageOne(t, filepath.Join(cache, "wythe", "libraries"), random)
		}
	}
	if kept == 0 {
		t.Error("nothing was published over another site")
	}
}

// editAtRandom changes a library in one place, and says how; "" where the
// change came to nothing. back takes it back.
func editAtRandom(t *testing.T, dir string, random *rand.Rand) (what string, back func()) {
	t.Helper()
	must := func(err error) {
		if err != nil {
			t.Helper()
			t.Fatal(err)
		}
	}
	var names []string
	for _, pattern := range []string{"*/*.md", "*.md", "*.yaml", "*/*.yaml"} {
		found, err := filepath.Glob(filepath.Join(dir, pattern))
		must(err)
		names = append(names, found...)
	}
	swaps := [][2]string{{"1 1/2 in", "2 in"}, {"2 in", "2 1/2 in"}, {"title: ", "title: The "}, {"status: issued", "status: draft"}, {"status: draft", "status: for review"},
		{"XPS type IV", "XPS type VI"}, {"conductivity: 0.04", "conductivity: 0.05"}, {". ", ". See F-101. "}, {"F-101", "W-101"}, {"units: inch", "units: metric"},
		{"at least R 35", "at least R 40"}, {"5 F", "8 F"}, {"{R-value}", "{U-factor}"}, {"note: ", "note: mind, "}, {"hold: ", "hold: first, "},
		{"tags: [", "tags: [more, "}, {"rev: B", "rev: C"}, {"concrete", "gypsum board"}, {"area: ", "area: 1"}, {"thickness: 2 in", "thickness: 3 in"}}
	name := names[random.IntN(len(names))]
	old, err := os.ReadFile(name)
	must(err)
	short := filepath.Base(name)
	switch kind := random.IntN(12); {
	case kind == 0 && strings.HasSuffix(name, ".md"):
		must(os.Remove(name))
		return short + " taken out", func() { must(os.WriteFile(name, old, 0o666)) }
	case kind == 1 && strings.HasSuffix(name, ".md"):
		other := strings.TrimSuffix(name, ".md") + "-moved.md"
		must(os.Rename(name, other))
		return short + " renamed", func() { must(os.Rename(other, name)) }
	case kind == 2 && strings.HasSuffix(name, ".md"):
		other := filepath.Join(filepath.Dir(name), "copy.md")
		mark := regexp.MustCompile(`(?m)^mark: (.).*$`)
		must(os.WriteFile(other, mark.ReplaceAll(old, []byte("mark: ${1}-199")), 0o666))
		return short + " copied", func() { must(os.Remove(other)) }
	case kind == 3:
		must(os.WriteFile(name, append([]byte("---\nmark: [\n"), old...), 0o666))
		return short + " broken", func() { must(os.WriteFile(name, old, 0o666)) }
	}
	swap := swaps[random.IntN(len(swaps))]
	next := bytes.Replace(old, []byte(swap[0]), []byte(swap[1]), 1+random.IntN(3))
	if bytes.Equal(old, next) {
		return "", nil
	}
	must(os.WriteFile(name, next, 0o666))
	return fmt.Sprintf("%s, %q for %q", short, swap[1], swap[0]), func() { must(os.WriteFile(name, old, 0o666)) }
}

// damageOne changes bytes of a file of a folder.
func damageOne(t *testing.T, dir string, random *rand.Rand) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) == 0 {
		t.Fatalf("%s holds nothing: %v", dir, err)
	}
	name := filepath.Join(dir, entries[random.IntN(len(entries))].Name())
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	for range 20 {
		data[random.IntN(len(data))] ^= 0x41
	}
	if err := os.WriteFile(name, data, 0o666); err != nil {
		t.Fatal(err)
	}
}

// sameAsCold holds a site that was published over another to one published
// into an empty folder: byte for byte, record and all, but for the assets of
// the generation before, which the record of the one lists apart.
func sameAsCold(t *testing.T, what, to, cold string) {
	t.Helper()
	got, want := treeOf(t, to), treeOf(t, cold)
	record, err := tree.ReadRecord(to)
	if err != nil {
		t.Fatal(err)
	}
	asCold, err := tree.ReadRecord(cold)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range record.Earlier {
		if !hashed(f.Path) || want[f.Path] != nil || got[f.Path] == nil {
			t.Errorf("%s: %s is no asset of the generation before, or not there", what, f.Path)
		}
		delete(got, f.Path)
	}
	record.Earlier = nil
	if diff := cmp.Diff(asCold, record); diff != "" {
		t.Errorf("%s: the record (-cold +got):\n%s", what, diff)
	}
	if len(got) != len(want) {
		t.Errorf("%s: %d files, cold %d", what, len(got), len(want))
	}
	for path, data := range want {
		if !bytes.Equal(got[path], data) && path != tree.RecordName {
			t.Errorf("%s: %s is not as a cold publish gives it", what, path)
		}
	}
}

// TestAssetsOfThePublishBeforeStay: a page that was opened before a publish
// finds its style and script after it, and not after two.
func TestAssetsOfThePublishBeforeStay(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	dir := demoCopy(t)
	to := filepath.Join(t.TempDir(), "site")
	style := regexp.MustCompile(`assets/style\.[0-9a-f]+\.css`)
	var styles []string
	for i := range 3 {
		css := filepath.Join(dir, themeFolder, "tables.css")
		if err := os.MkdirAll(filepath.Dir(css), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(css, []byte(fmt.Sprintf("body { margin: %dpx }\n", i)), 0o666); err != nil {
			t.Fatal(err)
		}
		for range 2 { // a publish that changes nothing makes no generation
			if _, err := Publish(Options{Library: dir, To: to}); err != nil {
				t.Fatal(err)
			}
		}
		page, err := os.ReadFile(filepath.Join(to, "index.html"))
		if err != nil {
			t.Fatal(err)
		}
		styles = append(styles, style.FindString(string(page)))
		for k, asset := range styles {
			_, err := os.Stat(filepath.Join(to, asset))
			if stays := k >= i-1; stays != (err == nil) || asset == "" {
				t.Errorf("after publish %d, %q of publish %d: %v", i, asset, k, err)
			}
		}
		// What a device keeps is the new generation alone.
		list, err := os.ReadFile(filepath.Join(to, listFile))
		if err != nil {
			t.Fatal(err)
		}
		for k, asset := range styles {
			if strings.Contains(string(list), asset) != (k == i) {
				t.Errorf("publish %d: the list of files to keep, and %s of publish %d", i, asset, k)
			}
		}
	}
	cold := filepath.Join(t.TempDir(), "cold")
	if _, err := Publish(Options{Library: dir, To: cold}); err != nil {
		t.Fatal(err)
	}
	sameAsCold(t, "after three styles", to, cold)
}

// TestWhatDidNotChangeIsNotWritten: the times of untouched files stay, for
// tools that copy by time.
func TestWhatDidNotChangeIsNotWritten(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	dir := demoCopy(t)
	to := filepath.Join(t.TempDir(), "site")
	if _, err := Publish(Options{Library: dir, To: to}); err != nil {
		t.Fatal(err)
	}
	times := func() map[string]time.Time {
		out := map[string]time.Time{}
		for name := range treeOf(t, to) {
			info, err := os.Stat(filepath.Join(to, name))
			if err != nil {
				t.Fatal(err)
			}
			out[name] = info.ModTime()
		}
		return out
	}
	bytesWere, were := treeOf(t, to), times()
	time.Sleep(20 * time.Millisecond)
	edit(t, filepath.Join(dir, "assemblies/W-104.md"), "title: ", "title: Changed ")
	if _, err := Publish(Options{Library: dir, To: to}); err != nil {
		t.Fatal(err)
	}
	bytesAre, are := treeOf(t, to), times()
	changed := 0
	for name, at := range are {
		switch {
		case strings.HasPrefix(name, ".wythe-"):
		case bytes.Equal(bytesWere[name], bytesAre[name]) && !at.Equal(were[name]):
			t.Errorf("%s is as it was and was written", name)
		case !bytes.Equal(bytesWere[name], bytesAre[name]):
			changed++
		}
	}
	if changed == 0 || changed > len(are)/2 {
		t.Errorf("%d of %d files changed", changed, len(are))
	}
}

// BenchmarkOneEdit1000 publishes 1,000 details of which one was changed over
// the last site; x-cold is its time over that of a cold publish in the same
// run.
func BenchmarkOneEdit1000(b *testing.B) {
	b.Setenv("XDG_CACHE_HOME", b.TempDir())
	library := generateLibrary(b, 1000)
	dir := b.TempDir()
	to := filepath.Join(dir, "site")
	used := processorTime()
	cold := publishTo(b, library, to)
	coldUsed := processorTime() - used
	first := publishTo(b, library, to) // lays the spare by that the next ones change
	file := filepath.Join(library, "assemblies", generatedMark(500)+".md")
	text, err := os.ReadFile(file)
	if err != nil {
		b.Fatal(err)
	}
	var took, editUsed time.Duration
	for i := 0; b.Loop(); i++ {
		next := strings.Replace(string(text), "Lay the", fmt.Sprintf("Lay %d the", i), 1)
		if err := os.WriteFile(file, []byte(next), 0o666); err != nil {
			b.Fatal(err)
		}
		used := processorTime()
		took += publishTo(b, library, to)
		editUsed += processorTime() - used
	}
	b.ReportMetric(first.Seconds()/cold.Seconds(), "x-first")
	b.ReportMetric(took.Seconds()/float64(b.N)/cold.Seconds(), "x-cold")
	b.ReportMetric(editUsed.Seconds()/float64(b.N)/coldUsed.Seconds(), "x-cold-cpu")
	b.ReportMetric(took.Seconds()*1e3/float64(b.N), "ms/edit")
}
