package compound_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/fouling"
	"setover/tapers/swivel"
)

// collar returns a dial.
func collar(lead string, divisions int, onDiameter bool) *shop.Dial {
	return &shop.Dial{Lead: units.MustLength(lead), Divisions: divisions, OnDiameter: onDiameter}
}

// bites returns a long taper on a lathe with dials; the slide travels 75.
func bites(large, small, l string, end tapers.End, cross, carriage *shop.Dial) compound.Input {
	place := on(slide(shop.Along, "0.001", false))
	place.Lathe.CrossSlide, place.Lathe.Carriage = cross, carriage
	return compound.Input{
		Input:    tapers.Input{Large: length(large), Small: length(small), Length: length(l)},
		SmallEnd: end, Place: place,
	}
}

// The metal, and a tip that is moved through it one slide after the other: which
// slide goes first is found by trying both. A point of the metal is one that the
// side of the cone has on its inside, or outside for a bore.
func TestFirstSlideGougesNothing(t *testing.T) {
	for _, internal := range []bool{false, true} {
		for _, end := range []tapers.End{tapers.AtTailstock, tapers.AtHeadstock} {
			for _, hand := range []fouling.Hand{fouling.Right, fouling.Left} {
				for _, handle := range []fouling.Handle{fouling.Normal, fouling.Reversed} {
					in := bites("60mm", "20mm", "200mm", end, collar("2mm", 100, true), collar("20mm", 100, false))
					in.Internal, in.ToolHand, in.Handle = internal, hand, handle
					r := set(t, in)
					// The side of the cone, z toward the tailstock from the headstock's end.
					side := func(z float64) float64 {
						if end == tapers.AtTailstock {
							return 30 - z*20/200
						}
						return 10 + z*20/200
					}
					way := -1.0 // of the carriage along z
					if r.FeedsToward == tapers.AtTailstock {
						way = 1
					}
					z, y := 100.0, side(100)
					dz := way * r.Joints[0].Carriage.MM()
					dy := side(z+dz) - y
					if math.Abs(math.Abs(dy)-r.Joints[0].Cross.MM()) > 0.021 { // a line
						t.Fatalf("the cross slide moves %v, the side %v", r.Joints[0].Cross.MM(), dy)
					}
					into := func(z, y float64) bool {
						deep := side(z) - y
						if internal {
							deep = -deep
						}
						return deep > 1e-6
					}
					crossFirst, carriageFirst := into(z, y+dy), into(z+dz, y)
					want := compound.CarriageFirst
					if carriageFirst {
						want = compound.CrossSlideFirst
					}
					if crossFirst == carriageFirst || *r.First != want {
						t.Errorf("bore %v, small at the %s, %s hand, %s: %s goes first; cross slide gouges: %v, carriage: %v",
							internal, end, hand, handle, *r.First, crossFirst, carriageFirst)
					}
				}
			}
		}
	}
}

// Which way the compound's handle is wound, from how a screw works: wound in, the
// slide goes away from its handle. Vectors in the plan view: z to the tailstock, y
// to the operator.
func TestFeedWay(t *testing.T) {
	for _, end := range []tapers.End{tapers.AtTailstock, tapers.AtHeadstock} {
		for _, half := range []string{"5", "30", "60", "85"} {
			for _, hand := range []fouling.Hand{fouling.Right, fouling.Left} {
				in := compound.Input{
					Input: tapers.Input{HalfAngle: angle(half)}, SmallEnd: end, Place: on(slide(shop.Along, "1", false)),
				}
				in.ToolHand = hand
				r := set(t, in)
				points := handle(r, r.Turn.Deg()) // where the handle points after the turn
				wantZ := -1.0                     // a right-hand tool cuts toward the headstock
				if hand == fouling.Left {
					wantZ = 1
				}
				moves := vec{}.plus(points, -1) // wound in
				want := compound.In
				if moves[0]*wantZ < 0 {
					want = compound.Out
				}
				if r.FeedWay != want {
					t.Errorf("small end at the %s, %s deg, %s hand: wound %s, want %s", end, half, hand, r.FeedWay, want)
				}
			}
		}
	}
}

