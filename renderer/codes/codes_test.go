package codes

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"wythe/renderer/basis"
	"wythe/renderer/published"
	"wythe/renderer/units"
)

type publishedCase struct {
	ID, Source, Provenance, Flag, Confidence string
	Values                                   yaml.Node
}

func read(t testing.TB) (zones []string, flag string, cases []publishedCase) {
	t.Helper()
	var file struct {
		Flag  string
		Zones []string
		Cases []publishedCase
	}
	published.Decode(t, "codes.yaml", &file)
	return file.Zones, file.Flag, file.Cases
}

// notPublished are cases of low confidence, not for pass or fail, and loads,
// which stand in the bearing tables.
var notPublished = []string{"iecc-2024-r", "class-ii-ci", "loads"}

var columns = map[string]Component{"ceiling": Ceiling, "wood_wall": WoodWall, "mass_wall": MassWall, "floor": Floor, "basement_wall": BasementWall, "slab": Slab, "crawl_wall": CrawlWall}

// Every published number stands in the tables or the facts, and nothing else does.
func TestPublished(t *testing.T) {
	zones, _, cases := read(t)
	if !slices.Equal(zones, Zones) {
		t.Errorf("zones %v; want %v", Zones, zones)
	}
	seen := 0
	for _, c := range cases {
		if slices.Contains(notPublished, c.ID) {
			if _, ok := TableByID(c.ID); ok {
				t.Errorf("%s is not to be published", c.ID)
			}
			if _, ok := FactByID(c.ID); ok {
				t.Errorf("%s is not to be published", c.ID)
			}
			continue
		}
		seen++
		t.Logf("%s: %s (%s)", c.ID, c.Source, c.Provenance)
		wantKind := map[string]basis.Kind{"read": basis.Declared, "memory": basis.FromMemory}[c.Provenance]
		if table, ok := TableByID(c.ID); ok {
			if table.Source.Text != c.Source || table.Source.Kind != wantKind {
				t.Errorf("%s: source %+v; want %q, %s", c.ID, table.Source, c.Source, wantKind)
			}
			sameTable(t, table, c)
			continue
		}
		fact, ok := FactByID(c.ID)
		if !ok {
			t.Errorf("%s is missing", c.ID)
			continue
		}
		if fact.Source.Text != c.Source || fact.Source.Kind != wantKind {
			t.Errorf("%s: source %+v; want %q, %s", c.ID, fact.Source, c.Source, wantKind)
		}
		var got []string
		for _, l := range fact.Lines {
			got = append(got, l.Value)
		}
		if want := leaves(c.ID, &c.Values); !slices.Equal(got, want) {
			t.Errorf("%s: %q; want %q", c.ID, got, want)
		}
	}
	if seen != len(tables)+len(facts) {
		t.Errorf("%d published cases; %d tables and %d facts here", seen, len(tables), len(facts))
	}
}

// leaves are the values of a fact, in order; lists of a key as one.
func leaves(id string, n *yaml.Node) (out []string) {
	switch {
	case n.Kind == yaml.MappingNode:
		for i := 0; i < len(n.Content); i += 2 {
			key, v := n.Content[i].Value, n.Content[i+1]
			if key == "class" && id == "vapor-classes" || key == "zones" {
				continue
			}
			if v.Kind == yaml.SequenceNode {
				var parts []string
				for _, p := range v.Content {
					parts = append(parts, p.Value)
				}
				out = append(out, strings.ReplaceAll(strings.Join(parts, ", "), "aluminium", "aluminum"))
				continue
			}
			out = append(out, leaves(id, v)...)
		}
	case n.Kind == yaml.SequenceNode:
		for _, row := range n.Content {
			if row.Kind == yaml.SequenceNode {
				for _, cell := range row.Content[1:] {
					out = append(out, cell.Value)
				}
				continue
			}
			out = append(out, leaves(id, row)...)
		}
	default:
		out = append(out, n.Value)
	}
	return out
}

func sameTable(t *testing.T, table *Table, c publishedCase) {
	t.Helper()
	if len(table.Rows) != len(c.Values.Content) {
		t.Fatalf("%s: %d rows; want %d", c.ID, len(table.Rows), len(c.Values.Content))
	}
	for i, row := range c.Values.Content {
		cells := 0
		for k := 0; k < len(row.Content); k += 2 {
			key, v := row.Content[k].Value, row.Content[k+1]
			if key == "zone" {
				if table.Rows[i].Zone != v.Value || v.Value != Zones[i] {
					t.Errorf("%s: row %d is zone %q; want %q", c.ID, i, table.Rows[i].Zone, v.Value)
				}
				continue
			}
			want := v.Value
			if v.Kind == yaml.SequenceNode {
				var parts []string
				for _, p := range v.Content {
					parts = append(parts, p.Value)
				}
				want = strings.Join(parts, " or ")
			}
			if cell := table.Rows[i].Cells[cells]; cell.Component != columns[key] || cell.Written != want {
				t.Errorf("%s: zone %s %s: %+v; want %q", c.ID, table.Rows[i].Zone, key, cell, want)
			}
			cells++
		}
		if cells != len(table.Rows[i].Cells) {
			t.Errorf("%s: row %d has %d cells; want %d", c.ID, i, len(table.Rows[i].Cells), cells)
		}
	}
}

