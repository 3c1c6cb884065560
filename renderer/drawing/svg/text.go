package svg

import (
	"strings"

	"wythe/renderer/drawing"
	"wythe/themes/fonts"
)

// Font lists of drawings that stand alone: such a file holds no fonts, so
// that a reader without them sees a plain face, set to the widths measured.
var standaloneFamilies = [...]string{
	drawing.Lettering: strings.ReplaceAll(fonts.LetteringStack, `"`, "'"),
	drawing.Reading:   strings.ReplaceAll(fonts.ReadingStack, `"`, "'"),
}

func (w *writer) text(t *drawing.Text) {
	if t.Text == "" {
		return
	}
	w.open(&t.Tag)
	w.attr = number(number(w.attr, "x", t.At.X), "y", t.At.Y)
	if w.opt.Dress == Standalone {
		a := w.attr
		if t.Face != drawing.Lettering { // the root's own
			a = attribute(a, "font-family", standaloneFamilies[t.Face])
		}
		a = number(a, "font-weight", float64(fonts.Weights[fonts.Cut(t.Weight)]))
		a = attribute(a, "fill", paperColours[max(t.Ink, drawing.InkLine)])
		if t.Casing > 0 {
			a = attribute(a, "stroke", paperColours[drawing.InkPaper])
			a = attribute(a, "paint-order", "stroke")
		} else {
			// a sheet without the fonts keeps the line's length
			a = number(a, "textLength", t.Width())
		}
		w.attr = a
	} else {
		w.addClass("", cutsClass[t.Face][fonts.Cut(t.Weight)])
		if t.Ink != drawing.InkLine && t.Ink != drawing.InkNone {
			w.addClass("f-", inkNames[t.Ink])
		}
		if t.Casing > 0 {
			w.addClass("", "cased")
		}
	}
	a := number(w.attr, "font-size", t.Size)
	switch t.Anchor {
	case drawing.Middle:
		a = append(a, `text-anchor="middle" `...)
	case drawing.End:
		a = append(a, `text-anchor="end" `...)
	}
	if t.Tracking != 0 {
		a = number(a, "letter-spacing", t.Tracking)
	}
	if t.Casing > 0 {
		a = number(a, "stroke-width", t.Casing)
	}
	if t.Turn != 0 {
		a = append(a, `transform="rotate(`...)
		a = appendNumber(a, -t.Turn)
		a = append(a, ' ')
		a = appendNumber(a, t.At.X)
		a = append(a, ' ')
		a = appendNumber(a, t.At.Y)
		a = append(a, `)" `...)
	}
	w.attr = a
	b := append(w.span[:0], "<text "...)
	b = append(b, w.close()...)
	b = append(b, '>')
	w.spans = t.Spans(w.spans[:0])
	if len(w.spans) == 0 {
		b = appendEscaped(b, t.Text)
	}
	rise := 0.0
	for i := range w.spans {
		b = w.appendSpan(b, t, &w.spans[i], rise)
		rise = w.spans[i].Rise
	}
	b = append(b, "</text>\n"...)
	w.span = b
	w.out.Write(b)
}

// appendSpan appends one span after another that stands at rise mm above the
// base line.
func (w *writer) appendSpan(b []byte, t *drawing.Text, s *drawing.Span, rise float64) []byte {
	from := len(b)
	b = append(b, "<tspan "...)
	first := len(b)
	if s.Gap != 0 {
		b = number(b, "dx", s.Gap)
	}
	if s.Rise != rise {
		b = number(b, "dy", rise-s.Rise)
	}
	if s.Small {
		b = number(b, "font-size", s.Size)
		cut := fonts.Cut(drawing.FractionWeight(t.Weight))
		if w.opt.Dress == Standalone {
			b = number(b, "font-weight", float64(fonts.Weights[cut]))
		} else {
			b = attribute(b, "class", cutsClass[t.Face][cut])
		}
	}
	if t.Tracking != 0 && !s.Plain {
		b = append(b, `letter-spacing="0" `...)
	}
	if len(b) == first {
		return appendEscaped(b[:from], s.Text)
	}
	b[len(b)-1] = '>'
	b = appendEscaped(b, s.Text)
	return append(b, "</tspan>"...)
}
