package cited

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wythe/renderer/detail"
)

func testBook(t testing.TB) *Book {
	t.Helper()
	marks, err := detail.NewMarks("[A-Z]-[0-9]{3}")
	if err != nil {
		t.Fatal(err)
	}
	return &Book{
		Marks: marks,
		Known: func(m string) bool { return m == "F-101" || m == "J-201" },
		Address: func(mark, rev string) string {
			if rev != "" {
				return "https://x.invalid/" + mark + "/rev/" + rev + "/"
			}
			return "https://x.invalid/" + mark + "/"
		},
	}
}

func TestMarksIn(t *testing.T) {
	for text, want := range map[string][]string{
		"See F-101, and J-201 rev B.":            {"F-101", "J-201 B"},
		"F-101, rev. C; F-101 Revision 12":       {"F-101 C", "F-101 12"},
		"f-101 or X-999":                         {"~f-101", "X-999"},
		"f-999 is no mark here":                  nil,
		"F-101 review, F-101 rev by, F-101rev A": {"F-101", "F-101"},
		"AF-101 F-1012 F-101-B":                  nil,
		"(F-101).":                               {"F-101"},
		"λF-101 J-201λ J-201":                    {"J-201"},
	} {
		var got []string
		for _, f := range marksIn(text, testBook(t)) {
			s := f.mark
			if f.rev != "" {
				s += " " + f.rev
			}
			if f.small {
				s = "~" + s
			}
			got = append(got, s)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%q: %s", text, diff)
		}
	}
}

func TestTextAndHTML(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"a.txt", "See F-101 rev A\r\nand J-201.\r\n", "See F-101 rev A <https://x.invalid/F-101/rev/A/>\r\nand J-201 <https://x.invalid/J-201/>.\r\n"},
		{"a.txt", "F-101 <https://x.invalid/F-101/>", ""},
		{"a.md", "See F-101, [J-201](there).", "See [F-101](https://x.invalid/F-101/), [J-201](there)."},
		{"a.txt", "X-999 and f-101 are none.", ""},
		{"a.html", "<p title='J-201'>F-101 &amp; <b>J-201</b> rev B</p>", "<p title='J-201'><a href=\"https://x.invalid/F-101/\">F-101</a> &amp; <b><a href=\"https://x.invalid/J-201/\">J-201</a></b> rev B</p>"},
		{"a.html", "<a href='x'>F-101</a><script>var a='<b>J-201'</script><!-- J-201 --><title>F-101</title><textarea>J-201</textarea>", ""},
		{"x", "<!DOCTYPE html><p>1 < 2, F-101<br>", "<!DOCTYPE html><p>1 < 2, <a href=\"https://x.invalid/F-101/\">F-101</a><br>"},
		{"a.html", "F-101 <b", "<a href=\"https://x.invalid/F-101/\">F-101</a> <b"},
	} {
		_, got, err := Read(c.name, []byte(c.text), testBook(t), true)
		if err != nil || string(got) != c.want {
			t.Errorf("%q: %v\ngot  %q\nwant %q", c.text, err, got, c.want)
		}
	}
}

const (
	wordsNS = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
	types   = `<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/word/document.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/></Types>`
	rootRel = `<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="word/document.xml"/></Relationships>`
)

