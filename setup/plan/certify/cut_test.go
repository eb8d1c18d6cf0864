package certify

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// rod is 300 long and 20 thick.
const rod = `
format: 1
part: Rod
units: mm
material: mild-steel
round:
  profile: [[0, 20], [300, 20]]
`

// Mild steel: E = 207 GPa, kc 3610 MPa at 0.1 mm/rev. 20 thick, E·I =
// 207e3·π·20⁴/64 = 1.62577e9, and y = F·L³/(3·E·I) built in.
//
//	finish, 0.2 deep   F = 0.5·3610·0.2·0.1 = 36.1 N; limits of 20 are ±0.2, so 2·y <= 0.1:
//	                   L = 189: 36.1·189³/4.87731e9 = 0.04997; L = 190: 0.05077
//	rough, 1 deep      F = 180.5 N; L = 189: 0.24985; L = 190: 0.25384
//	aside              20 N; L = 200: 0.0328
//	acetal, 10 thick   E = 2.5 GPa, 3·E·I = 3.68155e6; aside, L = 26: 0.0955; L = 27: 0.1069
//
// A tube of 20 by 16 has 1 - 0.8⁴ = 0.5904 of its stiffness: the finishing cut
// may be 189.5·0.5904^(1/3) = 159.0 out. With a centre in the end the cut over
// all 200 springs most 0.5858 of the way out, by a³·(L-a)²·(4·L-a)·F/(12·E·I·L³)
// = 0.0098126·36.1·200³/1.62577e9 = 0.001743.
//
// A square of acetal through corners of 20 has a core of 14.142, so 3·E·I =
// 1.47262e7: 20 N aside, L = 41: 0.0936; L = 42: 0.1006.
func TestOverhang(t *testing.T) {
	steel := setUp(t, rod, shed)
	plastic := setUp(t, strings.Replace(rod, "mild-steel", "acetal", 1), shed)
	finish := op.Cut{Depth: 0.2, Feed: 0.1, Finish: true}
	rough := op.Cut{Depth: 1, Feed: 0.1}
	// the work ends where the cut does, reach from jaws at z 30
	cut := func(reach, dia work.Len, push op.Cut, also ...work.Removal) (op.Op, work.State) {
		o := op.Op{
			Kind: op.Turn, Setup: chucked(op.Chuck, 2, 30), Push: push, Tool: op.Tool{Hand: op.Right},
			Removes: []work.Removal{turned(30+reach-10, 30+reach, dia, work.Finished)},
		}
		return o, steel.bar(0, 30+reach, dia+1).After(turned(0, 30+reach-10, dia, work.Rough)).After(also...)
	}
	turn := func(r rig, reach, dia work.Len, push op.Cut, also ...work.Removal) Case {
		o, w := cut(reach, dia, push, also...)
		return r.of(o, w)
	}
	aside := func(r rig, reach, dia work.Len, also ...work.Removal) Case {
		return r.of(op.Op{
			Kind: op.Face, Setup: chucked(op.Chuck, 2, 30), Push: op.Cut{Side: true},
			Removes: []work.Removal{work.EndCut{End: part.Right, Z: (30 + reach - 1) * mm}},
		}, r.bar(0, 30+reach, dia).After(also...))
	}
	bore := work.Bore{From: part.Left, Dia: 16 * mm, Depth: 300 * mm, Through: true}
	square := work.Flats{
		From: 30 * mm, To: 300 * mm, Sides: 4, AcrossFrom: 14142135, AcrossTo: 14142135,
	}
	centred := turn(steel, 200, 20, finish)
	centred.Op.Setup.Support = op.AtCentre
	centred.Op.Removes = []work.Removal{turned(30, 230, 20, work.Finished)}
	centred.Before = steel.bar(0, 230, 21).After(work.Centre{End: part.Right, Dia: 4 * mm, Pilot: 2 * mm})
	centred.After = centred.Before.After(centred.Op.Removes...)
	hung := centred // the centre carries no more than a neck of 0.3 does: 0.102 without it
	hung.Op.Removes = []work.Removal{turned(30, 220, 20, work.Finished)}
	hung.Before = centred.Before.After(work.Turned(span(225, 226), 3*mm/10, work.Finished))
	hung.After = hung.Before.After(hung.Op.Removes...)
	springs := slices.ContainsFunc(hung.Check().Checks, func(c op.Check) bool {
		return !c.OK && say.Of(c.Value).In(units.MM) == "0.101 mm of diameter by the spring"
	})
	if !springs {
		t.Error("on a centre beyond a neck of 0.3, 190 out, it does not spring 0.101 mm of diameter")
	}
	check(t, problem.Overhang, []row{
		{"finishing 189 out", turn(steel, 189, 20, finish), "ok"},
		{
			"finishing 190 out", turn(steel, 190, 20, finish),
			"0.102 mm of diameter by the spring | 0.1 mm at the most",
		},
		{"roughing 189 out", turn(steel, 189, 20, rough), "ok"},
		{"roughing 190 out", turn(steel, 190, 20, rough), "0.254 mm of spring in roughing | 0.25 mm at the most"},
		{"finishing a tube 158 out", turn(steel, 158, 20, finish, bore), "ok"},
		{
			"finishing a tube 160 out", turn(steel, 160, 20, finish, bore),
			"0.103 mm of diameter by the spring | 0.1 mm at the most",
		},
		{"facing a square 41 out", aside(plastic, 41, 20, square), "ok"},
		{"facing a square 42 out", aside(plastic, 42, 20, square), "0.101 mm of spring aside | 0.1 mm at the most"},
		{"facing 200 out", aside(steel, 200, 20), "ok"},
		{"facing 201 out", aside(steel, 201, 20), "201 mm stands out without support | 200 mm at the most"},
		{"facing plastic 26 out", aside(plastic, 26, 10), "ok"},
		{"facing plastic 27 out", aside(plastic, 27, 10), "0.107 mm of spring aside | 0.1 mm at the most"},
		{"with a centre", centred, "ok"},
	})
	if got := fmt.Sprintf("%.6f", centred.Check().Spring.MM()); got != "0.001743" {
		t.Errorf("with a centre it springs %s, by hand 0.001743", got)
	}
	if turn(steel, 100, 20, op.Cut{}).Check().Spring != nil {
		t.Error("nothing pushes it")
	}
}

// A cone of 20 to 18 over 100 from the jaws on, 0.2 deep: built in at D with d at its end it gives way
// by 64·F·L³/(3·π·E·D³·d), which is F·L³/(3·E·I)·D/d = 36.1·100³/4.87731e9·20/18 = 0.008224, and leans
// atan(0.008224/100) = 0.004712 deg; of limits of ±0.0095 a quarter is 0.00475, of ±0.0094 0.0047.
func TestLeans(t *testing.T) {
	cone := func(limit string, alter func(*op.Op)) Case {
		r := setUp(t, strings.Replace(rod, "[[0, 20], [300, 20]]", "[[0, 20], [30, 20], [130, 18]]"+limit, 1), shed)
		o := op.Op{
			Kind: op.Taper, Setup: chucked(op.Chuck, 2, 30), Tool: op.Tool{Hand: op.Right}, Makes: []string{"outside-2"},
			Push: op.Cut{Depth: 0.2, Feed: 0.1, Finish: true},
			Removes: []work.Removal{work.Outside{Profile: []work.Point{
				{Z: 30 * mm, Dia: 20 * mm}, {Z: 130 * mm, Dia: 18 * mm},
			}}},
		}
		alter(&o)
		return r.of(o, r.bar(0, 130, 21))
	}
	const over = "\n  limits: [{from: 30, to: 130, angle: "
	as := func(*op.Op) {}
	check(t, problem.Overhang, []row{
		{"within ±0.0095 deg", cone(over+"0.0095}]", as), "ok"},
		{
			"within ±0.0094 deg", cone(over+"0.0094}]", as),
			"0.0047 deg of half angle by the spring | 0.0047 deg at the most",
		},
		{"no limits of the angle", cone("", as), "ok"},
		{"what a file takes on", cone(over+"0.0094}]", func(o *op.Op) { o.Rough = true }), "ok"},
		{"another cone", cone(over+"0.0094}]", func(o *op.Op) { o.Makes = []string{"outside-1"} }), "ok"},
	})
}

