package pdf

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"wythe/renderer/drawing"
	"wythe/themes/fonts"
)

const pointsPerMM = 72 / 25.4

// Info is what a document says of itself.
type Info struct {
	Title, Author, Subject string
	// Date is when its content was last revised. Zero: no date is known, and
	// the first of January 2000 stands in, since the format asks for one.
	Date time.Time
}

// Book is a document being written. It is not safe for several goroutines.
type Book struct {
	f      *fpdf.Fpdf
	buf    []byte // operators not yet handed to the page
	pages  []size
	page   int // the one written to, from 1; 0 none
	state  state
	faces  [len(fonts.Families)][len(fonts.Weights)]bool // embedded so far
	shared map[drawing.MemoKey][]byte                    // operators of paths that drawings share
	runs   []drawing.Run
	// ids are the groups of the drawing being written that a Use may name.
	ids   map[string]*drawing.Group
	named map[string]int // links to names: fpdf's number
	order []string       // the names, as first met
	set   map[string]bool
}

type size struct{ width, height float64 }

// New returns an empty document.
func New(info Info) *Book {
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: 210, Ht: 297}})
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.SetCompression(true)
	f.SetCatalogSort(true)
	date := info.Date
	if date.IsZero() {
		date = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	f.SetCreationDate(date)
	f.SetModificationDate(date)
	f.SetTitle(info.Title, true)
	f.SetAuthor(info.Author, true)
	f.SetSubject(info.Subject, true)
	f.SetCreator("wythe", true)
	f.SetProducer("wythe", true)
	f.SetLang("en-US")
	return &Book{f: f, shared: map[drawing.MemoKey][]byte{}, named: map[string]int{}, set: map[string]bool{}}
}

// AddPage begins a page of a size in mm and returns its number, from 1.
func (b *Book) AddPage(width, height float64) int {
	b.flush()
	b.f.AddPageFormat("P", fpdf.SizeType{Wd: width, Ht: height})
	b.pages = append(b.pages, size{width, height})
	b.page = len(b.pages)
	b.begin()
	return b.page
}

// Resume goes back to a page, so that what is drawn next is laid over what
// stands there.
func (b *Book) Resume(page int) {
	b.flush()
	b.f.SetPage(page)
	b.page = page
	b.begin()
}

// begin sets the state of a page that none of its operators relies on.
func (b *Book) begin() {
	b.state = state{}
	b.buf = append(b.buf, "1 j 4 M [] 0 d 0 J\n"...)
}

// height is that of the page written to, mm.
func (b *Book) height() float64 { return b.pages[b.page-1].height }

// theirs turns a height below the top of the page, mm, into one below the top
// of the page that fpdf holds to be current: the last that was added.
func (b *Book) theirs(y float64) float64 {
	_, h := b.f.GetPageSize()
	return h - b.height() + y
}

// Pages counts the pages.
func (b *Book) Pages() int { return len(b.pages) }

// flush hands the operators gathered so far to the page.
func (b *Book) flush() {
	if len(b.buf) > 0 {
		b.f.RawWriteBuf(bytes.NewReader(b.buf))
		b.buf = b.buf[:0]
	}
}

// Bookmark adds an entry to the outline, leading to the top of the page.
// Level 0 is the outermost; no level may be left out.
func (b *Book) Bookmark(level int, words string) {
	b.flush()
	b.font(fonts.SofiaSans, 400, 3) // fpdf asks the font how the words are to be written
	b.f.Bookmark(plain(words), level, 0)
}

// Anchor gives the top of the page a name, to which "#name" leads as the Href
// of a tag.
func (b *Book) Anchor(name string) {
	b.f.SetLink(b.linkTo(name), 0, b.page)
	b.set[name] = true
}

func (b *Book) linkTo(name string) int {
	n, ok := b.named[name]
	if !ok {
		n = b.f.AddLink()
		b.named[name] = n
		b.order = append(b.order, name)
	}
	return n
}

// link makes a box of the page, mm, lead to an address or, where href begins
// with a number sign, to an anchor.
func (b *Book) link(box drawing.Box, href string) {
	x, y, w, h := box.Min.X, b.theirs(box.Min.Y), box.Width(), box.Height()
	if href[0] == '#' {
		b.f.Link(x, y, w, h, b.linkTo(href[1:]))
		return
	}
	b.f.LinkString(x, y, w, h, href)
}

// WriteTo writes the document. It can be called once.
//
// Errors: those of out. A link to a name that no page was given is a broken
// document and panics.
func (b *Book) WriteTo(out io.Writer) (int64, error) {
	b.flush()
	b.f.SetPage(len(b.pages)) // fpdf writes the pages up to the current one
	for _, name := range b.order {
		if !b.set[name] {
			panic(fmt.Sprintf("pdf: a link leads to %q, which is nowhere", name))
		}
	}
	c := &counter{w: out}
	if err := b.f.Output(c); err != nil {
		if c.err != nil {
			return c.n, c.err
		}
		panic(fmt.Sprintf("pdf: %v", err))
	}
	return c.n, nil
}

// counter tells errors of the writer from those of the document.
type counter struct {
	w   io.Writer
	n   int64
	err error
}

func (c *counter) Write(p []byte) (int, error) {
	n, err := c.w.Write(p)
	c.n += int64(n)
	c.err = err
	return n, err
}

// faceNames are what the cuts are called in a document.
var faceNames [len(fonts.Families)][len(fonts.Weights)]string

func init() {
	for f, name := range fonts.Families {
		for c, weight := range fonts.Weights {
			faceNames[f][c] = strings.ToLower(strings.ReplaceAll(name, " ", "")) + strconv.Itoa(weight)
		}
	}
}

// font selects a cut at a size in mm, embedding it if it is new.
func (b *Book) font(family fonts.Family, weight int, size float64) {
	cut := fonts.Cut(weight)
	if family == fonts.DrawingSigns {
		cut = 0
	}
	want := fontState{family: family, cut: cut, size: size, set: true}
	if b.state.font == want {
		return
	}
	b.flush()
	name := faceNames[family][cut]
	if !b.faces[family][cut] {
		b.faces[family][cut] = true
		b.f.AddUTF8FontFromBytes(name, "", fonts.TTF(family, fonts.Weights[cut]))
	}
	b.f.SetFont(name, "", size*pointsPerMM)
	b.state.font = want
}
