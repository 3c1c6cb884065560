package site

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// TestTheSameBytesEverywhere publishes the demonstration library in processes
// of other time zones, locales and numbers of processors, from folders of
// other names: the bytes are the same.
func TestTheSameBytesEverywhere(t *testing.T) {
	if to := os.Getenv("WYTHE_TEST_SAME_TO"); to != "" {
		if _, err := Publish(Options{Library: os.Getenv("WYTHE_TEST_SAME_OF"), To: to}); err != nil {
			fmt.Println(err)
			os.Exit(3)
		}
		return
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	var first map[string][]byte
	for i, env := range [][]string{
		{"TZ=UTC", "LC_ALL=C", "GOMAXPROCS=1"},
		{"TZ=Pacific/Kiritimati", "LC_ALL=tr_TR.UTF-8", "GOMAXPROCS=2"},
		{"TZ=America/St_Johns", "LC_ALL=de_DE.UTF-8", "LANG=ja_JP.UTF-8", "GOMAXPROCS=7"},
	} {
		dir := filepath.Join(t.TempDir(), fmt.Sprintf("library %d", i))
		if err := os.CopyFS(dir, os.DirFS("../details")); err != nil {
			t.Fatal(err)
		}
		to := filepath.Join(t.TempDir(), fmt.Sprintf("site-%d", i))
		cmd := exec.Command(self, "-test.run=^TestTheSameBytesEverywhere$")
		cmd.Env = append(os.Environ(), "WYTHE_TEST_SAME_TO="+to, "WYTHE_TEST_SAME_OF="+dir, "XDG_CACHE_HOME="+t.TempDir())
		cmd.Env = append(cmd.Env, env...)
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v: %v\n%s", env, err, out)
		}
		got := treeOf(t, to)
		if first == nil {
			first = got
			continue
		}
		if len(got) != len(first) {
			t.Errorf("%v: %d files, not %d", env, len(got), len(first))
		}
		for name, data := range first {
			if !bytes.Equal(got[name], data) {
				t.Errorf("%v: %s differs", env, name)
			}
		}
	}
	if len(first) < 20 {
		t.Errorf("%d files alone", len(first))
	}
}
