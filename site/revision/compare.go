package revision

import (
	"fmt"
	"sort"

	"wythe/renderer/detail"
)

// Pair is the two states that are compared, as far as they differ.
type Pair struct {
	From Commit
	To   *Commit // nil: the folder as it stands
	// Before and After hold the files that differ, the junctions that lay an
	// assembly that does, and what those are made of.
	Before, After *detail.Library
	// Marks are those of the details to compare, sorted: not all of them need
	// differ.
	Marks []string
	// Files are those that differ, sorted.
	Files []string
	// Says are what a reader must know: what cannot be seen, what holds for
	// every detail and changed.
	Says []string
}

// Pair reads what differs between two states; "" for from is the commit of the
// last issue, "" for to the folder as it stands. What is alike is not read.
//
// Errors: *[RefError]; *[NoHistoryError] where no issue is found.
func (r *Repo) Pair(from, to string) (*Pair, error) {
	p := &Pair{}
	var err error
	switch {
	case from != "":
		p.From, err = r.Resolve(from)
		if err != nil {
			return nil, err
		}
	default:
		var ok bool
		if p.From, ok = r.LastIssue(); !ok {
			why := "the history holds no issue of a detail"
			if r.Shallow {
				why = "the history is cut short: no issue of a detail is in what is here"
			}
			return nil, &NoHistoryError{why, "say what to compare with: wythe compare HEAD"}
		}
	}
	if to != "" {
		c, err := r.Resolve(to)
		if err != nil {
			return nil, err
		}
		p.To = &c
	}
	if r.Shallow {
		p.Says = append(p.Says, "The history is cut short: what was before its first commit cannot be seen. Fetch all of it: git fetch --unshallow")
	}
	if p.To != nil {
		if dirty, err := r.Dirty(); err == nil && len(dirty) > 0 {
			p.Says = append(p.Says, fmt.Sprintf("The folder holds changes that are not committed (%d files, first %s): they are not compared. Leave TO out to see them.", len(dirty), dirty[0]))
		}
	}
	before, err := r.At(p.From)
	if err != nil {
		return nil, err
	}
	var after *Tree
	if p.To != nil {
		after, err = r.At(*p.To)
	} else {
		after, err = r.Folder()
	}
	if err != nil {
		return nil, err
	}
	return p, p.read(r, before, after)
}

func (p *Pair) read(r *Repo, before, after *Tree) error {
	var err error
	if p.Files, err = r.Changed(p.From, p.To); err != nil {
		return err
	}
	candidates := map[string]bool{}
	for _, f := range p.Files {
		if isPage(f) {
			candidates[f] = true
			continue
		}
		p.Says = append(p.Says, f+" changed: it holds for every detail, so that all figures are compared.")
		for _, t := range []*Tree{before, after} {
			for _, n := range t.names {
				if isPage(n) {
					candidates[n] = true
				}
			}
		}
	}
	changed := sortedNames(candidates)
	var marks []string
	for _, t := range []*Tree{before, after} {
		if err := t.load(changed); err != nil {
			return err
		}
		for _, f := range changed {
			if m := markIn(t.cache[f]); m != "" {
				marks = append(marks, m)
			}
		}
	}
	sort.Strings(marks)
	marks = unique(marks)
	for _, t := range []*Tree{before, after} {
		naming, err := t.naming(marks)
		if err == nil {
			err = t.load(naming)
		}
		if err != nil {
			return err
		}
		for _, f := range naming {
			if t.restsOn(f, marks) {
				candidates[f] = true
			}
		}
	}
	files := sortedNames(candidates)
	if p.Before, err = before.Library(files); err != nil {
		return err
	}
	if p.After, err = after.Library(files); err != nil {
		return err
	}
	for _, lib := range []*detail.Library{p.Before, p.After} {
		for _, d := range lib.Details {
			if candidates[d.File] {
				p.Marks = append(p.Marks, d.Mark)
			}
		}
	}
	sort.Strings(p.Marks)
	p.Marks = unique(p.Marks)
	return nil
}

// unique drops repeats of a sorted list.
func unique(list []string) []string {
	out := list[:0]
	for i, s := range list {
		if i == 0 || s != list[i-1] {
			out = append(out, s)
		}
	}
	return out
}
