package site

import (
	"os"
	"path/filepath"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/site/revision"
)

// revisionFindings hold every detail's table of revisions to the detail as it
// stands, and to its history.
func (l *Library) revisionFindings() finding.List {
	var list finding.List
	for _, e := range l.details {
		for _, r := range e.d.Revisions {
			if r.Fingerprint != "" && !revision.Readable(r.Fingerprint) {
				list.Warnf(r.At, "unknown-fingerprint", "take it out; the program writes it: wythe revise "+e.d.Mark, "revision %s bears a fingerprint that this program cannot read", r.Rev)
			}
		}
	}
	stamped := l.stamped()
	now := ofEach(stamped, func(e *entry) string { return l.Fingerprint(e.d) })
	p := l.past()
	list.Add(p.findings)
	looks := 0
	for i, e := range stamped {
		looks = l.checkRevisions(e, now[i], p, looks, &list)
	}
	return list
}

// mostChecked is how many details of one review are read from the history, to
// tell a changed detail from a forged fingerprint.
const mostChecked = 64

// checkRevisions holds one detail to its newest revision, and its revisions to
// the history. looks counts the details read from it, and is returned.
func (l *Library) checkRevisions(e *entry, now string, p *past, looks int, list *finding.List) int {
	d := e.d
	last := d.Revisions[0]
	changed := now != "" && revision.Readable(last.Fingerprint) && now != last.Fingerprint
	if p.repo == nil {
		if changed && d.Status == detail.Issued {
			l.changedSince(d, last, list)
		}
		return looks
	}
	for i, r := range d.Revisions {
		if !revision.Readable(r.Fingerprint) {
			continue
		}
		versions := p.issued[issueKey{d.Mark, r.Rev}]
		switch {
		case len(versions) > 0:
		case p.repo.Shallow:
			continue
		case p.before[issueKey{d.Mark, r.Rev}]:
			list.Warnf(r.At, "revision-before-history", "keep the library with its whole history, or leave it: what stands now is not touched", "revision %s of %s was issued before the history begins, or the history was written anew: it cannot be drawn again", r.Rev, d.Mark)
			continue
		case i == 0 && !changed:
			list.Warnf(r.At, "revision-not-committed", "commit "+d.File+", so that the revision can be drawn again later", "revision %s of %s is not in the history yet", r.Rev, d.Mark)
			continue
		default:
			list.Warnf(r.At, "revision-not-found", "find the commit that issued it, or take the fingerprint out", "no commit of the history issues revision %s of %s: it was written anew, or never committed", r.Rev, d.Mark)
			continue
		}
		if i > 0 || !changed {
			continue
		}
		// A file that is not as it was issued has changed; of one that is, the
		// fingerprint may be at fault, or an assembly that it lays.
		if looks == mostChecked || !l.asIssued(d, versions) {
			if d.Status == detail.Issued {
				l.changedSince(d, last, list)
			}
			continue
		}
		looks++
		if at, _, ok := issuedAs(p.repo, versions, d.Mark, r); !ok {
			list.Warnf(r.At, "fingerprint-mismatch", "write a new revision: wythe revise "+d.Mark, "revision %s of %s does not match its fingerprint, not in commit %s either", r.Rev, d.Mark, at.Short())
		} else if d.Status == detail.Issued {
			l.changedSince(d, last, list)
		}
	}
	return looks
}

// asIssued reports whether a detail's file is byte for byte that of the newest
// of some versions.
func (l *Library) asIssued(d *detail.Detail, versions []revision.Version) bool {
	data, err := os.ReadFile(filepath.Join(l.root, filepath.FromSlash(d.File)))
	return err == nil && versions[len(versions)-1].Holds(data)
}

func (l *Library) changedSince(d *detail.Detail, last detail.Revision, list *finding.List) {
	list.Warnf(d.At, "changed-since-revision", "see: wythe compare; then: wythe revise "+d.Mark+" --note \"…\"", "%s is issued but changed since revision %s of %s", d.Mark, last.Rev, last.Date)
}

// mostLooks is how many commits are tried for the one that issued a revision.
const mostLooks = 8

// issuedAs finds the commit in which a detail has the fingerprint of a
// revision, with the library as it then was; false where none has, with the
// first that can be read. The library is nil where none can.
func issuedAs(repo *revision.Repo, versions []revision.Version, mark string, r detail.Revision) (revision.Version, *Library, bool) {
	var first *Library
	at := versions[0]
	for i, v := range versions {
		if i == mostLooks {
			break
		}
		lib := then(repo, v)
		if lib == nil || lib.Detail(mark) == nil {
			continue
		}
		if lib.Fingerprint(lib.Detail(mark)) == r.Fingerprint {
			return v, lib, true
		}
		if first == nil {
			at, first = v, lib
		}
	}
	return at, first, false
}

// then is the library as a commit has it, as far as one file needs it; nil
// where it cannot be read.
func then(repo *revision.Repo, v revision.Version) *Library {
	tree, err := repo.At(v.Commit)
	if err != nil {
		return nil
	}
	lib, err := tree.Library([]string{v.Path})
	if err != nil {
		return nil
	}
	return opened(lib)
}
