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
// which then lies there too.
func writeAside(outputs []Output, p place, o Options) (Record, error) {
	if err := o.Files.Mkdir(p.aside); err != nil {
		return Record{}, writeError(p.aside, err)
	}
	put := func(name string, data []byte) error {
		full := filepath.Join(p.aside, name)
		if err := o.Files.WriteFile(full, data); err != nil {
			return writeError(full, err)
		}
		return nil
	}
	if err := put(planName, encodePlan(withLast(outputs, o.Last))); err != nil {
		return Record{}, err
	}
	slots, err := makeAll(outputs, p, o)
	if err != nil {
		return Record{}, err
	}
	record := recordOf(slots)
	if len(o.Last) > 0 {
		all := make([]string, 0, 2*len(record.Files))
		for _, f := range record.Files {
			all = append(all, f.Path, f.Hash)
		}
		reads := []trace.Read{{Key: "files", Hash: trace.Hash(all...)}}
		for _, last := range o.Last {
			data := last.Make(record.Files)
			if err := put(last.Path, data); err != nil {
				return Record{}, err
			}
			slots = append(slots, slot{path: last.Path, hash: hashOf(data), size: int64(len(data)), reads: reads})
		}
		record = recordOf(slots)
	}
	if err := put(RecordName, record.encode()); err != nil {
		return Record{}, err
	}
	root, err := os.OpenRoot(p.aside)
	if err != nil {
		return Record{}, writeError(p.aside, err)
	}
	defer root.Close()
	if err := o.Files.Remove(root, planName); err != nil {
		return Record{}, writeError(filepath.Join(p.aside, planName), err)
	}
	if err := o.Files.Settle(p.aside); err != nil {
		return Record{}, writeError(p.aside, err)
	}
	return record, nil
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
func makeAll(outputs []Output, p place, o Options) ([]slot, error) {
	aside := p.aside
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	slots := make([]slot, len(outputs))
	was := standingTree(p, o)
	folders := newFolders(outputs, aside, o.Files)
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
				slots[i] = makeOne(outputs[i], aside, folders, was, o.Files)
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

func makeOne(out Output, aside string, folders *folders, was *standing, files Files) slot {
	if kept, done := was.take(out, aside, folders); done {
		return kept
	}
	reads := new(trace.Reads)
	data, err := out.Make(reads)
	if err != nil {
		return slot{err: &MakeError{out.Path, err}}
	}
	if err := folders.make(path.Dir(out.Path)); err != nil {
		return slot{err: err}
	}
	made := slot{path: out.Path, hash: hashOf(data), size: int64(len(data)), reads: reads.Sorted()}
	if was.same(out.Path, made.hash, aside, folders) {
		return made
	}
	full := filepath.Join(aside, filepath.FromSlash(out.Path))
	if err := files.WriteFile(full, data); err != nil {
		return slot{err: writeError(full, err)}
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

func newFolders(outputs []Output, aside string, files Files) *folders {
	f := &folders{aside: aside, files: files, once: map[string]func() error{".": func() error { return nil }}}
	for _, out := range outputs {
		for dir := path.Dir(out.Path); f.once[dir] == nil; dir = path.Dir(dir) {
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
		for _, f := range record.Files {
			ours[f.Path] = true
		}
	case planned == nil && !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: %w", dir, err)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return writeError(dir, err)
	}
	defer root.Close()
	var folders, foreign []string
	err = walk(dir, func(name string, isDir bool) {
		switch {
		case isDir:
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