// Held by a neck of 6 with a head of 20, 70 out: 10 d of the neck are 60. 90 of a rod
// of 6 stand out before a body of 20. A neck of 4 over z 50 to 60 carries 40 of a head
// of 20; so do flats of 4 on one side and the other. A hole does not count.
func TestStandsOut(t *testing.T) {
	r := setUp(t, rod, shed)
	o := op.Op{Kind: op.Face, Setup: chucked(op.Chuck, 0, 20)}
	headed := func(to work.Len) work.State { return r.bar(0, to, 20).After(turned(0, 20, 6, work.Finished)) }
	thin := r.bar(0, 120, 20).After(turned(30, 120, 6, work.Finished))
	necked := func(to work.Len) work.State { return r.bar(0, to, 20).After(turned(50, 60, 4, work.Finished)) }
	check(t, problem.Overhang, []row{
		{"a head 60 out", r.of(o, headed(80)), "ok"},
		{"a head 61 out", r.of(o, headed(81)), "61 mm stands out without support | 60 mm at the most"},
		{"a thin rod", r.of(o, thin), "90 mm hangs on 6 mm at z 30 mm without support | 60 mm at the most"},
		{"a head of 40 on a neck of 4", r.of(o, necked(90)), "ok"},
		{"a head of 41", r.of(o, necked(91)), "41 mm hangs on 4 mm at z 50 mm without support | 40 mm at the most"},
		{
			"as the cut leaves it", r.of(with(o, func(o *op.Op) {
				o.Kind, o.Tool.Hand, o.Removes = op.Turn, op.Form, []work.Removal{turned(50, 60, 4, work.Finished)}
			}), r.bar(0, 91, 20)), "41 mm hangs on 4 mm at z 50 mm without support | 40 mm at the most",
		},
		{
			"what is cut off does not count", r.of(with(o, func(o *op.Op) {
				o.Removes = []work.Removal{work.EndCut{End: part.Right, Z: 89 * mm}}
			}), necked(90)), "ok",
		},
		{"on flats of 4", r.of(o, r.bar(0, 100, 20).After(work.Flats{
			From: 50 * mm, To: 59 * mm, Sides: 2, AcrossFrom: 4 * mm, AcrossTo: 4 * mm,
		})), "50 mm hangs on 4 mm at z 50 mm without support | 40 mm at the most"},
		{"over a hole of 17", r.of(o, r.bar(0, 100, 20).After(work.Cross{Z: 50 * mm, Dia: 17 * mm})), "ok"},
		{"in a steady beyond the neck", r.of(with(o, func(o *op.Op) {
			o.Setup = o.Setup.Steadied(80 * mm)
		}), r.bar(0, 101, 21).After(turned(0, 101, 20, work.Finished), turned(50, 60, 4, work.Finished))), "ok"},
		{"with a centre", r.of(with(o, func(o *op.Op) { o.Setup.Support = op.AtCentre }), thin), "nothing"},
	})
}

// A cut of 100 N at 100 out of 200: the centre takes no more than 100·100/200 = 50 N of it, which bends
// what is thin 10 before it by 500 N·mm. Mild steel of 380 MPa carries 76: (32·500/(π·76))^(1/3) = 4.06.
func TestNeckBeforeTheCentre(t *testing.T) {
	r := setUp(t, rod, shed)
	o := op.Op{
		Kind: op.Turn, Setup: chucked(op.Chuck, 0, 20), Push: op.Cut{Force: 100}, Tool: op.Tool{Hand: op.Right},
		Removes: []work.Removal{turned(60, 120, 29, work.Finished)},
	}
	o.Setup.Support = op.AtCentre
	neck := func(dia work.Len) work.State {
		return r.bar(0, 220, 30).After(work.Turned(span(210, 212), dia, work.Rough))
	}
	check(t, problem.Overhang, []row{
		{"a neck of 4.1", r.of(o, neck(41*mm/10)), "ok"},
		{
			"a neck of 4", r.of(o, neck(4*mm)),
			"4 mm carries what the centre takes at z 210 mm | 4.062 mm wanted",
		},
		{"in the bar", r.of(o, r.bar(0, 220, 30)), "ok"},
	})
}

// Parting at z 22 leaves 50 of 6 hanging, E·I = 207e3·π·6⁴/64 = 1.31685e7: 20 N at its end
// spring it 20·L³/3.95055e7, with L = 58 0.0988 and with L = 59 0.1040. In the kerf, 2 out,
// it is nothing.
func TestPartingSprings(t *testing.T) {
	r := setUp(t, rod, shed)
	off := op.Op{
		Kind: op.PartOff, Setup: chucked(op.Chuck, 0, 20), Push: op.Cut{Side: true}, Tool: op.Tool{Hand: op.Form},
		Removes: []work.Removal{work.EndCut{End: part.Left, Z: 24 * mm}},
	}
	check(t, problem.Overhang, []row{
		{"58 out", r.of(off, r.bar(0, 78, 6)), "ok"},
		{"59 out", r.of(off, r.bar(0, 79, 6)), "0.104 mm of spring aside | 0.1 mm at the most"},
	})
	for _, c := range r.of(off, r.bar(0, 79, 6)).Check().Checks {
		if c.Code == problem.Overhang && !c.OK && c.Remedy != "saw it off and face the end" {
			t.Errorf("%s: %s", c.Code, c.Remedy)
		}
	}
}

// A disc of 50 is faced on an arbor of 8, which stands out 1 before it and ends 1 under its
// face: 20 N at 17 spring 16 of it 20·(17³ - 1³)/(3·207e3·π·8⁴/64) = 98240/1.24862e8 =
// 0.000787. In acetal the arbor gives way as much, since it is of steel, and 1 of the disc,
// 20·1³/(3·2500·306602) = 0.00000001, adds nothing. A mandrel bends alike, and with the left end
// out all is the other way round.
func TestArborSprings(t *testing.T) {
	for _, stuff := range []string{"mild-steel", "acetal"} {
		r := setUp(t, strings.Replace(rod, "mild-steel", stuff, 1), shed)
		for _, d := range []op.Device{op.Arbor, op.Mandrel} {
			face := op.Op{
				Kind: op.Face, Setup: chucked(d, 0, 15), Push: op.Cut{Side: true},
				Removes: []work.Removal{work.EndCut{End: part.Right, Z: 15 * mm}},
			}
			disc := r.bar(0, 16, 50).After(work.Bore{From: part.Left, Dia: 8 * mm, Depth: 300 * mm, Through: true})
			round := with(face, func(o *op.Op) {
				o.Setup.Out, o.Setup.Held = part.Left, work.Span{From: mm, To: 16 * mm}
				o.Removes = []work.Removal{work.EndCut{End: part.Left, Z: mm}}
			})
			for _, o := range []op.Op{face, round} {
				if s := r.of(o, disc).Check().Spring; s == nil || fmt.Sprintf("%.6f", s.MM()) != "0.000787" {
					t.Errorf("%s on %s, %s end out, springs %v, by hand 0.000787", stuff, d, o.Setup.Out, s.MM())
				}
			}
		}
	}
}

