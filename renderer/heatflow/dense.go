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

// four factors the columns c to n, four at most, and takes them from those up
// to end.
func (a *assembler) four(c, n, end, m int, column *[panel][]float64, pivot *[panel]float64, base int) {
	f := a.f
	var inv [4]float64
	var l [4][4]float64      // of L, between these columns
	var lower [4][]float64   // of L, from row n on
	for q := c; q < n; q++ { // the block on the diagonal
		k := q - c
		row := f[q*(q+1)/2+c : q*(q+1)/2+q+1]
		for o := range k {
			for e := range o {
				row[o] -= l[o][e] * row[e]
			}
		}
		for o := range k {
			l[k][o] = row[o] * inv[o]
			row[k] -= l[k][o] * row[o]
		}
		d := row[k]
		if !(d > 0) || d > 1e300 {
			if a.err == nil {
				a.err = fmt.Errorf("heat flow: pivot %g is not above zero", d)
			}
			d = 1
		}
		inv[k] = 1 / d
		pivot[q-base] = d
	}
	a.inverse = append(a.inverse, inv[:n-c]...)
	a.lower = slices.Grow(a.lower, (n-c)*(m-c-1)) // once: what follows points into it
	for q := c; q < n; q++ {
		k := q - c
		start := len(a.lower)
		a.lower = a.lower[:start+m-q-1]
		own := a.lower[start:]
		for i := range n - q - 1 {
			own[i] = l[k+1+i][k]
		}
		lower[k] = own[n-1-q:]
		column[q-base] = own[end-1-q:]
	}
	a.rowsBelow(c, n, m, &lower, &l, &inv)
	if n == end {
		return
	}
	for i := n; i < m; i++ {
		b := i * (i + 1) / 2
		row := f[b+n : b+min(end, i+1)]
		minus(row, lower[:n-c], pivot[c-base:], i-n)
	}
}

// rowsBelow finds the rows of L below a block of columns c to n.
func (a *assembler) rowsBelow(c, n, m int, lower *[4][]float64, l *[4][4]float64, inv *[4]float64) {
	f := a.f
	b := n*(n+1)/2 + c
	if n-c < 4 {
		for i := range m - n {
			for k := range n - c {
				y := f[b+k]
				for o := range k {
					y -= l[k][o] * f[b+o]
				}
				f[b+k] = y
				lower[k][i] = y * inv[k]
			}
			b += n + i + 1
		}
		return
	}
	l10, l20, l21, l30, l31, l32 := l[1][0], l[2][0], l[2][1], l[3][0], l[3][1], l[3][2]
	i0, i1, i2, i3 := inv[0], inv[1], inv[2], inv[3]
	w := m - n
	a0, a1, a2, a3 := lower[0][:w], lower[1][:w], lower[2][:w], lower[3][:w]
	for i := range w {
		x := f[b : b+4 : b+4]
		y0 := x[0]
		y1 := x[1] - l10*y0
		y2 := x[2] - l20*y0 - l21*y1
		y3 := x[3] - l30*y0 - l31*y1 - l32*y2
		a0[i], a1[i], a2[i], a3[i] = y0*i0, y1*i1, y2*i2, y3*i3
		b += n + i + 1
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
