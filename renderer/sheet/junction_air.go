package sheet

// What is left of the view's air over and under all that stands in it, in the
// section.
const (
	airOver  = 40_000 // µm
	airPoint = 80_000 // beyond a space's point or a level, for its words, µm
	airLeast = 50_000 // the least that is worth trimming, µm
)

// trimAir cuts off, over and under the work, what of the view is empty: an
// author asks for air by a round number. Below and above are what was cut, mm on
// paper at scale 1, so that callouts keep their room.
func (j *junction) trimAir() (below, above float64) {
	v := j.s.View
	for i := range j.s.Breaks {
		if !j.s.Breaks[i].Across {
			return 0, 0
		}
	}
	lo, hi := v.Max.Y, v.Min.Y
	take := func(a, b int64) { lo, hi = min(lo, a-airOver), max(hi, b+airOver) }
	for i := range j.s.Faces {
		if f := &j.s.Faces[i]; f.Region >= 0 {
			b := f.Polygon.Bounds()
			take(b.Min.Y, b.Max.Y)
		}
	}
	for _, run := range j.s.Runs {
		for _, p := range run.Line {
			take(p.Y, p.Y)
		}
	}
	for i := range j.s.Beyond {
		b := j.s.Beyond[i].Ring.Bounds()
		take(b.Min.Y, b.Max.Y)
	}
	const more = airPoint - airOver
	for i := range j.s.Spaces {
		for _, p := range j.s.Spaces[i].Points {
			take(p.Y-more, p.Y+more)
		}
	}
	for i := range j.s.Levels {
		take(j.s.Levels[i].Y-more, j.s.Levels[i].Y+more)
	}
	for i := range j.s.Dimensions {
		if d := &j.s.Dimensions[i]; !d.Across {
			take(min(d.From, d.To), max(d.From, d.To))
		}
	}
	cut := v
	if lo-v.Min.Y >= airLeast {
		cut.Min.Y = lo
	}
	if v.Max.Y-hi >= airLeast {
		cut.Max.Y = hi
	}
	if cut == v || cut.Height() <= 0 {
		return 0, 0
	}
	s := *j.s
	s.View = cut
	j.s = &s
	return float64(cut.Min.Y-v.Min.Y) / 1000, float64(v.Max.Y-cut.Max.Y) / 1000
}
