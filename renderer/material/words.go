package material

// SealWords are the words for what makes a joint tight.
var SealWords = []string{"tape", "sealant", "gasket", "boot", "weld", "clamp", "coating"}

// Hatches lists the hatch words, in the order of the file language.
var Hatches = []Hatch{
	Concrete, ReinforcedConcrete, Block, Brick, Stone, Mortar, Plaster, Gypsum, Earth, Backfill, WashedStone, Sand,
	RigidInsulation, Batt, LooseFill, SawnTimber, FinishTimber, Plywood, FiberBoard, Steel, Metal, Glass, Membrane, Air, None,
}
