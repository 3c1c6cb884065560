package site

import (
	"slices"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/hands"
)

// Review reads a library, its history meanwhile, and returns everything that is
// wrong with it, sorted, and how many details it has. It takes what earlier runs
// of this program kept in the user's cache folder, and adds to it: where that
// cannot be written, the next run takes longer.
//
// Errors: those of reading the library.
func Review(root string) (list finding.List, details int, err error) {
	defer collectLate()()
	store := openStore(root)
	l, err := open(root, store, readAhead(root, store))
	if err != nil {
		return list, 0, err
	}
	hands.Both(func() {
		l.store.KeepAll()
		_ = l.store.Save() // what was read, while git reads
	}, func() { list = l.Review() })
	_ = l.store.Save() // what was worked out
	return list, l.Details(), nil
}

// Review returns everything that is wrong with a library that is open, sorted.
func (l *Library) Review() finding.List {
	go l.past() // git reads the history while the texts are read here
	list := l.textFindings()
	list.Add(l.firstFindings())
	list.Sort()
	return list
}

// textFindings are those of reading every text, several at a time. No figure
// is worked out for them: which figures there are is known before.
func (l *Library) textFindings() finding.List {
	var all []*entry
	l.entries(func(e *entry) { all = append(all, e) })
	v := l.view(nil)
	found := ofEach(all, func(e *entry) finding.List {
		if !linksIn(e.d) {
			return finding.List{} // marks and figures are given with their place in the file
		}
		ctx := v.context(e)
		ctx.Figure = func(string) (string, bool) { return "", true }
		return v.wordsIn(e, ctx).findings
	})
	var list finding.List
	for i := range found {
		list.Add(found[i])
	}
	return list
}

// ofEach makes something of each of some files, on all processors.
func ofEach[T any](list []*entry, of func(e *entry) T) []T {
	out := make([]T, len(list))
	hands.Each(len(list), func(i int) { out[i] = of(list[i]) })
	return out
}

// linksIn reports whether a file's texts may hold a link or a picture, which
// is what reading them can find fault with.
func linksIn(d *detail.Detail) bool {
	may := func(text string) bool { return strings.ContainsAny(text, "[<") }
	for i := range d.Sequence {
		if s := &d.Sequence[i]; may(s.Do) || may(s.Caution) || may(s.Hold) {
			return true
		}
	}
	return may(d.Body) || slices.ContainsFunc(d.Cautions, may) || slices.ContainsFunc(d.References, may)
}
