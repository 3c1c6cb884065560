package page

import (
	"bytes"
	"html/template"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"wythe/renderer/detail"
)

func TestZZScratch(t *testing.T) {
	out := "/tmp/pages/out"
	set := open(t)
	css, _ := os.ReadFile("/tmp/pages/draw.css")
	s := officeSite()
	b, err := set.Bundle(css, s.PrintStyle())
	if err != nil {
		t.Fatal(err)
	}
	ix := drawingIndex()
	b.Add("filters.css", ix.FilterStyle())
	s.Assets = b
	os.RemoveAll(out)
	write := func(p string, f func(*bytes.Buffer) error) {
		var buf bytes.Buffer
		if err := f(&buf); err != nil {
			t.Fatal(err)
		}
		os.MkdirAll(filepath.Dir(filepath.Join(out, p)), 0o777)
		os.WriteFile(filepath.Join(out, p), buf.Bytes(), 0o666)
	}
	for _, a := range b.Assets() {
		write(a.Path, func(buf *bytes.Buffer) error { buf.Write(a.Data); return nil })
	}
	clean := func(svg, prefix string, w, h string) template.HTML {
		svg = regexp.MustCompile(`(?s)<style>.*?</style>`).ReplaceAllString(svg, "")
		svg = regexp.MustCompile(` style="[^"]*"`).ReplaceAllString(svg, "")
		svg = regexp.MustCompile(`<svg [^>]*viewBox`).ReplaceAllString(svg, `<svg class="dwg" role="group" width="`+w+`mm" height="`+h+`mm" viewBox`)
		svg = regexp.MustCompile(`<circle class="bub"[^>]*/><text class="bubt"[^>]*>(\d+)</text>`).ReplaceAllString(svg, `<a href="#layer-$1" id="`+prefix+`$1" data-key="$1" aria-label="Keynote $1">$0</a>`)
		return template.HTML(svg)
	}
	read := func(n string) string { b, _ := os.ReadFile("/work/shared/design/svg/" + n); return string(b) }
	mk := func(st detail.Status) *Assembly {
		a := basementSlab()
		a.Wide = clean(read("f-101.svg"), "k-", "258", "112.82")
		a.Phone = clean(read("f-101-phone.svg"), "n-", "92", "112.32")
		steps, _ := filepath.Glob("/tmp/pages/step-*.svg")
		for i := range a.Steps {
			if i < len(steps) {
				x, _ := os.ReadFile(steps[i])
				a.Steps[i].Picture = template.HTML(x)
			}
		}
		a.Status = st
		return a
	}
	write("F-101/index.html", func(buf *bytes.Buffer) error { return mk(detail.Issued).Render(buf, set, s) })
	write("F-102/index.html", func(buf *bytes.Buffer) error {
		a := mk(detail.ForReview)
		a.Superseded = &Link{"W-102/index.html", "W-102", "Timber wall, deep cavity"}
		return a.Render(buf, set, s)
	})
	for i := range ix.Rows {
		x, _ := os.ReadFile("/tmp/pages/thumb-" + ix.Rows[i].Mark + ".svg")
		if x != nil {
			ix.Rows[i].Thumb = template.HTML(x)
		}
	}
	write("index.html", func(buf *bytes.Buffer) error { return ix.Render(buf, set, s) })
	write("materials/xps-type-iv/index.html", func(buf *bytes.Buffer) error { return foamMaterial().Render(buf, set, s) })
	write("materials/index.html", func(buf *bytes.Buffer) error { return materialList().Render(buf, set, s) })
	write("specs/07-26-00/index.html", func(buf *bytes.Buffer) error { return vaporSpec().Render(buf, set, s) })
}
