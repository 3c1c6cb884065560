package detail

var commonKeys = keysOf("every detail file", "Keys that any Markdown file of the library may have.", `
title | text | what it is, as the title block prints it
status | one of draft, for review, issued, superseded | all but issued print NOT FOR CONSTRUCTION; draft where not given
superseded by | mark | the detail that takes its place
use for | list of text | what it is fit for
not for | list of text | what it must not be used for
trades | list of text | the trades that build it
tags | list of text | words to find it by
references | list of text | standards and documents behind it
cautions | list of text | dangers, by word of the caution table or in full
sequence | list of step | how it is built, in order
revisions | list of revision | its issues
drawn by | text | who drew it
checked by | text | who checked it
issued for | text | what it was issued for
`)

var proseKeys = keysOf("prose", "A page of text: an office standard, a glossary.", `
mark | mark | a number, where the page has one
`).with(commonKeys)

var revisionKeys = keysOf("revision", "One issue of a detail.", `
*rev | text | its letter or number
*date | date | 2026-11-02
*note | text | what changed
fingerprint | text | written by the program; leave it
`)

var stepKeys = keysOf("step", "One step of the build sequence.", `
*do | text | what to do
trade | text | who does it
shows | list of text | the layers or parts that stand after it
tools | list of text | tools it takes
materials | list of text | what it takes beside the layers
caution | text | its danger
hold | text | a hold point: work stops until this is seen
released by | text | who may let work go on
photo | text | a picture to take, or a picture file of the library
`)

var assemblyKeys = keysOf("assembly", "One layer stack, inside to outside.", `
*mark | mark | its number
*element | one of wall, wall below grade, floor, floor on ground, ceiling, roof | what it is; floor means heat flows down to outside air
*layers | list of layer | always from inside to outside
surfaces | map of surfaces | its own surface resistances
loads | map of loads | what a floor carries
penetrations | list of penetration | what goes through it
study | map of study | one layer's thickness varied
ground | map of ground | plan of an element against the ground
pitch | slope | a roof's slope
scale | scale | of its drawing; chosen to fit where not given
corrections | map of corrections | ISO 6946 corrections of the whole
`).with(commonKeys)

var surfacesKeys = keysOf("surfaces", "An assembly's own surface resistances.", `
*inside | resistance | R 0.68 or 0.13 m2K/W
*outside | resistance | R 0.17 or 0.04 m2K/W; 0 against the ground
`)

var layerKeys = keysOf("layer", "One layer of a stack.", `
name | text | unique in the stack; the material's name where not given
*material | material | a name of the table, or a material in place
*thickness | length | of one course
courses | count | how many courses; 1 where not given
framing | map of framing | members within the layer
control | list of one of water, air, vapor, thermal | what it controls
joints | text | how its joints are made
note | text | what the drawing says beside it
ventilation | one of none, slight, well | of an air layer
emittances | list of number | of the faces of an air layer, inside first
openings | area | of a slightly ventilated air layer, per metre
fasteners | map of fasteners | what is driven through it
taper | map of taper | a thickness that runs out
metal studs | map of metal studs | steel studs in the layer
gaps | count | ISO 6946 level of air gaps, 0 to 2
waste | ratio | waste to order for
lap | length | lap of a sheet
sheet | pair of lengths | size of a board or roll
`)

var framingKeys = keysOf("framing", "Members within a layer: width and spacing, or a fraction of the area.", `
*material | material | of the members
width | length | of one member
spacing | length | center to center
fraction | share | of the area; worked out from width and spacing where not given
`)

var metalStudKeys = keysOf("metal studs", "Steel studs in a layer.", `
*depth | length | of the stud
*spacing | length | center to center
`)

var fastenerKeys = keysOf("fasteners", "What is driven through a layer.", `
*material | material | of the fastener
*diameter | length | of its shank
*each | area | one to this much area
recessed | length | how deep its head lies in the insulation
`)

var taperKeys = keysOf("taper", "A layer whose thickness runs out.", `
*to | length | the thickness at the other end
shape | one of rectangle, triangle thickest at apex, triangle thinnest at apex | of the tapered field in plan
`)

var correctionKeys = keysOf("corrections", "ISO 6946 corrections of the whole assembly.", `
rain | length | mean rain per day of the heating season, on an inverted roof
drainage | number | drainage factor f times x, in W day/(m2 K mm); 0.04 for one layer with open joints
`)

var loadKeys = keysOf("loads", "What a floor carries.", `
live | pressure | over the whole floor
point | map of point load | one load on a plate
derating | share | the long-term share of the rated compressive resistance
`)

var pointLoadKeys = keysOf("point load", "One load on a plate.", `
*load | force | 1250 lb
*on | pair of lengths | the plate, 4 in x 4 in
where | one of middle, edge, joint, corner | of the slab
lasts | text | how long it stands
`)

var penetrationKeys = keysOf("penetration", "What goes through, and how each layer is sealed to it.", `
*what | text | 3 in waste pipe
seals | map of text | the seal by the layer's name
`)

var studyKeys = keysOf("study", "One layer's total thickness, varied.", `
*vary | text | the layer's name
*from | length | the least total thickness
*to | length | the greatest
*by | length | the step
`)

var groundKeys = keysOf("ground", "Plan of an element against the ground.", `
soil | one of clay, sand, rock | what it stands in
area | area | of the floor
perimeter | length | of the floor against outside
wall | length | thickness of the wall above
depth | length | of the floor below grade
edge | map of edge insulation | insulation at the floor's perimeter
`)

var edgeInsulationKeys = keysOf("edge insulation", "Insulation at a slab's perimeter.", `
insulation | map of edge board | the board, by its material or its conductivity
material | material | of the board, where insulation is not given
thickness | length | of the board, where insulation is not given
horizontal | length | width of a level board
vertical | length | depth of an upright board
`)

var edgeBoardKeys = keysOf("edge board", "The board of edge insulation.", `
material | material | of the board
conductivity | conductivity | of the board, where it has no material
*thickness | length | of the board
`)
