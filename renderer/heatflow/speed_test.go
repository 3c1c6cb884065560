package heatflow

import (
	"fmt"
	"math"
	"syscall"
	"testing"
)

// BenchmarkSections solves sections until their bounds are within 3 %, 0.5 % and
// 0.1 % of the middle that is printed. error-% is how far that middle is from a
// far finer solve: a general program's error is measured so, its bounds are not.
func BenchmarkSections(b *testing.B) {
	type section struct {
		name string
		p    *Problem
	}
	sections := []section{{"slab edge with soil", slabEdge()}, {"metal", metalCase()}, {"60 parts, as drawn", wallSection()}, {"60 parts, bolted", manyParts()}}
	for _, c := range femCases(b) {
		sections = append(sections, section{c.ID, c.problem()})
	}
	for _, s := range sections {
		fine, err := Solve(s.p, Options{Tolerance: 1e-4, Temperature: 1, Most: 200000})
		if err != nil {
			b.Fatal(err)
		}
		for _, o := range []struct {
			name string
			Options
		}{
			{"3%", Options{Tolerance: 0.03, Temperature: 1}},
			{"0.5%", Options{Tolerance: 0.005, Temperature: 1}},
			{"0.1%", Options{Tolerance: 0.001, Temperature: 1}},
			{"0.5% of temperature too", Options{Tolerance: 0.005, Temperature: 0.005}},
		} {
			b.Run(s.name+"/"+o.name, func(b *testing.B) {
				b.ReportAllocs()
				var f *Field
				start := processorTime()
				for b.Loop() {
					if f, err = Solve(s.p, o.Options); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric((processorTime()-start)*1e3/float64(b.N), "cpu-ms/op")
				b.ReportMetric(float64(f.Unknowns()), "unknowns")
				b.ReportMetric(100*f.worst(), "bound-%")
				b.ReportMetric(100*f.awayFrom(fine), "error-%")
			})
		}
	}
}

// awayFrom is by how much of itself a coupling is off, at most, where a finer
// field holds.
func (f *Field) awayFrom(fine *Field) (most float64) {
	for i := range f.m.active {
		for k := range i {
			a, c := f.m.active[i], f.m.active[k]
			l, _ := f.Coupling(a, c)
			if real, _ := fine.Coupling(a, c); real > nothing {
				most = max(most, math.Abs(l/real-1))
			}
		}
	}
	return most
}

// slabEdge is a basement slab, wall and footing with 20 m of soil: 127 mm of
// concrete on foam and stone, a lined wall of 2 m below grade.
func slabEdge() *Problem { return slabEdgeOf(-20, 4, -20) }

func slabEdgeOf(left, right, bottom float64) *Problem {
	l := &Layout{
		Areas: []Area{
			box(0, left, bottom, right, 2.032),
			box(3, 0.2, -0.33, right, -0.127),
			box(1, -0.05, -0.483, 0.458, -0.229),
			box(2, 0.2, -0.203, right, -0.127),
			box(1, 0.2, -0.127, right, 0),
			box(2, 0.2, -0.203, 0.251, 0),
			box(1, 0, -0.229, 0.2, 3.4),
			box(2, 0.2, 0.0127, 0.276, 3.4),
			box(4, 0.276, 0, 0.366, 3.4),
			box(5, 0.366, 0, 0.3787, 3.4),
			box(2, 0.2, 0, 0.276, 0.0127),
		},
		Surfaces: []Line{
			line(0, at(0.3787, 3.4), at(0.3787, 0)), line(1, at(0.3787, 0), at(right, 0)),
			line(2, at(left, 2.032), at(0, 2.032)), line(2, at(0, 2.032), at(0, 3.4)),
		},
	}
	p := l.Problem()
	p.Regions = []Region{{1.5}, {1.95}, {0.034}, {1.4}, {0.037}, {0.25}}
	p.Spaces = []Space{{"inside", 20}, {"outside", -10}}
	p.Surfaces = []Surface{{0, 0.13}, {0, 0.17}, {1, 0.04}}
	return p
}

// manyParts is a wall of 60 parts that is harsher than one is drawn: a steel bolt
// of 4 mm beside each of 14 studs, far longer than thick.
func manyParts() *Problem {
	l := &Layout{}
	add := func(region int32, x0, y0, x1, y1 float64) {
		l.Areas = append(l.Areas, box(region, x0, y0, x1, y1))
	}
	add(0, 0, 0, 2.4, 0.3)
	add(1, 0, 0, 2.4, 0.0125)
	add(1, 0, 0.1525, 2.4, 0.165)
	add(2, 0, 0.265, 2.4, 0.3)
	for i := range 14 {
		x := 0.08 + 0.165*float64(i)
		add(3, x, 0.0125, x+0.038, 0.1525)
		add(4, x+0.017, 0.1, x+0.021, 0.265)
		add(4, x+0.01, 0.255, x+0.028, 0.265)
		add(5, x-0.03, 0.165, x+0.01, 0.2)
	}
	l.Surfaces = []Line{line(0, at(0, 0), at(2.4, 0)), line(1, at(0, 0.3), at(2.4, 0.3))}
	p := l.Problem()
	p.Regions = []Region{{0.035}, {0.25}, {0.87}, {0.13}, {17}, {0.6}}
	p.Spaces = []Space{{"inside", 20}, {"outside", -10}}
	p.Surfaces = []Surface{{0, 0.13}, {1, 0.04}}
	return p
}

// BenchmarkGrowth solves the slab edge with its soil, halved evenly, on ever more
// unknowns: layout, factorisation and one load of the equations for temperature.
func BenchmarkGrowth(b *testing.B) {
	f := solved(b, slabEdge(), 0.0004)
	msh, m := f.g.mesh, f.m
	for range 8 {
		if g := newGrid(msh, m.film); g.nodes > 9000 {
			idle := g.bodies(m)
			b.Run(fmt.Sprintf("%d", g.nodes), func(b *testing.B) {
				start := processorTime()
				for b.Loop() {
					var w workspace
					if err := m.newPrimal(g, idle, &w).solve(m); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric((processorTime()-start)*1e3/float64(b.N), "cpu-ms/op")
			})
			if g.nodes > 400000 {
				return
			}
		}
		w := &wants{}
		for range msh.p {
			w.point = append(w.point, math.Inf(1))
		}
		for t := range msh.tri {
			_, e := msh.longest(int32(t))
			v := msh.tri[t].v
			x, y, z := msh.p[v[0]], msh.p[v[1]], msh.p[v[2]]
			w.spots = append(w.spots, spot{pt{(x.x + y.x + z.x) / 3, (x.y + y.y + z.y) / 3}, int32(t), math.Sqrt(e) * 0.6})
		}
		msh.refine(w, 1<<30)
	}
}

// BenchmarkNextTemperatures lays other temperatures over a solved field.
func BenchmarkNextTemperatures(b *testing.B) {
	f := solved(b, slabEdge(), 0.002)
	for b.Loop() {
		f.With([]float64{21, -4})
	}
}

// BenchmarkCached reads a solved field back.
func BenchmarkCached(b *testing.B) {
	c := Cache{b.TempDir()}
	p := slabEdge()
	for b.Loop() {
		if _, _, err := c.Solve(p, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// processorTime is what the process has used of the processors, s: other work
// on the machine does not count.
func processorTime() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return float64(u.Utime.Sec+u.Stime.Sec) + float64(u.Utime.Usec+u.Stime.Usec)*1e-6
}
