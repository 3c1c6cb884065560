package figures

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
)

// Faces held at different temperatures meet in two corners: temperatures hold,
// no flow does. ISO 10211:2017 Annex C case 1, from memory; exact by its series.
func TestHeatFlowOfISOCase1(t *testing.T) {
	h, why := junction(t, `---
mark: J-201
title: Half of a square column
status: draft
scale: 1:10
view: {left: 0, right: 1 m, bottom: 0, top: 2 m}
parts:
  - column: {material: {name: a, conductivity: 1 W/mK, hatch: block}, left: 0, right: 1 m, bottom: 0, top: 2 m}
spaces:
  top: {as: inside, temperature: 20 C, surface: 0}
  sides: {as: outside, temperature: 0 C, surface: 0}
faces:
  - {along: [[0, 2 m], [1 m, 2 m]], space: top}
  - {along: [[0, 2 m], [0, 0], [1 m, 0]], space: sides}
---
`)
	if h == nil {
		t.Fatal(why)
	}
	for _, c := range [][3]float64{{0.25, 1.75, 9.6582}, {1, 1.75, 15.0854}, {0.5, 1, 3.6406}, {1, 0.25, 0.8863}} {
		if got := float64(h.At([][2]float64{{c[0], c[1]}})[0].Temperature); !(math.Abs(got-c[2]) <= 0.05) {
			t.Errorf("at %v m: %.4f °C, exact %.4f", c[:2], got, c[2])
		}
	}
	j := h.json()
	if !math.IsNaN(float64(j.HeatFlow)) || !math.IsNaN(float64(j.Coupling)) || len(j.Couplings) != 0 || !math.IsNaN(float64(j.PsiInternal)) || h.Psi.Why != unboundedWhy {
		t.Errorf("%+v", j)
	}
	if b, err := json.Marshal(j); err != nil || !strings.Contains(string(b), `"error_estimate_percent":null`) {
		t.Errorf("%s, %v", b, err)
	}
}

// ISO 10211:2017 Annex C case 2, from memory: within 0.1 °C and 0.1 W/m.
func TestHeatFlowOfISOCase2(t *testing.T) {
	h, why := junction(t, `---
mark: J-201
title: Metal, insulation, timber and concrete
status: draft
scale: 1:2
view: {left: 0, right: 500 mm, bottom: 0, top: 47.5 mm}
parts:
  - foam: {material: {name: foam, conductivity: 0.029 W/mK, hatch: rigid insulation}, left: 0, width: 500 mm, bottom: 0, top: concrete.bottom}
  - concrete: {material: {name: concrete, conductivity: 1.15 W/mK, hatch: concrete}, left: 0, width: 500 mm, bottom: 41.5 mm, height: 6 mm}
  - timber: {material: {name: timber, conductivity: 0.12 W/mK, hatch: sawn timber}, left: 0, width: 15 mm, bottom: 36.5 mm, top: concrete.bottom}
  - flange: {material: {name: aluminium, conductivity: 230 W/mK, hatch: metal}, left: 0, width: 15 mm, bottom: 35 mm, top: timber.bottom}
  - plate: {material: {name: aluminium, conductivity: 230 W/mK, hatch: metal}, left: 0, width: 500 mm, bottom: 0, height: 1.5 mm}
  - web: {material: {name: aluminium, conductivity: 230 W/mK, hatch: metal}, left: 0, width: 1.5 mm, bottom: plate.top, top: flange.bottom}
spaces:
  inside: {temperature: 20 C, surface: 0.11 m2K/W}
  outside: {temperature: 0 C, surface: 0.06 m2K/W}
faces:
  - {along: [[0, 47.5 mm], [500 mm, 47.5 mm]], space: outside}
  - {along: [[0, 0], [500 mm, 0]], space: inside}
---
`)
	if h == nil {
		t.Fatal(why)
	}
	if math.Abs(h.HeatFlow-9.5) > 0.1 {
		t.Errorf("heat flow %.4f W/m, 9.5 expected", h.HeatFlow)
	}
	for _, c := range [][3]float64{{0, 47.5, 7.1}, {500, 47.5, 0.8}, {0, 41.5, 7.9}, {15, 41.5, 6.3}, {500, 41.5, 0.8}, {0, 36.5, 16.4}, {15, 36.5, 16.3}, {0, 0, 16.8}, {500, 0, 18.3}} {
		if got := float64(h.At([][2]float64{{c[0] / 1000, c[1] / 1000}})[0].Temperature); !(math.Abs(got-c[2]) <= 0.1) {
			t.Errorf("at %v mm: %.4f °C, %.1f expected", c[:2], got, c[2])
		}
	}
}
