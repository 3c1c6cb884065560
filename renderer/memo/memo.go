// Package memo keeps keyed texts from run to run in one file, each with a
// checksum: what was worked out once and can be had again as long as its key is
// asked for. A file that cannot be read, is damaged or of another version costs
// time, never a result.
//
// Changes are put at the file's end; when more than half of it is out of date
// it is written anew with what was asked for in this run.
package memo

import (
	"encoding/binary"
	"hash/crc32"
	"os"
	"path/filepath"
	"sync"
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

// Open reads the file of a store. version tells apart what must not be mixed:
// a file of another is begun anew.
func Open(file, version string) *Store {
	s := &Store{file: file, head: form + version + "\n", entries: map[string]*entry{}}
	data, err := os.ReadFile(file)
	if err != nil {
		return s
	}
	rest := string(data)
	if len(rest) < len(s.head) || rest[:len(s.head)] != s.head {
		return s
	}
	rest = rest[len(s.head):]
	for rest != "" {
		key, text, next, ok := cut(rest)
		if !ok {
			return s // what follows cannot be told apart
		}
		if e := s.entries[key]; e != nil {
			e.text = text
		} else {
			s.entries[key] = &entry{text: text}
		}
		rest = next
	}
	s.size, s.sound = len(data), true
	return s
}

// cut takes the first entry off: lengths of key and text, their checksum, key,
// text.
func cut(rest string) (key, text, next string, ok bool) {
	const head = 12
	if len(rest) < head {
		return "", "", "", false
	}
	number := func(i int) int { return int(binary.LittleEndian.Uint32([]byte(rest[i : i+4]))) }
	k, n := number(0), number(4)
	if k > len(rest)-head || n > len(rest)-head-k {
		return "", "", "", false
	}
	both := rest[head : head+k+n]
	if checksum(both) != binary.LittleEndian.Uint32([]byte(rest[8:12])) {
		return "", "", "", false
	}
	return both[:k], both[k:], rest[head+k+n:], true
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

func checksum(s string) uint32 { return crc32.Checksum([]byte(s), castagnoli) }

func appendEntry(b []byte, key, text string) []byte {
	b = binary.LittleEndian.AppendUint32(b, uint32(len(key)))
	b = binary.LittleEndian.AppendUint32(b, uint32(len(text)))
	b = binary.LittleEndian.AppendUint32(b, checksum(key+text))
	return append(append(b, key...), text...)
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
	s.fresh = append(s.fresh, key)
}

// Save writes what was put since the store was opened, or saved last.
func (s *Store) Save() error {
	if s == nil {
		return nil
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	live := len(s.head)
	for key, e := range s.entries {
		if e.used {
			live += 12 + len(key) + len(e.text)
		}
	}
	var added []byte
	for _, key := range s.fresh {
		added = appendEntry(added, key, s.entries[key].text)
	}
	if s.sound && len(added) == 0 && s.size <= 2*live {
		return nil
	}
	s.fresh = nil
	if s.sound && s.size+len(added) <= 2*live {
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