func TestOptions(t *testing.T) {
	for _, c := range []struct {
		cell Cell
		want []Option
	}{
		{Cell{WoodWall, "20 or 13+5ci or 0+15ci"}, []Option{{Cavity: 20, Written: "20"}, {Cavity: 13, Continuous: 5, Written: "13+5ci"}, {Continuous: 15, Written: "0+15ci"}}},
		{Cell{WoodWall, "20+5 or 13+10"}, []Option{{Cavity: 20, Continuous: 5, Written: "20+5"}, {Cavity: 13, Continuous: 10, Written: "13+10"}}},
		{Cell{MassWall, "8/13"}, []Option{{Continuous: 8, Written: "8"}, {Continuous: 13, Written: "13", MostlyInside: true}}},
		{Cell{BasementWall, "10/13"}, []Option{{Continuous: 10, Written: "10ci"}, {Cavity: 13, Written: "13"}}},
		{Cell{BasementWall, "15ci or 19 or 13+5ci"}, []Option{{Continuous: 15, Written: "15ci"}, {Cavity: 19, Written: "19"}, {Cavity: 13, Continuous: 5, Written: "13+5ci"}}},
		{Cell{Slab, "10ci, 4 ft"}, []Option{{Continuous: 10, Written: "10ci, 4 ft", Depth: units.Feet(4)}}},
		{Cell{Slab, "10"}, []Option{{Continuous: 10, Written: "10"}}},
	} {
		if got := c.cell.Options(); !slices.Equal(got, c.want) {
			t.Errorf("%+v: %+v; want %+v", c.cell, got, c.want)
		}
	}
	// Every cell of every table can be read.
	for _, table := range tables {
		for _, row := range table.Rows {
			for _, cell := range row.Cells {
				if table.UFactors {
					if u := cell.Greatest(); !(u > 0 && u < 1) {
						t.Errorf("%s %s: U %v", table.ID, row.Zone, u)
					}
				} else if len(cell.Options()) == 0 {
					t.Errorf("%s %s: %q has no option", table.ID, row.Zone, cell.Written)
				}
			}
		}
	}
}

func TestZoneRow(t *testing.T) {
	for zone, want := range map[string]string{"1": "1", "2A": "2", "4A": "4 except Marine", "4C": "5 and Marine 4", "Marine 4": "5 and Marine 4", "zone 5": "5 and Marine 4", "6b": "6", "7": "7 and 8", "8": "7 and 8", "4 except Marine": "4 except Marine"} {
		if got, err := ZoneRow(zone); err != nil || got != want {
			t.Errorf("%s: %q, %v; want %q", zone, got, err, want)
		}
	}
	var out *units.RangeError
	if _, err := ZoneRow("9"); !errors.As(err, &out) {
		t.Errorf("zone 9: %v; want a *units.RangeError", err)
	}
}

func TestCompare(t *testing.T) {
	v := CompareR(units.RValue(30).SI(), units.RValue(28).SI())
	if !v.Passes || math.Abs(v.By-2) > 1e-9 || v.Words != "passes by R 2.0" {
		t.Errorf("%+v", v)
	}
	if v = CompareR(units.RValue(28).SI(), units.RValue(28).SI()); !v.Passes {
		t.Errorf("%+v: the target itself passes", v)
	}
	if v = CompareU(units.UFactor(0.05).SI(), units.UFactor(0.045).SI()); v.Passes || v.Words != "over by U 0.0050" {
		t.Errorf("%+v", v)
	}
	if v = CompareFactor(0.7, 0.75); v.Passes || v.Words != "short by 0.050" {
		t.Errorf("%+v", v)
	}
}

func TestAgainstTables(t *testing.T) {
	u, _ := TableByID("iecc-2021-u")
	got, err := u.AgainstU(WoodWall, units.UFactor(0.05).SI())
	if err != nil || len(got) != len(Zones) {
		t.Fatalf("%v, %v", got, err)
	}
	for i, want := range []bool{true, true, true, false, false, false, false} {
		if got[i].Passes != want {
			t.Errorf("zone %s: %+v", got[i].Zone, got[i].Verdict)
		}
	}
	r, _ := TableByID("iecc-2021-r")
	for _, c := range []struct {
		have   Insulation
		part   Component
		zone   int
		passes bool
		option string
	}{
		{Insulation{Cavity: 21, Continuous: 5}, WoodWall, 4, true, "20+5ci"},
		{Insulation{Cavity: 15, Continuous: 9}, WoodWall, 4, false, "13+10ci"},
		{Insulation{Cavity: 19, Continuous: 0}, WoodWall, 0, true, "13"},
		{Insulation{Continuous: 13}, MassWall, 4, true, "13"},
		{Insulation{Continuous: 13, MostlyInside: true}, MassWall, 4, false, "17"},
		{Insulation{Continuous: 10, Depth: units.Feet(2)}, Slab, 4, false, "10ci, 4 ft"},
		{Insulation{Continuous: 10}, Slab, 4, true, "10ci, 4 ft"},
		{Insulation{Cavity: 30, Continuous: 19}, Ceiling, 1, true, "49"},
	} {
		got, err := r.AgainstR(c.part, c.have)
		if err != nil || got[c.zone].Passes != c.passes || got[c.zone].Option.Written != c.option {
			t.Errorf("%+v: %+v, %v; want %v by %s", c, got[c.zone], err, c.passes, c.option)
		}
	}
	var missing *basis.MissingError
	if _, err := u.AgainstU(CrawlWall, 0.3); !errors.As(err, &missing) {
		t.Errorf("%v; want what is missing", err)
	}
	if trace := r.Trace(); len(trace.Limits) != 1 || trace.Limits[0] != Flag {
		t.Errorf("%+v", trace)
	}
}

// The published flag of every case is the one that pages print.
func TestFlag(t *testing.T) {
	_, flag, cases := read(t)
	if !strings.Contains(flag, "adopted edition varies") || !strings.Contains(Flag, "Adopted editions vary") || !strings.Contains(Flag, "defer to the local code") {
		t.Errorf("flag %q; published %q", Flag, flag)
	}
	for _, c := range cases {
		if c.Flag != flag {
			t.Errorf("%s has another flag: %q", c.ID, c.Flag)
		}
	}
}
