package site

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"

	"wythe/site/tree"
)

// A save is several events, and an atomic one a rename and a creation: the
// library is read once they are quiet, or after at most patience.
const (
	quiet    = 8 * time.Millisecond
	patience = 60 * time.Millisecond
)

// resting is how long after a change garbage is collected: the page is shown by
// then, and the next save finds room.
const resting = 150 * time.Millisecond

// Watch refreshes the preview with each change of the library, until the
// context ends. Errors: the library cannot be watched.
func (p *Preview) Watch(ctx context.Context) error {
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return err
	}
	defer w.Close()
	if err := watchBelow(w, p.root); err != nil {
		return err
	}
	// What changed between the first read and the watch.
	_ = p.Refresh()
	var due, rest <-chan time.Time
	var since time.Time
	for {
		select {
		case <-ctx.Done():
			return nil
		case err, open := <-w.Errors:
			if !open {
				return nil
			}
			if !errors.Is(err, fsnotify.ErrEventOverflow) {
				return err
			}
			due = time.After(quiet)
		case e, open := <-w.Events:
			if !open {
				return nil
			}
			if e.Op == fsnotify.Chmod || passing(e.Name) {
				continue
			}
			if e.Has(fsnotify.Create) {
				if info, err := os.Lstat(e.Name); err == nil && info.IsDir() {
					_ = watchBelow(w, e.Name) // it may be gone again
				}
			}
			if due == nil {
				since = time.Now()
			}
			due = time.After(min(quiet, max(0, patience-time.Since(since))))
		case <-due:
			due = nil
			_ = p.Refresh() // the pages say what is wrong
			rest = time.After(resting)
		case <-rest:
			rest = nil
			runtime.GC()
		}
	}
}

// passing reports whether a file is one that editors write beside the real
// one.
func passing(name string) bool {
	base := filepath.Base(name)
	return strings.HasPrefix(base, ".") || strings.HasSuffix(base, "~") || strings.HasPrefix(base, "#") || base == "4913"
}

// watchBelow watches a folder and those in it that are read: neither hidden
// ones nor published sites.
func watchBelow(w *fsnotify.Watcher, dir string) error {
	return filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			if name == dir {
				return err
			}
			return nil
		}
		if !d.IsDir() {
			return nil
		}
		if name != dir && (strings.HasPrefix(d.Name(), ".") || isPublished(name)) {
			return fs.SkipDir
		}
		return w.Add(name)
	})
}

func isPublished(dir string) bool {
	_, err := os.Lstat(filepath.Join(dir, tree.RecordName))
	return err == nil
}
