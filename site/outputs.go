package site

import (
	"bytes"
	"io"
	"strconv"

	"wythe/renderer/building"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/hands"
	"wythe/renderer/trace"
	"wythe/site/page"
	"wythe/site/search"
	"wythe/site/tree"
	"wythe/themes"
)

// inlineThumbs is the most details whose pictures stand in the index itself:
// beyond it each is a file, so that the index stays light.
const inlineThumbs = 120

// manifestFile lists the assets by their plain names.
const manifestFile = themes.AssetFolder + "/manifest.json"

// press is what every page is printed with.
type press struct {
	theme  *themes.Set
	assets *themes.Bundle
	site   *page.Site
	hash   string // of the theme, and of what leads on from every page
}

// pressed lists every file of the site, and what its pages are printed with. It
// must be called after a review without errors.
func (l *Library) pressed() ([]tree.Output, *press, error) {
	var outs []tree.Output
	p := &press{theme: l.theme, site: l.siteWords()}
	found := hands.Ahead(func() *search.Index { return search.Build(l.searchDocs(), l.store) })
	index := l.view(nil).index()
	assets, err := l.theme.Bundle([]byte(svg.CSS), p.site.PrintStyle())
	if err != nil {
		return nil, nil, err
	}
	if style := index.FilterStyle(); len(style) > 0 {
		assets.Add("filters.css", style)
	}
	p.assets, p.site.Assets = assets, assets
	p.hash = trace.Hash(assets.Path("style.css"), assets.Path("site.js"), l.themeHash, linkHash(p.site.Nav), strconv.Itoa(p.site.Details), l.lib.Settings.Hash)

	add := func(path string, render func(view) ([]byte, error)) {
		outs = append(outs, tree.Output{Path: path, Make: func(reads *trace.Reads) ([]byte, error) {
			reads.Record("theme", p.hash)
			return render(l.view(reads))
		}})
	}
	if parts := l.indexParts(); parts == nil {
		add("index.html", func(v view) ([]byte, error) { return rendered(v.index(), p) })
	} else {
		add("index.html", func(v view) ([]byte, error) { return rendered(v.indexFront(), p) })
		for n, part := range parts {
			add(part.Href, func(v view) ([]byte, error) { return rendered(v.indexPart(n), p) })
		}
	}
	for i, e := range l.details {
		add(e.href, func(v view) ([]byte, error) {
			if e.d.Assembly == nil {
				return rendered(v.sectionPage(i), p)
			}
			return rendered(v.assemblyPage(i), p)
		})
		if l.pictured(i) { // for the index of a large library, and for what a search finds
			add(thumbFile(e), func(v view) ([]byte, error) { return v.thumbBytes(e), nil })
		}
	}
	for _, e := range l.details {
		if e.broken {
			continue
		}
		add(drawingFile(e), func(v view) ([]byte, error) {
			v.readShared(e)
			return l.ShareSVG(e.d)
		})
		if l.lib.Settings.PDF {
			add(printFile(e), func(v view) ([]byte, error) {
				v.readShared(e)
				return l.SharePDF(e.d)
			})
		}
		add(scheduleFile(e), func(v view) ([]byte, error) {
			v.readShared(e)
			return l.ShareCSV(e.d)
		})
	}
	for _, e := range l.stamped() {
		for _, r := range e.d.Revisions {
			if l.revisionHref(e.d.Mark, r.Rev) != "" {
				add(revisionFile(e.d.Mark, r.Rev), func(v view) ([]byte, error) { return rendered(v.revisionPage(e, r), p) })
			}
		}
		if h := l.historyHref(e.d); h != "" {
			add(h, func(v view) ([]byte, error) { return rendered(v.historyPage(e), p) })
		}
	}
	if l.hasJunctions() {
		add(matrixHref, func(v view) ([]byte, error) { return rendered(v.matrixPage(), p) })
	}
	for _, m := range l.materials {
		add(m.href, func(v view) ([]byte, error) { return rendered(v.materialPage(m), p) })
	}
	if len(l.materials) > 0 {
		add(materialsHref, func(v view) ([]byte, error) { return rendered(v.materialList(), p) })
	}
	for _, e := range l.specs {
		add(e.href, func(v view) ([]byte, error) { return rendered(v.specPage(e), p) })
	}
	if len(l.specs) > 0 {
		add(specsHref, func(v view) ([]byte, error) { return rendered(v.specList(), p) })
	}
	if len(l.details) > 0 {
		add(registerHref, func(v view) ([]byte, error) { return rendered(v.registerPage(), p) })
		add(registerCSV, func(v view) ([]byte, error) { return registerAsCSV(v.register()), nil })
		add(registerJSON, func(v view) ([]byte, error) { return registerAsJSON(v.register()) })
	}
	for _, e := range l.builds {
		add(e.href, func(v view) ([]byte, error) { return rendered(v.buildingPage(e), p) })
		add(takeoffHref(e), func(v view) ([]byte, error) { return rendered(v.takeoffPage(e), p) })
		add(takeoffCSV(e), func(v view) ([]byte, error) {
			b := v.built(e)
			v.readBuilding(e, b)
			return v.TakeoffCSV(building.Count(e.d, b.detail, b.section, v.View.Settings().Units)), nil
		})
	}
	for _, e := range l.pages {
		add(e.href, func(v view) ([]byte, error) { return rendered(v.prosePage(e), p) })
	}
	outs = append(outs, l.pictureOutputs()...)
	outs = append(outs, l.searchOutputs(assets, found())...)
	for _, a := range assets.Assets() {
		outs = append(outs, tree.Output{Path: a.Path, Make: func(reads *trace.Reads) ([]byte, error) {
			reads.Record("asset "+a.Name, trace.Hash(string(a.Data)))
			return a.Data, nil
		}})
	}
	outs = append(outs, tree.Output{Path: manifestFile, Make: func(reads *trace.Reads) ([]byte, error) {
		manifest := assets.Manifest()
		reads.Record("assets", trace.Hash(string(manifest)))
		return manifest, nil
	}})
	return outs, p, nil
}

