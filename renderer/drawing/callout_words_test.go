package drawing

import "testing"

func TestDrawingWords(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"Lap 6 in and tape", "Lap 6″ and tape"},
		{"Free-draining, in 8 in lifts", "Free-draining, in 8″ lifts"},
		{"3 ft 6 in", "3′-6″"},
		{"Rulers every 10 ft", "Rulers every 10′"},
		{"softwood 1 1/2 in at 16 in", "softwood 1 1/2″ at 16″"},
		{"5 ft 11 1/2 in, not more", "5′-11 1/2″, not more"},
		{"Lay 2 in each bay", "Lay 2 in each bay"},
		{"Set 4 in place", "Set 4 in place"},
		{"one of 3 inserts", "one of 3 inserts"},
		{"3 ft of fall in 1/4 in.", "3′ of fall in 1/4″."},
		{"Pitch 8 in 12, not less", "Pitch 8 in 12, not less"},
		{"no length in it", "no length in it"},
		{"", ""},
	} {
		if got := DrawingWords(c.in); got != c.want {
			t.Errorf("DrawingWords(%q) = %q; want %q", c.in, got, c.want)
		}
	}
}
