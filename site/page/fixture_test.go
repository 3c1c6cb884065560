package page

import (
	"html/template"
	"strings"
	"testing"

	"wythe/renderer/detail"
	"wythe/renderer/units"
	"wythe/site/prose"
	"wythe/themes"
)

// named stands in for a bundle: assets under their own names.
type named struct{}

func (named) Path(name string) string { return "assets/" + name }

func open(t testing.TB) *themes.Set {
	t.Helper()
	set, err := themes.Open(nil)
	if err != nil {
		t.Fatal(err)
	}
	return set
}

func officeSite() *Site {
	return &Site{
		Firm: "Oriel & Strand Architects", Title: "Envelope details", Place: "Ferry Landing, Marrow Point",
		Units: units.Inch, Assets: named{}, Details: 13,
		Nav: []Link{
			{"materials/index.html", "Materials", "31"},
			{"specs/index.html", "Specifications", "7"},
			{"buildings/ferry-landing/index.html", "Ferry Landing", ""},
			{"office-standard/index.html", "Office standard", ""},
		},
	}
}

// picture stands in for a drawing.
func picture(prefix string, width, height string) template.HTML {
	return template.HTML(`<svg class="dwg" width="` + width + `mm" height="` + height + `mm" viewBox="0 0 ` + width + ` ` + height +
		`" role="group" aria-label="F-101, section"><a href="#layer-3" id="` + prefix + `3" data-key="3" aria-label="Keynote 3"><circle class="bub" cx="10" cy="10" r="2.8"/></a></svg>`)
}

func step(trade, do, hold string) Step {
	s := Step{Do: prose.Plain(do), Trade: trade, Picture: `<svg viewBox="0 0 46 36" aria-hidden="true"><path d="M0 30H46"/></svg>`}
	if hold != "" {
		s.Hold = prose.Plain(hold)
	}
	return s
}

var basementSlabBody = `The foam carries the slab. The film over it is the air and vapor control of the whole basement floor, so a boot left
off one pipe undoes it. The film lies **above** the foam.

# Why two courses

Two courses of 3 in with the joints staggered leave no straight path for heat or for wet concrete. See J-201 and R-102 rev B.

### On site

- Level the stone, not the foam.
- The stack comes to {R-value}.

| Board | Thickness |
| --- | ---: |
| XPS type IV | 3 in |
`

func officeContext(root, self string) *prose.Context {
	marks, err := detail.NewMarks("[FWRJ]-[0-9]{3}")
	if err != nil {
		panic(err)
	}
	return &prose.Context{
		Marks: marks, Self: self, Level: 3,
		Link: func(mark, rev string) (string, bool) {
			if rev != "" {
				return root + mark + "/rev/" + rev + "/index.html", rev == "B"
			}
			return root + mark + "/index.html", true
		},
		Figure: func(words string) (string, bool) { return "R 32.6", words == "R-value" },
	}
}

