// Package strict reads YAML as the file language has it: plain YAML with
// every trap shut, and a place in the file for every word.
//
// What is refused, each as a finding with file, line and column: aliases,
// anchors, merge keys, tags, second documents, duplicate keys, keys that are
// no plain words, text that is not UTF-8, control characters, more than
// [MaxBytes] of YAML, more than [MaxDepth] levels, more than [MaxNodes] values,
// and a # that would silently cut a text (see comment.go).
//
// Read a file with [Load], or a Markdown file's front matter with [Split].
// Both return the root [Node]. A Node is a small value; its methods add
// findings to the list given to Load and return zero values, so that a reader
// goes on to the next complaint:
//
//	root, ok := strict.Load("materials.yaml", data, &list)
//	for _, item := range root.List() {
//		m := item.Map(known)                    // unknown keys are findings
//		name := m.Need("material").Text()       // a missing key is a finding
//		d, ok := strict.Quantity(m.Get("thickness"), units.ParseLength)
//	}
//
// A scalar's Text is what was written, whatever YAML would make of it: 012,
// yes, .nan and 1:8 stay text.
package strict

import (
	"bytes"
	"errors"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"wythe/renderer/finding"
)

// Limits of one YAML text.
const (
	MaxBytes = 256 << 10
	MaxDepth = 32
	MaxNodes = 50_000
)

// doc is what all nodes of one file share.
type doc struct {
	file string
	list *finding.List
}

func (d *doc) errorf(line, column int, rule, mend, format string, args ...any) {
	d.list.Errorf(finding.Position{File: d.file, Line: line, Column: column}, rule, mend, format, args...)
}

// Load reads one YAML file. It returns false, with findings in list, if there
// is nothing to walk. An empty file gives an empty node and true.
func Load(file string, data []byte, list *finding.List) (Node, bool) {
	d := &doc{file, list}
	text, ok := d.clean(data)
	if !ok {
		return Node{}, false
	}
	return d.load(text)
}

// Split reads a Markdown file: the front matter between two lines of ---, and
// the body after it, with \n line ends, and the body's first line in the file.
// A file that does not begin with --- is all body, with an empty node.
// It returns false, with findings in list, if the file cannot be read; the
// body is then still given where it is known.
func Split(file string, data []byte, list *finding.List) (front Node, body string, bodyLine int, ok bool) {
	d := &doc{file, list}
	text, ok := d.clean(data)
	if !ok {
		return Node{d: d}, "", 1, false
	}
	first, _, _ := bytes.Cut(text, []byte("\n"))
	if !isFence(first) {
		return Node{d: d}, string(text), 1, true
	}
	line := 2
	for at := len(first) + 1; at < len(text); line++ {
		end := bytes.IndexByte(text[at:], '\n')
		next := at + end + 1
		if end < 0 {
			end, next = len(text)-at, len(text)
		}
		if isFence(text[at : at+end]) {
			front, ok = d.load(text[:at])
			return front, string(text[next:]), line + 1, ok
		}
		at = next
	}
	d.errorf(1, 1, "front-matter-open", "close it with a line of ---", "the front matter is not closed")
	return Node{d: d}, "", 1, false
}

// isFence reports whether a line is --- alone.
func isFence(line []byte) bool {
	return bytes.HasPrefix(line, []byte("---")) && len(bytes.TrimRight(line[3:], " \t")) == 0
}

