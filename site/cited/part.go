package cited

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"sort"
	"strconv"
	"strings"
)

// spaces are the two sets of names under which ISO/IEC 29500 keeps words:
// transitional and strict.
type space struct{ words, relations string }

var spaces = []space{
	{"http://schemas.openxmlformats.org/wordprocessingml/2006/main", "http://schemas.openxmlformats.org/officeDocument/2006/relationships"},
	{"http://purl.oclc.org/ooxml/wordprocessingml/main", "http://purl.oclc.org/ooxml/officeDocument/relationships"},
}

// part is one part of a document that holds text.
type part struct {
	name  string
	text  []byte
	book  *Book
	link  bool
	space space
	w     string // prefix of the words' names, with its colon

	cites []Cite
	edits []edit // in order
	links []linkTo
	count int // paragraphs so far
}

// linkTo is a new link; its id is given when it is related.
type linkTo struct{ href, id string }

// edit takes the place of a stretch of the part. Its pieces are set down in
// order; a piece with a link below zero is text as it stands.
type edit struct {
	from, to int
	pieces   []piece
}

// piece is raw text, or the beginning or end of a link.
type piece struct {
	raw  string
	open int // of links, from 1; 0 none
	shut bool
}

// atom is one sign, or one element, of a run.
type atom struct {
	from, to int    // in the part
	text     string // what a reader sees of it
	mark     int    // index into links, from 1
	inText   bool   // a sign within a text element
}

// run is a run of a paragraph.
type run struct {
	from, to  int // in the part
	head      string
	atoms     []atom
	plain     bool // may be parted
	linked    bool // stands in a link or a field
	container int  // which element it stands in
}

// paragraph gathers the runs of one.
type paragraph struct {
	runs   []run
	fields int
}

const deepest = 200 // elements within elements

// read goes through the part, paragraph by paragraph.
func (p *part) read() error {
	d := xml.NewDecoder(bytes.NewReader(p.text))
	d.Strict = true
	d.CharsetReader = func(string, io.Reader) (io.Reader, error) { return nil, errors.New("another encoding than UTF-8") }
	r := &reader{p: p, d: d}
	for {
		from := int(d.InputOffset())
		token, err := d.RawToken()
		if errors.Is(err, io.EOF) {
			if len(r.open) > 0 {
				return refusef("%s ends early", p.name)
			}
			return nil
		}
		if err != nil {
			return refusef("%s cannot be read: %v", p.name, err)
		}
		if err := r.token(token, from, int(d.InputOffset())); err != nil {
			return err
		}
	}
}

// reader is where the reading of a part stands.
type reader struct {
	p          *part
	d          *xml.Decoder
	open       []xml.Name
	starts     []int // number of each open element
	number     int
	paragraphs []*paragraph
	run        []*run // of each open paragraph; nil outside a run
	propsFrom  int
	links      int // open links and simple fields
	struck     int // open elements of what was moved away
}

func (r *reader) token(t xml.Token, from, to int) error {
	switch t := t.(type) {
	case xml.Directive:
		return refusef("%s declares a document type: entities are not read", r.p.name)
	case xml.StartElement:
		if len(r.open) == 0 {
			if err := r.root(&t); err != nil {
				return err
			}
		}
		if len(r.open) >= deepest {
			return refusef("%s nests more than %d elements", r.p.name, deepest)
		}
		r.number++
		r.open, r.starts = append(r.open, t.Name), append(r.starts, r.number)
		r.begin(&t, from, to)
	case xml.EndElement:
		if len(r.open) == 0 || r.open[len(r.open)-1] != t.Name {
			return refusef("%s cannot be read: its elements do not close", r.p.name)
		}
		r.end(t.Name, from, to)
		r.open, r.starts = r.open[:len(r.open)-1], r.starts[:len(r.starts)-1]
	case xml.CharData:
		r.chars(from, to)
	}
	return nil
}

// root finds the prefix of the words' names.
func (r *reader) root(t *xml.StartElement) error {
	for _, a := range t.Attr {
		for _, s := range spaces {
			if a.Value == s.words && (a.Name.Space == "xmlns" || a.Name.Space == "" && a.Name.Local == "xmlns") {
				r.p.space = s
				if r.p.w = ""; a.Name.Space == "xmlns" {
					r.p.w = a.Name.Local + ":"
				}
				return nil
			}
		}
	}
	return refusef("%s is no part of a word-processing document", r.p.name)
}

// is reports whether a name is one of the words' names.
func (r *reader) is(n xml.Name, local string) bool {
	return n.Local == local && n.Space == strings.TrimSuffix(r.p.w, ":")
}

func (r *reader) current() (*paragraph, *run) {
	if len(r.paragraphs) == 0 {
		return nil, nil
	}
	n := len(r.paragraphs) - 1
	return r.paragraphs[n], r.run[n]
}

