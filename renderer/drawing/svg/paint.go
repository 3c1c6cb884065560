package svg

import (
	"fmt"
	"math"

	"wythe/renderer/drawing"
)

// inkNames are the classes of inks, after s- (stroke) or f- (fill).
var inkNames = [...]string{
	drawing.InkLine: "ink", drawing.InkHatch: "hatch", drawing.InkSecond: "ink2",
	drawing.InkHair: "rule", drawing.InkMark: "mark", drawing.InkPaper: "paper",
	drawing.InkShade + drawing.Shades: "",
}

// paperColours are the inks of a drawing that stands alone, on white.
var paperColours = [...]string{
	drawing.InkLine: "#14191c", drawing.InkHatch: "#14191c", drawing.InkSecond: "#4a545a",
	drawing.InkHair: "#c5ccce", drawing.InkMark: "#ad1d2b", drawing.InkPaper: "#fff",
	drawing.InkShade + drawing.Shades: "",
}

const standaloneRoot = ` fill="none" stroke-linejoin="round" font-kerning="none"`

// pens are the pens that have a class, in hundredths of a mm.
var pens = [...]uint8{90, 70, 50, 35, 30, 27, 25, 19, 18, 14, 10}

var (
	penClass  [256]string
	cutsClass = [2][4]string{drawing.Lettering: {"l4", "l5", "l6", "l7"}, drawing.Reading: {"r4", "r5", "r6", "r7"}}
)

func init() {
	for k := range drawing.Shades + 1 {
		ink := drawing.InkShade + drawing.Ink(k)
		r, g, b := drawing.ShadeOnPaper(k)
		inkNames[ink], paperColours[ink] = fmt.Sprintf("h%d", k), fmt.Sprintf("#%02x%02x%02x", r, g, b)
	}
	for _, p := range pens {
		penClass[p] = "p" + string([]byte{'0' + p/10, '0' + p%10})
	}
}

// penName returns the class of a pen, "" if it has none.
func penName(p drawing.Pen) string {
	h := float64(p) * 100
	if i := math.Round(h); i < 256 && math.Abs(h-i) < 1e-6 {
		return penClass[uint8(i)]
	}
	return ""
}

// paint says stroke and fill. Without a pen there is no stroke.
func (w *writer) paint(s drawing.Stroke, fill drawing.Ink) {
	stroked := s.Pen > 0 && s.Ink != drawing.InkNone
	a := w.attr
	if w.opt.Dress == Standalone {
		if fill != drawing.InkNone {
			a = attribute(a, "fill", paperColours[fill])
		}
		if stroked {
			a = attribute(a, "stroke", paperColours[s.Ink])
			a = number(a, "stroke-width", float64(s.Pen))
			if s.Round {
				a = attribute(a, "stroke-linecap", "round")
			}
		}
	} else {
		if stroked {
			w.addClass("s-", inkNames[s.Ink])
			if name := penName(s.Pen); name != "" {
				w.addClass("", name)
			} else {
				a = number(a, "stroke-width", float64(s.Pen))
			}
			if s.Round {
				w.addClass("", "rd")
			}
		}
		if fill != drawing.InkNone {
			w.addClass("f-", inkNames[fill])
		}
	}
	if stroked && len(s.Dash) > 0 {
		a = append(a, `stroke-dasharray="`...)
		for i, d := range s.Dash {
			if i > 0 {
				a = append(a, ' ')
			}
			a = appendNumber(a, d)
		}
		a = append(a, `" `...)
	}
	w.attr = a
}
