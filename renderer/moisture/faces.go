package moisture

import (
	"math"

	"wythe/renderer/units"
)

// FaceMonth is a concealed face in one month.
type FaceMonth struct {
	Temperature, DewPoint units.Temperature // of the face; of the air that could reach it
	Below                 bool              // the face is colder than the dew point
}

// Face is a concealed face that air could reach by leakage.
type Face struct {
	Outer, Inner string // the layers on its two sides
	FromInside   bool   // room air reaches it; else outside (or crawl-space) air
	Months       [12]FaceMonth
	Below        []int // months, from 0, in which the face is below the dew point
	Worst        int   // month with the least margin
	MarginK      float64
}

// ConcealedFaces returns every face behind a layer that air passes, month by
// month against the dew point of that air: room air from the inside up to the
// first layer that carries the air control, outside air from the outside in
// as far as layers are open to it. A January check alone misses July air on a
// face that the ground keeps cold.
//
// Method: temperatures and dew points of ISO 13788:2012; the choice of faces
// is common practice. Errors: *[units.RangeError], *[basis.MissingError].
func ConcealedFaces(s *Section, y *Year) ([]Face, error) {
	g, err := newGlaser(s, y)
	if err != nil {
		return nil, err
	}
	return g.concealed(), nil
}

func (g *glaser) concealed() []Face {
	var out []Face
	for i := range g.layers {
		if g.layers[i].AirStop {
			break
		}
		if g.layers[i].AirOpen {
			_, outer := g.faces(i)
			out = append(out, g.face(outer, true))
		}
	}
	for i := len(g.layers) - 1; i >= 0 && g.layers[i].AirOpen && !g.layers[i].AirStop; i-- {
		inner, _ := g.faces(i)
		out = append(out, g.face(inner, false))
	}
	return out
}

func (g *glaser) face(at int, fromInside bool) Face {
	f := Face{FromInside: fromInside, MarginK: math.Inf(1)}
	f.Outer, f.Inner = g.between(at)
	for m := range 12 {
		in, ex := g.year.Inside[m], g.year.Outside[m]
		air := in
		if !fromInside {
			air = ex
		}
		t, dew := g.temperature(at, in, ex), dewPoint(float64(air.Pressure))
		f.Months[m] = FaceMonth{units.Temperature(t), units.Temperature(dew), t < dew}
		if t < dew {
			f.Below = append(f.Below, m)
		}
		if t-dew < f.MarginK {
			f.MarginK, f.Worst = t-dew, m
		}
	}
	return f
}
