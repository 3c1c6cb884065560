package site

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"

	"wythe/renderer/building"
	"wythe/renderer/material"
	"wythe/renderer/takeoff"
	"wythe/renderer/units"
	"wythe/site/page"
)

// takeoffPage is a building's takeoff, a section for each trade.
func (v view) takeoffPage(e *entry) *page.Tables {
	b := v.built(e)
	v.readBuilding(e, b)
	system := v.View.Settings().Units
	r := building.Count(e.d, b.detail, b.section, system)
	t := &page.Tables{Notices: b.notes, Files: []page.Link{{Href: takeoffCSV(e), Text: "takeoff.csv", Note: "for spreadsheets"}, {Href: e.href, Text: e.name, Note: "the building"}}}
	t.Root, t.Title, t.Lead = e.root, "Takeoff of "+e.name, "Quantities by trade and material, net of openings, with laps and waste."
	t.Sections = append(t.Sections, v.netSection(e, system), materialsSection(r, system))
	for _, q := range r.List {
		n := len(t.Sections)
		if n == 2 || t.Sections[n-1].Title != capital(q.Trade) {
			t.Sections = append(t.Sections, page.TableSection{ID: "trade-" + strconv.Itoa(n+1), Title: capital(q.Trade), Heads: []page.Head{
				{Text: "Material"}, {Text: "In"}, {Text: "Net", Figures: true}, {Text: "To buy", Figures: true}, {Text: "As"}, {Text: "Waste, laps"}}})
			n++
		}
		s := &t.Sections[n-1]
		in := page.Cell{Text: q.Mark, Sub: q.Part}
		if to := v.link(q.Mark); to != nil {
			in.Href = to.Href
		}
		waste := "–"
		if q.Source != "" {
			waste = wasteOf(&q) + ", " + q.Source
		}
		name := page.Cell{Text: capital(q.Material), Sub: q.Note}
		s.Rows = append(s.Rows, []page.Cell{name, in, {Text: netWords(&q, system)}, {Text: buyWords(&q, system)}, {Text: unitsWords(&q, system)}, {Text: waste}})
	}
	limits := page.TableSection{ID: "limits", Title: "What the takeoff leaves out", Words: r.Limits}
	for _, m := range r.Missing {
		limits.Words = append(limits.Words, m.Mark+": "+m.Why)
	}
	t.Sections = append(t.Sections, limits)
	return t
}

// netSection is each element gross and net, with the openings taken off it.
func (v view) netSection(e *entry, s units.System) page.TableSection {
	out := page.TableSection{ID: "net", Title: "Elements, gross and net", Heads: []page.Head{
		{Text: "Element"}, {Text: "Gross", Figures: true}, {Text: "Openings taken off"}, {Text: "Net", Figures: true}}}
	bd := e.d.Building
	for _, u := range bd.Areas {
		name := page.Cell{Text: u.Mark}
		if to := v.link(u.Mark); to != nil {
			name.Href, name.Sub = to.Href, to.Note
		}
		var off []string
		for _, o := range bd.Openings {
			if u.Gross && o.In == u.Mark {
				off = append(off, o.What+" "+o.Area.Show(s))
			}
		}
		words := strings.Join(off, ", ")
		if words == "" && !u.Gross {
			words = "stated net"
		}
		out.Rows = append(out.Rows, []page.Cell{name, {Text: u.Area.Show(s)}, {Text: orDash(words)}, {Text: building.NetArea(bd, u).Show(s)}})
	}
	return out
}

// materialsSection sums a takeoff up by material.
func materialsSection(r *building.Takeoff, s units.System) page.TableSection {
	out := page.TableSection{ID: "materials", Title: "By material", Small: "To buy, laps and waste counted", Heads: []page.Head{
		{Text: "Material"}, {Text: "Area", Figures: true}, {Text: "Volume", Figures: true}, {Text: "Length", Figures: true}, {Text: "Pieces", Figures: true}}}
	type sum struct {
		area   units.Area
		volume units.Volume
		length units.Length
		pieces int
	}
	sums := map[string]*sum{}
	for i := range r.List {
		q := &r.List[i]
		x := sums[q.Material]
		if x == nil {
			x = &sum{}
			sums[q.Material] = x
		}
		if q.Form == takeoff.Volume {
			x.volume += q.Volume
		} else {
			x.area += q.Buy
		}
		if q.Covered > 0 || q.Volume == 0 {
			x.length += q.Length
		}
		x.pieces += q.Sheets + q.Rolls + q.Pieces
		if q.Tape > 0 {
			if sums["tape"] == nil {
				sums["tape"] = &sum{}
			}
			sums["tape"].length += q.Tape
		}
	}
	show := func(given bool, q units.Shower) page.Cell {
		if !given {
			return page.Cell{Text: "–"}
		}
		return page.Cell{Text: q.Show(s)}
	}
	run := func(l units.Length) page.Cell {
		if l == 0 {
			return page.Cell{Text: "–"}
		}
		return page.Cell{Text: runOf(l, s)}
	}
	for _, name := range sortedKeys(sums) {
		x := sums[name]
		pieces := page.Cell{Text: "–"}
		if x.pieces > 0 {
			pieces.Text = strconv.Itoa(x.pieces)
		}
		out.Rows = append(out.Rows, []page.Cell{{Text: capital(name)}, show(x.area > 0, x.area), show(x.volume > 0, x.volume), run(x.length), pieces})
	}
	return out
}

