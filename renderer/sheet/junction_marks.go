package sheet

import (
	"math"
	"slices"
	"sort"

	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
)

var (
	styleSmall = drawing.Style{Face: drawing.Reading, Weight: 400, Size: 2.7, Ink: drawing.InkLine}
	styleLevel = drawing.Style{Face: drawing.Lettering, Weight: 550, Size: 2.7, Ink: drawing.InkLine}
)

// chains are the dimension strings on the four borders of the view, from the
// work outwards.
type chains map[drawing.Border][]*drawing.Chain

// reach is the room that the strings on a border take, mm.
func (j *junction) reach(b drawing.Border) float64 {
	if len(j.strings[b]) == 0 {
		return 0
	}
	return drawing.PlaceTiers(b, 0, j.clearance(b), j.strings[b]...) + 1.5
}

// clearance is the distance of the first string from the work: more where its
// words stand towards a break line.
func (j *junction) clearance(b drawing.Border) float64 {
	if b == drawing.Below && len(j.cutSpans(detail.Bottom)) > 0 || b == drawing.RightOf && len(j.cutSpans(detail.Right)) > 0 {
		return drawing.DimensionClear + 3
	}
	return drawing.DimensionClear
}

// chains gathers the dimensions asked for and those of the stacks that run out
// of the view.
func (j *junction) chains() chains {
	out := chains{}
	if j.bare {
		return out // the phone has room for bubbles alone
	}
	for i, p := range j.d.Junction.Parts {
		if p.Kind == detail.Laid && p.Pitch == nil && j.s.Parts[i].Laid {
			j.stackChain(out, i, p)
		}
	}
	for _, d := range j.s.Dimensions {
		a, aok := j.along(d.Across, d.From)
		b, bok := j.along(d.Across, d.To)
		if !aok || !bok {
			continue
		}
		text := drawing.DimensionText(j.length(abs64(d.To-d.From)), j.look.System)
		border := map[string]drawing.Border{"below": drawing.Below, "above": drawing.Above, "left of": drawing.LeftOf, "right of": drawing.RightOf}[d.Where]
		c := &drawing.Chain{Border: border, Stops: []float64{min(a, b), max(a, b)}, Texts: []string{text}}
		out.add(c)
	}
	return out
}

// add puts a chain on its border: into one that ends where it begins, else
// in a string of its own.
func (c chains) add(n *drawing.Chain) {
	for _, old := range c[n.Border] {
		last := len(old.Stops) - 1
		if old.Stops[last] <= n.Stops[0]+1e-6 && len(n.Texts) == 1 && len(old.Texts) < 6 && old.Stops[last] >= n.Stops[0]-1e-6 {
			old.Stops = append(old.Stops, n.Stops[1:]...)
			old.Texts = append(old.Texts, n.Texts...)
			return
		}
	}
	c[n.Border] = append(c[n.Border], n)
}

func (j *junction) along(across bool, v int64) (float64, bool) {
	if across {
		x, ok := j.x.paper(v)
		return x + j.at.X, ok
	}
	y, ok := j.y.paper(v)
	return y + j.at.Y, ok
}

// stackChain dimensions the layers of an assembly where it runs out of the view.
func (j *junction) stackChain(out chains, index int, p *detail.Part) {
	across := p.Inside == detail.Left || p.Inside == detail.Right
	b := j.s.Parts[index].Bounds
	border := drawing.Above
	switch {
	case across && b.Max.Y < j.s.View.Max.Y:
		if b.Min.Y > j.s.View.Min.Y {
			return
		}
		border = drawing.Below
	case !across && b.Max.X >= j.s.View.Max.X:
		border = drawing.RightOf
	case !across && b.Min.X <= j.s.View.Min.X:
		border = drawing.LeftOf
	case !across:
		return
	}
	stops := map[int64]bool{}
	for _, r := range j.s.Parts[index].Regions {
		box := j.s.Regions[r].Ring.Bounds()
		lo, hi := box.Min.Y, box.Max.Y
		if across {
			lo, hi = box.Min.X, box.Max.X
		}
		stops[lo], stops[hi] = true, true
	}
	values := make([]int64, 0, len(stops))
	for v := range stops {
		values = append(values, v)
	}
	sort.Slice(values, func(a, b int) bool { return values[a] < values[b] })
	if !across {
		for a, b := 0, len(values)-1; a < b; a, b = a+1, b-1 {
			values[a], values[b] = values[b], values[a]
		}
	}
	// A sheet too thin to say in sixteenths is dimensioned with what it lies on.
	kept := values[:0]
	for i, v := range values {
		if n := len(kept); n > 0 && j.length(abs64(v-kept[n-1])) < thinnest {
			if i == len(values)-1 && n > 1 {
				kept[n-1] = v
			}
			continue
		}
		kept = append(kept, v)
	}
	values = kept
	c := &drawing.Chain{Border: border}
	for i, v := range values {
		at, ok := j.along(across, v)
		if !ok {
			return
		}
		c.Stops = append(c.Stops, at)
		if i > 0 {
			c.Texts = append(c.Texts, drawing.DimensionText(j.length(abs64(v-values[i-1])), j.look.System))
		}
	}
	if len(c.Texts) > 0 {
		out[border] = append(out[border], c)
	}
}

