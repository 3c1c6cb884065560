package revision

import (
	"fmt"
	"slices"
	"strings"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/figures"
	"wythe/renderer/geometry"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

// Side is a detail as one state has it, with what is worked out of it. Of
// Assembly and Junction at most one is set.
type Side struct {
	Detail   *detail.Detail
	Assembly *figures.Assembly
	Junction *figures.Junction
	Broken   int // errors in its file
}

// Change is one thing that is not as it was. Before is "" of what came, After
// of what went.
type Change struct {
	What   string `json:"what"` // layer, part, note, figure, continuity, status, kind, file
	Name   string `json:"name"`
	Before string `json:"before"`
	After  string `json:"after"`
}

// String prints a change in a line.
func (c Change) String() string {
	name := c.What
	if c.Name != "" {
		name += " " + c.Name
	}
	switch {
	case c.Before == "":
		return name + ": added: " + c.After
	case c.After == "":
		return name + ": removed: " + c.Before
	}
	return name + ": " + c.Before + " → " + c.After
}

// differ gathers changes.
type differ struct {
	system units.System
	list   []Change
}

// Diff says what changed of a detail, and how its lines did; the lines are nil
// where one of the two is not drawn.
func Diff(before, after Side, system units.System) ([]Change, *Linework) {
	d := &differ{system: system}
	a, b := before.Detail, after.Detail
	if before.Broken+after.Broken > 0 {
		d.say("file", "errors", count(before.Broken), count(after.Broken))
	}
	d.say("status", "", string(a.Status), string(b.Status))
	d.say("note", "title", a.Title, b.Title)
	d.words(a, b)
	var lines *Linework
	switch {
	case before.Broken+after.Broken > 0:
	case a.Assembly != nil && b.Assembly != nil:
		d.say("element", "", string(a.Assembly.Element), string(b.Assembly.Element))
		d.layers("layer", a.Assembly.Layers, b.Assembly.Layers)
		d.assemblyFigures(before.Assembly, after.Assembly)
		lines = compareLines(stackLines(a.Assembly), stackLines(b.Assembly))
	case a.Junction != nil && b.Junction != nil:
		if before.Junction != nil && after.Junction != nil {
			d.junction(before.Junction, after.Junction)
			if s, t := before.Junction.Section, after.Junction.Section; s != nil && t != nil {
				lines = compareLines(sectionLines(s), sectionLines(t))
			}
		}
	default:
		d.say("kind", "", kind(a), kind(b))
	}
	return d.list, lines
}

func count(errors int) string {
	if errors == 0 {
		return "none"
	}
	return fmt.Sprint(errors)
}

func kind(d *detail.Detail) string {
	switch {
	case d.Assembly != nil:
		return "assembly"
	case d.Junction != nil:
		return "junction"
	}
	return "text"
}

func (d *differ) say(what, name, before, after string) {
	if before != after {
		d.list = append(d.list, Change{what, name, before, after})
	}
}

// one is say for words whose spacing does not matter.
func (d *differ) one(what, name, before, after string) {
	d.say(what, name, strings.Join(strings.Fields(before), " "), strings.Join(strings.Fields(after), " "))
}

// words compares what a detail says beside its drawing.
func (d *differ) words(a, b *detail.Detail) {
	d.lists("note", "use for", a.UseFor, b.UseFor)
	d.lists("note", "not for", a.NotFor, b.NotFor)
	d.lists("note", "caution", a.Cautions, b.Cautions)
	d.lists("note", "step", steps(a), steps(b))
	d.lists("note", "text", paragraphs(a.Body), paragraphs(b.Body))
}

func steps(d *detail.Detail) []string {
	var out []string
	for i := range d.Sequence {
		s := &d.Sequence[i]
		words := s.Do
		if s.Caution != "" {
			words += " Caution: " + s.Caution
		}
		if s.Hold != "" {
			words += " Hold: " + s.Hold
		}
		out = append(out, words)
	}
	return out
}

func paragraphs(body string) []string {
	var out []string
	for _, p := range strings.Split(body, "\n\n") {
		if p = strings.Join(strings.Fields(p), " "); p != "" {
			out = append(out, p)
		}
	}
	return out
}

// longestList is the most entries that are held against each other one by one.
const longestList = 400

// lists compares entries in order: what stays is passed over, and an entry
// that stands where one went is taken for its new words.
func (d *differ) lists(what, name string, a, b []string) {
	if len(a) > longestList || len(b) > longestList {
		d.one(what, name, strings.Join(a, "; "), strings.Join(b, "; "))
		return
	}
	// The longest row of entries that both have, from the end.
	n := make([][]int, len(a)+1)
	for i := range n {
		n[i] = make([]int, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if a[i] == b[j] {
				n[i][j] = n[i+1][j+1] + 1
			} else {
				n[i][j] = max(n[i+1][j], n[i][j+1])
			}
		}
	}
	var gone, come []string
	flush := func() {
		for len(gone) > 0 || len(come) > 0 {
			c := Change{What: what, Name: name}
			if len(gone) > 0 {
				c.Before, gone = gone[0], gone[1:]
			}
			if len(come) > 0 {
				c.After, come = come[0], come[1:]
			}
			d.list = append(d.list, c)
		}
	}
	i, j := 0, 0
	for i < len(a) || j < len(b) {
		switch {
		case i < len(a) && j < len(b) && a[i] == b[j]:
			flush()
			i, j = i+1, j+1
		case j == len(b) || i < len(a) && n[i+1][j] >= n[i][j+1]:
			gone = append(gone, a[i])
			i++
		default:
			come = append(come, b[j])
			j++
		}
	}
	flush()
}

// layers compares two stacks, layer by layer of the same name.
func (d *differ) layers(what string, a, b []*detail.Layer) {
	find := func(list []*detail.Layer, name string) *detail.Layer {
		for _, l := range list {
			if l.Name == name {
				return l
			}
		}
		return nil
	}
	var common [2][]string
	for _, l := range a {
		other := find(b, l.Name)
		if other == nil {
			d.say(what, l.Name, d.layer(l), "")
			continue
		}
		common[0] = append(common[0], l.Name)
		d.oneLayer(what+" "+l.Name, l, other)
	}
	for _, l := range b {
		if find(a, l.Name) == nil {
			d.say(what, l.Name, "", d.layer(l))
			continue
		}
		common[1] = append(common[1], l.Name)
	}
	d.say(what, "order", strings.Join(common[0], ", "), strings.Join(common[1], ", "))
}

func (d *differ) layer(l *detail.Layer) string {
	words := l.Thickness.Show(d.system)
	if l.Courses > 1 {
		words = fmt.Sprintf("%d courses of %s", l.Courses, words)
	}
	if l.Material != nil {
		words += " " + l.Material.Name
	}
	return words
}

func (d *differ) oneLayer(what string, a, b *detail.Layer) {
	d.say(what, "", d.layer(a), d.layer(b))
	d.say(what, "control", controlWords(a.Control), controlWords(b.Control))
	d.one(what, "joints", a.Joints, b.Joints)
	d.one(what, "note", a.Note, b.Note)
	d.say(what, "framing", d.framing(a.Framing), d.framing(b.Framing))
	d.say(what, "ventilation", string(a.Ventilation), string(b.Ventilation))
	d.say(what, "lap", d.length(a.Lap), d.length(b.Lap))
}

func (d *differ) length(v units.Length) string {
	if v == 0 {
		return ""
	}
	return v.Show(d.system)
}

func (d *differ) framing(f *detail.Framing) string {
	if f == nil || f.Material == nil {
		return ""
	}
	if f.Spacing > 0 {
		return fmt.Sprintf("%s %s at %s", f.Material.Name, f.Width.Show(d.system), f.Spacing.Show(d.system))
	}
	return f.Material.Name + " " + f.Fraction.Percent()
}

func controlWords(list []detail.Control) string {
	words := make([]string, len(list))
	for i, c := range list {
		words[i] = string(c)
	}
	slices.Sort(words)
	return strings.Join(words, ", ")
}

func (d *differ) assemblyFigures(a, b *figures.Assembly) {
	if a == nil || b == nil {
		return
	}
	type row struct {
		name string
		of   func(*figures.Assembly) string
	}
	for _, r := range []row{
		{"thickness", func(f *figures.Assembly) string {
			total := units.Length(0)
			for _, l := range f.Detail.Assembly.Layers {
				total += l.Total()
			}
			return total.Show(d.system)
		}},
		{"R-value", func(f *figures.Assembly) string {
			if f.Thermal == nil || !f.Thermal.Resistance.Computed {
				return "not computed"
			}
			return f.Thermal.Resistance.Value.Show(d.system)
		}},
		{"U-factor", func(f *figures.Assembly) string {
			if f.Thermal == nil || !f.Thermal.Resistance.Computed {
				return "not computed"
			}
			return f.Thermal.Transmittance.Show(d.system)
		}},
		{"dead load", func(f *figures.Assembly) string {
			if f.Dead == nil || len(f.Dead.Missing) > 0 {
				return "not computed"
			}
			return f.Dead.Weight.Show(d.system)
		}},
	} {
		d.say("figure", r.name, r.of(a), r.of(b))
	}
}

// junction compares two sections: parts, what is laid, and the verdicts.
func (d *differ) junction(a, b *figures.Junction) {
	was, is := a.Detail.Junction, b.Detail.Junction
	find := func(j *detail.Junction, name string) int {
		return slices.IndexFunc(j.Parts, func(p *detail.Part) bool { return p.Name == name })
	}
	laid := map[string]bool{}
	for i, p := range was.Parts {
		k := find(is, p.Name)
		if k < 0 {
			d.say("part", p.Name, d.part(p, a.Section, i), "")
			continue
		}
		d.onePart(p, is.Parts[k], a.Section, b.Section, i, k)
		if q := is.Parts[k]; p.Mark == q.Mark && p.Assembly != nil && q.Assembly != nil && !laid[p.Mark] && p.Assembly.Assembly != nil && q.Assembly.Assembly != nil {
			laid[p.Mark] = true
			d.layers("laid "+p.Mark+" layer", p.Assembly.Assembly.Layers, q.Assembly.Assembly.Layers)
		}
	}
	for k, p := range is.Parts {
		if find(was, p.Name) < 0 {
			d.say("part", p.Name, "", d.part(p, b.Section, k))
		}
	}
	for _, c := range detail.Controls {
		d.say("continuity", string(c), verdict(a, c), verdict(b, c))
	}
}

func verdict(j *figures.Junction, c detail.Control) string {
	for i := range j.Continuity {
		if r := &j.Continuity[i]; r.Control == c {
			if r.Verdict == continuity.NotTraced {
				return "not traced"
			}
			return string(r.Verdict)
		}
	}
	return "not carried"
}

func (d *differ) part(p *detail.Part, s *section.Section, i int) string {
	words := d.size(s, i)
	switch {
	case p.Mark != "":
		words += " " + p.Mark
	case p.Material != nil:
		words += " " + p.Material.Name
	case p.SealWord != "":
		words = p.SealWord
	case p.Hole:
		words += " hole"
	}
	return strings.TrimSpace(words)
}

// size is that of the box about a part.
func (d *differ) size(s *section.Section, i int) string {
	if s == nil || i >= len(s.Parts) || !s.Parts[i].Laid {
		return ""
	}
	b := s.Parts[i].Bounds
	return microns(b.Max.X-b.Min.X).Show(d.system) + " × " + microns(b.Max.Y-b.Min.Y).Show(d.system)
}

func microns(v int64) units.Length { return units.Length(float64(v) * 1e-6) }

func (d *differ) onePart(p, q *detail.Part, s, t *section.Section, i, k int) {
	what := "part " + p.Name
	n := len(d.list)
	d.say(what, "", d.part(p, s, i), d.part(q, t, k))
	d.say(what, "control", controlWords(p.Control), controlWords(q.Control))
	d.one(what, "note", p.Note, q.Note)
	d.one(what, "joints", p.Joints, q.Joints)
	d.say(what, "seals", strings.Join(p.Joins, ", "), strings.Join(q.Joins, ", "))
	d.say(what, "continues", strings.Join(p.Continues, ", "), strings.Join(q.Continues, ", "))
	if len(d.list) > n || s == nil || t == nil {
		return
	}
	if a, b := shape(s, i), shape(t, k); !slices.Equal(a, b) {
		d.say(what, "place", d.place(s, i), d.place(t, k))
		if len(d.list) == n {
			d.say(what, "outline", "as before", "changed within the same box")
		}
	}
}

func (d *differ) place(s *section.Section, i int) string {
	b := s.Parts[i].Bounds
	return "from " + microns(b.Min.X).Show(d.system) + ", " + microns(b.Min.Y).Show(d.system)
}

// shape is all of a part's geometry as laid.
func shape(s *section.Section, i int) []geometry.Point {
	var out []geometry.Point
	for k := range s.Regions {
		if s.Regions[k].Part == i {
			out = append(out, s.Regions[k].Ring...)
		}
	}
	for k := range s.Films {
		if s.Films[k].Part == i {
			out = append(out, s.Films[k].Line...)
		}
	}
	for k := range s.Seals {
		if s.Seals[k].Part == i {
			out = append(out, s.Seals[k].Place)
		}
	}
	return out
}
