package site

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// mutations is how many broken libraries are read; each mutationsPublished-th
// is published too.
const (
	mutations          = 500
	mutationsPublished = 20
)

// TestMutatedLibraries breaks a small library in one to four places, 500
// times: each ends in a list of findings or a site, never in a panic, a hang or
// a site half written. WYTHE_MUTATIONS runs another number.
func TestMutatedLibraries(t *testing.T) {
	n := mutations
	if raced {
		n /= 5
	}
	if env := os.Getenv("WYTHE_MUTATIONS"); env != "" {
		var err error
		if n, err = strconv.Atoi(env); err != nil {
			t.Fatal(err)
		}
	}
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	sound := map[string]string{}
	for _, name := range []string{"library.yaml", "materials.yaml", "climates/marrow-point.yaml", "assemblies/F-101.md", "assemblies/W-101.md", "junctions/J-201.md"} {
		data, err := os.ReadFile(filepath.Join("../details", name))
		if err != nil {
			t.Fatal(err)
		}
		sound[name] = string(data)
	}
	sound["specs/07-26-00.md"] = "---\nsection: 07 26 00\ntitle: Vapor retarders\ntrades: [insulation]\nspecifies:\n  - {material: vapor retarder film, thickness: 15 mil}\n---\n" +
		"## 1 General\n\n1.1 The film of F-101 and its edge J-201. Lap 6 in.\n"
	sound["buildings/shed.md"] = "---\ntitle: Boat shed\nareas:\n  - {detail: F-101, area: 400 sq ft, perimeter: 82 ft, depth: 6 ft 8 in}\n" +
		"  - {detail: W-101, area: 560 sq ft, gross: true}\nlengths:\n  - {junction: J-201, length: 82 ft}\nvolume: 3200 cu ft\nair leakage: 0.6 per hour at 50 Pa\n---\nA shed. See F-101.\n"
	names := make([]string, 0, len(sound))
	for name := range sound {
		names = append(names, name)
	}
	slices.Sort(names)
	random := rand.New(rand.NewPCG(500, 1))
	scratch := t.TempDir()
	to := filepath.Join(scratch, "site")
	withErrors, withPanic := 0, 0
	for i := range n {
		dir := filepath.Join(scratch, fmt.Sprintf("library%d", i))
		files := map[string]string{}
		for name, text := range sound {
			files[name] = text
		}
		var did []string
		for range 1 + random.IntN(4) {
			name := names[random.IntN(len(names))]
			var what string
			files[name], what = mutateText(files[name], random)
			did = append(did, name+": "+what)
		}
		for name, text := range files {
			full := filepath.Join(dir, name)
			if err := os.MkdirAll(filepath.Dir(full), 0o777); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(full, []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		type outcome struct {
			errors int
			fault  any
		}
		ended := make(chan outcome, 1)
		go func() {
			var o outcome
			defer func() { o.fault = recover(); ended <- o }()
			l, err := Open(dir)
			if err != nil {
				panic(err)
			}
			list := l.Review()
			o.errors = list.Errors()
			for _, f := range list.Items {
				if f.Message == "" || f.Rule == "" || f.File == "" {
					panic(fmt.Sprintf("a finding without words: %+v", f))
				}
			}
			if i%mutationsPublished != 0 {
				return
			}
			before := siteOrNone(to)
			_, err = Publish(Options{Library: dir, To: to})
			after := siteOrNone(to)
			if err != nil && !reflect.DeepEqual(before, after) {
				panic("a failed publish changed the site")
			}
		}()
		select {
		case o := <-ended:
			if o.errors > 0 {
				withErrors++
			}
			if o.fault != nil {
				withPanic++
				t.Errorf("library %d, %s: %v", i, strings.Join(did, "; "), o.fault)
			}
		case <-time.After(2 * time.Minute):
			t.Fatalf("library %d, %s: no end", i, strings.Join(did, "; "))
		}
		if err := os.RemoveAll(dir); err != nil {
			t.Fatal(err)
		}
		if withPanic > 5 {
			t.Fatal("and more")
		}
	}
	if n >= 100 && withErrors < n/4 || withErrors == n {
		t.Errorf("%d of %d libraries had errors: the mutations prove little", withErrors, n)
	}
}

// siteOrNone reads a whole site, nil where there is none.
func siteOrNone(dir string) map[string]string {
	var out map[string]string
	_ = fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(filepath.Join(dir, name))
		if out == nil {
			out = map[string]string{}
		}
		out[name] = string(data)
		return err
	})
	return out
}

// mutateText breaks a text in one place, as a slip of the hand or a broken
// disk does, and says how.
func mutateText(text string, random *rand.Rand) (string, string) {
	lines := strings.SplitAfter(text, "\n")
	if len(text) == 0 {
		return "---\n", "begun"
	}
	i, at := random.IntN(len(lines)), random.IntN(len(text))
	swap := [][2]string{{" in", ""}, {"2", "-2"}, {"in", "ft"}, {"4", "0"}, {"1", "1e308"}, {"left", "right"}, {"top", "bottom"}, {":", ""}, {"[", "{"}, {"}", "]"},
		{"concrete", "air"}, {"F-101", "J-201"}, {"W-101", "W-999"}, {"slab", "wall"}, {"%", "% %"}, {"1:8", "1:0"}, {"film", "round"}, {"24 in", "24000 ft"}, {"above", "below"}, {"- ", "-"}}
	switch what := random.IntN(9); what {
	case 0:
		lines = append(lines[:i:i], lines[i+1:]...)
		return strings.Join(lines, ""), fmt.Sprintf("line %d taken out", i+1)
	case 1:
		lines = append(append(lines[:i:i], lines[i]), lines[i:]...)
		return strings.Join(lines, ""), fmt.Sprintf("line %d twice", i+1)
	case 2:
		return text[:at], fmt.Sprintf("cut at byte %d", at)
	case 3:
		b := byte(random.IntN(256))
		return text[:at] + string([]byte{b}) + text[at+1:], fmt.Sprintf("byte %d made %#x", at, b)
	case 4:
		k := random.IntN(len(lines))
		lines[i], lines[k] = lines[k], lines[i]
		return strings.Join(lines, ""), fmt.Sprintf("lines %d and %d changed places", i+1, k+1)
	case 5:
		return text[:at] + strings.Repeat("[", 50) + text[at:], fmt.Sprintf("brackets at byte %d", at)
	}
	s := swap[random.IntN(len(swap))]
	var places []int
	for from := 0; ; {
		k := strings.Index(text[from:], s[0])
		if k < 0 {
			break
		}
		places = append(places, from+k)
		from += k + 1
	}
	if len(places) == 0 {
		return text[:at] + "\t" + text[at:], fmt.Sprintf("a tab at byte %d", at)
	}
	k := places[random.IntN(len(places))]
	return text[:k] + s[1] + text[k+len(s[0]):], fmt.Sprintf("%q for %q at byte %d", s[1], s[0], k)
}
