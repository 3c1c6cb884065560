package revision

import (
	"bytes"
	"crypto/sha1"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"sort"
	"strings"

	"wythe/renderer/detail"
)

// Version is a file of the library as one commit left it.
type Version struct {
	Commit
	Path string // from the library's root
	Blob string // the hash of its bytes
}

// Holds reports whether the version's file is made of these bytes.
func (v Version) Holds(data []byte) bool {
	h := sha1.New()
	if len(v.Blob) == 2*sha256.Size {
		h = sha256.New()
	}
	fmt.Fprintf(h, "blob %d\x00", len(data))
	h.Write(data)
	return hex.EncodeToString(h.Sum(nil)) == v.Blob
}

// History is the Markdown files of a library through its commits.
type History struct {
	repo  *Repo
	files map[string][]Version // newest first
	// heads are the fingerprints in the front matter of the blobs that were read.
	heads map[string][]string
	// bearing are the versions that bear a fingerprint; nil: not looked for.
	bearing map[string][]Version
}

// History lists every commit that changed a Markdown file of the library, in
// one pass. No file is read yet.
func (r *Repo) History() (*History, error) {
	h := &History{repo: r, files: map[string][]Version{}, heads: map[string][]string{}}
	if r.head == "" {
		return h, nil
	}
	args := []string{"log", "--full-history", "--raw", "--no-abbrev", "--no-renames", "--no-ext-diff", "--no-show-signature", "-z", "--format=%x01%H %cs", r.head}
	if r.prefix != "" {
		args = append(args, "--", r.scope()) // git passes over commits faster without
	}
	out, err := r.git(args...)
	if err != nil {
		return nil, err
	}
	var commit Commit
	next := func() (token []byte, ok bool) {
		token, out, ok = bytes.Cut(out, []byte{0})
		return token, ok
	}
	for t, more := next(); more || len(t) > 0; t, more = next() {
		t = bytes.TrimPrefix(t, []byte("\n"))
		if head, ok := bytes.CutPrefix(t, []byte{1}); ok {
			commit.Hash, commit.Date, _ = strings.Cut(string(head), " ")
			continue
		}
		if len(t) == 0 || t[0] != ':' {
			continue
		}
		path, _ := next()
		var fields [5][]byte // the modes, the blobs, the kind of change
		for i := range fields {
			fields[i], t, _ = bytes.Cut(t, []byte(" "))
		}
		name, ok := r.inLibrary(string(path))
		if len(fields[4]) == 0 || !ok || !isPage(name) || !bytes.HasPrefix(fields[1], []byte("100")) {
			continue // gone in this commit, or no file
		}
		h.files[name] = append(h.files[name], Version{commit, name, string(fields[3])})
	}
	return h, nil
}

// isPage reports whether a library reads a file as a page.
func isPage(name string) bool {
	if !strings.HasSuffix(strings.ToLower(name), ".md") || strings.HasPrefix(name, "published/") {
		return false
	}
	for _, part := range strings.Split(name, "/") {
		if strings.HasPrefix(part, ".") {
			return false
		}
	}
	return true
}

// Knows is told the fingerprints of a blob, which [History.Load] then need not
// read.
func (h *History) Knows(blob string, fingerprints []string) { h.heads[blob] = fingerprints }

// loadPast reads the versions of all files but those that stand, as far as they
// are not more than most: a few files may then bear all the fingerprints.
func (h *History) loadPast(standing map[string]string, most int) error {
	var files []string
	n := 0
	for name, versions := range h.files {
		files = append(files, name)
		n += len(versions)
	}
	if n > most {
		return nil
	}
	sort.Strings(files)
	later := map[string]bool{}
	for _, blob := range standing {
		later[blob] = true
	}
	return h.load(files, later)
}

// Load reads the versions of files in one go.
func (h *History) Load(files []string) error { return h.load(files, nil) }

// load is Load, which leaves some blobs for later.
func (h *History) load(files []string, later map[string]bool) error {
	var want []string
	for _, f := range files {
		for _, v := range h.files[f] {
			if _, ok := h.heads[v.Blob]; !ok && !later[v.Blob] {
				h.heads[v.Blob] = nil
				want = append(want, v.Blob)
			}
		}
	}
	return h.repo.eachObject(want, func(blob string, data []byte) { h.heads[blob] = fingerprintsIn(frontOf(data)) })
}

