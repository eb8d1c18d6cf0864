package cut_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/threads"
	"setover/threads/cut"
)

// Depths as multiples of the pitch, by the tool's nose.
func TestGrooveDepths(t *testing.T) {
	const shopRule = "common practice, no source: sharp 0.758 P, flat P/8 0.6495 P, full profile 0.613 P"
	for _, tc := range []struct {
		spec   string
		inside bool
		nose   cut.Nose
		want   string // of the pitch
		src    string
	}{
		{"M10", false, cut.Sharp, "0.758", shopRule},
		{"M10", false, cut.Flat, "0.6495", shopRule},
		{"M10", false, cut.Full, "0.613", shopRule},
		{"1/4-20", false, cut.Full, "0.613", shopRule},
		{"M10", true, cut.Flat, "0.5413", "ISO 68-1: 5/8 H, D1 = D - 1.0825 P"},
		{"M10", true, cut.Sharp, "0.6495", "elementary: 3/4 H"},
		{"M10", true, cut.Full, "0.577", "from memory: full-profile inserts, 2/3 H"},
		{"1/4BSW", false, cut.Full, "0.6403", "BS 84: 0.640327 P"},
		{"1/4BSW", true, cut.Flat, "0.6403", "BS 84: 0.640327 P"},
		{"G1/2", true, cut.Full, "0.6405", "ISO 228-1 prints h = 1.162 mm at 14 tpi"},
		{"0BA", false, cut.Full, "0.600", "BS 93: 0.6 P"},
		{"1/2-14NPT", false, cut.Flat, "0.800", "ASME B1.20.1: 0.8 P"},
		{"Tr16x4", false, cut.Full, "0.5625", "ISO 2902: P/2 + 0.25 mm is 2.25 mm at P 4"},
		{"1/2-10ACME", true, cut.Full, "0.600", "ASME B1.5: P/2 + 0.010 in is 0.060 in at 10 tpi"},
	} {
		d := threads.MustParse(tc.spec)
		g, err := cut.GrooveOf(d, tc.inside, tc.nose)
		if err != nil {
			t.Fatal(tc.spec, err)
		}
		if got := fmt.Sprintf("%.*f", len(tc.want)-2, g.Depth/d.Pitch.MM()); got != tc.want {
			t.Errorf("%s, inside %v, %s: %s P, want %s P (%s)", tc.spec, tc.inside, tc.nose, got, tc.want, tc.src)
		}
	}
}

// The nose the form asks for: the rounding of Whitworth is 0.137329 P (BS 84),
// that of BA 2/11 P (BS 93), the flat of a trapezoidal tool 0.366 P - 0.536 ac
// (ISO 2901) and of an ACME tool 0.3707 P - 0.259 times 0.020 in (ASME B1.5).
func TestGrooveNoses(t *testing.T) {
	for _, tc := range []struct{ spec, want string }{{"1/4BSW", "0.137329"}, {"M12", "0.144338"}, {"0BA", "0.1808"}} {
		d := threads.MustParse(tc.spec)
		g, err := cut.GrooveOf(d, false, cut.Full)
		if err != nil {
			t.Fatal(err)
		}
		// 2/11 = 0.18182 for BA is itself rounded: the arc that meets the flanks
		// and the depth of 0.6 P is 0.18083.
		if got := fmt.Sprintf("%.*f", len(tc.want)-2, g.R/d.Pitch.MM()); got != tc.want {
			t.Errorf("%s: rounding %s P, want %s P", tc.spec, got, tc.want)
		}
	}
	for _, tc := range []struct {
		spec string
		want float64 // mm
	}{{"Tr20x4", 0.366*4 - 0.536*0.25}, {"Tr40x7", 0.366*7 - 0.536*0.5}, {"1-5ACME", 25.4 * (0.3707*0.2 - 0.259*0.020)}} {
		g, err := cut.GrooveOf(threads.MustParse(tc.spec), false, cut.Full)
		if err != nil {
			t.Fatal(err)
		}
		if got := 2 * g.T * g.Half.Tan(); fmt.Sprintf("%.3f", got) != fmt.Sprintf("%.3f", tc.want) {
			t.Errorf("%s: flat %.4f mm, want %.4f", tc.spec, got, tc.want)
		}
	}
}

