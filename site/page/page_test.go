package page

import (
	"bytes"
	"flag"
	"html/template"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"sort"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wythe/renderer/detail"
	"wythe/renderer/units"
	"wythe/site/prose"
	"wythe/themes"
)

var update = flag.Bool("update", false, "write the golden pages anew")

// render is any page.
type render interface {
	Render(io.Writer, *themes.Set, *Site) error
}

func notIssued() *Assembly {
	p := basementSlab()
	p.Status = detail.Superseded
	p.Superseded = &Link{"F-102/index.html", "F-102", "Workshop slab on ground"}
	p.Wide = picture("w-k-", "258", "150")
	return p
}

// fixtures are one page of each kind and state.
func fixtures() map[string]render {
	return map[string]render{
		"assembly":            basementSlab(),
		"assembly-superseded": notIssued(),
		"assembly-bare":       &Assembly{Frame: Frame{Root: "../", Mark: "W-900", Title: "A wall", Status: detail.Draft}},
		"index":               drawingIndex(),
		"index-empty":         &Index{Frame: Frame{Title: "Drawing index"}},
		"material":            foamMaterial(),
		"materials":           materialList(),
		"section":             vaporSpec(),
		"junction":            slabEdge(),
		"junction-broken":     brokenEdge(),
		"matrix":              continuityMatrix(),
		"lesson":              lessonPage(),
	}
}

func written(t testing.TB, p render, s *Site) string {
	t.Helper()
	var b bytes.Buffer
	if err := p.Render(&b, open(t), s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestGolden holds each page to the file reviewed by eye.
func TestGolden(t *testing.T) {
	seen := map[string]bool{}
	for name, p := range fixtures() {
		t.Run(name, func(t *testing.T) {
			got := written(t, p, officeSite())
			checkRules(t, got) // a golden proves sameness, not that it is right
			golden := filepath.Join("testdata", name+".html")
			seen[golden] = true
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o666); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
				t.Errorf("%s differs (-want +got):\n%s", golden, diff)
			}
		})
	}
	files, err := filepath.Glob("testdata/*.html")
	if err != nil || len(files) == 0 {
		t.Fatalf("no golden pages: %v", err)
	}
	for _, f := range files {
		if !seen[f] {
			t.Errorf("%s belongs to no fixture", f)
		}
	}
}

func TestMetricPutsSIFirst(t *testing.T) {
	s := officeSite()
	s.Units = units.Metric
	got := written(t, basementSlab(), s)
	checkRules(t, got)
	si, inch := strings.Index(got, `data-k="SI">5.74`), strings.Index(got, `data-k="Inch units">32.6`)
	if si < 0 || inch < 0 || si > inch {
		t.Errorf("SI at %d, inch units at %d; want SI first", si, inch)
	}
}

var (
	tag       = regexp.MustCompile(`<(/?)([a-zA-Z][a-zA-Z0-9]*)((?:\s+[^\s=>"'/]+(?:="[^"]*")?)*)\s*(/?)>`)
	attribute = regexp.MustCompile(`([^\s=>"'/]+)(?:="([^"]*)")?`)
)

// void elements have no end tag.
var void = map[string]bool{"meta": true, "link": true, "br": true, "img": true, "input": true}

