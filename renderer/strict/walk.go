package strict

import (
	"fmt"

	"gopkg.in/yaml.v3"
)

// walker checks every node once, before anyone reads it.
type walker struct {
	*doc
	nodes   int
	stopped bool
	quoted  []*yaml.Node // quoted and block scalars, in order of the file
}

func (w *walker) refuse(n *yaml.Node, rule, mend, format string, args ...any) {
	w.errorf(n.Line, n.Column, rule, mend, format, args...)
}

func (w *walker) walk(n *yaml.Node, depth int) {
	if w.stopped {
		return
	}
	if w.nodes++; w.nodes > MaxNodes {
		w.stopped = true
		w.refuse(n, "too-many-values", "part it into several files", "more than %d values", MaxNodes)
		return
	}
	if depth > MaxDepth {
		w.stopped = true
		w.refuse(n, "too-deep", "nothing in the language nests so deep", "more than %d levels", MaxDepth)
		return
	}
	if n.Kind == yaml.AliasNode {
		w.refuse(n, "alias", aliasMend, "aliases (*%s) are not allowed", n.Value)
		// From here on it is an empty text that draws no further complaint.
		*n = yaml.Node{Kind: yaml.ScalarNode, Tag: refusedTag, Style: yaml.DoubleQuotedStyle, Line: n.Line, Column: n.Column}
		return
	}
	if n.Anchor != "" {
		w.refuse(n, "anchor", "take &"+n.Anchor+" out; put text that begins with & in quotes", "anchors (&%s) are not allowed", n.Anchor)
	}
	if n.Style&yaml.TaggedStyle != 0 {
		w.refuse(n, "tag", "take it out; put text that begins with ! in quotes", "tags (%s) are not allowed", n.Tag)
	}
	switch n.Kind {
	case yaml.ScalarNode:
		if n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
			w.quoted = append(w.quoted, n)
		}
	case yaml.SequenceNode:
		for _, c := range n.Content {
			w.walk(c, depth+1)
		}
	case yaml.MappingNode:
		w.mapping(n, depth)
	}
}

func (w *walker) mapping(n *yaml.Node, depth int) {
	var seen map[string]*yaml.Node
	if len(n.Content) > 32 {
		seen = make(map[string]*yaml.Node, len(n.Content)/2)
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		switch {
		case key.Kind != yaml.ScalarNode:
			if key.Kind == yaml.AliasNode {
				w.walk(key, depth+1)
				break
			}
			w.refuse(key, "key-not-a-word", "put text that begins with { or [ in quotes", "a key must be a word")
		case key.Tag == "!!merge":
			w.refuse(key, "merge-key", "write the keys out", "merge keys (<<) are not allowed")
		default:
			w.walk(key, depth+1)
			var before *yaml.Node
			if seen != nil {
				before = seen[key.Value]
				seen[key.Value] = key
			} else {
				for j := 0; j < i; j += 2 {
					if n.Content[j].Value == key.Value && n.Content[j].Kind == yaml.ScalarNode {
						before = n.Content[j]
						break
					}
				}
			}
			if before != nil {
				w.refuse(key, "duplicate-key", "keep one of them", "%s", fmt.Sprintf("key %q stands twice: the first is in line %d", key.Value, before.Line))
			}
		}
		w.walk(value, depth+1)
	}
}
