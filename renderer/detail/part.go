package detail

import (
	"strings"

	"wythe/renderer/strict"
)

// The keys of each kind of part, beside those that any may have.
var (
	boxKeys  = []string{"left", "right", "width", "bottom", "top", "height", "pitch", "seat", "ends"}
	anyKeys  = []string{"note", "seen", "repeat"}
	bodyKeys = []string{"control", "water", "joints", "lap"}
	kindKeys = map[PartKind][]string{
		Rectangle: join([]string{"material"}, boxKeys, anyKeys, bodyKeys),
		Laid:      join([]string{"assembly", "inside"}, boxKeys, anyKeys),
		Outline:   join([]string{"material", "outline"}, anyKeys, bodyKeys),
		Film:      join([]string{"film", "thickness", "along", "over", "continues"}, anyKeys, bodyKeys),
		Round:     join([]string{"round", "diameter", "at"}, anyKeys, bodyKeys),
		Seal:      join([]string{"seal", "joins", "at"}, anyKeys, bodyKeys),
	}
	kindNames = map[PartKind]string{
		Rectangle: "a rectangle", Laid: "an assembly laid", Outline: "an outline", Film: "a film", Round: "a round", Seal: "a seal",
	}
)

// PartKeys is one kind of part, as an editor must know it.
type PartKeys struct {
	Key  string   // that makes a part of this kind; "" for a rectangle
	Keys []string // that such a part may have, beside SIDE of LAYER
}

// KindsOfPart returns each kind of part with its keys, rectangles first.
func KindsOfPart() []PartKeys {
	out := []PartKeys{{Keys: kindKeys[Rectangle]}}
	for _, k := range partKinds {
		out = append(out, PartKeys{k.key, kindKeys[k.kind]})
	}
	return out
}

