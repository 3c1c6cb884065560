package strict

import (
	"errors"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"wythe/renderer/finding"
	"wythe/renderer/units"
)

// Node is one value of a file. The zero Node is a value that is not there: its
// methods return zero values and add no findings.
type Node struct {
	y *yaml.Node
	d *doc
}

// IsZero reports whether there is no value: a key that is not in the file, or
// an empty file.
func (n Node) IsZero() bool { return n.y == nil }

// IsMap, IsList and IsText report the kind of value.
func (n Node) IsMap() bool  { return n.y != nil && n.y.Kind == yaml.MappingNode }
func (n Node) IsList() bool { return n.y != nil && n.y.Kind == yaml.SequenceNode }
func (n Node) IsText() bool {
	return n.y != nil && n.y.Kind == yaml.ScalarNode && !n.IsEmpty()
}

// IsEmpty reports whether a key stands there without a value.
func (n Node) IsEmpty() bool {
	return n.y != nil && n.y.Kind == yaml.ScalarNode && n.y.Value == "" &&
		n.y.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) == 0
}

// At returns the place of the value's first character. For the zero Node it
// is the file, where that is known.
func (n Node) At() finding.Position {
	switch {
	case n.d == nil:
		return finding.Position{}
	case n.y == nil:
		return finding.Position{File: n.d.file}
	}
	return finding.Position{File: n.d.file, Line: n.y.Line, Column: n.y.Column}
}

// AtOffset returns the place of a byte of the value's text. In a block or a
// text of several lines it is the value's first character.
func (n Node) AtOffset(offset int) finding.Position {
	p := n.At()
	if n.y == nil || n.y.Kind != yaml.ScalarNode || offset <= 0 || strings.IndexByte(n.y.Value, '\n') >= 0 ||
		n.y.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		return p
	}
	if n.y.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0 {
		p.Column++
	}
	p.Column += utf8.RuneCountInString(n.y.Value[:min(offset, len(n.y.Value))])
	return p
}

// Errorf adds an error at the value, unless the value is refused already.
func (n Node) Errorf(rule, mend, format string, args ...any) {
	if n.d != nil && (n.y == nil || n.y.Tag != refusedTag) {
		n.d.list.Errorf(n.At(), rule, mend, format, args...)
	}
}

// Warnf adds a warning at the value.
func (n Node) Warnf(rule, mend, format string, args ...any) {
	if n.d != nil {
		n.d.list.Warnf(n.At(), rule, mend, format, args...)
	}
}

// Written returns the text of a scalar as written, without a complaint: "" if
// there is none.
func (n Node) Written() string {
	if n.y == nil || n.y.Kind != yaml.ScalarNode {
		return ""
	}
	return n.y.Value
}

// Text returns the text of a scalar. A list, a map or nothing after the key is
// a finding; a zero Node is not.
func (n Node) Text() string {
	switch {
	case n.y == nil:
		return ""
	case n.IsEmpty():
		n.Errorf("empty-value", "write a value after the key, or take the key out", "nothing is written here")
		return ""
	case n.y.Kind != yaml.ScalarNode:
		n.Errorf("not-text", "write it in one line; put text that begins with [ or { in quotes", "a text is needed here, not %s", n.kind())
		return ""
	}
	return n.y.Value
}

// List returns the items of a list. Anything else is a finding.
func (n Node) List() []Node {
	if n.y == nil {
		return nil
	}
	if n.y.Kind != yaml.SequenceNode {
		n.Errorf("not-a-list", "write each item in a line of its own after \"- \", or [one, two]", "a list is needed here, not %s", n.kind())
		return nil
	}
	return n.items()
}

// OneOrMore returns the items of a list, or the value alone.
func (n Node) OneOrMore() []Node {
	switch {
	case n.y == nil:
		return nil
	case n.y.Kind != yaml.SequenceNode:
		return []Node{n}
	}
	return n.items()
}

func (n Node) items() []Node {
	out := make([]Node, len(n.y.Content))
	for i, c := range n.y.Content {
		out[i] = Node{c, n.d}
	}
	return out
}

// Texts returns the texts of a list, or of one text alone.
func (n Node) Texts() []string {
	items := n.OneOrMore()
	if len(items) == 0 {
		return nil
	}
	out := make([]string, 0, len(items))
	for _, i := range items {
		if t := i.Text(); t != "" {
			out = append(out, t)
		}
	}
	return out
}

func (n Node) kind() string {
	switch {
	case n.y == nil || n.IsEmpty():
		return "nothing"
	case n.y.Kind == yaml.SequenceNode:
		return "a list"
	case n.y.Kind == yaml.MappingNode:
		return "a map of keys"
	}
	return "a text"
}

// Quantity reads a scalar with one of the parsers of units. What it says
// becomes a finding at the character that is wrong.
func Quantity[T any](n Node, parse func(string) (T, error)) (T, bool) {
	var zero T
	if n.y == nil {
		return zero, false
	}
	text := n.Text()
	if text == "" {
		if n.IsText() {
			n.Errorf("empty-value", "write a value after the key, or take the key out", "nothing is written here")
		}
		return zero, false
	}
	v, err := parse(text)
	if err != nil {
		n.Complain(err)
		return zero, false
	}
	return v, true
}

// Complain adds an error of units as a finding, at its place in the value.
func (n Node) Complain(err error) {
	if n.d == nil {
		return
	}
	var p *units.ParseError
	var r *units.RangeError
	switch {
	case errors.As(err, &p):
		n.d.list.Errorf(n.AtOffset(p.Offset), "bad-quantity", p.Mend, "%q: %s", p.Text, p.Message)
	case errors.As(err, &r):
		n.Errorf("out-of-range", "", "%v", r)
	default:
		n.Errorf("bad-value", "", "%v", err)
	}
}

// Word reads a scalar that must be one of the known words. Another is a
// finding that offers the nearest. what names it: "element".
func Word[T ~string](n Node, what string, known ...T) (T, bool) {
	text := n.Text()
	if text == "" {
		if n.IsText() {
			n.Errorf("empty-value", "write one of the words for it, or take the key out", "nothing is written here")
		}
		return "", false
	}
	for _, k := range known {
		if string(k) == text {
			return k, true
		}
	}
	words := make([]string, len(known))
	for i, k := range known {
		words[i] = string(k)
	}
	mend := finding.DidYouMean(text, words)
	if mend == "" {
		mend = "write one of: " + strings.Join(words, ", ")
	}
	n.Errorf("unknown-word", mend, "unknown %s %q", what, text)
	return "", false
}

// Bool reads true or false (also yes or no).
func (n Node) Bool() bool {
	switch w, _ := Word(n, "answer", "true", "false", "yes", "no"); w {
	case "true", "yes":
		return true
	}
	return false
}
