package revision

import (
	"io"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"sort"
	"strings"

	"gopkg.in/yaml.v3"

	"wythe/renderer/detail"
)

// Tree is a state of a library: a commit, or the folder as it stands. Files
// are read when they are asked for.
type Tree struct {
	repo   *Repo
	Commit Commit            // zero: the folder as it stands
	names  []string          // all files of the library, sorted
	blobs  map[string]string // by name; nil for the folder
	cache  map[string][]byte
	marks  map[string]string // file by mark; nil: not looked for yet
	root   *os.Root          // for the folder

	compiled *detail.Marks // the pattern of marks
}

// At returns the library as a commit has it.
func (r *Repo) At(c Commit) (*Tree, error) {
	out, err := r.git("ls-tree", "-r", "-z", c.Hash, "--", r.scope())
	if err != nil {
		return nil, err
	}
	t := &Tree{repo: r, Commit: c, blobs: map[string]string{}, cache: map[string][]byte{}}
	for _, entry := range strings.Split(string(out), "\x00") {
		meta, name, ok := strings.Cut(entry, "\t")
		fields := strings.Fields(meta)
		if !ok || len(fields) < 3 || fields[1] != "blob" || !strings.HasPrefix(fields[0], "100") || !belongs(name) {
			continue
		}
		t.names = append(t.names, name)
		t.blobs[name] = fields[2]
	}
	sort.Strings(t.names)
	return t, nil
}

// Folder returns the library as its folder stands.
func (r *Repo) Folder() (*Tree, error) { return folderTree(r, r.root) }

func folderTree(r *Repo, dir string) (*Tree, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	t := &Tree{repo: r, root: root, cache: map[string][]byte{}}
	err = fs.WalkDir(root.FS(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || name == "." {
			return err
		}
		if d.IsDir() {
			if _, err := fs.Stat(root.FS(), name+"/.wythe-manifest.json"); err == nil || strings.HasPrefix(path.Base(name), ".") || name == "published" {
				return fs.SkipDir
			}
			return nil
		}
		if d.Type().IsRegular() && belongs(name) {
			t.names = append(t.names, name)
		}
		return nil
	})
	sort.Strings(t.names)
	return t, err
}

// belongs reports whether a library reads a file.
func belongs(name string) bool {
	switch {
	case name == "library.yaml" || name == "materials.yaml":
		return true
	case path.Dir(name) == "climates" && path.Ext(name) == ".yaml":
		return true
	}
	return isPage(name)
}

// common lists the files that hold for every detail.
func (t *Tree) common() []string {
	var list []string
	for _, n := range t.names {
		if !isPage(n) {
			list = append(list, n)
		}
	}
	return list
}

// has reports whether the tree has a file.
func (t *Tree) has(name string) bool {
	i := sort.SearchStrings(t.names, name)
	return i < len(t.names) && t.names[i] == name
}

// load reads files into the cache; what cannot be read is left out.
func (t *Tree) load(names []string) error {
	var hashes []string
	for _, n := range names {
		if _, ok := t.cache[n]; ok || !t.has(n) {
			continue
		}
		if t.blobs != nil {
			hashes = append(hashes, t.blobs[n])
			continue
		}
		f, err := t.root.Open(n)
		if err != nil {
			return err
		}
		data, err := io.ReadAll(io.LimitReader(f, detail.MaxFile+1))
		f.Close()
		if err != nil {
			return err
		}
		if len(data) <= detail.MaxFile {
			t.cache[n] = data
		}
	}
	if t.blobs == nil || len(hashes) == 0 {
		return nil
	}
	got, err := t.repo.objects(hashes)
	if err != nil {
		return err
	}
	for _, n := range names {
		if data, ok := got[t.blobs[n]]; ok {
			t.cache[n] = data
		}
	}
	return nil
}

// figureOf finds a figure of another detail in a text.
var figureOf = regexp.MustCompile(`\{[^{}\r\n]* of ([^{}\r\n]+?)(?: in [^{}\r\n]*)?\}`)

