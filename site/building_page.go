package site

import (
	"fmt"
	"sort"

	"wythe/renderer/building"
	"wythe/renderer/drawing"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/energy"
	"wythe/renderer/trace"
	"wythe/renderer/units"
	"wythe/site/page"
)

func takeoffHref(e *entry) string { return e.href[:len(e.href)-len("index.html")] + "takeoff.html" }
func takeoffCSV(e *entry) string  { return e.href[:len(e.href)-len("index.html")] + "takeoff.csv" }

// readBuilding records all that a building is made of.
func (v view) readBuilding(e *entry, b *built) {
	v.View.Settings()
	v.View.Climate()
	v.read(e)
	bd := e.d.Building
	for _, a := range bd.Areas {
		v.View.Detail(a.Mark)
	}
	for _, l := range bd.Lengths {
		v.View.Detail(l.Mark)
	}
	for _, mark := range sortedKeys(bd.Pins) {
		v.pinned(mark, bd.Pins[mark])
	}
}

// pinned records which versions a revision was issued in.
func (v view) pinned(mark, rev string) {
	var parts []string
	for _, x := range v.past().issued[issueKey{mark, rev}] {
		parts = append(parts, x.Hash, x.Path)
	}
	v.reads.Record("pin/"+mark+"/"+rev, trace.Hash(parts...))
}

// buildingPage fills a building's page: where its heat goes, what an inch
// saves, what meets without a junction, and its details.
func (v view) buildingPage(e *entry) printed {
	p := v.textPage(e)
	if e.broken {
		return p
	}
	b := v.built(e)
	v.readBuilding(e, b)
	d := e.d
	system := v.View.Settings().Units
	t := &page.Tables{Frame: p.Frame, Body: p.Body, References: p.References, Revisions: p.Revisions, Notices: b.notes}
	t.Lead = buildingLead(d.Building, system)
	c := b.context()
	budget := building.Solve(c, d)
	for i := range budget.Lines {
		if l := &budget.Lines[i]; l.Kind == building.Junction {
			if x := b.detail(l.Mark); x != nil {
				l.Name = x.Title
			}
		}
	}
	t.Sections = append(t.Sections, v.budgetSection(budget, system))
	if s := v.totalsSection(budget, system); len(s.Rows) > 0 {
		t.Sections = append(t.Sections, s)
	}
	if s := v.savingsSection(building.Savings(c, d), budget, system); len(s.Rows) > 0 {
		t.Sections = append(t.Sections, s)
	}
	if s := v.leftOutSection(budget); len(s.Rows) > 0 {
		t.Sections = append(t.Sections, s)
	}
	t.Sections = append(t.Sections, methodSection(budget, system))
	if s := v.unjoinedSection(building.Unjoined(d, b.detail)); len(s.Rows) > 0 {
		t.Sections = append(t.Sections, s)
	}
	t.Sections = append(t.Sections, v.usesSection(e, b, system))
	t.Files = []page.Link{{Href: takeoffHref(e), Text: "Takeoff", Note: "quantities by trade and material"}, {Href: takeoffCSV(e), Text: "takeoff.csv", Note: "the same for spreadsheets"}}
	return t
}

// wattsPerKelvin prints a coupling. It and the figures below have three
// significant digits at most: U-factors and areas have no more.
func wattsPerKelvin(v float64, s units.System) string {
	if s == units.Metric {
		return units.Figure(v, 2) + " W/K"
	}
	const perBtu = 0.52752793 // W/K in Btu/(h·°F)
	return units.Figure(v/perBtu, 1) + " Btu/h·°F"
}

func watts(v float64, s units.System) string {
	if s == units.Metric {
		return units.Whole(v) + " W"
	}
	return units.Whole(units.BtuPerHour(v)) + " Btu/h"
}

func heatOf(h energy.Heat, s units.System) string {
	if s == units.Metric {
		return units.Whole(h.KilowattHours()) + " kWh"
	}
	return units.Figure(h.Btu()/1e6, 2) + " MMBtu"
}

