package compound_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/published"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/fouling"
	"setover/tapers/swivel"
)

func length(text string) *units.Length {
	l := units.MustLength(text)
	return &l
}

func angle(text string) *units.Angle {
	a := units.MustAngle(text)
	return &a
}

// slide returns a compound with a scale and 75 mm of travel.
func slide(zero shop.Zero, step string, back bool) *shop.Compound {
	return &shop.Compound{
		Scale: shop.Scale{Zero: zero, Step: units.MustAngle(step), BackAfter90: back}, Travel: length("75mm"),
	}
}

// on returns a place on a lathe that has a compound, room for the work, and no more.
func on(c *shop.Compound) fouling.Place {
	return fouling.Place{Lathe: shop.Lathe{
		Compound: c, BetweenCentres: length("2000mm"), SwingOverBed: length("1000mm"), SwingOverSlide: length("1000mm"),
	}}
}

func set(t *testing.T, in compound.Input) compound.Result {
	t.Helper()
	r, err := compound.Set(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// How far the compound is turned, which way, and what the scale shows.
func TestTurns(t *testing.T) {
	for _, tc := range []struct {
		name   string
		half   string
		end    tapers.End
		zero   shop.Zero
		back   bool
		turn   string
		dir    shop.Direction
		read   string
		toward string
		src    string
	}{
		{
			"60 deg centre", "30", tapers.AtTailstock, shop.Along, false, "30", shop.CounterClockwise, "30", "tailstock",
			"US Army OD 1645 (1942): 30 deg from parallel to the ways",
		},
		{
			"60 deg centre, zero across", "30", tapers.AtHeadstock, shop.Across, false, "60", shop.CounterClockwise, "60",
			"tailstock", "Jones, Turning and Boring (1914): the scale reads from square to the axis",
		},
		{
			"valve seat, 90 deg included", "45", tapers.AtHeadstock, shop.Across, false, "45", shop.CounterClockwise, "45",
			"tailstock", "Jones, Turning and Boring (1914)",
		},
		{
			"growing, across", "10", tapers.AtHeadstock, shop.Across, true, "80", shop.CounterClockwise, "80", "tailstock",
			"the turn's geometry, worked by hand",
		},
		{
			"shrinking, across, counted back", "10", tapers.AtTailstock, shop.Across, true, "100", shop.CounterClockwise, "80",
			"tailstock", "the turn's geometry, worked by hand",
		},
		{
			"shrinking, across, counted on", "10", tapers.AtTailstock, shop.Across, false, "100", shop.CounterClockwise, "100",
			"tailstock", "the turn's geometry, worked by hand",
		},
		{
			"steep and shrinking, along", "60", tapers.AtTailstock, shop.Along, false, "120", shop.Clockwise, "120",
			"operator", "the turn's geometry, worked by hand",
		},
		{
			"steep and shrinking, across", "60", tapers.AtTailstock, shop.Across, false, "30", shop.Clockwise, "30",
			"operator", "the turn's geometry, worked by hand",
		},
		{
			"steep and growing, along", "60", tapers.AtHeadstock, shop.Along, false, "60", shop.Clockwise, "60", "operator",
			"the turn's geometry, worked by hand",
		},
		{
			"45 is not yet reversed", "45", tapers.AtTailstock, shop.Along, false, "45", shop.CounterClockwise, "45",
			"tailstock", "the limit itself",
		},
		{
			"just above it is", "45.01", tapers.AtTailstock, shop.Along, false, "134.99", shop.Clockwise, "134.99", "operator",
			"the limit itself",
		},
	} {
		r := set(t, compound.Input{
			Input: tapers.Input{HalfAngle: angle(tc.half)}, SmallEnd: tc.end, Place: on(slide(tc.zero, "0.01", tc.back)),
		})
		got := fmt.Sprintf("%v %s reads %v toward %s", *r.Turn, *r.TurnDirection, *r.Reading, r.HandleToward)
		want := fmt.Sprintf("%s deg %s reads %s deg toward %s", tc.turn, tc.dir, tc.read, tc.toward)
		if got != want {
			t.Errorf("%s: got %s, want %s (%s)", tc.name, got, want, tc.src)
		}
	}
}

// vec is a point of the lathe seen from above: X to the tailstock, Y to the
// operator, Z up.
type vec [3]float64

func (v vec) plus(w vec, f float64) vec {
	return vec{v[0] + f*w[0], v[1] + f*w[1], v[2] + f*w[2]}
}

// turned returns v turned clockwise as seen from above.
func (v vec) turned(deg float64) vec {
	s, c := math.Sincos(deg * math.Pi / 180)
	return vec{v[0]*c - v[1]*s, v[0]*s + v[1]*c, v[2]}
}

// diameter returns what the tip at v cuts as the work turns: twice its
// distance from the spindle axis.
func (v vec) diameter() float64 { return 2 * math.Hypot(v[1], v[2]) }

// handle returns the way the compound's handle points after the hand has
// turned it from its zero as the result says.
func handle(r compound.Result, deg float64) vec {
	at := vec{1, 0, 0} // along: toward the tailstock
	if *r.ScaleZero == shop.Across {
		at = vec{0, 1, 0} // toward the operator
	}
	if *r.TurnDirection == shop.CounterClockwise {
		deg = -deg
	}
	return at.turned(deg)
}

// The cone that comes off the machine: turn the slide as told, wind the tip
// along it, spin the work and measure. Exactly set it has the drawn diameters;
// at the mark it is out by what the result says. The slide's line is built
// from the turn alone, not from the half angle.
func TestConeFromTheMachine(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		small := units.FromFloat(float64(rapid.IntRange(0, 4000).Draw(rt, "small")) / 100)
		large := small.Plus(units.FromFloat(float64(rapid.IntRange(100, 8000).Draw(rt, "more")) / 100))
		l := units.FromFloat(float64(rapid.IntRange(100, 9000).Draw(rt, "length")) / 100)
		end := rapid.SampledFrom([]tapers.End{tapers.AtTailstock, tapers.AtHeadstock}).Draw(rt, "end")
		c := slide(
			rapid.SampledFrom([]shop.Zero{shop.Along, shop.Across}).Draw(rt, "zero"), "1", rapid.Bool().Draw(rt, "back"),
		)
		in := compound.Input{Input: tapers.Input{Large: &large, Small: &small, Length: &l}, SmallEnd: end, Place: on(c)}
		r, err := compound.Set(in)
		if err != nil {
			rt.Fatal(err)
		}
		along := func(deg, half float64) float64 {
			u := handle(r, deg)
			// Wind the tip from the tailstock end to the headstock end.
			right := vec{0, small.MM() / 2, 0}
			if end == tapers.AtHeadstock {
				right = vec{0, large.MM() / 2, 0}
			}
			far := l.MM() / math.Cos(half*math.Pi/180)
			if u[0] > 0 {
				far = -far
			}
			left := right.plus(u, far)
			if math.Abs(left[0]-right[0]+l.MM()) > 1e-6 {
				rt.Fatalf("the tip ends at %v, %v from the start", left[0], l.MM())
			}
			return left.diameter() - right.diameter()
		}
		drawn := large.Minus(small).MM()
		if end == tapers.AtHeadstock {
			drawn = -drawn
		}
		if got := along(r.Turn.Deg(), r.HalfAngle.Deg()); math.Abs(got-drawn) > 1e-6 {
			rt.Fatalf("exactly set: %v difference, drawn %v", got, drawn)
		}
		if end == tapers.AtHeadstock || r.Mark == nil {
			return
		}
		// The mark, as a turn: the scale's number undone.
		mark := r.Mark.Deg()
		if c.Scale.BackAfter90 && r.Turn.Deg() > 90+0.5 {
			mark = 180 - mark
		}
		if got := along(mark, r.HalfAngle.Plus(*r.SettingError).Deg()); math.Abs(got-drawn-r.DiameterError.MM()) > 1e-5 {
			rt.Fatalf("at the mark: %v difference, drawn %v, told %v", got, drawn, r.DiameterError.Decimal())
		}
	})
}

