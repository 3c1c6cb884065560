package units

import "strconv"

// sheetSteelMil is the thickness of uncoated carbon-steel sheet by gauge
// number, in thousandths of an inch × 10, from gauge 3.
//
// Source: Manufacturers' Standard Gauge for sheet steel, which is by weight,
// 41.82 lb/ft² to the inch (from memory). It is not the gauge of wire, of
// galvanized sheet (about 4 mil more), of stainless steel or of aluminum.
var sheetSteelMil = [...]float64{
	2391, 2242, 2092, 1943, 1793, 1644, 1495, 1345, 1196, 1046, // 3 to 12
	897, 747, 673, 598, 538, 478, 418, 359, 329, 299, // 13 to 22
	269, 239, 209, 179, 164, 149, 135, 120, // 23 to 30
}

// SheetSteelGauge returns the thickness, in m, of uncoated sheet steel of a
// gauge number from 3 to 30, by the Manufacturers' Standard Gauge.
// Errors: *[RangeError] outside 3 to 30.
func SheetSteelGauge(gauge int) (Length, error) {
	if gauge < 3 {
		return 0, &RangeError{"sheet steel gauge", float64(gauge), 3, "", "is thicker than the gauge table goes"}
	}
	if gauge > 30 {
		return 0, &RangeError{"sheet steel gauge", float64(gauge), 30, "", "is thinner than the gauge table goes"}
	}
	return Length(sheetSteelMil[gauge-3] / 10 * mil), nil
}

func sheetSteel(s string, n number) (Length, error) {
	if !n.whole || n.value < 3 || n.value > 30 {
		return 0, &ParseError{s, n.start, "a gauge of sheet steel is a whole number from 3 to 30",
			"write the thickness: " + strconv.Itoa(36) + " mil or 0.9 mm"}
	}
	return SheetSteelGauge(int(n.value))
}
