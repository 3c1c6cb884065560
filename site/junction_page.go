package site

import (
	"slices"
	"strconv"
	"strings"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/figures"
	"wythe/renderer/sheet"
	"wythe/renderer/units"
	"wythe/site/page"
)

// corners is what every proof in a section leaves open.
const corners = "A verdict holds for this section alone: it is drawn where two planes meet. Corners where three meet are not proved by it."

// sectionPage fills the page of detail i, a junction.
func (v view) sectionPage(i int) *page.Junction {
	e := v.details[i]
	d := e.d
	j, w := v.junction(e), v.words(e)
	v.say(e, w.findings)
	p := &page.Junction{
		Frame: v.frame(i), UseFor: d.UseFor, NotFor: d.NotFor,
		Body: w.body, Cautions: w.cautions, References: w.references,
		Meets: v.meets(d), Used: v.usedBy(e), Revisions: v.revisions(d),
	}
	p.Lead = v.junctionLead(p.Meets, d)
	if d.SupersededBy != "" {
		if p.Superseded = v.link(d.SupersededBy); p.Superseded == nil {
			p.Superseded = &page.Link{Text: d.SupersededBy}
		}
	}
	if j.Section == nil {
		return p
	}
	once := new(svg.Page)
	sh := v.drawn(p, e, e.root, once)
	p.Steps = v.junctionSteps(sh, d, w, once)
	return p
}

// lesson is the first junction that a text names and that is tagged as a
// lesson: its drawing, keynotes and verdicts, to stand on the text's page.
func (v view) lesson(e *entry) *page.Junction {
	for _, c := range e.d.Cites {
		to := v.byMark[c.Mark]
		if to == nil || to.d.Junction == nil || !figures.Lesson(to.d) {
			continue
		}
		if j := v.junction(to); j == nil || j.Section == nil {
			continue
		}
		p := &page.Junction{Frame: page.Frame{Root: e.root, Mark: to.d.Mark, Title: to.d.Title, Status: to.d.Status}}
		v.drawn(p, to, e.root, new(svg.Page))
		return p
	}
	return nil
}

// drawn fills the drawing of a junction, its keynotes and its verdicts, for a
// page at the given way from the site's root.
func (v view) drawn(p *page.Junction, e *entry, root string, once *svg.Page) *sheet.JunctionSheet {
	d, set, j := e.d, v.View.Settings(), v.solved(e)
	sh := sheet.NewJunction(d, j.Section, j.Continuity, set.Units)
	near := sh.Corner(true)
	look := sheet.JunctionLook{Look: sheet.Look{Dress: drawing.Wide, System: set.Units, Linked: true, Listed: true}, Framed: near != nil, Heat: v.heat(j), Link: func(mark string) string {
		if to := v.link(mark); to != nil {
			return root + to.Href
		}
		return ""
	}}
	wide := sh.Draw(look)
	look.Dress = drawing.Phone
	phone := sh.Draw(look)
	p.Phone = inline(phone, svg.Options{Prefix: page.PhonePrefix, Page: once}) // first in the page, for the slower net
	p.Wide = inline(wide, svg.Options{Prefix: page.WidePrefix, Page: once})
	p.Scale, p.ScaleRatio = scaleWords(wide.Scale, set.Units)
	if near != nil {
		p.Enlarged = inline(near, svg.Options{Prefix: page.EnlargedPrefix, Page: once})
		_, p.Times = scaleWords(near.Scale, set.Units)
	}
	p.Toggles = []page.Toggle{page.ToggleHatch, page.ToggleDimensions}
	keys := map[string]int{}
	for _, k := range sh.Keynotes() {
		keys[k.Name] = k.Key
		note := page.Keynote{Key: k.Key, Name: k.Head, Sub: k.Note, Size: k.Size, Controls: k.Control}
		if k.Mark != "" {
			if to := v.link(k.Mark); to != nil {
				note.Of = page.Link{Href: to.Href, Text: to.Text}
			}
		}
		p.Keynotes = append(p.Keynotes, note)
	}
	v.continuity(p, j, keys)
	p.Isotherms = look.Heat != nil
	p.Figures, p.FiguresNote = v.heatFlowRows(d, j)
	return sh
}