// On a stub M12 what bends is the root of its thread, 12 - 1.226869·1.75 = 9.852979: 16 of it, as on the
// arbor above, 20·(17³ - 1³)/(3·207e3·π·9.852979⁴/64) = 98240/2.87297e8 = 0.000342.
func TestStubSprings(t *testing.T) {
	r := setUp(t, rod+"  bores: [{from: left, dia: 10.2, depth: 40}]\n"+
		"  threads: [{from: left, spec: M12, depth: 30, inside: true}]\n", shed)
	face := op.Op{
		Kind: op.Face, Setup: chucked(op.ThreadedStub, 0, 15), Push: op.Cut{Side: true},
		Removes: []work.Removal{work.EndCut{End: part.Right, Z: 15 * mm}},
	}
	disc := r.bar(0, 16, 50).After(work.Bore{From: part.Left, Dia: 10200 * mm / 1000, Depth: 300 * mm, Through: true},
		work.Thread{From: 0, To: 15 * mm, Spec: "M12", Inside: true, Major: 12 * mm})
	if s := r.of(face, disc).Check().Spring; s == nil || fmt.Sprintf("%.6f", s.MM()) != "0.000342" {
		t.Errorf("it springs %v, by hand 0.000342", s.MM())
	}
}

// A mouth of 8 with 60 deg falls from 8 to 6 over 1/tan 30 = 1.732; a centre's
// point reaches 8/(2·tan 30) = 6.93 into it.
func TestSupport(t *testing.T) {
	r := setUp(t, rod, shed)
	turn := op.Op{
		Kind: op.Turn, Setup: chucked(op.Chuck, 0, 28), Tool: op.Tool{Hand: op.Right},
		Removes: []work.Removal{turned(100, 300, 19, work.Rough)},
	}
	by := func(s op.Support, removes ...work.Removal) op.Op {
		return with(turn, func(o *op.Op) {
			o.Setup.Support = s
			if removes != nil {
				o.Removes = removes
			}
		})
	}
	bar := r.bar(0, 300, 20)
	centred := bar.After(work.Centre{End: part.Right, Dia: 4 * mm, Pilot: 2 * mm})
	cut := centred.After(work.EndCut{End: part.Right, Z: 299 * mm})
	bored := func(dia, wide, long, deep work.Len) work.State {
		return bar.After(work.Bore{From: part.Right, Dia: dia * mm, Depth: deep * mm},
			work.Bore{From: part.Right, Dia: wide * mm, EndDia: dia * mm, Depth: long})
	}
	const sixty = 1732051
	banded := bar.After(turned(60, 90, 19, work.Rough))
	none := setUp(t, rod, without(t, shed, "  tailstock: {taper: MT2}\n", "  steady: {from: 5, to: 50}\n"))
	unsaid := setUp(t, rod, without(t, shed, "  centre_nose: 12\n"))
	thin := setUp(t, rod, strings.Replace(shed, "steady: {from: 5, to: 50}", "steady: {from: 5, to: 18}", 1))
	between := with(turn, func(o *op.Op) { o.Setup.Device, o.Setup.Held = op.Centres, work.Span{} })
	thread := work.Thread{From: 250 * mm, To: 300 * mm, Spec: "M20", Major: 20 * mm}
	both := centred.After(work.Centre{End: part.Left, Dia: 4 * mm, Pilot: 2 * mm})
	check(t, problem.Support, []row{
		{"none", r.of(turn, bar), "nothing"},
		{"a centre", r.of(by(op.AtCentre), centred), "ok"},
		{"no hole", r.of(by(op.AtCentre), bar), "a centre is to stand in the right end | no centre hole is there"},
		{
			"the hole was faced off", r.of(by(op.AtCentre), cut),
			"a centre is to stand in the right end | no centre hole is there",
		},
		{
			"the end is faced", r.of(by(op.AtCentre, work.EndCut{End: part.Right, Z: 299 * mm}), centred),
			"a centre stands in the right end | that end is cut here",
		},
		{
			"the end is bored", r.of(by(op.AtCentre, work.Bore{From: part.Right, Dia: 5 * mm, Depth: 20 * mm}), centred),
			"a centre stands in the right end | that end is cut here",
		},
		{
			"a die", r.of(with(by(op.AtCentre, thread), func(o *op.Op) { o.OnEnd = true }), centred),
			"a centre stands in the right end | the die goes on over that end",
		},
		{"a single point", r.of(by(op.AtCentre, thread), centred), "ok"},
		{"a die on its own", r.of(with(by(op.NoSupport, thread), func(o *op.Op) { o.OnEnd = true }), centred), "nothing"},
		{"the other end is cut off", r.of(by(op.AtCentre, work.EndCut{End: part.Left, Z: 30 * mm}), centred), "ok"},
		{"no tailstock", none.of(by(op.AtCentre), centred), "a centre is to carry it | there is no tailstock on this lathe"},
		{"a mouth of 60 deg", r.of(by(op.AtMouth), bored(6, 8, sixty, 20)), "ok"},
		{"a mouth of 90 deg", r.of(by(op.AtMouth), bored(6, 8, mm, 20)), "ok"},
		{
			"a mouth of 50 deg", r.of(by(op.AtMouth), bored(6, 8, 2144507, 20)),
			"50 deg across the mouth | 60 to 90 deg is wanted",
		},
		{"a mouth that is not chamfered", r.of(by(op.AtMouth), bar.After(work.Bore{
			From: part.Right, Dia: 6 * mm, Depth: 20 * mm,
		})), "a centre is to stand in the bore of the right end | its mouth is not chamfered"},
		{"a mouth of 12", r.of(by(op.AtMouth), bored(10, 12, sixty, 20)), "ok"},
		{
			"a mouth of 13", r.of(by(op.AtMouth), bored(11, 13, sixty, 20)),
			"13 mm across the mouth | 12 mm is the widest that the centre holds",
		},
		{
			"a shallow one", r.of(by(op.AtMouth), bored(6, 8, sixty, 6)),
			"6 mm deep is the bore | 6.928 mm is how deep the centre's point reaches",
		},
		{"a nose that is not said", unsaid.of(by(op.AtMouth), bored(11, 13, sixty, 20)), "ok"},
		{"a steady", r.of(by(op.AtSteady), banded), "ok"},
		{
			"a steady on the raw bar", r.of(by(op.AtSteady), bar),
			"a steady is to carry it | no turned cylinder of 10 mm is there",
		},
		{
			"a steady that is too small", thin.of(by(op.AtSteady), banded),
			"19 mm runs in the steady | it takes 5 mm to 18 mm",
		},
		{"no steady", none.of(by(op.AtSteady), banded), "a steady is to carry it | there is none in this shop"},
		{"between centres", r.of(between, both), "ok"},
		{
			"between centres with one", r.of(between, centred),
			"a centre is to stand in the left end | no centre hole is there",
		},
	})
	if got := unsaid.of(by(op.AtMouth), bored(11, 13, sixty, 20)).Check().NotChecked; fmt.Sprint(got) !=
		"[lathe.centre_nose]" {
		t.Errorf("not checked: %q", got)
	}
}

// stud is M20x1.5 over its first 20, on a cylinder of 20 to z 30, before one of
// 30; an M8 in a bore of 6.8, 30 deep, from the right.
const stud = `
format: 1
part: Stud
units: mm
material: mild-steel
round:
  profile: [[0, 20], [30, 20], [30, 30], [60, 30]]
  bores:
    - {from: right, dia: 6.8, depth: 25}
  threads:
    - {from: left, spec: M20x1.5, length: 20}
    - {from: right, spec: M8, depth: 20, inside: true}
`

