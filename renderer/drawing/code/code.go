// Package code draws a page's address as a QR code, so that a sheet of paper
// leads back to the page it was printed from.
package code

import (
	"fmt"
	"sync"

	"rsc.io/qr/coding"

	"wythe/renderer/drawing"
)

// Quiet is the clear border that a reader needs, in modules (ISO/IEC 18004,
// from memory).
const Quiet = 4

// Module is the least size of a module on paper that a telephone reads from a
// hand's breadth, mm: common practice.
const Module = 0.42

// AddressError says that an address cannot be drawn as a code.
type AddressError struct{ Address, Why string }

func (e *AddressError) Error() string { return fmt.Sprintf("no code for %q: %s", e.Address, e.Why) }

// Code is the code of one address.
type Code struct {
	Modules int // along a side, its quiet border not counted
	segs    []drawing.Seg
}

// Of returns the code of an address, with a seventh of it spare for dirt and
// folds (level M).
//
// Errors: *[AddressError] where the address is empty, is longer than a code
// holds, or has signs other than ASCII's printed ones.
func Of(address string) (*Code, error) {
	if address == "" {
		return nil, &AddressError{address, "it is empty"}
	}
	for _, r := range address {
		if r <= ' ' || r > '~' {
			return nil, &AddressError{address, fmt.Sprintf("%q is no sign of a written address", r)}
		}
	}
	text := coding.String(address)
	version := coding.Version(coding.MinVersion)
	for text.Bits(version) > version.DataBytes(coding.M)*8 {
		if version++; version > coding.MaxVersion {
			return nil, &AddressError{address, "it is too long"}
		}
	}
	p, err := planOf(version)
	if err != nil {
		return nil, &AddressError{address, err.Error()}
	}
	c, err := p.Encode(text)
	if err != nil {
		return nil, &AddressError{address, err.Error()}
	}
	return &Code{Modules: c.Size, segs: outlines(c)}, nil
}

// plans keeps the plan of each size of code: making one costs more than all
// the rest, and a library's addresses are of few sizes.
var plans sync.Map // coding.Version to *coding.Plan

func planOf(v coding.Version) (*coding.Plan, error) {
	if p, ok := plans.Load(v); ok {
		return p.(*coding.Plan), nil
	}
	p, err := coding.NewPlan(v, coding.M, 0)
	if err == nil {
		plans.Store(v, p)
	}
	return p, err
}

// Side is the side of the code with its quiet border, at a module in mm.
func (c *Code) Side(module float64) float64 { return float64(c.Modules+2*Quiet) * module }

// Path returns the code as one filled path; the top left of its quiet border
// is at a point, mm.
func (c *Code) Path(at drawing.Point, module float64) *drawing.Path {
	p := &drawing.Path{Tag: drawing.Tag{Kind: "code"}, Fill: drawing.InkLine, Segs: make([]drawing.Seg, len(c.segs))}
	for i, s := range c.segs {
		s.P[0].X = at.X + (s.P[0].X+Quiet)*module
		s.P[0].Y = at.Y + (s.P[0].Y+Quiet)*module
		p.Segs[i] = s
	}
	return p
}

// Drawing returns the code as a drawing of its own, for the print of a page.
// what says what it leads to.
func (c *Code) Drawing(module float64, what string) *drawing.Drawing {
	side := c.Side(module)
	return &drawing.Drawing{
		Title: what, Width: side, Height: side,
		Root: drawing.Group{Nodes: []drawing.Node{c.Path(drawing.Point{}, module)}},
	}
}

// outlines traces the borders of the black modules, black always on the right
// hand, so that holes turn the other way and stay white whatever the fill
// rule. One border shared by many modules leaves no seams between them.
func outlines(c *coding.Code) []drawing.Seg {
	n := c.Size
	type corner struct{ x, y int }
	const right, down, left, up = 0, 1, 2, 3
	// edges[corner] holds the directions in which borders leave a corner.
	edges := make([][4]bool, (n+1)*(n+1))
	at := func(p corner) *[4]bool { return &edges[p.y*(n+1)+p.x] }
	for y := range n {
		for x := range n {
			if !c.Black(x, y) {
				continue
			}
			if !c.Black(x, y-1) {
				at(corner{x, y})[right] = true
			}
			if !c.Black(x+1, y) {
				at(corner{x + 1, y})[down] = true
			}
			if !c.Black(x, y+1) {
				at(corner{x + 1, y + 1})[left] = true
			}
			if !c.Black(x-1, y) {
				at(corner{x, y + 1})[up] = true
			}
		}
	}
	steps := [4]corner{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}
	var segs []drawing.Seg
	put := func(op drawing.Op, p corner) {
		segs = append(segs, drawing.Seg{Op: op, P: [3]drawing.Point{{X: float64(p.x), Y: float64(p.y)}}})
	}
	for y := range n + 1 {
		for x := range n + 1 {
			start := corner{x, y}
			for at(start)[right] {
				put(drawing.MoveTo, start)
				p, dir := start, right
				for {
					at(p)[dir] = false
					p = corner{p.x + steps[dir].x, p.y + steps[dir].y}
					if p == start {
						break
					}
					// Turn right where two borders meet in a corner: black
					// modules that touch by corners alone stay apart.
					next := (dir + 1) % 4
					if !at(p)[next] {
						if next = dir; !at(p)[next] {
							next = (dir + 3) % 4
						}
					}
					if next != dir {
						put(drawing.LineTo, p)
					}
					dir = next
				}
				segs = append(segs, drawing.Seg{Op: drawing.Close})
			}
		}
	}
	return segs
}
