package facets_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/published"
	"setover/setup/page/sheet"
	"setover/tapers/facets"
)

// flatWidth measures the flat at the bottom of a round from which half planes
// have been cut: it walks along the line y = -out and counts how much of it is
// still inside the round and above no other cut.
func flatWidth(blank, out float64, n int, neighbours float64) float64 {
	const steps = 200000
	inside := 0
	for i := range steps {
		x := (float64(i)/steps - 0.5) * blank
		if math.Hypot(x, out) > blank/2 {
			continue
		}
		kept := true
		for _, side := range []float64{-1, 1} { // the neighbours' outward normals
			s, c := math.Sincos(side * 2 * math.Pi / float64(n))
			kept = kept && x*s+out*c <= neighbours
		}
		if kept {
			inside++
		}
	}
	return blank * float64(inside) / steps
}

// A growing flat measured on a round that is ground away, alone and between
// finished neighbours.
func TestProgress(t *testing.T) {
	for _, tc := range []struct {
		n            int
		blank, flats string
	}{{8, "37.5mm", "34mm"}, {3, "45mm", "30mm"}, {4, "1.5in", "1in"}, {6, "24mm", "22mm"}, {24, "30mm", "29.6mm"}} {
		in := facets.ProgressInput{Sides: tc.n, Blank: length(tc.blank), Flats: units.MustLength(tc.flats)}
		r, err := facets.ProgressOf(in)
		if err != nil {
			t.Fatal(err)
		}
		blank := in.Blank.MM()
		finished := blank/2 - r.Depth.MM() // the apothem
		near := blank / 50000              // four of the walk's steps
		for i, s := range r.Steps {
			if i%3 != 0 && i != len(r.Steps)-1 {
				continue
			}
			out := blank/2 - s.Depth.MM()
			if got, want := s.Width.MM(), flatWidth(blank, out, tc.n, blank); math.Abs(got-want) > near {
				t.Errorf("%d sides, %v deep: %v wide, measured %v", tc.n, s.Depth.Decimal(), got, want)
			}
			if got, want := s.WidthLast.MM(), flatWidth(blank, out, tc.n, finished); math.Abs(got-want) > near {
				t.Errorf("%d sides, %v deep: the last %v wide, measured %v", tc.n, s.Depth.Decimal(), got, want)
			}
			if !s.Reading.Plus(s.Depth).Equal(*in.Blank) {
				t.Errorf("%v over the round at %v", s.Reading.Decimal(), s.Depth.Decimal())
			}
		}
		if n := len(r.Steps); n != 10 || math.Abs(10*r.Steps[0].Depth.MM()-r.Depth.MM()) > 1e-7 {
			t.Errorf("%d sides: %d steps, the first at %v of %v", tc.n, n, r.Steps[0].Depth.Decimal(), r.Depth.Decimal())
		}
		last := r.Steps[len(r.Steps)-1]
		if d := last.WidthLast.Minus(r.Side).MM(); math.Abs(d) > 1e-6 && len(r.Warnings) == 0 {
			t.Errorf("%d sides: ends %v wide, the side is %v", tc.n, last.WidthLast.Decimal(), r.Side.Decimal())
		}
	}
	r, err := facets.ProgressOf(facets.ProgressInput{
		Sides: 8, Blank: length("36mm"), Flats: units.MustLength("34mm"),
	})
	if err != nil || say.Text(r.Warnings[0].Text).In(units.MM) != "the corners stay round: sharp ones need a blank of "+
		"36.802 mm" {
		t.Error(r.Warnings, err)
	}
	// 2·sqrt(18² - 17²) = 2·sqrt(35) = 11.832, short of the side of 14.083.
	if got := say.Text(r.Sheet().Facts[1].Remark).In(units.MM); got != "with sharp corners; from this blank it stays "+
		"at 11.832 mm" {
		t.Error(got)
	}
}

