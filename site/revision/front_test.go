package revision

import "testing"

// The quick way to the front matter gives what parting the lines gives.
func TestFrontOf(t *testing.T) {
	for _, text := range []string{
		"---\nmark: A\n---\nText", "---\nmark: A\n---", "---  \nmark: A\n---\t\nText\n---\n", "---\nmark: A\n----\n---x\n--- \n", "---\n---\n", "---", "", "Text\n---\n", "---x\nmark: A\n---\n", "---\nmark: A\n", "\ufeff---\nmark: A\n---\nText",
	} {
		want := ""
		if lines := splitLines([]byte(text)); frontEnd(lines) > 0 {
			want = text[:lines[frontEnd(lines)].from]
		}
		if got := string(frontOf([]byte(text))); got != want {
			t.Errorf("%q: %q; want %q", text, got, want)
		}
	}
}
