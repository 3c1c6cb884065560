package moisture

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Class of a vapor retarder.
type Class string

// The classes of the 2021 IRC, Table R702.7(1).
const (
	ClassI      Class = "I"   // up to 0.1 perm
	ClassII     Class = "II"  // over 0.1, up to 1 perm
	ClassIII    Class = "III" // over 1, up to 10 perm
	NotRetarder Class = ""    // over 10 perm
)

// ClassOf returns the class of a permeance.
//
// Method: 2021 IRC, Table R702.7(1), dry cup; adopted editions vary.
// Errors: *[units.RangeError] if w < 0.
func ClassOf(w units.Permeance) (Class, error) {
	if err := basis.NotNegative("permeance", float64(w), "kg/(m²·s·Pa)"); err != nil {
		return NotRetarder, err
	}
	// A limit reached by way of SI and back is the limit.
	const rounding = 1 + 1e-9
	switch perms := w.Perms(); {
	case perms <= 0.1*rounding:
		return ClassI, nil
	case perms <= 1*rounding:
		return ClassII, nil
	case perms <= 10*rounding:
		return ClassIII, nil
	}
	return NotRetarder, nil
}

// Retarder is a layer that is a vapor retarder, where it stands.
type Retarder struct {
	Layer     string
	Index     int // in the section
	Permeance units.Permeance
	Class     Class
	// Suits: in no month is the face that meets the moister air colder than
	// that air's dew point.
	Suits bool
	// Of the worst month, from 0: the face's temperature over the dew point of
	// the moister air, in K; negative: colder.
	Month       int
	InsideFace  bool // the face that meets the moister air is the inside one
	Temperature units.Temperature
	DewPoint    units.Temperature
}

// Stands says how warm the face stands in its worst month, temperatures as show
// prints them.
func (r Retarder) Stands(show func(units.Temperature) string) string {
	side, relation := "outside air", "above"
	if r.InsideFace {
		side = "room air"
	}
	if !r.Suits {
		relation = "below"
	}
	return fmt.Sprintf("in %s its face stands at %s, %s the %s dew point of %s", MonthNames[r.Month], show(r.Temperature), relation, side, show(r.DewPoint))
}

// Retarders returns the retarders of classes I and II in a section, and of
// class III where third is set, with whether their place suits the climate.
//
// Method: class by 2021 IRC, Table R702.7(1); place by the temperatures of
// ISO 13788:2012, 6.2, on the side of the higher vapor pressure in each month.
// Errors: *[units.RangeError], *[basis.MissingError].
func Retarders(s *Section, y *Year, third bool) ([]Retarder, error) {
	g, err := newGlaser(s, y)
	if err != nil {
		return nil, err
	}
	return g.retarders(third)
}

func (g *glaser) retarders(third bool) ([]Retarder, error) {
	var out []Retarder
	for i := range g.layers {
		l := &g.layers[i]
		w := units.Permeance(delta0 / float64(l.Sd))
		class, err := ClassOf(w)
		if err != nil {
			return nil, err
		}
		if class == NotRetarder || class == ClassIII && !third {
			continue
		}
		r := Retarder{Layer: l.Name, Index: i, Permeance: w, Class: class, Month: -1}
		inner, outer := g.faces(i)
		least := math.Inf(1)
		for m := range 12 {
			in, ex := g.year.Inside[m], g.year.Outside[m]
			at, moist, inside := inner, in, true
			if ex.Pressure > in.Pressure {
				at, moist, inside = outer, ex, false
			}
			t, dew := g.temperature(at, in, ex), dewPoint(float64(moist.Pressure))
			if t-dew < least {
				least = t - dew
				r.Month, r.InsideFace, r.Temperature, r.DewPoint = m, inside, units.Temperature(t), units.Temperature(dew)
			}
		}
		r.Suits = least >= 0
		out = append(out, r)
	}
	return out, nil
}

// faces returns the nodes at a layer's inside and outside faces.
func (g *glaser) faces(layer int) (inner, outer int) {
	for i, n := range g.nodes {
		if n.layer == layer && n.part == 0 {
			inner = i
		}
		if n.layer == layer+1 && n.part == 0 {
			outer = i
		}
	}
	return inner, outer
}
