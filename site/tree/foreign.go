package tree

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"time"
)

// refuseForeign returns a *ForeignError where dir holds a file, a link or a
// folder that its record does not account for, or one of the record's files
// that has been changed since. A missing or empty dir is fine.
func refuseForeign(p place) error {
	dir := p.dir
	record, err := ReadRecord(dir)
	known := err == nil
	files := map[string]File{}
	folders := map[string]bool{}
	var written time.Time
	if known {
		for _, f := range record.Files {
			files[f.Path] = f
			for d := path.Dir(f.Path); d != "." && !folders[d]; d = path.Dir(d) {
				folders[d] = true
			}
		}
		info, err := os.Stat(filepath.Join(dir, RecordName))
		if err != nil {
			return writeError(dir, err)
		}
		written = info.ModTime()
	}
	var foreign []string
	err = walk(dir, func(name string, isDir bool) {
		if isDir {
			if !folders[name] {
				foreign = append(foreign, name+"/")
			}
			return
		}
		f, ours := files[name]
		if name == RecordName && known || ours && unchanged(dir, f, written) {
			return
		}
		foreign = append(foreign, name)
	})
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if len(foreign) > 0 {
		return &ForeignError{p.shown, foreign}
	}
	return nil
}

// unchanged reports whether a file is still as the record has it. One that is
// of the same size and no younger than the record is taken for it; another is
// read, since copying a tree makes all of it younger.
func unchanged(dir string, f File, written time.Time) bool {
	full := filepath.Join(dir, filepath.FromSlash(f.Path))
	info, err := os.Lstat(full)
	if err != nil || !info.Mode().IsRegular() || info.Size() != f.Size {
		return false
	}
	if !info.ModTime().After(written) {
		return true
	}
	data, err := os.ReadFile(full)
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
