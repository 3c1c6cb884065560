package thermal

import (
	"strconv"
	"testing"

	"gopkg.in/yaml.v3"

	"wythe/renderer/published"
	"wythe/renderer/units"
)

type publishedLayer struct {
	D, Lambda *float64
	R         *float64 `yaml:"R"`
	Sections  [][2]float64
}

type publishedStack struct {
	Rsi    float64 `yaml:"Rsi"`
	Rse    float64 `yaml:"Rse"`
	Layers []publishedLayer
}

// stack takes the first section as the layer and the second as its framing.
func (p publishedStack) stack() *Stack {
	s := &Stack{SurfaceInside: units.ThermalResistance(p.Rsi), SurfaceOutside: units.ThermalResistance(p.Rse)}
	for i, l := range p.Layers {
		layer := Layer{Name: "layer " + strconv.Itoa(i+1)}
		switch {
		case l.R != nil:
			layer.Resistance, layer.Given = units.ThermalResistance(*l.R), true
		case len(l.Sections) == 2:
			layer.Thickness = units.Length(*l.D)
			layer.Conductivity = units.Conductivity(l.Sections[0][1])
			layer.Framing = &Framing{Fraction: units.Ratio(l.Sections[1][0]), Conductivity: units.Conductivity(l.Sections[1][1])}
		default:
			layer.Thickness, layer.Conductivity = units.Length(*l.D), units.Conductivity(*l.Lambda)
		}
		s.Layers = append(s.Layers, layer)
	}
	return s
}

func solved(t *testing.T, s *Stack) *Result {
	t.Helper()
	r, err := Solve(s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestPublishedCombinedLimits(t *testing.T) {
	for _, id := range []string{"comb-timber-frame", "comb-cavity-block", "comb-homogeneous"} {
		t.Run(id, func(t *testing.T) {
			var in publishedStack
			var want struct {
				Upper float64 `yaml:"upper_limit"`
				Lower float64 `yaml:"lower_limit"`
				R     float64 `yaml:"R_total"`
				U     float64 `yaml:"U"`
				Error float64 `yaml:"max_relative_error_percent"`
			}
			published.Read(t, "steady_1d.yaml", id, &in, &want)
			r := solved(t, in.stack())
			const relative = 1e-5
			published.Near(t, "upper", float64(r.Upper.Value), want.Upper, want.Upper*relative)
			published.Near(t, "lower", float64(r.Lower.Value), want.Lower, want.Lower*relative)
			published.Near(t, "R", float64(r.Resistance.Value), want.R, want.R*relative)
			published.Near(t, "U", float64(r.Transmittance), want.U, want.U*relative)
			// Half a unit of the last printed digit.
			published.Near(t, "error %", 100*float64(r.Spread), want.Error, 0.0005)
		})
	}
}

func TestPublishedInterfaceTemperatures(t *testing.T) {
	var in publishedStack
	var unused any
	published.Read(t, "steady_1d.yaml", "comb-homogeneous", &in, &unused)
	var air struct {
		Inside  float64 `yaml:"theta_i"`
		Outside float64 `yaml:"theta_e"`
	}
	var want struct {
		Temperatures []float64
		OutsideFace  float64 `yaml:"outside_face"`
		Q            float64
	}
	c := published.Read(t, "steady_1d.yaml", "interface-temperatures", &air, &want)
	tol := c.Within(t, "")
	plain, planes := solved(t, in.stack()).Temperatures(units.Temperature(air.Inside), units.Temperature(air.Outside))
	for _, got := range []Temperatures{plain, planes} {
		if len(got.Faces) != len(want.Temperatures) {
			t.Fatalf("%d faces; want %d", len(got.Faces), len(want.Temperatures))
		}
		for i, w := range want.Temperatures {
			published.Near(t, "face "+strconv.Itoa(i), float64(got.Faces[i]), w, tol)
		}
		published.Near(t, "outside face", float64(got.Faces[len(got.Faces)-1]), want.OutsideFace, tol)
		published.Near(t, "q", got.FluxWPerM2, want.Q, tol)
	}
}

func TestPublishedSlightlyVentilated(t *testing.T) {
	var in struct {
		A        []float64 `yaml:"A_v_mm2_per_m"`
		Unvented float64   `yaml:"R_total_unventilated"`
		Well     float64   `yaml:"R_total_well_ventilated"`
	}
	var want []float64
	c := published.Read(t, "steady_1d.yaml", "air-slightly-ventilated", &in, &want)
	for i, a := range in.A {
		got, err := SlightlyVentilated(units.Area(a*1e-6), units.ThermalResistance(in.Unvented), units.ThermalResistance(in.Well))
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "R", float64(got), want[i], c.Within(t, ""))
		// The same totals by a stack: 0.13 + 3.18 - 0.13 inside the layer, 0.13
		// sheltered outside it, and 0.35 in the layer and the cladding with R_se.
		s := &Stack{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{
			{Name: "wall", Resistance: units.ThermalResistance(in.Well - 0.26), Given: true},
			{Name: "cavity", Resistance: 0.18, Given: true, Air: &Air{Ventilation: Slight, Openings: units.Area(a * 1e-6)}},
			{Name: "cladding", Resistance: units.ThermalResistance(in.Unvented - in.Well + 0.26 - 0.13 - 0.04 - 0.18), Given: true},
		}}
		published.Near(t, "R of the stack", float64(solved(t, s).Resistance.Value), want[i], c.Within(t, ""))
	}
}

func TestPublishedGapCorrection(t *testing.T) {
	var in struct {
		Level map[string]float64 `yaml:"dU_by_level"`
		R1    float64            `yaml:"R1"`
		Total float64            `yaml:"R_total"`
	}
	var want map[string]float64
	c := published.Read(t, "steady_1d.yaml", "corr-air-gaps", &in, &want)
	tol := c.Within(t, "")
	for level, key := range []string{"level_0", "level_1", "level_2"} {
		got, err := GapCorrection(level, units.ThermalResistance(in.R1), units.ThermalResistance(in.Total))
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, key, float64(got), want[key], tol)
	}
	r := solved(t, &Stack{SurfaceInside: 0.13, SurfaceOutside: 0.04, Layers: []Layer{
		{Name: "board", Resistance: units.ThermalResistance(in.Total - in.R1 - 0.17), Given: true},
		{Name: "foam", Resistance: units.ThermalResistance(in.R1), Given: true, Gaps: 1},
	}})
	published.Near(t, "U corrected", float64(r.Transmittance), want["U_corrected_level_1"], tol)
	var rule map[string]float64
	published.Read(t, "steady_1d.yaml", "corr-negligible", nil, &rule)
	if limit := rule["ignore_if_total_below_percent_of_U"] / 100; r.Corrections.Negligible != (float64(r.Corrections.Share) < limit) || !r.Corrections.Negligible {
		t.Errorf("share %.4f: negligible %v under a limit of %.2f", float64(r.Corrections.Share), r.Corrections.Negligible, limit)
	}
}

