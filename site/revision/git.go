package revision

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"wythe/renderer/detail"
)

// Repo is the git repository that a library stands in. It is only read.
type Repo struct {
	root   string // the library's folder
	prefix string // of the library within the repository: "", "details/"
	// Shallow says that the history is cut short.
	Shallow bool
	head    string // the commit at hand; "" in a repository without one
}

// NoHistoryError says why a library has no history to read.
type NoHistoryError struct{ Why, Mend string }

func (e *NoHistoryError) Error() string { return e.Why + "\n\t" + e.Mend }

// OpenRepo finds the repository that a library's folder stands in.
//
// Errors: *[NoHistoryError] where there is no git command, no repository, or
// one that git refuses to read.
func OpenRepo(root string) (*Repo, error) {
	if _, err := exec.LookPath("git"); err != nil {
		return nil, &NoHistoryError{"the history needs the git command, which is not here", "install git"}
	}
	r := &Repo{root: root}
	about := []string{"rev-parse", "--is-inside-work-tree", "--is-shallow-repository", "--show-prefix"}
	out, err := r.git(append(about, "HEAD^{commit}")...)
	if err != nil {
		out, err = r.git(about...) // a repository without a commit, or none
	}
	if err != nil {
		var failed *gitError
		if errors.As(err, &failed) && !strings.Contains(failed.says, "not a git repository") {
			return nil, &NoHistoryError{"git cannot read the history: " + failed.says, "see: git -C " + root + " status"}
		}
		return nil, &NoHistoryError{"the library is not kept in git: it has no history", "begin one with: git init"}
	}
	lines := strings.SplitN(string(out), "\n", 4)
	if len(lines) < 3 || lines[0] != "true" {
		return nil, &NoHistoryError{"the library's folder is no working tree of git", "check the library out"}
	}
	r.Shallow, r.prefix = lines[1] == "true", lines[2]
	if len(lines) == 4 {
		r.head = strings.TrimSpace(lines[3])
	}
	return r, nil
}

// State tells the history that is here from every other: the commit at hand,
// the library's place beneath it, and whether the history is cut short.
func (r *Repo) State() string { return fmt.Sprint(r.head, " ", r.Shallow, " ", r.prefix) }

// gitError is a git command that failed.
type gitError struct{ command, says string }

func (e *gitError) Error() string { return "git " + e.command + ": " + e.says }

// command makes a git command that asks nothing, changes nothing, and runs no
// program that the repository names, but for filters of its files: those are set
// on this machine alone, and without them files could not be compared.
func (r *Repo) command(args ...string) *exec.Cmd {
	safe := []string{"-C", r.root, "--no-pager", "--literal-pathspecs", "-c", "core.fsmonitor=false", "-c", "core.hooksPath=" + os.DevNull, "-c", "core.quotePath=false", "-c", "log.showRoot=true", "-c", "diff.external="}
	c := exec.Command("git", append(safe, args...)...)
	for _, v := range os.Environ() {
		name, _, _ := strings.Cut(v, "=")
		switch name {
		case "GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX", "GIT_OBJECT_DIRECTORY", "GIT_EXTERNAL_DIFF", "GIT_NAMESPACE", "GIT_GLOB_PATHSPECS":
			continue // of the hook that this may run in
		}
		c.Env = append(c.Env, v)
	}
	c.Env = append(c.Env, "LC_ALL=C", "GIT_OPTIONAL_LOCKS=0", "GIT_TERMINAL_PROMPT=0", "GIT_NO_LAZY_FETCH=1", "GIT_PAGER=cat")
	return c
}

// mostOutput is the most that one command may print.
const mostOutput = 256 << 20

func (r *Repo) git(args ...string) ([]byte, error) {
	c := r.command(args...)
	var said bytes.Buffer
	c.Stderr = &said
	pipe, err := c.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := c.Start(); err != nil {
		return nil, err
	}
	out, err := io.ReadAll(io.LimitReader(pipe, mostOutput))
	if err != nil || len(out) == mostOutput {
		_ = c.Process.Kill() // what it prints is no history of a library
		_ = c.Wait()
		return nil, &gitError{args[0], "prints more than can be read"}
	}
	if err := c.Wait(); err != nil {
		first, _, _ := strings.Cut(strings.TrimSpace(said.String()), "\n")
		return nil, &gitError{args[0], strings.TrimPrefix(strings.TrimPrefix(first, "fatal: "), "error: ")}
	}
	return out, nil
}

// RefError is a word that names no commit.
type RefError struct {
	Ref     string
	Shallow bool
}

func (e *RefError) Error() string {
	if e.Shallow {
		return fmt.Sprintf("%q names no commit that is here: the history is cut short\n\tfetch all of it: git fetch --unshallow", e.Ref)
	}
	return fmt.Sprintf("%q names no commit\n\tsee: git log --oneline", e.Ref)
}

// Commit is one commit.
type Commit struct{ Hash, Date string }

// Short is the hash as pages print it.
func (c Commit) Short() string { return c.Hash[:min(len(c.Hash), 10)] }

