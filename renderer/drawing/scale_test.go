package drawing_test

import (
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"wythe/renderer/drawing"
	"wythe/renderer/units"
)

// drafting is testdata/published/drafting.yaml.
type drafting struct {
	Scales struct {
		Source    string
		Inch      [][2]string // "1 1/2 in = 1 ft", "8"
		Reduction []string
	}
	LineWidths struct {
		Series []float64 `yaml:"series_mm"`
	} `yaml:"line_widths"`
	BreakLine struct {
		Past float64 `yaml:"past_mm"`
	} `yaml:"break_line"`
	Dimensions struct {
		Apart [2]float64 `yaml:"apart_mm"`
		Tick  float64    `yaml:"tick_degrees"`
	}
}

func published(t *testing.T) *drafting {
	t.Helper()
	file, err := os.ReadFile("../../testdata/published/drafting.yaml")
	if err != nil {
		t.Fatal(err)
	}
	d := new(drafting)
	if err := yaml.Unmarshal(file, d); err != nil {
		t.Fatal(err)
	}
	return d
}

func TestPublishedScales(t *testing.T) {
	d := published(t)
	if len(d.Scales.Inch) != 13 || len(d.Scales.Reduction) != 12 {
		t.Fatalf("%d inch scales and %d reductions were read", len(d.Scales.Inch), len(d.Scales.Reduction))
	}
	for _, s := range d.Scales.Inch {
		ratio, err := strconv.ParseFloat(s[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		inch, colon := drawing.ScaleWords(ratio)
		if inch != s[0] || colon != "1:"+s[1] || !drawing.StandardScale(ratio) {
			t.Errorf("1:%s is %q, %q; want %q", s[1], inch, colon, s[0])
		}
		if got := 12 / inches(t, s[0]); math.Abs(got-ratio) > 1e-9 {
			t.Errorf("%q is 1:%g; want 1:%g", s[0], got, ratio)
		}
	}
	for _, s := range d.Scales.Reduction {
		ratio, err := strconv.ParseFloat(strings.TrimPrefix(s, "1:"), 64)
		if err != nil || !drawing.StandardScale(ratio) {
			t.Errorf("%s is no standard scale (%v)", s, err)
		}
	}
	for _, s := range []float64{3, 6, 7, 15, 25, 30, 0, -8} {
		if drawing.StandardScale(s) {
			t.Errorf("1:%g is a standard scale", s)
		}
	}
}

// inches reads the paper side of "1 1/2″ = 1′-0″".
func inches(t *testing.T, s string) float64 {
	t.Helper()
	sum := 0.0
	before, _, _ := strings.Cut(s, "″")
	for _, f := range strings.Fields(before) {
		var a, b float64
		if n, _ := fmt.Sscanf(f, "%f/%f", &a, &b); n == 2 {
			sum += a / b
		} else if n == 1 {
			sum += a
		} else {
			t.Fatalf("no length in %q", s)
		}
	}
	return sum
}

func TestChooseScale(t *testing.T) {
	for _, c := range []struct {
		system        units.System
		largest, room float64 // mm for 500 mm
		want          float64
	}{
		{units.Inch, 4, 88, 8}, {units.Inch, 4, 125, 4}, {units.Inch, 4, 40, 16}, {units.Inch, 1, 500, 1},
		{units.Metric, 5, 88, 10}, {units.Metric, 5, 100, 5}, {units.Metric, 2, 250, 2}, {units.Inch, 4, 0, 192},
	} {
		got := drawing.ChooseScale(c.system, c.largest, func(r float64) bool { return 500/r <= c.room })
		if got != c.want {
			t.Errorf("500 mm in %g mm: 1:%g; want 1:%g", c.room, got, c.want)
		}
	}
}

// TestScaleBar measures both bars: the black and white fields against the
// lengths they stand for.
func TestScaleBar(t *testing.T) {
	for _, scale := range []float64{1, 2, 4, 5, 8, 10, 12, 16, 20, 24, 32, 48, 50, 64, 96, 100, 192, 200} {
		for _, system := range []units.System{units.Inch, units.Metric} {
			d := drawing.NewDraft()
			length := d.ScaleBar(drawing.Point{X: 10, Y: 10}, scale, system, 50)
			root := d.Root()
			drawn := &drawing.Drawing{Root: root, Width: 100, Height: 20}
			measureTexts(t, drawn)
			if length <= 10 || length > 51 {
				t.Errorf("1:%g: a bar of %.1f mm", scale, length)
			}
			var fields drawing.Box
			eachGroup(&root, "scale", func(g *drawing.Group) {
				for _, n := range g.Nodes {
					if p, ok := n.(*drawing.Path); ok {
						fields.Join(drawing.Bounds(p))
					}
				}
			})
			if math.Abs(fields.Min.X-10) > 1e-9 || math.Abs(fields.Width()-length) > 1e-9 {
				t.Errorf("1:%g: fields from %g to %g, for %g mm", scale, fields.Min.X, fields.Max.X, length)
			}
			ends := 0
			for _, x := range texts(&root, nil) {
				number, unit, ok := strings.Cut(x.Text, " ")
				if at := strings.LastIndexByte(x.Text, ' '); ok {
					number, unit = x.Text[:at], x.Text[at+1:]
				}
				mm := map[string]float64{"in": 25.4, "ft": 304.8, "mm": 1}[unit]
				if mm == 0 {
					continue
				}
				ends++
				v := inches(t, number+"″")
				want := 10 + v*mm/scale
				// The figure stands under the bar's end.
				got := x.At.X + drawing.Measure(x.Face, x.Weight, x.Size, number)/2
				if math.Abs(got-want) > 1e-6 {
					t.Errorf("1:%g: %q stands at %.3f; its bar ends at %.3f", scale, x.Text, got, want)
				}
			}
			if ends != 2 {
				t.Errorf("1:%g: %d bars", scale, ends)
			}
		}
	}
}

// TestDraftingPractice holds strings and break lines to drawing practice.
func TestDraftingPractice(t *testing.T) {
	want := published(t)
	series := map[drawing.Pen]bool{}
	for _, w := range want.LineWidths.Series {
		series[drawing.Pen(w)] = true
	}
	for _, p := range []drawing.Pen{drawing.PenControl, drawing.PenCut, drawing.PenTick, drawing.PenSecondary, drawing.PenDimension} {
		if !series[p] {
			t.Errorf("a pen of %g mm is none of the series", float64(p))
		}
	}
	inner := &drawing.Chain{Stops: []float64{0, 30, 60}, Texts: []string{"5″", "6″"}}
	outer := &drawing.Chain{Stops: []float64{0, 60}, Texts: []string{"11″"}}
	for _, border := range []drawing.Border{drawing.Below, drawing.Above, drawing.LeftOf, drawing.RightOf} {
		d := drawing.NewDraft()
		d.Tiers(border, 50, 6, inner, outer)
		if apart := math.Abs(inner.At - outer.At); apart < want.Dimensions.Apart[0] || apart > want.Dimensions.Apart[1] {
			t.Errorf("border %d: strings %.2f mm apart", border, apart)
		}
		ticks := 0
		root := d.Root()
		eachGroup(&root, "dimension", func(g *drawing.Group) {
			for _, n := range g.Nodes {
				p, ok := n.(*drawing.Path)
				if !ok || p.Stroke.Pen != drawing.PenTick {
					continue
				}
				for i := 1; i < len(p.Segs); i += 2 {
					a, b := p.Segs[i-1].P[0], p.Segs[i].P[0]
					ticks++
					if got := math.Atan2(a.Y-b.Y, b.X-a.X) * 180 / math.Pi; math.Abs(got-want.Dimensions.Tick) > 1e-9 {
						t.Errorf("a tick rises at %.2f degrees", got)
					}
				}
			}
		})
		if ticks != 5 {
			t.Errorf("%d ticks for 5 stops", ticks)
		}
	}
	d := drawing.NewDraft()
	d.Break(drawing.Tag{}, drawing.Point{X: 10, Y: 10}, drawing.Point{X: 10, Y: 70}, 0.5, 1.5)
	root := d.Root()
	box := drawing.Bounds(&root)
	if math.Abs(10-box.Min.Y-want.BreakLine.Past) > 1e-9 || math.Abs(box.Max.Y-70-want.BreakLine.Past) > 1e-9 {
		t.Errorf("a break line from 10 to 70 runs from %g to %g", box.Min.Y, box.Max.Y)
	}
}
