package detail

import (
	"sort"
	"strings"

	"wythe/renderer/finding"
	"wythe/renderer/strict"
)

// index places every file by mark, number, title or name, and says which
// stand twice. Of two the first in order of files is kept.
func (l *Library) index(readers []*reader) {
	l.broken = map[string]bool{}
	l.byMark = make(map[string]*Detail, len(readers))
	byCase := make(map[string]*reader, len(readers))
	sections, titles := map[string]*reader{}, map[string]*reader{}
	for _, r := range readers {
		d := r.d
		switch {
		case d == nil:
			if r.broken != "" {
				l.broken[r.broken] = true
			}
		case d.Spec != nil:
			if first := sections[d.Spec.Section]; first != nil && d.Spec.Section != "" {
				r.markNode.Errorf("duplicate-section", "keep one of the two files, or change the number", "section %s stands twice: also in %s", d.Spec.Section, first.d.File)
				continue
			}
			sections[d.Spec.Section] = r
			l.Specs = append(l.Specs, d)
		case d.Building != nil:
			if first := titles[d.Title]; first != nil {
				r.top.Get("title").Errorf("duplicate-building", "give each building a title of its own", "building %q stands twice: also in %s", d.Title, first.d.File)
				continue
			}
			titles[d.Title] = r
			l.Buildings = append(l.Buildings, d)
		case d.Assembly == nil && d.Junction == nil:
			l.Prose = append(l.Prose, d)
		}
		if d == nil || d.Mark == "" || !r.firstOfMark(byCase) {
			continue
		}
		l.byMark[d.Mark] = d
		if d.Assembly != nil || d.Junction != nil {
			l.Details = append(l.Details, d)
		}
	}
	sort.Slice(l.Details, func(a, b int) bool { return l.Details[a].Mark < l.Details[b].Mark })
	sort.Slice(l.Specs, func(a, b int) bool { return l.Specs[a].Spec.Section < l.Specs[b].Spec.Section })
	sort.Slice(l.Buildings, func(a, b int) bool { return l.Buildings[a].Title < l.Buildings[b].Title })
	l.markNames = make([]string, 0, len(l.byMark))
	for m := range l.byMark {
		l.markNames = append(l.markNames, m)
	}
	sort.Strings(l.markNames)
}

// firstOfMark reports whether no file before has the mark, in capitals or
// small letters: the two would fall on one address.
func (r *reader) firstOfMark(byCase map[string]*reader) bool {
	folded := strings.ToLower(r.d.Mark)
	first := byCase[folded]
	switch {
	case first == nil:
		byCase[folded] = r
		return true
	case first.d.Mark == r.d.Mark:
		r.markNode.Errorf("duplicate-mark", "give one of the two a mark of its own", "mark %s stands twice: also in %s", r.d.Mark, first.markNode.At())
	default:
		r.markNode.Errorf("duplicate-mark", "give one of the two a mark of its own", "mark %s differs from %s in %s in capitals only", r.d.Mark, first.d.Mark, first.markNode.At())
	}
	return false
}

// Detail returns the detail of a mark, or nil. It records nothing: pages read
// through a [View].
func (l *Library) Detail(mark string) *Detail { return l.byMark[mark] }

// Marks returns the marks of all details, sorted. It must not be changed.
func (l *Library) Marks() []string { return l.markNames }

// Pattern returns the library's mark pattern.
func (l *Library) Pattern() *Marks { return l.marks }

// checkTargets says which targets name a junction that is none.
func (l *Library) checkTargets(settings strict.Map) {
	for _, item := range settings.Get("targets").OneOrMore() {
		if !item.IsMap() {
			continue
		}
		n := strict.Map{Node: item}.Get("junction")
		if mark := n.Written(); mark != "" && mark != "any" {
			l.named(n, mark, isJunction)
		}
	}
}

// named returns the detail of a mark if it is of a kind; else a finding says
// what is wrong.
func (l *Library) named(n strict.Node, mark string, of func(*Detail) string) *Detail {
	d := l.byMark[mark]
	if d == nil && l.broken[mark] {
		return nil // its own file says what is wrong
	}
	if d == nil {
		mend := finding.DidYouMean(mark, l.markNames)
		if mend == "" {
			mend = "correct the mark, or write the detail"
		}
		n.Errorf("unknown-mark", mend, "no detail has the mark %q", mark)
		return nil
	}
	if fault := of(d); fault != "" {
		n.Errorf("wrong-kind", "name another mark", "%s %s", mark, fault)
		return nil
	}
	return d
}

func isJunction(d *Detail) string {
	if d.Junction == nil {
		return "is no junction: it has no parts"
	}
	return ""
}

func isAssembly(d *Detail) string {
	if d.Assembly == nil {
		return "is no assembly: it has no layers"
	}
	return ""
}

// checkSuccessor follows the chain of successors to one that stands.
func (r *reader) checkSuccessor() {
	n, mark := r.successor, r.d.SupersededBy
	if mark == "" {
		return
	}
	if mark == r.d.Mark {
		n.Errorf("successor-of-itself", "name the detail that takes its place", "%s cannot take its own place", mark)
		return
	}
	next := r.lib.named(n, mark, func(*Detail) string { return "" })
	for steps := 0; next != nil && next.SupersededBy != ""; steps++ {
		if next.SupersededBy == r.d.Mark || steps > len(r.lib.byMark) {
			n.Errorf("successor-of-itself", "let the chain end at a detail that stands", "the successors of %s lead back to it", r.d.Mark)
			return
		}
		next = r.lib.byMark[next.SupersededBy]
	}
}