// The section against the groove's width added up slice by slice, in which the
// nose is drawn as a circle that touches both flanks, or as a flat.
func TestAreaAgainstSlices(t *testing.T) {
	for _, spec := range []string{"M10", "1/4BSW", "0BA", "1/2-14NPT", "Tr20x4", "1/2-10ACME", "8-32"} {
		d := threads.MustParse(spec)
		for _, nose := range []cut.Nose{cut.Sharp, cut.Flat, cut.Full} {
			g, err := cut.GrooveOf(d, false, nose)
			if err != nil {
				continue // trapezoidal and ACME have one nose
			}
			a := g.Half.Rad()
			for _, part := range []float64{0.05, 0.2, 0.5, 1} {
				x := part * g.Depth
				const n = 20_000
				sum := 0.0
				for i := range n {
					h := (float64(i) + 0.5) * x / n // above the nose's lowest point
					w := 2 * math.Tan(a) * (h + g.T)
					if g.R > 0 && h < g.R*(1-math.Sin(a)) {
						w = 2 * math.Sqrt(g.R*g.R-(g.R-h)*(g.R-h))
					}
					sum += w * x / n
				}
				if math.Abs(sum-g.Area(x)) > 1e-4*sum {
					t.Errorf("%s %s to %.3f mm: %v, slices make %v", spec, nose, x, g.Area(x), sum)
				}
			}
		}
	}
}

// A rounded nose's section has two formulas; they meet where the arc passes
// into the flanks, at R·(1 - sin a).
func TestAreaJoins(t *testing.T) {
	for _, spec := range []string{"M10", "1/4BSW", "0BA", "1/2-13", "M64"} {
		g, err := cut.GrooveOf(threads.MustParse(spec), false, cut.Full)
		if err != nil {
			t.Fatal(err)
		}
		x := g.R * (1 - g.Half.Sin())
		below, above := g.Area(x*(1-1e-12)), g.Area(x*(1+1e-12))
		if math.Abs(above-below) > 1e-10*above {
			t.Errorf("%s: %v and %v", spec, below, above)
		}
	}
}

func passes(t testing.TB, in cut.PassesInput) cut.PassesResult {
	t.Helper()
	if in.Reaction == 0 {
		in.Reaction = 1
	}
	r, err := cut.Passes(in)
	if err != nil {
		t.Fatal(in.Spec, err)
	}
	return r
}

// How many passes keep the first cut within 0.2 mm, or 0.1 for a form tool
// (common practice, no source), by the sections: tan 15 is 0.26795 and the
// sharp point of Tr12x3 lies 1.7989 mm under its flat of 0.964, so 2.5077 mm2
// in cuts of at most 0.0991 are 26; M16's lies 0.2165 mm under, and
// 1.5155^2 - 0.2165^2 = 2.2499 in cuts of 0.1266 are 18.
func TestPassesNeeded(t *testing.T) {
	for spec, want := range map[string]int{"Tr12x3": 26, "M16": 18} {
		if r := passes(t, cut.PassesInput{Spec: threads.MustParse(spec)}); len(r.Passes) != want {
			t.Errorf("%s: %d passes, want %d", spec, len(r.Passes), want)
		}
	}
}

