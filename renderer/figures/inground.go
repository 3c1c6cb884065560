package figures

import (
	"wythe/renderer/ground"
	"wythe/renderer/units"
)

// InGround returns what ISO 13370 counts of an element on the ground, for a
// building that gives it its plan: the resistance of its layers, face to face,
// without granular fill; the soil; and what was taken where the file does not
// say. ok is false where its thermal resistance is not computed.
func (a *Assembly) InGround() (r units.ThermalResistance, soil ground.Soil, note string, ok bool) {
	if a.Thermal == nil || !a.Thermal.Resistance.Computed {
		return 0, ground.Soil{}, "", false
	}
	soil, note = a.soil()
	return a.floorResistance(), soil, note, true
}

// UsualWall is the thickness of the wall about a floor on the ground, where
// nothing states one.
const UsualWall = usualWall
