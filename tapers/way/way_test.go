package way_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/fouling"
	"setover/tapers/way"
)

func length(text string) *units.Length {
	l := units.MustLength(text)
	return &l
}

// lathe has a compound of 1 mm a turn that goes 55 mm, in marks of 1 deg; its
// tailstock comes 5 mm toward the operator and goes 3 mm away.
func lathe() shop.Lathe {
	return shop.Lathe{
		BetweenCentres: length("350mm"), SwingOverBed: length("180mm"), SwingOverSlide: length("110mm"),
		CrossSlide: &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 40, OnDiameter: true},
		Compound: &shop.Compound{
			Scale: shop.Scale{Zero: shop.Along, Step: units.Degrees(1)}, Travel: length("55mm"),
			Screw: &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 40},
		},
		Tailstock: &shop.Tailstock{Toward: length("5mm"), Away: length("3mm")},
	}
}

// asked is a taper on that lathe, which has one speed.
func asked(large, small, long string) way.Input {
	return way.Input{
		Input: tapers.Input{Large: length(large), Small: length(small), Length: length(long)}, SmallEnd: tapers.AtTailstock,
		Place: fouling.Place{Lathe: lathe()},
		Drive: shop.Drive{Machine: shop.OnLathe, Spindle: &shop.Spindle{Speeds: []units.SpindleSpeed{units.RPM(300)}}},
	}
}

