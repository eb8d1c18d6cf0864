package stiffness_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"setover/feeds/stiffness"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/page/published"
)

func length(text string) *units.Length {
	l := units.MustLength(text)
	return &l
}

func newtons(text string) *units.Number {
	d := units.Number(units.MustLength(text).MM())
	return &d
}

func feed(mm float64) *units.Feed {
	f := units.MillimetresPerRev(mm)
	return &f
}

func rpm(v float64) *units.SpindleSpeed {
	n := units.RPM(v)
	return &n
}

func plain(dia, l, force string) stiffness.Input {
	return stiffness.Input{
		Material: "mild-steel", Dia: length(dia), Length: length(l), Support: stiffness.Chuck,
		Force: newtons(force),
	}
}

// Worked by hand with E = 207 GPa (Callister, steel 1020):
// F·L³/(3·E·I) with I = π·d⁴/64.
func TestOverhang(t *testing.T) {
	cut := plain("12mm", "60mm", "1")
	cut.Force, cut.Depth, cut.Feed = nil, length("0.5mm"), feed(0.1)
	centre := plain("12mm", "240mm", "100")
	centre.Support = stiffness.Centre
	bored := plain("12mm", "60mm", "100")
	bored.Bore = length("8mm")
	steady := plain("12mm", "240mm", "100")
	steady.Steadies = []units.Length{units.MustLength("120mm")}
	brass := plain("1in", "2.5in", "100")
	brass.Material = "brass"
	for _, tc := range []struct {
		name string
		in   stiffness.Input
		want string // force, deflection, taper, diameters, rule length, within
	}{
		// 100·60³/(3·207000·1017.876) = 0.034171
		{"12 by 60, 100 N", plain("12mm", "60mm", "100"), "100.0 0.03417 0.06834 5.0 36 false"},
		{"12 by 36 is the rule's end", plain("12mm", "36mm", "100"), "100.0 0.00738 0.01476 3.0 36 true"},
		// 1000·3.61·0.5·0.1 = 180.5 N, half of it pushes
		{"of a cut", cut, "90.2 0.03084 0.06168 5.0 36 false"},
		// F·a³·b²·(3·L + b)/(12·E·I·L³) is worst at a = (2 - √2)·L: 0.0098124·F·L³/(E·I)
		{"with a centre", centre, "100.0 0.06438 0.12876 20.0 120 false"},
		// I = π·(12⁴ - 8⁴)/64 = 816.814
		{"bored 8", bored, "100.0 0.04258 0.08517 5.0 36 false"},
		// F·c²·s/4 + F·c³/3 past a steady, s = c = 120: 100·120³·(7/12)/(207000·1017.876);
		// 120 stick out past it
		{"on a steady half way", steady, "100.0 0.47840 0.95681 10.0 36 false"},
		// E = 14·10⁶ psi
		{"an inch brass bar at its rule", brass, "100.0 0.00433 0.00866 2.5 63.5 true"},
	} {
		r, err := stiffness.Overhang(tc.in)
		if err != nil {
			t.Fatal(tc.name, err)
		}
		got := fmt.Sprintf("%.1f %.5f %.5f %.1f %s %v", float64(r.Force)-1e-9, r.Deflection.MM(), r.Taper.MM(),
			float64(r.Ratio), r.RuleLength.Decimal(), r.WithinRule)
		if got != tc.want {
			t.Errorf("%s: got %s, want %s", tc.name, got, tc.want)
		}
		if len(r.Places) != 5 || len(r.Fails()) != 0 {
			t.Errorf("%s: %d places, %v", tc.name, len(r.Places), r.Fails())
		}
		if tc.in.Support == stiffness.Chuck && tc.in.Bore == nil && tc.in.Steadies == nil {
			if end := r.Places[4]; !r.Deflection.Equal(end.Deflection) || !r.At.Equal(end.At) {
				t.Errorf("%s: gives way most at %s, by %s", tc.name, r.At.Decimal(), r.Deflection.Decimal())
			}
			published.Works(t, r.Sheet())
		}
	}
}

