package heatflow

import (
	"fmt"
	"slices"
)

// element is a symmetric matrix between six unknowns; −1: held, takes no part.
// An unknown may occur twice.
type element struct {
	at [6]int32
	k  matrix6
}

// factors is a symmetric positive definite matrix as L·D·Lᵀ, in fronts: dense
// blocks of unknowns that are eliminated together.
type factors struct {
	n       int
	fronts  []front
	rows    []int32
	lower   []float64
	inverse []float64 // of D, in order of elimination
	deepest int       // rows of the largest front
	work    []float64
}

// front: its rows begin with its pivots; the column of each pivot below its
// diagonal lies in lower, one after the other.
type front struct {
	rows, count, pivots int32
	lower, inverse      int32
}

// assembler factors the sum of elements.
//
// Method: geometric nested dissection (George 1973) of the elements, halved at
// the median of their middles' longer spread until few are left; an unknown is
// eliminated in the smallest part that holds all its elements. Each part is a
// dense front that adds up what its halves leave and passes on its Schur
// complement (multifrontal LDLᵀ, Duff and Reid 1983).
//
// An assembler is used again and again: its factors are good until the next.
type assembler struct {
	factors
	list   []element
	order  []int32
	uses   []int32 // per unknown: its places in all elements
	seen   []int32 // per unknown: its places in the part at hand
	place  []int32 // per unknown: its row in the front at hand
	dofs   []int32 // stack of what parts leave: unknowns
	counts []int32 // and their places so far
	schur  []float64
	rowsOf []int32 // of the front at hand: where what a half leaves goes
	f      []float64
	err    error
}

// left is what a part passes on: unknowns and Schur complement on the stacks.
type left struct{ dofs, count, schur int }

// leafSize is the most elements of a part that is not halved.
const leafSize = 8

// factor finds the factors of the sum of elements over n unknowns, in an order
// by [dissect]. Errors: a pivot that is not above zero, which a well-posed
// section does not have.
func (a *assembler) factor(n int, list []element, order []int32) error {
	a.n, a.list, a.order, a.err, a.deepest = n, list, order, nil, 0
	a.fronts, a.rows, a.lower, a.inverse = a.fronts[:0], a.rows[:0], a.lower[:0], a.inverse[:0]
	a.dofs, a.counts, a.schur = a.dofs[:0], a.counts[:0], a.schur[:0]
	a.lower, a.rows = slices.Grow(a.lower, 24*n), slices.Grow(a.rows, 6*n)
	a.uses, a.seen, a.place = zeroed(a.uses, n), zeroed(a.seen, n), zeroed(a.place, n)
	for i := range list {
		for _, d := range list[i].at {
			if d >= 0 {
				a.uses[d]++
			}
		}
	}
	a.part(0, len(list))
	if a.err == nil && len(a.inverse) != n {
		panic(fmt.Sprintf("heatflow: %d of %d unknowns eliminated", len(a.inverse), n))
	}
	return a.err
}

// zeroed returns n zeros, in s where it has room.
func zeroed[T int32 | float64](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n, n+n/2)
	}
	s = s[:n]
	clear(s)
	return s
}

func (a *assembler) part(lo, hi int) left {
	dofs, counts, schur := len(a.dofs), len(a.counts), len(a.schur)
	if hi-lo <= leafSize {
		first := len(a.rows)
		for _, e := range a.order[lo:hi] {
			for _, d := range a.list[e].at {
				if d >= 0 {
					if a.seen[d] == 0 {
						a.rows = append(a.rows, d)
					}
					a.seen[d]++
				}
			}
		}
		m := a.open(first)
		for _, e := range a.order[lo:hi] {
			a.addElement(&a.list[e])
		}
		return a.eliminate(first, m, dofs, counts, schur)
	}
	mid := (lo + hi) / 2
	l := a.part(lo, mid)
	r := a.part(mid, hi)
	if a.err != nil {
		return left{}
	}
	first := len(a.rows)
	for _, c := range [2]left{l, r} {
		for k := range c.count {
			d := a.dofs[c.dofs+k]
			if a.seen[d] == 0 {
				a.rows = append(a.rows, d)
			}
			a.seen[d] += a.counts[c.dofs+k]
		}
	}
	m := a.open(first)
	a.addLeft(l)
	a.addLeft(r)
	return a.eliminate(first, m, dofs, counts, schur)
}

