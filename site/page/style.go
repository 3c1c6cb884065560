package page

import "strings"

// PrintStyle returns the style sheet that puts at the foot of every printed
// sheet after the first what the page is of: its mark, revision, title and firm,
// which the page's root states. A browser that cannot bring those to the margin
// of paper prints the firm's and the library's name. It joins the theme's style
// sheet.
func (s *Site) PrintStyle() []byte {
	foot := `{@bottom-left{content:var(--foot,` + cssString(s.Firm+" · "+s.Title) + `)}}`
	return []byte(`@supports (width:attr(x type(<length>))){:root{--foot:attr(data-foot)}}@page` + foot + `@page port` + foot + "\n")
}

// cssString returns text as a string of a style sheet.
func cssString(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\' || r == '<':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < ' ' || r == 0x7f:
			b.WriteByte(' ')
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
