package tree

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"sort"
	"sync"
	"sync/atomic"
	"time"
)

// held is a tree held to its record.
type held struct {
	record  Record
	known   bool            // it has a record
	missing map[string]bool // files of the record that are not there
	// intact says that since the record was written no folder had a file put in
	// or taken out.
	intact bool
}

// holdToRecord looks at the tree in dir, which is none where dir is missing.
// It returns a *ForeignError where dir holds a file, a link or a folder that
// the record does not account for, or one of the record's files that has been
// changed since.
func holdToRecord(p place) (held, error) {
	record, err := ReadRecord(p.dir)
	h := held{record: record, known: err == nil, missing: map[string]bool{}}
	files, folders := record.named()
	var written time.Time
	if h.known {
		if written, err = writtenAt(p.dir); err != nil {
			return held{}, writeError(p.dir, err)
		}
	}
	var foreign []string
	if h.known && foldersIntact(p.dir, folders, written) {
		foreign, err = foreignInRoot(p.dir, files, folders)
		h.intact = err == nil && len(foreign) == 0
	}
	if h.intact {
		foreign = changedFiles(p.dir, &record, written, h.missing)
	} else {
		foreign, err = foreignAnywhere(p.dir, files, folders, written, h.missing)
		if errors.Is(err, fs.ErrNotExist) {
			return held{}, nil
		}
	}
	if err != nil {
		return held{}, err
	}
	if len(foreign) > 0 {
		sort.Strings(foreign)
		return held{}, &ForeignError{p.shown, foreign}
	}
	return h, nil
}

// named are the files of a record by path, and the folders that they lie in.
func (r *Record) named() (files map[string]*File, folders map[string]bool) {
	files, folders = make(map[string]*File, len(r.Files)), make(map[string]bool, len(r.Files)/2)
	r.each(func(f *File) {
		files[f.Path] = f
		for d := path.Dir(f.Path); d != "." && !folders[d]; d = path.Dir(d) {
			folders[d] = true
		}
	})
	return files, folders
}

// foreignInRoot names what lies in a tree's own folder and is not of the record.
func foreignInRoot(dir string, files map[string]*File, folders map[string]bool) (foreign []string, err error) {
	entries, err := os.ReadDir(dir)
	for _, e := range entries {
		name := e.Name()
		switch {
		case e.IsDir() && !folders[name]:
			foreign = append(foreign, name+"/")
		case !e.IsDir() && files[name] == nil && name != RecordName:
			foreign = append(foreign, name)
		}
	}
	return foreign, err
}

// changedFiles names the files of a record that are not as it has them. Those
// that are not there are noted.
func changedFiles(dir string, r *Record, written time.Time, missing map[string]bool) (foreign []string) {
	all := make([]*File, 0, len(r.Files)+len(r.Earlier))
	r.each(func(f *File) { all = append(all, f) })
	var mu sync.Mutex
	inPieces(len(all), 64, func(from, to int) {
		for _, f := range all[from:to] {
			info, err := os.Lstat(dir + "/" + f.Path)
			if err == nil && unchanged(dir, f, info, written) {
				continue
			}
			mu.Lock()
			if errors.Is(err, fs.ErrNotExist) {
				missing[f.Path] = true
			} else {
				foreign = append(foreign, f.Path)
			}
			mu.Unlock()
		}
	})
	return foreign
}

// foreignAnywhere looks through the whole tree.
func foreignAnywhere(dir string, files map[string]*File, folders map[string]bool, written time.Time, missing map[string]bool) (foreign []string, err error) {
	there := map[string]bool{}
	err = walk(dir, func(name string, e fs.DirEntry) {
		if e.IsDir() {
			if !folders[name] {
				foreign = append(foreign, name+"/")
			}
			return
		}
		there[name] = true
		f := files[name]
		if name == RecordName && !written.IsZero() {
			return
		}
		if info, err := e.Info(); f == nil || err != nil || !unchanged(dir, f, info, written) {
			foreign = append(foreign, name)
		}
	})
	for name := range files {
		if !there[name] {
			missing[name] = true
		}
	}
	return foreign, err
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
func walk(dir string, visit func(name string, e fs.DirEntry)) error {
	return filepath.WalkDir(dir, func(full string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, full)
		if err == nil && rel != "." {
			visit(filepath.ToSlash(rel), d)
		}
		return err
	})
}

// inPieces runs do for pieces of 0 to n, on all processors.
func inPieces(n, piece int, do func(from, to int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), (n+piece-1)/piece) {
		wait.Go(func() {
			for {
				to := int(next.Add(int64(piece)))
				if to-piece >= n {
					return
				}
				do(to-piece, min(to, n))
			}
		})
	}
	wait.Wait()
}