// What every schedule must be: deeper each time, at the depth in the end, cuts
// within their bounds, the same section each until the cuts are even; spring
// passes at the depth.
func TestSchedules(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		spec := rapid.SampledFrom([]string{
			"M2", "M6", "M10", "M16x1.5", "M64", "1/4-20", "1/2-13", "8-32", "3/8BSW", "2BA",
			"G1", "1/4NPT", "Tr20x4", "Tr40x14P7", "1-5ACME",
		}).Draw(rt, "spec")
		in := cut.PassesInput{
			Spec: threads.MustParse(spec), Inside: rapid.Bool().Draw(rt, "inside"),
			Spring: rapid.IntRange(0, 3).Draw(rt, "spring"), Reaction: 1,
		}
		if in.Spec.Form != threads.FormOf("trapezoidal") && in.Spec.Form != threads.FormOf("acme") {
			in.Nose = rapid.SampledFrom([]cut.Nose{"", cut.Sharp, cut.Flat, cut.Full}).Draw(rt, "nose")
		}
		if rapid.Bool().Draw(rt, "first is given") {
			in.First = number(units.FromFloat(rapid.Float64Range(0.05, 0.2).Draw(rt, "first")))
		}
		if rapid.Bool().Draw(rt, "passes are given") {
			in.Passes = number(rapid.IntRange(2, 40).Draw(rt, "passes"))
		}
		r, err := cut.Passes(in)
		if err != nil {
			rt.Fatal(err)
		}
		n := len(r.Passes) - in.Spring
		if in.Passes != nil && n != *in.Passes {
			rt.Fatalf("%d passes for %d", n, *in.Passes)
		}
		if in.First != nil && !r.Passes[0].Radial.Equal(*in.First) {
			rt.Fatalf("first cut %v for %v", r.Passes[0].Radial, in.First)
		}
		g, err := cut.GrooveOf(in.Spec, in.Inside, r.Nose)
		if err != nil {
			rt.Fatal(err)
		}
		// Deeper than 0.2 mm only where that would take more than 40 passes.
		few := g.Area(g.Depth) <= 40*g.Area(0.2)
		if in.First == nil && in.Passes == nil && few && r.Passes[0].Radial.MM() > 0.2+1e-9 {
			rt.Fatalf("first cut %v", r.Passes[0].Radial)
		}
		before := units.Length{}
		var sections []float64
		for i, p := range r.Passes {
			if p.N != i+1 || p.Spring != (i >= n) || !p.Cut.Equal(p.Radial.Minus(before)) {
				rt.Fatalf("pass %d: %+v", i+1, p)
			}
			if p.Spring {
				if !p.Radial.Equal(r.Depth) {
					rt.Fatalf("spring pass at %v", p.Radial)
				}
				continue
			}
			// A first cut that leaves less than 0.03 mm is the user's; it is warned of.
			rest := in.First != nil && n == 2
			if p.Cut.Sign() <= 0 || in.Passes == nil && n > 1 && !rest && p.Cut.MM() < 0.03-1e-8 {
				rt.Fatalf("pass %d of %d cuts %v", i+1, n, p.Cut)
			}
			if in.Passes == nil && i > 0 && p.Cut.MM() > r.Passes[i-1].Cut.MM()+1e-8 {
				rt.Fatalf("pass %d cuts %v, the one before %v", i+1, p.Cut, r.Passes[i-1].Cut)
			}
			if math.Abs(p.Slide.MM()*r.Infeed.Cos()-p.Radial.MM()) > 2e-9 {
				rt.Fatalf("slide %v for %v", p.Slide, p.Radial)
			}
			sections = append(sections, g.Area(p.Radial.MM())-g.Area(before.MM()))
			before = p.Radial
		}
		if !before.Equal(r.Depth) {
			rt.Fatalf("ends at %v of %v", before, r.Depth)
		}
		// All sections alike but a given first's; where the number of passes was
		// not given, the even cuts at the end, each as deep as the last, may differ.
		end := n
		for in.Passes == nil && end > 1 && r.Passes[end-1].Cut.Minus(r.Passes[n-1].Cut).Abs().MM() < 1e-8 {
			end--
		}
		if in.First != nil {
			sections[0] = sections[min(1, n-1)]
		}
		for _, s := range sections[:end] {
			if math.Abs(s/sections[0]-1) > 1e-5 {
				rt.Fatalf("sections %v", sections)
			}
		}
	})
}

// The infeed's direction, drawn as arrows: seen from above, z to the right, y
// toward the operator. The handle points along (cos s, sin s) for s clockwise;
// winding in moves the tool away from the handle, winding out toward it. The
// tool must go into the metal (away from the operator outside, toward inside)
// and lean toward the side the carriage cuts to.
func TestSetOver(t *testing.T) {
	for _, tc := range []struct {
		spec          string
		inside        bool
		along, across string
		advance       cut.Way
	}{
		// 29.5 deg from square is 60.5 from along the axis, by hand for all four.
		{"M10", false, "60.5 clockwise", "29.5 counter-clockwise", cut.TowardHeadstock},
		{"M10-LH", false, "119.5 clockwise", "29.5 clockwise", cut.TowardTailstock},
		{"M10", true, "119.5 clockwise", "29.5 clockwise", cut.TowardHeadstock},
		{"M10-LH", true, "60.5 clockwise", "29.5 counter-clockwise", cut.TowardTailstock},
		{"1/2-10ACME", false, "76 clockwise", "14 counter-clockwise", cut.TowardHeadstock}, // 14.5 less a half
		{"3/8BSW", true, "117 clockwise", "27 clockwise", cut.TowardHeadstock},             // 27.5 less a half
		{"Tr20x4-LH", false, "104.5 clockwise", "14.5 clockwise", cut.TowardTailstock},
	} {
		r := passes(t, cut.PassesInput{Spec: threads.MustParse(tc.spec), Inside: tc.inside})
		text := func(o cut.SetOver) string { return fmt.Sprintf("%.4g %s", o.Turn.Deg(), o.Direction) }
		if text(r.SetOvers[0]) != tc.along || text(r.SetOvers[1]) != tc.across || r.Advance != tc.advance {
			t.Errorf("%s, inside %v: %s, %s, %s", tc.spec, tc.inside, text(r.SetOvers[0]), text(r.SetOvers[1]), r.Advance)
		}
		s := r.SetOvers[0].Turn.Rad() // all are clockwise from along
		z, y := -math.Cos(s), -math.Sin(s)
		if r.Winding == "out" {
			z, y = -z, -y
		}
		if (y > 0) != tc.inside || (z < 0) != (tc.advance == cut.TowardHeadstock) {
			t.Errorf("%s, inside %v: the tool goes by (%.3f, %.3f), the carriage %s", tc.spec, tc.inside, z, y, r.Advance)
		}
	}
}

