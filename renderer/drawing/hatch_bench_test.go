package drawing

import "testing"

func BenchmarkHatch(b *testing.B) {
	region := RectRegion(20, 30, 160, 55.4) // 8 in at 1:8, 140 mm wide
	for _, word := range Words() {
		b.Run(word, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				drawHatch(word, region, Hatching{Open: SideLeft | SideRight}, 5)
			}
		})
	}
}

// BenchmarkHatchPolygon hatches the L of a footing and wall, as junctions do.
func BenchmarkHatchPolygon(b *testing.B) {
	l := Region{Outer: []Point{{20, 10}, {40, 10}, {40, 60}, {56, 60}, {56, 85}, {6, 85}, {6, 60}, {20, 60}}}
	for _, word := range []string{"concrete", "washed stone", "earth", "rigid insulation"} {
		b.Run(word, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Hatch(word, l, Hatching{Seed: "part", Open: SideTop})
			}
		})
	}
}

// BenchmarkSharedHatch is a hatch that some drawing had before: the usual
// case.
func BenchmarkSharedHatch(b *testing.B) {
	region := RectRegion(20, 30, 160, 55.4)
	b.ReportAllocs()
	for b.Loop() {
		Hatch("washed stone", region, Hatching{Seed: "part", Open: SideLeft | SideRight})
	}
}
