package revision

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"wythe/renderer/detail"
)

// LayoutError says why an entry cannot be written into a file.
type LayoutError struct{ File, Why, Mend string }

func (e *LayoutError) Error() string { return e.File + ": " + e.Why + "\n\t" + e.Mend }

// Insert returns a file's bytes with an entry added to its revision table.
// Every other byte stays: comments, spacing, line ends, what was written how.
// The entry goes to the end where the table begins with its newest, and is
// laid out as the entry beside it: in one line, or a line for each key.
//
// Errors: *[LayoutError] where the front matter has no place for it.
func Insert(file string, data []byte, entry detail.Revision) ([]byte, error) {
	lines := splitLines(data)
	last := frontEnd(lines)
	if last < 0 {
		return nil, &LayoutError{file, "the file has no front matter", "begin it with a line of ---"}
	}
	var text bytes.Buffer
	for _, l := range lines[:last] {
		text.Write(l.text)
		text.WriteByte('\n')
	}
	e := &edit{file: file, lines: lines, end: last, entry: entry, newline: newlineOf(lines)}
	var doc yaml.Node
	if err := yaml.Unmarshal(text.Bytes(), &doc); err != nil {
		return nil, &LayoutError{file, "the front matter cannot be read", "mend it: wythe review"}
	}
	if len(doc.Content) == 0 || doc.Content[0].Kind != yaml.MappingNode || doc.Content[0].Style&yaml.FlowStyle != 0 {
		return nil, &LayoutError{file, "the front matter is not a list of keys, one a line", "write each key on a line of its own"}
	}
	top := doc.Content[0]
	for i := 0; i+1 < len(top.Content); i += 2 {
		if top.Content[i].Value == "revisions" {
			return e.into(top.Content[i], top.Content[i+1])
		}
	}
	indent := strings.Repeat(" ", top.Column-1)
	return e.before(e.end, indent+"revisions:", indent+"  - "+e.oneLine()), nil
}

// line is one line of a file without its end.
type line struct {
	text, end []byte
	from      int // in the file
}

func splitLines(data []byte) []line {
	var lines []line
	for at := 0; at < len(data); {
		i := bytes.IndexAny(data[at:], "\r\n")
		if i < 0 {
			lines = append(lines, line{data[at:], nil, at})
			break
		}
		n := 1
		if data[at+i] == '\r' && at+i+1 < len(data) && data[at+i+1] == '\n' {
			n = 2
		}
		lines = append(lines, line{data[at : at+i], data[at+i : at+i+n], at})
		at += i + n
	}
	return lines
}

// frontEnd returns the line that closes the front matter, or -1.
func frontEnd(lines []line) int {
	for i, l := range lines {
		text := l.text
		if i == 0 {
			text = bytes.TrimPrefix(text, []byte("\ufeff"))
			lines[0].text = text
			lines[0].from += len(l.text) - len(text)
		}
		fence := bytes.HasPrefix(text, []byte("---")) && len(bytes.TrimRight(text[3:], " \t")) == 0
		switch {
		case i == 0 && !fence:
			return -1
		case i > 0 && fence:
			return i
		}
	}
	return -1
}

func newlineOf(lines []line) string {
	if len(lines[0].end) > 0 {
		return string(lines[0].end)
	}
	return "\n"
}

// edit is one insertion on its way.
type edit struct {
	file    string
	lines   []line
	end     int // the closing line
	entry   detail.Revision
	newline string
}

// file bytes with lines put before line i.
func (e *edit) before(i int, put ...string) []byte {
	return e.at(e.lines[i].from, strings.Join(put, e.newline)+e.newline)
}

func (e *edit) at(offset int, put string) []byte {
	var out []byte
	first := 0
	if n := e.lines[0].from; n > 0 {
		first = n // the byte order mark
		out = append(out, "\ufeff"...)
	}
	whole := e.whole()
	out = append(out, whole[:offset-first]...)
	out = append(out, put...)
	return append(out, whole[offset-first:]...)
}

// whole is the file from its first line, without a byte order mark.
func (e *edit) whole() []byte {
	var b bytes.Buffer
	for _, l := range e.lines {
		b.Write(l.text)
		b.Write(l.end)
	}
	return b.Bytes()
}

