package figures

import (
	"fmt"
	"math"
	"strings"
	"time"

	"wythe/renderer/basis"
	"wythe/renderer/detail"
	"wythe/renderer/heatflow"
	"wythe/renderer/units"
)

// HeatFlow is the two-dimensional heat flow at a junction.
type HeatFlow struct {
	Field *heatflow.Field
	// Mold is the field with the higher inside resistance of the check against
	// mold, ISO 13788; its surfaces are those of Field.
	Mold   *heatflow.Field
	Spaces []HeatSpace

	// Temperatures reports that every space's temperature is known; without
	// them only coupling, psi and temperature factor hold.
	Temperatures bool
	HeatFlow     float64 // from inside spaces to outside, W/m
	// Unbounded: faces held at different temperatures meet in a point, where heat
	// flows without bound; the temperatures hold, no flow or coupling does.
	Unbounded bool

	Coupling    units.LinearTransmittance // where two temperatures differ
	Low, High   units.LinearTransmittance // the true coupling lies between
	HasCoupling bool

	Psi PsiValues

	// Coldest is the coldest inside surface; Factor its temperature factor.
	// ColdestMold and FactorMold the same under the mold check.
	Coldest, ColdestMold heatflow.Spot
	HasColdest           bool
	Factor, FactorMold   float64
	HasFactor            bool

	Couplings []SpaceCoupling

	// Moisture judges mold, condensation and the chains of air and vapor control
	// by the year; nil with the reason in MoistureWhy.
	Moisture    *HeatMoisture
	MoistureWhy string

	// Ground is how the soil was modelled; nil where none reaches a cut.
	Ground *HeatGround
	// Error is by how much of itself the heat flow may be off, at most.
	Error float64
	Notes []string
	Trace basis.Trace
	// Took is how long the section took to mesh and solve, less where the cache
	// had it; a command may print it as SolveMs, ms, a page never does.
	Took    time.Duration
	SolveMs *float64
	// Places are those a command asked the temperature of, from [HeatFlow.At].
	Places []Place
}

// HeatSpace is a space as the heat flow sees it.
type HeatSpace struct {
	Name        string
	Inside      bool
	Temperature units.Temperature
}

// SpaceCoupling is the thermal coupling coefficient between two spaces.
type SpaceCoupling struct {
	Between  [2]string
	Coupling units.LinearTransmittance
}

// HeatGround is the soil that was added beyond the view.
type HeatGround struct {
	Width  units.Length // of the floor
	Stated bool         // the junction gives it
}

// mostUnknowns bounds one solve, so that a section that will not settle costs
// seconds at most; its error estimate then says how far it came.
const mostUnknowns = 30_000

// heatTolerance is the share of itself by which a heat flow may be off.
const heatTolerance = 0.002

// unboundedWhy is why an unbounded section has no flow.
const unboundedWhy = "faces held at different temperatures meet in a point: the heat flow has no bound there"

// heatFlowKey names the figure among those not computed.
const heatFlowKey = "heatflow"

// HeatFlowOf works out the heat flow of a junction laid out; nil with the
// reason where it cannot. Fields come from the cache where it has them.
func HeatFlowOf(c Context, j *Junction, lookup func(mark string) *detail.Detail, cache heatflow.Cache) (*HeatFlow, string) {
	if j.Section == nil {
		return nil, "the section cannot be laid out"
	}
	b := &heatBuilder{c: c, s: j.Section, lookup: lookup}
	if err := b.build(); err != nil {
		return nil, reason(err)
	}
	if !b.facesTwo() {
		return nil, strings.Join(append([]string{"the section faces one space: there is nothing to lose heat to"}, b.idle...), "; ")
	}
	h := &HeatFlow{Spaces: b.spaces, Temperatures: b.temperatures, Ground: b.ground, Notes: b.notes}
	began := time.Now()
	f, _, err := cache.Solve(b.p, heatflow.Options{Most: mostUnknowns})
	if err != nil {
		return nil, reason(err)
	}
	h.Field, h.Took = f, time.Since(began)
	h.Unbounded = f.Unbounded()
	h.Error = f.ErrorEstimate()
	for i, q := range f.HeatFlow() {
		if b.spaces[i].Inside {
			h.HeatFlow += q
		}
	}
	if lo, hi, ok := f.Bracket(); ok {
		h.Low, h.High, h.HasCoupling = units.LinearTransmittance(lo), units.LinearTransmittance(hi), true
		h.Coupling = (h.Low + h.High) / 2
	}
	for i := range b.spaces {
		for k := i + 1; k < len(b.spaces) && !h.Unbounded; k++ {
			l, _ := f.Coupling(int32(i), int32(k))
			h.Couplings = append(h.Couplings, SpaceCoupling{[2]string{b.spaces[i].Name, b.spaces[k].Name}, units.LinearTransmittance(l)})
		}
	}
	if err := h.coldest(b, cache); err != nil {
		return nil, reason(err)
	}
	outside, inside, two := b.two()
	h.Moisture, h.MoistureWhy = h.moist(c, j, outside, inside, two)
	h.Psi = b.psi(h)
	if h.Error > heatTolerance && !h.Unbounded {
		b.note("the heat flow may be off by %.2g %%: the mesh reached its limit", 100*h.Error)
	}
	h.Notes = b.notes
	h.Trace = b.trace(h)
	return h, ""
}

