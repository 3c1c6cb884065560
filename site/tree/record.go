package tree

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"wythe/renderer/trace"
)

// RecordName is the record's file in the tree's root.
const RecordName = ".wythe-manifest.json"

// planName lists, in a folder aside, the files that a run set out to write.
// It is there only while they are being written.
const planName = ".wythe-plan.json"

// recordForm is raised when the record's form changes.
const recordForm = 1

// Record is what a tree is made of.
type Record struct {
	Reads []trace.Read // all reads of all files, by key
	Files []File       // by path
	// Earlier are files that outlived the tree they were made for
	// ([Options.Outlive]), by path.
	Earlier []File
}

// each calls do with every file that lies in the tree.
func (r *Record) each(do func(*File)) {
	for _, list := range [2][]File{r.Files, r.Earlier} {
		for i := range list {
			do(&list[i])
		}
	}
}

// File is one file of the record.
type File struct {
	Path  string
	Hash  string // hex SHA-256 of its bytes
	Size  int64
	Reads []int // indexes into Record.Reads
}

type recordJSON struct {
	Form    int         `json:"wythe"`
	Reads   [][2]string `json:"reads"`
	Files   []fileJSON  `json:"files"`
	Earlier []fileJSON  `json:"earlier"`
}

type fileJSON struct {
	Path  string `json:"path"`
	Hash  string `json:"hash"`
	Size  int64  `json:"size"`
	Reads []int  `json:"reads,omitempty"`
}

// encode prints the record, one line for each read and file.
func (r Record) encode() []byte {
	b := make([]byte, 0, 256+len(r.Reads)*120+len(r.Files)*160)
	b = fmt.Appendf(b, "{\"wythe\": %d,\n\"reads\": [", recordForm)
	for i, read := range r.Reads {
		b = separate(b, i)
		b = append(b, '[')
		b = appendJSON(b, read.Key)
		b = append(b, ',')
		b = appendJSON(b, read.Hash)
		b = append(b, ']')
	}
	b = appendFiles(append(b, "\n],\n\"files\": ["...), r.Files)
	if len(r.Earlier) > 0 {
		b = appendFiles(append(b, "\n],\n\"earlier\": ["...), r.Earlier)
	}
	return append(b, "\n]}\n"...)
}

func appendFiles(b []byte, files []File) []byte {
	for i := range files {
		f := &files[i]
		b = separate(b, i)
		b = append(b, `{"path": `...)
		b = appendJSON(b, f.Path)
		b = append(b, `, "hash": `...)
		b = appendJSON(b, f.Hash)
		b = append(b, `, "size": `...)
		b = strconv.AppendInt(b, f.Size, 10)
		if len(f.Reads) > 0 {
			b = append(b, `, "reads": [`...)
			for j, n := range f.Reads {
				if j > 0 {
					b = append(b, ',')
				}
				b = strconv.AppendInt(b, int64(n), 10)
			}
			b = append(b, ']')
		}
		b = append(b, '}')
	}
	return b
}

func separate(b []byte, i int) []byte {
	if i > 0 {
		b = append(b, ',')
	}
	return append(b, '\n')
}

func appendJSON(b []byte, s string) []byte {
	if isPlain(s) {
		return append(append(append(b, '"'), s...), '"')
	}
	quoted, err := json.Marshal(s)
	if err != nil {
		panic(err) // a string always has a JSON form
	}
	return append(b, quoted...)
}

// isPlain reports whether a text stands in JSON as it is.
func isPlain(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < 0x20 || c > 0x7e || c == '"' || c == '\\' || c == '<' || c == '>' || c == '&' {
			return false
		}
	}
	return true
}

// ReadRecord returns the record of the tree in dir. It returns an error that
// is fs.ErrNotExist where the folder has none. A record is not believed
// beyond its folder: a path that leads out of it is an error.
func ReadRecord(dir string) (Record, error) {
	data, err := os.ReadFile(filepath.Join(dir, RecordName))
	if err != nil {
		return Record{}, err
	}
	return decodeRecord(data)
}

func decodeRecord(data []byte) (Record, error) {
	r, ok := decodePrinted(string(data))
	if !ok {
		var j recordJSON
		d := json.NewDecoder(bytes.NewReader(data))
		d.DisallowUnknownFields()
		if err := d.Decode(&j); err != nil {
			return Record{}, fmt.Errorf("%s: %w", RecordName, err)
		}
		if j.Form != recordForm {
			return Record{}, fmt.Errorf("%s: form %d, not %d", RecordName, j.Form, recordForm)
		}
		r = Record{Reads: make([]trace.Read, len(j.Reads))}
		for i, pair := range j.Reads {
			r.Reads[i] = trace.Read{Key: pair[0], Hash: pair[1]}
		}
		for _, f := range j.Files {
			r.Files = append(r.Files, File(f))
		}
		for _, f := range j.Earlier {
			r.Earlier = append(r.Earlier, File(f))
		}
	}
	var err error
	r.each(func(f *File) {
		if !local(f.Path) {
			err = fmt.Errorf("%s: path %q is not inside the folder", RecordName, f.Path)
		}
		for _, n := range f.Reads {
			if n < 0 || n >= len(r.Reads) {
				err = fmt.Errorf("%s: %s: read %d of %d", RecordName, f.Path, n, len(r.Reads))
			}
		}
	})
	if err != nil {
		return Record{}, err
	}
	return r, nil
}

// encodePlan and readPlan keep the paths a run set out to write.
func encodePlan(names map[string]bool) []byte {
	b := []byte("[")
	for i, name := range slices.Sorted(maps.Keys(names)) {
		b = separate(b, i)
		b = appendJSON(b, name)
	}
	return append(b, "\n]\n"...)
}

func readPlan(dir string) ([]string, error) {
	data, err := os.ReadFile(filepath.Join(dir, planName))
	if err != nil {
		return nil, err
	}
	var paths []string
	if err := json.Unmarshal(data, &paths); err != nil {
		// The run was killed while it wrote the plan, so it wrote nothing else.
		return nil, nil
	}
	for _, p := range paths {
		if !local(p) {
			return nil, fmt.Errorf("%s: path %q is not inside the folder", planName, p)
		}
	}
	return paths, nil
}