// Resolve finds the commit that a word names, whatever the word holds.
//
// Errors: *[RefError].
func (r *Repo) Resolve(ref string) (Commit, error) {
	if ref == "" || strings.HasPrefix(ref, "-") || strings.ContainsAny(ref, "\x00\n\r") {
		return Commit{}, &RefError{ref, r.Shallow}
	}
	out, err := r.git("rev-parse", "--verify", "--quiet", "--end-of-options", ref+"^{commit}")
	if err != nil {
		return Commit{}, &RefError{ref, r.Shallow}
	}
	hash := strings.TrimSpace(string(out))
	out, err = r.git("show", "--no-patch", "--no-show-signature", "--format=%cs", hash, "--")
	if err != nil {
		return Commit{}, &RefError{ref, r.Shallow}
	}
	return Commit{hash, strings.TrimSpace(string(out))}, nil
}

// objects returns the bytes of objects by their hash. One that is not here, or
// is larger than any file of a library, is left out.
func (r *Repo) objects(hashes []string) (map[string][]byte, error) {
	out := make(map[string][]byte, len(hashes))
	err := r.eachObject(hashes, func(hash string, data []byte) { out[hash] = bytes.Clone(data) })
	return out, err
}

// eachObject hands objects on as they are read, one after the other: the bytes
// hold until the next.
func (r *Repo) eachObject(hashes []string, do func(hash string, data []byte)) error {
	if len(hashes) == 0 {
		return nil
	}
	c := r.command("cat-file", "--batch", "--buffer")
	c.Stdin = strings.NewReader(strings.Join(hashes, "\n") + "\n")
	pipe, err := c.StdoutPipe()
	if err != nil {
		return err
	}
	if err := c.Start(); err != nil {
		return err
	}
	in := bufio.NewReaderSize(pipe, 64<<10)
	readErr := readObjects(in, len(hashes), do)
	if readErr != nil {
		_ = c.Process.Kill()
	}
	if err := c.Wait(); err != nil && readErr == nil {
		return &gitError{"cat-file", err.Error()}
	}
	return readErr
}

func readObjects(in *bufio.Reader, n int, do func(hash string, data []byte)) error {
	var data []byte
	for range n {
		head, err := in.ReadString('\n')
		if err != nil {
			return &gitError{"cat-file", "ended early"}
		}
		fields := strings.Fields(head)
		if len(fields) != 3 {
			continue // missing
		}
		hash := fields[0]
		size, err := strconv.ParseInt(fields[2], 10, 64)
		if err != nil {
			return &gitError{"cat-file", "prints what cannot be read"}
		}
		if size > detail.MaxFile {
			if _, err := io.CopyN(io.Discard, in, size+1); err != nil {
				return &gitError{"cat-file", "ended early"}
			}
			continue
		}
		data = slices.Grow(data[:0], int(size)+1)[:size+1]
		if _, err := io.ReadFull(in, data); err != nil {
			return &gitError{"cat-file", "ended early"}
		}
		do(hash, data[:size])
	}
	return nil
}

// inLibrary returns a path of the repository from the library's root.
func (r *Repo) inLibrary(path string) (string, bool) {
	return strings.CutPrefix(path, r.prefix)
}

// scope is the library's folder as an argument after --.
func (r *Repo) scope() string { return "." }

// Clean returns the blobs of the library's files that stand as git last saw
// them, by their path from its root. One that only may have changed is left out.
func (r *Repo) Clean() (map[string]string, error) {
	staged, err := r.git("ls-files", "--stage", "-z", "--full-name", "--", r.scope())
	if err != nil {
		return nil, err
	}
	changed, err := r.git("diff-files", "--name-only", "-z", "--no-ext-diff", "--ignore-submodules=all", "--", r.scope())
	if err != nil {
		return nil, err
	}
	out := map[string]string{}
	for _, entry := range strings.Split(string(staged), "\x00") {
		head, path, _ := strings.Cut(entry, "\t")
		fields := strings.Fields(head) // mode, blob, stage
		if name, ok := r.inLibrary(path); ok && len(fields) == 3 && fields[2] == "0" {
			out[name] = fields[1]
		}
	}
	for _, path := range strings.Split(string(changed), "\x00") {
		if name, ok := r.inLibrary(path); ok {
			delete(out, name)
		}
	}
	return out, nil
}

// Dirty lists the files of the library that differ from the commit at hand,
// or are not in it, from the library's root.
func (r *Repo) Dirty() ([]string, error) {
	out, err := r.git("status", "--porcelain=v1", "-z", "--untracked-files=all", "--no-renames", "--ignore-submodules=all", "--", r.scope())
	if err != nil {
		return nil, err
	}
	var list []string
	for _, entry := range strings.Split(string(out), "\x00") {
		if len(entry) < 4 {
			continue
		}
		if name, ok := r.inLibrary(entry[3:]); ok {
			list = append(list, filepath.ToSlash(name))
		}
	}
	return list, nil
}
