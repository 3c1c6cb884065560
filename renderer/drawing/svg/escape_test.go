package svg

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"
	"unicode/utf8"

	"wythe/renderer/drawing"
)

// FuzzWords writes hostile words in every place that takes words: the file
// stays well formed, and text and title read back as they were.
func FuzzWords(f *testing.F) {
	f.Add(`"><script>alert(1)</script>`, "1/2 a < b && c", Standalone == 1)
	f.Add("tab\tfeed\nnul\x00 \xff", "λ ≤ 1/2″", false)
	f.Fuzz(func(t *testing.T, part, words string, alone bool) {
		opt := Options{Prefix: "p"}
		if alone {
			opt.Dress = Standalone
		}
		d := &drawing.Drawing{Title: words, Desc: part, Width: 10, Height: 10}
		d.Root.Nodes = []drawing.Node{
			&drawing.Group{Tag: drawing.Tag{Part: part, Kind: "hatch", ID: "a", Href: part, Control: part}},
			&drawing.Text{Size: 3, Text: words, Tag: drawing.Tag{Part: part}},
		}
		got := Append(nil, d, opt)
		wellFormed(t, got)
		if !utf8.ValidString(words) || strings.ContainsFunc(words, func(r rune) bool { return r < ' ' || r == 0x7F || r == 0xFFFE || r == 0xFFFF }) {
			return
		}
		title, text := readWords(t, got)
		if words != "" && title != words {
			t.Errorf("title %q reads back as %q", words, title)
		}
		if plain := strings.ContainsRune(words, '/'); !plain && text != words {
			t.Errorf("text %q reads back as %q", words, text)
		}
	})
}

// readWords returns the contents of the title and of the text.
func readWords(t *testing.T, file []byte) (title, words string) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(file))
	var in []string
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return title, words
		}
		if err != nil {
			t.Fatal(err)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			in = append(in, tok.Name.Local)
		case xml.EndElement:
			in = in[:len(in)-1]
		case xml.CharData:
			for _, name := range in {
				switch name {
				case "title":
					title += string(tok)
				case "text":
					words += string(tok)
				}
			}
		}
	}
}

func TestReaders(t *testing.T) {
	d := &drawing.Drawing{Title: "Slab", Width: 10, Height: 10}
	if got := string(Append(nil, d, Options{Prefix: "a", Hidden: true})); strings.Contains(got, "title") || !strings.Contains(got, ` aria-hidden="true"`) {
		t.Errorf("a hidden drawing speaks: %s", got)
	}
	if got := string(Append(nil, d, Options{Prefix: "a"})); !strings.Contains(got, `role="img" aria-labelledby="a-t"`) {
		t.Errorf("a drawing is no image: %s", got)
	}
	// an image's parts are out of a reader's reach, links among them
	d.Root.Nodes = []drawing.Node{&drawing.Group{Nodes: []drawing.Node{&drawing.Text{Size: 3, Text: "J-201", Tag: drawing.Tag{Href: "../J-201/"}}}}}
	got := string(Append(nil, d, Options{Prefix: "a"}))
	if !strings.Contains(got, `role="group" aria-labelledby="a-t"`) || !strings.Contains(got, `<a href="../J-201/">`) {
		t.Errorf("a drawing's link is out of reach: %s", got)
	}
}
