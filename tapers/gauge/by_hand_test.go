package gauge_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/tapers"
	"setover/tapers/gauge"
)

// fixed prints lengths in one unit, in a row; "-" for one there is not.
func fixed(u units.Unit, list ...*units.Length) string {
	var texts []string
	for _, l := range list {
		text := "-"
		if l != nil {
			text = l.Fixed(u, 4, units.Nearest)
		}
		texts = append(texts, text)
	}
	return strings.Join(texts, " ")
}

// half345 is the half angle of 3-4-5, half51213 that of 5-12-13.
var (
	half345   = units.Radians(math.Atan2(3, 4))
	half51213 = units.Radians(math.Atan2(5, 12))
)

// Discs in a taper of 3-4-5 and of 5-12-13, by hand: sin a is (R - r)/C, and
// the taper is D/cos a wide at a disc. Radii of 40 and 10 touch each other at C
// = 50: 30/50 = 3/5, and cos is 4/5: 100 and 25 wide. Radii of 8 and 3 with a
// gap of 2 stand 13 apart: 5/13, and cos is 12/13: 16·13/12 and 6·13/12. A
// micrometre is 0.001·tan a/C: 0.001·(3/4)/50 = 1.5e-5 of a radian, and
// 0.001·(5/12)/13; in inches the same discs a tenth as large are
// 0.001·(5/12)/33.02.
func TestDiscsByHand(t *testing.T) {
	for _, tc := range []struct {
		large, small, gap string
		half              units.Angle
		unit              units.Unit
		angle, want       string // want: gap, centre distance, width at the discs
		micron            string
	}{
		{"80mm", "20mm", "0mm", half345, units.MM, "36.8699", "0.0000 50.0000 100.0000 25.0000", "0.000859"},
		{"16mm", "6mm", "2mm", half51213, units.MM, "22.6199", "2.0000 13.0000 17.3333 6.5000", "0.001836"},
		{"1.6in", "0.6in", "0.2in", half51213, units.Inch, "22.6199", "0.2000 1.3000 1.7333 0.6500", "0.000723"},
	} {
		for name, in := range map[string]gauge.DiscsInput{
			"measured":   {Gap: length(tc.gap)},
			"to measure": {Input: tapers.Input{HalfAngle: &tc.half}},
		} {
			in.LargeDisc, in.SmallDisc = units.MustLength(tc.large), units.MustLength(tc.small)
			r, err := gauge.Discs(in)
			if err != nil {
				t.Error(name, tc.large, err)
				continue
			}
			got := fmt.Sprintf("%.4f %s %.6f", r.HalfAngle.Deg(), fixed(tc.unit, &r.Gap, &r.Centre, r.Large, r.Small),
				r.PerMicron)
			if want := tc.angle + " " + tc.want + " " + tc.micron; got != want {
				t.Errorf("%s, %s: got %s, want %s", name, tc.large, got, want)
			}
		}
	}
}

// Balls in a bore of 3-4-5, by hand. Radii of 20 and 8: C = 12/(3/5) = 20. With
// the top of the large one level with the face its middle is 20 down and that
// of the small one 40, so its top is 32 down. The mouth is 2·(20/(4/5) +
// 20·3/4) = 80, and 48 down the bore is 80 - 2·48·3/4 = 8. A micrometre is
// 0.001·(3/4)/20 of a radian, 0.002149 deg. In inches a fortieth of it all: C =
// 0.5 in is 12.7 mm, 0.001·(3/4)/12.7.
func TestBallsByHand(t *testing.T) {
	for _, tc := range []struct {
		large, small, top, mouth, long string
		unit                           units.Unit
		want                           string // the tops, centre distance, mouth, small end
		micron                         string
	}{
		{"40mm", "16mm", "32mm", "80mm", "48mm", units.MM, "0.0000 32.0000 20.0000 80.0000 8.0000", "0.002149"},
		{"1in", "0.4in", "0.8in", "2in", "1.2in", units.Inch, "0.0000 0.8000 0.5000 2.0000 0.2000", "0.003384"},
	} {
		for name, in := range map[string]gauge.BallsInput{
			"measured":   {LargeDepth: length("0mm"), SmallDepth: length(tc.top)},
			"to measure": {Input: tapers.Input{HalfAngle: &half345, Large: length(tc.mouth)}},
		} {
			in.LargeBall, in.SmallBall, in.Length = units.MustLength(tc.large), units.MustLength(tc.small), length(tc.long)
			r, err := gauge.Balls(in)
			if err != nil {
				t.Error(name, tc.large, err)
				continue
			}
			got := fmt.Sprintf("%.4f %s %.6f", r.HalfAngle.Deg(),
				fixed(tc.unit, r.LargeDepth, r.SmallDepth, &r.Centre, r.Large, r.Small), r.PerMicron)
			if want := "36.8699 " + tc.want + " " + tc.micron; got != want {
				t.Errorf("%s, %s: got %s, want %s", name, tc.large, got, want)
			}
		}
	}
}

