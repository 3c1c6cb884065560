package site

import (
	"errors"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/site/revision"
)

// revisionFindings hold every detail's table of revisions to the detail as it
// stands, and to its history.
func (l *Library) revisionFindings() finding.List {
	var list finding.List
	var stamped []*entry
	for _, e := range l.details {
		n := 0
		for _, r := range e.d.Revisions {
			switch {
			case r.Fingerprint == "":
			case !revision.Readable(r.Fingerprint):
				list.Warnf(r.At, "unknown-fingerprint", "take it out; the program writes it: wythe revise "+e.d.Mark, "revision %s bears a fingerprint that this program cannot read", r.Rev)
			default:
				n++
			}
		}
		if n > 0 {
			stamped = append(stamped, e)
		}
	}
	if len(stamped) == 0 {
		return list
	}
	hist, repo := l.history(stamped, &list)
	for _, e := range stamped {
		l.checkRevisions(e, hist, repo, &list)
	}
	return list
}

// history reads that of files; nil where there is none. What cannot be seen is
// a finding.
func (l *Library) history(of []*entry, list *finding.List) (*revision.History, *revision.Repo) {
	at := finding.Position{File: "library.yaml"}
	repo, err := revision.OpenRepo(l.root)
	var none *revision.NoHistoryError
	if errors.As(err, &none) {
		list.Warnf(at, "no-history", none.Mend, "revisions cannot be looked up: %s", none.Why)
		return nil, nil
	}
	var hist *revision.History
	if err == nil {
		hist, err = repo.History()
	}
	if err == nil {
		files := make([]string, len(of))
		for i, e := range of {
			files[i] = e.d.File
		}
		err = hist.Load(files)
	}
	if err != nil {
		list.Warnf(at, "no-history", "see: git status", "revisions cannot be looked up: %v", err)
		return nil, nil
	}
	if repo.Shallow {
		list.Warnf(at, "history-cut", "fetch all of it: git fetch --unshallow", "the history is cut short: revisions before its first commit are not looked for")
	}
	return hist, repo
}

// checkRevisions holds one detail to its newest revision, and its revisions to
// the history.
func (l *Library) checkRevisions(e *entry, hist *revision.History, repo *revision.Repo, list *finding.List) {
	d := e.d
	last := d.Revisions[0]
	now := l.Fingerprint(d)
	changed := now != "" && revision.Readable(last.Fingerprint) && now != last.Fingerprint
	if hist == nil {
		if changed && d.Status == detail.Issued {
			l.changedSince(d, last, list)
		}
		return
	}
	for i, r := range d.Revisions {
		if !revision.Readable(r.Fingerprint) {
			continue
		}
		versions := hist.Issued(d.File, d.Revisions, r.Rev)
		if len(versions) == 0 {
			versions = hist.Moved(d.Revisions, r.Rev)
		}
		switch {
		case len(versions) > 0:
		case repo.Shallow:
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
		// Which of the two was changed, the detail or the fingerprint?
		if at, ok := issuedAs(repo, versions, d.Mark, r); !ok {
			list.Warnf(r.At, "fingerprint-mismatch", "write a new revision: wythe revise "+d.Mark, "revision %s of %s does not match its fingerprint, not in commit %s either", r.Rev, d.Mark, at.Short())
		} else if d.Status == detail.Issued {
			l.changedSince(d, last, list)
		}
	}
}

func (l *Library) changedSince(d *detail.Detail, last detail.Revision, list *finding.List) {
	list.Warnf(d.At, "changed-since-revision", "see: wythe compare; then: wythe revise "+d.Mark+" --note \"…\"", "%s is issued but changed since revision %s of %s", d.Mark, last.Rev, last.Date)
}

// mostLooks is how many commits are tried for the one that issued a revision.
const mostLooks = 8

// issuedAs finds the commit in which a detail has the fingerprint of a
// revision; false where none has, with the first that was tried.
func issuedAs(repo *revision.Repo, versions []revision.Version, mark string, r detail.Revision) (revision.Version, bool) {
	for i, v := range versions {
		if i == mostLooks {
			break
		}
		if lib := then(repo, v); lib != nil {
			if d := lib.Detail(mark); d != nil && lib.Fingerprint(d) == r.Fingerprint {
				return v, true
			}
		}
	}
	return versions[0], false
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
