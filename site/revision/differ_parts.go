package revision

import (
	"fmt"
	"slices"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/figures"
	"wythe/renderer/geometry"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

// layers compares two stacks, layer by layer of the same name. of is the mark
// of a stack that a junction lays, "" of the detail's own.
func (d *differ) layers(of string, was, is *detail.Assembly) {
	a, b := was.Layers, is.Layers
	find := func(list []*detail.Layer, name string) *detail.Layer {
		for _, l := range list {
			if l.Name == name {
				return l
			}
		}
		return nil
	}
	named := func(name string) string {
		if of != "" {
			return name + " of " + of
		}
		return name
	}
	place := func(in *detail.Assembly, l *detail.Layer) {
		if of == "" {
			d.at = layerPlace(in, l)
		}
	}
	around := d.at
	var common [2][]string
	for _, l := range a {
		other := find(b, l.Name)
		if other == nil {
			place(was, l)
			d.say("layer", named(l.Name), "", d.layer(l), "")
			continue
		}
		common[0] = append(common[0], l.Name)
		place(is, other)
		d.oneLayer(named(l.Name), l, other)
	}
	for _, l := range b {
		if find(a, l.Name) == nil {
			place(is, l)
			d.say("layer", named(l.Name), "", "", d.layer(l))
			continue
		}
		common[1] = append(common[1], l.Name)
	}
	d.at = around
	d.say("layer", of, "order", strings.Join(common[0], ", "), strings.Join(common[1], ", "))
	d.at = nil
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

func (d *differ) oneLayer(name string, a, b *detail.Layer) {
	const what = "layer"
	d.say(what, name, "", d.layer(a), d.layer(b))
	d.say(what, name, "control", controlWords(a.Control), controlWords(b.Control))
	d.one(what, name, "joints", a.Joints, b.Joints)
	d.one(what, name, "note", a.Note, b.Note)
	d.say(what, name, "framing", d.framing(a.Framing), d.framing(b.Framing))
	d.say(what, name, "ventilation", string(a.Ventilation), string(b.Ventilation))
	d.say(what, name, "lap", d.length(a.Lap), d.length(b.Lap))
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
			d.at = partPlace(a.Section, i)
			d.say("part", p.Name, "", d.part(p, a.Section, i), "")
			continue
		}
		d.at = partPlace(b.Section, k)
		d.onePart(p, is.Parts[k], a.Section, b.Section, i, k)
		if q := is.Parts[k]; p.Mark == q.Mark && p.Assembly != nil && q.Assembly != nil && !laid[p.Mark] && p.Assembly.Assembly != nil && q.Assembly.Assembly != nil {
			laid[p.Mark] = true
			d.layers(p.Mark, p.Assembly.Assembly, q.Assembly.Assembly)
		}
	}
	for k, p := range is.Parts {
		if find(was, p.Name) < 0 {
			d.at = partPlace(b.Section, k)
			d.say("part", p.Name, "", "", d.part(p, b.Section, k))
		}
	}
	d.at = nil
	d.heat(a, b)
	for _, c := range detail.Controls {
		d.say("continuity", string(c), "", verdict(a, c), verdict(b, c))
	}
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
	const what = "part"
	n := len(d.list)
	d.say(what, p.Name, "", d.part(p, s, i), d.part(q, t, k))
	d.say(what, p.Name, "control", controlWords(p.Control), controlWords(q.Control))
	d.one(what, p.Name, "note", p.Note, q.Note)
	d.one(what, p.Name, "joints", p.Joints, q.Joints)
	d.say(what, p.Name, "seals", strings.Join(p.Joins, ", "), strings.Join(q.Joins, ", "))
	d.say(what, p.Name, "continues", strings.Join(p.Continues, ", "), strings.Join(q.Continues, ", "))
	if len(d.list) > n || s == nil || t == nil {
		return
	}
	if a, b := shape(s, i), shape(t, k); !slices.Equal(a, b) {
		d.say(what, p.Name, "place", d.place(s, i), d.place(t, k))
		if len(d.list) == n {
			d.say(what, p.Name, "outline", "as before", "changed within the same box")
		}
	}
}

func (d *differ) place(s *section.Section, i int) string {
	b := s.Parts[i].Bounds
	return "left " + microns(b.Min.X).Show(d.system) + ", bottom " + microns(b.Min.Y).Show(d.system)
}

// shape is all of a part's geometry as laid.
func shape(s *section.Section, i int) []geometry.Point {
	var out []geometry.Point
	for k := range s.Regions {
		if s.Regions[k].Part == i {
			out = append(out, s.Regions[k].Ring...)
		}
	}
	for k := range s.Beyond {
		if s.Beyond[k].Part == i {
			out = append(out, s.Beyond[k].Ring...)
		}
	}
	for _, r := range s.Rounds {
		if r.Part == i {
			out = append(out, r.Center, geometry.Point{X: r.Center.X + r.Radius, Y: r.Center.Y})
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

// partPlace is where a section shows a part: the middle of all of it.
func partPlace(s *section.Section, part int) *geometry.Point {
	if s == nil || part >= len(s.Parts) || !s.Parts[part].Laid {
		return nil
	}
	points := shape(s, part)
	if len(points) == 0 {
		return nil
	}
	box := geometry.EmptyBox()
	for _, p := range points {
		box = box.Grow(p)
	}
	return &geometry.Point{X: (box.Min.X + box.Max.X) / 2, Y: (box.Min.Y + box.Max.Y) / 2}
}
