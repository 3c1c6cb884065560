package site

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"

	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/figures"
	"wythe/renderer/finding"
	"wythe/renderer/material"
	"wythe/renderer/memo"
	"wythe/renderer/sheet"
	"wythe/renderer/trace"
	"wythe/site/page"
	"wythe/site/prose"
	"wythe/site/revision"
	"wythe/themes"
)

// themeFolder holds the files of a library that replace those of the theme.
const themeFolder = "theme"

// Library is a library read, ready to be reviewed, drawn and published. It is
// safe for use by several goroutines.
type Library struct {
	lib   *detail.Library
	root  string
	theme *themes.Set // nil where the library's own files spoil it
	// themeHash is of the library's own files of the theme.
	themeHash string

	details []*entry // assemblies and junctions, by mark
	specs   []*entry // by section
	builds  []*entry // by title
	pages   []*entry // prose, by file
	byMark  map[string]*entry
	byFile  map[string]*entry

	materials []*used // that a detail uses, by name
	byName    map[string]*used
	builtOf   map[string][]page.Link // the buildings that use a detail, by its mark
	pictures  map[string]string      // where a picture of the library is published, by file
	// pictureNames are their files, in the order of the texts that name them.
	pictureNames []string
	own          finding.List    // findings of the theme and of figures in text
	ahead        *revision.Ahead // the history, where it is read ahead
	looked       *once[*past]    // what the history holds: see [Library.past]
	backdrop     func() string   // a hash of what pages of the past take of the library
	store        *memo.Store     // what was worked out before; nil: nothing
	facts        *facts
	decoded      *sync.Map          // of decoded, by name
	fields       atomic.Int64       // solved junctions that are kept in memory
	indexParts   func() []indexPart // of the drawing index; nil: it stands on one page
	// now is the library as it stands, for one read from the past; else nil.
	now *Library
}

// entry is one file of the library with its place in the site.
type entry struct {
	d    *detail.Detail
	href string // its page, from the site's root
	root string // the way from its page to the site's root
	name string // how a link calls it: its mark, section or title
	// broken says that the file has errors, so that nothing is worked out.
	broken bool
	in     *Library
	worked *worked
	// said is what making the page found wrong with the text; one output alone
	// makes it.
	said finding.List
}

// Open reads the library in a folder. Mistakes in its files are findings, not
// errors; see [Library.Review].
func Open(root string) (*Library, error) { return open(root, nil, nil) }

// open is Open, which takes from a store what it can and puts there what it
// works out. ahead is the history, where it is read already.
func open(root string, store *memo.Store, ahead *revision.Ahead) (*Library, error) {
	read := detail.Read
	if store != nil {
		read = func(root string) (*detail.Library, error) { return detail.ReadSaved(root, store) }
	}
	lib, err := read(root)
	if err != nil {
		return nil, err
	}
	l := opened(lib)
	l.store, l.ahead = store, ahead
	l.root = root
	if err := l.openTheme(); err != nil {
		return nil, err
	}
	l.findPictures()
	l.checkFigureWords()
	return l, nil
}

// opened places what was read, wherever it was read from.
func opened(lib *detail.Library) *Library {
	l := &Library{lib: lib, byMark: map[string]*entry{}, byFile: map[string]*entry{}, looked: new(once[*past]), decoded: new(sync.Map)}
	l.backdrop = sync.OnceValue(l.hashBackdrop)
	l.facts = l.newFacts()
	l.indexParts = sync.OnceValue(func() []indexPart { return newIndexParts(l.details) })
	l.place()
	l.findMaterials()
	l.findBuildings()
	return l
}

