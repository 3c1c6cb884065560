package strict

import (
	"strings"

	"gopkg.in/yaml.v3"

	"wythe/renderer/finding"
)

// Map is a value with keys. The zero Map has none.
type Map struct{ Node }

// Pair is one key and its value, in the order of the file.
type Pair struct{ Key, Value Node }

// Map returns a value as a map with the known keys. Another key is a finding
// that offers the nearest known one; so is a value that is no map.
func (n Node) Map(known []string) Map { return n.MapFunc(known, nil) }

// MapFunc is Map where other keys may be taken too: also says which
// ("bottom of board").
func (n Node) MapFunc(known []string, also func(key string) bool) Map {
	if n.y == nil {
		return Map{n}
	}
	if n.y.Kind != yaml.MappingNode {
		n.Errorf("not-a-map", "write it as key: value", "keys are needed here, not %s", n.kind())
		return Map{Node{nil, n.d}}
	}
	c := n.y.Content
keys:
	for i := 0; i+1 < len(c); i += 2 {
		key := c[i].Value
		for _, k := range known {
			if k == key {
				continue keys
			}
		}
		if c[i].Kind != yaml.ScalarNode || c[i].Tag == "!!merge" || also != nil && also(key) {
			continue
		}
		mend := finding.DidYouMean(key, known)
		if mend == "" {
			mend = "the keys here are: " + strings.Join(known, ", ")
		}
		Node{c[i], n.d}.Errorf("unknown-key", mend, "unknown key %q", key)
	}
	return Map{n}
}

// Get returns the value of a key; a zero Node if the key is not there. Of a
// duplicate key it is the first, which a finding has said already.
func (m Map) Get(key string) Node {
	if !m.IsMap() {
		return Node{nil, m.d}
	}
	for i := 0; i+1 < len(m.y.Content); i += 2 {
		if k := m.y.Content[i]; k.Value == key && k.Kind == yaml.ScalarNode {
			return Node{m.y.Content[i+1], m.d}
		}
	}
	return Node{nil, m.d}
}

// KeyAt returns the place of a key, or of the map if the key is not there.
func (m Map) KeyAt(key string) finding.Position {
	if m.IsMap() {
		for i := 0; i+1 < len(m.y.Content); i += 2 {
			if k := m.y.Content[i]; k.Value == key {
				return Node{k, m.d}.At()
			}
		}
	}
	return m.At()
}

// Has reports whether the key is there.
func (m Map) Has(key string) bool { return !m.Get(key).IsZero() }

// Need returns the value of a key that must be there; a missing one is a
// finding at the map.
func (m Map) Need(key string) Node {
	v := m.Get(key)
	if v.IsZero() && m.IsMap() {
		m.Errorf("missing-key", "add \""+key+":\"", "%q is missing", key)
	}
	return v
}

// Pairs returns the keys and values of a map, in the order of the file.
// Anything else is a finding.
func (n Node) Pairs() []Pair {
	if n.y == nil {
		return nil
	}
	if n.y.Kind != yaml.MappingNode {
		n.Errorf("not-a-map", "write it as key: value", "keys are needed here, not %s", n.kind())
		return nil
	}
	out := make([]Pair, 0, len(n.y.Content)/2)
	for i := 0; i+1 < len(n.y.Content); i += 2 {
		out = append(out, Pair{Node{n.y.Content[i], n.d}, Node{n.y.Content[i+1], n.d}})
	}
	return out
}

// OneKey returns the key and value of an item such as "- footing: {…}".
// Anything but a map with one key is a finding.
func (n Node) OneKey() (Pair, bool) {
	pairs := n.Pairs()
	switch {
	case len(pairs) == 1:
		return pairs[0], true
	case len(pairs) > 1:
		pairs[1].Key.Errorf("second-key", "begin a new item with \"- \", or put the keys in { }", "key %q stands beside %q, where an item has one name", pairs[1].Key.Written(), pairs[0].Key.Written())
		return pairs[0], true
	}
	return Pair{}, false
}
