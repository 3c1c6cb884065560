package detail

import (
	"time"

	"wythe/renderer/finding"
	"wythe/renderer/strict"
)

// common reads the keys that every detail file may have.
func (r *reader) common(m strict.Map, needsTitle bool) {
	d := r.d
	if needsTitle && m.Get("title").IsZero() {
		m.Errorf("missing-key", "add \"title:\"", "%q is missing", "title")
	}
	d.Title = m.Get("title").Text()
	if n := m.Get("title"); d.Title == "" && n.IsText() {
		n.Errorf("empty-value", "write a title", "the title is empty")
	}
	d.Status = Draft
	if n := m.Get("status"); !n.IsZero() {
		if s, ok := strict.Word(n, "status", Draft, ForReview, Issued, Superseded); ok {
			d.Status = s
		}
	}
	r.successor = m.Get("superseded by")
	d.SupersededBy = r.successor.Text()
	d.UseFor = r.linkedTexts(m.Get("use for"))
	d.NotFor = r.linkedTexts(m.Get("not for"))
	d.Trades = m.Get("trades").Texts()
	d.Tags = m.Get("tags").Texts()
	d.References = m.Get("references").Texts()
	d.DrawnBy = m.Get("drawn by").Text()
	d.CheckedBy = m.Get("checked by").Text()
	d.IssuedFor = m.Get("issued for").Text()
	r.cautions(m.Get("cautions"))
	r.revisions(m.Get("revisions"))
	switch {
	case d.Status == Superseded && r.successor.IsZero():
		m.Get("status").Errorf("no-successor", "add \"superseded by:\" with the mark of the detail that takes its place", "a superseded detail names no successor")
	case d.Status != Superseded && !r.successor.IsZero():
		r.successor.Errorf("successor-but-not-superseded", "set \"status: superseded\", or take the key out", "a detail with a successor has status %q", d.Status)
	case d.Status == Issued && len(d.Revisions) == 0 && (d.Assembly != nil || d.Junction != nil):
		m.Get("status").Warnf("issued-without-revision", "add \"revisions:\" with rev, date and note", "an issued detail has no revision")
	}
}

// mostCautions of one detail: nobody reads more.
const mostCautions = 40

func (r *reader) cautions(n strict.Node) {
	items := n.OneOrMore()
	if len(items) > mostCautions {
		n.Errorf("too-many-values", "keep those that this work needs", "%d cautions are more than %d", len(items), mostCautions)
		items = items[:mostCautions]
	}
	for _, i := range items {
		word := i.Text()
		if word == "" {
			continue
		}
		if has(r.d.Cautions, word) {
			i.Errorf("stands-twice", "keep one of them", "caution %q stands twice", word)
			continue
		}
		r.d.Cautions = append(r.d.Cautions, word)
		if _, known := r.lib.Settings.Caution(word); !known && isCautionWord(word) {
			mend := finding.DidYouMean(word, r.lib.Settings.CautionWords())
			if mend == "" {
				mend = "add it to \"cautions:\" of library.yaml, or write the danger as a sentence"
			}
			i.Warnf("unknown-caution", mend, "no text is known for the caution %q", word)
		}
	}
}

// dateForm is how a date is written.
const dateForm = "2006-01-02"