// place gives each file its address.
func (l *Library) place() {
	broken := map[string]bool{}
	for _, f := range l.lib.Findings.Items {
		if f.Level == finding.Error {
			broken[f.File] = true
		}
	}
	add := func(list []*detail.Detail, href, name func(*detail.Detail) string) []*entry {
		entries := make([]*entry, 0, len(list))
		for _, d := range list {
			e := &entry{d: d, in: l, worked: new(worked), href: href(d), name: name(d), broken: broken[d.File]}
			e.root = strings.Repeat("../", strings.Count(e.href, "/"))
			l.byFile[d.File] = e
			entries = append(entries, e)
		}
		return entries
	}
	mark := func(d *detail.Detail) string { return d.Mark }
	title := func(d *detail.Detail) string { return d.Title }
	lib := l.lib
	l.details = add(lib.Details, func(d *detail.Detail) string { return folder(d.Mark) + "/index.html" }, mark)
	l.specs = add(lib.Specs, func(d *detail.Detail) string { return "specs/" + prose.Slug(d.Spec.Section) + "/index.html" },
		func(d *detail.Detail) string { return d.Spec.Section })
	l.builds = add(lib.Buildings, func(d *detail.Detail) string { return "buildings/" + prose.Slug(d.Title) + "/index.html" }, title)
	l.pages = add(lib.Prose, func(d *detail.Detail) string { return prose.Slug(stem(d.File)) + "/index.html" },
		func(d *detail.Detail) string { return cmp.Or(d.Title, stem(d.File)) })
	l.entries(func(e *entry) {
		if m := e.d.Mark; m != "" && lib.Detail(m) == e.d {
			l.byMark[m] = e
		}
	})
}

// openTheme reads the theme with the library's own files on top. What is
// wrong with those is a finding.
func (l *Library) openTheme() error {
	var overrides fs.FS
	dir := filepath.Join(l.root, themeFolder)
	if info, err := os.Stat(dir); err == nil && info.IsDir() {
		overrides = os.DirFS(dir)
		if l.themeHash, err = hashFiles(overrides); err != nil {
			return err
		}
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	set, err := themes.Open(overrides)
	if err != nil && overrides == nil {
		return err
	}
	if err != nil {
		l.own.Errorf(finding.Position{File: themeFolder}, "theme", "mend the file, or take it away: the built-in one then stands in", "%s", strings.TrimPrefix(err.Error(), "theme: "))
		return nil
	}
	l.theme = set
	return nil
}

// hashFiles returns a hash of the names and bytes of the files in a folder.
func hashFiles(dir fs.FS) (string, error) {
	entries, err := fs.ReadDir(dir, ".")
	if err != nil {
		return "", err
	}
	var parts []string
	for _, e := range entries {
		if !e.Type().IsRegular() {
			continue
		}
		data, err := fs.ReadFile(dir, e.Name())
		if err != nil {
			return "", err
		}
		parts = append(parts, e.Name(), string(data))
	}
	return trace.Hash(parts...), nil
}

// folder is the folder of a mark's pages: its letters and digits as they are,
// every other sign a hyphen.
func folder(mark string) string {
	name := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '.', r == '_', r == '-':
			return r
		}
		return '-'
	}, mark)
	if strings.Trim(name, ".") == "" {
		return "-" + name
	}
	return name
}

// stem is a file's name without folder and ending.
func stem(file string) string {
	return strings.TrimSuffix(file[strings.LastIndexByte(file, '/')+1:], ".md")
}

// entries calls do with every file of the library, in order.
func (l *Library) entries(do func(*entry)) {
	for _, list := range [][]*entry{l.details, l.specs, l.builds, l.pages} {
		for _, e := range list {
			do(e)
		}
	}
}

// firstFindings are those that are known before any page is made: all errors
// are among them.
func (l *Library) firstFindings() finding.List {
	var list finding.List
	list.Add(l.lib.Findings)
	list.Add(l.own)
	list.Add(l.junctionFindings())
	list.Add(l.revisionFindings())
	list.Add(l.buildingFindings())
	list.Add(l.specFindings())
	list.Sort()
	return list
}

// lastFindings are those that making the pages added.
func (l *Library) lastFindings() finding.List {
	var list finding.List
	l.entries(func(e *entry) { list.Add(e.said) })
	return list
}

