package drawing

// bodyPens are the weights and grain of a section.
type bodyPens struct {
	cut, inner, joint, film Pen
	grain                   float64 // of hatches; 1 at 1:8
	filmPitch               float64 // between films that touch
}

var (
	sheetPens = bodyPens{PenCut, PenTick, PenSecondary, PenMembrane, 1, 1.6}
	thumbPens = bodyPens{PenTick, PenSecondary, PenDimension, 0.7, 0.62, 1.2}
	stepPens  = bodyPens{PenCut, PenTick, PenSecondary, PenMembrane, 0.72, 1.6}
)

// Heights on paper, mm.
const (
	thinLayer  = 0.7 // below it there is no room for a hatch between two lines
	closeLayer = 4.0 // below it the lines inside the stack are drawn lighter
)

// body draws the layers: hatches, then outlines, joints and members, then
// films. Where stands is set, only layers for which it holds are drawn.
func (f *stackFrame) body(d *Draft, pens *bodyPens, stands func(*StackLayer) bool) {
	d.Open(Tag{Kind: "hatches"})
	for k := range f.order {
		l := f.layer(k)
		if l.Film || f.y[k+1] == f.y[k] {
			continue
		}
		bare := false
		if !stands(l) {
			if bare = f.bare(k, stands); !bare {
				continue
			}
		}
		d.Open(Tag{Kind: "hatch", Part: l.Part, Step: l.Step, Key: l.Key})
		f.fillLayer(d, k, pens, bare)
		d.Close()
	}
	if b := f.stack.Beyond; b != nil && stands(b) {
		d.Open(Tag{Kind: "hatch", Part: b.Part, Step: b.Step, Key: b.Key})
		y0, y1, fade := f.bottom(), f.bottom()+f.below, SideBottom
		if f.above > 0 {
			y0, y1, fade = f.top()-f.above, f.top(), SideTop
		}
		h := Hatching{
			Seed: f.stack.hatchSeed(b.Part), Grain: pens.grain, Axis: AxisLevel,
			Open: SideLeft | SideRight | fade, Fade: fade, Thumb: pens == &thumbPens,
		}
		if pens != &sheetPens {
			h.Fade = 0 // too shallow to thin out
		}
		d.hatch(b.Hatch, f.x0, y0, f.x1, y1, h)
		d.Close()
	}
	d.Close()
	d.Open(Tag{Kind: "outline"})
	f.joints(d, pens, stands)
	f.lines(d, pens, stands)
	d.Close()
	f.films(d, pens, stands)
}

// bare says whether the members of layer k stand though the layer does not.
func (f *stackFrame) bare(k int, stands func(*StackLayer) bool) bool {
	l := f.layer(k)
	if l.Framing == nil {
		return false
	}
	if l.Framing.Step > 0 && l.Framing.Step <= f.stack.After {
		return true
	}
	both := 0
	for _, way := range [...]int{-1, 1} {
		for i := k + way; i >= 0 && i < len(f.order); i += way {
			if f.y[i] < f.y[i+1] { // films hold nothing apart
				if stands(f.layer(i)) {
					both++
				}
				break
			}
		}
	}
	return both == 2
}

// fillLayer hatches one layer, its insulation between its members; of a bare
// layer the members alone.
func (f *stackFrame) fillLayer(d *Draft, k int, pens *bodyPens, bare bool) {
	l := f.layer(k)
	y0, y1 := f.y[k], f.y[k+1]
	thin := y1-y0 < thinLayer
	if thin && solidWhenThin(l.Hatch) {
		d.Shape(Tag{}, Stroke{}, InkLine, Point{f.x0, y0}, Point{f.x1, y0}, Point{f.x1, y1}, Point{f.x0, y1})
		return
	}
	if thin {
		return
	}
	seed := f.stack.hatchSeed(l.Part)
	fill := func(x0, x1 float64, open Sides) {
		if bare {
			return
		}
		d.hatch(l.Hatch, x0, y0, x1, y1, Hatching{
			Seed: seed, Grain: pens.grain, Axis: AxisLevel, Courses: l.courses(), Open: open,
			Along: alongGrain(l.Hatch), Thumb: pens == &thumbPens, Loose: f.loose(k),
		})
	}
	lefts, width := f.members(l)
	x, open := f.x0, SideLeft
	for _, left := range lefts {
		fill(x, left, open)
		if f.channels(l, width, y1-y0) {
			x, open = left, 0
			continue
		}
		if width < 0.5 {
			d.Shape(Tag{}, Stroke{}, InkLine, Point{left, y0}, Point{left + width, y0}, Point{left + width, y1}, Point{left, y1})
		} else {
			d.hatch(l.Framing.Hatch, left, y0, left+width, y1, Hatching{Seed: seed, Grain: pens.grain, Axis: AxisLevel, Thumb: pens == &thumbPens})
		}
		x, open = left+width, 0
	}
	fill(x, f.x1, open|SideRight)
}

