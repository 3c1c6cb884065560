package drawing

import (
	"math"
	"os"
	"slices"
	"testing"

	"gopkg.in/yaml.v3"
)

// Law: the lattice of rigid insulation meets both faces of each course, and
// its lines stand at 60° to them.
func TestRigidClosesOnFaces(t *testing.T) {
	const top, bottom = 10.0, 29.05
	for _, courses := range []int{1, 2, 3} {
		thick := (bottom - top) / float64(courses)
		met := map[int]int{}
		eachPath(Hatch("rigid insulation", RectRegion(0, top, 100, bottom), Hatching{Courses: courses, Open: SideLeft | SideRight}), Point{}, func(p *Path, by Point) {
			var at Point
			for _, s := range p.Segs {
				q := Point{s.P[0].X + by.X, s.P[0].Y + by.Y}
				if s.Op == LineTo {
					if slope := math.Abs(q.Y-at.Y) / math.Abs(q.X-at.X); math.Abs(slope-math.Sqrt(3)) > 1e-9 {
						t.Fatalf("a line rises %.4f, want tan 60°", slope)
					}
					if q.X > 0.001 && q.X < 99.999 {
						face := (q.Y - top) / thick
						if math.Abs(face-math.Round(face)) > 1e-9 {
							t.Fatalf("a line ends at (%.3f, %.3f), between faces", q.X, q.Y)
						}
						met[int(math.Round(face))]++
					}
				}
				at = q
			}
		})
		for face := range courses + 1 {
			if met[face] < 20 {
				t.Errorf("%d courses: face %d is met %d times", courses, face, met[face])
			}
		}
	}
}

// Law: parallel lines of hatches stand apart at any grain by what the standard
// asks. Steel is left out: it stands for a tone, see leastPitch.
// Published: ISO 128 practice, in testdata/published/drafting.yaml; the least
// is itself the tolerance.
func TestParallelLines(t *testing.T) {
	data, err := os.ReadFile("../../testdata/published/drafting.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var published struct {
		ParallelLines struct {
			Least float64 `yaml:"least_mm"`
		} `yaml:"parallel_lines"`
	}
	if err := yaml.Unmarshal(data, &published); err != nil {
		t.Fatal(err)
	}
	least := published.ParallelLines.Least
	if least <= 0 {
		t.Fatal("no published distance was read")
	}
	for _, word := range []string{"brick", "block", "stone", "metal", "finish timber", "sawn timber", "plywood", "membrane", "rigid insulation"} {
		for _, grain := range []float64{1, 0.72, 0.62} {
			for _, along := range []bool{false, true} {
				if !along && word == "finish timber" {
					continue // rings: TestGrowthRings
				}
				for _, gap := range gaps(Hatch(word, RectRegion(0, 0, 60, 16), Hatching{Grain: grain, Along: along})) {
					if gap < least-1e-6 {
						t.Errorf("%s at grain %g: parallel lines %.3f mm apart", word, grain, gap)
						break
					}
				}
			}
		}
	}
}

// gaps returns the distances between straight parallel lines that run beside
// each other, those of one line with itself aside.
func gaps(nodes []Node) (out []float64) {
	type line struct{ angle, offset, from, to float64 }
	var lines []line
	eachPath(nodes, Point{}, func(p *Path, _ Point) {
		if p.Stroke.Round {
			return // dots
		}
		var at Point
		for _, s := range p.Segs {
			q := s.P[0]
			if s.Op == LineTo && math.Hypot(q.X-at.X, q.Y-at.Y) > 1.5 {
				a := math.Mod(math.Atan2(q.Y-at.Y, q.X-at.X)+2*math.Pi, math.Pi)
				if math.Pi-a < 1e-6 {
					a = 0
				}
				sin, cos := math.Sincos(a)
				f, g := at.X*cos+at.Y*sin, q.X*cos+q.Y*sin
				lines = append(lines, line{a, at.Y*cos - at.X*sin, min(f, g), max(f, g)})
			}
			at = q
		}
	})
	for i, a := range lines {
		for _, b := range lines[:i] {
			if math.Abs(a.angle-b.angle) > 1e-6 || min(a.to, b.to)-max(a.from, b.from) < 0.3 {
				continue
			}
			if g := math.Abs(a.offset - b.offset); g > 1e-6 {
				out = append(out, g)
			}
		}
	}
	return out
}

// Law: the rings of finish timber share a center and stand 0.7 mm apart or more.
func TestGrowthRings(t *testing.T) {
	for _, grain := range []float64{1, 0.62} {
		var radii []float64
		eachPath(Hatch("finish timber", RectRegion(0, 0, 20, 16), Hatching{Grain: grain}), Point{}, func(p *Path, _ Point) {
			for _, s := range p.Segs {
				if s.Op == ArcTo {
					radii = append(radii, s.R)
				}
			}
		})
		slices.Sort(radii)
		radii = slices.Compact(radii)
		if len(radii) < 10 {
			t.Fatalf("%d rings", len(radii))
		}
		for i := 1; i < len(radii); i++ {
			if radii[i]-radii[i-1] < 0.7-1e-9 {
				t.Errorf("rings %.3f mm apart", radii[i]-radii[i-1])
			}
		}
	}
}
