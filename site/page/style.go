package page

import "strings"

// PrintStyle returns the style sheet that puts the firm's and the library's
// name at the foot of every printed sheet after the first. It joins the
// theme's style sheet.
func (s *Site) PrintStyle() []byte {
	foot := cssString(s.Firm + " · " + s.Title)
	return []byte(`@page{@bottom-left{content:` + foot + `}}@page port{@bottom-left{content:` + foot + "}}\n")
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