// coldest finds the coldest inside surface, with the surfaces of the heat flow
// and with those of the check against mold.
func (h *HeatFlow) coldest(b *heatBuilder, cache heatflow.Cache) error {
	inside := func(s int32) bool { return b.spaces[b.p.Surfaces[s].Space].Inside }
	spot, ok := h.Field.Coldest(inside)
	if !ok {
		return nil
	}
	h.Coldest, h.HasColdest = spot, true
	mold := *b.p
	mold.Surfaces = append([]heatflow.Surface(nil), b.p.Surfaces...)
	for i := range mold.Surfaces {
		if inside(int32(i)) && mold.Surfaces[i].Resistance > 0 {
			mold.Surfaces[i].Resistance = max(mold.Surfaces[i].Resistance, heatflow.SurfaceMold)
		}
	}
	f, err := cache.SolveOn(h.Field, &mold, heatflow.Options{Most: mostUnknowns})
	if err != nil {
		return err
	}
	h.Mold = f
	h.ColdestMold, _ = f.Coldest(inside)
	low, high, two := b.two()
	if !two {
		return nil
	}
	h.Factor, h.HasFactor = heatflow.TemperatureFactor(spot.Celsius, high, low)
	h.FactorMold, _ = heatflow.TemperatureFactor(h.ColdestMold.Celsius, high, low)
	return nil
}

// two returns the temperatures outside and inside where each is one.
func (b *heatBuilder) two() (outside, inside float64, ok bool) {
	outside, inside = math.NaN(), math.NaN()
	for _, s := range b.spaces {
		at := &outside
		if s.Inside {
			at = &inside
		}
		if t := float64(s.Temperature); math.IsNaN(*at) {
			*at = t
		} else if *at != t {
			return 0, 0, false
		}
	}
	return outside, inside, outside < inside
}

func (b *heatBuilder) trace(h *HeatFlow) basis.Trace {
	t := basis.Trace{
		Method: basis.Method{Name: "ISO 10211:2017", Clause: "two-dimensional", Says: "Steady conduction solved on the section's own regions between a bound above and one below"},
		Limits: append([]string{"steady heat flow, no moisture, no sun"}, h.Notes...),
	}
	for _, s := range b.spaces {
		value := "not stated"
		if b.temperatures {
			value = s.Temperature.Show(b.system())
		}
		t.Inputs = append(t.Inputs, basis.Input{Name: s.Name, Value: value, Source: basis.Source{Text: "junction or library", Kind: basis.Stated}})
	}
	if h.HasCoupling {
		t.Inputs = append(t.Inputs, basis.Input{Name: "coupling between", Value: fmt.Sprintf("%.4g and %.4g W/mK", float64(h.Low), float64(h.High)), Source: basis.Source{Text: "stream function below, temperature above", Kind: basis.Design}})
	}
	if g := h.Ground; g != nil {
		t.Inputs = append(t.Inputs, basis.Input{Name: "floor width", Value: g.Width.Show(b.system()), Source: basis.Source{Text: "ground width of the junction; 8 m where it gives none", Kind: basis.Stated}})
	}
	return t
}

func (b *heatBuilder) system() units.System {
	if b.c.Settings != nil {
		return b.c.Settings.Units
	}
	return units.Metric
}

// facesTwo reports whether surfaces face more than one space.
func (b *heatBuilder) facesTwo() bool {
	first := none32
	for _, e := range b.p.Edges {
		if e.Surface == none32 || (e.Left == none32) == (e.Right == none32) {
			continue
		}
		if s := b.p.Surfaces[e.Surface].Space; first == none32 {
			first = s
		} else if s != first {
			return true
		}
	}
	return false
}