func basementSlab() *Assembly {
	return &Assembly{
		Frame: Frame{
			Root: "../", Mark: "F-101", Title: "Insulated basement slab", Status: detail.Issued, Rev: "C", Date: "2 Nov 2026",
			Scale: "1 1/2 in = 1 ft", ScaleRatio: "1:8",
			Next: &Link{"F-102/index.html", "F-102", "Workshop slab on ground"},
		},
		UseFor: []string{"heated basement", "drained ground", "water table at least 12 in below the stone"},
		NotFor: []string{"ground under water pressure", "vehicles, racking or a building post without its own pad"},
		Wide:   picture("w-k-", "258", "113"), Phone: picture("n-k-", "92", "112"),
		Toggles: []Toggle{ToggleTemperature, ToggleHatch},
		Layers: []LayerRow{
			{1, "Concrete slab", Link{}, "3,500 psi, mesh on chairs at mid-depth", Pair{"5 in", "127 mm"}, Pair{"0.36", "0.06"}, Pair{"0.64 perm", "5.4 m"}, nil},
			{2, "Vapor retarder film", Link{Href: "materials/vapor-retarder-film/index.html"}, "Lap 6 in and tape; boots at pipes", Pair{"15 mil", "0.38 mm"}, Pair{"0.01", "0.00"}, Pair{"0.010 perm", "344 m"}, []detail.Control{detail.AirTight, detail.VaporTight}},
			{3, "XPS type IV, two courses", Link{Href: "materials/xps-type-iv/index.html"}, "Joints staggered 24 in, gaps foamed", Pair{"2 × 3 in", "152 mm"}, Pair{"30.0", "5.28"}, Pair{"0.18 perm", "19 m"}, []detail.Control{detail.Thermal}},
			{4, "Washed stone", Link{Href: "materials/washed-stone/index.html"}, "3/4 in clean, capillary break", Pair{"8 in", "203 mm"}, Pair{"1.28", "0.23"}, Pair{"open", ""}, []detail.Control{detail.Water}},
			{5, "Compacted subgrade", Link{}, "Soft spots dug out and refilled", Pair{"as found", ""}, Pair{}, Pair{}, nil},
		},
		Total: &LayerRow{Name: "Stack, with inside surface R 0.92", Thickness: Pair{"1 ft-7 in", "483 mm"}, Resistance: Pair{"32.6", "5.74"}, Permeance: Pair{"0.0093 perm", "369 m"},
			Controls: []detail.Control{detail.AirTight, detail.VaporTight, detail.Water, detail.Thermal}},
		FiguresNote: "Steady, 70 °F inside, 48.5 °F deep ground",
		Figures: []FigureGroup{{Rows: []FigureRow{
			{Name: "Thermal resistance, R-value", Inch: "32.6", InchUnit: "ft²·h·°F/Btu", SI: "5.74", SIUnit: "m²K/W", Limit: "at least R 28", Verdict: Good, Finding: "Meets target",
				Method: "ASHRAE parallel path", Inputs: []Input{
					{"Concrete slab", "5 in at 2.0 W/mK", "ISO 10456:2007 table 3"},
					{"XPS type IV", "6 in at R 5 per in", "ASTM C578, design value"},
					{"Washed stone", "8 in at 0.9 W/mK", "From memory"},
					{"Inside surface", "R 0.92", "ISO 6946, heat down"},
				}},
			{Name: "Thermal transmittance, U-factor", Inch: "0.031", InchUnit: "Btu/ft²·h·°F", SI: "0.174", SIUnit: "W/m²K", Finding: "One over R", Method: "ISO 6946:2017, 6.5"},
			{Name: "Slab surface", Inch: "69.4", InchUnit: "°F", SI: "20.8", SIUnit: "°C", Finding: "0.6 °F under the room",
				Method: "Steady, one dimension", Inputs: []Input{{"Inside", "70 °F", "Library"}, {"Deep ground", "48.5 °F", "Marrow Point (invented)"}}},
			{Name: "Bearing on the XPS, long term", Sub: "25 psi ÷ 3 for creep", Inch: "1,021", InchUnit: "psf", SI: "48.9", SIUnit: "kPa", LimitName: "Allowable", Limit: "1,200 psf",
				Verdict: Good, Finding: "85 % used", FindingSub: "Live 40 + slab 62.5 + post 918 psf: 1,250 lb on 4 × 4 in, spread at 45° to 14 × 14 in.",
				Bar: &LoadBar{1021, 1200, "Applied 1,021 of 1,200 psf allowable"}, Method: "45° spread"},
			{Name: "Uplift on the foam during the pour", Sub: "If wet concrete runs under the boards", Inch: "74.2", InchUnit: "psf", SI: "3.55", SIUnit: "kPa", LimitName: "Held down by", Limit: "62.5 psf",
				Verdict: Bad, Finding: "Boards lift", FindingSub: "Foam the edges and joints. Place from the middle outward."},
			{Name: "Decrement factor", NotComputed: "The specific heat of the stone is missing: give it in materials.yaml.", Method: "ISO 13786"},
		}}},
		Body: prose.Render(basementSlabBody, officeContext("../", "F-101")).HTML,
		Cautions: []Caution{
			{"Wet concrete burns skin.", prose.Plain("Gloves, boots, eye wash at the pour.")},
			{"Silica dust.", prose.Plain("Cut joints wet or with extraction.")},
			{"XPS burns.", prose.Plain("No flame or sparks until the slab covers it.")},
		},
		Used: []Link{
			{"specs/03-30-00/index.html", "03 30 00", "Cast-in-place concrete"},
			{"specs/07-21-13/index.html", "07 21 13", "Board insulation"},
			{"J-201/index.html", "J-201", "Basement slab edge at wall and footing"},
			{"buildings/ferry-landing/index.html", "Ferry Landing", "Basement, 1,020 sq ft"},
		},
		Steps: []Step{
			step("earthwork", "Strip and compact the subgrade. Dig out soft spots and refill in 6 in lifts.", ""),
			step("earthwork", "Place and compact the stone. Level it to within 1/4 in over 10 ft.", "Level checked before any foam is laid."),
			step("insulation", "Lay both courses, joints staggered. Foam every gap over 1/8 in.", ""),
			{Do: prose.Inline("Roll out the film, lap 6 in, tape every lap, boot every pipe. Turn it up at the edge (J-201).", officeContext("../", "F-101")).HTML,
				Trade: "insulation", Hold: prose.Plain("Laps and boots checked before steel goes down."), ReleasedBy: "the architect", Tools: "Seam roller, clean rags",
				Picture: `<svg viewBox="0 0 46 36" aria-hidden="true"><path d="M0 10H46"/></svg>`},
			{Do: prose.Plain("Fence the work."), Trade: "safety"},
			step("concrete", "Set mesh on wide-base chairs at 4 ft. No chair leg through the film.", ""),
			{Do: prose.Plain("Place from the middle outward, strike off, trowel. Cure wet for 7 days."), Trade: "concrete", Caution: prose.Plain("Wet concrete burns skin."),
				Picture: `<svg viewBox="0 0 46 36" aria-hidden="true"><path d="M0 4H46"/></svg>`},
		},
		References: []prose.HTML{prose.Plain("ISO 6946"), prose.Plain("ISO 13370"), prose.Plain("ASTM C578"), prose.Plain("ASTM E1745")},
		Revisions: []Revision{
			{"C", "2 Nov 2026", "Post load entered. Stone 8 in, was 6 in.", "7e41c09a", "", ""},
			{"B", "14 Aug 2026", "Film 15 mil, was 12 mil.", "b3d0118f", "", ""},
			{"A", "3 Jun 2026", "First issue.", "02c6e57d", "", ""},
		},
	}
}

