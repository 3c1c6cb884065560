package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

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

func TestReadSourcesFindsTestsRacesAndFuzzTargets(t *testing.T) {
	root := lay(t, map[string]string{
		"a/a.go":               "package a\n",
		"a/a_test.go":          "package a\n\nimport \"testing\"\n\nfunc TestA(t *testing.T) {}\n\nfunc FuzzZ(f *testing.F) {}\n\nfunc FuzzB(f *testing.F) {}\n",
		"b/b.go":               "package b\n\nfunc F() { go F() }\n\nfunc FuzzNotATest() {}\n",
		"c/c_test.go":          "package c\n\nimport \"sync\"\n\nvar m sync.Mutex\n\nfunc ExampleC() {}\n",
		"c/testdata/d/d.go":    "package broken {",
		".hidden/e.go":         "package broken {",
		"_left/out.go":         "package broken {",
		"a/notes.txt":          "not Go",
		"a/inner/inner_x.go":   "package inner\n",
		"a/inner/method_t.go":  "package inner\n\ntype T int\n\nfunc (T) FuzzM() {}\n",
		"a/inner/some_test.go": "package inner\n\nfunc helper() {}\n",
	})
	s, err := readSources(root)
	if err != nil {
		t.Fatal(err)
	}
	want := []pkg{
		{path: "./a", tested: true, fuzz: []string{"FuzzB", "FuzzZ"}},
		{path: "./a/inner"},
		{path: "./b", concurrent: true},
		{path: "./c", tested: true, concurrent: true},
	}
	var got []pkg
	for _, p := range s.packages {
		got = append(got, *p)
	}
	if diff := cmp.Diff(want, got, cmp.AllowUnexported(pkg{})); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestCheckFormatNamesTheFile(t *testing.T) {
	root := lay(t, map[string]string{"a/good.go": "package a\n", "a/bad.go": "package   a\n"})
	s, err := readSources(root)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	err = checkFormat(&bench{root: root, stdout: &out, sources: s})
	if err == nil || !strings.Contains(err.Error(), "gofmt -w a/bad.go") || strings.Contains(err.Error(), "good.go") {
		t.Errorf("got %v; want bad.go named and nothing else", err)
	}
}

func TestFailuresAreNotHidden(t *testing.T) {
	root := lay(t, map[string]string{"a/a.go": "package a\n"})
	s, err := readSources(root)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	b := &bench{root: root, stdout: &out, stderr: &out, sources: s}
	for name, check := range map[string]func(*bench) error{"tests": checkTests, "races": checkRaces, "fuzz": checkFuzz} {
		if err := check(b); err == nil {
			t.Errorf("%s: a tree without any passed", name)
		}
	}
	if err := b.command("go", "no-such-command").run(); err == nil {
		t.Error("a command that fails passed")
	}
}

func TestMissingToolSaysWhatToInstall(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	var out bytes.Buffer
	err := (&bench{root: ".", stdout: &out, stderr: &out}).install([]tool{{[]string{"pdftoppm"}, []string{"poppler-utils"}, "measuring PDF sheets"}})
	if err == nil || !strings.Contains(err.Error(), "install poppler-utils") {
		t.Errorf("got %v; want the package named", err)
	}
}

func TestArgumentsAreRefused(t *testing.T) {
	var out, errs bytes.Buffer
	if code := run([]string{"--fast"}, &out, &errs); code != 2 || !strings.Contains(errs.String(), "go run ./cmd/verify") {
		t.Errorf("exit %d, %q; want 2 and the usage", code, errs.String())
	}
}
