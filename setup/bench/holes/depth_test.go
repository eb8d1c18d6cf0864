package holes_test

import (
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/drills"
	"setover/setup/maker/shop"
	"setover/setup/page/published"
)

func mustDrill(name string) drills.Drill {
	d, err := drills.Find(name)
	if err != nil {
		panic(err)
	}
	return d
}

// The point of a twist drill. The trade's 0.3·D is the exact 0.3004 at one
// decimal; 0.29 is that of a 120 deg point.
func TestPoints(t *testing.T) {
	for _, e := range published.Examples(t, "point_len") {
		p := holes.PointLength(units.FromFloat(e.Num(t, 0)), units.Degrees(e.Num(t, 1)))
		if got := strconv.FormatFloat(p.MM(), 'f', e.Places(), 64); got != string(*e.Published) {
			t.Errorf("%s: %s; %s prints %s", e.Arguments, got, e.Source, *e.Published)
		}
	}
	for _, tc := range []struct{ point, want, src string }{
		{"118", "0.3004mm", "cot 59 deg = 0.60086, half of it"},
		{"120", "0.2887mm", "1/(2·√3)"},
		{"90", "0.5000mm", "a spot drill goes as deep as its radius"},
		{"135", "0.2071mm", "(√2 - 1)/2"},
		{"180", "0.0000mm", "a flat end has no point"},
	} {
		if got := units.AsPrinted(holes.PointLength(units.MustLength("1mm"), units.MustAngle(tc.point)),
			tc.want); got != tc.want {
			t.Errorf("%s deg: %s, want %s (%s)", tc.point, got, tc.want, tc.src)
		}
	}
}

// How deep the tip goes: never short through, never deeper blind.
func TestReach(t *testing.T) {
	for _, tc := range []struct {
		in    holes.DepthInput
		total string
	}{
		{holes.DepthInput{Dia: units.MustLength("8mm"), Point: units.Degrees(118), Through: length("12mm")}, "15.4034mm"},
		{
			holes.DepthInput{
				Dia: units.MustLength("8mm"), Point: units.Degrees(118), Through: length("12mm"), Past: length("0mm"),
			},
			"14.4034mm",
		},
		{holes.DepthInput{Dia: units.MustLength("1/2in"), Point: units.Degrees(118), Full: length("1in")}, "1.1502in"},
		{holes.DepthInput{Dia: units.MustLength("1/2in"), Point: units.Degrees(180), Full: length("1in")}, "1.0000in"},
	} {
		tc.in.SinkAngle = units.Degrees(90)
		r, err := holes.Reach(tc.in)
		if err != nil {
			t.Fatal(err)
		}
		if got := units.AsPrinted(r.Total.Length, tc.total); got != tc.total {
			t.Errorf("%v: %s, want %s", tc.in.Dia.Decimal(), got, tc.total)
		}
	}
	r, err := holes.Reach(holes.DepthInput{
		Dia: units.MustLength("2mm"), Point: units.Degrees(118), Through: length("10.01mm"), SinkAngle: units.Degrees(82),
		Countersink: length("3/8in"),
	})
	if err != nil || !r.Pecks || !r.BothSides {
		t.Errorf("five diameters and more: %v %v %v", r.Pecks, r.BothSides, err)
	}
	if got := units.AsPrinted(*r.SinkDepth, "4.3283mm"); got != "4.3283mm" { // (9.525 - 2)/2·cot 41 deg, cot = 1.15037
		t.Errorf("countersink %s", got)
	}
}

// A hole through is never shown shorter than it is, a blind one never deeper:
// 12 + 2.403442 mm, and 1 mm past the far side.
func TestDepthsAreSafe(t *testing.T) {
	for _, tc := range []struct {
		through, full *units.Length
		want          string
	}{{length("12mm"), nil, "15.404 mm"}, {nil, length("12mm"), "14.403 mm"}} {
		r, err := holes.Reach(holes.DepthInput{
			Dia: units.MustLength("8mm"), Point: units.Degrees(118), SinkAngle: units.Degrees(90),
			Through: tc.through, Full: tc.full,
		})
		if err != nil {
			t.Fatal(err)
		}
		if got := say.Of(r.Sheet().Facts[0].Value).String(); got != tc.want {
			t.Errorf("shown as %s, want %s", got, tc.want)
		}
	}
}

// Three and five diameters are still drilled in one push and from one side
// (common practice, no source).
func TestManner(t *testing.T) {
	two := units.MustLength("2mm")
	for _, tc := range []struct {
		depth         string
		through       bool
		pecks, turned bool
	}{
		{"6mm", true, false, false},
		{"6.001mm", true, true, false},
		{"10mm", true, true, false},
		{"10.001mm", true, true, true},
		{"20mm", false, true, false},
	} {
		if pecks, turned := holes.Manner(two, units.MustLength(tc.depth), tc.through); pecks != tc.pecks ||
			turned != tc.turned {
			t.Errorf("%s, through %v: pecks %v, both sides %v", tc.depth, tc.through, pecks, turned)
		}
	}
}

