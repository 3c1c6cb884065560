package bearing

import (
	"math"
	"testing"

	"gopkg.in/yaml.v3"

	"wythe/renderer/published"
	"wythe/renderer/units"
)

// relative holds to 1e-6, the tolerance of most of the file.
func relative(t *testing.T, what string, got, want float64) {
	t.Helper()
	published.Near(t, what, got, want, 1e-6*math.Abs(want))
}

const kgPerPcf = 0.45359237 / (0.3048 * 0.3048 * 0.3048)

func pcf(v float64) units.Density   { return units.Density(v * kgPerPcf) }
func pounds(v float64) units.Force  { return units.Force(v * poundForce) }
func psis(v float64) units.Pressure { return units.Pressure(v * psi) }
func psfs(v float64) units.Pressure { return units.Pressure(v * psf) }

func TestPublishedUnits(t *testing.T) {
	var want map[string]float64
	published.Read(t, "bearing.yaml", "units", nil, &want)
	for key, got := range map[string]float64{
		"psf_per_psi": psi / psf, "25_psi_in_psf": 25 * psi / psf, "Pa_per_psi": psi, "Pa_per_psf": psf, "25_psi_in_kPa": 25 * psi / 1000, "40_psf_in_kPa": 40 * psf / 1000,
		"N_m3_per_pcf": kgPerPcf * Gravity, "kg_m3_per_pcf": kgPerPcf, "150_pcf_in_kN_m3": 150 * kgPerPcf * Gravity / 1000, "150_pcf_in_kg_m3": 150 * kgPerPcf, "lbf_in_N": poundForce,
	} {
		within := 1e-8 * want[key]
		if key == "N_m3_per_pcf" || key == "150_pcf_in_kN_m3" {
			// The source's own definitions, 4.4482216152605 N over 0.3048³ m³, give
			// 157.0874638: the two printed values part from them in the eighth
			// figure. They are held to seven, and ours to the definitions.
			within = 5e-8 * want[key]
		}
		published.Near(t, key, got, want[key], within)
	}
	const byDefinition = 4.4482216152605 / (0.3048 * 0.3048 * 0.3048)
	published.Near(t, "N/m³ per pcf by definition", kgPerPcf*Gravity, byDefinition, 1e-8*byDefinition)
	if len(want) != 11 {
		t.Errorf("%d published conversions; 11 are checked", len(want))
	}
	published.Near(t, "units' psi", units.Pressure(psi).PSI(), 1, 1e-9)
}

func TestPublishedLongTerm(t *testing.T) {
	var rows [][3]float64
	published.Read(t, "bearing.yaml", "xps-long-term", nil, &rows)
	for _, row := range rows {
		published.Near(t, "lasting", float64(LongTerm)*row[0], row[1], 0.05)
		published.Near(t, "repeated", float64(Repeated)*row[0], row[2], 0.05)
	}
	var rule map[string]float64
	published.Read(t, "bearing.yaml", "en-creep", nil, &rule)
	if got := rule["EPS_long_term_fraction_of_CS10"]; got != float64(EPSLongTerm) {
		t.Errorf("EPS lasting share %v; want %v", EPSLongTerm, got)
	}
}

func TestPublishedFoundationModulus(t *testing.T) {
	var rows [][7]float64
	published.Read(t, "bearing.yaml", "xps-modulus", nil, &rows)
	for _, row := range rows {
		for j, in := range xpsThickness {
			got, err := XPSModulus(psis(row[0]), units.Inches(in))
			if err != nil {
				t.Fatal(err)
			}
			published.Near(t, "k", got.PerCubicInch(), row[j+1], 1e-6)
			two, err := InSeries([]FoundationModulus{got, got})
			if err != nil {
				t.Fatal(err)
			}
			published.Near(t, "two like courses", two.PerCubicInch(), row[j+1]/2, 1e-6)
		}
	}
	if got, err := XPSModulus(psis(100), units.Inches(2)); err != nil || math.Abs(got.PerCubicInch()-2600) > 1e-6 { // its note
		t.Errorf("100 psi: %v, %v; want 2600 pci", got.PerCubicInch(), err)
	}
	published.Near(t, "between", must(t)(XPSModulus(psis(25), units.Inches(3.5))).PerCubicInch(), (565+510)/2.0, 1e-6)
}

func must(t *testing.T) func(FoundationModulus, error) FoundationModulus {
	return func(k FoundationModulus, err error) FoundationModulus {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return k
	}
}

