// What a word of the trade may mean in a library: other spellings, what a
// material is called on site, who does a trade. A phrase means all its words.
wythe.means = Object.fromEntries(`
vapour: vapor
colour: color
mould: mold
moulding: molding
fibre: fiber
aluminium: aluminum
grey: gray
metre: meter
storey: story
plaster: gypsum
thru: through
crawlspace: crawl space
barrier: retarder, control
retarder: barrier
rebar: reinforcing, reinforced, bar
bar: reinforcing
mesh: reinforcement
caulk: sealant
caulking: sealant
mastic: sealant
drywall: gypsum
plasterboard: gypsum
wallboard: gypsum
housewrap: water-resistive
wrb: water-resistive
dpm: vapor retarder film
dpc: dampproofing
damp: dampproofing
tanking: waterproofing
poly: film
polythene: film
clt: cross-laminated
lvl: veneer lumber
osb: sheathing
styrene: xps
polystyrene: xps
polyisocyanurate: polyiso
stonewool: mineral wool
gravel: stone
dirt: soil
cladding: siding, boards
flat: low
skirt: skirting
gutter: eave
soffit: eave
coping: parapet
footer: footing
foundation: footing, basement
tile: pipe
drainpipe: drain pipe
weephole: weep
penetration: through, pipe
pipe: conduit
lumber: softwood, timber
timber: wood
stud: studs
batts: batt
electrician: electrical
plumber: plumbing
carpenter: carpentry
framer: carpentry
framing: carpentry
roofer: roofing
mason: masonry
bricklayer: masonry
insulator: insulation
concreter: concrete
drywaller: drywall
excavator: earthwork
excavation: earthwork
digging: earthwork
`.trim().split('\n').map((line) => {
  const [word, others] = line.split(': ');
  return [word, others.split(', ')];
}));
