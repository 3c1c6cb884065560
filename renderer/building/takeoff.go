package building

import (
	"fmt"
	"math"
	"sort"

	"wythe/renderer/detail"
	"wythe/renderer/figures"
	"wythe/renderer/geometry"
	"wythe/renderer/material"
	"wythe/renderer/section"
	"wythe/renderer/takeoff"
	"wythe/renderer/units"
)

// Quantity is one line of a building's takeoff.
type Quantity struct {
	Trade    string
	Material string
	Mark     string // of the detail it is in
	Part     string // the layer, or the junction's part
	Form     takeoff.Form
	Hatch    material.Hatch // of the material; "" of what is no layer and no part

	Gross, Net units.Area // of the element, before and after its openings; 0 of a junction's part
	Covered    units.Area // all courses
	Buy        units.Area // with laps and waste
	Volume     units.Volume
	Length     units.Length // of members, seals, pipes
	Tape       units.Length
	Mass       units.Mass
	Sheets     int
	Rolls      int
	Sheet      [2]units.Length
	Pieces     int // boots, and other things that are counted

	Waste  units.Ratio
	Lap    float64 // area bought over area covered, by laps alone
	Source string  // of waste and laps
	Note   string
}

// Takeoff is what a building is made of.
type Takeoff struct {
	Building *detail.Detail
	List     []Quantity // by trade, material, mark, part
	Missing  []Missing
	Limits   []string
	system   units.System // of the notes
}

// Missing is what could not be counted.
type Missing struct{ Mark, Why string }

// TakeoffLimits are what a takeoff leaves out, in the page's words.
var TakeoffLimits = []string{
	"Areas are as the building states them: measured outside, along the slope of a roof, so that corners count once.",
	"Openings are taken off where an area is stated gross.",
	"Of a junction, what its section shows whole is multiplied by its length; what runs past the view belongs to the elements and is not counted twice.",
	"Fasteners and accessories are not counted. Take dimensions on site before you order.",
}

// noTrade stands where no step of the sequence names a layer's trade.
const noTrade = "trade not stated"

// Count returns the takeoff of a building. Sections gives a junction laid out;
// nil where it cannot be. Notes are in the units of system.
//
// Method: each element's net area by the takeoff of its stack; of each
// junction its own parts: area or length in the section times its length.
func Count(d *detail.Detail, lookup func(mark string) *detail.Detail, sections func(mark string) *section.Section, system units.System) *Takeoff {
	t := &Takeoff{Building: d, Limits: TakeoffLimits, system: system}
	for _, u := range d.Building.Areas {
		x := lookup(u.Mark)
		if x == nil || x.Assembly == nil {
			t.Missing = append(t.Missing, Missing{u.Mark, "its file has errors"})
			continue
		}
		t.element(d.Building, u, x)
	}
	for _, l := range d.Building.Lengths {
		x := lookup(l.Mark)
		s := sections(l.Mark)
		if x == nil || x.Junction == nil || s == nil {
			t.Missing = append(t.Missing, Missing{l.Mark, "its section cannot be laid out"})
			continue
		}
		t.junction(x, s, l.Length)
	}
	sort.SliceStable(t.List, func(i, j int) bool {
		a, b := &t.List[i], &t.List[j]
		for _, c := range [...][2]string{{a.Trade, b.Trade}, {a.Material, b.Material}, {a.Mark, b.Mark}, {a.Part, b.Part}} {
			if c[0] != c[1] {
				return c[0] < c[1]
			}
		}
		return false
	})
	return t
}

// trades gives the trade of each layer or part: that of the first step that
// shows it, or the detail's only trade.
func trades(d *detail.Detail) func(part string) string {
	of := map[string]string{}
	for i := range d.Sequence {
		for _, name := range d.Sequence[i].Shows {
			if _, known := of[name]; !known && d.Sequence[i].Trade != "" {
				of[name] = d.Sequence[i].Trade
			}
		}
	}
	return func(part string) string {
		if trade, ok := of[part]; ok {
			return trade
		}
		if len(d.Trades) == 1 {
			return d.Trades[0]
		}
		return noTrade
	}
}