// The thread stops 10 before the shoulder at z 30; M20x1.5 wants one pitch, 1.5,
// where its run-out is less. The bore goes on 5 beyond the M8 of 20, whose pitch
// is 1.25.
func TestShoulder(t *testing.T) {
	r := setUp(t, stud, shed)
	left := op.Setup{Machine: op.Lathe, Device: op.Chuck, Held: span(32, 60), Out: part.Left}
	right := op.Setup{Machine: op.Lathe, Device: op.Chuck, Held: span(0, 28), Out: part.Right}
	thread := func(to, runOut work.Len, cut work.Toward) op.Op {
		return op.Op{Kind: op.Thread, Setup: left, Removes: []work.Removal{work.Thread{
			From: 0, To: to, RunOut: runOut, Spec: "M20x1.5", Cut: cut, Major: 20 * mm,
		}}}
	}
	inside := func(from work.Len) op.Op {
		return op.Op{Kind: op.Tap, Setup: right, Removes: []work.Removal{work.Thread{
			From: from, To: 60 * mm, Spec: "M8", Inside: true, Cut: work.ToHeadstock, Major: 8 * mm,
		}}}
	}
	w := r.bar(0, 60, 30).After(turned(0, 30, 20, work.Finished))
	plain := r.bar(0, 60, 20)
	relieved := w.After(turned(27, 30, 17, work.Finished)) // 20 - 1.6 x 1.5 = 17.6
	stubbed := func(dia work.Len) work.State {             // the root is 20 - 1.226869 x 1.5 = 18.16
		return r.bar(-10, 60, 30).After(turned(-10, 0, dia, work.Rough), turned(0, 30, 20, work.Finished))
	}
	grooved := stubbed(19).After(turned(-2, 0, 17, work.Rough))
	die := func(o op.Op, round bool) op.Op {
		o.OnEnd, o.DieTurned = true, round
		return o
	}
	bored := r.bar(0, 60, 30).After(work.Bore{From: part.Right, Dia: op.LenOf(units.MustLength("6.8mm")), Depth: 25 * mm})
	through := bored.After(work.Bore{From: part.Right, Dia: 7 * mm, Depth: 60 * mm, Through: true})
	check(t, problem.IntoShoulder, []row{
		{"room", r.of(thread(20*mm, 4*mm, work.ToHeadstock), w), "ok"},
		{"just room", r.of(thread(26*mm, 4*mm, work.ToHeadstock), w), "ok"},
		{"no room", r.of(thread(27*mm, 4*mm, work.ToHeadstock), w), "3 mm free behind the thread | 4 mm wanted"},
		{
			"no run-out is said", r.of(thread(29*mm, 0, work.ToHeadstock), w),
			"1 mm free behind the thread | 1.5 mm wanted",
		},
		{"away from it", r.of(thread(28*mm, 4*mm, work.ToTailstock), relieved), "ok"},
		{
			"away from it, begun against it", r.of(thread(29*mm, 4*mm, work.ToTailstock), w),
			"0 mm free where the thread starts | 1.5 mm wanted",
		},
		{"a stub no larger than the root", r.of(thread(20*mm, 4*mm, work.ToHeadstock), stubbed(18)), "ok"},
		{
			"a stub", r.of(thread(20*mm, 4*mm, work.ToHeadstock), stubbed(19)),
			"0 mm free where the thread starts | 1.5 mm wanted",
		},
		{"a groove before it", r.of(thread(20*mm, 4*mm, work.ToHeadstock), grooved), "ok"},
		{"a die, three pitches", r.of(die(thread(25*mm, 0, work.ToHeadstock), false), w), "ok"},
		{
			"a die, two", r.of(die(thread(27*mm, 0, work.ToHeadstock), false), w),
			"3 mm free behind the thread | 4.5 mm wanted",
		},
		{
			"turned round to a collar", r.of(die(thread(27*mm, 0, work.ToHeadstock), true), w),
			"0 mm free behind the thread | 1.5 mm wanted",
		},
		{"turned round to a groove", r.of(die(thread(27*mm, 0, work.ToHeadstock), true), relieved), "ok"},
		{"no shoulder", r.of(thread(27*mm, 4*mm, work.ToHeadstock), plain), "ok"},
		{"the jaws", r.of(thread(30*mm, 4*mm, work.ToHeadstock), plain), "2 mm free behind the thread | 4 mm wanted"},
		{"a deep bore", r.of(inside(40*mm), bored), "ok"},
		{"its floor", r.of(inside(36*mm), bored), "1 mm free behind the thread | 1.25 mm wanted"},
		{"a through bore", r.of(inside(0), through), "ok"},
	})
}

// A kerf of 2 at z 40 to 42, jaws at z 30. 20 thick: 10 deep, an eighth is 1.25;
// two diameters are 40.
func TestParting(t *testing.T) {
	r := setUp(t, rod, shed)
	off := func(z work.Len) op.Op {
		return op.Op{
			Kind: op.PartOff, Setup: chucked(op.Chuck, 2, 30), Push: op.Cut{Side: true},
			Removes: []work.Removal{work.EndCut{End: part.Left, Z: z * mm}},
		}
	}
	bar := func(dia work.Len) work.State { return r.bar(0, 100, dia) }
	tube := bar(24).After(work.Bore{From: part.Left, Dia: 12 * mm, Depth: 300 * mm, Through: true})
	narrow := setUp(t, rod, strings.Replace(shed, "blade: 2", "blade: 1.2", 1))
	short := setUp(t, rod, strings.Replace(shed, "reach: 14", "reach: 9", 1))
	usual := setUp(t, rod, strings.Replace(shed, "parting: {blade: 2, most: 25, reach: 14}", "parting: {blade: 4}", 1))
	none := setUp(t, rod, without(t, shed, "  parting: {blade: 2, most: 25, reach: 14}\n"))
	centred := with(off(42), func(o *op.Op) { o.Setup.Support = op.AtCentre })
	check(t, problem.Parting, []row{
		{"close to the jaws", r.of(off(42), bar(20)), "ok"},
		{"two diameters out", r.of(off(70), bar(20)), "ok"},
		{"further", r.of(off(71), bar(20)), "41 mm from the jaws | 40 mm at the most"},
		{"25 thick", r.of(off(42), bar(25)), "ok"},
		{"26 thick", r.of(off(42), bar(26)), "26 mm across the kerf | 25 mm at the most"},
		{"25 is the most that is usual", usual.of(off(42), bar(26)), "26 mm across the kerf | 25 mm at the most"},
		{"a thin blade", narrow.of(off(42), bar(20)), "1.2 mm wide is the blade | 1.25 mm wanted"},
		{"a short blade", short.of(off(42), bar(20)), "10 mm to the middle | 9 mm at the most"},
		{"a short blade on a tube", short.of(off(42), tube), "ok"}, // (24 - 12)/2 = 6
		{"no blade", none.of(off(42), bar(20)), "it is parted off | there is no parting blade in this shop"},
		{"a centre is in", r.of(centred, bar(20)), "a centre is in | it is parted without"},
		{
			"in a steady", r.of(with(off(42), func(o *op.Op) { o.Setup = o.Setup.Steadied(90 * mm) }), bar(20)),
			"a steady alone carries what comes free | it whips when it is cut through",
		},
		{"sawn", r.of(with(off(42), func(o *op.Op) { o.Setup.Machine = op.Bench }), bar(30)), "nothing"},
	})
	if got := fmt.Sprint(usual.of(off(42), bar(20)).Check().NotChecked); got != "[lathe.parting.reach]" {
		t.Errorf("not checked: %s", got)
	}
}

// crossed is a rod with a hole of 4 at z 30, on a taper from 20 to 16.
const crossed = `
format: 1
part: Crossed
units: mm
material: mild-steel
round:
  profile: [[0, 20], [40, 20], [100, 16]]
  holes:
    - {at: 30, dia: 4}
    - {at: 70, dia: 4}
`

