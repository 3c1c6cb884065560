package tree

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"sort"
	"time"
)

// ownFiles returns what lies in the tree at dir, which is nothing where dir is
// missing, and its record where it has one. It returns a *ForeignError where
// dir holds a file, a link or a folder that the record does not account for,
// or one of the record's files that has been changed since.
func ownFiles(p place) (lies lying, record Record, known bool, err error) {
	dir := p.dir
	record, err = ReadRecord(dir)
	known = err == nil
	files := make(map[string]*File, len(record.Files))
	folders := make(map[string]bool, len(record.Files)/2)
	var written time.Time
	if known {
		record.each(func(f *File) {
			files[f.Path] = f
			for d := path.Dir(f.Path); d != "." && !folders[d]; d = path.Dir(d) {
				folders[d] = true
			}
		})
		info, err := os.Stat(filepath.Join(dir, RecordName))
		if err != nil {
			return lying{}, record, false, writeError(dir, err)
		}
		written = info.ModTime()
	}
	lies, err = whatLies(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return lying{}, record, false, nil
	}
	if err != nil {
		return lying{}, record, false, err
	}
	var foreign []string
	for name := range lies.folders {
		if !folders[name] {
			foreign = append(foreign, name+"/")
		}
	}
	for name, info := range lies.files {
		f, ours := files[name]
		if name == RecordName && known || ours && unchanged(dir, f, info, written) {
			continue
		}
		foreign = append(foreign, name)
	}
	if len(foreign) > 0 {
		sort.Strings(foreign)
		return lying{}, record, false, &ForeignError{p.shown, foreign}
	}
	return lies, record, known, nil
}

// unchanged reports whether a file is still as the record has it. One that is
// of the same size and no younger than the record is taken for it; another is
// read, since copying a tree makes all of it younger.
func unchanged(dir string, f *File, info fs.FileInfo, written time.Time) bool {
	if !info.Mode().IsRegular() || info.Size() != f.Size {
		return false
	}
	if !info.ModTime().After(written) {
		return true
	}
	data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(f.Path)))
	return err == nil && hashOf(data) == f.Hash
}

// walk calls visit with all that lies below dir, by name, with slashes. A
// folder comes before what is in it; a link is not followed.
func walk(dir string, visit func(name string, isDir bool)) error {
	return filepath.WalkDir(dir, func(full string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, full)
		if err == nil && rel != "." {
			visit(filepath.ToSlash(rel), d.IsDir())
		}
		return err
	})
}