// The moves between bites by hand.
//
// 60 to 20 over 200 is 1 in 10 a side; the slope of 200.9975 takes 3 bites of 75,
// 66.667 along each. The carriage's lines are 0.2 apart: 66.6, 66.4 … The cross
// slide then moves 6.66, which is 333 lines of 0.02: 3 turns + 33. Nothing is left.
// The carriage goes 3 turns + 33 lines of 0.2. Along the slope that is 66.6·√1.01 =
// 66.9322, and what is left for the last is longer: 200.9975 - 2·66.9322 = 67.1331.
//
// Without its dial the carriage is moved to 0.01: 66.66 and 6.666 is no line of
// 0.02, 66.60 and 6.66 is.
//
// In inches: 3 to 1 in over 8 is 1 in 8 a side, the slope 8.0623, 3 bites of 75 mm
// (2.9528 in); 8/3 = 2.6667. On 0.0005: 2.664 · 1/8 = 0.333, on a line of 0.001;
// 2.6665/8 is not.
func TestJoints(t *testing.T) {
	for _, tc := range []struct {
		name            string
		large, small, l string
		cross, carriage *shop.Dial
		want            string
	}{
		{
			"both dials", "60mm", "20mm", "200mm", collar("2mm", 100, true), collar("20mm", 100, false),
			"66.6 (3+33) then 6.66 (3+33) leaves 0; 66.6 (3+33) then 6.66 (3+33) leaves 0; bite 67.133169, left 7.866831",
		},
		{
			"no carriage dial", "60mm", "20mm", "200mm", collar("2mm", 100, true), nil,
			"66.6 then 6.66 (3+33) leaves 0; 66.6 then 6.66 (3+33) leaves 0; bite 67.133169, left 7.866831",
		},
		{
			"no dial", "60mm", "20mm", "200mm", nil, nil,
			"66.66 then 6.666 leaves 0; 66.66 then 6.666 leaves 0; bite 67.012571, left 7.987429",
		},
		{
			"inches", "3in", "1in", "8in",
			&shop.Dial{Lead: units.MustLength("0.1in"), Divisions: 100, Unit: units.Inch}, nil,
			"67.6656 then 8.4582 (3+33) leaves 0; 67.6656 then 8.4582 (3+33) leaves 0; bite 68.39697, left 6.60303",
		},
	} {
		in := bites(tc.large, tc.small, tc.l, tapers.AtTailstock, tc.cross, tc.carriage)
		in.Lathe.Compound.Scale.Step = tapers.HalfAngle(*in.Large, *in.Small, *in.Length) // a mark at the very angle
		r := set(t, in)
		got := ""
		turned := func(turns, divs *int64) string {
			if turns == nil {
				return ""
			}
			return fmt.Sprintf(" (%d+%d)", *turns, *divs)
		}
		for _, j := range r.Joints {
			got += fmt.Sprintf("%v%s then %v%s leaves %v; ",
				j.Carriage.Decimal().Round(6), turned(j.CarriageTurns, j.CarriageDivs),
				j.Cross.Decimal().Round(6), turned(j.CrossTurns, j.CrossDivs), j.Step.Decimal().Round(5))
		}
		got += fmt.Sprintf("bite %v, left %v", r.Bite.Decimal().Round(6), r.Overrun.Decimal().Round(6))
		if got != tc.want {
			t.Errorf("%s: got  %s\nwant %s", tc.name, got, tc.want)
		}
	}
}

