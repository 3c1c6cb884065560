package svg

import (
	"fmt"
	"strconv"
	"unicode/utf8"

	"wythe/renderer/drawing"
)

// open begins the attributes of an element with what its tag says.
func (w *writer) open(t *drawing.Tag) {
	a, c := w.attr[:0], w.class[:0]
	if *t != (drawing.Tag{}) {
		if t.ID != "" {
			if w.ids == nil {
				w.ids = map[string]bool{}
			}
			if w.ids[t.ID] {
				panic(fmt.Sprintf("svg: two nodes have the id %q", t.ID))
			}
			w.ids[t.ID] = true
			a = append(a, `id="`...)
			a = append(a, w.opt.Prefix...)
			a = append(a, '-')
			a = appendEscaped(a, t.ID)
			a = append(a, `" `...)
		}
		if t.Part != "" && (len(w.parts) == 0 || w.parts[len(w.parts)-1] != t.Part) {
			a = append(a, `data-part="`...)
			a = appendEscaped(a, t.Part)
			a = append(a, `" `...)
		}
		if t.Key != 0 {
			a = append(a, `data-key="`...)
			a = strconv.AppendInt(a, int64(t.Key), 10)
			a = append(a, `" `...)
		}
		if t.Step != 0 {
			a = append(a, `data-step="`...)
			a = strconv.AppendInt(a, int64(t.Step), 10)
			a = append(a, `" `...)
		}
		if t.Control != "" {
			a = append(a, `data-control="`...)
			a = appendEscaped(a, t.Control)
			a = append(a, `" `...)
		}
		if t.Kind != "" {
			c = append(c, "k-"...)
			c = appendEscaped(c, t.Kind)
		}
	}
	w.attr, w.class = a, c
}

// addClass adds a class to the element being written.
func (w *writer) addClass(prefix, name string) {
	c := w.class
	if len(c) > 0 {
		c = append(c, ' ')
	}
	c = append(c, prefix...)
	w.class = append(c, name...)
}

// close ends the attributes and returns them, to be printed at once.
func (w *writer) close() string {
	a := w.attr
	if len(w.class) > 0 {
		a = append(a, `class="`...)
		a = append(a, w.class...)
		a = append(a, '"')
	} else if len(a) > 0 {
		a = a[:len(a)-1]
	}
	w.attr = a
	return text(a)
}

func attribute(a []byte, name, value string) []byte {
	a = append(a, name...)
	a = append(a, `="`...)
	a = appendEscaped(a, value)
	return append(a, `" `...)
}

func number(a []byte, name string, v float64) []byte {
	a = append(a, name...)
	a = append(a, `="`...)
	a = appendNumber(a, v)
	return append(a, `" `...)
}

// appendEscaped appends s fit for a quoted attribute or an element's text:
// svgo does not escape attributes. Signs that XML does not allow become
// U+FFFD.
func appendEscaped(b []byte, s string) []byte {
	for i := 0; i < len(s); {
		c := s[i]
		if c < utf8.RuneSelf {
			i++
			switch {
			case c == '&':
				b = append(b, "&amp;"...)
			case c == '<':
				b = append(b, "&lt;"...)
			case c == '>':
				b = append(b, "&gt;"...)
			case c == '"':
				b = append(b, "&#34;"...)
			case c == '\t' || c == '\n' || c == '\r':
				b = append(b, ' ')
			case c < 0x20 || c == 0x7F:
				b = append(b, "\uFFFD"...)
			default:
				b = append(b, c)
			}
			continue
		}
		r, n := utf8.DecodeRuneInString(s[i:])
		if r == utf8.RuneError || r == 0xFFFE || r == 0xFFFF {
			b = append(b, "\uFFFD"...)
		} else {
			b = append(b, s[i:i+n]...)
		}
		i += n
	}
	return b
}
