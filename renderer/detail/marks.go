package detail

import (
	"errors"
	"regexp"
	"regexp/syntax"
	"strings"
)

// Marks is a library's mark pattern, made ready to search text. It is safe
// for use by several goroutines.
type Marks struct {
	whole  *regexp.Regexp // anchored at both ends
	loose  *regexp.Regexp // only where a mark may hold a sign that parts words
	digits bool           // every mark holds a digit
}

// longestPattern is the most text a pattern may have, in bytes.
const longestPattern = 200

// NewMarks compiles a mark pattern, a regular expression (RE2).
// It fails where it is none, or where it fits the empty text.
func NewMarks(pattern string) (*Marks, error) {
	if len(pattern) > longestPattern {
		return nil, errors.New("it is too long")
	}
	whole, err := regexp.Compile("^(?:" + pattern + ")$")
	if err != nil {
		return nil, err
	}
	if whole.MatchString("") {
		return nil, errors.New("it fits the empty text")
	}
	tree, err := syntax.Parse(pattern, syntax.Perl)
	if err != nil {
		return nil, err
	}
	m := &Marks{whole: whole, digits: needsDigit(tree)}
	if mayPart(tree) {
		m.loose, err = regexp.Compile("(?:" + pattern + ")")
	}
	return m, err
}

// Match reports whether a text is a mark.
func (m *Marks) Match(s string) bool { return m.whole.MatchString(s) }

// Next returns the place of the first mark in s at or after from; ok is false
// if there is none. A mark is a word of its own: none is found within a
// longer word. Points, hyphens and underscores at a word's ends are left out.
func (m *Marks) Next(s string, from int) (start, end int, ok bool) {
	if m.loose != nil {
		return m.nextLoose(s, from)
	}
	for i := from; i < len(s); {
		if !inWord(s[i]) {
			i++
			continue
		}
		start, digit := i, false
		for i < len(s) && inWord(s[i]) {
			digit = digit || s[i] >= '0' && s[i] <= '9'
			i++
		}
		if m.digits && !digit {
			continue
		}
		end := i
		for end > start && isMargin(s[end-1]) {
			end--
		}
		for start < end && isMargin(s[start]) {
			start++
		}
		if start < end && m.whole.MatchString(s[start:end]) {
			return start, end, true
		}
	}
	return 0, 0, false
}

// nextLoose is Next for marks that hold a space, a slash or the like.
func (m *Marks) nextLoose(s string, from int) (start, end int, ok bool) {
	for from < len(s) {
		at := m.loose.FindStringIndex(s[from:])
		if at == nil {
			return 0, 0, false
		}
		start, end = from+at[0], from+at[1]
		before := start == 0 || !inWord(s[start-1]) || isMargin(s[start-1])
		after := end == len(s) || !inWord(s[end]) || isMargin(s[end]) && (end+1 == len(s) || !inWord(s[end+1]))
		if end > start && before && after {
			return start, end, true
		}
		from = start + 1
	}
	return 0, 0, false
}

// inWord reports whether a byte stands within words of which a mark may be
// one. A letter beyond ASCII does too.
func inWord(c byte) bool {
	return isLetter(c) || c >= '0' && c <= '9' || c == '-' || c == '.' || c == '_' || c >= 0x80
}

// isMargin reports whether a byte at the end of a word may be punctuation.
func isMargin(c byte) bool { return c == '.' || c == '-' || c == '_' }

// RevisionAfter returns the revision that a text names right after a mark
// ("J-201 rev B") and where it ends; "" and from where it names none.
func RevisionAfter(s string, from int) (rev string, end int) {
	const word = " rev "
	if len(s)-from <= len(word) || !strings.EqualFold(s[from:from+len(word)], word) {
		return "", from
	}
	end = from + len(word)
	for end < len(s) && inWord(s[end]) && !isMargin(s[end]) {
		end++
	}
	if rev = s[from+len(word) : end]; isRevision(rev) {
		return rev, end
	}
	return "", from
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
			if r < 0x80 && !inWord(byte(r)) {
				return true
			}
		}
	case syntax.OpCharClass:
		for i := 0; i+1 < len(re.Rune); i += 2 {
			for r := re.Rune[i]; r <= re.Rune[i+1] && r < 0x80; r++ {
				if !inWord(byte(r)) {
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

// patternFault is a regular expression's error without Go's preamble.
func patternFault(err error) string {
	return strings.TrimPrefix(err.Error(), "error parsing regexp: ")
}
