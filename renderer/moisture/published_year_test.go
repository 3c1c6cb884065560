package moisture

import (
	"math"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"wythe/renderer/published"
	"wythe/renderer/units"
)

// factorRows are the months of the invented climate of the demo library.
type factorRows struct {
	Months   [][]yaml.Node
	Critical string  `yaml:"critical_month"`
	F        float64 `yaml:"f_rsi_min"`
}

func (f factorRows) climate(t *testing.T) (out [12]Month) {
	t.Helper()
	for i, row := range f.Months {
		out[i] = Month{units.Temperature(published.Number(t, row[1])), units.Ratio(published.Number(t, row[2]) / 100)}
	}
	return out
}

func TestPublishedTemperatureFactor(t *testing.T) {
	var in struct {
		Inside   float64 `yaml:"theta_i_C"`
		Class    int
		Margin   float64
		Critical float64 `yaml:"critical_surface_rh"`
	}
	var want factorRows
	c := published.Read(t, "moisture.yaml", "frsi-marrow", &in, &want)
	y, err := Conditions(want.climate(t), Inside{Temperature: units.Temperature(in.Inside), Class: in.Class, Margin: units.Ratio(in.Margin - 1)})
	if err != nil {
		t.Fatal(err)
	}
	f, err := RequiredFactor(y, units.Ratio(in.Critical))
	if err != nil {
		t.Fatal(err)
	}
	pressure, temperature, factor := c.Within(t, "pressures"), c.Within(t, "temperatures"), c.Within(t, "f")
	for i, row := range want.Months {
		m := f.Months[i]
		published.Near(t, "pe", float64(m.Outside.Pressure), published.Number(t, row[3]), pressure)
		excess, err := Excess(in.Class, m.Outside.Temperature)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "dp", float64(excess), published.Number(t, row[4]), pressure)
		published.Near(t, "pi", float64(m.Inside.Pressure), published.Number(t, row[5]), pressure)
		published.Near(t, "rh", 100*float64(m.Humidity), published.Number(t, row[6]), 0.005) // printed to two decimals
		published.Near(t, "θsi", float64(m.SurfaceLeast), published.Number(t, row[7]), temperature)
		if m.LeftOut != (row[8].Tag == "!!null") {
			t.Errorf("%s: left out %v", row[0].Value, m.LeftOut)
		} else if !m.LeftOut {
			published.Near(t, "f", m.Factor, published.Number(t, row[8]), factor)
		}
	}
	published.Near(t, "f required", f.Required, want.F, factor)
	if MonthNames[f.Month] != want.Critical {
		t.Errorf("critical month %s; want %s", MonthNames[f.Month], want.Critical)
	}
}

type publishedLayer struct {
	D, Lambda, Mu, Sd *float64
	R                 *float64 `yaml:"R"`
}

// layer reads [name, {d, lambda, mu | sd, R}].
func layer(t *testing.T, n yaml.Node) Layer {
	t.Helper()
	var p publishedLayer
	if err := n.Content[1].Decode(&p); err != nil {
		t.Fatal(err)
	}
	l := Layer{Name: n.Content[0].Value}
	if p.D != nil {
		l.Thickness = units.Length(*p.D)
	}
	if p.R != nil {
		l.Resistance = units.ThermalResistance(*p.R)
	} else {
		l.Resistance = units.ThermalResistance(*p.D / *p.Lambda)
	}
	if p.Sd != nil {
		l.Sd = units.Length(*p.Sd)
	} else {
		l.Sd = units.Length(*p.D * *p.Mu)
	}
	return l
}

// insideFirst turns layers listed from outside.
func insideFirst(t *testing.T, nodes []yaml.Node) (out []Layer) {
	t.Helper()
	for i := len(nodes) - 1; i >= 0; i-- {
		out = append(out, layer(t, nodes[i]))
	}
	return out
}