// The depth of a centre hole's cone in the sizes of ISO 6411 type A, from its
// table (from memory): t = 0.97 for a 1 mm centre and so on.
func TestCentreHoles(t *testing.T) {
	want := map[string]string{
		"1": "0.97", "1.25": "1.21", "1.6": "1.52", "2": "1.95", "2.5": "2.42", "3.15": "3.07",
		"4": "3.90", "5": "4.85", "6.3": "5.98", "8": "7.79", "10": "9.70",
	}
	for size, cone := range want {
		r, err := holes.Reach(holes.DepthInput{
			Dia: units.MustLength("8mm"), Point: units.Degrees(118), Full: length("9mm"), SinkAngle: units.Degrees(90),
			Centre: length(size + "mm"),
		})
		if err != nil {
			t.Fatal(err)
		}
		if got := r.CentreDepth.Fixed(units.MM, 2, units.Nearest); got != cone {
			t.Errorf("centre %s mm: cone %s, the standard has %s", size, got, cone)
		}
	}
}

// The embedded tables against the published ones, row by row, by what is made
// of them.
func TestTables(t *testing.T) {
	sources := func(file string) (list []string) {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range tables.Rows(file, string(text)) {
			list = append(list, r["src"])
		}
		return list
	}
	in := holes.DepthInput{
		Dia: units.MustLength("8mm"), Point: units.Degrees(118), Full: length("9mm"), SinkAngle: units.Degrees(90),
	}
	ours, rows := sources("counterbores.csv"), published.Rows(t, "counterbores_metric.csv")
	for i, row := range rows {
		in.Screw = row["cap_screw"]
		r, err := holes.Reach(in)
		if err != nil {
			t.Fatal(err)
		}
		got := fmt.Sprintf("%v %v %s", r.Clearance.Decimal(), r.Counterbore.Decimal(), ours[i])
		if got != row["pilot_mm"]+" "+row["counterbore_mm"]+" somta" || holes.Screws()[i] != in.Screw {
			t.Errorf("%s: %s; %s prints %v", in.Screw, got, row["source"], row)
		}
	}
	drills, published := sources("centres.csv"), published.Rows(t, "centre_drills.csv")
	in.Screw = ""
	for i, row := range published {
		in.Centre = length(row["pilot"] + row["unit"])
		in.Mouth = length(row["body"] + row["unit"]) // as wide as it can be made
		r, err := holes.Reach(in)
		if err != nil {
			t.Fatal(err)
		}
		if !r.CentreBody.Equal(*in.Mouth) || r.CentreSource != row["system"]+" "+row["size"] || drills[i] != row["source"] {
			t.Errorf("%v: %s, body %v (%s)", row, r.CentreSource, r.CentreBody.Decimal(), drills[i])
		}
	}
	if len(ours) != len(rows) || len(drills) != len(published) {
		t.Error("a table is longer than the published one")
	}
}

func TestDepthRefusals(t *testing.T) {
	good := holes.DepthInput{
		Dia: units.MustLength("8mm"), Point: units.Degrees(118), Through: length("12mm"), SinkAngle: units.Degrees(90),
	}
	with := func(change func(*holes.DepthInput)) holes.DepthInput {
		in := good
		change(&in)
		return in
	}
	for _, tc := range []struct {
		in   holes.DepthInput
		want string
	}{
		{
			holes.DepthInput{},
			"dia: 0 mm: must be above 0\n" +
				"through: needs exactly one of through and full-depth\n" +
				"point: 0 deg: must be above 0 and at most 180 deg\n" +
				"countersink-angle: 0 deg: must be above 0 and at most 179 deg",
		},
		{
			with(func(in *holes.DepthInput) { in.Full = length("1in") }),
			"through: through and full-depth: give one of them",
		},
		{with(func(in *holes.DepthInput) { in.Through = length("0in") }), "through: 0 mm: must be above 0"},
		{
			with(func(in *holes.DepthInput) { in.Point, in.SinkAngle = units.Degrees(181), units.Degrees(180) }),
			"point: 181 deg: must be above 0 and at most 180 deg\n" +
				"countersink-angle: 180 deg: must be above 0 and at most 179 deg",
		},
		{with(func(in *holes.DepthInput) { in.Past = length("-1mm") }), "breakthrough: -1 mm: cannot be negative"},
		{
			with(func(in *holes.DepthInput) { in.Through, in.Full, in.Past = nil, length("5mm"), length("1mm") }),
			"breakthrough: 1 mm: is for a hole through, not for a blind one",
		},
		{
			with(func(in *holes.DepthInput) { in.Countersink = length("8mm") }),
			"countersink: 8 mm: no larger than the hole, 8 mm",
		},
		{with(func(in *holes.DepthInput) { in.Countersink = length("0mm") }), "countersink: 0 mm: must be above 0"},
		{
			with(func(in *holes.DepthInput) { in.Screw = "M7" }),
			"counterbore: M7: write M3, M3.5, M4, M5, M6, M8, M10 or M12",
		},
		{
			with(func(in *holes.DepthInput) { in.Screw = "M100" }),
			"counterbore: M100: write M3, M3.5, M4, M5, M6, M8, M10 or M12\n  did you mean M10?",
		},
		{
			with(func(in *holes.DepthInput) { in.Centre = length("2.4mm") }),
			"centre: 2.4 mm: no centre drill has this pilot; the nearest has 2.5 mm",
		},
		{
			with(func(in *holes.DepthInput) { in.Mouth = length("2.4mm") }),
			"centre: is needed with mouth: the centre drill's pilot diameter",
		},
		{
			with(func(in *holes.DepthInput) { in.Centre = length("0.125in") }),
			"mouth: is needed for a centre drill of this size: no standard mouth is known here",
		},
		{
			with(func(in *holes.DepthInput) { in.Centre, in.Mouth = length("0.125in"), length("0.32in") }),
			"mouth: 8.128 mm: must be above the pilot, 3.175 mm, and at most the body, 7.9375 mm",
		},
		{
			with(func(in *holes.DepthInput) { in.Centre, in.Mouth = length("2mm"), length("2mm") }),
			"mouth: 2 mm: must be above the pilot, 2 mm, and at most the body, 5 mm",
		},
	} {
		_, err := holes.Reach(tc.in)
		got := fmt.Sprint(err)
		if strings.HasPrefix(tc.want, "counterbore: M7") {
			got, _, _ = strings.Cut(got, "\n") // every neighbour is as near
		}
		if got != tc.want {
			t.Errorf("got  %s\nwant %s", got, tc.want)
		}
	}
}

