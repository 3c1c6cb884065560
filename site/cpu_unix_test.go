//go:build unix

package site

import (
	"syscall"
	"time"
)

// processorTime is what this process has used of its processors, the system's
// work for it included. It leaves out the wait for a disk that others use too.
func processorTime() time.Duration {
	var r syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &r) != nil {
		return 0
	}
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}
