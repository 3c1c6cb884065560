package site

import (
	"encoding/csv"
	"encoding/json"
	"strings"

	"wythe/renderer/detail"
	"wythe/site/page"
)

// Files of the register, from the site's root.
const (
	registerHref = "register/index.html"
	registerCSV  = "register/register.csv"
	registerJSON = "register/register.json"
)

// Registered is one detail of the register.
type Registered struct {
	Mark     string        `json:"mark"`
	Title    string        `json:"title"`
	Revision string        `json:"revision"`
	Date     string        `json:"date"`
	Status   detail.Status `json:"status"`
	// Address is where the detail is published: in full where the library
	// states the site's address, else from the site's root.
	Address      string   `json:"address"`
	SupersededBy string   `json:"superseded_by"`
	Sections     []string `json:"sections"` // that cite it
}

// Register lists every detail with its revision, status, address, and the
// specification sections that cite it.
func (l *Library) Register() []Registered { return l.view(nil).register() }

func (v view) register() []Registered {
	f := v.facts.register()
	v.reads.Record("register", f.hash)
	return f.is
}

func (v view) readRegister() []Registered {
	v.View.Cards(detail.AllDetails)
	site := strings.TrimSuffix(v.View.Settings().Site, "/")
	list := make([]Registered, 0, len(v.details))
	for _, e := range v.details {
		d := e.d
		v.standing(d)
		r := Registered{Mark: d.Mark, Title: d.Title, Status: d.Status, SupersededBy: d.SupersededBy, Address: folder(d.Mark) + "/", Sections: []string{}}
		if site != "" {
			r.Address = site + "/" + r.Address
		}
		if len(d.Revisions) > 0 {
			r.Revision, r.Date = d.Revisions[0].Rev, d.Revisions[0].Date
		}
		for _, c := range v.CitedIn(d.Mark) {
			if c.Section != "" {
				r.Sections = append(r.Sections, c.Section)
			}
		}
		list = append(list, r)
	}
	return list
}

// RegisterCSV is the register as comma-separated values.
func (l *Library) RegisterCSV() []byte { return registerAsCSV(l.Register()) }

func registerAsCSV(list []Registered) []byte {
	rows := [][]string{{"mark", "title", "revision", "date", "status", "address", "superseded by", "sections"}}
	for _, r := range list {
		rows = append(rows, []string{r.Mark, r.Title, r.Revision, r.Date, string(r.Status), r.Address, r.SupersededBy, strings.Join(r.Sections, "; ")})
	}
	return asCSV(rows)
}

// asCSV sets rows down. A cell that a spreadsheet would take for a formula is
// preceded by an apostrophe.
func asCSV(rows [][]string) []byte {
	var b strings.Builder
	w := csv.NewWriter(&b)
	for _, row := range rows {
		for i, cell := range row {
			if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) && !isNumber(cell) {
				row[i] = "'" + cell
			}
		}
		if err := w.Write(row); err != nil {
			panic("site: a string refused text: " + err.Error())
		}
	}
	w.Flush()
	return []byte(b.String())
}

func isNumber(s string) bool {
	return strings.Trim(s, "0123456789.-") == ""
}

func registerAsJSON(list []Registered) ([]byte, error) {
	data, err := json.MarshalIndent(list, "", "  ")
	return append(data, '\n'), err
}

// registerPage fills the register's page.
func (v view) registerPage() *page.Tables {
	t := &page.Tables{Files: []page.Link{
		{Href: registerCSV, Text: "register.csv", Note: "for spreadsheets"},
		{Href: registerJSON, Text: "register.json", Note: "for programs"},
	}}
	t.Root, t.Title = "../", "Register"
	t.Lead = "Every mark with its revision, its status and the sections that cite it. An address stays for as long as its mark lives."
	s := page.TableSection{ID: "details", Title: "Details", Small: plural(len(v.details), "detail"),
		Heads: []page.Head{{Text: "Mark"}, {Text: "Title"}, {Text: "Rev"}, {Text: "Date"}, {Text: "Status"}, {Text: "Sections"}}}
	specs := map[string]string{}
	for _, e := range v.specs {
		specs[e.name] = e.href
	}
	for i, r := range v.register() {
		e := v.details[i]
		status := page.Cell{Text: capital(string(r.Status))}
		if to := v.byMark[r.SupersededBy]; to != nil {
			status.Sub = "use " + to.name
		}
		rev := page.Cell{Text: r.Revision, Href: v.history(e.d)}
		sections := page.Cell{Text: "–"}
		for _, number := range r.Sections {
			sections.Links = append(sections.Links, page.Link{Href: specs[number], Text: number})
		}
		s.Rows = append(s.Rows, []page.Cell{{Text: r.Mark, Href: e.href}, {Text: r.Title}, rev, {Text: day(r.Date)}, status, sections})
	}
	t.Sections = []page.TableSection{s}
	return t
}
