package material

// Rows of the ground and what is filled in.
var groundRows = []row{
	{name: "clay or silt", hatch: Earth, k: 1.5, rho: 1500, c: 2000, cFrom: iso13370, mu: 50, from: iso3, note: "heat capacity 3.0 MJ/m³K by ISO 13370"},
	{name: "sand and gravel", also: also("sand and gravel (ground)"), hatch: Earth, k: 2.0, rho: 1950, c: 1026, cFrom: iso13370, mu: 50, from: iso3, note: "heat capacity 2.0 MJ/m³K by ISO 13370"},
	{name: "washed stone", also: also("washed stone, drained base"), hatch: WashedStone, k: 0.7, rho: 1500, c: 1000, mu: 1, from: practice, note: "no standard design value for open clean stone: dry loose stone 0.4 to 0.7; leave its resistance out where it can flood"},
	{name: "sand", also: also("sand, dry"), hatch: Sand, k: 0.4, rho: 1600, c: 800, mu: 15, from: practice},
	{name: "foam-glass aggregate", also: also("foam-glass aggregate, compacted"), hatch: WashedStone, k: 0.11, rho: 190, c: 1000, mu: 1, from: practice, note: "design value by the maker with compaction factor 1.25 to 1.3; 0.08 dry to 0.12 drained"},
	{name: "soil", also: also("earth", "undisturbed soil", "undisturbed earth"), hatch: Earth, k: 2.0, rho: 1950, rhoFrom: iso3, c: 1026, mu: 50, vFrom: iso3, from: iso13370, note: "ISO 13370 takes 2.0 W/mK and 2.0 MJ/m³K where the ground is not known"},
	{name: "compacted subgrade", also: also("subgrade"), hatch: Earth, k: 2.0, rho: 1950, rhoFrom: iso3, c: 1026, mu: 50, vFrom: iso3, from: iso13370, psf: 1500, psiFrom: ircSoil, note: "bearing is that presumed for clay: a soils report governs"},
	{name: "backfill", also: also("free-draining backfill"), hatch: Backfill, k: 2.0, rho: 1950, c: 1026, cFrom: iso13370, mu: 50, from: iso3, note: "as sand and gravel"},
	{name: "topsoil", hatch: Earth, k: 1.5, rho: 1500, c: 2000, cFrom: iso13370, mu: 50, from: iso3, note: "as clay or silt"},
	{name: "crushed stone", also: also("gravel"), hatch: WashedStone, k: 0.7, rho: 1500, c: 1000, mu: 1, from: practice, note: "as washed stone"},
}
