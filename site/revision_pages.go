package site

import (
	"fmt"
	"html/template"
	"slices"
	"strconv"

	"wythe/renderer/detail"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/trace"
	"wythe/site/page"
	"wythe/site/revision"
)

// revisionPage draws a revision of a detail again from the commit that issued
// it. Its links lead to the library as it now is.
func (v view) revisionPage(e *entry, r detail.Revision) printed {
	mark := e.d.Mark
	p := v.past()
	versions := p.issued[issueKey{mark, r.Rev}]
	v.readRevision(e, r)
	at, old, matches := issuedAs(p.repo, versions, mark, r)
	address := revisionFile(mark, r.Rev)
	i := -1
	if old != nil {
		for k, o := range old.details {
			if o.d.Mark == mark {
				i = k
			}
		}
	}
	newest := e.d.Revisions[0].Rev == r.Rev
	lead := fmt.Sprintf("Revision %s of %s, drawn again from commit %s of %s.", r.Rev, day(r.Date), at.Short(), day(at.Date))
	if !matches {
		lead += " It does not match its fingerprint: it was changed after it was stamped."
	}
	current := &page.Link{Href: e.href, Text: mark}
	if !newest {
		current.Text = mark + " rev " + e.d.Revisions[0].Rev
		current.Note = "the current revision"
	}
	if i < 0 || old.details[i].broken {
		t := &page.Tables{Notices: []string{"This revision cannot be drawn: its file as committed has errors, or cannot be read."}, Superseded: current}
		t.Frame = page.Frame{Root: "../../../", Mark: mark, Title: e.d.Title, Lead: lead, Rev: r.Rev, Date: day(r.Date)}
		return t
	}
	old.asThen(v.Library, old.details[i], address)
	if !newest {
		old.details[i].d.Status = detail.Superseded // its drawing says so too
	}
	ov := old.view(nil)
	used := []page.Link{{Href: e.href, Text: mark, Note: "as it now stands"}}
	if h := v.history(e.d); h != "" {
		used = append(used, page.Link{Href: h, Text: "History", Note: "what each revision changed"})
	}
	dress := func(f *page.Frame) {
		f.Lead, f.Prev, f.Next, f.Rev, f.Date = lead, nil, nil, r.Rev, day(r.Date)
		if !newest {
			f.Status = detail.Superseded
		}
	}
	if old.details[i].d.Assembly != nil {
		a := ov.assemblyPage(i)
		dress(&a.Frame)
		a.Used = used
		if a.Superseded = nil; !newest {
			a.Superseded = current
		}
		return a
	}
	j := ov.sectionPage(i)
	dress(&j.Frame)
	j.Used = used
	if j.Superseded = nil; !newest {
		j.Superseded = current
	}
	return j
}

// readRevision records what a revision's page is made of: commits never change,
// and of the library that stands a page shows where its links lead.
func (v view) readRevision(e *entry, r detail.Revision) {
	parts := []string{v.backdrop(), r.Rev, r.Date, r.Note, r.Fingerprint, e.d.Revisions[0].Rev, e.d.Title, string(e.d.Status), e.href}
	for _, x := range v.past().issued[issueKey{e.d.Mark, r.Rev}] {
		parts = append(parts, x.Hash, x.Path)
	}
	v.reads.Record("revision/"+e.d.Mark+"/"+r.Rev, trace.Hash(parts...))
}

// readRevisionAgain makes the read of a revision again, if it is still there.
func (v view) readRevisionAgain(mark, rev string) {
	e := v.byMark[mark]
	if e == nil {
		return
	}
	for _, r := range e.d.Revisions {
		if r.Rev == rev {
			v.readRevision(e, r)
		}
	}
}

// hashBackdrop is of what a page of the past takes from the library that stands:
// the addresses and titles of its details, the pages of materials, and pictures.
func (l *Library) hashBackdrop() string {
	var parts []string
	for _, e := range l.details {
		parts = append(parts, e.d.Mark, e.href, e.name, e.d.Title)
	}
	for _, m := range l.materials {
		parts = append(parts, m.m.Name, m.href)
	}
	for _, name := range sortedKeys(l.pictures) {
		parts = append(parts, name, l.pictures[name])
	}
	return trace.Hash(parts...)
}

// asThen lets a library of the past lead to the pages of the one that stands.
func (l *Library) asThen(now *Library, e *entry, address string) {
	l.now = now
	l.theme, l.pictures = now.theme, now.pictures
	e.href, e.root = address, "../../../"
	for name := range l.byName {
		if now.byName[name] == nil {
			delete(l.byName, name)
		}
	}
	l.builtOf = nil
}

