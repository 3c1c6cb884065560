// Package detail reads a library of detail files into a checked model.
//
// A library is a folder: library.yaml, materials.yaml, climates/*.yaml and
// Markdown files whose front matter says what is built. Reading never stops
// at the first mistake: every complaint of one run is a finding with file,
// line and column. This package knows no figure, drawing or page.
//
// [Read] reads every file by itself and side by side, then what names the
// others: junctions, buildings, successors, marks in text. Who makes an output
// reads through a [View], which traces it. [Kinds] says which keys there are.
package detail

import (
	"io/fs"

	"wythe/renderer/climate"
	"wythe/renderer/finding"
	"wythe/renderer/material"
	"wythe/renderer/trace"
	"wythe/renderer/units"
)

// Library is a folder as read.
type Library struct {
	Settings  Settings
	Materials *material.Table
	Climate   *climate.Climate // nil where the library names none
	// Details are the assemblies and junctions, by mark.
	Details   []*Detail
	Specs     []*Detail // specification sections, by section number
	Buildings []*Detail // by title
	Prose     []*Detail // by file

	Findings finding.List

	fsys      fs.FS
	marks     *Marks
	byMark    map[string]*Detail
	markNames []string        // sorted
	broken    map[string]bool // marks of files that could not be read
	traces    traces
}

// Settings is library.yaml.
type Settings struct {
	Firm, Title    string
	Units          units.System
	Marks          string // pattern of a detail's number
	Headline       Headline
	Surfaces       SurfaceSet
	ClimateName    string
	Inside         Inside
	Sheet          string // sheet size word
	PDF            bool   // each drawing is published as PDF too
	Site           string // address of the published site; may be empty
	Targets        []Target
	Energy         []Fuel
	ThermalLeast   units.Length // least thickness of a thermal touch in a junction; 1 in unless stated
	MoistureMargin units.Ratio
	Cautions       map[string]string // the office's own cautions: word to text
	Hash           string
	At             finding.Position
}

// Headline is the method whose R-value is printed large.
type Headline string

const (
	ParallelPath     Headline = "parallel path"
	CombinedLimits   Headline = "combined limits"
	IsothermalPlanes Headline = "isothermal planes"
)

// SurfaceSet is the family of surface resistances.
type SurfaceSet string

const (
	SurfacesISO6946      SurfaceSet = "ISO 6946"
	SurfacesASHRAEWinter SurfaceSet = "ASHRAE winter"
)

// Inside is the design condition of the rooms.
type Inside struct {
	Temperature   units.Temperature
	MoistureClass int         // ISO 13788 class 1-5; 0: Humidity is set
	Humidity      units.Ratio // 0 to 1
	At            finding.Position
}

// Target is one of the office's targets. One of Element and Junction is set.
type Target struct {
	Element  Element
	Junction string // "any" or a mark
	// Quantity is "R-value", "U-factor" or "temperature factor".
	Quantity      string
	AtLeast       bool // else at most
	Resistance    units.ThermalResistance
	Transmittance units.ThermalTransmittance
	Factor        float64 // temperature factor, 1
	Written       string  // as in the file: "at least R 35"
	At            finding.Position
}

// Fuel is one energy price.
type Fuel struct {
	Name       string
	Price      float64     // money per PriceUnit
	PriceUnit  string      // "kWh", "therm", "gal", …
	Efficiency units.Ratio // 1 is 100 %
	At         finding.Position
}

// Status of a detail.
type Status string

const (
	Draft      Status = "draft"
	ForReview  Status = "for review"
	Issued     Status = "issued"
	Superseded Status = "superseded"
)

// Element is what an assembly is.
type Element string

const (
	Wall           Element = "wall"
	WallBelowGrade Element = "wall below grade"
	Floor          Element = "floor" // heat flows down to outside air
	FloorOnGround  Element = "floor on ground"
	Ceiling        Element = "ceiling"
	Roof           Element = "roof"
)