func join(lists ...[]string) []string {
	var out []string
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

// isTrim reports whether a key ends layers of a laid assembly elsewhere:
// SIDE of LAYER….
func isTrim(key string) bool {
	side, _, ok := strings.Cut(key, " of ")
	return ok && isSide(side)
}

// sealWords are how a seal is named without a material.
var sealWords = partKeys.words("seal")

// part reads one part.
func (s *section) part(i partItem) {
	p, m := i.p, i.m
	s.belongs(p, m)
	p.Control = controls(m.Get("control"))
	p.Note = s.text(m.Get("note"))
	p.Wet = oneOf[string](m, partKeys, "water")
	p.Beyond = oneOf[string](m, partKeys, "seen") != ""
	p.Joints = s.text(m.Get("joints"))
	p.Lap = s.length(m.Get("lap"))
	if r, ok := open(m.Get("repeat"), repeatKeys); ok {
		p.Repeat = &Repeat{Every: s.length(r.Get("every")), Count: count(r.Get("count"), 1, 1000), At: r.At()}
	}
	switch p.Kind {
	case Rectangle:
		s.partMaterial(p, m, "material")
		s.box(i)
	case Laid:
		s.laidPart(i)
	case Outline:
		s.partMaterial(p, m, "material")
		p.Points = s.points(m.Get("outline"), "an outline", 3)
	case Film:
		s.partMaterial(p, m, "film")
		s.film(i)
	case Round:
		s.partMaterial(p, m, "round")
		p.Diameter = s.length(m.Need("diameter"))
		p.Center, _ = s.point(m.Need("at"))
	case Seal:
		s.seal(i)
	}
}

// belongs complains of keys that another kind of part has.
func (s *section) belongs(p *Part, m strict.Map) {
	for _, pair := range m.Pairs() {
		key := pair.Key.Written()
		switch {
		case isTrim(key):
			if p.Kind != Laid {
				pair.Key.Errorf("wrong-key", "take it out, or lay an assembly", "only an assembly laid has layers to end elsewhere")
			}
		case has(kindKeys[p.Kind], key) || !has(partKeys.names, key):
		case isKind(key): // two kinds: said already
		default:
			mend := "its keys are: " + strings.Join(kindKeys[p.Kind], ", ")
			pair.Key.Errorf("wrong-key", mend, "%s has no %q", kindNames[p.Kind], key)
		}
	}
}

func isKind(key string) bool {
	for _, k := range partKinds {
		if k.key == key {
			return true
		}
	}
	return false
}

// partMaterial reads the material of a part; none cuts a hole.
func (s *section) partMaterial(p *Part, m strict.Map, key string) {
	n := m.Need(key)
	p.MaterialAt = n.At()
	if n.Written() == "none" {
		if p.Kind == Film {
			n.Errorf("unknown-material", "name the sheet", "a film is of something")
			return
		}
		p.Hole = true
		return
	}
	p.Material = s.material(n)
}

// box reads the edges of a rectangle, upright or pitched.
func (s *section) box(i partItem) {
	p, m := i.p, i.m
	s.sides(m, &p.Box)
	p.Width, p.Height = s.length(m.Get("width")), s.length(m.Get("height"))
	if m.Has("pitch") || m.Has("seat") || m.Has("ends") {
		s.pitched(i)
		m.Need("height")
		s.twoOf(i, "left", "right", "width", "bottom", "top")
		return
	}
	s.twoOf(i, "left", "right", "width")
	s.twoOf(i, "bottom", "top", "height")
	s.ordered(m, &p.Left, &p.Right, "right", "left")
	s.ordered(m, &p.Bottom, &p.Top, "top", "bottom")
}

// twoOf complains unless exactly two of the keys are there.
func (s *section) twoOf(i partItem, keys ...string) {
	var given []string
	for _, k := range keys {
		if i.m.Has(k) {
			given = append(given, k)
		}
	}
	list := strings.Join(keys[:len(keys)-1], ", ") + " and " + keys[len(keys)-1]
	switch {
	case len(given) > 2:
		i.m.Get(given[2]).Errorf("over-constrained", "take one of them out", "part %q has %s: two of %s are enough", i.p.Name, strings.Join(given, ", "), list)
	case len(given) == 1:
		i.key.Errorf("under-constrained", "add one more of "+list, "part %q has %s alone of %s: two are needed", i.p.Name, given[0], list)
	case len(given) == 0:
		i.key.Errorf("under-constrained", "add two of "+list, "part %q has none of %s: two are needed", i.p.Name, list)
	}
}

// pitched reads the slope, the seat and the ends.
func (s *section) pitched(i partItem) {
	p, m := i.p, i.m
	p.Pitch = slope(m.Get("pitch"))
	seat := m.Get("seat")
	switch {
	case m.Has("pitch") && !m.Has("seat"):
		m.Get("pitch").Errorf("pitch-without-seat", "add \"seat: {bottom: [edge, edge]}\"", "part %q has a pitch and no seat: nothing holds it in place", p.Name)
	case m.Has("seat") && !m.Has("pitch"):
		seat.Errorf("seat-without-pitch", "add \"pitch: 8 in 12\", or take the seat out", "part %q has a seat and no pitch", p.Name)
	case m.Has("ends") && !m.Has("pitch"):
		m.Get("ends").Errorf("seat-without-pitch", "add \"pitch: 8 in 12\", or take the key out", "only a pitched part has ends to cut")
	}
	p.Ends = oneOf[string](m, partKeys, "ends")
	pair, ok := seat.OneKey()
	if !ok {
		return
	}
	name := pair.Key.Written()
	dot := strings.LastIndexByte(name, '.')
	side, layer := name[dot+1:], ""
	if dot > 0 {
		layer = name[:dot]
	}
	if !isSide(side) {
		pair.Key.Errorf("unknown-word", "write a side: bottom, or LAYER.bottom", "%q is no side of a part", side)
		return
	}
	if layer != "" && !s.checkPartLayer(pair.Key.At(), p.Name, layer) {
		return
	}
	if at, ok := s.point(pair.Value); ok {
		p.Seat = &Seat{Layer: layer, Side: Side(side), Point: at, At: pair.Key.At()}
	}
}

// laidPart reads where an assembly is laid, and the layers that end elsewhere.
func (s *section) laidPart(i partItem) {
	p, m := i.p, i.m
	p.Inside = oneOf[Side](m, partKeys, "inside")
	m.Need("inside")
	s.sides(m, &p.Box)
	p.Width, p.Height = s.length(m.Get("width")), s.length(m.Get("height"))
	switch {
	case m.Has("pitch") || m.Has("seat") || m.Has("ends"):
		s.pitched(i)
		if h := m.Get("height"); !h.IsZero() {
			h.Errorf("over-constrained", "take it out", "the layers of %s give the thickness of part %q", p.Mark, p.Name)
		}
		s.twoOf(i, "left", "right", "width", "bottom", "top")
	case p.Inside == Left || p.Inside == Right:
		s.oneOf(i, "left", "right", "width")
		s.twoOf(i, "bottom", "top", "height")
		s.ordered(m, &p.Bottom, &p.Top, "top", "bottom")
	case p.Inside == Bottom || p.Inside == Top:
		s.oneOf(i, "bottom", "top", "height")
		s.twoOf(i, "left", "right", "width")
		s.ordered(m, &p.Left, &p.Right, "right", "left")
	}
	for _, pair := range m.Pairs() {
		if key := pair.Key.Written(); isTrim(key) {
			s.trim(p, pair)
		}
	}
}

// oneOf complains unless one of two edges stands there across the layers, and
// no size: the layers give it.
func (s *section) oneOf(i partItem, low, high, size string) {
	m, p := i.m, i.p
	if n := m.Get(size); !n.IsZero() {
		n.Errorf("over-constrained", "take it out", "the layers of %s give the %s of part %q", p.Mark, size, p.Name)
	}
	switch {
	case m.Has(low) && m.Has(high):
		m.Get(high).Errorf("over-constrained", "take one of them out", "part %q has %s and %s: the layers of %s give the other", p.Name, low, high, p.Mark)
	case !m.Has(low) && !m.Has(high):
		i.key.Errorf("under-constrained", "add \""+low+":\" or \""+high+":\"", "part %q has neither %s nor %s", p.Name, low, high)
	}
	for _, key := range [...]string{low, high} {
		if n := m.Get(key); n.Written() == "cut" {
			n.Errorf("bad-edge", "say where that face lies", "a face of the layers cannot run past the view")
		}
	}
}

// trim reads SIDE of LAYER…: edge. Names of layers may hold spaces: the
// longest that fits is taken.
func (s *section) trim(p *Part, pair strict.Pair) {
	key := pair.Key.Written()
	side, rest, _ := strings.Cut(key, " of ")
	t := Trim{Side: Side(side), At: pair.Key.At()}
	a := upright
	if t.Side == Left || t.Side == Right {
		a = across
	}
	t.Edge = s.edge(pair.Value, a)
	if p.Assembly == nil {
		return
	}
	if (a == across) == (p.Inside == Left || p.Inside == Right) && p.Inside != "" && p.Pitch == nil {
		pair.Key.Errorf("wrong-direction", "end them along the layer", "the layers lie one beside the other that way: their %s cannot be moved", side)
		return
	}
	words := strings.Fields(strings.ReplaceAll(rest, ",", " "))
	known := p.Assembly.Assembly.names()
	for len(words) > 0 {
		n := len(words)
		for ; n > 0 && !has(known, strings.Join(words[:n], " ")); n-- {
		}
		if n == 0 {
			at := pair.Key.AtOffset(strings.Index(key, " of ") + len(" of ") + strings.Index(rest, words[0]))
			s.unknown(at, "layer of "+p.Mark, strings.Join(words, " "), known)
			return
		}
		name := strings.Join(words[:n], " ")
		if has(t.Layers, name) {
			pair.Key.Errorf("stands-twice", "keep one of them", "layer %q stands twice", name)
		} else {
			t.Layers = append(t.Layers, name)
		}
		words = words[n:]
	}
	if len(t.Layers) > 0 && t.Edge.Kind != EdgeUnset {
		p.Trims = append(p.Trims, t)
	}
}

func (s *section) film(i partItem) {
	p, m := i.p, i.m
	p.Thickness = s.length(m.Need("thickness"))
	along, over := m.Get("along"), m.Get("over")
	switch {
	case !along.IsZero() && !over.IsZero():
		over.Errorf("over-constrained", "keep one of the two", "film %q goes along points and over faces", p.Name)
	case along.IsZero() && over.IsZero():
		i.key.Errorf("under-constrained", "add \"along:\" with points or \"over:\" with faces", "film %q goes nowhere", p.Name)
	}
	if !along.IsZero() {
		p.Points = s.points(along, "a film", 2)
	}
	items := over.List()
	if over.IsList() && len(items) == 0 {
		over.Errorf("too-few-points", "name the faces that it lies on", "film %q goes over no face", p.Name)
	}
	for k, n := range items {
		if f, ok := s.overFace(n, k); ok {
			p.Over = append(p.Over, f)
		}
	}
	if len(items) > 0 && len(p.Over) == len(items) && p.Over[0].Side == "" && len(items) == 1 {
		over.Errorf("too-few-points", "add the faces that it goes on over", "film %q starts from another and goes nowhere", p.Name)
	}
	p.Continues = s.carriers(m.Get("continues"))
}

func (s *section) overFace(n strict.Node, k int) (OverFace, bool) {
	text := n.Text()
	if text == "" {
		return OverFace{}, false
	}
	f, err := ParseOver(text)
	if err != nil {
		s.badWords(n, "bad-face", err)
		return OverFace{}, false
	}
	f.At = n.At()
	if !s.checkPartLayer(f.At, f.Part, f.Layer) {
		return OverFace{}, false
	}
	p := s.parts[f.Part]
	if f.Side == "" && (p.Kind != Film && f.Layer == "" || p.Kind == Seal) {
		n.Errorf("side-missing", "say which side: "+text+".top", "%q is no film to start from; which of its sides is meant?", text)
		return OverFace{}, false
	}
	return f, true
}

func (s *section) seal(i partItem) {
	p, m := i.p, i.m
	n := m.Get("seal")
	p.MaterialAt = n.At()
	if word := n.Written(); has(sealWords, word) {
		p.SealWord = word
		// A material of that very name gives the seal its figures.
		if mat, ok := s.lib.Materials.Lookup(word); ok {
			p.Material = mat
			s.materialNamed(n, word)
		}
	} else if n.IsMap() || word != "" {
		if _, known := s.lib.Materials.Lookup(word); !known && !n.IsMap() {
			unknownName(n, "seal", word, sealWords)
		} else if p.Material = s.material(n); p.Material != nil {
			if p.SealWord = p.Material.SealWord; p.SealWord == "" {
				n.Errorf("not-a-seal", "name a seal: "+strings.Join(sealWords, ", "), "%q seals nothing", p.Material.Name)
			}
		}
	} else {
		n.Text()
	}
	joins := m.Need("joins")
	p.Joins = s.carriers(joins)
	if items := joins.OneOrMore(); !joins.IsZero() && len(items) < 2 {
		joins.Errorf("too-few-joins", "name the two parts that it joins", "seal %q joins %s alone", p.Name, strings.Join(p.Joins, ""))
	}
	if at, ok := s.point(m.Get("at")); ok {
		p.Place = &at
	}
}
