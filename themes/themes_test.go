package themes

import (
	"bytes"
	"encoding/json"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
)

func TestOpenOverridesOneFile(t *testing.T) {
	own := fstest.MapFS{
		"prose.tmpl":  {Data: []byte(`{{define "prose"}}<p>{{.Title}}</p>{{end}}`)},
		"tables.css":  {Data: []byte("table{color:teal}")},
		".editor.swp": {Data: []byte("x")},
	}
	s, err := Open(own)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := s.Execute(&out, "prose", struct{ Title string }{"<A&B>"}); err != nil {
		t.Fatal(err)
	}
	if got := out.String(); got != "<p>&lt;A&amp;B&gt;</p>" {
		t.Errorf("got %s", got)
	}
	built, err := Open(nil)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(s.style, []byte("table{color:teal}")) || bytes.Contains(s.style, []byte(".meth{display")) {
		t.Error("tables.css is not replaced")
	}
	if !bytes.Contains(s.style, []byte("--paper:#fff")) || !bytes.Equal(s.script, built.script) {
		t.Error("the other files do not stay")
	}
}

func TestOpenRefuses(t *testing.T) {
	for _, c := range []struct{ name, data, want string }{
		{"sheet.ccs", "", "sheet.ccs is no file of a theme"},
		{"prose.tmpl", `{{define "prose"}}{{.X`, "prose.tmpl"},
		{"prose.tmpl", `nothing`, `no template is called "prose"`},
	} {
		_, err := Open(fstest.MapFS{c.name: {Data: []byte(c.data)}})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s %q: %v; want %s", c.name, c.data, err, c.want)
		}
	}
	if _, err := Open(fstest.MapFS{}); err != nil {
		t.Errorf("an empty folder: %v", err)
	}
}

func TestBundle(t *testing.T) {
	s, err := Open(nil)
	if err != nil {
		t.Fatal(err)
	}
	b, err := s.Bundle([]byte(".dwg{}"))
	if err != nil {
		t.Fatal(err)
	}
	paths := map[string]bool{}
	for _, a := range b.Assets() {
		if !regexp.MustCompile(`^assets/[a-z0-9-]+\.[0-9a-f]{10}\.(css|js|svg|woff2)$`).MatchString(a.Path) {
			t.Errorf("path %s", a.Path)
		}
		paths[strings.TrimPrefix(a.Path, "assets/")] = true
	}
	var style string
	for _, a := range b.Assets() {
		if a.Name == "style.css" {
			style = string(a.Data)
		}
	}
	used := regexp.MustCompile(`url\(([^)]*)\)`).FindAllStringSubmatch(style, -1)
	if len(used) == 0 {
		t.Error("the style sheet names no font")
	}
	for _, u := range used {
		if !paths[u[1]] {
			t.Errorf("url(%s) is no asset", u[1])
		}
	}
	if !strings.HasSuffix(style, ".dwg{}") {
		t.Error("the given sheet does not come last")
	}
	if strings.Contains(style, "@import") || strings.Contains(style, "//") {
		t.Error("the style sheet asks for something else")
	}
	var manifest map[string]string
	if err := json.Unmarshal(b.Manifest(), &manifest); err != nil || manifest["style.css"] != b.Path("style.css") {
		t.Errorf("manifest %v, %v", manifest, err)
	}
	old := b.Path("site.js")
	if b.Add("site.js", []byte("1")) == old || b.Path("site.js") == old {
		t.Error("other bytes keep the old path")
	}
	n := 0
	for _, a := range b.Assets() {
		if a.Name == "site.js" {
			n++
		}
	}
	if n != 1 {
		t.Errorf("site.js stands %d times", n)
	}
}

// TestNoStyleIsLost: braces balance in each style sheet, so that none spills
// into the next.
func TestNoStyleIsLost(t *testing.T) {
	for _, name := range styles {
		data, err := embedded.ReadFile("drawn/" + name)
		if err != nil {
			t.Fatal(err)
		}
		text := regexp.MustCompile(`(?s)/\*.*?\*/|"[^"]*"`).ReplaceAllString(string(data), "")
		depth := 0
		for _, r := range text {
			switch r {
			case '{':
				depth++
			case '}':
				depth--
			}
			if depth < 0 {
				break
			}
		}
		if depth != 0 {
			t.Errorf("%s: braces do not balance", name)
		}
	}
}
