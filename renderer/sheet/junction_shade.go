package sheet

import (
	"math"

	"wythe/renderer/drawing"
)

// shadeTolerance is how far the edge of a band may lie from its isotherm, mm
// on paper: less than the line's width covers.
const shadeTolerance = 0.16

// shading fills the section between the temperatures given, rising, °C: the
// coldest beneath, each warmer band over it.
func (j *junction) shading(h *Heat, values []float64) {
	bands := h.Field.Bands(append([]float64{math.Inf(-1)}, values...), shadeTolerance*j.scale/1000)
	j.draft.Open(drawing.Tag{Kind: "shade"})
	for k := range bands {
		p := drawing.Path{Odd: true, Fill: drawing.InkShade + drawing.Ink(math.Round(float64(k*drawing.Shades)/float64(max(1, len(values)))))}
		for i := range j.windows {
			w := &j.windows[i]
			for _, ring := range bands[k].Rings {
				pts := make([]drawing.Point, len(ring)-1) // it ends where it begins
				for n := range pts {
					pts[n] = w.metres(ring[n])
				}
				if pts = clipRing(pts, w.on); len(pts) > 2 {
					p.Polygon(pts...)
				}
			}
		}
		if len(p.Segs) > 0 {
			j.draft.Add(&p)
		}
	}
	j.draft.Close()
}
