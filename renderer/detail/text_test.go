package detail

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestMarksInText(t *testing.T) {
	body := func(text string) string {
		return layersOf("material: concrete, thickness: 1 in") + text
	}
	checkWrong(t, []wrong{
		{"unknown-mark", "W-102.md", body("See ▸J-999.\n"), ""},
		{"unknown-mark", "W-102.md", body("\nÖl, **▸J-999**, (▸J-998), ▸J-997; W-101.\n"), ""},
		{"unknown-mark", "W-102.md", body("# A heading of ▸J-999\n\n| a | ▸J-998 |\n|---|---|\n| _▸J-997_ | W-101 |\n"), ""},
		{"unknown-mark", "W-102.md", body("`J-999` and ``x ` J-999`` and ▸J-998 and \\`▸J-997\n"), ""},
		{"unknown-mark", "W-102.md", body("`a span\nof J-999 over lines` ▸J-998\n"), ""},
		{"unknown-mark", "W-102.md", body("```\nJ-999\n```\n▸J-998\n\n~~~ text\nJ-999\n```\n~~~\n▸J-997\n"), ""},
		{"unknown-mark", "W-102.md", body("Text\n\n    J-999\n\n    J-998\n\n▸J-997\n    ▸J-996 goes on\n"), ""},
		{"unknown-mark", "W-102.md", body("- A list\n\n    ▸J-999 is in it\n\n1. ▸J-998\n- `J-997`\n"), ""},
		{"unknown-mark", "W-102.md", body("> ▸J-999\n> ```\n> J-998\n> ```\n> ▸J-997\n"), ""},
		{"unknown-mark", "W-102.md", body("[▸J-999](J-998/index.md) <https://example.org/J-997> ▸J-996\n"), ""},
		{"unknown-mark", "W-102.md", body("XJ-999 J-9999 J-999x AJ-999-B J-999_x ▸J-998- ▸J-997... ÄJ-999\n"), ""},
		{"unknown-mark", "W-102.md", body("{U-factor of ▸J-999}\n"), ""},
		{"unknown-revision", "W-102.md", body("▸W-101 rev B, W-101 rev is, W-101 rev.\n"), ""},
		{"unknown-mark", "W-102.md", assemblyOf("use for: [floors of ▸J-999]\nlayers:\n  - {material: concrete, thickness: 1 in, note: \"as ▸J-998\"}\nsequence:\n  - do: See ▸J-997.\n    hold: Until ▸J-996.\n"), ""},
		{"unknown-mark", "s.md", "---\nsection: 07 26 00\ntitle: Vapor retarders\n---\n\n2.1 The film of ▸F-999.\n", ""},
		{"unknown-mark", "page.md", "The film of ▸F-999.\n", ""},
	})
}

func TestMarksOfOtherPatterns(t *testing.T) {
	for _, c := range []struct {
		pattern, text string
		want          []string
	}{
		{"[A-Z]-[0-9]{3}", "A-101, see B-102/C-103", []string{"A-101", "B-102", "C-103"}},
		{"[A-Z]{2}", "AB is, ABC is not, xAB is not, CD.", []string{"AB", "CD"}},
		{"[A-Z] [0-9]{3}", "A 101, xA 101, A 1012, B 102.", []string{"A 101", "B 102"}},
		{"[0-9]+/[A-Z]", "3/A and 12/B, 3/Ax", []string{"3/A", "12/B"}},
		{"D[0-9]+(\\.[0-9]+)?", "D1, D2.3. D4.", []string{"D1", "D2.3", "D4"}},
		{"W-(?:1|2)|F[0-9]", "W-1 W-3 F5 F", []string{"W-1", "F5"}},
	} {
		m, err := NewMarks(c.pattern)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for from := 0; ; {
			start, end, ok := m.Next(c.text, from)
			if !ok {
				break
			}
			got = append(got, c.text[start:end])
			from = end
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s in %q: %q; want %q", c.pattern, c.text, got, c.want)
		}
	}
	for _, bad := range []string{"[", "(", "", "a*", "[A-Z]?", strings.Repeat("a", 201)} {
		if _, err := NewMarks(bad); err == nil {
			t.Errorf("the pattern %q was taken", bad)
		}
	}
}

func TestCitesAndFigures(t *testing.T) {
	l, err := Read("testdata/good")
	if err != nil {
		t.Fatal(err)
	}
	d := l.Detail("F-101")
	if got, want := d.Cites, []Cite{{"J-201", ""}, {"F-101", "A"}, {"W-101", ""}}; !slices.Equal(got, want) {
		t.Errorf("cites %v; want %v", got, want)
	}
	if len(d.Figures) != 1 || d.Figures[0].Words != "R-value" || d.Figures[0].At.String() != "assemblies/F-101.md:45:20" {
		t.Errorf("figures %v", d.Figures)
	}
}

func TestFigureWords(t *testing.T) {
	fsys, _ := sources(map[string]string{"W-102.md": assemblyOf(
		"use for: [\"a stack of {R-value}\"]\nlayers:\n  - {material: concrete, thickness: 1 in}\n") +
		"{R-value}, {dew  point of W-101\tin January} and \\{no} `{code}`\n{open\nclosed} {} {{U-factor}\n"})
	l, err := ReadFS(fsys)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, f := range l.Detail("W-102").Figures {
		got = append(got, f.Words+" "+f.At.String())
	}
	want := []string{
		"R-value W-102.md:5:23", "R-value W-102.md:9:1", "dew point of W-101 in January W-102.md:9:12",
		" W-102.md:11:9", "{U-factor W-102.md:11:12",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

func TestTitlesOfProse(t *testing.T) {
	fsys, _ := sources(map[string]string{
		"a.md": "# One ##\n", "b.md": "\n\n## Two\ntext\n", "sub/c.md": "text\n", "d.md": "---\ntitle: Four\n---\n# No\n", "e.md": "#hash\n",
	})
	l, err := ReadFS(fsys)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, d := range l.Prose {
		got = append(got, d.Title)
	}
	if want := []string{"One", "Two", "Four", "e", "c"}; !slices.Equal(got, want) {
		t.Errorf("titles %q; want %q", got, want)
	}
}
