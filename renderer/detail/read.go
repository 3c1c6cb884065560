package detail

import (
	"bytes"
	"io/fs"
	"os"

	"wythe/renderer/finding"
	"wythe/renderer/hands"
	"wythe/renderer/material"
	"wythe/renderer/strict"
)

// Read reads the library in a folder. Nothing outside the folder is read,
// whatever its links and names say. The error is that of a folder which
// cannot be read; all that is wrong in it is in the library's Findings.
func Read(root string) (*Library, error) {
	r, err := os.OpenRoot(root)
	if err != nil {
		return nil, err
	}
	return ReadFS(r.FS())
}

// ReadFS is [Read] for any file system. What it reads does not depend on the
// number of processors or their order.
func ReadFS(fsys fs.FS) (*Library, error) { return readFS(fsys, nil, nil) }

// readFS reads a library; kept, which may be nil, gives the files that an
// earlier read has parsed already, and saved, which may be nil too, what an
// earlier run has.
func readFS(fsys fs.FS, kept *Again, saved *saver) (*Library, error) {
	l := &Library{fsys: fsys}
	list := &l.Findings
	f, err := findFiles(fsys, list)
	if err != nil {
		return nil, err
	}
	settings := l.readSettings(fsys, f, list)
	l.readMaterials(fsys, f, list)
	l.readClimates(fsys, f, settings.Get("climate"), list)

	// First each file by itself, then what needs all the others: junctions,
	// buildings, successors, marks in text.
	readers := make([]*reader, len(f.pages))
	again := kept.begin(l)
	hands.Each(len(readers), func(i int) {
		if readers[i] = again.reader(fsys, f.pages[i]); readers[i] == nil {
			readers[i] = l.readPage(fsys, f.pages[i], saved)
		}
	})
	again.keep(fsys, f.pages, readers)
	l.index(readers)
	l.checkTargets(settings)
	names := again.names()
	hands.Each(len(readers), func(i int) {
		if !again.finished(readers[i], names) {
			readers[i].finish()
		}
	})
	for _, r := range readers {
		list.Add(r.list)
	}
	l.trace(readers)
	again.keepFinished(f.pages, readers, names)
	list.Sort()
	return l, nil
}

func (l *Library) readMaterials(fsys fs.FS, f files, list *finding.List) {
	l.Materials = material.Builtin()
	if !f.own {
		return
	}
	if data, ok := readFile(fsys, materialsFile, list); ok {
		table, found := material.ReadFile(materialsFile, data, l.Materials)
		l.Materials = table
		list.Add(found)
	}
}

// readPage reads one Markdown file as far as it stands alone.
func (l *Library) readPage(fsys fs.FS, name string, saved *saver) *reader {
	r := &reader{lib: l, d: &Detail{File: name, At: at(name)}}
	front, data, ok := saved.page(fsys, r)
	if r.d == nil {
		return r
	}
	if !ok {
		r.d, r.broken = nil, markOf(data)
		return r
	}
	if n := len(r.d.Body); n > MaxBody {
		r.list.Errorf(finding.Position{File: name, Line: r.d.BodyLine, Column: 1}, "too-large", "part it into several files", "%d KB of text is more than the %d KB read", n>>10, MaxBody>>10)
		r.d.Body = ""
	}
	if !front.IsZero() {
		r.d.At = front.At()
	}
	r.front(front)
	return r
}

// deciding are the keys that say what a file is.
var deciding = [...]string{"layers", "parts", "section", "areas"}

// markOf returns the mark that a broken file seems to have, so that nobody
// else's mention of it is called unknown.
func markOf(data []byte) string {
	for line := range bytes.Lines(data) {
		if rest, ok := bytes.CutPrefix(line, []byte("mark:")); ok {
			return string(bytes.Trim(bytes.TrimSpace(rest), `"'`))
		}
	}
	return ""
}

// front reads the front matter by what it is.
func (r *reader) front(front strict.Node) {
	if !front.IsZero() && !front.IsMap() {
		front.Errorf("not-a-map", "write it as key: value", "front matter is made of keys")
		front = strict.Node{}
	}
	m := strict.Map{Node: front}
	r.top = m
	first := ""
	for _, key := range deciding {
		switch {
		case !m.Has(key):
		case first == "":
			first = key
		default:
			m.Get(key).Errorf("two-kinds", "part it into two files", "%q and %q make two kinds of detail of one file", first, key)
		}
	}
	if first == "" {
		first = meant(m)
	}
	switch first {
	case "layers":
		r.assembly(front)
	case "parts":
		r.d.Junction = &Junction{At: r.d.At}
		r.mark(m.Get("mark"))
		r.common(m, true)
	case "section":
		r.spec(front)
	case "areas":
		r.d.Building = &Building{}
		r.common(m, true)
	default:
		r.prose(front)
	}
}

// meant returns the deciding key that a front matter without one lacks or
// misspells: a page of prose has no key that another kind alone has.
func meant(m strict.Map) string {
	if !m.IsMap() {
		return ""
	}
	for _, p := range m.Pairs() {
		key := p.Key.Written()
		if has(proseKeys.names, key) {
			continue
		}
		if near := finding.Nearest(key, deciding[:]); near != "" {
			return near
		}
		for _, k := range [...]struct {
			keys  *Keys
			means string
		}{{assemblyKeys, "layers"}, {junctionKeys, "parts"}, {specKeys, "section"}, {buildingKeys, "areas"}} {
			if has(k.keys.names, key) {
				return k.means
			}
		}
	}
	return ""
}

// finish reads what needs the rest of the library.
func (r *reader) finish() {
	if r.d == nil {
		return
	}
	switch {
	case r.d.Junction != nil:
		r.junction()
	case r.d.Building != nil:
		r.building()
	}
	r.checkSuccessor()
	r.checkTexts()
}
