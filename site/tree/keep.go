package tree

import (
	"os"
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

// standing is the tree that stands, held to its record, as far as its files
// can be kept: they are given a second name in the tree aside, so that their
// times stay and nothing is written.
type standing struct {
	held
	dir   string
	link  func(from, to string) error // nil where files have one name alone
	files map[string]*File
	keep  func(reads []trace.Read) bool
}

// standingTree returns the tree that stands, nil where there is none.
//
// Errors: those of holdToRecord.
func standingTree(p place, o Options) (*standing, error) {
	h, err := holdToRecord(p)
	if err != nil || !h.known {
		return nil, err
	}
	s := &standing{held: h, dir: p.dir, keep: o.Keep}
	s.files, _ = h.record.named()
	if linker, can := o.Files.(Linker); can {
		s.link = linker.Link
	}
	return s, nil
}

// readsOf are the reads that a file of the standing tree was made of.
func (s *standing) readsOf(f *File) []trace.Read {
	reads := make([]trace.Read, len(f.Reads))
	for i, n := range f.Reads {
		reads[i] = s.record.Reads[n]
	}
	return reads
}

// take keeps an output without making it, where all its reads are as they
// were. done is false where it must be made.
func (s *standing) take(out Output, a *aside) (_ slot, done bool) {
	if s == nil || s.keep == nil {
		return slot{}, false
	}
	f, known := s.files[out.Path]
	if !known {
		return slot{}, false
	}
	reads := s.readsOf(f)
	if len(reads) == 0 || !s.keep(reads) || !s.linked(f, a) {
		return slot{}, false
	}
	return slot{path: f.Path, hash: f.Hash, size: f.Size, reads: reads}, true
}

// same keeps a file that was made anew and came out as it stands.
func (s *standing) same(name, hash string, a *aside) bool {
	if s == nil {
		return false
	}
	f, known := s.files[name]
	return known && f.Hash == hash && s.linked(f, a)
}

// linked gives a file of the standing tree its name in the tree aside.
func (s *standing) linked(f *File, a *aside) bool {
	if a.has[f.Path] {
		return true
	}
	if s.link != nil && !s.missing[f.Path] && a.clear(f.Path) == nil {
		local := filepath.FromSlash(f.Path)
		full := filepath.Join(a.dir, local)
		if s.link(filepath.Join(s.dir, local), full) == nil {
			a.change(full)
			return true
		}
	}
	a.apart.Store(true)
	return false // the write that follows says why
}

// outliving are the files of the standing tree that outlive it by one.
func (s *standing) outliving(outputs []Output, outlive func(string) bool) []*File {
	if s == nil || outlive == nil {
		return nil
	}
	made := map[string]bool{}
	for _, out := range outputs {
		if outlive(out.Path) {
			made[out.Path] = true
		}
	}
	var gone []*File
	for i := range s.record.Files {
		if f := &s.record.Files[i]; outlive(f.Path) && !made[f.Path] {
			gone = append(gone, f)
		}
	}
	were := 0
	for i := range s.record.Files {
		if outlive(s.record.Files[i].Path) {
			were++
		}
	}
	if len(gone) == 0 && were == len(made) { // the same generation
		for i := range s.record.Earlier {
			gone = append(gone, &s.record.Earlier[i])
		}
	}
	return gone
}

// carry takes a file of the standing tree over as it is.
func (s *standing) carry(f *File, a *aside) error {
	if s.linked(f, a) {
		return nil
	}
	local := filepath.FromSlash(f.Path)
	data, err := os.ReadFile(filepath.Join(s.dir, local))
	if err != nil {
		return writeError(filepath.Join(s.dir, local), err)
	}
	return a.write(f.Path, data)
}
