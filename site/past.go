package site

import (
	"errors"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/site/revision"
)

// past is what the history says of the details that bear fingerprints.
type past struct {
	repo     *revision.Repo    // nil: no history
	hist     *revision.History // nil with repo
	findings finding.List      // what cannot be seen
	stamped  []*entry          // the details that bear one
	issued   map[issueKey][]revision.Version
}

type issueKey struct{ mark, rev string }

// lookBack reads the history, once, as far as any detail bears a fingerprint.
func (l *Library) lookBack() *past {
	p := &past{issued: map[issueKey][]revision.Version{}}
	for _, e := range l.details {
		for _, r := range e.d.Revisions {
			if revision.Readable(r.Fingerprint) {
				p.stamped = append(p.stamped, e)
				break
			}
		}
	}
	if len(p.stamped) == 0 || l.root == "" {
		return p
	}
	p.read(l.root)
	if p.hist == nil {
		return p
	}
	for _, e := range p.stamped {
		for _, r := range e.d.Revisions {
			if !revision.Readable(r.Fingerprint) {
				continue
			}
			v := p.hist.Issued(e.d.File, e.d.Revisions, r.Rev)
			if len(v) == 0 {
				v = p.hist.Moved(e.d.Revisions, r.Rev)
			}
			if len(v) > 0 {
				p.issued[issueKey{e.d.Mark, r.Rev}] = v
			}
		}
	}
	return p
}

func (p *past) read(root string) {
	at := finding.Position{File: "library.yaml"}
	repo, err := revision.OpenRepo(root)
	var none *revision.NoHistoryError
	if errors.As(err, &none) {
		p.findings.Warnf(at, "no-history", none.Mend, "revisions cannot be looked up: %s", none.Why)
		return
	}
	var hist *revision.History
	if err == nil {
		hist, err = repo.History()
	}
	if err == nil {
		files := make([]string, len(p.stamped))
		for i, e := range p.stamped {
			files[i] = e.d.File
		}
		err = hist.Load(files)
	}
	if err != nil {
		p.findings.Warnf(at, "no-history", "see: git status", "revisions cannot be looked up: %v", err)
		return
	}
	if repo.Shallow {
		p.findings.Warnf(at, "history-cut", "fetch all of it: git fetch --unshallow", "the history is cut short: revisions before its first commit are not looked for")
	}
	p.repo, p.hist = repo, hist
}

// revisionHref is the page of a revision, from the site's root; "" where the
// history does not hold it.
func (l *Library) revisionHref(mark, rev string) string {
	if len(l.past().issued[issueKey{mark, rev}]) == 0 {
		return ""
	}
	return revisionFile(mark, rev)
}

func revisionFile(mark, rev string) string { return folder(mark) + "/rev/" + rev + "/index.html" }

// historyHref is the page of a detail's revisions; "" where none is held.
func (l *Library) historyHref(d *detail.Detail) string {
	for _, r := range d.Revisions {
		if l.revisionHref(d.Mark, r.Rev) != "" {
			return folder(d.Mark) + "/rev/index.html"
		}
	}
	return ""
}
