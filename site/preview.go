package site

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"time"

	"wythe/renderer/finding"
	"wythe/renderer/trace"
	"wythe/site/tree"
)

// Preview holds a library as its author works on it: every change is read at
// once, pages are made when they are asked for, and a page whose reads give
// the same as before is not made again.
//
// While the library has errors the last good state stays, marked stale.
type Preview struct {
	root string

	reading sync.Mutex // one read at a time
	again   *Again

	mu       sync.Mutex
	good     *state
	assets   map[string][]byte // of all states: an open page may ask for an older one
	findings finding.List
	stale    bool // the newest state has errors
	fault    string
	listen   map[*listener]bool
}

// state is the library at one time, without errors.
type state struct {
	l     *Library
	at    time.Time
	quick map[string]int   // details by address
	was   map[string]*made // of the state before

	mu      sync.Mutex
	press   *press
	answers *answers
	outs    map[string]tree.Output // nil until a page asks for what only they have
	made    map[string]*made
}

// made is a page as it was made.
type made struct {
	data  []byte
	reads []trace.Read
	err   error
}

// NewPreview reads a library for the first time. An error says that its
// folder cannot be read; all else is a finding.
func NewPreview(root string) (*Preview, error) {
	again, err := NewAgain(root)
	if err != nil {
		return nil, err
	}
	p := &Preview{root: root, again: again, assets: map[string][]byte{}, listen: map[*listener]bool{}}
	return p, p.Refresh()
}

// Close lets go of the library.
func (p *Preview) Close() error { return p.again.Close() }

// Refresh reads the library as it now is and tells the pages that are open.
func (p *Preview) Refresh() error {
	p.reading.Lock()
	defer p.reading.Unlock()
	l, findings, err := p.open()
	if err != nil {
		p.mu.Lock()
		p.stale, p.fault, p.findings = true, err.Error(), findings
		p.mu.Unlock()
		p.tell()
		return err
	}
	p.mu.Lock()
	p.findings, p.fault = findings, ""
	p.stale = findings.Errors() > 0
	last := p.good
	p.mu.Unlock()
	if findings.Errors() == 0 {
		var next *state
		err := guarded("library", func() (err error) {
			next, err = newState(l, last)
			return err
		})
		p.mu.Lock()
		if err != nil {
			p.stale, p.fault = true, err.Error()
		} else {
			p.good = next
			p.keepAssets(next)
		}
		p.mu.Unlock()
	}
	p.tell()
	return nil
}

// open reads the library.
func (p *Preview) open() (l *Library, list finding.List, err error) {
	err = guarded("library", func() error {
		if l, err = p.again.Open(); err != nil {
			return err
		}
		list = l.lib.Findings // if working it out fails
		list = l.firstFindings()
		return nil
	})
	return l, list, err
}

// guarded does some work. A panic is a fault of the program, and said as one:
// the preview stays up.
func guarded(on string, work func() error) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the program failed on this %s: %v", on, r)
		}
	}()
	return work()
}

func newState(l *Library, last *state) (*state, error) {
	s := &state{l: l, at: time.Now(), quick: make(map[string]int, len(l.details)), made: map[string]*made{}}
	for i, e := range l.details {
		s.quick[e.href] = i
	}
	if last != nil {
		last.mu.Lock()
		s.was = make(map[string]*made, len(last.made)+len(last.was))
		for path, m := range last.was {
			s.was[path] = m
		}
		for path, m := range last.made {
			s.was[path] = m
		}
		press := last.press
		last.mu.Unlock()
		words := l.siteWords()
		words.Assets = press.site.Assets
		if l.themeHash == last.l.themeHash && l.lib.Settings.Hash == last.l.lib.Settings.Hash && reflect.DeepEqual(words, press.site) {
			s.press = press
			s.answers = l.answers(press)
			return s, nil
		}
	}
	return s, s.all()
}

// all lists every output. The caller holds mu, or is alone with s.
func (s *state) all() error {
	outs, press, err := s.l.pressed()
	if err != nil {
		return err
	}
	if s.press == nil {
		s.press = press
		s.answers = s.l.answers(press)
	}
	s.outs = make(map[string]tree.Output, len(outs))
	for _, o := range outs {
		s.outs[o.Path] = o
	}
	return nil
}

// mostAssets is how many bytes of assets are kept for pages that are open;
// beyond it only those of the newest state are.
const mostAssets = 64 << 20

// keepAssets keeps those of a state, if they are listed. The caller holds mu.
func (p *Preview) keepAssets(s *state) {
	size := 0
	for _, data := range p.assets {
		size += len(data)
	}
	if size > mostAssets {
		clear(p.assets)
		for _, a := range s.press.assets.Assets() {
			p.assets[a.Path] = a.Data
		}
	}
	for path, o := range s.outs {
		if strings.HasPrefix(path, "assets/") && p.assets[path] == nil {
			if data, err := o.Make(nil); err == nil {
				p.assets[path] = data
			}
		}
	}
}