// Bites cover the whole slope within the slide's travel, the tip goes on along
// the line it cut to a line of the cross slide, never under size, and no error is carried on.
func TestJointsHold(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		half := float64(rapid.IntRange(10, 8900).Draw(rt, "angle")) / 100
		l := float64(rapid.IntRange(5, 600).Draw(rt, "length"))
		small := units.Millimetres(10)
		large := small.Plus(units.FromFloat(2 * l * math.Tan(half*math.Pi/180)))
		cross := rapid.SampledFrom([]*shop.Dial{
			nil, collar("1mm", 40, true), collar("5mm", 250, true), collar("0.1in", 100, false), collar("1mm", 60, false),
		}).Draw(rt, "cross")
		carriage := rapid.SampledFrom([]*shop.Dial{
			nil, collar("20mm", 100, false), collar("1in", 250, false),
		}).Draw(rt, "carriage")
		end := rapid.SampledFrom(tapers.Ends).Draw(rt, "small end")
		in := bites("1mm", "1mm", "1mm", end, cross, carriage)
		in.Input = tapers.Input{Large: &large, Small: &small, Length: new(units.FromFloat(l))}
		in.Internal = rapid.Bool().Draw(rt, "bore")
		r, err := compound.Set(in)
		if err != nil {
			rt.Fatal(err)
		}
		if *r.Bites < 2 || *r.Bites > 50 {
			if len(r.Joints) != 0 {
				rt.Fatal(*r.Bites, r.Joints)
			}
			return
		}
		cos, tan := math.Cos(r.SetHalfAngle.Rad()), math.Tan(r.SetHalfAngle.Rad())
		if r.Overrun.MM() < -1e-6 {
			rt.Fatalf("a bite of %v does not go into 75", r.Bite.MM())
		}
		z, y, most := 0.0, 0.0, 1e-6
		if cross != nil {
			most = 2*cross.Lead.MM()/float64(cross.Divisions) + 1e-6 // a line, on the diameter
		}
		for i, j := range r.Joints {
			if j.Carriage.MM()/cos > r.Bite.MM()+1e-6 {
				rt.Fatalf("a bite of %v leaves a ridge: the carriage moves %v", r.Bite.MM(), j.Carriage.MM())
			}
			z, y = z+j.Carriage.MM(), y+j.Cross.MM()
			left := 2 * (y - z*tan) // what the tip stands farther from where it began, on the diameter
			if rises := (end == tapers.AtHeadstock) == (r.FeedsToward == tapers.AtTailstock); !rises {
				left = -left
			}
			if in.Internal && left > 1e-5 || !in.Internal && left < -1e-5 {
				rt.Fatalf("joint %d of a bore (%v) is past its size: %v", i, in.Internal, left)
			}
			if math.Abs(left-j.Step.MM()) > 1e-6 || math.Abs(left) > most {
				rt.Fatalf("joint %d: moved %v and %v, which leaves %v, told %v", i, z, y, left, j.Step.MM())
			}
		}
		if end := z/cos + r.Bite.MM(); end < r.SlideTravel.MM()-1e-6 {
			rt.Fatalf("the bites end at %v of %v", end, r.SlideTravel.MM())
		}
	})
}

// What an indicator is read to does not add up from bite to bite. Of 19.07 to 17.5 over 287.4 the side rises
// 0.785/287.4 = 0.0027314, which an indicator on 53 turns of the slide would be set to 0.14 for, instead of
// 0.1448. The carriage goes 47.59: the side is 0.12999, 0.25997, 0.38996, 0.51995 and 0.64993 farther out,
// and the next lines of 0.025 are 0.15, 0.275, 0.4, 0.525 and 0.65.
func TestJointsOnTheSideDrawn(t *testing.T) {
	in := compound.Input{Input: tapers.Input{Large: length("19.07mm"), Small: length("17.5mm"), Length: length("287.4mm")}}
	in.SmallEnd = tapers.AtTailstock
	in.Lathe = shop.Lathe{CrossSlide: collar("1mm", 40, true), Compound: &shop.Compound{
		Travel: length("55mm"), Screw: collar("1mm", 40, false), Scale: shop.Scale{Zero: shop.Along, Step: units.Degrees(1)},
	}}
	r := set(t, in)
	if r.Method != swivel.ByIndicator || r.SetHalfAngle.Deg() == r.HalfAngle.Deg() {
		t.Fatal(r.Method, r.SetHalfAngle, r.HalfAngle)
	}
	var got []string
	for _, j := range r.Joints {
		got = append(got, fmt.Sprint(
			j.Carriage.Decimal().Round(4), " ", j.Cross.Decimal().Round(4), " ", j.Step.Decimal().Round(4),
		))
	}
	const want = "47.59 0.15 0.04, 47.59 0.125 0.0301, 47.59 0.125 0.0201, 47.59 0.125 0.0101, 47.59 0.125 0.0001"
	if list := strings.Join(got, ", "); list != want {
		t.Errorf("got  %s\nwant %s", list, want)
	}
}

