package revision

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/figures"
	"wythe/renderer/geometry"
	"wythe/renderer/units"
)

// Side is a detail as one state has it, with what is worked out of it. Of
// Assembly and Junction at most one is set.
type Side struct {
	Detail   *detail.Detail
	Assembly *figures.Assembly
	Junction *figures.Junction // with its heat flow
	Broken   int               // errors in its file
}

// Change is one thing that is not as it was. Before is "" of what came, After
// of what went.
type Change struct {
	What   string `json:"what"`   // layer, part, note, figure, continuity, status, element, kind, file
	Name   string `json:"name"`   // which: "foam", "foam of F-101", "R-value"
	Aspect string `json:"aspect"` // of it: "joints"; "" of it as a whole
	Before string `json:"before"`
	After  string `json:"after"`
	// At is where the drawing shows it, in the section's or the stack's own
	// lines; nil where it does not.
	At *geometry.Point `json:"-"`
}

// Title names what changed: "foam, joints".
func (c Change) Title() string {
	switch {
	case c.Name == "":
		return cmp.Or(c.Aspect, c.What)
	case c.Aspect == "":
		return c.Name
	}
	return c.Name + ", " + c.Aspect
}

// String prints a change in a line.
func (c Change) String() string {
	name := c.What
	if t := c.Title(); t != c.What {
		name += " " + t
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
	at     *geometry.Point // of what is compared now
}

// order is that in which kinds of changes are told: what is built, what
// follows from it, what is said.
var order = []string{"file", "kind", "status", "element", "layer", "part", "figure", "continuity", "note"}

// Diff says what changed of a detail, and how its lines did; the lines are nil
// where one of the two is not drawn.
func Diff(before, after Side, system units.System) ([]Change, *Linework) {
	d := &differ{system: system}
	a, b := before.Detail, after.Detail
	if before.Broken+after.Broken > 0 {
		d.say("file", "errors", "", count(before.Broken), count(after.Broken))
	}
	d.say("status", "", "", string(a.Status), string(b.Status))
	d.say("note", "title", "", a.Title, b.Title)
	d.words(a, b)
	var lines *Linework
	switch {
	case before.Broken+after.Broken > 0:
	case a.Assembly != nil && b.Assembly != nil:
		d.say("element", "", "", string(a.Assembly.Element), string(b.Assembly.Element))
		d.layers("", a.Assembly, b.Assembly)
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
		d.say("kind", "", "", kind(a), kind(b))
	}
	slices.SortStableFunc(d.list, func(x, y Change) int {
		return slices.Index(order, x.What) - slices.Index(order, y.What)
	})
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

func (d *differ) say(what, name, aspect, before, after string) {
	if before != after {
		d.list = append(d.list, Change{what, name, aspect, before, after, d.at})
	}
}

// one is say for words whose spacing does not matter.
func (d *differ) one(what, name, aspect, before, after string) {
	d.say(what, name, aspect, strings.Join(strings.Fields(before), " "), strings.Join(strings.Fields(after), " "))
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
		d.one(what, name, "", strings.Join(a, "; "), strings.Join(b, "; "))
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
