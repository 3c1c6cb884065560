package page

import (
	"html/template"

	"wythe/renderer/detail"
	"wythe/renderer/units"
)

// Site is what every page of a library shares.
type Site struct {
	Firm   string
	Title  string // of the library
	Place  string // the building or project, where there is one
	Units  units.System
	Assets Assets
	// Nav leads to the library's own pages from each title block: materials,
	// specifications, office pages. The drawing index comes first by itself.
	Nav     []Link
	Details int // how many the index lists
}

// Assets finds a published file by its name: "style.css" is
// "assets/style.5d41402abc.css" from the root of the site.
type Assets interface{ Path(name string) string }

// Link leads to a page of the site.
type Link struct {
	Href string // from the root of the site: "F-101/index.html"
	Text string
	Note string // after the text, where there is room: a title, a count
}

// Frame is what every page shows around its field.
type Frame struct {
	Root  string // from this page to the root of the site: "", "../", "../../"
	Mark  string // large at the foot of the title block; "" for a page without
	Title string
	// Lead is one sentence under the title.
	Lead       string
	Status     detail.Status // "" for a page without
	Rev, Date  string
	Scale      string // as the trade writes it: 1 1/2 in = 1 ft
	ScaleRatio string // 1:8
	Prev, Next *Link
	// Files are what of the detail can be taken along: its drawing, its schedule.
	Files []Link
	// Code leads a print back to the page, as an SVG element at its size on
	// paper; "": the library has no address.
	Code template.HTML
	// DrawnBy, CheckedBy and IssuedFor stand on prints; "" each that is not said.
	DrawnBy, CheckedBy, IssuedFor string
	// Version changes with the detail: a page says when it has since it was
	// last looked at. "" for a page without a mark.
	Version string
}

// indexHref is the drawing index, from the root of the site.
const indexHref = "index.html"

// view is the dot of every template.
type view struct {
	Site *Site
	Root string
	Page any

	HeadTitle, Icon, Style, Filters, Script string
	Class, Mark, Version                    string
	Foot                                    string // of every printed sheet after the first
	Fit                                     string // what the first printed sheet holds: "", "tall", "over"
	Bar, Block, Strip, Head, Jump           template.HTML

	Stamps, Wide, Phone, Toggles template.HTML

	Layers, Figures, Body, Cautions, Used, Sequence, References, Revisions template.HTML

	Keynotes, Continuity, Meets template.HTML

	Find, Filter, Schedule    template.HTML
	Swatch, Properties, Table template.HTML
}

// frame fills in what every page has.
func (s *Site) frame(f *Frame, page any, class string) view {
	title := f.Title
	if f.Mark != "" && f.Mark != indexMark {
		title = f.Mark + " " + title
	}
	return view{
		Site:      s,
		Root:      f.Root,
		Page:      page,
		HeadTitle: title + " · " + s.Firm,
		Icon:      f.Root + s.Assets.Path("icon.svg"),
		Style:     f.Root + s.Assets.Path("style.css"),
		Script:    f.Root + s.Assets.Path("site.js"),
		Class:     class,
		Mark:      f.Mark,
		Version:   f.Version,
		Foot:      s.foot(f),
	}
}

// foot says of what a printed sheet is, should it come apart from the first.
func (s *Site) foot(f *Frame) string {
	of := f.Title
	if f.Mark != "" && f.Mark != indexMark && f.Mark != f.Title {
		of = f.Mark
		if f.Rev != "" {
			of += " rev " + f.Rev
		}
		of += " · " + f.Title
	}
	if f.Status != "" && f.Status != detail.Issued {
		of += " · " + statusWord(f.Status) + ", not for construction"
	}
	return of + " · " + s.Firm
}

// indexMark stands where other pages have their mark.
const indexMark = "Index"
