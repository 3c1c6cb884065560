package detail

import (
	"strings"

	"wythe/renderer/finding"
	"wythe/renderer/units"
)

// pointMend shows both forms of a point.
const pointMend = "write [edge, edge], or where edge meets edge"

// ParsePoint reads a point said in words: where edge meets edge. Positions
// are as those of [ParseEdge].
// Errors: *[units.ParseError].
func ParsePoint(text string) (Point, error) {
	return parsePoint(text, func(offset int) finding.Position {
		return finding.Position{Column: len([]rune(text[:offset])) + 1}
	})
}

func parsePoint(text string, at func(int) finding.Position) (Point, error) {
	p, err := newWords(text, at)
	if err != nil {
		return Point{}, err
	}
	start := p.offset()
	if p.peek(0) != "where" {
		return Point{}, p.fault("a point does not begin so", pointMend)
	}
	p.i++
	x, err := p.edge()
	if err != nil {
		return Point{}, err
	}
	if p.peek(0) != "meets" {
		return Point{}, p.fault("\"meets\" and a second edge are missing", "write where rafters.bottom meets wall.right")
	}
	p.i++
	y, err := p.edge()
	if err == nil {
		err = p.end()
	}
	if err != nil {
		return Point{}, err
	}
	return Point{X: x, Y: y, Meets: true, At: at(start)}, nil
}

// ParseOver reads one run of a film: NAME.side, NAME.layer.side, each with
// "up 2 in" where it goes on alone, or the name of a film to start from.
// Errors: *[units.ParseError].
func ParseOver(text string) (OverFace, error) {
	p, err := newWords(text, nil)
	if err != nil {
		return OverFace{}, err
	}
	var f OverFace
	end := len(p.list)
	for k := 1; k < len(p.list); k++ {
		if isRun(p.list[k].s) && k+1 < len(p.list) && mayBeNumber(p.list[k+1].s) {
			end = k
			break
		}
	}
	if end < len(p.list) {
		f.Direction = p.list[end].s
		from := p.list[end+1].start
		f.Length, err = units.ParseLength(text[from:])
		if err != nil {
			return OverFace{}, p.moved(err, from)
		}
		if f.Length <= 0 {
			return OverFace{}, p.faultAt(from, "the run has no length", "write a length above zero")
		}
	}
	whole := p.list
	p.list = p.list[:end]
	names, err := p.names()
	if err != nil {
		return OverFace{}, err
	}
	p.list = whole
	if p.i < end {
		return OverFace{}, p.fault(quote(text[p.offset():])+" does not belong here", "write a face as slab.top, or slab.top up 2 in")
	}
	last := names[len(names)-1]
	if len(names) > 1 && isSide(last) {
		f.Side = Side(last)
		names = names[:len(names)-1]
	}
	f.Part = names[0]
	switch {
	case len(names) == 2:
		f.Layer = names[1]
	case len(names) > 2:
		at := strings.LastIndexByte(text, '.') + 1
		return OverFace{}, p.faultAt(at, quote(last)+" is no side of a part", "write NAME.side or NAME.layer.side")
	}
	if f.Side == "" && f.Direction != "" {
		return OverFace{}, p.faultAt(0, "the side of the face is not said", "write "+strings.Join(names, ".")+".right "+f.Direction+" …")
	}
	return f, nil
}

func isRun(s string) bool {
	switch s {
	case "up", "down", "left", "right":
		return true
	}
	return false
}

// String returns the run in words that read back to it.
func (f OverFace) String() string {
	s := (&Edge{Part: f.Part, Layer: f.Layer, Side: f.Side}).Name()
	if f.Direction != "" {
		s += " " + f.Direction + " " + f.Length.String()
	}
	return s
}
