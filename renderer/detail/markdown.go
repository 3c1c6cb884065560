package detail

import "strings"

// markdownRuns calls do for each run of a Markdown text in which words are
// words: outside code blocks, code spans and the targets of links. It goes
// line by line and knows of blocks only what that takes: fences, lines set in
// by four spaces outside a list, and blank lines.
func markdownRuns(text string, do func(from, to int)) {
	var (
		fence     byte // '`' or '~' inside a fenced block
		fenceLen  int
		inList    bool
		afterGap  = true // the line before was blank, or there was none
		inCode    bool   // the line before was set in as code
		paragraph = -1   // where the paragraph at hand begins
	)
	flush := func(to int) {
		if paragraph >= 0 {
			spans(text, paragraph, to, do)
		}
		paragraph = -1
	}
	for at := 0; at < len(text); {
		next := strings.IndexByte(text[at:], '\n')
		if next < 0 {
			next = len(text)
		} else {
			next += at + 1
		}
		line := text[at:next]
		start := at
		at = next
		indent, body := indentation(line)
		// Quotation marks open no block of their own here.
		for strings.HasPrefix(body, ">") {
			body = strings.TrimPrefix(body[1:], " ")
		}
		inner := strings.TrimLeft(listContent(body), " ")
		if fence != 0 {
			if n := leading(body, fence); n >= fenceLen && strings.TrimSpace(body[n:]) == "" {
				fence = 0
			}
			afterGap = false
			continue
		}
		if strings.TrimSpace(body) == "" {
			flush(start)
			afterGap = true
			continue
		}
		for _, c := range [...]byte{'`', '~'} {
			if n := leading(inner, c); n >= 3 && (c == '~' || strings.IndexByte(inner[n:], '`') < 0) && (indent < 4 || inList) {
				fence, fenceLen = c, n
			}
		}
		if fence != 0 {
			flush(start)
			continue
		}
		if indent >= 4 && !inList && (afterGap || inCode) && paragraph < 0 {
			inCode, afterGap = true, false
			continue
		}
		inCode = false
		switch {
		case len(inner) < len(body) && listContent(body) != body:
			inList = true
			flush(start)
		case indent == 0 && afterGap:
			inList = false
		}
		afterGap = false
		if paragraph < 0 {
			paragraph = start
		}
		if strings.HasPrefix(body, "#") || strings.HasPrefix(body, "|") {
			flush(next) // a heading or a row of a table ends with its line
		}
	}
	flush(len(text))
}

// indentation returns the width of a line's leading blanks (a tab goes to the
// next fourth column) and what follows.
func indentation(line string) (int, string) {
	n := 0
	for i := range len(line) {
		switch line[i] {
		case ' ':
			n++
		case '\t':
			n += 4 - n%4
		default:
			return n, line[i:]
		}
	}
	return n, ""
}

// listContent returns a line after its list marker, or the line itself.
func listContent(s string) string {
	if s == "" {
		return s
	}
	n := 0
	switch {
	case s[0] == '-' || s[0] == '*' || s[0] == '+':
		n = 1
	default:
		for n < len(s) && n < 9 && s[n] >= '0' && s[n] <= '9' {
			n++
		}
		if n == 0 || n == len(s) || s[n] != '.' && s[n] != ')' {
			return s
		}
		n++
	}
	if n == len(s) || s[n] != ' ' && s[n] != '\t' && s[n] != '\n' {
		return s
	}
	return s[n:]
}

func leading(s string, c byte) int {
	n := 0
	for n < len(s) && s[n] == c {
		n++
	}
	return n
}

// spans calls do for the runs of one paragraph between its code spans and
// link targets.
func spans(text string, from, to int, do func(from, to int)) {
	run := from
	noRound := from // no round bracket closes before
	emit := func(end int) {
		if end > run {
			do(run, end)
		}
	}
	for i := from; i < to; {
		switch text[i] {
		case '\\':
			i += 2
			continue
		case '`':
			n := leading(text[i:to], '`')
			end := closing(text[i+n:to], n)
			if end >= 0 {
				emit(i)
				i += n + end + n
				run = i
				continue
			}
			i += n
			continue
		case ']':
			if i+1 < to && text[i+1] == '(' && i >= noRound {
				end := inLine(text[:to], i+2, ')')
				if end < 0 {
					noRound = lineEnd(text[:to], i)
					break
				}
				emit(i)
				i = end + 1
				run = i
				continue
			}
		case '<':
			// <https://…> is a link without text of its own.
			end := i + 1
			for end < to && text[end] != '<' && text[end] != '>' && text[end] != ' ' && text[end] != '\n' {
				end++
			}
			if end < to && text[end] == '>' && strings.ContainsAny(text[i+1:end], ":@") {
				emit(i)
				i = end + 1
				run = i
				continue
			}
		}
		i++
	}
	emit(to)
}

// closing returns where a run of exactly n backticks begins, or -1.
func closing(s string, n int) int {
	for i := 0; i < len(s); {
		if s[i] != '`' {
			i++
			continue
		}
		k := leading(s[i:], '`')
		if k == n {
			return i
		}
		i += k
	}
	return -1
}

// inLine returns the place of a sign at or after from in the same line, or -1.
func inLine(s string, from int, sign byte) int {
	i := strings.IndexByte(s[from:], sign)
	if i < 0 || strings.IndexByte(s[from:from+i], '\n') >= 0 {
		return -1
	}
	return from + i
}

// lineEnd returns where the line that holds a place ends.
func lineEnd(s string, from int) int {
	if i := strings.IndexByte(s[from:], '\n'); i >= 0 {
		return from + i
	}
	return len(s)
}
