package revision

import (
	"bytes"
	"crypto/sha1"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"regexp"
	"slices"
	"sort"
	"strings"

	"wythe/renderer/detail"
)

// Version is a file of the library as one commit left it.
type Version struct {
	Commit
	Path string // from the library's root
	blob string
}

// Holds reports whether the version's file is made of these bytes.
func (v Version) Holds(data []byte) bool {
	h := sha1.New()
	if len(v.blob) == 2*sha256.Size {
		h = sha256.New()
	}
	fmt.Fprintf(h, "blob %d\x00", len(data))
	h.Write(data)
	return hex.EncodeToString(h.Sum(nil)) == v.blob
}

// History is the Markdown files of a library through its commits.
type History struct {
	repo  *Repo
	files map[string][]Version // newest first
	heads map[string][]byte    // front matter by blob
	// bearing are the versions that bear a fingerprint; nil: not looked for.
	bearing map[string][]Version
}

// History lists every commit that changed a Markdown file of the library, in
// one pass. No file is read yet.
func (r *Repo) History() (*History, error) {
	h := &History{repo: r, files: map[string][]Version{}, heads: map[string][]byte{}}
	if r.head == "" {
		return h, nil
	}
	out, err := r.git("log", "--full-history", "--raw", "--no-abbrev", "--no-renames", "--no-ext-diff", "--no-show-signature", "-z", "--format=%x01%H %cs", r.head, "--", r.scope())
	if err != nil {
		return nil, err
	}
	var commit Commit
	tokens := bytes.Split(out, []byte{0})
	for i := 0; i < len(tokens); i++ {
		t := string(bytes.TrimPrefix(tokens[i], []byte("\n")))
		if head, ok := strings.CutPrefix(t, "\x01"); ok {
			commit.Hash, commit.Date, _ = strings.Cut(head, " ")
			continue
		}
		if !strings.HasPrefix(t, ":") || i+1 >= len(tokens) {
			continue
		}
		i++
		fields := strings.Fields(t)
		name, ok := r.inLibrary(string(tokens[i]))
		if len(fields) < 5 || !ok || !isPage(name) || !strings.HasPrefix(fields[1], "100") {
			continue // gone in this commit, or no file
		}
		h.files[name] = append(h.files[name], Version{commit, name, fields[3]})
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

// Load reads the versions of files in one go.
func (h *History) Load(files []string) error {
	var want []string
	for _, f := range files {
		for _, v := range h.files[f] {
			if _, ok := h.heads[v.blob]; !ok {
				h.heads[v.blob] = nil
				want = append(want, v.blob)
			}
		}
	}
	got, err := h.repo.objects(want)
	if err != nil {
		return err
	}
	for blob, data := range got {
		h.heads[blob] = frontOf(data)
	}
	return nil
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
	own := []byte(revisions[at].Fingerprint)
	var out []Version
	for _, v := range versions {
		front := h.heads[v.blob]
		if !bytes.Contains(front, own) {
			continue
		}
		newer := false
		for _, r := range revisions[:at] {
			newer = newer || r.Fingerprint != "" && r.Fingerprint != revisions[at].Fingerprint && bytes.Contains(front, []byte(r.Fingerprint))
		}
		if !newer {
			out = append(out, v)
		}
	}
	return out
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

var anyFingerprint = regexp.MustCompile(`[0-9]+-[0-9a-f]{64}`)

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
			for _, f := range anyFingerprint.FindAll(h.heads[v.blob], -1) {
				h.bearing[string(f)] = append(h.bearing[string(f)], v)
			}
		}
	}
}
