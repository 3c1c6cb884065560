package takeoff

import (
	"errors"
	"math"
	"testing"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9*(1+math.Abs(want))) {
		t.Errorf("%s = %.12g; want %.12g", what, got, want)
	}
}

func counted(t *testing.T, area units.Area, layers ...Layer) *Result {
	t.Helper()
	r, err := Count(layers, area)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Two courses of 2 by 8 ft boards over 1,024 sq ft: 128 sheets, by hand.
func TestBoards(t *testing.T) {
	area := units.Area(1024 * 0.3048 * 0.3048)
	sheet := [2]units.Length{units.Feet(2), units.Feet(8)}
	it := counted(t, area, Layer{Name: "foam", Material: "XPS", Form: Board, Thickness: units.Inches(3), Courses: 2, Sheet: sheet, Density: 30}).Items[0]
	if it.Sheets != 128 || it.WasteUsual {
		t.Errorf("%+v; want 128 sheets", it)
	}
	near(t, "mass", float64(it.Mass), 2*float64(area)*0.0762*30)
	it = counted(t, area, Layer{Name: "foam", Form: Board, Thickness: 0.1, Sheet: sheet, Waste: 0.05, Taped: true}).Items[0]
	if it.Sheets != 68 { // 64 × 1.05 = 67.2
		t.Errorf("%d sheets; want 68", it.Sheets)
	}
	near(t, "tape", float64(it.Tape), float64(area)*(1/0.6096+1/2.4384)*1.05)
	it = counted(t, area, Layer{Name: "plywood", Form: Board, Waste: -1}).Items[0]
	if !it.WasteUsual || it.Waste != 0.10 || it.Sheets != 36 || it.Note == "" { // 32 × 1.1 = 35.2
		t.Errorf("%+v; want the usual waste and sheet, said", it)
	}
}

// A roll of 10 by 100 ft with 6 in laps covers 9.5 by 99.5 ft.
func TestRolls(t *testing.T) {
	area := units.Area(2000 * 0.3048 * 0.3048)
	l := Layer{Name: "film", Form: Roll, Thickness: 0.0004, Sheet: [2]units.Length{units.Feet(10), units.Feet(100)}, Lap: units.Inches(6), Taped: true}
	it := counted(t, area, l).Items[0]
	near(t, "lap factor", it.LapFactor, 1000/(9.5*99.5))
	near(t, "area", float64(it.Area), float64(area)*it.LapFactor)
	if it.Rolls != 3 { // 2000/945.25 = 2.1
		t.Errorf("%d rolls; want 3", it.Rolls)
	}
	near(t, "tape", float64(it.Tape)/0.3048, 2000*(1/9.5+1/99.5))
	// 1,940 sq ft are two rolls by their size and three by what they cover.
	if it = counted(t, units.Area(1940*0.3048*0.3048), l).Items[0]; it.Rolls != 3 {
		t.Errorf("%d rolls; want 3", it.Rolls)
	}
	l.Lap = units.Feet(10)
	var refused *basis.RefusedError
	if _, err := Count([]Layer{l}, area); !errors.As(err, &refused) {
		t.Errorf("a lap as wide as the roll: %v; want a refusal", err)
	}
}

// Studs of thin metal are bought by length: width times depth is no metal.
func TestFoldedMembers(t *testing.T) {
	r := counted(t, 60, Layer{Name: "studs", Material: "wool", Form: Area, Thickness: 0.15, Framing: &Framing{Material: "steel", Width: 0.04, Spacing: 0.6, Folded: true}})
	studs := r.Items[1]
	near(t, "studs", float64(studs.Length), 100*1.1)
	if studs.Volume != 0 || studs.NetArea != 0 || studs.Area != 0 {
		t.Errorf("%+v; want a length alone", studs)
	}
}

func TestVolumesAndFraming(t *testing.T) {
	r := counted(t, 100,
		Layer{Name: "slab", Material: "concrete", Form: Volume, Thickness: 0.125, Density: 2400, Waste: 0.05},
		Layer{Name: "joists", Material: "cellulose", Form: Volume, Thickness: 0.3, Density: 55, Settles: 0.1, Framing: &Framing{Material: "softwood", Width: 0.04, Spacing: 0.4}},
		Layer{Name: "cavity", Material: "air", Form: Void, Thickness: 0.05, Framing: &Framing{Material: "softwood", Fraction: 0.1}},
	)
	if len(r.Items) != 4 {
		t.Fatalf("%d items; want slab, cellulose, joists, battens", len(r.Items))
	}
	near(t, "concrete", float64(r.Items[0].Volume), 12.5*1.05)
	near(t, "concrete mass", float64(r.Items[0].Mass), 12.5*1.05*2400)
	near(t, "cellulose", float64(r.Items[1].Volume), 100*0.9*0.3*1.1)
	near(t, "joists", float64(r.Items[2].Length), 250*1.1)
	near(t, "joists' volume", float64(r.Items[2].Volume), 100*0.1*0.3*1.1)
	near(t, "battens' volume", float64(r.Items[3].Volume), 100*0.1*0.05*1.1)
	if r.Items[3].Length != 0 || r.Items[3].Note == "" {
		t.Errorf("%+v; want no lengths, said", r.Items[3])
	}
	if trace := r.Trace(); len(trace.Inputs) != 5 || len(trace.Limits) != 2 {
		t.Errorf("%+v", trace)
	}
}

// Twice the area takes at least as much, and nothing takes nothing.
func TestScales(t *testing.T) {
	l := []Layer{{Name: "foam", Form: Board, Thickness: 0.1, Waste: -1}, {Name: "film", Form: Roll, Lap: 0.15, Sheet: [2]units.Length{3, 30}, Waste: -1}, {Name: "stone", Form: Volume, Thickness: 0.2, Waste: -1}}
	one, two, none := counted(t, 37, l...), counted(t, 74, l...), counted(t, 0, l...)
	for i := range l {
		near(t, "area", float64(two.Items[i].Area), 2*float64(one.Items[i].Area))
		near(t, "volume", float64(two.Items[i].Volume), 2*float64(one.Items[i].Volume))
		if two.Items[i].Sheets < one.Items[i].Sheets || two.Items[i].Rolls < one.Items[i].Rolls {
			t.Errorf("%+v is less than %+v", two.Items[i], one.Items[i])
		}
		if it := none.Items[i]; it.Sheets != 0 || it.Rolls != 0 || it.Volume != 0 || it.Area != 0 {
			t.Errorf("no area takes %+v", it)
		}
	}
}

func TestErrorsAreTyped(t *testing.T) {
	for name, l := range map[string]Layer{
		"negative thickness": {Form: Board, Thickness: -1},
		"NaN lap":            {Form: Roll, Lap: units.Length(math.NaN())},
		"negative courses":   {Form: Board, Courses: -1},
		"unknown form":       {Form: "heap"},
		"waste of 20":        {Form: Board, Waste: 20},
		"negative density":   {Form: Volume, Density: -1},
		"wide framing":       {Form: Area, Framing: &Framing{Width: 1, Spacing: 0.4}},
		"fraction over one":  {Form: Area, Framing: &Framing{Fraction: 1.1}},
		"settling over one":  {Form: Volume, Settles: 2},
		"width, no spacing":  {Form: Area, Framing: &Framing{Width: 0.04}},
	} {
		var out *units.RangeError
		if _, err := Count([]Layer{l}, 10); !errors.As(err, &out) {
			t.Errorf("%s: %v; want a *units.RangeError", name, err)
		}
	}
	var out *units.RangeError
	if _, err := Count(nil, -1); !errors.As(err, &out) {
		t.Errorf("negative area: %v", err)
	}
}

func BenchmarkCount(b *testing.B) {
	l := []Layer{{Name: "foam", Form: Board, Thickness: 0.1, Waste: -1}, {Name: "film", Form: Roll, Lap: 0.15, Sheet: [2]units.Length{3, 30}, Waste: -1}, {Name: "stone", Form: Volume, Thickness: 0.2, Waste: -1}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Count(l, 100); err != nil {
			b.Fatal(err)
		}
	}
}
