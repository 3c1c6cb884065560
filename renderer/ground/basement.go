package ground

import (
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Basement is a heated basement: floor and walls below grade.
type Basement struct {
	Plan
	Soil           Soil
	Depth          units.Length            // of the floor below grade, z
	Floor          units.ThermalResistance // of the floor's layers
	Walls          units.ThermalResistance // of the walls' layers, face to face
	SurfaceFloor   units.ThermalResistance // usually 0.17
	SurfaceWall    units.ThermalResistance // usually 0.13
	SurfaceOutside units.ThermalResistance // usually 0.04
}

// WallResult is the walls of a basement.
type WallResult struct {
	Dw            units.Length
	Transmittance units.ThermalTransmittance // of the walls below grade
	Mean          units.ThermalTransmittance // of floor and walls together
	// FloorTakesWall: d_w < d_t, so that d_t gave way to d_w in the walls' formula.
	FloorTakesWall bool
}

// Solve returns the basement's steady and periodic heat flow.
//
// Method: ISO 13370:2017, heated basements (from memory): floor with d_t + z/2
// against B′; walls 2λ/(πz)(1 + 0.5 d_t/(d_t+z)) ln(z/d_w + 1), d_t replaced by
// d_w where d_w < d_t; H_g = A U_bf + z P U_bw.
// A depth of zero is a slab on ground, whose walls have no area.
// Errors: *[units.RangeError].
func (s *Basement) Solve() (*Result, error) {
	b, err := s.CharacteristicDimension()
	if err != nil {
		return nil, err
	}
	if err := basis.NotNegative("depth below grade", float64(s.Depth), "m"); err != nil {
		return nil, err
	}
	if err := basis.Finite("depth below grade", float64(s.Depth), "m"); err != nil {
		return nil, err
	}
	dt, err := EquivalentThickness(s.Wall, s.Soil.Conductivity, s.SurfaceFloor, s.Floor, s.SurfaceOutside)
	if err != nil {
		return nil, err
	}
	u, branch, err := SlabTransmittance(s.Soil.Conductivity, b, dt+s.Depth/2)
	if err != nil {
		return nil, err
	}
	wall, err := WallTransmittance(s.Soil.Conductivity, s.Depth, dt, s.Walls, s.SurfaceWall, s.SurfaceOutside)
	if err != nil {
		return nil, err
	}
	r := &Result{BPrime: b, Dt: dt, Branch: branch, Transmittance: u, WithEdge: u, Wall: wall, soil: s.Soil, plan: s.Plan, kind: "heated basement"}
	below := float64(s.Depth) * float64(s.Perimeter)
	r.AnnualWPerK = float64(s.Area)*float64(u) + below*float64(wall.Transmittance)
	wall.Mean = units.ThermalTransmittance(r.AnnualWPerK / (float64(s.Area) + below))
	if s.Soil.HeatCapacityJPerM3K != 0 {
		if r.Periodic, err = s.periodic(dt, wall.Dw); err != nil {
			return nil, err
		}
	}
	return r, nil
}

// WallTransmittance returns U of basement walls to a depth z, with the floor's
// d_t (m).
//
// Method: as [Basement.Solve]. Errors: *[units.RangeError].
func WallTransmittance(soil units.Conductivity, depth, dt units.Length, walls, inside, outside units.ThermalResistance) (*WallResult, error) {
	dw, err := EquivalentThickness(0, soil, inside, walls, outside)
	if err != nil {
		return nil, err
	}
	if err := basis.Positive("equivalent thickness d_w", float64(dw), "m"); err != nil {
		return nil, err
	}
	if err := basis.NotNegative("depth below grade", float64(depth), "m"); err != nil {
		return nil, err
	}
	out := &WallResult{Dw: dw}
	if out.FloorTakesWall = dw < dt; out.FloorTakesWall {
		dt = dw
	}
	lambda, z, d := float64(soil), float64(depth), float64(dt)
	if z == 0 { // the limit
		out.Transmittance = units.ThermalTransmittance(2 * lambda / math.Pi * 1.5 / float64(dw))
		return out, nil
	}
	out.Transmittance = units.ThermalTransmittance(2 * lambda / (math.Pi * z) * (1 + 0.5*d/(d+z)) * math.Log1p(z/float64(dw)))
	return out, nil
}

// Suspended is a floor over a ventilated space.
type Suspended struct {
	Plan
	Soil Soil
	// Floor is U of the suspended floor from the room to the space, films on
	// both sides counted.
	Floor  units.ThermalTransmittance
	Ground units.ThermalResistance // of insulation on the ground, R_g
	// SurfaceInside and SurfaceOutside are the surfaces in d_g; usually 0.17 and 0.04.
	SurfaceInside, SurfaceOutside units.ThermalResistance
	Height                        units.Length               // of the floor above grade, h
	Below                         units.Length               // depth of the space below grade; 0 or up to 0.5 m without walls' share
	Walls                         units.ThermalTransmittance // U_w of the walls of the space above grade
	WallsBelow                    units.ThermalResistance    // of the walls below grade; read where Below > 0.5 m
	Openings                      units.Area                 // per m of perimeter, ε
	WindMPerS                     float64                    // v, usually 4 m/s
	Shield                        float64                    // f_w, 0.02, 0.05 or 0.10
}

// SuspendedResult is the space below a suspended floor.
type SuspendedResult struct {
	Dg     units.Length
	Ground units.ThermalTransmittance // U_g
	Vented units.ThermalTransmittance // U_x, walls and ventilation of the space
}

// Solve returns the suspended floor's steady and periodic heat flow.
//
// Method: ISO 13370:2017, suspended floors (from memory): 1/U = 1/U_f +
// 1/(U_g + U_x), U_g as a slab with d_g in the log form, U_x = 2hU_w/B′ +
// 1450 εvf_w/B′; with the walls below grade where the space is more than 0.5 m
// deep. Errors: *[units.RangeError].
func (s *Suspended) Solve() (*Result, error) {
	b, err := s.CharacteristicDimension()
	if err != nil {
		return nil, err
	}
	if err := basis.Positive("B′", float64(b), "m"); err != nil {
		return nil, err
	}
	if err := basis.Positive("transmittance of the suspended floor", float64(s.Floor), "W/(m²·K)"); err != nil {
		return nil, err
	}
	for _, c := range []struct {
		quantity string
		value    float64
		unit     string
	}{{"height above grade", float64(s.Height), "m"}, {"depth below grade", float64(s.Below), "m"}, {"transmittance of the space's walls", float64(s.Walls), "W/(m²·K)"}, {"openings", float64(s.Openings), "m²/m"}, {"wind speed", s.WindMPerS, "m/s"}, {"wind shielding", s.Shield, ""}} {
		if err := basis.NotNegative(c.quantity, c.value, c.unit); err != nil {
			return nil, err
		}
	}
	dg, err := EquivalentThickness(s.Wall, s.Soil.Conductivity, s.SurfaceInside, s.Ground, s.SurfaceOutside)
	if err != nil {
		return nil, err
	}
	if err := basis.Positive("equivalent thickness d_g", float64(dg), "m"); err != nil {
		return nil, err
	}
	void := &SuspendedResult{Dg: dg, Ground: units.ThermalTransmittance(logForm(float64(s.Soil.Conductivity), float64(b), float64(dg)))}
	if s.Below > 0.5 {
		wall, err := WallTransmittance(s.Soil.Conductivity, s.Below, dg, s.WallsBelow, s.SurfaceInside, s.SurfaceOutside)
		if err != nil {
			return nil, err
		}
		void.Ground += units.ThermalTransmittance(float64(s.Below) * float64(s.Perimeter) * float64(wall.Transmittance) / float64(s.Area))
	}
	void.Vented = units.ThermalTransmittance((2*float64(s.Height)*float64(s.Walls) + 1450*float64(s.Openings)*s.WindMPerS*s.Shield) / float64(b))
	u := 1 / (1/float64(s.Floor) + 1/float64(void.Ground+void.Vented))
	r := &Result{BPrime: b, Dt: dg, Branch: LogBranch, Transmittance: units.ThermalTransmittance(u), WithEdge: units.ThermalTransmittance(u),
		AnnualWPerK: u * float64(s.Area), Void: void, soil: s.Soil, plan: s.Plan, kind: "suspended floor"}
	if s.Soil.HeatCapacityJPerM3K != 0 {
		if r.Periodic, err = s.periodic(void); err != nil {
			return nil, err
		}
	}
	return r, nil
}
