package svg

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"sync"
	"unsafe"

	svgo "github.com/ajstarks/svgo/float"

	"wythe/renderer/drawing"
)

// Dress is how a drawing is dressed.
type Dress int

const (
	// Inline is for a page: classes only, coloured by drawing.css.
	Inline Dress = iota
	// Standalone is a file of its own: concrete colours on paper.
	Standalone
)

// Options say how to write.
type Options struct {
	Dress Dress
	// Prefix starts every id, so that several drawings share a page: letters,
	// figures and hyphens. Empty: "d".
	Prefix string
	// Class is added to the drawing's own class; Inline only.
	Class string
	// Page, shared by the drawings of one page, lets a hatch that an earlier
	// one holds be used again. They must be written in the order in which
	// they stand on the page, by one goroutine. Nil: none is.
	Page *Page
	// Hidden leaves title and description out and hides the drawing from
	// readers: for thumbnails whose words stand beside them. Inline only.
	Hidden bool
}

// Write writes d as one svg element, with nothing before or after it when
// Inline. Errors are those of w. A coordinate that is no number, or two
// groups with the same ID, is a broken drawing and panics.
func Write(w io.Writer, d *drawing.Drawing, opt Options) error {
	b := writers.Get().(*writer)
	defer writers.Put(b)
	b.reset(opt)
	b.drawing(d)
	_, err := w.Write(b.out.Bytes())
	return err
}

// Append appends d as [Write] writes it to dst.
func Append(dst []byte, d *drawing.Drawing, opt Options) []byte {
	b := writers.Get().(*writer)
	defer writers.Put(b)
	b.reset(opt)
	b.drawing(d)
	return append(dst, b.out.Bytes()...)
}

var writers = sync.Pool{New: func() any {
	w := new(writer)
	w.canvas = svgo.New(&w.out)
	return w
}}

// writer holds what one drawing needs while it is written.
type writer struct {
	out    bytes.Buffer
	canvas *svgo.SVG
	opt    Options
	attr   []byte // attributes of the element being written
	class  []byte // its classes
	data   []byte // its path data
	span   []byte // a text element
	spans  []drawing.Span
	parts  []string // parts of the enclosing groups, outermost first
	number int      // of generated ids
	ids    map[string]bool
}

func (w *writer) reset(opt Options) {
	if opt.Prefix == "" {
		opt.Prefix = "d"
	}
	w.out.Reset()
	w.opt, w.number, w.parts = opt, 0, w.parts[:0]
	clear(w.ids)
}

// text is b as a string that lives until b changes: what svgo prints at once.
func text(b []byte) string { return unsafe.String(unsafe.SliceData(b), len(b)) }

func (w *writer) drawing(d *drawing.Drawing) {
	a := w.attr[:0]
	a = append(a, `width="`...)
	a = appendNumber(a, d.Width)
	a = append(a, `mm" height="`...)
	a = appendNumber(a, d.Height)
	a = append(a, `mm" viewBox="0 0 `...)
	a = appendNumber(a, d.Width)
	a = append(a, ' ')
	a = appendNumber(a, d.Height)
	a = append(a, '"')
	if w.opt.Dress == Inline {
		a = append(a, ` class="dwg`...)
		if w.opt.Class != "" {
			a = append(a, ' ')
			a = appendEscaped(a, w.opt.Class)
		}
		a = append(a, '"')
	} else {
		a = append(a, standaloneRoot...)
		a = append(a, ` font-family="`...)
		a = append(a, standaloneFamilies[drawing.Lettering]...)
		a = append(a, '"')
	}
	hidden := w.opt.Hidden && w.opt.Dress == Inline
	if hidden {
		a = append(a, ` aria-hidden="true"`...)
	} else if d.Title != "" {
		role := "img"
		if linked(&d.Root) {
			role = "group" // an image's parts are out of a reader's reach
		}
		a = append(a, ` role="`...)
		a = append(a, role...)
		a = append(a, `" aria-labelledby="`...)
		a = append(a, w.opt.Prefix...)
		a = append(a, "-t"...)
		if d.Desc != "" {
			a = append(a, ' ')
			a = append(a, w.opt.Prefix...)
			a = append(a, "-d"...)
		}
		a = append(a, '"')
	}
	w.attr = a
	w.canvas.Startraw(text(a))
	if w.opt.Dress == Inline {
		w.cutProlog()
	}
	if !hidden && d.Title != "" {
		w.words("title", "-t", d.Title)
		if d.Desc != "" {
			w.words("desc", "-d", d.Desc)
		}
	}
	if w.opt.Dress == Standalone { // paper, whatever the file is shown on
		w.canvas.Rect(0, 0, d.Width, d.Height, `fill="`+paperColours[drawing.InkPaper]+`"`)
	}
	w.node(&d.Root)
	w.canvas.End()
}

