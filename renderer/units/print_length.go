package units

import (
	"math"
	"strconv"
)

const (
	// thinnest is the length below which inches are printed as mils: a film.
	thinnest = 0.06 * inch
	// nothing is the length below which even mils are of no use.
	nothing = 0.0001 * mil
)

// Fraction is a length in feet, inches and a fraction of an inch, rounded to
// the nearest sixteenth, for a drawing that sets the fraction on a slant.
type Fraction struct {
	Negative    bool
	Feet        int
	Inches      int // 0 to 11 if Feet was asked for
	Numerator   int // 0: no fraction
	Denominator int // 2, 4, 8 or 16
}

// Fraction returns the length in feet and inches to the nearest sixteenth.
func (l Length) Fraction() Fraction {
	f := l.inFraction()
	f.Feet, f.Inches = f.Inches/12, f.Inches%12
	return f
}

func (l Length) inFraction() Fraction {
	n := math.Round(math.Abs(float64(l)) / inch * 16)
	if math.IsNaN(n) || n > 1e15 {
		n = 1e15
	}
	sixteenths := int(n)
	f := Fraction{Negative: l < 0 && sixteenths > 0, Inches: sixteenths / 16, Numerator: sixteenths % 16, Denominator: 16}
	for f.Numerator > 0 && f.Numerator%2 == 0 {
		f.Numerator, f.Denominator = f.Numerator/2, f.Denominator/2
	}
	return f
}

// append writes inches and fraction, without a sign.
func (f Fraction) append(b []byte) []byte {
	if f.Inches > 0 || f.Numerator == 0 {
		b = strconv.AppendInt(b, int64(f.Inches), 10)
	}
	if f.Numerator == 0 {
		return b
	}
	if f.Inches > 0 {
		b = append(b, ' ')
	}
	b = strconv.AppendInt(b, int64(f.Numerator), 10)
	b = append(b, '/')
	return strconv.AppendInt(b, int64(f.Denominator), 10)
}

// InchFraction returns the length in inches to the nearest sixteenth:
// "2 1/2 in". A film prints in mils: "15 mil".
func (l Length) InchFraction() string {
	if film := math.Abs(float64(l)); film >= nothing && film < thinnest {
		return l.Mil()
	}
	f := l.inFraction()
	b := make([]byte, 0, 24)
	if f.Negative {
		b = append(b, '-')
	}
	return string(append(f.append(b), " in"...))
}

// Mil returns the length in thousandths of an inch: "15 mil".
func (l Length) Mil() string {
	if math.Abs(l.Mils()) < 0.1 {
		return trimmed(l.Mils(), 4) + " mil"
	}
	return trimmed(l.Mils(), 1) + " mil"
}

// FeetInch returns the length in feet and inches to the nearest sixteenth,
// as text: 3'-6 1/2". Less than a foot prints as inches alone: 6 1/2".
func (l Length) FeetInch() string { return l.feetInch("'", "\"") }

// FeetInchDrawing is FeetInch with the signs of a drawing: 3′-6 1/2″.
func (l Length) FeetInchDrawing() string { return l.feetInch("′", "″") }

func (l Length) feetInch(foot, inch string) string {
	f := l.Fraction()
	b := make([]byte, 0, 32)
	if f.Negative {
		b = append(b, '-')
	}
	if f.Feet > 0 {
		b = append(append(strconv.AppendInt(b, int64(f.Feet), 10), foot...), '-')
		if f.Inches == 0 && f.Numerator > 0 {
			b = append(b, '0', ' ') // 3'-0 1/2"
		}
	}
	return string(append(f.append(b), inch...))
}

// FeetWords returns the length in feet and inches in words, for running text:
// "6 ft 8 in"; less than a foot as inches.
func (l Length) FeetWords() string {
	f := l.Fraction()
	if f.Feet == 0 {
		return l.InchFraction()
	}
	b := make([]byte, 0, 32)
	if f.Negative {
		b = append(b, '-')
	}
	b = append(strconv.AppendInt(b, int64(f.Feet), 10), " ft"...)
	if f.Inches == 0 && f.Numerator == 0 {
		return string(b)
	}
	return string(append(f.append(append(b, ' ')), " in"...))
}

// Millimeter returns the length in millimetres: to the whole from 10 mm on,
// with one or two decimals for boards and films: "76 mm", "9.5 mm", "0.38 mm".
func (l Length) Millimeter() string {
	v := l.Millimeters()
	a := math.Abs(v)
	places := 0
	switch {
	case a < 1:
		places = 2
	case a < 9.95:
		places = 1
	}
	if a > 0 && a < 0.01 {
		return trimmed(v, 4) + " mm"
	}
	b := trimmed(v, places)
	if a >= 999.5 { // metric drawings print 1219, without a comma
		b = strconv.FormatFloat(v, 'f', 0, 64)
	}
	return b + " mm"
}

// Meter returns the length in metres to the centimetre: "2.03 m".
func (l Length) Meter() string { return fixed(float64(l), 2) + " m" }

// Show returns a thickness or a distance as a page prints it: inches by
// sixteenths below 4 ft and feet above, mils for films, or millimetres below
// 10 m and metres above.
func (l Length) Show(s System) string {
	a := math.Abs(float64(l))
	switch {
	case s == Inch && a < 4*foot-inch/32:
		return l.InchFraction()
	case s == Inch:
		return l.FeetWords()
	case a < 10:
		return l.Millimeter()
	}
	return l.Meter()
}

// ShowStated returns a length as its author stated it, where that was in the
// system's own units: to the sixteenth of an inch, or to the millimetre. What was
// stated in the other units has three significant digits, since it had no more:
// "128 ft", "39.0 m". A length that is whole in both counts as stated in inches.
func (l Length) ShowStated(s System) string {
	a := math.Abs(float64(l))
	whole := func(v float64) bool { return math.Abs(v-math.Round(v)) < 1e-6 }
	inches := whole(a / inch * 16)
	switch {
	case s == Inch && inches, s == Metric && a < 1, a < thinnest:
		return l.Show(s)
	case s == Metric && !inches && whole(a*1000):
		return trimmed(float64(l), 3) + " m"
	}
	return l.ShowRounded(s)
}

// ShowRounded returns a length that was worked out, to three significant digits
// in feet or metres: "15.5 ft", "4.71 m"; below 1 ft or 1 m as Show does.
func (l Length) ShowRounded(s System) string {
	a := math.Abs(float64(l))
	switch {
	case s == Inch && a >= foot:
		return Figure(float64(l)/foot, 2) + " ft"
	case s == Metric && a >= 1:
		return Figure(float64(l), 2) + " m"
	}
	return l.Show(s)
}

// String returns the length in metres, exactly: it parses back to itself.
func (l Length) String() string { return strconv.FormatFloat(float64(l), 'f', -1, 64) + " m" }
