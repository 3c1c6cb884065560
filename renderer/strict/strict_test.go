package strict

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"wythe/renderer/finding"
	"wythe/renderer/units"
)

// load strips the ▸ that marks where findings are expected, loads, and
// returns the places in order.
func marked(s string) (text string, places []finding.Position) {
	line, column := 1, 1
	var b strings.Builder
	for _, r := range s {
		switch r {
		case '▸':
			places = append(places, finding.Position{File: "t.yaml", Line: line, Column: column})
			continue
		case '\n':
			line, column = line+1, 0
		}
		b.WriteRune(r)
		column++
	}
	return b.String(), places
}

func check(t *testing.T, input, rule string, list finding.List, want []finding.Position) {
	t.Helper()
	list.Sort()
	var got []finding.Position
	for _, i := range list.Items {
		if i.Rule == rule {
			got = append(got, i.Position)
		} else {
			t.Errorf("%q: also %v", input, i)
		}
	}
	if len(got) != len(want) {
		t.Fatalf("%q: %d findings of %s; want %d: %v", input, len(got), rule, len(want), list.Items)
	}
	for i := range got {
		if got[i] != want[i] {
			t.Errorf("%q: %s at %v; want %v", input, rule, got[i], want[i])
		}
	}
}

func TestRefused(t *testing.T) {
	for _, c := range []struct{ rule, input string }{
		{"alias", "a: x\nb: ▸*a\n"},
		{"alias", "a: [x, ▸*b]\n"},
		{"merge-key", "a: {x: 1}\nb:\n  ▸<<: {y: 2}\n"},
		{"anchor", "a: ▸&here x\n"},
		{"tag", "a: ▸!!int 5\n"},
		{"duplicate-key", "a: 1\nb: 2\n▸a: 3\n"},
		{"duplicate-key", "m: {a: 1, ▸a: 2}\n"},
		{"second-document", "a: 1\n▸---\nb: 2\n"},
		{"key-not-a-word", "? ▸[a, b]\n: 1\n"},
		{"control-character", "a: b▸\x01c\n"},
		{"control-character", "a: b▸\u0085c\n"},
		{"not-utf-8", "a: ö▸\xffc\n"},
		{"comment-cuts-text", "do: Tie ▸#4 bars\n"},
		{"comment-cuts-text", "do: Tie  ▸#4 bars\n"},
		{"comment-cuts-text", "do: Tie ▸# 4 bars\n"},
		{"comment-cuts-text", "- Tie ▸#4\n- Bend ▸#5 and on\n"},
		{"comment-cuts-text", "m: {do: Tie bars} ▸#4\n"},
		{"comment-cuts-text", "do: Tie\n  ▸#4 bars\n"},
		{"comment-cuts-text", "do: 'it''s #3' ▸#4\n"},
		{"comment-cuts-text", "do: \"a \\\" #3\" ▸#4\n"},
		{"comment-cuts-text", "a: |\n  Tie #4\n\n  Tie #5\nb: Tie ▸#6\n"},
		{"comment-cuts-text", "b:\n  a: >-\n    Tie #4\n  c: ö ▸#6\n"},
		{"comment-cuts-text", "a: [ö, \"ö #1\", 'ü #2', \"x\"] ▸#4\n"},
		{"comment-cuts-text", "a: [ö, \"ö\n  ö #1\", 'ü #2', x] ▸#4\n"},
		{"comment-cuts-text", "a: \"two\n  lines #3\" ▸#6\n"},
		{"too-large", "▸" + strings.Repeat("a: 1\n", MaxBytes/5+1)},
		{"too-deep", strings.Repeat("[", 31) + "▸" + "[" + strings.Repeat("]", 32)},
		{"too-many-values", "- a\n" + strings.Repeat("- a\n", MaxNodes-2) + "- ▸a\n- a\n"},
		{"not-utf-8", "▸\xff\xfea\x00:\x00"},
	} {
		input, want := c.input, []finding.Position(nil)
		if strings.Contains(input, "\xff") {
			// ▸ counting by runes would skew on broken text: find it by hand.
			at := strings.Index(input, "▸")
			input = strings.Replace(input, "▸", "", 1)
			want = []finding.Position{{File: "t.yaml", Line: 1, Column: len([]rune(input[:at])) + 1}}
		} else {
			input, want = marked(input)
		}
		if c.rule == "too-deep" { // the 33rd level
			input = strings.Repeat("[", 33) + strings.Repeat("]", 33)
			want[0].Column = 33
		}
		var list finding.List
		Load("t.yaml", []byte(input), &list)
		if len(input) > 200 {
			c.input = c.input[:20] + "…"
		}
		check(t, c.input, c.rule, list, want)
	}
}

