package hands

import (
	"runtime"
	"sync/atomic"
	"testing"
)

func TestEach(t *testing.T) {
	for _, processors := range []int{1, 2, 7} {
		was := runtime.GOMAXPROCS(processors)
		for _, n := range []int{0, 1, 2, 100} {
			done := make([]atomic.Int32, n)
			Each(n, func(i int) { done[i].Add(1) })
			for i := range done {
				if times := done[i].Load(); times != 1 {
					t.Errorf("%d of %d was done %d times on %d processors", i, n, times, processors)
				}
			}
		}
		runtime.GOMAXPROCS(was)
	}
}

// A panic reaches the caller, on one processor or several, after all that was
// begun has ended.
func TestAPanicIsTheCallers(t *testing.T) {
	for _, processors := range []int{1, 2, 4} {
		was := runtime.GOMAXPROCS(processors)
		var running atomic.Int32
		func() {
			defer func() {
				if r := recover(); r != "broken" {
					t.Errorf("on %d processors: %v", processors, r)
				}
				if processors > 1 && running.Load() != 0 {
					t.Errorf("%d are still running", running.Load())
				}
			}()
			Each(50, func(i int) {
				running.Add(1)
				defer running.Add(-1)
				if i == 7 {
					panic("broken")
				}
			})
			t.Error("it went on")
		}()
		runtime.GOMAXPROCS(was)
	}
}

func TestBoth(t *testing.T) {
	var a, b bool
	Both(func() { a = true }, func() { b = true })
	if !a || !b {
		t.Error(a, b)
	}
}

func TestAhead(t *testing.T) {
	wait := Ahead(func() int { return 7 })
	if a, b := wait(), wait(); a != 7 || b != 7 {
		t.Error(a, b)
	}
	broken := Ahead(func() int { panic("broken") })
	defer func() {
		if r := recover(); r != "broken" {
			t.Error(r)
		}
	}()
	broken()
	t.Error("it went on")
}
