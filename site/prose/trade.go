package prose

import "strings"

// AppendTrade appends text to b, escaped, with its fractions set as the trade
// sets them: slanting, and held to the whole inches before them.
func AppendTrade(b []byte, words string) []byte {
	if strings.IndexByte(words, '/') < 0 {
		return AppendEscaped(b, words)
	}
	from := 0
	for {
		start, end, ok := fraction(words, from)
		if !ok {
			return AppendEscaped(b, words[from:])
		}
		before := words[from:start]
		if n := len(before); n > 1 && before[n-1] == ' ' && isDigit(before[n-2]) {
			b = AppendEscaped(b, before[:n-1])
			b = append(b, narrowSpace...)
		} else {
			b = AppendEscaped(b, before)
		}
		b = append(b, `<span class="fr">`...)
		b = append(b, words[start:end]...)
		b = append(b, "</span>"...)
		from = end
	}
}

// narrowSpace is narrow and does not break: it parts 2 from 1/2.
const narrowSpace = "\u202f"

// fraction returns the first fraction in words at or after from: one to three
// digits, a stroke, one to three digits, and neither a date, a ratio of
// decimals nor part of a word.
func fraction[T string | []byte](words T, from int) (start, end int, ok bool) {
	for i := from + 1; i+1 < len(words); i++ {
		if words[i] != '/' || !isDigit(words[i-1]) || !isDigit(words[i+1]) {
			continue
		}
		start, end = i, i+1
		for start > from && isDigit(words[start-1]) {
			start--
		}
		for end < len(words) && isDigit(words[end]) {
			end++
		}
		if i-start <= 3 && end-i <= 4 && !joined(words, start-1) && !joined(words, end) {
			return start, end, true
		}
		i = end - 1
	}
	return 0, 0, false
}

// joined reports whether the sign at i ties a number to more than a fraction.
func joined[T string | []byte](words T, i int) bool {
	if i < 0 || i >= len(words) {
		return false
	}
	c := words[i]
	switch {
	case c == '/' || c == '_':
		return true
	case c == '.' || c == ',':
		// "1/2." ends a sentence; "1/2.5" is no fraction of the trade.
		return i+1 < len(words) && isDigit(words[i+1]) || i > 0 && i+1 < len(words) && words[i+1] == '/'
	}
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
