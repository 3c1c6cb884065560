package site

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"
)

// TestTheWholeLibraryIsSound holds the generator to what it says: a library
// without errors, with all kinds of files.
func TestTheWholeLibraryIsSound(t *testing.T) {
	dir, n := generateWhole(t, 58)
	l, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range l.lib.Findings.Items {
		if f.Level.String() == "error" {
			t.Error(f)
		}
	}
	if l.Details() < n || len(l.builds) != 2 || len(l.specs) == 0 {
		t.Errorf("%d details of %d, %d buildings, %d sections", l.Details(), n, len(l.builds), len(l.specs))
	}
}

// BenchmarkWhole publishes a library of WYTHE_LARGE details (100 where that is
// not set) into nothing, over itself, and with one assembly changed, and tells
// what the site weighs.
func BenchmarkWhole(b *testing.B) {
	n := 100
	if env := os.Getenv("WYTHE_LARGE"); env != "" {
		var err error
		if n, err = strconv.Atoi(env); err != nil {
			b.Fatal(err)
		}
	}
	b.Setenv("XDG_CACHE_HOME", b.TempDir())
	library, details := generateWhole(b, n)
	to := filepath.Join(b.TempDir(), "site")
	var cold, warm, edited, coldUsed, warmUsed, editUsed, least, leastUsed time.Duration
	var peak uint64
	for i := 0; b.Loop(); i++ {
		b.StopTimer()
		removeAll(b, to)
		runtime.GC()
		b.StartTimer()
		stop, most := make(chan bool), make(chan uint64)
		go func() {
			var m runtime.MemStats
			var top uint64
			for {
				runtime.ReadMemStats(&m)
				top = max(top, m.HeapInuse)
				select {
				case <-stop:
					most <- top
					return
				case <-time.After(20 * time.Millisecond):
				}
			}
		}()
		used := processorTime()
		cold += publishTo(b, library, to)
		coldUsed += processorTime() - used
		stop <- true
		peak = max(peak, <-most)
		b.StopTimer()
		f := newFloor(b, library, to)
		used = processorTime()
		began := time.Now()
		f.run(b, to+"-floor")
		least += time.Since(began)
		leastUsed += processorTime() - used
		removeAll(b, to+"-floor")
		publishTo(b, library, to) // lays the spare by that the next ones change
		b.StartTimer()
		used = processorTime()
		warm += publishTo(b, library, to)
		warmUsed += processorTime() - used
		file := filepath.Join(library, "assemblies", "W-102000.md")
		text, err := os.ReadFile(file)
		if err != nil {
			b.Fatal(err)
		}
		if err := os.WriteFile(file, append(text, fmt.Sprintf("\nSeen on site, day %d.\n", i)...), 0o666); err != nil {
			b.Fatal(err)
		}
		used = processorTime()
		edited += publishTo(b, library, to)
		editUsed += processorTime() - used
	}
	size, search := 0, 0
	index, err := os.Stat(filepath.Join(to, "index.html"))
	if err != nil {
		b.Fatal(err)
	}
	for name, data := range treeOf(b, to) {
		size += len(data)
		if strings.HasPrefix(name, "assets/search.") {
			search = len(data)
		}
	}
	per := 1e3 / float64(b.N*details)
	b.ReportMetric(float64(details), "details")
	b.ReportMetric(cold.Seconds()*per, "cold-ms/detail")
	b.ReportMetric(least.Seconds()*per, "floor-ms/detail")
	b.ReportMetric(coldUsed.Seconds()*per, "cold-cpu-ms/detail")
	b.ReportMetric(leastUsed.Seconds()*per, "floor-cpu-ms/detail")
	b.ReportMetric(warm.Seconds()/cold.Seconds(), "x-warm")
	b.ReportMetric(warmUsed.Seconds()/coldUsed.Seconds(), "x-warm-cpu")
	b.ReportMetric(edited.Seconds()/cold.Seconds(), "x-edit")
	b.ReportMetric(editUsed.Seconds()/coldUsed.Seconds(), "x-edit-cpu")
	b.ReportMetric(float64(peak)/(1<<20), "peak-MB")
	b.ReportMetric(float64(size)/(1<<20), "site-MB")
	b.ReportMetric(float64(index.Size())/1024, "index-KB")
	b.ReportMetric(float64(search)/1024, "search-KB")
}