// junctionLead names what meets in a junction.
func (v view) junctionLead(meets []page.Link, d *detail.Detail) string {
	kind := "Section"
	if d.Junction.Plan {
		kind = "Plan section"
	}
	marks := make([]string, len(meets))
	for i, m := range meets {
		marks[i] = m.Text
	}
	switch n := len(marks); {
	case n == 1:
		return kind + " at an edge of " + marks[0] + "."
	case n > 1:
		return kind + " where " + strings.Join(marks[:n-1], ", ") + " and " + marks[n-1] + " meet."
	}
	return kind + "."
}

// meets links the assemblies laid in a junction, each once, as laid.
func (v view) meets(d *detail.Detail) []page.Link {
	var links []page.Link
	for _, p := range d.Junction.Parts {
		if p.Kind != detail.Laid {
			continue
		}
		if to := v.link(p.Mark); to != nil && !slices.Contains(links, *to) {
			links = append(links, *to)
		}
	}
	return links
}

// continuity fills the verdicts and the boxes of gaps.
func (v view) continuity(p *page.Junction, j *figures.Junction, keys map[string]int) {
	part := func(name string) page.ChainPart {
		return page.ChainPart{Name: spoken(name), Key: keys[name]}
	}
	system := v.View.Settings().Units
	for i := range j.Continuity {
		r := &j.Continuity[i]
		p.Lines = append(p.Lines, r.Control)
		row := page.Verdicts{Control: r.Control, Verdict: page.Bad, Words: verdictWords(r, system), Notes: r.Notes}
		if r.Verdict == continuity.Continuous {
			row.Verdict = page.Good
		}
		for _, name := range r.Chain {
			row.Chain = append(row.Chain, part(name))
		}
		var notes []string
		for _, end := range r.Ends {
			notes = append(notes, "Ends here: "+end.Why)
		}
		for _, n := range r.Notes {
			notes = append(notes, capital(n))
		}
		row.Notes = notes
		p.Continuity = append(p.Continuity, row)
		for k, g := range r.Gaps {
			do := g.Mend
			for _, name := range append(g.Between[:], g.Through...) {
				if name != "" {
					do = strings.ReplaceAll(do, name, spoken(name))
				}
			}
			box := page.Gap{Label: sheet.GapFlag(r, k, system), Do: capital(do)}
			if box.Do != "" {
				box.Do += "."
			}
			if g.Between[0] != "" {
				box.Between = [2]page.ChainPart{part(g.Between[0]), part(g.Between[1])}
			}
			box.Where = gapWhere(r, &g)
			p.Gaps = append(p.Gaps, box)
		}
	}
	if len(p.Continuity) > 0 {
		p.Corners = corners
	}
}

// spoken is a part's name, or a layer's with that of its part, in words.
func spoken(name string) string {
	part, layer, ok := strings.Cut(name, ".")
	if !ok || part == layer {
		return part
	}
	return part + " " + layer
}

// gapWhere says what a gap lets through.
func gapWhere(r *continuity.Report, g *continuity.Gap) string {
	var s []string
	if g.Fault != "" {
		s = append(s, capital(g.Fault)+".")
	}
	if len(g.Through) > 0 {
		names := make([]string, len(g.Through))
		for i, n := range g.Through {
			names[i] = spoken(n)
		}
		s = append(s, "In it: "+strings.Join(names, ", ")+".")
	}
	for i := 0; i < len(r.Leaks); {
		from := r.Leaks[i].From
		var to []string
		for ; i < len(r.Leaks) && r.Leaks[i].From == from; i++ {
			to = append(to, r.Leaks[i].To)
		}
		last := len(to) - 1
		words := to[last]
		if last > 0 {
			words = strings.Join(to[:last], ", ") + " and " + words
		}
		s = append(s, capital(from)+" is open to "+words+".")
	}
	return strings.Join(s, " ")
}