func (t *Takeoff) element(b *detail.Building, u detail.AreaUse, d *detail.Detail) {
	net := NetArea(b, u)
	r, err := figures.Takeoff(d.Assembly, net)
	if err != nil {
		t.Missing = append(t.Missing, Missing{u.Mark, err.Error()})
		return
	}
	trade := trades(d)
	hatch := map[string]material.Hatch{}
	for _, l := range d.Assembly.Layers {
		hatch[l.Material.Name] = l.Material.Hatch
		if l.Framing != nil {
			hatch[l.Framing.Material.Name] = l.Framing.Material.Hatch
		}
	}
	for _, it := range r.Items {
		q := Quantity{
			Hatch: hatch[it.Material],
			Trade: trade(it.Layer), Material: it.Material, Mark: u.Mark, Part: it.Layer, Form: it.Form,
			Gross: u.Area, Net: net, Covered: it.NetArea, Buy: it.Area, Volume: it.Volume, Length: it.Length, Tape: it.Tape, Mass: it.Mass,
			Sheets: it.Sheets, Rolls: it.Rolls, Sheet: it.Sheet, Waste: it.Waste, Lap: it.LapFactor, Note: it.Note,
		}
		q.Source = "waste as stated"
		if it.WasteUsual {
			q.Source = "usual waste (common practice)"
		}
		if it.LapFactor > 1 {
			q.Source += ", lap as stated"
		}
		t.List = append(t.List, q)
	}
	for _, p := range d.Assembly.Penetrations {
		for _, layer := range p.Order {
			t.List = append(t.List, Quantity{Trade: trade(layer), Material: p.Seals[layer], Mark: u.Mark, Part: layer, Pieces: 1, Note: p.What + "; one of each is counted"})
		}
	}
}

// junction counts the parts of a junction that are its own: those that an
// element lays are in the element's area.
func (t *Takeoff) junction(d *detail.Detail, s *section.Section, length units.Length) {
	trade := trades(d)
	for i, p := range d.Junction.Parts {
		if p.Beyond || p.Hole || p.Kind == detail.Laid {
			continue
		}
		q := Quantity{Trade: trade(p.Name), Mark: d.Mark, Part: p.Name, Form: takeoff.Area, Lap: 1}
		if p.Material != nil {
			q.Material, q.Hatch = p.Material.Name, p.Material.Hatch
			switch p.Material.Hatch {
			case material.Earth, material.Air, material.None:
				continue // nothing is bought
			}
		}
		switch p.Kind {
		case detail.Seal:
			q.Material = p.SealWord
			q.Note = "a run along the junction"
			if q.Length = length; p.SealWord == "boot" || p.SealWord == "clamp" {
				q.Length, q.Pieces, q.Note = 0, 1, "one for each pipe"
			}
		case detail.Film:
			run := filmRun(s, i)
			if run == 0 {
				continue
			}
			q.Form, q.Waste, q.Source = takeoff.Roll, takeoff.UsualWaste(takeoff.Roll), "usual waste (common practice)"
			q.Covered = units.Area(float64(run) * float64(length))
			q.Buy = q.Covered * units.Area(1+q.Waste)
			q.Note = fmt.Sprintf("%s wide", run.Show(t.system))
		case detail.Round:
			q.Length, q.Note = length, "along the junction"
		default:
			area, whole := partArea(s, i)
			if area == 0 || !whole {
				continue // it runs past the view: an element's, or the ground's
			}
			q.Form, q.Waste, q.Source = takeoff.Volume, takeoff.UsualWaste(takeoff.Volume), "usual waste (common practice)"
			q.Volume = units.Volume(area * float64(length) * (1 + float64(q.Waste)))
			q.Length = length
			q.Note = partSize(s, i, t.system)
			q.Mass = units.Mass(float64(q.Volume) * float64(p.Material.Density))
		}
		t.List = append(t.List, q)
	}
}

// partArea is what of a part shows in the section, m², and whether all of it
// does.
func partArea(s *section.Section, part int) (area float64, whole bool) {
	if !s.Parts[part].Laid {
		return 0, false
	}
	whole = true
	for _, f := range s.Parts[part].Faces {
		area += float64(s.Faces[f].Area2) / 2 * 1e-12
		whole = whole && !s.Faces[f].AtCut
	}
	return area, whole
}

// partSize is the box about a part in the section, in the library's units.
func partSize(s *section.Section, part int, system units.System) string {
	b := s.Parts[part].Bounds
	size := func(v int64) string { return units.Length(float64(v) * 1e-6).Show(system) }
	return size(b.Max.X-b.Min.X) + " × " + size(b.Max.Y-b.Min.Y) + " in section"
}

// filmRun is the length of a film in the section.
func filmRun(s *section.Section, part int) units.Length {
	sum := 0.0
	for _, f := range s.Parts[part].Films {
		line := s.Films[f].Line
		for i := 1; i < len(line); i++ {
			sum += distance(line[i-1], line[i])
		}
	}
	return units.Length(sum * 1e-6)
}

func distance(a, b geometry.Point) float64 {
	return math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
}
