// Package codes compares an element with the office's targets and with the
// prescriptive minimums of energy codes by climate zone.
//
// The adopted edition varies from place to place: every figure here carries its
// edition, and the local authority decides. This package knows no file,
// drawing or page.
package codes

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Flag stands beside every figure of this package.
const Flag = "Adopted editions vary: verify the edition with the local authority, and defer to the local code."

// Component is a column of the tables.
type Component string

// The components.
const (
	Ceiling      Component = "ceiling"
	WoodWall     Component = "wood-framed wall"
	MassWall     Component = "mass wall"
	Floor        Component = "floor"
	BasementWall Component = "basement wall"
	Slab         Component = "slab"
	CrawlWall    Component = "crawl-space wall"
)

// Zones are the rows of the tables.
var Zones = []string{"1", "2", "3", "4 except Marine", "5 and Marine 4", "6", "7 and 8"}

// Table is one table of an edition.
type Table struct {
	ID, Edition, Section string
	UFactors             bool // greatest U-factors; else least R-values
	Source               basis.Source
	Rows                 []Row // in the order of Zones
}

// Row is a zone.
type Row struct {
	Zone  string
	Cells []Cell
}

// Cell is one minimum as the table writes it: "20+5ci".
type Cell struct {
	Component Component
	Written   string
}

// Tables returns all tables, newest edition first. They are not to be changed.
func Tables() []Table { return tables }

// Fact is what a code says beside the tables.
type Fact struct {
	ID, Title, Unit string
	Source          basis.Source
	Confidence      string // empty: high
	Lines           []Line
}

// Line is one figure of a fact.
type Line struct{ Name, Value, Unit string }

// FactByID returns a fact.
func FactByID(id string) (Fact, bool) {
	for _, f := range facts {
		if f.ID == id {
			return f, true
		}
	}
	return Fact{}, false
}

// ZoneRow returns the row of Zones for a climate zone as it is written: 5, 5A,
// 4C, marine 4, 8.
//
// Errors: *[units.RangeError] for a zone without a row.
func ZoneRow(zone string) (string, error) {
	z := strings.ToUpper(strings.TrimSpace(zone))
	for _, known := range Zones {
		if strings.EqualFold(known, z) {
			return known, nil
		}
	}
	marine := strings.Contains(z, "MARINE") || strings.HasSuffix(z, "C")
	z = strings.TrimSpace(strings.NewReplacer("MARINE", "", "ZONE", "").Replace(z))
	number := strings.TrimRight(z, "ABC")
	switch {
	case number == "4" && marine:
		return "5 and Marine 4", nil
	case number == "4":
		return "4 except Marine", nil
	case number == "5":
		return "5 and Marine 4", nil
	case number == "7" || number == "8":
		return "7 and 8", nil
	case number == "1" || number == "2" || number == "3" || number == "6":
		return number, nil
	}
	return "", &units.RangeError{Quantity: fmt.Sprintf("climate zone %q", zone), Says: "must be 1 to 8, with A, B or C"}
}

// Option is one way to meet a minimum: cavity and continuous insulation, both
// at least what is written.
type Option struct {
	Cavity, Continuous units.RValue
	Written            string
	// Depth of slab insulation from the top of the slab; 0: not stated.
	Depth units.Length
	// MostlyInside: holds where more than half of a mass wall's insulation is inside.
	MostlyInside bool
}

// Options reads a cell into the ways to meet it.
//
// "30" is cavity (or, of a slab, continuous) insulation, "20+5ci" both, "10ci"
// continuous alone; "10/13" of a basement or crawl-space wall continuous or
// cavity; "8/13" of a mass wall the second figure where more than half of the
// insulation is inside; "10ci, 4 ft" a slab's depth.
// It panics on a cell that is not of these forms: the tables are ours.
func (c Cell) Options() []Option {
	var out []Option
	for _, written := range strings.Split(c.Written, " or ") {
		text, depth, deep := strings.Cut(written, ", ")
		o := Option{Written: written}
		if deep {
			o.Depth = units.Feet(number(strings.TrimSuffix(depth, " ft")))
		}
		if first, second, two := strings.Cut(text, "/"); two {
			a, b := units.RValue(number(first)), units.RValue(number(second))
			if c.Component == MassWall {
				out = append(out, Option{Continuous: a, Written: first}, Option{Continuous: b, Written: second, MostlyInside: true})
			} else {
				out = append(out, Option{Continuous: a, Written: first + "ci"}, Option{Cavity: b, Written: second})
			}
			continue
		}
		first, second, both := strings.Cut(text, "+")
		switch {
		case both:
			o.Cavity, o.Continuous = units.RValue(number(first)), units.RValue(number(strings.TrimSuffix(second, "ci")))
		case strings.HasSuffix(text, "ci") || c.Component == Slab:
			o.Continuous = units.RValue(number(strings.TrimSuffix(text, "ci")))
		default:
			o.Cavity = units.RValue(number(text))
		}
		out = append(out, o)
	}
	return out
}

// Greatest reads a cell of a table of U-factors.
func (c Cell) Greatest() units.UFactor { return units.UFactor(number(c.Written)) }

func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic("codes: a table holds " + strconv.Quote(s))
	}
	return v
}

// Verdict is a comparison with one target or minimum.
type Verdict struct {
	Passes  bool
	Have    float64 // in Unit
	Want    float64 // in Unit
	Unit    string
	AtLeast bool    // Want is the least; else the greatest
	By      float64 // in Unit: how far beyond (passing) or short of it; never negative
	Words   string  // "passes by R 2.1", "short by R 2.1"
}

