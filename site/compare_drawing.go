package site

import (
	"sort"
	"strconv"

	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
	"wythe/renderer/units"
	"wythe/site/revision"
)

// changesRoom is the room of a drawing of what changed, mm.
type changesRoom struct {
	width, height float64 // of its lines
	side          float64 // for the numbers at either side
	size          float64 // of its letters
	across        bool    // the legend stands in one line
}

var (
	changesWide  = changesRoom{150, 130, 17, 3, true}
	changesPhone = changesRoom{66, 120, 13, 3.6, false}
)

const (
	changesMargin = 4.0
	changesRing   = 2.6 // radius of the ring about a number
	changesPitch  = 6.4 // from number to number, at least
)

// keyed is a change with the number that leads from its row to the drawing; 0
// where the drawing does not show it.
type keyed struct {
	revision.Change
	Key int
}

// keysOf numbers the changes that a drawing shows, in order: what is said of
// one place bears one number.
func keysOf(changes []revision.Change) []keyed {
	out := make([]keyed, len(changes))
	numbers := map[geometry.Point]int{}
	for i, c := range changes {
		out[i].Change = c
		if c.At == nil {
			continue
		}
		if numbers[*c.At] == 0 {
			numbers[*c.At] = len(numbers) + 1
		}
		out[i].Key = numbers[*c.At]
	}
	return out
}

// changesPicture is one drawing on its way.
type changesPicture struct {
	*drawing.Drawing
	room changesRoom
	box  geometry.Box
	left float64 // of the lines, mm
}

// changesDrawing draws a detail's lines as they were and as they are: what
// stayed is thin and grey, what came heavy, what went dashed and red. Numbers
// lead to the changes. It is nil where there is nothing to draw.
func changesDrawing(mark string, l *revision.Linework, changes []keyed, system units.System, room changesRoom) *drawing.Drawing {
	box, any := geometry.EmptyBox(), false
	for _, list := range [][]geometry.Segment{l.Same, l.Added, l.Removed, l.SameFilms, l.AddedFilms, l.RemovedFilms} {
		for _, s := range list {
			box = box.Grow(s.A).Grow(s.B)
			any = true
		}
	}
	if !any {
		return nil
	}
	width, height := float64(box.Max.X-box.Min.X)*1e-3, float64(box.Max.Y-box.Min.Y)*1e-3 // mm
	scale := drawing.ChooseScale(system, 1, func(ratio float64) bool { return width/ratio <= room.width && height/ratio <= room.height })
	p := &changesPicture{room: room, box: box, left: changesMargin, Drawing: &drawing.Drawing{
		Title: mark + ": what changed", Desc: "Heavy lines were added, dashed lines removed, thin lines stayed. Numbers are those of the table.", Scale: scale}}
	right := changesMargin
	for _, c := range changes {
		if c.Key > 0 {
			p.left, right = changesMargin+room.side, changesMargin+room.side
		}
	}
	p.Width = max(p.left+width/scale+right, 24*room.size)
	thin := drawing.Stroke{Pen: drawing.PenDimension, Ink: drawing.InkSecond}
	came := drawing.Stroke{Pen: drawing.PenControl, Ink: drawing.InkLine, Round: true}
	went := drawing.Stroke{Pen: drawing.PenTick, Ink: drawing.InkMark, Dash: []float64{2, 1.2}}
	p.lines(l.Same, thin)
	p.lines(l.SameFilms, thin)
	p.lines(l.Removed, went)
	p.lines(l.RemovedFilms, went)
	p.lines(l.Added, came)
	p.lines(l.AddedFilms, drawing.Stroke{Pen: drawing.PenMembrane, Ink: drawing.InkLine, Round: true})
	bottom := max(changesMargin+height/scale, p.numbers(changes, p.left+width/scale))

	x, y := changesMargin, bottom+changesMargin+room.size*1.6
	for _, key := range []struct {
		stroke drawing.Stroke
		words  string
	}{{came, "added"}, {went, "removed"}, {thin, "as it was"}} {
		p.line(drawing.Point{X: x, Y: y - room.size/3}, drawing.Point{X: x + 9, Y: y - room.size/3}, "title", key.stroke)
		p.text(drawing.Point{X: x + 11, Y: y}, room.size, drawing.Start, drawing.InkLine, key.words)
		if room.across {
			x += 31
		} else {
			y += room.size * 1.5
		}
	}
	words, ratio := scaleWords(scale, system)
	if words != "" {
		ratio = words + " (" + ratio + ")"
	}
	if room.across {
		y += 2 * room.size
	}
	p.text(drawing.Point{X: changesMargin, Y: y}, room.size*0.9, drawing.Start, drawing.InkSecond, "Scale "+ratio)
	p.Height = y + changesMargin
	return p.Drawing
}

