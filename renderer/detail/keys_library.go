package detail

var libraryKeys = keysOf("library", "What holds for the whole library: library.yaml.", `
firm | text | stands in every title block
title | text | the library's name
units | one of inch, metric | which prints first
marks | pattern | what a detail's number looks like, a regular expression
headline | one of parallel path, combined limits, isothermal planes | the R-value printed large
surfaces | one of ISO 6946, ASHRAE winter | the family of surface resistances
climate | text | marrow-point: climates/marrow-point.yaml
inside | map of inside | the rooms
sheet | one of Letter, Legal, Tabloid, Arch A, Arch B, Arch C, Arch D, Arch E, ANSI C, ANSI D, A4, A3, A2, A1, A0 | paper for the sheets
pdf | answer | publish writes each drawing as PDF too, linked from its page
site | text | address of the published site, for codes on paper
targets | list of target | what the office asks of its details
energy | list of fuel | fuels and their prices
thermal at least | length | the least touch that carries the thermal control in a junction; 1 in where not given
moisture margin | share | margin on the monthly moisture figures
cautions | map of text | the office's own cautions, by word
`)

var insideKeys = keysOf("inside", "The rooms. One of moisture class and humidity.", `
*temperature | temperature | 70 F
moisture class | count | ISO 13788 class, 1 to 5
humidity | share | 45 %
`)

var targetKeys = keysOf("target", "What the office asks. One of element and junction, one figure.", `
element | one of wall, wall below grade, floor, floor on ground, ceiling, roof | for assemblies of this kind
junction | text | any, or a mark
R-value | text | at least R 35
U-factor | text | at most U 0.03
temperature factor | text | at least 0.75
`)

var fuelKeys = keysOf("fuel", "A fuel and its price.", `
*fuel | text | heat pump
*price | price | 0.24 per kWh
efficiency | ratio | 280 %; 100 % where not given
`)

var specKeys = keysOf("specification section", "A section that cites details.", `
*section | section number | 07 26 00
specifies | list of specified | materials that the section specifies
elsewhere | list of material | materials that sections kept elsewhere specify
`).with(commonKeys)

var specifiedKeys = keysOf("specified", "A material that a section specifies, with what it states of it.", `
*material | material | as the details name it
thickness | length | of one course; the details that the section cites must draw it so
compressive | pressure | 25 psi
`)

var buildingKeys = keysOf("building", "Where details are used.", `
*areas | list of area | of each assembly
lengths | list of length | of each junction
openings | list of opening | windows and doors
volume | volume | of the heated air
air leakage | leakage | 0.6 per hour at 50 Pa
floor area | area | treated floor
issued with | map of text | the revision of each mark that the building was issued with
apart | list of apart | elements of kinds that meet, but that do not touch in this building
`).with(commonKeys)

var apartKeys = keysOf("apart", "An element and those that it does not touch.", `
*detail | mark | the assembly
*from | list of mark | the assemblies that it does not touch
`)

var areaKeys = keysOf("area", "One assembly's area in a building.", `
*detail | mark | the assembly
*area | area | measured outside
gross | answer | openings not yet taken off
perimeter | length | of a floor on ground
depth | length | below grade
`)

var lengthKeys = keysOf("length", "One junction's length in a building.", `
*junction | mark | the junction
*length | length | how much of it
`)

var openingKeys = keysOf("opening", "A kind of window or door.", `
*what | text | windows
count | count | how many; 1 where not given
*area | area | of all of them
*U-factor | transmittance | 0.20, inch-pound as on the label, or with a unit
in | mark | the assembly they stand in
`)