// What the lines leave is said in short too: of 33.3 to 20.1 over 160 the side rises 0.04125, and what the words
// move, added up, stands out over it by what they say.
func TestStepsLeftAreSaid(t *testing.T) {
	in := compound.Input{Input: tapers.Input{Large: length("33.3mm"), Small: length("20.1mm"), Length: length("160mm")}}
	in.SmallEnd = tapers.AtTailstock
	in.Lathe = shop.Lathe{CrossSlide: collar("2.1mm", 35, false), Compound: slide(shop.Along, "1deg", false)}
	r := set(t, in)
	text := ""
	for _, step := range r.Sheet().Procedure {
		text += step.Brief().Whole().In(units.MM) + "\n"
	}
	m := regexp.MustCompile(`(\d) bites.*on out ([\d.]+) mm .*carriage ([\d.]+) mm.*leaves steps up to ([\d.]+) mm`).
		FindStringSubmatch(text)
	if m == nil {
		t.Fatal(text)
	}
	var v [5]float64
	for i := 1; i < len(m); i++ {
		v[i], _ = strconv.ParseFloat(m[i], 64)
	}
	step := 2 * (v[1] - 1) * (v[2] - v[3]*(33.3-20.1)/2/160)
	if step < 0 || math.Abs(step-v[4]) > 0.001 {
		t.Errorf("it leaves %v, said %v\n%s", step, v[4], text)
	}
}

// A bite is reached by the passes that cut so far. From 20 to 60 over 200 the side
// rises 1 in 10. Stock of 60: 20 a side, 0.2 the last, 19.8 in 10 passes of 1.98,
// each 19.8 further along. The bites begin 66.6 and 133.2 along: the 4th pass
// (79.2) and the 7th (138.6) are the first to get there. Fed the other way, from
// the large end, the second bite ends 200 - 66.6 - 66.8 = 66.6 from the small end
// and the third at it: the 4th and the 1st.
func TestFromPass(t *testing.T) {
	for _, tc := range []struct {
		end  tapers.End
		hand fouling.Hand
		want string
	}{
		{tapers.AtTailstock, fouling.Right, "4 7"},
		{tapers.AtHeadstock, fouling.Left, "4 7"},
		{tapers.AtTailstock, fouling.Left, "4 1"},
		{tapers.AtHeadstock, fouling.Right, "4 1"},
	} {
		in := bites("60mm", "20mm", "200mm", tc.end, collar("2mm", 100, true), collar("20mm", 100, false))
		in.Stock, in.Depth, in.ToolHand = length("60mm"), length("2mm"), tc.hand
		in.Lathe.Compound.Scale.Step = tapers.HalfAngle(*in.Large, *in.Small, *in.Length)
		r := set(t, in)
		if got := fmt.Sprint(*r.Joints[0].FromPass, " ", *r.Joints[1].FromPass); got != tc.want {
			t.Errorf("small end at the %s, %s hand: from passes %s, want %s", tc.end, tc.hand, got, tc.want)
		}
	}
}

