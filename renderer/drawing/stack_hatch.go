package drawing

// hatchSeed is what sets the hatch of a part apart: its name, in its detail.
func (s *Stack) hatchSeed(part string) string { return s.Mark + " " + part }

// hatch fills a rectangle of the section.
func (d *Draft) hatch(word string, x0, y0, x1, y1 float64, opt Hatching) {
	if word == "" || x1-x0 < 0.1 || y1-y0 < 0.1 {
		return
	}
	d.Add(Hatch(word, RectRegion(x0, y0, x1, y1), opt)...)
}
