package prose

import (
	"strconv"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/util"

	east "github.com/yuin/goldmark/extension/ast"
)

// headingPrefix opens the id of every heading of a text, so that none can
// clash with an id of the page around it.
const headingPrefix = "s-"

// heading gives a heading its level and its id. The first stands at the
// context's level; below it no level is left out, whatever the text says.
func (s *state) heading(n *ast.Heading) {
	top := s.ctx.Level
	if top == 0 {
		top = 2
	}
	level := n.Level + top - 1
	if s.level == 0 {
		level = top
	} else if level > s.level+1 {
		level = s.level + 1
	}
	level = max(top, min(level, 6))
	s.level, n.Level = level, level
	n.SetAttributeString("id", []byte(s.id(plainText(n, s.source))))
}

// id returns an id from a heading's words, unique in the text.
func (s *state) id(words string) string {
	id := headingPrefix + Slug(words)
	if s.ids == nil {
		s.ids = map[string]int{}
	}
	s.ids[id]++
	for n := s.ids[id]; n > 1; n++ {
		numbered := id + "-" + strconv.Itoa(n)
		if s.ids[numbered] == 0 {
			s.ids[id] = n
			s.ids[numbered] = 1
			return numbered
		}
	}
	return id
}

// Slug returns words in lower case, joined by hyphens, of letters and digits
// of any script alone; "text" where none is left.
func Slug(words string) string {
	var b strings.Builder
	hyphen := false
	for _, r := range words {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r):
			if hyphen && b.Len() > 0 {
				b.WriteByte('-')
			}
			hyphen = false
			b.WriteRune(unicode.ToLower(r))
		default:
			hyphen = true
		}
	}
	if b.Len() == 0 {
		return "text"
	}
	return b.String()
}

func plainText(n ast.Node, source []byte) string {
	var b strings.Builder
	var add func(ast.Node)
	add = func(n ast.Node) {
		for c := n.FirstChild(); c != nil; c = c.NextSibling() {
			switch c := c.(type) {
			case *ast.Text:
				b.Write(c.Segment.Value(source))
			case *ast.String:
				if !c.IsCode() {
					b.Write(c.Value)
				}
			default:
				add(c)
			}
		}
	}
	add(n)
	return b.String()
}

// frames puts a table in a box that scrolls by itself on a narrow screen and
// can be reached with the keyboard.
type frames struct{}

// RegisterFuncs implements renderer.NodeRenderer.
func (frames) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(east.KindTable, func(w util.BufWriter, _ []byte, _ ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			_, _ = w.WriteString(`<div class="tw" role="region" aria-label="Table" tabindex="0"><table>` + "\n")
		} else {
			_, _ = w.WriteString("</table></div>\n")
		}
		return ast.WalkContinue, nil
	})
}