// Control is one of the four control layers.
type Control string

const (
	Water      Control = "water"
	AirTight   Control = "air"
	VaporTight Control = "vapor"
	Thermal    Control = "thermal"
)

// Controls lists the four in the order of pages: air, vapor, water, thermal.
var Controls = []Control{AirTight, VaporTight, Water, Thermal}

// Detail is one Markdown file. Exactly one of Assembly, Junction, Spec and
// Building is set; none for prose.
type Detail struct {
	File                          string // from the library's root
	Hash                          string // of the file's bytes
	At                            finding.Position
	Mark                          string
	Title                         string
	Status                        Status
	SupersededBy                  string
	UseFor                        []string
	NotFor                        []string
	Trades                        []string
	Tags                          []string
	References                    []string
	Revisions                     []Revision // newest first, as pages show them
	Cautions                      []string
	Sequence                      []Step
	DrawnBy, CheckedBy, IssuedFor string

	Assembly *Assembly
	Junction *Junction
	Spec     *Spec
	Building *Building

	Body     string // Markdown after the front matter, \n line ends
	BodyLine int    // file line of the body's first line

	// Cites are the marks that its text names and that exist, each once, in
	// order. Which exist is for [View.Has] to say of each that is shown.
	Cites   []Cite
	Figures []FigureWord // the {figures} of its text, in order

	materials []string     // names looked up in the table, sorted
	laid      []string     // marks of assemblies laid, sorted
	reads     []trace.Read // what it was made of
}

// Revision is one entry of the revision table.
type Revision struct {
	Rev, Date, Note, Fingerprint string
	At                           finding.Position
}

// Step is one step of the build sequence.
type Step struct {
	Do               string
	Trade            string
	Shows            []string // parts or layers that stand after this step
	Tools, Materials []string
	Caution          string
	Hold             string // hold point: work stops until it is seen; "" none
	ReleasedBy       string
	Photo            string
	At               finding.Position
}

// Assembly is a layer stack, inside to outside.
type Assembly struct {
	Element      Element
	Layers       []*Layer
	Surfaces     *SurfacePair // own surface resistances
	Loads        *Loads
	Penetrations []Penetration
	Study        *Study
	Ground       *Ground
	Pitch        *Pitch // a roof's slope, for its drawing note
	Scale        Scale
	Corrections  Corrections
	At           finding.Position
}

// SurfacePair is a pair of surface resistances.
type SurfacePair struct{ Inside, Outside units.ThermalResistance }

// Layer is one layer of a stack. Where the file is wrong, and a finding says
// so, Material is nil or Thickness zero.
type Layer struct {
	Name                    string // unique in the stack; the material's name where not given
	Named                   bool   // the file gave the name
	Material                *material.Material
	Thickness               units.Length // of one course
	Courses                 int          // at least 1
	Framing                 *Framing
	Control                 []Control
	Joints                  string
	Note                    string
	Ventilation             Ventilation        // of an air layer
	Emittances              []units.Emissivity // facing emittances of an air layer, inside first
	Openings                units.Area         // per metre, slight ventilation; 0 not stated
	Fasteners               *Fasteners
	Taper                   *Taper
	MetalStuds              *MetalStuds
	Gaps                    int         // ISO 6946 level of air gaps, 0-2
	Waste                   units.Ratio // -1: not stated
	Lap                     units.Length
	Sheet                   [2]units.Length // board or roll size
	At                      finding.Position
	MaterialAt, ThicknessAt finding.Position
}

// Total is the thickness of all courses.
func (l *Layer) Total() units.Length { return l.Thickness * units.Length(l.Courses) }

// Film reports whether the layer is drawn as a line and takes no room: its
// hatch is membrane and it is thinner than 2 mm.
func (l *Layer) Film() bool {
	return l.Material != nil && l.Material.Hatch == material.Membrane && l.Total() < 0.002
}

// Ventilation of an air layer by ISO 6946.
type Ventilation string