// borders are the sides of the view, in the order their strings are drawn.
var borders = [...]drawing.Border{drawing.Above, drawing.Below, drawing.LeftOf, drawing.RightOf}

// placeChains sets the strings out: their words clear of leaders, their
// extension lines to the work.
func (j *junction) placeChains(placed []drawing.PlacedCallout) {
	edge := map[drawing.Border]float64{
		drawing.Above: j.at.Y, drawing.Below: j.at.Y + j.y.length,
		drawing.LeftOf: j.at.X, drawing.RightOf: j.at.X + j.x.length,
	}
	for _, b := range borders {
		list := j.strings[b]
		if len(list) == 0 {
			continue
		}
		drawing.PlaceTiers(b, edge[b], j.clearance(b), list...)
		for i, n := range list {
			// Leaders run beneath, or the extension lines of a string outside.
			n.Cased = b == drawing.LeftOf || b == drawing.RightOf || i+1 < len(list)
			free := 0.0
			if !slices.ContainsFunc(list[i+1:], n.Abreast) {
				free = j.freeBeside(n, placed)
			}
			n.Dodge(placed, free)
			if !slices.ContainsFunc(list[:i], n.Abreast) {
				j.toTheWork(n, edge[b])
			}
		}
	}
}

// freeBeside is the width free between an upright string and the callouts on its
// side of the sheet, mm.
func (j *junction) freeBeside(c *drawing.Chain, placed []drawing.PlacedCallout) float64 {
	const clear = 1.0
	free := c.At
	if c.Border == drawing.RightOf {
		free = j.width - c.At
	}
	for i := range placed {
		switch b := &placed[i].Box; {
		case c.Border == drawing.LeftOf && b.Max.X < c.At:
			free = min(free, c.At-b.Max.X)
		case c.Border == drawing.RightOf && b.Min.X > c.At:
			free = min(free, b.Min.X-c.At)
		}
	}
	return free - clear
}

// takeChains keeps marks off the extension lines that cross the view.
func (j *junction) takeChains(rm *room) {
	for _, b := range borders {
		for _, n := range j.strings[b] {
			for i, stop := range n.Stops {
				if n.Starts == nil || math.Abs(n.Starts[i]-n.Work) < 2 {
					continue
				}
				var line drawing.Box
				if b == drawing.Above || b == drawing.Below {
					line.Add(stop-0.3, n.Starts[i])
					line.Add(stop+0.3, n.Work)
				} else {
					line.Add(n.Starts[i], stop-0.3)
					line.Add(n.Work, stop+0.3)
				}
				rm.take(line)
			}
		}
	}
}

func (j *junction) drawChains() {
	j.draft.Open(drawing.Tag{Kind: "dimension"})
	for _, b := range borders {
		for i := len(j.strings[b]) - 1; i >= 0; i-- { // the texts of inner ones clear the lines of outer
			j.draft.Dimension(j.strings[b][i])
		}
	}
	j.draft.Close()
}

// farthestWork is how far an extension line runs over air to the work, mm.
const farthestWork = 110.0

// toTheWork begins the extension lines of a string at what is built: the view
// may hold air between the two. Edge is the side of the view it stands on.
func (j *junction) toTheWork(c *drawing.Chain, edge float64) {
	out := 1.0
	if c.Border == drawing.Above || c.Border == drawing.LeftOf {
		out = -1
	}
	gap := out * drawing.ExtensionGap
	on := func(stop, off float64) drawing.Point {
		if c.Border == drawing.Above || c.Border == drawing.Below {
			return drawing.Point{X: stop, Y: edge - out*off}
		}
		return drawing.Point{X: edge - out*off, Y: stop}
	}
	for _, stop := range c.Stops {
		start := c.Work
		for off := 0.4; off < farthestWork; off += 0.4 {
			if !j.clear(on(stop-0.2, off)) || !j.clear(on(stop+0.2, off)) {
				start = edge - out*(off-0.4) + gap
				break
			}
		}
		c.Starts = append(c.Starts, start)
	}
}

