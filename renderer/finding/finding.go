// Package finding holds what a review says of a library: where, what is
// wrong, and what would put it right.
//
// A finding is the author's to mend. A method that is out of its range is a
// typed error of the package that holds the method; a broken invariant of
// this program panics. This package imports nothing of the project.
package finding

import (
	"fmt"
	"sort"
	"strings"
)

// Level says whether a finding stops a publish.
type Level int

const (
	// Error stops a publish.
	Error Level = iota
	// Warning is printed and does not stop a publish.
	Warning
)

// String returns "error" or "warning".
func (l Level) String() string {
	if l == Warning {
		return "warning"
	}
	return "error"
}

// Position is a place in a file of the library.
type Position struct {
	File         string // from the library's root, with slashes
	Line, Column int    // from 1; characters, as yaml.v3 counts. 0: the whole file.
}

// String returns file:line:column, or the file alone where no line is known.
func (p Position) String() string {
	if p.Line == 0 {
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Item is one finding.
type Item struct {
	Position
	Level   Level
	Rule    string // stable: "unknown-material"
	Message string // what is wrong, quoting the words found
	Mend    string // what would put it right
}

// String returns the finding as printed: a line, then the mend set in by a tab.
func (i Item) String() string {
	s := fmt.Sprintf("%s: %s: %s [%s]", i.Position, i.Level, i.Message, i.Rule)
	if i.Mend != "" {
		s += "\n\t" + strings.ReplaceAll(i.Mend, "\n", "\n\t")
	}
	return s
}

// List is the findings of one run. The zero value is ready to use.
type List struct {
	Items []Item
}

// Errorf adds an error at a position.
func (l *List) Errorf(at Position, rule, mend, format string, args ...any) {
	l.Items = append(l.Items, Item{at, Error, rule, fmt.Sprintf(format, args...), mend})
}

// Warnf adds a warning at a position.
func (l *List) Warnf(at Position, rule, mend, format string, args ...any) {
	l.Items = append(l.Items, Item{at, Warning, rule, fmt.Sprintf(format, args...), mend})
}

// Add appends the findings of another list.
func (l *List) Add(other List) { l.Items = append(l.Items, other.Items...) }

// Errors counts the errors.
func (l *List) Errors() int {
	n := 0
	for _, i := range l.Items {
		if i.Level == Error {
			n++
		}
	}
	return n
}

// Sort orders errors before warnings, then by file, line, column, rule and
// message, and drops exact repeats.
func (l *List) Sort() {
	sort.SliceStable(l.Items, func(a, b int) bool { return less(l.Items[a], l.Items[b]) })
	kept := l.Items[:0]
	for n, i := range l.Items {
		if n == 0 || i != l.Items[n-1] {
			kept = append(kept, i)
		}
	}
	l.Items = kept
}

func less(a, b Item) bool {
	switch {
	case a.Level != b.Level:
		return a.Level < b.Level
	case a.File != b.File:
		return a.File < b.File
	case a.Line != b.Line:
		return a.Line < b.Line
	case a.Column != b.Column:
		return a.Column < b.Column
	case a.Rule != b.Rule:
		return a.Rule < b.Rule
	}
	return a.Message < b.Message
}