func (v view) budgetSection(b *building.Budget, system units.System) page.TableSection {
	s := page.TableSection{ID: "heat", Title: "Where the heat goes", Small: "The most in a year first",
		Heads: []page.Head{{Text: "By way of"}, {Text: "How much", Figures: true}, {Text: "U or Ψ", Figures: true}, {Text: "Per degree", Figures: true}, {Text: "Design day", Figures: true}, {Text: "A year", Figures: true}, {Text: "Share", Figures: true}}}
	for _, l := range b.Lines {
		name := page.Cell{Text: capital(l.Name), Sub: l.Note}
		if to := v.link(l.Mark); l.Mark != "" && to != nil {
			name = page.Cell{Text: l.Mark, Href: to.Href, Sub: l.Name}
			if l.Note != "" {
				name.Sub += ". " + capital(l.Note)
			}
		}
		much, per := "–", "–"
		switch {
		case l.Kind == building.Opening:
			much, per = l.Area.Show(system), l.Transmittance.ShowStated(system)
		case l.Area > 0:
			much, per = l.Area.Show(system), l.Transmittance.Show(system)
		case l.Length > 0:
			much, per = l.Length.ShowStated(system), l.Linear.Show(system)
		case l.Volume > 0:
			much, per = l.Volume.Show(system), b.Natural.Show(system)
		}
		s.Rows = append(s.Rows, []page.Cell{name, {Text: much}, {Text: per}, {Text: wattsPerKelvin(l.WPerK, system)}, {Text: watts(l.DesignW, system)}, {Text: heatOf(l.Year, system)}, {Text: percent(l.Share)}})
	}
	s.Foot = []page.Cell{{Text: "Together"}, {}, {}, {Text: wattsPerKelvin(b.WPerK, system)}, {Text: watts(b.DesignW, system)}, {Text: heatOf(b.Year, system)}, {Text: "100 %"}}
	if picture := heatPicture(b, system, drawing.Wide); picture != nil {
		s.Picture = inline(picture, svg.Options{Prefix: "h"})
		s.Phone = inline(heatPicture(b, system, drawing.Phone), svg.Options{Prefix: "hp"})
	}
	return s
}

