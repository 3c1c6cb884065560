package tree

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/sys/unix"

	"wythe/renderer/trace"
)

// inOwnSpace runs this test again in a process that may mount file systems for
// itself, with a folder to do it in; in that process it calls do, whose report
// is printed. Where the system gives no such process, the test's process must
// be allowed to mount.
func inOwnSpace(t *testing.T, do func(dir string) error) {
	t.Helper()
	if dir := os.Getenv("WYTHE_TEST_OWN_SPACE"); dir != "" {
		if err := do(dir); err != nil {
			fmt.Println(err)
			os.Exit(3)
		}
		os.Exit(0)
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	for _, attributes := range []*syscall.SysProcAttr{
		{
			Cloneflags:  syscall.CLONE_NEWUSER | syscall.CLONE_NEWNS,
			UidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getuid(), Size: 1}},
			GidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getgid(), Size: 1}},
		},
		{Cloneflags: syscall.CLONE_NEWNS},
	} {
		said.Reset()
		cmd := exec.Command(self, "-test.run=^"+t.Name()+"$")
		cmd.Env = append(os.Environ(), "WYTHE_TEST_OWN_SPACE="+t.TempDir())
		cmd.Stdout, cmd.Stderr, cmd.SysProcAttr = &said, &said, attributes
		if err = cmd.Run(); err == nil {
			return
		}
		if cmd.ProcessState != nil { // it ran, and found fault
			break
		}
	}
	t.Errorf("%v\n%s", err, said.String())
}

// mounted gives a folder a file system of a few pages of its own.
func mounted(dir, options string) error {
	if err := unix.Mount("", "/", "", unix.MS_REC|unix.MS_PRIVATE, ""); err != nil {
		return err
	}
	return unix.Mount("tmpfs", dir, "tmpfs", 0, options)
}

// whole reports how the tree in a folder differs from one of a generation.
func whole(dir, generation string, paths ...string) error {
	got := map[string]string{}
	for _, p := range paths {
		data, err := os.ReadFile(filepath.Join(dir, p))
		if err != nil {
			return err
		}
		got[p] = string(data)
	}
	if diff := cmp.Diff(wanted(generation, paths...), got); diff != "" {
		return fmt.Errorf("the last good tree changed (-want +got):\n%s", diff)
	}
	return nil
}

// oneLine holds an error to one line of what happened and one of what to do.
func oneLine(err error, says, mend string) error {
	lines := strings.Split(fmt.Sprint(err), "\n")
	if err == nil || len(lines) != 2 || !strings.HasPrefix(lines[0], "cannot write ") || !strings.HasSuffix(lines[0], says) || !strings.Contains(lines[1], mend) {
		return fmt.Errorf("got %q; want one line that ends in %q, and one with %q", fmt.Sprint(err), says, mend)
	}
	return nil
}

// TestAFullDisk publishes on a disk that is full after a few files: one clear
// line is said, the last good tree stays, and with room again the next publish
// goes through.
func TestAFullDisk(t *testing.T) {
	inOwnSpace(t, func(dir string) error {
		if err := mounted(dir, "size=128k"); err != nil {
			return err
		}
		out := filepath.Join(dir, "published")
		if _, err := Publish(pages("one", somePaths...), Options{To: out}); err != nil {
			return err
		}
		large := []Output{}
		for i := range 40 {
			large = append(large, Output{fmt.Sprintf("large/%d.html", i), func(*trace.Reads) ([]byte, error) { return make([]byte, 10<<10), nil }})
		}
		_, err := Publish(append(pages("two", somePaths...), large...), Options{To: out})
		if err := oneLine(err, "no space left on device", "free some room"); err != nil {
			return err
		}
		if err := whole(out, "one", somePaths...); err != nil {
			return err
		}
		entries, err := os.ReadDir(dir)
		if err != nil || len(entries) != 1 {
			return fmt.Errorf("%v is left, %v", entries, err)
		}
		if _, err := Publish(pages("three", somePaths...), Options{To: out}); err != nil {
			return err
		}
		return whole(out, "three", somePaths...)
	})
}

// TestAReadOnlyDisk publishes to a file system that takes no changes.
func TestAReadOnlyDisk(t *testing.T) {
	inOwnSpace(t, func(dir string) error {
		if err := mounted(dir, "size=1m"); err != nil {
			return err
		}
		out := filepath.Join(dir, "published")
		if _, err := Publish(pages("one", somePaths...), Options{To: out}); err != nil {
			return err
		}
		if err := unix.Mount("", dir, "", unix.MS_REMOUNT|unix.MS_RDONLY, ""); err != nil {
			return err
		}
		_, err := Publish(pages("two", somePaths...), Options{To: out})
		if err := oneLine(err, "read-only file system", "--to"); err != nil {
			return err
		}
		return whole(out, "one", somePaths...)
	})
}

// TestAFolderOfSomebodyElse publishes beside a folder that only another user
// may write to.
func TestAFolderOfSomebodyElse(t *testing.T) {
	dir := os.Getenv("WYTHE_TEST_NOT_OURS")
	if dir != "" {
		_, err := Publish(pages("two", somePaths...), Options{To: filepath.Join(dir, "published")})
		if err := oneLine(err, "permission denied", "give the rights"); err != nil {
			fmt.Println(err)
			os.Exit(3)
		}
		return
	}
	dir = t.TempDir()
	out := filepath.Join(dir, "published")
	mustPublish(t, pages("one", somePaths...), Options{To: out})
	// What root may do, nobody may not: the process is another user's.
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(self)
	if err != nil {
		t.Fatal(err)
	}
	copied := filepath.Join(t.TempDir(), "tree.test")
	if err := os.WriteFile(copied, data, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, folder := range []string{filepath.Dir(dir), dir, filepath.Dir(copied)} {
		if err := os.Chmod(folder, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o755)
	cmd := exec.Command(copied, "-test.run=^TestAFolderOfSomebodyElse$")
	cmd.Dir = filepath.Dir(copied)
	cmd.Env = append(os.Environ(), "WYTHE_TEST_NOT_OURS="+dir, "HOME=/", "TMPDIR=")
	if os.Geteuid() == 0 {
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	}
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, said)
	}
	if err := whole(out, "one", somePaths...); err != nil {
		t.Error(err)
	}
}

// TestAFileTooLarge: a quota or a limit on the size of files is met as a full
// disk is.
func TestAFileTooLarge(t *testing.T) {
	if dir := os.Getenv("WYTHE_TEST_LIMITED"); dir != "" {
		signal.Ignore(syscall.SIGXFSZ)
		if err := syscall.Setrlimit(unix.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 8 << 10, Max: 8 << 10}); err != nil {
			fmt.Println(err)
			os.Exit(3)
		}
		large := Output{"large.html", func(*trace.Reads) ([]byte, error) { return make([]byte, 10<<10), nil }}
		_, err := Publish(append(pages("two", somePaths...), large), Options{To: dir})
		if err := oneLine(err, "file too large", "free some room"); err != nil {
			fmt.Println(err)
			os.Exit(3)
		}
		os.Exit(0)
	}
	out := filepath.Join(t.TempDir(), "published")
	mustPublish(t, pages("one", somePaths...), Options{To: out})
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self, "-test.run=^TestAFileTooLarge$")
	cmd.Env = append(os.Environ(), "WYTHE_TEST_LIMITED="+out)
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, said)
	}
	if err := whole(out, "one", somePaths...); err != nil {
		t.Error(err)
	}
}
