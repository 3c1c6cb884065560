package tree

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"sort"
	"sync"
	"sync/atomic"
)

// aside is the tree as it is made: an empty folder, or the last tree but one,
// in which what differs is changed.
type aside struct {
	dir     string
	files   Files
	folders *folders
	// had are the files that lie there from before, but for those cleared away
	// when it was taken; has are those that are the very files of the standing
	// tree too.
	had, has map[string]bool
	root     *os.Root // for removals
	mu       sync.Mutex
	changed  []string // for [Files.Settle]
	// apart says that a file which is the same in both trees is not one file.
	apart atomic.Bool
}

// clear makes way for a file.
func (a *aside) clear(name string) error {
	if a.had[name] {
		return a.remove(name)
	}
	return a.folders.make(path.Dir(name))
}

func (a *aside) remove(name string) error {
	if err := a.files.Remove(a.root, filepath.FromSlash(name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return writeError(filepath.Join(a.dir, filepath.FromSlash(name)), err)
	}
	a.change(filepath.Join(a.dir, filepath.FromSlash(path.Dir(name))))
	return nil
}

// write makes a file.
func (a *aside) write(name string, data []byte) error {
	if err := a.clear(name); err != nil {
		return err
	}
	full := filepath.Join(a.dir, filepath.FromSlash(name))
	if err := a.files.WriteFile(full, data); err != nil {
		return writeError(full, err)
	}
	a.change(full)
	return nil
}

// change notes what must last.
func (a *aside) change(full string) {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.changed = append(a.changed, full)
}

// takeAside returns the folder that the tree of the files named is made in,
// with a plan of them in it. It is the spare where there is one that can be
// used: what the new tree does not have is removed from it first.
func takeAside(p place, was *standing, names map[string]bool, o Options) (*aside, error) {
	a := &aside{dir: p.aside, files: o.Files, had: map[string]bool{}, has: map[string]bool{}}
	record, ready := takeSpare(p, was, o)
	if !ready {
		if err := o.Files.Mkdir(p.aside); err != nil {
			return nil, writeError(p.aside, err)
		}
	}
	files, folders := record.named()
	a.folders = newFolders(names, folders, p.aside, o.Files)
	var err error
	if a.root, err = os.OpenRoot(p.aside); err != nil {
		return nil, writeError(p.aside, err)
	}
	if err := a.write(planName, encodePlan(names)); err != nil {
		return nil, errors.Join(err, a.root.Close())
	}
	if ready {
		if err := a.fit(files, folders, was, names); err != nil {
			return nil, errors.Join(err, a.root.Close())
		}
	}
	return a, nil
}

// takeSpare moves the spare aside; ready is false where there is none of use.
// It is used only where nothing was put into its folders or taken out since
// its record was written: then files that both records have alike are the same
// files, and the standing tree was held to its own.
func takeSpare(p place, was *standing, o Options) (record Record, ready bool) {
	if info, err := os.Lstat(o.Spare); o.Spare == "" || err != nil || !info.IsDir() {
		return Record{}, false
	}
	record, err := ReadRecord(o.Spare)
	if err == nil && was != nil && was.link != nil && was.intact {
		files, folders := record.named()
		written, err := writtenAt(o.Spare)
		if err == nil && foldersIntact(o.Spare, folders, written) {
			foreign, err := foreignInRoot(o.Spare, files, folders)
			if err == nil && len(foreign) == 0 && o.Files.Rename(o.Spare, p.aside) == nil {
				return record, true
			}
		}
	}
	// What it holds of ours is cleared; the rest stays, and the spare with it.
	_ = clearTree(o.Spare, o.Files)
	return Record{}, false
}

// fit removes from the spare what the new tree does not have, and notes what
// of the rest is the standing tree's too.
func (a *aside) fit(files map[string]*File, folders map[string]bool, was *standing, names map[string]bool) error {
	a.had[RecordName] = true
	var gone []string
	for name, f := range files {
		if !names[name] {
			gone = append(gone, name)
			continue
		}
		a.had[name] = true
		stands := was.files[name]
		a.has[name] = stands != nil && stands.Hash == f.Hash && !was.missing[name]
	}
	for dir := range folders {
		if a.folders.once[dir] == nil {
			gone = append(gone, dir)
		}
	}
	// What is in a folder goes before it.
	sort.Sort(sort.Reverse(sort.StringSlice(gone)))
	for _, name := range gone {
		if err := a.remove(name); err != nil {
			return err
		}
	}
	return nil
}

// layBy keeps the last tree as a spare, where all that is alike in it and in
// the one that now stands is one file under two names.
func layBy(old string, o Options, apart bool) bool {
	return sparesServe && !apart && o.Spare != "" && os.MkdirAll(filepath.Dir(o.Spare), 0o777) == nil && o.Files.Rename(old, o.Spare) == nil
}
