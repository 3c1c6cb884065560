package themes

import (
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
)

//go:embed drawn
var embedded embed.FS

// Pages are the templates that a theme must define.
var Pages = []string{"assembly", "index", "junction", "list", "material", "prose"}

// styles are the style sheets of a theme, in the order they are joined.
var styles = []string{"base.css", "sheet.css", "tables.css", "parts.css", "junction.css", "index.css", "phone.css", "find.css", "keep.css", "sequence.css", "print.css"}

const (
	script       = "site.js"
	findScript   = "find.js"
	workerScript = "sw.js"
	icon         = "icon.svg"
)

// scripts are those of every page, in the order they are joined.
var scripts = []string{"site.js", "sequence.js", "keep.js"}

// finds are the scripts of the search, in the order they are joined: a page
// loads them when somebody searches.
var finds = []string{"minisearch.js", "synonyms.js", "find.js"}

// Set is a theme ready for use. It is safe for many goroutines.
type Set struct {
	templates *template.Template
	style     []byte
	script    []byte
	find      []byte
	worker    []byte
	icon      []byte
}

// Open reads the built-in theme, each file replaced by the file of the same
// name at the root of overrides; overrides may be nil.
//
// It fails on a file that no theme has, a template that does not parse, and a
// page's template that is not defined. The error names the file.
func Open(overrides fs.FS) (*Set, error) {
	drawn, err := fs.Sub(embedded, "drawn")
	if err != nil {
		return nil, err
	}
	entries, err := fs.ReadDir(drawn, ".")
	if err != nil {
		return nil, err
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	own, err := overridden(overrides, names)
	if err != nil {
		return nil, err
	}
	read := func(name string) ([]byte, error) {
		if own[name] {
			return fs.ReadFile(overrides, name)
		}
		return fs.ReadFile(drawn, name)
	}
	s := &Set{templates: template.New("theme")}
	for _, name := range names {
		if path.Ext(name) != ".tmpl" {
			continue
		}
		text, err := read(name)
		if err != nil {
			return nil, err
		}
		if _, err := s.templates.New(name).Parse(string(text)); err != nil {
			return nil, fmt.Errorf("theme: %w", err)
		}
	}
	for _, name := range Pages {
		if s.templates.Lookup(name) == nil {
			return nil, fmt.Errorf("theme: no template is called %q; start it with {{define %q}}", name, name)
		}
	}
	for _, name := range styles {
		text, err := read(name)
		if err != nil {
			return nil, err
		}
		s.style = append(s.style, text...)
	}
	for _, name := range scripts {
		text, err := read(name)
		if err != nil {
			return nil, err
		}
		s.script = append(s.script, text...)
	}
	if s.worker, err = read(workerScript); err != nil {
		return nil, err
	}
	for _, name := range finds {
		text, err := read(name)
		if err != nil {
			return nil, err
		}
		s.find = append(s.find, text...)
	}
	s.icon, err = read(icon)
	return s, err
}

// overridden returns which files the library has its own version of.
func overridden(overrides fs.FS, names []string) (map[string]bool, error) {
	own := map[string]bool{}
	if overrides == nil {
		return own, nil
	}
	entries, err := fs.ReadDir(overrides, ".")
	if errors.Is(err, fs.ErrNotExist) {
		return own, nil
	}
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") {
			continue
		}
		if !slices.Contains(names, e.Name()) {
			return nil, fmt.Errorf("theme: %s is no file of a theme; the files are %s", e.Name(), strings.Join(names, ", "))
		}
		own[e.Name()] = true
	}
	return own, nil
}

// Execute writes a page. The name is one of [Pages].
func (s *Set) Execute(w io.Writer, name string, data any) error {
	return s.templates.ExecuteTemplate(w, name, data)
}

// Worker is the script that keeps a site on a device; the site puts the name
// of its generation before it.
func (s *Set) Worker() []byte { return s.worker }