// Settings returns what library.yaml says.
func (l *Library) Settings() *detail.Settings { return &l.lib.Settings }

// Materials returns the table of materials.
func (l *Library) Materials() *material.Table { return l.lib.Materials }

// Details counts the assemblies and junctions.
func (l *Library) Details() int { return len(l.details) }

// Detail returns the detail of a mark, or nil.
func (l *Library) Detail(mark string) *detail.Detail {
	if d := l.lib.Detail(mark); d != nil && (d.Assembly != nil || d.Junction != nil) {
		return d
	}
	return nil
}

// Marks returns the marks of all details, sorted.
func (l *Library) Marks() []string {
	marks := make([]string, len(l.details))
	for i, e := range l.details {
		marks[i] = e.d.Mark
	}
	return marks
}

// ErrorsOf returns the errors in a detail's file and in the files that hold
// for the whole library.
func (l *Library) ErrorsOf(d *detail.Detail) finding.List {
	var own finding.List
	for _, f := range l.lib.Findings.Items {
		if f.Level == finding.Error && (f.File == d.File || l.byFile[f.File] == nil && !strings.HasSuffix(f.File, ".md")) {
			own.Items = append(own.Items, f)
		}
	}
	own.Add(l.layingErrors(d))
	own.Sort()
	return own
}

// Figures returns the figures of an assembly, or nil for another detail and
// for one with errors.
func (l *Library) Figures(d *detail.Detail) *figures.Assembly {
	if e := l.byFile[d.File]; e != nil {
		return e.figures()
	}
	return nil
}

func (l *Library) workOut(e *entry) *figures.Assembly {
	if e.broken || e.d.Assembly == nil {
		return nil
	}
	return figures.OfAssembly(figures.Context{Settings: &l.lib.Settings, Climate: l.lib.Climate}, e.d)
}

// NotDrawnError says why a detail has no drawing.
type NotDrawnError struct{ Mark, Why string }

func (e *NotDrawnError) Error() string { return e.Mark + " is not drawn: " + e.Why }

// Draw returns a detail's drawing as a file of its own, at a scale or, for 0,
// at its own or the largest that fits.
//
// Errors: *[NotDrawnError] for a detail with errors.
func (l *Library) Draw(d *detail.Detail, scale detail.Scale) ([]byte, error) {
	if d.Junction != nil {
		return l.drawJunction(d, scale)
	}
	fig := l.Figures(d)
	if fig == nil {
		return nil, &NotDrawnError{d.Mark, "its file has errors; see: wythe review"}
	}
	picture := sheet.Assembly(d, fig, sheet.Look{Dress: drawing.Wide, System: l.lib.Settings.Units, Scale: float64(scale)})
	return append(svg.Append(nil, picture, svg.Options{Dress: svg.Standalone}), '\n'), nil
}

// view is the library as one output sees it: what is read through it is
// recorded among that output's reads.
type view struct {
	*Library
	*detail.View
	reads *trace.Reads
}

func (l *Library) view(reads *trace.Reads) view { return view{l, l.lib.View(reads), reads} }

// figures are those of an assembly, or nil; they follow from its file and
// materials, the settings and the climate.
func (v view) figures(e *entry) *figures.Assembly {
	v.View.Settings()
	v.View.Climate()
	v.View.Detail(e.d.Mark)
	return e.figures()
}

// link returns what leads to the detail of a mark, or nil. Only that it is
// there, and its title, are recorded.
func (v view) link(mark string) *page.Link {
	e := v.byMark[mark]
	if v.now != nil {
		e = v.now.byMark[mark]
	}
	if e == nil {
		v.Has(mark, "")
		return nil
	}
	v.reads.Record("title/"+mark, trace.Hash(e.href, e.d.Title))
	return &page.Link{Href: e.href, Text: e.name, Note: e.d.Title}
}