// A pin that rises over a span, and what is left to an aim of 45 deg, by hand:
// half the span is 30 deg, at the aim the pin rises by 1/√2 of the span, and a
// turn of a 40:1 head is 360/40 = 9 deg, so that the 15 deg that are left are
// 5/3 of a turn and 75 deg 25/3.
func TestClock(t *testing.T) {
	for _, tc := range []struct{ rise, span, roll, aim, turns string }{
		{"10mm", "20mm", "30.0000", "14.1421mm", "1.6667"},
		{"-10mm", "20mm", "-30.0000", "14.1421mm", "8.3333"},
		{"2.5000in", "5in", "30.0000", "3.5355in", "1.6667"},
		{"0mm", "20mm", "0.0000", "14.1421mm", "5.0000"},
		{"20mm", "20mm", "90.0000", "14.1421mm", "-5.0000"},
		{"2.5882in", "10in", "15.000", "7.0711in", "3.333"}, // sin 15 deg = 0.25882, sine bar tables
	} {
		r, err := holes.Clock(holes.ClockInput{
			Rise: units.MustLength(tc.rise), Span: units.MustLength(tc.span), Aim: angle("45"),
			Head: &shop.DividingHead{Ratio: 40},
		})
		if err != nil {
			t.Fatal(err)
		}
		if got := published.Printed(r.Roll.Deg(), tc.roll); got != tc.roll {
			t.Errorf("%s over %s: %s deg, want %s", tc.rise, tc.span, got, tc.roll)
		}
		if turns := (45 - r.Roll.Deg()) / 9; math.Abs(float64(*r.HeadTurns)-turns) > 1e-12 ||
			published.Printed(turns, tc.turns) != tc.turns {
			t.Errorf("%s over %s: %v turns of the crank, want %v, %s", tc.rise, tc.span, *r.HeadTurns, turns, tc.turns)
		}
		if got := units.AsPrinted(*r.AimRise, tc.aim); got != tc.aim {
			t.Errorf("over %s the pin rises by %s at the aim, want %s", tc.span, got, tc.aim)
		}
		if r.PerRise.Deg() <= 0 {
			t.Errorf("0.01 mm is %v", r.PerRise)
		}
	}
	// What 0.01 mm is on a pin of 20 mm, toward level: asin 0.0005 where it lies
	// level, and acos 0.9995 where it stands upright.
	for rise, want := range map[string]string{"0mm": "0.0286", "20mm": "1.8119"} {
		r, err := holes.Clock(holes.ClockInput{Rise: units.MustLength(rise), Span: units.MustLength("20mm")})
		if err != nil {
			t.Fatal(err)
		}
		if got := strconv.FormatFloat(r.PerRise.Deg(), 'f', 4, 64); got != want {
			t.Errorf("at %s 0.01 mm is %s deg, want %s", rise, got, want)
		}
	}
	for _, tc := range []struct {
		in   holes.ClockInput
		want string
	}{
		{holes.ClockInput{Rise: units.MustLength("1mm")}, "span: 0 mm: must be above 0"},
		{
			holes.ClockInput{Rise: units.MustLength("-1in"), Span: units.MustLength("25mm"), Aim: angle("91")},
			"rise: -25.4 mm: more than the span, 25 mm: measure the span along the pin\n" +
				"aim: 91 deg: write -90 deg to 90 deg from level",
		},
	} {
		if _, err := holes.Clock(tc.in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}
