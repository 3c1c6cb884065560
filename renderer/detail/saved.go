package detail

import (
	"encoding/binary"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"wythe/renderer/memo"
	"wythe/renderer/strict"
	"wythe/renderer/trace"
)

// ReadSaved is [Read], which takes what files say from a store where they did
// not change since it was put there, and puts there what is read anew. Only
// files in whose form nothing is wrong are kept so; all else that there is to
// find in them is found again each time.
func ReadSaved(root string, store *memo.Store) (*Library, error) {
	r, err := os.OpenRoot(root)
	if err != nil {
		return nil, err
	}
	// The folder stays open, as in [Read]: pictures are read when they are asked for.
	return readFS(r.FS(), nil, &saver{root, store, time.Now()})
}

// saver reads pages by way of a store.
type saver struct {
	root  string
	store *memo.Store
	began time.Time
}

// page reads a file into its reader; front is its front matter. ok is false
// where it cannot be read, which a finding says.
func (s *saver) page(fsys fs.FS, r *reader) (front strict.Node, data []byte, ok bool) {
	name := r.d.File
	stamp := ""
	if s != nil {
		// That it is a file, and no link leads to it, was seen when files were
		// looked for; by its full name it is one call.
		if info, err := os.Lstat(filepath.Join(s.root, name)); err == nil {
			stamp = stampOf(info)
			if s.began.Sub(info.ModTime()) < settled(info.ModTime()) {
				stamp = ""
			}
		}
		// Where it is the file that was seen it is not even read.
		if seen, known := s.store.Get("seen/" + name); known && stamp != "" && len(seen) > hashLength && seen[hashLength:] == stamp {
			if front, ok := s.restore(r, seen[:hashLength]); ok {
				return front, nil, true
			}
		}
	}
	data, ok = readFile(fsys, name, &r.list)
	if !ok {
		r.d = nil
		return strict.Node{}, nil, false
	}
	hash := trace.Hash(string(data))
	if s != nil {
		if stamp != "" {
			s.store.Put("seen/"+name, hash+stamp)
		}
		if front, ok := s.restore(r, hash); ok {
			return front, data, true
		}
	}
	r.d.Hash = hash
	front, r.d.Body, r.d.BodyLine, ok = strict.Split(name, data, &r.list)
	if s != nil && ok && len(r.list.Items) == 0 {
		b := make([]byte, 0, 2*len(data)+64)
		b = binary.AppendUvarint(b, uint64(r.d.BodyLine))
		b = binary.AppendUvarint(b, uint64(len(r.d.Body)))
		b = append(b, r.d.Body...)
		s.store.Put("page/"+hash, string(front.AppendSaved(b)))
	}
	return front, data, ok
}

// hashLength is that of a hash as printed.
const hashLength = 64

// restore gives a reader what the store holds of a file of a hash.
func (s *saver) restore(r *reader, hash string) (front strict.Node, ok bool) {
	text, known := s.store.Get("page/" + hash)
	if !known {
		return strict.Node{}, false
	}
	line, n := uvarint(text)
	if n <= 0 {
		return strict.Node{}, false
	}
	size, m := uvarint(text[n:])
	if m <= 0 || size > uint64(len(text)-n-m) {
		return strict.Node{}, false
	}
	body := text[n+m:]
	front, rest, ok := strict.Restore(r.d.File, body[size:], &r.list)
	if !ok || rest != "" {
		return strict.Node{}, false
	}
	r.d.Hash, r.d.Body, r.d.BodyLine = hash, body[:size], int(line)
	return front, true
}

func uvarint(s string) (uint64, int) {
	var b [binary.MaxVarintLen64]byte
	return binary.Uvarint(b[:copy(b[:], s)])
}

// stampOf tells one state of a file from another without reading it: size,
// times and, where the system has them, what a change cannot leave as it was.
func stampOf(info fs.FileInfo) string {
	return fmt.Sprint(info.Size(), info.ModTime().UnixNano(), changeOf(info))
}

// settled is how old a file must be before its time is trusted: two saves
// within one tick of a clock leave the same time. Some file systems tick every
// two seconds, and show no part of one.
func settled(t time.Time) time.Duration {
	if t.Nanosecond() == 0 {
		return 2 * time.Second
	}
	return youngest
}
