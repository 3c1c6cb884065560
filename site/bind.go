package site

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"wythe/renderer/binder"
	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/finding"
	"wythe/renderer/sheet"
	"wythe/renderer/units"
	"wythe/site/page"
)

// BindOptions say which details are bound into a set of sheets.
type BindOptions struct {
	// Marks are bound in the order of the library, each once; nil: all are.
	Marks []string
	// Building is the title of the building that the set is for; "" none. Its
	// name stands in the title block.
	Building string
	// Progress is told of each detail set out; it may be nil.
	Progress func(done, total int)
}

// paper is the library's own, or that which its units are at home on.
func (l *Library) paper() binder.Paper {
	name := l.lib.Settings.Sheet
	if name == "" {
		name = "Tabloid"
		if l.metric() {
			name = "A3"
		}
	}
	p, ok := binder.PaperOf(name)
	if !ok {
		panic("site: no paper is called " + name)
	}
	return p
}

// Bind writes details as sheets of one PDF: see package binder.
//
// It must be called with marks of the library whose files have no errors; see
// [Library.ErrorsOf]. Errors: those of out.
func (l *Library) Bind(out io.Writer, o BindOptions) (binder.Result, error) {
	var chosen []*entry
	in := map[string]bool{}
	for _, e := range l.details {
		if o.Marks == nil || slices.Contains(o.Marks, e.d.Mark) {
			chosen = append(chosen, e)
			in[e.d.Mark] = true
		}
	}
	s := &l.lib.Settings
	set := binder.Set{
		Paper: l.paper(), System: s.Units, Firm: s.Firm, Library: s.Title, Building: o.Building,
		Site: l.address(""), Date: newest(chosen),
	}
	entries := make([]binder.Entry, len(chosen))
	for i, e := range chosen {
		entries[i] = sheetEntry(e.d)
	}
	return binder.Bind(out, set, entries, func(i int) *binder.Sheet { return l.sheetOf(chosen[i], in) }, o.Progress)
}

// address is that of a place of the published site; "" where the library has
// no site.
func (l *Library) address(place string) string {
	site := l.lib.Settings.Site
	if site == "" {
		return ""
	}
	return strings.TrimSuffix(site, "/") + "/" + place
}

// codeAddress is the address of a detail at its newest revision: that which is
// drawn again from the history or, where none is held, its row on the detail's
// page.
func (v view) codeAddress(d *detail.Detail) string {
	l := v.Library
	if v.now != nil {
		l = v.now
	}
	if l.lib.Settings.Site == "" {
		return ""
	}
	place := folder(d.Mark) + "/"
	if len(d.Revisions) > 0 && d.Revisions[0].Rev != "" {
		rev := d.Revisions[0].Rev
		if v.now != nil || v.held(d.Mark, rev) != "" {
			place += "rev/" + rev + "/"
		} else {
			place += "#" + page.RevisionID(rev)
		}
	}
	return l.address(place)
}

// newest is the day of the newest revision.
func newest(list []*entry) time.Time {
	var last time.Time
	for _, e := range list {
		for _, r := range e.d.Revisions {
			if day, err := time.Parse("2006-01-02", r.Date); err == nil && day.After(last) {
				last = day
			}
		}
	}
	return last
}

func sheetEntry(d *detail.Detail) binder.Entry {
	e := binder.Entry{Mark: d.Mark, Title: d.Title, Status: capital(string(d.Status))}
	if d.SupersededBy != "" {
		e.Status += " by " + d.SupersededBy
	}
	if len(d.Revisions) > 0 {
		e.Rev, e.Date = d.Revisions[0].Rev, day(d.Revisions[0].Date)
	}
	return e
}

// sheetOf sets one detail out. in holds the marks of the set: what leads to
// another detail leads to its sheet there, else to its page.
func (l *Library) sheetOf(e *entry, in map[string]bool) *binder.Sheet {
	d, v := e.d, l.view(nil)
	s := &binder.Sheet{
		Entry: sheetEntry(d), Issued: d.Status == detail.Issued,
		DrawnBy: d.DrawnBy, CheckedBy: d.CheckedBy, IssuedFor: d.IssuedFor,
		Page: l.address(folder(d.Mark) + "/"), Code: v.codeAddress(d),
	}
	b := &blocks{view: v, in: in}
	w := v.words(e)
	changes, said := l.changesOf(e)
	if d.Assembly != nil {
		s.Draw = l.assemblyDrawing(e, changes)
		fig := v.figures(e)
		b.layers(d, fig)
		b.cautions(w)
		b.revisions(d, said)
		b.assemblyFigures(d, fig)
	} else {
		j := v.solved(e)
		s.Draw, s.Pictures = l.junctionDrawing(e, b.leads, changes, v.heat(j))
		b.keynotes(d, j)
		b.cautions(w)
		b.revisions(d, said)
		if j != nil && j.Section != nil {
			b.figures(v.heatFlowRows(d, j))
		}
	}
	if s.Draw == nil {
		s.Why = "its section cannot be laid out; see: wythe review"
	}
	b.used(e)
	s.Blocks = b.list
	return s
}