func drawingIndex() *Index {
	all := []detail.Control{detail.AirTight, detail.VaporTight, detail.Water, detail.Thermal}
	dry := []detail.Control{detail.AirTight, detail.VaporTight, detail.Thermal}
	row := func(mark, title, makeUp string, e detail.Element, on []detail.Control, r, rsi string, rank float64, short, trades, tags string, st detail.Status, rev, date string) IndexRow {
		return IndexRow{Mark: mark, Title: title, Href: mark + "/index.html", MakeUp: makeUp, Element: e, Controls: on,
			Trades: strings.Fields(trades), Tags: strings.Fields(tags), Figure: Pair{"R " + r, "RSI " + rsi}, Rank: rank, Short: short,
			Thumb: `<svg class="dwg thumb" viewBox="0 0 44 18" aria-hidden="true"><path d="M0 9H44"/></svg>`, Status: st, Rev: rev, Date: date}
	}
	p := &Index{Frame: Frame{Title: "Drawing index", Lead: "Every detail of the library. Pictures are the real sections, all to one scale: top or outside up.", ScaleRatio: "1:24"}}
	p.Rows = []IndexRow{
		row("F-101", "Insulated basement slab", "Concrete 5, film 15 mil, XPS 2 × 3, stone 8 in", detail.FloorOnGround, all, "32.6", "5.74", 5.74, "", "earthwork insulation concrete", "basement slab", detail.Issued, "C", "2 Nov 2026"),
		row("F-102", "Workshop slab on ground, boat-trailer loads", "Concrete 6, film 15 mil, XPS 4, foam-glass aggregate 12 in", detail.FloorOnGround, all, "38.2", "6.72", 6.72, "", "earthwork insulation concrete", "workshop slab", detail.Issued, "A", "14 Aug 2026"),
		row("F-103", "Timber floor over vented crawl space", "Boards 3/4, plywood 3/4, mineral wool in joists 11 7/8, wood-fiber board 2 in", detail.Floor, dry, "49.1", "8.65", 8.65, "", "carpentry insulation", "crawl-space", detail.ForReview, "B", "9 Nov 2026"),
		row("F-104", "Cantilevered floor over outside air", "Boards 3/4, plywood 3/4, cellulose in joists 11 7/8, wood-fiber board 2 in", detail.Floor, all, "45.8", "8.07", 8.07, "", "carpentry insulation", "", detail.Draft, "", "20 Nov 2026"),
		row("W-101", "Basement wall", "Gypsum 1/2, mineral wool 5 1/2 with 2 × 4 studs, concrete 8, dampproofing, XPS 4, mat 3/8 in", detail.WallBelowGrade, all, "40.5", "7.13", 7.13, "", "concrete insulation carpentry drywall", "basement", detail.ForReview, "B", "16 Nov 2026"),
		row("W-102", "Timber wall, deep cavity", "Gypsum 1/2, wool 1 1/2, plywood 1/2, cellulose in 2 × 8, wood-fiber board 2, cavity 3/4, cedar 3/4 in", detail.Wall, all, "35.3", "6.22", 6.22, "", "carpentry insulation drywall", "timber", detail.Issued, "D", "2 Nov 2026"),
		row("W-103", "Mass-timber wall", "Panel 6 7/8, membrane, mineral wool 7 on brackets, cavity 1, metal siding", detail.Wall, all, "35.1", "6.18", 6.18, "", "carpentry insulation", "timber", detail.Draft, "", "20 Nov 2026"),
		row("W-105", "Brick cavity wall", "Block 5 5/8, membrane, mineral wool 5, cavity 1 1/2, brick 3 5/8 in", detail.Wall, all, "22.6", "3.97", 3.97, "Below R 35", "masonry insulation", "", detail.Superseded, "B", ""),
		row("R-101", "Pitched roof, vented above the deck", "Gypsum 1/2, wool 1 1/2, membrane, cellulose 14, wood-fiber board 3, vent 1 1/2, deck 5/8 in, shingles", detail.Roof, all, "61.9", "10.89", 10.89, "", "carpentry roofing insulation drywall", "timber pitched", detail.Issued, "A", "14 Aug 2026"),
		row("R-104", "Protected-membrane terrace", "Concrete 6, membrane, XPS 2 × 6, gap 3/4, pavers 2 in", detail.Roof, all, "58.4", "10.28", 10.28, "Below R 60", "roofing concrete insulation", "", detail.ForReview, "A", "16 Nov 2026"),
		row("R-103", "Attic ceiling, loose-fill", "Loose-fill 17 1/2, taped membrane, battens 3/4, gypsum 1/2 in", detail.Ceiling, dry, "62.1", "10.94", 10.94, "", "insulation drywall", "", detail.Draft, "", "20 Nov 2026"),
	}
	for i := range p.Rows {
		if p.Rows[i].Mark == "W-105" {
			p.Rows[i].SupersededBy = "W-102"
			p.Rows[i].Thumb, p.Rows[i].ThumbFile, p.Rows[i].ThumbWidth, p.Rows[i].ThumbHeight = "", "W-105/thumb.svg", 44, 17.87
		}
	}
	return p
}

