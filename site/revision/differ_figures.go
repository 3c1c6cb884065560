package revision

import (
	"strconv"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/figures"
	"wythe/renderer/units"
)

const notComputed = "not computed"

func (d *differ) assemblyFigures(a, b *figures.Assembly) {
	if a == nil || b == nil {
		return
	}
	type row struct {
		name string
		of   func(*figures.Assembly) string
	}
	for _, r := range []row{
		{"thickness", func(f *figures.Assembly) string {
			total := units.Length(0)
			for _, l := range f.Detail.Assembly.Layers {
				total += l.Total()
			}
			return total.Show(d.system)
		}},
		{"R-value", func(f *figures.Assembly) string {
			if f.Thermal == nil || !f.Thermal.Resistance.Computed {
				return notComputed
			}
			return f.Thermal.Resistance.Value.Show(d.system)
		}},
		{"U-factor", func(f *figures.Assembly) string {
			if f.Thermal == nil || !f.Thermal.Resistance.Computed {
				return notComputed
			}
			return f.Thermal.Transmittance.Show(d.system)
		}},
		{"dead load", func(f *figures.Assembly) string {
			if f.Dead == nil || len(f.Dead.Missing) > 0 {
				return notComputed
			}
			return f.Dead.Weight.ShowLoad(d.system)
		}},
	} {
		d.say("figure", r.name, "", r.of(a), r.of(b))
	}
}

// heat compares what the two-dimensional heat flow comes to.
func (d *differ) heat(a, b *figures.Junction) {
	for _, r := range []struct {
		name string
		of   func(h *figures.HeatFlow) (string, bool)
	}{
		{"ψ, inside dimensions", func(h *figures.HeatFlow) (string, bool) {
			return h.Psi.Internal.Show(d.system), h.Psi.HasInternal
		}},
		{"ψ, outside dimensions", func(h *figures.HeatFlow) (string, bool) {
			return h.Psi.External.Show(d.system), h.Psi.HasExternal
		}},
		{"temperature factor", func(h *figures.HeatFlow) (string, bool) {
			return strconv.FormatFloat(h.Factor, 'f', 3, 64), h.HasFactor
		}},
		{"coldest inside surface on the design day", func(h *figures.HeatFlow) (string, bool) {
			return units.Temperature(h.Coldest.Celsius).ShowTenth(d.system), h.HasColdest && h.Temperatures
		}},
	} {
		words := func(j *figures.Junction) string {
			if j.Heat == nil {
				return notComputed
			}
			if s, ok := r.of(j.Heat); ok {
				return s
			}
			return notComputed
		}
		d.say("figure", r.name, "", words(a), words(b))
	}
}

func verdict(j *figures.Junction, c detail.Control) string {
	for i := range j.Continuity {
		if r := &j.Continuity[i]; r.Control == c {
			if r.Verdict == continuity.NotTraced {
				return "not traced"
			}
			return string(r.Verdict)
		}
	}
	return "not carried"
}
