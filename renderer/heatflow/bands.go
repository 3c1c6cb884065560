package heatflow

// Band is the part of a section at or above a temperature.
type Band struct {
	From float64 // °C
	// Rings bound it, m; each ends where it begins. A place is within where an
	// odd number of rings go round it.
	Rings [][][2]float64
}

// Bands returns where the section is at or above each of the temperatures
// given, °C, its rings drawn within tolerance, m, as [Field.Isotherms] are; -∞
// gives all of the section where some space is felt. Laid over each other in
// rising order they shade the temperature.
func (f *Field) Bands(values []float64, tolerance float64) []Band {
	rim := f.feltRim()
	pieces := f.pieces(f.p.system, f.t, values)
	out := make([]Band, len(values))
	for k, value := range values {
		for _, e := range rim {
			pieces[k] = f.along(e, value, pieces[k])
		}
		out[k].From = value
		for _, ring := range rings(pieces[k]) {
			if ring = simplify(ring, tolerance); len(ring) > 3 {
				out[k].Rings = append(out[k].Rings, ring)
			}
		}
	}
	return out
}

// feltRim is the edges of triangles that no triangle of the same temperatures
// goes on beyond: the outline, and both sides of films that resist.
func (f *Field) feltRim() []side {
	var out []side
	for t := range f.g.tri {
		if f.p.index[t] < 0 {
			continue
		}
		for i := range int32(3) {
			u := f.g.tri[t].n[i]
			if u < 0 || f.p.index[u] < 0 || f.p.node[u][3+f.g.facing(u, int32(t))] != f.p.node[t][3+i] {
				out = append(out, side{t: int32(t), i: i})
			}
		}
	}
	return out
}

// along appends the pieces of an edge at or above value. It cuts and names them
// as march does those of the triangle within.
func (f *Field) along(e side, value float64, out [][2]crossing) [][2]crossing {
	n := &f.p.node[e.t]
	a, b := after(e.i), before(e.i)
	if n[a] > n[b] {
		a, b = b, a
	}
	v := &f.g.tri[e.t].v
	at := func(share float64, name [3]int32) crossing {
		return crossing{name: name,
			x: f.g.x[v[a]]*(1-share) + f.g.x[v[b]]*share,
			y: f.g.y[v[a]]*(1-share) + f.g.y[v[b]]*share}
	}
	corner := func(q int) crossing {
		switch q {
		case 0:
			return at(0, [3]int32{n[a], 0, 2})
		case parts:
			return at(1, [3]int32{n[b], 0, 2})
		}
		return at(float64(q)/parts, [3]int32{n[3+e.i], int32(q), 1})
	}
	temperature := func(q int) float64 {
		var l [3]float64
		l[a], l[b] = float64(parts-q)/parts, float64(q)/parts
		return quadratic(n, f.t, l)
	}
	for q, from := 0, temperature(0); q < parts; q++ {
		to := temperature(q + 1)
		cross := func() crossing {
			return at((float64(q)+(value-from)/(to-from))/parts, [3]int32{n[3+e.i], int32(q), 0})
		}
		switch {
		case from >= value && to >= value:
			out = append(out, [2]crossing{corner(q), corner(q + 1)})
		case from >= value:
			out = append(out, [2]crossing{corner(q), cross()})
		case to >= value:
			out = append(out, [2]crossing{cross(), corner(q + 1)})
		}
		from = to
	}
	return out
}

// rings strings pieces together to closed lines. Any even number of pieces may
// meet at a crossing.
func rings(pieces [][2]crossing) [][][2]float64 {
	first := make(map[[3]int32]int32, len(pieces)) // the last end of a piece at a crossing, from 1
	other := make([]int32, 2*len(pieces))          // the one before it there
	for i, p := range pieces {
		for k, c := range p {
			other[2*i+k] = first[c.name]
			first[c.name] = int32(2*i + k + 1)
		}
	}
	used := make([]bool, len(pieces))
	var out [][][2]float64
	for i, p := range pieces {
		if used[i] {
			continue
		}
		used[i] = true
		ring := [][2]float64{{p[0].x, p[0].y}}
		for c := p[1]; ; {
			ring = append(ring, [2]float64{c.x, c.y})
			end := first[c.name] - 1
			for end >= 0 && used[end/2] {
				end = other[end] - 1
			}
			if end < 0 {
				if c.name == p[0].name {
					ring[len(ring)-1] = ring[0] // the same crossing, reckoned from the other side
				}
				break
			}
			used[end/2] = true
			c = pieces[end/2][1-end%2]
		}
		out = append(out, ring)
	}
	return out
}
