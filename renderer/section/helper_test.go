package section

import (
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/material"
	"wythe/renderer/units"
)

// in2 is a square inch in µm², twice: areas here are given twice.
const in2 = 2 * 25400 * 25400

// hatches gives the stand-in materials of these tests their hatch.
var hatches = map[string]material.Hatch{
	"soil": material.Earth, "concrete": material.Concrete, "XPS": material.RigidInsulation,
	"stone": material.WashedStone, "membrane": material.Membrane, "air": material.Air,
	"wool": material.Batt, "timber": material.SawnTimber, "gypsum": material.Gypsum,
	"plywood": material.Plywood, "steel": material.Steel, "pipe": material.Metal,
}

// read makes a junction of text in the file language, as far as these tests
// use it. Assemblies are given beside it, each a list of name material thickness.
func read(t testing.TB, text string, assemblies map[string][]string) *detail.Junction {
	t.Helper()
	var root yaml.Node
	if err := yaml.Unmarshal([]byte(text), &root); err != nil {
		t.Fatal(err)
	}
	q := &reading{t: t, details: map[string]*detail.Detail{}}
	for mark, layers := range assemblies {
		a := &detail.Assembly{}
		for _, l := range layers {
			f := strings.SplitN(l, " ", 3)
			a.Layers = append(a.Layers, &detail.Layer{Name: f[0], Material: q.material(f[1]), Thickness: q.length(f[2]), Courses: 1})
		}
		q.details[mark] = &detail.Detail{Mark: mark, Assembly: a}
	}
	j := &detail.Junction{}
	q.each(root.Content[0], func(key string, v *yaml.Node) {
		switch key {
		case "levels":
			q.each(v, func(name string, e *yaml.Node) {
				j.Levels = append(j.Levels, detail.Level{Name: name, Edge: q.edge(e), At: at(e)})
			})
		case "view":
			j.View = q.box(v)
		case "plan":
			j.Plan = true
		case "parts":
			for _, item := range v.Content {
				j.Parts = append(j.Parts, q.part(item.Content[0], item.Content[1]))
			}
		case "spaces":
			q.each(v, func(name string, e *yaml.Node) {
				s := &detail.Space{Name: name, At: at(e)}
				q.each(e, func(key string, v *yaml.Node) {
					if key == "at" {
						s.Points = []detail.Point{q.point(v)}
					} else {
						s.As = v.Value
					}
				})
				j.Spaces = append(j.Spaces, s)
			})
		default:
			t.Fatalf("unknown key %q", key)
		}
	})
	return j
}

type reading struct {
	t       testing.TB
	details map[string]*detail.Detail
}

func at(n *yaml.Node) finding.Position {
	return finding.Position{File: "J.md", Line: n.Line, Column: n.Column}
}

func (q *reading) each(n *yaml.Node, f func(key string, v *yaml.Node)) {
	for i := 0; i < len(n.Content); i += 2 {
		f(n.Content[i].Value, n.Content[i+1])
	}
}

func (q *reading) material(name string) *material.Material {
	h, ok := hatches[name]
	if !ok {
		q.t.Fatalf("no stand-in material %q", name)
	}
	return &material.Material{Name: name, Hatch: h, Conductivity: 1}
}

func (q *reading) length(s string) units.Length {
	l, err := units.ParseCoordinate(s)
	if err != nil {
		q.t.Fatal(err)
	}
	return l
}

func (q *reading) edge(n *yaml.Node) detail.Edge {
	e, err := detail.ParseEdge(n.Value)
	if err != nil {
		q.t.Fatalf("%s: %v", n.Value, err)
	}
	e.At, e.Written = at(n), n.Value
	return e
}

func (q *reading) point(n *yaml.Node) detail.Point {
	if n.Kind == yaml.ScalarNode { // where A meets B
		a, b, _ := strings.Cut(strings.TrimPrefix(n.Value, "where "), " meets ")
		x, y := *n, *n
		x.Value, y.Value = a, b
		return detail.Point{X: q.edge(&x), Y: q.edge(&y), Meets: true, At: at(n)}
	}
	return detail.Point{X: q.edge(n.Content[0]), Y: q.edge(n.Content[1]), At: at(n)}
}

func (q *reading) points(n *yaml.Node) (out []detail.Point) {
	for _, p := range n.Content {
		out = append(out, q.point(p))
	}
	return out
}

