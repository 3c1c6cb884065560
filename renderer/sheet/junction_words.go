package sheet

import (
	"fmt"
	"sort"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

// member is what one callout and one keynote name: a part, or a layer of a
// laid assembly.
type member struct {
	key     int
	turn    int    // its place in painter's order
	name    string // part or part.layer
	part    *detail.Part
	layer   *detail.Layer // of an assembly laid; nil else
	mark    string        // of that assembly
	anchor  geometry.Point
	film    bool
	seal    bool
	control []detail.Control
}

// Keynote is one entry of a junction's list, numbered as on its drawing.
type Keynote struct {
	Key     int
	Name    string // part or part.layer
	Head    string // "XPS type IV, 2 courses × 3 in"
	Note    string
	Size    string
	Mark    string // of the assembly it comes from; "" its own
	Control []detail.Control
}

// gather finds what is to be named, with the place its leader points at.
func (j *junction) gather() {
	s := j.s
	type spot struct {
		at   geometry.Point
		room int64
	}
	places := map[string]spot{}
	by := map[string]*member{}
	put := func(name string, at geometry.Point, room int64, m member) {
		if old, ok := places[name]; !ok || room > old.room {
			places[name] = spot{at, room}
		}
		if by[name] == nil {
			m.name = name
			by[name] = &m
			j.members = append(j.members, &m)
		}
	}
	for i := range s.Faces {
		f := &s.Faces[i]
		if f.Region < 0 || f.Material == nil {
			continue
		}
		r := &s.Regions[f.Region]
		put(f.Name, section.Inside(f.Polygon), f.Area2, member{part: j.d.Junction.Parts[f.Part], layer: r.LayerOf, mark: r.Mark, control: r.Control})
	}
	for _, run := range s.Runs {
		f := &s.Films[run.Film]
		if f.Seal >= 0 || f.Seal == section.ClosingFilm || f.Part < 0 {
			continue
		}
		var best, length int64
		at := run.Line[0]
		for i := 1; i < len(run.Line); i++ {
			a, b := run.Line[i-1], run.Line[i]
			l := max(abs64(b.X-a.X), abs64(b.Y-a.Y))
			length += l
			if l > best {
				best, at = l, geometry.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
			}
		}
		put(f.Name, at, length, member{part: j.d.Junction.Parts[f.Part], layer: f.LayerOf, mark: f.Mark, film: true, control: f.Control})
	}
	for i := range s.Seals {
		seal := &s.Seals[i]
		if seal.Placed {
			part := j.d.Junction.Parts[seal.Part]
			put(part.Name, seal.Place, 1, member{part: part, seal: true, control: part.Control})
		}
	}
	kept := j.members[:0]
	for i, m := range j.members {
		m.turn = i
		m.anchor = places[m.name].at
		if s.View.Contains(m.anchor) {
			kept = append(kept, m)
		}
	}
	j.members = kept
}

// number gives each member its number: as the wide drawing places the
// callouts, down the left, then down the right. All dresses use the same.
func (j *junction) number() {
	wide := *j
	wide.bare, wide.draft = false, nil
	wide.look.Dress, wide.look.Keyed = drawing.Wide, false
	wide.arrange()
	placed, _ := wide.callouts()
	keys := map[string]int{}
	for i := range placed {
		keys[placed[i].Tag.Part] = placed[i].Key
	}
	next := len(placed)
	for _, m := range j.members {
		if m.key = keys[m.name]; m.key == 0 {
			next++
			m.key = next
		}
	}
	sort.SliceStable(j.members, func(a, b int) bool { return j.members[a].key < j.members[b].key })
}

// upper is a head in capitals; the sign of millimetres stays small.
func upper(s string) string {
	return strings.ReplaceAll(strings.ToUpper(s), " MM", " mm")
}

func abs64(v int64) int64 {
	if v < 0 {
		return -v
	}
	return v
}

// called says what a callout says first: the material, or the part's own name
// where neither its material nor its note has it: "Footing", of concrete.
func (m *member) called() (head, material string) {
	switch {
	case m.layer != nil:
		return sentence(m.layer.Material.Name), ""
	case m.part.Material != nil:
		material = m.part.Material.Name
	case m.part.SealWord != "":
		material = m.part.SealWord
	default:
		return sentence(m.part.Name), ""
	}
	if m.seal || strings.Contains(strings.ToLower(material+" "+m.part.Note), strings.ToLower(m.part.Name)) {
		return sentence(material), ""
	}
	return sentence(m.part.Name), material
}

// thinnest is the least thickness that is said in fractions of an inch.
const thinnest units.Length = 0.0254 / 16

// size is what follows the name: the thickness of a layer, the diameter of a
// round, the size of a rectangle of which the file states one. On a drawing
// lengths are written as drawings write them.
func (m *member) size(system units.System, drawn bool) string {
	show := func(l units.Length) string {
		switch {
		case system == units.Metric:
			return l.Millimeter()
		case m.film, l < thinnest:
			return l.Mil()
		case drawn:
			return drawing.DimensionText(l, system)
		}
		return l.InchFraction()
	}
	switch {
	case m.layer != nil && m.layer.Courses > 1:
		return fmt.Sprintf("%d courses × %s", m.layer.Courses, show(m.layer.Thickness))
	case m.layer != nil:
		return show(m.layer.Thickness)
	case m.part.Kind == detail.Round:
		return show(m.part.Diameter)
	case m.part.Kind == detail.Film:
		if m.part.Thickness > 0 {
			return show(m.part.Thickness)
		}
	case m.part.Width > 0 && m.part.Height > 0:
		return show(m.part.Width) + " × " + show(m.part.Height)
	case m.part.Width > 0:
		return show(m.part.Width)
	case m.part.Height > 0:
		return show(m.part.Height)
	}
	return ""
}

// head is the first line of a callout: name and size.
func (m *member) head(system units.System, drawn bool) string {
	head, _ := m.called()
	if s := m.size(system, drawn); s != "" {
		if drawn && strings.HasSuffix(s, " mil") {
			s = strings.ToUpper(s)
		}
		head += ", " + s
	}
	return head
}

// note is what stands under it: of what, and how; of an assembly's layer,
// whose it is.
func (m *member) note() string {
	var notes []string
	if _, material := m.called(); material != "" {
		notes = append(notes, sentence(material))
	}
	if m.layer != nil {
		if m.mark != "" {
			notes = append(notes, m.mark)
		}
		return strings.Join(notes, ". ")
	}
	for _, n := range [...]string{m.part.Note, m.part.Joints} {
		if n != "" {
			notes = append(notes, sentence(strings.TrimSuffix(n, ".")))
		}
	}
	if m.seal && m.part.Note == "" {
		notes = append(notes, "Joins "+strings.ReplaceAll(strings.Join(m.part.Joins, " and "), ".", " "))
	}
	return strings.Join(notes, ". ")
}

// Keynotes returns the junction's list, in the order of its numbers.
func (sh *JunctionSheet) Keynotes() []Keynote {
	sh.name()
	list := make([]Keynote, 0, len(sh.members))
	for _, m := range sh.members {
		head, _ := m.called()
		k := Keynote{Key: m.key, Name: m.name, Head: head, Size: m.size(sh.system, false), Mark: m.mark, Control: m.control, Note: m.note()}
		if m.layer != nil {
			k.Note = strings.Join(LayerNotes(m.layer), ". ")
		}
		list = append(list, k)
	}
	return list
}

// callouts places the callouts of all members beside the view.
func (j *junction) callouts() ([]drawing.PlacedCallout, drawing.CalloutMode) {
	left, right := j.at.X-j.reach(drawing.LeftOf), j.at.X+j.x.length+j.reach(drawing.RightOf)
	cols := drawing.Columns{
		Left:  drawing.Column{Edge: left - columnGap, Outer: 1, Inmost: left - 8},
		Right: drawing.Column{Edge: right + columnGap, Outer: j.width - 1, Inmost: right + 8},
		Top:   j.at.Y - 14 - j.above/j.scale, Bottom: j.at.Y + j.y.length + 22 + j.below/j.scale,
	}
	if j.bare {
		cols.Left = drawing.Column{Edge: left - keynoteGap, Outer: left - keynoteGap - keynoteWide}
		cols.Right = drawing.Column{Edge: right + keynoteGap, Outer: right + keynoteGap + keynoteWide}
	}
	middle := (j.s.View.Min.X + j.s.View.Max.X) / 2
	var list []drawing.Callout
	for _, m := range j.members {
		at, lift, ok := j.dot(m)
		if !ok {
			continue
		}
		c := drawing.Callout{
			Key: m.key, At: at, Lift: lift, Side: drawing.RightSide,
			Head: upper(m.head(j.look.System, true)), Note: drawing.DrawingWords(m.note()), Open: m.film,
			Tag: drawing.Tag{Part: m.name, Step: stepOf(j.d, m.name)},
		}
		if j.look.Linked {
			c.Tag.Href = fmt.Sprintf("#part-%d", m.key)
		}
		if m.anchor.X < middle && !m.film || m.film && at.X < j.at.X+j.x.length/2 {
			c.Side = drawing.LeftSide
		}
		list = append(list, c)
	}
	balance(list)
	return drawing.PlaceCallouts(list, cols, j.bare || j.look.Keyed)
}

// leastOnSide is the share of callouts that stands on either side at least.
const leastOnSide = 0.36

// balance moves callouts whose dots lie next to the other side over to it where
// that has few.
func balance(list []drawing.Callout) {
	order := make([]int, len(list))
	left := 0
	for i := range list {
		order[i] = i
		if list[i].Side == drawing.LeftSide {
			left++
		}
	}
	sort.SliceStable(order, func(a, b int) bool { return list[order[a]].At.X < list[order[b]].At.X })
	least := int(leastOnSide * float64(len(list)))
	for _, i := range order {
		if left >= least {
			break
		}
		if list[i].Side == drawing.RightSide {
			list[i].Side = drawing.LeftSide
			left++
		}
	}
	for k := len(order) - 1; k >= 0 && len(list)-left < least; k-- {
		if c := &list[order[k]]; c.Side == drawing.LeftSide {
			c.Side = drawing.RightSide
			left--
		}
	}
}
