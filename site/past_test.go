package site

import (
	"math"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"wythe/renderer/detail"
	"wythe/renderer/trace"
)

// gitLibrary lays a library down in a git repository in which three of its
// details were issued twice: F-101, W-101 and J-201.
func gitLibrary(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	lib := filepath.Join(dir, "lib")
	for name, text := range pastFiles {
		put(t, filepath.Join(lib, filepath.FromSlash(name)), text)
	}
	git(t, dir, "init", "-q", "-b", "main", ".")
	commit(t, dir, "begin")
	three := []string{"F-101", "W-101", "J-201"}
	issue(t, lib, three, "First issue.", "2026-06-03")
	commit(t, dir, "issue A")
	change(t, filepath.Join(lib, "F-101.md"), "courses: 2", "courses: 3")
	change(t, filepath.Join(lib, "F-101.md"), "Lay both courses.", "Lay all three courses, joints staggered.")
	change(t, filepath.Join(lib, "walls/W-101.md"), "thickness: 4 in", "thickness: 6 in")
	change(t, filepath.Join(lib, "J-201.md"), "seal: sealant", "seal: gasket")
	commit(t, dir, "thicken")
	issue(t, lib, three, "More insulation.", "2026-08-14")
	commit(t, dir, "issue B")
	return lib
}

