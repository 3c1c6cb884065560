package climate

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"wythe/renderer/finding"
)

const marrowPoint = `climate: Marrow Point (invented)
design: {heating: 5 F, ground: 48.5 F}
months:                            # January first: mean temperature, relative humidity
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

func TestRead(t *testing.T) {
	c, list := Read("climates/marrow-point.yaml", []byte(marrowPoint))
	if c == nil || len(list.Items) > 0 {
		t.Fatal(list.Items)
	}
	if c.Name != "Marrow Point (invented)" || math.Abs(float64(c.Heating)+15) > 1e-12 || math.Abs(c.Ground.Fahrenheit()-48.5) > 1e-12 || !c.GroundStated {
		t.Errorf("%+v", c)
	}
	if c.Months[0].Temperature != -3.1 || c.Months[0].Humidity != 0.8 || c.Months[11].Temperature != -0.6 || c.Months[11].Humidity != 0.81 {
		t.Errorf("%+v", c.Months)
	}
	if c.ColdestMonth() != 0 || MonthName(0) != "January" {
		t.Errorf("coldest month %d", c.ColdestMonth())
	}
	if m := c.YearMean(); math.Abs(float64(m)-8.8) > 0.05 {
		t.Errorf("mean of the year %g", m)
	}
}

// Published: energy.yaml, degree-days (computed from the definition),
// tolerance 0.01 K·d.
func TestPublishedDegreeDays(t *testing.T) {
	data, err := os.ReadFile("../../testdata/published/energy.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var p struct {
		Cases []struct {
			ID     string
			Inputs struct {
				Months []float64 `yaml:"months_C"`
			}
			Expected  yaml.Node
			Tolerance yaml.Node
		}
	}
	if err := yaml.Unmarshal(data, &p); err != nil {
		t.Fatal(err)
	}
	for _, pc := range p.Cases {
		if pc.ID != "degree-days" {
			continue
		}
		var want struct {
			C float64 `yaml:"base_18.3333_C"`
			F float64 `yaml:"base_65_F"`
		}
		if err := pc.Expected.Decode(&want); err != nil || want.C == 0 || len(pc.Inputs.Months) != 12 {
			t.Fatal(err, want)
		}
		var b strings.Builder
		b.WriteString("climate: x\ndesign: {heating: -15 C, ground: 9 C}\nmonths:\n")
		for _, m := range pc.Inputs.Months {
			fmt.Fprintf(&b, "  - [%g C, 80 %%]\n", m)
		}
		c, list := Read("x.yaml", []byte(b.String()))
		if c == nil {
			t.Fatal(list.Items)
		}
		got, by := c.HeatingDegreeDays(BaseOf65F)
		if math.Abs(float64(got)-want.C) > 0.01 || math.Abs(got.Fahrenheit()-want.F) > 0.01 {
			t.Errorf("%.2f K·d, %.2f °F·d; want %g, %g", float64(got), got.Fahrenheit(), want.C, want.F)
		}
		if len(by.Limits) == 0 || !strings.Contains(by.Limits[0], "undercount") {
			t.Errorf("the limit is not said: %+v", by)
		}
		return
	}
	t.Fatal("no case degree-days")
}

// ▸ marks the place of the finding.
func TestReadMistakes(t *testing.T) {
	with := func(old, new string) string { return strings.Replace(marrowPoint, old, new, 1) }
	for _, c := range []struct {
		rule, input, mend string
		usable            bool
	}{
		{"unknown-key", with("design:", "desing: {}\ndesign:"), `did you mean "design"?`, true},
		{"missing-key", with("heating: 5 F, ", ""), `add "heating:"`, false},
		{"missing-key", with("climate: Marrow Point (invented)\n", ""), `add "climate:"`, false},
		{"bad-quantity", with("5 F", "5"), "write 5 F or 5 C", false},
		{"bad-quantity", with("80 %", "80"), "write 80 %", false},
		{"bad-quantity", with("80 %", "180 %"), "", false},
		{"out-of-range", with("-3.1 C", "90 C"), "check the scale", false},
		{"out-of-range", with("80 %", "0"), "write the mean", false},
		{"out-of-range", with("5 F", "500 F"), "check the scale", false},
		{"months", with("  - [-0.6 C, 81 %]\n", ""), "twelve lines", false},
		{"months", marrowPoint + "  - [1 C, 50 %]\n", "twelve lines", false},
		{"months", with("[-2.4 C, 77 %]", "[-2.4 C]"), "relative humidity", false},
		{"not-a-list", with("[-2.4 C, 77 %]", "-2.4 C"), "", false},
		{"design-heating", with("5 F", "40 F"), "colder", true},
		{"design-ground", with(", ground: 48.5 F", ""), `add "ground:"`, true},
		{"yaml-syntax", with("[-2.4 C, 77 %]", "[-2.4 C, 77 %"), "brackets", false},
		{"missing-key", "", "climate:", false},
	} {
		got, list := Read("c.yaml", []byte(c.input))
		if len(list.Items) != 1 || (got != nil) != c.usable {
			t.Errorf("%s: %v, usable %v", c.rule, list.Items, got != nil)
			continue
		}
		if i := list.Items[0]; i.Rule != c.rule || i.Line < 1 || i.Column < 1 || !strings.Contains(i.Mend, c.mend) {
			t.Errorf("%v; want %s, %s", i, c.rule, c.mend)
		}
	}
	// A place, to the character.
	_, list := Read("c.yaml", []byte(with("77 %", "77 %%")))
	if len(list.Items) != 1 || list.Items[0].Position != (finding.Position{File: "c.yaml", Line: 5, Column: 17}) {
		t.Errorf("%v", list.Items)
	}
}

func FuzzRead(f *testing.F) {
	f.Add(marrowPoint)
	f.Add("climate: x\nmonths: [[1 C, 2 %]]\n")
	f.Fuzz(func(t *testing.T, s string) {
		c, list := Read("c.yaml", []byte(s))
		if c == nil && list.Errors() == 0 {
			t.Errorf("%q: no climate and no error", s)
		}
		if c != nil && list.Errors() == 0 {
			if d, _ := c.HeatingDegreeDays(BaseOf65F); d < 0 || math.IsNaN(float64(d)) {
				t.Errorf("%q: %g degree-days", s, d)
			}
		}
	})
}