// In a V of 90 deg a round of 20 has its centre 10/sin 45 = 14.142 above the
// apex, which is 12 above the base: 26.142, its top 36.142. The taper is 18 at z
// 70: in blocks at 20 and 70 the large end lies (20 - 18)/2/sin 45 = 1.414
// higher. It opens 42: a round of 42/cos 45 = 59.4 is the largest.
func TestSupportV(t *testing.T) {
	r := setUp(t, crossed, shed)
	bar := r.bar(0, 100, 20)
	tapered := bar.After(work.Outside{Profile: []work.Point{{Z: 40 * mm, Dia: 20 * mm}, {Z: 100 * mm, Dia: 16 * mm}}})
	drill := func(z work.Len, from, to work.Len, change func(*op.Stands)) op.Op {
		o := op.Op{
			Kind:    op.CrossDrill,
			Setup:   op.Setup{Machine: op.MillMachine, Device: op.VBlocks, Held: span(0, 100), Out: part.Right},
			Removes: []work.Removal{work.Cross{Z: z * mm, Dia: 4 * mm}},
		}
		o.Stands = op.Stands{
			Blocks: []op.Len{from * mm, to * mm}, Top: new(units.MustLength("36.14mm")),
			Centre: new(units.MustLength("26.14mm")),
		}
		if change != nil {
			change(&o.Stands)
		}
		return o
	}
	shim := func(s *op.Stands) { s.Shim = new(units.MustLength("1.4mm")) }
	wrong := func(s *op.Stands) { s.Shim = new(units.MustLength("1mm")) }
	onTaper := func(s *op.Stands) { shim(s); s.Top = new(units.MustLength("35.14mm")) }
	// atan(1.414/50) = 1.62 deg
	tilted := func(s *op.Stands) { s.Tilt = new(units.Degrees(1.62)) }
	high := func(s *op.Stands) { s.Top = new(units.MustLength("36.2mm")) }
	low := func(s *op.Stands) { s.Centre = new(units.MustLength("26.05mm")) }
	silent := func(s *op.Stands) { s.Top = nil }
	one := func(s *op.Stands) { s.Blocks = s.Blocks[:1] }
	none := setUp(t, crossed, without(t, shed, "v_blocks: {angle: 90deg, apex: 12, opening: 42, relief: 3, pair: true}\n"))
	check(t, problem.SupportV, []row{
		{"parallel", r.of(drill(30, 20, 70, nil), bar), "ok"},
		// 1 mm below the work the V is 14.142 - 10 - 1 = 3.142 to either side of its middle, wider than a drill of 4
		// or 6; the point of one of 5.24 reaches 2.62/tan 59 = 1.574. One of 6.3 meets it, but for blocks that stand
		// 3.15 + 5 = 8.15 away.
		{"over a block, into the V", r.of(drill(22, 20, 70, nil), bar), "ok"},
		{
			"over a block, beside the V", r.of(wide(drill(22, 20, 70, nil), "6.3mm"), bar),
			"6.15 mm of the V-block at z 20 mm lies under the cut at z 22 mm | " +
				"it comes through into the block, which is 10 mm wide",
		},
		{"clear of it", r.of(wide(drill(29, 20, 70, nil), "6.3mm"), bar), "ok"},
		{"into the other", r.of(wide(drill(63, 20, 70, nil), "6.3mm"), bar), "1.15 mm of the V-block at z 70 mm " +
			"lies under the cut at z 63 mm | it comes through into the block, which is 10 mm wide"},
		{"as wide as the V there", r.of(wide(drill(22, 20, 70, nil), "6.28mm"), bar), "ok"},
		{
			"a blind one", r.of(with(wide(drill(22, 20, 70, nil), "6.3mm"), func(o *op.Op) {
				h := o.Removes[0].(work.Cross)
				h.Depth = new(5 * mm)
				o.Removes[0] = h
			}), bar), "ok",
		},
		{"the hole 20 outside", r.of(drill(30, 50, 90, nil), bar), "ok"},
		{
			"the hole 21 outside", r.of(drill(30, 51, 90, nil), bar),
			"21 mm beyond the blocks is the hole at z 30 mm | 20 mm is the most, one diameter",
		},
		{ // a cutter of 4 in a slot from z 28 on comes to 30 by its middle
			"the slot 20 outside", r.of(with(drill(30, 50, 90, nil), func(o *op.Op) {
				o.Removes = []work.Removal{work.Slot{From: 28 * mm, To: 80 * mm, Width: 4 * mm, Depth: new(2 * mm)}}
			}), bar), "ok",
		},
		{
			"the slot 21 outside", r.of(with(drill(30, 51, 90, nil), func(o *op.Op) {
				o.Removes = []work.Removal{work.Slot{From: 28 * mm, To: 80 * mm, Width: 4 * mm, Depth: new(2 * mm)}}
			}), bar),
			"21 mm beyond the blocks is the cutter at z 30 mm | 20 mm is the most, one diameter",
		},
		{
			"a taper", r.of(drill(30, 20, 70, nil), tapered),
			"20 mm lies in one block, 18 mm in the other | one cylinder in both is wanted, or a shim",
		},
		{"a taper on its shim", r.of(drill(30, 20, 70, shim), tapered), "ok"},
		{
			"on a wrong one", r.of(drill(30, 20, 70, wrong), tapered),
			"20 mm lies in one block, 18 mm in the other | one cylinder in both is wanted, or a shim",
		},
		{"tilted as is said", r.of(drill(30, 20, 70, tilted), tapered), "ok"},
		{"a hole on the taper", r.of(drill(70, 20, 70, onTaper), tapered), "ok"},
		{
			"the top of the cylinder there", r.of(drill(70, 20, 70, shim), tapered),
			"36.14 mm is said for the top | 35.142 mm is the surface under the drill",
		},
		{
			"0.06 too high", r.of(drill(30, 20, 70, high), bar),
			"36.2 mm is said for the top | 36.142 mm is the surface under the drill",
		},
		{
			"0.09 too low", r.of(drill(30, 20, 70, low), bar),
			"26.05 mm is said for the axis | 26.142 mm is its height",
		},
		{
			"not said", r.of(drill(30, 20, 70, silent), bar),
			"no height is said | 26.142 mm is the height of the axis",
		},
		{"one block", r.of(drill(30, 20, 70, one), bar), "it lies in V-blocks | at two places is wanted"},
		{
			"beyond the bar", r.of(drill(30, 20, 120, nil), bar),
			"V-blocks at z 20 mm and 120 mm | round work is wanted at both",
		},
		{"no blocks", none.of(drill(30, 20, 70, nil), bar), "it lies in V-blocks | there are none in this shop"},
		{"59 in the V", r.of(with(drill(30, 20, 70, nil), func(o *op.Op) { o.Removes = nil }), r.bar(0, 100, 59)), "ok"},
		{
			"60 in the V", r.of(drill(30, 20, 70, nil), r.bar(0, 100, 60)),
			"60 mm rests on the edges of the V | it opens 42 mm",
		},
		{
			"4 in the V", r.of(drill(30, 20, 70, nil), r.bar(0, 100, 4)),
			"4 mm drops into the relief of the V | it is 3 mm wide",
		},
	})
}