func (r *reader) begin(t *xml.StartElement, from, to int) {
	par, in := r.current()
	switch {
	case r.is(t.Name, "p"):
		if in != nil {
			in.plain = false // a text box stands in it
		}
		r.paragraphs, r.run = append(r.paragraphs, &paragraph{}), append(r.run, nil)
		r.p.count++
	case r.is(t.Name, "hyperlink"), r.is(t.Name, "fldSimple"):
		r.links++
	case r.is(t.Name, "moveFrom"):
		r.struck++
	case par == nil:
	case in == nil && r.is(t.Name, "r"):
		container := 0
		plain := false
		if n := len(r.open); n >= 2 {
			container = r.starts[n-2]
			plain = r.is(r.open[n-2], "p") || r.is(r.open[n-2], "sdtContent")
		}
		r.run[len(r.run)-1] = &run{from: from, head: string(r.p.text[from:to]), plain: plain, linked: r.links > 0 || par.fields > 0, container: container}
	case in == nil:
	case r.is(t.Name, "rPr"):
		if r.propsFrom == 0 {
			r.propsFrom = from
		}
	case r.propsFrom > 0 || r.is(t.Name, "t"):
	case r.is(t.Name, "fldChar"):
		in.plain = false
		for _, a := range t.Attr {
			if a.Name.Local == "fldCharType" && a.Value == "begin" {
				par.fields++
			} else if a.Name.Local == "fldCharType" && a.Value == "end" {
				par.fields = max(0, par.fields-1)
			}
		}
	case len(r.open) >= 2 && r.is(r.open[len(r.open)-2], "r"):
		seen := ""
		switch t.Name.Local {
		case "noBreakHyphen":
			seen = "-"
		case "tab", "br", "cr":
			seen = "\n"
		}
		in.atoms = append(in.atoms, atom{from: from, to: to, text: seen})
	}
}

func (r *reader) end(name xml.Name, from, to int) {
	par, in := r.current()
	switch {
	case r.is(name, "p") && par != nil:
		r.p.paragraph(par)
		r.paragraphs, r.run = r.paragraphs[:len(r.paragraphs)-1], r.run[:len(r.run)-1]
	case r.is(name, "hyperlink"), r.is(name, "fldSimple"):
		r.links = max(0, r.links-1)
	case r.is(name, "moveFrom"):
		r.struck = max(0, r.struck-1)
	case in == nil:
	case r.is(name, "rPr"):
		if r.propsFrom > 0 && len(r.open) >= 2 && r.is(r.open[len(r.open)-2], "r") {
			in.head += string(r.p.text[r.propsFrom:to])
			r.propsFrom = 0
		}
	case r.propsFrom > 0:
	case r.is(name, "r"):
		in.to = to
		par.runs = append(par.runs, *in)
		r.run[len(r.run)-1] = nil
	case len(r.open) >= 2 && r.is(r.open[len(r.open)-2], "r") && !r.is(name, "t"):
		if n := len(in.atoms); n > 0 {
			in.atoms[n-1].to = to
		}
	}
}

// chars takes the signs of a text element, each with its place.
func (r *reader) chars(from, to int) {
	_, in := r.current()
	if in == nil || r.struck > 0 || len(r.open) == 0 || !r.is(r.open[len(r.open)-1], "t") {
		return
	}
	raw := r.p.text[from:to]
	if bytes.HasPrefix(raw, []byte("<![CDATA[")) {
		in.plain = false
		return
	}
	for i := 0; i < len(raw); {
		n := 1
		text := string(raw[i : i+1])
		switch {
		case raw[i] == '&':
			if end := bytes.IndexByte(raw[i:], ';'); end > 0 {
				n = end + 1
				text = entity(string(raw[i : i+n]))
			}
		case raw[i] >= 0x80:
			for i+n < len(raw) && raw[i+n]&0xc0 == 0x80 {
				n++
			}
			text = string(raw[i : i+n])
			if text == "\u2011" || text == "\u2010" {
				text = "-" // hyphens that look like one
			}
		}
		in.atoms = append(in.atoms, atom{from: from + i, to: from + i + n, text: text, inText: true})
		i += n
	}
}

func entity(s string) string {
	switch s {
	case "&amp;":
		return "&"
	case "&lt;":
		return "<"
	case "&gt;":
		return ">"
	case "&quot;":
		return `"`
	case "&apos;":
		return "'"
	}
	digits := strings.TrimSuffix(strings.TrimPrefix(s, "&#"), ";")
	base := 10
	if strings.HasPrefix(digits, "x") {
		digits, base = digits[1:], 16
	}
	if n, err := strconv.ParseInt(digits, base, 32); err == nil {
		if n == 0x2011 || n == 0x2010 {
			return "-"
		}
		return string(rune(n))
	}
	return "\ufffd"
}

func sortedKeys(m map[string][]byte) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

func escapeXML(s string) string {
	var b bytes.Buffer
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		panic("cited: a buffer refused text: " + err.Error())
	}
	return b.String()
}