// revisions reads the revision table, in either order, and keeps it newest
// first.
func (r *reader) revisions(n strict.Node) {
	items := n.List()
	if len(items) == 0 {
		return
	}
	nodes := make([]strict.Map, 0, len(items))
	list := make([]Revision, 0, len(items))
	for _, i := range items {
		m, ok := open(i, revisionKeys)
		if !ok {
			continue
		}
		v := Revision{
			Rev: m.Get("rev").Text(), Date: m.Get("date").Text(), Note: m.Get("note").Text(),
			Fingerprint: m.Get("fingerprint").Text(), At: m.At(),
		}
		if v.Rev != "" && !isRevision(v.Rev) {
			m.Get("rev").Errorf("bad-revision", "write a letter or a number: A, B, 12", "%q is no revision", v.Rev)
			continue
		}
		if v.Date != "" {
			if _, err := time.Parse(dateForm, v.Date); err != nil {
				m.Get("date").Errorf("bad-date", "write year-month-day: 2026-11-02", "%q is no date", v.Date)
				v.Date = ""
			}
		}
		for k := range list {
			if list[k].Rev == v.Rev && v.Rev != "" {
				m.Get("rev").Errorf("duplicate-revision", "keep one of them", "revision %s stands twice: the first is in line %d", v.Rev, list[k].At.Line)
			}
		}
		list, nodes = append(list, v), append(nodes, m)
	}
	// The order of the file: newest first unless its first two say otherwise.
	up := false
	for k := 1; k < len(list); k++ {
		if c := compareRevisions(list[k-1].Rev, list[k].Rev); c != 0 {
			up = c < 0
			break
		}
	}
	for k := 1; k < len(list); k++ {
		older, newer, at := &list[k], &list[k-1], nodes[k]
		if up {
			older, newer = newer, older
		}
		if compareRevisions(older.Rev, newer.Rev) > 0 {
			at.Get("rev").Errorf("revision-order", "list the newest first", "revision %s is out of order after %s", list[k].Rev, list[k-1].Rev)
		} else if older.Date != "" && newer.Date != "" && older.Date > newer.Date {
			at.Get("date").Errorf("revision-order", "correct one of the dates", "revision %s of %s is later than revision %s of %s", older.Rev, older.Date, newer.Rev, newer.Date)
		}
	}
	if up {
		for a, b := 0, len(list)-1; a < b; a, b = a+1, b-1 {
			list[a], list[b] = list[b], list[a]
		}
	}
	r.d.Revisions = list
}

// isRevision reports whether a text is a revision: up to three capitals and
// digits.
func isRevision(s string) bool {
	if s == "" || len(s) > 3 {
		return false
	}
	for i := range len(s) {
		if (s[i] < 'A' || s[i] > 'Z') && (s[i] < '0' || s[i] > '9') {
			return false
		}
	}
	return true
}

// compareRevisions orders A before B, Z before AA, 9 before 10; 0 where the
// two cannot be told apart.
func compareRevisions(a, b string) int {
	switch {
	case a == "" || b == "" || a == b || isLetter(a[0]) != isLetter(b[0]):
		return 0
	case len(a) != len(b):
		return len(a) - len(b)
	case a < b:
		return -1
	}
	return 1
}

func isLetter(c byte) bool { return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' }

// sequence reads the build sequence; known are the names that a step may show.
func (r *reader) sequence(n strict.Node, what string, known []string) {
	items := n.List()
	if len(items) == 0 {
		return
	}
	r.d.Sequence = make([]Step, 0, len(items))
	for _, i := range items {
		m, ok := open(i, stepKeys)
		if !ok {
			continue
		}
		s := Step{
			Do: r.text(m.Get("do")), Trade: m.Get("trade").Text(), Tools: m.Get("tools").Texts(), Materials: m.Get("materials").Texts(),
			Caution: r.text(m.Get("caution")), Hold: r.text(m.Get("hold")), ReleasedBy: m.Get("released by").Text(),
			Photo: m.Get("photo").Text(), At: m.At(),
		}
		if s.ReleasedBy != "" && s.Hold == "" {
			m.Get("released by").Errorf("released-without-hold", "add \"hold:\" with what must be seen, or take the key out", "nothing is held here to be released")
		}
		shows := m.Get("shows").OneOrMore()
		if len(shows) > 0 {
			s.Shows = make([]string, 0, len(shows))
		}
		for _, n := range shows {
			name := n.Text()
			switch {
			case name == "":
			case !has(known, name):
				unknownName(n, what, name, known)
			case has(s.Shows, name):
				n.Errorf("stands-twice", "keep one of them", "%q stands twice", name)
			default:
				s.Shows = append(s.Shows, name)
			}
		}
		r.d.Sequence = append(r.d.Sequence, s)
	}
}