// Bites join: after the slide is wound back and both other slides have moved,
// the tip stands where it left off.
func TestBitesJoin(t *testing.T) {
	for _, end := range []tapers.End{tapers.AtTailstock, tapers.AtHeadstock} {
		r := set(t, compound.Input{
			Input: tapers.Input{Large: length("60mm"), Small: length("20mm"), Length: length("200mm")}, SmallEnd: end,
			Place: on(slide(shop.Along, "1", false)), Within: length("10mm"),
		})
		if *r.Bites != 3 { // 200/cos(5.71) = 200.998 of 75
			t.Fatal(*r.Bites, "bites")
		}
		bite := r.SlideTravel.MM() / float64(*r.Bites)
		u := handle(r, r.Mark.Deg())
		tip := vec{0, 10, 0}
		wound := tip.plus(u, -bite) // toward the headstock: against the handle
		back := wound.plus(u, bite)
		out := r.CrossSlideMove.MM()
		if end == tapers.AtHeadstock {
			out = -out
		}
		moved := back.plus(vec{-r.CarriageMove.MM(), out, 0}, 1)
		for i := range moved {
			if math.Abs(moved[i]-wound[i]) > 1e-6 {
				t.Errorf("small end at the %s: the tip stands at %v, it left off at %v", end, moved, wound)
			}
		}
	}
	r := set(t, compound.Input{
		Input:    tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
		SmallEnd: tapers.AtTailstock, Place: on(slide(shop.Along, "1", false)),
	})
	if *r.Bites != 1 || r.CarriageMove != nil {
		t.Errorf("a short taper: %d bites, carriage %v", *r.Bites, say.Of(r.CarriageMove))
	}
}