func compound() *shop.Compound {
	return &shop.Compound{
		Scale: shop.Scale{Zero: shop.Across, Step: units.Degrees(1)},
		Screw: &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 50},
	}
}

// On this shop's dials: the line is the last that is not deeper, and what it
// makes is computed back.
func TestPassesOnTheDial(t *testing.T) {
	first := units.MustLength("0.2mm")
	r := passes(t, cut.PassesInput{
		Spec: threads.MustParse("M10"), Infeed: angle("29deg"), First: &first, Spring: 1,
		Compound: compound(),
	})
	if r.Mark.Deg() != 29 || r.Reading.Deg() != 29 {
		t.Errorf("mark %v, reading %v", r.Mark, r.Reading)
	}
	// 0.2/cos 29 = 0.22867 mm: 11 lines of 0.02; the depth 0.9743/cos 29 =
	// 1.11395 mm: 55 lines, one turn and 5; 1.1·cos 29 = 0.96208.
	p, last := r.Passes[0], r.Passes[len(r.Passes)-1]
	if *p.Turns != 0 || *p.Divisions != 11 || p.SlideSet.Typed().String() != "0.22 mm" ||
		p.Reading.Typed().String() != "0.22 mm" {
		t.Errorf("first: %d turns %d div, %v, reads %v", *p.Turns, *p.Divisions, p.SlideSet.Typed(), p.Reading.Typed())
	}
	if *last.Turns != 1 || *last.Divisions != 5 || last.Reading.Typed().String() != "0.1 mm" ||
		r.DepthSet.Fixed(units.MM, 5, units.Nearest) != "0.96208" {
		t.Errorf("last: %d turns %d div, reads %v, depth %v", *last.Turns, *last.Divisions, last.Reading.Typed(),
			r.DepthSet.Typed())
	}
	// Inside the dial counts down: 11 lines before its zero.
	r = passes(t, cut.PassesInput{
		Spec: threads.MustParse("M10"), Inside: true, Infeed: angle("29deg"), First: &first,
		Compound: compound(),
	})
	if p := r.Passes[0]; *p.Divisions != 11 || p.Reading.Typed().String() != "0.78 mm" || r.Winding != "out" {
		t.Errorf("inside: %d div, reads %v, wound %s", *p.Divisions, p.Reading.Typed(), r.Winding)
	}
	// A plunge goes on the cross slide, whose dial counts the diameter.
	r = passes(t, cut.PassesInput{
		Spec: threads.MustParse("1/2-13"), Infeed: angle("0"), First: &first,
		Cross: &shop.Dial{Lead: units.MustLength("0.1in"), Divisions: 100, OnDiameter: true, Unit: units.Inch},
	})
	// 0.2 mm is 7.87 lines of 0.001 in: 7, and the collar shows twice that.
	if p := r.Passes[0]; len(r.SetOvers) != 0 || *p.Divisions != 7 || p.Reading.Fixed(units.Inch, 3,
		units.Nearest) != "0.014" {
		t.Errorf("plunge: %d div, reads %v, %v", *p.Divisions, p.Reading.Typed(), r.SetOvers)
	}
	// No instruments: exact values, and which key would help.
	r = passes(t, cut.PassesInput{Spec: threads.MustParse("M10")})
	if r.Mark != nil || r.Passes[0].Turns != nil || r.DepthSet != nil || r.RPM != nil || len(r.Warnings) != 2 {
		t.Errorf("%+v", r)
	}
}

