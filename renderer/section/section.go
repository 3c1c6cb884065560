package section

import (
	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/geometry"
	"wythe/renderer/material"
	"wythe/renderer/units"
)

// Section is a junction resolved. Places are geometry.Point, µm, x to the
// right and y up. Slices stand in painter's order or from the lower left, so
// that two runs give the same bytes.
type Section struct {
	Junction *detail.Junction
	View     geometry.Box
	// Cut says at which sides of the view a part runs past it.
	Cut map[detail.Side]bool

	// Arrangement holds every edge once. Owner gives, by its face, the region
	// on top: an index into Regions, [Open] or [Outside].
	Arrangement *geometry.Arrangement
	Owner       []int32
	// FaceOf gives, by arrangement face, the index into Faces; -1 outside.
	FaceOf []int32
	// FilmsOn gives, by edge, the films that show there: from U's left hand
	// to its right as one looks from U to V.
	FilmsOn map[int32][]FilmEdge

	Regions  []Region  // as laid, before later parts cut them
	Faces    []Face    // as seen: merged, each hatched and outlined once
	Outlines []Outline // the lines between faces, each once
	Films    []Film
	Runs     []FilmRun
	Seals    []Seal
	Rounds   []Round
	Beyond   []Region // behind the cut: thin line only

	Spaces     []Space
	Levels     []Level
	Breaks     []Break
	Dimensions []Dimension
	Parts      []PartGeometry // one per part of the junction, in its order
	Ends       []End
	// Settled are the lines along which the author settles what an edge faces.
	Settled []Settled
}

// Owners that are no region.
const (
	Open    int32 = -1 // air that no part fills
	Outside int32 = -2 // outside the view
)

// Region is one part, or one layer of a laid assembly, as laid. Ring runs
// counter-clockwise.
type Region struct {
	Part     int // index into Junction.Parts
	Layer    int // of the assembly; -1 none
	Instance int // of a repeated part, from 0
	Name     string
	Material *material.Material // nil for a hole
	Hole     bool
	Ring     geometry.Ring
	Slope    float64 // rad, rising to the right: turns the hatch
	Mark     string  // of the assembly laid; "" none
	LayerOf  *detail.Layer
	Control  []detail.Control
}

// Air reports whether air stands in the region: a hole, or an air layer.
func (r *Region) Air() bool {
	return r.Hole || r.Material == nil || r.Material.Hatch == material.Air
}

// Soil reports whether the region is ground.
func (r *Region) Soil() bool {
	return r.Material != nil && (r.Material.Hatch == material.Earth || r.Material.Hatch == material.Backfill)
}

// Face is a connected stretch of one region as seen, or of open air (Region
// is Open, Part and Layer -1).
type Face struct {
	Region      int32
	Part, Layer int
	Instance    int
	Name        string
	Material    *material.Material
	Polygon     geometry.Polygon
	Area2       int64  // twice the area, µm²
	Space       string // the space whose point lies in it, or ""
	AtCut       bool   // touches a side of the view
}

// Outline is a line between two faces, met nowhere by a third between its
// ends. Left and Right are indices into Faces; -1 is outside the view.
type Outline struct {
	Line        []geometry.Point
	Left, Right int32
}

// Film is a sheet that takes no room: a film part, a thin membrane layer of
// an assembly, or (Seal ≥ 0) the bridge of a seal across a gap.
type Film struct {
	Part, Layer int
	Instance    int
	Name        string
	Material    *material.Material
	Thickness   units.Length
	Line        []geometry.Point // as laid
	// Normal gives, per piece of Line, the side its own face turns to: +1
	// left of the piece, -1 right, 0 not said.
	Normal []int8
	// Rank orders films on one face, outwards, by piece.
	Rank    []int
	Seal    int // -1 none; -2: drawn in to close a gap (see [Section.With])
	Mark    string
	LayerOf *detail.Layer
	Control []detail.Control
	Lap     units.Length // least lap for water where stated
}

// FilmEdge is a film where it runs along one edge of the arrangement.
type FilmEdge struct {
	Film  int32
	Along int8 // +1 where the film runs from U to V
}

// FilmRun is a stretch of a film that no later part covers.
type FilmRun struct {
	Film int
	Line []geometry.Point
}

// Seal is a bead, tape or boot: a place, and what it joins.
type Seal struct {
	Part   int
	Place  geometry.Point
	Placed bool // false: wherever the two touch
	Joins  []Member
	Reach  units.Length // how far from its place it holds
	Bridge bool         // spans a gap between the two
	Holds  bool         // reaches both
}

// Member is a part, or a layer of one (Layer -1: all of it).
type Member struct {
	Part, Layer int
	Name        string
}

// Round keeps the true circle of a round part; its region's ring is a polygon
// that leaves the circle by at most [RoundTolerance].
type Round struct {
	Part, Instance int
	Center         geometry.Point
	Radius         int64 // µm
}

// Space is a place of air.
type Space struct {
	Name   string
	Inside bool
	Points []geometry.Point
	Faces  []int32 // arrangement faces
	At     finding.Position
	Space  *detail.Space
}

// Level is a named height.
type Level struct {
	Name string
	Y    int64
}

// Break leaves a stretch out of the drawing. Across is true where x is left
// out, false where height is.
type Break struct {
	From, Omit int64
	Across     bool
}

// Dimension is one asked for: from and to are x where Across, else y.
type Dimension struct {
	From, To int64
	Across   bool
	Where    string
	Part     int // index, -1 none: stands off the view
	Around   geometry.Box
}

// PartGeometry is where a part stands, for callouts and levels.
type PartGeometry struct {
	Laid    bool         // false: its finding says why
	Bounds  geometry.Box // of all it lays, within the view or not
	Faces   []int        // indices into Faces
	Regions []int        // indices into Regions
	Films   []int        // indices into Films
	Anchor  geometry.Point
}

// Settled is a line of `faces:`, resolved.
type Settled struct {
	Line []geometry.Point
	Face *detail.Face
}

// End is where a control is declared to stop.
type End struct {
	Control detail.Control
	Place   geometry.Point
	Why     string
	At      finding.Position
}

// Options of Resolve.
type Options struct{}

// RoundTolerance is how far the polygon of a round leaves its circle.
const RoundTolerance units.Length = 0.0001
