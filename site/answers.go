package site

import (
	"strconv"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/trace"
)

// answers says what each read of an output gives in a library as it now
// stands, so that the output can be kept where all its reads give the same.
// Each is looked up once. It is safe for use by several goroutines.
type answers struct {
	v     view
	reads *trace.Reads
}

// answers returns those of a library; press may be nil.
func (l *Library) answers(p *press) *answers {
	a := &answers{reads: new(trace.Reads)}
	a.v = l.view(a.reads)
	if p != nil {
		a.reads.Record("theme", p.hash)
	}
	return a
}

// of returns the hash that a read has now, "" where that cannot be told
// without making the output anew.
func (a *answers) of(key string) string {
	if hash := a.reads.Hash(key); hash != "" {
		return hash
	}
	a.look(key)
	return a.reads.Hash(key)
}

// same reports whether all reads give what they gave.
func (a *answers) same(reads []trace.Read) bool {
	for _, r := range reads {
		if a.of(r.Key) != r.Hash {
			return false
		}
	}
	return len(reads) > 0
}

// look makes the look-up of a key again, which records its hash.
func (a *answers) look(key string) {
	kind, name, _ := strings.Cut(key, "/")
	v := a.v
	switch kind {
	case "settings":
		v.View.Settings()
	case "marks":
		v.Pattern()
	case "climate":
		v.View.Climate()
	case "material":
		v.View.Material(name)
	case "detail":
		v.View.Detail(name)
	case "mark":
		mark, rev, _ := strings.Cut(name, "/rev/")
		v.Has(mark, rev)
	case "spec":
		v.Spec(name)
	case "building":
		v.Building(name)
	case "prose":
		v.Prose(name)
	case "list":
		v.Cards(detail.Of(name))
	case "laid-in":
		v.LaidIn(name)
	case "uses":
		v.UsesMaterial(name)
	case "cited-in":
		v.CitedIn(name)
	case "replaces":
		v.Replaces(name)
	case "file":
		v.File(name)
	case "title":
		v.link(name)
	case "built-of":
		v.reads.Record(key, linkHash(v.builtOf[name]))
	case "page":
		if to := v.byFile[name]; to != nil {
			v.reads.Record(key, to.href)
		} else {
			v.reads.Record(key, trace.Missing)
		}
	case "standing":
		if d := v.lib.Detail(name); d != nil {
			v.standing(d)
		}
	case "history":
		if d := v.lib.Detail(name); d != nil {
			v.history(d)
		}
	case "issued":
		if i := strings.LastIndexByte(name, '/'); i > 0 {
			v.held(name[:i], name[i+1:])
		}
	case "revision":
		if i := strings.LastIndexByte(name, '/'); i > 0 {
			v.readRevisionAgain(name[:i], name[i+1:])
		}
	case "pin":
		if i := strings.LastIndexByte(name, '/'); i > 0 {
			v.pinned(name[:i], name[i+1:])
		}
	case "row", "joint", "register":
		v.facts.look(v, kind)
	case "index":
		if n, err := strconv.Atoi(name); err == nil && n < len(v.indexParts()) {
			v.listParts(n)
		} else if name == "" {
			v.listParts(-1)
		}
	case "element":
		v.element(name)
	case "before", "after":
		a.beside(kind, name)
	}
}

// beside records which detail stands before or after another.
func (a *answers) beside(side, mark string) {
	v := a.v
	for i, e := range v.details {
		n := i - 1
		if side == "after" {
			n = i + 1
		}
		next := trace.Missing
		if n >= 0 && n < len(v.details) {
			next = v.details[n].d.Mark
		}
		v.reads.Record(side+"/"+e.d.Mark, next)
	}
}

// say keeps what making a page found wrong with its text. Such a page is not
// kept at the next publish: it must say so again.
func (v view) say(e *entry, found finding.List) {
	e.said = found
	if len(found.Items) > 0 {
		v.reads.Record("said/"+e.d.File, trace.Missing)
	}
}

// held is the page of a revision, "" where the history does not hold it.
func (v view) held(mark, rev string) string {
	href := v.revisionHref(mark, rev)
	v.reads.Record("issued/"+mark+"/"+rev, yes(href != ""))
	return href
}

// history is the page of a detail's revisions, "" where none is held.
func (v view) history(d *detail.Detail) string {
	href := v.historyHref(d)
	v.reads.Record("history/"+d.Mark, yes(href != ""))
	return href
}
