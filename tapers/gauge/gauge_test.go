package gauge_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/published"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/gauge"
)

func length(text string) *units.Length {
	l := units.MustLength(text)
	return &l
}

func angle(text string) *units.Angle {
	a := units.MustAngle(text)
	return &a
}

// side is the straight side of a taper in section: the half width at height z.
type side struct{ at0, rise float64 }

// off is the distance of a point from the side's line, measured by walking
// along it to the nearest point.
func (s side) off(x, z float64) float64 {
	lo, hi := z-1000, z+1000
	d := func(t float64) float64 { return math.Hypot(x-s.at0-t*s.rise, z-t) }
	for range 90 {
		l, r := lo+(hi-lo)/3, hi-(hi-lo)/3
		if d(l) < d(r) {
			hi = r
		} else {
			lo = l
		}
	}
	return d((lo + hi) / 2)
}

// touch moves a roll of the radius r at the height z in from outside until it
// touches the side, and returns where its middle is.
func (s side) touch(z, r float64) float64 {
	lo, hi := s.at0+z*s.rise, s.at0+z*s.rise+100*r
	for range 60 {
		mid := (lo + hi) / 2
		if s.off(mid, z) < r {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// Rolls laid against a plug until they touch, measured over, and worked back.
func TestRolls(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		draw := func(name string, from, to int) units.Length {
			return units.FromFloat(float64(rapid.IntRange(from, to).Draw(rt, name)) / 100)
		}
		small, w, h := draw("small", 500, 5000), draw("roll", 200, 2000), draw("height", 500, 5000)
		half := units.Degrees(float64(rapid.IntRange(5, 3000).Draw(rt, "half")) / 100)
		l := units.Millimetres(500)
		in := gauge.RollsInput{Input: tapers.Input{Small: &small, HalfAngle: &half, Length: &l}, Roll: w, Height: h}
		r, err := gauge.Rolls(in)
		if err != nil {
			rt.Fatal(err)
		}
		plug := side{small.MM() / 2, half.Tan()}
		rad := w.MM() / 2
		over, raised := 2*(plug.touch(rad, rad)+rad), 2*(plug.touch(h.MM()+rad, rad)+rad)
		if math.Abs(r.Over.MM()-over) > 1e-6 || math.Abs(r.OverRaised.MM()-raised) > 1e-6 {
			rt.Fatalf("over %v and %v, laid on %v and %v", r.Over.Decimal(), r.OverRaised.Decimal(), over, raised)
		}
		back, err := gauge.Rolls(gauge.RollsInput{Roll: w, Height: h, Over: r.Over, OverRaised: r.OverRaised})
		if err != nil {
			rt.Fatal(err)
		}
		if math.Abs(back.HalfAngle.Deg()-half.Deg()) > 1e-6 || math.Abs(back.Small.MM()-small.MM()) > 1e-6 {
			rt.Fatalf("back to %v and %v", back.HalfAngle, back.Small.Decimal())
		}
		// A micrometre more over the raised rolls, worked again.
		more := r.OverRaised.Plus(units.MustLength("1um"))
		again, err := gauge.Rolls(gauge.RollsInput{Roll: w, Height: h, Over: r.Over, OverRaised: &more})
		if err != nil {
			rt.Fatal(err)
		}
		// the slope itself bends that little
		if got := again.HalfAngle.Deg() - back.HalfAngle.Deg(); math.Abs(got/float64(r.PerMicron)-1) > 1e-3 {
			rt.Fatalf("a micrometre: %v, told %v", got, r.PerMicron)
		}
	})
	// The formula check TB02 gives inputs only: 30 and 40 over, 100 apart.
	r, err := gauge.Rolls(gauge.RollsInput{
		Roll: units.MustLength("5mm"), Height: units.MustLength("100mm"), Over: length("30mm"), OverRaised: length("40mm"),
	})
	if err != nil || math.Abs(r.Included.Deg()-2*math.Atan(0.05)*180/math.Pi) > 1e-9 {
		t.Error(r.Included, err)
	}
}

// A plug of 3-4-5, by hand: tan a is 3/4 and tan(45 + a/2) is 2, so rolls of 10
// take up 30 and 20 mm of height are 30 of width. The raised rolls touch
// 20 + 5·(1 + 3/5) = 28 up.
func TestRollsByHand(t *testing.T) {
	mm := units.MustLength
	for _, tc := range []struct {
		name        string
		in          gauge.RollsInput
		small, more units.Length // at the plate, and at the other end
		over        units.Length
	}{
		{"measured", gauge.RollsInput{
			Input: tapers.Input{Length: length("40mm")}, Over: length("50mm"),
			OverRaised: length("80mm"),
		}, mm("20mm"), mm("80mm"), mm("50mm")},
		{
			"to measure",
			gauge.RollsInput{Input: tapers.Input{Small: length("20mm"), HalfAngle: &half345, Length: length("40mm")}},
			mm("20mm"), mm("80mm"), mm("50mm"),
		},
		{"to the top of the plug", gauge.RollsInput{
			Input: tapers.Input{Length: length("28mm")}, Over: length("50mm"),
			OverRaised: length("80mm"),
		}, mm("20mm"), mm("62mm"), mm("50mm")},
		{"a pointed plug", gauge.RollsInput{
			Input: tapers.Input{Length: length("40mm")}, Over: length("30mm"),
			OverRaised: length("60mm"),
		}, mm("0mm"), mm("60mm"), mm("30mm")},
	} {
		tc.in.Roll, tc.in.Height = mm("10mm"), mm("20mm")
		r, err := gauge.Rolls(tc.in)
		if err != nil {
			t.Error(tc.name, err)
			continue
		}
		raised := tc.over.Plus(mm("30mm"))
		if !r.Small.Equal(tc.small) || !r.Large.Equal(tc.more) || !r.Over.Equal(tc.over) || !r.OverRaised.Equal(raised) {
			t.Error(tc.name, say.Of(r.Small, ", ", r.Large, ", over ", r.Over, ", ", r.OverRaised))
		}
		// 0.001·cos² a/(2·20) is 0.001·0.64/40 of a radian.
		if got := published.Printed(float64(r.PerMicron), "0.000917"); got != "0.000917" {
			t.Error(tc.name, "a micrometre is", got)
		}
	}
}

// Discs and balls set into a taper until they touch, and worked back.
func TestDiscsAndBalls(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d2 := units.FromFloat(float64(rapid.IntRange(300, 2000).Draw(rt, "small")) / 100)
		d1 := d2.Plus(units.FromFloat(float64(rapid.IntRange(100, 2000).Draw(rt, "more")) / 100))
		half := units.Degrees(float64(rapid.IntRange(50, 800).Draw(rt, "half")) / 100)
		mouth := d1.Plus(units.FromFloat(float64(rapid.IntRange(0, 500).Draw(rt, "mouth")) / 100))
		// The bore's side, z downward from the mouth; a ball sinks until it
		// touches.
		bore := side{mouth.MM() / 2, -half.Tan()}
		sink := func(r float64) float64 {
			lo, hi := -500.0, mouth.MM()/2/half.Tan()
			for range 60 {
				z := (lo + hi) / 2
				if bore.at0+z*bore.rise > 0 && bore.off(0, z) > r {
					lo = z
				} else {
					hi = z
				}
			}
			return lo
		}
		deep := units.FromFloat(mouth.MM() / 2 / half.Tan() * 0.9999)
		z1, z2 := sink(d1.MM()/2), sink(d2.MM()/2)
		b, err := gauge.Balls(gauge.BallsInput{
			Input: tapers.Input{Large: &mouth, HalfAngle: &half, Length: &deep}, LargeBall: d1, SmallBall: d2,
		})
		if err != nil {
			rt.Fatal(err)
		}
		if math.Abs(b.LargeDepth.MM()-(z1-d1.MM()/2)) > 1e-6 || math.Abs(b.SmallDepth.MM()-(z2-d2.MM()/2)) > 1e-6 {
			rt.Fatalf(
				"depths %v and %v, sunk to %v and %v", b.LargeDepth.Decimal(), b.SmallDepth.Decimal(), z1-d1.MM()/2, z2-d2.MM()/2,
			)
		}
		back, err := gauge.Balls(gauge.BallsInput{
			LargeBall: d1, SmallBall: d2, LargeDepth: b.LargeDepth, SmallDepth: b.SmallDepth,
		})
		if err != nil {
			rt.Fatal(err)
		}
		if math.Abs(back.HalfAngle.Deg()-half.Deg()) > 1e-5 || math.Abs(back.Large.MM()-mouth.MM()) > 1e-5 {
			rt.Fatalf("back to %v and a mouth of %v", back.HalfAngle, back.Large.Decimal())
		}
		// The same figure with discs: their middles are as far apart, the gap is
		// what is left between them.
		gap := z2 - z1 - d1.MM()/2 - d2.MM()/2
		d, err := gauge.Discs(gauge.DiscsInput{Input: tapers.Input{HalfAngle: &half}, LargeDisc: d1, SmallDisc: d2})
		if gap < 0 {
			if err == nil {
				rt.Fatalf("the discs overlap by %v and nothing is said", -gap)
			}
			return
		}
		if err != nil {
			rt.Fatal(err)
		}
		if math.Abs(d.Gap.MM()-gap) > 1e-6 {
			rt.Fatalf("gap %v, set in %v", d.Gap.Decimal(), gap)
		}
		width := 2 * (bore.at0 + z1*bore.rise)
		if math.Abs(d.Large.MM()-width) > 1e-6 {
			rt.Fatalf("width at the large disc %v, set in %v", d.Large.Decimal(), width)
		}
		more := d.Gap.Plus(units.MustLength("1um"))
		again, err := gauge.Discs(gauge.DiscsInput{LargeDisc: d1, SmallDisc: d2, Gap: &more})
		if err != nil {
			rt.Fatal(err)
		}
		if got := d.HalfAngle.Deg() - again.HalfAngle.Deg(); math.Abs(got/float64(d.PerMicron)-1) > 1e-3 {
			rt.Fatalf("a micrometre: %v, told %v", got, d.PerMicron)
		}
	})
	// The worked example TB01 gives inputs only: balls of 40 and 32, 8 above
	// the face and 76 below. The middles come 80 apart, so sin a = 4/80.
	r, err := gauge.Balls(gauge.BallsInput{
		LargeBall: units.MustLength("40mm"), SmallBall: units.MustLength("32mm"), LargeDepth: length("-8mm"),
		SmallDepth: length("76mm"),
	})
	if err != nil || !r.Centre.Equal(units.MustLength("80mm")) || published.Printed(r.Included.Deg(), "5.732") != "5.732" {
		t.Error(r.Centre.Decimal(), r.Included, err)
	}
	// The cone's point is 412 mm down, so 103 mm down the bore is 3/4 of its mouth.
	r, err = gauge.Balls(gauge.BallsInput{
		Input: tapers.Input{Length: length("103mm")}, LargeBall: units.MustLength("40mm"),
		SmallBall: units.MustLength("32mm"), LargeDepth: length("-8mm"), SmallDepth: length("76mm"),
	})
	if err != nil || math.Abs(r.Small.MM()-0.75*r.Large.MM()) > 1e-8 {
		t.Error(r.Large.Decimal(), r.Small.Decimal(), err)
	}
}

