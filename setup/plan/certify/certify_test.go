package certify

import (
	"strings"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/maker/files"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

const mm = work.MM

// shed is a shop with everything that is asked for.
const shed = `
format: 1
shop: Test
units: mm
lathe:
  spindle: {speeds: [120, 1450]}
  spindle_bore: 20
  between_centres: 400
  chuck: {diameter: 100, jaws: 3, jaw_length: 28, jaw_circle: 110, range: [2, 100], through: 22}
  four_jaw: {diameter: 125, jaw_length: 30, range: [4, 120], through: 25}
  soft_jaws: true
  mandrels: [6, 10]
  centre_nose: 12
  collets: ER32
  parting: {blade: 2, most: 25, reach: 14}
  tools: [{hand: right, trail: 8deg}, {hand: left, trail: 8deg}]
  tool_post: {size: 65, holder_width: 16, overhang: 25}
  compound:
    scale: {zero: along, step: 1deg, numbering: up, limit: 60deg}
    width: 60
    length: 130
    top_below_centre: 20
  tailstock: {taper: MT2}
  steady: {from: 5, to: 50}
dividing_head: {ratio: 40, plates: [[15, 16]]}
v_blocks: {angle: 90deg, apex: 12, opening: 42, relief: 3, pair: true}
collet_blocks: [4, 6]
`

// shaft is 100 long: 20 over its first 30, 30 to 60, 20 to 100.
const shaft = `
format: 1
part: Shaft
units: mm
material: mild-steel
round:
  profile: [[0, 20], [30, 20], [30, 30], [60, 30], [60, 20], [100, 20]]
`

// rig is a part in a shop.
type rig struct{ *Job }

// setUp reads a part and a shop.
func setUp(t testing.TB, partText, shopText string) rig {
	t.Helper()
	s, _, err := files.ReadShop("shop.yaml", []byte(shopText))
	if err != nil {
		t.Fatal(err)
	}
	return newRig(t, partText, s)
}

func newRig(t fatal, partText string, s *shop.Shop) rig {
	p, _, err := files.ReadPart("part.yaml", []byte(partText))
	if err != nil {
		t.Fatal(err)
	}
	m, err := materials.Find(p.Material)
	if err != nil {
		t.Fatal(err)
	}
	o, err := outline.New(p.Round)
	if err != nil {
		t.Fatal(err)
	}
	l, err := limits.Of(p, o)
	if err != nil {
		t.Fatal(err)
	}
	return rig{NewJob(s, m, o, l)}
}

// fatal is a test, or one of rapid's.
type fatal interface{ Fatal(...any) }

// without returns a shop's text without what is named: a word and what stands
// in its line after it, or to the comma.
func without(t testing.TB, text string, words ...string) string {
	for _, w := range words {
		if !strings.Contains(text, w) {
			t.Fatalf("%q is not in the shop", w)
		}
		text = strings.Replace(text, w, "", 1)
	}
	return text
}

// span is in whole millimetres.
func span(from, to work.Len) work.Span { return work.Span{From: from * mm, To: to * mm} }

// turned is an outside at one diameter.
func turned(from, to, dia work.Len, stage work.Stage) work.Removal {
	return work.Turned(span(from, to), dia*mm, stage)
}

// bar is a round bar that lies from one z to another.
func (r rig) bar(from, to, dia work.Len) work.State {
	return work.Bar(op.LenOf(r.Shape.Length), span(from, to), dia*mm, 0, 0)
}

// chucked is a set-up of the lathe with the right end out.
func chucked(d op.Device, from, to work.Len) op.Setup {
	return op.Setup{Machine: op.Lathe, Device: d, Held: span(from, to), Out: part.Right}
}

// asBought is an operation on what is held as it was bought.
func asBought(o op.Op) op.Op {
	o.Setup.On = op.Stock
	return o
}

// of returns the case of an operation on the work.
func (r rig) of(o op.Op, w work.State) Case {
	return Case{Job: r.Job, Op: &o, Before: w, After: w.After(o.Removes...)}
}

// judged returns what a row says: "nothing", "ok", or what it was against what,
// with the words of both.
func judged(r Report, code problem.Code) string {
	said := "nothing"
	for _, c := range r.Checks {
		switch {
		case c.Code != code:
		case !c.OK && c.Remedy == "":
			return "no remedy"
		case !c.OK:
			return say.Of(c.Value, " | ", c.Limit).String()
		default:
			said = "ok"
		}
	}
	return said
}

// row is what one row says of a case.
type row struct {
	name string
	Case
	want string
}

func check(t *testing.T, code problem.Code, rows []row) {
	t.Helper()
	for _, x := range rows {
		if got := judged(x.Check(), code); got != x.want {
			t.Errorf("%s, %s:\ngot  %s\nwant %s", code, x.name, got, x.want)
		}
	}
}

// with changes an operation.
func with(o op.Op, change func(*op.Op)) op.Op {
	change(&o)
	return o
}

func TestGripSurface(t *testing.T) {
	r := setUp(t, shaft, shed)
	face := op.Op{Kind: op.Face, Removes: []work.Removal{work.EndCut{End: part.Right, Z: 100 * mm}}}
	in := func(d op.Device, from, to work.Len) op.Op {
		return with(face, func(o *op.Op) { o.Setup = chucked(d, from, to) })
	}
	bar := r.bar(-1, 101, 32)
	stepped := bar.After(turned(0, 30, 20, work.Finished))
	cross := func(dia work.Len) work.State {
		return stepped.After(work.Cross{Z: 15 * mm, Dia: dia * mm})
	}
	flats := func(sides int) work.State {
		return stepped.After(work.Flats{From: 0, To: 30 * mm, Sides: sides, AcrossFrom: 16 * mm, AcrossTo: 16 * mm})
	}
	threaded := r.bar(0, 101, 32).After(
		turned(0, 30, 20, work.Finished), work.Thread{From: 0, To: 30 * mm, Spec: "M20", Major: 20 * mm})
	bored := bar.After(work.Bore{From: part.Left, Dia: 10 * mm, Depth: 100 * mm, Through: true})
	onStub := r.bar(-10, 101, 32).After(
		turned(0, 30, 20, work.Finished), work.Thread{From: 0, To: 30 * mm, Spec: "M20", Major: 20 * mm})
	tapped := bored.After(work.Thread{From: 0, To: 30 * mm, Spec: "M12", Inside: true, Major: 12 * mm})
	counterbored := bored.After(work.Bore{From: part.Left, Dia: 14 * mm, Depth: 10 * mm, Point: 180e6})
	check(t, problem.GripSurface, []row{
		{"a cylinder", r.of(in(op.Chuck, 0, 20), stepped), "ok"},
		{
			"over a step", r.of(in(op.Chuck, 20, 40), stepped),
			"held over z 20 mm to 40 mm | one diameter all along is wanted there",
		},
		{
			"beyond the bar", r.of(in(op.Chuck, -10, 20), bar),
			"held over z -10 mm to 20 mm | one diameter all along is wanted there",
		},
		{"as bought", r.of(asBought(in(op.Chuck, 0, 20)), bar), "ok"},
		{
			"as bought, and cut there", r.of(asBought(in(op.Chuck, 0, 20)), stepped),
			"held over z 0 mm to 20 mm, which is cut | the bar as bought is wanted there",
		},
		{
			"in the V-blocks as bought, and cut there", r.of(asBought(in(op.VBlocks, 0, 20)), stepped),
			"held over z 0 mm to 20 mm, which is cut | the bar as bought is wanted there",
		},
		{"nothing", r.of(in(op.Chuck, 0, 0), bar), "nothing is held | a surface for the chuck is wanted"},
		// a third of 20 is 6.667
		{"a hole of a third", r.of(in(op.Chuck, 0, 20), cross(6)), "ok"},
		{
			"a wider one", r.of(in(op.Chuck, 0, 20), cross(7)),
			"7 mm wide is the hole where it is held | 6.667 mm is the most, a third of the diameter",
		},
		{"a wider one elsewhere", r.of(in(op.Chuck, 20, 30), cross(7)), "ok"},
		{
			"a slot", r.of(in(op.Chuck, 0, 20), stepped.After(work.Slot{From: 2 * mm, To: 8 * mm, Width: 8 * mm})),
			"8 mm wide is the slot where it is held | 6.667 mm is the most, a third of the diameter",
		},
		{"six sides in three jaws", r.of(in(op.Chuck, 0, 20), flats(6)), "ok"},
		{"eight in three", r.of(in(op.Chuck, 0, 20), flats(8)), "8 sides | which the chuck does not hold"},
		{"eight in four", r.of(in(op.FourJaw, 0, 20), flats(8)), "ok"},
		{"six in four", r.of(in(op.FourJaw, 0, 20), flats(6)), "6 sides | which the four-jaw chuck does not hold"},
		{"six in a round collet", r.of(in(op.Collet, 0, 20), flats(6)), "6 sides | which the collet does not hold"},
		{
			"a thread", r.of(in(op.Chuck, 0, 20), threaded),
			"held over z 0 mm to 20 mm, a thread | which jaws would crush",
		},
		{"a thread in a split nut", r.of(in(op.SplitNut, 0, 20), threaded), "ok"},
		{"over a stub", r.of(in(op.SplitNut, 0, 20), onStub.After(turned(-10, 0, 20, work.Rough))), "ok"},
		{
			"over a larger one", r.of(in(op.SplitNut, 0, 20), onStub),
			"held over z 0 mm to 20 mm, a thread | the nut is screwed on from an end, " +
				"and what stands on both sides of the thread is larger",
		},
		{
			"no thread in a split nut", r.of(in(op.SplitNut, 0, 20), stepped),
			"held over z 0 mm to 20 mm | a thread for the split nut is wanted there",
		},
		{"a bore on a mandrel", r.of(in(op.Mandrel, 0, 60), bored), "ok"},
		{
			"no bore on a mandrel", r.of(in(op.Mandrel, 0, 60), bar),
			"held over z 0 mm to 60 mm | one plain bore is wanted there",
		},
		{
			"a counterbore on a mandrel", r.of(in(op.Mandrel, 0, 60), counterbored),
			"held over z 0 mm to 60 mm | one plain bore is wanted there",
		},
		{"behind the counterbore", r.of(in(op.Mandrel, 10, 60), counterbored), "ok"},
		{
			"a thread on a mandrel", r.of(in(op.Mandrel, 0, 60), tapped),
			"held over z 0 mm to 60 mm | a bore without a thread is wanted there",
		},
		{"a thread on a stub", r.of(in(op.ThreadedStub, 0, 20), tapped), "ok"},
		{
			"no thread on a stub", r.of(in(op.ThreadedStub, 0, 20), bored),
			"held over z 0 mm to 20 mm | an inside thread is wanted there",
		},
	})
}

// d = 20: max(8, 0.6·20 = 12) = 12; a hexagon 16 across flats wants max(8, 9.6).
// d = 40: 24. Soft jaws for facing that reaches less than 20: max(4, 0.15·20 = 3)
// = 4, of 40 6; a collet the smaller of 20 and 20.
func TestGripLength(t *testing.T) {
	r := setUp(t, shaft, shed)
	face := op.Op{Kind: op.Face, Removes: []work.Removal{work.EndCut{End: part.Right, Z: 100 * mm}}}
	in := func(d op.Device, from, to, z work.Len) op.Op {
		return with(face, func(o *op.Op) {
			o.Setup, o.Removes = chucked(d, from, to), []work.Removal{work.EndCut{End: part.Right, Z: z * mm}}
		})
	}
	bar, thick := r.bar(0, 100, 20), r.bar(0, 100, 40)
	hex := bar.After(work.Flats{From: 0, To: 100 * mm, Sides: 6, AcrossFrom: 16 * mm, AcrossTo: 16 * mm})
	bored := bar.After(work.Bore{From: part.Left, Dia: 10 * mm, Depth: 100 * mm, Through: true})
	tapped := bored.After(work.Thread{From: 0, To: 30 * mm, Spec: "M12", Inside: true, Major: 12 * mm})
	drilled := func(z work.Len, depth *work.Len) work.State {
		return bored.After(work.Cross{Z: z * mm, Dia: 8 * mm, Depth: depth})
	}
	waist := func(from, to work.Len) op.Op {
		return with(in(op.Arbor, 0, 99, 100), func(o *op.Op) {
			o.Kind, o.Removes = op.Turn, []work.Removal{turned(from, to, 18, work.Finished)}
		})
	}
	const broken = "49 mm held, where the bore is whole | "
	blind := func(dia, deep work.Len) work.State {
		return thick.After(work.Bore{From: part.Left, Dia: dia * mm, Depth: deep * mm, Point: 118e6})
	}
	turn := with(in(op.SoftJaws, 0, 8, 98), func(o *op.Op) { o.Kind = op.Turn })
	short := setUp(t, shaft, strings.Replace(shed, "jaw_length: 28", "jaw_length: 10", 1))
	unsaid := setUp(t, shaft, without(t, shed, "jaw_length: 28, "))
	check(t, problem.GripLength, []row{
		{"12 of 20", r.of(in(op.Chuck, 0, 12, 100), bar), "ok"},
		{"11 of 20", r.of(in(op.Chuck, 0, 11, 100), bar), "11 mm held | 12 mm wanted"},
		{"23 of 40", r.of(in(op.Chuck, 0, 23, 100), thick), "23 mm held | 24 mm wanted"},
		{"10 of a hexagon", r.of(in(op.Chuck, 0, 10, 100), hex), "ok"},
		{"9 of a hexagon", r.of(in(op.Chuck, 0, 9, 100), hex), "9 mm held | 9.6 mm wanted"},
		{"all of short jaws", short.of(in(op.Chuck, 0, 10, 100), bar), "ok"},
		{"most of short jaws", short.of(in(op.Chuck, 0, 9, 100), bar), "9 mm held | 10 mm wanted"},
		{"jaws of no length", unsaid.of(in(op.Chuck, 0, 11, 100), bar), "11 mm held | 12 mm wanted"},
		{"soft jaws, 15 out", r.of(in(op.SoftJaws, 0, 4, 19), r.bar(0, 23, 20)), "ok"},
		{"soft jaws, too little", r.of(in(op.SoftJaws, 0, 3, 19), r.bar(0, 22, 20)), "3 mm held | 4 mm wanted"},
		{"soft jaws of 40", r.of(in(op.SoftJaws, 0, 5, 30), r.bar(0, 40, 40)), "5 mm held | 6 mm wanted"},
		{"soft jaws, 20 out", r.of(in(op.SoftJaws, 0, 4, 24), r.bar(0, 24, 20)), "4 mm held | 12 mm wanted"},
		{"soft jaws for turning", r.of(turn, r.bar(0, 23, 20)), "8 mm held | 12 mm wanted"},
		{"a collet", r.of(in(op.Collet, 0, 20, 100), bar), "ok"},
		{"less of a collet", r.of(in(op.Collet, 0, 19, 100), bar), "19 mm held | 20 mm wanted"},
		{"a head, of 40", r.of(in(op.DividingHead, 0, 20, 100), thick), "ok"},
		{"half a bore", r.of(in(op.Mandrel, 0, 50, 100), bored), "ok"},
		{"less than half", r.of(in(op.Mandrel, 0, 49, 100), bored), "49 mm held | 50 mm wanted"},
		// a hole of 8 at 54 leaves 0 to 50 whole, one at 53 0 to 49 and 57 to 99
		{"past a hole", r.of(in(op.Arbor, 0, 99, 100), drilled(54, nil)), "ok"},
		{"half on each side of it", r.of(in(op.Arbor, 0, 99, 100), drilled(53, nil)), broken + "50 mm wanted"},
		{"cut between the two", r.of(waist(20, 80), drilled(53, nil)), "ok"},
		{"cut beyond one", r.of(waist(0, 80), drilled(53, nil)), broken + "50 mm wanted"},
		// at z 70 the wall is (20 - 10)/2 = 5; 74 to 99 is 25
		{"a hole that stops above the bore", r.of(in(op.Arbor, 40, 99, 100), drilled(70, new(work.Len(4_900_000)))), "ok"},
		{
			"one that comes into it", r.of(in(op.Arbor, 40, 99, 100), drilled(70, new(work.Len(5*mm)))),
			"26 mm held, where the bore is whole | 50 mm wanted",
		},
		{
			"a slot into it", r.of(in(op.Arbor, 40, 99, 100), bored.After(work.Slot{From: 60 * mm, To: 80 * mm, Width: 2 * mm})),
			"20 mm held, where the bore is whole | 50 mm wanted",
		},
		// a blind one of 20: 0.6·20 = 12, of 10 8 at the least, and half of 30 is 15
		{"a blind bore", r.of(in(op.Arbor, 0, 12, 100), blind(20, 13)), "ok"},
		{"less of one", r.of(in(op.Arbor, 0, 11, 100), blind(20, 12)), "11 mm held | 12 mm wanted"},
		{"a small one", r.of(in(op.Arbor, 0, 7, 100), blind(10, 8)), "7 mm held | 8 mm wanted"},
		{"a deep one", r.of(in(op.Arbor, 0, 14, 100), blind(10, 30)), "14 mm held | 15 mm wanted"},
		// 0.6·12 = 7.2
		{"a stub", r.of(in(op.ThreadedStub, 0, 8, 100), tapped), "ok"},
		{"less of a stub", r.of(in(op.ThreadedStub, 0, 7, 100), tapped), "7 mm held | 7.2 mm wanted"},
	})
	if got := strings.Join(unsaid.of(in(op.Chuck, 0, 11, 100), bar).Check().NotChecked, " "); got !=
		"lathe.chuck.jaw_length" {
		t.Errorf("not checked: %s", got)
	}
}

// The jaws are 28 long. A neck of 20 over z 0 to 20 stands before a body of 30;
// held by it with the left end out the body is in the jaws. Without its keys a
// chuck of 100 passes 36.
func TestJawRoom(t *testing.T) {
	r := setUp(t, shaft, shed)
	o := op.Op{Kind: op.Face}
	left := func(from, to work.Len) op.Op {
		return with(o, func(o *op.Op) {
			o.Setup = op.Setup{Machine: op.Lathe, Device: op.Chuck, Held: span(from, to), Out: part.Left}
		})
	}
	right := func(d op.Device, from, to work.Len, removes ...work.Removal) op.Op {
		return with(o, func(o *op.Op) { o.Setup, o.Removes = chucked(d, from, to), removes })
	}
	neck := r.bar(0, 100, 30).After(turned(0, 20, 20, work.Finished))
	unsaid := setUp(t, shaft, without(t, shed, ", through: 22", "  spindle_bore: 20\n"))
	half := setUp(t, shaft, without(t, shed, "  spindle_bore: 20\n"))
	check(t, problem.JawRoom, []row{
		{
			"the body in the jaws", r.of(left(5, 20), neck),
			"30 mm stands where the jaws are | 20 mm is what they hold",
		},
		{"the neck in the jaws", r.of(right(op.Chuck, 0, 20), neck), "nothing"},
		{"held on the body behind a neck", r.of(right(op.Chuck, 20, 48), neck), "ok"},
		{
			"30 through 20", r.of(right(op.Chuck, 60, 88), r.bar(0, 100, 30)),
			"30 mm goes through the jaws | 20 mm at the most",
		},
		{"20 through 20", r.of(right(op.Chuck, 60, 88), r.bar(0, 100, 20)), "ok"},
		{
			"21 through 20", r.of(right(op.Chuck, 60, 88), r.bar(0, 100, 21)),
			"21 mm goes through the jaws | 20 mm at the most",
		},
		{"ends in the jaws", r.of(right(op.Chuck, 60, 88), r.bar(60, 100, 30)), "nothing"},
		{"36 where it is not said", unsaid.of(right(op.Chuck, 60, 88), r.bar(0, 100, 36)), "ok"},
		{
			"37", unsaid.of(right(op.Chuck, 60, 88), r.bar(0, 100, 37)),
			"37 mm goes through the jaws | 36 mm at the most",
		},
		{
			"one of them said", half.of(right(op.Chuck, 60, 88), r.bar(0, 100, 23)),
			"23 mm goes through the jaws | 22 mm at the most",
		},
		{
			"through the four jaws", r.of(right(op.FourJaw, 60, 90), r.bar(0, 100, 21)),
			"21 mm goes through the jaws | 20 mm at the most",
		},
		{"a cut at the face", r.of(right(op.Chuck, 0, 28, turned(28, 100, 18, work.Rough)), r.bar(0, 100, 20)), "nothing"},
		{
			"a cut in the jaws", r.of(right(op.Chuck, 0, 28, turned(27, 100, 18, work.Rough)), r.bar(0, 100, 20)),
			"1 mm of the cut lies behind the jaws' face | 0 mm is right",
		},
		{"a bore reaches in", r.of(right(op.Chuck, 0, 28, work.Bore{From: part.Right, Dia: 5 * mm, Depth: 90 * mm}),
			r.bar(0, 100, 20)), "nothing"},
	})
	between := func(from work.Len) op.Op {
		return with(right(op.Centres, 0, 0, turned(from, 100, 18, work.Rough)), func(o *op.Op) { o.Setup.Held = work.Span{} })
	}
	check(t, problem.JawRoom, []row{
		{"beside the dog", r.of(between(12), r.bar(0, 100, 20)), "ok"},
		{"under the dog", r.of(between(11), r.bar(0, 100, 20)), "11 mm is left for the dog | 12 mm wanted"},
	})
	cone := func(to work.Len) work.State {
		return r.bar(0, 100, 20).After(work.Outside{
			Profile: []work.Point{{Z: 0, Dia: 16 * mm}, {Z: to * mm, Dia: 20 * mm}}, Stage: work.Finished,
		})
	}
	check(t, problem.GripSurface, []row{
		{
			"the dog on a cone", r.of(between(12), cone(12)),
			"20 mm down to 16 mm is clamped in the dog | a cylinder is wanted there",
		},
		{"the dog over a chamfer of 3", r.of(between(12), cone(3)), "nothing"},
		{
			"the dog over one of 4", r.of(between(12), cone(4)),
			"20 mm down to 16 mm is clamped in the dog | a cylinder is wanted there",
		},
		{"beside a cone", r.of(with(between(12), func(o *op.Op) { o.Setup.Out = part.Left }), cone(12)), "nothing"},
	})
	out := func(d op.Device, past, dia work.Len) op.Op {
		return with(right(d, 0, 28), func(o *op.Op) { o.Axial, o.Past, o.Dia = true, past*mm, (dia * mm).Length() })
	}
	check(t, problem.JawRoom, []row{
		{"a drill that ends in the work, in the jaws", r.of(with(out(op.Chuck, 5, 25), func(o *op.Op) {
			o.Setup.Held = span(0, 20) // the jaws to z -8
		}), r.bar(-6, 100, 30)), "nothing"},
		{"one that comes out in the jaws", r.of(with(out(op.Chuck, 5, 25), func(o *op.Op) {
			o.Setup.Held = span(0, 20)
		}), r.bar(0, 100, 30)), "nothing"},
		{
			"one that comes out behind them", r.of(out(op.Chuck, 5, 25), r.bar(0, 100, 30)),
			"25 mm goes through the jaws | 20 mm at the most",
		},
		{"one that their hole takes", r.of(out(op.Chuck, 5, 20), r.bar(0, 100, 30)), "ok"},
		{"nothing comes out", r.of(out(op.Chuck, 0, 25), r.bar(0, 100, 30)), "nothing"},
	})
	keys := strings.Join(unsaid.of(right(op.Chuck, 60, 88), r.bar(0, 100, 20)).Check().NotChecked, " ")
	if keys != "lathe.chuck.through lathe.spindle_bore" {
		t.Errorf("not checked: %s", keys)
	}
	for _, x := range []struct {
		j   rig
		d   op.Device
		dia work.Len
		yes bool
	}{
		{r, op.Chuck, 20, true},
		{r, op.Chuck, 21, false},
		{unsaid, op.Chuck, 36, true},
		{unsaid, op.Chuck, 37, false},
		{half, op.FourJaw, 25, true},
		{half, op.FourJaw, 26, false},
		{unsaid, op.Collet, 60, true}, // it passes what it holds
	} {
		if got := x.j.GoesThrough(op.Setup{Machine: op.Lathe, Device: x.d}, x.dia*mm); got != x.yes {
			t.Errorf("%d mm goes through the %s: %v, by hand %v", x.dia, x.d, got, x.yes)
		}
	}
}

func TestGripRange(t *testing.T) {
	r := setUp(t, shaft, shed)
	in := func(d op.Device) op.Op { return op.Op{Kind: op.Face, Setup: chucked(d, 0, 28)} }
	bored := func(dia string) work.State {
		return r.bar(0, 100, 30).After(work.Bore{
			From: part.Left, Dia: op.LenOf(units.MustLength(dia)), Depth: 100 * mm, Through: true,
		})
	}
	spread := func(d op.Device) op.Op { return with(in(d), func(o *op.Op) { o.Spread = true }) }
	disc := func(dia work.Len) work.State {
		return r.bar(0, 100, dia).After(work.Bore{From: part.Left, Dia: 10 * mm, Depth: 100 * mm, Through: true})
	}
	small := setUp(t, shaft, strings.Replace(shed, "range: [2, 100]", "range: [5, 20]", 1))
	list := setUp(t, shaft, strings.Replace(shed, "collets: ER32", "collets: [6, 10]", 1))
	bare := setUp(t, shaft, without(t, shed, "soft_jaws: true", "mandrels: [6, 10]", "collets: ER32"))
	check(t, problem.GripRange, []row{
		{"in it", small.of(in(op.Chuck), r.bar(0, 100, 20)), "nothing"},
		{"above it", small.of(in(op.Chuck), r.bar(0, 100, 21)), "21 mm is held | it grips 5 mm to 20 mm"},
		{"under it", small.of(in(op.Chuck), r.bar(0, 100, 4)), "4 mm is held | it grips 5 mm to 20 mm"},
		{"ER32 takes 20", r.of(in(op.Collet), r.bar(0, 100, 20)), "nothing"},
		{"and not 21", r.of(in(op.Collet), r.bar(0, 100, 21)), "21 mm is held | the collets hold 2 mm to 20 mm"},
		{"a collet of 10", list.of(in(op.Collet), r.bar(0, 100, 10)), "nothing"},
		{"not 8", list.of(in(op.Collet), r.bar(0, 100, 8)), "8 mm is held | the collets hold 5.5 mm to 10 mm"},
		{"a mandrel of 10", r.of(in(op.Mandrel), bored("10.05mm")), "ok"},
		{"not 10.06", r.of(in(op.Mandrel), bored("10.06mm")), "10.06 mm is held | the mandrels are of 6 mm, 10 mm"},
		{"an arbor", r.of(in(op.Arbor), bored("10.06mm")), "ok"},
		{"an arbor in work of 60", r.of(in(op.Arbor), disc(60)), "ok"},
		{
			"an arbor in work of 61", r.of(in(op.Arbor), disc(61)),
			"61 mm across, on an arbor of 10 mm | 60 mm at the most",
		},
		{"one that is spread in work of 150", r.of(spread(op.Arbor), disc(150)), "ok"},
		{
			"in work of 151", r.of(spread(op.Arbor), disc(151)),
			"151 mm across, on an arbor of 10 mm | 150 mm at the most",
		},
		{
			"a mandrel does not spread", r.of(spread(op.Mandrel), disc(61)),
			"61 mm across, on an arbor of 10 mm | 60 mm at the most",
		},
		{
			"no soft jaws", bare.of(in(op.SoftJaws), r.bar(0, 100, 20)),
			"20 mm is held | no soft jaws bored for it in this shop",
		},
		{"no mandrels", bare.of(in(op.Mandrel), bored("10mm")), "10 mm is held | no mandrel in this shop"},
		{"no collets", bare.of(in(op.Collet), r.bar(0, 100, 20)), "20 mm is held | no collet in this shop"},
	})
}

// The table of collets: every set has a size of its own, and takes from less to
// more.
func TestColletSets(t *testing.T) {
	for name, s := range colletSets() {
		if !strings.HasPrefix(name, "ER") || s[0] <= 0 || s[0] >= s[1] {
			t.Errorf("%s takes %v to %v", name, s[0], s[1])
		}
	}
	if len(colletSets()) != 8 {
		t.Errorf("%d sets", len(colletSets()))
	}
}

// What would mend a grip: another cylinder that is long enough, or none.
func TestElsewhere(t *testing.T) {
	r := setUp(t, shaft, shed)
	w := r.bar(0, 100, 30).After(turned(0, 30, 20, work.Finished), turned(60, 100, 20, work.Finished))
	for from, want := range map[work.Len]say.Text{
		20: "hold it on the 30 mm over z 30 mm to 60 mm", 0: "leave more of the bar on to hold it by",
	} {
		o := op.Op{Setup: chucked(op.Chuck, from, from+5)}
		k := checker{Case: r.of(o, w), cuts: []work.Span{span(60, 100)}}
		if from == 0 {
			k.cuts = []work.Span{span(0, 100)}
		}
		if got := k.elsewhere(); got.String() != want.String() {
			t.Errorf("held from z %v: %s, want %s", from, got, want)
		}
	}
}

// A finished surface is held over card in jaws, and so is said; where nothing
// spares it, it is refused.
func TestBruise(t *testing.T) {
	r := setUp(t, shaft, shed)
	in := func(d op.Device) op.Op { return op.Op{Kind: op.Face, Setup: chucked(d, 0, 28)} }
	rough, finished := r.bar(0, 100, 20), r.bar(0, 100, 21).After(turned(0, 100, 20, work.Finished))
	check(t, problem.Bruise, []row{
		{"bought", r.of(in(op.Chuck), rough), "nothing"},
		{"finished", r.of(in(op.Chuck), finished), "ok"},
	})
	for d, want := range map[op.Device]Over{
		op.Chuck: Card, op.SoftJaws: InSoftJaws, op.Collet: InColletHole, op.SplitNut: InBush, op.VBlocks: Bare,
	} {
		if got := Hold(r.of(in(d), finished)).Grip.Over; got != want {
			t.Errorf("%s: %q, want %q", d, got, want)
		}
	}
	k := checker{Case: r.of(in(op.Chuck), finished), held: Hold(r.of(in(op.Chuck), finished))}
	k.held.Grip.Over = Bare
	bruise(&k)
	want := "a finished surface is held bare | soft jaws, a bush or card would spare it"
	if got := judged(k.Report, problem.Bruise); got != want {
		t.Error(got)
	}
}