// checkRules holds a page to what every page must be: no style or script of
// its own, nothing from another site, relative links, ids that are unique and
// lead somewhere, headings in order, elements closed.
func checkRules(t *testing.T, html string) {
	t.Helper()
	ids, fragments := map[string]int{}, []string{}
	var open []string
	level, tops := 0, 0
	for _, m := range tag.FindAllStringSubmatch(html, -1) {
		end, name, attrs, selfClosed := m[1] != "", m[2], m[3], m[4] != ""
		if end {
			if len(open) == 0 || open[len(open)-1] != name {
				t.Fatalf("</%s> closes %v", name, open)
			}
			open = open[:len(open)-1]
			continue
		}
		if !void[name] && !selfClosed {
			open = append(open, name)
		}
		if name == "style" {
			t.Errorf("a style element: %s", m[0])
		}
		if name == "script" && (!strings.Contains(attrs, " src=") || !strings.Contains(attrs, " defer")) {
			t.Errorf("a script that is not deferred from a file: %s", m[0])
		}
		if len(name) == 2 && name[0] == 'h' && name[1] >= '1' && name[1] <= '6' {
			now := int(name[1] - '0')
			if now > level+1 {
				t.Errorf("a heading of level %d follows one of %d", now, level)
			}
			level = now
			if now == 1 {
				tops++
			}
		}
		for _, a := range attribute.FindAllStringSubmatch(attrs, -1) {
			key, value := strings.ToLower(a[1]), a[2]
			switch {
			case key == "style" || strings.HasPrefix(key, "on"):
				t.Errorf("attribute %s: %s", key, m[0])
			case key == "id":
				ids[value]++
			case key == "href" || key == "src":
				checkLink(t, value)
				if f, ok := strings.CutPrefix(value, "#"); ok {
					fragments = append(fragments, f)
				}
			}
		}
	}
	if len(open) > 0 {
		t.Errorf("left open: %v", open)
	}
	if tops != 1 {
		t.Errorf("%d headings of level 1", tops)
	}
	for id, n := range ids {
		if n > 1 {
			t.Errorf("id %q stands %d times", id, n)
		}
	}
	// A fixture's drawing has one bubble; other keynotes lead into the real one.
	for _, f := range fragments {
		if ids[f] == 0 && !regexp.MustCompile(`^[wn]-k-\d+$`).MatchString(f) {
			t.Errorf("#%s leads nowhere", f)
		}
	}
}

func checkLink(t *testing.T, href string) {
	t.Helper()
	if strings.HasPrefix(href, "#") {
		return
	}
	if strings.HasPrefix(href, "/") || strings.Contains(href, ":") || strings.Contains(href, "//") {
		t.Errorf("link %q is not relative", href)
	}
	if strings.HasSuffix(href, "/") || filepath.Ext(href) == "" {
		t.Errorf("link %q names no file, so it fails from a disk", href)
	}
}

const hostile = `"><script>alert(1)</script><img src=x onerror=alert(1)>' style="x" {{.}} </td></table> &amp; ]]>`

// TestEscapes fills every field of every page with hostile text: the page has
// the same elements and attributes as with plain words.
func TestEscapes(t *testing.T) {
	for _, name := range []string{"assembly", "assembly-superseded", "index", "material", "materials", "section"} {
		t.Run(name, func(t *testing.T) {
			plain, nasty := fixtures()[name], fixtures()[name]
			fields := fill(reflect.ValueOf(plain), "a run of plain words")
			if n := fill(reflect.ValueOf(nasty), hostile); n != fields || n < 10 {
				t.Fatalf("filled %d and %d fields", fields, n)
			}
			calm, wild := officeSite(), officeSite()
			fill(reflect.ValueOf(calm), "a run of plain words")
			fill(reflect.ValueOf(wild), hostile)
			a, b := written(t, plain, calm), written(t, nasty, wild)
			if diff := cmp.Diff(shape(a), shape(b)); diff != "" {
				t.Errorf("hostile text changes the page (-plain +hostile):\n%s", diff)
			}
			if strings.Contains(b, "<script>") || strings.Contains(b, "<img src=x") {
				t.Error("hostile text came through as it is")
			}
		})
	}
}

// shape lists a page's tags with the names of their attributes.
func shape(html string) []string {
	var list []string
	for _, m := range regexp.MustCompile(`<[^>]*>`).FindAllString(html, -1) {
		t := tag.FindStringSubmatch(m)
		if t == nil {
			if !strings.HasPrefix(m, "<!doctype") {
				list = append(list, "not a tag: "+m)
			}
			continue
		}
		var keys []string
		for _, a := range attribute.FindAllStringSubmatch(t[3], -1) {
			keys = append(keys, a[1])
		}
		sort.Strings(keys)
		list = append(list, t[1]+t[2]+" "+strings.Join(keys, " "))
	}
	return list
}

// fill sets every plain string under v and counts them. HTML that only this
// program can make, typed words and what decides a page's form stay.
func fill(v reflect.Value, words string) int {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() || v.Kind() == reflect.Interface {
			return 0
		}
		return fill(v.Elem(), words)
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[prose.HTML]() {
			v.Set(reflect.ValueOf(prose.Plain(words)))
			return 1
		}
		n := 0
		for i := range v.NumField() {
			if v.Type().Field(i).Name != "Root" {
				n += fill(v.Field(i), words)
			}
		}
		return n
	case reflect.Slice:
		n := 0
		for i := range v.Len() {
			n += fill(v.Index(i), words)
		}
		return n
	case reflect.String:
		if v.Type() != reflect.TypeFor[string]() || v.String() == "" {
			return 0
		}
		v.SetString(words)
		return 1
	}
	return 0
}

