// Package tree makes a folder of files whole, or leaves the one that stands.
//
// The files are made on all cores, each by a pure function of the reads it
// traces, and written into a folder aside, beside the one they are for. When
// all of them lie there the two folders change places in one step; until then
// nothing of the standing tree is touched. What was written is kept in a
// record inside the tree ([RecordName]): path, size, hash and reads. Only
// files of that record are ever removed; any other file in the folder is
// refused by name.
//
// A run that was killed leaves at most a folder aside and a lock, which the
// next run clears. This package knows no detail, drawing or page.
package tree

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"sort"
	"strings"

	"wythe/renderer/trace"
)

// Output is one file of the tree.
type Output struct {
	// Path is the file's place from the tree's root, with slashes.
	Path string
	// Make returns the file's bytes. It must be a pure function of what it
	// records in reads, and safe to run beside the others.
	Make func(reads *trace.Reads) ([]byte, error)
}

// Options say where a tree goes and how it is made.
type Options struct {
	// To is the folder the tree becomes. It is made where it is missing.
	To string
	// Never are folders that To must not be, nor hold: the library, home.
	Never []Place
	// Workers is how many outputs are made at a time; 0: one for each core.
	Workers int
	// Progress is told of each output written, from one goroutine at a time.
	// It may be nil.
	Progress func(done, total int)
	// Last are files that follow from all the others: they are made once those
	// lie aside, from their paths, hashes and sizes.
	Last []Last
	// Keep reports whether all of an output's reads give what they gave when
	// the standing tree was made: then its file is kept and not made anew. nil:
	// all are made. A file that comes out as it stands is kept in any case.
	Keep func(reads []trace.Read) bool
	// Outlive says which files outlast the tree they were made for by one: files
	// whose names change with their bytes, which a page that is still open may
	// ask for. One generation of them is kept: the files that the standing tree
	// was made with, and the next one is not; a tree that is made with the same
	// ones keeps what its forerunner kept. nil: none.
	Outlive func(path string) bool
	// Spare is a folder where the last tree lies between runs, so that the next
	// run changes there what differs and makes no folder anew. It is of use on
	// the file system of To, where the system tells when a folder last changed.
	// "": the last tree is cleared away.
	Spare string
	// Files does the writing; nil: the operating system. Tests put a failing
	// one here.
	Files Files
}

// Last is a file of the tree's root that is made of what the record says of
// all the outputs. Make must be a pure function of it.
type Last struct {
	Path string
	Make func(files []File) []byte
}

// Place is a folder that a tree must not become or hold.
type Place struct {
	Dir string
	Is  string // in words: "the library"
}

// Result is a tree that now stands.
type Result struct {
	Record Record
	// Leftover says what of the former tree could not be cleared away; nil
	// where all of it was. The new tree stands whole all the same.
	Leftover error
}

// Publish makes the outputs and puts them in o.To, all of them or none.
//
// Errors: *[PlaceError] where o.To cannot be a tree, *[ForeignError] where it
// holds files that no record names, *[BusyError] where another run is writing
// to it, *[MakeError] where an output could not be made, *[WriteError] where
// one could not be written. After each of them the former tree stands as it
// was.
func Publish(outputs []Output, o Options) (Result, error) {
	if err := checkPaths(withLast(outputs, o.Last)); err != nil {
		return Result{}, err
	}
	if o.Files == nil {
		o.Files = System{}
	}
	place, err := settlePlace(o.To, o.Never)
	if err != nil {
		return Result{}, err
	}
	if err := o.Files.MkdirAll(place.parent); err != nil {
		return Result{}, writeError(place.parent, err)
	}
	unlock, err := lock(place)
	if err != nil {
		return Result{}, err
	}
	defer unlock()
	if err := mend(place, o.Files); err != nil {
		return Result{}, err
	}
	was, err := standingTree(place, o)
	if err != nil {
		return Result{}, err
	}
	record, apart, err := writeAside(outputs, place, was, o)
	if err != nil {
		// What is left aside is cleared by the next run where it cannot be now.
		_ = clearTree(place.aside, o.Files)
		return Result{}, err
	}
	old, err := swap(place, o.Files)
	if err != nil {
		// While the journal lies there the next run may need the folder aside.
		if _, journal := os.Lstat(place.swap); errors.Is(journal, fs.ErrNotExist) {
			_ = clearTree(place.aside, o.Files)
		}
		return Result{}, err
	}
	result := Result{Record: record}
	if old != "" && !layBy(old, o, apart) {
		result.Leftover = clearTree(old, o.Files)
	}
	return result, nil
}

// checkPaths refuses paths that would leave the tree, and two outputs that
// would fall on one file, on any file system.
func checkPaths(outputs []Output) error {
	seen := make(map[string]string, len(outputs))
	folders := make(map[string]string, len(outputs))
	for _, out := range outputs {
		if !local(out.Path) {
			panic(fmt.Sprintf("tree: output path %q is not inside the tree", out.Path))
		}
		key := strings.ToLower(out.Path)
		if other, twice := seen[key]; twice {
			return &MakeError{out.Path, fmt.Errorf("%s falls on the same file on systems that do not tell capitals from small letters; rename one of the two", other)}
		}
		seen[key] = out.Path
		for dir := path.Dir(key); dir != "."; dir = path.Dir(dir) {
			if _, known := folders[dir]; known {
				break
			}
			folders[dir] = out.Path
		}
	}
	for dir, below := range folders {
		if file, clash := seen[dir]; clash {
			return &MakeError{file, fmt.Errorf("it is a file here and a folder in %s; rename one of the two", below)}
		}
	}
	return nil
}

// local reports whether p stays inside the tree and is none of its own files.
func local(p string) bool {
	return p != "" && p != "." && path.Clean(p) == p && !path.IsAbs(p) && p != ".." &&
		!strings.HasPrefix(p, "../") && !strings.ContainsAny(p, "\\:\x00") &&
		p != RecordName && p != planName
}

// filesOf are the files of results in slots, by path, without their reads.
func filesOf(slots []slot) []File {
	files := make([]File, len(slots))
	for i := range slots {
		files[i] = File{Path: slots[i].path, Hash: slots[i].hash, Size: slots[i].size}
	}
	sort.Slice(files, func(a, b int) bool { return files[a].Path < files[b].Path })
	return files
}

// recordOf builds the record from results in slots, by path.
func recordOf(slots []slot) Record {
	number := map[string]int{}
	var record Record
	all := 0
	for i := range slots {
		all += len(slots[i].reads)
		for _, r := range slots[i].reads {
			if _, known := number[r.Key]; !known {
				number[r.Key] = 0
				record.Reads = append(record.Reads, r)
			}
		}
	}
	sort.Slice(record.Reads, func(a, b int) bool { return record.Reads[a].Key < record.Reads[b].Key })
	for i, r := range record.Reads {
		number[r.Key] = i
	}
	record.Files = make([]File, 0, len(slots))
	numbers := make([]int, 0, all)
	for i := range slots {
		s := &slots[i]
		from := len(numbers)
		for _, r := range s.reads {
			numbers = append(numbers, number[r.Key])
		}
		f := File{Path: s.path, Hash: s.hash, Size: s.size}
		if len(numbers) > from {
			f.Reads = numbers[from:len(numbers):len(numbers)]
		}
		record.Files = append(record.Files, f)
	}
	sort.Slice(record.Files, func(a, b int) bool { return record.Files[a].Path < record.Files[b].Path })
	return record
}
