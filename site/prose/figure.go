package prose

import (
	"bytes"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// figureParser reads {R-value}. A brace after a backslash never comes here.
type figureParser struct{}

// Trigger implements parser.InlineParser.
func (figureParser) Trigger() []byte { return []byte{'{'} }

// Parse implements parser.InlineParser.
func (figureParser) Parse(_ ast.Node, block text.Reader, pc parser.Context) ast.Node {
	s, ok := pc.Get(stateKey).(*state)
	if !ok {
		return nil
	}
	line, segment := block.PeekLine()
	end := bytes.IndexByte(line, '}')
	if end < 0 {
		return nil
	}
	shown, ok := s.figure(string(line[1:end]), segment.Start)
	if !ok {
		return nil
	}
	block.Advance(end + 1)
	n := ast.NewString([]byte(shown))
	n.SetRaw(true)
	return n
}

// figure returns a computed figure as printed, its words held together on
// one line.
func (s *state) figure(words string, offset int) (string, bool) {
	if s.ctx.Figure != nil {
		if shown, ok := s.ctx.Figure(strings.Join(strings.Fields(words), " ")); ok {
			return strings.ReplaceAll(shown, " ", "\u00a0"), true
		}
	}
	s.fault(offset, "unknown-figure", `name a figure that is computed, or write \{ for a brace`,
		"{%s} is no figure of this library", shorten(words))
	return "", false
}
