package sheet

import (
	"math"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/units"
)

// levelMark is a named height with its place on paper.
type levelMark struct {
	at    drawing.Point
	side  drawing.Side
	words string
}

// levelMarks places the marks of the levels, and of what each is told from as
// ±0, where no leader runs through their words.
func (j *junction) levelMarks(rm *room) []levelMark {
	var marks []levelMark
	for i, l := range j.d.Junction.Levels {
		if i >= len(j.s.Levels) {
			break
		}
		y := j.s.Levels[i].Y
		words := strings.ToUpper(l.Name)
		e := &l.Edge
		if e.Kind == detail.EdgeOffset && e.Of != nil && e.Of.Kind == detail.EdgeRef {
			words += " " + signed(e.Length, j.look.System)
			from := y - int64(float64(e.Length)*1e6+math.Copysign(0.5, float64(e.Length)))
			name := strings.ToUpper(e.Of.Part)
			if e.Of.Side == detail.Top {
				name = "T.O. " + name
			}
			if m, ok := j.placeLevel(rm, from, name+" "+zero(j.look.System), e.Of.Part); ok {
				marks = append(marks, m)
			}
		}
		if m, ok := j.placeLevel(rm, y, words, ""); ok {
			marks = append(marks, m)
		}
	}
	return marks
}

func zero(system units.System) string {
	if system == units.Metric {
		return "±0"
	}
	return "0′-0″"
}

func signed(l units.Length, system units.System) string {
	sign := "+"
	if l < 0 {
		sign, l = "−", -l
	}
	if system == units.Metric {
		return sign + l.Meter()
	}
	return sign + l.FeetInchDrawing()
}

// placeLevel stands a mark on what has its top there: on the part named, or
// on any.
func (j *junction) placeLevel(rm *room, y int64, words, part string) (levelMark, bool) {
	level, ok := j.along(false, y)
	if !ok {
		return levelMark{}, false
	}
	wide := styleLevel.Width(words) + 5.4
	best, bestCost, bestBox := levelMark{}, math.Inf(1), drawing.Box{}
	lo, hi := j.at.X, j.at.X+j.x.length
	for x := lo + 3; x <= hi-3; x += 2.5 {
		for _, side := range [...]drawing.Side{drawing.RightSide, drawing.LeftSide} {
			out := 1.0
			if side == drawing.LeftSide {
				out = -1
			}
			center := drawing.Point{X: x + out*(wide/2-1.8), Y: level - 3.2}
			b := boxAt(center, wide, 6.2)
			if b.Min.X < lo-6 || b.Max.X > hi+6 {
				continue
			}
			cost := rm.cost(b, bestCost)
			if cost >= bestCost {
				continue
			}
			for _, at := range [...]float64{-0.45, 0, 0.45} {
				if p := (drawing.Point{X: center.X + at*wide, Y: level - 3.6}); !j.clear(p) {
					cost += 1.5
				}
			}
			under, over := j.face(drawing.Point{X: x, Y: level + 0.4}), j.face(drawing.Point{X: x, Y: level - 0.4})
			switch {
			case under >= 0 && under == over && j.s.Faces[under].Part >= 0:
				cost += 12 // amid a part: nothing has its top there
			case under < 0 || j.s.Faces[under].Part < 0:
				cost += 14 // on air
			case part != "" && j.d.Junction.Parts[j.s.Faces[under].Part].Name != part:
				cost += 3
			case part == "" && !j.soft(&j.s.Faces[under]):
				cost++
			}
			// Near the side of the view rather than amid the work.
			cost += 0.012 * min(x-lo, hi-x)
			if cost < bestCost {
				best, bestCost, bestBox = levelMark{drawing.Point{X: x, Y: level}, side, words}, cost, b
			}
		}
	}
	if math.IsInf(bestCost, 1) {
		return best, false
	}
	rm.take(bestBox)
	return best, true
}

func (j *junction) levels(marks []levelMark) {
	for _, m := range marks {
		j.draft.Level(drawing.Tag{}, m.at, m.side, m.words)
	}
}

// spaceName is the lettering of a place of air.
type spaceName struct {
	at    drawing.Point
	words string
}

// foreignFace is what each corner of a space's name costs over work or another
// space: more than a leader or two beneath it, which its casing keeps legible.
const foreignFace = 8

// spaceNames letters the places of air, each within its own face and near its
// point.
func (j *junction) spaceNames(rm *room) []spaceName {
	var names []spaceName
	for i := range j.s.Spaces {
		s := &j.s.Spaces[i]
		if len(s.Points) == 0 {
			continue
		}
		from, _, ok := j.shown(s.Points[0])
		if !ok {
			continue
		}
		words := strings.ToUpper(s.Name)
		wide := styleSpace.Width(words) + 3
		best, bestCost := from, math.Inf(1)
		for dy := -48.0; dy <= 48; dy += 6 {
			for dx := -60.0; dx <= 60; dx += 6 {
				at := drawing.Point{X: from.X + dx, Y: from.Y + dy}
				cost := 0.035 * math.Hypot(dx, dy)
				if cost >= bestCost {
					continue
				}
				for _, c := range [...]drawing.Point{{X: 0, Y: 0}, {X: -0.5, Y: -2.6}, {X: 0.5, Y: -2.6}, {X: -0.5, Y: 2.6}, {X: 0.5, Y: 2.6}} {
					f := j.face(drawing.Point{X: at.X + c.X*wide, Y: at.Y + c.Y})
					if f < 0 || j.s.Faces[f].Space != s.Name {
						cost += foreignFace
					}
				}
				if cost += rm.cost(boxAt(at, wide, 5), bestCost); cost < bestCost {
					best, bestCost = at, cost
				}
			}
		}
		rm.take(boxAt(best, wide, 5))
		names = append(names, spaceName{best, words})
	}
	return names
}