func TestTaken(t *testing.T) {
	for _, input := range []string{
		"", "\n", "# only a comment\n", "a: b  # set off\n", "a: # after a key\n  b: 1\n", "a: 1   # one\n# two\n  # three\nb: 2\n",
		"do: \"Tie #4 bars\"\n", "do: 'Tie #4 bars'\n", "do: |\n  Tie #4 bars\n", "do: >-\n  Tie\n\n  #4 bars\n", "do: Tie C#4\n",
		"\ufeffa: 1\n", "a: 1\r\nb: 2\r\n", "a: 1\rb: 2\r", "--- \na: 1\n", "a: [1, 2]  # list\n", "- a: |\n    x #4\n  b: 2\n",
		"a: \"x\" # y\n"[:7] + "  # y\n",
	} {
		var list finding.List
		if _, ok := Load("t.yaml", []byte(input), &list); !ok || len(list.Items) > 0 {
			t.Errorf("%q: %v, %v", input, ok, list.Items)
		}
	}
}

func TestSyntax(t *testing.T) {
	for _, c := range []struct {
		input string
		line  int
	}{
		{"a: b: c\n", 1}, {"a: 1\n\tb: 2\n", 2}, {"a: [1\n", 2}, {"a: 'x\n", 2}, {"a: @x\n", 1},
	} {
		var list finding.List
		if _, ok := Load("t.yaml", []byte(c.input), &list); ok || list.Errors() == 0 {
			t.Fatalf("%q was taken", c.input)
		}
		i := list.Items[0]
		if i.Rule != "yaml-syntax" || i.Mend == "" || i.Line < c.line-1 || i.Line > c.line+1 {
			t.Errorf("%q: %v", c.input, i)
		}
	}
	// A comment that swallows the closing bracket is named beside the syntax error.
	input, want := marked("steps:\n  - {do: Tie ▸#4 bars}\n")
	var list finding.List
	Load("t.yaml", []byte(input), &list)
	list.Sort()
	found := false
	for _, i := range list.Items {
		found = found || i.Rule == commentRule && i.Position == want[0]
	}
	if !found {
		t.Errorf("%q: %v", input, list.Items)
	}
}