func TestPublishedEPS(t *testing.T) {
	var rows [][]yaml.Node
	published.Read(t, "bearing.yaml", "eps-1-percent", nil, &rows)
	for i, row := range rows {
		e := EPSTypes[i]
		if e.Name != row[0].Value || float64(e.OnePercent) != 1000*published.Number(t, row[1]) {
			t.Errorf("%+v; want %v", e, row)
		}
	}
}

func TestPublishedUniform(t *testing.T) {
	var in, want map[string]float64
	published.Read(t, "bearing.yaml", "slab-uniform", &in, &want)
	dead, err := Weigh([]Layer{{Name: "slab", Thickness: units.Inches(in["slab_in"]), Density: pcf(in["concrete_pcf"])}})
	if err != nil {
		t.Fatal(err)
	}
	r, err := Solve(&Load{Dead: dead.Weight, Live: psfs(in["live_psf"]), Rated: psis(in["rated_psi"]), Derating: units.Ratio(1 / in["long_term_divisor"])})
	if err != nil {
		t.Fatal(err)
	}
	relative(t, "dead", float64(dead.Weight)/psf, want["dead_psf"])
	relative(t, "total psf", float64(r.Applied)/psf, want["total_psf"])
	relative(t, "total psi", float64(r.Applied)/psi, want["total_psi"])
	relative(t, "total kPa", float64(r.Applied)/1000, want["total_kPa"])
	relative(t, "allowable", float64(r.Allowable)/psi, want["allowable_psi"])
	relative(t, "utilisation", float64(r.Utilisation), want["utilisation"])
	relative(t, "live on a fifth", float64(r.LiveOnRepeated), want["live_on_a_fifth"])
	if !r.Passes || r.Governs != "uniform load" {
		t.Errorf("passes %v, governs %q", r.Passes, r.Governs)
	}
}

func TestPublishedPoint(t *testing.T) {
	var in struct {
		P     float64    `yaml:"P_lb"`
		Plate [2]float64 `yaml:"plate_in"`
		Slab  float64    `yaml:"slab_in"`
	}
	var want map[string]float64
	published.Read(t, "bearing.yaml", "point-45", &in, &want)
	p := Point{Force: pounds(in.P), On: [2]units.Length{units.Inches(in.Plate[0]), units.Inches(in.Plate[1])}}
	r, err := Solve(&Load{Dead: psfs(62.5), Rated: psis(25), Point: &p, Slab: Slab{Thickness: units.Inches(in.Slab)}})
	if err != nil {
		t.Fatal(err)
	}
	relative(t, "side", r.Spread.Sides[0].Inches(), want["side_in"])
	relative(t, "area", float64(r.Spread.Area)/(inch*inch), want["area_in2"])
	relative(t, "pressure", float64(r.PointSpread)/psi, want["pressure_psi"])
	relative(t, "with slab", float64(r.Applied)/psi, want["with_slab_weight_psi"])
	relative(t, "utilisation", float64(r.Utilisation), want["against_25_thirds"])
	if r.Passes || r.Governs != "point load, 45° spread" || len(r.NotComputed) != 1 {
		t.Errorf("passes %v, governs %q, not computed %v", r.Passes, r.Governs, r.NotComputed)
	}

	var edge struct {
		Plate [2]float64 `yaml:"plate_in"`
		Slab  float64    `yaml:"slab_in"`
	}
	published.Read(t, "bearing.yaml", "point-edge", &edge, &want)
	for _, where := range []Where{EdgeOf, Joint} {
		p.Where = where
		got, err := SpreadPressure(p, units.Inches(edge.Slab))
		if err != nil {
			t.Fatal(err)
		}
		relative(t, "area", float64(got.Area)/(inch*inch), want["area_in2"])
		relative(t, "pressure", float64(got.Pressure)/psi, want["pressure_psi"])
	}

	published.Read(t, "bearing.yaml", "point-si", nil, &want)
	got, err := SpreadPressure(Point{Force: 10e3, On: [2]units.Length{0.1, 0.1}}, 0.15)
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "side", float64(got.Sides[0]), want["side_m"], 0.01)
	published.Near(t, "pressure", float64(got.Pressure), want["pressure_Pa"], 0.01)
}

func TestPublishedLiveLoads(t *testing.T) {
	var want map[string]float64
	published.Read(t, "bearing.yaml", "live-loads", nil, &want)
	for _, l := range LiveLoads {
		key := ""
		for _, r := range l.Use {
			if r == ' ' {
				r = '_'
			}
			key += string(r)
		}
		published.Near(t, l.Use, float64(l.Load)/psf, want[key], 1e-9)
	}
	published.Near(t, "guard", float64(GuardLoad)/poundForce, want["guard_concentrated_lb"], 1e-9)
	published.Near(t, "garage", float64(GarageLoad)/poundForce, want["garage_concentrated_lb"], 1e-9)
	published.Near(t, "garage area", float64(GarageArea)/(inch*inch), want["garage_concentrated_on_in2"], 1e-9)
	if len(want) != len(LiveLoads)+3 {
		t.Errorf("%d published live loads; %d here", len(want), len(LiveLoads)+3)
	}
}