func TestPublishedRain(t *testing.T) {
	var in struct {
		P     float64 `yaml:"p_mm_per_day"`
		FX    float64 `yaml:"f_x"`
		R1    float64 `yaml:"R1"`
		Total float64 `yaml:"R_total"`
	}
	var want map[string]float64
	c := published.Read(t, "steady_1d.yaml", "corr-inverted-roof", &in, &want)
	s := &Stack{SurfaceInside: 0.10, SurfaceOutside: 0.04, Rain: &Rain{PerDay: units.Length(in.P / 1000), DrainageFactor: in.FX, Above: []int{1}}, Layers: []Layer{
		{Name: "deck", Resistance: units.ThermalResistance(in.Total - in.R1 - 0.14), Given: true},
		{Name: "foam", Resistance: units.ThermalResistance(in.R1), Given: true},
	}}
	r := solved(t, s)
	published.Near(t, "ΔU_r", float64(r.Corrections.Rain), want["dU_r"], c.Within(t, ""))
	published.Near(t, "U", float64(r.Transmittance), want["U_corrected"], c.Within(t, ""))
}

func TestPublishedTapered(t *testing.T) {
	var in struct {
		R0 []float64 `yaml:"R0"`
		R2 []float64 `yaml:"R2"`
	}
	var want struct {
		Rectangle []float64
		Thickest  float64 `yaml:"triangle_thickest_at_apex_R0_1_R2_2"`
		Thinnest  float64 `yaml:"triangle_thinnest_at_apex_R0_1_R2_2"`
	}
	c := published.Read(t, "steady_1d.yaml", "tapered", &in, &want)
	check := func(shape TaperShape, r0, r2, want float64) {
		t.Helper()
		u, err := TaperedTransmittance(shape, units.ThermalResistance(r0), units.ThermalResistance(r2))
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, string(shape), float64(u), want, c.Within(t, ""))
		s := &Stack{SurfaceInside: 0.1, SurfaceOutside: 0.04, Layers: []Layer{
			{Name: "deck", Resistance: units.ThermalResistance(r0 - 0.14), Given: true},
			{Name: "taper", Conductivity: 0.04, Taper: &Taper{To: units.Length(0.04 * r2), Shape: shape}},
		}}
		published.Near(t, string(shape)+" in a stack", float64(solved(t, s).Transmittance), want, c.Within(t, ""))
	}
	for i := range in.R0 {
		check(Rectangle, in.R0[i], in.R2[i], want.Rectangle[i])
	}
	check(ThickestAtApex, 1, 2, want.Thickest)
	check(ThinnestAtApex, 1, 2, want.Thinnest)
}

