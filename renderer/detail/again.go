package detail

import (
	"io/fs"
	"maps"
	"os"
	"slices"
	"strings"
	"time"

	"wythe/renderer/finding"
	"wythe/renderer/trace"
)

// Again reads a library again and again, and parses only what changed since:
// a file is taken as before where it has the same size and time, under the
// same settings, and where each material that it names says the same. All
// else, findings too, comes out as a first read has it.
//
// It is for one goroutine at a time. What it handed out before stays as it
// was.
type Again struct {
	root     *os.Root
	settings string
	files    map[string]keptFile
}

// keptFile is a file parsed, as it was before the rest of its library was
// read.
type keptFile struct {
	size      int64
	time      time.Time
	reader    *reader
	d         *Detail
	list      []finding.Item
	texts     []said
	materials map[string]string // hash by name
	laid      []string
	// What reading the rest of the library added, and the names it had then.
	names    string
	finished *Detail
	findings []finding.Item
	// Of a junction, what it came to lay, and the materials it came to name.
	lays []*Assembly       // by laid; nil of what is no assembly
	took map[string]string // hash by name
}

// NewAgain returns a reader of the library in a folder.
func NewAgain(root string) (*Again, error) {
	r, err := os.OpenRoot(root)
	if err != nil {
		return nil, err
	}
	return &Again{root: r}, nil
}

// Close lets go of the folder.
func (a *Again) Close() error { return a.root.Close() }

// Read is [Read] of the folder as it now is.
func (a *Again) Read() (*Library, error) { return readFS(a.root.FS(), a, nil) }

// round is one read of an Again.
type round struct {
	*Again
	lib    *Library
	hashes map[string]string // of the materials named by any kept file
	began  time.Time
}

// begin prepares a read of a library whose settings and materials are in. It
// returns nil of nil.
func (a *Again) begin(l *Library) *round {
	if a == nil {
		return nil
	}
	if a.settings != l.Settings.Hash {
		a.files = nil
	}
	a.settings = l.Settings.Hash
	r := &round{a, l, map[string]string{}, time.Now()}
	for _, k := range a.files {
		for name := range k.materials {
			r.material(name)
		}
		for name := range k.took {
			r.material(name)
		}
	}
	return r
}

// material returns the hash of what the table says of a name.
func (r *round) material(name string) string {
	hash, known := r.hashes[name]
	if !known {
		hash = trace.Missing
		if m, ok := r.lib.Materials.Lookup(name); ok {
			hash = materialHash(m)
		}
		r.hashes[name] = hash
	}
	return hash
}

// youngest is how old a file must be when a read begins before its time is
// trusted: two saves within one tick of the system's clock leave the same time,
// and a file may be saved while it is read.
const youngest = 50 * time.Millisecond

// reader returns the reader of a file that is as it was, ready to be finished
// anew, or nil.
func (r *round) reader(fsys fs.FS, name string) *reader {
	if r == nil {
		return nil
	}
	k, known := r.files[name]
	if !known || len(k.list) > 0 {
		return nil // what a finding offers may depend on all that there is
	}
	info, err := fs.Stat(fsys, name)
	if err != nil || info.Size() != k.size || !info.ModTime().Equal(k.time) {
		return nil
	}
	for m, hash := range k.materials {
		if r.hashes[m] != hash {
			return nil
		}
	}
	d := *k.d
	if d.Junction != nil {
		d.Junction = &Junction{At: d.At}
	}
	if d.Building != nil {
		d.Building = &Building{}
	}
	old := k.reader
	old.d, old.lib, old.list.Items = &d, r.lib, nil
	old.texts, old.laid, old.materials = slices.Clip(k.texts), slices.Clip(k.laid), nil
	for m := range k.materials {
		if old.materials == nil {
			old.materials = make(map[string]bool, len(k.materials))
		}
		old.materials[m] = true
	}
	return old
}