func TestFirstSheet(t *testing.T) {
	p := basementSlab() // five layers and a total
	for _, c := range []struct{ height, want string }{
		{"113", ""}, {"132", ""}, {"132.5", "tall"}, {"176", "tall"}, {"176.1", "over"}, {"none", ""},
	} {
		p.Wide = picture("w-k-", "258", c.height)
		if got := p.fit(); got != c.want {
			t.Errorf("a drawing %s mm high: %q; want %q", c.height, got, c.want)
		}
	}
	got := written(t, notIssued(), officeSite())
	if strip, layers := strings.Index(got, `class="tbp"`), strings.Index(got, `id="layers"`); strip > layers {
		t.Error("a tall drawing keeps the schedule on the first sheet")
	}
	if !strings.Contains(got, "Not for construction") || strings.Contains(written(t, basementSlab(), officeSite()), "Not for construction") {
		t.Error("the bar must stand on what is not issued, and on nothing else")
	}
}

func TestFilterStyle(t *testing.T) {
	css := string(drawingIndex().FilterStyle())
	for _, want := range []string{
		"body:has(#el-wall:checked) tr.d:not(.el-wall)",
		"body:has(#tr-concrete:checked) tbody.g:not(:has(tr.tr-concrete))",
		"body:has(#ct-A:checked) tr.d:not(.ct-A)",
		"body:has(#ss-review:checked) tr.d:not(.ss-review)",
		"body:has(#tg-crawl-space:checked) tr.d:not(.tg-crawl-space)",
	} {
		if !strings.Contains(css, want) {
			t.Errorf("no rule %s", want)
		}
	}
	p := &Index{Rows: []IndexRow{{Trades: []string{`a{}*/<x>"\`, "Métal déployé"}}}}
	css = string(p.FilterStyle())
	if strings.ContainsAny(css[:strings.LastIndex(css, "{")], `{}<>"\*/`) || !strings.Contains(css, "tr-métal-déployé") {
		t.Errorf("trades break the style sheet: %s", css)
	}
}

func TestCSSString(t *testing.T) {
	if got := cssString("a\"b\\c</style>\nd"); got != `"a\"b\\c\</style> d"` {
		t.Errorf("got %s", got)
	}
}

func TestTrade(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"5 in", "5 in"},
		{"2 1/2 in", "2\u202f<span class=\"fr\">1/2</span> in"},
		{"3/4 & 1/8", `<span class="fr">3/4</span> &amp; <span class="fr">1/8</span>`},
		{"07/26/00", "07/26/00"},
		{"and/or", "and/or"},
		{"1/2.5", "1/2.5"},
		{"within 1/4.", `within <span class="fr">1/4</span>.`},
	} {
		w := &writer{}
		w.trade(c.in)
		if w.String() != c.want {
			t.Errorf("trade(%q) = %s; want %s", c.in, w.String(), c.want)
		}
	}
}

// BenchmarkAssembly writes the page of F-101 with drawings of usual size.
func BenchmarkAssembly(b *testing.B) {
	set, s, p := open(b), officeSite(), basementSlab()
	p.Wide += template.HTML(strings.Repeat(`<path d="M0 0H258"/>`, 3000)) // 60 KB
	var out bytes.Buffer
	b.ReportAllocs()
	for b.Loop() {
		out.Reset()
		if err := p.Render(&out, set, s); err != nil {
			b.Fatal(err)
		}
	}
	b.SetBytes(int64(out.Len()))
}

// BenchmarkIndex writes an index of 1,000 details.
func BenchmarkIndex(b *testing.B) {
	set, s, p := open(b), officeSite(), drawingIndex()
	for len(p.Rows) < 1000 {
		p.Rows = append(p.Rows, p.Rows...)
	}
	p.Rows = p.Rows[:1000]
	var out bytes.Buffer
	b.ReportAllocs()
	for b.Loop() {
		out.Reset()
		if err := p.Render(&out, set, s); err != nil {
			b.Fatal(err)
		}
	}
	b.SetBytes(int64(out.Len()))
}
