package strict

import (
	"bytes"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// The guard against cut text. YAML reads a # after a space as a comment, so
// that "Tie #4 bars" becomes "Tie". A comment is taken as meant only where it
// is set off: it has a line to itself, or two spaces (or nothing but a key)
// before it and a space after the #. Any other is an error.

const commentRule = "comment-cuts-text"

// comments reports every comment that is not set off. quoted are the quoted
// and block scalars in order; inside them a # is text.
func (d *doc) comments(text []byte, quoted []*yaml.Node) {
	if bytes.IndexByte(text, '#') < 0 {
		return
	}
	line, at, next := 1, 0, 0
	for at < len(text) {
		end := bytes.IndexByte(text[at:], '\n')
		if end < 0 {
			end = len(text)
		} else {
			end += at
		}
		i, start := at, at
		column := 1 // of text[i], in characters
		for i < end {
			if next < len(quoted) && quoted[next].Line < line {
				next++ // began in a line that was skipped
				continue
			}
			if next < len(quoted) && quoted[next].Line == line && quoted[next].Column == column && utf8.RuneStart(text[i]) {
				n := quoted[next]
				next++
				if n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
					// The header may carry a comment; the text after it is skipped.
					d.oneLine(text[start:end], i-start, line)
					line, end = skipBlock(text, end, line)
					i = end
					continue
				}
				from := i
				i = skipQuoted(text, i)
				if lines := bytes.Count(text[from:i], []byte("\n")); lines > 0 {
					line += lines
					start = from + bytes.LastIndexByte(text[from:i], '\n') + 1
					from, column = start, 1
					if end = bytes.IndexByte(text[i:], '\n'); end < 0 {
						end = len(text)
					} else {
						end += i
					}
				}
				column += utf8.RuneCount(text[from:i])
				continue
			}
			if text[i] == '#' && (i == start || isBlank(text[i-1])) {
				d.judge(text[start:end], i-start, line)
				i = end
				continue
			}
			if i++; i < end && utf8.RuneStart(text[i]) {
				column++
			}
		}
		at = end + 1
		line++
	}
}

// skipQuoted returns the place after the quoted text that begins at i.
func skipQuoted(text []byte, i int) int {
	quote := text[i]
	if quote != '"' && quote != '\'' {
		return i + 1
	}
	for i++; i < len(text); i++ {
		switch {
		case text[i] == '\\' && quote == '"':
			i++
		case text[i] == quote && quote == '\'' && i+1 < len(text) && text[i+1] == quote:
			i++
		case text[i] == quote:
			return i + 1
		}
	}
	return len(text)
}

// skipBlock returns the line and the end of the last line of a block scalar
// whose header ends at end.
func skipBlock(text []byte, end, line int) (int, int) {
	indent := -1
	for end < len(text) {
		l, _, _ := bytes.Cut(text[end+1:], []byte("\n"))
		body := bytes.TrimLeft(l, " ")
		if len(body) > 0 {
			own := len(l) - len(body)
			if indent < 0 {
				indent = max(own, 1)
			}
			if own < indent {
				break
			}
		}
		if end+1+len(l) >= len(text) {
			return line + 1, len(text)
		}
		end += 1 + len(l)
		line++
	}
	return line, end
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' }

// oneLine judges the first comment in a line from a place on.
func (d *doc) oneLine(l []byte, from, line int) {
	for i := from; i < len(l); i++ {
		if l[i] == '#' && i > 0 && isBlank(l[i-1]) {
			d.judge(l, i, line)
			return
		}
	}
}

// judge reports the comment at l[i] unless it is set off.
func (d *doc) judge(l []byte, i, line int) {
	before := bytes.TrimRight(l[:i], " \t")
	gap := i - len(before)
	spaced := i+1 == len(l) || isBlank(l[i+1]) || l[i+1] == '#'
	if len(before) == 0 {
		// A line of its own is a comment, but a bar size begins no comment.
		if i+1 == len(l) || l[i+1] < '0' || l[i+1] > '9' {
			return
		}
	} else if last := before[len(before)-1]; spaced && (gap >= 2 || last == ':' || last == '-') {
		return
	}
	d.report(l, i, line)
}

func (d *doc) report(l []byte, i, line int) {
	d.errorf(line, utf8.RuneCount(l[:i])+1, commentRule,
		"put the text in quotes; a comment is set off by two spaces before the # and one after it",
		"YAML reads %q as a comment and drops it", short(l[i:]))
}

// short cuts a text for a message.
func short(b []byte) string {
	const most = 40
	if len(b) <= most {
		return string(b)
	}
	n := most
	for n > 0 && !utf8.RuneStart(b[n]) {
		n--
	}
	return string(b[:n]) + "…"
}

// likelyComments reports, in a text that is not YAML, each # right before a
// letter or digit and after a space, outside quotes as far as one line tells.
func (d *doc) likelyComments(text []byte) {
	for line := 1; len(text) > 0; line++ {
		var l []byte
		l, text, _ = bytes.Cut(text, []byte("\n"))
		var quote byte
		for i := 1; i+1 < len(l); i++ {
			c := l[i]
			switch {
			case quote != 0:
				if c == quote {
					quote = 0
				}
			case c == '"' && isBlank(l[i-1]):
				quote = c
			case c == '#' && isBlank(l[i-1]) && !isBlank(l[i+1]) && l[i+1] != '#' && len(bytes.TrimSpace(l[:i])) > 0:
				d.report(l, i, line)
				i = len(l)
			}
		}
	}
}
