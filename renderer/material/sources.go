package material

import "wythe/renderer/basis"

// The authorities behind the built-in rows. "From memory" means that the
// figure is known and was not seen again while this table was made.
var (
	iso3      = basis.Source{Text: "ISO 10456:2007 table 3 (design value)", Kind: basis.FromMemory}
	iso4      = basis.Source{Text: "ISO 10456:2007 table 4 (design value)", Kind: basis.FromMemory}
	iso5      = basis.Source{Text: "ISO 10456:2007 table 5 (equivalent air layer)", Kind: basis.FromMemory}
	typical   = basis.Source{Text: "typical design value of its kind, aged", Kind: basis.FromMemory}
	iso13370  = basis.Source{Text: "ISO 13370:2017 (ground)", Kind: basis.FromMemory}
	en1745    = basis.Source{Text: "EN 1745 and CIBSE Guide A (range)", Kind: basis.FromMemory}
	en13171   = basis.Source{Text: "EN 13171 typical design value; vapor ISO 10456 table 4", Kind: basis.FromMemory}
	practice  = basis.Source{Text: "common practice", Kind: basis.CommonPractice}
	densePack = basis.Source{Text: "common practice: R 3.7 to 4.0 per in at 3.5 pcf", Kind: basis.CommonPractice}
	classII   = basis.Source{Text: "common practice: a class II retarder (IRC R702.7)", Kind: basis.CommonPractice}

	likeSoftwood = basis.Source{Text: "as softwood 500, ISO 10456:2007 table 3", Kind: basis.FromMemory}
	woodGrain    = basis.Source{Text: "Wood Handbook: 1.8 times the value across the grain", Kind: basis.FromMemory}
	woodHandbook = basis.Source{Text: "Wood Handbook FPL-GTR-190 eq. 4-15", Kind: basis.Design}

	ashraeR         = basis.Source{Text: "ASHRAE Handbook-Fundamentals, design values (1997 to 2009)", Kind: basis.FromMemory}
	ashraeGypsum    = basis.Source{Text: "ASHRAE Handbook-Fundamentals: R 0.45 for 1/2 in", Kind: basis.FromMemory}
	ashraeBlock     = basis.Source{Text: "ASHRAE Handbook-Fundamentals: R 1.11 for 8 in block", Kind: basis.FromMemory}
	ashrae89        = basis.Source{Text: "ASHRAE (1989), thermal properties of roof and wall layers", Kind: basis.Design}
	ashraePerm      = basis.Source{Text: "ASHRAE Handbook-Fundamentals 2005 ch. 25 (middle of range)", Kind: basis.FromMemory}
	ashraeBlockPerm = basis.Source{Text: "ASHRAE Handbook-Fundamentals 2005 ch. 25: 2.4 perm for 8 in block", Kind: basis.FromMemory}

	c578      = basis.Source{Text: "ASTM C578-10 table 1, R at 75 F, permeance at most", Kind: basis.Declared}
	d6817     = basis.Source{Text: "ASTM D6817 physical property requirements", Kind: basis.Declared}
	c1289     = basis.Source{Text: "ASTM C1289 compressive strength by grade", Kind: basis.Declared}
	c1289R    = basis.Source{Text: "ASTM C1289 long-term thermal resistance at 75 F", Kind: basis.FromMemory}
	c1289Perm = basis.Source{Text: "ASTM C1289, permeance at most", Kind: basis.FromMemory}
	e1745     = basis.Source{Text: "ASTM E1745 table 1, permeance at most", Kind: basis.Declared}
	ircSoil   = basis.Source{Text: "IRC table R401.4.1, presumptive for clay", Kind: basis.FromMemory}
)
