package revision

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/hands"
)

// Ahead is a history that is read in the background, while the library is.
type Ahead struct {
	done chan struct{}
	repo *Repo
	err  error // of opening the repository
	hist *History
	// clean are the blobs of files that stand as committed; nil: not looked for.
	clean map[string]string
}

// mostAhead is how many versions of files are read before it is known which of
// them are looked for.
const mostAhead = 20_000

// ReadAhead begins to read the history of the repository that a library's
// folder stands in, unless known says that what it holds is known already, by
// [Repo.State], or no file bears a fingerprint.
func ReadAhead(root string, known func(state string) bool) *Ahead {
	a := &Ahead{done: make(chan struct{})}
	go func() {
		defer close(a.done)
		if a.repo, a.err = OpenRepo(root); a.err != nil || known(a.repo.State()) || !stamped(root) {
			return
		}
		// What fails here is tried again, and said, where it is needed.
		var hist *History
		var err error
		hands.Both(func() { a.clean, _ = a.repo.Clean() }, func() { hist, err = a.repo.History() })
		if err == nil && hist.loadPast(a.clean, mostAhead) == nil {
			a.hist = hist
		}
	}()
	return a
}

// stamped reports whether a page of a library seems to bear a fingerprint.
func stamped(root string) (found bool) {
	_ = fs.WalkDir(os.DirFS(root), ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil: // the library says what cannot be read
			return nil
		case d.IsDir():
			if name != "." && (strings.HasPrefix(d.Name(), ".") || name == "published") {
				return fs.SkipDir
			}
		case isPage(name) && d.Type().IsRegular():
			if info, err := d.Info(); err != nil || info.Size() > detail.MaxFile {
				return nil
			}
			data, _ := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
			if found = bytes.Contains(data, []byte("fingerprint:")); found {
				return fs.SkipAll
			}
		}
		return nil
	})
	return found
}

// Repo waits for the repository, with the errors of [OpenRepo].
func (a *Ahead) Repo() (*Repo, error) {
	<-a.done
	return a.repo, a.err
}

// History is [Repo.History] of what was read ahead, or else of what is read
// now. stamps are the fingerprints that a file bears as it stands.
func (a *Ahead) History(stamps map[string][]string) (*History, error) {
	<-a.done
	hist := a.hist
	if hist == nil {
		var err error
		if hist, err = a.repo.History(); err != nil {
			return nil, err
		}
	}
	for file, blob := range a.clean {
		if list, ok := stamps[file]; ok {
			hist.Knows(blob, list)
		}
	}
	return hist, nil
}
