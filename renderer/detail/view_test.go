package detail

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"wythe/renderer/trace"
)

// goodFiles is the sound library of testdata in memory, to be changed.
func goodFiles(t *testing.T) fstest.MapFS {
	t.Helper()
	l, err := Read("testdata/good")
	if err != nil {
		t.Fatal(err)
	}
	fsys := fstest.MapFS{}
	v := l.View(nil)
	names := []string{"library.yaml", "materials.yaml", "climates/marrow-point.yaml"}
	for _, of := range []Of{AllDetails, AllSpecs, AllBuildings, AllProse} {
		for _, d := range v.Details(of) {
			names = append(names, d.File)
		}
	}
	for _, name := range names {
		data, ok := v.File(name)
		if !ok {
			t.Fatalf("no %s", name)
		}
		fsys[name] = &fstest.MapFile{Data: data}
	}
	return fsys
}

func readsOf(l *Library, use func(*View)) map[string]string {
	var reads trace.Reads
	use(l.View(&reads))
	out := map[string]string{}
	for _, r := range reads.Sorted() {
		out[r.Key] = r.Hash
	}
	return out
}

// TestTraces: a change of a file changes the hash of each look-up whose
// answer it changes, and of no other.
func TestTraces(t *testing.T) {
	uses := map[string]func(*View){
		"settings":    func(v *View) { v.Settings() },
		"climate":     func(v *View) { v.Climate() },
		"F-101":       func(v *View) { v.Detail("F-101") },
		"R-101":       func(v *View) { v.Detail("R-101") },
		"J-201":       func(v *View) { v.Detail("J-201") },
		"J-300":       func(v *View) { v.Detail("J-300") },
		"cellulose":   func(v *View) { v.Material("dense-pack cellulose") },
		"no material": func(v *View) { v.Material("straw bale") },
		"is J-300":    func(v *View) { v.Has("J-300", "") },
		"is F-101 C":  func(v *View) { v.Has("F-101", "C") },
		"marks":       func(v *View) { v.Pattern() },
		"cards":       func(v *View) { v.Cards(AllDetails) },
		"junctions":   func(v *View) { v.Details(Junctions) },
		"laid in":     func(v *View) { v.LaidIn("W-101") },
		"uses XPS":    func(v *View) { v.UsesMaterial("XPS type IV") },
		"cited in":    func(v *View) { v.CitedIn("J-201") },
		"replaces":    func(v *View) { v.Replaces("F-101") },
		"spec":        func(v *View) { v.Spec("07 26 00") },
		"no spec":     func(v *View) { v.Spec("07 27 00") },
		"building":    func(v *View) { v.Building("Ferry Landing") },
		"prose":       func(v *View) { v.Prose("standard.md") },
		"file":        func(v *View) { v.File("plan.png") },
	}
	read := func(fsys fstest.MapFS) *Library {
		l, err := ReadFS(fsys)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	sameAsEver := read(goodFiles(t))
	before := map[string]map[string]string{}
	for name, use := range uses {
		before[name] = readsOf(sameAsEver, use)
		if len(before[name]) == 0 {
			t.Errorf("%s records nothing", name)
		}
	}
	edit := func(file, old, new string) func(fstest.MapFS) {
		return func(fsys fstest.MapFS) {
			was := string(fsys[file].Data)
			if !strings.Contains(was, old) {
				t.Fatalf("%s does not hold %q", file, old)
			}
			fsys[file] = &fstest.MapFile{Data: []byte(strings.Replace(was, old, new, 1))}
		}
	}
	put := func(file, text string) func(fstest.MapFS) {
		return func(fsys fstest.MapFS) { fsys[file] = &fstest.MapFile{Data: []byte(text)} }
	}
	for _, c := range []struct {
		change  string
		do      func(fstest.MapFS)
		changes string
	}{
		{"nothing", func(fstest.MapFS) {}, ""},
		{"the firm", edit("library.yaml", "Oriel", "Strand"), "settings"},
		{"the pattern", edit("library.yaml", "[FWRJ]", "[FWRJX]"), "marks settings"},
		{"a month", edit("climates/marrow-point.yaml", "-3.1 C", "-3.2 C"), "climate"},
		{"a material", edit("materials.yaml", "0.040", "0.041"), "R-101 cellulose junctions"},
		{"a remark in materials.yaml", edit("materials.yaml", "- material", "# remark\n- material"), ""},
		{"a new material", edit("materials.yaml", "- material", "- {material: straw bale, conductivity: 0.06 W/mK, hatch: batt, source: a test}\n- material"), "no_material"},
		{"a wall", edit("assemblies/W-101.md", "thickness: 2 in,", "thickness: 3 in,"), "J-201 junctions"},
		{"a wall's title", edit("assemblies/W-101.md", "Basement wall", "Cellar wall"), "J-201 cards cited_in junctions uses_XPS"},
		{"a slab's revision", edit("assemblies/F-101.md", "revisions:", "revisions:\n  - {rev: C, date: 2026-09-01, note: Third.}"), "F-101 J-201 is_F-101_C junctions"},
		{"a new junction", put("junctions/J-300.md", strings.Replace(sound["J-201.md"], "J-201", "J-300", 1)), "J-300 cards is_J-300 junctions laid_in uses_XPS"},
		{"a word of prose", edit("standard.md", "without", "that has no"), "prose"},
		{"a cite", edit("standard.md", "without", "like J-201 without"), "cited_in prose"},
		{"a section", edit("specs/07-26-00.md", "films", "sheets"), "spec"},
		{"a new section", put("specs/07-27-00.md", "---\nsection: 07 27 00\ntitle: Air barriers\n---\n"), "no_spec"},
		{"the building", edit("buildings/ferry-landing.md", "17400", "17500"), "building"},
		{"a picture", put("plan.png", "PNG"), "file"},
		{"a file's name", func(fsys fstest.MapFS) {
			fsys["assemblies/roof.md"] = fsys["assemblies/R-101.md"]
			delete(fsys, "assemblies/R-101.md")
		}, "R-101 cards junctions"},
	} {
		after := goodFiles(t)
		c.do(after)
		var changed []string
		l := read(after)
		for name, use := range uses {
			if cmp.Diff(before[name], readsOf(l, use)) != "" {
				changed = append(changed, strings.ReplaceAll(name, " ", "_"))
			}
		}
		want := map[string]bool{}
		for _, s := range strings.Fields(c.changes) {
			want[s] = true
		}
		got := map[string]bool{}
		for _, s := range changed {
			got[s] = true
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("after %s (-want changed +changed):\n%s", c.change, d)
		}
	}
}

func TestViewLists(t *testing.T) {
	l, err := Read("testdata/good")
	if err != nil {
		t.Fatal(err)
	}
	v := l.View(nil)
	marks := func(cards []Card) string {
		var out []string
		for _, c := range cards {
			if c.Mark == "" {
				c.Mark = c.File
			}
			out = append(out, c.Mark)
		}
		return strings.Join(out, " ")
	}
	for _, c := range []struct{ what, got, want string }{
		{"assemblies", marks(v.Cards(Assemblies)), "F-100 F-101 R-101 W-101"},
		{"junctions", marks(v.Cards(Junctions)), "J-201 J-209"},
		{"specs", marks(v.Cards(AllSpecs)), "specs/07-26-00.md"},
		{"laid in", marks(v.LaidIn("W-101")), "J-201"},
		{"uses", marks(v.UsesMaterial("XPS type IV")), "F-101 J-201 W-101"},
		{"uses in place", marks(v.UsesMaterial("test board")), ""},
		{"cited in", marks(v.CitedIn("J-201")), "F-101 W-101 J-209 specs/07-26-00.md"},
		{"replaces", marks(v.Replaces("F-101")), "F-100"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q; want %q", c.what, c.got, c.want)
		}
	}
	if d := v.Detail("J-201"); d == nil || d.Junction.Parts[2].Assembly != v.Detail("W-101") {
		t.Error("J-201 does not lay W-101")
	}
	if v.Detail("X-999") != nil || v.Material("none such") != nil || v.Spec("x") != nil || v.Building("x") != nil || v.Prose("x") != nil {
		t.Error("something was found that is not there")
	}
	if m := v.Material("concrete"); m == nil || m.Name != "concrete" {
		t.Errorf("Material(concrete) = %v", m)
	}
	if v.Spec("07 26 00") == nil || v.Building("Ferry Landing") == nil || v.Prose("standard.md") == nil {
		t.Error("something was not found that is there")
	}
}