// A collar slid down a cone until the diameter is its bore.
func TestSeat(t *testing.T) {
	for _, tc := range []struct{ large, small, l, bore, at, src string }{
		{"34mm", "20mm", "62mm", "22mm", "53.143mm", "by proportion: 62·12/14"},
		{"1in", "0.5in", "3in", "3/4in", "1.5000in", "half way down"},
		{"30mm", "20mm", "60mm", "30mm", "0.000mm", "at the large end"},
	} {
		r, err := gauge.Seat(gauge.SeatInput{
			Input: tapers.Input{Large: length(tc.large), Small: length(tc.small), Length: length(tc.l)},
			Bore:  units.MustLength(tc.bore),
		})
		if err != nil {
			t.Fatal(err)
		}
		if !r.At.Plus(*r.FromSmall).Equal(units.MustLength(tc.l)) {
			t.Errorf("%s: %v and %v are not the cone", tc.bore, r.At.Decimal(), r.FromSmall.Decimal())
		}
		if got := units.AsPrinted(*r.At, tc.at); got != tc.at || len(r.Fails()) != 0 {
			t.Errorf("%s: %s, want %s (%s)", tc.bore, got, tc.at, tc.src)
		}
		// The stop for a bore a micrometre smaller.
		more, err := gauge.Seat(gauge.SeatInput{
			Input: tapers.Input{Large: length(tc.large), Small: length(tc.small), Length: length(tc.l)},
			Bore:  units.MustLength(tc.bore).Minus(units.MustLength("0.001mm")),
		})
		if err != nil || math.Abs(more.At.Minus(*r.At).MM()-float64(r.PerMicron)) > 1e-8 {
			t.Errorf("%s: a micrometre moves it %v, told %v (%v)", tc.bore, more.At.Minus(*r.At).Decimal(), r.PerMicron, err)
		}
	}
	for bore, want := range map[string]string{
		"31mm": "bore: 31 mm: passes over the whole cone: larger than the large end, 30 mm",
		"19mm": "bore: 19 mm: does not go on: smaller than the small end, 20 mm",
	} {
		r, err := gauge.Seat(gauge.SeatInput{
			Input: tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
			Bore:  units.MustLength(bore),
		})
		if err != nil || r.Fails().Error() != want || r.At != nil || r.FromSmall != nil {
			t.Errorf("%v, %v; want %s", err, r.Fails(), want)
		}
	}
}