func TestPassesWarnings(t *testing.T) {
	limit := units.Degrees(60)
	short := &shop.Compound{Scale: shop.Scale{Zero: shop.Along, Step: units.Degrees(1), Limit: &limit}}
	coarse := compound()
	coarse.Screw.Divisions = 10
	slow := &shop.Spindle{Speeds: []units.SpindleSpeed{units.RPM(180), units.RPM(300)}}
	for _, tc := range []struct {
		in   cut.PassesInput
		want string
	}{
		{cut.PassesInput{Spec: threads.MustParse("M10"), Compound: short, Spindle: slow}, "off-scale not-checked too-fast"},
		{cut.PassesInput{Spec: threads.MustParse("M4"), Compound: coarse, Spindle: slow}, "coarse-dial too-fast"},
		{
			cut.PassesInput{Spec: threads.MustParse("M4"), Infeed: angle("0"), Spindle: slow, Passes: number(30)},
			"not-checked thin too-fast",
		},
		{cut.PassesInput{
			Spec: threads.MustParse("1/4NPT"), Compound: compound(), Spindle: slow,
			Relief: number(units.MustLength("20mm")),
		}, "taper"},
	} {
		codes := ""
		for i, w := range passes(t, tc.in).Warnings {
			if i > 0 {
				codes += " "
			}
			codes += w.Code
		}
		if codes != tc.want {
			t.Errorf("%v: %s, want %s", tc.in.Spec, codes, tc.want)
		}
	}
}

// The speed a hand can stop in time, by hand: at 120 rpm a lead of 1.5 mm goes
// 3 mm in a second, which is the relief of 4.5 less the tool's 1.5.
func TestPassesSpeed(t *testing.T) {
	spindle := &shop.Spindle{Speeds: []units.SpindleSpeed{units.RPM(60), units.RPM(100), units.RPM(200)}}
	for _, tc := range []struct {
		spec, relief string
		reaction     float64
		most, set    string
	}{
		{"M10", "", 1, "120.0", "100"},
		{"1/4NPT", "", 2, "60.0", "60"}, // three pitches of 1/18 in, exactly
		{"M10", "4.5mm", 0.5, "240.0", "200"},
		{"1/2-20", "0.25in", 1, "240.0", "200"},    // (0.25 - 0.05)·60/0.05
		{"Tr40x14P7", "21mm", 1, "60.0", "60"},     // (21 - 7)·60/14: the lead counts
		{"M6", "1.5mm", 1, "30.0", "60"},           // slower than the lathe goes
		{"8-32", "0.125in", 0.2, "900.0", "200"},   // (0.125 - 0.03125)·60/(0.03125·0.2)
		{"M64", "100mm", 10, "94.0", "60"},         // (100 - 6)·60/60
		{"1/4-20", "1.28mm", 1, "0.5", "60"},       // 0.01·60/1.27 = 0.472
		{"G1", "10mm", 2, "99.9", "60"},            // (10 - 2.3091)·60/(2.3091·2)
		{"3/8BSF", "0.2in", 1.5, "120.0", "100"},   // (0.2 - 0.05)·60/(0.05·1.5)
		{"2BA", "2.43mm", 1, "120.0", "100"},       // three pitches of 0.81
		{"1-5ACME", "0.5in", 1, "90.0", "60"},      // 0.3·60/0.2
		{"M1.6", "3mm", 1, "454.3", "200"},         // 2.65·60/0.35
		{"M16x1.5", "1.51mm", 0.2, "2.0", "60"},    // just room
		{"11/16-12UN", "1/4in", 1, "120.0", "100"}, // three pitches of 1/12 in
	} {
		in := cut.PassesInput{
			Spec: threads.MustParse(tc.spec), Reaction: units.Number(tc.reaction), Spindle: spindle,
			Compound: compound(),
		}
		if tc.relief != "" {
			in.Relief = number(units.MustLength(tc.relief))
		}
		r := passes(t, in)
		if got := fmt.Sprintf("%.1f", r.MaxRPM.RPM()); got != tc.most || fmt.Sprint(r.RPM.RPM()) != tc.set {
			t.Errorf("%s, relief %s: %s rpm at most, set %v", tc.spec, tc.relief, got, r.RPM.RPM())
		}
	}
	const stop = " wide, 1.5 mm, and has nowhere to stop: cut a relief of three pitches, or thread away from the shoulder"
	for _, tc := range []struct{ spec, relief, want string }{
		{"M10", "1.5mm", "relief: 1.5 mm: the tool is one pitch" + stop},
		{"M10", "1mm", "relief: 1 mm: the tool is one pitch" + stop},
		// Left-hand the tool stands in the relief and runs away from the shoulder.
		{"M10-LH", "1.4mm", "relief: 1.4 mm: the tool is one pitch wide, 1.5 mm, and has no room to start in: cut a " +
			"relief of three pitches"},
		{"M10-LH", "1.5mm", ""},
		{"Tr40x14P7-LH", "7mm", ""},
	} {
		r := passes(t, cut.PassesInput{
			Spec: threads.MustParse(tc.spec), Relief: number(units.MustLength(tc.relief)),
			Spindle: spindle, Compound: compound(),
		})
		got := ""
		if f := r.Fails(); len(f) > 0 {
			got = f.Error()
		}
		if got != tc.want || r.MaxRPM != nil || r.RPM != nil || len(r.Warnings) > 0 {
			t.Errorf("got  %s\nwant %s (%v at most, %v)", got, tc.want, r.MaxRPM, r.Warnings)
		}
	}
}

