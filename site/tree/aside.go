package tree

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"sort"
	"sync"

	"wythe/renderer/trace"
)

// slot holds what came of one output, at the place of its path and not of the
// order in which workers end.
type slot struct {
	path, hash string
	size       int64
	reads      []trace.Read
	err        error
}

// writeAside makes all outputs into the folder aside and returns the record,
// which then lies there too. apart says that a file that is the same in the
// standing tree is not the same file.
func writeAside(outputs []Output, p place, was *standing, o Options) (record Record, apart bool, err error) {
	all := withLast(outputs, o.Last)
	outliving := was.outliving(outputs, o.Outlive)
	names := make(map[string]bool, len(all)+len(outliving))
	for i := range all {
		names[all[i].Path] = true
	}
	for _, f := range outliving {
		names[f.Path] = true
	}
	a, err := takeAside(p, was, names, o)
	if err != nil {
		return Record{}, false, err
	}
	if a.root != nil {
		defer a.root.Close()
	}
	slots, err := makeAll(outputs, a, was, o)
	if err != nil {
		return Record{}, false, err
	}
	if len(o.Last) > 0 {
		files := filesOf(slots)
		made := make([]string, 0, 2*len(files))
		for _, f := range files {
			made = append(made, f.Path, f.Hash)
		}
		reads := []trace.Read{{Key: "files", Hash: trace.Hash(made...)}}
		for _, last := range o.Last {
			data := last.Make(files)
			s := slot{path: last.Path, hash: hashOf(data), size: int64(len(data)), reads: reads}
			if !was.same(s.path, s.hash, a) {
				if err := a.write(last.Path, data); err != nil {
					return Record{}, false, err
				}
			}
			slots = append(slots, s)
		}
	}
	record = recordOf(slots)
	for _, f := range outliving {
		if err := was.carry(f, a); err != nil {
			return Record{}, false, err
		}
		record.Earlier = append(record.Earlier, File{Path: f.Path, Hash: f.Hash, Size: f.Size})
	}
	if err := a.write(RecordName, record.encode()); err != nil {
		return Record{}, false, err
	}
	if err := a.remove(planName); err != nil {
		return Record{}, false, err
	}
	if err := o.Files.Settle(p.aside, a.changed); err != nil {
		return Record{}, false, writeError(p.aside, err)
	}
	return record, a.apart.Load(), nil
}

// withLast returns the outputs and, in their place at the end, the last ones.
func withLast(outputs []Output, last []Last) []Output {
	for _, l := range last {
		if path.Dir(l.Path) != "." {
			panic("tree: the last output " + l.Path + " is not in the tree's root")
		}
		outputs = append(outputs[:len(outputs):len(outputs)], Output{Path: l.Path})
	}
	return outputs
}

// makeAll makes and writes each output. Work is handed out in order and stops
// at the first failure; since all that was handed out before a failure is
// still done, the failure returned is that of the earliest output, whatever
// the number of workers.
func makeAll(outputs []Output, a *aside, was *standing, o Options) ([]slot, error) {
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	slots := make([]slot, len(outputs))
	var mu sync.Mutex // guards next, done, failed and calls of Progress
	next, done, failed := 0, 0, len(outputs)
	take := func() int {
		mu.Lock()
		defer mu.Unlock()
		if failed < len(outputs) || next == len(outputs) {
			return -1
		}
		next++
		return next - 1
	}
	finish := func(i int) {
		mu.Lock()
		defer mu.Unlock()
		done++
		if slots[i].err != nil {
			failed = min(failed, i)
		}
		if o.Progress != nil {
			o.Progress(done, len(outputs))
		}
	}
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			for i := take(); i >= 0; i = take() {
				slots[i] = makeOne(outputs[i], a, was)
				finish(i)
			}
		})
	}
	wait.Wait()
	if failed < len(outputs) {
		return nil, slots[failed].err
	}
	return slots, nil
}

func makeOne(out Output, a *aside, was *standing) slot {
	if kept, done := was.take(out, a); done {
		return kept
	}
	reads := new(trace.Reads)
	data, err := out.Make(reads)
	if err != nil {
		return slot{err: &MakeError{out.Path, err}}
	}
	made := slot{path: out.Path, hash: hashOf(data), size: int64(len(data)), reads: reads.Sorted()}
	if was.same(out.Path, made.hash, a) {
		return made
	}
	if err := a.write(out.Path, data); err != nil {
		return slot{err: err}
	}
	return made
}

func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// folders makes each folder of the tree once, when the first file in it is
// written.
type folders struct {
	aside string
	files Files
	once  map[string]func() error // read only after newFolders
}

// newFolders is of the folders of the files named, less those that are there.
func newFolders(names, there map[string]bool, aside string, files Files) *folders {
	done := func() error { return nil }
	f := &folders{aside: aside, files: files, once: map[string]func() error{".": done}}
	for name := range names {
		for dir := path.Dir(name); f.once[dir] == nil; dir = path.Dir(dir) {
			if there[dir] {
				f.once[dir] = done
				continue
			}
			f.once[dir] = sync.OnceValue(func() error {
				if err := f.make(path.Dir(dir)); err != nil {
					return err
				}
				full := filepath.Join(aside, filepath.FromSlash(dir))
				if err := files.Mkdir(full); err != nil {
					return writeError(full, err)
				}
				return nil
			})
		}
	}
	return f
}

func (f *folders) make(dir string) error { return f.once[dir]() }

// clearTree removes from dir the files that its plan and its record name,
// then the folders left empty, then dir. Anything else stays, and is named in
// a *ForeignError.
func clearTree(dir string, files Files) error {
	if _, err := os.Lstat(dir); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	ours := map[string]bool{}
	planned, err := readPlan(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: %w", dir, err)
	}
	for _, p := range planned {
		ours[p] = true
	}
	record, err := ReadRecord(dir)
	switch {
	case err == nil:
		record.each(func(f *File) { ours[f.Path] = true })
	case planned == nil && !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: %w", dir, err)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return writeError(dir, err)
	}
	defer root.Close()
	var folders, foreign []string
	err = walk(dir, func(name string, e fs.DirEntry) {
		switch {
		case e.IsDir():
			folders = append(folders, name)
		case !ours[name] && name != planName && name != RecordName:
			foreign = append(foreign, name)
		}
	})
	if err != nil {
		return err
	}
	if len(foreign) > 0 {
		return &ForeignError{dir, foreign}
	}
	remove := func(name string) error {
		if err := files.Remove(root, filepath.FromSlash(name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return writeError(filepath.Join(dir, name), err)
		}
		return nil
	}
	names := make([]string, 0, len(ours))
	for name := range ours {
		names = append(names, name)
	}
	sort.Strings(names)
	// Deeper folders come first; the plan and the record go last, since they
	// say what is ours.
	sort.Sort(sort.Reverse(sort.StringSlice(folders)))
	for _, name := range append(append(names, folders...), planName, RecordName) {
		if err := remove(name); err != nil {
			return err
		}
	}
	if err := files.RemoveDir(dir); err != nil {
		return writeError(dir, err)
	}
	return nil
}
