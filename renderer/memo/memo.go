// Package memo keeps keyed texts from run to run in one file, each with a
// checksum: what was worked out once and can be had again as long as its key is
// asked for. A file that cannot be read, is damaged or of another version costs
// time, never a result.
//
// Changes are put at the file's end; when more than half of it is out of date
// it is written anew with what was asked for in this run.
package memo

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"os"
	"path/filepath"
	"sync"
	"unsafe"
)

// Store is one such file. A nil *Store keeps nothing. It is safe for use by
// several goroutines.
type Store struct {
	file, head string
	size       int // of the file as it was read, of which all was sound
	sound      bool

	mu      sync.Mutex
	entries map[string]*entry
	fresh   []string // keys put in this run, in order
}

type entry struct {
	text string
	used bool
}

// form is raised when the form of the file changes.
const form = "wythe memo 1\n"

// New returns a store for one run, that has no file.
func New() *Store { return &Store{entries: map[string]*entry{}} }

// Open reads the file of a store. version tells apart what must not be mixed:
// a file of another is begun anew.
func Open(file, version string) *Store {
	s := &Store{file: file, head: form + version + "\n", entries: map[string]*entry{}}
	data, err := os.ReadFile(file)
	if err != nil {
		return s
	}
	if !bytes.HasPrefix(data, []byte(s.head)) {
		return s
	}
	all := unsafe.String(unsafe.SliceData(data), len(data)) // texts are parts of it; nobody writes to data
	slab := make([]entry, 0, 1024)
	s.entries = make(map[string]*entry, len(data)/1500)
	for at := len(s.head); at < len(data); {
		k, n, ok := sizes(data[at:])
		if !ok {
			return s // what follows cannot be told apart
		}
		key, text := all[at+headSize:at+headSize+k], all[at+headSize+k:at+headSize+k+n]
		if e := s.entries[key]; e != nil {
			e.text = text
		} else {
			if len(slab) == cap(slab) {
				slab = make([]entry, 0, 1024)
			}
			slab = append(slab, entry{text: text})
			s.entries[key] = &slab[len(slab)-1]
		}
		at += headSize + k + n
	}
	s.size, s.sound = len(data), true
	return s
}

// headSize is that of what goes before an entry: the lengths of key and text,
// and their checksum.
const headSize = 12

// sizes returns the lengths of the first entry's key and text; ok is false
// where it is not whole.
func sizes(data []byte) (key, text int, ok bool) {
	if len(data) < headSize {
		return 0, 0, false
	}
	key, text = int(binary.LittleEndian.Uint32(data)), int(binary.LittleEndian.Uint32(data[4:]))
	if key > len(data)-headSize || text > len(data)-headSize-key {
		return 0, 0, false
	}
	ok = crc32.Checksum(data[headSize:headSize+key+text], castagnoli) == binary.LittleEndian.Uint32(data[8:])
	return key, text, ok
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

func appendEntry(b []byte, key, text string) []byte {
	from := len(b)
	b = binary.LittleEndian.AppendUint32(b, uint32(len(key)))
	b = binary.LittleEndian.AppendUint32(b, uint32(len(text)))
	b = append(append(append(b, 0, 0, 0, 0), key...), text...)
	binary.LittleEndian.PutUint32(b[from+8:], crc32.Checksum(b[from+headSize:], castagnoli))
	return b
}

// Get returns the text under a key.
func (s *Store) Get(key string) (text string, ok bool) {
	if s == nil {
		return "", false
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	e := s.entries[key]
	if e == nil {
		return "", false
	}
	e.used = true
	return e.text, true
}

// Put keeps a text under a key.
func (s *Store) Put(key, text string) {
	if s == nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	e := s.entries[key]
	if e != nil && e.text == text {
		e.used = true
		return
	}
	s.entries[key] = &entry{text, true}
	if s.file != "" {
		s.fresh = append(s.fresh, key)
	}
}

// KeepAll lets all that the store holds stand as asked for: a run that needs
// but a part must not make others work the rest out again.
func (s *Store) KeepAll() {
	if s == nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, e := range s.entries {
		e.used = true
	}
}

// Save writes what was put since the store was opened, or saved last.
func (s *Store) Save() error {
	if s == nil || s.file == "" {
		return nil
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	live := len(s.head)
	for key, e := range s.entries {
		if e.used {
			live += headSize + len(key) + len(e.text)
		}
	}
	fresh := s.fresh
	s.fresh = nil
	if !s.sound {
		return s.rewrite(live)
	}
	var added []byte
	for _, key := range fresh {
		added = appendEntry(added, key, s.entries[key].text)
	}
	if s.size+len(added) <= 2*live {
		if len(added) == 0 {
			return nil
		}
		if err := s.extend(added); err == nil {
			s.size += len(added)
			return nil
		}
	}
	return s.rewrite(live)
}

// extend adds to the file, where it still is as it was read.
func (s *Store) extend(added []byte) error {
	f, err := os.OpenFile(s.file, os.O_WRONLY|os.O_APPEND, 0o666)
	if err != nil {
		return err
	}
	info, err := f.Stat()
	if err == nil && info.Size() != int64(s.size) {
		err = os.ErrExist // another run was quicker
	}
	if err == nil {
		_, err = f.Write(added)
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	return err
}

// rewrite puts a file of what was asked for in place at once.
func (s *Store) rewrite(size int) error {
	b := append(make([]byte, 0, size), s.head...)
	for key, e := range s.entries {
		if e.used {
			b = appendEntry(b, key, e.text)
		}
	}
	if err := os.MkdirAll(filepath.Dir(s.file), 0o777); err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(s.file), ".memo-*")
	if err != nil {
		return err
	}
	_, err = f.Write(b)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(f.Name(), s.file)
	}
	if err != nil {
		os.Remove(f.Name())
		return err
	}
	s.size, s.sound = len(b), true
	return nil
}