// keep notes the files as they stand before the rest is read.
func (r *round) keep(fsys fs.FS, pages []string, readers []*reader) {
	if r == nil {
		return
	}
	was := r.files
	r.files = make(map[string]keptFile, len(pages))
	for i, name := range pages {
		reader := readers[i]
		if k, known := was[name]; known && k.reader == reader {
			r.files[name] = k
			continue
		}
		info, err := fs.Stat(fsys, name)
		if reader.d == nil || err != nil || r.began.Sub(info.ModTime()) < youngest {
			continue
		}
		d := *reader.d
		k := keptFile{
			size: info.Size(), time: info.ModTime(), reader: reader, d: &d, list: slices.Clone(reader.list.Items),
			texts: slices.Clip(reader.texts), laid: slices.Clip(reader.laid), materials: make(map[string]string, len(reader.materials)),
		}
		for m := range maps.Keys(reader.materials) {
			k.materials[m] = r.material(m)
		}
		r.files[name] = k
	}
}

// names is a hash of all that a file can name: marks, their revisions, their
// kinds and successors, and the marks of files that cannot be read.
func (r *round) names() string {
	if r == nil {
		return ""
	}
	words := make([]string, 0, 8*len(r.lib.markNames))
	for _, mark := range r.lib.markNames {
		d := r.lib.byMark[mark]
		words = append(words, mark, d.SupersededBy, yes(d.Junction != nil), yes(d.Assembly != nil))
		for i := range d.Revisions {
			words = append(words, d.Revisions[i].Rev)
		}
	}
	return trace.Hash(append(words, sorted(r.lib.broken)...)...)
}

// finished gives a file taken as before what the rest of the library added to
// it, where all names are as they were; false where it must be read anew:
// buildings are, since they are made of others, and junctions are that lay an
// assembly which is not as it was.
func (r *round) finished(reader *reader, names string) bool {
	if r == nil || reader.d == nil || reader.d.Building != nil {
		return false
	}
	k, known := r.files[reader.d.File]
	if len(reader.list.Items) > 0 { // it stands twice
		return false
	}
	if !known || k.reader != reader || k.names != names {
		return false
	}
	if reader.d.Junction != nil {
		if len(k.findings) > 0 || !slices.Equal(k.lays, r.laid(k.finished.laid)) {
			return false
		}
		for name, hash := range k.took {
			if r.hashes[name] != hash {
				return false
			}
		}
		*reader.d.Junction = *r.relaid(k.finished.Junction) // in place: others ask meanwhile whether it is one
		reader.d.Sequence = k.finished.Sequence
		reader.laid, reader.materials = slices.Clip(k.finished.laid), make(map[string]bool, len(k.took))
		for name := range k.took {
			reader.materials[name] = true
		}
	}
	reader.d.Cites, reader.d.Figures = k.finished.Cites, k.finished.Figures
	reader.list.Items = append(reader.list.Items, k.findings...)
	return true
}

// laid are the assemblies of marks, as they are read now.
func (r *round) laid(marks []string) []*Assembly {
	out := make([]*Assembly, len(marks))
	for i, mark := range marks {
		if d := r.lib.byMark[mark]; d != nil {
			out[i] = d.Assembly
		}
	}
	return out
}

// relaid is a junction that lays the same assemblies, as they are read now.
func (r *round) relaid(was *Junction) *Junction {
	j := *was
	j.Parts = make([]*Part, len(was.Parts))
	for i, p := range was.Parts {
		if p.Assembly != nil {
			part := *p
			part.Assembly = r.lib.byMark[p.Mark]
			p = &part
		}
		j.Parts[i] = p
	}
	return &j
}

// keepFinished notes what the rest of the library added to each file. It comes
// after the reads of all files are traced.
func (r *round) keepFinished(pages []string, readers []*reader, names string) {
	if r == nil {
		return
	}
	for i, name := range pages {
		k, known := r.files[name]
		d := readers[i].d
		junction := d != nil && d.Junction != nil
		found := slices.Clone(readers[i].list.Items)
		twice := slices.ContainsFunc(found, func(f finding.Item) bool { return strings.HasPrefix(f.Rule, "duplicate-") })
		if !known || k.names == names && !junction || twice {
			continue
		}
		k.names, k.finished = names, d
		k.findings = found[len(k.list):]
		if junction {
			k.lays, k.took = r.laid(d.laid), make(map[string]string, len(readers[i].materials))
			for name := range readers[i].materials {
				k.took[name] = r.material(name)
			}
		}
		r.files[name] = k
	}
}

// SameReads reports whether two details were made of the same file,
// materials and assemblies.
func (d *Detail) SameReads(other *Detail) bool { return slices.Equal(d.reads, other.reads) }