// A 3-4-5 taper 120 long has a side of 150: two bites of 75, each 60 along and
// 45 across, which are 90 on a dial that reads the diameter.
func TestBiteMoves(t *testing.T) {
	c := slide(shop.Along, "1", false)
	c.Scale.Step = units.Radians(math.Atan2(3, 4)) // a mark at the very angle
	r := set(t, compound.Input{
		Input:    tapers.Input{Large: length("190mm"), Small: length("10mm"), Length: length("120mm")},
		SmallEnd: tapers.AtTailstock,
		Place:    fouling.Place{Lathe: shop.Lathe{Compound: c, CrossSlide: collar("2mm", 100, true)}},
	})
	got := say.Of(*r.Bites, " bites, ", r.CarriageMove, " and ", r.CrossSlideMove)
	for _, f := range r.Sheet().Facts {
		if f.Key == "cross_slide_move_mm" {
			got += ", " + say.Text(f.Remark)
		}
	}
	want := "2 bites, 60 mm and 45 mm, first out, toward you; 90 mm on a dial that reads the diameter"
	if mm(got) != want {
		t.Errorf("got  %s\nwant %s", mm(got), want)
	}
}

// The indicator: the plunger stands square to the axis and is pushed by the
// slide's sideways move alone.
func TestIndicator(t *testing.T) {
	for _, tc := range []struct{ half, travel, want string }{
		{"30", "75mm", "10mm"},        // 20·sin 30
		{"5d44m21s", "75mm", "2mm"},   // asin 0.1 = 5° 44' 21"
		{"30", "12mm", "6mm"},         // a slide shorter than 20 mm
		{"1.4307", "75mm", "0.499mm"}, // Morse 2: 20·0.024968
	} {
		c := slide(shop.Along, "1", false)
		c.Travel = length(tc.travel)
		r := set(t, compound.Input{
			Input: tapers.Input{HalfAngle: angle(tc.half)}, SmallEnd: tapers.AtTailstock, Place: on(c), Within: length("10mm"),
		})
		got := r.IndicatorReading.RoundTo(units.MustLength("0.001mm"), units.Nearest)
		if !got.Equal(units.MustLength(tc.want)) {
			t.Errorf("%s deg over %s: %v, want %s", tc.half, tc.travel, got.Decimal(), tc.want)
		}
		// Set 0.01 deg steeper, the plunger is pushed that much further.
		more := r.HalfAngle.Plus(units.MustAngle("0.01"))
		out := set(t, compound.Input{
			Input: tapers.Input{HalfAngle: &more}, SmallEnd: tapers.AtTailstock, Place: on(c), Within: length("10mm"),
		}).IndicatorReading
		if d := out.Minus(r.IndicatorReading).MM() - r.IndicatorPer.MM(); math.Abs(d) > 1e-6 {
			t.Errorf(
				"%s deg: 0.01 deg moves it %v, told %v", tc.half, out.Minus(r.IndicatorReading).Decimal(),
				r.IndicatorPer.Decimal(),
			)
		}
	}
}

