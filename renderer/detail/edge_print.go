package detail

import (
	"strings"

	"wythe/renderer/units"
)

// String returns the edge in words that read back to the same edge, lengths
// in metres without rounding. What the author wrote is in Written.
func (e Edge) String() string {
	var b strings.Builder
	e.write(&b)
	return b.String()
}

func (e *Edge) write(b *strings.Builder) {
	switch e.Kind {
	case EdgeAbsolute:
		b.WriteString(e.Length.String())
	case EdgeRef, EdgeAtEdge:
		b.WriteString(e.Name())
		if e.Kind == EdgeAtEdge {
			b.WriteString(" at ")
			e.Of.write(b)
		}
	case EdgeOffset:
		length, way := e.Length, " right of "
		switch {
		case e.Vertical && length < 0:
			length, way = -length, " below "
		case e.Vertical:
			way = " above "
		case length < 0:
			length, way = -length, " left of "
		}
		b.WriteString(units.Length(length).String())
		b.WriteString(way)
		e.Of.write(b)
	case EdgeMidway:
		b.WriteString("midway between ")
		e.A.write(b)
		b.WriteString(" and ")
		e.B.write(b)
	case EdgeUnder:
		b.WriteString("under ")
		b.WriteString(e.Name())
	case EdgeOver:
		b.WriteString("over ")
		b.WriteString(e.Name())
	case EdgeCut:
		b.WriteString("cut")
	}
}

// Name returns the part, layer and side that the edge names, joined by dots.
func (e *Edge) Name() string {
	s := e.Part
	if e.Layer != "" {
		s += "." + e.Layer
	}
	if e.Side != "" {
		s += "." + string(e.Side)
	}
	return s
}

// String returns a point as [edge, edge] or "where edge meets edge".
func (p Point) String() string {
	if p.Meets {
		return "where " + p.X.String() + " meets " + p.Y.String()
	}
	return "[" + p.X.String() + ", " + p.Y.String() + "]"
}
