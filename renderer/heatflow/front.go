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
	f      []float64
	err    error
}

// left is what a part passes on: unknowns and Schur complement on the stacks.
type left struct{ dofs, count, schur int }

// leafSize is the most elements of a part that is not halved.
const leafSize = 4

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
	dofs := a.dofs[c.dofs : c.dofs+c.count]
	k := 0
	for i, d := range dofs {
		r := a.place[d]
		base := r * (r + 1) / 2
		for _, e := range dofs[:i+1] {
			q := a.place[e]
			if q <= r {
				a.f[base+q] += s[k]
			} else {
				a.f[q*(q+1)/2+r] += s[k]
			}
			k++
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

// panel is how many pivots are taken before the rest of a front hears of them:
// a row stays in the nearest cache while they all are taken from it.
const panel = 32

// dense factors the first p columns of the front's m rows.
func (a *assembler) dense(m, p int) {
	for k := 0; k < p; k += panel {
		end := min(k+panel, p)
		var pivot [panel]float64
		var column [panel][]float64 // of L, from row end on
		for c := k; c < end; c += 4 {
			a.four(c, min(c+4, end), end, m, &column, &pivot, k)
		}
		a.behind(end, m, column[:end-k], pivot[:end-k])
	}
}

// four factors the columns c to n, and takes them from those up to end.
func (a *assembler) four(c, n, end, m int, column *[panel][]float64, pivot *[panel]float64, base int) {
	f := a.f
	var near [4][]float64 // of L, from row n on
	for q := c; q < n; q++ {
		d := f[q*(q+1)/2+q]
		if !(d > 0) || d > 1e300 {
			if a.err == nil {
				a.err = fmt.Errorf("heat flow: pivot %g is not above zero", d)
			}
			d = 1
		}
		inv := 1 / d
		a.inverse = append(a.inverse, inv)
		pivot[q-base] = d
		start := len(a.lower)
		a.lower = slices.Grow(a.lower, m-q-1)[:start+m-q-1]
		lower := a.lower[start:]
		b := (q + 1) * (q + 2) / 2
		switch n - q {
		case 1:
			for r := range lower {
				lower[r] = f[b+q] * inv
				b += q + 2 + r
			}
		case 2:
			u := f[(q+1)*(q+2)/2+q]
			for r := range lower {
				l := f[b+q] * inv
				lower[r] = l
				f[b+q+1] -= l * u
				b += q + 2 + r
			}
		default:
			for r := range lower {
				i := q + 1 + r
				l := f[b+q] * inv
				lower[r] = l
				for o := q + 1; o < n && o <= i; o++ {
					f[b+o] -= l * f[o*(o+1)/2+q]
				}
				b += i + 1
			}
		}
		near[q-c] = lower[n-1-q:]
		column[q-base] = lower[end-1-q:]
	}
	if n == end {
		return
	}
	for i := n; i < m; i++ {
		b := i * (i + 1) / 2
		row := f[b+n : b+min(end, i+1)]
		minus(row, near[:n-c], pivot[c-base:], i-n)
	}
}

// behind takes columns from all rows from end on, two rows at a time.
func (a *assembler) behind(end, m int, column [][]float64, pivot []float64) {
	f := a.f
	i := end
	for ; i+1 < m; i += 2 {
		b, j := i*(i+1)/2, i-end
		row, next := f[b+end:b+i+1], f[b+i+1+end:b+i+1+i+2]
		q := 0
		for ; q+4 <= len(column); q += 4 {
			c, d, e, g := column[q], column[q+1], column[q+2], column[q+3]
			s, t, u, v := pivot[q], pivot[q+1], pivot[q+2], pivot[q+3]
			eight(row, next, c, d, e, g, c[j]*s, d[j]*t, e[j]*u, g[j]*v, c[j+1]*s, d[j+1]*t, e[j+1]*u, g[j+1]*v)
			last := len(next) - 1
			next[last] -= c[j+1]*c[j+1]*s + d[j+1]*d[j+1]*t + e[j+1]*e[j+1]*u + g[j+1]*g[j+1]*v
		}
		if q < len(column) {
			minus(row, column[q:], pivot[q:], j)
			minus(next, column[q:], pivot[q:], j+1)
		}
	}
	if i < m {
		b := i * (i + 1) / 2
		minus(f[b+end:b+i+1], column, pivot, i-end)
	}
}

// minus takes columns from a row, each times its pivot and its entry j.
func minus(row []float64, column [][]float64, pivot []float64, j int) {
	q := 0
	for ; q+4 <= len(column); q += 4 {
		a, b, c, d := column[q], column[q+1], column[q+2], column[q+3]
		minus4(row, a, b, c, d, a[j]*pivot[q], b[j]*pivot[q+1], c[j]*pivot[q+2], d[j]*pivot[q+3])
	}
	for ; q < len(column); q++ {
		minus1(row, column[q], column[q][j]*pivot[q])
	}
}

// eight is minus4 for two rows of the same columns; next may be longer.
func eight(row, next, a, b, c, d []float64, u, v, w, x, u1, v1, w1, x1 float64) {
	n := len(row)
	next, a, b, c, d = next[:n], a[:n], b[:n], c[:n], d[:n]
	for i := range row {
		p, q, r, s := a[i], b[i], c[i], d[i]
		row[i] -= u*p + v*q + w*r + x*s
		next[i] -= u1*p + v1*q + w1*r + x1*s
	}
}

func minus4(row, a, b, c, d []float64, u, v, w, x float64) {
	a, b, c, d = a[:len(row)], b[:len(row)], c[:len(row)], d[:len(row)]
	for i := range row {
		row[i] -= u*a[i] + v*b[i] + w*c[i] + x*d[i]
	}
}

func minus1(row, a []float64, u float64) {
	a = a[:len(row)]
	for i := range row {
		row[i] -= u * a[i]
	}
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
