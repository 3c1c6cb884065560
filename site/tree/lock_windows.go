package tree

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// tryLock takes the lock on an open file; held reports that another has it.
// The system frees it when the process ends, however it ends.
func tryLock(f *os.File) (held bool, err error) {
	const flags = windows.LOCKFILE_EXCLUSIVE_LOCK | windows.LOCKFILE_FAIL_IMMEDIATELY
	err = windows.LockFileEx(windows.Handle(f.Fd()), flags, 0, 1, 0, &windows.Overlapped{})
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return true, nil
	}
	return false, err
}

// tooMuch reports whether a quota or a limit of size was met.
func tooMuch(error) bool { return false }