func choose(t *testing.T, in way.Input) way.Result {
	t.Helper()
	r, err := way.Choose(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// of returns the way of a kind.
func of(t *testing.T, r way.Result, k way.Kind) way.Way {
	t.Helper()
	i := slices.IndexFunc(r.Ways, func(w way.Way) bool { return w.Way == k })
	if i < 0 || len(r.Ways) != 5 {
		t.Fatalf("%s is none of %d ways", k, len(r.Ways))
	}
	return r.Ways[i]
}

// does words whether a way does it.
func does(w way.Way) string {
	switch {
	case w.Possible == nil:
		return "?"
	case *w.Possible:
		return "yes"
	}
	return "no"
}

// The minutes, by hand: 30 to 26 on 40 mm at 300 rpm in mild steel.
//
// tan a = 2/40, so a pass that is t deep at the small end cuts 20·t along the
// work, and along the side 1.00125 times that. 2 mm are to come off: 1.8 in four
// passes of 0.45 and 0.2 in the last, which cut 9, 18, 27, 36 and 40 mm. With 3 mm
// before and past each the roughing is 90·1.00125 + 12 = 102.11 mm at 0.127 mm a
// turn, 38.1 mm a minute: 2.680 min; the last 40.05 + 3 = 43.05 mm at 0.06 mm, 18 mm
// a minute: 2.392 min. The way back, 145.16 mm at 60 turns of 1 mm: 2.419 min.
//
// Together 7.49 min, and 8 to swing it, 5 by indicator and 3 back.
func TestTimeByHand(t *testing.T) {
	w := of(t, choose(t, asked("30mm", "26mm", "40mm")), way.InOneGo)
	if does(w) != "yes" || math.Abs(float64(*w.Cut)-7.491) > 0.002 || *w.SetUp != 16 || *w.Time != *w.SetUp+*w.Cut {
		t.Errorf("%s: %v min and %v, together %v; %v %v", does(w), *w.SetUp, *w.Cut, *w.Time, w.Setting, w.WhyNot)
	}
	// A screw of 0.5 mm is wound no faster than 30 mm a minute, both ways:
	// 102.11/30 + 43.05/18 + 145.16/30 = 3.404 + 2.392 + 4.839.
	fine := asked("30mm", "26mm", "40mm")
	fine.Lathe.Compound.Screw.Lead = units.MustLength("0.5mm")
	if w := of(t, choose(t, fine), way.InOneGo); math.Abs(float64(*w.Cut)-10.634) > 0.002 {
		t.Errorf("by hand on a fine screw %v min", *w.Cut)
	}
	// The tailstock, 30 to 28 with 80 mm between the centres. 80 mm are turned parallel
	// first. 1 mm is to come off: 0.8 in two passes of 0.4, which cut 16 and 32 mm, and
	// the last, which cuts 40; the way back is wound at 1000 mm a minute. Both ends are
	// faced and centred, 2·(5 + 2·2), it goes between the centres, 5, is set over by
	// indicator, 8 + 5, and is brought back, 8 + 5.
	in := asked("30mm", "26mm", "40mm")
	in.Between = length("80mm")
	in.Small = length("28mm")
	w = of(t, choose(t, in), way.SetOver)
	if want := 83/38.1 + 0.083 + 54/38.1 + 43/18.0 + 0.097; math.Abs(float64(*w.Cut)-want) > 0.002 || *w.SetUp != 49 {
		t.Errorf("%s: %v min and %v, want %v", does(w), *w.SetUp, *w.Cut, want)
	}
}

// Which ways there are, and which is best.
func TestWays(t *testing.T) {
	type yes = map[way.Kind]string
	const one, bites, over, round, form = way.InOneGo, way.InBites, way.SetOver, way.EndForEnd, way.FormTool
	for name, tc := range map[string]struct {
		in   func() way.Input
		want yes
		best way.Kind
		says map[way.Kind]string
	}{
		"a chamfer of 45 deg goes on a mark": {
			func() way.Input { return asked("20mm", "16mm", "2mm") },
			yes{one: "yes", bites: "no", over: "no", round: "yes", form: "yes"},
			one,
			map[way.Kind]string{
				bites: "The slide reaches the whole slope: nothing is gained by bites.",
				over:  "even ball centres bear badly in work that is set over for more than 8 deg: use the compound",
				form:  "Grind a tool to 45 deg from the axis",
			},
		},
		"without a compound it is a form tool's": {
			func() way.Input {
				in := asked("20mm", "16mm", "2mm")
				in.Lathe.Compound, in.Within = nil, length("0.05mm")
				return in
			},
			yes{one: "?", bites: "?", over: "no", round: "?", form: "yes"},
			form,
			map[way.Kind]string{one: "No compound is known (lathe: compound)."},
		},
		"long and slender: the tailstock": {
			func() way.Input {
				in := asked("30mm", "26mm", "120mm")
				in.Between = length("160mm")
				return in
			},
			yes{one: "no", bites: "yes", over: "yes", round: "yes", form: "no"},
			over,
			map[way.Kind]string{
				one:  "The slope of 120.017 mm is longer than the slide, 55 mm.",
				over: "Set the tailstock over 2.666 mm toward you",
				form: "The side is 120.017 mm long",
			},
		},
		"nobody said how long the work is": {
			func() way.Input { return asked("30mm", "26mm", "120mm") },
			yes{one: "no", bites: "yes", over: "?", round: "yes", form: "no"},
			bites,
			map[way.Kind]string{over: "Work up to 300.041 mm between the centres is cut so: say how long it is with between."},
		},
		"steep and long: bites": {
			func() way.Input {
				in := asked("60mm", "26mm", "120mm")
				in.Between = length("160mm")
				return in
			},
			yes{one: "no", bites: "yes", over: "no", round: "yes", form: "no"},
			bites, nil,
		},
		"the tailstock moves the other way only, so the work is turned": {
			func() way.Input {
				in := asked("30mm", "26mm", "120mm")
				in.Between, in.Lathe.Tailstock.Toward, in.Lathe.Tailstock.Away = length("160mm"), length("1mm"), length("9mm")
				return in
			},
			yes{one: "no", bites: "yes", over: "no", round: "yes", form: "no"},
			round,
			map[way.Kind]string{round: "Set the tailstock over 2.666 mm away from you"},
		},
		"a bore": {
			func() way.Input {
				in := asked("30mm", "26mm", "40mm")
				in.Internal, in.Bars = true, []shop.BoringBar{{Diameter: units.MustLength("10mm"), Reach: units.MustLength("60mm")}}
				return in
			},
			yes{one: "yes", bites: "no", over: "no", round: "yes", form: "no"},
			one,
			map[way.Kind]string{over: "A bore is not cut between centres."},
		},
		"a bore that no bar goes into": {
			func() way.Input {
				in := asked("30mm", "26mm", "40mm")
				in.Internal, in.Bars = true, []shop.BoringBar{{Diameter: units.MustLength("10mm"), Reach: units.MustLength("30mm")}}
				return in
			},
			yes{one: "no", bites: "no", over: "no", round: "no", form: "no"},
			"",
			map[way.Kind]string{one: "No boring bar here is as thin as 23.15 mm, for the small end, 26 mm, " +
				"its tip 2.2 mm beyond its side, and reaches 40 mm."},
		},
	} {
		t.Run(name, func(t *testing.T) {
			r := choose(t, tc.in())
			for k, want := range tc.want {
				w := of(t, r, k)
				said := w.Setting.String()
				for _, s := range slices.Concat(w.Trouble, w.WhyNot) {
					said += " " + s.String()
				}
				if got := does(w); got != want || !strings.Contains(said, tc.says[k]) {
					t.Errorf("%s: %s, want %s: %s", k, got, want, said)
				}
			}
			if best := r.Ways[0]; tc.best == "" && (r.Best != nil || len(r.Fails()) != 1) ||
				tc.best != "" && (r.Best == nil || *r.Best != tc.best || best.Way != tc.best || len(r.Fails()) != 0) {
				t.Errorf("the best is %s, %v; %v", best.Way, r.Best, r.Fails())
			}
		})
	}
}

// The order is the one that is promised, whatever is asked.
func TestOrder(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		large := rapid.IntRange(120, 900).Draw(rt, "large")
		small := rapid.IntRange(50, large-1).Draw(rt, "small")
		long := rapid.IntRange(5, 2000).Draw(rt, "long")
		mm := func(tenths int) *units.Length { l := units.FromFloat(float64(tenths) / 10); return &l }
		in := asked("2mm", "1mm", "1mm")
		in.Input = tapers.Input{Large: mm(large), Small: mm(small), Length: mm(long)}
		in.SmallEnd = rapid.SampledFrom(tapers.Ends).Draw(rt, "end")
		if rapid.Bool().Draw(rt, "between") {
			in.Between = mm(long + 400)
		}
		r, err := way.Choose(in)
		if err != nil {
			rt.Fatal(err)
		}
		rank := func(w way.Way) (class, first, then float64) {
			switch does(w) {
			case "no":
				return 3, 0, 0
			case "?":
				return 2, 0, 0
			}
			minutes := math.Round(float64(*w.Time))
			if w.Error.MM() <= 0.02+1e-6 {
				return 0, minutes, w.Error.MM()
			}
			return 1, w.Error.MM(), float64(*w.Time)
		}
		for i := 1; i < len(r.Ways); i++ {
			c1, f1, t1 := rank(r.Ways[i-1])
			c2, f2, t2 := rank(r.Ways[i])
			if c1 > c2 || c1 == c2 && (f1 > f2 || f1 == f2 && t1 > t2) {
				rt.Fatalf("%s stands before %s", r.Ways[i-1].Way, r.Ways[i].Way)
			}
			if (len(r.Ways[i].WhyNot) == 0) != (does(r.Ways[i]) == "yes") {
				rt.Fatalf("%s: %s, and why not is %q", r.Ways[i].Way, does(r.Ways[i]), r.Ways[i].WhyNot)
			}
		}
	})
}

