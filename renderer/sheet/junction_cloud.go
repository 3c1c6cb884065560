package sheet

import "wythe/renderer/drawing"

// clouds marks what changed since the revision before, as far as the view
// shows it.
func (j *junction) clouds(height float64) {
	c := j.look.Changes
	if c == nil {
		return
	}
	var areas []drawing.Box
	for i := range j.windows {
		w := &j.windows[i]
		for _, s := range c.Lines {
			if from, to, ok := clipSegment(w.point(s.A), w.point(s.B), w.on); ok {
				var b drawing.Box
				b.Add(from.X, from.Y)
				b.Add(to.X, to.Y)
				areas = append(areas, b)
			}
		}
		for _, p := range c.Places {
			if w.box.Contains(p) {
				var b drawing.Box
				at := w.point(p)
				b.Add(at.X-2, at.Y-2)
				b.Add(at.X+2, at.Y+2)
				areas = append(areas, b)
			}
		}
	}
	j.draft.Clouds(areas, j.width, height, c.Rev)
}
