package prose

import (
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wythe/renderer/detail"
)

func office(t testing.TB) *Context {
	t.Helper()
	marks, err := detail.NewMarks("[FWRJ]-[0-9]{3}")
	if err != nil {
		t.Fatal(err)
	}
	return &Context{
		Marks: marks, File: "assemblies/F-101.md", Line: 10, Self: "F-101",
		Link: func(mark, rev string) (string, bool) {
			switch {
			case mark != "J-201" && mark != "W-101":
				return "", false
			case rev == "":
				return "../" + mark + "/index.html", true
			}
			return "../" + mark + "/rev/" + rev + "/index.html", rev == "B"
		},
		Figure: func(words string) (string, bool) {
			switch words {
			case "R-value":
				return "R 32.6", true
			case "dew point of W-101 in January":
				return "3.2 °C", true
			}
			return "", false
		},
		Page: func(target string) (string, bool) {
			return "../office-standard/index.html", target == "office-standard.md"
		},
	}
}

func TestRender(t *testing.T) {
	const link = `<a class="m" href="../J-201/index.html">J-201</a>`
	for _, c := range []struct{ name, in, want string }{
		{"plain", "Level the stone.", "<p>Level the stone.</p>"},
		{"mark", "See J-201.", "<p>See " + link + ".</p>"},
		{"two marks", "J-201, W-101", "<p>" + link + `, <a class="m" href="../W-101/index.html">W-101</a></p>`},
		{"mark at a line's end", "see J-201\nand more", "<p>see " + link + "\nand more</p>"},
		{"mark in strong", "**J-201**", "<p><strong>" + link + "</strong></p>"},
		{"mark in brackets", "see [J-201] and (J-201)", "<p>see [" + link + "] and (" + link + ")</p>"},
		{"mark in a link", "[see J-201](office-standard.md)", `<p><a href="../office-standard/index.html">see J-201</a></p>`},
		{"mark in code", "`J-201`", "<p><code>J-201</code></p>"},
		{"revision", "as J-201 rev B says", `<p>as <a class="m" href="../J-201/rev/B/index.html">J-201 rev B</a> says</p>`},
		{"revision that is prose", "J-201 rev is", "<p>" + link + " rev is</p>"},
		{"its own mark", "F-101 is this", "<p>F-101 is this</p>"},
		{"longer word", "XJ-201 and J-2012 and J-201-based", "<p>XJ-201 and J-2012 and J-201-based</p>"},
		{"figure", "comes to {R-value}.", "<p>comes to R\u00a032.6.</p>"},
		{"figure with words", "{dew point of W-101 in January}", "<p>3.2\u00a0°C</p>"},
		{"brace", `a \{R-value} here`, "<p>a {R-value} here</p>"},
		{"figure in code", "`{R-value}`", "<p><code>{R-value}</code></p>"},
		{"fraction", "within 2 1/2 in", "<p>within 2\u202f<span class=\"fr\">1/2</span> in</p>"},
		{"fraction beside a mark", "J-201: 1/4 in", "<p>" + link + ": <span class=\"fr\">1/4</span> in</p>"},
		{"date", "on 07/26/2026", "<p>on 07/26/2026</p>"},
		{"raw tag", "a <b>b</b> & c", "<p>a &lt;b&gt;b&lt;/b&gt; &amp; c</p>"},
		{"raw block", "<script>\nalert(1)\n</script>", "<p>&lt;script&gt;\nalert(1)\n&lt;/script&gt;</p>"},
		{"raw comment", "<!-- note -->", "<p>&lt;!-- note --&gt;</p>"},
		{"heading", "# Why", `<h2 id="s-why">Why</h2>`},
		{"heading skips", "# A\n### B\n", "<h2 id=\"s-a\">A</h2>\n<h3 id=\"s-b\">B</h3>"},
		{"first heading deep", "### B\n", `<h2 id="s-b">B</h2>`},
		{"same headings", "# A\n# A\n# A-2\n# A", "<h2 id=\"s-a\">A</h2>\n<h2 id=\"s-a-2\">A</h2>\n<h2 id=\"s-a-2-2\">A-2</h2>\n<h2 id=\"s-a-3\">A</h2>"},
		{"heading of other letters", "# Übergang – 壁", `<h2 id="s-übergang-壁">Übergang – 壁</h2>`},
		{"heading of signs", "# !!!", `<h2 id="s-text">!!!</h2>`},
		{"fragment", "[why](#why)", `<p><a href="#s-why">why</a></p>`},
		{"outside link", "[a](https://example.org/x)", `<p><a href="https://example.org/x">a</a></p>`},
		{"autolink", "<https://example.org>", `<p><a href="https://example.org">https://example.org</a></p>`},
		{"table", "| A | B |\n| - | -: |\n| 1 | 2 |\n", "<div class=\"tw\" role=\"region\" aria-label=\"Table\" tabindex=\"0\"><table>\n<thead>\n<tr>\n<th>A</th>\n<th align=\"right\">B</th>\n</tr>\n</thead>\n<tbody>\n<tr>\n<td>1</td>\n<td align=\"right\">2</td>\n</tr>\n</tbody>\n</table></div>"},
		{"empty", " \n\n", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := Render(c.in, office(t))
			if diff := cmp.Diff(c.want, r.HTML.String()); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
			for _, f := range r.Findings.Items {
				t.Errorf("finding: %s", f)
			}
		})
	}
}

