package energy

import (
	"strconv"
	"testing"

	"gopkg.in/yaml.v3"

	"wythe/renderer/published"
	"wythe/renderer/units"
)

func TestPublishedFuels(t *testing.T) {
	var first, second, other map[string]float64
	published.Read(t, "energy.yaml", "fuel-2012", nil, &first)
	published.Read(t, "energy.yaml", "fuel-toolbox", nil, &second)
	for key, c := range map[string][2]string{
		"electricity_per_kWh": {"electricity", "kWh"}, "natural_gas_per_ft3": {"natural gas", "ft3"}, "therm": {"natural gas", "therm"}, "heating_oil_per_gal": {"heating oil", "gal"},
		"diesel_per_gal": {"diesel", "gal"}, "propane_per_gal": {"propane", "gal"}, "gasoline_per_gal": {"gasoline", "gal"}, "wood_per_cord": {"wood", "cord"},
	} {
		got, err := HeatContent(c[0], c[1])
		if err != nil || got.Btu != first[key] || first[key] == 0 {
			t.Errorf("%s: %v, %v; want %v", key, got.Btu, err, first[key])
		}
	}
	for key, c := range map[string][2]string{
		"electricity_per_kWh": {"heat pump", "kWh"}, "kerosene_per_gal": {"kerosene", "gal"}, "pellets_per_ton": {"pellets", "ton"}, "coal_per_ton": {"coal", "ton"}, "wood_air_dried_per_lb": {"wood", "lb"}, "wood_air_dried_per_cord": {"wood", "cord"},
	} {
		got, err := HeatContent(c[0], c[1])
		if err != nil || got.Btu != second[key] || second[key] == 0 {
			t.Errorf("%s: %v, %v; want %v", key, got.Btu, err, second[key])
		}
	}
	// The two tables, and other printed values, vary by a percent with the year.
	published.Near(t, "oil", second["fuel_oil_no2_per_gal"]/first["heating_oil_per_gal"], 1, 0.01)
	published.Near(t, "propane", second["propane_per_gal"]/first["propane_per_gal"], 1, 0.01)
	if gas := first["natural_gas_per_ft3"]; gas < second["natural_gas_low"] || gas > second["natural_gas_high"] {
		t.Errorf("natural gas at %v is outside the second table", gas)
	}
	published.Read(t, "energy.yaml", "fuel-other", nil, &other)
	for key, ours := range map[string]string{"natural_gas_per_ft3_2007": "natural_gas_per_ft3", "heating_oil_per_gal_2018": "heating_oil_per_gal", "propane_per_gal_2018": "propane_per_gal", "natural_gas_DOE": "natural_gas_per_ft3", "propane_DOE": "propane_per_gal"} {
		published.Near(t, key, other[key]/first[ours], 1, 0.01)
	}
}

func TestPublishedEfficiencies(t *testing.T) {
	var want map[string]float64
	published.Read(t, "energy.yaml", "efficiencies", nil, &want)
	keys := []string{"oil_furnace_old", "oil_boiler_new", "gas_furnace_minimum", "gas_condensing", "propane_condensing", "electric_resistance", "heat_pump_cold_climate_COP_low", "heat_pump_cold_climate_COP_high", "ground_source_COP", "wood_stove", "pellet_stove"}
	if len(keys) != len(want) || len(keys) != len(Efficiencies) {
		t.Fatalf("%d keys, %d published, %d here", len(keys), len(want), len(Efficiencies))
	}
	for i, key := range keys {
		if float64(Efficiencies[i].Share) != want[key] {
			t.Errorf("%s: %v; want %v", key, Efficiencies[i].Share, want[key])
		}
	}
}

func TestPublishedOilByDegreeDays(t *testing.T) {
	var in, want map[string]float64
	c := published.Read(t, "energy.yaml", "hdd-oil", &in, &want)
	const perBtuHF = btu / 3600 * 1.8 // W/K
	loss := in["loss_Btu_h_F"] * perBtuHF
	dd := DegreeDays(in["hdd_F_day"] / 1.8)
	published.Near(t, "per day and degree", Heat(loss*secondsPerDay/1.8).Btu(), want["per_day_and_degree"], 1e-6)
	season := Heat(loss * float64(dd) * secondsPerDay)
	published.Near(t, "season", season.Btu(), want["season_Btu"], 1e-3)
	published.Near(t, "usable per gallon", in["oil_Btu_gal"]*in["efficiency"], want["usable_per_gal"], 1)
	got, err := FuelUsed(season, in["oil_Btu_gal"], units.Ratio(in["efficiency"]))
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "gallons", got, c.Follows["gallons"], 0.01)
}

func TestPublishedDegreeDays(t *testing.T) {
	var in struct {
		Months [12]units.Temperature `yaml:"months_C"`
	}
	var want map[string]float64
	published.Read(t, "energy.yaml", "degree-days", &in, &want)
	// The base is 65 °F, printed as 18.3333 °C.
	got, err := HeatingDegreeDays(in.Months, UsualBase)
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "K·d", float64(got), want["base_18.3333_C"], 0.01)
	published.Near(t, "°F·d", got.Fahrenheit(), want["base_65_F"], 0.01)
}

