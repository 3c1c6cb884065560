package tree

import (
	"os"
	"path"
	"path/filepath"

	"wythe/renderer/trace"
)

// Linker is [Files] that can give a file a second name. Without it every file
// is made and written anew.
type Linker interface {
	Link(from, to string) error
}

// Link gives a file a second name, on systems that have such.
func (System) Link(from, to string) error { return os.Link(from, to) }

// standing is the tree that stands, as far as its files can be kept: they are
// given a second name in the tree aside, so that their times stay and nothing
// is written. It was held to its record before.
type standing struct {
	dir   string
	link  func(from, to string) error
	files map[string]File
	reads []trace.Read
	keep  func(reads []trace.Read) bool
}

// standingTree returns the tree that stands, nil where none of it can be kept.
func standingTree(p place, o Options) *standing {
	linker, can := o.Files.(Linker)
	if !can {
		return nil
	}
	record, err := ReadRecord(p.dir)
	if err != nil {
		return nil
	}
	s := &standing{dir: p.dir, link: linker.Link, files: make(map[string]File, len(record.Files)), reads: record.Reads, keep: o.Keep}
	for _, f := range record.Files {
		s.files[f.Path] = f
	}
	return s
}

// readsOf are the reads that a file of the standing tree was made of.
func (s *standing) readsOf(f File) []trace.Read {
	reads := make([]trace.Read, len(f.Reads))
	for i, n := range f.Reads {
		reads[i] = s.reads[n]
	}
	return reads
}

// take keeps an output without making it, where all its reads are as they
// were. done is false where it must be made.
func (s *standing) take(out Output, aside string, folders *folders) (_ slot, done bool) {
	if s == nil || s.keep == nil {
		return slot{}, false
	}
	f, known := s.files[out.Path]
	if !known {
		return slot{}, false
	}
	reads := s.readsOf(f)
	if len(reads) == 0 || !s.keep(reads) || !s.linked(f, aside, folders) {
		return slot{}, false
	}
	return slot{path: f.Path, hash: f.Hash, size: f.Size, reads: reads}, true
}

// same keeps a file that was made anew and came out as it stands.
func (s *standing) same(name, hash string, aside string, folders *folders) bool {
	if s == nil {
		return false
	}
	f, known := s.files[name]
	return known && f.Hash == hash && s.linked(f, aside, folders)
}

func (s *standing) linked(f File, aside string, folders *folders) bool {
	if folders.make(path.Dir(f.Path)) != nil {
		return false // the write that follows says why
	}
	local := filepath.FromSlash(f.Path)
	return s.link(filepath.Join(s.dir, local), filepath.Join(aside, local)) == nil
}
