package bearing

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Pour is wet concrete placed on insulation.
type Pour struct {
	Concrete units.Density // wet
	// Floats are the layers that would lift together, and On the layers that
	// lie on them before the concrete does; each is counted once. Concrete
	// already in place above counts once it is there, not before.
	Floats, On []Layer
}

// PourResult is the uplift on the insulation if wet concrete gets beneath it.
type PourResult struct {
	Displaced units.Pressure // weight of concrete of the insulation's volume
	OwnWeight units.Pressure // of the insulation
	OnWeight  units.Pressure // of what lies on it
	Uplift    units.Pressure // Displaced less both; never negative
	Ballast   units.Pressure // what must hold it down until the concrete is in place above
}

// Solve returns the uplift and the ballast that holds it.
//
// Method: buoyancy: pressure below less pressure above less own weight, (w_c -
// w_f) t; it does not depend on the depth of concrete above.
// Errors: *[units.RangeError]; *[basis.MissingError] where a density is not stated.
func (p *Pour) Solve() (*PourResult, error) {
	if err := basis.Positive("density of wet concrete", float64(p.Concrete), "kg/m³"); err != nil {
		return nil, err
	}
	own, err := Weigh(p.Floats)
	if err != nil {
		return nil, err
	}
	on, err := Weigh(p.On)
	if err != nil {
		return nil, err
	}
	for _, missing := range [2][]string{own.Missing, on.Missing} {
		if len(missing) > 0 {
			return nil, &basis.MissingError{Method: "uplift in the pour", Quantity: fmt.Sprintf("density of %q", missing[0]), Put: "materials.yaml"}
		}
	}
	r := &PourResult{OwnWeight: own.Weight, OnWeight: on.Weight}
	for _, l := range p.Floats {
		r.Displaced += units.Pressure(float64(p.Concrete) * float64(l.Thickness) * Gravity)
	}
	r.Uplift = max(0, r.Displaced-r.OwnWeight-r.OnWeight)
	r.Ballast = r.Uplift
	return r, nil
}

// Depth returns how deep a ballast of a density must lie, in m.
//
// Errors: *[units.RangeError] unless the density is above zero.
func (r *PourResult) Depth(ballast units.Density) (units.Length, error) {
	if err := basis.Positive("density of the ballast", float64(ballast), "kg/m³"); err != nil {
		return 0, err
	}
	return units.Length(float64(r.Ballast) / (float64(ballast) * Gravity)), nil
}

// OnSheet returns the force that lifts one sheet of the insulation.
func (r *PourResult) OnSheet(sheet [2]units.Length) units.Force {
	return units.Force(float64(r.Uplift) * float64(sheet[0]) * float64(sheet[1]))
}

// Upturn is the side pressure of fresh concrete on an upturn or form.
type Upturn struct {
	Base           units.Pressure // at the foot
	ResultantNPerM float64        // N per m of length
	At             units.Length   // height of the resultant above the foot
}

// LiquidHead returns the pressure of fresh concrete as a full liquid head.
//
// Method: hydrostatics; ACI 347 for slump above 7 in.
// Errors: *[units.RangeError].
func LiquidHead(concrete units.Density, height units.Length) (*Upturn, error) {
	if err := basis.Positive("density of wet concrete", float64(concrete), "kg/m³"); err != nil {
		return nil, err
	}
	if err := basis.NotNegative("height of concrete", float64(height), "m"); err != nil {
		return nil, err
	}
	base := float64(concrete) * Gravity * float64(height)
	return &Upturn{Base: units.Pressure(base), ResultantNPerM: base * float64(height) / 2, At: height / 3}, nil
}

// Form is fresh concrete in a wall form.
type Form struct {
	Concrete    units.Density
	RiseMPerH   float64           // rate of placement, m/h
	Temperature units.Temperature // of the concrete
	Height      units.Length
	Chemistry   float64 // C_c: 1.0, 1.2 or 1.4; 0: 1.0
}

// FormPressure returns the greatest side pressure of fresh concrete on a form.
//
// Method: ACI 347-04 and 347R-14, 2.2.2 (coefficients and the high formula
// from memory): p = C_w C_c (150 + 9000 R/T) psf below 7 ft/h and up to 14 ft,
// C_w C_c (150 + 43400/T + 2800 R/T) from 7 to 15 ft/h or for higher forms; not
// under 600 C_w, not over w h. Above 15 ft/h: w h.
// Errors: *[units.RangeError].
func FormPressure(f Form) (units.Pressure, error) {
	head, err := LiquidHead(f.Concrete, f.Height)
	if err != nil {
		return 0, err
	}
	if err := basis.NotNegative("rate of placement", f.RiseMPerH, "m/h"); err != nil {
		return 0, err
	}
	if err := basis.Within("temperature of the concrete", float64(f.Temperature), 0, 60, "°C"); err != nil {
		return 0, err
	}
	cc := f.Chemistry
	if cc == 0 {
		cc = 1
	}
	if err := basis.Within("chemistry coefficient", cc, 1, 1.4, ""); err != nil {
		return 0, err
	}
	const foot = 0.3048
	w := float64(f.Concrete) * Gravity / psf * foot // lbf/ft³
	cw := 1.0
	switch {
	case w < 140:
		cw = math.Max(0.8, 0.5*(1+w/145))
	case w > 150*(1+1e-9): // 150 by way of SI is 150
		cw = w / 145
	}
	rise, t, h := f.RiseMPerH/foot, float64(f.Temperature)*1.8+32, float64(f.Height)/foot
	p := math.Inf(1)
	switch {
	case rise < 7 && h <= 14:
		p = cw * cc * (150 + 9000*rise/t)
	case rise <= 15:
		p = cw * cc * (150 + 43400/t + 2800*rise/t)
	}
	return units.Pressure(math.Min(float64(head.Base), math.Max(600*cw, p)*psf)), nil
}
