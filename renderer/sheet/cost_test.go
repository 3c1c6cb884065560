package sheet

import (
	"testing"

	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/figures"
	"wythe/renderer/units"
)

// BenchmarkFiguresAgainstDrawing works out all figures of each assembly of the
// demonstration library, and draws it in its two dresses; the ratio says
// whether figures stay under the cost of drawing.
func BenchmarkFiguresAgainstDrawing(b *testing.B) {
	lib, err := detail.Read("../../details")
	if err != nil {
		b.Fatal(err)
	}
	context := figures.Context{Settings: &lib.Settings, Climate: lib.Climate}
	draw := func(d *detail.Detail, fig *figures.Assembly) {
		for _, dress := range []drawing.Dress{drawing.Wide, drawing.Phone} {
			svg.Append(nil, Assembly(d, fig, Look{Dress: dress, System: units.Inch}), svg.Options{})
		}
	}
	work := func(figuresToo, drawingToo bool) func(*testing.B) {
		return func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				for _, d := range lib.Details {
					if d.Assembly == nil {
						continue
					}
					var fig *figures.Assembly
					if figuresToo {
						fig = figures.OfAssembly(context, d)
					} else {
						fig = kept[d.Mark]
					}
					kept[d.Mark] = fig
					if drawingToo {
						draw(d, fig)
					}
				}
			}
		}
	}
	b.Run("figures", work(true, false))
	b.Run("drawing", work(false, true))
}

var kept = map[string]*figures.Assembly{}
