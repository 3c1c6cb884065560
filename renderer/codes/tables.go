package codes

import "wythe/renderer/basis"

// tables are the prescriptive minimums, newest edition first. A cell is written
// as the table has it; alternatives are parted by " or ".
var tables = []Table{
	{ID: "iecc-2021-r", Edition: "2021 IECC", Section: "Table R402.1.3", UFactors: false, Source: basis.Source{Text: "2021 IECC Table R402.1.3", Kind: basis.Declared}, Rows: []Row{
		{"1", []Cell{{Ceiling, "30"}, {WoodWall, "13 or 0+10ci"}, {MassWall, "3/4"}, {Floor, "13"}, {BasementWall, "0"}, {Slab, "0"}, {CrawlWall, "0"}}},
		{"2", []Cell{{Ceiling, "49"}, {WoodWall, "13 or 0+10ci"}, {MassWall, "4/6"}, {Floor, "13"}, {BasementWall, "0"}, {Slab, "0"}, {CrawlWall, "0"}}},
		{"3", []Cell{{Ceiling, "49"}, {WoodWall, "20 or 13+5ci or 0+15ci"}, {MassWall, "8/13"}, {Floor, "19"}, {BasementWall, "5ci or 13"}, {Slab, "10ci, 2 ft"}, {CrawlWall, "5ci or 13"}}},
		{"4 except Marine", []Cell{{Ceiling, "60"}, {WoodWall, "30 or 20+5ci or 13+10ci or 0+20ci"}, {MassWall, "8/13"}, {Floor, "19"}, {BasementWall, "10ci or 13"}, {Slab, "10ci, 4 ft"}, {CrawlWall, "10ci or 13"}}},
		{"5 and Marine 4", []Cell{{Ceiling, "60"}, {WoodWall, "30 or 20+5ci or 13+10ci or 0+20ci"}, {MassWall, "13/17"}, {Floor, "30"}, {BasementWall, "15ci or 19 or 13+5ci"}, {Slab, "10ci, 4 ft"}, {CrawlWall, "15ci or 19 or 13+5ci"}}},
		{"6", []Cell{{Ceiling, "60"}, {WoodWall, "30 or 20+5ci or 13+10ci or 0+20ci"}, {MassWall, "15/20"}, {Floor, "30"}, {BasementWall, "15ci or 19 or 13+5ci"}, {Slab, "10ci, 4 ft"}, {CrawlWall, "15ci or 19 or 13+5ci"}}},
		{"7 and 8", []Cell{{Ceiling, "60"}, {WoodWall, "30 or 20+5ci or 13+10ci or 0+20ci"}, {MassWall, "19/21"}, {Floor, "38"}, {BasementWall, "15ci or 19 or 13+5ci"}, {Slab, "10ci, 4 ft"}, {CrawlWall, "15ci or 19 or 13+5ci"}}},
	}},
	{ID: "iecc-2012-2018-r", Edition: "2012 to 2018 IECC", Section: "Table R402.1.1 or R402.1.2", UFactors: false, Source: basis.Source{Text: "2012/2015/2018 IECC Table R402.1.1 or R402.1.2", Kind: basis.Declared}, Rows: []Row{
		{"1", []Cell{{Ceiling, "30"}, {WoodWall, "13"}}},
		{"2", []Cell{{Ceiling, "38"}, {WoodWall, "13"}}},
		{"3", []Cell{{Ceiling, "38"}, {WoodWall, "20 or 13+5"}}},
		{"4 except Marine", []Cell{{Ceiling, "49"}, {WoodWall, "20 or 13+5"}, {BasementWall, "10/13"}, {Slab, "10"}}},
		{"5 and Marine 4", []Cell{{Ceiling, "49"}, {WoodWall, "20 or 13+5"}, {BasementWall, "15/19"}, {Slab, "10"}}},
		{"6", []Cell{{Ceiling, "49"}, {WoodWall, "20+5 or 13+10"}, {BasementWall, "15/19"}, {Slab, "10"}}},
		{"7 and 8", []Cell{{Ceiling, "49"}, {WoodWall, "20+5 or 13+10"}, {BasementWall, "15/19"}, {Slab, "10"}}},
	}},
	{ID: "iecc-2009-r", Edition: "2009 IECC", Section: "Table 402.1.1", UFactors: false, Source: basis.Source{Text: "2009 IECC Table 402.1.1", Kind: basis.Declared}, Rows: []Row{
		{"1", []Cell{{Ceiling, "30"}, {WoodWall, "13"}}},
		{"2", []Cell{{Ceiling, "30"}, {WoodWall, "13"}}},
		{"3", []Cell{{Ceiling, "30"}, {WoodWall, "13"}}},
		{"4 except Marine", []Cell{{Ceiling, "38"}, {WoodWall, "13"}, {BasementWall, "10/13"}}},
		{"5 and Marine 4", []Cell{{Ceiling, "38"}, {WoodWall, "20 or 13+5"}, {BasementWall, "10/13"}}},
		{"6", []Cell{{Ceiling, "49"}, {WoodWall, "20 or 13+5"}, {BasementWall, "15/19"}}},
		{"7 and 8", []Cell{{Ceiling, "49"}, {WoodWall, "21"}, {BasementWall, "15/19"}}},
	}},
	{ID: "iecc-2021-u", Edition: "2021 IECC", Section: "Table R402.1.2", UFactors: true, Source: basis.Source{Text: "2021 IECC Table R402.1.2", Kind: basis.FromMemory}, Rows: []Row{
		{"1", []Cell{{Ceiling, "0.035"}, {WoodWall, "0.084"}, {MassWall, "0.197"}, {Floor, "0.064"}, {BasementWall, "0.36"}}},
		{"2", []Cell{{Ceiling, "0.026"}, {WoodWall, "0.084"}, {MassWall, "0.165"}, {Floor, "0.064"}, {BasementWall, "0.36"}}},
		{"3", []Cell{{Ceiling, "0.026"}, {WoodWall, "0.06"}, {MassWall, "0.098"}, {Floor, "0.047"}, {BasementWall, "0.091"}}},
		{"4 except Marine", []Cell{{Ceiling, "0.024"}, {WoodWall, "0.045"}, {MassWall, "0.098"}, {Floor, "0.047"}, {BasementWall, "0.059"}}},
		{"5 and Marine 4", []Cell{{Ceiling, "0.024"}, {WoodWall, "0.045"}, {MassWall, "0.082"}, {Floor, "0.033"}, {BasementWall, "0.05"}}},
		{"6", []Cell{{Ceiling, "0.024"}, {WoodWall, "0.045"}, {MassWall, "0.06"}, {Floor, "0.033"}, {BasementWall, "0.05"}}},
		{"7 and 8", []Cell{{Ceiling, "0.024"}, {WoodWall, "0.045"}, {MassWall, "0.057"}, {Floor, "0.028"}, {BasementWall, "0.05"}}},
	}},
}
