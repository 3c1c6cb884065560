package material

// Rows of metals and glass.
var metalRows = []row{
	{name: "steel", also: also("carbon steel"), hatch: Steel, k: 50, rho: 7800, c: 450, tight: true, from: iso3},
	{name: "stainless steel", also: also("stainless steel, austenitic"), hatch: Steel, k: 17, rho: 7900, c: 500, tight: true, from: iso3},
	{name: "aluminum", also: also("aluminium alloy", "aluminum alloy"), hatch: Metal, k: 160, rho: 2800, c: 880, tight: true, from: iso3, notAgainst: also("copper", "mortar", "concrete", "pressure-treated softwood")},
	{name: "copper", hatch: Metal, k: 380, rho: 8900, c: 380, tight: true, from: iso3, notAgainst: also("aluminum", "zinc", "galvanized steel")},
	{name: "zinc", hatch: Metal, k: 110, rho: 7200, c: 380, tight: true, from: iso3, notAgainst: also("copper", "cedar boards")},
	{name: "lead", hatch: Metal, k: 35, rho: 11300, c: 130, tight: true, from: iso3},
	{name: "brass", hatch: Metal, k: 120, rho: 8400, c: 380, tight: true, from: iso3},
	{name: "cast iron", hatch: Metal, k: 50, rho: 7500, c: 450, tight: true, from: iso3},
	{name: "glass", also: also("soda-lime glass"), hatch: Glass, k: 1.0, rho: 2500, c: 750, tight: true, from: iso3},
	{name: "galvanized steel", also: also("steel studs", "light-gauge steel"), hatch: Steel, k: 50, rho: 7800, c: 450, tight: true, from: iso3, notAgainst: also("copper", "pressure-treated softwood"), note: "as steel"},
	{name: "metal siding", also: also("metal cladding"), hatch: Metal, k: 50, rho: 7800, c: 450, tight: true, from: iso3, note: "as steel; perforated by its laps: vapor passes at the cavity behind it"},
	{name: "metal roofing", also: also("standing-seam roofing"), hatch: Metal, k: 50, rho: 7800, c: 450, tight: true, from: iso3, note: "as steel"},
	{name: "hollow-backed siding", also: also("vinyl siding"), hatch: Metal, r: 0.61, kFrom: ashraeR, note: "vinyl or metal on sheathing"},
	{name: "flashing", also: also("metal flashing", "drip edge", "pan flashing"), hatch: Metal, k: 50, rho: 7800, c: 450, tight: true, from: iso3, note: "galvanized steel sheet"},
	{name: "aluminum flashing", hatch: Metal, k: 160, rho: 2800, c: 880, tight: true, emit: 0.05, eFrom: practice, from: iso3, notAgainst: also("mortar", "concrete", "pressure-treated softwood", "copper")},
	{name: "termite shield", hatch: Metal, k: 17, rho: 7900, c: 500, tight: true, from: iso3, note: "stainless steel sheet"},
	{name: "metal deck", also: also("steel deck"), hatch: Steel, k: 50, rho: 7800, c: 450, tight: true, from: iso3, note: "as steel; its joints are open to air"},
}
