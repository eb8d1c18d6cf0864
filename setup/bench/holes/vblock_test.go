package holes_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/maker/shop"
	"setover/setup/page/published"
)

func angle(text string) *units.Angle {
	a := units.MustAngle(text)
	return &a
}

var block = &shop.VBlocks{
	Angle: units.MustAngle("90"), Apex: length("12mm"), Opening: length("42mm"), Relief: length("3mm"), Pair: true,
}

// A V of 73.7398 deg makes the diameter three times the gap under the bar.
func TestTheVThatMultiplies(t *testing.T) {
	for _, e := range published.Examples(t, "v_k") {
		dia := units.MustLength("30mm")
		gap := holes.CentreHeight(dia, units.Degrees(e.Num(t, 0))).Minus(dia.Half())
		if got := strconv.FormatFloat(dia.Over(gap), 'f', e.Places(), 64); got != string(*e.Published) {
			t.Errorf("diameter over gap %s; %s prints %s", got, e.Source, *e.Published)
		}
	}
}

// Heights of bars in Vs. At 90 deg the centre is R·√2 above the apex, at 60 deg
// 2·R, at 120 deg 2·R/√3: sines of 45, 30 and 60 deg, any table.
func TestHeights(t *testing.T) {
	for _, tc := range []struct{ dia, angle, apex, centre, top, contact, lift, topLift string }{
		{"30mm", "90", "12mm", "33.2132mm", "48.2132mm", "10.6066mm", "0.7071", "1.2071"},
		{"1in", "60", "1/2in", "1.5000in", "2.0000in", "0.4330in", "1", "1.5"},
		{"1in", "90", "0in", "0.7071in", "1.2071in", "0.3536in", "0.7071", "1.2071"},
		{"20mm", "120", "5mm", "16.5470mm", "26.5470mm", "5.0000mm", "0.5774", "1.0774"},
	} {
		r, err := holes.InV(holes.VInput{Dia: units.MustLength(tc.dia), Angle: angle(tc.angle), Apex: length(tc.apex)})
		if err != nil {
			t.Fatal(tc.dia, err)
		}
		got := [3]string{
			units.AsPrinted(r.CentreHeight, tc.centre), units.AsPrinted(r.TopHeight, tc.top),
			units.AsPrinted(r.ContactHalfWidth, tc.contact),
		}
		if got != [3]string{tc.centre, tc.top, tc.contact} {
			t.Errorf("%s in %s deg: %v", tc.dia, tc.angle, got)
		}
		// What a larger bar lifts it by: 1/(2·sin(A/2)), and a half more at the top.
		want := "lifts the centre by " + tc.lift + " times what it is larger, and the top by " + tc.topLift + " times."
		if note := r.Sheet().Notes[0]; !strings.HasSuffix(note.String(), want) {
			t.Errorf("%s deg: %s", tc.angle, note)
		}
		if r.Fits != nil {
			t.Errorf("%s: fits is known without a block", tc.dia)
		}
	}
}

// A test bar gives the apex back, and the change to another bar is the
// difference of two settings.
func TestCalibrationAndChange(t *testing.T) {
	for _, dia := range []string{"25mm", "3/4in"} {
		first, err := holes.InV(holes.VInput{Dia: units.MustLength(dia), Blocks: block})
		if err != nil {
			t.Fatal(err)
		}
		top := first.TopHeight
		r, err := holes.InV(holes.VInput{
			Dia: units.MustLength("30mm"), Angle: angle("90"), TestDia: length(dia), TestTop: &top, Other: length("20mm"),
		})
		if err != nil {
			t.Fatal(err)
		}
		if !r.ApexHeight.Equal(*block.Apex) {
			t.Errorf("apex %v from a bar of %s", r.ApexHeight.Decimal(), dia)
		}
		// 10 mm less diameter: centre 5·√2 = 7.0711 down, top 12.0711 down.
		got := units.AsPrinted(*r.CentreChange, "-7.0711mm") + " " + units.AsPrinted(*r.TopChange, "-12.0711mm")
		if got != "-7.0711mm -12.0711mm" {
			t.Errorf("centre and top %s", got)
		}
	}
}

