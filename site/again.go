package site

import (
	"wythe/renderer/detail"
	"wythe/renderer/memo"
	"wythe/site/revision"
)

// Again opens a library again and again. What did not change is not worked
// out anew: neither files ([detail.Again]) nor figures. It is for one
// goroutine at a time; the libraries it opens are as those of [Open].
type Again struct {
	root string
	read *detail.Again
	last *Library
	// facts keeps what pages of the whole library show of each detail.
	facts *memo.Store
}

// NewAgain returns an opener of the library in a folder.
func NewAgain(root string) (*Again, error) {
	read, err := detail.NewAgain(root)
	if err != nil {
		return nil, err
	}
	return &Again{root: root, read: read, facts: memo.New()}, nil
}

// Close lets go of the folder.
func (a *Again) Close() error { return a.read.Close() }

// Open opens the library as it now is.
func (a *Again) Open() (*Library, error) {
	lib, err := a.read.Read()
	if err != nil {
		return nil, err
	}
	l := opened(lib)
	l.root, l.store = a.root, a.facts
	if a.last != nil {
		l.takeOver(a.last)
	}
	if err := l.openTheme(); err != nil {
		return nil, err
	}
	l.findPictures()
	l.checkFigureWords()
	a.last = l
	return l, nil
}

// takeOver takes from an earlier opening what is worked out of details that
// are made of the same files, under the same settings and climate.
func (l *Library) takeOver(last *Library) {
	if l.lib.Settings.Hash != last.lib.Settings.Hash || l.climateHash() != last.climateHash() {
		return
	}
	l.decoded = last.decoded
	sameIssues := true
	for _, e := range l.details {
		was := last.byMark[e.d.Mark]
		same := was != nil && was.broken == e.broken && was.d.File == e.d.File && e.d.SameReads(was.d)
		if same {
			if e.worked = was.worked; e.d.Junction != nil && e.worked.solved.kept() {
				l.fields.Add(1)
			}
		} else if stamped(e.d) || was != nil && stamped(was.d) {
			sameIssues = false
		}
	}
	if sameIssues && len(l.details) == len(last.details) {
		l.looked = last.looked
	}
}

func stamped(d *detail.Detail) bool {
	for _, r := range d.Revisions {
		if revision.Readable(r.Fingerprint) {
			return true
		}
	}
	return false
}

func (l *Library) climateHash() string { return l.answers(nil).of("climate") }
