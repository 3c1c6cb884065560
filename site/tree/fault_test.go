package tree

import (
	"bufio"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// faulty fails at the change number at; from then on too where dead is set.
type faulty struct {
	Files
	n, at int
	dead  bool
	cause error
}

func (f *faulty) fails() error {
	f.n++
	if f.n == f.at || f.dead && f.n > f.at {
		return f.cause
	}
	return nil
}

func (f *faulty) MkdirAll(dir string) error {
	if err := f.fails(); err != nil {
		return err
	}
	return f.Files.MkdirAll(dir)
}

func (f *faulty) Mkdir(dir string) error {
	if err := f.fails(); err != nil {
		return err
	}
	return f.Files.Mkdir(dir)
}

// WriteFile leaves half a file behind, as a full disk does.
func (f *faulty) WriteFile(name string, data []byte) error {
	if err := f.fails(); err != nil {
		return errors.Join(err, f.Files.WriteFile(name, data[:len(data)/2]))
	}
	return f.Files.WriteFile(name, data)
}

func (f *faulty) Settle(dir string, written []string) error {
	if err := f.fails(); err != nil {
		return err
	}
	return f.Files.Settle(dir, written)
}

func (f *faulty) Rename(from, to string) error {
	if err := f.fails(); err != nil {
		return err
	}
	return f.Files.Rename(from, to)
}

func (f *faulty) Exchange(a, b string) error {
	if err := f.fails(); err != nil {
		return err
	}
	return f.Files.Exchange(a, b)
}

func (f *faulty) Remove(dir *os.Root, name string) error {
	if err := f.fails(); err != nil {
		return err
	}
	return f.Files.Remove(dir, name)
}

func (f *faulty) RemoveDir(dir string) error {
	if err := f.fails(); err != nil {
		return err
	}
	return f.Files.RemoveDir(dir)
}

// faultyLinks fails at links too, as files on another file system do.
type faultyLinks struct{ *faulty }

func (f faultyLinks) Link(from, to string) error {
	if err := f.fails(); err != nil {
		return err
	}
	return System{}.Link(from, to)
}

// linksAlone is a file system with links and no exchange.
type linksAlone struct{ System }

func (linksAlone) Exchange(a, b string) error { return ErrNoExchange }

// TestEveryFailedChangeLeavesAWholeTree fails the first change to the file
// system, then the second, until a publish goes through without meeting the
// failure. After each the tree is the former one or the new one, whole, and
// the next publish goes through and leaves nothing behind.
func TestEveryFailedChangeLeavesAWholeTree(t *testing.T) {
	for _, c := range []struct {
		name     string
		exchange bool
		dead     bool
		spare    bool // the tree is made in the last one but one
		// gone allows the tree to be missing until the next run: a disk that
		// dies between the two renames of a journalled swap.
		gone int
	}{
		{"exchange, one failure", true, false, false, 0},
		{"exchange, dead disk", true, true, false, 0},
		{"journal, one failure", false, false, false, 0},
		{"journal, dead disk", false, true, false, 1},
		{"spare, one failure", true, false, true, 0},
		{"spare, dead disk", true, true, true, 0},
		{"spare and journal, one failure", false, false, true, 0},
		{"spare and journal, dead disk", false, true, true, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			gone := 0
			for at := 1; ; at++ {
				if at > 200 {
					t.Fatal("200 changes and no end")
				}
				dir := t.TempDir()
				out := filepath.Join(dir, "published")
				o := Options{To: out, Workers: 1}
				if c.spare {
					o.Spare = filepath.Join(t.TempDir(), "spares", "one")
					mustPublish(t, pages("nought", "F-101/index.html", "X/y/z.html"), o)
				}
				mustPublish(t, pages("one", somePaths...), o)
				var system Files = System{}
				switch {
				case !c.exchange && c.spare:
					system = linksAlone{System{}}
				case !c.exchange:
					system = noExchange{System{}}
				}
				f := &faulty{Files: system, at: at, dead: c.dead, cause: syscall.ENOSPC}
				o.Files = f
				if c.spare {
					o.Files = faultyLinks{f}
				}
				result, err := Publish(pages("two", somePaths[1:]...), o)
				met := f.n >= at
				got := contents(t, out)
				one, two := wanted("one", somePaths...), wanted("two", somePaths[1:]...)
				switch {
				case err != nil && len(got) == 0:
					gone++
				case err != nil:
					if diff := cmp.Diff(one, got); diff != "" {
						t.Errorf("change %d failed with %v; the former tree changed (-want +got):\n%s", at, err, diff)
					}
					if !errors.Is(err, syscall.ENOSPC) || !strings.Contains(err.Error(), "no space left") || !strings.Contains(err.Error(), "free some room") {
						t.Errorf("change %d: the message does not say what happened and what to do: %v", at, err)
					}
				default:
					if diff := cmp.Diff(two, got); diff != "" {
						t.Errorf("change %d: the new tree is not whole (-want +got):\n%s", at, diff)
					}
					// The journal may stay without harm, so a failure to remove it is silent.
					// A spare that cannot be used or kept costs time alone.
					if met && result.Leftover == nil && c.exchange && !c.spare {
						t.Errorf("change %d failed and nothing was said", at)
					}
				}
				o.Files = nil
				mustPublish(t, pages("three", somePaths...), o)
				if diff := cmp.Diff(wanted("three", somePaths...), contents(t, out)); diff != "" {
					t.Errorf("the run after change %d (-want +got):\n%s", at, diff)
				}
				if diff := cmp.Diff([]string{"published"}, beside(t, out)); diff != "" {
					t.Errorf("the run after change %d left (-want +got):\n%s", at, diff)
				}
				if !met {
					break
				}
			}
			if gone != c.gone {
				t.Errorf("the tree was missing after %d failures; want %d", gone, c.gone)
			}
		})
	}
}