func TestWalking(t *testing.T) {
	input, want := marked("mark: F-101\nelement: ▸wal\nthickness: ▸4\nwide: 2 ▸inn\nquoted: \"2 ▸inn\"\n▸laps: 3\nlist: ▸one\ntext: ▸[a]\nempty:▸ \nmap: ▸x\nloads: {▸liv: 40 psf}\n")
	want[6].Column = 7 // yaml.v3 puts an empty value right after its key
	var list finding.List
	root, ok := Load("t.yaml", []byte(input), &list)
	if !ok {
		t.Fatal(list.Items)
	}
	m := root.Map([]string{"mark", "element", "thickness", "wide", "quoted", "lap", "list", "text", "empty", "map", "loads"})
	if got := m.Get("mark").Text(); got != "F-101" {
		t.Errorf("mark = %q", got)
	}
	Word(m.Get("element"), "element", "wall", "roof")
	Quantity(m.Get("thickness"), units.ParseLength)
	Quantity(m.Get("wide"), units.ParseLength)
	Quantity(m.Get("quoted"), units.ParseLength)
	m.Get("list").List()
	m.Get("text").Text()
	m.Get("empty").Text()
	m.Get("map").Map(nil)
	m.Get("loads").Map([]string{"live"})
	m.Get("nothing").Text()
	m.Get("nothing").Map(nil).Get("x").List()
	list.Sort()
	rules := []string{"unknown-word", "bad-quantity", "bad-quantity", "bad-quantity", "unknown-key", "not-a-list", "not-text", "empty-value", "not-a-map", "unknown-key"}
	var places []finding.Position
	places = append(places, want[0])
	// The missing unit is pointed at where it is missing: after the 4.
	places = append(places, finding.Position{File: "t.yaml", Line: 3, Column: 13})
	places = append(places, want[2:]...)
	if len(list.Items) != len(rules) {
		t.Fatalf("%d findings; want %d: %v", len(list.Items), len(rules), list.Items)
	}
	for n, i := range list.Items {
		if i.Rule != rules[n] || i.Mend == "" {
			t.Errorf("finding %d: %v; want rule %s", n, i, rules[n])
		}
		if n != 7 && n < len(places) && i.Position != places[n] {
			t.Errorf("finding %d: %v; want at %v", n, i, places[n])
		}
	}
}

func TestNeedAndOneKey(t *testing.T) {
	var list finding.List
	root, _ := Load("t.yaml", []byte("parts:\n  - earth: {material: soil}\n  - a: 1\n    b: 2\n"), &list)
	m := root.Map([]string{"parts", "title"})
	m.Need("title")
	items := m.Get("parts").List()
	if p, ok := items[0].OneKey(); !ok || p.Key.Text() != "earth" || !p.Value.IsMap() {
		t.Error("earth was not read")
	}
	items[1].OneKey()
	list.Sort()
	if len(list.Items) != 2 || list.Items[0].Rule != "missing-key" || list.Items[1].Rule != "second-key" || list.Items[1].Line != 4 {
		t.Errorf("%v", list.Items)
	}
	if got := m.KeyAt("parts"); got.Line != 1 || got.Column != 1 {
		t.Errorf("KeyAt = %v", got)
	}
}

func TestSplit(t *testing.T) {
	for _, c := range []struct {
		input, title, body string
		line               int
		ok                 bool
	}{
		{"---\ntitle: x\n---\nBody\nmore\n", "x", "Body\nmore\n", 4, true},
		{"---\r\ntitle: x\r\n---\r\nBody\r\n", "x", "Body\n", 4, true},
		{"\ufeff---\ntitle: x\n--- \n", "x", "", 4, true},
		{"---\ntitle: x\n---", "x", "", 4, true},
		{"Only prose.\n---\n", "", "Only prose.\n---\n", 1, true},
		{"---\n---\nBody\n", "", "Body\n", 3, true},
		{"---\ntitle: x\n", "", "", 1, false},
		{"", "", "", 1, true},
	} {
		var list finding.List
		front, body, line, ok := Split("t.yaml", []byte(c.input), &list)
		title := front.Map([]string{"title"}).Get("title").Text()
		if ok != c.ok || title != c.title || body != c.body || line != c.line {
			t.Errorf("%q: %q, %q, %d, %v; want %q, %q, %d, %v (%v)", c.input, title, body, line, ok, c.title, c.body, c.line, c.ok, list.Items)
		}
	}
	// Places are lines of the file.
	var list finding.List
	front, _, _, _ := Split("t.yaml", []byte("---\nmark: F-101\ntitel: x\n---\n"), &list)
	front.Map([]string{"mark", "title"})
	if len(list.Items) != 1 || list.Items[0].Line != 3 || list.Items[0].Mend != `did you mean "title"?` {
		t.Errorf("%v", list.Items)
	}
}