// What to change, by hand. Wanted 3-4-5 and cut 5-12-13: 20 less on the
// diameter in 24. sin(a - m) = 3/5·12/13 - 4/5·5/13 = 16/65, 14.2500 deg
// further. Over 16 mm of slide, where an indicator of 10 mm ends, it shows 16·5/13
// = 6.1538 and then 16·3/5 = 9.6; of 130 between centres the tailstock stands over 78 and is
// at 50; over a length of 40 the taper is out by 2·40·(5/12 - 3/4) = -26.6667.
// Wanted 30 to 20 over 60, tan a = 1/12, and cut 29.2 to 20.8 in 50, tan m =
// 0.084: a is 4.76364 deg, m 4.80157, out by 120·(0.084 - 1/12) = 0.08; sin a
// is 1/√145 = 0.0830455 and sin m 0.084/√1.007056 = 0.0837052, 0.0006597 more.
// Over 20 mm of slide that is 1.6609 and 0.0132. A twenty-fifth of it all in inches,
// over 1 in of slide.
func TestCorrectByHand(t *testing.T) {
	for _, tc := range []struct {
		name, large, small, long, between string
		measured                          [2][2]string // z and diameter
		unit                              units.Unit
		turn, angles                      string // wanted, measured, correction, new
		want                              string // tailstock over, its change, diameter error
		indicator, axial                  string
	}{
		{
			"3-4-5", "80mm", "20mm", "40mm", "130mm",
			[2][2]string{{"5mm", "60mm"}, {"29mm", "40mm"}},
			units.MM,
			"further", "36.8699 22.6199 14.2500 51.1199", "78.0000 28.0000 -26.6667", "9.6000 3.4462", "0.6667",
		},
		{
			"a twelfth", "30mm", "20mm", "60mm", "200mm",
			[2][2]string{{"55mm", "20.8mm"}, {"5mm", "29.2mm"}},
			units.MM,
			"back", "4.7636 4.8016 -0.0379 4.7257", "16.6091 -0.1319 0.0800", "1.6609 -0.0132", "6.0000",
		},
		{
			"a twelfth, in inches", "1.2in", "0.8in", "2.4in", "8in",
			[2][2]string{{"0.2in", "1.168in"}, {"2.2in", "0.832in"}},
			units.Inch,
			"back", "4.7636 4.8016 -0.0379 4.7257", "0.6644 -0.0053 0.0032", "0.0830 -0.0007", "6.0000",
		},
	} {
		in := gauge.CorrectInput{
			Input:   tapers.Input{Large: length(tc.large), Small: length(tc.small), Length: length(tc.long)},
			Between: length(tc.between), Care: gauge.Care{Unit: tc.unit},
		}
		for _, m := range tc.measured {
			in.Measured = append(in.Measured, gauge.Reading{Z: units.MustLength(m[0]), Dia: units.MustLength(m[1])})
		}
		r, err := gauge.Correct(in)
		if err != nil {
			t.Error(tc.name, err)
			continue
		}
		in.Between = nil
		slide, err := gauge.Correct(in)
		if err != nil {
			t.Error(tc.name, err)
			continue
		}
		for _, figure := range []struct{ got, want string }{
			{r.Turn, tc.turn},
			{slide.Turn, tc.turn},
			{
				fmt.Sprintf("%.4f %.4f %.4f %.4f", r.HalfAngle.Deg(), r.Measured.Deg(), r.Correction.Deg(), slide.NewAngle.Deg()),
				tc.angles,
			},
			{fixed(tc.unit, r.Offset, r.OffsetChange, r.DiameterError), tc.want},
			{fixed(tc.unit, slide.Indicator, slide.IndicatorChange), tc.indicator},
			{fmt.Sprintf("%.4f", r.Axial), tc.axial},
		} {
			if figure.got != figure.want {
				t.Errorf("%s: got %s, want %s", tc.name, figure.got, figure.want)
			}
		}
	}
	// Blue on a cone of 3-4-5, 40 long: 0.01 mm on the diameter is
	// 0.01/(2·40)·(4/5)² = 8e-5 of a radian.
	r, err := gauge.Correct(gauge.CorrectInput{
		Input: tapers.Input{Large: length("80mm"), Small: length("20mm"), Length: length("40mm")}, Blue: gauge.AtSmall,
	})
	if err != nil || r.Turn != "further" || fmt.Sprintf("%.5f", *r.PerHundredth) != "0.00458" {
		t.Error(r.Turn, r.PerHundredth, err)
	}
}

