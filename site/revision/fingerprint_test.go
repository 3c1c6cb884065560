package revision

import (
	"strings"
	"testing"

	"wythe/renderer/detail"
	"wythe/renderer/section"
)

const testSettings = "firm: Oriel & Strand Architects\ntitle: T\nunits: inch\nmarks: \"[A-Z]-[0-9]{3}\"\n"

const testAssembly = `---
mark: F-101
title: Slab
element: floor on ground
status: issued
layers:
  - {name: slab, material: concrete, thickness: 5 in, note: Cure it wet.}
  - {name: film, material: vapor retarder film, thickness: 15 mil, control: [air, vapor], joints: lap 6 in and tape}
  - {name: foam, material: XPS type IV, thickness: 3 in, courses: 2}
sequence:
  - {do: Place the slab., shows: [slab]}
study: {vary: foam, from: 1 in, to: 10 in, by: 1/2 in}
revisions:
  - {rev: A, date: 2026-06-03, note: First issue.}
---

Lay both courses.
`

const testJunction = `---
mark: J-201
title: Edge
view: {left: 0, right: 40 in, bottom: 0, top: 40 in}
parts:
  - slab: {assembly: F-101, inside: top, left: 10 in, right: cut, top: 20 in}
  - wall: {material: concrete, left: 0, right: 10 in, bottom: 0, top: cut}
  - bead: {seal: sealant, joins: [wall, slab.film], at: [10 in, slab.slab.bottom]}
spaces:
  inside: {at: [20 in, 30 in]}
  outside: {at: [20 in, 1 in]}
---
`

func testLibrary(t testing.TB, changes ...string) (assembly, junction string) {
	t.Helper()
	files := map[string][]byte{"library.yaml": []byte(testSettings), "a/F-101.md": []byte(testAssembly), "J-201.md": []byte(testJunction)}
	for i := 0; i+1 < len(changes); i += 2 {
		found := false
		for name, data := range files {
			if strings.Contains(string(data), changes[i]) {
				files[name] = []byte(strings.ReplaceAll(string(data), changes[i], changes[i+1]))
				found = true
			}
		}
		if !found {
			t.Fatalf("no file holds %q", changes[i])
		}
	}
	lib, err := detail.ReadFS(&memory{files: files})
	if err != nil {
		t.Fatal(err)
	}
	if lib.Findings.Errors() > 0 {
		t.Fatal(lib.Findings.Items)
	}
	j := lib.Detail("J-201")
	s, list := section.Resolve(j.Junction, lib.Detail, section.Options{})
	if list.Errors() > 0 {
		t.Fatal(list.Items)
	}
	return Fingerprint(lib.Detail("F-101"), nil), Fingerprint(j, s)
}

func TestFingerprint(t *testing.T) {
	a, j := testLibrary(t)
	for _, f := range []string{a, j} {
		if !Readable(f) || len(Short(f)) != 12 {
			t.Fatalf("fingerprint %q", f)
		}
	}
	for _, c := range []struct {
		name       string
		a, j       bool // changes that of the assembly, of the junction
		old, fresh string
	}{
		{"another unit", false, false, "thickness: 5 in", "thickness: 127 mm"},
		{"a fraction", false, false, "thickness: 5 in", "thickness: 10/2 in"},
		{"other spacing", false, false, "Lay both courses.", "Lay  both\ncourses."},
		{"order of keys", false, false, "mark: J-201\ntitle: Edge", "title: Edge\nmark: J-201"},
		{"status", false, false, "status: issued", "status: for review"},
		{"revisions", false, false, "note: First issue.", "note: Other."},
		{"study", false, false, "to: 10 in, by", "to: 9 in, by"},
		{"edge said otherwise", false, false, "right: 10 in, bottom: 0, top: cut", "width: 10 in, bottom: 0, top: 40 in"},
		{"thickness", true, true, "thickness: 5 in", "thickness: 5 1/16 in"},
		{"material", true, true, "XPS type IV", "XPS type VI"},
		{"courses", true, true, "courses: 2", "courses: 3"},
		{"layer's note", true, true, "Cure it wet.", "Cure it wet 7 days."},
		{"body", true, false, "Lay both courses.", "Lay all courses."},
		{"step", true, false, "Place the slab.", "Place it."},
		{"place of a part", false, true, "left: 10 in, right: cut, top: 20 in", "left: 10 in, right: cut, top: 20.01 in"},
		{"seal", false, true, "seal: sealant", "seal: gasket"},
		{"title", false, true, "title: Edge", "title: Rim"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a2, j2 := testLibrary(t, c.old, c.fresh)
			if (a2 != a) != c.a || (j2 != j) != c.j {
				t.Errorf("changed: assembly %v, junction %v; want %v, %v", a2 != a, j2 != j, c.a, c.j)
			}
		})
	}
}

func TestReadable(t *testing.T) {
	a, _ := testLibrary(t)
	for _, bad := range []string{"", "abc", "2" + a[1:], a + "0", "1-" + strings.Repeat("g", 64)} {
		if Readable(bad) {
			t.Errorf("%q is taken for a fingerprint", bad)
		}
	}
}

// A version's sums must not change: what is issued stands by them.
func TestFingerprintKept(t *testing.T) {
	a, j := testLibrary(t)
	if Short(a) != "447e2a550465" || Short(j) != "fb8ce6d2ed40" {
		t.Errorf("fingerprints of version %s became %s and %s", fingerprintVersion, Short(a), Short(j))
	}
}

func BenchmarkFingerprint(b *testing.B) {
	lib, err := detail.ReadFS(&memory{files: map[string][]byte{"library.yaml": []byte(testSettings), "F-101.md": []byte(testAssembly)}})
	if err != nil {
		b.Fatal(err)
	}
	d := lib.Detail("F-101")
	for b.Loop() {
		Fingerprint(d, nil)
	}
}