// into adds the entry to a table that the file has.
func (e *edit) into(key, table *yaml.Node) ([]byte, error) {
	at := key.Line - 1
	switch {
	case table.Kind == yaml.ScalarNode && table.Tag == "!!null" && table.Value == "":
		return e.before(at+1, strings.Repeat(" ", key.Column-1)+"  - "+e.oneLine()), nil
	case table.Kind != yaml.SequenceNode:
		return nil, &LayoutError{e.file, "\"revisions:\" is no list", "write it as a list of entries"}
	case table.Style&yaml.FlowStyle != 0:
		return e.intoFlow(table)
	case len(table.Content) == 0:
		return nil, &LayoutError{e.file, "the list of revisions has no place for an entry", "take the key out and run again"}
	}
	first := table.Content[0]
	indent, ok := e.dash(first, key.Line)
	if !ok {
		return nil, &LayoutError{e.file, "the list of revisions is laid out in a way that cannot be added to", "begin each entry with \"- \" on a line of its own"}
	}
	entry := []string{indent + "- " + e.oneLine()}
	if first.Style&yaml.FlowStyle == 0 {
		entry = e.block(indent)
	}
	if !rising(table) {
		return e.before(at+1, entry...), nil
	}
	return e.before(e.afterTable(table), entry...), nil
}

// dash returns the blanks before the hyphen of a list's first entry.
func (e *edit) dash(item *yaml.Node, keyLine int) (string, bool) {
	for i := item.Line - 1; i >= keyLine && i < len(e.lines); i-- {
		text := string(e.lines[i].text)
		rest := strings.TrimLeft(text, " ")
		if strings.HasPrefix(rest, "- ") || rest == "-" {
			return text[:len(text)-len(rest)], true
		}
	}
	return "", false
}

// rising reports whether a table lists its oldest entry first.
func rising(table *yaml.Node) bool {
	var revs []string
	for _, item := range table.Content {
		for i := 0; item.Kind == yaml.MappingNode && i+1 < len(item.Content); i += 2 {
			if item.Content[i].Value == "rev" {
				revs = append(revs, item.Content[i+1].Value)
			}
		}
	}
	for i := 1; i < len(revs); i++ {
		a, b := revs[i-1], revs[i]
		if a != b {
			return len(a) < len(b) || len(a) == len(b) && a < b
		}
	}
	return false
}

// afterTable returns the line after the last that belongs to a table: the next
// line that is set in no deeper than the table's key, without the blank lines
// and comments that stand before it.
func (e *edit) afterTable(table *yaml.Node) int {
	last := lastLine(table)
	i := last
	for i < e.end {
		rest := bytes.TrimLeft(e.lines[i].text, " \t")
		if len(rest) == 0 || rest[0] == '#' {
			break
		}
		blanks := len(e.lines[i].text) - len(rest)
		if i >= last && blanks < table.Column-1 || blanks == table.Column-1 && !bytes.HasPrefix(rest, []byte("-")) {
			break
		}
		i++
	}
	return i
}

func lastLine(n *yaml.Node) int {
	last := n.Line
	for _, c := range n.Content {
		last = max(last, lastLine(c))
	}
	return last
}

// intoFlow adds the entry to a list in brackets.
func (e *edit) intoFlow(table *yaml.Node) ([]byte, error) {
	l := e.lines[table.Line-1]
	at := 0
	for range table.Column - 1 {
		if at >= len(l.text) {
			break
		}
		_, n := utf8.DecodeRune(l.text[at:])
		at += n
	}
	if at >= len(l.text) || l.text[at] != '[' {
		return nil, &LayoutError{e.file, "the list of revisions is laid out in a way that cannot be added to", "write an entry a line, each after a hyphen"}
	}
	if rising(table) {
		return nil, &LayoutError{e.file, "the list of revisions stands in brackets, oldest first", "list the newest first, or write an entry a line"}
	}
	put := e.oneLine()
	if len(table.Content) > 0 {
		put += ", "
	}
	return e.at(l.from+at+1, put), nil
}

func (e *edit) oneLine() string {
	return fmt.Sprintf("{rev: %s, date: %s, note: %s, fingerprint: %s}", plainRev(e.entry.Rev), e.entry.Date, quoted(e.entry.Note), e.entry.Fingerprint)
}

func (e *edit) block(indent string) []string {
	return []string{
		indent + "- rev: " + plainRev(e.entry.Rev),
		indent + "  date: " + e.entry.Date,
		indent + "  note: " + quoted(e.entry.Note),
		indent + "  fingerprint: " + e.entry.Fingerprint,
	}
}

// plainRev quotes the revisions that YAML would take for an answer.
func plainRev(rev string) string {
	switch rev {
	case "Y", "N", "ON", "NO", "YES":
		return `"` + rev + `"`
	}
	return rev
}

// quoted sets a note in double quotes, in one line.
func quoted(s string) string {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(strings.Join(strings.Fields(s), " ")); err != nil {
		panic("revision: a text that is no text: " + err.Error())
	}
	return strings.TrimSpace(b.String())
}
