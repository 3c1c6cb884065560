package site

import (
	"fmt"

	"wythe/renderer/detail"
	"wythe/renderer/units"
	"wythe/site/page"
)

const specsHref = "specs/index.html"

// textPage fills what every page of text has.
func (v view) textPage(e *entry) *page.Prose {
	v.View.Settings()
	v.read(e)
	w := v.words(e)
	v.say(e, w.findings)
	status := e.d.Status
	if status == detail.Draft {
		// What is not drawn is not built from: only what is further on says so.
		status = ""
	}
	return &page.Prose{
		Frame:      page.Frame{Root: e.root, Title: e.name, Status: status},
		Body:       w.body,
		Cited:      v.cites(e.d),
		References: w.references,
		Revisions:  v.revisions(e.d),
	}
}

// read records that a file of text was read.
func (v view) read(e *entry) {
	switch d := e.d; {
	case d.Spec != nil:
		v.Spec(d.Spec.Section)
	case d.Building != nil:
		v.Building(d.Title)
	case d.Mark != "":
		v.View.Detail(d.Mark)
	default:
		v.Prose(d.File)
	}
}

// specList fills the list of specification sections.
func (v view) specList() *page.List {
	v.View.Settings()
	p := &page.List{Groups: []page.ListGroup{{}}}
	p.Root, p.Title = "../", "Specifications"
	p.Lead = "The sections that cite the details of this library."
	for _, e := range v.specs {
		v.read(e)
		p.Groups[0].Items = append(p.Groups[0].Items, page.ListItem{
			Link: page.Link{Href: e.href, Text: e.d.Spec.Section, Note: e.d.Title},
		})
	}
	return p
}

// prosePage fills a page of prose. The first junction it names that is tagged
// as a lesson is shown under the text.
func (v view) prosePage(e *entry) *page.Prose {
	p := v.textPage(e)
	p.Shown = v.lesson(e)
	return p
}

// buildingLead is the sentence under a building's title.
func buildingLead(b *detail.Building, system units.System) string {
	words := "Building."
	if b.FloorArea > 0 {
		words = fmt.Sprintf("Building, %s of treated floor.", b.FloorArea.Show(system))
	}
	return words
}
