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
	raise float64 // how much higher than usual the words stand, mm
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

// levelMost is how much higher than usual the words of a level may stand, mm.
const levelMost = 12.0

// wrongGround is what it costs a level to stand on what has no top there: more
// than all that its words may spoil.
const wrongGround = 100.0

// placeLevel stands a mark on what has its top there: on the part named, or
// on any.
func (j *junction) placeLevel(rm *room, y int64, label, part string) (levelMark, bool) {
	level, ok := j.along(false, y)
	if !ok {
		return levelMark{}, false
	}
	wide := styleLevel.Width(label) + 5.4
	best, bestCost, bestBox := levelMark{}, math.Inf(1), drawing.Box{}
	high := styleLevel.Size*0.72 + 0.8
	lo, hi := j.at.X, j.at.X+j.x.length
	for x := lo + 3; x <= hi-3; x += 2.5 {
		// Near the side of the view rather than amid the work.
		ground := 0.012 * min(x-lo, hi-x)
		if ground >= bestCost {
			continue
		}
		under, over := j.face(drawing.Point{X: x, Y: level + 0.4}), j.face(drawing.Point{X: x, Y: level - 0.4})
		switch {
		case under >= 0 && under == over && j.s.Faces[under].Part >= 0:
			ground += wrongGround // amid a part: nothing has its top there
		case under < 0 || j.s.Faces[under].Part < 0:
			ground += wrongGround + 2 // on air
		case part != "" && j.d.Junction.Parts[j.s.Faces[under].Part].Name != part:
			ground += takenCost
		case part == "" && !j.soft(&j.s.Faces[under]):
			ground++
		}
		for _, side := range [...]drawing.Side{drawing.RightSide, drawing.LeftSide} {
			middle := x + wide/2 - 1.8
			if side == drawing.LeftSide {
				middle = x - wide/2 + 1.8
			}
			if middle-wide/2 < lo-6 || middle+wide/2 > hi+6 {
				continue
			}
			for raise := 0.0; raise <= levelMost; raise += 1.5 {
				cost := ground + 0.2*raise
				if cost >= bestCost || raise > 0 && ground >= wrongGround {
					break
				}
				words := boxAt(drawing.Point{X: middle, Y: level - raise - 4.2}, wide, high)
				if cost += rm.over(words, bestCost-cost); cost >= bestCost {
					continue
				}
				for at := -0.45; at <= 0.46 && cost < bestCost; at += 0.15 {
					if !j.clear(drawing.Point{X: middle + at*wide, Y: words.Min.Y}) {
						cost += 0.7
					}
				}
				foot := boxAt(drawing.Point{X: x, Y: level - 1.6 - raise/2}, 3.6, 2.4+raise)
				if cost += 0.5 * rm.cost(foot, 2*(bestCost-cost)); cost < bestCost {
					best, bestCost = levelMark{drawing.Point{X: x, Y: level}, side, raise, label}, cost
					bestBox = foot
					bestBox.Join(words)
				}
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
		j.draft.Level(drawing.Tag{}, m.at, m.side, m.raise, m.words)
	}
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
