package strict

import (
	"encoding/binary"

	"gopkg.in/yaml.v3"

	"wythe/renderer/finding"
)

// AppendSaved prints a value with all that is in it, for [Restore]. It must be
// of a text in which nothing was found wrong.
func (n Node) AppendSaved(b []byte) []byte {
	count, below := 0, 0
	var tally func(y *yaml.Node)
	tally = func(y *yaml.Node) {
		count++
		below += len(y.Content)
		for _, c := range y.Content {
			tally(c)
		}
	}
	if n.y != nil {
		tally(n.y)
	}
	b = binary.AppendUvarint(b, uint64(count))
	b = binary.AppendUvarint(b, uint64(below))
	var put func(y *yaml.Node)
	put = func(y *yaml.Node) {
		b = append(b, byte(y.Kind), byte(y.Style))
		b = binary.AppendUvarint(b, uint64(y.Line))
		b = binary.AppendUvarint(b, uint64(y.Column))
		b = binary.AppendUvarint(b, uint64(len(y.Value)))
		b = append(b, y.Value...)
		b = binary.AppendUvarint(b, uint64(len(y.Content)))
		for _, c := range y.Content {
			put(c)
		}
	}
	if n.y != nil {
		put(n.y)
	}
	return b
}

// Restore returns the value that was printed, and what follows it; ok is false
// for a text that is none. Findings go to list, as those of [Load] do.
func Restore(file, saved string, list *finding.List) (n Node, rest string, ok bool) {
	r := restorer{rest: saved}
	count, below := r.number(), r.number()
	if r.bad || count > MaxNodes || below > MaxNodes {
		return Node{}, "", false
	}
	d := &doc{file, list}
	if count == 0 {
		return Node{d: d}, r.rest, true
	}
	r.nodes, r.content = make([]yaml.Node, count), make([]*yaml.Node, below)
	y := r.node(0)
	if r.bad || len(r.nodes) > 0 || len(r.content) > 0 {
		return Node{}, "", false
	}
	return Node{y, d}, r.rest, true
}

type restorer struct {
	rest    string
	nodes   []yaml.Node  // not used yet
	content []*yaml.Node // likewise
	bad     bool
}

func (r *restorer) number() int {
	var v uint64
	for i := 0; i < len(r.rest) && i < 4; i++ {
		c := r.rest[i]
		v |= uint64(c&0x7f) << (7 * i)
		if c < 0x80 {
			r.rest = r.rest[i+1:]
			return int(v)
		}
	}
	r.bad = true
	return 0
}

func (r *restorer) node(depth int) *yaml.Node {
	if r.bad || len(r.nodes) == 0 || len(r.rest) < 2 || depth > MaxDepth+1 {
		r.bad = true
		return nil
	}
	y := &r.nodes[0]
	r.nodes = r.nodes[1:]
	y.Kind, y.Style = yaml.Kind(r.rest[0]), yaml.Style(r.rest[1])
	r.rest = r.rest[2:]
	y.Line, y.Column = r.number(), r.number()
	size := r.number()
	if r.bad || size > len(r.rest) || y.Kind != yaml.ScalarNode && y.Kind != yaml.MappingNode && y.Kind != yaml.SequenceNode {
		r.bad = true
		return nil
	}
	y.Value, r.rest = r.rest[:size], r.rest[size:]
	n := r.number()
	if r.bad || n > len(r.content) || y.Kind == yaml.ScalarNode && n > 0 || y.Kind == yaml.MappingNode && n%2 != 0 {
		r.bad = true
		return nil
	}
	y.Content, r.content = r.content[:n:n], r.content[n:]
	for i := range y.Content {
		y.Content[i] = r.node(depth + 1)
	}
	return y
}
