package figures

import "math"

// inWords are sections in the words of the file: places, cuts, soil that is
// added beyond the view, films, rounds.
func inWords() map[string]*drawn {
	head := func(view, parts, more string) string {
		return "---\nmark: J-201\ntitle: It\nstatus: draft\nscale: 1:10\nview: " + view + "\nparts:\n" + parts + more + "---\n"
	}
	all := map[string]*drawn{}
	// A floor 8 m wide: 20 m of soil out and down, 4 m in.
	dt := 0.4 + 1.5*(0.17+0.06/1.4+0.14/0.035+0.04)
	floor := 2 * 1.5 / (math.Pi*8 + dt) * math.Log(math.Pi*8/dt+1)
	soil := inOut().
		box("earth", 1.5, -20.1, -20, 4.3, 0).box("concrete", 2, 0, -0.8, 0.3, 0.3).box("block", 0.5, 0, 0.3, 0.3, 1.5).box("foam", 0.035, -0.1, -0.6, 0, 1.5).
		box("foam", 0.035, 0.3, -0.2, 4.3, -0.06).box("screed", 1.4, 0.3, -0.06, 4.3, 0).
		face("interior", 0.13, xy(0.3, 1.5), xy(0.3, 0)).face("interior", 0.17, xy(0.3, 0), xy(4.3, 0)).face("exterior", 0.04, xy(-20.1, 0), xy(-0.1, 0)).face("exterior", 0.04, xy(-0.1, 0), xy(-0.1, 1.5)).
		ask(0.15, 0.1).ask(1, -0.03).ask(-0.5, -0.5).
		flank(1/(0.13+0.04+0.1/0.035+0.3/0.5), 1.5, 1.5).flank(floor, 4, 4.4)
	soil.file = head("{left: -1 m, right: 2 m, bottom: -1.2 m, top: 1.5 m}", `  - earth: {material: {name: earth, conductivity: 1.5 W/mK, hatch: earth}, left: cut, right: cut, bottom: cut, top: 0}
  - concrete: {material: {name: concrete, conductivity: 2 W/mK, hatch: concrete}, left: 0, width: 300 mm, bottom: -0.8 m, top: 0.3 m}
  - block: {material: {name: block, conductivity: 0.5 W/mK, hatch: block}, left: concrete.left, right: concrete.right, bottom: concrete.top, top: cut}
  - foam: {material: {name: foam, conductivity: 0.035 W/mK, hatch: rigid insulation}, right: concrete.left, width: 100 mm, bottom: -0.6 m, top: cut}
  - bed: {material: {name: foam, conductivity: 0.035 W/mK, hatch: rigid insulation}, left: concrete.right, right: cut, bottom: -200 mm, top: -60 mm}
  - screed: {material: {name: screed, conductivity: 1.4 W/mK, hatch: mortar}, left: concrete.right, right: cut, bottom: bed.top, top: 0}
`, `spaces:
  interior: {as: inside, at: [1 m, 1 m], temperature: 20 C}
  exterior: {as: outside, at: [-0.5 m, 1 m], temperature: -5 C}
ground width: 8 m
`)
	all["soil added beyond the view"] = soil
	film := inOut().box("wool", 0.03, 0, 0, 0.6, 0.3).box("foil", 200, 0, 0.0999, 0.3501, 0.1001).box("foil", 200, 0.3499, 0.0999, 0.3501, 0.28).box("block", 1.2, 0.5, 0, 0.6, 0.3).
		face("interior", 0.13, xy(0, 0), xy(0.6, 0)).face("exterior", 0.04, xy(0, 0.3), xy(0.6, 0.3)).ask(0.2, 0.05).ask(0.4, 0.2)
	film.file = head("{left: 0, right: 600 mm, bottom: -100 mm, top: 400 mm}", `  - wool: {material: {name: wool, conductivity: 0.03 W/mK, hatch: batt}, left: cut, right: cut, bottom: 0, height: 300 mm}
  - block: {material: {name: block, conductivity: 1.2 W/mK, hatch: block}, left: 500 mm, right: cut, bottom: 0, top: wool.top}
  - foil: {film: {name: foil, conductivity: 200 W/mK, hatch: metal}, thickness: 0.2 mm, along: [[0, 100 mm], [350 mm, 100 mm], [350 mm, 280 mm]]}
`, `spaces:
  interior: {as: inside, at: [300 mm, -50 mm], temperature: 20 C, surface: 0.13 m2K/W}
  exterior: {as: outside, at: [300 mm, 350 mm], temperature: -5 C, surface: 0.04 m2K/W}
`)
	all["a foil as a film"] = film
	round := inOut().box("wool", 0.035, 0, 0, 0.4, 0.2)
	var rim [][2]float64
	for i := range 64 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 64)
		rim = append(rim, xy(0.2+0.05*cos, 0.1+0.05*sin))
	}
	round.box("steel", 50, 0, 0, 0, 0)
	round.Regions[1].Polygon = rim
	round.face("interior", 0.13, xy(0, 0), xy(0.4, 0)).face("exterior", 0.04, xy(0, 0.2), xy(0.4, 0.2)).ask(0.2, 0.1).ask(0.05, 0.1)
	round.file = head("{left: 0, right: 400 mm, bottom: -100 mm, top: 300 mm}", `  - wool: {material: {name: wool, conductivity: 0.035 W/mK, hatch: batt}, left: cut, right: cut, bottom: 0, height: 200 mm}
  - bar: {round: {name: steel, conductivity: 50 W/mK, hatch: steel}, diameter: 100 mm, at: [200 mm, 100 mm]}
`, `spaces:
  interior: {as: inside, at: [300 mm, -50 mm], temperature: 20 C}
  exterior: {as: outside, at: [300 mm, 250 mm], temperature: -5 C}
faces:
  - {along: [[0, 0], [400 mm, 0]], space: interior, surface: 0.13 m2K/W}
  - {along: [[0, 200 mm], [400 mm, 200 mm]], space: exterior, surface: 0.04 m2K/W}
`)
	all["a round bar"] = round
	return all
}