func TestPublishedPrices(t *testing.T) {
	var want map[string]float64
	published.Read(t, "energy.yaml", "fuel-price", nil, &want)
	for key, p := range map[string]Price{ // as its inputs say in words
		"oil": {"oil", 4, "gal", 0.85}, "propane": {"propane", 3, "gal", 0.90}, "gas": {"gas", 1.5, "therm", 0.95},
		"electricity_COP_1": {"electricity", 0.20, "kWh", 1}, "electricity_COP_3": {"heat pump", 0.20, "kWh", 3}, "wood": {"wood", 300, "cord", 0.70},
	} {
		got, err := p.PerMMBtu()
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, key, got, want[key], 1e-4)
	}
	var cop map[string]float64
	published.Read(t, "energy.yaml", "cop", nil, &cop)
	published.Near(t, "HSPF per COP", 1/float64(COPOfHSPF(1)), cop["HSPF_to_COP_divide_by"], 1e-9)
	published.Near(t, "Btu per kWh", kilowattHour/btu, cop["COP_1_equals_Btu_per_kWh"], 0.15) // printed without the .14
	published.Near(t, "kWh per MMBtu", HeatOfBtu(1e6).KilowattHours(), cop["kWh_per_MMBtu_COP_1"], 0.01)
	published.Near(t, "kWh per MMBtu at 2.8", HeatOfBtu(1e6).KilowattHours()/2.8, cop["kWh_per_MMBtu_COP_2.8"], 0.01)
}

func TestPublishedAirLeakage(t *testing.T) {
	var in struct {
		At50 []float64 `yaml:"ACH50"`
	}
	var natural []float64
	published.Read(t, "energy.yaml", "air-leakage", &in, &natural)
	for i, a := range in.At50 {
		got, err := NaturalAirChange(units.AirChange(a), UsualLeakDivisor)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "natural air change", float64(got), natural[i], 1e-9)
	}
	var lbl map[string]yaml.Node
	published.Read(t, "energy.yaml", "lbl-factors", nil, &lbl)
	value := func(key string) float64 {
		v, err := strconv.ParseFloat(lbl[key].Value, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for _, h := range []string{"H_1_story", "H_1.5", "H_2", "H_3"} {
		for _, s := range []string{"S_well_shielded", "S_normal", "S_exposed"} {
			for _, l := range []string{"L_small_cracks", "L_normal", "L_large_holes"} {
				got, err := LeakFactors{Climate: 18, Height: value(h), Shield: value(s), Cracks: value(l)}.Divisor()
				if err != nil {
					t.Fatal(err)
				}
				published.Near(t, "n", got, 18*value(h)*value(s)*value(l), 1e-12)
			}
		}
	}
	if _, err := (LeakFactors{Climate: 13, Height: 1, Shield: 1, Cracks: 1}).Divisor(); err == nil {
		t.Error("a climate factor outside its range is taken")
	}

	var house, want map[string]float64
	published.Read(t, "energy.yaml", "leak-units", &house, &want)
	v, rate := units.Volume(house["V_ft3"]*foot*foot*foot), units.AirChange(house["ACH50"])
	published.Near(t, "cfm", LeakFlow(v, rate)*60/(foot*foot*foot), want["cfm50"], 1e-4)
	published.Near(t, "heat", LeakHeat(v, 0.03)/(btu/3600*1.8), want["heat_Btu_h_F_at_0.03_ACH"], 1e-4)
	ratio, err := FlowRatio(4, 50)
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "flow ratio", ratio, want["flow_ratio_4_to_50_Pa_n_0.65"], 1e-4)
	published.Near(t, "ELA", float64(LeakageArea(v, rate))/(0.0254*0.0254), want["ELA_in2_by_0.055_cfm50"], 1e-4)

	published.Read(t, "energy.yaml", "air-capacity", nil, &want)
	published.Near(t, "J/(m³·K)", AirHeatJPerM3K, want["J_per_m3_K"], 0.005*want["J_per_m3_K"])
	published.Near(t, "Wh/(m³·K)", AirHeatJPerM3K/3600, want["Wh_per_m3_K"], 0.005*want["Wh_per_m3_K"])
	published.Near(t, "Btu/(ft³·°F)", AirHeatJPerM3K/btu*foot*foot*foot*5/9, want["Btu_per_ft3_F"], 1e-12)
}

func TestPublishedPayback(t *testing.T) {
	var in, want map[string]float64
	published.Read(t, "energy.yaml", "payback", &in, &want)
	const area = 1000.0 // ft², R-10 added to R-20, as its title says
	dd := DegreeDays(in["hdd_F_day"] / 1.8)
	heat := func(r float64) Heat {
		u := 1 / float64(units.RValue(r).SI())
		return Heat(u * float64(dd) * secondsPerDay * area * foot * foot)
	}
	saved := heat(20) - heat(30)
	published.Near(t, "saving, Btu", saved.Btu(), want["saving_Btu"], 0.001)
	p, err := PaybackOf(in["cost_per_ft2"]*area, saved.Btu()/1e6*in["heat_price_per_MMBtu"], in["years"], units.Ratio(in["real_rate"]))
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "saving", p.SavingPerYear, want["saving_per_year"], 0.001)
	published.Near(t, "simple payback", p.SimpleYears, want["simple_payback_years"], 0.001)
	published.Near(t, "present worth", p.PresentWorth, want["present_worth_factor"], 0.001)
	published.Near(t, "net present value", p.NetPresentValue, want["net_present_value"], 0.001)
}