// A cradle built in space: the bar is tilted until the flat's plane lies level,
// and the axis is measured over it.
func TestJig(t *testing.T) {
	for _, in := range []facets.JigInput{
		{
			TaperInput: facets.TaperInput{
				Sides: 8, Large: units.MustLength("34mm"), Small: units.MustLength("20mm"), Length: units.MustLength("62mm"),
				Across: "flats", Leave: units.MustLength("0.3mm"),
			},
			Wheel: length("200mm"),
		},
		{TaperInput: facets.TaperInput{
			Sides: 5, Large: units.MustLength("1.5in"), Small: units.MustLength("0.25in"), Length: units.MustLength("2in"),
			Across: "corners",
		}},
	} {
		r, err := facets.Jig(in)
		if err != nil {
			t.Fatal(err)
		}
		whole, err := facets.Taper(in.TaperInput)
		if err != nil {
			t.Fatal(err)
		}
		l := in.Length.MM()
		first, last := whole.Stations[0], whole.Stations[len(whole.Stations)-1]
		big, little := corners(in.Sides, first.AcrossCorners.MM()), corners(in.Sides, last.AcrossCorners.MM())
		// The bottom flat's middle line, from one end to the other, and the axis,
		// tilted together by the cradle's angle.
		tilt := func(y, z float64) float64 { // the height after tilting, z along the bar
			s, c := math.Sincos(r.Cradle.Rad())
			return y*c - z*s
		}
		low0, low1 := tilt(big[0].y, 0), tilt(little[0].y, l)
		if math.Abs(low0-low1) > 1e-6 {
			t.Errorf("the flat does not lie level: %v and %v", low0, low1)
		}
		if got, want := r.StopLarge.MM(), tilt(0, 0)-low0; math.Abs(got-want) > 1e-6 {
			t.Errorf("large end: %v over the flat, built %v", got, want)
		}
		if got, want := r.StopSmall.MM(), tilt(0, l)-low1; math.Abs(got-want) > 1e-6 {
			t.Errorf("small end: %v over the flat, built %v", got, want)
		}
		if got, want := r.FirstLarge.MM(), first.Blank.MM()/2-big[0].y; math.Abs(got-want) > 1e-6 {
			t.Errorf("first flat: %v, built %v", got, want)
		}
		if got, want := r.FirstSmall.MM(), last.Blank.MM()/2-little[0].y; math.Abs(got-want) > 1e-6 {
			t.Errorf("first flat, small end: %v, built %v", got, want)
		}
		if math.Abs(float64(in.Sides)*r.Index.Deg()-360) > 1e-9 {
			t.Errorf("%d times %v", in.Sides, r.Index)
		}
		if in.Wheel == nil {
			if r.HollowLarge != nil {
				t.Error("a hollow without a wheel")
			}
			continue
		}
		// The wheel set on both edges of the flat: how far it reaches below.
		w, R := first.Width.MM(), in.Wheel.MM()/2
		exact := R - math.Sqrt(R*R-w*w/4)
		if got := r.HollowLarge.MM(); got > exact || exact-got > 1.05*math.Pow(w, 4)/(128*R*R*R) {
			t.Errorf("hollow %v, exactly %v", got, exact)
		}
		if got, want := r.HollowSmall.MM()/r.HollowLarge.MM(), math.Pow(last.Width.MM()/w, 2); math.Abs(got-want) > 1e-6 {
			t.Errorf("the hollows are as %v, the widths squared as %v", got, want)
		}
	}
	// A fifth of the wheel: the rule is 1 % short.
	rule := facets.Hollow(units.MustLength("40mm"), units.MustLength("200mm")).MM()
	if exact := 100 - math.Sqrt(10000-400); math.Abs((exact-rule)/exact-0.01) > 0.0002 {
		t.Errorf("rule %v, exact %v", rule, exact)
	}
}

// turn returns v turned about the axis x, y or z (0, 1, 2) by deg, by the right
// hand.
func (a vec) turn(axis int, deg float64) vec {
	s, c := math.Sincos(deg * math.Pi / 180)
	i, j := (axis+1)%3, (axis+2)%3
	out := a
	out[i], out[j] = a[i]*c-a[j]*s, a[i]*s+a[j]*c
	return out
}

