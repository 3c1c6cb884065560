package code

import (
	"errors"
	"strings"
	"testing"

	"rsc.io/qr"

	"wythe/renderer/drawing"
)

const address = "https://details.example.org/F-101/rev/C/"

// winding counts how often a path's borders wind about a point.
func winding(segs []drawing.Seg, x, y float64) int {
	n := 0
	var at, start drawing.Point
	edge := func(a, b drawing.Point) {
		switch {
		case a.Y <= y && b.Y > y && a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X) > x:
			n++
		case a.Y > y && b.Y <= y && a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X) > x:
			n--
		}
	}
	for _, s := range segs {
		switch s.Op {
		case drawing.MoveTo:
			at, start = s.P[0], s.P[0]
		case drawing.LineTo:
			edge(at, s.P[0])
			at = s.P[0]
		case drawing.Close:
			edge(at, start)
			at = start
		}
	}
	return n
}

// TestPathIsTheCode holds the path to the bits, module by module: black where
// they are, wound once, so that either fill rule shows the same.
func TestPathIsTheCode(t *testing.T) {
	for _, a := range []string{"a", address, "https://details.example.org/" + strings.Repeat("long/", 60)} {
		c, err := Of(a)
		if err != nil {
			t.Fatal(err)
		}
		want, err := qr.Encode(a, qr.M)
		if err != nil {
			t.Fatal(err)
		}
		at := drawing.Point{X: 3, Y: 5}
		p := c.Path(at, 0.5)
		for y := -1; y <= c.Modules; y++ {
			for x := -1; x <= c.Modules; x++ {
				got := winding(p.Segs, at.X+(float64(x)+Quiet+.5)*.5, at.Y+(float64(y)+Quiet+.5)*.5)
				black := want.Black(x, y)
				if got != 0 && got != 1 && got != -1 || (got != 0) != black {
					t.Fatalf("%.20s…: module %d, %d is wound %d times; black is %v", a, x, y, got, black)
				}
			}
		}
		if b := drawing.Bounds(p); b.Min.X < at.X+Quiet*.5-1e-9 || b.Max.X > at.X+c.Side(.5)-Quiet*.5+1e-9 {
			t.Errorf("%.20s…: the code reaches into its quiet border: %v", a, b)
		}
	}
}

func TestAddressesRefused(t *testing.T) {
	for _, a := range []string{"", "https://détails.example.org/", "https://x.example/a b", strings.Repeat("a", 4000)} {
		_, err := Of(a)
		var refused *AddressError
		if !errors.As(err, &refused) || refused.Address != a {
			t.Errorf("Of(%.30q) = %v; want an AddressError", a, err)
		}
	}
}

func TestTheSameAddressTheSamePath(t *testing.T) {
	one, err := Of(address)
	if err != nil {
		t.Fatal(err)
	}
	two, err := Of(address)
	if err != nil || len(one.segs) != len(two.segs) {
		t.Fatal(err)
	}
	for i := range one.segs {
		if one.segs[i] != two.segs[i] {
			t.Fatalf("segment %d differs", i)
		}
	}
}
