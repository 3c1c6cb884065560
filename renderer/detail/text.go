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
	place := placeIn(body, r.d.File, r.d.BodyLine)
	markdownRuns(body, func(from, to int) {
		c.run(body[from:to], func(offset int) finding.Position { return place(from + offset) })
	})
}

// placeIn returns a function that gives the place of a byte of a text. It is
// quick where it is asked front to back, and right in no other order.
func placeIn(text, file string, line int) func(offset int) finding.Position {
	column, read := 1, 0
	return func(offset int) finding.Position {
		for read < offset {
			i := strings.IndexByte(text[read:offset], '\n')
			if i < 0 {
				column += utf8.RuneCountInString(text[read:offset])
				read = offset
				break
			}
			line, read, column = line+1, read+i+1, 1
		}
		return finding.Position{File: file, Line: line, Column: column}
	}
}

// texts finds marks and figures in runs of text, front to back.
type texts struct {
	r     *reader
	cited map[Cite]bool
}

func (c *texts) run(s string, at func(offset int) finding.Position) {
	braces(s, func(open, close int) {
		c.r.d.Figures = append(c.r.d.Figures, FigureWord{figureWords(s[open+1 : close]), at(open)})
	}, func(from, to int) { c.marks(s, from, to, at) })
}

func figureWords(s string) string { return strings.Join(strings.Fields(s), " ") }

// braces calls figure for each {figure} of one line, and rest for the runs
// around and within them, front to back. A brace after a backslash is a brace.
func braces(s string, figure func(open, close int), rest func(from, to int)) {
	from, unclosed := 0, 0 // no brace closes before unclosed
	for {
		open := strings.IndexByte(s[from:], '{')
		if open < 0 {
			rest(from, len(s))
			return
		}
		open += from
		close := -1
		if open >= unclosed && (open == 0 || s[open-1] != '\\') {
			if close = inLine(s, open, '}'); close < 0 {
				unclosed = lineEnd(s, open)
			}
		}
		if close < 0 {
			rest(from, open+1)
			from = open + 1
			continue
		}
		rest(from, open)
		figure(open, close)
		rest(open, close)
		from = close + 1
	}
}

// marks finds the marks of s[from:to]. What a section cites goes into a
// contract: there a mark or a revision that is not is an error.
func (c *texts) marks(s string, from, to int, at func(int) finding.Position) {
	lib := c.r.lib
	say := c.r.list.Warnf
	if c.r.d.Spec != nil {
		say = c.r.list.Errorf
	}
	for s := s[:to]; ; {
		start, end, ok := lib.marks.Next(s, from)
		if !ok {
			return
		}
		from = end
		mark := s[start:end]
		rev, _ := RevisionAfter(s, end)
		d := lib.byMark[mark]
		switch {
		case lib.broken[mark]: // its own file says what is wrong
			continue
		case d == nil:
			say(at(start), "unknown-mark", "correct the mark, or write the detail",
				"%q fits the marks of this library but names no detail", mark)
			continue
		case rev != "" && !d.hasRevision(rev):
			say(at(start), "unknown-revision", "name a revision of its table, or none",
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
