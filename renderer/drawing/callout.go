package drawing

// Side is where a callout stands.
type Side int8

const (
	AnySide Side = iota
	LeftSide
	RightSide
)

// Callout is one part to be named: a dot in the part, a leader, a numbered
// bubble, a head in capitals and a note.
type Callout struct {
	Key  int     // its number; 0: numbered as placed, down the left, then the right
	Head string  // "CONCRETE SLAB, 5″", set as it stands
	Note string  // "Air and vapor control. Lap 6″ and tape"; may be empty
	At   Point   // in the part, mm
	Dot  float64 // radius of the dot, mm; 0: 0.6
	Side Side
	// Slide is how far the dot may be moved level, either way, and still stand
	// in its part: out of the way of another's leader. 0: not at all.
	Slide float64
	// Lift is how far below the dot's height (above, where negative) the bubble
	// would rather stand, mm: so that a leader meets a level line at a slant.
	Lift float64
	// Open leaves out the leader's casing: it leaves along a film or another
	// black section, which a casing would cut.
	Open bool
	Tag  Tag // its Part, Step and Href; Kind and Key are set as it is drawn
}

// Column is a column of callouts. Edge is the x of its bubbles on the side of
// the work; text ends at Outer. Inmost, where set, is how far Edge may be
// moved towards the work when text overflows. Edge = Outer: no column.
type Column struct{ Edge, Outer, Inmost float64 }

func (c Column) none() bool { return c.Edge == c.Outer }

// Columns is the room for callouts: boxes stand between Top and Bottom.
type Columns struct {
	Left, Right Column
	Top, Bottom float64
}

// CalloutMode is how callouts were placed.
type CalloutMode int

const (
	// TextCallouts stand in the columns with their words.
	TextCallouts CalloutMode = iota
	// WidenedCallouts are TextCallouts in columns moved in to their Inmost.
	WidenedCallouts
	// Keynotes are bubbles alone: their words belong in a list beside.
	Keynotes
)

// PlacedCallout is a callout with its place. All coordinates are mm.
type PlacedCallout struct {
	Callout
	Bubble     Point // center
	R          float64
	Elbow      Point // end of the level shoulder, start of the straight run
	Box        Box   // of bubble and words; the leader runs outside it
	Heads      []string
	Notes      []string
	firstWords float64 // x of the words
}

// Sizes of callouts, mm (see look: callouts).
const (
	calloutLine    = 4.0 // from base line to base line
	calloutGap     = 3.0 // between boxes
	calloutTight   = 2.4 // where room is short
	bubbleR        = 2.5
	bubbleText     = 6.6 // from the bubbles' edge to the words
	keynoteR       = 2.7
	keynotePitch   = 5.7
	shoulder       = 4.0
	keynoteElbow   = 3.0
	calloutUp      = 2.6 // from the bubble's center to the top of its box
	calloutDot     = 0.6
	calloutDescend = 1.0
)

// PlaceCallouts places every callout: none is ever dropped. These hold of
// the result, whatever the callouts:
//
//  1. No two boxes meet; they are at least 2.4 mm apart, bubbles alone 0.3 mm.
//  2. No two leaders cross.
//  3. No leader runs through a box but its own.
//  4. Words stand between the columns' Edge and Outer.
//  5. Boxes stand between Top and Bottom, unless the bubbles alone need more
//     height than that; then they stand about the middle of it.
//
// On each side the callouts are ordered by height, set as near to the height
// of their dots as the gaps allow (isotonic regression, by pooling adjacent
// violators), and put in another order where leaders would cross. Words that
// overflow are tried with tight gaps, then in widened columns; then all
// callouts become keynotes, as with bare they are at once.
//
// The order of the result is down the left column, then down the right. It
// panics if a callout has no column, or its dot is not between the columns.
func PlaceCallouts(list []Callout, cols Columns, bare bool) ([]PlacedCallout, CalloutMode) {
	if len(list) == 0 {
		return nil, TextCallouts
	}
	checkCallouts(list, cols)
	if !bare {
		for _, mode := range [...]CalloutMode{TextCallouts, WidenedCallouts} {
			c := cols
			if mode == WidenedCallouts && !c.widen(list) {
				break
			}
			if placed, ok := placeText(list, c); ok {
				if acrossMeet(placed) {
					placed, ok = placeText(unsided(list), c)
				}
				if ok {
					return number(placed), mode
				}
			}
		}
	}
	placed := placeBubbles(list, cols)
	if acrossMeet(placed) {
		placed = placeBubbles(unsided(list), cols)
	}
	return number(placed), Keynotes
}

