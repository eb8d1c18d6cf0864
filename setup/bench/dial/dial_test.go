package dial_test

import (
	"encoding/json"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/dial"
	"setover/setup/maker/shop"
	"setover/setup/page/published"
)

func size(text string) *units.Length {
	if text == "" {
		return nil
	}
	l := units.MustLength(text)
	return &l
}

func reading(text string) *units.Number {
	if text == "" {
		return nil
	}
	d := units.Number(units.MustLength(text).MM())
	return &d
}

// The collars that are met in shops: 2 mm lead counting on the diameter, the
// same counting the travel, 1/10 in lead in thousandths both ways, and 1/8 in.
var (
	metricOnDiameter = &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100, OnDiameter: true}
	metricOnTravel   = &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100}
	inchOnTravel     = &shop.Dial{Lead: units.MustLength("0.1in"), Divisions: 100, Unit: units.Inch}
	inchOnDiameter   = &shop.Dial{Lead: units.MustLength("0.1in"), Divisions: 200, OnDiameter: true, Unit: units.Inch}
	eighth           = &shop.Dial{Lead: units.MustLength("0.125in"), Divisions: 125, Unit: units.Inch}
	thirds           = &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 60}
)

// Each row is worked by hand; there is no source but the counting of lines.
func TestNext(t *testing.T) {
	for _, tc := range []struct {
		name, measured, target, reading string
		slide                           dial.Slide
		angle                           string
		dial                            *shop.Dial
		want                            string // turns divisions next set move out error
	}{
		{
			"0.4 off the diameter is 10 divisions of 0.04", "20.4", "20", "1.2", dial.Cross, "", metricOnDiameter,
			"0 10 1.6 1.6 0.2 20 0",
		},
		{
			"the same on a collar that counts the travel", "20.4", "20", "1.2", dial.Cross, "", metricOnTravel,
			"0 10 1.4 1.4 0.2 20 0",
		},
		{"past the collar's 0", "20.4", "20", "3.8", dial.Cross, "", metricOnDiameter, "0 10 0.2 0.2 0.2 20 0"},
		{"more than a turn", "30", "20", "1", dial.Cross, "", metricOnDiameter, "2 50 3 3 5 20 0"},
		{
			"between lines it stops short", "20.5", "20", "0", dial.Cross, "", metricOnDiameter,
			"0 12 0.5 0.48 0.25 20.02 0.02",
		},
		{
			"a bore is wound the other way and stays under", "19.5", "20", "0.1", dial.Cross, "", metricOnDiameter,
			"0 -12 3.6 3.62 -0.25 19.98 -0.02",
		},
		{
			"an inch collar with an inch size", "1.010in", "1in", "0.030", dial.Cross, "", inchOnTravel,
			"0 5 0.035 0.035 0.127 25.4 0",
		},
		// 0.005 + 0.25/25.4,
		{
			"an inch collar with a metric size", "20.5", "20", "0.005", dial.Cross, "", inchOnTravel,
			"0 9 0.01484252 0.014 0.25 20.0428 0.0428",
		},
		{
			"an inch collar that counts on the diameter", "1.010in", "1in", "0.195", dial.Cross, "", inchOnDiameter,
			"0 10 0.005 0.005 0.127 25.4 0",
		},
		// 0.1 + 0.150 is twice round,
		{"eighth-inch lead", "2in", "1.7in", "0.1", dial.Cross, "", eighth, "1 25 0 0 3.81 43.18 0"},
		{"a division with no finite decimal", "10", "9", "0", dial.Cross, "", thirds, "0 30 0.5 0.5 0.5 9 0"},
		{
			"the compound along the axis moves lengths", "40.35", "40", "0.9", dial.Compound, "", metricOnTravel,
			"0 17 1.25 1.24 0.35 40.01 0.01",
		},
		{
			"the compound at 30 deg takes its travel off the diameter", "20.4", "20", "0.9", dial.Compound, "30deg",
			metricOnTravel, "0 20 1.3 1.3 0.4 20 0",
		},
		{
			"the carriage moves lengths", "40.35", "40", "0.9", dial.Carriage, "", metricOnTravel,
			"0 17 1.25 1.24 0.35 40.01 0.01",
		},
		{"the mill's table", "12", "10", "0.5", dial.Table, "", metricOnTravel, "1 0 0.5 0.5 2 10 0"},
		{"on size", "20", "20", "0.5", dial.Cross, "", metricOnTravel, "0 0 0.5 0.5 0 20 0"},
	} {
		in := dial.Input{
			Measured: size(tc.measured), Target: size(tc.target), Reading: reading(tc.reading), Slide: tc.slide,
			Dial: tc.dial,
		}
		if tc.angle != "" {
			a := units.MustAngle(tc.angle)
			in.Angle = &a
		}
		r, err := dial.Next(in)
		if err != nil {
			t.Fatal(tc.name, err)
		}
		published.Works(t, r.Sheet())
		got := strconv.FormatInt(*r.Turns, 10) + " " + strconv.FormatInt(*r.Divisions, 10)
		for _, v := range []any{r.NextReading, r.NextSet, r.Move, r.ComesOut, r.Error} {
			text, err := json.Marshal(v)
			if err != nil {
				t.Fatal(tc.name, err)
			}
			got += " " + string(text)
		}
		if got != tc.want {
			t.Errorf("%s: got %s, want %s", tc.name, got, tc.want)
		}
	}
}

