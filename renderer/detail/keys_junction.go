package detail

var junctionKeys = keysOf("junction", "A section where assemblies meet.", `
*mark | mark | its number
*parts | list of part | what is drawn, each laid over those before it
scale | scale | of its drawing; chosen to fit where not given
drawn | one of section, plan | plan: no laps to shed
levels | map of edge | named heights: grade
*view | map of view | what the drawing shows
break | map of break or list of break | lengths left out of the drawing
*spaces | map of space | inside, outside and others
dimensions | list of dimension | dimensions asked for
ends | map of control end | where a control rightly stops
keep open | map of keep open or list of keep open | vent and drainage paths to prove open
faces | list of face | edges settled by hand for the heat flow
reference | list of flank | what psi is measured against
penetrations | list of penetration | what goes through parts
thermal at least | length | the least touch that carries the thermal control
ground width | length | width of the floor, for the soil around it
`).with(commonKeys)

var viewKeys = keysOf("view", "The four sides of the drawing.", `
*left | edge | 20 in left of footing.left
*right | edge | 36 in right of wall.right
*bottom | edge | 10 in below footing.bottom
*top | edge | 12 in above grade
`)

var breakKeys = keysOf("break", "A length left out of the drawing only.", `
*from | edge | where the gap begins
*omit | length | how much is left out
`)

var partKeys = keysOf("part", "One part: a rectangle, or what one of assembly, outline, film, round and seal makes of it.", `
material | material | of a rectangle or outline; none cuts a hole
assembly | mark | an assembly laid
outline | list of point | corners in order
film | material | a sheet drawn as one heavy line
round | material | a pipe, a bar
seal | one of tape, sealant, gasket, boot, weld, clamp, coating or material | what joins two parts
inside | one of left, right, bottom, top | the side on which an assembly's inside lies
left | edge | where it begins
right | edge | where it ends
width | length | across
bottom | edge | where it begins
top | edge | where it ends
height | length | upright; square to the slope of a pitched part
pitch | slope | 8 in 12 or 30 deg
seat | map of point | the point through which a face of a pitched part passes
ends | one of plumb, square, level | of a pitched part
along | list of point | a film's way
over | list of text | the faces a film lies on
continues | list of text | the film that this one carries on
thickness | length | of a film
diameter | length | of a round
at | point | the middle of a round; the place of a seal
joins | list of text | the parts a seal joins
control | list of one of water, air, vapor, thermal | what it controls
water | one of shed, drain, capillary, under pressure | the kind of water it is for
note | text | what the drawing says beside it
seen | one of beyond | drawn behind the cut, in thin line
repeat | map of repeat | the same part again and again
lap | length | the least lap that sheds
joints | text | how its joints are made
`)

var repeatKeys = keysOf("repeat", "The same part again and again.", `
*every | length | from one to the next
*count | count | how many in all
`)

var spaceKeys = keysOf("space", "A place of air, inside or outside.", `
at | point or list of point | a place in it; needed unless faces name the space
as | one of inside, outside | which it is; its name says so where it is inside or outside
temperature | temperature | where it is not that of the library
surface | resistance | its surface resistance
`)

var dimensionKeys = keysOf("dimension", "One dimension, drawn clear of a part.", `
*from | edge | where it begins
*to | edge | where it ends
below | text | the part it stands under
above | text | the part it stands over
left of | text | the part it stands left of
right of | text | the part it stands right of
`)

var endKeys = keysOf("control end", "Where a control rightly stops.", `
*at | point | the place
*why | text | the reason, printed beside the verdict
`)

var keepOpenKeys = keysOf("keep open", "A path that stays open.", `
*through | text | the layer, part or space
*least | length | the least clear width
`)

var faceKeys = keysOf("face", "An edge settled by hand for the heat flow.", `
*along | list of point | the edge
space | text | the space it faces
surface | resistance | its surface resistance
adiabatic | answer | no heat crosses it
`)

var flankKeys = keysOf("flank", "What psi is measured against.", `
*mark | mark | an assembly laid
length | length | measured inside
external | length | measured outside
`)
