package sheet

import (
	"slices"
	"testing"

	"wythe/renderer/drawing"
)

// everySection is what both holds, and the sections whose verdict is known.
func everySection(t testing.TB) []drawable {
	return append(both(t), laid(t, "../continuity/testdata/corpus")...)
}

// whole draws a section, and returns where its parts and callouts stand in the
// drawing.
func (c *drawable) whole(dress drawing.Dress) (*drawing.Drawing, *junction, []drawing.PlacedCallout) {
	j, _ := c.drawn(dress)
	d := j.sheet()
	j.strings = j.chains()
	placed, _ := j.callouts()
	return d, j, placed
}

// word is a text of a drawing where it stands, with the kind of the group that
// it belongs to and the number of its callout.
type word struct {
	box  drawing.Box
	text string
	kind string
	key  int
}

// words are the texts in a group, level or upright, those set over their own
// casing once.
func words(g *drawing.Group, of word, out []word) []word {
	if g.Tag.Kind != "" {
		of.kind = g.Tag.Kind
	}
	if g.Tag.Key != 0 {
		of.key = g.Tag.Key
	}
	for _, n := range g.Nodes {
		switch n := n.(type) {
		case *drawing.Group:
			out = words(n, of, out)
		case *drawing.Text:
			w := n.Width()
			from := map[drawing.Anchor]float64{drawing.Start: 0, drawing.Middle: -w / 2, drawing.End: -w}[n.Anchor]
			var b drawing.Box
			switch n.Turn {
			case 0:
				b.Add(n.At.X+from, n.At.Y-n.Size*0.7)
				b.Add(n.At.X+from+w, n.At.Y)
			case 90:
				b.Add(n.At.X-n.Size*0.7, n.At.Y-from-w)
				b.Add(n.At.X, n.At.Y-from)
			default:
				continue // the stamp
			}
			it := word{b, n.Text, of.kind, of.key}
			if k := len(out) - 1; k < 0 || out[k] != it {
				out = append(out, it)
			}
		}
	}
	return out
}

// TestLeadersClear counts what leaders spoil: words of dimensions, levels and
// spaces that they run through, and dots at the edge of what is left out.
func TestLeadersClear(t *testing.T) {
	for _, c := range everySection(t) {
		d, j, placed := c.whole(drawing.Wide)
		for _, w := range words(&d.Root, word{}, nil) {
			if w.kind != "dimension" && w.kind != "level" && w.kind != "side" {
				continue
			}
			for i := range placed {
				if drawing.Crossed(placed[i:i+1], w.box) > 0 {
					t.Errorf("%s: leader %d runs through %s, of kind %s", c.d.Mark, placed[i].Key, w.text, w.kind)
				}
			}
		}
		for i := range placed {
			p := &placed[i]
			m := slices.IndexFunc(j.members, func(m *member) bool { return m.name == p.Tag.Part })
			if j.members[m].film || j.members[m].seal {
				continue
			}
			for k := range j.windows {
				on := j.windows[k].on
				if inBox(p.At, on, 1e-6) && !inBox(p.At, on, -0.2) {
					t.Errorf("%s: the dot of %d, %s, stands on the side of the view", c.d.Mark, p.Key, p.Tag.Part)
				}
			}
		}
	}
}

// TestWordsClear holds the words of every drawing, wide and narrow: on the
// sheet and on no others, and names of spaces clear of what is built.
func TestWordsClear(t *testing.T) {
	const clear = 2.0 // mm
	for _, c := range everySection(t) {
		for _, dress := range []drawing.Dress{drawing.Wide, drawing.Phone} {
			d, j, _ := c.whole(dress)
			list := words(&d.Root, word{}, nil)
			for i, a := range list {
				if a.box.Min.X < 0 || a.box.Min.Y < 0 || a.box.Max.X > d.Width || a.box.Max.Y > d.Height {
					t.Errorf("%s, dress %d: %s runs off the sheet", c.d.Mark, dress, a.text)
				}
				for _, b := range list[i+1:] {
					if a.box.Overlaps(b.box) {
						t.Errorf("%s, dress %d: %s, of kind %s, meets %s, of kind %s", c.d.Mark, dress, a.text, a.kind, b.text, b.kind)
					}
				}
				// The narrow sheet has not always so much room.
				if a.kind != "side" || dress != drawing.Wide {
					continue
				}
				within := func() bool {
					for x := a.box.Min.X - clear; x <= a.box.Max.X+clear; x += 0.25 {
						for y := a.box.Min.Y - clear; y <= a.box.Max.Y+clear; y += 0.25 {
							if j.built(drawing.Point{X: x, Y: y}) {
								return true
							}
						}
					}
					return false
				}
				if within() {
					t.Errorf("%s: %s stands less than %g mm from what is built", c.d.Mark, a.text, clear)
				}
			}
		}
	}
}
