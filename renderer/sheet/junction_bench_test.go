package sheet

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

// courses is a wall of n boards, one on the other, each lapping the last.
func courses(tb testing.TB, n int) drawable {
	tb.Helper()
	var b strings.Builder
	b.WriteString("---\nmark: J-901\ntitle: Courses\nscale: 1:8\nview: {left: 0, right: 40 in, bottom: 0, top: 60 in}\nparts:\n")
	for i := range n {
		fmt.Fprintf(&b, "  - board %d: {material: plywood, left: %d in, width: 8 in, bottom: %.4f in, height: %.4f in, control: [air]}\n", i, 14+i%3, 60/float64(n)*float64(i), 60/float64(n))
	}
	b.WriteString("spaces:\n  inside: {at: [35 in, 30 in]}\n  outside: {at: [4 in, 30 in]}\n---\n")
	lib, err := detail.ReadFS(fstest.MapFS{
		"library.yaml": {Data: []byte("firm: Oriel & Strand Architects\nmarks: \"[A-Z]-[0-9]{3}\"\n")},
		"J-901.md":     {Data: []byte(b.String())},
	})
	if err != nil {
		tb.Fatal(err)
	}
	d := lib.Detail("J-901")
	if d == nil || lib.Findings.Errors() > 0 {
		tb.Fatalf("%v", lib.Findings.Items)
	}
	s, list := section.Resolve(d.Junction, nil, section.Options{})
	if s == nil {
		tb.Fatalf("%v", list.Items)
	}
	reports, _ := continuity.Check(s, continuity.Options{})
	return drawable{d, s, reports}
}

// BenchmarkJunction draws sections of 15, 60 and 240 parts: its time should
// grow with the parts.
func BenchmarkJunction(b *testing.B) {
	for _, n := range []int{15, 60, 240} {
		c := courses(b, n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				c.sheet().Draw(JunctionLook{Look: Look{Dress: drawing.Wide, System: units.Inch}})
			}
		})
	}
}

// BenchmarkPage draws what one junction's page holds of the demonstration's
// slab edge: the wide and the narrow dress.
func BenchmarkPage(b *testing.B) {
	c := laid(b, "testdata/library")[0]
	b.ReportAllocs()
	for b.Loop() {
		sh := c.sheet()
		sh.Draw(JunctionLook{Look: Look{Dress: drawing.Wide, System: units.Inch, Linked: true, Listed: true}})
		sh.Draw(JunctionLook{Look: Look{Dress: drawing.Phone, System: units.Inch, Linked: true, Listed: true}})
	}
}