// The compound is set as it is when it is asked alone, turned round or not.
func TestSettings(t *testing.T) {
	other := map[tapers.End]tapers.End{tapers.AtTailstock: tapers.AtHeadstock, tapers.AtHeadstock: tapers.AtTailstock}
	for small, round := range other {
		in := asked("30mm", "26mm", "40mm")
		in.SmallEnd = small
		r := choose(t, in)
		for k, end := range map[way.Kind]tapers.End{way.InOneGo: small, way.EndForEnd: round} {
			alone, err := compound.Set(compound.Input{Input: in.Input, SmallEnd: end, Place: in.Place})
			if err != nil {
				t.Fatal(err)
			}
			if w := of(t, r, k); w.Setting != "Swing the compound: "+alone.Setting+"." || !w.Error.Equal(alone.FarEnd) {
				t.Errorf("small at the %s, %s: %s, alone %s", small, k, w.Setting, alone.Setting)
			}
		}
	}
}

// What fouls is mended in the way that is the least trouble, and charged: a tool of
// 8 deg is ground to trail 12.5 + 2 deg and more for a taper that grows toward the
// tailstock; turned round it goes as it is.
func TestFouls(t *testing.T) {
	in := asked("40mm", "20mm", "45mm")
	in.SmallEnd, in.FromJaws = tapers.AtHeadstock, length("60mm")
	in.Lathe.Tools = []shop.Tool{{Hand: "right", Trail: units.Degrees(8)}}
	in.Lathe.ToolPost = &shop.ToolPost{
		Size: units.MustLength("55mm"), HolderWidth: units.MustLength("14mm"), Overhang: units.MustLength("20mm"),
	}
	r := choose(t, in)
	w := of(t, r, way.InOneGo)
	if does(w) != "yes" || len(w.Trouble) != 2 || !strings.HasPrefix(w.Trouble[0].String(), "As it stands it fouls: ") ||
		*w.SetUp < 16+2 {
		t.Errorf("%s after %v min: %v %v", does(w), w.SetUp, w.Trouble, w.WhyNot)
	}
	w = of(t, r, way.EndForEnd)
	if does(w) != "yes" || !strings.HasPrefix(w.Trouble[0].String(), "Turn the work end for") {
		t.Errorf("%s: %v %v", does(w), w.Trouble, w.WhyNot)
	}
	in.CentreAt = length("150mm")
	if w := of(t, choose(t, in), way.EndForEnd); does(w) != "?" {
		t.Errorf("held by a centre: %s %v", does(w), w.WhyNot)
	}
}