// fingerprintsIn lists what looks like a fingerprint: a number, a hyphen, and
// 64 digits of hex.
func fingerprintsIn(front []byte) []string {
	var out []string
	for at := 0; ; {
		i := bytes.IndexByte(front[at:], '-')
		if i < 0 {
			return out
		}
		i += at
		at = i + 1
		from, to := i, i+1
		for from > 0 && front[from-1] >= '0' && front[from-1] <= '9' {
			from--
		}
		for to < len(front) && (front[to] >= '0' && front[to] <= '9' || front[to] >= 'a' && front[to] <= 'f') {
			to++
		}
		if from < i && to-i-1 == 2*sha256.Size {
			out, at = append(out, string(front[from:to])), to
		}
	}
}

// frontOf returns a file's front matter.
func frontOf(data []byte) []byte {
	if bytes.IndexByte(data, '\r') < 0 { // the usual file, without parting its lines
		first, _, _ := bytes.Cut(bytes.TrimPrefix(data, []byte("\ufeff")), []byte("\n"))
		if !bytes.HasPrefix(first, []byte("---")) || len(bytes.TrimRight(first[3:], " \t")) > 0 {
			return nil
		}
		for at := 0; ; {
			i := bytes.Index(data[at:], []byte("\n---"))
			if i < 0 {
				return nil
			}
			at += i + 1
			line, _, _ := bytes.Cut(data[at:], []byte("\n"))
			if len(bytes.TrimRight(line[3:], " \t")) == 0 {
				return data[:at]
			}
		}
	}
	lines := splitLines(data)
	if end := frontEnd(lines); end > 0 {
		return data[:lines[end].from]
	}
	return nil
}

// Issued returns the versions of a detail's file in which a revision is the
// newest of its table, oldest first: the first is the commit that issued it.
// The file must have been loaded. Where it stood under another name before, or
// the history is cut or was written anew, there is none.
func (h *History) Issued(file string, revisions []detail.Revision, rev string) []Version {
	out := h.newest(h.files[file], revisions, rev)
	for a, b := 0, len(out)-1; a < b; a, b = a+1, b-1 {
		out[a], out[b] = out[b], out[a]
	}
	return out
}

// newest keeps the versions in which a revision is the newest of the table.
func (h *History) newest(versions []Version, revisions []detail.Revision, rev string) []Version {
	at := slices.IndexFunc(revisions, func(r detail.Revision) bool { return r.Rev == rev })
	if at < 0 || revisions[at].Fingerprint == "" {
		return nil
	}
	var out []Version
	for _, v := range versions {
		if has, newest := h.bears(v, revisions, at); has && newest {
			out = append(out, v)
		}
	}
	return out
}

// bears reports whether a version bears a revision, and none that is newer.
func (h *History) bears(v Version, revisions []detail.Revision, at int) (has, newest bool) {
	stamps, own := h.heads[v.Blob], revisions[at].Fingerprint
	if !slices.Contains(stamps, own) {
		return false, false
	}
	for _, r := range revisions[:at] {
		if r.Fingerprint != "" && r.Fingerprint != own && slices.Contains(stamps, r.Fingerprint) {
			return true, false
		}
	}
	return true, true
}

// Before reports whether the first version of a detail's file that the history
// holds bears a revision beneath a newer one: it was issued before.
func (h *History) Before(file string, revisions []detail.Revision, rev string) bool {
	versions := h.files[file]
	at := slices.IndexFunc(revisions, func(r detail.Revision) bool { return r.Rev == rev })
	if len(versions) == 0 || at < 0 || revisions[at].Fingerprint == "" {
		return false
	}
	has, newest := h.bears(versions[len(versions)-1], revisions, at)
	return has && !newest
}

// Moved looks for a revision in files of other names, by its fingerprint, for
// those that [History.Issued] misses. The first call reads every version of
// every file.
func (h *History) Moved(revisions []detail.Revision, rev string) []Version {
	if h.bearing == nil {
		h.findBearing()
	}
	for _, r := range revisions {
		if r.Rev == rev && Readable(r.Fingerprint) {
			return h.newest(h.bearing[r.Fingerprint], revisions, rev)
		}
	}
	return nil
}

// findBearing notes which versions bear which fingerprint, oldest first.
func (h *History) findBearing() {
	h.bearing = map[string][]Version{}
	names := make([]string, 0, len(h.files))
	for name := range h.files {
		names = append(names, name)
	}
	sort.Strings(names)
	if h.Load(names) != nil {
		return // what is not read is not found
	}
	for _, name := range names {
		for _, v := range slices.Backward(h.files[name]) {
			for _, f := range h.heads[v.Blob] {
				h.bearing[f] = append(h.bearing[f], v)
			}
		}
	}
}
