package tree

import (
	"errors"
	"os"
)

// lock keeps a second run from writing to the same place. The file beside the
// tree is removed when the lock is given back.
func lock(p place) (unlock func(), err error) {
	for {
		f, err := os.OpenFile(p.lock, os.O_RDWR|os.O_CREATE, 0o666)
		if err != nil {
			return nil, writeError(p.lock, err)
		}
		held, err := tryLock(f)
		if err != nil || held {
			f.Close()
			if held {
				return nil, &BusyError{p.shown}
			}
			return nil, writeError(p.lock, err)
		}
		// The run that had the lock may have removed the file while we waited
		// to open it: then ours is no longer the one at that name.
		ours, err1 := f.Stat()
		there, err2 := os.Stat(p.lock)
		if err := errors.Join(err1, err2); err != nil || !os.SameFile(ours, there) {
			f.Close()
			if err != nil && !errors.Is(err, os.ErrNotExist) {
				return nil, writeError(p.lock, err)
			}
			continue
		}
		return func() {
			os.Remove(p.lock)
			f.Close()
		}, nil
	}
}
