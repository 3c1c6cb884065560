// Package material holds the table of construction materials: the built-in
// one and the firm's own, and the air layers of ISO 6946 and ASHRAE.
package material

import (
	"wythe/renderer/basis"
	"wythe/renderer/finding"
	"wythe/renderer/units"
)

// Hatch is the word for how a material is drawn in section.
type Hatch string

// The hatch words of the file language.
const (
	Concrete           Hatch = "concrete"
	ReinforcedConcrete Hatch = "reinforced concrete"
	Block              Hatch = "block"
	Brick              Hatch = "brick"
	Stone              Hatch = "stone"
	Mortar             Hatch = "mortar"
	Plaster            Hatch = "plaster"
	Gypsum             Hatch = "gypsum"
	Earth              Hatch = "earth"
	Backfill           Hatch = "backfill"
	WashedStone        Hatch = "washed stone"
	Sand               Hatch = "sand"
	RigidInsulation    Hatch = "rigid insulation"
	Batt               Hatch = "batt"
	LooseFill          Hatch = "loose fill"
	SawnTimber         Hatch = "sawn timber"
	FinishTimber       Hatch = "finish timber"
	Plywood            Hatch = "plywood"
	FiberBoard         Hatch = "fiber board"
	Steel              Hatch = "steel"
	Metal              Hatch = "metal"
	Glass              Hatch = "glass"
	Membrane           Hatch = "membrane"
	Air                Hatch = "air"
	None               Hatch = "none"
)

// Vapor is how a material resists water vapor, in the one form its source
// gives. Exactly one of Mu, Permeability, Sheet or Sd is set where Known.
type Vapor struct {
	Known        bool
	Mu           units.Ratio        // vapor resistance factor (ISO 10456), 1; +Inf: vapor tight
	Permeability units.Permeability // per thickness
	Sheet        units.Permeance    // of the sheet whatever its thickness; 0 with IsSheet: vapor tight
	IsSheet      bool
	Sd           units.Length // equivalent air layer of the sheet; +Inf: vapor tight
}

// Material is one row of the table. A quantity that no source gives is zero;
// its absence from Origins says so.
type Material struct {
	Name         string
	Conductivity units.Conductivity      // 0 where Resistance is given
	Resistance   units.ThermalResistance // of a sheet, whatever its thickness
	Density      units.Density
	SpecificHeat units.SpecificHeat
	VaporDry     Vapor // dry cup
	VaporWet     Vapor // wet cup; equal to dry where the source gives one value
	Compressive  units.Pressure
	Emissivity   units.Emissivity // of a facing; 0: 0.9
	Hatch        Hatch
	Carbon       Carbon
	NotAgainst   []string // materials it must not touch
	HoldsTo      []string // for a tape: what it holds to
	SealWord     string   // tape, sealant, … where the material is a seal
	Note         string

	// Origins says where each value comes from, by property.
	Origins map[Property]basis.Source
	At      finding.Position // where the firm stated it; zero for the built-in table
}

// Carbon is product-stage carbon as stated with its source.
type Carbon struct {
	Stated          bool
	KgCO2ePerKg     float64 // kg CO2e per kg; 0 where per volume
	KgCO2ePerCubicM float64 // kg CO2e per m³
}

// Property names one value of a material.
type Property string

const (
	PropConductivity Property = "conductivity"
	PropResistance   Property = "resistance"
	PropDensity      Property = "density"
	PropSpecificHeat Property = "specific heat"
	PropVapor        Property = "vapor"
	PropCompressive  Property = "compressive"
	PropEmissivity   Property = "emissivity"
	PropCarbon       Property = "carbon"
	PropHoldsTo      Property = "holds to"
)
