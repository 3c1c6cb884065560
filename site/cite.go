package site

import (
	"os"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/site/cited"
)

// CiteState is what a mark in a document is to the library.
type CiteState string

const (
	CiteCurrent    CiteState = "current"
	CiteSuperseded CiteState = "superseded"
	CiteOlder      CiteState = "older revision"
	CiteUnknown    CiteState = "unknown"
)

// Citation is a mark in a document, and what it is to the library.
type Citation struct {
	Mark  string    `json:"mark"`
	Rev   string    `json:"rev"`
	Place string    `json:"place"`
	State CiteState `json:"state"`
	Says  string    `json:"says"` // what to do where it is wrong
}

// Wrong reports whether the document must be mended.
func (c *Citation) Wrong() bool { return c.State != CiteCurrent }

// Cited reads a document and holds its marks to the library. With link set it
// returns a copy with the marks linked to the published site; nil where the
// copy would be the same.
//
// Errors: *[RefusedError] where the site has no address, or the document is
// not read.
func (l *Library) Cited(file string, link bool) ([]Citation, []byte, error) {
	address := strings.TrimSuffix(l.lib.Settings.Site, "/")
	if link && address == "" {
		return nil, nil, &RefusedError{"the library has no address to link to", "add site: with the address of the published site to library.yaml"}
	}
	info, err := os.Stat(file)
	if err != nil {
		return nil, nil, &RefusedError{"cannot read " + file + ": " + reasonOf(err), "name a file that is there"}
	}
	if !info.Mode().IsRegular() || info.Size() > cited.MaxDocument {
		return nil, nil, &RefusedError{file + " is no document: it is a folder, or too large", "name a text, an HTML page or a .docx"}
	}
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, nil, &RefusedError{"cannot read " + file + ": " + reasonOf(err), "check the rights to read it"}
	}
	book := &cited.Book{
		Marks: l.lib.Pattern(),
		Known: func(mark string) bool { return l.Detail(mark) != nil },
		Address: func(mark, rev string) string {
			href := folder(mark) + "/"
			if held := l.revisionHref(mark, rev); rev != "" && held != "" {
				href = strings.TrimSuffix(held, "index.html")
			}
			return address + "/" + href
		},
	}
	list, copied, err := cited.Read(file, data, book, link)
	if err != nil {
		return nil, nil, &RefusedError{file + " is not read: " + err.Error(), "save it as plain text in UTF-8, HTML or .docx"}
	}
	out := make([]Citation, len(list))
	for i, c := range list {
		out[i] = l.state(c)
	}
	return out, copied, nil
}

func reasonOf(err error) string {
	if p, ok := err.(*os.PathError); ok {
		return p.Err.Error()
	}
	return err.Error()
}

func (l *Library) state(c cited.Cite) Citation {
	out := Citation{Mark: c.Mark, Rev: c.Rev, Place: c.Place, State: CiteCurrent}
	d := l.Detail(c.Mark)
	switch {
	case c.Small:
		out.State, out.Says = CiteUnknown, "marks are told apart by capitals: did you mean \""+strings.ToUpper(c.Mark)+"\"?"
	case d == nil:
		out.State, out.Says = CiteUnknown, finding.DidYouMean(c.Mark, l.Marks())
		if out.Says == "" {
			out.Says = "no detail has the mark"
		}
	case d.Status == detail.Superseded:
		out.State, out.Says = CiteSuperseded, "use "+d.SupersededBy
	case c.Rev == "":
	case len(d.Revisions) > 0 && d.Revisions[0].Rev == c.Rev:
	default:
		out.State, out.Says = CiteUnknown, c.Mark+" has no revision "+c.Rev
		for _, r := range d.Revisions {
			if r.Rev == c.Rev {
				out.State, out.Says = CiteOlder, "the current one is rev "+d.Revisions[0].Rev
			}
		}
	}
	return out
}
