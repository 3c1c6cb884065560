package material

import (
	"sort"
	"strings"

	"wythe/renderer/finding"
)

// Table is the built-in materials with the firm's own on top. It does not
// change once made, and is safe for use by several goroutines.
type Table struct {
	byName map[string]*Material
	also   map[string]string // another name to the name
	names  []string          // sorted
}

func (t *Table) sortNames() {
	t.names = make([]string, 0, len(t.byName))
	for n := range t.byName {
		t.names = append(t.names, n)
	}
	sort.Strings(t.names)
}

// Lookup returns the material of a name, or of another name the trade has for
// it. Letters count as written, runs of spaces as one.
func (t *Table) Lookup(name string) (*Material, bool) {
	if m, ok := t.find(name); ok {
		return m, true
	}
	if folded := strings.Join(strings.Fields(name), " "); folded != name {
		return t.find(folded)
	}
	return nil, false
}

func (t *Table) find(name string) (*Material, bool) {
	if m := t.byName[name]; m != nil {
		return m, true
	}
	if n, ok := t.also[name]; ok {
		return t.byName[n], true
	}
	return nil, false
}

// Names returns the names of all materials, sorted. It must not be changed.
func (t *Table) Names() []string { return t.names }

// Len returns the number of materials.
func (t *Table) Len() int { return len(t.names) }

// Others returns the other names of a material, sorted.
func (t *Table) Others(name string) []string {
	var out []string
	for other, n := range t.also {
		if n == name {
			out = append(out, other)
		}
	}
	sort.Strings(out)
	return out
}

// Suggest returns a mend for an unknown name: the nearest known name, or
// those that share a word with it.
func (t *Table) Suggest(name string) string {
	known := make([]string, 0, len(t.names)+len(t.also))
	known = append(known, t.names...)
	for other := range t.also {
		known = append(known, other)
	}
	if s := finding.DidYouMean(name, known); s != "" {
		return s
	}
	var near []string
	for _, word := range strings.Fields(name) {
		if len(word) < 3 {
			continue
		}
		for _, m := range t.Search(word) {
			if len(near) < 5 && !contains(near, m.Name) {
				near = append(near, m.Name)
			}
		}
	}
	if len(near) > 0 {
		return "known are: " + strings.Join(near, ", ")
	}
	return "add it to materials.yaml, or write it in place: material: {name: …, conductivity: …, hatch: …}"
}

// Search returns the materials whose name, other names, hatch, seal word or
// note hold the word, whatever its case, sorted by name. An empty word finds
// all.
func (t *Table) Search(word string) []*Material {
	word = strings.ToLower(strings.TrimSpace(word))
	found := map[string]bool{}
	for other, n := range t.also {
		if strings.Contains(strings.ToLower(other), word) {
			found[n] = true
		}
	}
	var out []*Material
	for _, n := range t.names {
		m := t.byName[n]
		if found[n] || strings.Contains(strings.ToLower(n), word) || strings.Contains(string(m.Hatch), word) ||
			strings.Contains(m.SealWord, word) || strings.Contains(strings.ToLower(m.Note), word) {
			out = append(out, m)
		}
	}
	return out
}

// with returns a table with own on top of t.
func (t *Table) with(own []*Material) *Table {
	if len(own) == 0 {
		return t
	}
	n := &Table{byName: make(map[string]*Material, len(t.byName)+len(own)), also: t.also}
	for k, m := range t.byName {
		n.byName[k] = m
	}
	for _, m := range own {
		n.byName[m.Name] = m
	}
	n.sortNames()
	return n
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
