//go:build !linux

package tree

import (
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"time"
)

// Settle flushes each file below dir.
func (System) Settle(dir string, _ []string) error {
	return filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() && runtime.GOOS == "windows" {
			return err
		}
		f, err := os.OpenFile(name, flushMode(d.IsDir()), 0)
		if err != nil {
			return err
		}
		err = f.Sync()
		if closed := f.Close(); err == nil {
			err = closed
		}
		return err
	})
}

// flushMode is how a file must be open to be flushed: Windows wants it for
// writing, and a folder can only be open for reading.
func flushMode(dir bool) int {
	if dir {
		return os.O_RDONLY
	}
	return os.O_RDWR
}

// Exchange is not to be had here: the swap goes by journal.
func (System) Exchange(a, b string) error { return ErrNoExchange }

// sparesServe says that a tree can be made in the last one but one.
const sparesServe = false

// writtenAt is when a tree's record was written.
func writtenAt(dir string) (time.Time, error) {
	info, err := os.Lstat(filepath.Join(dir, RecordName))
	if err != nil {
		return time.Time{}, err
	}
	return info.ModTime(), nil
}

// foldersIntact cannot be told here without looking through the folders.
func foldersIntact(string, map[string]bool, time.Time) bool { return false }
