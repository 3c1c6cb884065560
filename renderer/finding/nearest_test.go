package finding

import (
	"slices"
	"testing"
)

func TestNearest(t *testing.T) {
	known := []string{"concrete", "reinforced concrete", "XPS type IV", "XPS type VI", "in", "mm", "mil", "softwood", "hardwood", "sand", "batt", "bolt"}
	for _, c := range []struct{ word, want string }{
		{"concret", "concrete"},
		{"Concrete", "concrete"},
		{"cnocrete", "concrete"},
		{"XPS typ IV", "XPS type IV"},
		{"XPS type IX", "XPS type IV"},
		{"xps  type vi", "XPS type VI"},
		{"reinforced concret", "reinforced concrete"},
		{"inn", "in"},
		{"balt", "batt"}, // as near as bolt: first in order
		{"m", ""},
		{"", ""},
		{"xyzzy", ""},
		{"hardwod", "hardwood"},
		{"quite another thing", ""},
	} {
		if got := Nearest(c.word, known); got != c.want {
			t.Errorf("Nearest(%q) = %q; want %q", c.word, got, c.want)
		}
		turned := slices.Clone(known)
		slices.Reverse(turned)
		if got := Nearest(c.word, turned); got != c.want {
			t.Errorf("Nearest(%q), words reversed = %q; want %q", c.word, got, c.want)
		}
	}
	if got := DidYouMean("concret", known); got != `did you mean "concrete"?` {
		t.Errorf("DidYouMean = %q", got)
	}
	if got := DidYouMean("xyzzy", known); got != "" {
		t.Errorf("DidYouMean of nothing near = %q", got)
	}
}

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"abc", "abc", 0}, {"abc", "acb", 1}, {"abc", "ab", 1},
		{"abc", "xabc", 1}, {"kitten", "sitting", 3}, {"ca", "abc", 3},
	} {
		if got := distance([]rune(c.a), []rune(c.b), 9); got != c.want {
			t.Errorf("distance(%q, %q) = %d; want %d", c.a, c.b, got, c.want)
		}
		if got := distance([]rune(c.b), []rune(c.a), 9); got != c.want {
			t.Errorf("distance(%q, %q) = %d; want %d: not symmetric", c.b, c.a, got, c.want)
		}
		if c.want > 0 {
			if got := distance([]rune(c.a), []rune(c.b), c.want-1); got != c.want {
				t.Errorf("distance(%q, %q) cut off at %d = %d", c.a, c.b, c.want-1, got)
			}
		}
	}
}
