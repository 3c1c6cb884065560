package revision

import (
	"crypto/sha256"
	"encoding/hex"
	"hash"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"wythe/renderer/detail"
	"wythe/renderer/geometry"
	"wythe/renderer/material"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

// fingerprintVersion is the version of what a fingerprint covers. A change of
// what it covers, or of how it is set down, takes the next number.
const fingerprintVersion = "1"

// Fingerprint returns the fingerprint of an assembly or junction: a version, a
// hyphen, and the SHA-256 of what is built and said, in hex. It is "" for a
// junction without its section, and for any other file.
//
// Laws. Each is a test.
//
//  1. The same thing said in another unit, order of keys or spacing has the
//     same fingerprint.
//  2. A change of a length, layer, part, name of a material, laid assembly or
//     note changes it.
//  3. A change of status, revisions, values of materials, studies, targets or
//     climate does not.
func Fingerprint(d *detail.Detail, s *section.Section) string {
	c := &canon{h: sha256.New()}
	switch {
	case d.Assembly != nil:
		c.said(d)
		c.assembly(d.Assembly)
	case d.Junction != nil && s != nil:
		c.said(d)
		c.junction(d.Junction, s)
	default:
		return ""
	}
	c.flush()
	return fingerprintVersion + "-" + hex.EncodeToString(c.h.Sum(nil))
}

// Short returns the part of a fingerprint that pages print.
func Short(fingerprint string) string {
	_, sum, ok := strings.Cut(fingerprint, "-")
	if !ok || len(sum) < shortest {
		return fingerprint
	}
	return sum[:shortest]
}

const shortest = 12

// Readable reports whether a fingerprint is one that this program can hold
// against a detail.
func Readable(fingerprint string) bool {
	version, sum, ok := strings.Cut(fingerprint, "-")
	if !ok || version != fingerprintVersion || len(sum) != 2*sha256.Size {
		return false
	}
	_, err := hex.DecodeString(sum)
	return err == nil
}

// canon sets values down one after the other, each ended by a byte that none
// of them holds.
type canon struct {
	h   hash.Hash
	buf []byte
}

const (
	ends   = 0x1f
	starts = 0x1e
)

func (c *canon) flush() {
	c.h.Write(c.buf)
	c.buf = c.buf[:0]
}

// key begins a group of values.
func (c *canon) key(name string) {
	if len(c.buf) > 4<<10 {
		c.flush()
	}
	c.buf = append(c.buf, starts)
	c.buf = append(append(c.buf, name...), ends)
}

// text sets words down with every run of space made one.
func (c *canon) text(s string) {
	space := false
	start := len(c.buf)
	part := func() {
		if space {
			c.buf = append(c.buf, ' ')
			space = false
		}
	}
	for i := 0; i < len(s); {
		from := i
		for i < len(s) && s[i] > ' ' && s[i] < utf8.RuneSelf {
			i++
		}
		if i > from {
			part()
			c.buf = append(c.buf, s[from:i]...)
			continue
		}
		r, n := utf8.DecodeRuneInString(s[i:])
		i += n
		switch r {
		case ' ', '\t', '\n', '\r', '\u00a0', '\u2028', '\u2029':
			space = len(c.buf) > start
		default:
			part()
			c.buf = utf8.AppendRune(c.buf, r)
		}
	}
	c.buf = append(c.buf, ends)
}

func (c *canon) texts(name string, list []string) {
	if len(list) == 0 {
		return
	}
	c.key(name)
	for _, s := range list {
		c.text(s)
	}
}

func (c *canon) int(v int64) { c.buf = append(strconv.AppendInt(c.buf, v, 10), ends) }

// length is set down in whole nanometres.
func (c *canon) length(v units.Length) { c.int(int64(math.Round(float64(v) * 1e9))) }

// number is set down in nine digits, more than any unit's conversion loses.
func (c *canon) number(v float64) { c.buf = append(strconv.AppendFloat(c.buf, v, 'e', 8, 64), ends) }

func (c *canon) flag(v bool) {
	if v {
		c.int(1)
		return
	}
	c.int(0)
}

func (c *canon) point(p geometry.Point) {
	c.int(int64(p.X))
	c.int(int64(p.Y))
}

func (c *canon) points(list []geometry.Point) {
	c.int(int64(len(list)))
	for _, p := range list {
		c.point(p)
	}
}

func (c *canon) controls(list []detail.Control) {
	sorted := slices.Clone(list)
	slices.Sort(sorted)
	for _, x := range sorted {
		c.text(string(x))
	}
}

func (c *canon) material(m *material.Material) {
	if m == nil {
		c.text("")
		return
	}
	c.text(m.Name)
}

// said are the words of a detail that are not part of its geometry.
func (c *canon) said(d *detail.Detail) {
	c.key("detail")
	c.text(d.Mark)
	c.text(d.Title)
	c.texts("use for", d.UseFor)
	c.texts("not for", d.NotFor)
	c.texts("cautions", d.Cautions)
	for i := range d.Sequence {
		s := &d.Sequence[i]
		c.key("step")
		for _, words := range [...]string{s.Do, s.Trade, s.Caution, s.Hold, s.ReleasedBy} {
			c.text(words)
		}
		c.texts("shows", s.Shows)
		c.texts("tools", s.Tools)
		c.texts("materials", s.Materials)
	}
	c.key("notes")
	c.text(d.Body)
}

func (c *canon) penetrations(list []detail.Penetration) {
	for _, p := range list {
		c.key("penetration")
		c.text(p.What)
		names := make([]string, 0, len(p.Seals))
		for name := range p.Seals {
			names = append(names, name)
		}
		slices.Sort(names)
		for _, name := range names {
			c.text(name)
			c.text(p.Seals[name])
		}
	}
}

func (c *canon) assembly(a *detail.Assembly) {
	c.stack(a)
	if l := a.Loads; l != nil {
		c.key("loads")
		c.number(float64(l.Live))
		if p := l.Point; p != nil {
			c.number(float64(p.Load))
			c.length(p.On[0])
			c.length(p.On[1])
			c.text(p.Where)
			c.text(p.Lasts)
		}
	}
	c.penetrations(a.Penetrations)
}

// stack is what is built of an assembly.
func (c *canon) stack(a *detail.Assembly) {
	c.key("assembly")
	c.text(string(a.Element))
	if a.Pitch != nil {
		c.number(float64(a.Pitch.Angle))
	}
	for _, l := range a.Layers {
		c.layer(l)
	}
}

func (c *canon) layer(l *detail.Layer) {
	c.key("layer")
	c.text(l.Name)
	c.material(l.Material)
	c.length(l.Thickness)
	c.int(int64(l.Courses))
	c.controls(l.Control)
	c.text(l.Joints)
	c.text(l.Note)
	c.length(l.Lap)
	c.length(l.Sheet[0])
	c.length(l.Sheet[1])
	if l.Ventilation != "" && l.Ventilation != detail.Unventilated {
		c.key("ventilation")
		c.text(string(l.Ventilation))
	}
	if f := l.Framing; f != nil {
		c.key("framing")
		c.material(f.Material)
		c.length(f.Width)
		c.length(f.Spacing)
		c.number(float64(f.Fraction))
	}
	if f := l.Fasteners; f != nil {
		c.key("fasteners")
		c.material(f.Material)
		c.length(f.Diameter)
		c.number(float64(f.Each))
		c.length(f.Recessed)
	}
	if t := l.Taper; t != nil {
		c.key("taper")
		c.length(t.To)
		c.text(t.Shape)
	}
	if s := l.MetalStuds; s != nil {
		c.key("metal studs")
		c.length(s.Depth)
		c.length(s.Spacing)
	}
}
