package drawing

import "testing"

func boxOf(x0, y0, x1, y1 float64) Box {
	var b Box
	b.Add(x0, y0)
	b.Add(x1, y1)
	return b
}

// TestClouds: what is near shares a cloud, what is far has its own, a bent
// area is not filled to a box, and nothing leaves the sheet.
func TestClouds(t *testing.T) {
	for _, c := range []struct {
		what  string
		areas []Box
		want  int
	}{
		{"none", nil, 0},
		{"one", []Box{boxOf(40, 40, 60, 50)}, 1},
		{"a line", []Box{boxOf(40, 40, 60, 40)}, 1},
		{"a point", []Box{boxOf(40, 40, 40, 40)}, 1},
		{"two near", []Box{boxOf(40, 40, 60, 50), boxOf(62, 40, 70, 50)}, 1},
		{"two far", []Box{boxOf(20, 40, 40, 50), boxOf(60, 40, 70, 50)}, 2},
		{"the whole sheet", []Box{boxOf(-20, -20, 300, 300)}, 1},
		{"a ring", []Box{boxOf(20, 20, 80, 21), boxOf(20, 60, 80, 61), boxOf(20, 20, 21, 61), boxOf(79, 20, 80, 61)}, 1},
		{"a corner", []Box{boxOf(20, 20, 80, 21), boxOf(20, 20, 21, 70)}, 1},
	} {
		const width, height = 100.0, 90.0
		d := NewDraft()
		d.Clouds(c.areas, width, height, "B")
		root := d.Root()
		if len(root.Nodes) != c.want {
			t.Errorf("%s: %d clouds; want %d", c.what, len(root.Nodes), c.want)
		}
		for _, n := range root.Nodes {
			g := n.(*Group)
			if len(g.Nodes) != 3 || g.Nodes[2].(*Text).Text != "B" {
				t.Errorf("%s: a cloud without its delta", c.what)
			}
			if b := Bounds(g); b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > width || b.Max.Y > height {
				t.Errorf("%s: the cloud leaves the sheet: %v", c.what, b)
			}
			if c.what != "a corner" {
				continue
			}
			for _, s := range g.Nodes[0].(*Path).Segs { // the inside of the corner is clear
				if p := s.P[0]; s.Op != Close && p.X > 40 && p.Y > 40 {
					t.Errorf("the cloud about a corner runs by %v", p)
				}
			}
		}
	}
}
