package figures

import (
	"fmt"
	"slices"
	"strings"

	"wythe/renderer/basis"
	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

// Junction is what is worked out of a section where assemblies meet.
type Junction struct {
	Detail *detail.Detail
	// Section is the junction laid out; nil where its view cannot be found,
	// which Findings then says.
	Section *section.Section
	// Continuity holds one report for each control that any part carries, in
	// the order of pages; nil where Section is.
	Continuity []continuity.Report
	// Laying are the findings of laying the section out.
	Laying finding.List
	// Findings are all: those of Laying, and those of tracing the controls.
	Findings finding.List

	// Heat is the heat flow, once [Junction.SolveHeat] has run; nil where it is
	// not computed.
	Heat *HeatFlow

	NotComputed []basis.NotComputed
}

// OfJunction lays a junction out and traces its controls. lookup gives the
// detail of a mark, for assemblies that the junction does not hold; it may be
// nil. It never fails: mistakes are findings.
//
// Levels. A control that is broken or unsealed is an error in a detail that
// is issued, since it is built from; until then it is a warning. A control
// that is thin or cannot be traced is a warning. A superseded detail is not
// built from, and one tagged "lesson" is broken to teach by: nothing is said
// of their controls. Mistakes in the section itself are errors whatever the
// status.
func OfJunction(c Context, d *detail.Detail, lookup func(mark string) *detail.Detail) *Junction {
	j := &Junction{Detail: d}
	j.Section, j.Laying = section.Resolve(d.Junction, lookup, section.Options{})
	j.Findings.Add(j.Laying)
	if j.Section == nil {
		j.NotComputed = append(j.NotComputed, basis.NotComputed{Key: "continuity", Why: "the section cannot be laid out"})
		return j
	}
	var o continuity.Options
	system := units.Inch
	if c.Settings != nil {
		o.ThermalLeast, system = c.Settings.ThermalLeast, c.Settings.Units
	}
	var list finding.List
	j.Continuity, list = continuity.Review(j.Section, d.Sequence, o)
	if d.Status != detail.Superseded && !Lesson(d) {
		j.Findings.Add(list)
		for i := range j.Continuity {
			j.say(&j.Continuity[i], system)
		}
	}
	j.Findings.Sort()
	return j
}

// Lesson reports whether a junction is drawn broken to teach by: its tags say
// so. It is held to nothing and is no part of what is proved.
func Lesson(d *detail.Detail) bool { return slices.Contains(d.Tags, "lesson") }

// Worst is the worst verdict of the controls carried; Continuous where there
// is none. Not traced is worse than thin: nothing is known.
func (j *Junction) Worst() continuity.Verdict {
	order := [...]continuity.Verdict{continuity.Broken, continuity.Unsealed, continuity.NotTraced, continuity.Thin}
	for _, v := range order {
		for i := range j.Continuity {
			if j.Continuity[i].Verdict == v {
				return v
			}
		}
	}
	return continuity.Continuous
}

// say adds what is found of one control, at the line of the part concerned,
// lengths in the library's units.
func (j *Junction) say(r *continuity.Report, system units.System) {
	d := j.Detail
	level := finding.Warning
	if d.Status == detail.Issued && (r.Verdict == continuity.Broken || r.Verdict == continuity.Unsealed) {
		level = finding.Error
	}
	add := func(at finding.Position, rule, mend, format string, args ...any) {
		j.Findings.Items = append(j.Findings.Items, finding.Item{Position: at, Level: level, Rule: rule, Message: fmt.Sprintf(format, args...), Mend: mend})
	}
	switch r.Verdict {
	case continuity.Continuous:
		return
	case continuity.NotTraced:
		add(d.At, "control-not-traced", "name an inside and an outside: see `spaces`", "%s control cannot be traced: %s", r.Control, r.Reason)
		return
	}
	rule := "control-" + string(r.Verdict)
	if len(r.Gaps) == 0 {
		leak := ""
		if len(r.Leaks) > 0 {
			leak = fmt.Sprintf(": %s is open to %s", r.Leaks[0].From, r.Leaks[0].To)
		}
		if r.Reason != "" {
			leak += ": " + r.Reason
		}
		add(d.At, rule, "", "%s control is %s%s", r.Control, r.Verdict, leak)
		return
	}
	for _, g := range r.Gaps {
		at := j.place(g.Between)
		switch {
		case r.Verdict == continuity.Thin:
			add(at, rule, g.Mend, "thermal control is thin at %q: %s", firstWord(g.Between), g.Width.Show(system))
		case g.Touch && g.Fault != "":
			add(at, rule, g.Mend, "%s control: %q and %q: %s", r.Control, g.Between[0], g.Between[1], g.Fault)
		case g.Touch:
			add(at, rule, g.Mend, "%s control: %q touches %q and nothing seals them", r.Control, g.Between[0], g.Between[1])
		default:
			add(at, rule, g.Mend, "%s control is broken: %s between %q and %q", r.Control, g.Width.Show(system), g.Between[0], g.Between[1])
		}
	}
}

func firstWord(between [2]string) string {
	if between[0] != "" {
		return between[0]
	}
	return between[1]
}

// place is where the file says the first of two parts that is one of its own.
func (j *Junction) place(between [2]string) finding.Position {
	for _, name := range between {
		part, _, _ := strings.Cut(name, ".")
		for _, p := range j.Detail.Junction.Parts {
			if p.Name == part || p.Name == name {
				return p.At
			}
		}
	}
	return j.Detail.At
}
