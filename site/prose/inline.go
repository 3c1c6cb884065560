package prose

import (
	"strings"

	"wythe/renderer/detail"
)

// Inline turns one line of plain text (a step, a caution, a note) into HTML:
// marks link and {figures} print as in [Render], all else is text. Findings
// stand at the context's line, their columns counted from the text's start.
func Inline(words string, ctx *Context) Result {
	if ctx == nil || ctx.Marks == nil && !strings.Contains(words, "{") {
		return Result{HTML: Plain(words)}
	}
	s := &state{ctx: ctx, source: []byte(words), text: words}
	var b []byte
	for from := 0; from < len(words); {
		open := strings.IndexByte(words[from:], '{')
		if open < 0 {
			b = s.inlineMarks(b, from, len(words))
			break
		}
		open += from
		if open > from && words[open-1] == '\\' {
			b = s.inlineMarks(b, from, open-1)
			b = append(b, '{')
			from = open + 1
			continue
		}
		b = s.inlineMarks(b, from, open)
		close := strings.IndexByte(words[open:], '}')
		shown, ok := "", false
		if close > 0 {
			shown, ok = s.figure(words[open+1:open+close], open)
		}
		if !ok {
			b = append(b, '{')
			from = open + 1
			continue
		}
		b = AppendTrade(b, shown)
		from = open + close + 1
	}
	s.result.HTML = HTML{string(b)}
	return s.result
}

// inlineMarks appends source[from:to], escaped, with its marks linked.
func (s *state) inlineMarks(b []byte, from, to int) []byte {
	if s.ctx.Marks == nil {
		return AppendTrade(b, s.text[from:to])
	}
	run := s.text[:to]
	for at := from; ; {
		start, end, ok := s.ctx.Marks.Next(run, at)
		if !ok {
			return AppendTrade(b, run[from:])
		}
		rev, revEnd := detail.RevisionAfter(run, end)
		href, known := s.resolve(run[start:end], rev, start)
		at = end
		if !known || href == "" {
			continue
		}
		if rev != "" {
			end = revEnd
			at = end
		}
		b = AppendTrade(b, run[from:start])
		b = markLink(b, href, run[start:end])
		from = end
	}
}