func put(t testing.TB, name, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

func change(t testing.TB, name, old, fresh string) {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil || !strings.Contains(string(data), old) {
		t.Fatalf("%s does not hold %q: %v", name, old, err)
	}
	put(t, name, strings.Replace(string(data), old, fresh, 1))
}

func git(t testing.TB, dir string, args ...string) string {
	t.Helper()
	c := exec.Command("git", args...)
	c.Dir = dir
	c.Env = append(os.Environ(), "GIT_AUTHOR_NAME=a", "GIT_AUTHOR_EMAIL=a@example.invalid", "GIT_COMMITTER_NAME=a", "GIT_COMMITTER_EMAIL=a@example.invalid",
		"GIT_AUTHOR_DATE=2026-11-24T12:00:00Z", "GIT_COMMITTER_DATE=2026-11-24T12:00:00Z", "GIT_CONFIG_NOSYSTEM=1", "GIT_CONFIG_GLOBAL="+os.DevNull)
	out, err := c.CombinedOutput()
	if err != nil {
		t.Fatalf("git %v: %v\n%s", args, err, out)
	}
	return strings.TrimSpace(string(out))
}

func commit(t testing.TB, dir, message string) {
	t.Helper()
	git(t, dir, "add", "-A")
	git(t, dir, "commit", "-q", "-m", message)
}

func issue(t testing.TB, lib string, marks []string, note, date string) {
	t.Helper()
	l, err := Open(lib)
	if err != nil {
		t.Fatal(err)
	}
	// Each fingerprint is of the library as it stands: a table of revisions is
	// in none.
	for _, m := range marks {
		if _, err := l.Revise(l.Detail(m), note, date); err != nil {
			t.Fatal(err)
		}
	}
}

var pastFiles = map[string]string{
	"library.yaml": "firm: Oriel & Strand Architects\ntitle: Details\nunits: inch\n",
	"F-101.md": `---
mark: F-101
title: Insulated slab
status: issued
element: floor on ground
layers:
  - {name: slab, material: concrete, thickness: 5 in}
  - {name: film, material: vapor retarder film, thickness: 15 mil, control: [air, vapor]}
  - {name: foam, material: XPS type IV, thickness: 3 in, courses: 2}
---

Lay both courses. See W-101 and {R-value of W-101}.
`,
	"walls/W-101.md": `---
mark: W-101
title: Basement wall
status: issued
element: wall below grade
layers:
  - {name: wall, material: concrete, thickness: 8 in, control: [air, vapor]}
  - {name: outside foam, material: XPS type IV, thickness: 4 in}
---
`,
	"J-201.md": `---
mark: J-201
title: Slab edge
status: for review
view: {left: 0, right: 60 in, bottom: 0, top: 48 in}
parts:
  - earth: {material: soil, left: 0, right: cut, bottom: 0, top: 30 in}
  - wall: {assembly: W-101, inside: right, left: 10 in, bottom: 4 in, top: cut}
  - slab: {assembly: F-101, inside: top, left: wall.right, right: cut, top: 20 in}
  - room: {material: none, left: wall.right, right: cut, bottom: slab.top, top: cut}
  - bead: {seal: sealant, joins: [slab.film, wall.wall], at: [wall.right, slab.film.top]}
spaces:
  inside: {at: [40 in, 40 in]}
---
`,
	"W-100.md": `---
mark: W-100
title: Old wall
status: superseded
superseded by: W-101
element: wall
layers:
  - {material: concrete, thickness: 8 in}
---
`,
	"house.md": `---
title: House
areas:
  - {detail: F-101, area: 80 m2, perimeter: 36 m, depth: 2 m}
  - {detail: W-101, area: 72 m2}
lengths:
  - {junction: J-201, length: 36 m}
volume: 400 m3
air leakage: 3 per hour at 50 Pa
---
`,
	"spec.md": "---\nsection: 07 21 13\ntitle: Board insulation\n---\n\nBoards as F-101 rev A under the slab, as F-101 rev B elsewhere.\n",
}

func publishPast(t *testing.T, lib string) map[string]string {
	t.Helper()
	to := filepath.Join(t.TempDir(), "site")
	if r, err := Publish(Options{Library: lib, To: to}); err != nil {
		t.Fatalf("%v\n%v", err, r.Findings.Items)
	}
	pages := map[string]string{}
	err := filepath.WalkDir(to, func(name string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(name)
		rel, _ := filepath.Rel(to, name)
		pages[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return pages
}

var (
	hrefIn = regexp.MustCompile(`(?:href|src)="([^"#:]*)(?:#([^"]*))?"`)
	tagIn  = regexp.MustCompile(`<[^>]*>`)
)

// checkLinks holds every inner link of a site to a file that is there.
func checkLinks(t *testing.T, pages map[string]string) {
	t.Helper()
	n := 0
	for name, text := range pages {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		for _, m := range hrefIn.FindAllStringSubmatch(text, -1) {
			n++
			to := name
			if m[1] != "" {
				to = path.Join(path.Dir(name), m[1])
			}
			target, ok := pages[to]
			if !ok {
				t.Errorf("%s leads to %s, which is not there", name, to)
			} else if m[2] != "" && !strings.Contains(target, `id="`+m[2]+`"`) {
				t.Errorf("%s leads to %s#%s, which is not there", name, to, m[2])
			}
		}
	}
	if n == 0 {
		t.Error("no link was found")
	}
}

func plainText(page string) string {
	return strings.Join(strings.Fields(tagIn.ReplaceAllString(page, " ")), " ")
}

// A revision is drawn again from the commit that issued it, and its page says
// which; links of the past lead to the present.
func TestRevisionPages(t *testing.T) {
	lib := gitLibrary(t)
	pages := publishPast(t, lib)
	checkLinks(t, pages)
	hash := git(t, lib, "rev-parse", "HEAD~2")
	for _, mark := range []string{"F-101", "W-101", "J-201"} {
		for _, rev := range []string{"A", "B"} {
			if pages[mark+"/rev/"+rev+"/index.html"] == "" {
				t.Fatalf("%s rev %s has no page", mark, rev)
			}
		}
		if p := plainText(pages[mark+"/rev/A/index.html"]); !strings.Contains(p, "Revision A of 3 Jun 2026, drawn again from commit "+hash[:10]) || !strings.Contains(p, "Superseded. Use "+mark+" rev B") {
			t.Errorf("the page of %s rev A does not say what it is:\n%.600s", mark, p)
		}
		if picture := pages[mark+"/rev/A/index.html"]; !strings.Contains(picture, `k-stamp`) {
			t.Errorf("the drawing of %s rev A does not say that it is not for construction", mark)
		}
		if p := plainText(pages[mark+"/rev/B/index.html"]); strings.Contains(p, "Superseded") || strings.Contains(p, "does not match") {
			t.Errorf("the page of %s rev B says that it is superseded, or does not match", mark)
		}
	}
	a, b := plainText(pages["F-101/rev/A/index.html"]), plainText(pages["F-101/rev/B/index.html"])
	if !strings.Contains(a, "two courses") || !strings.Contains(b, "three courses") || !strings.Contains(a, "Lay both courses.") {
		t.Error("F-101 rev A is not drawn as it was")
	}
	if strings.Contains(a, "{R-value") {
		t.Error("a figure of another detail is not printed in a revision's text")
	}
	history := plainText(pages["F-101/rev/index.html"])
	for _, want := range []string{"Revision B against A", "2 courses of 3 in XPS type IV 3 courses of 3 in XPS type IV", "R-value Figure R 31.3 R 46.3", "Lay both courses.", "The oldest revision"} {
		if !strings.Contains(history, want) {
			t.Errorf("the history of F-101 does not say %q:\n%s", want, history)
		}
	}
	if !strings.Contains(pages["F-101/rev/index.html"], "<svg width=\"") {
		t.Error("the history of F-101 shows no lines")
	}
	for _, href := range []string{`href="../F-101/rev/A/index.html"`, `href="../F-101/rev/index.html#rev-B"`} {
		if !strings.Contains(pages["F-101/index.html"], href) {
			t.Errorf("the revision table does not lead to %s", href)
		}
	}
	if strings.Contains(pages["F-101/index.html"], "#rev-A") {
		t.Error("the first revision leads to what it changed of none")
	}
	if spec := pages["specs/07-21-13/index.html"]; !strings.Contains(spec, `href="../../F-101/rev/A/index.html"`) {
		t.Error("a specification's mark with a revision does not lead to it")
	}
	if p := plainText(pages["W-100/index.html"]); !strings.Contains(p, "Superseded. Use W-101") {
		t.Error("the superseded mark does not lead to its successor")
	}
	again := publishPast(t, lib)
	for name, text := range pages {
		if again[name] != text && !strings.HasSuffix(name, "manifest.json") {
			t.Errorf("%s differs the second time", name)
		}
	}
}

// Without a history the same library publishes, and says what is missing.
func TestNoHistory(t *testing.T) {
	lib := gitLibrary(t)
	if err := os.RemoveAll(filepath.Join(filepath.Dir(lib), ".git")); err != nil {
		t.Fatal(err)
	}
	l, err := Open(lib)
	if err != nil {
		t.Fatal(err)
	}
	list := l.Review()
	if list.Errors() > 0 || len(list.Items) == 0 || list.Items[0].Rule != "no-history" {
		t.Errorf("%v", list.Items)
	}
	pages := publishPast(t, lib)
	checkLinks(t, pages)
	for name := range pages {
		if strings.Contains(name, "/rev/") {
			t.Errorf("%s was drawn from no history", name)
		}
	}
}

// The fingerprint of a fresh reading is what Revise wrote.
func TestFingerprintReadsBack(t *testing.T) {
	l, err := Open(gitLibrary(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range []string{"F-101", "W-101", "J-201"} {
		d := l.Detail(m)
		if got := l.Fingerprint(d); got == "" || got != d.Revisions[0].Fingerprint {
			t.Errorf("%s: %q; its table has %q", m, got, d.Revisions[0].Fingerprint)
		}
	}
	if l.Fingerprint(&detail.Detail{File: "none.md"}) != "" {
		t.Error("a detail of no library has a fingerprint")
	}
}

// A building counts the revision that it was issued with, while the library
// moves on.
func TestPinnedBuilding(t *testing.T) {
	lib := gitLibrary(t)
	area := func() float64 {
		l, err := Open(lib)
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range l.Takeoff(l.BuildingNamed("House")).List {
			if q.Mark == "F-101" && q.Part == "foam" {
				return float64(q.Covered)
			}
		}
		t.Fatal("no foam")
		return 0
	}
	if got := area(); math.Abs(got-240) > 1e-9 {
		t.Errorf("%g m² of foam in three courses; want 240", got)
	}
	now := budget(t, lib)
	change(t, filepath.Join(lib, "house.md"), "volume:", "issued with: {F-101: A, W-101: B}\nvolume:")
	if got := area(); math.Abs(got-160) > 1e-9 {
		t.Errorf("%g m² of foam in the two courses of revision A; want 160", got)
	}
	if then := budget(t, lib); then <= now {
		t.Errorf("revision A loses %g W/K, revision B %g", then, now)
	}
	pages := publishPast(t, lib)
	checkLinks(t, pages)
	p := pages["buildings/house/index.html"]
	if !strings.Contains(p, `href="../../F-101/rev/A/index.html">rev A</a>`) || !strings.Contains(plainText(p), "the library is at rev B") {
		t.Error("the building does not say which revision it was issued with")
	}
	change(t, filepath.Join(lib, "house.md"), "F-101: A", "F-101: Z")
	l, err := Open(lib)
	if err != nil {
		t.Fatal(err)
	}
	if list := l.Review(); list.Errors() != 1 || list.Items[0].Rule != "unknown-revision" {
		t.Errorf("%v", list.Items)
	}
}

func budget(t *testing.T, lib string) float64 {
	t.Helper()
	l, err := Open(lib)
	if err != nil {
		t.Fatal(err)
	}
	return l.Budget(l.BuildingNamed("House")).WPerK
}

// A revision's page follows from reads that can be made again, so that it is
// kept until one gives something else: a title that it links to, say.
func TestARevisionsPageIsKept(t *testing.T) {
	lib := gitLibrary(t)
	pages := func() (*Library, map[string][]trace.Read) {
		l, err := Open(lib)
		if err != nil {
			t.Fatal(err)
		}
		made := map[string][]trace.Read{}
		for _, r := range l.Detail("F-101").Revisions {
			own := new(trace.Reads)
			l.view(own).revisionPage(l.byMark["F-101"], r)
			made[r.Rev] = own.Sorted()
		}
		own := new(trace.Reads)
		l.view(own).historyPage(l.byMark["F-101"])
		made["history"] = own.Sorted()
		return l, made
	}
	_, made := pages()
	if len(made) != 3 {
		t.Fatalf("%d pages", len(made))
	}
	l, _ := pages()
	for name, reads := range made {
		if !l.answers(nil).same(reads) {
			t.Errorf("%s is made again though nothing changed", name)
		}
	}
	change(t, filepath.Join(lib, "walls/W-101.md"), "title: ", "title: New ")
	l, _ = pages()
	if l.answers(nil).same(made["A"]) {
		t.Error("revision A is kept though a title that it links to changed")
	}
}
