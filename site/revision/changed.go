package revision

import (
	"sort"
	"strings"
)

// Changed lists the files of the library that differ between two states, by
// name; to is nil for the folder as it stands, new files among them. Nothing
// is read but what git knows of them.
func (r *Repo) Changed(from Commit, to *Commit) ([]string, error) {
	args := []string{"diff", "--raw", "--no-abbrev", "--no-renames", "--no-ext-diff", "--no-textconv", "--ignore-submodules=all", "-z", from.Hash}
	if to != nil {
		args = append(args, to.Hash)
	}
	out, err := r.git(append(args, "--", r.scope())...)
	if err != nil {
		return nil, err
	}
	set := map[string]bool{}
	tokens := strings.Split(string(out), "\x00")
	for i := 0; i+1 < len(tokens); i++ {
		if !strings.HasPrefix(tokens[i], ":") {
			continue
		}
		i++
		if name, ok := r.inLibrary(tokens[i]); ok && belongs(name) {
			set[name] = true
		}
	}
	if to == nil {
		out, err := r.git("ls-files", "--others", "-z", "--", r.scope())
		if err != nil {
			return nil, err
		}
		for _, name := range strings.Split(string(out), "\x00") {
			if belongs(name) {
				set[name] = true
			}
		}
	}
	return sortedNames(set), nil
}

// naming lists the pages of a tree whose text holds one of some marks.
func (t *Tree) naming(marks []string) ([]string, error) {
	if len(marks) == 0 {
		return nil, nil
	}
	args := []string{"grep", "-l", "-z", "-I", "-F"}
	if t.blobs == nil {
		args = append(args, "--untracked", "--no-exclude-standard")
	}
	for _, m := range marks {
		args = append(args, "-e", m)
	}
	if t.blobs != nil {
		args = append(args, t.Commit.Hash)
	}
	out, err := t.repo.git(append(args, "--", t.repo.scope())...)
	if err != nil {
		// git grep ends with status 1, and says nothing, where nothing is found.
		if failed, ok := err.(*gitError); ok && failed.says == "" {
			return nil, nil
		}
		return nil, err
	}
	var list []string
	for _, name := range strings.Split(string(out), "\x00") {
		name = strings.TrimPrefix(name, t.Commit.Hash+":")
		if isPage(name) && t.has(name) {
			list = append(list, name)
		}
	}
	sort.Strings(list)
	return list, nil
}

// LastIssue returns the newest commit that issued a revision; false where the
// history that is here holds none.
func (r *Repo) LastIssue() (Commit, bool) {
	if r.head == "" {
		return Commit{}, false
	}
	for _, pattern := range []string{"fingerprint: *[0-9]+-[0-9a-f]{16}", "rev: *[A-Z0-9]"} {
		out, err := r.git("log", "-1", "-G"+pattern, "--no-ext-diff", "--no-textconv", "--no-show-signature", "--format=%H %cs", r.head, "--", r.scope())
		if err != nil {
			continue
		}
		if hash, date, ok := strings.Cut(strings.TrimSpace(string(out)), " "); ok {
			return Commit{hash, date}, true
		}
	}
	return Commit{}, false
}