func TestPublishedYears(t *testing.T) {
	for _, id := range []string{"year-m1", "year-m3", "year-m5"} {
		t.Run(id, func(t *testing.T) {
			var rows factorRows
			published.Read(t, "moisture.yaml", "frsi-marrow", nil, &rows)
			var in struct {
				Inside float64     `yaml:"theta_i_C"`
				Rsi    float64     `yaml:"Rsi"`
				Rse    float64     `yaml:"Rse"`
				Layers []yaml.Node `yaml:"layers_from_outside"`
				R      float64     `yaml:"R_total"`
				Sd     float64     `yaml:"sd_total"`
				Days   [12]float64
			}
			var want struct {
				Start      string `yaml:"start_month"`
				Interfaces []string
				Months     [][]yaml.Node
				Greatest   float64 `yaml:"greatest_accumulated_g_m2"`
				Dry        bool    `yaml:"dry_at_end_of_year"`
			}
			published.Read(t, "moisture.yaml", id, &in, &want)
			y, err := Conditions(rows.climate(t), Inside{Temperature: units.Temperature(in.Inside), Class: 3})
			if err != nil {
				t.Fatal(err)
			}
			if in.Days != Days {
				t.Fatalf("days %v; want %v", in.Days, Days)
			}
			s := &Section{Layers: insideFirst(t, in.Layers), SurfaceInside: units.ThermalResistance(in.Rsi), SurfaceOutside: units.ThermalResistance(in.Rse)}
			g, err := divide(s)
			if err != nil {
				t.Fatal(err)
			}
			published.Near(t, "R", g.total, in.R, 5e-6) // printed to five decimals
			published.Near(t, "sd", g.sd, in.Sd, 5e-4)
			got, err := Condense(s, y)
			if err != nil {
				t.Fatal(err)
			}
			if got.StartMonth < 0 || MonthNames[got.StartMonth] != want.Start || got.DryAtEnd != want.Dry || len(got.Interfaces) != len(want.Interfaces) {
				t.Fatalf("start %d, dry %v, interfaces %v; want %s, %v, %v", got.StartMonth, got.DryAtEnd, got.Interfaces, want.Start, want.Dry, want.Interfaces)
			}
			for i, f := range got.Interfaces {
				if w := strings.TrimPrefix(want.Interfaces[i], "inside face of "); f.Outer != w {
					t.Errorf("interface %d outside of it %q; want %q", i, f.Outer, w)
				}
			}
			const tol = 1e-3 // g/m²
			published.Near(t, "greatest", 1000*float64(got.Greatest), want.Greatest, tol)
			for k, row := range want.Months {
				m := got.Months[k]
				if m.Name != row[0].Value {
					t.Errorf("month %d is %s; want %s", k, m.Name, row[0].Value)
				}
				for j, a := range m.Amounts {
					published.Near(t, m.Name+" condensate", 1000*float64(a.Condensate), published.Number(t, row[1+2*j]), tol)
					published.Near(t, m.Name+" accumulated", 1000*float64(a.Accumulated), published.Number(t, row[2+2*j]), tol)
				}
			}
		})
	}
}

func TestPublishedHandExample(t *testing.T) {
	var in struct {
		Outside, Inside struct{ T, RH float64 }
		Rsi             float64     `yaml:"Rsi"`
		Rse             float64     `yaml:"Rse"`
		Layers          []yaml.Node `yaml:"layers_from_outside"`
	}
	var want struct {
		R    float64   `yaml:"R_total"`
		T    []float64 `yaml:"temperatures_from_outside_face"`
		Psat []float64 `yaml:"psat"`
		Pe   float64   `yaml:"p_e"`
		Pi   float64   `yaml:"p_i"`
		In   float64   `yaml:"g_in"`
		Out  float64   `yaml:"g_out"`
		Net  float64   `yaml:"g_c"`
		Days float64   `yaml:"condensate_90_days_kg_m2"`
		Dry  float64   `yaml:"drying_90_days_1700_against_1200_Pa_kg_m2"`
	}
	published.Read(t, "moisture.yaml", "glaser-hand", &in, &want)
	s := &Section{Layers: insideFirst(t, in.Layers), SurfaceInside: units.ThermalResistance(in.Rsi), SurfaceOutside: units.ThermalResistance(in.Rse)}
	var y Year
	for i := range y.Inside {
		y.Outside[i] = Air{units.Temperature(in.Outside.T), units.Pressure(psat(t, in.Outside.T) * in.Outside.RH / 100)}
		y.Inside[i] = Air{units.Temperature(in.Inside.T), units.Pressure(psat(t, in.Inside.T) * in.Inside.RH / 100)}
	}
	snap, err := SnapshotOf(s, &y, 0)
	if err != nil {
		t.Fatal(err)
	}
	relative := func(what string, got, want float64) {
		t.Helper()
		published.Near(t, what, got, want, 1e-5*math.Abs(want))
	}
	faces := 0
	for _, p := range snap.Points {
		if !p.Face {
			continue
		}
		published.Near(t, "temperature", float64(p.Temperature), want.T[len(want.T)-1-faces], 5e-5) // printed to four decimals
		relative("psat", float64(p.Saturation), want.Psat[len(want.Psat)-1-faces])
		faces++
	}
	if faces != len(want.T) {
		t.Fatalf("%d faces; want %d", faces, len(want.T))
	}
	relative("p_e", float64(snap.Points[len(snap.Points)-1].Pressure), want.Pe)
	relative("p_i", float64(snap.Points[0].Pressure), want.Pi)
	got, err := Condense(s, &y)
	if err != nil {
		t.Fatal(err)
	}
	// One interface, at the wool's outer face; 30-day months are not in the
	// calendar, so the flow is taken from January's 31 days.
	if len(got.Interfaces) != 1 || got.Interfaces[0].Outer != in.Layers[0].Content[0].Value {
		t.Fatalf("interfaces %v", got.Interfaces)
	}
	flow := float64(got.Months[0].Amounts[0].Condensate) / (Days[got.Months[0].Month] * secondsPerDay)
	relative("g_c", flow, want.Net)
	relative("90 days", flow*90*secondsPerDay, want.Days)
	// The two flows, by hand from the same points.
	relative("g_in", delta0*(want.Pi-want.Psat[1])/0.2, want.In)
	relative("g_out", delta0*(want.Psat[1]-want.Pe)/2.7, want.Out)
	// Drying of a wet plane at 1700 Pa against 1200 Pa on both sides.
	dry := delta0 * (1700 - 1200) * (1/0.2 + 1/2.7) * 90 * secondsPerDay
	published.Near(t, "drying", dry, want.Dry, 5e-4) // printed to three decimals
}
