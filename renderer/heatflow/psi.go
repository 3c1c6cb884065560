package heatflow

import "wythe/renderer/basis"

// Flank is an assembly that runs from a junction to a cut.
type Flank struct {
	Name               string
	U                  float64 // W/(m²·K), as meshed
	Internal, External float64 // lengths, m
}

// Psi returns the linear thermal transmittances with inside and with outside
// dimensions, W/(m·K).
//
// Method: ISO 10211:2017: Ψ = L2D − Σ U_j l_j.
func Psi(l2d float64, flanks []Flank) (internal, external float64) {
	internal, external = l2d, l2d
	for _, f := range flanks {
		internal -= f.U * f.Internal
		external -= f.U * f.External
	}
	return internal, external
}

// PsiGround returns the linear thermal transmittance of a wall's junction with
// a floor on ground, W/(m·K). height is that of the wall above the floor in
// the model, m; width the characteristic dimension B′, of which half is in the
// model; floor is its U-value by ISO 13370.
//
// Method: ISO 10211:2017: Ψ_g = L2D − h_w U_w − 0.5 B′ U_g.
// Errors: *units.RangeError for a length below zero.
func PsiGround(l2d, height, wall, width, floor float64) (float64, error) {
	if err := basis.NotNegative("height of the wall", height, "m"); err != nil {
		return 0, err
	}
	if err := basis.Positive("characteristic dimension", width, "m"); err != nil {
		return 0, err
	}
	return l2d - height*wall - 0.5*width*floor, nil
}

// SeriesU returns the U-value of layers between two surfaces, W/(m²·K): pairs
// of thickness, m, and conductivity, W/(m·K).
func SeriesU(inside, outside float64, layers [][2]float64) float64 {
	r := inside + outside
	for _, l := range layers {
		r += l[0] / l[1]
	}
	return 1 / r
}

// TemperatureFactor returns how much of the way from outside to inside a
// surface stands at: (θ_si − θ_e)/(θ_i − θ_e). ok is false where inside and
// outside are alike.
//
// Source: ISO 10211:2017, f_Rsi.
func TemperatureFactor(surface, inside, outside float64) (f float64, ok bool) {
	if inside == outside {
		return 0, false
	}
	return (surface - outside) / (inside - outside), true
}
