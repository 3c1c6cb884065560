package ground

import (
	"strconv"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"wythe/renderer/published"
	"wythe/renderer/units"
)

// numbers keeps the scalar inputs that are numbers.
func numbers(in map[string]yaml.Node) map[string]float64 {
	out := map[string]float64{}
	for k, n := range in {
		if v, err := strconv.ParseFloat(n.Value, 64); err == nil {
			out[k] = v
		}
	}
	return out
}

func TestPublishedSoils(t *testing.T) {
	var rows [][]yaml.Node
	c := published.Read(t, "ground.yaml", "soil", nil, &rows)
	var precise map[string]float64
	if err := c.Precise.Decode(&precise); err != nil {
		t.Fatal(err)
	}
	for i, row := range rows {
		s := Soils[i]
		if !strings.Contains(row[0].Value, s.Name) || float64(s.Conductivity) != published.Number(t, row[1]) || s.HeatCapacityJPerM3K != published.Number(t, row[2]) {
			t.Errorf("%+v; want %v", s, row)
		}
		delta, err := s.PenetrationDepth()
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "δ of "+s.Name, float64(delta), published.Number(t, row[3]), 0.05)
		published.Near(t, "δ of "+s.Name, float64(delta), precise["delta_"+s.Name], 5e-5)
	}
}

func TestPublishedDefaults(t *testing.T) {
	var want struct {
		Floor     float64    `yaml:"Rsi_floor"`
		Outside   float64    `yaml:"Rse"`
		Wall      float64    `yaml:"Rsi_wall"`
		Openings  [2]float64 `yaml:"ventilation_opening_eps_m2_per_m"`
		Wind      float64    `yaml:"wind_v_m_s"`
		Sheltered float64    `yaml:"shield_sheltered"`
		Average   float64    `yaml:"shield_average"`
		Exposed   float64    `yaml:"shield_exposed"`
	}
	published.Read(t, "ground.yaml", "defaults", nil, &want)
	got := [...]float64{float64(SurfaceFloor), float64(SurfaceOutside), float64(SurfaceWall), float64(VentOpenings[0]), float64(VentOpenings[1]), WindSpeedMPerS, ShieldSheltered, ShieldAverage, ShieldExposed}
	if w := [...]float64{want.Floor, want.Outside, want.Wall, want.Openings[0], want.Openings[1], want.Wind, want.Sheltered, want.Average, want.Exposed}; got != w {
		t.Errorf("defaults %v; want %v", got, w)
	}
}

func TestPublishedSlabTable(t *testing.T) {
	var in struct {
		Lambda, W float64
		Rsi       float64 `yaml:"Rsi"`
		Rse       float64 `yaml:"Rse"`
	}
	var rows [][7]float64
	c := published.Read(t, "ground.yaml", "uk-slab-clay", &in, &rows)
	var precise [][7]float64
	if err := c.Precise.Decode(&precise); err != nil {
		t.Fatal(err)
	}
	cells, table := 0, map[float64]float64{}
	for i, row := range rows {
		for j, rf := range []float64{0, 0.5, 1, 1.5, 2, 2.5} {
			s := &Slab{Plan: Plan{Area: 1000, Perimeter: units.Length(1000 * row[0]), Wall: units.Length(in.W)}, Soil: Soil{Conductivity: units.Conductivity(in.Lambda)},
				Floor: units.ThermalResistance(rf), SurfaceInside: units.ThermalResistance(in.Rsi), SurfaceOutside: units.ThermalResistance(in.Rse)}
			r, err := s.Solve()
			if err != nil {
				t.Fatal(err)
			}
			// Half a unit of the printed digit, and what a float adds to it.
			published.Near(t, "U", float64(r.Transmittance), row[j+1], 0.005+1e-12)
			published.Near(t, "U to four digits", float64(r.Transmittance), precise[i][j+1], 5e-5+1e-12)
			cells++
			if rf == 0 {
				table[row[0]] = row[1]
			}
		}
	}
	if cells != 120 {
		t.Errorf("%d cells; want 120", cells)
	}

	var example struct {
		P float64 `yaml:"P"`
		A float64 `yaml:"A"`
	}
	var want map[string]float64
	e := published.Read(t, "ground.yaml", "uk-slab-example", &example, &want)
	published.Near(t, "P/A", example.P/example.A, want["P_over_A"], 0.005)
	published.Near(t, "U of the nearest row", table[want["nearest_row"]], e.Follows["U_from_uk_slab_clay"], 0.005)
	r, err := (&Slab{Plan: Plan{units.Area(example.A), units.Length(example.P), 0.3}, Soil: Soils[0], SurfaceInside: 0.17, SurfaceOutside: 0.04}).Solve()
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "U by formula", float64(r.Transmittance), 0.7612, 5e-5) // its note

	var threshold struct {
		U float64 `yaml:"U"`
	}
	published.Read(t, "ground.yaml", "scottish-threshold", &threshold, &want)
	low, high := 0.01, 1.0 // bisection on P/A for U
	for high-low > 1e-9 {
		mid := (low + high) / 2
		u, _, err := SlabTransmittance(1.5, units.Length(2/mid), 0.3+1.5*0.21)
		if err != nil {
			t.Fatal(err)
		}
		if float64(u) < threshold.U {
			low = mid
		} else {
			high = mid
		}
	}
	published.Near(t, "P/A at U 0.25", low, want["P_over_A_solid_floor_below"], 0.01)
}

