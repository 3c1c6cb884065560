package site

import (
	"bytes"
	"fmt"
	"html/template"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"gopkg.in/yaml.v3"
)

// The floor is the least that any program does that turns the same files into
// the same pages: read, parse the front matter with yaml.v3, turn the Markdown
// into HTML with goldmark, fill a template, write. It draws nothing, works
// nothing out and checks nothing; it writes the bytes that a publish wrote,
// file by file, in one pass.
type floor struct {
	sources []string          // the library's Markdown files
	pages   map[string][]byte // of a published site, by path
	written map[string]bool   // in a run
}

func newFloor(tb testing.TB, library, published string) *floor {
	tb.Helper()
	f := &floor{pages: map[string][]byte{}}
	root, err := os.OpenRoot(published)
	if err != nil {
		tb.Fatal(err)
	}
	defer root.Close()
	err = fs.WalkDir(root.FS(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		f.pages[name], err = fs.ReadFile(root.FS(), name)
		return err
	})
	if err != nil {
		tb.Fatal(err)
	}
	err = filepath.WalkDir(library, func(name string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(name, ".md") {
			f.sources = append(f.sources, name)
		}
		return err
	})
	if err != nil {
		tb.Fatal(err)
	}
	return f
}

var floorTemplate = template.Must(template.New("page").Parse(`<!doctype html><html lang="en"><head><title>{{.Mark}} {{.Title}}</title></head>
<body><main><h1>{{.Mark}} {{.Title}}</h1><p>{{.Element}}</p>
<table>{{range .Layers}}<tr><td>{{.name}}</td><td>{{.material}}</td><td>{{.thickness}}</td></tr>{{end}}</table>
{{.Body}}
<ol>{{range .Sequence}}<li>{{.do}} <b>{{.trade}}</b></li>{{end}}</ol>
<table>{{range .Revisions}}<tr><td>{{.rev}}</td><td>{{.date}}</td><td>{{.note}}</td></tr>{{end}}</table>
</main></body></html>`))

func (f *floor) run(tb testing.TB, to string) {
	markdown := goldmark.New(goldmark.WithExtensions(extension.Table))
	f.written = map[string]bool{}
	for _, file := range f.sources {
		data, err := os.ReadFile(file)
		if err != nil {
			tb.Fatal(err)
		}
		front, body := []byte(nil), data
		if rest, has := bytes.CutPrefix(data, []byte("---\n")); has {
			if front, body, has = bytes.Cut(rest, []byte("\n---\n")); !has {
				tb.Fatalf("%s: the front matter is not closed", file)
			}
		}
		var page struct {
			Mark, Title, Element        string
			Layers, Sequence, Revisions []map[string]any
			Body                        template.HTML `yaml:"-"`
		}
		if err := yaml.Unmarshal(front, &page); err != nil {
			tb.Fatal(err)
		}
		var html, out bytes.Buffer
		if err := markdown.Convert(body, &html); err != nil {
			tb.Fatal(err)
		}
		page.Body = template.HTML(html.String())
		if err := floorTemplate.Execute(&out, page); err != nil {
			tb.Fatal(err)
		}
		if out.Len() < 200 {
			tb.Fatalf("the template printed %d bytes", out.Len())
		}
		if name := page.Mark + "/index.html"; f.pages[name] != nil {
			f.write(tb, to, name)
		}
	}
	for name := range f.pages { // what belongs to no source file
		if !f.written[name] {
			f.write(tb, to, name)
		}
	}
	if len(f.written) != len(f.pages) {
		tb.Fatalf("the floor wrote %d files of %d", len(f.written), len(f.pages))
	}
}

func (f *floor) write(tb testing.TB, to, name string) {
	f.written[name] = true
	full := filepath.Join(to, name)
	if err := os.MkdirAll(filepath.Dir(full), 0o777); err != nil {
		tb.Fatal(err)
	}
	if err := os.WriteFile(full, f.pages[name], 0o666); err != nil {
		tb.Fatal(err)
	}
}

// publishTo publishes into a folder that is not there yet, and says how long
// that took.
func publishTo(tb testing.TB, library, to string) time.Duration {
	tb.Helper()
	start := time.Now()
	result, err := Publish(Options{Library: library, To: to})
	took := time.Since(start)
	if err != nil {
		for i, f := range result.Findings.Items {
			if i < 10 {
				tb.Log(f)
			}
		}
		tb.Fatal(err)
	}
	return took
}

// BenchmarkPublish1000 publishes 1,000 generated assemblies into a new folder,
// and the floor does its part in the same run: x-floor is the time of the one
// over that of the other.
func BenchmarkPublish1000(b *testing.B) { benchmarkAgainstFloor(b, 1000) }

// BenchmarkPublish100 is the same of 100.
func BenchmarkPublish100(b *testing.B) { benchmarkAgainstFloor(b, 100) }

func benchmarkAgainstFloor(b *testing.B, n int) {
	library := generateLibrary(b, n)
	dir := b.TempDir()
	publishTo(b, library, filepath.Join(dir, "first"))
	f := newFloor(b, library, filepath.Join(dir, "first"))
	var ours, least time.Duration
	size := 0
	for _, data := range f.pages {
		size += len(data)
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		b.StopTimer()
		to := filepath.Join(dir, fmt.Sprintf("floor%d", i))
		runtime.GC()
		start := time.Now()
		f.run(b, to)
		least += time.Since(start)
		removeAll(b, to)
		runtime.GC()
		b.StartTimer()
		to = filepath.Join(dir, fmt.Sprintf("site%d", i))
		ours += publishTo(b, library, to)
		b.StopTimer()
		removeAll(b, to)
		b.StartTimer()
	}
	b.ReportMetric(float64(ours)/float64(least), "x-floor")
	b.ReportMetric(least.Seconds()*1e3/float64(b.N*n), "floor-ms/detail")
	b.ReportMetric(ours.Seconds()*1e3/float64(b.N*n), "ms/detail")
	b.ReportMetric(float64(size)/float64(n)/1024, "site-KB/detail")
}

func removeAll(tb testing.TB, dir string) {
	if err := os.RemoveAll(dir); err != nil {
		tb.Fatal(err)
	}
}

// BenchmarkGrowth publishes 1,000 and 10,000 assemblies: time and memory of a
// detail must not rise with their number. x-time and x-memory are what a
// detail of the 10,000 costs over one of the 1,000.
func BenchmarkGrowth(b *testing.B) {
	type cost struct{ seconds, bytes float64 }
	measure := func(n int) cost {
		library := generateLibrary(b, n)
		to := filepath.Join(b.TempDir(), "site")
		runtime.GC()
		stop, peak := make(chan bool), make(chan uint64)
		go func() {
			var most uint64
			for {
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				most = max(most, m.HeapInuse)
				select {
				case <-stop:
					peak <- most
					return
				case <-time.After(20 * time.Millisecond):
				}
			}
		}()
		took := publishTo(b, library, to)
		stop <- true
		memory := <-peak
		removeAll(b, to)
		return cost{took.Seconds() / float64(n), float64(memory) / float64(n)}
	}
	for b.Loop() {
		small, large := measure(1000), measure(10000)
		b.ReportMetric(large.seconds/small.seconds, "x-time")
		b.ReportMetric(large.bytes/small.bytes, "x-memory")
		b.ReportMetric(large.bytes/1024, "peak-KB/detail")
		b.ReportMetric(large.seconds*1e3, "ms/detail")
	}
}
