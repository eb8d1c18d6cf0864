package rules_test

import (
	"slices"
	"strings"
	"testing"
	"unicode"

	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
	"setover/setup/plan/rules"
	"setover/setup/plan/work"
)

func mm(text string) units.Length { return units.MustLength(text + "mm") }

func span(from, to string) op.Span { return op.Span{From: mm(from), To: mm(to)} }

// The ways a thing is held that the pairs below stand in.
var (
	chuckLeft  = holding(op.Lathe, op.Chuck, op.Stock, 53, 81, part.Left)
	band       = op.SurfaceOf(op.Cylinder, span("20", "50"), mm("20"))
	chuckRight = holding(op.Lathe, op.Chuck, band, 20, 47, part.Right)
	blocks     = holding(op.MillMachine, op.VBlocks, op.Stock, 5, 45, "")
	head       = holding(op.MillMachine, op.DividingHead, band, 20, 40, part.Right)
	sawn       = op.Setup{Machine: op.BandSaw, Device: op.Vice, On: op.Stock}
	byHand     = op.Setup{Machine: op.Bench, Device: op.ByHand}
	roll       = units.Degrees(30)
)

// vice holds a block with a face up.
func vice(up part.Face) op.Setup {
	return op.Setup{Machine: op.MillMachine, Device: op.Vice, State: op.State{Up: up, Fixed: part.Front}}
}

func mills(f part.Face) func(*op.Op)       { return func(o *op.Op) { o.Mills = f } }
func trues(list ...part.Face) func(*op.Op) { return func(o *op.Op) { o.Trues = list } }
func opens(s op.Setup) func(*op.Op)        { return func(o *op.Op) { o.Opens = []op.Grip{s.Grip()} } }

// holding is a device that holds a surface over so many millimetres.
func holding(m shop.Machine, d op.Device, on op.Surface, from, to op.Len, out part.End) op.Setup {
	return op.Setup{Machine: m, Device: d, On: on, Held: work.Span{From: from * work.MM, To: to * work.MM}, Out: out}
}

// on returns an operation of a kind, in a set-up and over a stretch, changed.
func on(kind op.Kind, s op.Setup, cuts op.Span, change ...func(*op.Op)) *op.Op {
	o := &op.Op{Kind: kind, Setup: s, Cuts: cuts, Dia: mm("20")}
	for _, c := range change {
		c(o)
	}
	return o
}

func rough(o *op.Op)             { o.Rough = true }
func axial(o *op.Op)             { o.Axial = true }
func rolled(o *op.Op)            { o.Roll = &roll }
func zero(o *op.Op)              { o.Zero = true }
func centred(o *op.Op)           { o.Setup.Support = op.AtCentre }
func shimmed(o *op.Op)           { o.Setup.State.Shim = true }
func geared(o *op.Op)            { o.Setup.State.Lead = op.Lead{Over: 3, Under: 2} }
func offset(o *op.Op)            { o.Setup.State.Offset = 2 }
func relieved(o *op.Op)          { o.Relieved = true }
func toPart(o *op.Op)            { o.Feature.Kind = op.PartOff }
func formed(o *op.Op)            { o.Tool.Hand = op.Form }
func dia(d string) func(*op.Op)  { return func(o *op.Op) { o.Dia = mm(d) } }
func root(d string) func(*op.Op) { return func(o *op.Op) { o.Root = mm(d) } }
func gauged(o *op.Op)            { o.Gauged, o.Ends = true, [2]op.Len{18 * work.MM, 20 * work.MM} }
func cutOff(o *op.Op)            { o.Removed(work.EndCut{End: part.Right}) }
func of(kind op.Kind, n int) func(*op.Op) {
	return func(o *op.Op) { o.Feature = op.Feature{Kind: kind, N: n} }
}
func leaves(s op.Surface) func(*op.Op) { return func(o *op.Op) { o.Leaves = s } }
func held(s op.Surface) func(*op.Op)   { return func(o *op.Op) { o.Setup.On = s } }
func device(d op.Device) func(*op.Op)  { return func(o *op.Op) { o.Setup.Device = d } }

// pair is two operations, and whether a rule binds the first before the second.
type pair struct {
	rule  string
	binds bool
	why   string
	a, b  *op.Op
}

