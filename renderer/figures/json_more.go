package figures

import "wythe/renderer/moisture"

type dynamicJSON struct {
	Periodic  Number `json:"periodic_transmittance_W_m2K"`
	Decrement Number `json:"decrement_factor"`
	Shift     Number `json:"time_shift_h"`
	Inside    Number `json:"areal_heat_capacity_inside_J_m2K"`
	Outside   Number `json:"areal_heat_capacity_outside_J_m2K"`
}

type moistureJSON struct {
	Verdict  string              `json:"verdict"`
	Required Number              `json:"f_rsi_required"`
	FRsi     Number              `json:"f_rsi"`
	Greatest Number              `json:"greatest_accumulated_kg_m2"`
	Dry      bool                `json:"dry_at_end_of_year"`
	Start    *string             `json:"start_month"`
	Months   []moistureMonthJSON `json:"months"`
}

type moistureMonthJSON struct {
	Month      string          `json:"month"`
	Interfaces []interfaceJSON `json:"interfaces"`
}

type interfaceJSON struct {
	Between     [2]string `json:"between"`
	Condensate  Number    `json:"condensate_kg_m2"`
	Accumulated Number    `json:"accumulated_kg_m2"`
}

type groundJSON struct {
	BPrime        Number `json:"b_prime_m"`
	Dt            Number `json:"d_t_m"`
	Transmittance Number `json:"transmittance_W_m2K"`
	EdgePsi       Number `json:"edge_psi_W_mK"`
	Coupling      Number `json:"annual_coupling_W_K"`
}

type bearingJSON struct {
	Rated       Number `json:"rated_Pa"`
	Derating    Number `json:"derating"`
	Allowable   Number `json:"allowable_Pa"`
	Uniform     Number `json:"uniform_Pa"`
	PointSpread Number `json:"point_spread_Pa"`
	PointPlate  Number `json:"point_plate_Pa"`
	Applied     Number `json:"applied_Pa"`
	Utilisation Number `json:"utilisation"`
	Governs     string `json:"governs"`
}

type pourJSON struct {
	Uplift  Number `json:"uplift_Pa"`
	Ballast Number `json:"ballast_Pa"`
}

type energyJSON struct {
	Heat       Number     `json:"heat_J_m2"`
	DegreeDays Number     `json:"degree_days_K_d"`
	Base       Number     `json:"base_C"`
	Costs      []costJSON `json:"costs"`
}

type costJSON struct {
	Fuel  string `json:"fuel"`
	Unit  string `json:"unit"`
	Used  Number `json:"used_per_m2"`
	Money Number `json:"money_per_m2"`
}

// more fills in what follows the thermal figures.
func (a *Assembly) more(out *assemblyJSON) {
	out.DeadLoad = none
	if d := a.Dead; d != nil && len(d.Missing) == 0 {
		out.DeadLoad = Number(d.Weight)
	}
	if d := a.Dynamic; d != nil {
		out.Dynamic = &dynamicJSON{Number(d.Periodic), Number(d.DecrementFactor), Number(d.TimeShiftH), Number(d.ArealInsideJPerM2K), Number(d.ArealOutsideJPerM2K)}
	}
	if m := a.Moisture; m != nil {
		out.Moisture = moistureOf(m)
	}
	if g := a.Ground; g != nil {
		j := &groundJSON{none, none, none, none, none}
		if g.Result != nil {
			j.Dt = Number(g.Dt)
			j.BPrime = number(g.BPrime, g.BPrime > 0)
			j.Transmittance = Number(g.Transmittance)
			j.Coupling = number(g.CouplingWPerK, g.Planned)
			if g.Edge != nil {
				j.EdgePsi = Number(g.Edge.Psi)
			}
		}
		out.Ground = j
	}
	if b := a.Bearing; b != nil {
		out.Bearing = &bearingJSON{
			Rated: Number(b.Rated), Derating: Number(b.Derating), Allowable: Number(b.Allowable), Uniform: Number(b.Uniform),
			PointSpread: number(b.PointSpread, b.Spread != nil), PointPlate: number(b.PointPlate, b.Plate != nil),
			Applied: Number(b.Applied), Utilisation: Number(b.Utilisation), Governs: b.Governs,
		}
	}
	if p := a.Pour; p != nil {
		out.Pour = &pourJSON{Number(p.Uplift), Number(p.Ballast)}
	}
	if e := a.Energy; e != nil {
		j := &energyJSON{Heat: Number(e.Heat), DegreeDays: Number(e.DegreeDays), Base: Number(e.Base), Costs: []costJSON{}}
		for _, c := range e.Costs {
			j.Costs = append(j.Costs, costJSON{c.Fuel, c.Unit, Number(c.UnitsPerM2), Number(c.MoneyPerM2)})
		}
		out.Energy = j
	}
}

func moistureOf(m *moisture.Result) *moistureJSON {
	j := &moistureJSON{
		Verdict: m.Verdict, Required: number(m.Required.Required, m.Required.Month >= 0), FRsi: Number(m.FRsi),
		Greatest: Number(m.Condensation.Greatest), Dry: m.Condensation.DryAtEnd, Months: []moistureMonthJSON{},
	}
	c := m.Condensation
	if c.StartMonth >= 0 {
		start := moisture.MonthNames[c.StartMonth]
		j.Start = &start
	}
	for _, month := range c.Months {
		out := moistureMonthJSON{Month: month.Name}
		for i, amount := range month.Amounts {
			f := c.Interfaces[i]
			out.Interfaces = append(out.Interfaces, interfaceJSON{[2]string{f.Outer, f.Inner}, Number(amount.Condensate), Number(amount.Accumulated)})
		}
		j.Months = append(j.Months, out)
	}
	return j
}