// mm words a sentence for a page in mm.
func mm(text say.Text) string { return text.In(units.MM) }

// What is said where an instrument is missing, too short or too coarse.
func TestWarnings(t *testing.T) {
	limited := slide(shop.Along, "1", false)
	limited.Scale.Limit = angle("20")
	between := slide(shop.Along, "1", false)
	between.Scale.Limit = angle("20.8")
	noTravel := slide(shop.Along, "1", false)
	noTravel.Travel = nil
	sizes := tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")}
	for _, tc := range []struct {
		in   compound.Input
		want string
	}{
		{
			compound.Input{Input: sizes, Place: on(nil)},
			"not-checked: no compound in this shop: the angle is exact, no mark was looked for (lathe: compound)",
		},
		{
			compound.Input{Input: sizes, Place: on(noTravel)},
			"not-checked: whether the slide is long enough was not checked (lathe: compound: travel)",
		},
		{
			compound.Input{Input: tapers.Input{HalfAngle: angle("25")}, Place: on(limited)},
			"off-scale: the scale ends at 20 deg from zero and this needs 25 deg: set it by indicator",
		},
		{
			compound.Input{Input: tapers.Input{HalfAngle: angle("0.3")}, Place: on(slide(shop.Along, "1", false))},
			"no-mark: the nearest mark would cut a cylinder: set it between marks by eye",
		},
		{
			compound.Input{Input: tapers.Input{HalfAngle: angle("89.7")}, Place: on(slide(shop.Along, "1", false))},
			"no-mark: the nearest mark would cut a flat face: set it between marks by eye",
		},
		{
			compound.Input{Input: tapers.Input{HalfAngle: angle("20.7")}, Place: on(between)},
			"off-scale: the nearest mark would stand past the end of the scale, 20.8 deg: set it between marks by eye",
		},
		{
			compound.Input{
				Input: tapers.Input{Large: length("4in"), Small: length("2in"), Length: length("4in")},
				Place: on(slide(shop.Along, "1", false)),
			},
			"bites: the slope is longer than the slide: cut it in 2 bites, from the tailstock end toward the headstock",
		},
	} {
		tc.in.SmallEnd, tc.in.Within = tapers.AtTailstock, length("10000mm")
		r := set(t, tc.in)
		if len(r.Warnings) != 1 || r.Warnings[0].Code+": "+r.Warnings[0].Text.String() != tc.want {
			t.Errorf("got %v, want %s", r.Warnings, tc.want)
		}
		if r.Warnings[0].Code == "no-mark" && (r.Mark != nil || r.SettingError != nil || r.DiameterError != nil ||
			r.Method == swivel.ByMark) {
			t.Errorf(
				"%v: a mark that does not serve: %v, %v, %v", tc.in.HalfAngle, r.Mark, r.SettingError, r.DiameterError.Decimal(),
			)
		}
	}
	r := set(t, compound.Input{
		Input: tapers.Input{HalfAngle: angle("25")}, Place: on(limited), SmallEnd: tapers.AtTailstock,
	})
	if r.Mark != nil {
		t.Error("a mark off the scale:", r.Mark)
	}
	_, err := compound.Set(compound.Input{Input: sizes, SmallEnd: "tailstok"})
	want := "small-end: tailstok: write tailstock or headstock\n  did you mean tailstock?"
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

// The lathe centre of US Army OD 1645 (1942): 60 deg from side to side, so
// the compound stands 30 deg from parallel to the ways.
func ExampleSet() {
	included, step := units.MustAngle("60"), units.MustAngle("1")
	r, err := compound.Set(compound.Input{
		Input: tapers.Input{Included: &included}, SmallEnd: tapers.AtTailstock,
		Place: fouling.Place{Lathe: shop.Lathe{Compound: &shop.Compound{Scale: shop.Scale{Zero: shop.Along, Step: step}}}},
	})
	if err != nil {
		panic(err)
	}
	fmt.Printf("%v %s from %s, handle toward the %s\n", *r.Mark, *r.TurnDirection, *r.ScaleZero, r.HandleToward)
	// Output: 30 deg counter-clockwise from along, handle toward the tailstock
}

// A tool off centre height, built in space: points of the tip's line are spun
// about the axis until they lie level with it, where a calliper would read
// them.
func TestOffCentre(t *testing.T) {
	for _, tc := range []struct {
		large, small, l, h string
	}{
		{"30mm", "20mm", "60mm", "0.5mm"},
		{"30mm", "20mm", "60mm", "-0.5mm"},
		{"2in", "1in", "2in", "0.02in"},
		{"10mm", "1mm", "40mm", "0.4mm"},
	} {
		h := units.MustLength(tc.h)
		r := set(t, compound.Input{
			Input: tapers.Input{
				Large: length(tc.large), Small: length(tc.small), Length: length(tc.l),
			}, SmallEnd: tapers.AtTailstock, Place: on(slide(shop.Along, "1", false)), ToolHeightError: h,
		})
		u := handle(r, r.Turn.Deg())
		// The tip where it cuts the large end: level(tip) is the radius there.
		level := func(tip vec) float64 {
			lo, hi := 0.0, math.Pi // spin until the point is level, on the operator's side
			spin := func(a float64) (y, z float64) {
				s, c := math.Sincos(a)
				return tip[1]*c - tip[2]*s, tip[1]*s + tip[2]*c
			}
			if tip[2] > 0 {
				lo, hi = -math.Pi/2, 0
			} else {
				lo, hi = 0, math.Pi/2
			}
			for range 80 {
				mid := (lo + hi) / 2
				if _, z := spin(mid); z < 0 {
					lo = mid
				} else {
					hi = mid
				}
			}
			y, _ := spin(lo)
			return y
		}
		start := vec{0, 0, h.MM()}
		for lo, hi := 0.0, r.Large.MM(); ; { // set in until the large end is as drawn
			start[1] = (lo + hi) / 2
			if hi-lo < 1e-12 {
				break
			}
			if level(start) < r.Large.MM()/2 {
				lo = start[1]
			} else {
				hi = start[1]
			}
		}
		l := r.Length.MM()
		at := func(f float64) float64 { // the error half way or all along, toward the tailstock
			tip := start.plus(u, f*l/u[0])
			drawn := r.Large.MM() + f*(r.Small.MM()-r.Large.MM())
			return 2*level(tip) - drawn
		}
		if got, want := r.HeightSmallError.MM(), at(1); math.Abs(got-want) > 1e-6 {
			t.Errorf("%v: small end %v, built %v", tc, got, want)
		}
		if got, want := r.HeightMiddleError.MM(), at(0.5); math.Abs(got-want) > 1e-6 {
			t.Errorf("%v: middle %v, built %v", tc, got, want)
		}
	}
	// A pointed cone keeps a pip of twice the height.
	r := set(t, compound.Input{
		Input:    tapers.Input{Large: length("10mm"), Small: length("0mm"), Length: length("20mm")},
		SmallEnd: tapers.AtTailstock, ToolHeightError: units.MustLength("0.3mm"), Place: on(slide(shop.Along, "1", false)),
		Within: length("1mm"),
	})
	if !r.HeightSmallError.Equal(units.MustLength("0.6mm")) ||
		mm(say.Text(r.Warnings[0].Text)) != "the tool passes the axis before the small end: a pip of 0.6 mm is left" {
		t.Error(r.HeightSmallError.Decimal(), r.Warnings)
	}
	// Told to the safe side: twice 0.3001 in is 15.24508 mm.
	r = set(t, compound.Input{
		Input:    tapers.Input{Large: length("1in"), Small: length("0mm"), Length: length("2in")},
		SmallEnd: tapers.AtTailstock, ToolHeightError: units.MustLength("-0.3001in"), Within: length("1mm"),
	})
	if got := mm(say.Text(r.Warnings[1].Text)); got != "the tool passes the axis before the small end: a pip of "+
		"15.246 mm is left" {
		t.Error(got)
	}
	r = set(t, compound.Input{
		Input:    tapers.Input{Large: length("1in"), Small: length("0mm"), Length: length("2in")},
		SmallEnd: tapers.AtHeadstock, Internal: true, ToolHeightError: units.MustLength("-0.3001in"), Within: length("1mm"),
	})
	if got := mm(say.Text(r.Warnings[1].Text)); got != "the tool passes the axis before the small end: no smaller "+
		"than 15.245 mm comes out there" {
		t.Error(got)
	}
}

// Passes: they take no more than asked, the last one ends at the drawing, and
// the dial's lines are what it gives.
func TestPasses(t *testing.T) {
	dial := fouling.Place{Lathe: shop.Lathe{
		CrossSlide: &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100, OnDiameter: true},
	}}
	sizes := tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")}
	for _, tc := range []struct {
		name string
		in   compound.Input
		want string
	}{
		// 6 mm a side: 0.2 to finish, 5.8 in 4 passes of at most 1.5. The side rises
		// 1 in 12, so a pass reaches 12 times its infeed, and no more than 60.
		{
			"outside",
			compound.Input{Input: sizes, Stock: length("32mm"), Depth: length("1.5mm"), Place: dial},
			"1.45 29.1 17.4, 2.9 26.2 34.8, 4.35 23.3 52.2, 5.8 20.4 60, 6 20 60; 0+73, 1+45, 2+18, 2+90, 3+0",
		},
		{
			"all in one",
			compound.Input{Input: sizes, Stock: length("30mm"), Depth: length("5mm"), Finish: length("0mm")},
			"5 20 60; ",
		},
		{
			"less than a finishing pass",
			compound.Input{
				Input: tapers.Input{Large: length("1.01in"), Small: length("1in"), Length: length("3in")},
				Stock: length("1.01in"),
			},
			"0.127 25.4 76.2; ",
		},
		// A bore of 18 opened to 30 at the large end: 6 mm a side.
		{
			"inside",
			compound.Input{Input: sizes, Internal: true, Stock: length("18mm"), Depth: length("3mm"), Place: dial},
			"2.9 23.8 34.8, 5.8 29.6 60, 6 30 60; 1+45, 2+90, 3+0",
		},
	} {
		tc.in.SmallEnd = tapers.AtTailstock
		r := set(t, tc.in)
		got, dials := "", ""
		for i, p := range r.Passes {
			if i > 0 {
				got += ", "
			}
			got += fmt.Sprint(p.Radial.Decimal(), " ", p.Dia.Decimal(), " ", p.Cut.Decimal())
			if p.Turns != nil {
				if i > 0 {
					dials += ", "
				}
				dials += fmt.Sprint(*p.Turns, "+", *p.Divisions)
				// 2 mm of travel a turn, 0.02 a line: wind it up again.
				wound := float64(*p.Turns)*2 + float64(*p.Divisions)*0.02
				sign := -2.0
				if tc.in.Internal {
					sign = 2
				}
				if want := tc.in.Stock.MM() + sign*wound; math.Abs(p.DiaSet.MM()-want) > 1e-9 {
					t.Errorf("%s: pass %d gives %v, wound %v", tc.name, p.N, p.DiaSet.Decimal(), want)
				}
			}
		}
		if got+"; "+dials != tc.want {
			t.Errorf("%s: got  %s; %s\nwant %s", tc.name, got, dials, tc.want)
		}
	}
}