// A form tool ground to the nearest quarter of a degree and told to half of one:
// 30.1 deg is ground to 30, so it is 29.875 at the least; over 3 mm
// 2·3·(tan 30.1 - tan 29.875) = 0.0314 mm.
func TestFormTool(t *testing.T) {
	half := units.Degrees(30.1)
	in := asked("20mm", "16mm", "2mm")
	in.Input = tapers.Input{Large: length("20mm"), HalfAngle: &half, Length: length("3mm")}
	w := of(t, choose(t, in), way.FormTool)
	if units.AsPrinted(*w.Error, "0.0000mm") != "0.0314mm" {
		t.Errorf("leaves %v", w.Error.MM())
	}
}

// What is asked and not kept is a no; what is usual and not kept a warning.
func TestWithin(t *testing.T) {
	in := asked("30mm", "26mm", "120mm")
	in.Within = length("0.001mm")
	r := choose(t, in)
	if len(r.Fails()) != 1 || !strings.Contains(r.Fails().Error(), "within: 0.001 mm: no way here keeps 0.001 mm") {
		t.Errorf("%v", r.Fails())
	}
	in.Within, in.Standard = nil, "MT2"
	if r := choose(t, in); len(r.Fails()) != 0 || r.Warnings[0].Code != "within" {
		t.Errorf("%v %v", r.Fails(), r.Warnings)
	}
}

