package site

import (
	"os"
	"path/filepath"
	"testing"
	"time"
)

// BenchmarkSolving publishes the demonstration library into nothing, with nothing
// kept of earlier runs, and again into nothing with the solved sections kept and
// naught else: times-unsolved is what all the solving multiplies a publish by,
// by the processor; clock-times-unsolved by the clock. At most 3 is asked.
func BenchmarkSolving(b *testing.B) {
	var whole, rest, wholeUsed, restUsed time.Duration
	for b.Loop() {
		cache := b.TempDir()
		b.Setenv("XDG_CACHE_HOME", cache)
		used := processorTime()
		whole += publishTo(b, "../details", filepath.Join(b.TempDir(), "site"))
		wholeUsed += processorTime() - used
		kept := b.TempDir()
		if err := os.CopyFS(filepath.Join(kept, "wythe", "heat"), os.DirFS(filepath.Join(cache, "wythe", "heat"))); err != nil {
			b.Fatal(err)
		}
		b.Setenv("XDG_CACHE_HOME", kept)
		used = processorTime()
		rest += publishTo(b, "../details", filepath.Join(b.TempDir(), "site"))
		restUsed += processorTime() - used
	}
	b.ReportMetric(wholeUsed.Seconds()/restUsed.Seconds(), "times-unsolved")
	b.ReportMetric(whole.Seconds()/rest.Seconds(), "clock-times-unsolved")
	b.ReportMetric(wholeUsed.Seconds()*1e3/float64(b.N), "cpu-ms")
}
