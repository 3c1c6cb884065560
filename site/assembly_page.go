package site

import (
	"html/template"
	"slices"
	"strconv"
	"strings"
	"sync"

	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/figures"
	"wythe/renderer/sheet"
	"wythe/renderer/trace"
	"wythe/renderer/units"
	"wythe/site/page"
)

// assemblyPage fills the page of detail i, an assembly.
func (v view) assemblyPage(i int) *page.Assembly {
	e := v.details[i]
	d, set := e.d, v.View.Settings()
	fig, w := v.figures(e), v.words(e)
	v.say(e, w.findings)
	look := sheet.Look{Dress: drawing.Wide, System: set.Units, Linked: true}
	wide := sheet.Assembly(d, fig, look)
	look.Dress = drawing.Phone
	phone := sheet.Assembly(d, fig, look)
	once := new(svg.Page) // a hatch is written once a page

	p := &page.Assembly{
		Frame: v.frame(i), UseFor: d.UseFor, NotFor: d.NotFor,
		// The phone's comes first in the page, for the slower net.
		Phone:      inline(phone, svg.Options{Prefix: page.PhonePrefix, Page: once}),
		Wide:       inline(wide, svg.Options{Prefix: page.WidePrefix, Page: once}),
		Toggles:    toggles(fig),
		LayersFrom: "outside",
		Body:       w.body, Cautions: w.cautions, References: w.references,
		Used: v.usedBy(e), Revisions: v.revisions(d),
	}
	if sheet.InsideTop(d.Assembly.Element) {
		p.LayersFrom = "inside"
	}
	p.Scale, p.ScaleRatio = scaleWords(wide.Scale, set.Units)
	p.Lead = v.lead(d)
	if d.SupersededBy != "" {
		if p.Superseded = v.link(d.SupersededBy); p.Superseded == nil {
			p.Superseded = &page.Link{Text: d.SupersededBy}
		}
	}
	v.layerRows(p, d.Assembly, fig)
	p.Figures, p.FiguresNote = v.figuresByQuestion(d, fig)
	p.Peel = inline(sheet.PeelBack(d, set.Units, drawing.Wide), svg.Options{Prefix: page.PeelPrefix, Class: "peel", Page: once})
	p.PeelPhone = inline(sheet.PeelBack(d, set.Units, drawing.Phone), svg.Options{Prefix: page.PeelPhonePrefix, Class: "peel", Page: once})
	p.Steps = v.steps(d, fig, w, once)
	return p
}

// frame is what stands around the page of detail i.
func (v view) frame(i int) page.Frame {
	e := v.details[i]
	v.View.Settings()
	v.View.Detail(e.d.Mark)
	f := page.Frame{Root: e.root, Mark: e.d.Mark, Title: e.d.Title, Status: e.d.Status, Version: version(e.d), Files: v.files(e)}
	if len(e.d.Revisions) > 0 {
		f.Rev, f.Date = e.d.Revisions[0].Rev, day(e.d.Revisions[0].Date)
	}
	f.DrawnBy, f.CheckedBy, f.IssuedFor = e.d.DrawnBy, e.d.CheckedBy, e.d.IssuedFor
	f.Code = v.pageCode(e.d)
	beside := func(side string, n int) *page.Link {
		if n < 0 || n >= len(v.details) {
			v.reads.Record(side+"/"+e.d.Mark, trace.Missing)
			return nil
		}
		v.reads.Record(side+"/"+e.d.Mark, v.details[n].d.Mark)
		return v.link(v.details[n].d.Mark)
	}
	f.Prev, f.Next = beside("before", i-1), beside("after", i+1)
	return f
}

// version changes with a detail's file.
func version(d *detail.Detail) string {
	if len(d.Hash) < 10 {
		return d.Hash
	}
	return d.Hash[:10]
}

// lead is the sentence under a detail's title.
func (v view) lead(d *detail.Detail) string {
	words := capital(string(d.Assembly.Element))
	if d.Assembly.Pitch != nil {
		words += ", " + d.Assembly.Pitch.Written
	}
	if c := v.View.Climate(); c != nil {
		words += ". Climate: " + c.Name
	}
	return words + "."
}

func toggles(fig *figures.Assembly) []page.Toggle {
	list := []page.Toggle{page.ToggleHatch, page.ToggleDimensions}
	if fig.Thermal != nil && fig.Thermal.Insulation != nil {
		list = append([]page.Toggle{page.ToggleTemperature}, list...)
	}
	return list
}

// scratch holds buffers for drawings on their way into a page.
var scratch = sync.Pool{New: func() any { return new([]byte) }}

// inline sets a drawing down for a page.
func inline(d *drawing.Drawing, opt svg.Options) template.HTML {
	b := scratch.Get().(*[]byte)
	defer scratch.Put(b)
	*b = svg.Append((*b)[:0], d, opt)
	return template.HTML(*b)
}

// scaleWords prints a scale for the title block: as the trade writes it, and
// as a ratio.
func scaleWords(scale float64, system units.System) (words, ratio string) {
	words, ratio = drawing.ScaleWords(scale)
	if system == units.Metric {
		return "", ratio
	}
	return strings.NewReplacer("″", " in", "′-0 in", " ft", "′-0″", " ft").Replace(words), ratio
}

// steps fills the sequence, each step with a picture of what stands after it:
// on the ground from the first step, elsewhere from the first that shows a layer.
func (v view) steps(d *detail.Detail, fig *figures.Assembly, w *words, once *svg.Page) []page.Step {
	steps := make([]page.Step, len(d.Sequence))
	shows, stands := false, figures.OnGround(d.Assembly.Element)
	for i := range d.Sequence {
		shows = shows || len(d.Sequence[i].Shows) > 0
	}
	for i := range d.Sequence {
		s := &d.Sequence[i]
		stands = stands || len(s.Shows) > 0
		steps[i] = page.Step{
			Do: w.steps[i].do, Caution: w.steps[i].caution, Hold: w.steps[i].hold,
			Trade: s.Trade, ReleasedBy: s.ReleasedBy, Photo: s.Photo,
			Tools: strings.Join(s.Tools, ", "), Materials: strings.Join(s.Materials, ", "),
		}
		if shows && stands {
			picture := sheet.Assembly(d, fig, sheet.Look{Dress: drawing.StepPicture, System: v.View.Settings().Units, After: i + 1})
			steps[i].Picture = inline(picture, svg.Options{Prefix: "s" + strconv.Itoa(i+1), Hidden: true, Page: once})
		}
	}
	return steps
}

var months = [...]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

// day prints 2026-11-02 as 2 Nov 2026; any other text as it is.
func day(date string) string {
	if len(date) != 10 || date[4] != '-' || date[7] != '-' {
		return date
	}
	month, err1 := strconv.Atoi(date[5:7])
	n, err2 := strconv.Atoi(date[8:])
	if err1 != nil || err2 != nil || month < 1 || month > 12 {
		return date
	}
	return strconv.Itoa(n) + " " + months[month-1] + " " + date[:4]
}

// cites links the marks that a file's text names.
func (v view) cites(d *detail.Detail) []page.Link {
	var links []page.Link
	before := ""
	for _, c := range d.Cites {
		if c.Mark == before {
			continue
		}
		before = c.Mark
		if to := v.link(c.Mark); to != nil && !slices.Contains(links, *to) {
			links = append(links, *to)
		}
	}
	return links
}