// A slender bar is refused above half of its whirling speed: 3.516 of the
// cantilever gives 517 rpm for 12 mm by 1 m of steel.
func TestWhirlRefused(t *testing.T) {
	for _, tc := range []struct {
		rpm   float64
		fails string
	}{
		{258, ""},
		{259, "rpm: 259 rpm: this bar whirls at 517 rpm: run it at 258 rpm at the most, or carry its end"},
	} {
		in := plain("12mm", "1000mm", "1")
		in.RPM = rpm(tc.rpm)
		r, err := stiffness.Overhang(in)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		if err := r.Fails().Err(); err != nil {
			got = err.Error()
		}
		if got != tc.fails {
			t.Errorf("%v rpm: %q, want %q", tc.rpm, got, tc.fails)
		}
	}
}

// A bar given by stations that are all alike is the plain bar.
func TestStationsOfAPlainBar(t *testing.T) {
	in := plain("12mm", "60mm", "100")
	whole, err := stiffness.Overhang(in)
	if err != nil {
		t.Fatal(err)
	}
	in.Dia, in.Length = nil, nil
	for _, z := range []string{"0", "20mm", "20mm", "60mm"} {
		in.Stations = append(in.Stations, stiffness.Station{Z: units.MustLength(z), Dia: units.MustLength("12mm")})
	}
	parts, err := stiffness.Overhang(in)
	if err != nil {
		t.Fatal(err)
	}
	if !parts.Deflection.Equal(whole.Deflection) || parts.Ratio != whole.Ratio {
		t.Errorf("in parts %s, whole %s", parts.Deflection.Decimal(), whole.Deflection.Decimal())
	}
}

func steadies(places ...string) []units.Length {
	var list []units.Length
	for _, z := range places {
		list = append(list, units.MustLength(z))
	}
	return list
}

// Which stretch the rule is held against, and what is said of it: on a bar of
// 12 mm and 240 mm the last 100 mm past a steady are 8.3 diameters of 3, and
// with a centre in its end the longer of two spans is what counts.
func TestRuleOnSteadies(t *testing.T) {
	for _, tc := range []struct {
		support  stiffness.Support
		steadies []units.Length
		want     string
	}{
		{
			stiffness.Chuck, steadies("140mm"), "8.3 of 3, it sticks out 8.3 diameters past the steady and the rule is 3: " +
				"put a centre in its end",
		},
		{stiffness.Chuck, steadies("120mm", "210mm"), "10.0 of 10, "},
		{
			stiffness.Centre, steadies("100mm"), "11.7 of 10, it is 11.7 diameters long and the rule is 10: " +
				"carry it with another steady",
		},
		{stiffness.Between, steadies("120mm"), "10.0 of 10, "},
	} {
		in := plain("12mm", "240mm", "100")
		in.Support, in.Steadies = tc.support, tc.steadies
		r, err := stiffness.Overhang(in)
		if err != nil {
			t.Fatal(err)
		}
		got := fmt.Sprintf("%.1f of %.0f, ", float64(r.Ratio), float64(r.RuleRatio))
		for _, w := range r.Warnings {
			got += string(w.Text)
		}
		if got != tc.want {
			t.Errorf("%s on %d: got %s\nwant %s", tc.support, len(tc.steadies), got, tc.want)
		}
	}
}

