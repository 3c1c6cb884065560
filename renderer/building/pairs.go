package building

import (
	"sort"

	"wythe/renderer/detail"
)

// Pair is two elements that may meet, without a junction among the lengths.
type Pair struct{ A, B string }

// meets are the kinds of elements that meet in a building.
var meets = map[[2]detail.Element]bool{
	{detail.FloorOnGround, detail.WallBelowGrade}: true,
	{detail.FloorOnGround, detail.Wall}:           true,
	{detail.WallBelowGrade, detail.Wall}:          true,
	{detail.WallBelowGrade, detail.Floor}:         true,
	{detail.Wall, detail.Floor}:                   true,
	{detail.Wall, detail.Ceiling}:                 true,
	{detail.Wall, detail.Roof}:                    true,
}

// Unjoined lists the pairs of a building's elements that are of kinds that
// meet, and that no junction of its lengths joins: a junction joins what it
// lays. Those that the building says are apart are left out.
func Unjoined(d *detail.Detail, lookup func(mark string) *detail.Detail) []Pair {
	joined := map[Pair]bool{} // or apart
	for _, p := range d.Building.Apart {
		joined[Pair{p[0], p[1]}], joined[Pair{p[1], p[0]}] = true, true
	}
	for _, l := range d.Building.Lengths {
		j := lookup(l.Mark)
		if j == nil || j.Junction == nil {
			continue
		}
		var laid []string
		for _, p := range j.Junction.Parts {
			if p.Mark != "" {
				laid = append(laid, p.Mark)
			}
		}
		for _, a := range laid {
			for _, b := range laid {
				joined[Pair{a, b}] = true
			}
		}
	}
	type use struct {
		mark    string
		element detail.Element
		deep    bool
	}
	var list []use
	seen := map[string]bool{}
	for _, u := range d.Building.Areas {
		x := lookup(u.Mark)
		if x == nil || x.Assembly == nil || seen[u.Mark] {
			continue
		}
		seen[u.Mark] = true
		list = append(list, use{u.Mark, x.Assembly.Element, u.Depth > 0})
	}
	var out []Pair
	for _, a := range list {
		for _, b := range list {
			if !meets[[2]detail.Element{a.element, b.element}] || joined[Pair{a.mark, b.mark}] {
				continue
			}
			// A floor below grade meets walls below grade, one on it those above.
			if a.element == detail.FloorOnGround && a.deep != (b.element == detail.WallBelowGrade) {
				continue
			}
			out = append(out, Pair{a.mark, b.mark})
		}
	}
	sort.Slice(out, func(i, j int) bool {
		return out[i].A < out[j].A || out[i].A == out[j].A && out[i].B < out[j].B
	})
	return out
}
