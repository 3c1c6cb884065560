package moisture

import (
	"fmt"
	"strings"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Least drying reserves, in kg/m² a year. Source: DIN 68800-2:2012 (from
// memory), for timber elements.
const (
	WallReserve units.MassPerArea = 0.10
	RoofReserve units.MassPerArea = 0.25
)

// Reserve is how much more than its own condensate a plane could dry in a
// year: what is left for moisture that air leakage brings.
type Reserve struct {
	Outer, Inner      string // the plane
	Potential         units.MassPerArea
	Condensed         units.MassPerArea
	Reserve           units.MassPerArea // Potential less Condensed
	CondensesOfItself bool              // the plane condenses by diffusion alone
	Months            [12]units.MassPerArea
	DryingMonths      []int // from 0
	LeastForWalls     units.MassPerArea
	LeastForRoofs     units.MassPerArea
	EnoughForWall     bool
	EnoughForRoof     bool
	Chosen            string // why this plane was taken
}

// DryingReserve returns the drying reserve of a section's critical plane: the
// one that condenses most in the year, or where none condenses, the face
// between layers that comes nearest to saturation in the coldest month. The
// plane is taken as wet all year and the year's losses are set against its gains.
//
// Method: flows of ISO 13788:2012, 6.4, for a plane at saturation; least
// values of DIN 68800-2:2012 (from memory). Errors: *[units.RangeError],
// *[basis.MissingError].
func DryingReserve(s *Section, y *Year) (*Reserve, error) {
	g, err := newGlaser(s, y)
	if err != nil {
		return nil, err
	}
	return g.reserve(g.condense()), nil
}

func (g *glaser) reserve(c *Condensation) *Reserve {
	out := &Reserve{LeastForWalls: WallReserve, LeastForRoofs: RoofReserve}
	at := 0
	if len(c.Interfaces) > 0 {
		most := units.MassPerArea(-1)
		for j, f := range c.Interfaces {
			sum := units.MassPerArea(0)
			for _, m := range c.Months {
				if a := m.Amounts[j].Condensate; a > 0 {
					sum += a
				}
			}
			if sum > most {
				most, at = sum, f.node
			}
		}
		out.CondensesOfItself, out.Chosen = true, "it condenses most"
	} else {
		clear(g.stock)
		g.month(g.year.coldest())
		nearest := -1.0
		for i := 1; i < len(g.nodes)-1; i++ {
			if g.first[i] != i || g.nodes[i].part != 0 || g.nodes[i].s == 0 || g.first[len(g.nodes)-1] == i {
				continue
			}
			if r := g.p[i] / g.psat[i]; r > nearest {
				nearest, at = r, i
			}
		}
		if at == 0 {
			return nil // a single layer has no plane within
		}
		out.Chosen = "it comes nearest to saturation in " + MonthNames[g.year.coldest()]
	}
	out.Outer, out.Inner = g.between(at)
	for m := range 12 {
		clear(g.stock)
		g.stock[at] = 1
		g.month(m)
		gain := units.MassPerArea(g.gain[at])
		out.Months[m] = gain
		if gain < 0 {
			out.Potential -= gain
			out.DryingMonths = append(out.DryingMonths, m)
		} else {
			out.Condensed += gain
		}
	}
	clear(g.stock)
	out.Reserve = out.Potential - out.Condensed
	out.EnoughForWall, out.EnoughForRoof = out.Reserve >= WallReserve, out.Reserve >= RoofReserve
	return out
}

// WoodLimit is the moisture content, by mass, at and below which wood may be
// closed in. Source: IRC and grading rules for dry lumber (from memory).
const WoodLimit units.Ratio = 0.19

// Hold is a hold point before an element is closed in.
type Hold struct {
	Layers []string // with wood in them, inside to outside
	Limit  units.Ratio
	Text   string
	Source basis.Source
}

// WoodHold returns the hold on wood moisture before closing in, or nil where
// no layer has wood.
func WoodHold(s *Section) *Hold {
	h := &Hold{Limit: WoodLimit, Source: basis.Source{Text: "19 %: dry lumber by the grading rules and the IRC", Kind: basis.FromMemory}}
	for _, l := range s.Layers {
		if l.Wood {
			h.Layers = append(h.Layers, l.Name)
		}
	}
	if len(h.Layers) == 0 {
		return nil
	}
	h.Text = fmt.Sprintf("Hold before closing in: wood in %s measured at %.0f %% moisture or less.", strings.Join(h.Layers, ", "), 100*float64(WoodLimit))
	return h
}
