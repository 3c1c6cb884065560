package main

import (
	"bytes"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"wythe": func() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) },
	})
}

// TestScripts runs each script of testdata/script: the first word of its name
// is the command it is about.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("HOME", env.WorkDir+"/home")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"forge":   forge,
			"replace": replace,
			"rvalue":  rvalue,
			"same":    same,
			"status":  status,
		},
	})
}

// replace FILE OLD NEW edits a file as its author would; OLD must be there.
func replace(ts *testscript.TestScript, not bool, args []string) {
	if not || len(args) != 3 {
		ts.Fatalf("usage: replace FILE OLD NEW")
	}
	name := ts.MkAbs(args[0])
	text := ts.ReadFile(args[0])
	if !strings.Contains(text, args[1]) {
		ts.Fatalf("%s does not hold %q", args[0], args[1])
	}
	ts.Check(os.WriteFile(name, []byte(strings.ReplaceAll(text, args[1], args[2])), 0o666))
}

// rvalue PAGE < PAGE holds the R-value of one page below that of another.
func rvalue(ts *testscript.TestScript, not bool, args []string) {
	if not || len(args) != 3 || args[1] != "<" {
		ts.Fatalf("usage: rvalue PAGE < PAGE")
	}
	of := func(name string) float64 {
		m := stackR.FindStringSubmatch(ts.ReadFile(name))
		if m == nil {
			ts.Fatalf("%s: no R-value of the stack", name)
		}
		r, err := strconv.ParseFloat(m[1], 64)
		ts.Check(err)
		return r
	}
	if a, b := of(args[0]), of(args[2]); a >= b {
		ts.Fatalf("R %g in %s is not below R %g in %s", a, args[0], b, args[2])
	}
}

// stackR finds the resistance of the whole stack in the foot of the schedule.
var stackR = regexp.MustCompile(`(?s)<tfoot>.*?data-k="R-value">([0-9.]+)`)

// same A B compares two folders, file by file.
func same(ts *testscript.TestScript, not bool, args []string) {
	if not || len(args) != 2 {
		ts.Fatalf("usage: same DIR DIR")
	}
	one, two := contents(ts, args[0]), contents(ts, args[1])
	if diff := cmp.Diff(one, two); diff != "" || len(one) == 0 {
		ts.Fatalf("%d files in %s; %s and %s differ:\n%s", len(one), args[0], args[0], args[1], diff)
	}
}

func contents(ts *testscript.TestScript, dir string) map[string]string {
	root := ts.MkAbs(dir)
	files := map[string]string{}
	ts.Check(filepath.WalkDir(root, func(full string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(full)
		files[strings.TrimPrefix(full, root)] = string(data)
		return err
	}))
	return files
}

// status N COMMAND … runs a command that must end with exit status N.
func status(ts *testscript.TestScript, not bool, args []string) {
	if not || len(args) < 2 {
		ts.Fatalf("usage: status N COMMAND ...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	if exit, ok := err.(*exec.ExitError); ok {
		got = exit.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit status %d; want %d", got, want)
	}
}

// TestEveryCommandShowsAnExample holds the help of each command to the form
// of the house.
func TestEveryCommandShowsAnExample(t *testing.T) {
	var out bytes.Buffer
	root := newRoot(&app{stdout: &out, stderr: &out})
	for _, c := range root.Commands() {
		if c.Hidden {
			continue
		}
		if !strings.HasPrefix(c.Example, "  wythe "+c.Name()) || c.Short == "" || c.Long == "" {
			t.Errorf("%s: the help lacks words or an example that begins with it", c.Name())
		}
		if strings.HasSuffix(c.Short, ".") {
			t.Errorf("%s: the short help is a heading and takes no full stop", c.Name())
		}
	}
}
