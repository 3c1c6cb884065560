package units

import (
	"math"
	"testing"
)

func TestPrintLength(t *testing.T) {
	for _, c := range []struct {
		inches                                  float64
		fraction, feet, words, drawing, mm, own string
	}{
		{0, "0 in", `0"`, "0 in", "0″", "0 mm", "0 m"},
		{2.5, "2 1/2 in", `2 1/2"`, "2 1/2 in", "2 1/2″", "64 mm", "0.0635 m"},
		{0.5, "1/2 in", `1/2"`, "1/2 in", "1/2″", "13 mm", "0.0127 m"},
		{11.875, "11 7/8 in", `11 7/8"`, "11 7/8 in", "11 7/8″", "302 mm", "0.301625 m"},
		{42.5, "42 1/2 in", `3'-6 1/2"`, "3 ft 6 1/2 in", "3′-6 1/2″", "1080 mm", "1.0795 m"},
		{36, "36 in", `3'-0"`, "3 ft", "3′-0″", "914 mm", "0.9144 m"},
		{36.5, "36 1/2 in", `3'-0 1/2"`, "3 ft 1/2 in", "3′-0 1/2″", "927 mm", "0.9271 m"},
		{0.015, "15 mil", `0"`, "15 mil", "0″", "0.38 mm", "0.000381 m"},
		{0.0625, "1/16 in", `1/16"`, "1/16 in", "1/16″", "1.6 mm", "0.0015875 m"},
		{-6.5, "-6 1/2 in", `-6 1/2"`, "-6 1/2 in", "-6 1/2″", "-165 mm", "-0.1651 m"},
		{-42.5, "-42 1/2 in", `-3'-6 1/2"`, "-3 ft 6 1/2 in", "-3′-6 1/2″", "-1080 mm", "-1.0795 m"},
		{11.99, "12 in", `1'-0"`, "1 ft", "1′-0″", "305 mm", "0.304546 m"},
		{100 / 25.4, "3 15/16 in", `3 15/16"`, "3 15/16 in", "3 15/16″", "100 mm", "0.1 m"},
	} {
		l := Length(math.Round(c.inches*25.4e9) / 1e12)
		for _, p := range []struct{ name, got, want string }{
			{"InchFraction", l.InchFraction(), c.fraction}, {"FeetInch", l.FeetInch(), c.feet}, {"FeetWords", l.FeetWords(), c.words},
			{"FeetInchDrawing", l.FeetInchDrawing(), c.drawing}, {"Millimeter", l.Millimeter(), c.mm}, {"String", l.String(), c.own},
		} {
			if p.got != p.want {
				t.Errorf("%g in: %s = %q; want %q", c.inches, p.name, p.got, p.want)
			}
		}
	}
	f := Inches(42.5).Fraction()
	if f != (Fraction{false, 3, 6, 1, 2}) {
		t.Errorf("Fraction of 42 1/2 in = %+v", f)
	}
}

func TestShow(t *testing.T) {
	for _, c := range []struct {
		q            Shower
		inch, metric string
	}{
		{RValue(32.6).SI(), "R 32.6", "5.74 m²K/W"},
		{RValue(4.2).SI(), "R 4.20", "0.74 m²K/W"},
		{RValue(120).SI(), "R 120", "21.1 m²K/W"},
		{UFactor(1 / 32.6).SI(), "U 0.031", "0.174 W/m²K"},
		{UFactor(1.282).SI(), "U 1.28", "7.28 W/m²K"},
		{Conductivity(0.036), "R 4.0 per in", "0.036 W/mK"},
		{Conductivity(2.3), "R 0.063 per in", "2.3 W/mK"},
		{Conductivity(50), "R 0.0029 per in", "50 W/mK"},
		{Temperature(21.1111), "70 °F", "21 °C"},
		{Temperature(-0.2), "32 °F", "0 °C"},
		{TemperatureDifference(10), "18.0 °F", "10.0 K"},
		{Pressure(172368.932), "25 psi", "172 kPa"},
		{Force(5560.277), "1,250 lb", "5.56 kN"},
		{Area(110), "1,184 sq ft", "110 m²"},
		{Volume(493), "17,410 cu ft", "493 m³"},
		{Density(2400), "150 pcf", "2,400 kg/m³"},
		{SpecificHeat(1600), "0.38 Btu/lb°F", "1,600 J/kgK"},
		{Permeance(5.72135e-12), "0.1 perm", "5.72 ng/(s·m²·Pa)"},
		{Permeability(4.36e-11), "30 perm in", "43.6 ng/(s·m·Pa)"},
		{Ratio(0.25), "25 %", "25 %"},
		{Angle(math.Atan2(8, 12)), "8 in 12", "33.7°"},
		{LinearTransmittance(-0.1), "-0.058 Btu/h·ft·°F", "-0.100 W/mK"},
		{Length(0.1), "3 15/16 in", "100 mm"},
		{Length(2), "6 ft 6 3/4 in", "2000 mm"},
		{Length(20), "65 ft 7 3/8 in", "20.00 m"},
		{AirChange(0.6), "0.6 per hour", "0.6 per hour"},
	} {
		if got := c.q.Show(Inch); got != c.inch {
			t.Errorf("%T %v: inch %q; want %q", c.q, c.q, got, c.inch)
		}
		if got := c.q.Show(Metric); got != c.metric {
			t.Errorf("%T %v: metric %q; want %q", c.q, c.q, got, c.metric)
		}
		main, other := Pair(c.q, Metric)
		if main != c.metric || other != c.inch {
			t.Errorf("%T: Pair = %q, %q", c.q, main, other)
		}
	}
	if got := Pressure(172368.932).ShowLoad(Inch); got != "3,600 psf" {
		t.Errorf("25 psi as a load = %q", got)
	}
	if got := Temperature(9.1667).ShowTenth(Inch); got != "48.5 °F" {
		t.Errorf("48.5 °F to a tenth = %q", got)
	}
}

