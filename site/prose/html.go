package prose

import (
	"html/template"
	"strings"
)

// HTML is a run of HTML that is safe to set down in a page. Only this package
// makes one: by [Plain], [Inline] or [Render].
type HTML struct{ s string }

// String returns the HTML.
func (h HTML) String() string { return h.s }

// Template returns the HTML as html/template takes it.
func (h HTML) Template() template.HTML { return template.HTML(h.s) }

// Empty reports whether there is nothing to show.
func (h HTML) Empty() bool { return h.s == "" }

// Plain returns plain text as HTML: special signs escaped, fractions slanting.
func Plain(text string) HTML {
	if strings.IndexByte(text, '/') < 0 {
		return HTML{Escape(text)}
	}
	return HTML{string(AppendTrade(nil, text))}
}

// Escape escapes the signs that mean something in HTML text and in quoted
// attributes. Text without any is returned as it is.
func Escape(text string) string {
	if !strings.ContainsAny(text, `&<>"'`+"\x00") {
		return text
	}
	return string(AppendEscaped(nil, text))
}

// AppendEscaped appends text to b, escaped as by [Escape].
func AppendEscaped(b []byte, text string) []byte {
	from := 0
	for i := 0; i < len(text); i++ {
		var sign string
		switch text[i] {
		case '&':
			sign = "&amp;"
		case '<':
			sign = "&lt;"
		case '>':
			sign = "&gt;"
		case '"':
			sign = "&#34;"
		case '\'':
			sign = "&#39;"
		case 0:
			sign = "\uFFFD"
		default:
			continue
		}
		b = append(b, text[from:i]...)
		b = append(b, sign...)
		from = i + 1
	}
	return append(b, text[from:]...)
}