// loose says whether a layer is fill that lies open above, or under more of it.
// In plan nothing lies above.
func (f *stackFrame) loose(k int) bool {
	if f.above > 0 || f.stack.ViewName == "PLAN SECTION" {
		return false
	}
	for ; k >= 0; k-- {
		if l := f.layer(k); !l.Film && f.y[k] < f.y[k+1] && l.Hatch != "loose fill" {
			return false
		}
	}
	return true
}

// alongGrain says whether a layer of it shows its long grain: boards lie
// along the layer.
func alongGrain(hatch string) bool { return hatch == "finish timber" || hatch == "sawn timber" }

// solidWhenThin: very thin sections of these are filled (ISO 128-3).
func solidWhenThin(hatch string) bool {
	return hatch == "steel" || hatch == "metal" || hatch == "membrane"
}

// lines draws the faces of the assembly and the lines between its layers.
func (f *stackFrame) lines(d *Draft, pens *bodyPens, stands func(*StackLayer) bool) {
	var room [3][24]Point
	cut, inner, joint := room[0][:0], room[1][:0], room[2][:0]
	// above is the layer that stands over the line, by its height on paper;
	// films take no room and are drawn apart.
	var above *StackLayer
	aboveHeight := 0.0
	line := func(list []Point, y float64) []Point {
		return append(list, Point{f.x0, y}, Point{f.x1, y})
	}
	lastY := f.top()
	for k := range f.order {
		l := f.layer(k)
		h := f.y[k+1] - f.y[k]
		if h == 0 {
			continue
		}
		if !stands(l) {
			if above != nil {
				cut = line(cut, lastY)
			}
			above = nil
			continue
		}
		y := f.y[k]
		switch {
		case above == nil:
			if l.Hatch != "loose fill" || f.above > 0 || f.stack.ViewName == "PLAN SECTION" { // loose fill has no top line
				cut = line(cut, y)
			}
		case above.Hatch == l.Hatch && l.Hatch == "loose fill" && above.Framing == nil:
			lefts, width := f.members(l)
			for _, x := range lefts { // the fill is one body; the members end here
				joint = append(joint, Point{x, y}, Point{x + width, y})
			}
		case above.Hatch == l.Hatch && above.Framing == nil && l.Framing == nil:
			joint = line(joint, y)
		case min(h, aboveHeight) < thinLayer:
			joint = line(joint, y)
		case min(h, aboveHeight) < closeLayer:
			inner = line(inner, y)
		default:
			cut = line(cut, y)
		}
		above, aboveHeight, lastY = l, h, f.y[k+1]
	}
	if above != nil {
		cut = line(cut, lastY)
	} else if f.stack.Beyond != nil && f.below > 0 && stands(f.stack.Beyond) {
		cut = line(cut, f.bottom())
	}
	d.Lines(Tag{}, Stroke{Pen: pens.joint, Ink: InkLine}, joint)
	d.Lines(Tag{}, Stroke{Pen: pens.inner, Ink: InkLine}, inner)
	d.Lines(Tag{}, Stroke{Pen: pens.cut, Ink: InkLine}, cut)
}