// TestAKilledSwapIsEndedByTheNextRun stands the folders as a kill between the
// two renames leaves them.
func TestAKilledSwapIsEndedByTheNextRun(t *testing.T) {
	out := filepath.Join(t.TempDir(), "published")
	mustPublish(t, pages("one", somePaths...), Options{To: out})
	p, err := settlePlace(out, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(p.swap, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(p.dir, p.old); err != nil {
		t.Fatal(err)
	}
	// The tree comes back before anything else can go wrong.
	if err := mend(p, System{}); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(wanted("one", somePaths...), contents(t, out)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestForeignFilesAsideAreNotRemoved(t *testing.T) {
	out := filepath.Join(t.TempDir(), "published")
	p, err := settlePlace(out, nil)
	if err != nil {
		t.Fatal(err)
	}
	precious := filepath.Join(p.aside, "precious.txt")
	if err := os.MkdirAll(p.aside, 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(precious, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	_, err = Publish(pages("one", "a"), Options{To: out})
	var foreign *ForeignError
	if !errors.As(err, &foreign) || !strings.Contains(err.Error(), "precious.txt") {
		t.Errorf("got %v; want precious.txt refused", err)
	}
	if _, err := os.Stat(precious); err != nil {
		t.Error(err)
	}
}

// kills is how many times a publish is killed.
const kills = 200

// killsWanted is kills, or what WYTHE_KILLS says.
func killsWanted(t *testing.T) int {
	n := kills
	if env := os.Getenv("WYTHE_KILLS"); env != "" {
		var err error
		if n, err = strconv.Atoi(env); err != nil {
			t.Fatal(err)
		}
	}
	return n
}

// TestKilledAtAnyMoment kills a process that publishes over and over, at
// random moments, and finds a whole tree each time.
func TestKilledAtAnyMoment(t *testing.T) {
	if dir := os.Getenv("WYTHE_TEST_PUBLISH_TO"); dir != "" {
		fmt.Println("publishing")
		for i := 0; ; i++ {
			if _, err := Publish(killPages(i%2), Options{To: dir, Spare: filepath.Join(os.Getenv("WYTHE_TEST_SPARE"), "spare")}); err != nil {
				fmt.Println(err)
				os.Exit(3)
			}
		}
	}
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 1))
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	out, spares := filepath.Join(t.TempDir(), "published"), t.TempDir()
	mustPublish(t, killPages(0), Options{To: out})
	for n := range killsWanted(t) {
		cmd := exec.Command(self, "-test.run=^TestKilledAtAnyMoment$")
		cmd.Env = append(os.Environ(), "WYTHE_TEST_PUBLISH_TO="+out, "WYTHE_TEST_SPARE="+spares)
		stdout, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if _, err := bufio.NewReader(stdout).ReadString('\n'); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(random.IntN(int(12 * time.Millisecond))))
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		if err := cmd.Wait(); !killed(err) {
			t.Fatalf("the publisher ended by itself: %v", err)
		}
		got := contents(t, out)
		generation, _, _ := strings.Cut(got["index.html"], " ")
		want := wanted(generation, killPaths(int(generation[len(generation)-1]-'0'))...)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("kill %d, seed %d (-want +got):\n%s", n, seed, diff)
		}
	}
	mustPublish(t, pages("end", somePaths...), Options{To: out})
	if diff := cmp.Diff([]string{"published"}, beside(t, out)); diff != "" {
		t.Errorf("after the kills (-want +got):\n%s", diff)
	}
}

func killed(err error) bool {
	var exit *exec.ExitError
	return errors.As(err, &exit) && !exit.Exited()
}

func killPages(i int) []Output {
	return pages(fmt.Sprintf("generation-%d", i), killPaths(i)...)
}

func killPaths(i int) []string {
	paths := []string{"index.html", "same/in/all.txt"}
	for n := range 60 {
		paths = append(paths, fmt.Sprintf("F-%d%02d/index.html", i, n))
	}
	return paths
}
