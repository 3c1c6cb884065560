package detail

import (
	"io"
	"io/fs"

	"wythe/renderer/climate"
	"wythe/renderer/material"
	"wythe/renderer/trace"
)

// View reads a library on behalf of one output, and records each look-up and
// list with the hash of what was found. Whoever makes an output reads through
// a view alone: then the output is as good as new for as long as the same
// reads give the same hashes.
//
// What a view hands out belongs to the library and must not be changed. A
// view is safe for use by several goroutines.
type View struct {
	lib   *Library
	reads *trace.Reads
}

// View returns a view that records in reads; nil records nothing.
func (l *Library) View(reads *trace.Reads) *View { return &View{l, reads} }

// Settings returns library.yaml.
func (v *View) Settings() *Settings {
	v.reads.Record("settings", orMissing(v.lib.Settings.Hash))
	return &v.lib.Settings
}

// Pattern returns the library's mark pattern.
func (v *View) Pattern() *Marks {
	v.reads.Record("marks", trace.Hash(v.lib.Settings.Marks))
	return v.lib.marks
}

// Climate returns the library's climate, or nil.
func (v *View) Climate() *climate.Climate {
	v.reads.Record("climate", orMissing(v.lib.traces.climate))
	return v.lib.Climate
}

// Material returns a material of the table, or nil.
func (v *View) Material(name string) *material.Material {
	m, ok := v.lib.Materials.Lookup(name)
	if !ok {
		v.reads.Record("material/"+name, trace.Missing)
		return nil
	}
	hash, known := v.lib.traces.materials[m.Name]
	if !known {
		hash = materialHash(m)
	}
	v.reads.Record("material/"+name, hash)
	return m
}

// Detail returns the assembly, junction or page of a mark, or nil. With it
// are recorded the materials and the laid assemblies that are in it.
func (v *View) Detail(mark string) *Detail {
	d := v.lib.byMark[mark]
	if d == nil {
		v.reads.Record("detail/"+mark, trace.Missing)
		return nil
	}
	return v.whole(d)
}

func (v *View) whole(d *Detail) *Detail {
	for i := range d.reads {
		v.reads.Record(d.reads[i].Key, d.reads[i].Hash)
	}
	return d
}

// Has reports whether a mark exists, and whether it has a revision. It
// records no more than that, so that a link does not tie two pages together.
func (v *View) Has(mark, rev string) (detail, revision bool) {
	d := v.lib.byMark[mark]
	detail = d != nil
	v.reads.Record("mark/"+mark, yes(detail))
	if rev != "" {
		revision = detail && d.hasRevision(rev)
		v.reads.Record("mark/"+mark+"/rev/"+rev, yes(revision))
	}
	return detail, revision
}

func yes(b bool) string {
	if b {
		return "there"
	}
	return trace.Missing
}

func orMissing(hash string) string {
	if hash == "" {
		return trace.Missing
	}
	return hash
}

// Spec returns the specification section of a number, or nil.
func (v *View) Spec(section string) *Detail {
	for _, d := range v.lib.Specs {
		if d.Spec.Section == section {
			return v.whole(d)
		}
	}
	v.reads.Record("spec/"+section, trace.Missing)
	return nil
}

// Building returns the building of a title, or nil.
func (v *View) Building(title string) *Detail {
	for _, d := range v.lib.Buildings {
		if d.Title == title {
			return v.whole(d)
		}
	}
	v.reads.Record("building/"+title, trace.Missing)
	return nil
}

// Prose returns the page of text in a file of the library, or nil.
func (v *View) Prose(file string) *Detail {
	for _, d := range v.lib.Prose {
		if d.File == file {
			return v.whole(d)
		}
	}
	v.reads.Record("prose/"+file, trace.Missing)
	return nil
}

// Of is a kind of file.
type Of string

const (
	Assemblies   Of = "assemblies"
	Junctions    Of = "junctions"
	AllDetails   Of = "details" // assemblies and junctions
	AllSpecs     Of = "specs"
	AllBuildings Of = "buildings"
	AllProse     Of = "prose"
)

// Details returns all files of a kind, in the library's order: details by
// mark, sections by number, buildings by title, prose by file. It records each
// of them; where a list of names will do, take [View.Cards].
func (v *View) Details(of Of) []*Detail {
	list := v.lib.list(of)
	v.Cards(of)
	for _, d := range list {
		v.whole(d)
	}
	return list
}

func (l *Library) list(of Of) []*Detail {
	switch of {
	case AllDetails:
		return l.Details
	case AllSpecs:
		return l.Specs
	case AllBuildings:
		return l.Buildings
	case AllProse:
		return l.Prose
	}
	out := make([]*Detail, 0, len(l.Details))
	for _, d := range l.Details {
		if (d.Junction != nil) == (of == Junctions) {
			out = append(out, d)
		}
	}
	return out
}

// Card is what a list shows of a file.
type Card struct {
	File, Mark, Title string
	Status            Status
	Junction          bool
	Section           string // of a specification section
}

// Cards returns the cards of all files of a kind, in the library's order, and
// records the list alone.
func (v *View) Cards(of Of) []Card { return v.cards("list/"+string(of), v.lib.list(of)) }

// LaidIn returns the junctions that lay an assembly.
func (v *View) LaidIn(mark string) []Card {
	return v.cards("laid-in/"+mark, v.lib.traces.laidIn[mark])
}

// UsesMaterial returns the assemblies and junctions that name a material of
// the table, as their own or in an assembly laid.
func (v *View) UsesMaterial(name string) []Card {
	return v.cards("uses/"+name, v.lib.traces.uses[name])
}

// CitedIn returns the files whose text names a mark, in order of file.
func (v *View) CitedIn(mark string) []Card {
	return v.cards("cited-in/"+mark, v.lib.traces.citedIn[mark])
}

// Replaces returns the superseded details that name a mark as successor.
func (v *View) Replaces(mark string) []Card {
	return v.cards("replaces/"+mark, v.lib.traces.replaces[mark])
}

func (v *View) cards(key string, list []*Detail) []Card {
	out := make([]Card, len(list))
	words := make([]string, 0, 6*len(list))
	for i, d := range list {
		c := Card{File: d.File, Mark: d.Mark, Title: d.Title, Status: d.Status, Junction: d.Junction != nil}
		if d.Spec != nil {
			c.Section = d.Spec.Section
		}
		kind := "-"
		if c.Junction {
			kind = "J"
		}
		out[i] = c
		words = append(words, c.File, c.Mark, c.Title, string(c.Status), kind, c.Section)
	}
	if v.reads != nil {
		v.reads.Record(key, trace.Hash(words...))
	}
	return out
}

// MaxPicture is the most bytes that File reads.
const MaxPicture = 32 << 20

// File returns the bytes of another file of the library, such as a picture,
// named from the library's root with slashes; false where there is none, it
// is no regular file within the library, or it is larger than MaxPicture.
func (v *View) File(name string) ([]byte, bool) {
	data, ok := readAny(v.lib.fsys, name)
	if !ok {
		v.reads.Record("file/"+name, trace.Missing)
		return nil, false
	}
	v.reads.Record("file/"+name, trace.Hash(string(data)))
	return data, true
}

func readAny(fsys fs.FS, name string) ([]byte, bool) {
	if !fs.ValidPath(name) {
		return nil, false
	}
	info, err := fs.Stat(fsys, name)
	if err != nil || !info.Mode().IsRegular() || info.Size() > MaxPicture {
		return nil, false
	}
	f, err := fsys.Open(name)
	if err != nil {
		return nil, false
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, MaxPicture+1))
	return data, err == nil && len(data) <= MaxPicture
}
