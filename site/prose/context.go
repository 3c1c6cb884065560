package prose

import (
	"regexp"
	"regexp/syntax"
	"strings"

	"wythe/renderer/finding"
)

// Context is what a text may refer to. Its functions may be nil: then nothing
// of that kind is known.
type Context struct {
	// Marks finds the library's marks; nil: none are looked for.
	Marks *Marks
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

// Marks is a library's mark pattern, made ready for searching text.
type Marks struct {
	whole  *regexp.Regexp // anchored at both ends
	digits bool           // every mark holds a digit
	spaced bool           // a mark may hold a sign that parts words
	loose  *regexp.Regexp // only where spaced
}

// NewMarks compiles a library's mark pattern.
// It fails where the pattern is no regular expression.
func NewMarks(pattern string) (*Marks, error) {
	whole, err := regexp.Compile(`^(?:` + pattern + `)$`)
	if err != nil {
		return nil, err
	}
	tree, err := syntax.Parse(pattern, syntax.Perl)
	if err != nil {
		return nil, err
	}
	m := &Marks{whole: whole, digits: needsDigit(tree), spaced: mayPart(tree)}
	if m.spaced {
		m.loose = regexp.MustCompile(`(?:` + pattern + `)`)
	}
	return m, nil
}

// needsDigit reports whether every text that re matches holds an ASCII digit.
func needsDigit(re *syntax.Regexp) bool {
	switch re.Op {
	case syntax.OpLiteral:
		for _, r := range re.Rune {
			if r >= '0' && r <= '9' {
				return true
			}
		}
	case syntax.OpCharClass:
		for i := 0; i+1 < len(re.Rune); i += 2 {
			if re.Rune[i] < '0' || re.Rune[i+1] > '9' {
				return false
			}
		}
		return len(re.Rune) > 0
	case syntax.OpConcat:
		for _, s := range re.Sub {
			if needsDigit(s) {
				return true
			}
		}
	case syntax.OpAlternate:
		for _, s := range re.Sub {
			if !needsDigit(s) {
				return false
			}
		}
		return len(re.Sub) > 0
	case syntax.OpCapture, syntax.OpPlus:
		return needsDigit(re.Sub[0])
	case syntax.OpRepeat:
		return re.Min > 0 && needsDigit(re.Sub[0])
	}
	return false
}

// mayPart reports whether a text that re matches may hold a sign that parts
// words, so that marks cannot be looked for word by word.
func mayPart(re *syntax.Regexp) bool {
	switch re.Op {
	case syntax.OpAnyChar, syntax.OpAnyCharNotNL:
		return true
	case syntax.OpLiteral:
		for _, r := range re.Rune {
			if parts(r) {
				return true
			}
		}
	case syntax.OpCharClass:
		for i := 0; i+1 < len(re.Rune); i += 2 {
			for r := re.Rune[i]; r <= re.Rune[i+1]; r++ {
				if parts(r) {
					return true
				}
			}
		}
	}
	for _, s := range re.Sub {
		if mayPart(s) {
			return true
		}
	}
	return false
}

// parts reports whether a sign stands between words: everything but ASCII
// letters, digits, hyphen, point and underscore.
func parts(r rune) bool { return r >= 0x80 || !inWord[r] }

var inWord = func() (set [128]bool) {
	for _, r := range "-._0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz" {
		set[r] = true
	}
	return set
}()

// next returns the first mark in text at or after from.
func (m *Marks) next(text []byte, from int) (start, end int, ok bool) {
	if m.spaced {
		at := m.loose.FindIndex(text[from:])
		if at == nil || at[0] == at[1] {
			return 0, 0, false
		}
		return from + at[0], from + at[1], true
	}
	for i := from; i < len(text); {
		if parts(rune(text[i])) {
			i++
			continue
		}
		start, digit := i, false
		for i < len(text) && !parts(rune(text[i])) {
			digit = digit || text[i] >= '0' && text[i] <= '9'
			i++
		}
		if m.digits && !digit {
			continue
		}
		end := i
		for end > start && text[end-1] == '.' {
			end--
		}
		if m.whole.Match(text[start:end]) {
			return start, end, true
		}
	}
	return 0, 0, false
}

// revision returns the letter or number of a revision named right after a
// mark ("J-201 rev B") and where it ends.
func revision(text []byte, from int) (rev string, end int) {
	const word = " rev "
	rest := text[from:]
	if len(rest) <= len(word) || !strings.EqualFold(string(rest[:len(word)]), word) {
		return "", from
	}
	end = from + len(word)
	for end < len(text) && !parts(rune(text[end])) && text[end] != '.' && text[end] != '-' && text[end] != '_' {
		end++
	}
	rev = string(text[from+len(word) : end])
	// "J-201 rev is" is prose: a revision is one or two letters, or a number.
	if rev == "" || len(rev) > 3 || rev != strings.ToUpper(rev) {
		return "", from
	}
	return rev, end
}
