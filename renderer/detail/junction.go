package detail

import (
	"wythe/renderer/finding"
	"wythe/renderer/material"
	"wythe/renderer/units"
)

// Junction is a section where assemblies meet. Coordinates are paper-natural:
// x to the right, y up. Parts are laid in order; a later part cuts away what
// it covers.
type Junction struct {
	Scale        Scale
	Plan         bool // drawn: plan
	Levels       []Level
	View         Box
	Break        []Break
	Parts        []*Part
	Spaces       []*Space
	Dimensions   []Dimension
	Ends         []ControlEnd
	KeepOpen     []KeepOpen
	Faces        []Face
	Reference    []Flank // reference: overrides for psi
	Penetrations []Penetration
	ThermalLeast units.Length // 0: the library's
	GroundWidth  units.Length // of the floor, for the soil domain; 0: not stated
	At           finding.Position
}

// Edge is one number on an axis, said in words. Which axis follows from
// where it stands. Exactly one form is set; see EdgeKind.
type Edge struct {
	Kind    EdgeKind
	At      finding.Position
	Written string

	Length   units.Length // Absolute; Offset: the signed distance (right of, above: positive)
	Part     string       // Ref: NAME; Under, Over: NAME
	Layer    string       // Ref: layer of an assembly part, or ""
	Side     Side         // Ref
	Of       *Edge        // Offset: from this edge; AtEdge: the place along a sloped side
	A, B     *Edge        // Midway
	Vertical bool         // Offset: above or below (else right of or left of)
}

// EdgeKind is the form of an edge.
type EdgeKind int

const (
	EdgeUnset    EdgeKind = iota
	EdgeAbsolute          // length
	EdgeRef               // NAME.side, NAME.layer.side, or a level's name (Part set, Side empty)
	EdgeOffset            // length (above|below|right of|left of) edge
	EdgeMidway            // midway between edge and edge
	EdgeAtEdge            // NAME.side at edge: the height (or place) of a sloped side there
	EdgeUnder             // under NAME
	EdgeOver              // over NAME
	EdgeCut               // runs past the view: a break line
)

// Side of a part.
type Side string

const (
	Left   Side = "left"
	Right  Side = "right"
	Bottom Side = "bottom"
	Top    Side = "top"
)

// Point is [edge, edge], or "where edge meets edge" (Meets true; X and Y are
// then the two edges whose lines cross).
type Point struct {
	X, Y  Edge
	Meets bool
	At    finding.Position
}

// Box is the view, or any four edges.
type Box struct{ Left, Right, Bottom, Top Edge }

// Level is a named height.
type Level struct {
	Name string
	Edge Edge
	At   finding.Position
}

// Break leaves a length out of the drawing only.
type Break struct {
	From Edge
	Omit units.Length
	At   finding.Position
}

// PartKind is what a part is.
type PartKind int

const (
	Rectangle PartKind = iota
	Laid               // an assembly laid
	Outline
	Film
	Round
	Seal
)

// Part is one part of a junction.
type Part struct {
	Name     string
	Kind     PartKind
	Material *material.Material // not for Laid; nil for a seal word without a material
	Hole     bool               // material: none
	Control  []Control
	Note     string
	Wet      string // kind of water the part is for: shed | drain | capillary | under pressure
	Beyond   bool   // seen: beyond

	// Rectangle and Laid. Unset edges have Kind EdgeUnset.
	Box
	Width, Height units.Length // 0: not given

	// Laid.
	Mark     string  // assembly's mark
	Assembly *Detail // resolved; nil if missing
	Inside   Side
	Trims    []Trim

	// Pitched rectangles and assemblies.
	Pitch *Pitch
	Seat  *Seat
	Ends  string // plumb | square | level

	// Outline, Film along.
	Points []Point

	// Film.
	Thickness units.Length
	Over      []OverFace // film over faces
	Continues []string   // "slab.film"

	// Round.
	Diameter units.Length
	Center   Point

	// Seal.
	SealWord string   // tape, sealant, gasket, boot, weld, clamp, coating
	Joins    []string // part or part.layer names
	Place    *Point

	Repeat     *Repeat
	Lap        units.Length // least lap for water where stated
	Joints     string
	At         finding.Position
	MaterialAt finding.Position
}

// Trim ends a laid assembly's layers elsewhere: SIDE of LAYER…: edge.
type Trim struct {
	Side   Side
	Layers []string
	Edge   Edge
	At     finding.Position
}

// Seat is the fixed point of a pitched part: a face of it passes through Point.
type Seat struct {
	Layer string // "rafters" of rafters.bottom; "" for the part itself
	Side  Side
	Point Point
	At    finding.Position
}

// OverFace is one run of a film laid over faces.
// "wall.concrete.right up 2 in" is a face with a Direction and Length.
type OverFace struct {
	Part, Layer string
	Side        Side
	Direction   string // up | down | left | right; "" none
	Length      units.Length
	// AsFilm names a film (slab.film): the run starts from that film.
	At finding.Position
}

// Repeat repeats a part.
type Repeat struct {
	Every units.Length
	Count int
	At    finding.Position
}

// Space is a place of air, inside or outside.
type Space struct {
	Name        string
	Points      []Point // at: usually one
	As          string  // inside | outside
	Temperature *units.Temperature
	Surface     *units.ThermalResistance
	At          finding.Position
}

// Dimension asked for.
type Dimension struct {
	From, To Edge
	Where    string // below | above | left of | right of
	Part     string // the part it stands off from
	At       finding.Position
}

// ControlEnd declares where a control rightly stops.
type ControlEnd struct {
	Control Control
	Place   Point
	Why     string
	At      finding.Position
}

// KeepOpen proves a vent or drainage path.
type KeepOpen struct {
	Through string
	Least   units.Length
	At      finding.Position
}

// Face settles an edge by hand for the heat flow.
type Face struct {
	Along     []Point
	Space     string
	Surface   *units.ThermalResistance
	Adiabatic bool
	At        finding.Position
}

// Flank overrides what psi is measured against.
type Flank struct {
	Mark     string
	Length   units.Length
	External units.Length
	At       finding.Position
}
