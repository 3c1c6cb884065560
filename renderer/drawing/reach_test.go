package drawing

import "testing"

func TestReaches(t *testing.T) {
	var window Box
	window.Add(10, 10)
	window.Add(20, 20)
	line := func(p ...Point) *Path {
		path := &Path{Stroke: Stroke{Pen: PenTick, Ink: InkLine}}
		return path.Polyline(p...)
	}
	filled := line(Point{0, 0}, Point{30, 0}, Point{0, 30})
	filled.Fill = InkLine
	moved := line(Point{0, 0}, Point{1, 1})
	moved.Again = []Point{{14, 14}}
	clip := (&Path{}).Rect(0, 0, 5, 5)
	for _, c := range []struct {
		what string
		node Node
		want bool
	}{
		{"a line through", line(Point{0, 15}, Point{30, 15}), true},
		{"a slant past the corner", line(Point{0, 15}, Point{15, 0}), false},
		{"a line beside", line(Point{0, 5}, Point{30, 5}), false},
		{"an area whose box holds the window", filled, true},
		{"again, there", moved, true},
		{"clipped away", &Group{Clip: clip, Nodes: []Node{line(Point{0, 0}, Point{30, 30})}}, false},
		{"shifted in", &Group{Shift: Point{12, 12}, Nodes: []Node{line(Point{0, 0}, Point{1, 1})}}, true},
		{"a disc", &Circle{Center: Point{22, 15}, R: 3, Fill: InkLine}, true},
		{"a disc apart", &Circle{Center: Point{25, 15}, R: 3, Fill: InkLine}, false},
		{"a dot apart", &Path{Segs: []Seg{{Op: Dot, P: [3]Point{{5, 15}}}, {Op: Dot, P: [3]Point{{25, 15}}}}}, false},
		{"a dot", &Path{Segs: []Seg{{Op: Dot, P: [3]Point{{15, 15}}}}}, true},
		{"a bow", &Path{Segs: []Seg{{Op: MoveTo, P: [3]Point{{5, 5}}}, {Op: ArcTo, R: 10, Sweep: true, P: [3]Point{{15, 15}}}}}, true},
	} {
		if got := Reaches(c.node, window); got != c.want {
			t.Errorf("%s: %v", c.what, got)
		}
	}
}
