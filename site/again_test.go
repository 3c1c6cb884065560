package site

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"sync/atomic"
	"testing"
	"time"
)

// A library that is read again and again holds none of its earlier readings:
// an author saves a thousand times a day.
func TestAnEarlierReadingGoes(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	dir := demoCopy(t)
	again, err := NewAgain(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	const saves = 8
	var gone atomic.Int32
	marks := []string{"W-101", "W-102", "F-101"}
	for i := range saves {
		l, err := again.Open()
		if err != nil {
			t.Fatal(err)
		}
		l.firstFindings() // works some of it out, and leaves some
		runtime.AddCleanup(l, func(int) { gone.Add(1) }, 0)
		name := filepath.Join(dir, "assemblies", marks[i%len(marks)]+".md")
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, fmt.Appendf(text, "\nSave %d.\n", i), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for range 50 {
		runtime.GC()
		if gone.Load() >= saves-1 { // the last stays
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Errorf("of %d readings %d are held", saves, saves-gone.Load())
}