// TestFindings marks with ▸ the place where each finding must stand.
func TestFindings(t *testing.T) {
	for _, c := range []struct{ in, rule, shown string }{
		{"one\n\ntwo ▸J-999 three", "unknown-mark", "<p>one</p>\n<p>two J-999 three</p>"},
		{"é ▸J-201 rev C", "unknown-revision", `<p>é <a class="m" href="../J-201/index.html">J-201 rev C</a></p>`},
		{"- a ▸{X-value}", "unknown-figure", "<ul>\n<li>a {X-value}</li>\n</ul>"},
		{"[▸click](javascript:alert(1))", "link-refused", "<p>click</p>"},
		{"[▸there](../secret)", "unknown-page", "<p>there</p>"},
		{"![▸words](https://example.org/x.png)", "unknown-picture", "<p>words</p>"},
	} {
		before, after, _ := strings.Cut(c.in, "▸")
		r := Render(before+after, office(t))
		if len(r.Findings.Items) != 1 {
			t.Errorf("%q: findings %v; want one", c.in, r.Findings.Items)
			continue
		}
		f := r.Findings.Items[0]
		line := 10 + strings.Count(before, "\n")
		column := 1 + len([]rune(before[strings.LastIndex(before, "\n")+1:]))
		if f.Rule != c.rule || f.File != "assemblies/F-101.md" || f.Line != line || f.Column != column || f.Mend == "" {
			t.Errorf("%q: %s; want %s at %d:%d", c.in, f, c.rule, line, column)
		}
		if got := r.HTML.String(); got != c.shown {
			t.Errorf("%q: shown as %s; want %s", c.in, got, c.shown)
		}
	}
}

func TestCites(t *testing.T) {
	r := Render("J-201, W-101, J-201, J-201 rev B and F-101.", office(t))
	want := []Cite{{"J-201", ""}, {"W-101", ""}, {"J-201", "B"}}
	if diff := cmp.Diff(want, r.Cites); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestInline(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"Boot every pipe <3 in (J-201).", `Boot every pipe &lt;3 in (<a class="m" href="../J-201/index.html">J-201</a>).`},
		{"{R-value} and \\{R-value}", "R\u00a032.6 and {R-value}"},
		{"gaps over 1/8 in, J-201 rev B", `gaps over <span class="fr">1/8</span> in, <a class="m" href="../J-201/rev/B/index.html">J-201 rev B</a>`},
		{"**not** Markdown", "**not** Markdown"},
		{"open { brace", "open { brace"},
		{"F-101", "F-101"},
	} {
		if got := Inline(c.in, office(t)).HTML.String(); got != c.want {
			t.Errorf("Inline(%q) = %s; want %s", c.in, got, c.want)
		}
	}
	r := Inline("see J-999", office(t))
	if len(r.Findings.Items) != 1 || r.Findings.Items[0].Column != 5 {
		t.Errorf("findings %v; want one at column 5", r.Findings.Items)
	}
}

