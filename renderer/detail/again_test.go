package detail

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"wythe/renderer/memo"
)

// TestAgainIsAFirstRead edits a copy of the demonstration library at random
// and holds each read again, and each read by way of a store, to a first read
// of the same files.
func TestAgainIsAFirstRead(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../details")); err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, pattern := range []string{"*/*.md", "*.md", "*.yaml", "*/*.yaml"} {
		found, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, found...)
	}
	again, err := NewAgain(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	random := rand.New(rand.NewPCG(4, 4))
	swaps := [][2]string{{"1 1/2 in", "2 in"}, {"concrete", "concret"}, {"XPS type IV", "XPS type VI"}, {"issued", "draft"}, {"F-101", "F-109"}, {"title:", "titel:"},
		{"sealant", "tape"}, {"J-201", "J-2010"}, {"concret\n", "concrete\n"}, {"F-109", "F-101"}, {"titel:", "title:"}, {"left", "right"}, {"conductivity: 0.", "conductivity: 1."}, {"conductivity: 1.", "conductivity: 0."}, {"name: ", "name: x"}}
	reused := 0
	kept := filepath.Join(t.TempDir(), "store")
	for step := range 90 {
		name := names[random.IntN(len(names))]
		old, err := os.ReadFile(name)
		if err != nil {
			old = nil // removed before: it comes back empty
		}
		swap := swaps[random.IntN(len(swaps))]
		switch random.IntN(8) {
		case 0:
			if err := os.Remove(name); err != nil && old != nil {
				t.Fatal(err)
			}
		default:
			if err := os.WriteFile(name, []byte(strings.Replace(string(old), swap[0], swap[1], 1)), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		if step%3 == 0 {
			time.Sleep(youngest)
		}
		got, err := again.Read()
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range again.files {
			if k.reader.lib == got {
				reused++
			}
		}
		want, err := Read(dir)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(got.Findings.Items, want.Findings.Items) {
			t.Fatalf("step %d, %s: read again finds\n%v\na first read\n%v", step, name, got.Findings.Items, want.Findings.Items)
		}
		if g, w := summary(got), summary(want); g != w {
			t.Fatalf("step %d, %s: read again is\n%s\na first read\n%s", step, name, g, w)
		}
		if step%10 == 9 { // a damaged store costs time alone
			data, err := os.ReadFile(kept)
			if err != nil {
				t.Fatal(err)
			}
			data[random.IntN(len(data))] ^= 0x55
			if err := os.WriteFile(kept, data, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		store := memo.Open(kept, "test")
		if got, err = ReadSaved(dir, store); err != nil {
			t.Fatal(err)
		}
		if err := store.Save(); err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(got.Findings.Items, want.Findings.Items) {
			t.Fatalf("step %d, %s: read by way of a store finds\n%v\na first read\n%v", step, name, got.Findings.Items, want.Findings.Items)
		}
		if g, w := summary(got), summary(want); g != w {
			t.Fatalf("step %d, %s: read by way of a store is\n%s\na first read\n%s", step, name, g, w)
		}
	}
	if reused < 500 {
		t.Errorf("%d files were taken as before: too few to tell", reused)
	}
}

// TestAJunctionIsReadAgainWhereItsMaterialChanged: of a part's own material and
// of an assembly that is laid.
func TestAJunctionIsReadAgainWhereItsMaterialChanged(t *testing.T) {
	dir := t.TempDir()
	put := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	material := "- {material: tuff, hatch: stone, conductivity: %s W/mK, source: a test}\n"
	wall := "---\nmark: W-101\ntitle: Wall\nelement: wall\nlayers:\n  - {name: core, material: concrete, thickness: %s in}\n---\n"
	put("library.yaml", "firm: Oriel & Strand Architects\nmarks: \"[A-Z]-[0-9]{3}\"\n")
	put("materials.yaml", fmt.Sprintf(material, "0.5"))
	put("W-101.md", fmt.Sprintf(wall, "8"))
	put("J-201.md", "---\nmark: J-201\ntitle: Foot\nparts:\n  - block: {material: tuff, left: 0 in, right: 8 in, bottom: -8 in, top: 0 in}\n"+
		"  - wall: {assembly: W-101, inside: left, left: block.left, bottom: block.top, top: 24 in above block.top}\n"+
		"spaces:\n  inside: {at: [-4 in, 4 in]}\n  outside: {at: [16 in, 4 in]}\n"+
		"view: {left: -12 in, right: 24 in, bottom: -12 in, top: 20 in}\n---\n")
	time.Sleep(2 * youngest)
	again, err := NewAgain(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	read := func() string {
		l, err := again.Read()
		if err != nil {
			t.Fatal(err)
		}
		want, err := Read(dir)
		if err != nil {
			t.Fatal(err)
		}
		if len(want.Findings.Items) > 0 {
			t.Fatal(want.Findings.Items)
		}
		if g, w := summary(l), summary(want); g != w {
			t.Errorf("read again is\n%s\na first read\n%s", g, w)
		}
		return fmt.Sprintf("%p", l.Detail("J-201").Junction.Parts[0])
	}
	read()
	first := read()
	if second := read(); first != second {
		t.Error("nothing changed, and the junction was read again")
	}
	put("materials.yaml", fmt.Sprintf(material, "0.7"))
	if changed := read(); changed == first {
		t.Error("a material changed, and the junction was not read again")
	}
	time.Sleep(2 * youngest)
	first = read()
	put("W-101.md", fmt.Sprintf(wall, "6"))
	if changed := read(); changed == first {
		t.Error("an assembly that is laid changed, and the junction was not read again")
	}
}

// summary prints all that a library says, with what each file was made of.
func summary(l *Library) string {
	var b strings.Builder
	for _, list := range [][]*Detail{l.Details, l.Specs, l.Buildings, l.Prose} {
		for _, d := range list {
			fmt.Fprintf(&b, "%s %s %v %v %v %v %d", d.File, d.Mark, d.reads, d.Cites, d.Figures, d.Sequence, len(d.Body))
			if d.Junction != nil {
				for _, p := range d.Junction.Parts {
					if p.Material != nil {
						fmt.Fprintf(&b, " %s", materialHash(p.Material))
					}
					fmt.Fprintf(&b, " %s:%v,%v,%v,%v", p.Name, p.Left, p.Top, p.Joins, p.Assembly == l.byMark[p.Mark] || p.Mark == "")
				}
			}
			if d.Building != nil {
				fmt.Fprintf(&b, " %v %v", d.Building.Areas, d.Building.Lengths)
			}
			b.WriteByte('\n')
		}
	}
	return b.String()
}

// BenchmarkReadAgain reads 1,000 details of which one was changed.
func BenchmarkReadAgain(b *testing.B) {
	dir := b.TempDir()
	put := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			b.Fatal(err)
		}
	}
	put("library.yaml", "firm: Oriel & Strand Architects\nmarks: \"W-[0-9]{5}\"\n")
	for i := range 1000 {
		mark := fmt.Sprintf("W-%05d", i)
		put(mark+".md", longAssembly(mark))
	}
	again, err := NewAgain(dir)
	if err != nil {
		b.Fatal(err)
	}
	time.Sleep(2 * youngest)
	for i := 0; b.Loop(); i++ {
		b.StopTimer()
		put("W-00500.md", strings.Replace(longAssembly("W-00500"), "1 1/2 in", fmt.Sprintf("%d in", 1+i%7), 1))
		b.StartTimer()
		if _, err := again.Read(); err != nil {
			b.Fatal(err)
		}
	}
}

// TestAStoreIsReadInsteadOfTheFile: a file that did not change is not read,
// and one of the same size and time that did change is.
func TestAStoreIsReadInsteadOfTheFile(t *testing.T) {
	dir, kept := t.TempDir(), filepath.Join(t.TempDir(), "store")
	put := func(text string) {
		if err := os.WriteFile(filepath.Join(dir, "W-101.md"), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "library.yaml"), []byte("firm: Oriel & Strand Architects\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	text := longAssembly("W-101")
	put(text)
	time.Sleep(2 * youngest)
	read := func() (*Detail, *memo.Store) {
		store := memo.Open(kept, "test")
		l, err := ReadSaved(dir, store)
		if err != nil {
			t.Fatal(err)
		}
		if err := store.Save(); err != nil {
			t.Fatal(err)
		}
		return l.Detail("W-101"), store
	}
	first, _ := read()
	// Put another text under the file's hash: a read that takes the file
	// itself does not see it.
	store := memo.Open(kept, "test")
	page, ok := store.Get("page/" + first.Hash)
	if !ok {
		t.Fatal("the file is not in the store")
	}
	if _, ok := store.Get("seen/W-101.md"); !ok {
		t.Fatal("that the file was seen is not in the store")
	}
	other := strings.Replace(page, first.Title, strings.Repeat("x", len(first.Title)), 1)
	store.Put("page/"+first.Hash, other)
	if err := store.Save(); err != nil {
		t.Fatal(err)
	}
	if again, _ := read(); again.Title != strings.Repeat("x", len(first.Title)) {
		t.Errorf("title %q: the file was parsed anew", again.Title)
	}
	info, err := os.Stat(filepath.Join(dir, "W-101.md"))
	if err != nil {
		t.Fatal(err)
	}
	put(strings.Replace(text, first.Title, strings.Repeat("y", len(first.Title)), 1))
	if err := os.Chtimes(filepath.Join(dir, "W-101.md"), info.ModTime(), info.ModTime()); err != nil {
		t.Fatal(err)
	}
	if again, _ := read(); runtime.GOOS == "linux" && again.Title != strings.Repeat("y", len(first.Title)) {
		t.Errorf("title %q: a file with its time set back was taken for the last one", again.Title)
	}
}
