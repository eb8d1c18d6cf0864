package feeds_test

import (
	"slices"
	"strings"
	"testing"

	"setover/feeds"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// Cuts worked by hand from the material's specific energy U: 3.61 W.s/mm3 for
// mild steel, 1.303 for brass. With the volume V of a turn in mm3:
//
//	Q = V·n    P = U·Q/60    M = U·V/(2·π)    F = 1000·U·(section of the chip)
func TestCutsByHand(t *testing.T) {
	for _, tc := range []struct {
		name string
		in   feeds.Input
		want string // chip mm, Q mm3/min, P W, motor W, F N, M Nm
	}{
		// V = π·39·1·0.1 = 12.2522; F = 1303·1·0.1
		{"turning 40", feeds.Input{Operation: feeds.Turn, Depth: sizep("1mm")}, "0.1 4900.88 106.43 141.91 130.3 2.541"},
		// V = π·41·1·0.1 = 12.8805
		{"boring 40", feeds.Input{Operation: feeds.Bore, Depth: sizep("1mm")}, "0.1 5152.21 111.89 149.19 130.3 2.671"},
		// V = π·40·1·0.1 = 12.5664, at the rim
		{"facing 40", feeds.Input{Operation: feeds.Face, Depth: sizep("1mm")}, "0.1 5026.55 109.16 145.55 130.3 2.606"},
		// V = π·40·2·0.1 = 25.1327; F = 1303·2·0.1
		{
			"parting off 40",
			feeds.Input{Operation: feeds.PartOff, Width: sizep("2mm")},
			"0.1 10053.1 218.32 291.09 260.6 5.212",
		},
		// V = π·40²·0.1/4 = 125.6637; two lips share the feed
		{"drilling 40", feeds.Input{Operation: feeds.Drill}, "0.05 50265.48 1091.6 1455.46 - 26.06"},
		// V = π·(40² - 30²)·0.1/4 = 54.9779
		{
			"countersinking 40 to 30",
			feeds.Input{Operation: feeds.Countersink, To: sizep("30mm")},
			"0.1 21991.15 477.57 636.77 - 11.401",
		},
		// 0.3 on the diameter is left: V = π·(40 - 0.15)·0.15·0.1 = 1.8779
		{"reaming 40", feeds.Input{Operation: feeds.Ream}, "0.1 751.15 16.31 21.75 - 0.389"},
		// 4 teeth of 0.1: V = 2·5·0.4 = 4; F = P/v = 1000·1.303·4/(π·40)
		{
			"milling with a cutter of 40",
			feeds.Input{Operation: feeds.Mill, Depth: sizep("2mm"), Width: sizep("5mm")},
			"0.1 1600 34.75 46.33 41.476 0.83",
		},
	} {
		tc.in.Material, tc.in.Diameter, tc.in.Feed, tc.in.RPM = "brass", size("40mm"), feed(0.1), rpm(400)
		r := choose(t, tc.in)
		force := say.Text("-")
		if r.Force != nil {
			force = say.Num(float64(*r.Force), 3)
		}
		got := say.Join([]say.Text{
			say.Num(r.Chip.MM(), 4), say.Num(float64(*r.RemovalRate), 2), say.Num(r.Power.Watts(), 2),
			say.Num(r.MotorPower.Watts(), 2), force, say.Num(float64(*r.Torque), 3),
		}, " ")
		if string(got) != tc.want {
			t.Errorf("%s: got %s, want %s", tc.name, got, tc.want)
		}
	}
}

// What is taken where nobody says it: feeds by the drill (0.003 in a turn for one
// of 3/16 in in mild steel, 0.004 in brass) and by the cutter, depths by the
// work.
func TestTakenWhereNothingIsSaid(t *testing.T) {
	weak := lathe()
	weak.Motor = watts(0.4)
	for _, tc := range []struct {
		name string
		in   feeds.Input
		want string // feed a turn, depth, width, in mm
	}{
		{
			"a finishing cut takes half of what roughing leaves", feeds.Input{Operation: feeds.Turn, Finish: true}, "0.06 0.2 -",
		},
		{"roughing brass", feeds.Input{Operation: feeds.Turn}, "0.127 1 -"},
		{"not beyond a quarter", feeds.Input{Operation: feeds.Turn, Diameter: size("2mm")}, "0.127 0.5 -"},
		{"a face is as deep as it is", feeds.Input{Operation: feeds.Face, Diameter: size("2mm")}, "0.127 1 -"},
		{"half the turning feed", feeds.Input{Operation: feeds.PartOff}, "0.0635 - 2"},
		{
			"a wide bar, a wide blade",
			feeds.Input{Operation: feeds.PartOff, Diameter: size("26mm"), RPM: rpm(300)},
			"0.0635 - 3",
		},
		// 0.0762·4.38/4.7625 = 0.07008, to 0.0001
		{
			"a drill's feed is rounded",
			feeds.Input{Operation: feeds.Drill, Material: "mild-steel", Diameter: size("4.38mm")},
			"0.0701 - -",
		},
		{"half the drilling feed", feeds.Input{Operation: feeds.Countersink, Diameter: size("10mm")}, "0.1067 - -"},
		// brass: 0.004 in a tooth; a hundredth of 2 mm is less, of 20 mm is not
		{"a small cutter", feeds.Input{Operation: feeds.Mill, Diameter: size("2mm")}, "0.08 0.5 1"},
		{"a large cutter", feeds.Input{Operation: feeds.Mill, Diameter: size("20mm")}, "0.4064 4 10"},
		// the motor drives less than a hundredth: that is no depth to set
		{"hardly a motor", feeds.Input{Operation: feeds.Turn, Drive: weak}, "0.127 1 -"},
	} {
		if tc.in.Material == "" {
			tc.in.Material = "brass"
		}
		if tc.in.Diameter.Sign() == 0 {
			tc.in.Diameter = size("19mm")
		}
		r := choose(t, tc.in)
		got := string(say.Num(r.Feed.MM(), 6))
		for _, l := range []*units.Length{r.Depth, r.Width} {
			if l == nil {
				got += " -"
			} else {
				got += " " + l.Decimal().String()
			}
		}
		if got != tc.want {
			t.Errorf("%s: got %s, want %s", tc.name, got, tc.want)
		}
	}
}

// Where the lines lie between what is said and what is not.
func TestWhenItIsSaid(t *testing.T) {
	slow := lathe()
	slow.Chuck = rpm(60)
	press := func(w float64) shop.Drive {
		return shop.Drive{Machine: shop.OnDrillPress, Spindle: lathe().Spindle, Motor: watts(w)}
	}
	steel := func(in feeds.Input) feeds.Input {
		in.Material = "mild-steel"
		return in
	}
	drill := func(w float64) feeds.Input {
		return steel(feeds.Input{Operation: feeds.Drill, Diameter: size("10mm"), Drive: press(w)})
	}
	for _, tc := range []struct {
		name, code, has string // has is "" where nothing is said under the code
		in              feeds.Input
	}{
		// 30.48 m/min over 40 mm are 242.55 rpm
		{"under the ideal", "too-fast", "", steel(feeds.Input{Operation: feeds.Turn, Diameter: size("40mm"), RPM: rpm(242)})},
		{
			"a little over it", "too-fast", "243 rpm is faster than the ideal 242 rpm",
			steel(feeds.Input{Operation: feeds.Turn, Diameter: size("40mm"), RPM: rpm(243)}),
		},
		// all speeds of the lathe are above the ideal 48 rpm: the rating of 60 holds nothing
		{
			"a rating above the ideal", "rating", "",
			steel(feeds.Input{Operation: feeds.Turn, Diameter: size("200mm"), Drive: slow}),
		},
		{
			"as deep as 4 diameters", "deep-hole", "",
			steel(feeds.Input{Operation: feeds.Drill, Diameter: size("5mm"), Length: sizep("20mm")}),
		},
		{
			"the table of pecks ends", "deep-hole", "40 diameters deep",
			steel(feeds.Input{Operation: feeds.Drill, Diameter: size("5mm"), Length: sizep("200mm")}),
		},
		// 0.16 mm/rev at 630 rpm take 635 W of the motor: of 300 W the feed is held
		// to 0.0755, of 350 W to 0.088
		{"held to less than half", "motor", "held to 0.075 mm/rev; drill a pilot hole first", drill(300)},
		{"held to more than half", "motor", "held to 0.088 mm/rev", drill(350)},
		{"the motor drives it", "motor", "", drill(640)},
		{
			"a cut half again as much as the motor has", "motor", "the cut takes",
			steel(feeds.Input{Operation: feeds.Turn, Diameter: size("40mm"), Depth: sizep("2mm"), Drive: func() shop.Drive {
				d := lathe()
				d.Motor = watts(260) // it takes 389 W
				return d
			}()}),
		},
	} {
		r := choose(t, tc.in)
		got := warning(r, tc.code)
		if tc.has == "" && got != "" || !strings.Contains(got, tc.has) || tc.has == "held to 0.088 mm/rev" &&
			strings.Contains(got, "pilot") {
			t.Errorf("%s: got %q, want %q", tc.name, got, tc.has)
		}
	}
	deep := choose(t, steel(feeds.Input{Operation: feeds.Drill, Diameter: size("5mm"), Length: sizep("200mm")}))
	ends := "too deep for a twist drill: the table of pecks stops"
	stops := slices.ContainsFunc(deep.Warnings, func(w sheet.Warning) bool { return w.Text.String() == ends })
	if len(deep.Pecks) != 60 || !stops {
		t.Errorf("%d pecks, %v", len(deep.Pecks), deep.Warnings)
	}
	fast, err := feeds.Belt(feeds.BeltInput{Wheel: size("200mm"), RPM: units.RPM(2000), Material: "titanium"})
	if err != nil || *fast.Verdict != "fast" || len(fast.Warnings) != 1 {
		t.Errorf("a belt at 1257 m/min on titanium, which wants 480 to 900: %+v %v", fast.Verdict, err)
	}
}
