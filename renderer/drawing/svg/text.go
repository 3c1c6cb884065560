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
	if w.opt.Dress == Standalone {
		a := attribute(w.attr, "font-family", standaloneFamilies[t.Face])
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
	w.spans = t.Spans(w.spans[:0])
	if len(w.spans) == 0 {
		w.canvas.Text(t.At.X, t.At.Y, t.Text, w.close())
		return
	}
	w.canvas.Textspan(t.At.X, t.At.Y, "", w.close())
	rise := 0.0
	for i := range w.spans {
		w.writeSpan(t, &w.spans[i], rise)
		rise = w.spans[i].Rise
	}
	w.canvas.TextEnd()
}

// writeSpan writes one span after another that stands at rise mm above the
// base line.
func (w *writer) writeSpan(t *drawing.Text, s *drawing.Span, rise float64) {
	b := w.span[:0]
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
	w.span = b
	if len(b) == 0 {
		w.canvas.Span(s.Text)
		return
	}
	w.canvas.Span(s.Text, text(b[:len(b)-1]))
}