// historyPage shows what each revision of a detail changed.
func (v view) historyPage(e *entry) *page.Tables {
	p := v.past()
	d := e.d
	t := &page.Tables{}
	t.Frame = page.Frame{Root: "../../", Mark: d.Mark, Title: d.Title, Status: d.Status, Rev: d.Revisions[0].Rev, Date: day(d.Revisions[0].Date),
		Lead: "What each revision changed, in words, numbers and lines. Heavy lines came, dashed lines went."}
	var newer *Library
	var newerRev detail.Revision
	for _, r := range d.Revisions {
		versions := p.issued[issueKey{d.Mark, r.Rev}]
		v.readRevision(e, r)
		if len(versions) == 0 {
			continue
		}
		_, lib, _ := issuedAs(p.repo, versions, d.Mark, r)
		if lib == nil {
			continue
		}
		if newer != nil {
			t.Sections = append(t.Sections, v.changesSection(d.Mark, newerRev, r, lib, newer, len(t.Sections)))
		}
		newer, newerRev = lib, r
	}
	if newer != nil {
		t.Sections = append(t.Sections, page.TableSection{ID: "rev-" + newerRev.Rev, Title: "Revision " + newerRev.Rev, Small: day(newerRev.Date),
			Words: []string{newerRev.Note, "The oldest revision that the history holds."},
			Links: []page.Link{{Href: revisionFile(d.Mark, newerRev.Rev), Text: d.Mark + " rev " + newerRev.Rev}}})
	}
	t.Revisions = v.revisions(d)
	return t
}

func (v view) changesSection(mark string, r, before detail.Revision, was, is *Library, n int) page.TableSection {
	changes, lines := revision.Diff(was.side(was.Detail(mark)), is.side(is.Detail(mark)), is.Settings().Units)
	s := page.TableSection{
		ID: "rev-" + r.Rev, Title: "Revision " + r.Rev + " against " + before.Rev, Small: day(r.Date), Words: []string{r.Note},
		Heads: []page.Head{{Text: "What"}, {Text: "Before"}, {Text: "After"}},
		Links: []page.Link{{Href: revisionFile(mark, r.Rev), Text: mark + " rev " + r.Rev}, {Href: revisionFile(mark, before.Rev), Text: mark + " rev " + before.Rev}},
	}
	list := keysOf(changes)
	if lines == nil || !lines.Changed() {
		lines = nil
	}
	for _, c := range list {
		name := page.Cell{Text: capital(c.Title())}
		if sub := capital(c.What); sub != name.Text {
			name.Sub = sub
		}
		if c.Key > 0 && lines != nil {
			name.Sub += ", number " + strconv.Itoa(c.Key)
		}
		s.Rows = append(s.Rows, []page.Cell{name, {Text: orDash(c.Before)}, {Text: orDash(c.After)}})
	}
	if len(list) == 0 {
		s.Words = append(s.Words, "Nothing of it changed but its revision.")
	}
	if lines != nil {
		draw := func(prefix string, room changesRoom) template.HTML {
			picture := changesDrawing(mark, lines, list, is.Settings().Units, room)
			if picture == nil {
				return ""
			}
			return inline(picture, svg.Options{Prefix: prefix + strconv.Itoa(n+1)})
		}
		s.Picture, s.Phone = draw("c", changesWide), draw("d", changesPhone)
	}
	return s
}

func orDash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

// revisions fills the revision table, with links to those that are held.
func (v view) revisions(d *detail.Detail) []page.Revision {
	list := make([]page.Revision, len(d.Revisions))
	for i, r := range d.Revisions {
		list[i] = page.Revision{Rev: r.Rev, Date: day(r.Date), Note: r.Note, Fingerprint: revision.Short(r.Fingerprint)}
		if v.now == nil && r.Fingerprint != "" {
			list[i].Href = v.held(d.Mark, r.Rev)
		}
	}
	// What a revision changed is shown where one before it is held too.
	older := false
	for i, r := range slices.Backward(d.Revisions) {
		if list[i].Href == "" {
			continue
		}
		if older {
			list[i].Changed = v.history(d) + "#rev-" + r.Rev
		}
		older = true
	}
	return list
}

func yes(b bool) string {
	if b {
		return "there"
	}
	return trace.Missing
}