func TestPublishedBasementWall(t *testing.T) {
	var in struct {
		Lambda float64
		Rsi    float64 `yaml:"Rsi"`
		Rse    float64 `yaml:"Rse"`
		Dt     float64 `yaml:"d_t_floor"`
	}
	var rows [][6]float64
	c := published.Read(t, "ground.yaml", "uk-basement-wall", &in, &rows)
	for i, row := range rows {
		for j, z := range []float64{0.5, 1, 1.5, 2, 2.5} {
			got, err := WallTransmittance(units.Conductivity(in.Lambda), units.Length(z), units.Length(in.Dt), units.ThermalResistance(row[0]), units.ThermalResistance(in.Rsi), units.ThermalResistance(in.Rse))
			if err != nil {
				t.Fatal(err)
			}
			published.Near(t, "U", float64(got.Transmittance), row[j+1], 1e-4)
			// The remembered table is cut off up to 0.007 lower.
			if d := float64(got.Transmittance) - c.Remembered[i][j+1]; d < -0.005 || d > 0.0075 {
				t.Errorf("U %.4f is %.4f from the remembered %.2f", got.Transmittance, d, c.Remembered[i][j+1])
			}
		}
	}
}

func TestPublishedInsulatedSlab(t *testing.T) {
	var in map[string]yaml.Node
	var want map[string]yaml.Node
	published.Read(t, "ground.yaml", "slab-insulated", &in, &want)
	n, w := numbers(in), numbers(want)
	rf := 0.15/2.3 + 0.10/0.035 // as its Rf says
	s := &Slab{Plan: Plan{units.Area(n["A"]), units.Length(n["P"]), units.Length(n["w"])}, Soil: Soil{"sand", units.Conductivity(n["lambda"]), 2e6},
		Floor: units.ThermalResistance(rf), SurfaceInside: units.ThermalResistance(n["Rsi"]), SurfaceOutside: units.ThermalResistance(n["Rse"])}
	r, err := s.Solve()
	if err != nil {
		t.Fatal(err)
	}
	relative := func(what string, got, want float64) { t.Helper(); published.Near(t, what, got, want, 1e-5*want) }
	relative("B′", float64(r.BPrime), w["B_prime"])
	relative("Rf", rf, w["Rf"])
	relative("d_t", float64(r.Dt), w["d_t"])
	relative("U", float64(r.Transmittance), w["U"])
	relative("H_g", r.AnnualWPerK, w["H_g_W_K"])
	if branch := want["branch"]; string(r.Branch) != strings.ReplaceAll(branch.Value, "B'", "B′") {
		t.Errorf("branch %q; want %q", r.Branch, branch.Value)
	}

	var swing map[string]float64
	var months struct {
		Delta  float64
		Hg     float64     `yaml:"H_g"`
		Hpi    float64     `yaml:"H_pi"`
		Hpe    float64     `yaml:"H_pe"`
		Months [12]float64 `yaml:"months_W"`
		Mean   float64     `yaml:"annual_mean_W"`
	}
	published.Read(t, "ground.yaml", "slab-months", &swing, &months)
	if r.Periodic.InsideLead != swing["alpha"] || r.Periodic.OutsideLag != swing["beta"] {
		t.Errorf("α %v, β %v; want %v, %v", r.Periodic.InsideLead, r.Periodic.OutsideLag, swing["alpha"], swing["beta"])
	}
	got, err := r.Months(Swing{Inside: units.Temperature(swing["ti"]), Outside: units.Temperature(swing["te_mean"]), InsideSwing: units.TemperatureDifference(swing["ai"]), OutsideSwing: units.TemperatureDifference(swing["ae"]), ColdestMonth: swing["tau"]})
	if err != nil {
		t.Fatal(err)
	}
	monthly := func(what string, got, want float64) { t.Helper(); published.Near(t, what, got, want, 1e-4*want) }
	monthly("δ", float64(r.Periodic.Depth), months.Delta)
	monthly("H_g", r.AnnualWPerK, months.Hg)
	monthly("H_pi", r.Periodic.InsideWPerK, months.Hpi)
	monthly("H_pe", r.Periodic.OutsideWPerK, months.Hpe)
	monthly("mean", got.AnnualMeanW, months.Mean)
	for i := range got.FlowW {
		monthly("month "+strconv.Itoa(i+1), got.FlowW[i], months.Months[i])
	}
}

