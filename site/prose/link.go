package prose

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"

	"wythe/renderer/detail"
)

// linker goes through a parsed text once: it links marks, settles each
// link's and picture's target, and gives headings their level and id.
type linker struct{}

// Transform implements parser.ASTTransformer.
func (linker) Transform(doc *ast.Document, reader text.Reader, pc parser.Context) {
	if s, ok := pc.Get(stateKey).(*state); ok {
		s.walk(doc, false)
	}
}

// walk settles the children of n; linked says that they stand in a link.
func (s *state) walk(n ast.Node, linked bool) {
	for c := n.FirstChild(); c != nil; {
		next := c.NextSibling()
		switch c := c.(type) {
		case *ast.Text:
			if !linked {
				s.marks(n, c)
			}
			s.fractions(n, c)
		case *ast.Link:
			s.walk(c, true)
			s.link(n, c)
		case *ast.AutoLink:
			s.autoLink(n, c)
		case *ast.Image:
			s.walk(c, true)
			s.picture(n, c)
		case *ast.Heading:
			s.heading(c)
			s.walk(c, linked)
		case *ast.CodeSpan, *ast.CodeBlock, *ast.FencedCodeBlock:
		default:
			s.walk(c, linked)
		}
		c = next
	}
}

// marks splits a run of text around the marks in it.
func (s *state) marks(parent ast.Node, n *ast.Text) {
	m := s.ctx.Marks
	if m == nil || n.IsRaw() {
		return
	}
	run := s.text[n.Segment.Start:n.Segment.Stop]
	base, from := n.Segment.Start, 0
	for {
		start, end, ok := m.Next(run, from)
		if !ok {
			return
		}
		// A mark at the very end may go on in the next run (after an
		// escape, say); the run's own end is the best there is.
		mark := run[start:end]
		rev, revEnd := detail.RevisionAfter(run, end)
		from = end
		href, known := s.resolve(mark, rev, base+start)
		if !known {
			continue
		}
		if rev != "" {
			end = revEnd
		}
		from = end
		if href == "" {
			continue
		}
		if start > 0 {
			before := ast.NewTextSegment(text.NewSegment(base, base+start))
			parent.InsertBefore(parent, n, before)
			s.fractions(parent, before)
		}
		link := ast.NewString(markLink(nil, href, run[start:end]))
		link.SetCode(true) // set down as it is: escaped already
		parent.InsertBefore(parent, n, link)
		n.Segment = text.NewSegment(base+end, n.Segment.Stop)
		run, base, from = run[end:], base+end, 0
	}
}

// markLink appends a link to a mark. It is one node of the tree and not
// goldmark's three, since a page of prose may name many.
func markLink(b []byte, href, shown string) []byte {
	b = append(b, `<a class="m" href="`...)
	b = AppendEscaped(b, href)
	b = append(b, `">`...)
	b = AppendEscaped(b, shown)
	return append(b, "</a>"...)
}

// fractions splits a run of text around the fractions in it.
func (s *state) fractions(parent ast.Node, n *ast.Text) {
	run := s.source[n.Segment.Start:n.Segment.Stop]
	if n.IsRaw() || bytes.IndexByte(run, '/') < 0 {
		return
	}
	for {
		start, end, ok := fraction(run, 0)
		if !ok {
			return
		}
		base, stop, space := n.Segment.Start, start, ""
		if start > 1 && run[start-1] == ' ' && isDigit(run[start-2]) {
			stop, space = start-1, narrowSpace
		}
		if stop > 0 {
			parent.InsertBefore(parent, n, ast.NewTextSegment(text.NewSegment(base, base+stop)))
		}
		set := ast.NewString([]byte(space + `<span class="fr">` + string(run[start:end]) + "</span>"))
		set.SetCode(true) // set down as it is: digits and a stroke
		parent.InsertBefore(parent, n, set)
		n.Segment = text.NewSegment(base+end, n.Segment.Stop)
		run = run[end:]
	}
}

// resolve returns where a mark leads, and notes it as cited. The page's own
// mark is known but leads nowhere.
func (s *state) resolve(mark, rev string, offset int) (href string, known bool) {
	if mark == s.ctx.Self && rev == "" {
		return "", true
	}
	if s.ctx.Link == nil {
		return "", false
	}
	href, ok := s.ctx.Link(mark, rev)
	if ok {
		s.cite(Cite{mark, rev})
		return href, true
	}
	if rev != "" {
		if href, ok := s.ctx.Link(mark, ""); ok {
			s.cite(Cite{mark, rev})
			s.warn(offset, "unknown-revision", "name a revision of its table, or none",
				"%s has no revision %s", mark, rev)
			return href, true
		}
	}
	s.warn(offset, "unknown-mark", "correct the mark, or write the detail",
		"%q fits the marks of this library but names no detail", mark)
	return "", false
}

