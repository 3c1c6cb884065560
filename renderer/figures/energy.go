package figures

import (
	"fmt"

	"wythe/renderer/codes"
	"wythe/renderer/detail"
	"wythe/renderer/energy"
	"wythe/renderer/thermal"
	"wythe/renderer/units"
)

// prices are the library's fuels as the energy package knows them: what is
// sold by the kWh is electricity, whatever the machine that turns it to heat.
func prices(s *detail.Settings) []energy.Price {
	var out []energy.Price
	for _, f := range s.Energy {
		fuel := f.Name
		if f.PriceUnit == "kWh" {
			fuel = "electricity"
		}
		out = append(out, energy.Price{Fuel: fuel, PerUnit: f.Price, Unit: f.PriceUnit, Efficiency: f.Efficiency})
	}
	return out
}

func (a *Assembly) energy(c Context) {
	if a.Thermal == nil || c.Climate == nil {
		a.miss("energy", "needs the transmittance and a climate (library.yaml, climate: NAME)")
		return
	}
	var months [12]units.Temperature
	for i, m := range c.Climate.Months {
		months[i] = m.Temperature
	}
	inside := c.Settings.Inside.Temperature
	asm := a.Detail.Assembly
	var y *energy.Year
	var err error
	switch {
	case !OnGround(asm.Element):
		y, err = energy.Solve(a.Thermal.Transmittance, months, energy.UsualBase, inside, prices(c.Settings))
	case asm.Element == detail.WallBelowGrade:
		a.miss("energy", "the year of walls below grade is worked out with their floor's, in a building")
		return
	case a.Ground == nil || a.Ground.Months == nil:
		a.miss("energy", "an element on the ground needs its plan: put ground: {area, perimeter} in the assembly")
		return
	default:
		y, err = energy.SolveGround(a.Ground.Months.FlowW, asm.Ground.Area, inside, prices(c.Settings))
	}
	if err != nil {
		a.miss("energy", reason(err))
		return
	}
	a.Energy = y
	a.study(c, months)
}

// study sweeps the layer that the assembly's study names.
func (a *Assembly) study(c Context, months [12]units.Temperature) {
	asm := a.Detail.Assembly
	st := asm.Study
	if st == nil {
		return
	}
	steps, err := energy.Thicknesses(st.From, st.To, st.By)
	if err != nil {
		a.miss("study", reason(err))
		return
	}
	dd, err := energy.HeatingDegreeDays(months, energy.UsualBase)
	if err != nil {
		a.miss("study", reason(err))
		return
	}
	target := units.ThermalResistance(0)
	if t := TargetFor(c.Settings, asm.Element); t != nil && t.AtLeast {
		target = t.Resistance
	}
	study, err := energy.Sweep(st.Vary, steps, target, dd, prices(c.Settings), func(d units.Length) (units.ThermalResistance, units.ThermalTransmittance, error) {
		other := *asm
		other.Layers = append([]*detail.Layer(nil), asm.Layers...)
		found := false
		for i, l := range other.Layers {
			if l.Name == st.Vary {
				copied := *l
				copied.Thickness, copied.Courses = d, 1
				other.Layers[i], found = &copied, true
			}
		}
		if !found {
			return 0, 0, fmt.Errorf("the study names no layer %q", st.Vary)
		}
		stack, _, err := thermalStack(c, &other)
		if err != nil {
			return 0, 0, err
		}
		r, err := thermal.Solve(stack)
		if err != nil {
			return 0, 0, err
		}
		if !r.Resistance.Computed {
			return 0, 0, fmt.Errorf("%s", r.Resistance.Why)
		}
		return r.Resistance.Value, r.Transmittance, nil
	})
	if err != nil {
		a.miss("study", reason(err))
		return
	}
	a.Study = study
}

// TargetFor returns the office's R-value or U-factor target for an element;
// nil: there is none.
func TargetFor(s *detail.Settings, e detail.Element) *detail.Target {
	for i := range s.Targets {
		if t := &s.Targets[i]; t.Junction == "" && t.Element == e {
			return t
		}
	}
	return nil
}

// component is the column of the code tables that an assembly falls under.
func component(asm *detail.Assembly) (codes.Component, bool) {
	switch asm.Element {
	case detail.Roof, detail.Ceiling:
		return codes.Ceiling, true
	case detail.Floor:
		return codes.Floor, true
	case detail.WallBelowGrade:
		return codes.BasementWall, true
	case detail.Wall:
		for _, l := range asm.Layers {
			if l.Framing != nil && timber(l.Framing.Material.Hatch) && carries(l, detail.Thermal) {
				return codes.WoodWall, true
			}
		}
		if asm.Layers[0].Material.Density >= massFrom && asm.Layers[0].Total() >= 0.1 {
			return codes.MassWall, true
		}
	}
	return "", false
}

// massFrom is the density from which a wall's inner leaf makes it a mass wall, kg/m³.
const massFrom units.Density = 400

// codes compares the transmittance with the prescriptive maxima, zone by zone.
func (a *Assembly) codes() {
	if a.Thermal == nil || !a.Thermal.Resistance.Computed {
		return
	}
	part, ok := component(a.Detail.Assembly)
	if !ok {
		return
	}
	for _, t := range codes.Tables() {
		if !t.UFactors {
			continue
		}
		if v, err := t.AgainstU(part, a.Thermal.Transmittance); err == nil {
			a.Codes = append(a.Codes, v...)
			return // the newest edition
		}
	}
}