// acrossMeet reports whether a leader to the left meets one to the right.
func acrossMeet(placed []PlacedCallout) bool {
	for i := range placed {
		a := &placed[i]
		for j := i + 1; j < len(placed); j++ {
			b := &placed[j]
			if a.Side != b.Side && segmentsMeet(a.Elbow, a.At, b.Elbow, b.At) {
				return true
			}
		}
	}
	return false
}

// unsided is list with all callouts free to stand on either side.
func unsided(list []Callout) []Callout {
	out := make([]Callout, len(list))
	for i := range list {
		out[i] = list[i]
		out[i].Side = AnySide
	}
	return out
}

func checkCallouts(list []Callout, cols Columns) {
	for i := range list {
		c := &list[i]
		switch {
		case c.Side == LeftSide && cols.Left.none(), c.Side == RightSide && cols.Right.none(),
			cols.Left.none() && cols.Right.none():
			panic("drawing: a callout has no column")
		case !cols.Left.none() && c.At.X <= cols.Left.Edge+shoulder,
			!cols.Right.none() && c.At.X >= cols.Right.Edge-shoulder:
			panic("drawing: a callout's dot is not between the columns")
		}
	}
}

// widen moves the columns in, as far as the dots allow, and says whether that
// changed anything.
func (c *Columns) widen(list []Callout) bool {
	was := *c
	if l := &c.Left; l.Inmost > l.Edge && !l.none() {
		l.Edge = l.Inmost
		for i := range list {
			l.Edge = min(l.Edge, list[i].At.X-shoulder-2)
		}
		l.Edge = max(l.Edge, was.Left.Edge)
	}
	if r := &c.Right; r.Inmost > 0 && r.Inmost < r.Edge && !r.none() {
		r.Edge = r.Inmost
		for i := range list {
			r.Edge = max(r.Edge, list[i].At.X+shoulder+2)
		}
		r.Edge = min(r.Edge, was.Right.Edge)
	}
	return *c != was
}

func number(placed []PlacedCallout) []PlacedCallout {
	for i := range placed {
		if placed[i].Key != 0 {
			return placed
		}
	}
	for i := range placed {
		placed[i].Key = i + 1
	}
	return placed
}

// Crossed counts the leaders that run through a box: a dimension string is
// set down where fewest do.
func Crossed(placed []PlacedCallout, b Box) int {
	n := 0
	for i := range placed {
		p := &placed[i]
		if segmentEnters(p.Elbow, p.At, b) || segmentEnters(p.Bubble, p.Elbow, b) {
			n++
		}
	}
	return n
}

// segmentEnters reports whether the segment from p to q has a point in b, by
// clipping it to b's slabs.
func segmentEnters(p, q Point, b Box) bool {
	from, to := 0.0, 1.0
	for _, s := range [...]struct{ at, run, lo, hi float64 }{
		{p.X, q.X - p.X, b.Min.X, b.Max.X}, {p.Y, q.Y - p.Y, b.Min.Y, b.Max.Y},
	} {
		if s.run == 0 {
			if s.at < s.lo || s.at > s.hi {
				return false
			}
			continue
		}
		t, u := (s.lo-s.at)/s.run, (s.hi-s.at)/s.run
		from, to = max(from, min(t, u)), min(to, max(t, u))
	}
	return from <= to
}
