package finding

import (
	"strings"
	"unicode/utf8"
)

// Nearest returns the known word nearest to word, or "" if none is near.
//
// Nearness is the number of single-letter slips (a letter left out, put in,
// changed, or two neighbours swapped: the restricted Damerau-Levenshtein
// distance), letter case and runs of spaces left out of account. A word of n
// letters may be off by 1 + n/4 slips, and never by as many as it has letters.
// Ties go to the word that comes first in order of bytes, whatever the order
// of known.
func Nearest(word string, known []string) string {
	a := fold(word)
	if len(a) == 0 || len(a) > 100 {
		return ""
	}
	limit := 1 + len(a)/4
	if limit >= len(a) {
		limit = len(a) - 1
	}
	best, bestAt := "", limit+1
	for _, k := range known {
		n := utf8.RuneCountInString(k)
		if n-len(a) > bestAt || len(a)-n > bestAt+strings.Count(k, " ") {
			continue
		}
		d := distance(a, fold(k), bestAt)
		if d < bestAt || d == bestAt && d <= limit && k < best {
			best, bestAt = k, d
		}
	}
	return best
}

// DidYouMean returns a mend that offers the nearest known word, or "" if
// none is near.
func DidYouMean(word string, known []string) string {
	if n := Nearest(word, known); n != "" {
		return "did you mean \"" + n + "\"?"
	}
	return ""
}

// fold returns the letters of s in lower case, runs of spaces made one.
func fold(s string) []rune {
	return []rune(strings.Join(strings.Fields(strings.ToLower(s)), " "))
}

// distance returns the restricted Damerau-Levenshtein distance of a and b,
// or limit+1 as soon as it must exceed limit.
func distance(a, b []rune, limit int) int {
	if d := len(a) - len(b); d > limit || -d > limit {
		return limit + 1
	}
	w := len(b) + 1
	rows := make([]int, 3*w)
	before, above, row := rows[:w], rows[w:2*w], rows[2*w:]
	for j := range above {
		above[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d := min(above[j]+1, row[j-1]+1, above[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, before[j-2]+1)
			}
			row[j] = d
			least = min(least, d)
		}
		if least > limit {
			return limit + 1
		}
		before, above, row = above, row, before
	}
	return above[len(b)]
}
