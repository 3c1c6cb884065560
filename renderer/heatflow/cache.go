package heatflow

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"os"
	"path/filepath"
)

// Version names the solver: a cached field of another is not used.
const Version = "3"

// Cache keeps solved fields in a folder by their content, so that a section is
// solved once. The zero value keeps nothing. Temperatures and names of spaces
// are no part of the content: a field serves any.
type Cache struct{ Folder string }

// SolveOn is [Field.SolveOn] from the cache.
func (c Cache) SolveOn(on *Field, p *Problem, o Options) (f *Field, err error) {
	if c.Folder == "" {
		return on.SolveOn(p)
	}
	a, b := contentKey(on.m.Problem, o), contentKey(p, o)
	f, _, err = c.keep(sha256.Sum256(append(a[:], b[:]...)), p, func() (*Field, error) { return on.SolveOn(p) })
	return f, err
}

// Solve returns the field of a problem from the cache, or solves it and puts it
// there. An entry that is damaged, foreign or of another version is ignored and
// written anew; a folder that cannot be written costs time, not the result.
func (c Cache) Solve(p *Problem, o Options) (f *Field, kept bool, err error) {
	if c.Folder == "" {
		f, err = Solve(p, o)
		return f, false, err
	}
	if err := p.check(); err != nil {
		return nil, false, err
	}
	return c.keep(contentKey(p, o), p, func() (*Field, error) { return Solve(p, o) })
}

// keep returns the field under a key, or solves it and puts it there.
func (c Cache) keep(key [32]byte, p *Problem, solve func() (*Field, error)) (f *Field, kept bool, err error) {
	file := filepath.Join(c.Folder, hex.EncodeToString(key[:16])+".heat")
	if b, err := os.ReadFile(file); err == nil {
		if f := unpack(b, key, p); f != nil {
			return f, true, nil
		}
	}
	if f, err = solve(); err != nil {
		return nil, false, err
	}
	writeWhole(file, pack(f, key))
	return f, false, nil
}

// writeWhole puts a file in place at once: a reader sees the old or the new.
func writeWhole(file string, b []byte) {
	if os.MkdirAll(filepath.Dir(file), 0o777) != nil {
		return
	}
	t, err := os.CreateTemp(filepath.Dir(file), ".heat-*")
	if err != nil {
		return
	}
	_, err = t.Write(b)
	if e := t.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(t.Name(), file)
	}
	if err != nil {
		os.Remove(t.Name())
	}
}

// contentKey is the hash of all that a field depends on.
func contentKey(p *Problem, o Options) [32]byte {
	o = o.settled()
	w := writer{}
	w.text("wythe heat flow " + Version)
	w.number(o.Tolerance, o.Temperature, float64(o.Most))
	w.count(len(p.Points), len(p.Edges), len(p.Regions), len(p.Surfaces), len(p.Films), len(p.Spaces))
	for _, q := range p.Points {
		w.b = binary.AppendVarint(w.b, q.X)
		w.b = binary.AppendVarint(w.b, q.Y)
	}
	for _, e := range p.Edges {
		w.index(e.A, e.B, e.Left, e.Right, e.Surface, e.Film)
	}
	for _, r := range p.Regions {
		w.number(r.Conductivity)
	}
	for _, s := range p.Surfaces {
		w.index(s.Space)
		w.number(s.Resistance)
	}
	for _, f := range p.Films {
		w.number(f.Thickness, f.Conductivity)
	}
	return sha256.Sum256(w.b)
}

const magic = "wythe.heat.1\n"

// pack writes a field: magic, key, hash of the rest, the rest.
func pack(f *Field, key [32]byte) []byte {
	w := writer{}
	m := f.g.mesh
	w.count(len(m.p), len(m.tri), len(m.seg), len(f.m.active), f.p.nodes, f.d.nodes, f.Rounds, f.p.n)
	for _, q := range m.p {
		w.b = binary.AppendVarint(w.b, q.x)
		w.b = binary.AppendVarint(w.b, q.y)
	}
	for _, t := range m.tri {
		for i := range 3 {
			w.index(t.v[i], t.n[i], t.s[i])
		}
		w.index(t.region)
	}
	for _, s := range m.seg {
		w.index(s.a, s.b, s.edge)
	}
	w.number(f.uneven, f.p.worst, f.d.worst)
	for _, b := range f.bounds {
		for _, row := range b {
			w.number(row...)
		}
	}
	for l := range f.m.active {
		w.number(f.p.u[l]...)
		w.number(f.d.u[l]...)
	}
	sum := sha256.Sum256(w.b)
	out := append([]byte(magic), key[:]...)
	out = append(out, sum[:]...)
	return append(out, w.b...)
}

