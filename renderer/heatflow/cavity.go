package heatflow

import (
	"math"

	"wythe/renderer/basis"
)

// Cavity is an unventilated air space, taken as a rectangle: Along is its
// extent in the direction of heat flow, Across square to it, m.
type Cavity struct {
	Along, Across float64
	Direction     Direction
	// Emissivities of the two faces that heat flows between, 0…1.
	Warm, Cold float64
	Mean       float64 // mean temperature, °C
	Difference float64 // between those faces, K
}

const stefanBoltzmann = 5.670374419e-8 // W/(m²·K⁴)

func (c Cavity) check(method string) error {
	for _, v := range []struct {
		name        string
		value       float64
		least, most float64
		unit        string
	}{
		{"extent of a cavity along the heat flow", c.Along, 1e-6, 0.3, "m"},
		{"extent of a cavity across the heat flow", c.Across, 1e-6, 100, "m"},
		{"emissivity", c.Warm, 0.01, 1, ""},
		{"emissivity", c.Cold, 0.01, 1, ""},
		{"mean temperature of a cavity", c.Mean, -50, 80, "°C"},
	} {
		if err := basis.Within(method+": "+v.name, v.value, v.least, v.most, v.unit); err != nil {
			return err
		}
	}
	return nil
}

// exchange returns E·4σT³ of the two faces, W/(m²·K).
func (c Cavity) exchange() float64 {
	t := c.Mean + 273.15
	return 4 * stefanBoltzmann * t * t * t / (1/c.Warm + 1/c.Cold - 1)
}

// corners returns the share of radiation between two faces that walls at their
// own temperature between them leave: ½(1 + √(1 + (d/b)²) − d/b).
func (c Cavity) corners() float64 {
	r := c.Along / c.Across
	return (1 + math.Sqrt(1+r*r) - r) / 2
}

// ISO6946 returns the conductivity that stands for the cavity, W/(m·K).
//
// Method: ISO 6946:2017 Annex D: λ = d/R; wide cavities (across ≥ 10 along)
// R = 1/(h_a + E h_r0), divided ones (narrower) R = 1/(h_a + ½ E h_r0 (1 + √(1 +
// d²/b²) − d/b)); h_a by the direction of flow for up to 5 K between the faces,
// beyond by the 1/3 power of the difference.
// Valid for cavities up to 0.3 m along the flow. Errors: *units.RangeError.
func (c Cavity) ISO6946() (float64, error) {
	if err := c.check("ISO 6946:2017 Annex D"); err != nil {
		return 0, err
	}
	still := 0.025 / c.Along
	ha := 0.0
	rise := 1.0
	if c.Difference > 5 {
		rise = math.Cbrt(c.Difference)
	}
	switch c.Direction {
	case Upward:
		ha = 1.95
		if c.Difference > 5 {
			ha = 1.14 * rise
		}
	case Downward:
		ha = 0.12 * math.Pow(c.Along, -0.44)
		if c.Difference > 5 {
			ha = 0.09 * math.Pow(c.Difference, 0.187) * math.Pow(c.Along, -0.44)
		}
	default:
		ha = 1.25
		if c.Difference > 5 {
			ha = 0.73 * rise
		}
	}
	hr := c.exchange()
	if c.Across < 10*c.Along {
		hr *= c.corners()
	}
	return c.Along * (max(ha, still) + hr), nil
}

// ISO10077 returns the conductivity that stands for an unventilated cavity of
// a frame, W/(m·K); a slightly ventilated one conducts twice that.
//
// Method: ISO 10077-2:2017, 6.4.2 (clause from memory): λ = d (h_a + h_r);
// h_a = 0.025/d for cavities narrower than 5 mm across the flow, else the
// greater of that and 0.73 ΔT^(1/3), 10 K where no difference is given; h_r = 4σT³ E F.
// Errors: *units.RangeError.
func (c Cavity) ISO10077() (float64, error) {
	if err := c.check("ISO 10077-2:2017"); err != nil {
		return 0, err
	}
	ha := 0.025 / c.Along
	if c.Across >= 0.005 {
		d := c.Difference
		if d == 0 {
			d = 10
		}
		ha = max(ha, 0.73*math.Cbrt(d))
	}
	return c.Along * (ha + c.exchange()*c.corners()), nil
}

// AsRectangle returns the extents of the rectangle that stands for a cavity of
// any shape: of its area, in the proportion of the box about it.
//
// Method: ISO 10077-2:2017, 6.4.2.2 (clause from memory).
func AsRectangle(area, boxAlong, boxAcross float64) (along, across float64) {
	s := math.Sqrt(area / (boxAlong * boxAcross))
	return boxAlong * s, boxAcross * s
}
