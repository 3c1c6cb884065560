package detail

import (
	"strings"

	"wythe/renderer/strict"
)

// spec reads a specification section.
func (r *reader) spec(front strict.Node) {
	m, ok := openFile(front, specKeys)
	if !ok {
		return
	}
	r.d.Spec = &Spec{}
	r.common(m, true)
	r.sequence(m.Get("sequence"), "layer", nil)
	n := m.Get("section")
	s := n.Text()
	if s != "" && !isSection(s) {
		n.Errorf("bad-section", "write six digits in pairs: 07 26 00", "%q is no section number", s)
	}
	r.d.Spec.Section = s
	r.specifies(m.Get("specifies"))
	r.elsewhere(m.Get("elsewhere"))
	r.markNode = n
}

// isSection reports whether a text is a section number: 07 26 00, or with a
// level more, 07 26 00.13.
func isSection(s string) bool {
	head, tail, more := strings.Cut(s, ".")
	if more && (len(tail) != 2 || !isDigits(tail)) {
		return false
	}
	return len(head) == 8 && head[2] == ' ' && head[5] == ' ' && isDigits(head[:2]) && isDigits(head[3:5]) && isDigits(head[6:])
}

func isDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

// prose reads a page of text. Without a title in its front matter it bears
// that of its first heading, or its file's name.
func (r *reader) prose(front strict.Node) {
	m := front.Map(proseKeys.names)
	if n := m.Get("mark"); !n.IsZero() {
		r.mark(n)
	}
	r.common(m, false)
	r.sequence(m.Get("sequence"), "layer", nil)
	if r.d.Title == "" {
		r.d.Title = heading(r.d.Body)
	}
	if r.d.Title == "" {
		name := r.d.File[strings.LastIndexByte(r.d.File, '/')+1:]
		r.d.Title = strings.TrimSuffix(name, ".md")
	}
}

// heading returns the first line of a text if it is a heading.
func heading(body string) string {
	line, _, _ := strings.Cut(strings.TrimLeft(body, "\n"), "\n")
	rest := strings.TrimLeft(line, "#")
	if n := len(line) - len(rest); n == 0 || n > 6 || !strings.HasPrefix(rest, " ") {
		return ""
	}
	return strings.TrimSpace(strings.TrimRight(strings.TrimSpace(rest), "#"))
}
