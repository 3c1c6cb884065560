package tree

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// place is a tree's folder and the names kept beside it.
type place struct {
	shown  string // as the user wrote it
	dir    string // absolute, links resolved
	parent string
	aside  string // the next tree while it is written; after an exchange the last one
	old    string // the last tree, where there is no exchange
	lock   string
	swap   string // journal of a swap without exchange
}

// settlePlace resolves to and refuses folders that must not become a tree.
func settlePlace(to string, never []Place) (place, error) {
	refuse := func(why, mend string) (place, error) {
		return place{}, &PlaceError{to, why, mend}
	}
	const elsewhere = "name a folder of its own with --to, such as --to published"
	if to == "" {
		return refuse("no folder is named", elsewhere)
	}
	dir, err := resolve(to)
	if err != nil {
		return place{}, writeError(to, err)
	}
	if filepath.Dir(dir) == dir {
		return refuse("it is the root of the file system", elsewhere)
	}
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return refuse("it is a file", elsewhere)
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return place{}, writeError(to, err)
	}
	for _, n := range never {
		if n.Dir == "" {
			continue
		}
		kept, err := resolve(n.Dir)
		if err != nil {
			return place{}, writeError(n.Dir, err)
		}
		for up := kept; ; up = filepath.Dir(up) {
			if same(up, dir) {
				if up == kept {
					return refuse("it is "+n.Is, elsewhere)
				}
				return refuse("it holds "+n.Is+" ("+n.Dir+")", elsewhere)
			}
			if filepath.Dir(up) == up {
				break
			}
		}
	}
	parent, base := filepath.Split(dir)
	beside := func(suffix string) string { return filepath.Join(parent, "."+base+suffix) }
	return place{
		shown:  to,
		dir:    dir,
		parent: filepath.Clean(parent),
		aside:  beside(".wythe-aside"),
		old:    beside(".wythe-old"),
		lock:   beside(".wythe-lock"),
		swap:   beside(".wythe-swap"),
	}, nil
}

// same reports whether two paths are one folder, on systems too that do not
// tell capitals from small letters.
func same(a, b string) bool {
	if a == b {
		return true
	}
	ai, err := os.Stat(a)
	if err != nil {
		return false
	}
	bi, err := os.Stat(b)
	return err == nil && os.SameFile(ai, bi)
}

// resolve returns the absolute path with every link of what exists followed.
func resolve(p string) (string, error) {
	abs, err := filepath.Abs(p)
	if err != nil {
		return "", err
	}
	rest := ""
	for at := abs; ; {
		real, err := filepath.EvalSymlinks(at)
		if err == nil {
			return filepath.Join(real, rest), nil
		}
		if !errors.Is(err, fs.ErrNotExist) || filepath.Dir(at) == at {
			return "", err
		}
		rest = filepath.Join(filepath.Base(at), rest)
		at = filepath.Dir(at)
	}
}