func TestRefusals(t *testing.T) {
	for _, tc := range []struct {
		change func(*way.Input)
		want   string
	}{
		{
			func(in *way.Input) { half := units.Degrees(3); in.Input = tapers.Input{HalfAngle: &half} },
			"length: the ways to cut it need the taper's sizes: two of large, small and length beside the slope",
		},
		{func(in *way.Input) { in.SmallEnd = "left" }, "small-end: left: write tailstock or headstock"},
		{func(in *way.Input) { in.Within = length("0mm") }, "within: 0 mm: must be above 0"},
		{func(in *way.Input) { in.Between = length("-1mm") }, "between: -1 mm: must be above 0"},
		{
			func(in *way.Input) { in.Between = length("30mm") },
			"between: 30 mm: shorter than the taper, 40 mm: give the whole length between the centres",
		},
		{
			func(in *way.Input) { in.Stock = length("900mm") },
			"stock: 900 mm: at 0.5 mm a side it makes 874 passes: at most 500",
		},
		{func(in *way.Input) { in.Stock = length("29mm") }, "stock: 29 mm: smaller than the large end, 30 mm"},
	} {
		in := asked("30mm", "26mm", "40mm")
		tc.change(&in)
		if _, err := way.Choose(in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

// What the compound itself says no to as it was asked is no way without a change that stands in
// its row; what it does is one. Where the change is only another way to hold the tool, the
// compound does it when it is asked so.
func TestAgreesWithTheCompound(t *testing.T) {
	const settings = 60
	seed := rand.New(rand.NewPCG(1, 2))
	draw := func(from, to int) *units.Length { return new(units.Millimetres(int64(from + seed.IntN(to-from+1)))) }
	count := map[string]int{}
	for n := range settings {
		l := lathe()
		l.Compound.Width, l.Compound.Length, l.Compound.TopBelowCentre = length("60mm"), length("130mm"), length("20mm")
		l.Chuck = &shop.Chuck{Diameter: units.MustLength("100mm"), JawLength: length("28mm"), JawCircle: length("110mm")}
		l.ToolPost = &shop.ToolPost{
			Size: units.MustLength("65mm"), HolderWidth: units.MustLength("16mm"), Overhang: units.MustLength("25mm"),
		}
		l.Tools = []shop.Tool{{Hand: "right", Trail: units.Degrees(8)}, {Hand: "left", Trail: units.Degrees(8)}}
		small := draw(5, 30)
		in := way.Input{
			Input: tapers.Input{
				Small: small, Large: new(small.Plus(*draw(1, 30))), Length: draw(5, 90),
			},
			SmallEnd: tapers.Ends[n%2],
			Place:    fouling.Place{Lathe: l, FromJaws: draw(0, 60)},
			Drive:    shop.Drive{Machine: shop.OnLathe, Spindle: &shop.Spindle{Speeds: []units.SpindleSpeed{units.RPM(300)}}},
		}
		r, err := way.Choose(in)
		if err != nil {
			t.Fatal(n, err)
		}
		on := compound.Input{Input: in.Input, SmallEnd: in.SmallEnd, Place: in.Place} // as it is asked alone
		c, err := compound.Set(on)
		if err != nil {
			t.Fatal(n, err)
		}
		does, changed := false, false
		for _, w := range r.Ways {
			if w.Way == way.InOneGo || w.Way == way.InBites {
				does = does || w.Possible != nil && *w.Possible && w.Change == nil
				changed = changed || w.Change != nil
			}
		}
		if is := len(c.Fails()) == 0; does != is || changed && is {
			t.Errorf("%d: way says %v, changed %v; the compound %v", n, does, changed, c.Fails())
		}
		count[fmt.Sprint(does, changed)]++
		if !changed {
			continue
		}
		i := slices.IndexFunc(c.Alternatives, func(a fouling.Alternative) bool { return a.FromJaws == nil })
		for _, w := range r.Ways {
			if (w.Way == way.InOneGo || w.Way == way.InBites) && w.Change != nil && *w.Change != c.Alternatives[i].Say {
				t.Errorf("%d: %s only if you %s; the compound says %s", n, w.Way, *w.Change, c.Alternatives[i].Say)
			}
		}
		if a := c.Alternatives[i]; a.Stays() {
			on.Arrangement = a.Arrangement
			if c, err := compound.Set(on); err != nil || len(c.Fails()) > 0 {
				t.Errorf("%d: %v: %v %v", n, a.Say, c.Fails(), err)
			}
		}
	}
	if len(count) < 2 {
		t.Error("one answer alone comes about", count)
	}
}

// A joint that stands out by nothing is not said to stand out: 60 to 24 over 100 in two bites of a slide of 75 meet on
// a line of 0.025, 50·0.18 = 9; one that does is said by how much.
func TestJointsThatMeet(t *testing.T) {
	meets, stands := 0, 0
	for n := range 40 {
		in := asked("60mm", "24mm", "100mm")
		in.Lathe.Compound.Travel = length([]string{"75mm", "16mm"}[n%2])
		in.Large = new(units.Millimetres(24).Plus(units.FromFloat(2 + 0.37*float64(n))))
		if n == 0 {
			in.Large = length("60mm")
		}
		w := of(t, choose(t, in), way.InBites)
		for _, do := range w.Trouble {
			text := do.In(units.MM)
			if strings.Contains(text, "by 0 mm") {
				t.Error(text)
			}
			if strings.Contains(text, "the dials' lines meet at every joint") {
				meets++
			}
			if strings.Contains(text, "a joint may stand out by ") {
				stands++
			}
		}
	}
	if meets == 0 || stands == 0 {
		t.Error("asked of too few:", meets, stands)
	}
}
