package revision

import (
	"bytes"
	"io"
	"io/fs"
	"path"
	"sort"
	"time"
)

// memory is a file system of a few files held in memory, or, with under, of
// those laid over another.
type memory struct {
	files map[string][]byte
	under fs.FS // nil: nothing
}

// Overlay returns a file system in which one file reads as given.
func Overlay(under fs.FS, name string, data []byte) fs.FS {
	return &memory{files: map[string][]byte{name: data}, under: under}
}

// Open implements fs.FS.
func (m *memory) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	if data, ok := m.files[name]; ok {
		return &memoryFile{info: memoryInfo{path.Base(name), int64(len(data)), false}, Reader: bytes.NewReader(data)}, nil
	}
	if m.under != nil {
		return m.under.Open(name)
	}
	list := m.list(name)
	if len(list) == 0 && name != "." {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &memoryFile{info: memoryInfo{path.Base(name), 0, true}, Reader: bytes.NewReader(nil), list: list}, nil
}

// list returns what a folder holds, sorted.
func (m *memory) list(dir string) []fs.DirEntry {
	seen := map[string]memoryInfo{}
	for name, data := range m.files {
		for child := name; child != "."; child = path.Dir(child) {
			if path.Dir(child) == dir {
				info := memoryInfo{path.Base(child), 0, true}
				if child == name {
					info = memoryInfo{path.Base(child), int64(len(data)), false}
				}
				seen[info.name] = info
			}
		}
	}
	out := make([]fs.DirEntry, 0, len(seen))
	for _, info := range seen {
		out = append(out, fs.FileInfoToDirEntry(info))
	}
	sort.Slice(out, func(a, b int) bool { return out[a].Name() < out[b].Name() })
	return out
}

type memoryInfo struct {
	name string
	size int64
	dir  bool
}

func (i memoryInfo) Name() string       { return i.name }
func (i memoryInfo) Size() int64        { return i.size }
func (i memoryInfo) IsDir() bool        { return i.dir }
func (i memoryInfo) ModTime() time.Time { return time.Time{} }
func (i memoryInfo) Sys() any           { return nil }
func (i memoryInfo) Mode() fs.FileMode {
	if i.dir {
		return fs.ModeDir | 0o555
	}
	return 0o444
}

type memoryFile struct {
	*bytes.Reader
	info memoryInfo
	list []fs.DirEntry
}

func (f *memoryFile) Stat() (fs.FileInfo, error) { return f.info, nil }
func (f *memoryFile) Close() error               { return nil }

// ReadDir implements fs.ReadDirFile.
func (f *memoryFile) ReadDir(n int) ([]fs.DirEntry, error) {
	if n <= 0 || n >= len(f.list) {
		out := f.list
		f.list = nil
		if n > 0 && len(out) == 0 {
			return nil, io.EOF
		}
		return out, nil
	}
	out := f.list[:n]
	f.list = f.list[n:]
	return out, nil
}