// unpack reads a field back; nil where anything is not as it was written.
func unpack(b []byte, key [32]byte, p *Problem) *Field {
	b, ok := bytes.CutPrefix(b, []byte(magic))
	if !ok || len(b) < 64 || !bytes.Equal(b[:32], key[:]) {
		return nil
	}
	if sum := sha256.Sum256(b[64:]); !bytes.Equal(sum[:], b[32:64]) {
		return nil
	}
	r := reader{b: b[64:]}
	points, tris, segs, active, pn, dn, rounds, unknowns := r.count(), r.count(), r.count(), r.count(), r.count(), r.count(), r.count(), r.count()
	f := &Field{m: newModel(p), Rounds: rounds}
	if r.bad || active != len(f.m.active) {
		return nil
	}
	m := &mesh{p: make([]pt, points), tri: make([]triangle, tris), seg: make([]segment, segs)}
	for i := range m.p {
		m.p[i] = pt{r.varint(), r.varint()}
	}
	for k := range m.tri {
		t := &m.tri[k]
		for i := range 3 {
			t.v[i], t.n[i], t.s[i] = r.index(points), r.index(tris), r.index(segs)
		}
		t.region = r.index(len(p.Regions))
	}
	for i := range m.seg {
		m.seg[i] = segment{r.index(points), r.index(points), r.index(len(p.Edges))}
	}
	if r.bad {
		return nil
	}
	f.g = newGrid(m, f.m.film)
	idle := f.g.bodies(f.m)
	holes, ok := f.m.branches(f.g)
	if !ok {
		return nil
	}
	var w workspace
	f.p, f.d = f.m.newPrimal(f.g, idle, &w), f.m.newDual(f.g, idle, holes, &w)
	if f.p.nodes != pn || f.d.nodes != dn || f.p.n != unknowns {
		return nil
	}
	f.uneven, f.p.worst, f.d.worst = r.number(), r.number(), r.number()
	for i := range f.bounds {
		f.bounds[i] = square0(active)
		for _, row := range f.bounds[i] {
			r.numbers(row)
		}
	}
	for range active {
		u, psi := make([]float64, pn), make([]float64, dn)
		r.numbers(u)
		r.numbers(psi)
		f.p.u, f.d.u = append(f.p.u, u), append(f.d.u, psi)
	}
	if r.bad || len(r.b) != 0 {
		return nil
	}
	f.p.release()
	f.d.release()
	f.finish()
	return f
}

type writer struct{ b []byte }

func (w *writer) text(s string) { w.b = append(w.b, s...) }

func (w *writer) count(n ...int) {
	for _, v := range n {
		w.b = binary.AppendUvarint(w.b, uint64(v))
	}
}

// index writes numbers from −1 on.
func (w *writer) index(n ...int32) {
	for _, v := range n {
		w.b = binary.AppendUvarint(w.b, uint64(v+1))
	}
}

func (w *writer) number(x ...float64) {
	for _, v := range x {
		w.b = binary.LittleEndian.AppendUint64(w.b, math.Float64bits(v))
	}
}

type reader struct {
	b   []byte
	bad bool
}

func (r *reader) uvarint() uint64 {
	v, n := binary.Uvarint(r.b)
	if n <= 0 {
		r.bad, r.b = true, nil
		return 0
	}
	r.b = r.b[n:]
	return v
}

func (r *reader) varint() int64 {
	v, n := binary.Varint(r.b)
	if n <= 0 {
		r.bad, r.b = true, nil
		return 0
	}
	r.b = r.b[n:]
	return v
}

// count reads how many of something follow: never more than bytes are left.
func (r *reader) count() int {
	v := r.uvarint()
	if v > uint64(len(r.b))*8 {
		r.bad = true
		return 0
	}
	return int(v)
}

func (r *reader) index(below int) int32 {
	v := int64(r.uvarint()) - 1
	if v >= int64(below) {
		r.bad = true
		return -1
	}
	return int32(v)
}

func (r *reader) number() float64 {
	var x [1]float64
	r.numbers(x[:])
	return x[0]
}

func (r *reader) numbers(out []float64) {
	if len(r.b) < 8*len(out) {
		r.bad, r.b = true, nil
		return
	}
	for i := range out {
		out[i] = math.Float64frombits(binary.LittleEndian.Uint64(r.b[8*i:]))
	}
	r.b = r.b[8*len(out):]
}
