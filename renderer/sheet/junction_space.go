package sheet

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"wythe/renderer/drawing"
)

// spaceName is the lettering of a place of air.
type spaceName struct {
	at    drawing.Point // its middle
	style *drawing.Style
	words string
}

// How names of spaces are lettered: as look says; closer and smaller, and
// upright, where a narrow sheet has no room for that.
var (
	styleSpace        = drawing.Style{Face: drawing.Lettering, Weight: 500, Size: 3, Ink: drawing.InkLine, Tracking: 0.66}
	styleSpaceClose   = drawing.Style{Face: drawing.Lettering, Weight: 500, Size: 2.8, Ink: drawing.InkLine, Tracking: 0.25}
	styleSpaceUpright = drawing.Style{Face: drawing.Lettering, Weight: 500, Size: 2.8, Ink: drawing.InkLine, Tracking: 0.25, Turn: 90}
)

const (
	spaceStep   = 6.0 // of the places tried first, mm
	spaceAcross = 60.0
	spaceDown   = 48.0
	spacePast   = 12.0  // how far a name's middle may stand past the side of the view, mm
	spaceClear  = 2.5   // from a name to what is built, mm
	spaceLook   = 2.4   // between the places looked at about a name, mm
	foreignNear = 0.8   // what each of these costs within spaceClear,
	foreignOver = 4.0   // and under the words: more than a leader, which casing keeps legible
	spaceFar    = 0.035 // and each millimetre from its point,
	pastSide    = 0.06  // and past the side of the view
	spaceLesser = 2.0   // what a lesser lettering costs
)

// spaceOffsets are the ways from a space's point to the places tried, the
// nearest first.
var spaceOffsets = func() (list []drawing.Point) {
	for y := -spaceDown; y <= spaceDown; y += spaceStep {
		for x := -spaceAcross; x <= spaceAcross; x += spaceStep {
			list = append(list, drawing.Point{X: x, Y: y})
		}
	}
	slices.SortStableFunc(list, func(a, b drawing.Point) int {
		return cmp.Compare(a.X*a.X+a.Y*a.Y, b.X*b.X+b.Y*b.Y)
	})
	return list
}()

// spaceNames letters the places of air, each within its own air, clear of what
// is built, and near one of its points. Where the view ends a name may run on
// past its side.
func (j *junction) spaceNames(rm *room) []spaceName {
	var names []spaceName
	for i := range j.s.Spaces {
		s := &j.s.Spaces[i]
		n := naming{j: j, rm: rm, space: s.Name, words: strings.ToUpper(s.Name), cost: math.Inf(1)}
		for k, style := range [...]*drawing.Style{&styleSpace, &styleSpaceClose, &styleSpaceUpright} {
			if lesser := spaceLesser * float64(k); lesser >= n.cost || k > 0 && !j.bare {
				break
			}
			for turn, point := range s.Points {
				if from, _, ok := j.shown(point); ok {
					n.search(style, from, spaceLesser*float64(k)+0.3*float64(turn))
				}
			}
		}
		if n.best.style != nil {
			rm.take(n.taken)
			names = append(names, n.best)
		}
	}
	return names
}

// naming is the search for a place of one space's name.
type naming struct {
	j            *junction
	rm           *room
	space, words string
	best         spaceName
	taken        drawing.Box
	cost         float64 // of the best
}

// search tries the places around a point, then closer about the best of them.
func (n *naming) search(style *drawing.Style, from drawing.Point, cost float64) {
	wide, high := style.Width(n.words), style.Size*0.72
	if style.Turn != 0 {
		wide, high = high, wide
	}
	was := n.cost
	for _, d := range spaceOffsets {
		c := cost + spaceFar*math.Hypot(d.X, d.Y)
		if c >= n.cost {
			break
		}
		n.try(style, drawing.Point{X: from.X + d.X, Y: from.Y + d.Y}, wide, high, c)
	}
	if n.cost == was {
		return
	}
	for step := spaceStep / 2; step > 1; step /= 2 {
		at := n.best.at
		for _, d := range [...]drawing.Point{{X: -step}, {X: step}, {Y: -step}, {Y: step}, {X: -step, Y: -step}, {X: step, Y: -step}, {X: -step, Y: step}, {X: step, Y: step}} {
			p := drawing.Point{X: at.X + d.X, Y: at.Y + d.Y}
			if c := cost + spaceFar*math.Hypot(p.X-from.X, p.Y-from.Y); c < n.cost {
				n.try(style, p, wide, high, c)
			}
		}
	}
}