func TestRefusals(t *testing.T) {
	sizes := tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")}
	for _, tc := range []struct {
		in   compound.Input
		want string
	}{
		{
			compound.Input{Input: sizes, ToolHeightError: units.MustLength("-15mm")},
			"tool-height-error: -15 mm: the tool passes the work: less than the large end's radius, 15 mm",
		},
		{
			compound.Input{Input: tapers.Input{HalfAngle: angle("5")}, Stock: length("30mm")},
			"stock: passes need the taper's sizes: two of large, small and length beside the slope",
		},
		{
			compound.Input{Input: sizes, Stock: length("29mm"), Depth: length("0mm"), Finish: length("-1mm")},
			"depth: 0 mm: must be above 0\nfinish: -1 mm: cannot be negative\nstock: 29 mm: smaller than the large end, 30 mm",
		},
		{
			compound.Input{Input: sizes, Depth: length("0mm")}, "depth: 0 mm: must be above 0",
		},
		{
			// 1 mm a turn in 40 lines
			compound.Input{
				Input: sizes, Depth: length("0.001mm"), Finish: length("0.024mm"),
				Place: fouling.Place{Lathe: shop.Lathe{CrossSlide: collar("1mm", 40, true)}},
			},
			"depth: 0.001 mm: less than a line of the cross slide's dial, 0.025 mm a side\n" +
				"finish: 0.024 mm: less than a line of the cross slide's dial, 0.025 mm a side",
		},
		{
			compound.Input{Input: sizes, Depth: length("0.1mm"), Finish: length("0.3mm")},
			"finish: 0.3 mm: more than a pass before it takes, 0.1 mm a side: write a smaller one, or a larger depth",
		},
		{
			compound.Input{Input: sizes, Finish: length("0.6mm")},
			"finish: 0.6 mm: more than a pass before it takes, 0.5 mm a side: write a smaller one, or a larger depth",
		},
		{
			compound.Input{Input: sizes, Stock: length("21mm"), Internal: true},
			"stock: 21 mm: the bore is already larger than the small end, 20 mm",
		},
		{
			compound.Input{Input: sizes, Stock: length("32mm"), Depth: length("0.01mm")},
			"depth: 0.01 mm: makes 599 passes: at most 500",
		},
	} {
		tc.in.SmallEnd = tapers.AtTailstock
		if _, err := compound.Set(tc.in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

// A taper inside: the stiffest bar that goes in, or the reason why none does.
func TestBoringBar(t *testing.T) {
	bars := []shop.BoringBar{
		{Diameter: units.MustLength("8mm"), Reach: units.MustLength("50mm")},
		{Diameter: units.MustLength("12mm"), Reach: units.MustLength("60mm")},
		{Diameter: units.MustLength("16mm"), Reach: units.MustLength("80mm")},
	}
	for _, tc := range []struct{ small, l, want string }{
		{"16mm", "40mm", "12 mm"}, // 16 does not pass 16
		{"0.5in", "60mm", "12 mm"},
		{"9mm", "50mm", "8 mm"},
		{"9mm", "51mm", "internal: no boring bar here is as thin as 8.6 mm, for the small end, 9 mm, and " +
			"reaches 51 mm"},
	} {
		r := set(t, compound.Input{
			Input:    tapers.Input{Large: length("30mm"), Small: length(tc.small), Length: length(tc.l)},
			SmallEnd: tapers.AtHeadstock, Internal: true, Bars: bars, Place: on(slide(shop.Along, "1", false)),
		})
		got := r.Fails().Error()
		if r.Bar != nil {
			got = mm(say.Of(r.Bar.Diameter))
		}
		if got != tc.want {
			t.Errorf("%s over %s: %s, want %s", tc.small, tc.l, got, tc.want)
		}
	}
	r := set(t, compound.Input{
		Input:    tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
		SmallEnd: tapers.AtHeadstock, Internal: true,
		Place:  fouling.Place{FromJaws: length("10mm"), Lathe: on(slide(shop.Along, "1", false)).Lathe},
		Within: length("1mm"),
	})
	if got := r.Warnings[0].Text; got != "for a bore the post and the slide are not looked at, but the boring bar" {
		t.Error(got)
	}
	r.Warnings = r.Warnings[1:]
	if len(r.Warnings) != 1 || r.Warnings[0].Text != "whether a boring bar goes in was not checked (boring_bars)" {
		t.Error(r.Warnings)
	}
}

// The handle's way round can be chosen, and what fouls makes the answer a no.
func TestFouling(t *testing.T) {
	post := &shop.ToolPost{
		Size: units.MustLength("65mm"), HolderWidth: units.MustLength("16mm"), Overhang: units.MustLength("25mm"),
	}
	chuck := &shop.Chuck{Diameter: units.MustLength("100mm"), JawLength: length("28mm"), JawCircle: length("110mm")}
	in := compound.Input{
		Input:    tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
		SmallEnd: tapers.AtTailstock,
		Place: fouling.Place{
			FromJaws: length("10mm"), Arrangement: fouling.Arrangement{ToolHand: fouling.Left},
			Lathe: shop.Lathe{
				Compound: slide(shop.Along, "1", false), Chuck: chuck, ToolPost: post,
				Tools: []shop.Tool{{Hand: "right", Trail: units.MustAngle("8")}, {Hand: "left", Trail: units.MustAngle("8")}},
			},
		},
	}
	r := set(t, in)
	if got := r.Fails().Error(); got != "from-jaws: the holder runs into the jaws by 7 mm" {
		t.Error(got)
	}
	in.ToolHand, in.Handle = fouling.Right, fouling.Reversed
	r = set(t, in)
	if len(r.Fails()) != 0 || r.HandleToward != "headstock" || *r.TurnDirection != shop.Clockwise ||
		math.Abs(r.Turn.Deg()-175.236358) > 1e-6 {
		t.Error(r.Fails(), r.HandleToward, *r.TurnDirection, r.Turn)
	}
	in.Input = tapers.Input{HalfAngle: angle("5")}
	if _, err := compound.Set(in); err == nil ||
		err.Error() != "from-jaws: the clearance needs the taper's sizes: two of large, small and length beside the slope" {
		t.Error(err)
	}
}

// The working, put into a calculator.
func TestWorking(t *testing.T) {
	published.Works(t, set(t, compound.Input{
		Input: tapers.Input{
			Large: length("30mm"), Small: length("20mm"), Length: length("60mm"),
		}, SmallEnd: tapers.AtTailstock, Place: on(slide(shop.Along, "1", false)),
		ToolHeightError: units.MustLength("0.5mm"), Stock: length("32mm"),
	}).Sheet())
}

// A taper that no slide shows is a no: over 19 turns of 1 mm, 0.001 deg is 19·sin 0.001° =
// 0.00033 mm, and an indicator is read to half of 0.01 mm at the best.
func TestTooFlat(t *testing.T) {
	for _, tc := range []struct {
		half string
		no   bool
	}{{"0.001", true}, {"0.1", false}} {
		place := on(slide(shop.Along, "1", false))
		place.Lathe.Compound.Travel, place.Lathe.Compound.Screw = length("21mm"), collar("1mm", 40, false)
		r, err := compound.Set(compound.Input{
			Input: tapers.Input{HalfAngle: angle(tc.half)}, SmallEnd: tapers.AtTailstock, Place: place,
		})
		if err != nil {
			t.Fatal(err)
		}
		const why = "no slide shows so little"
		if no := strings.Contains(fmt.Sprint(r.Fails()), why); no != tc.no || no && len(r.Steps) > 0 {
			t.Errorf("%s: %v, %d steps", tc.half, r.Fails(), len(r.Steps))
		}
	}
}