func (q *reading) box(n *yaml.Node) (b detail.Box) {
	q.each(n, func(key string, v *yaml.Node) { *boxEdge(&b, detail.Side(key)) = q.edge(v) })
	return b
}

func (q *reading) part(name, n *yaml.Node) *detail.Part {
	p := &detail.Part{Name: name.Value, At: at(name)}
	q.each(n, func(key string, v *yaml.Node) {
		switch key {
		case "material":
			if p.Hole = v.Value == "none"; !p.Hole {
				p.Material = q.material(v.Value)
			}
		case "left", "right", "bottom", "top":
			*boxEdge(&p.Box, detail.Side(key)) = q.edge(v)
		case "width":
			p.Width = q.length(v.Value)
		case "height":
			p.Height = q.length(v.Value)
		case "thickness":
			p.Thickness = q.length(v.Value)
		case "assembly":
			p.Kind, p.Mark, p.Assembly = detail.Laid, v.Value, q.details[v.Value]
		case "inside":
			p.Inside = detail.Side(v.Value)
		case "outline":
			p.Kind, p.Points = detail.Outline, q.points(v)
		case "film":
			p.Kind, p.Material = detail.Film, q.material(v.Value)
		case "along":
			p.Points = q.points(v)
		case "over":
			for _, f := range v.Content {
				p.Over = append(p.Over, q.face(f))
			}
		case "round":
			p.Kind, p.Material = detail.Round, q.material(v.Value)
		case "diameter":
			p.Diameter = q.length(v.Value)
		case "seal":
			p.Kind, p.SealWord = detail.Seal, v.Value
		case "joins":
			for _, x := range v.Content {
				p.Joins = append(p.Joins, x.Value)
			}
		case "at":
			c := q.point(v)
			p.Center, p.Place = c, &c
		case "pitch":
			a, err := units.ParseAngle(v.Value)
			if err != nil {
				q.t.Fatal(err)
			}
			p.Pitch = &detail.Pitch{Angle: a, Written: v.Value}
		case "ends":
			p.Ends = v.Value
		case "seat":
			f := q.edge(v.Content[0])
			p.Seat = &detail.Seat{Layer: f.Part, Side: f.Side, Point: q.point(v.Content[1]), At: at(v)}
			if f.Layer != "" {
				p.Seat.Layer = f.Layer
			}
			if f.Part == p.Name && f.Layer == "" {
				p.Seat.Layer = ""
			}
		case "repeat":
			p.Repeat = &detail.Repeat{At: at(v)}
			q.each(v, func(key string, v *yaml.Node) {
				if key == "every" {
					p.Repeat.Every = q.length(v.Value)
				} else if err := v.Decode(&p.Repeat.Count); err != nil {
					q.t.Fatal(err)
				}
			})
		case "seen":
			p.Beyond = true
		default:
			side, layers, ok := strings.Cut(key, " of ")
			if !ok {
				q.t.Fatalf("unknown key %q", key)
			}
			p.Trims = append(p.Trims, detail.Trim{Side: detail.Side(side), Layers: strings.Fields(layers), Edge: q.edge(v), At: at(v)})
		}
	})
	return p
}

func (q *reading) face(n *yaml.Node) detail.OverFace {
	words := strings.Fields(n.Value)
	names := strings.Split(words[0], ".")
	o := detail.OverFace{Part: names[0], At: at(n)}
	rest := names[1:]
	if len(rest) > 0 && strings.Contains("left right bottom top", rest[len(rest)-1]) {
		o.Side = detail.Side(rest[len(rest)-1])
		rest = rest[:len(rest)-1]
	}
	if len(rest) > 0 {
		o.Layer = rest[0]
	}
	if len(words) > 1 {
		o.Direction, o.Length = words[1], q.length(strings.Join(words[2:], " "))
	}
	return o
}

// resolve lays a junction that must have no finding.
func resolve(t testing.TB, text string, assemblies map[string][]string) *Section {
	t.Helper()
	s, list := Resolve(read(t, text, assemblies), nil, Options{})
	for _, i := range list.Items {
		t.Errorf("%s", i)
	}
	if s == nil {
		t.FailNow()
	}
	return s
}

// areas gives the visible area of each name, twice, µm².
func (s *Section) areas() map[string]int64 {
	out := map[string]int64{}
	for _, f := range s.Faces {
		out[s.Name(f.Region)] += f.Area2
	}
	return out
}