// cutProlog takes the XML declaration and comment off: pages hold none.
func (w *writer) cutProlog() {
	b := w.out.Bytes()
	i := bytes.Index(b, []byte("<svg"))
	rest := append([]byte(nil), b[i:]...)
	w.out.Reset()
	w.out.Write(bytes.Join(bytes.Fields(rest), []byte(" ")))
}

// words writes a title or desc with an id, which svgo's own cannot have.
func (w *writer) words(element, id, s string) {
	a := append(w.attr[:0], '<')
	a = append(a, element...)
	a = append(a, ` id="`...)
	a = append(a, w.opt.Prefix...)
	a = append(a, id...)
	a = append(a, `">`...)
	a = appendEscaped(a, s)
	a = append(a, "</"...)
	a = append(a, element...)
	a = append(a, ">\n"...)
	w.attr = a
	w.out.Write(a)
}

func linked(n drawing.Node) bool {
	switch n := n.(type) {
	case *drawing.Group:
		if n.Tag.Href != "" {
			return true
		}
		for _, c := range n.Nodes {
			if linked(c) {
				return true
			}
		}
	case *drawing.Path:
		return n.Tag.Href != ""
	case *drawing.Circle:
		return n.Tag.Href != ""
	case *drawing.Text:
		return n.Tag.Href != ""
	case *drawing.Use:
		return n.Tag.Href != ""
	}
	return false
}

func (w *writer) node(n drawing.Node) {
	switch n := n.(type) {
	case *drawing.Group:
		w.group(n)
	case *drawing.Path:
		w.link(&n.Tag, func() { w.path(n) })
	case *drawing.Circle:
		w.link(&n.Tag, func() { w.circle(n) })
	case *drawing.Text:
		w.link(&n.Tag, func() { w.text(n) })
	case *drawing.Use:
		w.link(&n.Tag, func() {
			w.open(&n.Tag)
			w.canvas.Use(n.Shift.X, n.Shift.Y, "#"+w.opt.Prefix+"-"+n.ID, w.close())
		})
	default:
		panic(fmt.Sprintf("svg: node %T", n))
	}
}

// link writes do's element inside a link where the tag asks for one.
func (w *writer) link(t *drawing.Tag, do func()) {
	if t.Href == "" {
		do()
		return
	}
	a := append(w.attr[:0], `<a href="`...)
	a = appendEscaped(a, t.Href)
	a = append(a, `">`...)
	w.attr = a
	w.out.Write(a)
	do()
	w.canvas.LinkEnd()
}

func (w *writer) group(g *drawing.Group) {
	if g.Tag == (drawing.Tag{}) && g.Clip == nil && g.Shift == (drawing.Point{}) {
		for _, n := range g.Nodes {
			w.node(n)
		}
		return
	}
	w.link(&g.Tag, func() {
		clip := ""
		if g.Clip != nil {
			clip = w.newID()
			w.canvas.ClipPath(`id="` + clip + `"`)
			w.data = data(w.data[:0], g.Clip.Segs, 3)
			w.canvas.Path(text(w.data))
			w.canvas.ClipEnd()
		}
		w.open(&g.Tag)
		if g.Shift != (drawing.Point{}) {
			a := append(w.attr, `transform="translate(`...)
			a = appendNumber(a, g.Shift.X)
			a = append(a, ' ')
			a = appendNumber(a, g.Shift.Y)
			w.attr = append(a, `)" `...)
		}
		if clip != "" {
			w.attr = attribute(w.attr, "clip-path", "url(#"+clip+")")
		}
		w.canvas.Group(w.close())
		w.parts = append(w.parts, g.Tag.Part)
		for _, n := range g.Nodes {
			w.node(n)
		}
		w.parts = w.parts[:len(w.parts)-1]
		w.canvas.Gend()
	})
}

func (w *writer) newID() string {
	w.number++
	return w.opt.Prefix + "-" + strconv.Itoa(w.number)
}