// on is a point of the section on paper.
func (p *changesPicture) on(q geometry.Point) drawing.Point {
	return drawing.Point{X: p.left + float64(q.X-p.box.Min.X)*1e-3/p.Scale, Y: changesMargin + float64(p.box.Max.Y-q.Y)*1e-3/p.Scale}
}

func (p *changesPicture) lines(list []geometry.Segment, stroke drawing.Stroke) {
	if len(list) == 0 {
		return
	}
	path := &drawing.Path{Tag: drawing.Tag{Kind: "outline"}, Stroke: stroke}
	for _, s := range list {
		path.Segs = append(path.Segs, drawing.Seg{Op: drawing.MoveTo, P: [3]drawing.Point{p.on(s.A)}}, drawing.Seg{Op: drawing.LineTo, P: [3]drawing.Point{p.on(s.B)}})
	}
	p.Root.Nodes = append(p.Root.Nodes, path)
}

func (p *changesPicture) line(from, to drawing.Point, kind string, stroke drawing.Stroke) {
	p.Root.Nodes = append(p.Root.Nodes, &drawing.Path{Tag: drawing.Tag{Kind: kind}, Stroke: stroke, Segs: []drawing.Seg{
		{Op: drawing.MoveTo, P: [3]drawing.Point{from}}, {Op: drawing.LineTo, P: [3]drawing.Point{to}}}})
}

func (p *changesPicture) text(at drawing.Point, size float64, anchor drawing.Anchor, ink drawing.Ink, words string) {
	p.Root.Nodes = append(p.Root.Nodes, &drawing.Text{Tag: drawing.Tag{Kind: "title"}, At: at, Size: size, Face: drawing.Reading, Weight: 400, Ink: ink, Anchor: anchor, Text: words})
}

// numbers sets the numbers of the changes at the nearer side, in the order of
// their places so that no leaders cross, and returns where the lowest ends.
func (p *changesPicture) numbers(changes []keyed, right float64) float64 {
	type number struct {
		key int
		at  drawing.Point
	}
	var sides [2][]number
	done := map[int]bool{}
	for _, c := range changes {
		if c.Key == 0 || done[c.Key] {
			continue
		}
		done[c.Key] = true
		at := p.on(*c.At)
		side := 0
		if at.X > (p.left+right)/2 {
			side = 1
		}
		sides[side] = append(sides[side], number{c.Key, at})
	}
	lowest := 0.0
	for side, list := range sides {
		sort.SliceStable(list, func(i, j int) bool { return list[i].at.Y < list[j].at.Y })
		x, in := p.left-p.room.side+changesRing, 1.0
		if side == 1 {
			x, in = right+p.room.side-changesRing, -1
		}
		y := 0.0
		for _, n := range list {
			y = max(n.at.Y, y+changesPitch, changesMargin+changesRing)
			leader := drawing.Stroke{Pen: drawing.PenDimension, Ink: drawing.InkLine}
			p.line(drawing.Point{X: x + in*changesRing, Y: y}, n.at, "callout", leader)
			dot, ring := drawing.Tag{Kind: "callout"}, drawing.Tag{Kind: "callout", Key: n.key}
			p.Root.Nodes = append(p.Root.Nodes,
				&drawing.Circle{Tag: dot, Fill: drawing.InkLine, Center: n.at, R: 0.6},
				&drawing.Circle{Tag: ring, Stroke: leader, Fill: drawing.InkPaper, Center: drawing.Point{X: x, Y: y}, R: changesRing})
			p.text(drawing.Point{X: x, Y: y + 1.05}, 3, drawing.Middle, drawing.InkLine, strconv.Itoa(n.key))
			lowest = y + changesRing
		}
	}
	return lowest
}