// pairs says of every rule what it binds and, one condition changed, what it does
// not.
//
// Long: a few rows a rule.
func pairs() []pair {
	near, far, apart := span("0", "20"), span("10", "30"), span("30", "50")
	outer := chuckLeft
	sawing := on(op.Saw, op.Setup{Machine: op.BandSaw, Device: op.Vice, On: op.Stock}, apart)
	sawing.Removes = []work.Removal{work.EndCut{End: part.Right, Sawn: true}}
	return []pair{
		{"face-first", true, "sawn first", on(op.Saw, op.Setup{}, near), on(op.Face, chuckLeft, near)},
		{"face-first", true, "the same end", on(op.Face, chuckLeft, near), on(op.Turn, chuckLeft, near)},
		{"face-first", false, "the other end", on(op.Face, chuckLeft, near), on(op.Turn, chuckRight, near)},
		{"face-first", false, "a face before a face", on(op.Face, chuckLeft, near), on(op.Face, chuckLeft, near)},
		{
			"face-first", true, "z is measured from it",
			on(op.Face, chuckLeft, near, zero), on(op.Spot, blocks, near, rolled),
		},
		{"face-first", false, "z is not", on(op.Face, chuckLeft, near), on(op.Spot, blocks, near, rolled)},

		{"centre-support", true, "faced, then centred", on(op.Face, chuckLeft, near), on(op.Centre, chuckLeft, near)},
		{"centre-support", false, "the other end's", on(op.Face, chuckRight, near), on(op.Centre, chuckLeft, near)},
		{
			"centre-support", true, "it holds that end",
			on(op.Centre, chuckLeft, near), on(op.Turn, chuckLeft, near, centred),
		},
		{"centre-support", false, "it holds nothing", on(op.Centre, chuckLeft, near), on(op.Turn, chuckLeft, near)},
		{
			"centre-support", true, "between centres",
			on(op.Centre, chuckLeft, near), on(op.Taper, chuckRight, near, device(op.Centres)),
		},

		{
			"stub-last", true, "necked to be parted when all is done",
			on(op.Turn, chuckLeft, near), on(op.Turn, chuckLeft, apart, toPart),
		},
		{
			"stub-last", true, "necked, then parted",
			on(op.Turn, chuckLeft, apart, toPart), on(op.PartOff, chuckLeft, apart),
		},
		{
			"stub-last", false, "necked twice",
			on(op.Turn, chuckLeft, apart, toPart), on(op.Turn, chuckLeft, apart, toPart),
		},
		{
			"rough-finish", false, "the neck is not roughing",
			on(op.Turn, chuckLeft, apart, toPart, rough), on(op.Turn, chuckLeft, near),
		},
		{
			"swing-group", false, "the neck is cut with the compound as it is",
			on(op.Turn, chuckLeft, apart, toPart), on(op.Taper, chuckLeft, near),
		},

		{"true-grip", true, "held by it", on(op.Turn, chuckLeft, near, leaves(band)), on(op.Turn, chuckRight, apart)},
		{
			"true-grip", false, "roughing",
			on(op.Turn, chuckLeft, near, leaves(band), rough), on(op.Turn, chuckRight, apart),
		},
		{
			"true-grip", false, "another band",
			on(op.Turn, chuckLeft, near, leaves(op.Stock)), on(op.Turn, chuckRight, apart),
		},
		{
			"true-grip", false, "the same grip",
			on(op.Turn, chuckRight, near, leaves(band)), on(op.Turn, chuckRight, apart),
		},

		{
			"true-grip", true, "a face that is measured from", on(op.Mill, vice(part.Bottom), op.Span{}, mills(part.Bottom)),
			on(op.Drill, vice(part.Top), near, trues(part.Top, part.Bottom)),
		},
		{
			"true-grip", false, "a face that it does not need", on(op.Mill, vice(part.Back), op.Span{}, mills(part.Back)),
			on(op.Drill, vice(part.Top), near, trues(part.Top, part.Bottom)),
		},

		{
			"steady-land", true, "it runs on it",
			on(op.Turn, chuckLeft, near), on(op.Drill, chuckLeft.Steadied(10*work.MM), near, axial),
		},
		{
			"steady-land", false, "it runs on another",
			on(op.Turn, chuckLeft, apart), on(op.Drill, chuckLeft.Steadied(10*work.MM), near, axial),
		},
		{
			"steady-land", false, "only partly, z 16 mm to 26 mm",
			on(op.Turn, chuckLeft, near), on(op.Drill, chuckLeft.Steadied(21*work.MM), near, axial),
		},
		{"steady-land", false, "no steady", on(op.Turn, chuckLeft, near), on(op.Drill, chuckLeft, near, axial)},

		{"rough-finish", true, "one grip", on(op.Turn, chuckLeft, near, rough), on(op.Turn, chuckLeft, apart)},
		{
			"rough-finish", false, "another place in another grip",
			on(op.Turn, chuckLeft, near, rough), on(op.Turn, chuckRight, apart),
		},
		{"rough-finish", true, "the same place", on(op.Turn, chuckLeft, near, rough), on(op.Turn, chuckRight, far)},
		{
			"rough-finish", true, "stress is relieved",
			on(op.Turn, chuckLeft, near, rough, relieved), on(op.Taper, chuckRight, apart),
		},
		{
			"rough-finish", false, "roughing after roughing",
			on(op.Turn, chuckLeft, near, rough), on(op.Turn, chuckLeft, near, rough),
		},
		{
			"rough-finish", true, "a waist after the bar is roughed",
			on(op.Turn, chuckLeft, near, rough), on(op.Turn, chuckLeft, near, rough, formed),
		},
		{
			"rough-finish", false, "the bar after a waist",
			on(op.Turn, chuckLeft, near, rough, formed), on(op.Turn, chuckLeft, near, rough),
		},
		{"rough-finish", false, "finishing", on(op.Turn, chuckLeft, near), on(op.Turn, chuckLeft, near)},

		{"datum-roll", true, "a roll", on(op.Datum, blocks, near), on(op.Spot, blocks, near, rolled)},
		{"datum-roll", false, "no roll", on(op.Datum, blocks, near), on(op.Turn, chuckLeft, near)},
		{"datum-roll", false, "itself", on(op.Datum, blocks, near), on(op.Datum, blocks, near, rolled)},

		{
			"v-parallel", true, "the bar as bought",
			on(op.CrossDrill, blocks, near, rolled), on(op.Taper, chuckLeft, apart),
		},
		{
			"v-parallel", false, "on a shim",
			on(op.CrossDrill, blocks, near, rolled, shimmed), on(op.Taper, chuckLeft, apart),
		},
		{
			"v-parallel", false, "in a vice",
			on(op.CrossDrill, blocks, near, rolled, device(op.Vice)), on(op.Taper, chuckLeft, apart),
		},
		{
			"v-parallel", false, "on a band, elsewhere",
			on(op.CrossDrill, blocks, near, rolled, held(band)), on(op.Taper, chuckLeft, apart),
		},
		{
			"v-parallel", true, "on a band, there",
			on(op.CrossDrill, blocks, near, rolled, held(band)), on(op.Taper, chuckLeft, far),
		},
		{"v-parallel", false, "a cylinder", on(op.CrossDrill, blocks, near, rolled), on(op.Turn, chuckLeft, apart)},

		{
			"shim-taper", true, "the taper that lies there",
			on(op.Taper, chuckRight, near, leaves(band)), on(op.Spot, blocks, near, held(band), shimmed),
		},
		{
			"shim-taper", false, "another",
			on(op.Taper, chuckRight, near), on(op.Spot, blocks, near, held(band), shimmed),
		},
		{
			"shim-taper", false, "no shim",
			on(op.Taper, chuckRight, near, leaves(band)), on(op.Spot, blocks, near, held(band)),
		},

		{"v-round", true, "flats", on(op.CrossDrill, blocks, near, rolled), on(op.Facet, head, near)},
		{
			"v-round", false, "in a vice",
			on(op.CrossDrill, blocks, near, rolled, device(op.Vice)), on(op.Facet, head, near),
		},

		{
			"spot-drill", true, "one hole",
			on(op.Spot, blocks, near, of(op.Bore, 1)), on(op.Drill, blocks, near, of(op.Bore, 1)),
		},
		{
			"spot-drill", true, "reamed after",
			on(op.Drill, blocks, near, of(op.Bore, 1)), on(op.Ream, blocks, near, of(op.Bore, 1)),
		},
		{
			"spot-drill", false, "another hole",
			on(op.Spot, blocks, near, of(op.Bore, 1)), on(op.Drill, blocks, near, of(op.Bore, 2)),
		},
		{
			"spot-drill", false, "backward",
			on(op.Drill, blocks, near, of(op.Bore, 1)), on(op.Spot, blocks, near, of(op.Bore, 1)),
		},

		{
			"spot-drill", false, "the other end's half",
			on(op.Spot, chuckLeft, near, of(op.Bore, 1), axial), on(op.Drill, chuckRight, apart, of(op.Bore, 1), axial),
		},
		{
			"bore-guide", true, "the narrow one first",
			on(op.Drill, chuckLeft, near, of(op.Bore, 1), axial, dia("6")),
			on(op.Drill, chuckLeft, far, of(op.Bore, 2), axial, dia("12")),
		},
		{
			"bore-guide", false, "the wide one first",
			on(op.Drill, chuckLeft, near, of(op.Bore, 1), axial, dia("12")),
			on(op.Drill, chuckLeft, far, of(op.Bore, 2), axial, dia("6")),
		},
		{
			"bore-guide", false, "from the other end",
			on(op.Drill, chuckLeft, near, of(op.Bore, 1), axial, dia("6")),
			on(op.Drill, chuckRight, far, of(op.Bore, 2), axial, dia("12")),
		},
		{
			"bore-floor", true, "tapped behind a counterbore",
			on(op.Drill, chuckLeft, near, of(op.Bore, 1), axial, dia("12")),
			on(op.Tap, chuckLeft, apart, of(op.Bore, 2), axial, dia("6")),
		},
		{
			"bore-floor", false, "the wider one is tapped",
			on(op.Drill, chuckLeft, near, of(op.Bore, 1), axial, dia("6")),
			on(op.Tap, chuckLeft, apart, of(op.Bore, 2), axial, dia("12")),
		},

		{"bore-cross-ream", true, "axis first", on(op.Drill, chuckLeft, near, axial), on(op.Spot, blocks, far, rolled)},
		{
			"bore-cross-ream", false, "elsewhere",
			on(op.Drill, chuckLeft, near, axial), on(op.Spot, blocks, apart, rolled),
		},
		{
			"bore-cross-ream", true, "cleared after",
			on(op.CrossDrill, blocks, near, rolled), on(op.Ream, chuckLeft, far, axial),
		},
		{
			"bore-cross-ream", false, "drilling is not clearing",
			on(op.CrossDrill, blocks, near, rolled), on(op.Drill, chuckLeft, far, axial),
		},

		{"bore-outside", true, "there", on(op.Drill, chuckLeft, near, axial), on(op.Turn, chuckLeft, far)},
		{"bore-outside", false, "roughing", on(op.Drill, chuckLeft, near, axial), on(op.Turn, chuckLeft, far, rough)},
		{
			"bore-outside", false, "on a centre",
			on(op.Drill, chuckLeft, near, axial), on(op.Turn, chuckLeft, far, centred),
		},
		{"bore-outside", false, "in another grip", on(op.Drill, chuckLeft, near, axial), on(op.Turn, chuckRight, far)},
		{"bore-outside", false, "elsewhere", on(op.Drill, chuckLeft, near, axial), on(op.Turn, chuckLeft, apart)},

		{
			"start-form", true, "chamfer, thread",
			on(op.Chamfer, chuckLeft, near, of(op.Thread, 1)), on(op.Thread, chuckLeft, near, of(op.Thread, 1)),
		},
		{
			"start-form", false, "another thread's",
			on(op.Chamfer, chuckLeft, near, of(op.Thread, 2)), on(op.Thread, chuckLeft, near, of(op.Thread, 1)),
		},
		{"start-form", true, "the blank", on(op.Turn, chuckLeft, near), on(op.Chamfer, chuckLeft, far)},
		{"start-form", true, "the edge of a cone", on(op.Taper, chuckLeft, near), on(op.Chamfer, chuckLeft, far)},
		{"start-form", true, "the edge of an arc", on(op.Curve, chuckLeft, near), on(op.Chamfer, chuckLeft, far)},
		{"start-form", false, "an edge beside a cone", on(op.Taper, chuckLeft, near), on(op.Chamfer, chuckLeft, apart)},
		{"start-form", false, "roughing", on(op.Turn, chuckLeft, near, rough), on(op.Thread, chuckLeft, far)},
		{"start-form", false, "a thread inside", on(op.Turn, chuckLeft, near), on(op.Thread, chuckLeft, far, axial)},

		{"thin-last", true, "a cone over a bore", on(op.Bore, chuckLeft, near, axial), on(op.Taper, chuckRight, far)},
		{"thin-last", false, "a cylinder", on(op.Bore, chuckLeft, near, axial), on(op.Turn, chuckRight, far)},
		{
			"thin-last", false, "on a centre",
			on(op.Bore, chuckLeft, near, axial), on(op.Taper, chuckRight, far, centred),
		},

		{
			"neck-last", true, "behind it",
			on(op.Thread, chuckLeft, near, root("8.2")), on(op.Turn, chuckLeft, span("20", "25"), dia("8.1")),
		},
		{
			"neck-last", false, "as thick as its root",
			on(op.Thread, chuckLeft, near, root("8.2")), on(op.Turn, chuckLeft, span("20", "25"), dia("8.2")),
		},
		{
			"neck-last", false, "before it",
			on(op.Thread, chuckLeft, apart, root("8.2")), on(op.Turn, chuckLeft, near, dia("8")),
		},
		{
			"neck-last", true, "from the right",
			on(op.Thread, chuckRight, apart, root("8.2")), on(op.Turn, chuckRight, near, dia("8")),
		},
		{
			"neck-last", false, "inside",
			on(op.Thread, chuckLeft, near, axial, root("8.2")), on(op.Turn, chuckLeft, span("20", "25"), dia("8")),
		},

		{
			"tap-square", true, "drilled, tapped",
			on(op.Drill, chuckLeft, near, axial, of(op.Bore, 1)), on(op.Tap, chuckLeft, near, axial, of(op.Bore, 1)),
		},
		{
			"tap-square", true, "countersunk, tapped",
			on(op.Countersink, chuckLeft, near, of(op.Bore, 1)), on(op.Tap, chuckLeft, near, of(op.Bore, 1)),
		},
		{
			"tap-square", true, "bored, countersunk",
			on(op.Bore, chuckLeft, near, axial, of(op.Bore, 1)), on(op.Countersink, chuckLeft, near, of(op.Bore, 1)),
		},
		{
			"tap-square", true, "a thread inside",
			on(op.Bore, chuckLeft, near, axial, of(op.Bore, 1)), on(op.Thread, chuckLeft, near, axial, of(op.Bore, 1)),
		},
		{
			"tap-square", false, "countersunk at the other end",
			on(op.Countersink, chuckRight, near, of(op.Bore, 1)), on(op.Tap, chuckLeft, near, of(op.Bore, 1)),
		},
		{
			"tap-square", false, "another hole",
			on(op.Drill, chuckLeft, near, axial, of(op.Bore, 1)), on(op.Tap, chuckLeft, near, axial, of(op.Bore, 2)),
		},

		{"stiff-first", true, "thinner", on(op.Turn, chuckLeft, near), on(op.Turn, chuckLeft, apart, dia("8"))},
		{"stiff-first", false, "as thick", on(op.Turn, chuckLeft, near), on(op.Turn, chuckLeft, apart)},
		{
			"stiff-first", false, "in another grip",
			on(op.Turn, chuckLeft, near), on(op.Turn, chuckRight, apart, dia("8")),
		},
		{
			"stiff-first", false, "roughing",
			on(op.Turn, chuckLeft, near, rough), on(op.Turn, chuckLeft, apart, dia("8")),
		},

		{"swing-group", true, "straight first", on(op.Turn, chuckLeft, near), on(op.Taper, chuckLeft, apart)},
		{"swing-group", true, "an edge beside it", on(op.Chamfer, chuckLeft, near), on(op.Taper, chuckLeft, apart)},
		{"swing-group", false, "its own edge", on(op.Chamfer, chuckLeft, near), on(op.Taper, chuckLeft, far)},
		{"swing-group", false, "in another grip", on(op.Turn, chuckLeft, near), on(op.Taper, chuckRight, apart)},
		{
			"swing-group", false, "geared for a thread",
			on(op.Thread, chuckLeft, near, geared), on(op.Taper, chuckLeft, apart),
		},
		{
			"swing-group", false, "a neck that a gauged taper hangs on",
			on(op.Turn, chuckLeft, apart, dia("8")), on(op.Taper, chuckLeft, near, gauged),
		},
		{
			"swing-group", true, "a neck before it",
			on(op.Turn, chuckLeft, near, dia("8")), on(op.Taper, chuckLeft, apart, gauged),
		},
		{
			"swing-group", true, "no neck, as thick",
			on(op.Turn, chuckLeft, apart), on(op.Taper, chuckLeft, near, gauged),
		},
		{
			"swing-group", true, "no limits of the angle",
			on(op.Turn, chuckLeft, apart, dia("8")), on(op.Taper, chuckLeft, near),
		},
		{"swing-group", false, "boring", on(op.Bore, chuckLeft, near), on(op.Taper, chuckLeft, apart)},

		{
			"offset-group", true, "cylinders first",
			on(op.Turn, chuckLeft, near), on(op.Taper, chuckRight, apart, device(op.Centres), offset),
		},
		{
			"offset-group", true, "cylinders between centres first",
			on(op.Turn, chuckRight, near, device(op.Centres)), on(op.Taper, chuckRight, apart, device(op.Centres), offset),
		},
		{
			"offset-group", false, "turned between centres the other way round",
			on(op.Turn, chuckLeft, near, device(op.Centres)), on(op.Taper, chuckRight, apart, device(op.Centres), offset),
		},
		{"offset-group", false, "on the compound", on(op.Turn, chuckLeft, near), on(op.Taper, chuckRight, apart)},
		{
			"offset-group", false, "faced later",
			on(op.Face, chuckLeft, near), on(op.Taper, chuckRight, apart, device(op.Centres), offset),
		},

		{"plug", true, "holes first", on(op.CrossDrill, blocks, near, rolled), on(op.Plug, byHand, near)},
		{"plug", true, "turned over it", on(op.Plug, byHand, near), on(op.Taper, chuckLeft, far)},
		{"plug", false, "elsewhere", on(op.Plug, byHand, near), on(op.Taper, chuckLeft, apart)},

		{"slot-thin", true, "a cone over it", on(op.Slot, blocks, near), on(op.Taper, chuckLeft, far)},
		{"slot-thin", true, "a slope over it", on(op.Slot, blocks, near), on(op.Mill, blocks, far)},
		{"slot-thin", true, "a slope of its face", on(op.Slot, vice(part.Top), near), on(op.Mill, vice(part.Top), far)},
		{"slot-thin", false, "a slope of another", on(op.Slot, vice(part.Front), near), on(op.Mill, vice(part.Top), far)},
		{
			"slot-thin", false, "nothing is left to hold for the slope",
			on(op.Slot, vice(part.Top), near, opens(vice(part.Top))), on(op.Mill, vice(part.Top), far),
		},
		{"slot-thin", false, "elsewhere", on(op.Slot, blocks, near), on(op.Taper, chuckLeft, apart)},
		{"slot-thin", false, "a cylinder", on(op.Slot, blocks, near), on(op.Turn, chuckLeft, far)},

		{"flat-first", true, "on the slope", on(op.Drill, blocks, near), on(op.Mill, blocks, far)},
		{"flat-first", false, "from another face", on(op.Drill, vice(part.Front), near), on(op.Mill, vice(part.Top), far)},
		{"flat-first", false, "beside it", on(op.Drill, blocks, near), on(op.Mill, blocks, apart)},
		{"flat-first", false, "squaring", on(op.Drill, blocks, near), on(op.Mill, blocks, op.Span{})},

		{
			"chain-slot", true, "its own chain",
			on(op.CrossDrill, blocks, near, of(op.Slot, 1)), on(op.Slot, blocks, near, of(op.Slot, 1)),
		},
		{
			"chain-slot", false, "another's",
			on(op.CrossDrill, blocks, near, of(op.Slot, 2)), on(op.Slot, blocks, near, of(op.Slot, 1)),
		},

		{"cone-first", true, "there", on(op.Taper, chuckLeft, near), on(op.Facet, head, far)},
		{"cone-first", false, "elsewhere", on(op.Taper, chuckLeft, near), on(op.Facet, head, apart)},
		{"cone-first", false, "roughing", on(op.Turn, chuckLeft, near, rough), on(op.Facet, head, far)},

		{
			"mill-grind", true, "its own",
			on(op.Facet, head, near, of(op.Facet, 1)), on(op.Grind, head, near, of(op.Facet, 1)),
		},
		{
			"mill-grind", false, "another's",
			on(op.Facet, head, near, of(op.Facet, 1)), on(op.Grind, head, near, of(op.Facet, 2)),
		},

		{"harden", true, "cut first", on(op.Turn, outer, near), on(op.Harden, byHand, near)},
		{"harden", false, "ground before", on(op.Grind, outer, near), on(op.Harden, byHand, near)},
		{"harden", true, "ground after", on(op.Harden, byHand, near), on(op.Grind, outer, near)},
		{"harden", false, "polished before", on(op.Polish, byHand, near), on(op.Harden, byHand, near)},

		{"cure", true, "wait", on(op.Glue, byHand, near), on(op.Wait, byHand, near)},
		{
			"cure", true, "then polish",
			on(op.Wait, byHand, near, of(op.Wait, 1)), on(op.Polish, byHand, near, of(op.Wait, 2)),
		},
		{
			"cure", false, "polished before it in the file",
			on(op.Wait, byHand, near, of(op.Wait, 2)), on(op.Polish, byHand, near, of(op.Wait, 1)),
		},

		{"clean-glue", true, "cut first", on(op.Turn, outer, near), on(op.Glue, byHand, near)},
		{"clean-glue", false, "polished before", on(op.Polish, byHand, near), on(op.Glue, byHand, near)},

		{"saw-off", true, "cut on the bar", on(op.Turn, chuckLeft, near), sawing},
		{"saw-off", true, "then faced", sawing, on(op.Face, chuckRight, near)},
		{"saw-off", false, "lying in V-blocks", sawing, on(op.CrossDrill, blocks, near)},

		{"stub-last", true, "parted off last", on(op.Turn, outer, near), on(op.PartOff, outer, near)},
		{"stub-last", false, "polished after", on(op.Polish, byHand, near), on(op.PartOff, outer, near)},
		{"stub-last", true, "then polished", on(op.PartOff, outer, near), on(op.Polish, byHand, near)},
		{"stub-last", false, "one stub before another", on(op.PartOff, outer, near), on(op.PartOff, outer, near)},

		{"saw-off", true, "cut on the bar", on(op.Turn, chuckLeft, near), on(op.Saw, sawn, far, cutOff)},
		{"saw-off", true, "then held without it", on(op.Saw, sawn, far, cutOff), on(op.Face, chuckRight, near)},
		{"saw-off", false, "held without it", on(op.Turn, chuckRight, near), on(op.Saw, sawn, far, cutOff)},
		{"saw-off", false, "parted off in the lathe", on(op.Turn, chuckLeft, near), on(op.PartOff, chuckLeft, far)},
		{"saw-off", false, "the bar sawn at first", on(op.Turn, chuckLeft, near), on(op.Saw, sawn, far)},
		{"saw-off", false, "by hand", on(op.Saw, sawn, far, cutOff), on(op.Polish, byHand, near)},

		{
			"process-order", true, "as the file has them",
			on(op.Polish, byHand, near, of(op.Wait, 1)), on(op.Mark, byHand, near, of(op.Wait, 2)),
		},
		{
			"process-order", false, "the other way",
			on(op.Polish, byHand, near, of(op.Wait, 2)), on(op.Mark, byHand, near, of(op.Wait, 1)),
		},
		{
			"process-order", false, "cutting",
			on(op.Turn, outer, near, of(op.Wait, 1)), on(op.Mark, byHand, near, of(op.Wait, 2)),
		},
	}
}