// The axis of a round of 20 is 26.142 above the table, so a rim of 52 hangs clear and one
// of 52.4 does not. Tilted on a taper of 20 to 16 from z 40 to 100 with blocks at 20 and 70
// the axis falls 1.414 in 50, and is 26.142 - 80·1.414/50 = 23.879 above the table at z 100.
// A block of 10 at z 75 ends at the rim at z 80.
func TestBlocksUnderARim(t *testing.T) {
	r := setUp(t, crossed, shed)
	rim := func(dia float64) work.State {
		whole := work.Len(dia * float64(mm))
		return r.bar(0, 100, 60).After(work.Outside{
			Profile: []work.Point{{Z: 80 * mm, Dia: whole}, {Z: 100 * mm, Dia: whole}}, Stage: work.Finished,
		}).After(turned(0, 80, 20, work.Finished))
	}
	tilted := func(dia float64) work.State {
		return rim(dia).After(turned(80, 90, 20, work.Finished)).After(work.Outside{
			Profile: []work.Point{{Z: 40 * mm, Dia: 20 * mm}, {Z: 90 * mm, Dia: 20*mm - 50*mm/15}}, Stage: work.Finished,
		})
	}
	datum := func(from, to work.Len, tilt float64) op.Op {
		o := op.Op{Kind: op.Datum, Setup: op.Setup{Machine: op.MillMachine, Device: op.VBlocks, Held: span(0, 80)}}
		o.Stands.Blocks = []op.Len{from * mm, to * mm}
		if tilt != 0 {
			o.Stands.Tilt = new(units.Degrees(tilt))
		}
		return o
	}
	check(t, problem.SupportV, []row{
		{"a rim that hangs clear", r.of(datum(20, 70, 0), rim(52)), "ok"},
		{
			"one that does not", r.of(datum(20, 70, 0), rim(52.4)), "26.2 mm from the axis down to the work's " +
				"underside at z 80 mm, over the V-blocks' table | 26.142 mm at the most",
		},
		{"as the axis falls", r.of(datum(20, 70, 1.62), tilted(47.6)), "ok"},
		{
			"too far", r.of(datum(20, 70, 1.62), tilted(48)), "24 mm from the axis down to the work's " +
				"underside at z 100 mm, over the V-blocks' table | 23.879 mm at the most",
		},
		{"a block beside the rim", r.of(datum(20, 75, 0), rim(52)), "ok"},
		{
			"a block under it", r.of(datum(20, 76, 0), rim(52)), "1 mm of the V-block at z 76 mm is where the work " +
				"is 52 mm | it is 10 mm wide, and 20 mm lies in it",
		},
		{"one block beside the other", r.of(datum(20, 30, 0), rim(20)), "ok"},
		{
			"one in the other", r.of(datum(20, 29, 0), rim(20)),
			"9 mm from the middle of one V-block to the other | 10 mm is how wide each is",
		},
	})
}

// wide widens the hole that an operation drills.
func wide(o op.Op, dia string) op.Op {
	h := o.Removes[0].(work.Cross)
	h.Dia = op.LenOf(units.MustLength(dia))
	o.Removes = []work.Removal{h}
	return o
}

// Limits of ISO 2768-1 medium: 20 ±0.2, 30 ±0.2, 100 ±0.3, a place of 30 ±0.2.
// The shaft has 20 to z 30, 30 to 60, 20 to 100.
func TestGouge(t *testing.T) {
	r := setUp(t, shaft, shed)
	cut := func(dia string, from, to string, allowed ...op.Allowed) op.Op {
		z := func(s string) work.Len { return op.LenOf(units.MustLength(s + "mm")) }
		return op.Op{
			Kind: op.Turn, Setup: chucked(op.Chuck, -30, -2), Tool: op.Tool{Hand: op.Right}, Allowed: allowed,
			Removes: []work.Removal{work.Turned(work.Span{From: z(from), To: z(to)}, z(dia), work.Finished)},
		}
	}
	bar := r.bar(-30, 101, 32)
	threaded := setUp(t, strings.Replace(shaft, "[100, 20]]", "[100, 20]]\n  threads:\n"+
		"    - {from: right, spec: M20, length: 20}", 1), shed)
	fitted := setUp(t, strings.Replace(shaft, "[100, 20]]", "[100, 20]]\n  limits:\n"+
		"    - {at: 80, tol: [0.02, 0]}", 1), shed)
	edged := setUp(t, strings.Replace(shaft, "[100, 20]]", "[100, 20]]\n  chamfers: [{at: 100, size: 2}]", 1), shed)
	chamfer := func(by work.Len) op.Op {
		cone := []work.Point{{Z: 100*mm - by, Dia: 20 * mm}, {Z: 100 * mm, Dia: 20*mm - 2*by}}
		return op.Op{
			Kind: op.Chamfer, Setup: chucked(op.Chuck, -30, -2), Tool: op.Tool{Hand: op.Form},
			Removes: []work.Removal{work.Outside{Profile: cone}},
		}
	}
	end := func(z string) op.Op {
		return op.Op{Kind: op.Face, Setup: chucked(op.Chuck, -30, -2), Removes: []work.Removal{
			work.EndCut{End: part.Right, Z: op.LenOf(units.MustLength(z + "mm"))},
		}}
	}
	check(t, problem.Gouge, []row{
		{"to size", r.of(cut("20", "60", "100"), bar), "nothing"},
		{"at the least", r.of(cut("19.8", "60", "100"), bar), "nothing"},
		{"under it", r.of(cut("19.79", "61", "99"), bar), "19.79 mm is left at z 61 mm | 19.8 mm at the least"},
		{"into the shoulder as it may", r.of(cut("20", "59.7", "100"), bar), "nothing"},
		{"further", r.of(cut("20", "59.6", "100"), bar), "20 mm is left at z 59.6 mm | 29.8 mm at the least"},
		{"a closer limit", fitted.of(cut("19.99", "61", "99"), bar), "19.99 mm is left at z 61 mm | 20 mm at the least"},
		{"broken edges", r.of(cut("19.4", "99.7", "101", op.BrokenEdge), bar), "nothing"},
		{
			"not broken so far", r.of(cut("19.4", "99.4", "101", op.BrokenEdge), bar),
			"19.4 mm is left at z 99.4 mm | 19.8 mm at the least",
		},
		// M20's pitch is 2.5: its 6g blank is 19.623 at the least (ISO 965-2), its relief 4 under and
		// 7.5 wide, its root 20 - 1.2268·2.5 = 16.93
		{"a thread's blank", threaded.of(cut("19.63", "80", "100"), bar), "nothing"},
		{"a thin blank", threaded.of(cut("19.62", "80", "99"), bar), "19.62 mm is left at z 80 mm | 19.623 mm at the least"},
		{"a relief", threaded.of(cut("16", "73", "80", op.ThreadRelief), bar), "nothing"},
		{
			"a relief that is not said", threaded.of(cut("16", "73", "80"), bar),
			"16 mm is left at z 73 mm | 19.8 mm at the least",
		},
		{
			"a wide relief", threaded.of(cut("16", "72", "80", op.ThreadRelief), bar),
			"16 mm is left at z 72 mm | 19.8 mm at the least",
		},
		{"a thread's chamfer", threaded.of(cut("17", "99", "101", op.ThreadChamfer), bar), "nothing"},
		// 2 ±0.2 deep, ISO 2768-1's table 2, off a cylinder of 19.8 at the least
		{"a chamfer", edged.of(chamfer(2*mm), bar), "nothing"},
		{"a chamfer of 3", edged.of(chamfer(3*mm), bar), "17.3 mm is left at z 98.35 mm | 19.8 mm at the least"},
		{"a chamfer that is not drawn", r.of(chamfer(2*mm), bar), "18.3 mm is left at z 98.85 mm | 19.8 mm at the least"},
		{"the length at its least", r.of(end("99.7"), bar), "nothing"},
		{"a short part", r.of(end("99.6"), bar), "cut off at z 99.6 mm | z 99.7 mm at the least"},
	})
}

// nut has a bore of 10 right through, ±0.2, and one of 16 that is 20 deep, ±0.2
// too; a hexagon of 26 across flats; a hole of 4 at z 40, ±0.1 and ±0.3 in its
// place.
const nut = `
format: 1
part: Nut
units: mm
material: mild-steel
round:
  profile: [[0, 30], [10, 30], [10, 26], [30, 26], [30, 30], [60, 30]]
  facets:
    - {sides: 6, from: 10, to: 30, across: flats}
  bores:
    - {from: left, dia: 10, through: true}
    - {from: right, dia: 16, depth: 20}
  holes:
    - {at: 40, dia: 4, roll: 30, depth: 6}
`