// A bar seats when it touches the faces between the relief slot and the
// opening: in a V of 90 deg from 3·√2 = 4.24 to 42·√2 = 59.40 mm.
func TestSeat(t *testing.T) {
	for _, tc := range []struct{ dia, want string }{
		{"4.2mm", "dia: 4.2 mm: drops into the relief slot, 3 mm wide: the smallest bar this V holds is 4.243 mm"},
		{"4.3mm", ""},
		{"2.33in", ""},
		{"59.5mm", "dia: 59.5 mm: rests on the edges of the opening, 42 mm wide: the largest bar this V holds is 59.396 mm"},
	} {
		r, err := holes.InV(holes.VInput{Dia: units.MustLength(tc.dia), Blocks: block})
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		if f := r.Fails(); len(f) > 0 {
			got = f[0].Error()
		}
		if got != tc.want || *r.Fits != (tc.want == "") {
			t.Errorf("%s: fits %v: %s", tc.dia, *r.Fits, got)
		}
	}
	other, err := holes.InV(holes.VInput{Dia: units.MustLength("30mm"), Other: length("60mm"), Blocks: block})
	if err != nil || *other.Fits || len(other.Fails()) != 1 || other.Fails()[0].At.Key != "other" {
		t.Errorf("a second bar that does not seat: %v %v", other.Fails(), err)
	}
}

// A tapered bar: the tilt in a long V against the cone's true contact with the
// faces, found by turning the cone until its distance from a face is its
// radius; and the shim of two edges against the heights of two bars.
func TestTaperedBar(t *testing.T) {
	for _, tc := range []struct{ dia, small, span, angle string }{
		{
			"30mm", "28mm", "100mm", "90",
		}, {"1in", "3/4in", "4in", "90"}, {"20mm", "10mm", "30mm", "60"}, {"34mm", "20mm", "62mm", "120"},
	} {
		in := holes.VInput{
			Dia: units.MustLength(tc.dia), Small: length(tc.small), Span: length(tc.span), Angle: angle(tc.angle),
			Apex: length("0mm"), Support: holes.LongV,
		}
		long, err := holes.InV(in)
		if err != nil {
			t.Fatal(err)
		}
		// In the V's frame (x along the apex line, z up) the face with the normal
		// (0, cos v, sin v) touches a cone with its point at the origin when the
		// axis (cos t, 0, sin t) is inclined to it by the half angle: the sine of
		// that inclination is sin t · sin v. Bisect for t.
		v, a := in.Angle.Half().Rad(), math.Atan2(in.Dia.Minus(*in.Small).MM()/2, in.Span.MM())
		lo, hi := 0.0, math.Pi/2
		for range 200 {
			mid := (lo + hi) / 2
			if math.Asin(math.Sin(mid)*math.Sin(v)) < a {
				lo = mid
			} else {
				hi = mid
			}
		}
		if math.Abs(long.Tilt.Rad()-lo) > 1e-12 {
			t.Errorf("%v: tilt %v, want %v rad", tc, long.Tilt, lo)
		}
		if want := units.FromFloat(in.Span.MM() * math.Sin(lo)); want.Minus(*long.Shim).Abs().Cmp(
			units.MustLength("0.000001mm"),
		) > 0 {
			t.Errorf("%v: shim %v, want %v", tc, long.Shim.Decimal(), want.Decimal())
		}
		if want := in.Dia.MM() * math.Tan(lo); math.Abs(long.Lean.MM()-want) > 1e-8 {
			t.Errorf("%v: a hole leans %v, want %v", tc, long.Lean.Decimal(), want)
		}
		in.Support = holes.TwoEdges
		edges, err := holes.InV(in)
		if err != nil {
			t.Fatal(err)
		}
		drop := holes.CentreHeight(in.Dia, *in.Angle).Minus(holes.CentreHeight(*in.Small, *in.Angle))
		if edges.Shim.Minus(drop).Abs().Cmp(units.MustLength("0.000000002mm")) > 0 || edges.Tilt.Deg() != long.Tilt.Deg() {
			t.Errorf("%v: shim %v, the centres differ by %v", tc, edges.Shim.Decimal(), drop.Decimal())
		}
	}
}