// A collar whose numbers fall while the slide goes in, by hand: 0.4 mm off the
// diameter is 0.4 on a collar that counts it, back from 1.2 to 0.8, and from
// 0.2 past its 0 to 3.8, since a turn is 4.
func TestFallingNumbers(t *testing.T) {
	for from, want := range map[string]units.Number{"1.2": 0.8, "0.2": 3.8} {
		r, err := dial.Next(dial.Input{
			Measured: size("20.4"), Target: size("20"), Reading: reading(from), Slide: dial.Cross, Dial: metricOnDiameter,
			Falling: true,
		})
		if err != nil || *r.NextReading != want || *r.NextSet != want {
			t.Errorf("from %s: %v and %v, %v; want %v", from, *r.NextReading, *r.NextSet, err, want)
		}
	}
}

// Parts of a division are said in hundredths, from half a hundredth on: 0.1 mm
// of travel is 5 divisions of 0.02.
func TestParts(t *testing.T) {
	for measured, want := range map[string]string{
		"20.2": "0 turns + 5 div", "20.20016": "0 turns + 5 div",
		"20.20024": "0 turns + 5 div and 0.01 of one more", "20.2008": "0 turns + 5 div and 0.02 of one more",
	} {
		r, err := dial.Next(dial.Input{
			Measured: size(measured), Target: size("20"), Slide: dial.Cross, Dial: metricOnTravel,
		})
		if err != nil {
			t.Fatal(err)
		}
		if got := say.Of(r.Sheet().Facts[0].Value).String(); got != want {
			t.Errorf("%s: %s, want %s", measured, got, want)
		}
	}
}

// Winding out what was wound in comes back to the reading, and the size that
// comes out never passes the target.
func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(
			[]*shop.Dial{metricOnDiameter, metricOnTravel, inchOnTravel, inchOnDiameter, eighth, thirds},
		).Draw(t, "dial")
		draw := func(name string) *units.Length {
			return size(strconv.Itoa(rapid.IntRange(1000, 90000).Draw(t, name)) + "um")
		}
		in := dial.Input{
			Measured: draw("measured"), Target: draw("target"), Reading: reading("0.05"), Slide: dial.Cross, Dial: d,
			Falling: rapid.Bool().Draw(t, "falling"),
		}
		r, err := dial.Next(in)
		if err != nil {
			t.Fatal(err)
		}
		if s := r.Error.Sign(); s != 0 && s != r.Move.Sign() {
			t.Fatalf("%v to %v comes out %v: past the size", in.Measured.Decimal(), in.Target.Decimal(), r.ComesOut.Decimal())
		}
		if r.Error.Abs().Cmp(r.DivisionIs.Abs()) >= 0 {
			t.Fatalf("%v to %v leaves %v, more than a division of %v", in.Measured.Decimal(), in.Target.Decimal(),
				r.Error.Decimal(), r.DivisionIs.Decimal())
		}
		back := in
		back.Measured, back.Target = in.Target, in.Measured
		back.Reading = r.NextReading
		b, err := dial.Next(back)
		if err != nil {
			t.Skip("rounded onto the collar's own 0")
		}
		if got := strconv.FormatFloat(float64(*b.NextReading), 'f', 6, 64); got != "0.050000" {
			t.Fatalf("%v to %v and back: the dial reads %s", in.Measured.Decimal(), in.Target.Decimal(), got)
		}
	})
}