// open sorts the rows of a new front, pivots first, and clears its matrix: the
// lower triangle row by row.
func (a *assembler) open(first int) int {
	rows := a.rows[first:]
	p := 0
	for k, d := range rows {
		if a.seen[d] == a.uses[d] {
			rows[k], rows[p] = rows[p], d
			p++
		}
	}
	for k, d := range rows {
		a.place[d] = int32(k)
	}
	m := len(rows)
	size := m * (m + 1) / 2
	if cap(a.f) < size {
		a.f = make([]float64, size, 2*size)
	}
	a.f = a.f[:size]
	clear(a.f)
	a.fronts = append(a.fronts, front{rows: int32(first), count: int32(m), pivots: int32(p), lower: int32(len(a.lower)), inverse: int32(len(a.inverse))})
	a.deepest = max(a.deepest, m)
	return m
}

func (a *assembler) addElement(e *element) {
	var at [6]int32
	for i, d := range e.at {
		at[i] = -1
		if d >= 0 {
			at[i] = a.place[d]
		}
	}
	for i, r := range at {
		if r < 0 {
			continue
		}
		row := a.f[r*(r+1)/2 : r*(r+1)/2+r+1]
		for j, c := range at {
			if c >= 0 && c <= r {
				row[c] += e.k[i][j]
			}
		}
	}
}

func (a *assembler) addLeft(c left) {
	s := a.schur[c.schur:]
	at := a.rowsOf[:0]
	for _, d := range a.dofs[c.dofs : c.dofs+c.count] {
		at = append(at, a.place[d])
	}
	a.rowsOf = at
	for i, r := range at {
		base := int(r) * int(r+1) / 2
		row := a.f[base : base+int(r)+1]
		own := s[:i+1]
		s = s[i+1:]
		for k, q := range at[:i+1] {
			if int(q) < len(row) {
				row[q] += own[k]
			} else {
				a.f[int(q)*int(q+1)/2+int(r)] += own[k]
			}
		}
	}
}

// eliminate takes the pivots out of the front and leaves its Schur complement
// on the stacks, which are cut back to where they were before its halves.
func (a *assembler) eliminate(first, m, dofs, counts, schur int) left {
	p := int(a.fronts[len(a.fronts)-1].pivots)
	a.dense(m, p)
	a.dofs, a.counts, a.schur = a.dofs[:dofs], a.counts[:counts], a.schur[:schur]
	rows := a.rows[first:]
	for _, d := range rows[p:] {
		a.dofs = append(a.dofs, d)
		a.counts = append(a.counts, a.seen[d])
	}
	for _, d := range rows {
		a.seen[d] = 0
	}
	for i := p; i < m; i++ {
		b := i * (i + 1) / 2
		a.schur = append(a.schur, a.f[b+p:b+i+1]...)
	}
	return left{dofs, m - p, schur}
}

// solve overwrites b with the solution of A·x = b.
func (f *factors) solve(b []float64) {
	f.work = zeroed(f.work, f.deepest)
	t := f.work
	for k := range f.fronts {
		r := &f.fronts[k]
		rows := f.rows[r.rows : r.rows+r.count]
		x := t[:len(rows)]
		for i, d := range rows {
			x[i] = b[d]
		}
		l := f.lower[r.lower:]
		for p := range int(r.pivots) {
			y := x[p+1:]
			minus1(y, l, x[p])
			l = l[len(y):]
		}
		for i, d := range rows {
			b[d] = x[i]
		}
	}
	for k := len(f.fronts) - 1; k >= 0; k-- {
		r := &f.fronts[k]
		rows := f.rows[r.rows : r.rows+r.count]
		x := t[:len(rows)]
		for i, d := range rows {
			x[i] = b[d]
		}
		p, m := int(r.pivots), len(rows)
		end := int(r.lower) + p*m - p*(p+1)/2
		for p--; p >= 0; p-- {
			y := x[p+1:]
			l := f.lower[end-len(y) : end]
			end -= len(y)
			v := x[p] * f.inverse[int(r.inverse)+p]
			for i, c := range l {
				v -= c * y[i]
			}
			x[p] = v
			b[rows[p]] = v
		}
	}
}
