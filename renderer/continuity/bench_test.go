package continuity

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"wythe/renderer/detail"
	"wythe/renderer/section"
)

// BenchmarkCheck traces a wall of 15, 60 and 240 parts: whole, and with one
// board that stops short.
func BenchmarkCheck(b *testing.B) {
	for _, n := range []int{15, 60, 240} {
		for _, short := range []bool{false, true} {
			s := wallOf(b, n, short)
			name := fmt.Sprint(n)
			if short {
				name += "/broken"
			}
			b.Run(name, func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					Check(s, Options{})
				}
			})
		}
	}
}

// wallOf stacks panels of W-102, taped one on the other, with pipes before them.
func wallOf(t testing.TB, n int, short bool) *section.Section {
	var f strings.Builder
	fmt.Fprintf(&f, "---\nmark: J-101\ntitle: Wall\nview: {left: 0, right: 60 in, bottom: 0, top: %d in}\nparts:\n", n/3*10)
	for i := range n / 3 {
		top := "10 in"
		if short && i == n/6 {
			top = "9 in"
		}
		fmt.Fprintf(&f, "  - wall%d: {assembly: W-102, inside: right, left: 20 in, bottom: %d in, height: %s}\n", i, i*10, top)
		fmt.Fprintf(&f, "  - pipe%d: {round: waste pipe, diameter: 2 in, at: [40 in, %d in]}\n", i, i*10+5)
		fmt.Fprintf(&f, "  - shelf%d: {material: softwood, left: 10 in, width: 6 in, bottom: %d in, height: 1 in}\n", i, i*10+2)
	}
	f.WriteString("spaces: {inside: {at: [50 in, 5 in]}, outside: {at: [5 in, 5 in]}}\n---\n")
	wall, err := os.ReadFile("testdata/corpus/assemblies/W-102.md")
	if err != nil {
		t.Fatal(err)
	}
	lib, err := detail.ReadFS(fstest.MapFS{
		"library.yaml": {Data: []byte("firm: Oriel & Strand Architects\nmarks: \"[A-Z]-[0-9]{3}\"\n")},
		"W-102.md":     {Data: wall},
		"J-101.md":     {Data: []byte(f.String())},
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range lib.Details {
		if d.Junction != nil {
			s, list := section.Resolve(d.Junction, nil, section.Options{})
			if list.Errors() > 0 || lib.Findings.Errors() > 0 {
				t.Fatal(lib.Findings.Items, list.Items)
			}
			return s
		}
	}
	t.Fatal("no junction")
	return nil
}