func TestGougeInside(t *testing.T) {
	r := setUp(t, nut, shed)
	is := func(text string) work.Len { return op.LenOf(units.MustLength(text + "mm")) }
	cut := func(x work.Removal, allowed ...op.Allowed) op.Op {
		return op.Op{Kind: op.Bore, Setup: chucked(op.Chuck, -30, -2), Removes: []work.Removal{x}, Allowed: allowed}
	}
	bore := func(dia, deep string) work.Removal {
		return work.Bore{From: part.Right, Dia: is(dia), Depth: is(deep), Point: 180e6}
	}
	hole := func(z, dia string, roll work.Deg, deep *work.Len) work.Removal {
		return work.Cross{Z: is(z), Dia: is(dia), Roll: roll * 1e6, Depth: deep}
	}
	six := new(is("6"))
	flats := func(sides int, across string) work.Removal {
		return work.Flats{From: is("10"), To: is("30"), Sides: sides, AcrossFrom: is(across), AcrossTo: is(across)}
	}
	w := r.bar(-30, 60, 31)
	check(t, problem.Gouge, []row{
		{"the large bore", r.of(cut(bore("16.2", "20.2")), w), "nothing"},
		{"too wide", r.of(cut(bore("16.21", "20")), w), "16.21 mm is bored at z 40 mm | 16.2 mm at the most"},
		{"too deep", r.of(cut(bore("16", "20.3")), w), "16 mm is bored at z 39.7 mm | 10.2 mm at the most"},
		{"deeper for a reamer's lead of 2", r.of(cut(bore("15.8", "22.2"), op.ReamerLead), w), "nothing"},
		{
			"deeper than that", r.of(cut(bore("15.8", "22.3"), op.ReamerLead), w),
			"15.8 mm is bored at z 37.7 mm | 10.2 mm at the most",
		},
		{"a hole as deep for one", r.of(cut(hole("40", "3.9", 30, new(is("8.1"))), op.ReamerLead), w), "nothing"},
		{
			"a hole deeper", r.of(cut(hole("40", "3.9", 30, new(is("8.2"))), op.ReamerLead), w),
			"the hole at z 40 mm is too deep | it is drawn 6 mm deep",
		},
		{"the small bore", r.of(cut(bore("10.2", "60")), w), "nothing"},
		{
			"a mouth", r.of(cut(work.Bore{From: part.Right, Dia: 18 * mm, EndDia: 16 * mm, Depth: mm}, op.CountersinkOK), w),
			"nothing",
		},
		{"a hole", r.of(cut(hole("40", "4.1", 30, six)), w), "nothing"},
		{"at its place", r.of(cut(hole("40.3", "4", 30, six)), w), "nothing"},
		{"beside it", r.of(cut(hole("40.4", "4", 30, six)), w), "a hole of 4 mm at z 40.4 mm | the drawing has none there"},
		{
			"at another roll", r.of(cut(hole("40", "4", 210, six)), w),
			"a hole of 4 mm at z 40 mm | the drawing has none there",
		},
		{"right through", r.of(cut(hole("40", "4", 30, nil)), w), "the hole at z 40 mm is too deep | it is drawn 6 mm deep"},
		{"flats", r.of(cut(flats(6, "25.8")), w), "nothing"},
		{"close flats", r.of(cut(flats(6, "25.7")), w), "25.7 mm across flats at z 10 mm | 25.8 mm at the least"},
		{"other flats", r.of(cut(flats(4, "26")), w), "4 sides z 10 mm to 30 mm | the drawing has none there"},
		{
			"a thread", r.of(cut(work.Thread{From: 0, To: mm, Spec: "M30", Major: 30 * mm}), w),
			"a thread M30 | the drawing has none there",
		},
		{
			"a slot", r.of(cut(work.Slot{From: 0, To: mm, Width: mm}), w),
			"a slot z 0 mm to 1 mm | the drawing has none there",
		},
	})
}

// A counterbore of 16, 20 deep, with a point leaves metal for M12 from 20 + 4/2/tan 59 =
// 21.202 deep on, in 60 at z 38.798; at z 38.8 it is 16 - 1.2 x 2 tan 59 = 12.006.
// Nothing is spotted where it is bored.
func TestThreadInMetal(t *testing.T) {
	r := setUp(t, nut+"  threads: [{from: right, spec: M12, depth: 40, inside: true}]\n", shed)
	w := r.bar(-30, 60, 31).After(
		work.Bore{From: part.Right, Dia: 10200 * mm / 1000, Depth: 60 * mm, Through: true},
		work.Bore{From: part.Right, Dia: 16 * mm, Depth: 20 * mm, Point: 118e6},
	)
	thread := func(to string) op.Op {
		return op.Op{Kind: op.Tap, Setup: chucked(op.Chuck, -30, -2), Removes: []work.Removal{work.Thread{
			From: 20 * mm, To: op.LenOf(units.MustLength(to + "mm")), Spec: "M12", Inside: true, Cut: work.ToHeadstock,
			Major: 12 * mm,
		}}}
	}
	check(t, problem.Complete, []row{
		{"below the point", r.of(thread("38.798"), w), "nothing"},
		{"in the point", r.of(thread("38.8"), w), "12.006 mm is bored at z 38.8 mm | there is no metal for M12 there"},
		{"in the counterbore", r.of(thread("45"), w), "16 mm is bored at z 45 mm | there is no metal for M12 there"},
	})
	spot := func(dia work.Len) op.Op {
		return op.Op{Kind: op.Spot, Setup: chucked(op.Chuck, -30, -2), Removes: []work.Removal{
			work.Centre{End: part.Right, Dia: dia, Pilot: mm},
		}}
	}
	check(t, problem.StartSize, []row{
		{"a spot in the solid", r.of(spot(3*mm), r.bar(-30, 60, 31)), "nothing"},
		{"a spot in the bore", r.of(spot(3*mm), w), "16 mm is bored in the right end | 3 mm across is the centre hole"},
	})
}

func TestStartSize(t *testing.T) {
	r := setUp(t, shaft, shed)
	turn := op.Op{
		Kind: op.Turn, Setup: chucked(op.Chuck, 0, 28), Tool: op.Tool{Hand: op.Right},
		Removes: []work.Removal{turned(60, 100, 20, work.Finished)},
	}
	rough := r.bar(0, 100, 32).After(turned(60, 100, 21, work.Rough))
	is := func(text string) work.State { return rough.Measured(80*mm, op.LenOf(units.MustLength(text+"mm"))) }
	n := setUp(t, nut, shed)
	bore := op.Op{Kind: op.Bore, Setup: chucked(op.Chuck, -30, -2), Removes: []work.Removal{
		work.Bore{From: part.Right, Dia: 16 * mm, Depth: 20 * mm, Point: 180e6},
	}}
	bored := func(dia string) work.State {
		return n.bar(-30, 60, 31).After(work.Bore{
			From: part.Right, Dia: op.LenOf(units.MustLength(dia + "mm")), Depth: 20 * mm, Point: 180e6,
		})
	}
	check(t, problem.StartSize, []row{
		{"larger", r.of(turn, rough), "nothing"},
		{"within its limits", r.of(turn, is("19.9")), "nothing"},
		{"under size", r.of(turn, is("19.5")), "19.5 mm is on the bar at z 80 mm | 19.8 mm at the least"},
		{"a bore", n.of(bore, bored("15")), "nothing"},
		{"a bore that is over size", n.of(bore, bored("16.5")), "16.5 mm is bored at z 50 mm | 16.2 mm at the most"},
	})
	spot := func(dia, pilot work.Len) op.Op {
		return op.Op{Kind: op.Spot, Setup: chucked(op.Chuck, 0, 28), Removes: []work.Removal{
			work.Centre{End: part.Right, Dia: dia, Pilot: pilot},
		}}
	}
	centred := r.bar(0, 100, 20).After(work.Centre{End: part.Right, Dia: 5_300_000, Pilot: 2_500_000})
	check(t, problem.StartSize, []row{
		{"a spot in the solid", r.of(spot(2_120_000, mm), r.bar(0, 100, 20)), "nothing"},
		{
			"in a wider centre hole", r.of(spot(2_120_000, mm), centred),
			"5.3 mm across is the centre hole in the right end already | 2.12 mm across is what is drilled",
		},
		{"in a narrower one", r.of(spot(6_700_000, 3_150_000), centred), "nothing"},
	})
}