// The compound's handle: 60.2080 of slope (10 on the diameter over 60: the square
// root of 60² + 5²) at 1 mm in 50 is 60 turns + 10 lines of 0.02 and a bit; a line
// takes 2·0.02·5/60.208 = 0.003322 off the diameter. The slide has 75 - 60.208.
func TestFeed(t *testing.T) {
	place := on(slide(shop.Along, "1", false))
	place.Lathe.Compound.Screw = collar("1mm", 50, false)
	place.Lathe.Compound.Scale.Step = units.Radians(math.Atan2(5, 60))
	r := set(t, compound.Input{
		Input:    tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
		SmallEnd: tapers.AtTailstock, Place: place,
	})
	got := fmt.Sprintf("%d+%d %v %v", *r.FeedTurns, *r.FeedDivs,
		r.DivisionDia.Decimal().Round(6), r.Overrun.Decimal().Round(3))
	if want := "60+10 0.003322 14.792"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// No list ends under size: an outside comes out no smaller than it is drawn, a
// bore no larger, by less than a line; no pass goes further in than the last, and
// the carriage's move takes off what is left.
func TestLastPassFallsShort(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		small := units.FromFloat(float64(rapid.IntRange(100, 40000).Draw(rt, "small")) / 1000)
		large := small.Plus(units.FromFloat(float64(rapid.IntRange(100, 20000).Draw(rt, "more")) / 1000))
		internal := rapid.Bool().Draw(rt, "bore")
		stock := large.Plus(units.FromFloat(float64(rapid.IntRange(0, 3000).Draw(rt, "stock")) / 1000))
		drawn := small
		if internal {
			stock, drawn = small.Half(), large
		}
		d := rapid.SampledFrom([]*shop.Dial{
			collar("1mm", 40, true), collar("2mm", 100, true), collar("5mm", 250, false), collar("0.1in", 100, false),
			collar("1mm", 60, false),
		}).Draw(rt, "dial")
		finish := units.FromFloat(float64(rapid.IntRange(0, 300).Draw(rt, "finish")) / 1000)
		if finish.Less(d.Division()) { // which is refused
			finish = units.Length{}
		}
		place := on(slide(shop.Along, "0.001", false))
		place.Lathe.CrossSlide = d
		l := units.Millimetres(60)
		r, err := compound.Set(compound.Input{
			Input: tapers.Input{Large: &large, Small: &small, Length: &l}, SmallEnd: tapers.AtTailstock, Internal: internal,
			Stock: &stock, Finish: &finish, Place: place,
		})
		if err != nil {
			rt.Fatal(err)
		}
		line := d.Lead.MM() / float64(d.Divisions)
		in := 0.0
		for _, p := range r.Passes {
			wound := (float64(*p.Turns)*float64(d.Divisions) + float64(*p.Divisions)) * line
			if wound < in-1e-9 {
				rt.Fatalf("pass %d goes back from %v to %v", p.N, in, wound)
			}
			in = wound
		}
		out := stock.MM() - 2*in
		left := out - drawn.MM()
		if internal {
			out = stock.MM() + 2*in
			left = drawn.MM() - out
		}
		if left < -1e-9 || left >= 2*line+1e-9 {
			rt.Fatalf("comes out %v, drawn %v", out, drawn.MM())
		}
		comesOff := 2 * r.LeftMove.MM() * math.Tan(r.SetHalfAngle.Rad())
		if math.Abs(math.Abs(r.Left.MM())-left) > 1e-9 || math.Abs(comesOff-left) > 1e-6 {
			rt.Fatalf("leaves %v, told %v and a move of %v", left, r.Left.MM(), r.LeftMove.MM())
		}
	})
}

