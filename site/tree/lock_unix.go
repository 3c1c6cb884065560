//go:build unix && !solaris && !aix

package tree

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// tryLock takes the lock on an open file; held reports that another has it.
// The system frees it when the process ends, however it ends.
func tryLock(f *os.File) (held bool, err error) {
	err = unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
	if errors.Is(err, unix.EWOULDBLOCK) {
		return true, nil
	}
	return false, err
}

// tooMuch reports whether a quota or a limit of size was met.
func tooMuch(err error) bool {
	return errors.Is(err, unix.EDQUOT) || errors.Is(err, unix.EFBIG)
}
