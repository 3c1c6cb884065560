package heatflow

// gradients returns d_ij = A ∇λ_i·∇λ_j of the linear shape functions of t.
func (g *grid) gradients(t int32) (d [3][3]float64) {
	b, c, area2 := g.slopes(t)
	s := 1 / (2 * area2)
	for i := range 3 {
		for j := range 3 {
			d[i][j] = (b[i]*b[j] + c[i]*c[j]) * s
		}
	}
	return d
}

// slopes returns 2A ∇λ_i = (b_i, c_i) of t and twice its area, m².
func (g *grid) slopes(t int32) (b, c [3]float64, area2 float64) {
	v := &g.tri[t].v
	x0, y0, x1, y1, x2, y2 := g.x[v[0]], g.y[v[0]], g.x[v[1]], g.y[v[1]], g.x[v[2]], g.y[v[2]]
	b = [3]float64{y1 - y2, y2 - y0, y0 - y1}
	c = [3]float64{x2 - x1, x0 - x2, x1 - x0}
	return b, c, b[0]*c[1] - b[1]*c[0]
}

// matrix6 is a symmetric element matrix.
type matrix6 [6][6]float64

// stiffness returns the conduction matrix of a quadratic triangle of
// conductivity s: corners 0 to 2, then the nodes opposite corners 0 to 2.
// Integrated exactly: with d_ij = A ∇λ_i·∇λ_j, whose rows sum to zero.
func stiffness(d *[3][3]float64, s float64, k *matrix6) {
	for i := range 3 {
		j, l := (i+1)%3, (i+2)%3
		k[i][i] = s * d[i][i]
		e := -s / 3 * d[i][j]
		k[i][j], k[j][i] = e, e
		// Node 3+i is the middle of edge j–l.
		k[3+i][3+i] = s * 8 / 3 * (d[j][j] + d[l][l] + d[j][l])
		e = s * 4 / 3 * d[j][l]
		k[j][3+i], k[3+i][j], k[l][3+i], k[3+i][l] = e, e, e, e
		k[i][3+i], k[3+i][i] = 0, 0
		// Middles of j–l and of l–i share l; the rest is d of j and i.
		e = s * 8 / 3 * d[j][i]
		k[3+i][3+j], k[3+j][3+i] = e, e
	}
}

// massOf is the matrix of ∫ u² over a quadratic edge of unit length (two
// ends, then the middle), times 30; stretchOf that of ∫ (∂u/∂s)², times 3.
var (
	massOf    = [3][3]float64{{4, -1, 2}, {-1, 4, 2}, {2, 2, 16}}
	stretchOf = [3][3]float64{{7, 1, -8}, {1, 7, -8}, {-8, -8, 16}}
)

// onSide adds c times an edge matrix to that of a triangle, on the edge
// opposite its corner i.
func (k *matrix6) onSide(i int32, of *[3][3]float64, c float64) {
	n := [3]int32{after(i), before(i), 3 + i}
	for a := range 3 {
		for b := range 3 {
			k[n[a]][n[b]] += c * of[a][b]
		}
	}
}

// across returns the matrix of c ∫ (u − w)² over an edge of which u and w are
// the values on its two sides: ends and middle of the one, then of the other.
func across(c float64, length float64) (k matrix6) {
	c *= length / 30
	for a := range 3 {
		for b := range 3 {
			m := c * massOf[a][b]
			k[a][b], k[3+a][3+b] = m, m
			k[a][3+b], k[3+a][b] = -m, -m
		}
	}
	return k
}