func percent(share float64) string {
	if share > -0.005 && share < 0 {
		share = 0
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

func (v view) totalsSection(b *building.Budget, system units.System) page.TableSection {
	s := page.TableSection{ID: "money", Title: "Fuel and money in a year", Heads: []page.Head{{Text: "Fuel"}, {Text: "Heat", Figures: true}, {Text: "Efficiency", Figures: true}, {Text: "Fuel used", Figures: true}, {Text: "Money", Figures: true}}}
	names := v.View.Settings().Energy
	for i, c := range b.Costs {
		name := c.Fuel
		if i < len(names) {
			name = names[i].Name
		}
		s.Rows = append(s.Rows, []page.Cell{{Text: capital(name)}, {Text: heatOf(b.Year, system)}, {Text: c.Efficiency.Percent()}, {Text: units.Whole(c.Units) + " " + c.Unit}, {Text: units.Whole(c.Money)}})
	}
	if b.NoClimate {
		return s
	}
	s.Words = append(s.Words, fmt.Sprintf("%s inside, %s on the design day; %s.", b.Inside.Show(system), b.Outside.Show(system), degreeDays(b.DegreeDays, system)))
	s.Words = append(s.Words, "Loss alone: gains of sun and use are not in it. "+energy.Undercount)
	return s
}

func degreeDays(d energy.DegreeDays, system units.System) string {
	if system == units.Metric {
		return fmt.Sprintf("%s K·d below %.1f °C", units.Whole(float64(d)), float64(energy.UsualBase))
	}
	return units.Whole(d.Fahrenheit()) + " degree-days below 65 °F"
}

func (v view) savingsSection(list []building.Saving, b *building.Budget, system units.System) page.TableSection {
	more := "one more inch"
	if system == units.Metric {
		more = building.More(system).Show(system) + " more"
	}
	s := page.TableSection{ID: "inch", Title: "What " + more + ", or a mended junction, saves", Small: "A year, the most first",
		Heads: []page.Head{{Text: "In"}, {Text: "What"}, {Text: "Per degree", Figures: true}, {Text: "Heat", Figures: true}, {Text: "Money", Figures: true}}}
	for _, x := range list {
		in := page.Cell{Text: x.Mark}
		if to := v.link(x.Mark); to != nil {
			in.Href = to.Href
		}
		money := "–"
		if len(b.Costs) > 0 {
			money = units.Figure(x.Money, 1)
		}
		s.Rows = append(s.Rows, []page.Cell{in, {Text: x.What}, {Text: wattsPerKelvin(x.WPerK, system)}, {Text: heatOf(x.Heat, system)}, {Text: money}})
	}
	return s
}

func (v view) leftOutSection(b *building.Budget) page.TableSection {
	s := page.TableSection{ID: "left-out", Title: "What is not in the budget", Heads: []page.Head{{Text: "What"}, {Text: "Why"}}}
	rows := map[string]int{} // by reason
	for _, m := range b.Missing {
		link := page.Link{Text: m.Key}
		to := v.link(m.Key)
		if to == nil {
			s.Rows = append(s.Rows, []page.Cell{{Text: capital(m.Key)}, {Text: m.Why}})
			continue
		}
		link.Href = to.Href
		if at, known := rows[m.Why]; known {
			s.Rows[at][0].Links = append(s.Rows[at][0].Links, link)
			continue
		}
		rows[m.Why] = len(s.Rows)
		s.Rows = append(s.Rows, []page.Cell{{Links: []page.Link{link}}, {Text: m.Why}})
	}
	for _, n := range b.Notes {
		s.Rows = append(s.Rows, []page.Cell{{Text: "Taken"}, {Text: n}})
	}
	return s
}

// methodSection says how the budget is worked out, and from what.
func methodSection(b *building.Budget, system units.System) page.TableSection {
	s := page.TableSection{ID: "methods", Title: "How it is worked out", Heads: []page.Head{{Text: "What"}, {Text: "How, or how much"}, {Text: "From"}}}
	for _, m := range building.Methods(system) {
		s.Rows = append(s.Rows, []page.Cell{{Text: m.Name}, {Text: m.Says}, {Text: "–"}})
	}
	for _, in := range b.Inputs {
		s.Rows = append(s.Rows, []page.Cell{{Text: capital(in.Name)}, {Text: in.Value}, {Text: source(in.Source)}})
	}
	return s
}

func (v view) unjoinedSection(pairs []building.Pair) page.TableSection {
	s := page.TableSection{ID: "unjoined", Title: "Elements without a junction", Small: plural(len(pairs), "pair"),
		Words: []string{"Of kinds that meet, with no junction among the lengths that lays both. Add the junction; or, where the two do not touch, say so under “apart”."},
		Heads: []page.Head{{Text: "Element"}, {Text: "Meets"}}}
	for _, p := range pairs {
		var row []page.Cell
		for _, m := range [2]string{p.A, p.B} {
			c := page.Cell{Text: m}
			if to := v.link(m); to != nil {
				c.Href, c.Sub = to.Href, to.Note
			}
			row = append(row, c)
		}
		s.Rows = append(s.Rows, row)
	}
	return s
}

// usesSection lists the details of a building, in the revisions it pins.
func (v view) usesSection(e *entry, b *built, system units.System) page.TableSection {
	s := page.TableSection{ID: "details", Title: "Details of the building", Heads: []page.Head{{Text: "Mark"}, {Text: "Title"}, {Text: "How much", Figures: true}, {Text: "Issued with"}}}
	bd := e.d.Building
	row := func(mark, how string) {
		c := page.Cell{Text: mark}
		title := ""
		if to := v.link(mark); to != nil {
			c.Href, title = to.Href, to.Note
		}
		pin := page.Cell{Text: "as it stands"}
		if rev, pinned := bd.Pins[mark]; pinned {
			pin = page.Cell{Text: "rev " + rev, Href: v.held(mark, rev)}
			for _, m := range b.moved {
				if m == mark {
					pin.Sub = "the library is at rev " + v.lib.Detail(mark).Revisions[0].Rev
				}
			}
		}
		s.Rows = append(s.Rows, []page.Cell{c, {Text: title}, {Text: how}, pin})
	}
	for _, a := range bd.Areas {
		how := a.Area.Show(system)
		if net := building.NetArea(bd, a); net != a.Area {
			how += ", net " + net.Show(system)
		}
		row(a.Mark, how)
	}
	for _, l := range bd.Lengths {
		row(l.Mark, l.Length.ShowStated(system))
	}
	return s
}

func sortedKeys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}
