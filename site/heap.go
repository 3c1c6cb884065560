package site

import (
	"runtime/debug"
	"runtime/metrics"
	"time"
)

// quietHeap is how large the heap may grow before garbage is first looked
// for, in bytes. What a publish of little change needs is less.
const quietHeap = 160 << 20

// collectLate lets garbage lie until the heap is of some size; from then on it
// is collected as usual, so that a large library takes no more memory. The
// function returned ends it.
func collectLate() (end func()) {
	was := debug.SetGCPercent(-1)
	if was < 0 {
		return func() {} // it is off already
	}
	stop, done := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(done)
		defer debug.SetGCPercent(was)
		heap := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
		tick := time.NewTicker(5 * time.Millisecond)
		defer tick.Stop()
		for {
			select {
			case <-stop:
				return
			case <-tick.C:
				if metrics.Read(heap); heap[0].Value.Uint64() > quietHeap {
					return
				}
			}
		}
	}()
	return func() {
		close(stop)
		<-done
	}
}