// assemblyDrawing returns what draws an assembly at a scale, 0 for its own, its
// callouts with their words or keyed to the schedule; nil where it is not drawn.
func (l *Library) assemblyDrawing(e *entry, changes *sheet.Changes) func(float64, bool) *drawing.Drawing {
	fig := e.figures()
	if fig == nil {
		return nil
	}
	return func(scale float64, keyed bool) *drawing.Drawing {
		return sheet.Assembly(e.d, fig, sheet.Look{Dress: drawing.Wide, System: l.lib.Settings.Units, Scale: scale, Listed: true, Keyed: keyed, Changes: changes})
	}
}

// junctionDrawing returns what draws a junction in the same way, nil where it is
// not drawn; and what its page shows beside that: its temperatures, and its most
// crowded corner enlarged.
func (l *Library) junctionDrawing(e *entry, leads func(mark string) string, changes *sheet.Changes, heat *sheet.Heat) (func(float64, bool) *drawing.Drawing, []binder.Picture) {
	j := e.junction()
	if j == nil || j.Section == nil {
		return nil, nil
	}
	system := l.lib.Settings.Units
	sh := sheet.NewJunction(e.d, j.Section, j.Continuity, system)
	var pictures []binder.Picture
	if heat != nil {
		pictures = append(pictures, binder.Picture{Title: "Temperatures on the design day", Says: heatSays(heat, system),
			Draw: func(scale float64) *drawing.Drawing { return sh.Temperatures(heat, scale) }})
	}
	near := sh.Corner(false)
	if near != nil {
		pictures = append(pictures, binder.Picture{Title: "Where most comes together", Says: "Framed in the drawing and enlarged. Numbers are those of the keynotes.",
			Draw: func(float64) *drawing.Drawing { return near }})
	}
	return func(scale float64, keyed bool) *drawing.Drawing {
		return sh.Draw(sheet.JunctionLook{Look: sheet.Look{Dress: drawing.Wide, System: system, Scale: scale, Listed: true, Keyed: keyed, Changes: changes}, Framed: near != nil, Link: leads})
	}, pictures
}

// heatSays says what the lines over a section are.
func heatSays(h *sheet.Heat, system units.System) string {
	unit := "°F"
	if system == units.Metric {
		unit = "°C"
	}
	s := "Lines of equal temperature, " + unit + "."
	if h.HasColdest {
		s += " Triangle: coldest inside surface, " + units.Temperature(h.Coldest.Celsius).ShowTenth(system) + "."
	}
	if h.Dew != nil {
		s += " Heavy dashes: dew point of the rooms, " + h.Dew.ShowTenth(system) + "."
	}
	return s + " Dots: the way the heat takes."
}

// NoBuildingError says that a library has no building of a title.
type NoBuildingError struct {
	Title string
	Have  []string
}

func (e *NoBuildingError) Error() string { return fmt.Sprintf("no building is called %q", e.Title) }

// MarksOf returns a building's title as its file has it, and the marks of the
// details that it is built of: areas, lengths, what openings stand in, and
// the assemblies that its junctions lay.
//
// Errors: *[NoBuildingError].
func (l *Library) MarksOf(building string) (title string, marks []string, err error) {
	var have []string
	for _, e := range l.builds {
		have = append(have, e.d.Title)
		if !strings.EqualFold(e.d.Title, building) && !strings.EqualFold(stem(e.d.File), building) {
			continue
		}
		in := map[string]bool{}
		for _, a := range e.d.Building.Areas {
			in[a.Mark] = true
		}
		for _, o := range e.d.Building.Openings {
			in[o.In] = true
		}
		for _, n := range e.d.Building.Lengths {
			in[n.Mark] = true
			if j := l.Detail(n.Mark); j != nil && j.Junction != nil {
				for _, p := range j.Junction.Parts {
					in[p.Mark] = true
				}
			}
		}
		for _, m := range l.Marks() {
			if in[m] {
				marks = append(marks, m)
			}
		}
		return e.d.Title, marks, nil
	}
	return "", nil, &NoBuildingError{building, have}
}

// ErrorsOfAll returns the errors that stand in the way of drawing any of the
// marks: those of their files and those that hold for the whole library.
func (l *Library) ErrorsOfAll(marks []string) finding.List {
	var list finding.List
	seen := map[finding.Item]bool{}
	for _, m := range marks {
		if d := l.Detail(m); d != nil {
			for _, f := range l.ErrorsOf(d).Items {
				if !seen[f] {
					seen[f] = true
					list.Items = append(list.Items, f)
				}
			}
		}
	}
	list.Sort()
	return list
}