func document(body string) string {
	return `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n" + `<w:document xmlns:w="` + wordsNS + `"><w:body>` + body + `</w:body></w:document>`
}

func archive(t testing.TB, parts ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := 0; i+1 < len(parts); i += 2 {
		f, err := w.CreateHeader(&zip.FileHeader{Name: parts[i], Method: zip.Deflate})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(f, parts[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func docx(t testing.TB, body string, more ...string) []byte {
	return archive(t, append([]string{"[Content_Types].xml", types, "_rels/.rels", rootRel, "word/document.xml", document(body)}, more...)...)
}

func partOf(t testing.TB, data []byte, name string) string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	f, err := z.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(f)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// linked reads a document with the standard library alone, and sets its text
// down with links in brackets.
func linked(t testing.TB, data []byte) string {
	t.Helper()
	targets := map[string]string{}
	type relationship struct {
		ID         string `xml:"Id,attr"`
		Target     string `xml:"Target,attr"`
		TargetMode string `xml:"TargetMode,attr"`
	}
	var list struct {
		Relationship []relationship
	}
	if err := xml.Unmarshal([]byte(partOf(t, data, "word/_rels/document.xml.rels")), &list); err != nil {
		t.Fatal(err)
	}
	for _, r := range list.Relationship {
		if r.TargetMode == "External" {
			targets[r.ID] = r.Target
		}
	}
	var out strings.Builder
	d := xml.NewDecoder(strings.NewReader(partOf(t, data, "word/document.xml")))
	text := false
	var open []string
	for {
		token, err := d.Token()
		if err == io.EOF {
			return out.String()
		}
		if err != nil {
			t.Fatal(err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			text = x.Name.Local == "t"
			if x.Name.Local == "hyperlink" {
				to := ""
				for _, a := range x.Attr {
					if a.Name.Local == "id" && a.Name.Space == spaces[0].relations {
						to = targets[a.Value]
					}
				}
				open = append(open, to)
				out.WriteString("[")
			}
			if x.Name.Local == "noBreakHyphen" {
				out.WriteString("-")
			}
		case xml.EndElement:
			text = false
			if x.Name.Local == "hyperlink" {
				out.WriteString("](" + open[len(open)-1] + ")")
				open = open[:len(open)-1]
			}
			if x.Name.Local == "p" {
				out.WriteString("\n")
			}
		case xml.CharData:
			if text {
				out.Write(x)
			}
		}
	}
}

func TestDocument(t *testing.T) {
	for _, c := range []struct{ name, body, want string }{
		{"in one run", `<w:p><w:r><w:rPr><w:b/></w:rPr><w:t>See F-101 rev B &amp; more.</w:t></w:r></w:p>`, "See [F-101 rev B](https://x.invalid/F-101/rev/B/) & more.\n"},
		{"in parts", `<w:p><w:r><w:t>See F-</w:t></w:r><w:proofErr w:type="x"/><w:r><w:rPr><w:i/></w:rPr><w:t>1</w:t></w:r><w:r><w:t xml:space="preserve">01 and </w:t></w:r></w:p>`, "See [F-101](https://x.invalid/F-101/) and \n"},
		{"hyphen that does not break", `<w:p><w:r><w:t>F</w:t><w:noBreakHyphen/><w:t>101</w:t></w:r></w:p>`, "[F-101](https://x.invalid/F-101/)\n"},
		{"another hyphen", "<w:p><w:r><w:t>F\u2011101</w:t></w:r></w:p>", "[F\u2011101](https://x.invalid/F-101/)\n"},
		{"two in a run", `<w:p><w:r><w:t>F-101, J-201</w:t></w:r></w:p>`, "[F-101](https://x.invalid/F-101/), [J-201](https://x.invalid/J-201/)\n"},
		{"in a table", `<w:tbl><w:tr><w:tc><w:p><w:r><w:t>F-101</w:t></w:r></w:p></w:tc></w:tr></w:tbl>`, "[F-101](https://x.invalid/F-101/)\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			data := docx(t, c.body)
			cites, copied, err := Read("a.docx", data, testBook(t), true)
			if err != nil || len(cites) == 0 {
				t.Fatalf("%v, %v", cites, err)
			}
			if got := linked(t, copied); got != c.want {
				t.Errorf("got  %q\nwant %q", got, c.want)
			}
			again, twice, err := Read("a.docx", copied, testBook(t), true)
			if err != nil || twice != nil || len(again) != len(cites) || !again[0].Linked {
				t.Errorf("read again: %v, copy %v, %v", again, twice != nil, err)
			}
		})
	}
}

// Where a link cannot stand, or stands already, the mark is counted and left.
func TestDocumentLeft(t *testing.T) {
	for name, body := range map[string]string{
		"in a link":      `<w:p><w:hyperlink w:anchor="x"><w:r><w:t>F-101</w:t></w:r></w:hyperlink></w:p>`,
		"in a field":     `<w:p><w:r><w:fldChar w:fldCharType="begin"/></w:r><w:r><w:instrText>HYPERLINK "x"</w:instrText></w:r><w:r><w:fldChar w:fldCharType="separate"/></w:r><w:r><w:t>F-101</w:t></w:r><w:r><w:fldChar w:fldCharType="end"/></w:r></w:p>`,
		"inserted":       `<w:p><w:ins w:id="1"><w:r><w:t>F-101</w:t></w:r></w:ins></w:p>`,
		"over two holds": `<w:p><w:r><w:t>F-</w:t></w:r><w:ins w:id="1"><w:r><w:t>101</w:t></w:r></w:ins></w:p>`,
		"not known":      `<w:p><w:r><w:t>X-999</w:t></w:r></w:p>`,
	} {
		cites, copied, err := Read("a.docx", docx(t, body), testBook(t), true)
		if err != nil || len(cites) != 1 || copied != nil {
			t.Errorf("%s: %v, copy %v, %v", name, cites, copied != nil, err)
		}
	}
	cites, _, err := Read("a.docx", docx(t, `<w:p><w:r><w:delText>F-101</w:delText></w:r></w:p><w:p><w:r><w:t>F-</w:t></w:r></w:p><w:p><w:r><w:t>101</w:t></w:r></w:p>`), testBook(t), false)
	if err != nil || len(cites) != 0 {
		t.Errorf("a mark was found in what is struck, or across paragraphs: %v, %v", cites, err)
	}
}

// Every part that holds no mark stays as it lies, and so does the rest of one
// that does.
func TestDocumentUntouched(t *testing.T) {
	header := `<w:hdr xmlns:w="` + wordsNS + `"><w:p><w:r><w:t>F-101</w:t></w:r></w:p></w:hdr>`
	rels := `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="wythe3" Type="t" Target="x" TargetMode="External"/></Relationships>`
	body := `<w:p w:x="1" ><w:r><w:t>one</w:t></w:r><!-- kept --></w:p><w:p><w:r><w:t>J-201</w:t></w:r></w:p><w:sectPr  a='b'/>`
	data := docx(t, body, "word/media/image1.png", "\x89PNG", "word/header1.xml", header, "word/_rels/document.xml.rels", rels, "docProps/core.xml", "<a>F-101</a>")
	cites, copied, err := Read("a.docx", data, testBook(t), true)
	if err != nil || len(cites) != 2 || cites[1].Place != "paragraph 1 of word/header1.xml" {
		t.Fatalf("%v, %v", cites, err)
	}
	if got, want := partOf(t, copied, "word/document.xml"), document(strings.Replace(body, `<w:r><w:t>J-201</w:t></w:r>`, `<w:hyperlink xmlns:wlink="`+spaces[0].relations+`" wlink:id="wythe4" w:history="1"><w:r><w:t xml:space="preserve">J-201</w:t></w:r></w:hyperlink>`, 1)); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if !strings.Contains(partOf(t, copied, "word/_rels/header1.xml.rels"), `Target="https://x.invalid/F-101/"`) {
		t.Error("the header's link has no address")
	}
	for _, name := range []string{"[Content_Types].xml", "_rels/.rels", "word/media/image1.png", "docProps/core.xml"} {
		if partOf(t, data, name) != partOf(t, copied, name) {
			t.Errorf("%s was changed", name)
		}
	}
}

func TestHostileDocuments(t *testing.T) {
	bomb := strings.Repeat("<w:p/>", maxPart/6+1)
	deep := strings.Repeat("<w:sdt>", deepest+1) + strings.Repeat("</w:sdt>", deepest+1)
	entity := strings.Replace(document(`<w:p><w:r><w:t>&x; F-101</w:t></w:r></w:p>`), "\n", "\n<!DOCTYPE w:document [<!ENTITY x SYSTEM \"file:///etc/passwd\">]>", 1)
	lol := strings.Replace(document(`<w:p><w:r><w:t>&b;</w:t></w:r></w:p>`), "\n", "\n<!DOCTYPE w [<!ENTITY a \"F-101 F-101\"><!ENTITY b \"&a;&a;&a;&a;\">]>", 1)
	for name, c := range map[string]struct {
		data []byte
		says string
	}{
		"bomb":          {docx(t, bomb), "unpack to more than 64 MB"},
		"deep":          {docx(t, deep), "nests more than"},
		"entity":        {archive(t, "[Content_Types].xml", types, "word/document.xml", entity), "declares a document type"},
		"entities":      {archive(t, "[Content_Types].xml", types, "word/document.xml", lol), "declares a document type"},
		"undeclared":    {docx(t, `<w:p>&x;</w:p>`), "cannot be read"},
		"traversal":     {archive(t, "[Content_Types].xml", types, "word/document.xml", document(""), "../../evil", "x"), "leads out of it"},
		"absolute":      {archive(t, "[Content_Types].xml", types, "word/document.xml", document(""), "/etc/x", "x"), "leads out of it"},
		"backslash":     {archive(t, "[Content_Types].xml", types, "word/document.xml", document(""), `..\x`, "x"), "leads out of it"},
		"twice":         {archive(t, "[Content_Types].xml", types, "word/document.xml", document(""), "word/Document.xml", "x"), "twice"},
		"no document":   {archive(t, "a.txt", "F-101"), "no word-processing document"},
		"not closed":    {docx(t, `<w:p><w:r>`), "cannot be read"},
		"ends early":    {archive(t, "[Content_Types].xml", types, "word/document.xml", `<w:document xmlns:w="`+wordsNS+`"><w:p>`), "ends early"},
		"other words":   {archive(t, "[Content_Types].xml", types, "word/document.xml", `<a/>`), "no part of a word-processing"},
		"cut":           {docx(t, "")[:200], "broken archive"},
		"pdf":           {[]byte("%PDF-1.7"), "PDF"},
		"old":           {[]byte("\xd0\xcf\x11\xe0\x00"), "old binary form"},
		"binary":        {[]byte("a\x00b"), "no text"},
		"other letters": {[]byte("caf\xe9 F-101"), "no text"},
	} {
		t.Run(name, func(t *testing.T) {
			cites, copied, err := Read("a.docx", c.data, testBook(t), true)
			if err == nil || copied != nil || cites != nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%d cites, %v; want an error that says %q", len(cites), err, c.says)
			}
		})
	}
}

func FuzzPart(f *testing.F) {
	f.Add(`<w:p><w:r><w:rPr><w:b/></w:rPr><w:t>See F-101 rev B &amp; more.</w:t></w:r></w:p>`)
	f.Add(`<w:p><w:r><w:t>F</w:t><w:noBreakHyphen/><w:t>101</w:t></w:r><w:r/></w:p>`)
	book := testBook(f)
	f.Fuzz(func(t *testing.T, body string) {
		p := &part{name: "word/document.xml", text: []byte(document(body)), book: book, link: true}
		if p.read() != nil || len(p.edits) == 0 {
			return
		}
		if _, err := p.relate(nil); err != nil {
			t.Fatal(err)
		}
		again := &part{name: p.name, text: p.rewritten(), book: book, link: true}
		if err := again.read(); err != nil {
			t.Fatalf("%q became unreadable: %v\n%s", body, err, again.text)
		}
		if len(again.cites) != len(p.cites) {
			t.Fatalf("%q: %d marks became %d\n%s", body, len(p.cites), len(again.cites), again.text)
		}
	})
}
