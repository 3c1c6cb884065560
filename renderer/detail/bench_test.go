package detail

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"gopkg.in/yaml.v3"
)

// longAssembly is an assembly of about 60 lines of front matter and 3 KB of
// text.
func longAssembly(mark string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "---\nmark: %s\ntitle: Timber wall, deep cavity\nstatus: issued\nelement: wall\nuse for: [two storeys, cold humid shore]\n"+
		"not for: [within 8 in of finished grade]\ntrades: [carpentry, insulation]\ntags: [timber, cellulose]\nlayers:\n", mark)
	for i, m := range []string{"gypsum board", "mineral wool batt", "plywood", "dense-pack cellulose", "wood-fiber board", "cedar boards"} {
		fmt.Fprintf(&b, "  - name: layer %d\n    material: %s\n    thickness: 1 1/2 in\n    joints: tape every joint\n", i, m)
	}
	b.WriteString("sequence:\n")
	for i := range 6 {
		fmt.Fprintf(&b, "  - do: Do the %d. step and see that it is done.\n    trade: carpentry\n    shows: [layer 0, layer %d]\n", i, i%5+1)
	}
	b.WriteString("cautions: [dust, working at height]\nreferences: [ISO 6946, ISO 13788]\nrevisions:\n  - {rev: A, date: 2026-08-14, note: First issue.}\n---\n\n")
	for b.Len() < 5000 {
		b.WriteString("The plywood is the air and vapor control of the wall; every joint of it is taped (W-00001), and {R-value} follows.\n\n")
	}
	return b.String()
}

// BenchmarkFrontMatter reads one file (bytes to checked model, marks in its
// text found) and, turn by turn, makes yaml.v3 nodes of its front matter. It
// reports how many times the second the first takes.
func BenchmarkFrontMatter(b *testing.B) {
	text := []byte(longAssembly("W-00001"))
	front, _, _ := bytes.Cut(text[4:], []byte("\n---\n"))
	lib, err := ReadFS(fstest.MapFS{"library.yaml": {Data: []byte("marks: \"[A-Z]-[0-9]{5}\"\n")}})
	if err != nil {
		b.Fatal(err)
	}
	fsys := fstest.MapFS{"W-00001.md": {Data: text}}
	var ours, yamls time.Duration
	b.ReportAllocs()
	for b.Loop() {
		began := time.Now()
		r := lib.readPage(fsys, "W-00001.md", nil)
		lib.byMark = map[string]*Detail{"W-00001": r.d}
		r.finish()
		ours += time.Since(began)
		if len(r.list.Items) > 0 {
			b.Fatal(r.list.Items)
		}
		began = time.Now()
		var n yaml.Node
		if err := yaml.Unmarshal(front, &n); err != nil {
			b.Fatal(err)
		}
		yamls += time.Since(began)
	}
	b.ReportMetric(float64(ours)/float64(yamls), "x-yaml")
}

// BenchmarkRead reads libraries of growing size from disk: time per detail
// must not grow.
func BenchmarkRead(b *testing.B) {
	for _, n := range []int{100, 1000} {
		root := b.TempDir()
		put := func(name, text string) {
			if err := os.WriteFile(filepath.Join(root, name), []byte(text), 0o666); err != nil {
				b.Fatal(err)
			}
		}
		put("library.yaml", "marks: \"[A-Z]-[0-9]{5}\"\n")
		for i := range n {
			mark := fmt.Sprintf("W-%05d", i)
			put(mark+".md", longAssembly(mark))
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				l, err := Read(root)
				if err != nil || len(l.Details) != n || len(l.Findings.Items) > 0 {
					b.Fatal(err, len(l.Details), l.Findings.Items)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "µs/detail")
		})
	}
}