// Without a dial the travel stands and the result says what is missing.
func TestNoDial(t *testing.T) {
	const said = "no dial was read for this slide: the travel is exact, turns and divisions are left out ("
	for slide, key := range map[dial.Slide]string{
		dial.Cross: "lathe: cross_slide", dial.Compound: "lathe: compound: lead, divisions", dial.Table: "mill: table",
		dial.Carriage: "lathe: carriage",
	} {
		r, err := dial.Next(
			dial.Input{Measured: size("20.4"), Target: size("20"), Reading: reading("1.2"), Slide: slide, Readout: true},
		)
		if err != nil {
			t.Fatal(err)
		}
		if r.NextReading != nil || r.Turns != nil || len(r.Warnings) != 1 || r.Warnings[0].Text.String() != said+key+")" {
			t.Errorf("%s: %+v", slide, r)
		}
		if r.ReadoutChange.Decimal().String() != "-0.4" {
			t.Errorf("%s: the readout changes by %v", slide, r.ReadoutChange.Decimal())
		}
		published.Works(t, r.Sheet())
	}
}

func TestRefusals(t *testing.T) {
	angle := func(text string) *units.Angle { a := units.MustAngle(text); return &a }
	for _, tc := range []struct {
		in   dial.Input
		want string
	}{
		{
			dial.Input{Slide: dial.Cross},
			"measured: is needed: what the work measures now\ntarget: is needed: what it should measure",
		},
		{
			dial.Input{Measured: size("0"), Target: size("-1"), Slide: dial.Cross},
			"measured: 0 mm: must be above 0\ntarget: -1 mm: must be above 0",
		},
		{dial.Input{Measured: size("2"), Target: size("-1"), Slide: dial.Table}, "target: -1 mm: cannot be negative"},
		{
			dial.Input{Measured: size("2"), Target: size("1"), Slide: "crosss"},
			"slide: crosss: write cross, compound, carriage or table\n  did you mean cross?",
		},
		{
			dial.Input{Measured: size("2"), Target: size("1"), Slide: dial.Cross, Angle: angle("30")},
			"angle: 30 deg: only the compound stands at an angle: add slide compound",
		},
		{
			dial.Input{Measured: size("2"), Target: size("1"), Slide: dial.Compound, Angle: angle("0")},
			"angle: 0 deg: must be above 0 and at most 90 deg",
		},
		{
			dial.Input{Measured: size("2"), Target: size("1"), Slide: dial.Compound, Angle: angle("90.1")},
			"angle: 90.1 deg: must be above 0 and at most 90 deg",
		},
		{
			dial.Input{
				Measured: size("2"), Target: size("1"), Slide: dial.Cross, Dial: metricOnDiameter, Reading: reading("4"),
			},
			"reading: 4: this dial is numbered from 0 to less than 4 mm",
		},
		{
			dial.Input{
				Measured: size("2"), Target: size("1"), Slide: dial.Cross, Dial: inchOnTravel, Reading: reading("-0.01"),
			},
			"reading: -0.01: this dial is numbered from 0 to less than 0.1 in",
		},
	} {
		_, err := dial.Next(tc.in)
		if err == nil || err.Error() != tc.want {
			t.Errorf("got %v\nwant %s", err, tc.want)
		}
	}
}
