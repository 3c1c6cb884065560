package figures

import "wythe/renderer/heatflow"

type heatflowJSON struct {
	HeatFlow    Number         `json:"heat_flow_W_m"`
	Coupling    Number         `json:"coupling_W_mK"`
	Low         Number         `json:"coupling_low_W_mK"`
	High        Number         `json:"coupling_high_W_mK"`
	PsiInternal Number         `json:"psi_internal_W_mK"`
	PsiExternal Number         `json:"psi_external_W_mK"`
	Coldest     Number         `json:"coldest_inside_C"`
	Factor      Number         `json:"temperature_factor"`
	ColdestMold Number         `json:"coldest_inside_mold_C"`
	FactorMold  Number         `json:"temperature_factor_mold"`
	Required    Number         `json:"temperature_factor_required_mold"`
	MoldFree    *bool          `json:"mold_free"`
	Dry         *bool          `json:"condensation_free"`
	Chains      []chainJSON    `json:"chains"`
	Couplings   []couplingJSON `json:"couplings"`
	Error       Number         `json:"error_estimate_percent"`
	Unknowns    int            `json:"unknowns"`
	SolveMs     *float64       `json:"solve_ms,omitempty"`
	Flanks      []flankJSON    `json:"flanks"`
	Notes       []string       `json:"notes"`
	At          []Place        `json:"at,omitempty"`
}

type chainJSON struct {
	Control     string `json:"control"`
	X           Number `json:"x_m"`
	Y           Number `json:"y_m"`
	Month       int    `json:"month"`
	Temperature Number `json:"coldest_C"`
	DewPoint    Number `json:"dew_point_C"`
}

type couplingJSON struct {
	Between  [2]string `json:"between"`
	Coupling Number    `json:"coupling_W_mK"`
}

type flankJSON struct {
	Name     string `json:"name"`
	U        Number `json:"transmittance_W_m2K"`
	Internal Number `json:"internal_length_m"`
	External Number `json:"external_length_m"`
}

// Place is a place asked for and its temperature.
type Place struct {
	X           Number `json:"x_m"`
	Y           Number `json:"y_m"`
	Temperature Number `json:"temperature_C"`
}

// At returns the temperatures at places, m; null where a place lies outside
// the section, or the temperatures of the spaces are not known.
func (h *HeatFlow) At(places [][2]float64) []Place {
	out := make([]Place, 0, len(places))
	for _, p := range places {
		t, ok := h.Field.TemperatureAt(p[0], p[1])
		out = append(out, Place{Number(p[0]), Number(p[1]), number(t, ok && h.Temperatures)})
	}
	return out
}

// JSON returns the figures under keys that carry their units, for encoding.
func (h *HeatFlow) json() *heatflowJSON {
	if h == nil {
		return nil
	}
	j := &heatflowJSON{
		HeatFlow: number(h.HeatFlow, h.Temperatures && !h.Unbounded),
		Coupling: number(h.Coupling, h.HasCoupling),
		Low:      number(h.Low, h.HasCoupling), High: number(h.High, h.HasCoupling),
		PsiInternal: number(h.Psi.Internal, h.Psi.HasInternal), PsiExternal: number(h.Psi.External, h.Psi.HasExternal),
		Coldest: number(h.Coldest.Celsius, h.HasColdest && h.Temperatures), Factor: number(h.Factor, h.HasFactor),
		ColdestMold: number(h.ColdestMold.Celsius, h.HasColdest && h.Temperatures), FactorMold: number(h.FactorMold, h.HasFactor),
		Error: Number(100 * h.Error), Unknowns: h.Field.Unknowns(), SolveMs: h.SolveMs,
		Couplings: []couplingJSON{}, Flanks: []flankJSON{}, Notes: h.Notes, At: h.Places,
	}
	if j.Notes == nil {
		j.Notes = []string{}
	}
	j.Required, j.Chains = none, []chainJSON{}
	if m := h.Moisture; m != nil {
		j.Required, j.MoldFree, j.Dry = Number(m.Mold.Required), &m.MoldFree, &m.Dry
		for _, k := range m.Chains {
			j.Chains = append(j.Chains, chainJSON{string(k.Control), Number(k.Spot.X), Number(k.Spot.Y), k.Month + 1, Number(k.Temperature), Number(k.DewPoint)})
		}
	}
	for _, c := range h.Couplings {
		j.Couplings = append(j.Couplings, couplingJSON{c.Between, Number(c.Coupling)})
	}
	for _, f := range h.Psi.Flanks {
		j.Flanks = append(j.Flanks, flankOf(f))
	}
	return j
}

func flankOf(f heatflow.Flank) flankJSON {
	return flankJSON{f.Name, Number(f.U), Number(f.Internal), Number(f.External)}
}
