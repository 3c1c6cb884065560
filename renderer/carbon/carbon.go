// Package carbon sums product-stage carbon per area of a layer stack from what
// its materials state. Nothing is filled in: a material without a stated value
// and source has no carbon here, and the share that is stated is said.
//
// This package knows no file, drawing or page.
package carbon

import (
	"fmt"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// PerArea is carbon per area, in kg CO2e/m².
type PerArea float64

// PerSquareFoot returns kg CO2e/ft².
func (c PerArea) PerSquareFoot() float64 { return float64(c) * 0.3048 * 0.3048 }

// Layer is one material's part in a layer: a framed layer is two.
type Layer struct {
	Name, Material string
	Thickness      units.Length
	Share          units.Ratio // of the area; 0: all of it
	Density        units.Density
	// One of the two is stated, or none: kg CO2e per kg, or per m³.
	PerKg, PerCubicM float64
	Stated           bool // a stated zero is a value
	Weightless       bool // air: nothing to state
	Source           basis.Source
}

// LayerResult is one part's carbon.
type LayerResult struct {
	Name, Material string
	Carbon         PerArea
	Mass           units.MassPerArea
	Computed       bool
	Why            string // where not computed
	Source         basis.Source
}

// Result is a stack's carbon.
type Result struct {
	Layers []LayerResult
	Stated PerArea // of the parts that state it
	// Of the stack's volume and mass, the share whose carbon is stated. The
	// share by mass is known only where every density is.
	ShareOfVolume units.Ratio
	ShareOfMass   units.Ratio
	MassKnown     bool
	Complete      bool     // every part is stated
	Missing       []string // materials without a stated value, each once
}

// Solve returns product-stage carbon per area and what share of the stack it
// stands for.
//
// Method: Σ thickness × share × (per m³, or density × per kg); product stage A1
// to A3 as the materials state it. Errors: *[units.RangeError].
func Solve(layers []Layer) (*Result, error) {
	r := &Result{Layers: make([]LayerResult, len(layers)), MassKnown: true, Complete: true}
	var volume, statedVolume, mass, statedMass float64
	for i := range layers {
		l := &layers[i]
		share, err := l.check()
		if err != nil {
			return nil, fmt.Errorf("%q: %w", l.Name, err)
		}
		out := LayerResult{Name: l.Name, Material: l.Material, Source: l.Source}
		v := float64(l.Thickness) * share
		kg := v * float64(l.Density)
		out.Mass = units.MassPerArea(kg)
		switch {
		case l.Weightless || v == 0:
			out.Computed = true
		case !l.Stated:
			out.Why = fmt.Sprintf("%s states no carbon; put it with its source in materials.yaml", l.Material)
		case l.PerCubicM != 0:
			out.Carbon, out.Computed = PerArea(v*l.PerCubicM), true
		case l.PerKg != 0 && l.Density == 0:
			out.Why = fmt.Sprintf("%s states carbon per kg but no density; put it in materials.yaml", l.Material)
		default:
			out.Carbon, out.Computed = PerArea(kg*l.PerKg), true
		}
		r.Layers[i] = out
		if l.Weightless || v == 0 {
			continue
		}
		volume, mass = volume+v, mass+kg
		r.MassKnown = r.MassKnown && l.Density > 0
		if out.Computed {
			statedVolume, statedMass = statedVolume+v, statedMass+kg
			r.Stated += out.Carbon
			continue
		}
		r.Complete = false
		r.missing(l.Material)
	}
	if volume > 0 {
		r.ShareOfVolume = units.Ratio(statedVolume / volume)
	}
	if r.MassKnown = r.MassKnown && mass > 0; r.MassKnown {
		r.ShareOfMass = units.Ratio(statedMass / mass)
	}
	return r, nil
}

func (r *Result) missing(material string) {
	for _, m := range r.Missing {
		if m == material {
			return
		}
	}
	r.Missing = append(r.Missing, material)
}

func (l *Layer) check() (share float64, err error) {
	if err := basis.NotNegative("thickness", float64(l.Thickness), "m"); err != nil {
		return 0, err
	}
	if err := basis.Finite("thickness", float64(l.Thickness), "m"); err != nil {
		return 0, err
	}
	if err := basis.NotNegative("density", float64(l.Density), "kg/m³"); err != nil {
		return 0, err
	}
	for _, v := range [2]float64{l.PerKg, l.PerCubicM} { // negative: carbon held in the material
		if err := basis.Finite("carbon", v, "kg CO2e"); err != nil {
			return 0, err
		}
	}
	if share = float64(l.Share); share == 0 {
		share = 1
	}
	return share, basis.Within("share of the area", share, 0, 1, "")
}

// Words says the figure with its share: never a bare sum.
func (r *Result) Words() string {
	if r.Complete {
		return fmt.Sprintf("%.1f kg CO2e/m², product stage, every material stated", float64(r.Stated))
	}
	if r.MassKnown {
		return fmt.Sprintf("%.1f kg CO2e/m², product stage, of the %.0f %% of the mass that states it", float64(r.Stated), 100*float64(r.ShareOfMass))
	}
	return fmt.Sprintf("%.1f kg CO2e/m², product stage, of the %.0f %% of the volume that states it", float64(r.Stated), 100*float64(r.ShareOfVolume))
}

// Trace says what the figure rests on.
func (r *Result) Trace() basis.Trace {
	t := basis.Trace{
		Method: basis.Method{Name: "Sum of stated values", Says: "Product-stage carbon of each material times its amount."},
		Limits: []string{"Product stage alone (A1 to A3): no transport, building, use or end of life.", "Waste is not counted."},
	}
	for _, l := range r.Layers {
		if l.Computed && l.Source.Text != "" {
			t.Inputs = append(t.Inputs, basis.Input{Name: l.Name, Value: fmt.Sprintf("%.2f kg CO2e/m²", float64(l.Carbon)), Source: l.Source})
		}
	}
	return t
}
