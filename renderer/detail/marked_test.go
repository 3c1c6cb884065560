package detail

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"wythe/renderer/finding"
)

// sources strips the ▸ that marks where a finding is expected from every
// file, and returns the places in order of file, line and column. Files that
// a case does not give are those of a small sound library.
func sources(files map[string]string) (fstest.MapFS, []finding.Position) {
	fsys := fstest.MapFS{}
	var places []finding.Position
	for name, text := range sound {
		if _, given := files[name]; !given {
			fsys[name] = &fstest.MapFile{Data: []byte(text)}
		}
	}
	for name, text := range files {
		if text == "" {
			continue // leaves a sound file out
		}
		var b strings.Builder
		line, column := 1, 1
		for _, r := range text {
			switch r {
			case '▸':
				places = append(places, finding.Position{File: name, Line: line, Column: column})
				continue
			case '\n':
				line, column = line+1, 0
			}
			b.WriteRune(r)
			column++
		}
		fsys[name] = &fstest.MapFile{Data: []byte(b.String())}
	}
	slices.SortFunc(places, func(a, b finding.Position) int {
		if c := strings.Compare(a.File, b.File); c != 0 {
			return c
		}
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return a.Column - b.Column
	})
	return fsys, places
}

// sound is a library without a finding.
var sound = map[string]string{
	"library.yaml": "firm: Oriel & Strand Architects\nunits: inch\n",
	"W-101.md": `---
mark: W-101
title: Wall
element: wall
layers:
  - {name: board, material: gypsum board, thickness: 1/2 in}
  - {name: service space, material: mineral wool batt, thickness: 2 in}
  - {name: concrete, material: concrete, thickness: 8 in, control: [air, vapor]}
  - {name: coat, material: dampproofing, thickness: 60 mil, control: [water]}
---
`,
	"F-101.md": `---
mark: F-101
title: Slab
element: floor on ground
layers:
  - {name: slab, material: concrete, thickness: 5 in}
  - {name: film, material: vapor retarder film, thickness: 15 mil, control: [air, vapor]}
  - {name: foam, material: XPS type IV, thickness: 3 in, control: [thermal]}
---
`,
	"J-201.md": `---
mark: J-201
title: Edge
` + soundJunction + "---\n",
}

const soundJunction = `view: {left: 0, right: 60 in, bottom: 0, top: 60 in}
parts:
  - footing: {material: concrete, left: 0, width: 20 in, bottom: 0, height: 10 in}
  - wall: {assembly: W-101, inside: right, left: 2 in right of footing.left, bottom: footing.top, top: cut}
spaces:
  inside: {at: [50 in, 50 in]}
  outside: {at: [1 in, 50 in]}
`

// assemblyOf is an assembly of the layers and further lines given.
func assemblyOf(lines string) string {
	return "---\nmark: W-102\ntitle: Wall\nelement: wall\n" + lines + "---\n"
}

// layersOf is an assembly of one layer with the keys given.
func layersOf(keys string) string {
	return assemblyOf("layers:\n  - {" + keys + "}\n")
}

// partsOf is a junction with further parts.
func partsOf(lines string) string {
	return "---\nmark: J-202\ntitle: Edge\n" + strings.Replace(soundJunction, "spaces:", lines+"spaces:", 1) + "---\n"
}

// junctionOf is a junction with further keys.
func junctionOf(lines string) string {
	return "---\nmark: J-202\ntitle: Edge\n" + soundJunction + lines + "---\n"
}

// wrong is one mistake: the rule it breaks, and the file that makes it.
type wrong struct {
	rule string
	file string // W-102.md, J-202.md, … by what the text is
	text string
	mend string // part of the mend, where it matters
}

func checkWrong(t *testing.T, cases []wrong) {
	t.Helper()
	for n, c := range cases {
		t.Run(fmt.Sprintf("%d %s", n, c.rule), func(t *testing.T) {
			checkFiles(t, c.rule, c.mend, map[string]string{c.file: c.text})
		})
	}
}

// checkFiles reads a library and expects findings of the rule at each ▸ and
// none besides.
func checkFiles(t *testing.T, rule, mend string, files map[string]string) {
	t.Helper()
	fsys, want := sources(files)
	if len(want) == 0 {
		t.Fatal("the case marks no place")
	}
	l, err := ReadFS(fsys)
	if err != nil {
		t.Fatal(err)
	}
	var got []finding.Position
	for _, i := range l.Findings.Items {
		if i.Rule != rule {
			t.Errorf("also %v", i)
			continue
		}
		got = append(got, i.Position)
		if i.Mend == "" && rule != "bad-quantity" || i.Message == "" {
			t.Errorf("no mend or message: %v", i)
		}
		if !strings.Contains(i.Mend, mend) {
			t.Errorf("mend %q does not hold %q", i.Mend, mend)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("%s at %v; want %v", rule, got, want)
		for _, i := range l.Findings.Items {
			t.Log(i)
		}
	}
}

func TestSoundLibraryHasNoFindings(t *testing.T) {
	fsys, _ := sources(nil)
	fsys["W-102.md"] = &fstest.MapFile{Data: []byte(layersOf("material: concrete, thickness: 1 in"))}
	fsys["J-202.md"] = &fstest.MapFile{Data: []byte(partsOf("") + junctionOf("")[:0])}
	l, err := ReadFS(fsys)
	if err != nil || len(l.Findings.Items) > 0 {
		t.Fatal(err, l.Findings.Items)
	}
}
