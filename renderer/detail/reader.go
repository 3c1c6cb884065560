package detail

import (
	"fmt"
	"sort"
	"strings"

	"wythe/renderer/finding"
	"wythe/renderer/material"
	"wythe/renderer/strict"
	"wythe/renderer/units"
)

// reader reads one detail file. Its findings go to a list of its own, so that
// files can be read side by side.
type reader struct {
	d    *Detail
	lib  *Library // settings and materials alone, until all files are in
	list finding.List
	top  strict.Map // the front matter

	texts     []said // texts in which marks and figures may stand
	materials map[string]bool
	laid      []string // marks of the assemblies laid, as written
	successor strict.Node
	markNode  strict.Node
	broken    string // the mark of a file that cannot be read, as far as it can be seen
}

// said is a text with its place.
type said struct {
	node strict.Node
	text string
}

// text reads a text in which marks link and figures print.
func (r *reader) text(n strict.Node) string {
	s := n.Text()
	if s != "" {
		r.texts = append(r.texts, said{n, s})
	}
	return s
}

// linkedTexts reads a list of such texts.
func (r *reader) linkedTexts(n strict.Node) []string {
	items := n.OneOrMore()
	if len(items) == 0 {
		return nil
	}
	out := make([]string, 0, len(items))
	for _, i := range items {
		if t := r.text(i); t != "" {
			out = append(out, t)
		}
	}
	return out
}

// material reads a material: a name of the table, or one in place.
func (r *reader) material(n strict.Node) *material.Material {
	if n.IsZero() {
		return nil
	}
	if n.IsMap() {
		m, ok := material.InPlace(n)
		if !ok {
			return nil
		}
		return m
	}
	name := n.Text()
	if name == "" {
		return nil
	}
	return r.materialNamed(n, name)
}

func (r *reader) materialNamed(n strict.Node, name string) *material.Material {
	m, ok := r.lib.Materials.Lookup(name)
	if r.materials == nil {
		r.materials = make(map[string]bool, 8)
	}
	if !ok {
		r.materials[name] = true
		n.Errorf("unknown-material", r.lib.Materials.Suggest(name), "unknown material %q", name)
		return nil
	}
	r.materials[m.Name] = true
	return m
}

// length reads a length that is above zero.
func (r *reader) length(n strict.Node) units.Length {
	return positive(n, units.ParseLength)
}

// positive reads a quantity that is above zero.
func positive[T ~float64](n strict.Node, parse func(string) (T, error)) T {
	v, ok := strict.Quantity(n, parse)
	if ok && v <= 0 {
		n.Errorf("not-above-zero", "write a size above zero, or take the key out", "%q is not above zero", n.Written())
		return 0
	}
	return v
}

// count reads a whole number within limits.
func count(n strict.Node, least, most int) int {
	v, ok := strict.Quantity(n, units.ParseCount)
	if ok && (v < least || v > most) {
		n.Errorf("out-of-range", fmt.Sprintf("write a whole number from %d to %d", least, most), "%q is not from %d to %d", n.Written(), least, most)
		return 0
	}
	return v
}

// pair reads two lengths above zero: 4 in x 4 in.
func pair(n strict.Node) [2]units.Length {
	v, ok := strict.Quantity(n, func(s string) ([2]units.Length, error) {
		a, b, err := units.ParsePair(s)
		return [2]units.Length{a, b}, err
	})
	if ok && (v[0] <= 0 || v[1] <= 0) {
		n.Errorf("not-above-zero", "write two sizes above zero", "%q is not above zero", n.Written())
		return [2]units.Length{}
	}
	return v
}

// oneOf reads a word of a key that has a list of words.
func oneOf[T ~string](m strict.Map, keys *Keys, name string) T {
	n := m.Get(name)
	if n.IsZero() {
		return ""
	}
	w, _ := strict.Word(n, name, keys.words(name)...)
	return T(w)
}

// controls reads a list of control words.
func controls(n strict.Node) []Control {
	items := n.OneOrMore()
	if len(items) == 0 {
		return nil
	}
	out := make([]Control, 0, len(items))
	for _, i := range items {
		c, ok := strict.Word(i, "control", AirTight, VaporTight, Water, Thermal)
		if !ok {
			continue
		}
		if has(out, c) {
			i.Errorf("stands-twice", "keep one of them", "control %q stands twice", c)
			continue
		}
		out = append(out, c)
	}
	return out
}

// slope reads a pitch.
func slope(n strict.Node) *Pitch {
	a, ok := strict.Quantity(n, units.ParseAngle)
	if !ok {
		return nil
	}
	return &Pitch{Angle: a, Written: n.Written()}
}

// scale reads 1:8, or a trade scale: 1 1/2 in = 1 ft.
func scale(n strict.Node) Scale {
	if n.IsZero() {
		return 0
	}
	s := n.Text()
	if s == "" {
		return 0
	}
	v, ok := parseScale(s)
	if !ok {
		n.Errorf("bad-scale", "write a scale as 1:8 or 1 1/2 in = 1 ft", "%q is no scale", s)
	}
	return v
}

// Scales beyond these are a slip of the hand.
const (
	largestScale  = 1    // full size
	smallestScale = 5000 // a site plan
)

func parseScale(s string) (Scale, bool) {
	var v float64
	if paper, real, ok := strings.Cut(s, "="); ok {
		a, err := units.ParseLength(strings.TrimSpace(paper))
		b, err2 := units.ParseLength(strings.TrimSpace(real))
		if err != nil || err2 != nil || a <= 0 {
			return 0, false
		}
		v = float64(b / a)
	} else {
		one, n, ok := strings.Cut(s, ":")
		if !ok || strings.TrimSpace(one) != "1" {
			return 0, false
		}
		f, err := units.ParseNumber(n)
		if err != nil {
			return 0, false
		}
		v = f
	}
	if v < largestScale || v > smallestScale {
		return 0, false
	}
	// 1 1/2 in = 1 ft is 1:8 exactly, whatever the division leaves.
	if r := float64(int(v + 0.5)); v-r < 1e-9 && r-v < 1e-9 {
		v = r
	}
	return Scale(v), true
}

func has[T comparable](list []T, x T) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}

// need complains of the keys of a kind that must be there and are not.
func need(m strict.Map, keys *Keys) {
	for i := range keys.List {
		if keys.List[i].Must {
			m.Need(keys.List[i].Name)
		}
	}
}

// open reads a map of a kind: unknown and missing keys are findings.
func open(n strict.Node, keys *Keys) (strict.Map, bool) {
	m := n.Map(keys.names)
	if !m.IsMap() {
		return m, false
	}
	need(m, keys)
	return m, true
}

// openFile opens a whole front matter. A key of another kind is said already.
func openFile(n strict.Node, keys *Keys) (strict.Map, bool) {
	m := n.MapFunc(keys.names, func(key string) bool { return has(deciding[:], key) })
	if !m.IsMap() {
		return m, false
	}
	need(m, keys)
	return m, true
}

// unknownName is a finding of a name that is none of those known.
func unknownName(n strict.Node, what, name string, known []string) {
	mend := finding.DidYouMean(name, known)
	if mend == "" {
		mend = "there are: " + strings.Join(known, ", ")
		if len(known) == 0 {
			mend = "there is none"
		}
	}
	n.Errorf("unknown-name", mend, "no %s is named %q", what, name)
}

func sorted(set map[string]bool) []string {
	if len(set) == 0 {
		return nil
	}
	out := make([]string, 0, len(set))
	for s := range set {
		out = append(out, s)
	}
	sort.Strings(out)
	return out
}
