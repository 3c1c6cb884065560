package prose

import (
	"bytes"
	"sync"

	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"github.com/yuin/goldmark"

	"wythe/renderer/finding"
)

// Cite is a mark that a text names, with the revision where it names one.
type Cite struct{ Mark, Rev string }

// Result is a text made ready for a page.
type Result struct {
	HTML     HTML
	Cites    []Cite // each once, in the order of the text
	Findings finding.List
}

// Render turns Markdown into HTML. It fails on nothing: what the author
// should mend is in the result's findings, and is shown as text in its place.
func Render(markdown string, ctx *Context) Result {
	if isBlank(markdown) {
		return Result{}
	}
	if ctx == nil {
		ctx = &Context{}
	}
	s := &state{ctx: ctx, source: []byte(markdown), text: markdown}
	pc := parser.NewContext()
	pc.Set(stateKey, s)
	out := buffers.Get().(*buffer)
	out.b = out.b[:0]
	doc := shared.Parser().Parse(text.NewReader(s.source), parser.WithContext(pc))
	// The only error of the renderer is that of its writer, which has none.
	if err := shared.Renderer().Render(out, s.source, doc); err != nil {
		panic("prose: " + err.Error())
	}
	s.result.HTML = HTML{string(bytes.TrimSpace(out.b))}
	buffers.Put(out)
	return s.result
}

func isBlank(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] != ' ' && s[i] != '\n' && s[i] != '\t' && s[i] != '\r' {
			return false
		}
	}
	return true
}

// shared is safe to use from many goroutines: what belongs to one text lives
// in the parser's context.
var shared = newMarkdown()

// newMarkdown leaves out the two parsers of raw HTML, so that a tag is text
// like any other and is escaped as such.
func newMarkdown() goldmark.Markdown {
	blocks := []util.PrioritizedValue{
		util.Prioritized(parser.NewSetextHeadingParser(), 100),
		util.Prioritized(parser.NewThematicBreakParser(), 200),
		util.Prioritized(parser.NewListParser(), 300),
		util.Prioritized(parser.NewListItemParser(), 400),
		util.Prioritized(parser.NewCodeBlockParser(), 500),
		util.Prioritized(parser.NewATXHeadingParser(), 600),
		util.Prioritized(parser.NewFencedCodeBlockParser(), 700),
		util.Prioritized(parser.NewBlockquoteParser(), 800),
		util.Prioritized(parser.NewParagraphParser(), 1000),
	}
	inlines := []util.PrioritizedValue{
		util.Prioritized(parser.NewCodeSpanParser(), 100),
		util.Prioritized(figureParser{}, 150), // before links, so that [ ] around a figure holds
		util.Prioritized(parser.NewLinkParser(), 200),
		util.Prioritized(parser.NewAutoLinkParser(), 300),
		util.Prioritized(parser.NewEmphasisParser(), 500),
	}
	return goldmark.New(
		goldmark.WithParser(parser.NewParser(
			parser.WithBlockParsers(blocks...),
			parser.WithInlineParsers(inlines...),
			parser.WithParagraphTransformers(parser.DefaultParagraphTransformers()...),
			parser.WithASTTransformers(util.Prioritized(linker{}, 999)),
		)),
		goldmark.WithRenderer(renderer.NewRenderer(renderer.WithNodeRenderers(
			util.Prioritized(html.NewRenderer(), 1000),
			util.Prioritized(frames{}, 100),
		))),
		goldmark.WithExtensions(
			extension.NewTable(extension.WithTableCellAlignMethod(extension.TableCellAlignAttribute)),
			extension.Strikethrough,
			extension.DefinitionList,
		),
	)
}

// state is what one text gathers while it is parsed.
type state struct {
	ctx    *Context
	source []byte
	text   string // source, for the search of marks
	result Result
	cited  map[Cite]bool
	ids    map[string]int
	level  int // of the last heading; 0 none yet
}

var stateKey = parser.NewContextKey()

func (s *state) cite(c Cite) {
	if s.cited[c] {
		return
	}
	if s.cited == nil {
		s.cited = map[Cite]bool{}
	}
	s.cited[c] = true
	s.result.Cites = append(s.result.Cites, c)
}

// place returns the line and column, from 0, of an offset of the source.
// Columns count characters.
func (s *state) place(offset int) (line, column int) {
	if offset > len(s.source) {
		offset = len(s.source)
	}
	before := s.source[:offset]
	line = bytes.Count(before, []byte{'\n'})
	column = len([]rune(string(before[bytes.LastIndexByte(before, '\n')+1:])))
	return line, column
}

func (s *state) warn(offset int, rule, mend, format string, args ...any) {
	s.result.Findings.Warnf(s.ctx.at(s.place(offset)), rule, mend, format, args...)
}

func (s *state) fault(offset int, rule, mend, format string, args ...any) {
	s.result.Findings.Errorf(s.ctx.at(s.place(offset)), rule, mend, format, args...)
}

// buffer is a writer in memory that goldmark takes as it is.
type buffer struct{ b []byte }

var buffers = sync.Pool{New: func() any { return &buffer{b: make([]byte, 0, 16<<10)} }}

func (w *buffer) Write(p []byte) (int, error) { w.b = append(w.b, p...); return len(p), nil }
func (w *buffer) WriteString(p string) (int, error) {
	w.b = append(w.b, p...)
	return len(p), nil
}
func (w *buffer) WriteByte(c byte) error { w.b = append(w.b, c); return nil }
func (w *buffer) WriteRune(r rune) (int, error) {
	n := len(w.b)
	w.b = append(w.b, string(r)...)
	return len(w.b) - n, nil
}
func (w *buffer) Available() int { return cap(w.b) - len(w.b) }
func (w *buffer) Buffered() int  { return 0 }
func (w *buffer) Flush() error   { return nil }
