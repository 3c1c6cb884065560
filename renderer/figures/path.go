package figures

import (
	"wythe/renderer/detail"
	"wythe/renderer/material"
	"wythe/renderer/units"
)

// inner returns how many layers of an assembly count in heat and vapor: those
// inside a well-ventilated air layer, or all.
func inner(asm *detail.Assembly) int {
	for i, l := range asm.Layers {
		if l.Material.Hatch == material.Air && l.Ventilation == detail.WellVentilated {
			return i
		}
	}
	return len(asm.Layers)
}

// carries reports whether a layer carries a control.
func carries(l *detail.Layer, c detail.Control) bool {
	for _, has := range l.Control {
		if has == c {
			return true
		}
	}
	return false
}

// timber reports whether a hatch is wood.
func timber(h material.Hatch) bool {
	switch h {
	case material.SawnTimber, material.FinishTimber, material.Plywood:
		return true
	}
	return false
}

// granular reports whether a layer is fill that resists heat no better than
// ground does: it lies outside the floor that ISO 13370 counts.
func granular(l *detail.Layer) bool {
	switch l.Material.Hatch {
	case material.WashedStone, material.Sand, material.Earth, material.Backfill:
		return l.Material.Conductivity >= asGround
	}
	return false
}

// asGround is the conductivity from which fill is taken for ground, W/(m·K).
const asGround units.Conductivity = 0.4
