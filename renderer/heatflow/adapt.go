package heatflow

import "math"

// Where temperature starts as r^α with α under singular, a point asks for a
// graded mesh.
const singular = 0.99

// sharp is the exponent under which a point's mesh is graded before the first
// solve: what a crude mesh says of such a point is of little use.
const sharp = 0.9

// finest is the least size of a triangle that is asked for, grains: sections are
// drawn to the micrometre, and no field within a few of them is known.
const finest = 4 * grainsPerMicrometre

// tune holds what trials on sections settled: they change the price of a mesh,
// never what the bounds say.
var tune = struct {
	first     float64 // edges at a sharp point of the first mesh, over the distance of what lies nearest
	corner    float64 // misfit a triangle at a graded point may keep, over that of others
	grade     float64 // growth of sizes away from a graded point
	shrink    float64 // the least shrinking of a graded point in the first two rounds,
	shrinkOn  float64 // and after, when the estimate is of the point itself
	cut       float64 // the most parts a triangle is cut in in a round,
	cornerCut float64 // and one at a graded point
	aim       float64 // misfit aimed at, over the one allowed
	leap      float64 // the most by which misfit is to fall in one round
}{first: 9, corner: 64, grade: 2, shrink: 0.35, shrinkOn: 1.0 / 32, cut: 4, cornerCut: 2, aim: 0.8, leap: 10}

// wants says how long edges may be, grains: near points where the field is
// not smooth, and at places in the smooth field.
type wants struct {
	point []float64 // of each point
	spots []spot
}

// spot asks the triangle at a place to have no edge longer than size.
type spot struct {
	at   pt
	near int32 // a triangle that was there
	size float64
}

// between gives a new point in the middle of an edge its wants.
func (w *wants) between(a, b int32, length float64) {
	w.point = append(w.point, min(w.point[a], w.point[b])+tune.grade*length/2)
}

// start returns the wants of the first mesh of a section, for a solve to a
// tolerance: triangles of some shape about sharp points.
func start(m *mesh, alpha []float64, tolerance float64) *wants {
	// A looser solve can do with a cruder mesh.
	first := tune.first * math.Sqrt(max(1, tolerance/0.005))
	w := &wants{point: make([]float64, len(m.p))}
	for v := range w.point {
		w.point[v] = math.Inf(1)
	}
	for t := range m.tri {
		for i, v := range m.tri[t].v {
			if alpha[v] < sharp {
				w.point[v] = min(w.point[v], first*m.reach(int32(t), int32(i)))
			}
		}
	}
	return w
}

// plan returns the wants that bring the misfit down to target, and that of no
// triangle above its own limit.
//
// The misfit of a triangle in a smooth field falls with the sixth power of its
// size: cut in n it leaves 1/n² of itself, and n ∝ misfit^(1/3) is the cheapest.
// At a point where temperature starts as r^α it falls with the power 2α.
func plan(g *grid, misfit, limit, alpha []float64, target, shrink float64) *wants {
	graded := func(v int32) bool { return int(v) < len(alpha) && alpha[v] < singular }
	mu := share(misfit, target)
	w := &wants{point: make([]float64, len(g.p))}
	for v := range w.point {
		w.point[v] = math.Inf(1)
	}
	over, feature := make([]float64, len(alpha)), make([]float64, len(alpha))
	for v := range feature {
		feature[v] = math.Inf(1)
	}
	for t, e := range misfit {
		_, long := g.longest(int32(t))
		long = math.Sqrt(long)
		keep := min(mu, limit[t])
		v := &g.tri[t].v
		most := tune.cut
		if graded(v[0]) || graded(v[1]) || graded(v[2]) {
			most = tune.cornerCut
			for i, v := range v {
				if graded(v) {
					over[v] = max(over[v], e/min(tune.corner*mu, limit[t]))
					feature[v] = min(feature[v], g.reach(int32(t), int32(i)))
				}
			}
		}
		if e > keep && long > finest {
			long /= math.Sqrt(min(math.Cbrt(e/keep), most))
			a, b, c := g.p[v[0]], g.p[v[1]], g.p[v[2]]
			w.spots = append(w.spots, spot{pt{(a.x + b.x + c.x) / 3, (a.y + b.y + c.y) / 3}, int32(t), long})
		}
	}
	for v, e := range over {
		if e > 1 {
			w.point[v] = max(feature[v]*max(math.Pow(e, -1/(2*max(alpha[v], 0.25))), shrink), finest)
		}
	}
	return w
}

// share returns the misfit each triangle is to keep so that all come to
// target: those that need no cut keep what they have.
func share(misfit []float64, target float64) float64 {
	mu := math.Inf(1)
	for range 5 {
		kept, rest := 0.0, 0.0
		for _, e := range misfit {
			if e <= mu && !math.IsInf(mu, 1) {
				kept += e
			} else {
				rest += math.Cbrt(e)
			}
		}
		if rest == 0 {
			break
		}
		mu = math.Pow(max(target-kept, target/4)/rest, 1.5)
	}
	return mu
}

// reach returns how near the edge opposite corner i of t comes to it, grains.
func (m *mesh) reach(t, i int32) float64 {
	v := &m.tri[t].v
	p, a, b := m.p[v[i]], m.p[v[after(i)]], m.p[v[before(i)]]
	dx, dy := float64(b.x-a.x), float64(b.y-a.y)
	ex, ey := float64(p.x-a.x), float64(p.y-a.y)
	s := min(max((dx*ex+dy*ey)/(dx*dx+dy*dy), 0), 1)
	return math.Hypot(ex-s*dx, ey-s*dy)
}