// A plane on a block, set each of the three ways by turning it in space: it
// comes out level, and the ways agree.
func TestSlope(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		x := float64(rapid.IntRange(-7000, 7000).Draw(rt, "x")) / 100
		y := float64(rapid.IntRange(-7000, 7000).Draw(rt, "y")) / 100
		if x == 0 && y == 0 {
			return
		}
		r, err := facets.SlopeOf(facets.SlopeInput{AlongX: units.Degrees(x), AlongY: units.Degrees(y)})
		if err != nil {
			rt.Fatal(err)
		}
		// Two lines in the plane, along the block's edges, and its normal.
		alongX, alongY := vec{1, 0, math.Tan(x * math.Pi / 180)}, vec{0, 1, math.Tan(y * math.Pi / 180)}
		n := alongX.cross(alongY)
		level := func(name string, v vec) {
			if math.Hypot(v[0], v[1]) > 1e-9*v.size() || v[2] <= 0 {
				rt.Fatalf("%v, %v by %s: the normal points to %v", x, y, name, v)
			}
		}
		// Down along +x is a right-hand turn about +y; down along +y a left-hand
		// one about +x.
		level("one tilt", n.turn(2, -r.Rotation.Deg()).turn(1, r.Tilt.Deg()))
		level("x, then y", n.turn(1, r.First.Deg()).turn(0, -r.Second.Deg()))
		level("y, then x", n.turn(0, -r.OtherFirst.Deg()).turn(1, r.OtherSecond.Deg()))
	})
	// A slope one way needs no correction.
	r, err := facets.SlopeOf(facets.SlopeInput{AlongX: units.MustAngle("9")})
	if err != nil || r.Tilt.Deg() != 9 || r.Rotation.Deg() != 0 || r.Second.Deg() != 0 {
		t.Error(r.Tilt, r.Rotation, r.Second, err)
	}
}

func TestGrindRefusals(t *testing.T) {
	mm := units.MustLength
	ok := facets.TaperInput{Sides: 8, Large: mm("34mm"), Small: mm("20mm"), Length: mm("62mm"), Across: "flats"}
	_, wheel := facets.Jig(facets.JigInput{TaperInput: ok, Wheel: length("14mm")})
	_, sides := facets.ProgressOf(facets.ProgressInput{Sides: 2})
	_, blank := facets.ProgressOf(facets.ProgressInput{Sides: 8, Blank: length("34mm"), Flats: mm("34mm")})
	_, step := facets.ProgressOf(facets.ProgressInput{
		Sides: 8, Blank: length("37mm"), Flats: mm("34mm"), Step: length("0.001mm"),
	})
	_, level := facets.SlopeOf(facets.SlopeInput{})
	_, steep := facets.SlopeOf(facets.SlopeInput{AlongX: units.MustAngle("-90"), AlongY: units.MustAngle("90")})
	for _, tc := range []struct {
		err  error
		want string
	}{
		{wheel, "wheel: 14 mm: must be larger than the widest flat, 14.084 mm"},
		{sides, "sides: 2: write 3 to 24 sides\nflats: 0 mm: must be above 0"},
		{blank, "blank: 34 mm: no flat is cut into it: more than 34 mm"},
		{step, "step: 0.001 mm: makes more than 1000 rows"},
		{level, "along-x: the plane is level: give a slope along x, along y or both"},
		{
			steep,
			"along-x: -90 deg: must be above -90 deg and below 90 deg\nalong-y: 90 deg: must be above -90 deg and below 90 deg",
		},
	} {
		if tc.err == nil || tc.err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", tc.err, tc.want)
		}
	}
}

// Two slopes of 45 deg: the corner of a cube stood on its edge. The steepest
// rise is atan √2, and the second tilt asin(1/√3), both 54.7356 and 35.2644
// deg, the cube's own angles.
func ExampleSlopeOf() {
	r, err := facets.SlopeOf(facets.SlopeInput{AlongX: units.MustAngle("45"), AlongY: units.MustAngle("45")})
	if err != nil {
		panic(err)
	}
	fmt.Printf("%.4f %.4f\n", r.Tilt.Deg(), r.Second.Deg())
	// Output: 54.7356 35.2644
}

// The working, put into a calculator.
func TestWorking(t *testing.T) {
	mm := units.MustLength
	show := func(r sheet.Result, err error) {
		if err != nil {
			t.Fatal(err)
		}
		published.Works(t, r.Sheet())
	}
	taper := facets.TaperInput{Sides: 8, Large: mm("34mm"), Small: mm("20mm"), Length: mm("62mm"), Across: "flats"}
	size, err := facets.SizeOf(facets.Input{Sides: 7, Flats: length("34mm"), Leave: mm("0.3mm"), From: "round"})
	show(size, err)
	tapered, err := facets.Taper(taper)
	show(tapered, err)
	progress, err := facets.ProgressOf(facets.ProgressInput{Sides: 8, Blank: length("37.5mm"), Flats: mm("34mm")})
	show(progress, err)
	jig, err := facets.Jig(facets.JigInput{TaperInput: taper, Wheel: length("200mm")})
	show(jig, err)
	slope, err := facets.SlopeOf(facets.SlopeInput{AlongX: units.MustAngle("-9"), AlongY: units.MustAngle("3")})
	show(slope, err)
}