// dangerous are links that a browser may run, or that lead to another site
// without saying so.
var dangerous = []string{
	"javascript:alert(1)", "JaVaScRiPt:alert(1)", " javascript:alert(1)", "java&#10;script:alert(1)", "javascript&#58;alert(1)",
	"java\tscript:alert(1)", "&#x6A;avascript:alert(1)", "vbscript:x", "data:text/html,<script>alert(1)</script>", "data:image/svg+xml;base64,PHN2Zz4=",
	"data:image/png;base64,AA", "file:///etc/passwd", "//example.org/x", `\\example.org\x`, "blob:x", "%6Aavascript:alert(1)", "javascript%3Aalert(1)",
	"\x01javascript:alert(1)", "feed:javascript:alert(1)",
}

func TestDangerousLinksAreInert(t *testing.T) {
	for _, target := range dangerous {
		for _, in := range []string{"[x](<" + target + ">)", "[x](" + target + ")", "![x](<" + target + ">)", "<" + target + ">", "[x][r]\n\n[r]: <" + target + ">"} {
			got := Render(in, office(t)).HTML.String()
			if strings.Contains(got, "<a ") || strings.Contains(got, "<img") {
				t.Errorf("%q: %s", in, got)
			}
		}
	}
}

var (
	anyTag  = regexp.MustCompile(`<[^>]*>`)
	safeTag = regexp.MustCompile(`^</?(p|a|em|strong|code|pre|h[2-6]|ul|ol|li|blockquote|hr|br|del|table|thead|tbody|tr|th|td|dl|dt|dd|div|span)( (href|class|id|align|title|start|role|aria-label|tabindex)="[^"<>]*")* ?/?>$`)
)

// FuzzRender: whatever the text, only known tags with known attributes come
// out, and rendering twice gives the same.
func FuzzRender(f *testing.F) {
	for _, s := range []string{
		"# A\n\nsee J-201 rev B {R-value} 1/2 in", "<script>alert(1)</script>", "[a](javascript:x)", "| a | b |\n|-|:-:|\n| J-201 | {x |",
		"![<img src=x onerror=1>](x)", "```js onclick=1\n</code>\n```", "[a](x \"t\\\" onclick=\\\"1\")", "\\{ } {", "a\n: b\n", "~~x~~ **{R-value**}",
		"&lt;b&gt; &#60;script&#62;", "1/2/3 1/2 1//2", "<a href=\"x\">", "\x00<\x00script>", "[J-201](#J-201)",
	} {
		f.Add(s)
	}
	for _, s := range dangerous {
		f.Add("[x](" + s + ")")
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4096 {
			return
		}
		ctx := office(t)
		got := Render(text, ctx).HTML.String()
		for _, tag := range anyTag.FindAllString(got, -1) {
			if !safeTag.MatchString(tag) {
				t.Errorf("%q gives %s", text, tag)
			}
		}
		if again := Render(text, ctx).HTML.String(); again != got {
			t.Errorf("%q: %q, then %q", text, got, again)
		}
		for _, tag := range anyTag.FindAllString(Inline(text, ctx).HTML.String(), -1) {
			if !safeTag.MatchString(tag) {
				t.Errorf("inline %q gives %s", text, tag)
			}
		}
	})
}

// BenchmarkRender turns 3 KB of Markdown with marks and figures.
func BenchmarkRender(b *testing.B) {
	text := strings.Repeat("The foam carries the slab, see J-201 and W-101. A boot left off one pipe undoes it: {R-value} within 1/4 in.\n\n- Level the stone.\n- Keep **one** roll.\n\n## On site\n\n", 18)
	ctx := office(b)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		Render(text, ctx)
	}
}
