package tree

import (
	"errors"
	"os"
	"path/filepath"
	"time"

	"golang.org/x/sys/unix"
)

// Settle flushes the file system that holds dir in one call: about a
// twentieth of the time that flushing each file takes.
func (System) Settle(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := unix.Syncfs(int(f.Fd())); err != nil {
		return &os.PathError{Op: "sync", Path: dir, Err: err}
	}
	return nil
}

// Exchange lets two folders change places by renameat2.
func (System) Exchange(a, b string) error {
	err := unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
	switch {
	case err == nil:
		return nil
	case errors.Is(err, unix.ENOSYS), errors.Is(err, unix.EINVAL), errors.Is(err, unix.EOPNOTSUPP), errors.Is(err, unix.EXDEV):
		return ErrNoExchange
	}
	return &os.LinkError{Op: "exchange", Old: a, New: b, Err: err}
}

// sparesServe says that a tree can be made in the last one but one: whether
// that is intact can be told here.
const sparesServe = true

// writtenAt is when a tree's record was written, as far as can be believed: its
// time may have been set.
func writtenAt(dir string) (time.Time, error) {
	var s unix.Stat_t
	name := filepath.Join(dir, RecordName)
	if err := unix.Lstat(name, &s); err != nil {
		return time.Time{}, &os.PathError{Op: "lstat", Path: name, Err: err}
	}
	m, c := time.Unix(s.Mtim.Unix()), time.Unix(s.Ctim.Unix())
	if c.Before(m) {
		m = c
	}
	return m, nil
}

// foldersIntact reports whether nothing was put into or taken out of any of
// the folders of a tree, but for its own, since a time. The system notes that
// for each folder, and no program can set it back.
func foldersIntact(dir string, folders map[string]bool, since time.Time) bool {
	var s unix.Stat_t
	for name := range folders {
		if unix.Lstat(dir+"/"+name, &s) != nil || s.Mode&unix.S_IFMT != unix.S_IFDIR || time.Unix(s.Ctim.Unix()).After(since) {
			return false
		}
	}
	return true
}