// Every pair is bound by its rule or is not, as it is said.
func TestPairs(t *testing.T) {
	for _, p := range pairs() {
		bound := false
		for _, x := range rules.Pairs([]*op.Op{p.a, p.b}) {
			bound = bound || x.Code == p.rule && x.A == 0 && x.B == 1
		}
		if bound != p.binds {
			t.Errorf("%s, %s: bound %v", p.rule, p.why, bound)
		}
		for _, x := range rules.Pairs([]*op.Op{p.a, p.b}, p.rule) {
			if x.Code == p.rule {
				t.Errorf("%s binds though it was left out", p.rule)
			}
		}
	}
}

// Every rule has a code of its own, a reason that reads on, and a pair above that
// it binds and one that it does not.
func TestTable(t *testing.T) {
	all, seen := pairs(), map[string]bool{}
	has := func(code string, binds bool) bool {
		return slices.ContainsFunc(all, func(p pair) bool { return p.rule == code && p.binds == binds })
	}
	alone := []string{"reach-first"} // it has its own test
	for _, r := range rules.Table() {
		if seen[r.Code] || r.Reason == "" || strings.HasSuffix(r.Reason, ".") || unicode.IsUpper(rune(r.Reason[0])) {
			t.Errorf("%s: %q", r.Code, r.Reason)
		}
		seen[r.Code] = true
		if !slices.Contains(alone, r.Code) && !(has(r.Code, true) && has(r.Code, false)) {
			t.Errorf("%s has no pair that it binds, or none that it does not", r.Code)
		}
	}
	for _, p := range all {
		if !seen[p.rule] {
			t.Errorf("there is no rule %s", p.rule)
		}
	}
}

