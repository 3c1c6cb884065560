package heatflow

import (
	"errors"
	"testing"

	"wythe/renderer/basis"
	"wythe/renderer/geometry"
)

// The section extended from its view is the section laid out whole.
func TestGroundIsTheWholeSection(t *testing.T) {
	whole := solved(t, slabEdge(), 0.001)
	view := geometry.Box{Min: at(-2, -1.5), Max: at(2, 3.4)}
	p, err := slabEdgeOf(-2, 2, -1.5).WithGround(Ground{
		View: view, Soil: []bool{true, false, false, false, false, false},
		Left: -20e6, Right: 4e6, Bottom: -20e6,
	})
	if err != nil {
		t.Fatal(err)
	}
	f := solved(t, p, 0.001)
	a, _ := whole.L2D()
	b, ok := f.L2D()
	if !ok {
		t.Fatal("no coupling")
	}
	isNear(t, "L2D", b, a, (whole.ErrorEstimate()+f.ErrorEstimate())*a)
	for _, x := range [][2]float64{{0.4, 0}, {3.5, 0}, {3.5, -5}, {-15, 1}, {-10, -15}, {1, -0.2}} {
		want, ok1 := whole.TemperatureAt(x[0], x[1])
		got, ok2 := f.TemperatureAt(x[0], x[1])
		if !ok1 || !ok2 {
			t.Errorf("%v lies outside: %v, %v", x, ok1, ok2)
		}
		isNear(t, "temperature", got, want, 0.04)
	}
	if _, ok := f.TemperatureAt(-5, 2.1); ok {
		t.Error("there is ground above grade")
	}
}

func TestGroundNeedsSoil(t *testing.T) {
	_, err := compositeWall(1, 0).WithGround(Ground{View: geometry.Box{Min: at(0, 0), Max: at(1, 0.3625)}, Soil: []bool{false, false, false}, Left: -1e6})
	var missing *basis.MissingError
	if !errors.As(err, &missing) {
		t.Errorf("error %v, want what is missing", err)
	}
}

func TestGroundExtent(t *testing.T) {
	out, in := GroundExtent(DefaultFloorWidth)
	if out != 20 || in != 4 {
		t.Errorf("%g out and down, %g in", out, in)
	}
}