// No text, however made, takes long.
func TestHostileTextIsQuick(t *testing.T) {
	bomb := "a: &a [x,x,x,x,x,x,x,x,x]\n"
	for c := 'b'; c < 'k'; c++ {
		p := string(c - 1)
		bomb += string(c) + ": &" + string(c) + " [*" + p + ",*" + p + ",*" + p + ",*" + p + ",*" + p + ",*" + p + ",*" + p + ",*" + p + "]\n"
	}
	var keys strings.Builder
	for i := 0; keys.Len() < MaxBytes-100; i++ {
		keys.WriteString("k" + strings.Repeat("x", i%7) + string(rune('a'+i%26)) + strings.Repeat("y", i/26%9) + ": 1\n")
	}
	for name, input := range map[string]string{
		"bomb": bomb, "ten megabytes": strings.Repeat("a: 1\n", 2<<20), "deep flow": strings.Repeat("[", 100_000),
		"deep block": strings.Repeat("- ", 50_000), "keys": keys.String(), "hashes": strings.Repeat("a #\n", 60_000),
		"quotes": strings.Repeat("'", 200_001), "one line": "a: " + strings.Repeat("x #y ", 50_000),
		"wide letters": "a: [" + strings.Repeat("ö", 100_000) + ", \"x\", y #4 z\n", "many quotes": "a: [" + strings.Repeat("\"ö\",", 12_000) + "x] #4\n",
		"long quote": "a: \"" + strings.Repeat("ö\n", 60_000) + "\" #4\n",
		"deep keys":  strings.Repeat("? ", 50_000),
	} {
		var list finding.List
		done := make(chan bool)
		go func() {
			Load("t.yaml", []byte(input), &list)
			close(done)
		}()
		select {
		case <-done:
			if list.Errors() == 0 {
				t.Errorf("%s: no finding", name)
			}
		case <-time.After(20 * time.Second):
			t.Fatalf("%s: still reading after 20 s", name)
		}
	}
}

func FuzzLoad(f *testing.F) {
	for _, s := range []string{"a: 1\n", "do: Tie #4 bars\n", "- |\n  x #4\n", "a: 'x''#'\n", "---\nmark: F-101\n---\nBody", "a: &a [*a]\n", "? x\n: y\n", "\"a\nb\" #4", "{a: \"#"} {
		f.Add(s)
	}
	files, err := filepath.Glob("../../details/*/*")
	if err != nil || len(files) == 0 {
		f.Fatal("no details to begin from", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(data))
	}
	f.Fuzz(func(t *testing.T, s string) {
		var list finding.List
		root, ok := Load("t.yaml", []byte(s), &list)
		if !ok && list.Errors() == 0 {
			t.Errorf("%q: refused without a finding", s)
		}
		for _, i := range list.Items {
			if i.Line < 1 || i.Column < 1 || i.File != "t.yaml" || i.Message == "" || i.Rule == "" {
				t.Errorf("%q: %+v", s, i)
			}
		}
		visit(root)
		Split("t.md", []byte(s), &list)
	})
}

func visit(n Node) {
	n.Text()
	n.Texts()
	if n.IsMap() {
		for _, p := range n.Pairs() {
			visit(p.Value)
		}
	}
	for _, i := range n.List() {
		visit(i)
	}
}

func BenchmarkSplit(b *testing.B) {
	front := "---\nmark: F-101\ntitle: Insulated basement slab\nlayers:\n" + strings.Repeat("  - name: slab\n    material: concrete\n    thickness: 5 in\n    control: [air, vapor]  # both\n", 10) + "---\nBody\n"
	b.ReportAllocs()
	for b.Loop() {
		var list finding.List
		if _, _, _, ok := Split("t.md", []byte(front), &list); !ok {
			b.Fatal(list.Items)
		}
	}
}
