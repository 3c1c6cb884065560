// Package thermal computes steady one-dimensional heat flow through a layer
// stack: resistance, transmittance, interface temperatures.
//
// Methods: ISO 6946 upper and lower limits with their mean and corrections;
// ASHRAE parallel path and isothermal planes; the correction factors of
// ASHRAE 90.1 for steel studs. Layers run inside to outside. What no method
// covers is refused, with the reason. This package knows no file, drawing or
// page.
package thermal

import "wythe/renderer/units"

// Method is the way an element's resistance is worked out.
type Method string

// The methods. The words are those of a library's headline.
const (
	ParallelPath     Method = "parallel path"
	CombinedLimits   Method = "combined limits"
	IsothermalPlanes Method = "isothermal planes"
	// StudFactors is not asked for: it takes over where a layer has steel studs.
	StudFactors Method = "steel-stud correction factors"
)

// Stack is an element, air to air.
type Stack struct {
	Layers                        []Layer // inside to outside
	SurfaceInside, SurfaceOutside units.ThermalResistance
	// SurfaceSheltered stands in for SurfaceOutside where a well-ventilated
	// air layer ends the stack: the inside value of the same direction
	// (ISO 6946:2017, 6.9.4). Zero: SurfaceInside is taken.
	SurfaceSheltered units.ThermalResistance
	OnGround         bool   // outside face lies against the ground: no outside film is counted
	Headline         Method // empty: CombinedLimits
	Rain             *Rain  // an inverted roof in rain
}

// Layer is one layer.
type Layer struct {
	Name, Material string
	Thickness      units.Length // of all courses; the least where tapered
	// Conductivity is the design value. It is not read where Given is set.
	Conductivity units.Conductivity
	// Resistance is read where Given is set: a sheet's, or an air layer's as
	// resolved by thickness, direction and emittance.
	Resistance units.ThermalResistance
	Given      bool

	Framing *Framing
	Studs   *Studs
	Air     *Air

	Gaps      int // ISO 6946 level of air gaps in insulation, 0 to 2
	Fasteners []Fastener
	Taper     *Taper
}

// Framing is repeated members in a layer, parallel to heat flow.
type Framing struct {
	Fraction     units.Ratio // of the area, 0 to 1
	Conductivity units.Conductivity
	// Metal refuses the methods that hold for wood. A conductivity of 10
	// W/(m·K) or more is taken for metal whatever this says.
	Metal bool
}

// Studs is steel studs of 33 to 54 mil in the layer, whose cavity is the layer itself.
type Studs struct{ Depth, Spacing units.Length }

// Air marks an air layer and says how it is ventilated.
type Air struct {
	Ventilation Ventilation
	// Openings is the area of openings A_v: per metre of length for a
	// vertical layer, per square metre for a horizontal one. Read for Slight.
	Openings units.Area
}

// Ventilation of an air layer by ISO 6946:2017, 6.9.
type Ventilation string

// The three kinds; the empty word is Unventilated.
const (
	Unventilated Ventilation = "none"
	Slight       Ventilation = "slight"
	Well         Ventilation = "well"
)

// Fastener is a mechanical fastener through an insulation layer.
type Fastener struct {
	Conductivity units.Conductivity
	Diameter     units.Length
	Each         units.Area   // one fastener per this area
	Penetrates   units.Length // length within the layer; 0: right through
	// MetalAtBothEnds says that both ends touch metal sheets: refused.
	MetalAtBothEnds bool
}

// Taper is a layer that grows from Layer.Thickness to To along a slope.
type Taper struct {
	To    units.Length
	Run   units.Length // of the slope; 0: not stated, and the 5 % limit not checked
	Shape TaperShape   // empty: Rectangle
}

// TaperShape is the shape of the tapered area in plan.
type TaperShape string

// The shapes of ISO 6946:2017, Annex E.
const (
	Rectangle        TaperShape = "rectangle"
	ThickestAtApex   TaperShape = "triangle thickest at apex"
	ThinnestAtApex   TaperShape = "triangle thinnest at apex"
	noTaper          TaperShape = ""
	greatestSlope               = 0.05 // Annex E
	metalAbove                  = 10   // W/(m·K)
	mostFramedLayers            = 10   // 1,024 sections
	greatestRatio               = 1.5  // of the upper to the lower limit
	familiesDiffer              = 0.05
)

// Rain is rain that runs between the insulation and the waterproofing of an
// inverted roof.
type Rain struct {
	PerDay units.Length // mean of the heating season, m of water per day
	// DrainageFactor is f·x, in W·day/(m²·K·mm); 0.04 for one layer with butt
	// joints under an open covering.
	DrainageFactor float64
	Above          []int // indexes of the insulation layers above the waterproofing
}
