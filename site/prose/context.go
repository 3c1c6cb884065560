package prose

import (
	"wythe/renderer/detail"
	"wythe/renderer/finding"
)

// Context is what a text may refer to. Its functions may be nil: then nothing
// of that kind is known.
type Context struct {
	// Marks finds the library's marks; nil: none are looked for.
	Marks *detail.Marks
	// Link returns where a mark leads, relative to the page, and whether such
	// a detail (and, unless rev is "", such a revision of it) exists.
	Link func(mark, rev string) (href string, ok bool)
	// Figure returns a computed figure as printed: "R 32.6" for {R-value}, of
	// the detail named after "of" where words has one.
	Figure func(words string) (text string, ok bool)
	// Page returns where a link to another file of the library leads, given
	// as it is written; a link that is not known is shown as its text.
	Page func(target string) (href string, ok bool)
	// Picture returns where a picture of the library is published.
	Picture func(target string) (href string, ok bool)

	// Level is the level of the topmost heading; 0 is 2.
	Level int
	// File and Line are where the text stands: Line is that of its first line.
	File string
	Line int
	// Self is the page's own mark, which is set down without a link.
	Self string
}

func (c *Context) at(line, column int) finding.Position {
	first := c.Line
	if first == 0 {
		first = 1
	}
	return finding.Position{File: c.File, Line: first + line, Column: column + 1}
}
