package sheet

import (
	"math"

	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
)

// room knows what stands on the sheet already, so that small marks are set
// where they cover nothing and no leader runs through them. What it holds
// stands in rows of the sheet, so that a look-up meets what is near alone.
type room struct {
	placed []drawing.PlacedCallout
	taken  []drawing.Box
	lines  [][2]drawing.Point // what words are not to be set over
	rows   map[int]*roomRow
	seen   []int32 // by callout: the look-up that met it last
	look   int32
}

// roomRow is what reaches into one row of the sheet.
type roomRow struct{ leaders, boxes, lines []int32 }

const roomHeight = 12.0 // of a row, mm

func newRoom(placed []drawing.PlacedCallout) *room {
	r := &room{placed: placed, rows: map[int]*roomRow{}, seen: make([]int32, len(placed))}
	for i := range placed {
		p := &placed[i]
		lo, hi := min(p.At.Y, p.Elbow.Y, p.Box.Min.Y), max(p.At.Y, p.Elbow.Y, p.Box.Max.Y)
		r.each(lo-1, hi+1, func(row *roomRow) { row.leaders = append(row.leaders, int32(i)) })
	}
	return r
}

// each calls do with every row between two heights.
func (r *room) each(lo, hi float64, do func(*roomRow)) {
	for k := int(math.Floor(lo / roomHeight)); k <= int(math.Floor(hi/roomHeight)); k++ {
		if r.rows[k] == nil {
			r.rows[k] = &roomRow{}
		}
		do(r.rows[k])
	}
}

// boxAt is a rectangle about a center.
func boxAt(c drawing.Point, wide, high float64) drawing.Box {
	var b drawing.Box
	b.Add(c.X-wide/2, c.Y-high/2)
	b.Add(c.X+wide/2, c.Y+high/2)
	return b
}

// takenCost is what it costs to cover another mark or its words: more than
// several leaders, which casing keeps legible.
const takenCost = 12.0

// cost is what it would spoil to set something down in a box: 0 nothing. Past
// a limit it says no more than that.
func (r *room) cost(b drawing.Box, limit float64) float64 {
	cost := 0.0
	r.look++
	for k := int(math.Floor((b.Min.Y - 1) / roomHeight)); k <= int(math.Floor((b.Max.Y+1)/roomHeight)); k++ {
		row := r.rows[k]
		if row == nil {
			continue
		}
		for _, i := range row.boxes {
			// Counted once, in the first row that both reach into.
			if t := &r.taken[i]; b.Overlaps(*t) && k == max(int(math.Floor(t.Min.Y/roomHeight)), int(math.Floor((b.Min.Y-1)/roomHeight))) {
				cost += takenCost
			}
		}
		for _, i := range row.leaders {
			p := &r.placed[i]
			if r.seen[i] == r.look {
				continue
			}
			r.seen[i] = r.look
			switch {
			case p.Box.Overlaps(b):
				cost += takenCost
			case inBox(p.At, b, 0.8):
				cost += 3
			}
			if max(p.At.X, p.Elbow.X, p.Bubble.X) >= b.Min.X && min(p.At.X, p.Elbow.X, p.Bubble.X) <= b.Max.X {
				cost += 3 * float64(drawing.Crossed(r.placed[i:i+1], b))
			}
		}
		if cost > limit {
			return cost
		}
	}
	return cost
}

func inBox(p drawing.Point, b drawing.Box, margin float64) bool {
	return p.X > b.Min.X-margin && p.X < b.Max.X+margin && p.Y > b.Min.Y-margin && p.Y < b.Max.Y+margin
}

// lineCost is what words cost over a line, which their casing would part.
const lineCost = 4.0

// over is what it would spoil to set words down in a box: what cost says, and
// the lines beneath them.
func (r *room) over(b drawing.Box, limit float64) float64 {
	cost := r.cost(b, limit)
	first := int(math.Floor(b.Min.Y / roomHeight))
	for k := first; k <= int(math.Floor(b.Max.Y/roomHeight)) && cost <= limit; k++ {
		row := r.rows[k]
		if row == nil {
			continue
		}
		for _, i := range row.lines {
			l := &r.lines[i]
			if max(l[0].X, l[1].X) < b.Min.X || min(l[0].X, l[1].X) > b.Max.X ||
				k != max(int(math.Floor(min(l[0].Y, l[1].Y)/roomHeight)), first) {
				continue
			}
			if _, _, ok := clipSegment(l[0], l[1], b); ok {
				cost += lineCost
			}
		}
	}
	return cost
}

// line keeps words off a line.
func (r *room) line(pts []drawing.Point) {
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		r.lines = append(r.lines, [2]drawing.Point{a, b})
		r.each(min(a.Y, b.Y), max(a.Y, b.Y), func(row *roomRow) { row.lines = append(row.lines, int32(len(r.lines)-1)) })
	}
}

func (r *room) take(b drawing.Box) {
	r.taken = append(r.taken, b)
	r.each(b.Min.Y, b.Max.Y, func(row *roomRow) { row.boxes = append(row.boxes, int32(len(r.taken)-1)) })
}

// real is the place in the section that shows at a place on paper.
func (w *window) real(p drawing.Point) geometry.Point {
	return geometry.Point{X: int64(math.Round((p.X - w.dx) / w.k)), Y: int64(math.Round((w.dy - p.Y) / w.k))}
}

// face is the index of the face that shows at a place on paper; -1 where none
// does.
func (j *junction) face(p drawing.Point) int32 {
	for i := range j.windows {
		w := &j.windows[i]
		if p.X < w.on.Min.X || p.X > w.on.Max.X || p.Y < w.on.Min.Y || p.Y > w.on.Max.Y {
			continue
		}
		f, _ := j.s.Arrangement.FaceAt(w.real(p))
		return j.s.FaceOf[f]
	}
	return -1
}

// clear reports whether nothing built shows at a place on paper.
func (j *junction) clear(p drawing.Point) bool {
	f := j.face(p)
	return f < 0 || j.s.Faces[f].Region < 0
}
