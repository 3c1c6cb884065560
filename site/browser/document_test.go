package browser

import (
	"archive/zip"
	"bytes"
	"encoding/base64"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"wythe/renderer/detail"
	"wythe/site/cited"
)

// A document with links put in is read back by a library that knows nothing of
// this one, and that knows runs, tables, notes and tracked changes.
func TestDocumentInAnotherReader(t *testing.T) {
	file, err := findScript("mammoth", "mammoth.browser.min.js", "WYTHE_MAMMOTH")
	if err != nil {
		t.Fatal(err)
	}
	reader, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	marks, err := detail.NewMarks("[A-Z]-[0-9]{3}")
	if err != nil {
		t.Fatal(err)
	}
	book := &cited.Book{
		Marks:   marks,
		Known:   func(m string) bool { return m == "F-101" || m == "J-201" },
		Address: func(mark, rev string) string { return "https://x.invalid/" + mark + "/" },
	}
	cites, copied, err := cited.Read("a.docx", wordDocument(t), book, true)
	if err != nil {
		t.Fatal(err)
	}
	var places []string
	for _, c := range cites {
		places = append(places, c.Mark+" "+c.Place)
	}
	if got, want := strings.Join(places, "\n"), `F-101 paragraph 1
J-201 paragraph 2
F-101 paragraph 3
J-201 paragraph 4
F-101 paragraph 5
F-101 paragraph 1 of word/header1.xml
J-201 paragraph 1 of word/footnotes.xml`; got != want {
		t.Errorf("found\n%s\nwant\n%s", got, want)
	}

	p := open(t, desk, "index.html")
	p.run(chromedp.Evaluate[chromedp.Void](string(reader)))
	html := ask[string](p, `mammoth.convertToHtml({arrayBuffer: Uint8Array.from(atob(%q), c => c.charCodeAt(0)).buffer}).then(r => r.value)`, base64.StdEncoding.EncodeToString(copied))
	for _, want := range []string{
		`See <a href="https://x.invalid/F-101/"><strong>F-101</strong></a> for the slab.`, // over three runs
		`<td><p>Edge <a href="https://x.invalid/J-201/">J-201</a></p></td>`,               // in a table
		`<a href="https://elsewhere.invalid/">F-101</a>`,                                  // linked before
		`Inserted J-201`, // a tracked change is left to its author
		`<a href="https://x.invalid/F-101/">F-101</a><sup>`,    // before a footnote
		`Note on <a href="https://x.invalid/J-201/">J-201</a>`, // in a footnote
	} {
		if !strings.Contains(html, want) {
			t.Errorf("another reader does not find %s in\n%s", want, html)
		}
	}
}

const (
	wordNames = ` xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"`
	relation  = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
)

// wordDocument is one with marks in all places where a specification has them.
func wordDocument(t *testing.T) []byte {
	t.Helper()
	const head = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, part := range [][2]string{
		{"[Content_Types].xml", head + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/word/document.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/><Override PartName="/word/footnotes.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.footnotes+xml"/><Override PartName="/word/header1.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.header+xml"/></Types>`},
		{"_rels/.rels", head + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="` + relation + `officeDocument" Target="word/document.xml"/></Relationships>`},
		{"word/_rels/document.xml.rels", head + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="` + relation + `footnotes" Target="footnotes.xml"/><Relationship Id="rId2" Type="` + relation + `header" Target="header1.xml"/><Relationship Id="rId3" Type="` + relation + `hyperlink" Target="https://elsewhere.invalid/" TargetMode="External"/></Relationships>`},
		{"word/document.xml", head + `<w:document` + wordNames + `><w:body>` +
			`<w:p><w:r><w:t xml:space="preserve">See </w:t></w:r><w:r><w:rPr><w:b/></w:rPr><w:t>F-</w:t></w:r><w:proofErr w:type="spellStart"/><w:r w:rsidR="00A1"><w:rPr><w:b/></w:rPr><w:t>10</w:t></w:r><w:r><w:rPr><w:b/></w:rPr><w:t>1</w:t></w:r><w:r><w:t xml:space="preserve"> for the slab.</w:t></w:r></w:p>` +
			`<w:tbl><w:tr><w:tc><w:p><w:r><w:t>Edge J-201</w:t></w:r></w:p></w:tc></w:tr></w:tbl>` +
			`<w:p><w:hyperlink r:id="rId3"><w:r><w:t>F-101</w:t></w:r></w:hyperlink></w:p>` +
			`<w:p><w:ins w:id="1" w:author="a"><w:r><w:t>Inserted J-201</w:t></w:r></w:ins><w:del w:id="2" w:author="a"><w:r><w:delText>Struck F-101</w:delText></w:r></w:del><w:moveFrom w:id="3" w:author="a"><w:r><w:t>Moved J-201</w:t></w:r></w:moveFrom></w:p>` +
			`<w:p><w:r><w:t>F-101</w:t></w:r><w:r><w:footnoteReference w:id="2"/></w:r></w:p>` +
			`<w:sectPr><w:headerReference w:type="default" r:id="rId2"/></w:sectPr></w:body></w:document>`},
		{"word/header1.xml", head + `<w:hdr` + wordNames + `><w:p><w:r><w:t>Slab F-101</w:t></w:r></w:p></w:hdr>`},
		{"word/footnotes.xml", head + `<w:footnotes` + wordNames + `><w:footnote w:id="2"><w:p><w:r><w:t>Note on J-201</w:t></w:r></w:p></w:footnote></w:footnotes>`},
	} {
		f, err := w.Create(part[0])
		if err == nil {
			_, err = io.WriteString(f, part[1])
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
