package drawing

import "strings"

// DrawingWords writes lengths in a text as drawings do: "lap 6 in and tape" is
// "lap 6″ and tape", "3 ft 6 in" is "3′-6″". A number before "in" that is no
// length, "2 in each bay", is left as it is.
func DrawingWords(s string) string {
	if !strings.Contains(s, " in") && !strings.Contains(s, " ft") {
		return s
	}
	var b strings.Builder
	from := 0
	for i := 1; i+3 <= len(s); i++ {
		if s[i] != ' ' || s[i-1] < '0' || s[i-1] > '9' {
			continue
		}
		unit := s[i+1 : i+3]
		rest := s[i+3:]
		if unit != "in" && unit != "ft" || rest != "" && wordByte(rest[0]) {
			continue
		}
		if unit == "in" && phraseFollows(rest) {
			continue
		}
		b.WriteString(s[from:i])
		from = i + 3
		if unit == "in" {
			b.WriteString("″")
			continue
		}
		b.WriteString("′")
		if n := inchesFollow(rest); n > 0 {
			b.WriteByte('-')
			from++ // the space between
		}
	}
	b.WriteString(s[from:])
	return b.String()
}

func wordByte(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c >= 0x80
}

// notLengths are words before which "in" is the preposition.
var notLengths = []string{
	"a", "all", "an", "any", "both", "each", "either", "every", "its", "line", "no", "one", "place",
	"pairs", "rows", "series", "that", "the", "their", "these", "this", "total", "turn", "two",
}

func phraseFollows(rest string) bool {
	if rest == "" || rest[0] != ' ' {
		return false
	}
	if digitAt(rest, 1) {
		return true // a slope: 8 in 12
	}
	word, _, _ := strings.Cut(rest[1:], " ")
	word = strings.TrimRight(word, ".,;:)")
	for _, w := range notLengths {
		if word == w {
			return true
		}
	}
	return false
}

// inchesFollow reports whether rest goes on " 6 in" or " 6 1/2 in".
func inchesFollow(rest string) int {
	if len(rest) < 5 || rest[0] != ' ' {
		return 0
	}
	i := 1
	for i < len(rest) && (rest[i] >= '0' && rest[i] <= '9' || rest[i] == '/' || rest[i] == ' ' && i+1 < len(rest) && rest[i+1] >= '0' && rest[i+1] <= '9') {
		i++
	}
	if i > 1 && strings.HasPrefix(rest[i:], " in") && (len(rest) == i+3 || !wordByte(rest[i+3])) {
		return i
	}
	return 0
}