// A pair is told by the operations' places, in the order of the table, and nothing
// comes before itself.
func TestPairsByPlace(t *testing.T) {
	s := span("0", "20")
	ops := []*op.Op{on(op.Turn, chuckLeft, s), on(op.Face, chuckLeft, s), on(op.Saw, op.Setup{}, s)}
	list := rules.Pairs(ops)
	var got [][2]int
	for _, x := range list {
		if x.A == x.B {
			t.Errorf("%s binds %d to itself", x.Code, x.A)
		}
		if x.Code == "face-first" {
			got = append(got, [2]int{x.A, x.B})
		}
	}
	if !slices.Equal(got, [][2]int{{1, 0}, {2, 0}, {2, 1}}) {
		t.Errorf("face-first binds %v", got)
	}
}

// What stands behind a cone toward the end that is out is down to size before the
// cone is cut: the neighbour that was roughed to more than the cone's edge there.
func TestReachFirst(t *testing.T) {
	cone := func(s op.Setup, ends [2]op.Len, change ...func(*op.Op)) *op.Op {
		o := on(op.Taper, s, span("20", "40"), change...)
		o.Ends = ends
		return o
	}
	neighbour := func(s op.Setup, cuts op.Span, to op.Len) *op.Op {
		o := on(op.Turn, s, cuts)
		o.Roughed = to
		return o
	}
	right, left := op.Setup{Device: op.Chuck, Out: part.Right}, op.Setup{Device: op.Chuck, Out: part.Left}
	for _, tc := range []struct {
		why   string
		a, b  *op.Op
		binds bool
	}{
		{"larger, outward", neighbour(right, span("40", "60"), 13e6), cone(right, [2]op.Len{20e6, 12e6}), true},
		{"no larger", neighbour(right, span("40", "60"), 12e6), cone(right, [2]op.Len{20e6, 12e6}), false},
		{"inward", neighbour(right, span("0", "20"), 25e6), cone(right, [2]op.Len{20e6, 12e6}), false},
		{"the left end out", neighbour(left, span("0", "20"), 21e6), cone(left, [2]op.Len{20e6, 12e6}), true},
		{"no larger there", neighbour(left, span("0", "20"), 20e6), cone(left, [2]op.Len{20e6, 12e6}), false},
		{"a form tool", neighbour(right, span("40", "60"), 13e6), cone(right, [2]op.Len{20e6, 12e6}, formed), false},
		{"not beside it", neighbour(right, span("45", "60"), 13e6), cone(right, [2]op.Len{20e6, 12e6}), false},
	} {
		bound := slices.ContainsFunc(rules.Pairs([]*op.Op{tc.a, tc.b}), func(x rules.Before) bool {
			return x.Code == "reach-first" && x.A == 0 && x.B == 1
		})
		if bound != tc.binds {
			t.Errorf("%s: bound %v", tc.why, bound)
		}
	}
}

