// Package specimen lays down libraries of any size for tests and benchmarks:
// assemblies alone, and whole libraries as offices have them. The same call
// gives the same files.
package specimen

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
)

// Assemblies lays down, in a folder, a library of n assemblies of about 60
// lines of front matter and 3 KB of prose each.
//
// Errors: those of writing files.
func Assemblies(dir string, n int) error {
	put := func(name, text string) error {
		full := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(full), 0o777); err != nil {
			return err
		}
		return os.WriteFile(full, []byte(text), 0o666)
	}
	if err := put("library.yaml", settings); err != nil {
		return err
	}
	if err := put("climates/marrow-point.yaml", climate); err != nil {
		return err
	}
	for i := range n {
		if err := put(fmt.Sprintf("assemblies/%s.md", Mark(i)), Assembly(i, n)); err != nil {
			return err
		}
	}
	return nil
}

const settings = `firm: Oriel & Strand Architects
title: Generated details
units: inch
marks: "[FWR]-[0-9]{5}"
headline: parallel path
surfaces: ASHRAE winter
climate: marrow-point
inside: {temperature: 70 F, moisture class: 3}
targets:
  - {element: wall, R-value: at least R 35}
  - {element: roof, R-value: at least R 60}
  - {element: floor on ground, R-value: at least R 28}
`

const climate = `climate: Marrow Point (invented)
design: {heating: 5 F, ground: 48.5 F}
months:
  - [-3.1 C, 80 %]
  - [-2.4 C, 77 %]
  - [1.5 C, 74 %]
  - [6.8 C, 71 %]
  - [12.2 C, 72 %]
  - [17.1 C, 75 %]
  - [20.6 C, 76 %]
  - [20.2 C, 78 %]
  - [16.4 C, 79 %]
  - [10.9 C, 78 %]
  - [5.4 C, 79 %]
  - [-0.6 C, 81 %]
`

// Mark is that of assembly i of a generated library.
func Mark(i int) string {
	return fmt.Sprintf("%c-%05d", "FWR"[i%3], i)
}

// kind is one kind of stack: each layer is a line of YAML with a
// thickness to choose from.
type kind struct {
	element, title, trades string
	layers                 []layer
}

type layer struct {
	name, material string
	thickness      []string
	more           []string // further lines
}

var kinds = []kind{
	{"floor on ground", "Slab on stone", "earthwork, insulation, concrete", []layer{
		{"slab", "concrete", []string{"4 in", "5 in", "6 in"}, []string{"note: 3,500 psi, mesh on chairs at mid-depth"}},
		{"film", "vapor retarder film", []string{"10 mil", "15 mil"}, []string{"control: [air, vapor]", "joints: lap 6 in and tape"}},
		{"foam", "XPS type IV", []string{"2 in", "2 1/2 in", "3 in"}, []string{"courses: 2", "joints: stagger 24 in", "control: [thermal]"}},
		{"base", "washed stone", []string{"6 in", "8 in", "10 in"}, []string{"note: a capillary break"}},
	}},
	{"wall", "Timber wall", "carpentry, insulation, drywall", []layer{
		{"board", "gypsum board", []string{"1/2 in", "5/8 in"}, nil},
		{"service space", "mineral wool batt", []string{"1 1/2 in", "2 1/2 in"}, []string{"framing: {material: softwood, width: 1 1/2 in, spacing: 24 in}"}},
		{"sheathing", "plywood", []string{"1/2 in", "5/8 in"}, []string{"control: [air, vapor]", "joints: tape every joint"}},
		{"studs", "dense-pack cellulose", []string{"5 1/2 in", "7 1/4 in", "9 1/4 in"}, []string{"framing: {material: softwood, width: 1 1/2 in, spacing: 24 in}", "control: [thermal]"}},
		{"wood fiber", "wood-fiber board", []string{"1 1/2 in", "2 in"}, []string{"control: [thermal]", "joints: tongue and groove"}},
		{"membrane", "water-resistive membrane", []string{"20 mil"}, []string{"control: [water]", "joints: lap 6 in, upper over lower"}},
		{"cavity", "air", []string{"3/4 in", "1 in"}, []string{"ventilation: well"}},
		{"siding", "cedar boards", []string{"3/4 in"}, nil},
	}},
	{"roof", "Low roof", "carpentry, insulation", []layer{
		{"board", "gypsum board", []string{"1/2 in", "5/8 in"}, nil},
		{"rafters", "mineral wool batt", []string{"5 1/2 in", "7 1/4 in"}, []string{"framing: {material: softwood, width: 1 1/2 in, spacing: 16 in}"}},
		{"deck", "plywood", []string{"5/8 in", "3/4 in"}, []string{"control: [air, vapor]", "joints: tape every joint"}},
		{"foam", "XPS type IV", []string{"2 in", "2 1/2 in", "3 in"}, []string{"courses: 2", "control: [thermal]", "joints: stagger"}},
		{"membrane", "water-resistive membrane", []string{"20 mil"}, []string{"control: [water]", "joints: lap 6 in"}},
	}},
}

// Assembly is the text of assembly i of n.
func Assembly(i, n int) string {
	random := rand.New(rand.NewPCG(uint64(i), 7))
	k := kinds[i%3]
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("---")
	line("mark: %s", Mark(i))
	line("title: %s %d", k.title, i)
	line("status: %s", []string{"draft", "for review", "issued", "issued"}[random.IntN(4)])
	line("element: %s", k.element)
	line("use for: [heated rooms, two storeys, drained ground]")
	line("not for: [standing water, vehicles]")
	line("trades: [%s]", k.trades)
	line("tags: [generated, lot %d]", i%17)
	line("layers:")
	var names []string
	for _, l := range k.layers {
		line("  - name: %s", l.name)
		line("    material: %s", l.material)
		line("    thickness: %s", l.thickness[random.IntN(len(l.thickness))])
		for _, m := range l.more {
			line("    %s", m)
		}
		names = append(names, l.name)
	}
	line("sequence:")
	for at := range names {
		line("  - do: Lay the %s, joints tight, and check it against the drawing.", names[len(names)-1-at])
		line("    trade: %s", strings.Split(k.trades, ", ")[at%2])
		line("    shows: [%s]", strings.Join(names[len(names)-1-at:], ", "))
		if at%2 == 1 {
			line("    hold: The %s seen and released.", names[len(names)-1-at])
		}
	}
	line("cautions: [dust, working at height]")
	line("references: [ISO 6946, ISO 13788]")
	line("revisions:")
	line("  - {rev: B, date: 2026-08-14, note: Thickness changed.}")
	line("  - {rev: A, date: 2026-06-03, note: First issue.}")
	line("---")
	line("")
	for b.Len() < 3000+1400 {
		line("## Lot %d", random.IntN(1000))
		line("")
		line("The stack comes to {R-value}. It is built as %s is, and **never** before the layer under it is dry; where", Mark(random.IntN(n)))
		line("it meets %s the joints are staggered and the tape is rolled with a firm hand.", Mark(random.IntN(n)))
		line("")
		line("- Keep one roll of tape for the film alone: dust on the glue is why laps open.")
		line("- Level the *stone*, not the foam. A board that rocks will crack the slab above it.")
		line("- Look once more before it is covered; what is covered is not looked at again.")
		line("")
		line("| check | by | least |")
		line("| --- | --- | --- |")
		line("| lap | foreman | %d in |", 4+random.IntN(4))
		line("| level | architect | 1/%d in |", 4<<random.IntN(2))
		line("")
	}
	return b.String()
}
