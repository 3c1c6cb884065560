package specimen

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

var fingerprint = regexp.MustCompile(`, fingerprint: [^,}]*`)

var demoMark = regexp.MustCompile(`\b([FWRJ])-([0-9]{3})\b`)

// Whole lays down, in a folder, a library of at least n details as offices have
// them: assemblies, junctions that lay them, buildings and specification
// sections. It is the demonstration library, which lies in demo, again and
// again, each time under marks of its own and with other thicknesses, so that
// no two stacks are the same. It returns how many details it came to.
//
// Errors: those of reading and writing files.
func Whole(dir, demo string, n int) (details int, err error) {
	for k := 0; details < n; k++ {
		err := fs.WalkDir(os.DirFS(demo), ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			folder := filepath.Dir(name)
			if k > 0 && folder != "assemblies" && folder != "junctions" && folder != "buildings" {
				return nil // one set of settings, sections and prose
			}
			data, err := os.ReadFile(filepath.Join(demo, name))
			if err != nil {
				return err
			}
			text := demoMark.ReplaceAllString(string(data), fmt.Sprintf("$1-${2}%03d", k))
			target := demoMark.ReplaceAllString(name, fmt.Sprintf("$1-${2}%03d", k))
			switch folder {
			case ".":
				text = strings.Replace(text, "[0-9]{3}", "[0-9]{6}", 1)
			case "buildings":
				text = strings.Replace(text, "title: ", fmt.Sprintf("title: No. %d, ", k+1), 1)
				target = fmt.Sprintf("buildings/b%03d.md", k)
			case "assemblies", "junctions":
				// A fingerprint is of the text that was issued.
				text = fingerprint.ReplaceAllString(text, "")
				details++
			}
			if folder == "assemblies" {
				text = strings.Replace(text, "thickness: 8 in", fmt.Sprintf("thickness: %d in", 6+k%7), 1)
			}
			full := filepath.Join(dir, target)
			if err := os.MkdirAll(filepath.Dir(full), 0o777); err != nil {
				return err
			}
			return os.WriteFile(full, []byte(text), 0o666)
		})
		if err != nil {
			return details, err
		}
	}
	return details, nil
}