func TestRefusals(t *testing.T) {
	cone := tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")}
	mm := units.MustLength
	run := func(in any) error {
		var err error
		switch in := in.(type) {
		case gauge.RollsInput:
			_, err = gauge.Rolls(in)
		case gauge.DiscsInput:
			_, err = gauge.Discs(in)
		case gauge.BallsInput:
			_, err = gauge.Balls(in)
		case gauge.CorrectInput:
			_, err = gauge.Correct(in)
		case gauge.SeatInput:
			_, err = gauge.Seat(in)
		}
		return err
	}
	for _, tc := range []struct {
		in   any
		want string
	}{
		{gauge.RollsInput{Input: cone}, "roll: 0 mm: must be above 0\nheight: 0 mm: must be above 0"},
		{
			gauge.RollsInput{Roll: mm("10"), Height: mm("20")},
			"taper: needs the taper, or what was measured: over and over-raised",
		},
		{gauge.RollsInput{Roll: mm("10"), Height: mm("20"), Over: length("40mm")}, "over-raised: is needed with over"},
		{
			gauge.RollsInput{Input: cone, Roll: mm("10"), Height: mm("20"), Over: length("40mm"), OverRaised: length("42mm")},
			"taper: give the taper or what was measured (over and over-raised), not both",
		},
		{
			gauge.RollsInput{Roll: mm("10"), Height: mm("20"), Over: length("40mm"), OverRaised: length("40mm")},
			"over-raised: 40 mm: must be above 40 mm, over the rolls on the plate: the plug stands on its small end",
		},
		{
			gauge.RollsInput{Roll: mm("10"), Height: mm("20"), Over: length("19mm"), OverRaised: length("20mm")},
			"over: 19 mm: less than the rolls alone take up",
		},
		{
			gauge.RollsInput{Input: cone, Roll: mm("10"), Height: mm("56")},
			"height: 56 mm: the raised rolls would touch 61.416 mm up, above the plug of 60 mm",
		},
		{
			gauge.RollsInput{
				Input: tapers.Input{Large: length("30mm"), Small: length("20mm"), HalfAngle: angle("5")}, Roll: mm("10"),
				Height: mm("56"),
			},
			"height: 56 mm: the raised rolls would touch 61.436 mm up, above the plug of 57.15 mm",
		},
		{
			gauge.DiscsInput{LargeDisc: mm("20"), SmallDisc: mm("20"), Gap: length("-1mm")},
			"large-disc: 20 mm: must be above 20 mm, the small one\ngap: -1 mm: cannot be negative",
		},
		{
			gauge.DiscsInput{Input: tapers.Input{HalfAngle: angle("30")}, LargeDisc: mm("20"), SmallDisc: mm("10")},
			"small-disc: 10 mm: the discs would overlap by 5 mm on this taper: take a smaller one",
		},
		{
			gauge.BallsInput{LargeBall: mm("20"), SmallBall: mm("0"), LargeDepth: length("1mm")},
			"small-ball: 0 mm: must be above 0\nsmall-depth: is needed with large-depth",
		},
		{
			gauge.BallsInput{LargeBall: mm("20"), SmallBall: mm("10"), LargeDepth: length("0mm"), SmallDepth: length("10mm")},
			"small-depth: 10 mm: the balls' middles come 5 mm apart: in a bore they are more than 5 mm",
		},
		// sin a = 4/80: the mouth of 41.252 mm comes to a point 412 mm down; a ball
		// touches r·sin a under its middle, the small one 92.8 mm down.
		{
			gauge.BallsInput{
				Input: tapers.Input{Length: length("500mm")}, LargeBall: mm("40"), SmallBall: mm("32"),
				LargeDepth: length("-8mm"), SmallDepth: length("76mm"),
			},
			"length: 500 mm: the taper comes to a point first: at most 412 mm from 41.252 mm with this slope",
		},
		{
			gauge.BallsInput{
				Input: tapers.Input{Length: length("92.7mm")}, LargeBall: mm("40"), SmallBall: mm("32"),
				LargeDepth: length("-8mm"), SmallDepth: length("76mm"),
			},
			"small-ball: 32 mm: would touch 92.8 mm down, below the bore of 92.7 mm: take a larger one",
		},
		{
			gauge.BallsInput{LargeBall: mm("40"), SmallBall: mm("32"), LargeDepth: length("-22mm"), SmallDepth: length("62mm")},
			"large-ball: 40 mm: would touch 1 mm above the mouth, and rides on its edge: take a smaller one",
		},
		{
			gauge.CorrectInput{Input: cone, Measured: []gauge.Reading{{mm("5"), mm("-20")}, {mm("6"), mm("21")}}},
			"measured: -20 mm: cannot be negative",
		},
		{
			gauge.CorrectInput{Input: cone},
			"measured: needs two measured, such as measured 5=29.2 measured 55=21.0, or blue large or small, or what was " +
				"measured over rolls or balls, or stick-out",
		},
		{gauge.CorrectInput{Input: cone, Blue: "larg"}, "blue: larg: write large or small\n  did you mean large?"},
		{
			gauge.CorrectInput{Input: cone, Measured: []gauge.Reading{{}}},
			"measured: 1 given: needs two at least, as far apart as the taper allows",
		},
		{
			gauge.CorrectInput{
				Input: cone, Measured: []gauge.Reading{{mm("5"), mm("20")}, {mm("5"), mm("21")}}, Between: length("0mm"),
			},
			"measured: 5 mm: both readings stand at one place\nbetween: 0 mm: must be above 0",
		},
		{gauge.SeatInput{Input: cone}, "bore: 0 mm: must be above 0"},
		{
			gauge.SeatInput{Input: tapers.Input{HalfAngle: angle("5")}, Bore: mm("20")},
			"large: where the bore stops needs the taper's sizes: two of large, small and length beside the slope",
		},
	} {
		if err := run(tc.in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

// The taper ring of the worked example: balls of 40 and 32 mm, the large one 8
// mm above the face and the small one 76 mm below.
func ExampleBalls() {
	up, down := units.MustLength("-8mm"), units.MustLength("76mm")
	r, err := gauge.Balls(gauge.BallsInput{
		LargeBall: units.MustLength("40mm"), SmallBall: units.MustLength("32mm"), LargeDepth: &up, SmallDepth: &down,
	})
	if err != nil {
		panic(err)
	}
	fmt.Println(r.Included.DMS(false), "included, mouth", r.Large.Fixed(units.MM, 2, units.Nearest), "mm")
	// Output: 5°44' included, mouth 41.25 mm
}

// The working, put into a calculator.
func TestWorking(t *testing.T) {
	mm := units.MustLength
	cone := tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")}
	show := func(r sheet.Result, err error) {
		if err != nil {
			t.Fatal(err)
		}
		published.Works(t, r.Sheet())
	}
	rolls, err := gauge.Rolls(gauge.RollsInput{Input: cone, Roll: mm("10mm"), Height: mm("20mm")})
	show(rolls, err)
	discs, err := gauge.Discs(gauge.DiscsInput{LargeDisc: mm("30mm"), SmallDisc: mm("20mm"), Gap: length("15mm")})
	show(discs, err)
	balls, err := gauge.Balls(gauge.BallsInput{
		LargeBall: mm("40mm"), SmallBall: mm("32mm"), LargeDepth: length("-8mm"), SmallDepth: length("76mm"),
	})
	show(balls, err)
	right, err := gauge.Correct(gauge.CorrectInput{Input: cone, Measured: []gauge.Reading{
		{mm("5"), mm("29.2")}, {mm("55"), mm("20.8")},
	}})
	show(right, err)
	seat, err := gauge.Seat(gauge.SeatInput{Input: cone, Bore: mm("24mm")})
	show(seat, err)
}