func TestPublishedBasement(t *testing.T) {
	var n, w map[string]float64
	published.Read(t, "ground.yaml", "basement", &n, &w)
	s := &Basement{Plan: Plan{units.Area(n["A"]), units.Length(n["P"]), units.Length(n["w"])}, Soil: Soil{"clay", units.Conductivity(n["lambda"]), n["rho_c"]},
		Depth: units.Length(n["z"]), Floor: units.ThermalResistance(n["Rf"]), Walls: units.ThermalResistance(n["Rw"]),
		SurfaceFloor: SurfaceFloor, SurfaceWall: SurfaceWall, SurfaceOutside: SurfaceOutside}
	r, err := s.Solve()
	if err != nil {
		t.Fatal(err)
	}
	for key, got := range map[string]float64{
		"B_prime": float64(r.BPrime), "d_t": float64(r.Dt), "d_w": float64(r.Wall.Dw), "U_floor": float64(r.Transmittance), "U_wall": float64(r.Wall.Transmittance),
		"U_mean": float64(r.Wall.Mean), "H_g": r.AnnualWPerK, "delta": float64(r.Periodic.Depth), "H_pi": r.Periodic.InsideWPerK, "H_pe": r.Periodic.OutsideWPerK,
	} {
		published.Near(t, key, got, w[key], 1e-5*w[key])
	}
}

func TestPublishedBranchLimit(t *testing.T) {
	var want map[string]float64
	published.Read(t, "ground.yaml", "branch-limit", nil, &want)
	published.Near(t, "log form", logForm(1, 1, 1), want["log_form"], 1e-6)
	linear, _ := slab(1, 1, 1)
	published.Near(t, "linear form", linear, want["linear_form"], 1e-6)
	// Its note: a narrow building.
	r, err := (&Slab{Plan: Plan{Area: 100, Perimeter: 100, Wall: 0.3}, Soil: Soil{Conductivity: 2}, Floor: 5, SurfaceInside: 0.17, SurfaceOutside: 0.04}).Solve()
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "d_t", float64(r.Dt), 10.72, 1e-9)
	published.Near(t, "U", float64(r.Transmittance), 0.17191, 5e-6)
}

func TestPublishedSuspended(t *testing.T) {
	var in map[string]yaml.Node
	var w map[string]float64
	published.Read(t, "ground.yaml", "suspended", &in, &w)
	n := numbers(in)
	s := &Suspended{Plan: Plan{Area: 100, Perimeter: units.Length(200 / n["B_prime"]), Wall: units.Length(n["w"])}, Soil: Soil{Conductivity: units.Conductivity(n["lambda"])},
		Floor: 1 / units.ThermalTransmittance(0.17+4.0+0.17), Ground: units.ThermalResistance(n["R_g"]), SurfaceInside: SurfaceFloor, SurfaceOutside: SurfaceOutside,
		Height: units.Length(n["h"]), Walls: units.ThermalTransmittance(n["U_w"]), Openings: units.Area(n["eps"]), WindMPerS: n["v"], Shield: n["f_w"]}
	r, err := s.Solve()
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "U_g", float64(r.Void.Ground), w["U_g"], 1e-5)
	published.Near(t, "U_x", float64(r.Void.Vented), w["U_x"], 1e-5)
	published.Near(t, "U", float64(r.Transmittance), w["U"], 1e-5)
}