// link settles a link that the author wrote.
func (s *state) link(parent ast.Node, n *ast.Link) {
	href, ok := s.target(string(n.Destination), first(n))
	if !ok {
		unwrap(parent, n)
		return
	}
	n.Destination = []byte(href)
}

func (s *state) autoLink(parent ast.Node, n *ast.AutoLink) {
	label := n.Label(s.source)
	link := ast.NewLink()
	shown := ast.NewString(label)
	shown.SetRaw(true)
	target := string(n.URL(s.source))
	if n.AutoLinkType == ast.AutoLinkEmail && !strings.HasPrefix(strings.ToLower(target), "mailto:") {
		target = "mailto:" + target
	}
	href, ok := s.target(target, bytes.Index(s.source, label))
	if !ok {
		parent.ReplaceChild(parent, n, shown)
		return
	}
	link.Destination = []byte(href)
	link.AppendChild(link, shown)
	parent.ReplaceChild(parent, n, link)
}

// target settles where a written link leads. Kept as written: http, https,
// mailto and tel. A fragment leads to a heading of the same text.
func (s *state) target(written string, offset int) (href string, ok bool) {
	written = strings.TrimSpace(written)
	if scheme, has := scheme(written); has {
		switch scheme {
		case "http", "https", "mailto", "tel":
			return written, true
		}
		s.warn(offset, "link-refused", "link to http, https, mailto or tel, or to a file of the library",
			"a link to %q is not published", shorten(written))
		return "", false
	}
	if fragment, is := strings.CutPrefix(written, "#"); is && fragment != "" {
		if !strings.HasPrefix(fragment, headingPrefix) {
			fragment = headingPrefix + fragment
		}
		return "#" + fragment, true
	}
	if s.ctx.Page != nil {
		if href, ok := s.ctx.Page(written); ok {
			return href, true
		}
	}
	s.warn(offset, "unknown-page", "link to a file of the library, from its root, or write its mark",
		"a link leads to %q, which is not published", shorten(written))
	return "", false
}

// picture settles a picture: one of the library, or its words alone.
func (s *state) picture(parent ast.Node, n *ast.Image) {
	written := string(n.Destination)
	if _, has := scheme(written); !has && !strings.HasPrefix(written, "//") && s.ctx.Picture != nil {
		if href, ok := s.ctx.Picture(written); ok {
			n.Destination = []byte(href)
			n.SetAttributeString("loading", []byte("lazy"))
			return
		}
	}
	s.warn(first(n), "unknown-picture", "put the picture in the library and name its file",
		"the picture %q is not published", shorten(written))
	unwrap(parent, n)
}

// scheme returns the scheme of a link, in lower case. Signs that a browser
// drops before it reads one are dropped here too; two slashes count as https.
func scheme(target string) (string, bool) {
	if strings.HasPrefix(target, "//") || strings.HasPrefix(target, `\\`) || strings.HasPrefix(target, `/\`) {
		return "other-site", true
	}
	var b strings.Builder
	for _, r := range target {
		switch {
		case r <= ' ' || r == 0x7f || unicode.IsSpace(r) || !unicode.IsPrint(r):
			continue
		case r == ':':
			return strings.ToLower(b.String()), true
		case r == '/' || r == '?' || r == '#':
			return "", false
		case r == '&' || r == '%':
			// An escape left in the place of a scheme is nothing an author
			// means; "&#58;" and "%3a" must not become a colon later.
			return "escaped", true
		}
		b.WriteRune(r)
	}
	return "", false
}

func shorten(s string) string {
	if utf8.RuneCountInString(s) <= 60 {
		return s
	}
	return string([]rune(s)[:59]) + "…"
}

// first returns the offset of the first text under n, or 0.
func first(n ast.Node) int {
	for c := n.FirstChild(); c != nil; c = c.FirstChild() {
		if t, ok := c.(*ast.Text); ok {
			return t.Segment.Start
		}
	}
	return 0
}

// unwrap puts a node's children in its place.
func unwrap(parent, n ast.Node) {
	for c := n.FirstChild(); c != nil; {
		next := c.NextSibling()
		parent.InsertBefore(parent, n, c)
		c = next
	}
	parent.RemoveChild(parent, n)
}
