package detail

import "strings"

// Key is one key that a map of the file language may have.
type Key struct {
	Name string
	// Form is what the value is: text, number, count, answer (yes or no), mark,
	// edge, point, a quantity ("length", "area", …), one word of Words, a map
	// of another kind ("map of framing"), or several ("list of text"). Forms
	// that may be either are joined by " or ".
	Form  string
	Says  string // one line for a writer
	Words []string
	Must  bool // the key must be there
}

// Keys is the keys of one kind of map. It is what the reader knows: a key
// that is not here is a finding.
type Keys struct {
	Kind  string // "assembly", "layer", "part", …
	Says  string
	List  []Key
	names []string
}

// Names returns the names of the keys in order. They must not be changed.
func (k *Keys) Names() []string { return k.names }

// Kinds returns the keys of every kind of map, in the order in which a
// reference page shows them. They must not be changed.
func Kinds() []*Keys { return kinds }

var kinds []*Keys

// keysOf makes a kind from lines of "name | form | says"; a name with a star
// must be there. "one of a, b" in a form gives the words.
func keysOf(kind, says, table string) *Keys {
	k := &Keys{Kind: kind, Says: says}
	for _, line := range strings.Split(strings.TrimSpace(table), "\n") {
		cells := strings.SplitN(line, "|", 3)
		if len(cells) != 3 {
			panic("detail: keys of " + kind + ": line " + line)
		}
		key := Key{Name: strings.TrimSpace(cells[0]), Form: strings.TrimSpace(cells[1]), Says: strings.TrimSpace(cells[2])}
		if name, ok := strings.CutPrefix(key.Name, "*"); ok {
			key.Name, key.Must = name, true
		}
		if i := strings.Index(key.Form, "one of "); i >= 0 {
			words, other, either := strings.Cut(key.Form[i+len("one of "):], " or ")
			key.Words = strings.Split(words, ", ")
			key.Form = key.Form[:i] + "word"
			if either {
				key.Form += " or " + other
			}
		}
		k.List = append(k.List, key)
	}
	k.name()
	kinds = append(kinds, k)
	return k
}

// with adds the keys of another kind.
func (k *Keys) with(other *Keys) *Keys {
	k.List = append(k.List, other.List...)
	k.name()
	return k
}

func (k *Keys) name() {
	k.names = make([]string, len(k.List))
	for i := range k.List {
		k.names[i] = k.List[i].Name
	}
}

// words returns the words of a key. It panics if the key has none: that is a
// slip of this package.
func (k *Keys) words(name string) []string {
	for i := range k.List {
		if k.List[i].Name == name && k.List[i].Words != nil {
			return k.List[i].Words
		}
	}
	panic("detail: " + k.Kind + " has no words for " + name)
}