// What work is held on is spoiled last: a cone, flats, a thread and, on the bar as
// bought, any turning.
func TestSpoils(t *testing.T) {
	on30 := span("20", "50")
	for _, tc := range []struct {
		why   string
		a, b  *op.Op
		binds bool
	}{
		{
			"nothing is left to hold the block by", on(op.Drill, vice(part.Top), on30),
			on(op.Slot, vice(part.Front), on30, opens(vice(part.Top))), true,
		},
		{
			"another grip", on(op.Drill, vice(part.Bottom), on30),
			on(op.Slot, vice(part.Front), on30, opens(vice(part.Top))), false,
		},
		{
			"a cone on the bar that is held",
			on(op.CrossDrill, blocks, on30, rolled), on(op.Taper, chuckLeft, span("10", "30")), true,
		},
		{
			"turned where the bar is held",
			on(op.CrossDrill, blocks, on30, rolled), on(op.Turn, chuckLeft, span("10", "30")), true,
		},
		{
			"turned where a band is held",
			on(op.Drill, chuckRight, on30), on(op.Turn, chuckLeft, span("10", "30")), false,
		},
		{"elsewhere", on(op.CrossDrill, blocks, on30, rolled), on(op.Taper, chuckLeft, span("50", "60")), false},
		{
			"sawn from it",
			on(op.Saw, op.Setup{Machine: op.BandSaw, On: op.Stock}, on30),
			on(op.Taper, chuckLeft, span("10", "30")), false,
		},
	} {
		bound := slices.ContainsFunc(rules.Spoils([]*op.Op{tc.a, tc.b}), func(x rules.Before) bool {
			return x.Code == "grip-surface" && x.A == 0 && x.B == 1
		})
		if bound != tc.binds {
			t.Errorf("%s: bound %v", tc.why, bound)
		}
	}
}
