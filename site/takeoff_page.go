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
		out.Rows = append(out.Rows, []page.Cell{{Text: capital(name)}, show(x.area > 0, buyArea(x.area, s)), show(x.volume > 0, buyVolume(x.volume, s)), run(x.length), pieces})
	}
	return out
}

func wasteOf(q *building.Quantity) string { return fmt.Sprintf("%.0f %%", 100*float64(q.Waste)) }

func netWords(q *building.Quantity, s units.System) string {
	switch {
	case q.Covered > 0:
		return q.Covered.Show(s)
	case q.Length > 0 && q.Volume == 0:
		return (q.Length / (1 + units.Length(q.Waste))).ShowStated(s)
	case q.Pieces > 0:
		return strconv.Itoa(q.Pieces)
	}
	return "–"
}

func buyWords(q *building.Quantity, s units.System) string {
	switch {
	case q.Form == takeoff.Volume && q.Volume > 0:
		return buyVolume(q.Volume, s).Show(s)
	case q.Buy > 0:
		return buyArea(q.Buy, s).Show(s)
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

// What is to be bought is rounded up to three significant digits, in the unit in
// which it is shown: laps and waste are known no better.
func roundedUp[Q ~float64](q, unit Q, s units.System) Q {
	if s == units.Metric {
		unit = 1
	}
	return Q(units.RoundUp(float64(q/unit))) * unit
}

const foot units.Length = 0.3048

func buyArea(a units.Area, s units.System) units.Area { return roundedUp(a, units.Area(foot*foot), s) }

func buyVolume(v units.Volume, s units.System) units.Volume {
	return roundedUp(v, units.Volume(foot*foot*foot), s)
}

func buyMass(m units.Mass, s units.System) units.Mass { return roundedUp(m, 0.45359237, s) }

// runOf prints a length to be bought, rounded up: from 10 ft or 1 m on to three
// significant digits and no finer than a foot, below to the inch or centimetre.
func runOf(l units.Length, s units.System) string {
	up := func(step units.Length) units.Length {
		return units.Length(math.Ceil(float64(l/step)-1e-9)) * step
	}
	switch {
	case s == units.Metric && l < 1:
		return up(0.01).Show(s)
	case s == units.Inch && l < 10*foot:
		return up(foot / 12).Show(s)
	case s == units.Inch:
		return units.Figure(units.RoundUp(float64(up(foot)/foot)), 0) + " ft"
	}
	return units.Figure(units.RoundUp(float64(l)), 2) + " m"
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
		words = append(words, units.Figure(units.RoundUp(float64(q.Volume)/yard), 2)+" cu yd")
	}
	if q.Hatch == material.LooseFill && q.Mass > 0 {
		words = append(words, buyMass(q.Mass, s).Show(s)+" in bags")
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

// TakeoffCSV is a takeoff as comma-separated values, in SI to three significant
// digits and in the library's own words.
func (l *Library) TakeoffCSV(t *building.Takeoff) []byte {
	s := l.lib.Settings.Units
	rows := [][]string{{"trade", "material", "mark", "part", "gross m2", "net m2", "covered m2", "buy m2", "volume m3", "length m", "tape m", "mass kg", "sheets", "rolls", "pieces", "waste %", "lap factor", "source", "to buy", "units", "note"}}
	number := func(v float64) string { // three significant digits, no commas
		v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 3, 64), 64)
		return plainNumber(v)
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
			q.Trade, q.Material, q.Mark, q.Part, number(float64(q.Gross)), number(float64(q.Net)), number(float64(q.Covered)), number(units.RoundUp(float64(q.Buy))),
			number(units.RoundUp(float64(q.Volume))), number(units.RoundUp(float64(q.Length))), number(units.RoundUp(float64(q.Tape))), number(units.RoundUp(float64(q.Mass))), whole(q.Sheets), whole(q.Rolls), whole(q.Pieces),
			plainNumber(100 * float64(q.Waste)), plainNumber(q.Lap), q.Source, buyWords(q, s), unitsWords(q, s), q.Note,
		})
	}
	return asCSV(rows)
}

// plainNumber prints a number without commas: "5", "1.05"; nothing for 0.
func plainNumber(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64)
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
		net := netWords(q, s)
		if net != "–" {
			net += " net"
		}
		fmt.Fprintf(out, "  %s\t%s %s\t%s\t%s to buy\t%s\t%s\n", q.Material, q.Mark, q.Part, net, buyWords(q, s), unitsWords(q, s), q.Source)
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