// clean checks that data is UTF-8 without control characters, and returns it
// without a byte order mark and with \n line ends.
func (d *doc) clean(data []byte) ([]byte, bool) {
	if bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) {
		d.errorf(1, 1, "not-utf-8", "save the file as UTF-8", "the file is UTF-16")
		return nil, false
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if bytes.IndexByte(data, '\r') >= 0 {
		data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
		data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	}
	for i := 0; i < len(data); {
		c := data[i]
		if c >= 0x20 && c < 0x7f || c == '\n' || c == '\t' {
			i++
			continue
		}
		r, size := utf8.DecodeRune(data[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			line, column := place(data, i)
			d.errorf(line, column, "not-utf-8", "save the file as UTF-8", "byte 0x%02x is not UTF-8", c)
			return nil, false
		case r < 0x20 || r >= 0x7f && r < 0xa0 || r == 0xfeff || r == 0xfffe || r == 0xffff:
			line, column := place(data, i)
			d.errorf(line, column, "control-character", "take it out", "control character U+%04X", r)
			return nil, false
		}
		i += size
	}
	return data, true
}

// place returns the line and column, in characters from 1, of data[i].
func place(data []byte, i int) (line, column int) {
	start := bytes.LastIndexByte(data[:i], '\n') + 1
	return bytes.Count(data[:i], []byte("\n")) + 1, utf8.RuneCount(data[start:i]) + 1
}

func (d *doc) load(text []byte) (Node, bool) {
	if len(text) > MaxBytes {
		d.errorf(1, 1, "too-large", "part it into several files", "%d KB of YAML is more than the %d KB read", len(text)>>10, MaxBytes>>10)
		return Node{d: d}, false
	}
	dec := yaml.NewDecoder(bytes.NewReader(text))
	var first yaml.Node
	if err := dec.Decode(&first); err != nil {
		if errors.Is(err, io.EOF) {
			return Node{d: d}, true
		}
		d.syntax(text, err)
		return Node{d: d}, false
	}
	var second yaml.Node
	switch err := dec.Decode(&second); {
	case err == nil:
		d.errorf(max(second.Line, 1), max(second.Column, 1), "second-document", "make it a file of its own", "a second YAML document would be ignored")
		return Node{d: d}, false
	case !errors.Is(err, io.EOF):
		d.syntax(text, err)
		return Node{d: d}, false
	}
	if len(first.Content) == 0 {
		return Node{d: d}, true
	}
	root := first.Content[0]
	w := walker{doc: d}
	w.walk(root, 1)
	if w.stopped {
		return Node{d: d}, false
	}
	d.comments(text, w.quoted)
	return Node{root, d}, true
}

// refusedTag marks a value that a finding has refused already.
const refusedTag = "!refused"

const aliasMend = "write the value out; put text that begins with * in quotes"

// syntax reports what the YAML reader says, at its line, and the comment that
// may be behind it: a # inside { } hides the closing bracket.
func (d *doc) syntax(text []byte, err error) {
	line, says := 1, strings.TrimPrefix(err.Error(), "yaml: ")
	if rest, ok := strings.CutPrefix(says, "line "); ok {
		if n, after, ok := strings.Cut(rest, ": "); ok {
			if v, err := strconv.Atoi(n); err == nil {
				line, says = v, after
			}
		}
	}
	if name, ok := strings.CutPrefix(says, "unknown anchor '"); ok {
		name, _, _ = strings.Cut(name, "'")
		line, column := 1, 1
		if i := bytes.Index(text, []byte("*"+name)); i >= 0 {
			line, column = place(text, i)
		}
		d.errorf(line, column, "alias", aliasMend, "aliases (*%s) are not allowed", name)
		return
	}
	mend := "check the brackets, the quotes and the indentation here and in the line above"
	if strings.Contains(says, "mapping values are not allowed") {
		mend = "put text that holds \": \" in quotes, and give each key a line of its own"
	} else if strings.Contains(says, "found character that cannot start any token") {
		mend = "indent with spaces, and put text that begins with @, ` or % in quotes"
	}
	column := 1
	if l := lineAt(text, line); l != nil {
		column = len(l) - len(bytes.TrimLeft(l, " ")) + 1
	}
	d.errorf(line, column, "yaml-syntax", mend, "not YAML: %s", says)
	d.likelyComments(text)
}

// lineAt returns the n-th line of text, from 1, or nil.
func lineAt(text []byte, n int) []byte {
	for ; n > 1; n-- {
		i := bytes.IndexByte(text, '\n')
		if i < 0 {
			return nil
		}
		text = text[i+1:]
	}
	l, _, _ := bytes.Cut(text, []byte("\n"))
	return l
}
