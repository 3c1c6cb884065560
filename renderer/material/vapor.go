package material

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// ParseVapor reads how a material resists vapor, in one of its forms: mu 2,
// mu infinite, 30 perm in (of the material), 0.06 perm (of the sheet),
// sd 100 m (of the sheet).
// Errors: *[units.ParseError].
func ParseVapor(s string) (Vapor, error) {
	t := strings.TrimSpace(s)
	switch {
	case t == "mu infinite", t == "tight":
		return Vapor{Known: true, Mu: units.Ratio(math.Inf(1))}, nil
	case strings.HasPrefix(t, "mu"), strings.HasPrefix(t, "μ"):
		mu, err := units.ParseMu(s)
		return Vapor{Known: true, Mu: mu}, err
	case t == "sd infinite":
		return Vapor{Known: true, Sd: units.Length(math.Inf(1))}, nil
	case strings.HasPrefix(t, "sd"):
		sd, err := units.ParseSd(s)
		if err == nil && sd == 0 {
			err = &units.ParseError{Text: s, Offset: len(s), Message: "sd must be above 0", Mend: "write sd 0.01 m for a sheet open to vapor"}
		}
		return Vapor{Known: true, Sd: sd}, err
	}
	sheet, err := units.ParsePermeance(s)
	if err == nil {
		return Vapor{Known: true, IsSheet: true, Sheet: sheet}, nil
	}
	if p, bad := units.ParsePermeability(s); bad == nil {
		if p == 0 {
			return Vapor{Known: true, Mu: units.Ratio(math.Inf(1))}, nil
		}
		return Vapor{Known: true, Permeability: p}, nil
	}
	var e *units.ParseError
	if errors.As(err, &e) {
		e.Mend = "write vapor as mu 2, 30 perm in, 0.06 perm or sd 100 m"
	}
	return Vapor{}, err
}

// SdOf returns the equivalent air layer sd of a thickness d of the material,
// in m: mu·d, or the layer of still air as tight as the sheet. A vapor-tight
// material gives +Inf.
//
// Method: ISO 13788:2012, 4.2, with the vapor permeability of still air
// 2e-10 kg/(m·s·Pa) (from memory).
// Errors: *[units.RangeError] if d is negative or not finite;
// *[basis.MissingError] if the material states no vapor value.
func (v Vapor) SdOf(d units.Length) (units.Length, error) {
	if !v.Known {
		return 0, &basis.MissingError{Method: "ISO 13788", Quantity: "vapor resistance", Put: "materials.yaml"}
	}
	if !(d >= 0) || math.IsInf(float64(d), 1) {
		return 0, &units.RangeError{Quantity: "thickness", Value: float64(d), Unit: "m", Says: "must be finite and not negative"}
	}
	switch {
	case v.IsSheet:
		if v.Sheet == 0 {
			return units.Length(math.Inf(1)), nil
		}
		return units.Length(float64(units.VaporPermeabilityOfAir) / float64(v.Sheet)), nil
	case v.Sd > 0:
		return v.Sd, nil
	case d == 0:
		return 0, nil
	case v.Permeability > 0:
		return units.Length(float64(units.VaporPermeabilityOfAir) / float64(v.Permeability) * float64(d)), nil
	}
	return units.Length(float64(v.Mu) * float64(d)), nil
}

// PermeanceOf returns the vapor permeance of a thickness d of the material, in
// kg/(m²·s·Pa): δ0/sd. A vapor-tight material gives 0, no thickness +Inf.
//
// Method: ISO 13788:2012, 4.2 (from memory). Errors: those of SdOf.
func (v Vapor) PermeanceOf(d units.Length) (units.Permeance, error) {
	if v.Known && v.IsSheet {
		if _, err := v.SdOf(d); err != nil {
			return 0, err
		}
		return v.Sheet, nil
	}
	sd, err := v.SdOf(d)
	if err != nil {
		return 0, err
	}
	return units.Permeance(float64(units.VaporPermeabilityOfAir) / float64(sd)), nil
}

// Tight reports whether no vapor passes.
func (v Vapor) Tight() bool {
	return v.Known && (v.IsSheet && v.Sheet == 0 || math.IsInf(float64(v.Mu), 1) || math.IsInf(float64(v.Sd), 1))
}

// Show returns the value in the form of its source: "mu 2", "30 perm in",
// "0.1 perm", "sd 100 m", "vapor tight"; "" if it is not known.
func (v Vapor) Show(s units.System) string {
	switch {
	case !v.Known:
		return ""
	case v.Tight():
		return "vapor tight"
	case v.IsSheet:
		return v.Sheet.Show(s)
	case v.Permeability > 0:
		return v.Permeability.Show(s)
	case v.Sd > 0:
		return "sd " + plain(float64(v.Sd)) + " m"
	}
	return "mu " + plain(float64(v.Mu))
}

func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
