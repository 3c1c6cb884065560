package site

import (
	"bytes"
	"encoding/csv"
	"regexp"
	"strings"
	"testing"

	"wythe/site/page"
)

// digits counts the significant digits of a number as printed; the zeros at the
// end of a whole one say nothing.
func digits(s string) int {
	s = strings.TrimLeft(strings.ReplaceAll(s, ",", ""), "-0.")
	if !strings.Contains(s, ".") {
		s = strings.TrimRight(s, "0")
	}
	return len(strings.ReplaceAll(s, ".", ""))
}

var (
	heatFigure  = regexp.MustCompile(`(-?[\d,.]+) (kWh|MMBtu|Btu/h|W/K|W\b|gal|degree-days|K·d|°F·d|cu yd|kg|lb)`)
	meterFigure = regexp.MustCompile(`([\d,.]+) m\b`)
	longMM      = regexp.MustCompile(`\b[\d,]{4,} mm`)
)

// TestNoFalseDigits: the demonstration building states its lengths in whole feet
// and its areas to two or three digits. What is worked out of them has three at
// most, in either system, on its pages and in the table for spreadsheets.
func TestNoFalseDigits(t *testing.T) {
	for _, metric := range []bool{false, true} {
		l := inUnits(t, map[bool]string{false: "inch", true: "metric"}[metric])
		e, v, heats, meters := l.builds[0], l.view(nil), 0, 0
		for _, tables := range []*page.Tables{v.buildingPage(e).(*page.Tables), v.takeoffPage(e)} {
			for _, s := range tables.Sections {
				if s.ID == "methods" {
					continue // constants of the standards
				}
				words := s.Words
				for _, row := range append(s.Rows, s.Foot) {
					for _, c := range row {
						words = append(words, c.Text)
					}
				}
				for _, w := range words {
					for _, m := range heatFigure.FindAllStringSubmatch(w, -1) {
						heats++
						if digits(m[1]) > 3 {
							t.Errorf("metric %v, %s: %q", metric, s.ID, w)
						}
					}
					for _, m := range meterFigure.FindAllStringSubmatch(w, -1) {
						meters++
						if digits(m[1]) > 3 {
							t.Errorf("metric %v, %s: %q", metric, s.ID, w)
						}
					}
					if longMM.MatchString(w) && !strings.Contains(w, "sheet") {
						t.Errorf("metric %v, %s: %q", metric, s.ID, w)
					}
				}
			}
		}
		if heats < 100 || metric && meters < 100 {
			t.Errorf("metric %v: %d figures of heat, %d lengths were met", metric, heats, meters)
		}
		rows, err := csv.NewReader(bytes.NewReader(l.TakeoffCSV(l.Takeoff(e.d)))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows[1:] {
			for k, name := range rows[0] {
				if strings.HasSuffix(name, " m") || strings.HasSuffix(name, " m2") || strings.HasSuffix(name, " m3") || strings.HasSuffix(name, " kg") {
					if digits(row[k]) > 3 {
						t.Errorf("%s of %s %s is %s", name, row[2], row[3], row[k])
					}
				}
			}
		}
	}
}
