package units

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Limits of a written number. Nothing built needs more.
const (
	longestText   = 100  // bytes
	largestNumber = 1e9  // absolute value
	mostDigits    = 15   // of one run, so that a float64 holds it exactly
	mostDenom     = 1000 // denominator of a fraction
)

// A number is written as the trade writes it: 4, 2.5, .5, 1,250, 1/2,
// 2 1/2, 2-1/2, ½, 2½. A leading zero (012), an exponent (1e3), a decimal
// comma and anything past a thousand million is refused.
type number struct {
	value float64
	start int // of the digits, after a sign
	end   int // of the number
	whole bool
}

// scan reads the number at s[i:], which may begin with a sign.
func scan(s string, i int) (number, *ParseError) {
	if len(s) > longestText {
		return number{}, &ParseError{s, 0, "too long for a quantity", "write one quantity"}
	}
	i = skipSpace(s, i)
	negative := false
	switch {
	case strings.HasPrefix(s[i:], "-"):
		negative, i = true, i+1
	case strings.HasPrefix(s[i:], "−"): // the minus sign
		negative, i = true, i+len("−")
	case strings.HasPrefix(s[i:], "+"):
		i++
	}
	n, err := scanUnsigned(s, i)
	if negative {
		n.value = 0 - n.value
	}
	return n, err
}

func scanUnsigned(s string, i int) (number, *ParseError) {
	n := number{start: i, whole: true}
	if v, size := vulgar(s[i:]); size > 0 {
		n.value, n.end, n.whole = v, i+size, false
		return n, nil
	}
	v, j, err := digits(s, i)
	if err != nil {
		return n, err
	}
	if j == i && !(j+1 < len(s) && s[j] == '.' && isDigit(s[j+1])) {
		return n, &ParseError{s, i, "does not begin with a number", ""}
	}
	n.value, n.end = v, j
	rest := s[j:]
	switch {
	case len(rest) > 1 && rest[0] == '.' && isDigit(rest[1]):
		k := j + 1
		for k < len(s) && isDigit(s[k]) {
			k++
		}
		n.value, err = decimal(s, i, k)
		if err != nil {
			return n, err
		}
		n.end, n.whole = k, false
	case slash(rest) > 0 && len(rest) > slash(rest) && isDigit(rest[slash(rest)]):
		d, k, err := denominator(s, j+slash(rest))
		if err != nil {
			return n, err
		}
		n.value, n.end, n.whole = v/d, k, false
	default:
		f, k, err := fractionAfter(s, i, j)
		if err != nil {
			return n, err
		}
		if k > j {
			n.value, n.end, n.whole = v+f, k, false
		}
	}
	if e := n.end; e < len(s) && (s[e] == 'e' || s[e] == 'E') && e+1 < len(s) &&
		(isDigit(s[e+1]) || (s[e+1] == '-' || s[e+1] == '+') && e+2 < len(s) && isDigit(s[e+2])) {
		return n, &ParseError{s, e, "a number is written out, without an exponent", "write it with all its digits, or take another unit"}
	}
	if n.value > largestNumber {
		return n, &ParseError{s, i, "the number is too large", "nothing built needs more than " + strconv.Itoa(largestNumber) + "; check the unit"}
	}
	return n, nil
}

// digits reads a whole number, with commas between groups of three allowed.
func digits(s string, i int) (float64, int, *ParseError) {
	v, j, count := uint64(0), i, 0
	for j < len(s) {
		c := s[j]
		if isDigit(c) {
			v, j, count = v*10+uint64(c-'0'), j+1, count+1
			if count > mostDigits {
				return 0, j, &ParseError{s, i, "the number has too many digits", ""}
			}
			continue
		}
		if c != ',' || count == 0 || j+1 == len(s) || !isDigit(s[j+1]) {
			break
		}
		grouped := j+3 < len(s) && isDigit(s[j+2]) && isDigit(s[j+3]) && !(j+4 < len(s) && isDigit(s[j+4]))
		first := j - i
		if k := strings.LastIndexByte(s[i:j], ','); k >= 0 {
			first = j - i - k - 1
			grouped = grouped && first == 3
		}
		if !grouped || first > 3 {
			return 0, j, &ParseError{s, j, "a comma stands only between groups of three digits",
				"write " + strings.Replace(s[:j], ",", "", -1) + "." + strings.TrimSpace(s[j+1:])}
		}
		j++
	}
	if count > 1 && s[i] == '0' {
		return 0, j, &ParseError{s, i, "the number has a leading zero", "write " + trimZeros(s[i:j])}
	}
	return float64(v), j, nil
}

func trimZeros(s string) string {
	if t := strings.TrimLeft(s, "0"); t != "" {
		return t
	}
	return "0"
}