func TestPublishedExactStrip(t *testing.T) {
	var in struct{ Cases [][3]float64 }
	var want []float64
	published.Read(t, "ground.yaml", "strip-exact", &in, &want)
	for i, c := range in.Cases {
		got := StripTransmittance(units.Conductivity(c[2]), units.Length(c[0]), units.Length(c[1]))
		published.Near(t, "U", float64(got), want[i], 1e-6)
		if i == 0 { // its note: the standard's formula lies 2.0 % above
			u, _, err := SlabTransmittance(units.Conductivity(c[2]), units.Length(c[0]), units.Length(c[1]))
			if err != nil {
				t.Fatal(err)
			}
			published.Near(t, "formula over exact", float64(u/got), 1.020, 0.0005)
		}
	}
}

// Secondary cases ("f-factors-wa", "basement-targets-wa", "c-f-901") are worked
// out by other methods: only their order is held against ours.
func TestOtherMethodsAgreeInOrder(t *testing.T) {
	var rows [][]yaml.Node
	published.Read(t, "ground.yaml", "f-factors-wa", nil, &rows)
	// Perimeter loss falls with R and with depth, horizontal less than vertical.
	psi := func(r, width float64, vertical bool) float64 {
		e := Edge{Thickness: 0.05, Conductivity: units.Conductivity(0.05 / float64(units.RValue(r).SI()))}
		if vertical {
			e.Vertical = units.Feet(width)
		} else {
			e.Horizontal = units.Feet(width)
		}
		got, err := EdgePsi(1.30, 0.3+1.3*(0.17+0.04+0.15/1.8), e)
		if err != nil {
			t.Fatal(err)
		}
		return float64(got.Psi)
	}
	order := []func(r float64) float64{
		func(r float64) float64 { return psi(r, 2, false) }, func(r float64) float64 { return psi(r, 4, false) },
		func(r float64) float64 { return psi(r, 2, true) }, func(r float64) float64 { return psi(r, 4, true) },
	}
	for i, row := range rows[1:] {
		for j, r := range []float64{5, 10, 15} {
			theirs := published.Number(t, row[j+2])
			if j > 0 && (published.Number(t, row[j+1]) < theirs || order[i](r) > order[i]([]float64{5, 10, 15}[j-1])) {
				t.Errorf("row %d: loss grows with R", i)
			}
			if i > 1 && order[i](r) > order[i-2](r) {
				t.Errorf("vertical insulation at R-%v saves less than horizontal", r)
			}
		}
	}

	// Walls below grade: U falls with depth in theirs and in ours.
	var walls [][]yaml.Node
	published.Read(t, "ground.yaml", "basement-targets-wa", nil, &walls)
	last := map[string][2]float64{}
	for _, row := range walls {
		got, err := WallTransmittance(1.3, units.Feet(published.Number(t, row[1])), 1, units.RValue(10).SI(), 0.13, 0.04)
		if err != nil {
			t.Fatal(err)
		}
		now := [2]float64{published.Number(t, row[2]), float64(got.Transmittance)}
		if before, ok := last[row[0].Value]; ok && (now[0] >= before[0] || now[1] >= before[1]) {
			t.Errorf("%s: U rises with depth: %v, %v", row[0].Value, before, now)
		}
		last[row[0].Value] = now
	}
	// The base values of ASHRAE 90.1: an uninsulated edge loses most.
	var base map[string]float64
	published.Read(t, "ground.yaml", "c-f-901", nil, &base)
	if !(base["F_unheated_slab_uninsulated"] > base["F_R10_24in"] && base["F_R10_24in"] > base["F_R15_24in"]) || !(psi(10, 2, true) < 0 && psi(15, 2, true) < psi(10, 2, true)) {
		t.Errorf("order of %v against ψ %v, %v", base, psi(10, 2, true), psi(15, 2, true))
	}
}
