package heatflow

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
