package page

import (
	"html/template"
	"io"
	"strconv"
	"strings"

	"wythe/renderer/detail"
	"wythe/site/prose"
	"wythe/themes"
)

// Assembly is the page of a layer stack.
type Assembly struct {
	Frame
	UseFor, NotFor []string
	// Superseded leads to what replaces the detail; nil: it stands.
	Superseded *Link

	// Wide and Phone are the drawing in its two dresses, as SVG whose ids
	// start with WidePrefix and PhonePrefix. The bubble of keynote 3 has the
	// id "w-k-3" or "n-k-3" and leads to "#layer-3". The height that Wide
	// states in mm decides what fits on the first printed sheet.
	Wide, Phone template.HTML
	Toggles     []Toggle // what of the drawing can be hidden

	Layers     []LayerRow
	LayersFrom string    // "inside", or "inside, top first"
	Total      *LayerRow // the stack; nil: none

	Figures     []FigureGroup
	FiguresNote string // the conditions: "Steady, 70 °F inside, 5 °F outside"

	Body     prose.HTML // the author's prose
	Cautions []Caution
	Used     []Link
	// Peel and PeelPhone are the stack peeled back, as SVG in two dresses; their
	// ids start with PeelPrefix and PeelPhonePrefix.
	Peel, PeelPhone template.HTML
	Steps           []Step
	References      []prose.HTML
	Revisions       []Revision
}

// Prefixes of the ids in a page's drawings, without their hyphen. Pictures of
// steps take StepPrefix and the step's number: "st4".
const (
	WidePrefix      = "w"
	PhonePrefix     = "n"
	StepPrefix      = "st"
	PeelPrefix      = "pb"
	PeelPhonePrefix = "pn"
	EnlargedPrefix  = "en"
)

// Toggle hides a kind of line on the screen. On paper all are shown.
type Toggle struct {
	ID    string // "t-tmp": the theme's style sheet knows it
	Label string
	Off   bool // not shown at first
}

// The toggles that the built-in theme knows.
var (
	ToggleTemperature = Toggle{ID: "t-tmp", Label: "Temperature"}
	ToggleHatch       = Toggle{ID: "t-hat", Label: "Hatch"}
	ToggleControl     = Toggle{ID: "t-ctl", Label: "Control lines"}
	ToggleDimensions  = Toggle{ID: "t-dim", Label: "Dimensions"}
)

// Pair is a figure in the library's units with the other system beside it.
type Pair struct{ Main, Small string }

// LayerRow is one layer of the schedule.
type LayerRow struct {
	Key        int    // keynote number; 0 none
	Name       string // "XPS type IV, two courses"
	Material   Link   // the material's page, where the name leads to it
	Sub        string // joints, note
	Thickness  Pair
	Resistance Pair
	Permeance  Pair
	Controls   []detail.Control
}

// Caution is one of the page's warnings.
type Caution struct {
	Head string // "Wet concrete burns skin."
	Text prose.HTML
}

// Step is one step of the build sequence.
type Step struct {
	Do         prose.HTML
	Trade      string
	Picture    template.HTML // what stands after the step, as SVG; "" none
	Tools      string
	Materials  string
	Caution    prose.HTML
	Hold       prose.HTML
	ReleasedBy string
	Photo      string // what a photograph must show before the hold is released; "" none asked
}

// Revision is a row of the revision table. Href leads to the revision drawn
// again from the history; "" where it is not.
type Revision struct {
	Rev, Date, Note, Fingerprint, Href string
	Changed                            string // the address of what it changed; "" none
}

// Render writes the page.
func (p *Assembly) Render(out io.Writer, set *themes.Set, s *Site) error {
	w := &writer{root: p.Root}
	w.Grow(32 << 10)
	v := s.frame(&p.Frame, p, "pg pg-a")
	v.Bar = w.bar(s, &p.Frame)
	v.Head = w.head(&p.Frame, func() { w.fitness(p.UseFor, p.NotFor, p.Superseded) })
	if p.Wide != "" {
		v.Wide, v.Phone = p.Wide, p.Phone // not through the writer: they are most of the page
		v.Stamps = w.stamps(p.Status, p.Wide, p.fit() == "over")
		v.Toggles = w.toggles(p.Toggles)
	}
	v.Layers = p.layers(w, s)
	v.Strip = w.strip(s, &p.Frame)
	v.Fit = p.fit()
	v.Figures = w.figures(p.Figures, p.FiguresNote, s)
	v.Body = w.notes(p.Body)
	v.Cautions = w.cautions(p.Cautions)
	v.Used = w.used(p.Used)
	peeled, sequence := w.peel(p.Peel, p.PeelPhone), w.sequence(p.Steps)
	v.Sequence = peeled + sequence
	v.References = w.references(p.References)
	v.Revisions = w.revisions(p.Revisions)
	var anchors []anchor
	for _, a := range []struct {
		anchor
		there template.HTML
	}{
		{anchor{"layers", "Layers"}, v.Layers},
		{anchor{"figures", "Figures"}, v.Figures},
		{anchor{"notes", "Notes"}, v.Body},
		{anchor{"cautions", "Cautions"}, v.Cautions},
		{anchor{"used", "Used by"}, v.Used},
		{anchor{"peeled", "Peeled back"}, peeled},
		{anchor{"sequence", "Sequence"}, sequence},
		{anchor{"references", "References"}, v.References},
		{anchor{"revisions", "Revisions"}, v.Revisions},
	} {
		if a.there != "" {
			anchors = append(anchors, a.anchor)
		}
	}
	v.Block, v.Jump = w.block(s, &p.Frame, anchors), w.jump(anchors)
	return set.Execute(out, "assembly", &v)
}

