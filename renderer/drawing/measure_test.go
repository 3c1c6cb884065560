package drawing

import (
	"math"
	"os"
	"testing"

	"gopkg.in/yaml.v3"
)

// Judge: Chromium; testdata/chromium-widths.yaml says how it was asked.
func TestMeasureAsChromium(t *testing.T) {
	data, err := os.ReadFile("testdata/chromium-widths.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Widths []struct {
			Face    string
			Weight  int
			Text    string
			WidthEm float64 `yaml:"width_em"`
		}
	}
	if err := yaml.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Widths) < 70 {
		t.Fatalf("%d widths read, want at least 70", len(file.Widths))
	}
	for _, c := range file.Widths {
		face := map[string]Face{"lettering": Lettering, "reading": Reading}[c.Face]
		got := Measure(face, c.Weight, 1, c.Text)
		if math.Abs(got-c.WidthEm) > 0.0005*c.WidthEm {
			t.Errorf("%s %d %q measures %.5f em; Chromium %.5f", c.Face, c.Weight, c.Text, got, c.WidthEm)
		}
	}
}

func TestRunsEndAtWidth(t *testing.T) {
	for _, text := range []string{"", "plain", "5 3/4″", "3′-6 1/2″", "λ of 1/16 → 2", "W/m²K", "10/12/2026", "1/2", "a 1/2 b 3/4", "12 in / 1 ft"} {
		for _, tracking := range []float64{0, 0.06} {
			run := &Text{Size: 3.2, Face: Lettering, Weight: 500, Text: text, Tracking: tracking}
			end, joined := 0.0, ""
			for _, r := range run.Runs(nil) {
				if math.Abs(r.X-end) > fractionGap*run.Size+1e-9 {
					t.Errorf("%q: run %q starts at %.3f, the one before ends at %.3f", text, r.Text, r.X, end)
				}
				joined += r.Text
				end = r.X
				for _, sign := range r.Text {
					s := tableOf(run.Face, r.Weight).sign(sign)
					end += float64(s.advance) * r.Size / unitsPerEm
					if r.Size == run.Size && string(sign) != fractionBar {
						end += tracking
					}
					if families[run.Face][s.from] != r.Family {
						t.Errorf("%q: %q is set in the wrong family", text, sign)
					}
				}
			}
			if math.Abs(end-run.Width()) > 1e-9 {
				t.Errorf("%q tracked %g: runs %q end at %.4f, width is %.4f", text, tracking, joined, end, run.Width())
			}
		}
	}
}

func TestFractions(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string
	}{
		{"2 1/2″", []string{"2", "1", "⁄", "2", "″"}},
		{"1/16", []string{"1", "⁄", "16"}},
		{"3′-6 1/2″", []string{"3′-6", "1", "⁄", "2", "″"}},
		{"R 1/2 of 3/4", []string{"R ", "1", "⁄", "2", " of ", "3", "⁄", "4"}},
		{"10/12/2026", []string{"10/12/2026"}},
		{"8/12 pitch", []string{"8", "⁄", "12", " pitch"}},
		{"Btu/h 4/3 A1/2 1.1/2", []string{"Btu/h 4/3 A1/2 1.1/2"}},
	} {
		var got []string
		eachPiece(c.text, func(p piece) { got = append(got, p.text) })
		if len(got) != len(c.want) {
			t.Errorf("%q splits into %q, want %q", c.text, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%q splits into %q, want %q", c.text, got, c.want)
			}
		}
	}
}

// The signs that pages and sheets need.
func TestSignsOfTheTrade(t *testing.T) {
	if miss := Missing("λψχθρμαΔ′″½¼¾⅛⅜⅝⅞→≤≥≈°×²³–—Ø·±−•“”‘’…⁄✓⌀"); miss != "" {
		t.Errorf("no face holds %q", miss)
	}
	if miss := Missing("a漢b\n漢"); miss != "漢\n" {
		t.Errorf("Missing finds %q, want the character and the line feed", miss)
	}
}

func BenchmarkMeasure(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Measure(Lettering, 600, 3.2, "VAPOR RETARDER FILM, 15 MIL 2 1/2″")
	}
}