// What the half angle may be where each reading is off, by hand. Rolls of 3-4-5
// on blocks of 20: tan a is 30/40, and with 5 on each reading 20/40 to 40/40,
// 26.5651 to 45 deg. Discs of 3-4-5, sin a = 30/50: with 10 on the gap 30/60 to
// 30/40, 30 to 48.5904 deg. Balls of 3-4-5, sin a = 12/20: with 2 on each depth
// 12/24 to 12/16. What is not told to be steeper than nothing is 0, and what may
// be a flat face 90. Where nothing was measured there is nothing to bound.
func TestBoundsByHand(t *testing.T) {
	rolls := gauge.RollsInput{
		Roll: units.MustLength("10mm"), Height: units.MustLength("20mm"), Over: length("50mm"), OverRaised: length("80mm"),
	}
	discs := gauge.DiscsInput{LargeDisc: units.MustLength("80mm"), SmallDisc: units.MustLength("20mm"), Gap: length("0mm")}
	balls := gauge.BallsInput{
		LargeBall: units.MustLength("40mm"), SmallBall: units.MustLength("16mm"), LargeDepth: length("0mm"),
		SmallDepth: length("32mm"),
	}
	for _, tc := range []struct {
		name, off, want string
		figures         func(off *units.Length) (gauge.Figures, error)
	}{
		{"rolls", "5mm", "26.5651 45.0000", func(off *units.Length) (gauge.Figures, error) {
			rolls.ReadingError = off
			r, err := gauge.Rolls(rolls)
			return r.Figures, err
		}},
		{"rolls, no slope told", "15mm", "0.0000 56.3099", func(off *units.Length) (gauge.Figures, error) {
			rolls.ReadingError = off
			r, err := gauge.Rolls(rolls)
			return r.Figures, err
		}},
		{"discs", "10mm", "30.0000 48.5904", func(off *units.Length) (gauge.Figures, error) {
			discs.ReadingError = off
			r, err := gauge.Discs(discs)
			return r.Figures, err
		}},
		{"balls", "2mm", "30.0000 48.5904", func(off *units.Length) (gauge.Figures, error) {
			balls.ReadingError = off
			r, err := gauge.Balls(balls)
			return r.Figures, err
		}},
		{"balls, a flat face", "4mm", "25.3769 90.0000", func(off *units.Length) (gauge.Figures, error) {
			balls.ReadingError = off
			r, err := gauge.Balls(balls)
			return r.Figures, err
		}},
	} {
		f, err := tc.figures(length(tc.off))
		if err != nil {
			t.Error(tc.name, err)
			continue
		}
		if got := fmt.Sprintf("%.4f %.4f", f.Least.Deg(), f.Most.Deg()); got != tc.want {
			t.Errorf("%s: %s, want %s", tc.name, got, tc.want)
		}
	}
	stated, err := gauge.Discs(gauge.DiscsInput{
		Input: tapers.Input{HalfAngle: &half345}, LargeDisc: units.MustLength("80mm"), SmallDisc: units.MustLength("20mm"),
	})
	if err != nil || stated.Least != nil || stated.Most != nil {
		t.Error(stated.Least, stated.Most, err)
	}
	// What a reading is usually told to: 5 um in mm, 0.0002 in in inches. (30 - 0.01)/40
	// and (30 - 0.01016)/40 of 3-4-5.
	for unit, want := range map[units.Unit]string{units.MM: "36.8607", units.Inch: "36.8606"} {
		rolls.Care = gauge.Care{Unit: unit}
		r, err := gauge.Rolls(rolls)
		if err != nil || fmt.Sprintf("%.4f", r.Least.Deg()) != want {
			t.Error(unit, r.Least, err)
		}
	}
}