func TestVRefusals(t *testing.T) {
	base := holes.VInput{Dia: units.MustLength("30mm"), Blocks: block}
	with := func(change func(*holes.VInput)) holes.VInput {
		in := base
		change(&in)
		return in
	}
	for _, tc := range []struct {
		in   holes.VInput
		want string
	}{
		{
			holes.VInput{},
			"dia: 0 mm: must be above 0\nangle: no V-blocks in this shop: give the V's included angle (v_blocks: angle)",
		},
		{
			with(func(in *holes.VInput) { in.Angle = angle("19") }),
			"angle: 19 deg: write 20 deg to 160 deg between the faces of the V",
		},
		{
			with(func(in *holes.VInput) { in.Angle = angle("161") }),
			"angle: 161 deg: write 20 deg to 160 deg between the faces of the V",
		},
		{
			with(func(in *holes.VInput) { in.Apex = length("-1mm") }),
			"apex: -1 mm: cannot be negative",
		},
		{with(func(in *holes.VInput) {
			in.Other, in.TestDia, in.TestTop = length("0mm"), length("0mm"), length("-1in")
		}), "test-dia: 0 mm: must be above 0\ntest-top: -25.4 mm: must be above 0\nother: 0 mm: must be above 0"},
		{
			with(func(in *holes.VInput) { in.TestDia = length("20mm") }),
			"test-top: is needed with test-dia",
		},
		{
			with(func(in *holes.VInput) { in.TestDia, in.TestTop = length("20mm"), length("20mm") }),
			"test-top: 20 mm: lower than the test bar stands above the apex, 24.142 mm: the angle, the bar or the " +
				"height is wrong",
		},
		{with(func(in *holes.VInput) {
			in.Apex, in.TestDia, in.TestTop = length("2mm"), length("20mm"), length("30mm")
		}), "apex: apex and test-dia: give one of them"},
		{
			with(func(in *holes.VInput) { in.Small = length("20mm") }),
			"span: is needed with small",
		},
		{
			with(func(in *holes.VInput) { in.Small, in.Span, in.Support = length("30mm"), length("1in"), "longv" }),
			"small: 30 mm: must be below the diameter at the large end, 30 mm\n" +
				"support: longv: write two-edges or long-v\n" +
				"  did you mean long-v?",
		},
		{
			with(func(in *holes.VInput) { in.Small, in.Span, in.Support = length("0mm"), length("0mm"), holes.LongV }),
			"small: 0 mm: must be above 0\nspan: 0 mm: must be above 0",
		},
		{
			with(func(in *holes.VInput) { in.Small, in.Span, in.Support = length("10mm"), length("10mm"), holes.LongV }),
			"small: 10 mm: a cone of the half angle 45 deg does not lie in a V of 90 deg",
		},
	} {
		_, err := holes.InV(tc.in)
		if err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
	single := *block
	single.Pair = false
	r, err := holes.InV(with(func(in *holes.VInput) {
		in.Blocks, in.Small, in.Span, in.Support = &single, length("28mm"), length("100mm"), holes.TwoEdges
	}))
	if err != nil || len(r.Fails()) != 1 ||
		r.Fails()[0].Error() != "support: two-edges: needs a pair of V-blocks and this shop has one (v_blocks: pair)" {
		t.Errorf("one block for two edges: %v %v", r.Fails(), err)
	}
}

func ExampleInV() {
	r, err := holes.InV(holes.VInput{Dia: units.MustLength("1in"), Angle: angle("90"), Apex: length("1/2in")})
	if err != nil {
		panic(err)
	}
	fmt.Println("top of the bar", r.TopHeight.Fixed(units.Inch, 4, units.Nearest), "in")
	// Output: top of the bar 1.7071 in
}
