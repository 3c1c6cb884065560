package drawing

import "strings"

// Wrap breaks s into lines no wider than room mm, as callouts do.
func (st *Style) Wrap(s string, room float64) []string { return st.wrap(s, room) }

// wrap breaks s into lines no wider than room mm, at spaces; a word wider
// than a line is broken where the line is full. A number stays with the
// fraction or the unit sign that follows it, and a size, "3 1/2″ × 2″", on one
// line where that is wide enough. No line is empty.
func (st *Style) wrap(s string, room float64) []string {
	s = strings.TrimSpace(s)
	if s == "" {
		return nil
	}
	if st.Width(s) <= room {
		return []string{s}
	}
	var lines []string
	for s != "" {
		end := st.fullTo(s, room, true)
		if end == 0 {
			end = st.fullTo(s, room, false)
		}
		if end == 0 {
			end = st.hardBreak(s, room)
		}
		lines = append(lines, strings.TrimRight(s[:end], " "))
		s = strings.TrimLeft(s[end:], " ")
	}
	return lines
}

// fullTo is how many bytes of s fill a line broken at a space, sizes kept whole
// or not; 0 where the first piece is wider than the line.
func (st *Style) fullTo(s string, room float64, sizes bool) (end int) {
	for end < len(s) {
		next := breakAfter(s, end+1, sizes)
		if st.Width(s[:next]) > room {
			break
		}
		end = next
	}
	return end
}

// breakAfter is the end of the first piece of s, from at on, after which a
// line may break: not within a size where those are kept whole.
func breakAfter(s string, at int, sizes bool) int {
	for {
		i := strings.IndexByte(s[at:], ' ')
		if i < 0 {
			return len(s)
		}
		at += i
		if !(digitAt(s, at-1) && fractionFollows(s[at+1:])) && !strings.HasPrefix(s[at+1:], "× ") && !(digitAt(s, at-1) && unitFollows(s[at+1:])) &&
			!(sizes && strings.HasSuffix(s[:at], " ×")) {
			return at
		}
		at++
	}
}

// unitFollows reports whether s begins with a unit that stays with its number.
func unitFollows(s string) bool {
	for _, u := range [...]string{"mm", "MIL", "mil", "in", "ft", "psi", "lb", "COURSES"} {
		if strings.HasPrefix(s, u) && (len(s) == len(u) || !wordByte(s[len(u)])) {
			return true
		}
	}
	return false
}

func digitAt(s string, i int) bool { return i >= 0 && s[i] >= '0' && s[i] <= '9' }

// fractionFollows reports whether s begins with a fraction: "1/2".
func fractionFollows(s string) bool {
	i := 0
	for digitAt(s, min(i, len(s)-1)) && i < len(s) {
		i++
	}
	return i > 0 && i+1 < len(s) && s[i] == '/' && digitAt(s, i+1)
}

// hardBreak is how many bytes of s fill a line; at least one sign.
func (st *Style) hardBreak(s string, room float64) int {
	end := 0
	for i := range s {
		if i > 0 && st.Width(s[:i]) > room {
			break
		}
		if i > 0 {
			end = i
		}
	}
	if end == 0 {
		for i := range s {
			if i > 0 {
				return i
			}
		}
		return len(s)
	}
	return end
}
