package figures

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"wythe/renderer/detail"
	"wythe/renderer/heatflow"
	"wythe/renderer/thermal"
)

// A wall from cut to cut has the U-value of its assembly, also where a layer is
// framed in steel or slightly ventilated: both count in the section as they do
// in the assembly.
func TestHeatFlowOfLayersThatAreNotAlike(t *testing.T) {
	const (
		board = "  - {name: board, material: {name: board, conductivity: 0.25 W/mK, hatch: gypsum}, thickness: 12.5 mm}\n"
		skin  = "  - {name: skin, material: {name: skin, conductivity: 0.2 W/mK, hatch: fiber board}, thickness: 8 mm}\n"
	)
	for name, c := range map[string]struct{ layers, note string }{
		"steel studs": {board +
			"  - {name: studs, material: {name: wool, conductivity: 0.04 W/mK, hatch: batt}, thickness: 3 1/2 in, framing: {material: steel, width: 1 5/8 in, spacing: 16 in}}\n" +
			"  - {name: foam, material: {name: foam, conductivity: 0.035 W/mK, hatch: rigid insulation}, thickness: 60 mm}\n", "solved with its steel studs, 47 % "},
		"slight ventilation": {board +
			"  - {name: wool, material: {name: wool, conductivity: 0.04 W/mK, hatch: batt}, thickness: 160 mm}\n" +
			"  - {name: cavity, material: air, thickness: 30 mm, ventilation: slight, openings: 9 cm2}\n" + skin, "slightly ventilated, its resistance lowered"},
		"slight ventilation behind foam": {board +
			"  - {name: cavity, material: air, thickness: 30 mm, ventilation: slight, openings: 14 cm2}\n" +
			"  - {name: foam, material: {name: foam, conductivity: 0.035 W/mK, hatch: rigid insulation}, thickness: 60 mm}\n", "counted as unventilated: "},
	} {
		t.Run(name, func(t *testing.T) {
			materials, err := os.ReadFile("../../details/materials.yaml")
			if err != nil {
				t.Fatal(err)
			}
			lib, err := detail.ReadFS(fstest.MapFS{
				"library.yaml":   {Data: []byte("units: metric\n")},
				"materials.yaml": {Data: materials},
				"wall.md":        {Data: []byte("---\nmark: W-101\ntitle: It\nelement: wall\nlayers:\n" + c.layers + "---\n")},
				"it.md": {Data: []byte(plainWall(`spaces:
  inside: {at: [-0.1 m, 0.5 m], temperature: 20 C}
  outside: {at: [0.6 m, 0.5 m], temperature: -5 C}
`))},
			})
			if err != nil || lib.Findings.Errors() > 0 {
				t.Fatal(err, lib.Findings.Items)
			}
			x := Context{Settings: &lib.Settings}
			h, why := HeatFlowOf(x, OfJunction(x, lib.Detail("J-201"), lib.Detail), lib.Detail, heatflow.Cache{})
			if h == nil {
				t.Fatal(why)
			}
			if notes := fmt.Sprint(h.Notes); !strings.Contains(notes, c.note) {
				t.Errorf("notes %s", notes)
			}
			stack, _, err := thermalStack(x, lib.Detail("W-101").Assembly)
			if err != nil {
				t.Fatal(err)
			}
			u, err := thermal.Solve(stack)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := float64(h.Coupling), float64(u.Transmittance); strings.HasPrefix(c.note, "counted") {
				if got > want {
					t.Errorf("unventilated: %.6f W/mK, with ventilation %.6f", got, want)
				}
			} else if math.Abs(got-want) > 1e-6*want {
				t.Errorf("coupling of a metre %.6f W/mK, the assembly's U-value %.6f", got, want)
			}
		})
	}
}