func TestPublishedUplift(t *testing.T) {
	var in struct {
		Concrete float64 `yaml:"concrete_pcf"`
	}
	var rows [][4]float64
	published.Read(t, "bearing.yaml", "uplift", &in, &rows)
	for _, row := range rows {
		r, err := (&Pour{Concrete: pcf(in.Concrete), Floats: []Layer{{Name: "foam", Thickness: units.Inches(row[0]), Density: pcf(row[1])}}}).Solve()
		if err != nil {
			t.Fatal(err)
		}
		relative(t, "uplift psf", float64(r.Uplift)/psf, row[2])
		relative(t, "uplift Pa", float64(r.Uplift), row[3])
		if row[0] == 4 { // its note
			published.Near(t, "a sheet, lbf", float64(r.OnSheet([2]units.Length{units.Feet(2), units.Feet(8)}))/poundForce, 790.4, 0.05)
			depth, err := r.Depth(pcf(100))
			if err != nil {
				t.Fatal(err)
			}
			published.Near(t, "sand, in", depth.Inches(), 5.93, 0.005)
		}
	}
	var water struct {
		Water float64 `yaml:"water_pcf"`
	}
	var types [][]yaml.Node
	published.Read(t, "bearing.yaml", "buoyancy-water", &water, &types)
	densities := map[string]float64{"EPS12": 0.70, "EPS15": 0.90, "EPS19": 1.15, "EPS22": 1.35, "EPS29": 1.80, "EPS39": 2.40} // ASTM D6817, pcf
	for _, row := range types {
		r, err := (&Pour{Concrete: pcf(water.Water), Floats: []Layer{{Name: row[0].Value, Thickness: units.Feet(1), Density: pcf(densities[row[0].Value])}}}).Solve()
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, row[0].Value, float64(r.Uplift)/psf, published.Number(t, row[1]), 0.06)
	}
}

func TestPublishedFormPressure(t *testing.T) {
	var in struct{ W float64 }
	var rows [][4]float64
	published.Read(t, "bearing.yaml", "aci-347", &in, &rows)
	for _, row := range rows {
		got, err := FormPressure(Form{Concrete: pcf(in.W), RiseMPerH: row[0] * 0.3048, Temperature: units.FromFahrenheit(row[1]), Height: units.Feet(row[2])})
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "design psf", float64(got)/psf, row[3], 0.01)
	}
	var head, want map[string]float64
	published.Read(t, "bearing.yaml", "aci-hydrostatic", &head, &want)
	u, err := LiquidHead(pcf(head["w"]), units.Feet(head["h"]))
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "base", float64(u.Base)/psf, want["base_psf"], 1e-4)
	published.Near(t, "resultant", u.ResultantNPerM/poundForce*0.3048, want["resultant_lb_per_ft"], 1e-4)
	published.Near(t, "height", float64(u.At)/0.3048, want["height_of_resultant_ft"], 1e-4)
}

func TestPublishedUnitWeights(t *testing.T) {
	var want map[string]float64
	published.Read(t, "bearing.yaml", "dead-weights", nil, &want)
	keys := map[string]string{"concrete": "concrete_normal", "reinforced concrete": "concrete_reinforced", "lightweight concrete": "concrete_lightweight", "brick masonry": "masonry_brick", "dry gravel": "gravel_dry", "dry sand": "sand_dry", "dry earth": "earth_dry", "moist packed earth": "earth_moist_packed", "aluminum": "aluminium", "mineral wool": "mineral_wool"}
	for _, w := range UnitWeights {
		key := w.Material
		if k, ok := keys[key]; ok {
			key = k
		}
		if v, ok := want[key]; !ok || v != w.PoundsFt3 {
			t.Errorf("%s weighs %v; want %v", w.Material, w.PoundsFt3, v)
		}
	}
	if len(want) != len(UnitWeights) {
		t.Errorf("%d published weights; %d here", len(want), len(UnitWeights))
	}
	if c := published.Read(t, "bearing.yaml", "caution", nil, nil); len(c.Facts) == 0 || len(Facts) < len(c.Facts) {
		t.Errorf("%d cautions; want those of %v", len(Facts), c.Facts)
	}
}