// What the first printed sheet holds, mm: A4 across less its margins, and
// what stands on it beside the drawing.
const (
	sheetHeight     = 194.0
	sheetWidth      = 262.0 // of Letter, the narrower of the two
	blockHeight     = 14.0
	tableHeight     = 14.0 // heading, head and foot of the schedule
	rowHeight       = 5.0
	drawingClearing = 4.0
)

// blockRoom is the height of the title block along the foot, mm: that of its
// code where it has one.
func (f *Frame) blockRoom() float64 { return max(blockHeight, heightOf(f.Code)+1) }

// fit says what goes on the first printed sheet: "" drawing and schedule;
// "tall" the drawing alone, the schedule after it; "over" a drawing that
// does not fit at its scale and is printed smaller, which the sheet says.
func (p *Assembly) fit() string {
	rows := len(p.Layers)
	if p.Total != nil {
		rows++
	}
	height := heightOf(p.Wide)
	switch {
	case height+drawingClearing+p.blockRoom() > sheetHeight:
		return "over"
	case height+drawingClearing+p.blockRoom()+tableHeight+rowHeight*float64(rows) > sheetHeight:
		return "tall"
	}
	return ""
}

// heightOf returns the height that a drawing's svg element states, mm; 0 where
// it states none.
func heightOf(svg template.HTML) float64 { return sizeOf(svg, ` height="`) }

func sizeOf(svg template.HTML, attribute string) float64 {
	start, _, _ := strings.Cut(string(svg), ">")
	_, after, _ := strings.Cut(start, attribute)
	number, _, is := strings.Cut(after, `mm"`)
	size, err := strconv.ParseFloat(number, 64)
	if !is || err != nil || !(size > 0) {
		return 0
	}
	return size
}

// fitness writes what the detail is for and what it is not for, and where its
// successor is.
func (w *writer) fitness(useFor, notFor []string, superseded *Link) {
	if len(useFor) > 0 || len(notFor) > 0 {
		w.raw(`<dl class="fit">`)
		w.list(`Use for`, useFor)
		w.list(`Not for`, notFor)
		w.raw(`</dl>`)
	}
	if superseded != nil {
		w.raw(`<p class="notice"><b>Superseded.</b> Use `)
		w.link("m", *superseded)
		if superseded.Note != "" {
			w.raw(`, `)
			w.text(superseded.Note)
		}
		w.raw(`, for new work.</p>`)
	}
}

func (w *writer) list(key string, words []string) {
	if len(words) == 0 {
		return
	}
	w.raw(`<div><dt>`, key, `</dt><dd>`)
	for i, s := range words {
		if i > 0 {
			w.raw(`; `)
		}
		w.trade(s)
	}
	w.raw(`</dd></div>`)
}

// stamps writes what stands over the drawing: NOT FOR CONSTRUCTION, and that
// it is printed smaller.
func (w *writer) stamps(status detail.Status, wide template.HTML, over bool) template.HTML {
	return w.part(func() {
		w.notForConstruction(status, strings.Contains(string(wide), `k-stamp`))
		if over {
			w.raw(`<p class="small">Printed smaller than its scale: the drawing is larger than this sheet.</p>`)
		}
	})
}

func (w *writer) toggles(list []Toggle) template.HTML {
	if len(list) == 0 {
		return ""
	}
	return w.part(func() {
		w.raw(`<fieldset class="tog"><legend class="vh">Show in the drawing</legend>`)
		w.boxes(list)
		w.raw(`</fieldset>`)
	})
}

func (w *writer) boxes(list []Toggle) {
	for _, t := range list {
		w.raw(`<label><input type="checkbox" id="`)
		w.text(t.ID)
		if t.Off {
			w.raw(`">`)
		} else {
			w.raw(`" checked>`)
		}
		w.text(t.Label)
		w.raw(`</label>`)
	}
}

// peel writes the view of the stack peeled back.
func (w *writer) peel(picture, phone template.HTML) template.HTML {
	if picture == "" {
		return ""
	}
	return w.part(func() {
		w.section("peeled", "", "Peeled back", "Each layer stepped back from the one beneath")
		w.raw(`<div class="fig"><div class="wide">`, string(picture), `</div><div class="narrow">`, string(phone), `</div></div></section>`)
	})
}

// notes writes the author's prose.
func (w *writer) notes(body prose.HTML) template.HTML {
	if body.Empty() {
		return ""
	}
	return w.part(func() {
		w.section("notes", "", "Notes", "")
		w.raw(`<div class="prose">`, body.String(), `</div></section>`)
	})
}
