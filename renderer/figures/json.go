package figures

import (
	"encoding/json"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Number is a figure in JSON: null where it is not computed or not finite.
type Number float64

// MarshalJSON prints the number with all its digits, or null.
func (n Number) MarshalJSON() ([]byte, error) {
	if f := float64(n); math.IsNaN(f) || math.IsInf(f, 0) {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n))
}

// none is a figure that is not computed.
var none = Number(math.NaN())

func number[T ~float64](v T, ok bool) Number {
	if !ok {
		return none
	}
	return Number(v)
}

type assemblyJSON struct {
	Mark        string              `json:"mark"`
	Title       string              `json:"title"`
	Element     string              `json:"element"`
	Thermal     *thermalJSON        `json:"thermal"`
	Dynamic     *dynamicJSON        `json:"dynamic"`
	Moisture    *moistureJSON       `json:"moisture"`
	Ground      *groundJSON         `json:"ground"`
	Bearing     *bearingJSON        `json:"bearing"`
	Pour        *pourJSON           `json:"pour"`
	Energy      *energyJSON         `json:"energy"`
	DeadLoad    Number              `json:"dead_load_Pa"`
	NotComputed []basis.NotComputed `json:"not_computed"`
}

type thermalJSON struct {
	Method           string      `json:"method"`
	Resistance       Number      `json:"resistance_m2K_W"`
	Transmittance    Number      `json:"transmittance_W_m2K"`
	Upper            Number      `json:"upper_m2K_W"`
	Lower            Number      `json:"lower_m2K_W"`
	ParallelPath     Number      `json:"parallel_path_m2K_W"`
	IsothermalPlanes Number      `json:"isothermal_planes_m2K_W"`
	RValue           Number      `json:"r_value_h_ft2_F_Btu"`
	UFactor          Number      `json:"u_factor_Btu_h_ft2_F"`
	Layers           []layerJSON `json:"layers"`
}

type layerJSON struct {
	Name         string `json:"name"`
	Material     string `json:"material"`
	Thickness    Number `json:"thickness_m"`
	Conductivity Number `json:"conductivity_W_mK"`
	Resistance   Number `json:"resistance_m2K_W"`
}

// MarshalJSON prints the figures under keys that carry their units, numbers
// unrounded, what is not computed as null.
func (a *Assembly) MarshalJSON() ([]byte, error) {
	out := assemblyJSON{
		Mark: a.Detail.Mark, Title: a.Detail.Title, Element: string(a.Detail.Assembly.Element),
		NotComputed: a.NotComputed,
	}
	if out.NotComputed == nil {
		out.NotComputed = []basis.NotComputed{}
	}
	if t := a.Thermal; t != nil {
		out.Thermal = t.json()
	}
	a.more(&out)
	return json.Marshal(out)
}

func (t *Thermal) json() *thermalJSON {
	ok := t.Resistance.Computed
	u := t.Transmittance
	j := &thermalJSON{
		Method:           string(t.Method),
		Resistance:       number(t.Resistance.Value, ok),
		Transmittance:    number(u, ok),
		Upper:            number(t.Upper.Value, t.Upper.Computed),
		Lower:            number(t.Lower.Value, t.Lower.Computed),
		ParallelPath:     number(t.ParallelPath.Value, t.ParallelPath.Computed),
		IsothermalPlanes: number(t.IsothermalPlanes.Value, t.IsothermalPlanes.Computed),
		RValue:           number(t.Resistance.Value.RValue(), ok),
		UFactor:          number(u.UFactor(), ok),
	}
	for _, l := range t.Layers {
		j.Layers = append(j.Layers, layerJSON{
			Name: l.Name, Material: l.Material, Thickness: Number(l.Thickness),
			Conductivity: number(l.Conductivity, l.Conductivity > 0),
			Resistance:   number(units.ThermalResistance(l.Resistance), !l.LeftOut),
		})
	}
	return j
}