// The bar goes into the hole there is: 15 in a taper from 20 to 30 takes no bar of
// 16, and 12 no bar of 12.
func TestBarGoesIntoTheHole(t *testing.T) {
	var bars []shop.BoringBar
	for _, d := range []string{"8mm", "12mm", "16mm"} {
		bars = append(bars, shop.BoringBar{Diameter: units.MustLength(d), Reach: units.MustLength("80mm")})
	}
	for _, tc := range []struct{ stock, want, warns string }{
		{"", "16", ""},
		{"20mm", "16", ""},
		{
			"17mm", "16", "the boring bar of 16 mm leaves little room for chips in a hole of 17 mm: 13.6 mm is usual " +
				"at the most, and clear the chips after every pass",
		},
		{"15mm", "12", ""},
		{"12mm", "8", ""},
		{
			"8mm", "", "internal: no boring bar here is as thin as 7.6 mm, for the hole to begin with, 8 mm, and reaches 60 " +
				"mm; bore it straight first, in steps, up to 20 mm",
		},
	} {
		in := compound.Input{
			Input:    tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
			SmallEnd: tapers.AtHeadstock, Internal: true, Bars: bars, Place: on(slide(shop.Along, "1", false)),
			Within: length("1mm"),
		}
		if tc.stock != "" {
			in.Stock = length(tc.stock)
		}
		r := set(t, in)
		got, warns := "", r.Fails().Error()
		if r.Bar != nil {
			got = r.Bar.Diameter.Decimal().String()
		}
		for _, w := range r.Warnings {
			warns += w.Text.String()
		}
		if got != tc.want || warns != tc.warns {
			t.Errorf("a hole of %s: %s %q, want %s %q", tc.stock, got, warns, tc.want, tc.warns)
		}
	}
}

// What the lathe has no room for is a no. It takes 350 between its centres, and
// swings 180 over the bed and 110 over the slide.
func TestRoom(t *testing.T) {
	const slides = "does not swing over the cross slide, which clears 110 mm"
	const beds = "does not swing over the bed, which clears 180 mm"
	for _, tc := range []struct {
		name   string
		change func(in *compound.Input)
		want   string
	}{
		{"it goes in", func(*compound.Input) {}, ""},
		{
			"too long", func(in *compound.Input) { in.Length = length("351mm") },
			"length: 351 mm: the lathe takes no more between its centres than 350 mm",
		},
		{
			"too far from the jaws", func(in *compound.Input) { in.FromJaws = length("291mm") },
			"from-jaws: 351 mm: the lathe takes no more between its centres than 350 mm",
		},
		{
			"the centre too far", func(in *compound.Input) { in.FromJaws, in.CentreAt = length("1mm"), length("360mm") },
			"centre-at: 360 mm: the lathe takes no more between its centres than 350 mm",
		},
		{"over the slide", func(in *compound.Input) { in.Large = length("111mm") }, "large: 111 mm: " + slides},
		{"its stock", func(in *compound.Input) { in.Stock = length("112mm") }, "stock: 112 mm: " + slides},
		{
			"faced: the slide stands beside it",
			func(in *compound.Input) { in.Large, in.Length = length("150mm"), length("10mm") }, "",
		},
		{
			"not so at the other end",
			func(in *compound.Input) {
				in.Large, in.Length, in.SmallEnd = length("150mm"), length("10mm"), tapers.AtHeadstock
			}, "large: 150 mm: " + slides,
		},
		{
			"a bore",
			func(in *compound.Input) {
				in.Internal, in.Large, in.SmallEnd = true, length("150mm"), tapers.AtHeadstock
			}, "",
		},
		{
			"over the bed",
			func(in *compound.Input) {
				in.Internal, in.Large, in.SmallEnd = true, length("181mm"), tapers.AtHeadstock
			},
			"large: 181 mm: " + beds,
		},
	} {
		in := compound.Input{
			Input:    tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
			SmallEnd: tapers.AtTailstock,
			Place: fouling.Place{Lathe: shop.Lathe{
				BetweenCentres: length("350mm"), SwingOverBed: length("180mm"), SwingOverSlide: length("110mm"),
			}},
		}
		tc.change(&in)
		if got := set(t, in).Fails().Error(); got != tc.want {
			t.Errorf("%s: got  %s\nwant %s", tc.name, got, tc.want)
		}
	}
}