func foamMaterial() *Material {
	return &Material{
		Frame:      Frame{Root: "../../", Title: "XPS type IV", Lead: "Rigid foam board for use under slabs and against ground."},
		Swatch:     `<svg viewBox="0 0 60 20" aria-hidden="true"><path d="M0 10H60"/></svg>`,
		SwatchName: "Rigid insulation, 1:8",
		Properties: []PropertyRow{
			{"Thermal conductivity", "R 5.0 per in", "", "0.029", "W/mK", "design value", "ASTM C578"},
			{"Density", "1.6", "pcf", "26", "kg/m³", "declared value", "ASTM C578"},
			{"Compressive resistance", "25", "psi", "172", "kPa", "declared value", "ASTM C578"},
			{"Vapor permeability", "1.1", "perm in", "150", "mu", "from memory", "ISO 10456:2007 table 3"},
		},
		Used: []Link{{"F-101/index.html", "F-101", "Insulated basement slab"}, {"W-101/index.html", "W-101", "Basement wall"}},
	}
}

func vaporSpec() *Prose {
	body := "## 1 General\n\n1.1 Films under slabs, F-101 and F-102.\n\n## 2 Products\n\n2.1 Polyethylene, 15 mil, <b>class</b> A.\n"
	ctx := officeContext("../../", "")
	ctx.Level = 2
	return &Prose{
		Frame:      Frame{Root: "../../", Mark: "07 26 00", Title: "Vapor retarders"},
		Body:       prose.Render(body, ctx).HTML,
		Cited:      []Link{{"F-101/index.html", "F-101", "Insulated basement slab"}, {"F-102/index.html", "F-102", "Workshop slab on ground, boat-trailer loads"}},
		References: []prose.HTML{prose.Plain("ASTM E1745")},
	}
}

func materialList() *List {
	return &List{
		Frame: Frame{Root: "../", Title: "Materials", Lead: "Every material that a detail of the library uses."},
		Groups: []ListGroup{
			{"Insulation", []ListItem{
				{Link: Link{"materials/xps-type-iv/index.html", "XPS type IV", "4 details"}, Right: "R 5.0 per in", Small: "0.029 W/mK"},
				{Link: Link{"materials/cellulose/index.html", "Dense-pack cellulose", "3 details"}, Sub: "3.5 pcf", Right: "R 3.7 per in", Small: "0.039 W/mK"},
			}},
			{"Concrete and masonry", []ListItem{{Link: Link{"materials/concrete/index.html", "Concrete", "5 details"}, Right: "R 0.07 per in", Small: "2.0 W/mK"}}},
		},
	}
}
