package revision

import (
	"strconv"
	"strings"

	"wythe/renderer/detail"
)

// Next returns the revision that follows the newest of a detail: A, B, …, Z,
// AA; 1, 2, …; A1, A2. It is "" where none of three signs is left.
func Next(d *detail.Detail) string {
	if len(d.Revisions) == 0 {
		return "A"
	}
	return after(d.Revisions[0].Rev)
}

// longestRev is the most signs of a revision.
const longestRev = 3

func after(rev string) string {
	stem := strings.TrimRight(rev, "0123456789")
	digits := rev[len(stem):]
	next := ""
	if digits != "" {
		n, err := strconv.Atoi(digits)
		if err != nil {
			return ""
		}
		next = strconv.Itoa(n + 1)
		for len(next) < len(digits) {
			next = "0" + next
		}
		next = stem + next
	} else {
		next = letters(stem)
	}
	if len(next) > longestRev {
		return ""
	}
	return next
}

// letters counts on in letters: A to Z, then AA.
func letters(s string) string {
	b := []byte(s)
	for i := len(b) - 1; i >= 0; i-- {
		if b[i] < 'Z' {
			b[i]++
			return string(b)
		}
		b[i] = 'A'
	}
	return "A" + string(b)
}