// More bites than anyone cuts are a no, and nothing is said to be done.
func TestTooManyBites(t *testing.T) {
	in := bites("12mm", "10mm", "3700mm", tapers.AtTailstock, collar("2mm", 100, true), nil)
	in.Lathe.BetweenCentres = length("4000mm")
	if r := set(t, in); len(r.Fails()) > 0 || len(r.Joints) != 49 {
		t.Errorf("50 bites: %v, %d joints", r.Fails(), len(r.Joints))
	}
	in.Length = length("3751mm")
	r := set(t, in)
	const want = "length: 3751 mm: takes 51 bites of the slide's 75 mm: at most 50"
	if got := r.Fails().Error(); got != want || len(r.Joints) != 0 || len(r.Steps) != 0 || r.Overrun.Sign() < 0 {
		t.Errorf("got %s, %d joints, %v to spare", got, len(r.Joints), r.Overrun.MM())
	}
}

// Whatever is asked of whatever lathe, there is an answer or a refusal, and it can
// be put on a page.
func TestAnything(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		mm := func(name string, least, most int) *units.Length {
			if rapid.IntRange(0, 3).Draw(rt, name+" is there") == 0 {
				return nil
			}
			return new(units.FromFloat(float64(rapid.IntRange(least, most).Draw(rt, name)) / 1000))
		}
		dial := func(name string) *shop.Dial {
			return rapid.SampledFrom([]*shop.Dial{nil, collar("1mm", 40, true), collar("0.1in", 100, false)}).Draw(rt, name)
		}
		half := units.Degrees(float64(rapid.IntRange(1, 89999).Draw(rt, "half")) / 1000)
		in := compound.Input{
			Input:    tapers.Input{Small: mm("small", 0, 60000), HalfAngle: &half, Length: mm("length", 1, 900000)},
			SmallEnd: rapid.SampledFrom(tapers.Ends).Draw(rt, "end"), Internal: rapid.Bool().Draw(rt, "bore"),
			Stock: mm("stock", -1000, 400000), Depth: mm("depth", -10, 3000), Finish: mm("finish", -10, 3000),
		}
		if h := mm("height", -2000, 2000); h != nil {
			in.ToolHeightError = *h
		}
		in.ToolHand = rapid.SampledFrom([]fouling.Hand{"", fouling.Right, fouling.Left}).Draw(rt, "hand")
		in.Handle = rapid.SampledFrom([]fouling.Handle{"", fouling.Normal, fouling.Reversed}).Draw(rt, "handle")
		in.Bars = rapid.SampledFrom([][]shop.BoringBar{
			nil, {{Diameter: units.MustLength("8mm"), Reach: units.MustLength("500mm")}},
		}).Draw(rt, "bars")
		in.Lathe.CrossSlide, in.Lathe.Carriage = dial("cross"), dial("carriage")
		if rapid.IntRange(0, 4).Draw(rt, "compound") > 0 {
			in.Lathe.Compound = slide(shop.Across, "1", true)
			in.Lathe.Compound.Travel, in.Lathe.Compound.Screw = mm("travel", 5000, 150000), dial("screw")
		}
		r, err := compound.Set(in)
		if err != nil {
			return
		}
		s := r.Sheet()
		for _, step := range s.Procedure {
			if text := step.In(units.Inch); len(text) < 20 || text[len(text)-1] != '.' {
				rt.Fatalf("a step: %q", text)
			}
		}
	})
}