// page returns a file of the site as it now is, or last was; nil where there
// is none, or nothing good yet.
func (p *Preview) page(path string) *made {
	p.mu.Lock()
	s, asset := p.good, p.assets[path]
	p.mu.Unlock()
	if asset != nil {
		return &made{data: asset}
	}
	if s == nil {
		return nil
	}
	m, listed := s.page(path)
	if listed {
		p.mu.Lock()
		p.keepAssets(s)
		p.mu.Unlock()
	}
	return m
}

// page returns a file of the site; nil where there is none. listed says that
// it had to list all outputs for it.
func (s *state) page(path string) (m *made, listed bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if m := s.made[path]; m != nil {
		return m, false
	}
	if was := s.was[path]; was != nil && was.err == nil && s.answers.same(was.reads) {
		s.made[path] = was
		return was, false
	}
	make := func(reads *trace.Reads) ([]byte, error) {
		i := s.quick[path]
		reads.Record("theme", s.press.hash)
		v := s.l.view(reads)
		if s.l.details[i].d.Assembly == nil {
			return rendered(v.sectionPage(i), s.press)
		}
		return rendered(v.assemblyPage(i), s.press)
	}
	if _, quick := s.quick[path]; !quick {
		if s.outs == nil {
			if err := s.all(); err != nil {
				return &made{err: err}, false
			}
			listed = true
		}
		o, there := s.outs[path]
		if !there {
			return nil, listed
		}
		make = o.Make
	}
	m = makeSafely(make)
	s.made[path] = m
	return m, listed
}

// makeSafely makes a page; a panic is its error.
func makeSafely(make func(*trace.Reads) ([]byte, error)) *made {
	m := new(made)
	m.err = guarded("page", func() (err error) {
		reads := new(trace.Reads)
		m.data, err = make(reads)
		m.reads = reads.Sorted()
		return err
	})
	return m
}

// Notice is what a page shows of the findings.
type Notice struct {
	Stale    bool    `json:"stale"`
	Since    string  `json:"since,omitempty"` // when the page shown was good
	Fault    string  `json:"fault,omitempty"`
	Errors   int     `json:"errors"`
	Warnings int     `json:"warnings"`
	Findings []Shown `json:"findings"`
}

// Shown is one finding with the lines of the file around it.
type Shown struct {
	Level   string      `json:"level"`
	Place   string      `json:"place"` // file:line:column
	Message string      `json:"message"`
	Mend    string      `json:"mend,omitempty"`
	Lines   []ShownLine `json:"lines,omitempty"`
}

// ShownLine is one line of a file.
type ShownLine struct {
	Number int    `json:"n"`
	Text   string `json:"text"`
	At     bool   `json:"at,omitempty"`
}

// mostShown findings are shown on a page; wythe review lists all.
const mostShown = 30

// Notice returns what stands over every page now.
func (p *Preview) Notice() Notice {
	p.mu.Lock()
	defer p.mu.Unlock()
	n := Notice{Stale: p.stale, Fault: p.fault, Errors: p.findings.Errors(), Findings: []Shown{}}
	n.Warnings = len(p.findings.Items) - n.Errors
	if p.stale && p.good != nil {
		n.Since = p.good.at.Format("15:04:05")
	}
	lines := map[string][]string{}
	add := func(level finding.Level) {
		for _, f := range p.findings.Items {
			if f.Level != level || len(n.Findings) >= mostShown {
				continue
			}
			n.Findings = append(n.Findings, p.shown(f, lines))
		}
	}
	add(finding.Error)
	add(finding.Warning)
	return n
}

func (p *Preview) shown(f finding.Item, files map[string][]string) Shown {
	s := Shown{Level: f.Level.String(), Place: f.Position.String(), Message: f.Message, Mend: f.Mend}
	lines, read := files[f.File]
	if !read {
		if root, err := os.OpenRoot(p.root); err == nil {
			if data, err := root.ReadFile(filepath.FromSlash(f.File)); err == nil && len(data) < 1<<20 {
				lines = strings.Split(strings.ToValidUTF8(string(data), "�"), "\n")
			}
			root.Close()
		}
		files[f.File] = lines
	}
	for n := f.Line - 1; n <= f.Line+1; n++ {
		if f.Line > 0 && n >= 1 && n <= len(lines) {
			s.Lines = append(s.Lines, ShownLine{n, strings.TrimRight(lines[n-1], "\r"), n == f.Line})
		}
	}
	return s
}
