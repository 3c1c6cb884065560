package heatflow

import (
	"fmt"
	"slices"
)

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