func TestFigures(t *testing.T) {
	for _, c := range []struct {
		v    float64
		n    int
		want string
	}{
		{9.996, 3, "10.0"}, {0.09996, 3, "0.100"}, {1234567, 3, "1,234,567"}, {-1234.5, 2, "-1,234"}, {0, 3, "0"},
		{math.NaN(), 3, "–"}, {math.Inf(1), 3, "–"}, {999.9, 3, "1,000"}, {1e-30, 2, "0.00000000000000"},
	} {
		if got := significant(c.v, c.n); got != c.want {
			t.Errorf("significant(%g, %d) = %q; want %q", c.v, c.n, got, c.want)
		}
	}
	if got := fixed(-0.004, 2); got != "0.00" {
		t.Errorf("fixed(-0.004, 2) = %q", got)
	}
}

func TestWhole(t *testing.T) {
	for v, want := range map[float64]string{0: "0", -0.4: "0", 42.4: "42", 999.4: "999", 999.6: "1,000", 8624: "8,620", -22670: "-22,700"} {
		if got := Whole(v); got != want {
			t.Errorf("Whole(%g) = %q; want %q", v, got, want)
		}
	}
}

func TestFigure(t *testing.T) {
	for _, c := range []struct {
		v      float64
		places int
		want   string
	}{
		{0, 1, "0.0"}, {42.24, 1, "42.2"}, {238.2, 1, "238"}, {10429, 0, "10,400"}, {0.348, 1, "0.3"}, {6.557, 2, "6.56"}, {37.93, 2, "37.9"},
		{9.996, 2, "10.0"}, {99.96, 2, "100"}, {999.6, 1, "1,000"}, {-22670, 1, "-22,700"}, {-0.004, 2, "0.00"}, {0.01234, 6, "0.0123"}, {math.NaN(), 1, "–"}, {math.Inf(1), 1, "–"},
	} {
		if got := Figure(c.v, c.places); got != c.want {
			t.Errorf("Figure(%g, %d) = %q; want %q", c.v, c.places, got, c.want)
		}
	}
}

func TestRoundUp(t *testing.T) {
	for v, want := range map[float64]float64{0: 0, 1746.8: 1750, 5412: 5420, 132: 132, 132.00000000000003: 132, 40.2336: 40.3, 0.00813: 0.00813, 0.008131: 0.00814, 999.2: 1000, 1: 1} {
		if got := RoundUp(v); math.Abs(got-want) > 1e-12*max(1, want) {
			t.Errorf("RoundUp(%g) = %g; want %g", v, got, want)
		}
	}
}

// Lengths have the digits they were stated with, and no more in other units.
func TestShowStated(t *testing.T) {
	for _, c := range []struct{ written, inch, metric string }{
		{"128 ft", "128 ft", "39.0 m"}, {"24 ft", "24 ft", "7.32 m"}, {"132 ft 6 in", "132 ft 6 in", "40.4 m"}, {"6 ft 8 in", "6 ft 8 in", "2.03 m"}, {"18 in", "18 in", "457 mm"},
		{"39 m", "128 ft", "39 m"}, {"39.15 m", "128 ft", "39.15 m"}, {"7.315 m", "24.0 ft", "7.315 m"}, {"7315 mm", "24.0 ft", "7.315 m"}, {"600 mm", "1.97 ft", "600 mm"}, {"15 mil", "15 mil", "0.38 mm"},
	} {
		l, err := ParseLength(c.written)
		if err != nil {
			t.Fatal(err)
		}
		if got := l.ShowStated(Inch); got != c.inch {
			t.Errorf("%s in inches %q; want %q", c.written, got, c.inch)
		}
		if got := l.ShowStated(Metric); got != c.metric {
			t.Errorf("%s in metres %q; want %q", c.written, got, c.metric)
		}
	}
	for _, c := range [...][2]string{
		{UFactor(0.2).SI().ShowStated(Inch), "U 0.20"}, {UFactor(0.245).SI().ShowStated(Inch), "U 0.245"}, {UFactor(0.2).SI().ShowStated(Metric), "1.14 W/m²K"}, {ThermalTransmittance(0.8).ShowStated(Metric), "0.80 W/m²K"},
		{Temperature(21.1111).ShowStated(Inch), "70 °F"}, {Temperature(21.1111).ShowStated(Metric), "21.1 °C"}, {Temperature(-15).ShowStated(Metric), "-15 °C"},
		{AirChange(0.03).Show(Inch), "0.03 per hour"}, {AirChange(0.0155).Show(Metric), "0.0155 per hour"},
	} {
		if c[0] != c[1] {
			t.Errorf("%q; want %q", c[0], c[1])
		}
	}
	for l, want := range map[Length][2]string{4.7148: {"15.5 ft", "4.71 m"}, 0.2: {"7 7/8 in", "200 mm"}, 412: {"1,350 ft", "412 m"}} {
		if got := [2]string{l.ShowRounded(Inch), l.ShowRounded(Metric)}; got != want {
			t.Errorf("%g m = %q; want %q", float64(l), got, want)
		}
	}
}