// printed is a page that can print itself.
type printed interface {
	Render(out io.Writer, set *themes.Set, s *page.Site) error
}

func rendered(p printed, with *press) ([]byte, error) {
	var b bytes.Buffer
	b.Grow(64 << 10)
	if err := p.Render(&b, with.theme, with.site); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// siteWords is what every page of the site shows.
func (l *Library) siteWords() *page.Site {
	set := &l.lib.Settings
	s := &page.Site{Firm: set.Firm, Title: set.Title, Units: set.Units, Details: len(l.details)}
	if l.hasJunctions() {
		s.Nav = append(s.Nav, page.Link{Href: matrixHref, Text: "Continuity"})
	}
	if len(l.materials) > 0 {
		s.Nav = append(s.Nav, page.Link{Href: materialsHref, Text: "Materials", Note: strconv.Itoa(len(l.materials))})
	}
	if len(l.specs) > 0 {
		s.Nav = append(s.Nav, page.Link{Href: specsHref, Text: "Specifications", Note: strconv.Itoa(len(l.specs))})
	}
	if len(l.details) > 0 {
		s.Nav = append(s.Nav, page.Link{Href: registerHref, Text: "Register"})
	}
	for _, list := range [][]*entry{l.builds, l.pages} {
		for _, e := range list {
			s.Nav = append(s.Nav, page.Link{Href: e.href, Text: e.name})
		}
	}
	return s
}

// linkHash is the hash of a list of links.
func linkHash(links []page.Link) string {
	parts := make([]string, 0, 3*len(links))
	for _, link := range links {
		parts = append(parts, link.Href, link.Text, link.Note)
	}
	return trace.Hash(parts...)
}