// try sets the name down at a place if that is better than the best so far.
func (n *naming) try(style *drawing.Style, at drawing.Point, wide, high, cost float64) {
	j := n.j
	b := boxAt(at, wide+3, high+3)
	off := max(j.at.X-at.X, at.X-j.at.X-j.x.length, j.at.Y-at.Y, at.Y-j.at.Y-j.y.length)
	if b.Min.X < 0 || b.Max.X > j.width || off > spacePast || !j.airOf(n.space, at) {
		return
	}
	if cost += n.rm.over(b, n.cost-cost); cost >= n.cost {
		return
	}
	if cost += j.foreign(n.space, at, wide, high, n.cost-cost); cost < n.cost {
		n.best, n.cost, n.taken = spaceName{at, style, n.words}, cost, b
	}
}

// airOf reports whether a space shows at a place on paper; past the side of the
// view, whether it ends there.
func (j *junction) airOf(space string, p drawing.Point) bool {
	p = drawing.Point{X: min(max(p.X, j.at.X), j.at.X+j.x.length), Y: min(max(p.Y, j.at.Y), j.at.Y+j.y.length)}
	f := j.face(p)
	return f >= 0 && j.s.Faces[f].Space == space
}

// foreign is what it costs a space's name to stand over or near what is not
// its air; past a limit it says no more than that.
func (j *junction) foreign(space string, at drawing.Point, wide, high, limit float64) (cost float64) {
	look := func(x, y, each float64) {
		if x < j.at.X || x > j.at.X+j.x.length || y < j.at.Y || y > j.at.Y+j.y.length {
			cost += pastSide
		}
		if !j.airOf(space, drawing.Point{X: x, Y: y}) {
			cost += each
		}
	}
	for _, ring := range [...]struct{ clear, each float64 }{{0.4, foreignOver}, {spaceClear, foreignNear}} {
		w, h := wide+2*ring.clear, high+2*ring.clear
		nx, ny := math.Ceil(w/spaceLook), math.Ceil(h/spaceLook)
		for k := 0.0; k <= nx; k++ {
			x := at.X + w*(k/nx-0.5)
			look(x, at.Y-h/2, ring.each)
			look(x, at.Y+h/2, ring.each)
			if cost > limit {
				return cost
			}
		}
		for k := 1.0; k < ny; k++ {
			y := at.Y + h*(k/ny-0.5)
			look(at.X-w/2, y, ring.each)
			look(at.X+w/2, y, ring.each)
		}
	}
	return cost
}

func (j *junction) spaces(names []spaceName) {
	j.draft.Open(drawing.Tag{Kind: "side"})
	for _, n := range names {
		at := drawing.Point{X: n.at.X, Y: n.at.Y + n.style.Size*0.36}
		if n.style.Turn != 0 {
			at = drawing.Point{X: n.at.X + n.style.Size*0.36, Y: n.at.Y}
		}
		j.draft.Cased(drawing.Tag{}, n.style, 1.4, at, drawing.Middle, n.words)
	}
	j.draft.Close()
}

// takeLines keeps words off films, control lines, what stands behind the cut and
// the lines across the view where it is broken.
func (j *junction) takeLines(rm *room, runs []controlRun) {
	for k := range j.windows {
		on := j.windows[k].on
		top, bottom := drawing.Point{X: on.Max.X, Y: on.Min.Y}, drawing.Point{X: on.Min.X, Y: on.Max.Y}
		if len(j.y.pieces) > 1 {
			rm.line([]drawing.Point{on.Min, top})
			rm.line([]drawing.Point{bottom, on.Max})
		}
		if len(j.x.pieces) > 1 {
			rm.line([]drawing.Point{on.Min, bottom})
			rm.line([]drawing.Point{top, on.Max})
		}
	}
	for i := range runs {
		rm.line(runs[i].pts)
	}
	for k := range j.windows {
		w := &j.windows[k]
		for _, run := range j.s.Runs {
			for _, pts := range w.line(j.onPaper(w, run.Line)) {
				rm.line(pts)
			}
		}
		for _, r := range j.s.Beyond {
			for _, pts := range w.line(j.onPaper(w, append(slices.Clone(r.Ring), r.Ring[0]))) {
				rm.line(pts)
			}
		}
	}
}