func wasteOf(q *building.Quantity) string { return fmt.Sprintf("%.0f %%", 100*float64(q.Waste)) }

func netWords(q *building.Quantity, s units.System) string {
	switch {
	case q.Covered > 0:
		return q.Covered.Show(s)
	case q.Length > 0 && q.Volume == 0:
		return runOf(q.Length, s)
	case q.Pieces > 0:
		return strconv.Itoa(q.Pieces)
	}
	return "–"
}

func buyWords(q *building.Quantity, s units.System) string {
	switch {
	case q.Form == takeoff.Volume && q.Volume > 0:
		return q.Volume.Show(s)
	case q.Buy > 0:
		return q.Buy.Show(s)
	case q.Length > 0:
		return runOf(q.Length, s)
	case q.Pieces > 0:
		return strconv.Itoa(q.Pieces)
	}
	return "–"
}

// poured reports whether a material is bought by volume, by the load.
func poured(h material.Hatch) bool {
	switch h {
	case material.Concrete, material.ReinforcedConcrete, material.WashedStone, material.Stone, material.Sand, material.Mortar:
		return true
	}
	return false
}

// runOf prints a length to be bought: a long one in whole feet or tenths of a
// metre, rounded up.
func runOf(l units.Length, s units.System) string {
	step := units.Length(0.3048)
	if s == units.Metric {
		step = 0.1
	}
	if l > 10*step {
		l = units.Length(math.Ceil(float64(l/step)-1e-9)) * step
	}
	return l.Show(s)
}

// unitsWords is what a yard sells: sheets, rolls, lengths, tape.
func unitsWords(q *building.Quantity, s units.System) string {
	var words []string
	size := ""
	if q.Sheet[0] > 0 {
		size = " of " + q.Sheet[0].Show(s) + " × " + q.Sheet[1].Show(s)
	}
	if q.Sheets > 0 {
		words = append(words, plural(q.Sheets, "sheet")+size)
	}
	if q.Rolls > 0 {
		words = append(words, plural(q.Rolls, "roll")+size)
	}
	const yard = 0.764554857984 // m³ of a cubic yard
	if q.Form == takeoff.Volume && poured(q.Hatch) && s == units.Inch {
		words = append(words, fmt.Sprintf("%.1f cu yd", float64(q.Volume)/yard))
	}
	if q.Hatch == material.LooseFill && q.Mass > 0 {
		words = append(words, q.Mass.Show(s)+" in bags")
	}
	if q.Covered > 0 && q.Length > 0 {
		words = append(words, runOf(q.Length, s)+" of members")
	}
	if q.Covered == 0 && q.Length > 0 && q.Volume > 0 {
		words = append(words, runOf(q.Length, s)+" long")
	}
	if q.Tape > 0 {
		words = append(words, runOf(q.Tape, s)+" of tape")
	}
	out := ""
	for i, w := range words {
		if i > 0 {
			out += ", "
		}
		out += w
	}
	return out
}

// TakeoffCSV is a takeoff as comma-separated values, in SI and in the
// library's own words.
func (l *Library) TakeoffCSV(t *building.Takeoff) []byte {
	s := l.lib.Settings.Units
	rows := [][]string{{"trade", "material", "mark", "part", "gross m2", "net m2", "covered m2", "buy m2", "volume m3", "length m", "tape m", "mass kg", "sheets", "rolls", "pieces", "waste %", "lap factor", "source", "to buy", "units", "note"}}
	number := func(v float64, digits int) string {
		if v == 0 {
			return ""
		}
		return strconv.FormatFloat(v, 'f', digits, 64)
	}
	whole := func(n int) string {
		if n == 0 {
			return ""
		}
		return strconv.Itoa(n)
	}
	for i := range t.List {
		q := &t.List[i]
		rows = append(rows, []string{
			q.Trade, q.Material, q.Mark, q.Part, number(float64(q.Gross), 2), number(float64(q.Net), 2), number(float64(q.Covered), 2), number(float64(q.Buy), 2),
			number(float64(q.Volume), 3), number(float64(q.Length), 2), number(float64(q.Tape), 2), number(float64(q.Mass), 0), whole(q.Sheets), whole(q.Rolls), whole(q.Pieces),
			number(100*float64(q.Waste), 1), number(q.Lap, 4), q.Source, buyWords(q, s), unitsWords(q, s), q.Note,
		})
	}
	return asCSV(rows)
}

// PrintTakeoff prints a takeoff in words, a block for each trade.
func PrintTakeoff(w io.Writer, t *building.Takeoff, s units.System) error {
	out := tabwriter.NewWriter(w, 0, 0, 3, ' ', 0)
	trade := ""
	for i := range t.List {
		q := &t.List[i]
		if i == 0 || q.Trade != trade {
			trade = q.Trade
			fmt.Fprintf(out, "%s\n", trade)
		}
		fmt.Fprintf(out, "  %s\t%s %s\t%s net\t%s to buy\t%s\t%s\n", q.Material, q.Mark, q.Part, netWords(q, s), buyWords(q, s), unitsWords(q, s), q.Source)
	}
	if err := out.Flush(); err != nil {
		return err
	}
	for _, m := range t.Missing {
		fmt.Fprintf(w, "not counted: %s: %s\n", m.Mark, m.Why)
	}
	for _, l := range t.Limits {
		fmt.Fprintln(w, l)
	}
	return nil
}