// given is a layer of an inch-pound R.
func given(name string, r float64) Layer {
	return Layer{Name: name, Resistance: units.RValue(r).SI(), Given: true}
}

// framedR is a cavity of an inch-pound R beside framing of another, 1 m thick.
func framedR(name string, cavity, stud, fraction float64) Layer {
	l := given(name, cavity)
	l.Thickness = 1
	l.Framing = &Framing{Fraction: units.Ratio(fraction), Conductivity: units.Conductivity(1 / float64(units.RValue(stud).SI()))}
	return l
}

func films(inside, outside float64, layers ...Layer) *Stack {
	return &Stack{SurfaceInside: units.RValue(inside).SI(), SurfaceOutside: units.RValue(outside).SI(), Layers: layers, Headline: ParallelPath}
}

func TestPublishedWoodFrame(t *testing.T) {
	var in struct {
		Outside  float64 `yaml:"outside_film"`
		Inside   float64 `yaml:"inside_film"`
		Layers   []yaml.Node
		Fraction float64 `yaml:"fraction_framing"`
	}
	var want map[string]float64
	c := published.Read(t, "steady_1d.yaml", "wood-frame-ashrae", &in, &want)
	r := make([]float64, len(in.Layers))
	for i, n := range in.Layers {
		if err := n.Content[1].Decode(&r[i]); err != nil {
			t.Fatal(err)
		}
	}
	got := solved(t, films(in.Inside, in.Outside, given("gypsum", r[4]), framedR("cavity", r[2], r[3], in.Fraction), given("foam", r[1]), given("siding", r[0])))
	published.Near(t, "cavity path", float64(got.Sections[0].Resistance.RValue()), want["R_path_cavity"], 0.01)
	published.Near(t, "stud path", float64(got.Sections[1].Resistance.RValue()), want["R_path_stud"], 0.01)
	published.Near(t, "U parallel", float64(got.Transmittance.UFactor()), want["U_parallel_path"], 0.0005)
	published.Near(t, "U planes", 1/float64(got.IsothermalPlanes.Value.RValue()), want["U_isothermal_planes"], 0.0005)
	var precise map[string]float64
	if err := c.Precise.Decode(&precise); err != nil {
		t.Fatal(err)
	}
	published.Near(t, "R parallel", float64(got.ParallelPath.Value.RValue()), precise["R_parallel_path"], 0.0001)
	published.Near(t, "R planes", float64(got.IsothermalPlanes.Value.RValue()), precise["R_isothermal_planes"], 0.0001)
}

func TestPublishedWoodR25(t *testing.T) {
	var in, want map[string]float64
	c := published.Read(t, "steady_1d.yaml", "wood-r25", &in, &want)
	got := solved(t, films(in["inside_film"], in["outside_film"], given("gypsum", in["gypsum"]),
		framedR("cavity", in["cavity"], in["stud_2x6"], in["fraction_framing"]), given("osb", in["osb_7_16"]), given("foam", in["continuous"]), given("siding", in["siding"])))
	tol := c.Within(t, "")
	published.Near(t, "cavity path", float64(got.Sections[0].Resistance.RValue()), want["cavity_path"], tol)
	published.Near(t, "framing path", float64(got.Sections[1].Resistance.RValue()), want["framing_path"], tol)
	published.Near(t, "R parallel", float64(got.ParallelPath.Value.RValue()), want["R_parallel_path"], tol)
	published.Near(t, "U parallel", 1/float64(got.ParallelPath.Value.RValue()), want["U_parallel_path"], tol)
	published.Near(t, "R planes", float64(got.IsothermalPlanes.Value.RValue()), want["R_isothermal_planes"], tol)
	published.Near(t, "U planes", 1/float64(got.IsothermalPlanes.Value.RValue()), want["U_isothermal_planes"], tol)
}

