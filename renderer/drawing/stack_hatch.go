package drawing

// hatchWish is what a section asks of the hatch of one rectangle.
type hatchWish struct {
	seed              uint64
	grain             float64
	cutLeft, cutRight bool // sides that are cuts, not faces
	fade              bool // thins out away from the work
	fadeUp            bool
}

// hatch fills one rectangle.
func (d *Draft) hatch(word string, x0, y0, x1, y1 float64, w hatchWish) {
}