// breakLines draws a break line along each stretch of what is cut off at the
// sides of the view, and across each stretch left out.
func (j *junction) breakLines() {
	d := j.draft
	d.Open(drawing.Tag{Kind: "break"})
	v := j.s.View
	for _, side := range []detail.Side{detail.Left, detail.Right, detail.Bottom, detail.Top} {
		for _, span := range j.cutSpans(side) {
			var a, b geometry.Point
			switch side {
			case detail.Left:
				a, b = geometry.Point{X: v.Min.X, Y: span[0]}, geometry.Point{X: v.Min.X, Y: span[1]}
			case detail.Right:
				a, b = geometry.Point{X: v.Max.X, Y: span[0]}, geometry.Point{X: v.Max.X, Y: span[1]}
			case detail.Bottom:
				a, b = geometry.Point{X: span[0], Y: v.Min.Y}, geometry.Point{X: span[1], Y: v.Min.Y}
			default:
				a, b = geometry.Point{X: span[0], Y: v.Max.Y}, geometry.Point{X: span[1], Y: v.Max.Y}
			}
			p, _, aok := j.shown(a)
			q, _, bok := j.shown(b)
			if aok && bok {
				d.Break(drawing.Tag{}, p, q, 0.5, 1.6)
			}
		}
	}
	for i := 1; i < len(j.y.pieces); i++ {
		y0 := j.at.Y + j.y.in(j.y.pieces[i-1], j.y.pieces[i-1].lo)
		y1 := j.at.Y + j.y.in(j.y.pieces[i], j.y.pieces[i].hi)
		for _, y := range [2]float64{y0, y1} {
			d.Break(drawing.Tag{}, drawing.Point{X: j.at.X, Y: y}, drawing.Point{X: j.at.X + j.x.length, Y: y}, 0.5, 1.6)
		}
	}
	for i := 1; i < len(j.x.pieces); i++ {
		x0 := j.at.X + j.x.in(j.x.pieces[i-1], j.x.pieces[i-1].hi)
		x1 := j.at.X + j.x.in(j.x.pieces[i], j.x.pieces[i].lo)
		for _, x := range [2]float64{x0, x1} {
			d.Break(drawing.Tag{}, drawing.Point{X: x, Y: j.at.Y}, drawing.Point{X: x, Y: j.at.Y + j.y.length}, 0.5, 1.6)
		}
	}
	d.Close()
}

// cutSpans returns the stretches along a side of the view where something
// built, not ground, runs past it.
func (j *junction) cutSpans(side detail.Side) [][2]int64 {
	v := j.s.View
	var spans [][2]int64
	for i := range j.s.Faces {
		f := &j.s.Faces[i]
		if f.Region < 0 || f.Material == nil || !f.AtCut || j.s.Regions[f.Region].Soil() {
			continue
		}
		ring := f.Polygon.Outer
		for k, a := range ring {
			b := ring[(k+1)%len(ring)]
			switch {
			case side == detail.Left && a.X == v.Min.X && b.X == v.Min.X,
				side == detail.Right && a.X == v.Max.X && b.X == v.Max.X:
				spans = append(spans, [2]int64{min(a.Y, b.Y), max(a.Y, b.Y)})
			case side == detail.Bottom && a.Y == v.Min.Y && b.Y == v.Min.Y,
				side == detail.Top && a.Y == v.Max.Y && b.Y == v.Max.Y:
				spans = append(spans, [2]int64{min(a.X, b.X), max(a.X, b.X)})
			}
		}
	}
	sort.Slice(spans, func(a, b int) bool { return spans[a][0] < spans[b][0] })
	var out [][2]int64
	for _, s := range spans {
		if n := len(out); n > 0 && s[0] <= out[n-1][1] {
			out[n-1][1] = max(out[n-1][1], s[1])
		} else {
			out = append(out, s)
		}
	}
	return out
}

func degrees(rad float64) float64 { return rad * 57.29577951308232 }
