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
		if tc.in.Support == stiffness.Chuck {
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