var tens = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// decimal reads s[i:k], digits with one point. Up to 15 digits the quotient
// of two exact float64 is the correctly rounded value.
func decimal(s string, i, k int) (float64, *ParseError) {
	v, count, after, point := uint64(0), 0, 0, false
	for _, c := range []byte(s[i:k]) {
		switch {
		case c == '.':
			point = true
		case c == ',':
		default:
			v, count = v*10+uint64(c-'0'), count+1
			if point {
				after++
			}
			if count > mostDigits {
				// More digits than a float64 holds: let strconv round.
				f, err := strconv.ParseFloat(strings.ReplaceAll(s[i:k], ",", ""), 64)
				if err != nil {
					return 0, &ParseError{s, i, "the number has too many digits", ""}
				}
				return f, nil
			}
		}
	}
	return float64(v) / tens[after], nil
}

// fractionAfter reads what may follow the whole number s[i:j]: " 1/2",
// "-1/2", "½" or " ½". It returns j if there is no fraction.
func fractionAfter(s string, i, j int) (float64, int, *ParseError) {
	k := skipSpace(s, j)
	if f, size := vulgar(s[k:]); size > 0 {
		return f, k + size, nil
	}
	if k == j && j < len(s) && s[j] == '-' {
		k++
	}
	if k == j {
		return 0, j, nil
	}
	e := k
	for e < len(s) && isDigit(s[e]) {
		e++
	}
	if e == k || slash(s[e:]) == 0 {
		return 0, j, nil
	}
	num, _, err := digits(s, k)
	if err != nil {
		return 0, j, err
	}
	d := e + slash(s[e:])
	if d == len(s) || !isDigit(s[d]) {
		return 0, j, nil
	}
	den, end, err := denominator(s, d)
	if err != nil {
		return 0, j, err
	}
	if num >= den {
		return 0, j, &ParseError{s, k, "the fraction beside a whole number must be less than 1", ""}
	}
	return num / den, end, nil
}

func denominator(s string, i int) (float64, int, *ParseError) {
	d, j, err := digits(s, i)
	if err != nil {
		return 0, j, err
	}
	if d < 1 || d > mostDenom {
		return 0, j, &ParseError{s, i, "the fraction's lower number must be from 1 to " + strconv.Itoa(mostDenom), ""}
	}
	return d, j, nil
}

// slash returns the size of the fraction bar that s begins with, or 0.
func slash(s string) int {
	switch {
	case len(s) > 0 && s[0] == '/':
		return 1
	case strings.HasPrefix(s, "⁄"):
		return len("⁄")
	}
	return 0
}

// vulgar returns the value and size of the fraction sign that s begins with.
func vulgar(s string) (float64, int) {
	if len(s) == 0 || s[0] < utf8.RuneSelf {
		return 0, 0
	}
	r, size := utf8.DecodeRuneInString(s)
	switch r {
	case '½':
		return 1. / 2, size
	case '¼':
		return 1. / 4, size
	case '¾':
		return 3. / 4, size
	case '⅛':
		return 1. / 8, size
	case '⅜':
		return 3. / 8, size
	case '⅝':
		return 5. / 8, size
	case '⅞':
		return 7. / 8, size
	case '⅓':
		return 1. / 3, size
	case '⅔':
		return 2. / 3, size
	}
	return 0, 0
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// skipSpace returns the place of the first sign of s[i:] that is no space.
// No-break spaces count: text pasted from a page has them.
func skipSpace(s string, i int) int {
	for i < len(s) {
		switch {
		case s[i] == ' ' || s[i] == '\t':
			i++
		case strings.HasPrefix(s[i:], "\u00a0"):
			i += len("\u00a0")
		case strings.HasPrefix(s[i:], "\u202f"):
			i += len("\u202f")
		default:
			return i
		}
	}
	return i
}

// ParseNumber reads a plain number without a unit: a price, a count, an
// emittance. Negative numbers are allowed.
// Errors: *[ParseError].
func ParseNumber(s string) (float64, error) {
	n, err := scan(s, 0)
	if err != nil {
		return 0, err
	}
	if end := skipSpace(s, n.end); end < len(s) {
		return 0, &ParseError{s, end, "a plain number takes no unit", "write " + strings.TrimSpace(s[:n.end])}
	}
	return n.value, nil
}

// ParseCount reads a whole number from 0 to 1,000,000.
// Errors: *[ParseError].
func ParseCount(s string) (int, error) {
	v, err := ParseNumber(s)
	if err != nil {
		return 0, err
	}
	if v != math.Trunc(v) || v < 0 || v > 1e6 {
		return 0, &ParseError{s, 0, "is not a count", "write a whole number"}
	}
	return int(v), nil
}
