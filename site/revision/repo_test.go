package revision

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

func run(t testing.TB, dir string, args ...string) string {
	t.Helper()
	c := exec.Command("git", args...)
	c.Dir = dir
	c.Env = append(os.Environ(), "GIT_AUTHOR_NAME=a", "GIT_AUTHOR_EMAIL=a@example.invalid", "GIT_COMMITTER_NAME=a", "GIT_COMMITTER_EMAIL=a@example.invalid",
		"GIT_CONFIG_NOSYSTEM=1", "GIT_CONFIG_GLOBAL="+os.DevNull)
	out, err := c.CombinedOutput()
	if err != nil {
		t.Fatalf("git %v: %v\n%s", args, err, out)
	}
	return strings.TrimSpace(string(out))
}

func write(t testing.TB, dir, name, text string) {
	t.Helper()
	full := filepath.Join(dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(full), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(full, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

const slab = "---\nmark: F-%03d\ntitle: Slab\nelement: floor on ground\nlayers:\n  - {material: concrete, thickness: %d in}\n---\n"

func repository(t testing.TB, n int) string {
	t.Helper()
	dir := t.TempDir()
	run(t, dir, "init", "-q", "-b", "main", ".")
	write(t, dir, "lib/library.yaml", testSettings)
	for i := range n {
		write(t, dir, fmt.Sprintf("lib/a/F-%03d.md", i), fmt.Sprintf(slab, i, 5))
	}
	write(t, dir, "lib/é λ/odd\tname.md", "---\nmark: X-001\ntitle: X\nelement: wall\nlayers:\n  - {material: concrete, thickness: 5 in}\n---\n")
	run(t, dir, "add", "-A")
	run(t, dir, "commit", "-q", "-m", "begin")
	return filepath.Join(dir, "lib")
}

// Law: a comparison reads the files that changed and those that hold for all,
// however many there are.
func TestPairReadsOnlyWhatChanged(t *testing.T) {
	lib := repository(t, 60)
	write(t, lib, "a/F-007.md", fmt.Sprintf(slab, 7, 6))
	r, err := OpenRepo(lib)
	if err != nil {
		t.Fatal(err)
	}
	from, err := r.Resolve("HEAD")
	if err != nil {
		t.Fatal(err)
	}
	before, err := r.At(from)
	if err != nil {
		t.Fatal(err)
	}
	after, err := r.Folder()
	if err != nil {
		t.Fatal(err)
	}
	p := &Pair{From: from}
	if err := p.read(r, before, after); err != nil {
		t.Fatal(err)
	}
	for _, tree := range []*Tree{before, after} {
		if len(tree.names) != 62 || len(tree.cache) != 2 {
			t.Errorf("of %d files %d were read; want 62 and 2", len(tree.names), len(tree.cache))
		}
	}
	if len(p.Marks) != 1 || p.Marks[0] != "F-007" {
		t.Errorf("%v", p.Marks)
	}
}

// Names of any kind come through, and a file is found by its mark whatever it
// is called.
func TestOddNames(t *testing.T) {
	lib := repository(t, 1)
	r, err := OpenRepo(lib)
	if err != nil {
		t.Fatal(err)
	}
	c, err := r.Resolve("main")
	if err != nil {
		t.Fatal(err)
	}
	tree, err := r.At(c)
	if err != nil {
		t.Fatal(err)
	}
	if f := tree.FileOf("X-001"); f != "é λ/odd\tname.md" {
		t.Errorf("X-001 is in %q", f)
	}
	if tree.FileOf("X-002") != "" {
		t.Error("a mark of nothing has a file")
	}
	h, err := r.History()
	if err != nil {
		t.Fatal(err)
	}
	if v := h.files["é λ/odd\tname.md"]; len(v) != 1 || v[0].Hash != c.Hash {
		t.Errorf("%v", v)
	}
}

func TestResolveRefuses(t *testing.T) {
	lib := repository(t, 1)
	r, err := OpenRepo(lib)
	if err != nil {
		t.Fatal(err)
	}
	for _, ref := range []string{"", "-", "--all", "--output=x", "nothing", "HEAD\nmain", "HEAD:lib", "main..main", "HEAD^{tree}", "$(touch x)", strings.Repeat("x", 5000)} {
		var refused *RefError
		if c, err := r.Resolve(ref); !errors.As(err, &refused) {
			t.Errorf("%.40q is commit %s, %v", ref, c.Hash, err)
		}
	}
}

// What a repository says to run is not run.
func TestRepositoryRunsNothing(t *testing.T) {
	lib := repository(t, 1)
	mark := filepath.Join(t.TempDir(), "ran")
	script := filepath.Join(t.TempDir(), "evil")
	if err := os.WriteFile(script, []byte("#!/bin/sh\ntouch "+mark+"\ncat\n"), 0o777); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"core.fsmonitor", "diff.external", "core.pager", "core.sshCommand", "diff.x.textconv", "diff.x.command", "gpg.program"} {
		run(t, lib, "config", key, script)
	}
	run(t, lib, "config", "log.showSignature", "true")
	write(t, lib, ".gitattributes", "*.md diff=x\n")
	write(t, lib, "a/F-000.md", fmt.Sprintf(slab, 0, 6))
	r, err := OpenRepo(lib)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.Pair("HEAD", ""); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Pair("HEAD", "HEAD"); err != nil {
		t.Fatal(err)
	}
	if _, err := r.History(); err != nil {
		t.Fatal(err)
	}
	r.LastIssue()
	if _, err := os.Stat(mark); err == nil {
		t.Error("a program that the repository names was run")
	}
}

func TestVersionHolds(t *testing.T) {
	lib := repository(t, 1)
	r, err := OpenRepo(lib)
	if err != nil {
		t.Fatal(err)
	}
	h, err := r.History()
	if err != nil {
		t.Fatal(err)
	}
	v := h.files["a/F-000.md"][0]
	if !v.Holds([]byte(fmt.Sprintf(slab, 0, 5))) || v.Holds([]byte(fmt.Sprintf(slab, 0, 6))) {
		t.Error("the version does not know its bytes")
	}
}