// compare allows what a figure loses through SI and back, and no more.
func compare(have, want float64, atLeast bool, unit, format string) Verdict {
	const rounding = 1e-9
	v := Verdict{Have: have, Want: want, AtLeast: atLeast, Unit: unit, By: math.Abs(have - want)}
	slack := rounding * math.Abs(want)
	if v.Passes = have >= want-slack; !atLeast {
		v.Passes = have <= want+slack
	}
	word := "short by "
	switch {
	case v.Passes:
		word = "passes by "
	case !atLeast:
		word = "over by "
	}
	v.Words = word + fmt.Sprintf(format, v.By)
	return v
}

// CompareR compares a resistance with the least allowed, in R.
func CompareR(have, want units.ThermalResistance) Verdict {
	return compare(float64(have.RValue()), float64(want.RValue()), true, "h·ft²·°F/Btu", "R %.1f")
}

// CompareU compares a transmittance with the greatest allowed, in U-factor.
func CompareU(have, want units.ThermalTransmittance) Verdict {
	return compare(float64(have.UFactor()), float64(want.UFactor()), false, "Btu/(h·ft²·°F)", "U %.4f")
}

// CompareFactor compares a temperature factor with the least allowed.
func CompareFactor(have, want float64) Verdict {
	return compare(have, want, true, "", "%.3f")
}

// Insulation is what an element has, for tables of R-values.
type Insulation struct {
	Cavity, Continuous units.RValue
	MostlyInside       bool         // of a mass wall
	Depth              units.Length // of slab insulation; 0: under all of it
}

// ZoneVerdict is an element against one zone's minimum.
type ZoneVerdict struct {
	Table   *Table
	Zone    string
	Written string  // the minimum as the table has it
	Option  *Option // the one met, or the nearest; nil for U-factors
	Verdict
}

// AgainstU compares an element's U with a table of U-factors, zone by zone.
//
// Errors: *[basis.MissingError] where the table has no such column.
func (t *Table) AgainstU(c Component, u units.ThermalTransmittance) ([]ZoneVerdict, error) {
	if !t.UFactors {
		panic("codes: AgainstU on a table of R-values")
	}
	return t.against(c, func(cell Cell) (Verdict, *Option) { return CompareU(u, cell.Greatest().SI()), nil })
}

// AgainstR compares an element's insulation with a table of R-values, zone by
// zone: an option is met where each of its two parts is; the one least short
// is shown where none is. Of ceilings and floors all insulation counts as one.
//
// Errors: *[basis.MissingError] where the table has no such column.
func (t *Table) AgainstR(c Component, have Insulation) ([]ZoneVerdict, error) {
	if t.UFactors {
		panic("codes: AgainstR on a table of U-factors")
	}
	if c == Ceiling || c == Floor {
		have.Cavity, have.Continuous = have.Cavity+have.Continuous, 0
	}
	return t.against(c, func(cell Cell) (Verdict, *Option) {
		var best Verdict
		var option *Option
		options := cell.Options()
		for i := range options {
			o := &options[i]
			if c == MassWall && o.MostlyInside != have.MostlyInside {
				continue
			}
			v := o.met(have)
			if option == nil || v.Passes && !best.Passes || v.Passes == best.Passes && !v.Passes && v.By < best.By {
				best, option = v, o
			}
		}
		return best, option
	})
}

// met compares insulation with an option; By is the greater of the two shortfalls.
func (o *Option) met(have Insulation) Verdict {
	cavity := compare(float64(have.Cavity), float64(o.Cavity), true, "h·ft²·°F/Btu", "R %.1f")
	continuous := compare(float64(have.Continuous), float64(o.Continuous), true, "h·ft²·°F/Btu", "R %.1f")
	worst, what := cavity, "cavity"
	if o.Cavity == 0 || !continuous.Passes && (cavity.Passes || continuous.By > cavity.By) {
		worst, what = continuous, "continuous"
	}
	if o.Depth > 0 && have.Depth > 0 && have.Depth < o.Depth*(1-1e-9) {
		worst.Passes, worst.Words = false, fmt.Sprintf("insulation reaches %.1f ft; the table asks for %.0f ft", have.Depth.Inches()/12, o.Depth.Inches()/12)
		return worst
	}
	worst.Words += " " + what
	return worst
}

func (t *Table) against(c Component, judge func(Cell) (Verdict, *Option)) ([]ZoneVerdict, error) {
	var out []ZoneVerdict
	for _, row := range t.Rows {
		for _, cell := range row.Cells {
			if cell.Component == c {
				v, o := judge(cell)
				out = append(out, ZoneVerdict{Table: t, Zone: row.Zone, Written: cell.Written, Option: o, Verdict: v})
			}
		}
	}
	if len(out) == 0 {
		return nil, &basis.MissingError{Method: t.Edition + " " + t.Section, Quantity: "column for a " + string(c)}
	}
	return out, nil
}

// TableByID returns a table.
func TableByID(id string) (*Table, bool) {
	for i := range tables {
		if tables[i].ID == id {
			return &tables[i], true
		}
	}
	return nil, false
}

// Trace says what a comparison rests on.
func (t *Table) Trace() basis.Trace {
	return basis.Trace{
		Method: basis.Method{Name: t.Edition, Clause: t.Section, Says: "Prescriptive minimums by climate zone."},
		Inputs: []basis.Input{{Name: "table", Value: t.Section, Source: t.Source}},
		Limits: []string{Flag},
	}
}