func (j *junction) spaces(names []spaceName) {
	j.draft.Open(drawing.Tag{Kind: "side"})
	for _, n := range names {
		j.draft.Cased(drawing.Tag{}, &styleSpace, 1.4, drawing.Point{X: n.at.X, Y: n.at.Y + styleSpace.Size*0.36}, drawing.Middle, n.words)
	}
	j.draft.Close()
}

// bubble is the reference to an assembly, over it where it is laid.
type bubble struct {
	at   drawing.Point
	part int
	cost float64
}

const (
	bubbleRoom = 11.0 // mm
	bubbleStep = 5.0
)

// bubbles places a reference over each assembly laid, near where it runs out
// of the view, clear of dots and leaders.
func (j *junction) bubbles(rm *room, runs []controlRun) []bubble {
	if j.bare {
		return nil
	}
	var list []bubble
	of := map[int]int{} // by part, into list
	for i, p := range j.d.Junction.Parts {
		if p.Kind == detail.Laid && j.s.Parts[i].Laid && !p.Beyond {
			of[i] = len(list)
			list = append(list, bubble{part: i, cost: math.Inf(1)})
		}
	}
	if len(list) == 0 {
		return nil
	}
	partAt := func(p drawing.Point) int {
		if f := j.face(p); f >= 0 {
			return j.s.Faces[f].Part
		}
		return -1
	}
	for i := range j.windows {
		on := j.windows[i].on
		for y := on.Min.Y + 6; y <= on.Max.Y-6; y += bubbleStep {
			for x := on.Min.X + 6; x <= on.Max.X-6; x += bubbleStep {
				at := drawing.Point{X: x, Y: y}
				k, ok := of[partAt(at)]
				if !ok {
					continue
				}
				b := &list[k]
				cost := 0.03*min(min(x-j.at.X, j.at.X+j.x.length-x), min(y-j.at.Y, j.at.Y+j.y.length-y)) + 0.01*math.Abs(x-j.at.X-j.x.length/2)/10
				for _, d := range [...]drawing.Point{{X: -3.5}, {X: 3.5}, {Y: -3.5}, {Y: 3.5}} {
					if partAt(drawing.Point{X: x + d.X, Y: y + d.Y}) != b.part {
						cost += 0.8
					}
				}
				if cost >= b.cost {
					continue
				}
				for k := range runs {
					if nearLine(at, runs[k].pts, bubbleRoom/2) {
						cost += 0.7
					}
				}
				if cost += rm.cost(boxAt(at, bubbleRoom, bubbleRoom), b.cost); cost < b.cost {
					b.at, b.cost = at, cost
				}
			}
		}
	}
	kept := list[:0]
	for _, b := range list {
		if !math.IsInf(b.cost, 1) {
			rm.take(boxAt(b.at, bubbleRoom, bubbleRoom))
			kept = append(kept, b)
		}
	}
	return kept
}

// nearLine reports whether a line passes within a distance of a place.
func nearLine(p drawing.Point, pts []drawing.Point, within float64) bool {
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		dx, dy := b.X-a.X, b.Y-a.Y
		t := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			t = min(max(((p.X-a.X)*dx+(p.Y-a.Y)*dy)/l, 0), 1)
		}
		if math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy) < within {
			return true
		}
	}
	return false
}

func (j *junction) references(list []bubble) {
	for _, b := range list {
		p := j.d.Junction.Parts[b.part]
		tag := drawing.Tag{Part: p.Name}
		if j.look.Link != nil {
			tag.Href = j.look.Link(p.Mark)
		}
		j.draft.Reference(tag, b.at, p.Mark)
	}
}

// stampAt is the middle of the stamp across a drawing that is not issued: where
// it lies on fewest dots and corners of control lines, rather in the middle.
func (j *junction) stampAt(placed []drawing.PlacedCallout, runs []controlRun) drawing.Point {
	const slope, half = 0.29, 6.0 // of the words, and of their height, mm
	wide := j.x.length * 0.8
	x := j.at.X + j.x.length/2
	best, bestCost := drawing.Point{}, math.Inf(1)
	for _, share := range [...]float64{0.5, 0.42, 0.58, 0.34, 0.66, 0.27, 0.73} {
		c := drawing.Point{X: x, Y: j.at.Y + share*j.y.length}
		if rise := slope*wide/2 + half; share != 0.5 && (c.Y-rise < j.at.Y || c.Y+rise > j.at.Y+j.y.length) {
			continue
		}
		cost := 8 * math.Abs(share-0.5)
		under := func(p drawing.Point) {
			if math.Abs(p.X-c.X) < wide/2 && math.Abs(p.Y-c.Y+slope*(p.X-c.X)) < half {
				cost++
			}
		}
		for i := range placed {
			under(placed[i].At)
		}
		for i := range runs {
			for _, p := range runs[i].pts {
				under(p)
			}
		}
		if cost < bestCost {
			best, bestCost = c, cost
		}
	}
	return best
}