func TestRefusals(t *testing.T) {
	at := func(z, d string) stiffness.Station {
		return stiffness.Station{Z: units.MustLength(z), Dia: units.MustLength(d)}
	}
	with := func(change func(*stiffness.Input)) stiffness.Input {
		in := plain("12mm", "60mm", "100")
		change(&in)
		return in
	}
	stations := func(list ...stiffness.Station) stiffness.Input {
		return with(func(in *stiffness.Input) { in.Dia, in.Length, in.Stations = nil, nil, list })
	}
	for _, tc := range []struct {
		in   stiffness.Input
		want string
	}{
		{
			with(func(in *stiffness.Input) { in.Material, in.Support = "stel", "chuk" }),
			"material: stel: not a material in the table\nsupport: chuk: write chuck, centre or between\n  did you mean chuck?",
		},
		{
			with(func(in *stiffness.Input) { in.Dia, in.Length = length("0"), length("-1") }),
			"dia: 0 mm: must be above 0\nlength: -1 mm: must be above 0",
		},
		{with(func(in *stiffness.Input) { in.Length = nil }), "dia: needs dia and length, or the stations of a stepped bar"},
		{
			with(func(in *stiffness.Input) { in.Stations = []stiffness.Station{at("0", "1")} }),
			"station: give the stations, or dia and length",
		},
		{with(func(in *stiffness.Input) { in.Depth = length("1mm") }), "force: 100: give the force, or depth and feed"},
		{
			with(func(in *stiffness.Input) { in.Force, in.Depth = nil, length("1mm") }),
			"force: needs force, or depth and feed of the cut",
		},
		{with(func(in *stiffness.Input) { in.Force = newtons("0") }), "force: 0: must be above 0"},
		{
			with(func(in *stiffness.Input) { in.Force, in.Depth, in.Feed = nil, length("0"), feed(0.1) }),
			"depth: 0 mm: must be above 0",
		},
		{
			stations(at("1", "10"), at("5", "0"), at("4", "3")),
			"station: 1 mm=10 mm: the first station is at the chuck, at 0\nstation: 5 mm=0 mm: a diameter must be above 0: a " +
				"point carries no force\nstation: 4 mm=3 mm: stations run outward from the chuck: this one stands before 5 mm",
		},
		{
			with(func(in *stiffness.Input) { in.Bore = length("12mm") }),
			"bore: 12 mm: leaves nothing of the bar where it is 12 mm",
		},
		{with(func(in *stiffness.Input) { in.Bore = length("0mm") }), "bore: 0 mm: must be above 0"},
		{
			with(func(in *stiffness.Input) { in.Steadies = steadies("0mm", "61mm", "20mm", "20mm") }),
			"steady: 0 mm: stands between 0 and 60 mm, where nothing carries the bar\n" +
				"steady: 61 mm: stands between 0 and 60 mm, where nothing carries the bar\n" +
				"steady: 20 mm: said twice\nsteady: 4: at most 3 steadies",
		},
		{
			with(func(in *stiffness.Input) { in.Support, in.Steadies = stiffness.Centre, steadies("60mm") }),
			"steady: 60 mm: stands between 0 and 60 mm, where nothing carries the bar",
		},
		{stations(at("0", "10")), "station: needs a station further out, such as station 0=20 station 60=12"},
	} {
		_, err := stiffness.Overhang(tc.in)
		if err == nil || err.Error() != tc.want {
			t.Errorf("got %v\nwant %s", err, strings.TrimSpace(tc.want))
		}
	}
}

// A bar is told of where a lathe comes near its whirling speed: 12 mm of steel
// whirls at 517 rpm for 1 m, and by the square of the length at 8980 for 240 mm.
func TestWhipIsToldWhereItMatters(t *testing.T) {
	for _, tc := range []struct {
		length string
		rpm    *units.SpindleSpeed
		told   bool
	}{{"240mm", nil, true}, {"220mm", nil, false}, {"220mm", rpm(100), true}} {
		in := plain("12mm", tc.length, "1")
		in.RPM = tc.rpm
		r, err := stiffness.Overhang(in)
		if err != nil {
			t.Fatal(err)
		}
		said := false
		for _, f := range r.Sheet().Facts {
			said = said || f.Key == "whirling_rpm"
		}
		if cautioned := slices.Contains(r.Cautions, cautions.Whip); said != tc.told || cautioned != tc.told {
			t.Errorf("%s: told %v, cautioned %v of %s", tc.length, said, cautioned, say.Of(r.Whirling))
		}
	}
}
