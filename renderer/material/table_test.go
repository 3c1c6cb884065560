package material

import (
	"math"
	"slices"
	"sort"
	"strings"
	"testing"

	"wythe/renderer/basis"
)

func TestBuiltin(t *testing.T) {
	table := Builtin()
	if table.Len() < 110 {
		t.Errorf("%d materials; want at least 110", table.Len())
	}
	if !sort.StringsAreSorted(table.Names()) {
		t.Error("names are not sorted")
	}
	kinds := map[basis.Kind]bool{basis.Design: true, basis.Declared: true, basis.FromMemory: true, basis.CommonPractice: true}
	for _, name := range table.Names() {
		m, _ := table.Lookup(name)
		if strings.ContainsAny(name, ",:#{}[]") || fold(name) != name {
			t.Errorf("%q cannot stand in a flow map without quotes", name)
		}
		if !slices.Contains(Hatches, m.Hatch) {
			t.Errorf("%s: hatch %q", name, m.Hatch)
		}
		if m.SealWord != "" && !slices.Contains(SealWords, m.SealWord) {
			t.Errorf("%s: seal %q", name, m.SealWord)
		}
		for _, p := range []struct {
			property Property
			stated   bool
		}{
			{PropConductivity, m.Conductivity > 0}, {PropResistance, m.Resistance > 0}, {PropDensity, m.Density > 0}, {PropSpecificHeat, m.SpecificHeat > 0},
			{PropVapor, m.VaporDry.Known}, {PropCompressive, m.Compressive > 0}, {PropEmissivity, m.Emissivity > 0}, {PropHoldsTo, len(m.HoldsTo) > 0},
		} {
			o, has := m.Origins[p.property]
			if has != p.stated {
				t.Errorf("%s: %s stated %v, source %v", name, p.property, p.stated, has)
			}
			if has && (o.Text == "" || !kinds[o.Kind]) {
				t.Errorf("%s: %s comes from %+v", name, p.property, o)
			}
		}
		if m.Conductivity > 0 && m.Resistance > 0 {
			t.Errorf("%s states conductivity and resistance", name)
		}
		if m.Conductivity == 0 && m.Resistance == 0 && m.Hatch != Air && m.SealWord == "" {
			t.Errorf("%s states neither conductivity nor resistance", name)
		}
		if m.VaporDry.Known != m.VaporWet.Known {
			t.Errorf("%s: vapor dry %v, wet %v", name, m.VaporDry, m.VaporWet)
		}
		if dry, err := m.VaporDry.SdOf(0.01); err == nil {
			if wet, _ := m.VaporWet.SdOf(0.01); wet > dry || math.IsNaN(float64(dry)) {
				t.Errorf("%s: tighter wet (%g) than dry (%g)", name, wet, dry)
			}
		}
		for _, other := range append(slices.Clone(m.NotAgainst), m.HoldsTo...) {
			if _, ok := table.Lookup(other); !ok {
				t.Errorf("%s names %q, which is no material", name, other)
			}
		}
	}
	for other := range table.also {
		if table.byName[other] != nil {
			t.Errorf("%q is a name and another name", other)
		}
	}
}

// The words of the trade that details use.
func TestTradeWords(t *testing.T) {
	for _, name := range []string{
		"concrete", "reinforced concrete", "vapor retarder film", "XPS type IV", "XPS type VI", "EPS type IX", "washed stone",
		"foam-glass aggregate", "soil", "compacted subgrade", "gypsum board", "mineral wool batt", "mineral wool board",
		"cellulose, dense pack", "dense-pack cellulose", "loose-fill cellulose", "wood-fiber board", "plywood", "softwood", "hardwood", "OSB",
		"polyiso", "roof membrane", "water-resistive membrane", "air-control membrane", "dampproofing", "drainage mat", "filter fabric",
		"drain pipe", "cedar boards", "wood siding", "brick", "concrete block", "cross-laminated timber", "cross-laminated timber panel",
		"steel", "stainless steel", "galvanized steel", "aluminum", "glass", "asphalt shingles", "wood shingles", "metal roofing", "metal siding",
		"pavers", "concrete pavers", "cover board", "sealant", "tape", "gasket", "boot", "pressure-treated softwood", "closed-cell spray foam",
		"open-cell spray foam", "termite shield", "flashing", "backfill", "sand", "mortar", "stucco", "carpet", "tile", "air", "hardwood flooring",
		"bituminous vapor control sheet", "drywall", "steel studs",
	} {
		if _, ok := Builtin().Lookup(name); !ok {
			t.Errorf("no %q", name)
		}
	}
	if m, ok := Builtin().Lookup("  XPS   type IV "); !ok || m.Name != "XPS type IV" {
		t.Error("spaces count")
	}
	if _, ok := Builtin().Lookup("Concrete"); ok {
		t.Error("letter case does not count")
	}
}

func TestSuggest(t *testing.T) {
	for _, c := range []struct{ word, want string }{
		{"XPS typ IV", `did you mean "XPS type IV"?`},
		{"concret", `did you mean "concrete"?`},
		{"Concrete", `did you mean "concrete"?`},
		{"drywal", `did you mean "drywall"?`},
		{"blue polyiso stuff", "known are: foil-faced polyiso, polyiso, polyiso cover board, polyiso grade 3"},
		{"unobtainium", "materials.yaml"},
	} {
		if got := Builtin().Suggest(c.word); !strings.Contains(got, c.want) {
			t.Errorf("Suggest(%q) = %q; want %q", c.word, got, c.want)
		}
	}
}

func TestSearch(t *testing.T) {
	names := func(word string) (out []string) {
		for _, m := range Builtin().Search(word) {
			out = append(out, m.Name)
		}
		return out
	}
	if got := names("XPS type"); len(got) != 5 {
		t.Errorf("XPS type: %v", got)
	}
	if got := names("drywall"); !slices.Equal(got, []string{"gypsum board"}) {
		t.Errorf("drywall: %v", got)
	}
	if got := names(""); len(got) != Builtin().Len() {
		t.Errorf("all: %d", len(got))
	}
	if got := names("gasket"); !slices.Contains(got, "neoprene") {
		t.Errorf("gasket: %v", got)
	}
	if got := Builtin().Others("gypsum board"); !slices.Equal(got, []string{"drywall", "gypsum wallboard"}) {
		t.Errorf("others: %v", got)
	}
}

func BenchmarkLookup(b *testing.B) {
	t := Builtin()
	b.ReportAllocs()
	for b.Loop() {
		if _, ok := t.Lookup("XPS type IV"); !ok {
			b.Fatal("gone")
		}
	}
}

// The table is made once per run.
func BenchmarkMakeTable(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		for _, rows := range [][]row{masonryRows, groundRows, woodRows, insulationRows, metalRows, sheetRows} {
			for i := range rows {
				rows[i].material()
			}
		}
	}
}