// joints draws the joints between courses, staggered from course to course,
// and the sides of members.
func (f *stackFrame) joints(d *Draft, pens *bodyPens, stands func(*StackLayer) bool) {
	var room [48]Point
	list := room[:0]
	for k := range f.order {
		l := f.layer(k)
		y0, y1 := f.y[k], f.y[k+1]
		if y0 == y1 {
			continue
		}
		bare := !stands(l)
		if bare && !f.bare(k, stands) {
			continue
		}
		lefts, width := f.members(l)
		channels := f.channels(l, width, y1-y0)
		for _, x := range lefts {
			if channels {
				d.channel(x, y0, x+width, y1, pens)
				continue
			}
			list = append(list, Point{x, y0}, Point{x, y1}, Point{x + width, y0}, Point{x + width, y1})
			if bare {
				list = append(list, Point{x, y0}, Point{x + width, y0}, Point{x, y1}, Point{x + width, y1})
			}
		}
		n := l.courses()
		if n == 1 || bare {
			continue
		}
		for c := 1; c < n; c++ {
			y := y0 + (y1-y0)*float64(c)/float64(n)
			list = append(list, Point{f.x0, y}, Point{f.x1, y})
		}
		if !inBoards(l.Hatch) || len(lefts) > 0 {
			continue
		}
		length := f.x1 - f.x0
		for c := range n {
			a := y0 + (y1-y0)*float64(c)/float64(n)
			b := y0 + (y1-y0)*float64(c+1)/float64(n)
			x := f.x0 + length*(0.17-0.1*float64(c&1))
			list = append(list, Point{x, a}, Point{x, b})
		}
	}
	d.Lines(Tag{}, Stroke{Pen: pens.joint, Ink: InkLine}, list)
}

// channel draws a channel bent from sheet: web, flanges and lips.
func (d *Draft) channel(x0, y0, x1, y1 float64, pens *bodyPens) {
	in := float64(pens.cut) / 2 // inside the layer's faces
	lip := min((x1-x0)*0.3, (y1-y0)*0.2)
	d.Line(Tag{}, Stroke{Pen: pens.cut, Ink: InkLine},
		Point{x1, y0 + in + lip}, Point{x1, y0 + in}, Point{x0, y0 + in}, Point{x0, y1 - in}, Point{x1, y1 - in}, Point{x1, y1 - in - lip})
}

// inBoards says whether a hatch stands for boards, laid with joints.
func inBoards(hatch string) bool {
	switch hatch {
	case "rigid insulation", "gypsum", "plywood", "fiber board":
		return true
	}
	return false
}

// films draws each film as a heavy line; films that touch are drawn beside
// each other so that each can be seen.
func (f *stackFrame) films(d *Draft, pens *bodyPens, stands func(*StackLayer) bool) {
	for k := 0; k < len(f.order); {
		if !f.layer(k).Film {
			k++
			continue
		}
		end := k
		for end < len(f.order) && f.layer(end).Film {
			end++
		}
		if end-k > 1 {
			y := f.y[k]
			half := (float64(end-k-1)*pens.filmPitch + float64(pens.film)) / 2
			d.Shape(Tag{Kind: "clearing"}, Stroke{}, InkPaper, Point{f.x0, y - half}, Point{f.x1, y - half}, Point{f.x1, y + half}, Point{f.x0, y + half})
		}
		for ; k < end; k++ {
			l := f.layer(k)
			if !stands(l) {
				continue
			}
			y := f.filmY(k, pens)
			d.Line(Tag{Kind: "film", Part: l.Part, Step: l.Step, Key: l.Key}, Stroke{Pen: pens.film, Ink: InkLine}, Point{f.x0, y}, Point{f.x1, y})
		}
	}
}

// filmReach is how far films reach past all that lies between the cuts.
func (f *stackFrame) filmReach(pens *bodyPens) (up, down float64) {
	top, bottom := f.ends()
	for k := range f.order {
		if f.layer(k).Film {
			y := f.filmY(k, pens)
			up = max(up, top-y+float64(pens.film)/2)
			down = max(down, y+float64(pens.film)/2-bottom)
		}
	}
	return up, down
}

// filmY is the height at which film k is drawn: at its depth, or beside it
// where others lie at the same.
func (f *stackFrame) filmY(k int, pens *bodyPens) float64 {
	first, last := k, k
	for first > 0 && f.layer(first-1).Film {
		first--
	}
	for last+1 < len(f.order) && f.layer(last+1).Film {
		last++
	}
	return f.y[k] + (float64(k-first)-float64(last-first)/2)*pens.filmPitch
}
