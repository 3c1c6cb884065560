// Package hands shares work out over the processors.
package hands

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// Each runs do for 0 to n-1, in that order on one processor and in none on
// several, and returns once all have ended. If one panics, those not begun are
// left out, and the panic becomes the caller's, who may recover it.
func Each(n int, do func(i int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
	if workers < 2 {
		for i := range n {
			do(i)
		}
		return
	}
	var next atomic.Int64
	var fault atomic.Pointer[any]
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			defer func() {
				if r := recover(); r != nil {
					fault.CompareAndSwap(nil, &r)
				}
			}()
			for i := int(next.Add(1)) - 1; i < n && fault.Load() == nil; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	wait.Wait()
	if r := fault.Load(); r != nil {
		panic(*r)
	}
}

// Both runs two functions side by side: [Each] of two.
func Both(a, b func()) {
	Each(2, func(i int) {
		if i == 0 {
			a()
		} else {
			b()
		}
	})
}

// Ahead begins some work. The function returned waits for what comes of it; a
// panic becomes that of whoever waits.
func Ahead[T any](work func() T) (wait func() T) {
	var is T
	var fault any
	done := make(chan struct{})
	go func() {
		defer close(done)
		defer func() { fault = recover() }()
		is = work()
	}()
	return func() T {
		<-done
		if fault != nil {
			panic(fault)
		}
		return is
	}
}