// A shaft from a bar of 32 by hand: both ends faced, three cylinders.
func TestComplete(t *testing.T) {
	r := setUp(t, shaft, shed)
	made := func(id string, makes ...string) *op.Op { return &op.Op{ID: id, Makes: makes} }
	ops := []*op.Op{
		made("face-right", outline.FaceID(part.Right)), made("face-left", outline.FaceID(part.Left)),
		made("one", "outside-1"), made("two", "outside-2"), made("three", "outside-3"),
	}
	done := r.bar(-1, 101, 32).After(
		work.EndCut{End: part.Right, Z: 100 * mm}, work.EndCut{End: part.Left}, turned(0, 30, 20, work.Finished),
		turned(30, 60, 30, work.Finished), turned(60, 100, 20, work.Finished),
	)
	hole := work.Centre{End: part.Left, Dia: 4 * mm, Pilot: 2 * mm}
	centre := &op.Op{ID: "centre-left", Name: "centre the left end", Removes: []work.Removal{hole}}
	for _, tc := range []struct {
		name  string
		ops   []*op.Op
		final work.State
		want  string
	}{
		{"done", ops, done, ""},
		{"one is not made", ops[:4], done, "outside-3: no operation brings it to its final size"},
		{
			"one is made twice", append(ops, made("again", "outside-3")), done,
			"outside-3: brought to its final size by three and again by again",
		},
		{
			"under size", ops, done.After(turned(70, 90, 19, work.Finished)),
			"outside-3: is 19 mm at z 70 mm, and the drawing wants 19.8 mm to 20.2 mm",
		},
		{
			"too thick", ops, r.bar(0, 100, 31).After(
				work.EndCut{End: part.Right, Z: 100 * mm}, work.EndCut{End: part.Left},
				turned(0, 30, 20, work.Finished), turned(60, 100, 20, work.Finished), turned(30, 60, 31, work.Finished)),
			"outside-2: is 31 mm at z 30.2 mm, and the drawing wants 29.8 mm to 30.2 mm",
		},
		{"sawn", ops, r.bar(0, 100, 30).After(turned(0, 30, 20, work.Finished), turned(60, 100, 20, work.Finished),
			work.EndCut{End: part.Left}), "face-right: is left as it was sawn"},
		{
			"too long", ops, r.bar(0, 101, 30).After(turned(0, 30, 20, work.Finished), turned(60, 101, 20, work.Finished),
				work.EndCut{End: part.Left}, work.EndCut{End: part.Right, Z: 101 * mm}),
			"face-right: stands at z 101 mm, and the drawing wants z 99.7 mm to 100.3 mm\n" +
				"length: is 101 mm, and the drawing wants 99.7 mm to 100.3 mm",
		},
		{
			"a centre hole", append(ops[:len(ops):len(ops)], centre), done.After(hole),
			"face-left: step " + strconv.Itoa(len(ops)+1) + ", centre the left end: leaves a centre hole in the left end, " +
				"and none may stay (centres)",
		},
	} {
		r.Centres = part.RemoveCentres
		if got := Complete(r.Job, tc.ops, tc.final).Error(); got != tc.want {
			t.Errorf("%s:\ngot  %s\nwant %s", tc.name, got, tc.want)
		}
	}
}

// Low-carbon steel, Rm = 380 MPa: a fifth is 76. Facing pushes 1.5·20 N aside, so a neck of 6 carries
// a = π·6³·76/(32·30) = 53.72 beyond it; at 54 it would want (32·30·54/(π·76))^(1/3) = 6.01. Roughing 1
// deep at 0.1 pushes 180.5 N: a neck of 10 carries π·10³·76/(32·180.5) = 41.34; 42 wants 10.053. A neck of 12
// bored 11.5 is as strong as ((12⁴ - 11.5⁴)/12)^(1/3) = 6.467, which carries 67.28; 68 wants 6.490.
func TestBends(t *testing.T) {
	r := setUp(t, rod, shed)
	face := op.Op{Kind: op.Face, Setup: chucked(op.Chuck, 0, 20), Push: op.Cut{Side: true}}
	rough := op.Op{
		Kind: op.Turn, Setup: chucked(op.Chuck, 0, 20), Push: op.Cut{Depth: 1, Feed: 0.1}, Tool: op.Tool{Hand: op.Right},
	}
	necked := func(o op.Op, dia, to work.Len, also ...work.Removal) Case {
		w := r.bar(0, to, 20).After(turned(45, 50, dia, work.Rough)).After(also...)
		o.Removes = []work.Removal{work.EndCut{End: part.Right, Z: (to - 1) * mm}}
		if o.Kind == op.Turn {
			o.Removes = []work.Removal{turned(to-4, to, 18, work.Rough)}
		}
		return r.of(o, w)
	}
	bore := work.Bore{From: part.Left, Dia: 115 * mm / 10, Depth: 300 * mm, Through: true}
	carried := necked(rough, 10, 120)
	carried.Op.Setup.Support = op.AtCentre
	check(t, problem.Overhang, []row{
		{"facing 53 beyond a neck of 6", necked(face, 6, 98), "ok"},
		{"facing 54 beyond it", necked(face, 6, 99), "6 mm carries the cut at z 45 mm | 6.01 mm wanted"},
		{"roughing 41 beyond a neck of 10", necked(rough, 10, 86), "ok"},
		{"roughing 42 beyond it", necked(rough, 10, 87), "10 mm carries the cut at z 45 mm | 10.053 mm wanted"},
		{"facing 67 beyond a tube", necked(face, 12, 112, bore), "ok"},
		{"facing 68 beyond it", necked(face, 12, 113, bore), "6.467 mm carries the cut at z 45 mm | 6.49 mm wanted"},
		{"on a centre", carried, "ok"},
	})
}

// In a split nut on M20 three diameters, 60, stand out, and 61 do not; on a centre they do. On a threaded
// stub M12 it is 36 beyond the thread.
func TestScrewedOut(t *testing.T) {
	r := setUp(t, rod+"  threads: [{from: left, spec: M20, length: 30}]\n", shed)
	threaded := func(to work.Len) work.State {
		return r.bar(0, to, 20).After(work.Thread{From: 0, To: 30 * mm, Spec: "M20", Major: 20 * mm})
	}
	nut := op.Op{Kind: op.Face, Setup: chucked(op.SplitNut, 0, 20)}
	stub := with(nut, func(o *op.Op) { o.Setup.Device = op.ThreadedStub })
	tapped := func(to work.Len) work.State {
		return r.bar(0, to, 50).After(work.Bore{From: part.Left, Dia: 102 * mm / 10, Depth: 20 * mm},
			work.Thread{From: 0, To: 20 * mm, Spec: "M12", Inside: true, Major: 12 * mm})
	}
	check(t, problem.Overhang, []row{
		{"60 out of a nut", r.of(nut, threaded(80)), "ok"},
		{
			"61 out of it", r.of(nut, threaded(81)),
			"61 mm stands out of the split nut turned for it without a centre | 60 mm at the most",
		},
		{"36 beyond a stub", r.of(stub, tapped(56)), "ok"},
		{
			"37 beyond it", r.of(stub, tapped(57)),
			"37 mm stands out of the threaded stub turned for it without a centre | 36 mm at the most",
		},
		{"on a centre", r.of(with(nut, func(o *op.Op) { o.Setup.Support = op.AtCentre }), threaded(100)), "nothing"},
	})
}
