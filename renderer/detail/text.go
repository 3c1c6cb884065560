package detail

import (
	"strings"
	"unicode/utf8"

	"wythe/renderer/finding"
)

// Cite is a mark that a text names, with the revision where it names one.
type Cite struct{ Mark, Rev string }

// FigureWord is a {figure} that stands in a text: its words without the
// braces, runs of spaces made one.
type FigureWord struct {
	Words string
	At    finding.Position
}

// worthScanning reports whether a text could hold a mark or a figure.
func worthScanning(s string) bool {
	return len(s) < MaxBody // a mark may be of any letters
}

// checkTexts finds the marks and figures of all texts. A mark that fits the
// library's pattern but names no detail is a warning, so is a revision that a
// detail does not have.
func (r *reader) checkTexts() {
	c := texts{r: r}
	for _, t := range r.texts {
		c.run(t.text, func(offset int) finding.Position { return t.node.AtOffset(offset) })
	}
	body := r.d.Body
	if body == "" {
		return
	}
	line, start, read := r.d.BodyLine, 0, 0 // of the last place asked for
	place := func(offset int) finding.Position {
		for read < offset {
			i := strings.IndexByte(body[read:offset], '\n')
			if i < 0 {
				break
			}
			line, read = line+1, read+i+1
			start = read
		}
		read = offset
		return finding.Position{File: r.d.File, Line: line, Column: utf8.RuneCountInString(body[start:offset]) + 1}
	}
	markdownRuns(body, func(from, to int) {
		c.run(body[from:to], func(offset int) finding.Position { return place(from + offset) })
	})
}

// texts finds marks and figures in runs of text, front to back.
type texts struct {
	r     *reader
	cited map[Cite]bool
}

func (c *texts) run(s string, at func(offset int) finding.Position) {
	figure := strings.IndexByte(s, '{')
	if figure < 0 {
		c.marks(s, 0, len(s), at)
		return
	}
	from := 0
	for figure >= 0 {
		open := from + figure
		close := -1
		if open == 0 || s[open-1] != '\\' {
			close = strings.IndexAny(s[open:], "}\n")
		}
		if close < 0 || s[open+close] == '\n' {
			c.marks(s, from, open+1, at)
			from = open + 1
		} else {
			c.marks(s, from, open, at)
			words := strings.Join(strings.Fields(s[open+1:open+close]), " ")
			c.r.d.Figures = append(c.r.d.Figures, FigureWord{words, at(open)})
			c.inFigure(s, open, open+close, at)
			from = open + close + 1
		}
		figure = strings.IndexByte(s[from:], '{')
	}
	c.marks(s, from, len(s), at)
}

// inFigure looks at the mark of {U-factor of W-101}.
func (c *texts) inFigure(s string, from, to int, at func(int) finding.Position) {
	c.marks(s, from, to, at)
}

// marks finds the marks of s[from:to].
func (c *texts) marks(s string, from, to int, at func(int) finding.Position) {
	lib := c.r.lib
	for s := s[:to]; ; {
		start, end, ok := lib.marks.Next(s, from)
		if !ok {
			return
		}
		from = end
		mark, rev := s[start:end], revisionAfter(s, end)
		d := lib.byMark[mark]
		switch {
		case d == nil:
			// The mend may offer no mark: the nearest by letters is another number.
			c.r.list.Warnf(at(start), "unknown-mark", "correct the mark, or write the detail",
				"%q fits the marks of this library but names no detail", mark)
			continue
		case rev != "" && !d.hasRevision(rev):
			c.r.list.Warnf(at(start), "unknown-revision", "name a revision of its table, or none",
				"%s has no revision %s", mark, rev)
		}
		cite := Cite{mark, rev}
		if mark == c.r.d.Mark && rev == "" || c.cited[cite] {
			continue
		}
		if c.cited == nil {
			c.cited = map[Cite]bool{}
		}
		c.cited[cite] = true
		c.r.d.Cites = append(c.r.d.Cites, cite)
	}
}

func (d *Detail) hasRevision(rev string) bool {
	for i := range d.Revisions {
		if d.Revisions[i].Rev == rev {
			return true
		}
	}
	return false
}