func TestPassesRefusals(t *testing.T) {
	length := func(text string) *units.Length { return number(units.MustLength(text)) }
	for _, tc := range []struct {
		spec   string
		change func(*cut.PassesInput)
		want   string
	}{
		{"M10", func(in *cut.PassesInput) { in.Nose = "blunt" }, "nose: blunt: write sharp, flat or full"},
		{
			"Tr20x4", func(in *cut.PassesInput) { in.Nose = cut.Sharp },
			"nose: sharp: Tr20x4 is cut with a tool of its own form: write full",
		},
		{
			"1/2-10ACME", func(in *cut.PassesInput) { in.Nose = cut.Flat },
			"nose: flat: 1/2-10ACME is cut with a tool of its own form: write full",
		},
		{
			"M10", func(in *cut.PassesInput) { in.Infeed = angle("30.1") },
			"infeed: 30.1 deg: write 0 deg to 30 deg from square: up to the angle of this thread's flank",
		},
		{
			"3/8BSW", func(in *cut.PassesInput) { in.Infeed = angle("-1") },
			"infeed: -1 deg: write 0 deg to 27.5 deg from square: up to the angle of this thread's flank",
		},
		{
			"M10", func(in *cut.PassesInput) { in.First = length("0mm") },
			"first: 0 mm: must be above 0 and under the depth, 0.974 mm",
		},
		{
			"M10", func(in *cut.PassesInput) { in.First = length("1mm") },
			"first: 1 mm: must be above 0 and under the depth, 0.974 mm",
		},
		{"M10", func(in *cut.PassesInput) { in.Passes = number(0) }, "passes: 0: write 1 to 100 passes"},
		{"M10", func(in *cut.PassesInput) { in.Passes = number(101) }, "passes: 101: write 1 to 100 passes"},
		{
			"M10", func(in *cut.PassesInput) { in.Passes, in.First = number(1), length("0.2mm") },
			"passes: 1: one pass goes to the full depth: leave out first",
		},
		{"M10", func(in *cut.PassesInput) { in.Spring = -1 }, "spring: -1: write 0 to 10 spring passes"},
		{"M10", func(in *cut.PassesInput) { in.Spring = 11 }, "spring: 11: write 0 to 10 spring passes"},
		{"M10", func(in *cut.PassesInput) { in.Relief = length("0mm") }, "relief: 0 mm: must be above 0"},
		{"M10", func(in *cut.PassesInput) { in.Reaction = 0.1 }, "reaction: 0.1: write 0.2 to 10 s for a hand"},
		{"M10", func(in *cut.PassesInput) { in.Reaction = 10.1 }, "reaction: 10.1: write 0.2 to 10 s for a hand"},
	} {
		in := cut.PassesInput{Spec: threads.MustParse(tc.spec), Reaction: 1}
		tc.change(&in)
		if _, err := cut.Passes(in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

func ExamplePasses() {
	r, err := cut.Passes(cut.PassesInput{Spec: threads.MustParse("M6"), Nose: cut.Flat, Reaction: 1})
	if err != nil {
		panic(err)
	}
	for _, p := range r.Passes {
		fmt.Println(p.Radial.Fixed(units.MM, 3, units.Nearest))
	}
	// Output:
	// 0.195
	// 0.307
	// 0.395
	// 0.469
	// 0.535
	// 0.594
	// 0.650
}
