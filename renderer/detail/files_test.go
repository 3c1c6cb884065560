package detail

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

// lay writes files into a new folder and returns it.
func lay(t *testing.T, files map[string]string) string {
	t.Helper()
	root := t.TempDir()
	for name, text := range files {
		full := filepath.Join(root, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(full), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(full, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return root
}

func rules(l *Library) string {
	var out []string
	for _, i := range l.Findings.Items {
		out = append(out, i.File+" "+i.Rule)
	}
	return strings.Join(out, "; ")
}

func TestOutputAndHiddenFoldersAreNotRead(t *testing.T) {
	l, err := Read(lay(t, map[string]string{
		"library.yaml":                "firm: Oriel & Strand Architects\n",
		"W-102.md":                    layersOf("material: concrete, thickness: 1 in"),
		".git/W-102.md":               "---\nbroken",
		".draft.md":                   "---\nbroken",
		"published/W-102.md":          "---\nbroken",
		"out/.wythe-manifest.json":    "{}",
		"out/W-102/index.md":          "---\nbroken",
		"walls/published/standard.md": "# A folder of that name deeper down is input\n",
		"notes.txt":                   "not read",
	}))
	if err != nil || len(l.Findings.Items) > 0 || len(l.Details) != 1 || len(l.Prose) != 1 {
		t.Errorf("%v, %d details, %d pages of prose, %s", err, len(l.Details), len(l.Prose), rules(l))
	}
}

func TestNothingOutsideTheLibraryIsRead(t *testing.T) {
	outside := lay(t, map[string]string{"secret.md": "# Secret\n", "deep/secret.md": "# Secret\n", "picture.png": "secret"})
	root := lay(t, map[string]string{"library.yaml": "climate: ../../etc/passwd\n", "own.png": "own"})
	for link, to := range map[string]string{
		"secret.md": filepath.Join(outside, "secret.md"), "folder": filepath.Join(outside, "deep"),
		"picture.png": filepath.Join(outside, "picture.png"), "materials.yaml": filepath.Join(outside, "secret.md"),
	} {
		if err := os.Symlink(to, filepath.Join(root, link)); err != nil {
			t.Fatal(err)
		}
	}
	l, err := Read(root)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := rules(l), "library.yaml unknown-climate; materials.yaml not-a-file; secret.md not-a-file; folder not-a-file"; got != want {
		t.Errorf("findings %q; want %q", got, want)
	}
	if len(l.Prose) != 0 {
		t.Errorf("%d pages were read", len(l.Prose))
	}
	v := l.View(nil)
	for _, name := range []string{"picture.png", "../" + filepath.Base(outside) + "/picture.png", "/etc/passwd", ".", "folder/secret.md", "none.png"} {
		if data, ok := v.File(name); ok {
			t.Errorf("File(%q) gave %q", name, data)
		}
	}
	if data, ok := v.File("own.png"); !ok || string(data) != "own" {
		t.Errorf("File(own.png) = %q, %v", data, ok)
	}
}

func TestUnreadableRoot(t *testing.T) {
	if _, err := Read(filepath.Join(t.TempDir(), "none")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a folder that is not there: %v", err)
	}
	l, err := Read(t.TempDir())
	if err != nil || rules(l) != "library.yaml no-library-file" {
		t.Errorf("an empty folder: %v, %q", err, rules(l))
	}
}

func TestUnknownFilesOfTheRoot(t *testing.T) {
	l, err := ReadFS(fstest.MapFS{
		"library.yaml": {}, "material.yaml": {}, "library.yml": {}, "climates/a.yml": {}, "other/a.yaml": {},
	})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := rules(l), "climates/a.yml unknown-file; library.yml unknown-file; material.yaml unknown-file"; got != want {
		t.Errorf("%q; want %q", got, want)
	}
	if got := l.Findings.Items[2].Mend; got != `did you mean "materials.yaml"?` {
		t.Errorf("mend %q", got)
	}
}

// TestHostileFiles: each is met with a finding, and the rest of the
// library still reads.
func TestHostileFiles(t *testing.T) {
	bomb := "---\na: &a [x, x, x, x, x, x, x, x, x]\nb: &b [*a, *a, *a, *a, *a, *a, *a, *a, *a]\nc: &c [*b, *b, *b, *b, *b, *b, *b, *b, *b]\n" +
		"d: &d [*c, *c, *c, *c, *c, *c, *c, *c, *c]\ne: [*d, *d, *d, *d, *d, *d, *d, *d, *d]\n---\n"
	for name, text := range map[string]string{
		"an alias bomb":          bomb,
		"10 MB":                  strings.Repeat("x", 10<<20),
		"10 MB of front matter":  "---\nlayers: [" + strings.Repeat("{},", 10<<20/3) + "]\n---\n",
		"long front matter":      "---\n" + strings.Repeat("a: b\n", 60_000) + "---\n",
		"many keys":              "---\n" + strings.Repeat("abcdefgh: b\n", 20_000) + "---\n",
		"deep nesting":           "---\nlayers: " + strings.Repeat("[", 10_000) + strings.Repeat("]", 10_000) + "\n---\n",
		"deep blocks":            "---\n" + deepBlocks(400) + "---\n",
		"not UTF-8":              "---\nmark: W-\xff\n---\n",
		"UTF-16":                 "\xff\xfe-\x00-\x00-\x00",
		"a zero byte":            "---\nmark: W-102\x00\n---\n",
		"no end of front matter": "---\nmark: W-102\n",
		"a second document":      "---\nmark: W-102\n--- {mark: W-103}\n---\n",
		"an unclosed quote":      "---\nmark: \"W-102\n---\n",
		"a long body":            "# Title\n" + strings.Repeat("- x\n", MaxBody/4),
	} {
		fsys, _ := sources(map[string]string{"a.md": text})
		l, err := ReadFS(fsys)
		if err != nil {
			t.Fatal(err)
		}
		if l.Findings.Errors() == 0 {
			t.Errorf("%s: no error", name)
		}
		for _, i := range l.Findings.Items {
			if i.File != "a.md" {
				t.Errorf("%s: %v", name, i)
			}
		}
		if len(l.Details) != 3 || l.Detail("J-201") == nil {
			t.Errorf("%s: %d details were read, not the other 3", name, len(l.Details))
		}
	}
}

// TestLongTexts: what could be read again and again for each sign reads without
// a finding. How long it takes is a benchmark's to say.
func TestLongTexts(t *testing.T) {
	for _, sign := range []string{"{", "](", "<a", "`", "`` ` ", "](x) {x} <a:b> ", "](\n{\n<a:\n", "W-101 ", "> ", "- ", "    "} {
		text := layersOf("material: concrete, thickness: 1 in") + strings.Repeat(sign, 200_000/len(sign)) + ")>}"
		fsys, _ := sources(map[string]string{"W-102.md": text})
		l, err := ReadFS(fsys)
		if err != nil || len(l.Findings.Items) > 0 {
			t.Errorf("%q: %v, %v", sign, err, l.Findings.Items)
		}
	}
	fsys, _ := sources(map[string]string{"W-102.md": assemblyOf("layers:\n  - {material: concrete, thickness: 1 in}\ncautions: [" + strings.Repeat("a,", 40_000) + "]\n")})
	if l, err := ReadFS(fsys); err != nil || !strings.Contains(rules(l), "too-many-values") {
		t.Errorf("40,000 cautions: %v, %s", err, rules(l))
	}
}

func deepBlocks(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return b.String()
}

func TestLineEndsAndByteOrderMarks(t *testing.T) {
	text := assemblyOf("layers:\n  - {material: ▸concret, thickness: 1 in}\n") + "See J-201.\n"
	for _, turn := range []func(string) string{
		func(s string) string { return s },
		func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") },
		func(s string) string { return strings.ReplaceAll(s, "\n", "\r") },
		func(s string) string { return "\ufeff" + s },
	} {
		fsys, want := sources(map[string]string{"W-102.md": text})
		fsys["W-102.md"].Data = []byte(turn(string(fsys["W-102.md"].Data)))
		l, err := ReadFS(fsys)
		if err != nil {
			t.Fatal(err)
		}
		if len(l.Findings.Items) != 1 || l.Findings.Items[0].Position != want[0] {
			t.Errorf("%v; want one at %v", l.Findings.Items, want[0])
		}
		d := l.Detail("W-102")
		if d.Body != "See J-201.\n" || d.BodyLine != 8 || len(d.Cites) != 1 {
			t.Errorf("body %q at line %d, cites %v", d.Body, d.BodyLine, d.Cites)
		}
	}
}

// TestAllComplaintsInOneRun: one finding does not hide another, and the list
// is sorted and the same in every run.
func TestAllComplaintsInOneRun(t *testing.T) {
	fsys, _ := sources(map[string]string{
		"library.yaml": "units: inhc\nfirmm: x\n",
		"W-102.md":     assemblyOf("layers:\n  - {material: concret, thickness: 1}\n  - {material: concrete, thicknes: 1 in}\nstatus: isued\n") + "See W-999.\n",
		"J-202.md":     partsOf("  - pad: {material: concret, left: foting.left, width: 0}\n"),
	})
	l, err := ReadFS(fsys)
	if err != nil {
		t.Fatal(err)
	}
	const want = `J-202.md:8:5 under-constrained
J-202.md:8:21 unknown-material
J-202.md:8:36 unknown-name
J-202.md:8:56 not-above-zero
W-102.md:6:16 unknown-material
W-102.md:6:37 bad-quantity
W-102.md:7:5 missing-key
W-102.md:7:26 unknown-key
W-102.md:8:9 unknown-word
library.yaml:1:8 unknown-word
library.yaml:2:1 unknown-key
W-102.md:10:5 unknown-mark
`
	var b strings.Builder
	for _, i := range l.Findings.Items {
		b.WriteString(i.Position.String() + " " + i.Rule + "\n")
	}
	if d := cmp.Diff(want, b.String()); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	for range 20 {
		again, err := ReadFS(fsys)
		if err != nil || cmp.Diff(l.Findings, again.Findings) != "" {
			t.Fatalf("another run: %v\n%s", err, cmp.Diff(l.Findings, again.Findings))
		}
	}
}
