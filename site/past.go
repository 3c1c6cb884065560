package site

import (
	"encoding/json"
	"errors"
	"slices"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/memo"
	"wythe/renderer/trace"
	"wythe/site/revision"
)

// past is what the history says of the details that bear fingerprints.
type past struct {
	repo     *revision.Repo // nil: no history
	findings finding.List   // what cannot be seen
	issued   map[issueKey][]revision.Version
	// before are the revisions that were issued before the history begins.
	before map[issueKey]bool
}

type issueKey struct{ mark, rev string }

// past is what the history holds, read once.
func (l *Library) past() *past { return l.looked.get(l.lookBack, nil) }

// lookBack reads the history, once, as far as any detail bears a fingerprint.
func (l *Library) lookBack() *past {
	stamped := l.stamped()
	p := &past{issued: map[issueKey][]revision.Version{}, before: map[issueKey]bool{}}
	if len(stamped) == 0 || l.root == "" {
		return p
	}
	at := finding.Position{File: "library.yaml"}
	ahead := l.ahead
	if ahead == nil {
		ahead = readAhead(l.root, l.store)
	}
	repo, err := ahead.Repo()
	var none *revision.NoHistoryError
	if errors.As(err, &none) {
		p.findings.Warnf(at, "no-history", none.Mend, "revisions cannot be looked up: %s", none.Why)
		return p
	}
	if err == nil {
		err = p.read(stamped, ahead, repo, l.store)
	}
	if err != nil {
		p.findings.Warnf(at, "no-history", "see: git status", "revisions cannot be looked up: %v", err)
		return p
	}
	if repo.Shallow {
		p.findings.Warnf(at, "history-cut", "fetch all of it: git fetch --unshallow", "the history is cut short: revisions before its first commit are not looked for")
	}
	p.repo = repo
	return p
}

// stamped are the details that bear a fingerprint.
func (l *Library) stamped() []*entry {
	var list []*entry
	for _, e := range l.details {
		if slices.ContainsFunc(e.d.Revisions, func(r detail.Revision) bool { return revision.Readable(r.Fingerprint) }) {
			list = append(list, e)
		}
	}
	return list
}

// pastKey is where a store keeps what a history holds.
const pastKey = "history"

// kept is the past as a store keeps it: what is committed never changes, so
// that it holds as long as the commit at hand and the fingerprints looked for
// are the same.
type kept struct {
	State   string               // of the repository
	Of      string               // a hash of the revisions looked for
	Issued  [][]revision.Version // in the order of the revisions looked for
	Earlier []bool               // before the history
}

// readAhead begins to read the history, which goes on while the library is read.
func readAhead(root string, store *memo.Store) *revision.Ahead {
	return revision.ReadAhead(root, func(state string) bool {
		old, ok := keptPast(store)
		return ok && old.State == state
	})
}

func keptPast(store *memo.Store) (k kept, ok bool) {
	text, ok := store.Get(pastKey)
	return k, ok && json.Unmarshal([]byte(text), &k) == nil
}

// read finds every revision that bears a fingerprint, in a store or in the
// history itself.
func (p *past) read(stamped []*entry, ahead *revision.Ahead, repo *revision.Repo, store *memo.Store) error {
	var files, looked []string
	var keys []issueKey
	stamps := map[string][]string{}
	for _, e := range stamped {
		files = append(files, e.d.File)
		for _, r := range e.d.Revisions {
			stamps[e.d.File] = append(stamps[e.d.File], r.Fingerprint)
			looked = append(looked, e.d.File, e.d.Mark, r.Rev, r.Fingerprint)
			if revision.Readable(r.Fingerprint) {
				keys = append(keys, issueKey{e.d.Mark, r.Rev})
			}
		}
	}
	k := kept{State: repo.State(), Of: trace.Hash(looked...)}
	if old, ok := keptPast(store); ok && old.State == k.State && old.Of == k.Of && len(old.Issued) == len(keys) && len(old.Earlier) == len(keys) {
		p.take(keys, old)
		return nil
	}
	hist, err := ahead.History(stamps)
	if err == nil {
		err = hist.Load(files)
	}
	if err != nil {
		return err
	}
	for _, e := range stamped {
		for _, r := range e.d.Revisions {
			if !revision.Readable(r.Fingerprint) {
				continue
			}
			v := hist.Issued(e.d.File, e.d.Revisions, r.Rev)
			if len(v) == 0 {
				v = hist.Moved(e.d.Revisions, r.Rev)
			}
			k.Issued = append(k.Issued, v)
			k.Earlier = append(k.Earlier, len(v) == 0 && hist.Before(e.d.File, e.d.Revisions, r.Rev))
		}
	}
	p.take(keys, k)
	if store != nil {
		text, err := json.Marshal(k)
		if err != nil {
			panic("site: a history of words and marks is not set down: " + err.Error())
		}
		store.Put(pastKey, string(text))
	}
	return nil
}

func (p *past) take(keys []issueKey, k kept) {
	for i, key := range keys {
		if len(k.Issued[i]) > 0 {
			p.issued[key] = k.Issued[i]
		}
		p.before[key] = k.Earlier[i]
	}
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
