package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "draw the README's drawing anew")

// TestReadmeShowsTheDrawingAsItIs holds the drawing in the README to what the
// program draws of the demonstration library today.
func TestReadmeShowsTheDrawingAsItIs(t *testing.T) {
	const file = "testdata/readme/F-101.svg"
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(readme), "(cmd/wythe/"+file+")") {
		t.Errorf("the README does not show cmd/wythe/%s", file)
	}
	var out, errs bytes.Buffer
	if code := run([]string{"draw", "F-101", "--library", "../../details"}, &out, &errs); code != 0 {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, out.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(out.Bytes(), want) {
		t.Errorf("%s is not what is drawn now; look at it, then: go test ./cmd/wythe -run Readme -update", file)
	}
}

// TestTheScriptIsTheReadme holds the script of the first ten minutes to the
// README: each command that the tour there gives is in the script, in its
// order, and so is the output of the slip it makes.
func TestTheScriptIsTheReadme(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	script, err := os.ReadFile("testdata/script/begin_first_ten_minutes.txtar")
	if err != nil {
		t.Fatal(err)
	}
	_, tour, ok := strings.Cut(string(readme), "## Five minutes\n")
	if !ok {
		t.Fatal("the README has no section Five minutes")
	}
	tour, _, _ = strings.Cut(tour, "\n## ")
	rest := string(script)
	commands := 0
	for _, block := range regexp.MustCompile("(?s)```sh\n(.*?)```").FindAllStringSubmatch(tour, -1) {
		for _, line := range strings.Split(strings.TrimSpace(block[1]), "\n") {
			if strings.HasPrefix(line, "wythe ") {
				line = "exec " + line
			}
			_, after, ok := strings.Cut(rest, line+"\n")
			if !ok {
				t.Errorf("the script does not have %q after what came before", line)
				continue
			}
			rest = after
			commands++
		}
	}
	if commands < 6 {
		t.Errorf("the tour has %d commands; want at least 6", commands)
	}
	for _, words := range []string{"7 1/4 in", "9 1/4 in", "gypsum bord", "gypsum board", "assemblies/W-101.md"} {
		if !strings.Contains(tour, words) || !strings.Contains(string(script), words) {
			t.Errorf("%q is not in both the tour and the script", words)
		}
	}
}
