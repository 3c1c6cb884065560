package section

import (
	"wythe/renderer/detail"
	"wythe/renderer/geometry"
	"wythe/renderer/units"
)

// layFilmLayer lays a thin membrane layer of an assembly as a line between
// its neighbours.
func (r *resolver) layFilmLayer(i int, p *detail.Part, layer int) {
	l, ok := r.side(sideKey{i, layer, p.Inside}, p.At)
	if !ok {
		r.bad[i] = true
		return
	}
	s1, s2 := detail.Bottom, detail.Top
	if sideAxis(p.Inside) == upward {
		s1, s2 = detail.Left, detail.Right
	}
	var ends [2]vec
	for n, s := range [...]detail.Side{s1, s2} {
		e, ok := r.side(sideKey{i, layer, s}, p.At)
		if ok {
			ends[n], ok = meet(l, e)
		}
		if !ok {
			r.bad[i] = true
			return
		}
	}
	a, b := ends[0], ends[1]
	if s1 == detail.Left && a.x >= b.x || s1 == detail.Bottom && a.y >= b.y {
		r.fail(i, "negative-size", "look at the edges it is given", "%q has no size: its ends stand the wrong way round", r.partName(i, layer))
		return
	}
	out := outwardOf(opposite(p.Inside), l)
	mat := r.stacks[i].layers[layer]
	f := Film{Part: i, Layer: layer, Name: r.partName(i, layer), Material: mat.Material, Thickness: mat.Total(), Seal: -1, Mark: r.stacks[i].detail.Mark, LayerOf: mat, Control: mat.Control, Lap: mat.Lap}
	r.addFilm(i, p, f, []vec{a, b}, []piece{{out, rankLayer + layer<<12}})
}

// layFilm lays a film part along points or over faces.
func (r *resolver) layFilm(i int, p *detail.Part) {
	pts, ok := r.pointsOf(i, p.At)
	if !ok {
		r.bad[i] = true
		return
	}
	if len(pts) < 2 {
		r.fail(i, "film-points", "give it a point more, or a face to lie on", "film %q has %d point", p.Name, len(pts))
		return
	}
	pieces := r.pieces[i]
	if pieces == nil {
		pieces = make([]piece, len(pts)-1)
		for k := range pieces {
			pieces[k].rank = (i + 1) << 10
		}
	}
	f := Film{Part: i, Layer: -1, Name: p.Name, Material: p.Material, Thickness: p.Thickness, Seal: -1, Control: p.Control, Lap: p.Lap}
	r.addFilm(i, p, f, pts, pieces)
}

func (r *resolver) addFilm(i int, p *detail.Part, f Film, pts []vec, pieces []piece) {
	if p.Beyond {
		return
	}
	for n := range r.instances(i, p) {
		step := r.repeatStep(p, n)
		f.Instance, f.Line, f.Normal, f.Rank = n, nil, nil, nil
		for k, v := range pts {
			q := vec{v.x + step.x, v.y + step.y}.round()
			if !inLimit(q) {
				r.fail(i, "part-endless", "give its ends", "film %q runs beyond 250 m", p.Name)
				return
			}
			if k > 0 {
				if q == f.Line[len(f.Line)-1] {
					continue
				}
				a := pts[k-1]
				o := pieces[k-1].outward
				f.Rank = append(f.Rank, pieces[k-1].rank)
				switch s := (v.x-a.x)*o.y - (v.y-a.y)*o.x; {
				case s > 0:
					f.Normal = append(f.Normal, 1)
				case s < 0:
					f.Normal = append(f.Normal, -1)
				default:
					f.Normal = append(f.Normal, 0)
				}
			}
			f.Line = append(f.Line, q)
		}
		if len(f.Line) < 2 {
			r.fail(i, "film-points", "give it a point more", "film %q has no length", p.Name)
			return
		}
		r.section.Films = append(r.section.Films, f)
	}
}

// reaches is how far a seal holds from its place, by its word: half a tape,
// the collar of a boot, the joint a bead fills (common practice).
var reaches = map[string]units.Length{
	"tape":    0.0508,
	"boot":    0.1016,
	"sealant": 0.0254, "gasket": 0.0254, "weld": 0.0254, "clamp": 0.0254, "coating": 0.0254,
}

// laySeal places a seal and finds what it joins.
func (r *resolver) laySeal(i int, p *detail.Part) {
	s := Seal{Part: i, Reach: reaches[p.SealWord]}
	if s.Reach == 0 {
		s.Reach = reaches["sealant"]
	}
	if p.Place != nil {
		pts, ok := r.pointsOf(i, p.At)
		if !ok {
			r.bad[i] = true
			return
		}
		s.Place, s.Placed = pts[0].round(), true
	}
	if len(p.Joins) < 2 {
		r.fail(i, "seal-joins", "name the two parts: `joins: [film, wall.concrete]`", "seal %q joins fewer than two parts", p.Name)
		return
	}
	for _, name := range p.Joins {
		m, ok := r.member(i, name)
		if !ok {
			return
		}
		s.Joins = append(s.Joins, m)
	}
	r.section.Seals = append(r.section.Seals, s)
}

// member finds `part` or `part.layer`.
func (r *resolver) member(i int, name string) (Member, bool) {
	part, layer, _ := cutName(name)
	k, ok := r.memberKey(part, layer, i, r.j.Parts[i].At)
	return Member{k.part, k.layer, name}, ok
}

func cutName(name string) (part, layer string, ok bool) {
	for n := range len(name) {
		if name[n] == '.' {
			return name[:n], name[n+1:], true
		}
	}
	return name, "", false
}

// lineBox is the box around a line.
func lineBox(line []geometry.Point) geometry.Box {
	b := geometry.EmptyBox()
	for _, p := range line {
		b = b.Grow(p)
	}
	return b
}
