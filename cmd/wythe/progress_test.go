package main

import (
	"strings"
	"testing"
	"time"
)

func TestProgressIsQuietOnShortWork(t *testing.T) {
	for _, c := range []struct {
		name     string
		terminal bool
		step     time.Duration
		steps    int
		want     string
	}{
		{"short, piped", false, 100 * time.Millisecond, 9, ""},
		{"long, piped", false, 400 * time.Millisecond, 20, "Publishing: 3 of 20\nPublishing: 16 of 20\n"},
		{"short, terminal", true, 10 * time.Millisecond, 15, ""},
		{"long, terminal", true, 60 * time.Millisecond, 7, "\rPublishing: 4 of 7\rPublishing: 6 of 7\r\x1b[K"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out strings.Builder
			now := time.Unix(0, 0)
			p := &progress{w: &out, doing: "Publishing", terminal: c.terminal, now: func() time.Time { return now }, start: now}
			for i := range c.steps {
				now = now.Add(c.step)
				p.step(i+1, c.steps)
			}
			p.end()
			if out.String() != c.want {
				t.Errorf("got %q; want %q", out.String(), c.want)
			}
		})
	}
}