const (
	Unventilated       Ventilation = "none"
	SlightlyVentilated Ventilation = "slight"
	WellVentilated     Ventilation = "well"
)

// Framing is repeated members in a layer: Width at Spacing, or Fraction.
type Framing struct {
	Material       *material.Material
	Width, Spacing units.Length
	Fraction       units.Ratio // of the area; worked out from Width/Spacing where those are given
	At             finding.Position
}

// MetalStuds asks for the ASHRAE correction of a steel-framed cavity.
type MetalStuds struct {
	Depth, Spacing units.Length
	At             finding.Position
}

// Fasteners through a layer.
type Fasteners struct {
	Material *material.Material
	Diameter units.Length
	Each     units.Area // one per this area
	Recessed units.Length
	At       finding.Position
}

// Taper of a layer: thickness runs from Thickness to To.
type Taper struct {
	To    units.Length
	Shape string // rectangle | triangle thickest at apex | triangle thinnest at apex
	At    finding.Position
}

// Corrections are ISO 6946 corrections of the whole assembly.
type Corrections struct {
	RainPerDay     units.Length // inverted roof, heating season mean; 0 none
	DrainageFactor float64      // f·x, W·day/(m²·K·mm)
	At             finding.Position
}

// Loads on a floor.
type Loads struct {
	Live     units.Pressure
	Point    *PointLoad
	Derating units.Ratio // long-term share of the rated compressive resistance; 0 the library's or the usual
	At       finding.Position
}

// PointLoad is a force on a plate.
type PointLoad struct {
	Load  units.Force
	On    [2]units.Length
	Where string // middle | edge | joint | corner
	Lasts string
	At    finding.Position
}

// Penetration is what goes through the stack, and its seal at each layer.
type Penetration struct {
	What  string
	Seals map[string]string // layer name to words
	Order []string          // layer names as written
	At    finding.Position
}

// Study sweeps one layer's total thickness.
type Study struct {
	Vary         string
	From, To, By units.Length
	At           finding.Position
}

// Ground is the plan of a ground element.
type Ground struct {
	Soil      string // clay | sand | rock
	Area      units.Area
	Perimeter units.Length
	Wall      units.Length
	Depth     units.Length
	Edge      *EdgeInsulation
	At        finding.Position
}

// EdgeInsulation at a slab's perimeter.
type EdgeInsulation struct {
	Material   *material.Material
	Thickness  units.Length
	Horizontal units.Length // width; 0 none
	Vertical   units.Length // depth; 0 none
}

// Pitch is a slope: Angle, and as written ("8 in 12", "30 deg").
type Pitch struct {
	Angle   units.Angle
	Written string
}

// Scale is 1 to N; 0: chosen to fit.
type Scale float64

// Spec is a specification section.
type Spec struct {
	Section   string // 07 26 00
	Specifies []Specified
	Elsewhere []*material.Material // that sections outside the library specify
}

// Building says where details are used.
type Building struct {
	Areas     []AreaUse
	Lengths   []LengthUse
	Openings  []Opening
	Volume    units.Volume
	Leakage   Leakage
	FloorArea units.Area
	Pins      map[string]string // mark to revision the building was issued with
	Apart     [][2]string       // marks of elements that do not touch, as written
}

// AreaUse is one element's area in a building.
type AreaUse struct {
	Mark             string
	Area             units.Area
	Gross            bool
	Perimeter, Depth units.Length
	At               finding.Position
}

// LengthUse is one junction's length in a building.
type LengthUse struct {
	Mark   string
	Length units.Length
	At     finding.Position
}

// Opening is a kind of window or door in a building.
type Opening struct {
	What    string
	Count   int
	Area    units.Area // of all of them
	UFactor units.ThermalTransmittance
	In      string // mark of the element it stands in
	At      finding.Position
}

// Leakage is air changes at a test pressure.
type Leakage struct {
	Rate     units.AirChange
	Pressure units.Pressure
	At       finding.Position
}