// A slide is never wound out to more than it has, on a page of either unit: what it runs in and
// out by is rounder, and more, in inches.
func TestWoundOutNoFurtherThanItGoes(t *testing.T) {
	toGo := regexp.MustCompile(`(?:until it has|right (?:in|out), then (?:in|out)) ([\d.]+) (?:mm|in) (?:to go|\()`)
	told := 0
	rapid.Check(t, func(rt *rapid.T) {
		spare := float64(rapid.IntRange(0, 600).Draw(rt, "spare")) / 100
		half := float64(rapid.IntRange(50, 8500).Draw(rt, "angle")) / 100 * math.Pi / 180
		n := float64(rapid.IntRange(1, 4).Draw(rt, "bites"))
		slope := n * (75 - spare)
		small := units.Millimetres(10)
		in := bites("1mm", "1mm", "1mm", rapid.SampledFrom(tapers.Ends).Draw(rt, "small end"), collar("2mm", 100, true), nil)
		in.Internal = rapid.Bool().Draw(rt, "bore")
		in.Lathe.Compound.Screw = rapid.SampledFrom([]*shop.Dial{nil, collar("1mm", 40, false), collar("0.1in", 100, false)}).
			Draw(rt, "screw")
		in.Input = tapers.Input{
			Large: new(small.Plus(units.FromFloat(2 * slope * math.Sin(half)))), Small: &small,
			Length: new(units.FromFloat(slope * math.Cos(half))),
		}
		r, err := compound.Set(in)
		if err != nil {
			rt.Fatal(err)
		}
		for unit, has := range map[units.Unit]float64{units.MM: 75, units.Inch: 75 / 25.4} {
			for _, step := range r.Steps {
				m := toGo.FindStringSubmatch(step.In(unit))
				if m == nil {
					continue
				}
				told++
				if far, _ := strconv.ParseFloat(m[1], 64); far > has+0.0005 {
					rt.Fatalf("it has %v: %s", has, step.In(unit))
				}
			}
		}
	})
	if told == 0 {
		t.Error("nothing was wound out by a length")
	}
}

// Where a left-hand tool begins at the small end, straight in, the bar behind it must be as small.
func TestNeckBehindTheSmallEnd(t *testing.T) {
	for _, tc := range []struct {
		small tapers.End
		hand  fouling.Hand
		want  bool
	}{
		{tapers.AtHeadstock, fouling.Left, true},
		{tapers.AtHeadstock, fouling.Right, false},
		{tapers.AtTailstock, fouling.Left, false},
		{tapers.AtTailstock, fouling.Right, false},
	} {
		in := bites("60mm", "40mm", "46mm", tc.small, collar("2mm", 100, true), nil)
		in.ToolHand = tc.hand
		steps := say.Join(set(t, in).Steps, " ").In(units.MM)
		got := strings.Contains(steps, ", the bar between it and the chuck already down to 40 mm")
		if got != tc.want {
			t.Errorf("small end at the %s, %s: said %v", tc.small, tc.hand, got)
		}
		// There the tip stands at the edge of a bar of 40: it is the work of 60 that is touched.
		if thick := strings.Contains(steps, ", turned to 60 mm, not the bar beyond, "); thick != tc.want {
			t.Errorf("small end at the %s, %s: how thick is said %v\n%s", tc.small, tc.hand, thick, steps)
		}
	}
}

// A tool that was asked for and is not in the shop is told, one that is there or in no list is not.
func TestToolNotOnHand(t *testing.T) {
	for _, tc := range []struct {
		hand  fouling.Hand
		tools []shop.Tool
		want  bool
	}{
		{fouling.Left, []shop.Tool{{Hand: "right", Trail: units.Degrees(8)}}, true},
		{fouling.Right, []shop.Tool{{Hand: "right", Trail: units.Degrees(8)}}, false},
		{fouling.Left, nil, false},
		{fouling.Neutral, []shop.Tool{{Hand: "right", Trail: units.Degrees(8)}}, false},
	} {
		in := bites("30mm", "20mm", "60mm", tapers.AtTailstock, collar("2mm", 100, true), nil)
		in.ToolHand, in.Lathe.Tools = tc.hand, tc.tools
		told := false
		for _, w := range set(t, in).Warnings {
			told = told || w.Text.In(units.MM) == "no left-hand tool is on hand in this shop"
		}
		if told != tc.want {
			t.Errorf("%s of %v: told %v", tc.hand, tc.tools, told)
		}
	}
}
