package tree

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"sort"
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
	return nil
}

// takeAside returns the folder that the tree of the files named is made in,
// with a plan of them in it. It is the spare where there is one that can be
// used: what the new tree does not have is removed from it first.
func takeAside(p place, was *standing, names map[string]bool, o Options) (*aside, error) {
	a := &aside{dir: p.aside, files: o.Files, had: map[string]bool{}, has: map[string]bool{}}
	lies, record, ready := takeSpare(p, was, o)
	if !ready {
		if err := o.Files.Mkdir(p.aside); err != nil {
			return nil, writeError(p.aside, err)
		}
	}
	a.folders = newFolders(names, lies.folders, p.aside, o.Files)
	var err error
	if a.root, err = os.OpenRoot(p.aside); err != nil {
		return nil, writeError(p.aside, err)
	}
	if err := a.write(planName, encodePlan(names)); err != nil {
		return nil, errors.Join(err, a.root.Close())
	}
	if ready {
		if err := a.fit(lies, record, was, names); err != nil {
			return nil, errors.Join(err, a.root.Close())
		}
	}
	return a, nil
}

// takeSpare moves the spare aside, with all that lies there and its record;
// ready is false where there is none of use.
func takeSpare(p place, was *standing, o Options) (lies lying, record Record, ready bool) {
	if o.Spare == "" || was == nil || was.link == nil {
		return
	}
	if info, err := os.Lstat(o.Spare); err != nil || !info.IsDir() {
		return
	}
	lies, err := whatLies(o.Spare)
	if err != nil {
		return lying{}, record, false
	}
	record, err = ReadRecord(o.Spare)
	ours := map[string]bool{RecordName: true}
	record.each(func(f *File) { ours[f.Path] = true })
	for name := range lies.files {
		if !ours[name] {
			err = fs.ErrInvalid
		}
	}
	if err != nil || o.Files.Rename(o.Spare, p.aside) != nil {
		// What it holds of ours is cleared; the rest stays, and the spare with it.
		_ = clearTree(o.Spare, o.Files)
		return lying{}, record, false
	}
	return lies, record, true
}

// fit removes from the spare what the new tree does not have, and notes what
// of the rest is the standing tree's too.
func (a *aside) fit(lies lying, record Record, was *standing, names map[string]bool) error {
	hashes := make(map[string]string, len(record.Files))
	record.each(func(f *File) { hashes[f.Path] = f.Hash })
	var gone []string
	keep := map[string]bool{}
	for name, info := range lies.files {
		switch {
		case name == RecordName:
			a.had[name] = true
		case !names[name]:
			gone = append(gone, name)
		default:
			a.had[name] = true
			f, stands := was.files[name]
			there, lies := was.lies.files[name]
			a.has[name] = stands && lies && f.Hash == hashes[name] && os.SameFile(info, there)
			for dir := path.Dir(name); dir != "." && !keep[dir]; dir = path.Dir(dir) {
				keep[dir] = true
			}
		}
	}
	for dir := range lies.folders {
		if !keep[dir] && a.folders.once[dir] == nil {
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

// layBy keeps the last tree as a spare.
func layBy(old string, o Options) bool {
	return o.Spare != "" && os.MkdirAll(filepath.Dir(o.Spare), 0o777) == nil && o.Files.Rename(old, o.Spare) == nil
}