func TestPublishedRoof901(t *testing.T) {
	var in struct {
		Outside float64   `yaml:"outside_film"`
		Deck    float64   `yaml:"metal_deck"`
		Inside  float64   `yaml:"inside_film_heat_up"`
		R       []float64 `yaml:"R_insulation"`
	}
	var want []float64
	c := published.Read(t, "steady_1d.yaml", "roof-901", &in, &want)
	for i, r := range in.R {
		got := solved(t, films(in.Inside, in.Outside, given("deck", in.Deck), given("foam", r)))
		published.Near(t, "R-"+strconv.Itoa(int(r)), float64(got.Transmittance.UFactor()), want[i], c.Within(t, ""))
	}
}

func TestPublishedMassFloor901(t *testing.T) {
	var in struct {
		Base float64   `yaml:"U_base"`
		R    []float64 `yaml:"R_continuous"`
	}
	var want []float64
	c := published.Read(t, "steady_1d.yaml", "mass-floor-901", &in, &want)
	for i, r := range in.R {
		got := solved(t, films(0, 0, given("floor", 1/in.Base), given("foam", r)))
		published.Near(t, "R-"+strconv.Itoa(int(r)), float64(got.Transmittance.UFactor()), want[i], c.Within(t, ""))
	}
}

func TestPublishedSteelStuds(t *testing.T) {
	var want [][5]float64
	c := published.Read(t, "steady_1d.yaml", "metal-studs", nil, &want)
	for _, row := range want {
		s := Studs{Depth: units.Inches(row[0]), Spacing: units.Inches(row[1])}
		got, err := SteelStuds(s, units.RValue(row[2]).SI())
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "factor", float64(got.Factor), row[3], 1e-9)
		published.Near(t, "effective R", float64(got.Effective.RValue()), row[4], c.Within(t, ""))
		l := given("studs", row[2])
		l.Studs = &s
		r := solved(t, films(0.68, 0.17, l))
		published.Near(t, "R of the wall", float64(r.Resistance.Value.RValue()), row[4]+0.85, c.Within(t, ""))
		if r.Method != StudFactors || r.Upper.Computed || r.Combined.Computed {
			t.Errorf("method %q, upper %v, combined %v; want the factors alone", r.Method, r.Upper, r.Combined)
		}
	}
}

func TestPublishedUK(t *testing.T) {
	var in struct {
		Rse    float64 `yaml:"Rse"`
		Rsi    float64 `yaml:"Rsi"`
		Layers []yaml.Node
	}
	var want map[string]float64
	published.Read(t, "steady_1d.yaml", "double-brick-uk", &in, &want)
	s := &Stack{SurfaceInside: units.ThermalResistance(in.Rsi), SurfaceOutside: units.ThermalResistance(in.Rse)}
	for _, n := range in.Layers {
		var d, lambda float64
		if err := n.Content[1].Decode(&d); err != nil {
			t.Fatal(err)
		}
		if err := n.Content[2].Decode(&lambda); err != nil {
			t.Fatal(err)
		}
		s.Layers = append([]Layer{{Name: n.Content[0].Value, Thickness: units.Length(d), Conductivity: units.Conductivity(lambda)}}, s.Layers...)
	}
	r := solved(t, s)
	published.Near(t, "R", float64(r.Resistance.Value), want["R_total"], 0.005)
	published.Near(t, "U", float64(r.Transmittance), want["U"], 0.02)

	var battens struct {
		Field    float64 `yaml:"R_field"`
		Batten   float64 `yaml:"R_batten"`
		Fraction float64 `yaml:"fraction_batten"`
	}
	want = nil
	published.Read(t, "steady_1d.yaml", "battens-parallel-uk", &battens, &want)
	r = solved(t, &Stack{Headline: ParallelPath, Layers: []Layer{{
		Name: "battens", Thickness: 1, Resistance: units.ThermalResistance(battens.Field), Given: true,
		Framing: &Framing{Fraction: units.Ratio(battens.Fraction), Conductivity: units.Conductivity(1 / battens.Batten)},
	}}})
	published.Near(t, "R", float64(r.Resistance.Value), want["R"], 0.005)
	published.Near(t, "U", float64(r.Transmittance), want["U"], 0.01)
}
