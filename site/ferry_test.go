package site

import (
	"math"
	"strings"
	"testing"

	"wythe/renderer/building"
)

// The demonstration building's budget, worked again from what its files state
// and what the pages of its details publish: U, ψ, and the ground by the
// formulas of ISO 13370:2017 (from memory). Nothing of the building's own
// packages is called.
func TestFerryLandingByHand(t *testing.T) {
	l, err := Open(demo)
	if err != nil {
		t.Fatal(err)
	}
	d := l.BuildingNamed("Ferry Landing")
	got := l.Budget(d)

	const (
		sqft, ft = 0.09290304, 0.3048
		inside   = (70.0 - 32) / 1.8
		outside  = (5.0 - 32) / 1.8
		base     = (65.0 - 32) / 1.8
	)
	months := [12]float64{-3.1, -2.4, 1.5, 6.8, 12.2, 17.1, 20.6, 20.2, 16.4, 10.9, 5.4, -0.6}
	days := [12]float64{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
	degreeDays, mean := 0.0, 0.0
	for i, m := range months {
		degreeDays += days[i] * max(0, base-m)
		mean += m / 12
	}

	u := func(mark string) float64 { return float64(l.Figures(l.Detail(mark)).Thermal.Transmittance) }
	// The layers of an element on the ground, face to face, without stone.
	layers := func(mark string) float64 {
		sum := 0.0
		th := l.Figures(l.Detail(mark)).Thermal
		for _, x := range l.Detail(mark).Assembly.Layers {
			if x.Name == "base" && x.Material.Name == "washed stone" {
				sum -= float64(x.Total()) / float64(x.Material.Conductivity)
			}
		}
		return sum + float64(th.Resistance.Value-th.SurfaceInside)
	}
	// Basement: 1,020 sq ft, 132 ft about, 6 ft 8 in deep, wall 12 in, clay.
	const soil, stores = 1.5, 3e6
	delta := math.Sqrt(3.15e7 * soil / (math.Pi * stores))
	area, about, deep := 1020*sqft, 132*ft, (6+8.0/12)*ft
	dt := ft + soil*(0.17+layers("F-101")+0.04)
	dw := soil * (0.13 + layers("W-101") + 0.04)
	u0 := func(b, d float64) float64 {
		if d < b {
			return 2 * soil / (math.Pi*b + d) * math.Log(math.Pi*b/d+1)
		}
		return soil / (0.457*b + d)
	}
	floor := area * u0(area/(about/2), dt+deep/2)
	under := min(dt, dw)
	walls := deep * about * 2 * soil / (math.Pi * deep) * (1 + 0.5*under/(under+deep)) * math.Log(deep/dw+1)
	fade := math.Exp(-deep / delta)
	basementSwing := 0.37 * about * soil * (fade*math.Log(delta/dt+1) + 2*(1-fade)*math.Log(delta/dw+1))
	// Workshop: 480 sq ft, 88 ft about, wall 14 in, clay.
	shop, shopAbout := 480*sqft, 88*ft
	dtShop := 14.0/12*ft + soil*(0.17+layers("F-102")+0.04)
	slab := shop * u0(shop/(shopAbout/2), dtShop)
	slabSwing := 0.37 * shopAbout * soil * math.Log(delta/dtShop+1)

	coldest, half := 1.0, (20.6+3.1)/2
	ground := func(steady, swing float64) (design, year float64) {
		for i, m := range months {
			w := steady*(inside-mean) + swing*half*math.Cos(2*math.Pi*(float64(i+1)-coldest-1)/12)
			design = max(design, w)
			if m < base {
				year += max(0, w) * days[i] * 86400
			}
		}
		return design, year
	}
	psi := func(mark string) float64 {
		p := l.byMark[mark].solved().Heat.Psi
		if p.HasExternal && !p.Soil {
			return float64(p.External)
		}
		return float64(p.Internal)
	}

	th := l.Figures(l.Detail("W-101")).Thermal
	want := map[string]float64{ // W/K
		"W-102":            (1840 - 210 - 42) * sqft * u("W-102"),
		"W-104":            (760 - 96) * sqft * u("W-104"),
		"F-104":            60 * sqft * u("F-104"),
		"R-101":            1240 * sqft * u("R-101"),
		"R-102":            480 * sqft * u("R-102"),
		"W-101 in the air": (960*sqft - about*deep) / (float64(th.Resistance.Value) + 0.04),
		"windows":          210 * sqft * 0.20 * 5.678263337,
		"doors":            42 * sqft * 0.22 * 5.678263337,
		"workshop door":    96 * sqft * 0.26 * 5.678263337,
		"F-101":            floor,
		"W-101":            walls,
		"F-102":            slab,
		"air leakage":      17400 * 0.6 / 20 * 0.018 * 1055.05585262 / 3600 * 1.8, // Btu/h·°F to W/K
	}
	feet := map[string]float64{"J-201": 132, "J-202": 88, "J-203": 132, "J-204": 128, "J-205": 72, "J-206": 42, "J-207": 42, "J-208": 140, "J-209": 68, "J-210": 72, "J-211": 64, "J-212": 24}
	for mark, length := range feet {
		if p := l.byMark[mark].solved().Heat.Psi; p.HasExternal || p.HasInternal {
			want[mark] = length * ft * psi(mark)
		}
	}
	design := map[string]float64{}
	year := map[string]float64{}
	for name, w := range want {
		design[name], year[name] = w*(inside-outside), w*degreeDays*86400
	}
	whole, season := ground(floor+walls, basementSwing)
	for name, part := range map[string]float64{"F-101": floor, "W-101": walls} {
		design[name], year[name] = whole*part/(floor+walls), season*part/(floor+walls)
	}
	design["F-102"], year["F-102"] = ground(slab, slabSwing)

	near := func(what string, is, should float64) {
		t.Helper()
		if math.Abs(is-should) > 1e-6*max(1, math.Abs(should)) {
			t.Errorf("%s: %.9g; by hand %.9g", what, is, should)
		}
	}
	sumW, sumDesign, sumYear := 0.0, 0.0, 0.0
	seen := map[string]bool{}
	for _, line := range got.Lines {
		name := line.Mark
		switch {
		case line.Kind == building.Opening || line.Kind == building.Air:
			name, _, _ = strings.Cut(line.Name, " in ")
		case line.Kind == building.Element && name == "W-101":
			name = "W-101 in the air"
		}
		if _, ok := want[name]; !ok || seen[name] {
			t.Errorf("%s %q is not in the sum by hand, or twice", line.Kind, line.Name)
			continue
		}
		seen[name] = true
		near(name+" per degree, W/K", line.WPerK, want[name])
		near(name+" on the design day, W", line.DesignW, design[name])
		near(name+" in a year, J", float64(line.Year), year[name])
		sumW, sumDesign, sumYear = sumW+want[name], sumDesign+design[name], sumYear+year[name]
	}
	for name := range want {
		if !seen[name] {
			t.Errorf("%s is not in the budget", name)
		}
	}
	near("together, W/K", got.WPerK, sumW)
	near("together on the design day, W", got.DesignW, sumDesign)
	near("together in a year, J", float64(got.Year), sumYear)
	// A kWh of 3,412 Btu at 0.24 and 280 %; a gallon of oil of 138,690 Btu at 4.10
	// and 85 % (US Energy Information Administration, Btu conversion factors).
	near("heat pump, money", got.Costs[0].Money, sumYear/1055.05585262/3412/2.8*0.24)
	near("heating oil, money", got.Costs[1].Money, sumYear/1055.05585262/138690/0.85*4.10)
}