// verdictWords says what is found of a control, as the table does.
func verdictWords(r *continuity.Report, system units.System) string {
	switch r.Verdict {
	case continuity.Continuous:
		return "Unbroken in this section"
	case continuity.NotTraced:
		return "Not traced: " + r.Reason
	case continuity.Thin:
		if len(r.Gaps) == 1 {
			return "Thin, " + r.Gaps[0].Width.Show(system)
		}
		return "Thin"
	case continuity.Unsealed:
		return "Touches, not sealed"
	}
	wide := 0
	for i := range r.Gaps {
		if !r.Gaps[i].Touch {
			wide++
		}
	}
	switch {
	case wide == 1:
		for i := range r.Gaps {
			if !r.Gaps[i].Touch {
				return "Gap " + r.Gaps[i].Width.Show(system)
			}
		}
	case wide > 1:
		return strconv.Itoa(wide) + " gaps"
	}
	return "Broken"
}

// junctionSteps fills the sequence, each step with what stands after it.
func (v view) junctionSteps(sh *sheet.JunctionSheet, d *detail.Detail, w *words, once *svg.Page) []page.Step {
	steps := make([]page.Step, len(d.Sequence))
	shows := false
	for i := range d.Sequence {
		shows = shows || len(d.Sequence[i].Shows) > 0
	}
	for i := range d.Sequence {
		s := &d.Sequence[i]
		steps[i] = page.Step{
			Do: w.steps[i].do, Caution: w.steps[i].caution, Hold: w.steps[i].hold,
			Trade: s.Trade, ReleasedBy: s.ReleasedBy, Photo: s.Photo,
			Tools: strings.Join(s.Tools, ", "), Materials: strings.Join(s.Materials, ", "),
		}
		if shows {
			picture := sh.Draw(sheet.JunctionLook{Look: sheet.Look{Dress: drawing.StepPicture, System: v.View.Settings().Units, After: i + 1}})
			steps[i].Picture = inline(picture, svg.Options{Prefix: "s" + strconv.Itoa(i+1), Hidden: true, Page: once})
		}
	}
	return steps
}

// junctionRow fills a junction's row of the index: what meets in it, the
// controls it carries, and the worst verdict.
func (v view) junctionRow(e *entry, row page.IndexRow) page.IndexRow {
	j := v.junction(e)
	var marks []string
	for _, m := range v.meets(e.d) {
		marks = append(marks, m.Text)
	}
	row.MakeUp = strings.Join(marks, ", ")
	for i := range j.Continuity {
		row.Controls = append(row.Controls, j.Continuity[i].Control)
	}
	switch worst := j.Worst(); {
	case len(j.Continuity) == 0:
	case worst == continuity.Continuous:
		row.Proved = "Unbroken"
	case worst == continuity.NotTraced:
		row.Short = "Not traced"
	default:
		row.Short = capital(string(worst))
	}
	if j.Section == nil {
		return row
	}
	if len(v.details) > inlineThumbs {
		row.ThumbFile = thumbFile(e)
		picture := v.junctionPicture(e)
		row.ThumbWidth, row.ThumbHeight = picture.Width, picture.Height
		return row
	}
	row.Thumb = inline(v.junctionPicture(e), svg.Options{Prefix: "t-" + folder(e.d.Mark), Class: "thumb", Hidden: true})
	return row
}

// junctionPicture is a junction's picture for the index.
func (v view) junctionPicture(e *entry) *drawing.Drawing {
	system := v.View.Settings().Units
	return sheet.NewJunction(e.d, v.junction(e).Section, nil, system).Draw(sheet.JunctionLook{Look: sheet.Look{Dress: drawing.Thumb, System: system}})
}

// junctionThumbBytes is the picture as a file.
func (v view) junctionThumbBytes(e *entry) []byte {
	return svg.Append(nil, v.junctionPicture(e), svg.Options{Dress: svg.Standalone})
}
