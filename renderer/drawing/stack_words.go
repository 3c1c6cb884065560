package drawing

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"wythe/renderer/units"
)

func upperFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 || unicode.IsUpper(r) {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// head is what the callout of a layer says first: "XPS TYPE IV, 2 COURSES ×
// 3″", "VAPOR RETARDER FILM, 15 MIL".
func (l *StackLayer) head(system units.System) string {
	name := l.Head
	if name == "" {
		name = l.Part
	}
	name = strings.ToUpper(name)
	if l.Thickness == 0 {
		return name
	}
	var size string
	switch {
	case (l.Film || l.Thickness < dimensionLeast) && system == units.Metric:
		size = l.Thickness.Millimeter()
	case l.Film || l.Thickness < dimensionLeast:
		size = strings.ToUpper(l.Thickness.Mil())
	case system == units.Metric:
		size = DimensionText(l.Thickness, system) + " mm"
	default:
		size = DimensionText(l.Thickness, system)
	}
	if c := l.courses(); c > 1 {
		return name + ", " + numeral(c) + " COURSES × " + size
	}
	return name + ", " + size
}

// note is what it says below: the controls the layer carries, then its notes.
func (l *StackLayer) note() string {
	var room [8]string
	parts := room[:0]
	if c := controlWords(l.Controls); c != "" {
		parts = append(parts, c)
	}
	for _, n := range l.Notes {
		if n = strings.TrimSuffix(strings.TrimSpace(n), "."); n != "" {
			parts = append(parts, upperFirst(DrawingWords(n)))
		}
	}
	return strings.Join(parts, ". ")
}

// controlWords says control letters in words: "AV" is "Air and vapor
// control". Letters stand in the order A, V, W, T.
func controlWords(letters string) string {
	var room [4]string
	words := room[:0]
	for _, c := range [...]struct {
		letter byte
		word   string
	}{{'A', "air"}, {'V', "vapor"}, {'W', "water"}, {'T', "thermal"}} {
		if strings.IndexByte(letters, c.letter) >= 0 {
			words = append(words, c.word)
		}
	}
	n := len(words)
	if n == 0 {
		return ""
	}
	s := words[n-1]
	if n > 1 {
		s = strings.Join(words[:n-1], ", ") + " and " + s
	}
	return upperFirst(s) + " control"
}

// name is the drawing's title for readers.
func (s *Stack) name(scale float64) string {
	view := strings.ToLower(s.ViewName)
	if view == "" {
		view = "section"
	}
	_, ratio := ScaleWords(scale)
	return s.Mark + " " + view + ", scale " + ratio
}

// describe says for readers what is drawn, inside to outside.
func (s *Stack) describe() string {
	var b strings.Builder
	b.Grow(64 * (len(s.Layers) + 2))
	b.WriteString("From inside to outside: ")
	for i := range s.Layers {
		l := &s.Layers[i]
		if i > 0 {
			b.WriteString("; ")
		}
		name := l.Head
		if name == "" {
			name = l.Part
		}
		b.WriteString(name)
		if l.Thickness > 0 {
			b.WriteString(", ")
			if c := l.courses(); c > 1 {
				b.WriteString(numeral(c))
				b.WriteString(" courses of ")
			}
			b.WriteString(l.Thickness.Show(s.System))
		}
	}
	if l := s.Beyond; l != nil {
		b.WriteString("; ")
		if l.Head != "" {
			b.WriteString(l.Head)
		} else {
			b.WriteString(l.Part)
		}
	}
	b.WriteByte('.')
	if p := s.Temperatures; p != nil {
		verb := " falls from "
		if p.Outside > p.Inside {
			verb = " rises from "
		}
		b.WriteString(" Temperature" + verb)
		b.WriteString(degrees(p.Inside, s.System) + degreeSign(s.System) + " inside to ")
		b.WriteString(degrees(p.Outside, s.System) + degreeSign(s.System) + " outside.")
	}
	if s.NotForConstruction {
		b.WriteString(" Not for construction.")
	}
	return b.String()
}
