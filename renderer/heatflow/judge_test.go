package heatflow

import (
	"math"
	"slices"
	"testing"
)

// sparse is a symmetric matrix by rows, lower triangle with the diagonal last.
type sparse struct {
	start []int
	col   []int
	value []float64
}

// gathered sums elements, each entry found by its place.
func gathered(n int, list []element) *sparse {
	rows := make([]map[int]float64, n)
	for i := range rows {
		rows[i] = map[int]float64{}
	}
	for _, e := range list {
		for i, r := range e.at {
			for j, c := range e.at {
				if r >= 0 && c >= 0 && c <= r {
					rows[r][int(c)] += e.k[i][j]
				}
			}
		}
	}
	s := &sparse{start: make([]int, n+1)}
	for i, row := range rows {
		var cols []int
		for c := range row {
			cols = append(cols, c)
		}
		slices.Sort(cols)
		for _, c := range cols {
			s.col, s.value = append(s.col, c), append(s.value, row[c])
		}
		s.start[i+1] = len(s.col)
	}
	return s
}

func (s *sparse) times(x, out []float64) {
	clear(out)
	for i := range out {
		for p := s.start[i]; p < s.start[i+1]; p++ {
			c, v := s.col[p], s.value[p]
			out[i] += v * x[c]
			if c != i {
				out[c] += v * x[i]
			}
		}
	}
}

// modified returns the modified incomplete Cholesky factor without fill:
// what it drops goes to the diagonal, by the share omega (Gustafsson 1978).
func (s *sparse) modified(omega float64) *sparse {
	n := len(s.start) - 1
	l := &sparse{s.start, s.col, slices.Clone(s.value)}
	diagonal := make([]float64, n)
	for i := range n {
		at := map[int]int{}
		for p := s.start[i]; p < s.start[i+1]; p++ {
			at[s.col[p]] = p
		}
		last := s.start[i+1] - 1
		for p := s.start[i]; p < last; p++ {
			k := s.col[p]
			sum := l.value[p]
			for q := s.start[k]; q < s.start[k+1]-1; q++ {
				if r, ok := at[s.col[q]]; ok && s.col[q] < k {
					sum -= l.value[r] * l.value[q]
				}
			}
			l.value[p] = sum / diagonal[k]
		}
		d := l.value[last]
		for p := s.start[i]; p < last; p++ {
			d -= l.value[p] * l.value[p]
		}
		if d <= 1e-3*s.value[last] { // quadratic elements are no M-matrix: hold the pivot up
			d = s.value[last] * (1 - omega + 0.05)
		}
		diagonal[i] = math.Sqrt(d)
		l.value[last] = diagonal[i]
	}
	return l
}

// solve is L·Lᵀ x = b.
func (s *sparse) solve(b, x []float64) {
	n := len(x)
	for i := range n {
		v := b[i]
		last := s.start[i+1] - 1
		for p := s.start[i]; p < last; p++ {
			v -= s.value[p] * x[s.col[p]]
		}
		x[i] = v / s.value[last]
	}
	for i := n - 1; i >= 0; i-- {
		last := s.start[i+1] - 1
		x[i] /= s.value[last]
		for p := s.start[i]; p < last; p++ {
			x[s.col[p]] -= s.value[p] * x[i]
		}
	}
}

// iterate solves by preconditioned conjugate gradients.
func (s *sparse) iterate(b []float64, tolerance float64) (x []float64, steps int) {
	n := len(b)
	l := s.modified(0.9)
	x = make([]float64, n)
	r, z, d, q := slices.Clone(b), make([]float64, n), make([]float64, n), make([]float64, n)
	dot := func(a, b []float64) (sum float64) {
		for i := range a {
			sum += a[i] * b[i]
		}
		return sum
	}
	l.solve(r, z)
	copy(d, z)
	rho, first := dot(r, z), dot(b, b)
	for steps = 1; steps <= 20*n; steps++ {
		s.times(d, q)
		a := rho / dot(d, q)
		for i := range x {
			x[i] += a * d[i]
			r[i] -= a * q[i]
		}
		if dot(r, r) <= tolerance*tolerance*first {
			break
		}
		l.solve(r, z)
		next := dot(r, z)
		for i := range d {
			d[i] = z[i] + next/rho*d[i]
		}
		rho = next
	}
	return x, steps
}

// The factorisation agrees with an iteration that shares nothing with it but
// the elements, on sections of contrasts up to 1 : 10,000.
func TestFactorsAgainstIteration(t *testing.T) {
	contrast := metalCase()
	contrast.Regions[2].Conductivity = 290
	for name, p := range map[string]*Problem{"rim": femCases(t)[0].problem(), "eave": femCases(t)[1].problem(), "metal": contrast, "foil": filmCase(0.0002, 200), "felt": filmCase(0.002, 0.0006)} {
		f := solved(t, p, 0.002)
		m, idle := f.m, f.g.bodies(f.m)
		var w workspace
		check := func(what string, s *system, fill func(b []float64), got []float64) {
			b := make([]float64, s.n)
			fill(b)
			x, steps := gathered(s.n, s.list).iterate(b, 1e-13)
			top := 0.0
			for _, v := range x {
				top = max(top, math.Abs(v))
			}
			for v, d := range s.dof {
				if d >= 0 && math.Abs(x[d]-got[v]) > 1e-8*top {
					t.Fatalf("%s, %s: node %d: %.12g by iteration, %.12g", name, what, v, x[d], got[v])
				}
			}
			t.Logf("%s, %s: %d unknowns, %d steps", name, what, s.n, steps)
		}
		primal := m.newPrimal(f.g, idle, &w)
		check("temperature", primal.system, func(b []float64) { primal.load(m, 0, b) }, f.p.u[0])
		dual := m.newDual(f.g, idle, nil, &w)
		check("stream function", dual.system, func(b []float64) { dual.load(m, 0, b) }, f.d.u[0])
	}
}
