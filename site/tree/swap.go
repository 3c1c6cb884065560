package tree

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// ErrNoExchange says that the file system cannot exchange two folders in one
// step.
var ErrNoExchange = errors.New("the file system has no exchange")

// swap puts the finished tree aside in its place. It returns the folder that
// now holds the former tree, "" where there was none.
//
// Where the system has it this is one atomic step. Elsewhere a journal is
// written first, and the next run ends a swap that was cut short.
func swap(p place, files Files) (old string, err error) {
	if _, err := os.Lstat(p.dir); errors.Is(err, fs.ErrNotExist) {
		if err := files.Rename(p.aside, p.dir); err != nil {
			return "", writeError(p.dir, err)
		}
		return "", nil
	}
	err = files.Exchange(p.aside, p.dir)
	if err == nil {
		return p.aside, nil
	}
	if !errors.Is(err, ErrNoExchange) {
		return "", writeError(p.dir, err)
	}
	if err := files.WriteFile(p.swap, []byte("wythe: two folders are changing places here; the next publish ends this\n")); err != nil {
		return "", writeError(p.swap, err)
	}
	if err := files.Rename(p.dir, p.old); err != nil {
		return "", errors.Join(writeError(p.dir, err), removeJournal(p, files))
	}
	if err := files.Rename(p.aside, p.dir); err != nil {
		back := files.Rename(p.old, p.dir)
		if back != nil {
			// The journal stays: the next run puts it right.
			return "", writeError(p.dir, err)
		}
		return "", errors.Join(writeError(p.dir, err), removeJournal(p, files))
	}
	// A journal that stays here does no harm: the next run sees that both
	// renames are done.
	_ = removeJournal(p, files)
	return p.old, nil
}

func removeJournal(p place, files Files) error {
	root, err := os.OpenRoot(p.parent)
	if err != nil {
		return writeError(p.swap, err)
	}
	defer root.Close()
	if err := files.Remove(root, filepath.Base(p.swap)); err != nil {
		return writeError(p.swap, err)
	}
	return nil
}

// mend ends what a killed run left: a swap between its two renames, and
// folders aside.
func mend(p place, files Files) error {
	exists := func(name string) bool {
		_, err := os.Lstat(name)
		return err == nil
	}
	if exists(p.swap) {
		if !exists(p.dir) && exists(p.old) {
			// Between the two renames. The new tree was whole before the
			// journal was written.
			from := p.old
			if exists(p.aside) {
				from = p.aside
			}
			if err := files.Rename(from, p.dir); err != nil {
				return writeError(p.dir, err)
			}
		}
		if err := removeJournal(p, files); err != nil {
			return err
		}
	}
	for _, dir := range []string{p.aside, p.old} {
		if err := clearTree(dir, files); err != nil {
			return err
		}
	}
	return nil
}