// Library reads files, and all that their front matter names, as a library of
// its own: settings, materials, climates, laid assemblies, successors, and the
// details whose figures their text prints. Marks that only their text names
// are not read.
func (t *Tree) Library(files []string) (*detail.Library, error) {
	if err := t.load(t.common()); err != nil {
		return nil, err
	}
	taken := map[string]bool{}
	for next, first := files, true; len(next) > 0; first = false {
		if err := t.load(next); err != nil {
			return nil, err
		}
		var marks []string
		for _, f := range next {
			taken[f] = true
			marks = append(marks, t.frontMarks(f)...)
			if first {
				marks = append(marks, t.figureMarks(f)...)
			}
		}
		next = nil
		for _, m := range marks {
			if f := t.FileOf(m); f != "" && !taken[f] {
				taken[f] = true
				next = append(next, f)
			}
		}
	}
	m := &memory{files: map[string][]byte{}}
	for _, list := range [][]string{t.common(), sortedNames(taken)} {
		for _, n := range list {
			if data, ok := t.cache[n]; ok {
				m.files[n] = data
			}
		}
	}
	return detail.ReadFS(m)
}

// frontMarks are the marks in a file's front matter, its own among them.
func (t *Tree) frontMarks(file string) []string {
	pattern := t.pattern()
	if pattern == nil {
		return nil
	}
	var marks []string
	front := string(frontOf(t.cache[file]))
	for from := 0; ; {
		start, end, ok := pattern.Next(front, from)
		if !ok {
			return marks
		}
		marks, from = append(marks, front[start:end]), end
	}
}

// figureMarks are the marks whose figures a file's text prints.
func (t *Tree) figureMarks(file string) []string {
	var marks []string
	for _, m := range figureOf.FindAllSubmatch(t.cache[file], -1) {
		marks = append(marks, string(m[1]))
	}
	return marks
}

// restsOn reports whether what a file draws or prints may follow from details
// of some marks, which are sorted. A mark that its text alone names is a link.
func (t *Tree) restsOn(file string, marks []string) bool {
	for _, m := range append(t.frontMarks(file), t.figureMarks(file)...) {
		if _, found := slices.BinarySearch(marks, m); found {
			return true
		}
	}
	return false
}

func sortedNames(set map[string]bool) []string {
	out := make([]string, 0, len(set))
	for n := range set {
		out = append(out, n)
	}
	sort.Strings(out)
	return out
}

// usualMarks is the pattern where library.yaml gives none.
const usualMarks = "[A-Z]-[0-9]{3}"

// pattern is that of the library's marks; nil where it is none.
func (t *Tree) pattern() *detail.Marks {
	if t.compiled != nil || t.load([]string{"library.yaml"}) != nil {
		return t.compiled
	}
	var settings struct {
		Marks string `yaml:"marks"`
	}
	// What is wrong with the file is said when the library is read.
	_ = yaml.Unmarshal(t.cache["library.yaml"], &settings)
	if settings.Marks == "" {
		settings.Marks = usualMarks
	}
	if m, err := detail.NewMarks(settings.Marks); err == nil {
		t.compiled = m
	}
	return t.compiled
}

var markLine = regexp.MustCompile(`(?m)^mark[ \t]*:[ \t]*["']?([^\r\n#"']+?)["']?[ \t]*(?:[ \t]#[^\r\n]*)?\r?$`)

// markIn returns the mark that a file gives itself.
func markIn(data []byte) string {
	if m := markLine.FindSubmatch(frontOf(data)); m != nil {
		return string(m[1])
	}
	return ""
}

// FileOf returns the file of a mark, or "". It tries files named after the
// mark first, and looks through all of them only where none is.
func (t *Tree) FileOf(mark string) string {
	for _, n := range t.names {
		if strings.TrimSuffix(path.Base(n), ".md") == mark {
			if t.load([]string{n}) == nil && markIn(t.cache[n]) == mark {
				return n
			}
		}
	}
	if t.marks == nil {
		t.findMarks()
	}
	return t.marks[mark]
}

// findMarks looks through every page of the tree.
func (t *Tree) findMarks() {
	t.marks = map[string]string{}
	var pages []string
	for _, n := range t.names {
		if isPage(n) {
			pages = append(pages, n)
		}
	}
	if t.load(pages) != nil {
		return // its file is then said to be missing
	}
	for _, n := range pages {
		if m := markIn(t.cache[n]); m != "" && t.marks[m] == "" {
			t.marks[m] = n
		}
	}
}
