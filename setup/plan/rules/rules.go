// Package rules says what must come before what. Each rule is one line of a
// table: its code, its reason, and when it binds two operations. There is no
// list of kinds in order anywhere; the order comes from the rules a part's own
// operations fall under and from what set-ups cost.
package rules

import (
	"slices"
	"sync"

	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// Rule binds a to come before b wherever Binds says so.
type Rule struct {
	Code   string
	Reason string
	Binds  func(a, b *op.Op) bool
}

// Before is one pair: operation A comes before operation B.
type Before struct {
	A, B int // indexes of the operations
	Rule
}

// Pairs returns every pair that the rules bind among the operations, in the
// order of the table. Rules whose code is in without are left out.
func Pairs(ops []*op.Op, without ...string) []Before {
	return pairsOf(ops, table(), without...)
}

// pairsOf returns every pair that some rules bind.
func pairsOf(ops []*op.Op, rules []Rule, without ...string) []Before {
	list := make([]Before, 0, 4*len(ops))
	for _, r := range rules {
		if slices.Contains(without, r.Code) {
			continue
		}
		for a := range ops {
			for b := range ops {
				if a != b && r.Binds(ops[a], ops[b]) {
					list = append(list, Before{a, b, r})
				}
			}
		}
	}
	return list
}

// The families of kinds that rules speak of.

func is(o *op.Op, kinds ...op.Kind) bool { return slices.Contains(kinds, o.Kind) }

// crossing reports whether an operation makes holes across the bar.
func crossing(o *op.Op) bool {
	return o.Roll != nil && is(o, op.Spot, op.CrossDrill, op.Ream, op.Countersink, op.Slot)
}

// coned reports whether an operation leaves a surface that is no cylinder.
func coned(o *op.Op) bool { return is(o, op.Taper, op.Curve, op.Facet) }

// hangs reports whether a taper whose half angle has limits hangs on what another operation thins,
// toward the jaws: it leans away where that is thin already.
func hangs(taper, neck *op.Op) bool {
	behind := neck.Cuts.To.Cmp(taper.Cuts.From) <= 0
	if taper.Setup.Out == part.Left {
		behind = taper.Cuts.To.Cmp(neck.Cuts.From) <= 0
	}
	return taper.Gauged && behind && neck.Dia.Less(max(taper.Ends[0], taper.Ends[1]).Length())
}

// boring reports whether an operation makes a hole on the bar's axis.
func boring(o *op.Op) bool { return o.Axial && is(o, op.Drill, op.Bore) }

// sizing reports whether an operation brings an outside to size.
func sizing(o *op.Op) bool { return is(o, op.Turn, op.Mill) && !o.Rough }

// turned is the same of what a file brings to size after it.
func turned(o *op.Op) bool { return sizing(o) || is(o, op.Turn) && o.Rough && o.Roughed > 0 }

// thin reports whether a bore takes more than half of what an outside leaves: its
// wall is then thinner than half the bore.
func thin(a, b *op.Op) bool { return b.Dia.Less(a.Dia.Times(2)) }

// shaping reports whether an operation brings an outside to its shape.
func shaping(o *op.Op) bool { return sizing(o) || is(o, op.Taper, op.Curve) }

// edged reports whether a chamfer breaks an edge of what another operation cuts, a taper or an arc.
func edged(chamfer, shape *op.Op) bool {
	return is(chamfer, op.Chamfer) && is(shape, op.Taper, op.Curve) && chamfer.Cuts.Overlaps(shape.Cuts)
}

// sloping reports whether an operation mills a slope off a block.
func sloping(o *op.Op) bool { return is(o, op.Mill) && o.Cuts.Length().Sign() > 0 }

// lathed reports whether an operation is cut in the lathe at an end.
func lathed(o *op.Op) bool { return o.Setup.Machine == op.Lathe && !is(o, op.Face) }

// chucking reports whether two operations are cut in one grip.
func chucking(a, b *op.Op) bool { return a.Setup.Grip() == b.Setup.Grip() }

// coaxial reports whether two operations make two holes on the bar's axis from one
// end.
func coaxial(a, b *op.Op) bool {
	return chucking(a, b) && a.Axial && b.Axial && a.Feature != b.Feature && a.Setup.Out == b.Setup.Out
}

// piloting reports whether two operations drill one hole on the bar's axis from one end.
func piloting(a, b *op.Op) bool {
	return chucking(a, b) && a.Axial && is(a, op.Drill) && is(b, op.Drill) && a.Feature == b.Feature &&
		a.Setup.Out == b.Setup.Out
}

// toPart reports whether an operation makes the bar thin enough to be parted.
func toPart(o *op.Op) bool { return is(o, op.Turn) && o.Feature.Kind == op.PartOff }

// sawnOff reports whether an operation saws the part off the bar: the first saw
// cut is the bar's, and takes nothing of it.
func sawnOff(o *op.Op) bool { return is(o, op.Saw) && len(o.Removes) > 0 }

// finishing reports what is done to the whole part when it has its shape.
func finishing(o *op.Op) bool {
	return is(o, op.Polish, op.Mark, op.Etch, op.Harden, op.Glue, op.Wait)
}

// holeSteps is the sequence of a hole's own operations: each makes the next possible.
var holeSteps = map[op.Kind]int{op.Spot: 1, op.Drill: 2, op.CrossDrill: 2, op.Bore: 3, op.Ream: 4, op.Countersink: 5}

// table is the rules, made once.
var table = sync.OnceValue(Table)

// Table returns the rules.
//
// Long: one row a rule.
func Table() []Rule {
	return []Rule{
		{"face-first", "z needs a face to be measured from", func(a, b *op.Op) bool {
			if is(a, op.Saw) && !sawnOff(a) {
				return !is(b, op.Saw) || sawnOff(b)
			}
			return is(a, op.Face) && (lathed(b) && b.Setup.Out == a.Setup.Out || crossing(b) && a.Zero)
		}},
		{"centre-support", "the centre must run true before it holds the end", func(a, b *op.Op) bool {
			if is(a, op.Face) {
				return is(b, op.Centre) && b.Setup.Out == a.Setup.Out
			}
			if b.Setup.Device == op.Centres {
				return is(a, op.Centre) || is(a, op.Face) || is(a, op.Countersink) && a.Axial
			}
			return is(a, op.Centre) && !is(b, op.Face, op.Centre) && b.Setup.Support == op.AtCentre && b.Setup.Out == a.Setup.Out
		}},
		{"true-grip", "the band it is held on is turned true first", func(a, b *op.Op) bool {
			if is(a, op.Thread) && b.Setup.Device == op.SplitNut {
				return !chucking(a, b) && !a.Axial && a.Along().Overlaps(b.Setup.Held)
			}
			if b.Setup.Device == op.ThreadedStub {
				return (is(a, op.Tap) || is(a, op.Thread) && a.Axial) && a.Along().Overlaps(b.Setup.Held)
			}
			if a.Mills != "" {
				return slices.Contains(b.Trues, a.Mills)
			}
			return (sizing(a) || is(a, op.Facet, op.Grind)) && !chucking(a, b) &&
				b.Setup.On.Stage == work.Finished && a.Leaves == b.Setup.On
		}},
		{"steady-land", "a steady runs on what is turned true", func(a, b *op.Op) bool {
			return sizing(a) && chucking(a, b) && b.Setup.Support == op.AtSteady && a.Along().Covers(op.SteadyLand(b.Setup))
		}},
		{"rough-finish", "stress and heat move the part: rough before finishing", func(a, b *op.Op) bool {
			if waist := b.Rough && b.Tool.Hand == op.Form; waist { // once what stands before it is roughed
				return is(b, op.Turn) && a.Rough && a.Tool.Hand != op.Form && chucking(a, b)
			}
			if !a.Rough || b.Rough || !is(b, op.Turn, op.Taper, op.Curve, op.Bore) || toPart(a) {
				return false
			}
			if is(b, op.Bore) && a.Setup.On.Shape == op.Hole && a.Setup.On.Dia == op.LenOf(b.Dia) { // it is held by that
				return false
			}
			if left := a.Roughed > 0; left || is(a, op.Taper) { // what is left on it for the file
				return is(b, a.Kind) && a.Cuts.Overlaps(b.Cuts)
			}
			return chucking(a, b) || a.Relieved || a.Cuts.Overlaps(b.Cuts)
		}},
		{"datum-roll", "the roll is lost when the work is taken out: mark it first", func(a, b *op.Op) bool {
			return is(a, op.Datum) && b.Roll != nil && !is(b, op.Datum)
		}},
		{"v-parallel", "the bar must be parallel to lie in the V-blocks", func(a, b *op.Op) bool {
			return crossing(a) && a.Setup.Device == op.VBlocks && !a.Setup.State.Shim && is(b, op.Taper, op.Curve) &&
				(a.Setup.On == op.Stock || a.Cuts.Overlaps(b.Cuts))
		}},
		{"shim-taper", "the shim is made for the taper that lies in the V-blocks", func(a, b *op.Op) bool {
			return is(a, op.Taper) && b.Setup.State.Shim && a.Leaves == b.Setup.On
		}},
		{"v-round", "a round seats in a V, a polygon does not", func(a, b *op.Op) bool {
			return crossing(a) && a.Setup.Device == op.VBlocks && is(b, op.Facet)
		}},
		{"spot-drill", "a drill wanders on a round: spot, drill, ream, countersink", func(a, b *op.Op) bool {
			x, y := holeSteps[a.Kind], holeSteps[b.Kind]
			apart := (a.Axial || a.Roll != nil) && !a.Cuts.Overlaps(b.Cuts)
			return x > 0 && x < y && a.Feature == b.Feature && !apart
		}},
		{
			"bore-guide", "the larger drill follows a hole that is there: the narrow one first",
			func(a, b *op.Op) bool {
				return (coaxial(a, b) || piloting(a, b)) && is(a, op.Drill) && boring(b) && a.Dia.Less(b.Dia)
			},
		},
		{
			"bore-floor", "what stands on the floor of a wider bore waits for it",
			func(a, b *op.Op) bool {
				return coaxial(a, b) && boring(a) && is(b, op.Ream, op.Countersink, op.Tap, op.Thread) && b.Dia.Less(a.Dia)
			},
		},
		{"bore-cross-ream", "drill the axis, cross it, then clear the bore of burrs", func(a, b *op.Op) bool {
			switch {
			case is(a, op.Drill) && a.Axial && crossing(b):
				return a.Cuts.Overlaps(b.Cuts)
			case crossing(a) && b.Axial && is(b, op.Ream, op.Bore):
				return a.Cuts.Overlaps(b.Cuts)
			}
			return false
		}},
		{"bore-outside", "the wall springs when it is bored: finish the outside after it", func(a, b *op.Op) bool {
			return boring(a) && sizing(b) && chucking(a, b) && b.Setup.Support != op.AtCentre && a.Cuts.Overlaps(b.Cuts)
		}},
		{
			"start-form", "the die must start and the tool must run out: the blank to size, chamfer and relief, then the thread",
			func(a, b *op.Op) bool {
				if is(a, op.Chamfer) {
					return is(b, op.Thread) && a.Feature == b.Feature
				}
				return (sizing(a) && is(b, op.Chamfer, op.Thread) || edged(b, a)) && !b.Axial && a.Cuts.Overlaps(b.Cuts)
			},
		},
		{
			"thin-last", "a wall must stand the bore's cut: bore before the outside is brought down to a cone or flats",
			func(a, b *op.Op) bool {
				return boring(a) && coned(b) && thin(a, b) && a.Cuts.Overlaps(b.Cuts) && b.Setup.Support != op.AtCentre &&
					b.Leaves != a.Setup.On
			},
		},
		{"neck-last", "the neck that carries a thread stands its torque while it is thick", func(a, b *op.Op) bool {
			if !is(a, op.Thread) || a.Axial || !sizing(b) || !chucking(a, b) || !b.Dia.Less(a.Root) {
				return false // what is no thinner than its root stands what the thread does
			}
			return b.Cuts.From.Cmp(a.Cuts.To) >= 0 && a.Setup.Out == part.Left ||
				b.Cuts.To.Cmp(a.Cuts.From) <= 0 && a.Setup.Out == part.Right
		}},
		{
			"tap-square", "drill, countersink and tap in one chucking, so that the tap runs square",
			func(a, b *op.Op) bool {
				cuts := is(b, op.Tap) || is(b, op.Thread) && b.Axial
				mouth := is(a, op.Countersink) && a.Setup.Out == b.Setup.Out
				return a.Feature == b.Feature &&
					(cuts && mouth || (cuts || is(b, op.Countersink)) && is(a, op.Drill, op.Bore) &&
						(!a.Axial || a.Cuts.Overlaps(b.Cuts)))
			},
		},
		{"stiff-first", "the slender stretch is cut last, while the rest is stiff", func(a, b *op.Op) bool {
			return turned(a) && turned(b) && chucking(a, b) && b.Dia.Less(a.Dia)
		}},
		{
			"reach-first",
			"the tool gets at a cut only when what stands behind it, toward the end that stands out, is down to size",
			func(a, b *op.Op) bool {
				outer, edge := a.Cuts.From.Equal(b.Cuts.To), b.Ends[1]
				if a.Setup.Out == part.Left {
					outer, edge = a.Cuts.To.Equal(b.Cuts.From), b.Ends[0]
				}
				return shaping(a) && is(b, op.Taper, op.Curve) && b.Tool.Hand != op.Form && chucking(a, b) && outer &&
					a.Roughed > edge
			},
		},
		{"swing-group", "the compound is swung once, after everything that needs it true", func(a, b *op.Op) bool {
			needs := is(a, op.Turn, op.Thread, op.Chamfer) && !toPart(a) && !edged(a, b)
			return chucking(a, b) && is(b, op.Taper) && needs && a.Setup.State == op.State{} && !hangs(b, a)
		}},
		{
			"offset-group", "a tailstock that is set over spoils cylinders: turn them first, and bring it back to true after",
			func(a, b *op.Op) bool {
				cuts := a.Setup.Machine == op.Lathe && is(a, op.Turn, op.Thread, op.Chamfer, op.Bore) && !edged(a, b)
				return is(b, op.Taper) && b.Setup.State.Offset != 0 && cuts && a.Setup.State.Offset == 0 &&
					(a.Setup.Device != op.Centres || chucking(a, b))
			},
		},
		{"plug", "edges break out where a hole is turned over: plug it first", func(a, b *op.Op) bool {
			if is(a, op.Plug) {
				return is(b, op.Turn, op.Taper, op.Curve) && a.Cuts.Overlaps(b.Cuts) && !chucking(a, b)
			}
			return crossing(a) && is(b, op.Plug)
		}},
		{"slot-thin", "the slot springs open when its wall is thinned: slot first", func(a, b *op.Op) bool {
			thinned := coned(b) || sloping(b) && a.Setup.State.Up == b.Setup.State.Up
			opened := slices.Contains(a.Opens, b.Setup.Grip())
			return is(a, op.Slot) && thinned && !opened && a.Cuts.Overlaps(b.Cuts)
		}},
		{"flat-first", "a drill wanders on a slope: drill while the face is level", func(a, b *op.Op) bool {
			drilled := is(a, op.Spot, op.Drill, op.CrossDrill, op.Countersink, op.Tap)
			return drilled && sloping(b) && a.Setup.State.Up == b.Setup.State.Up && a.Cuts.Overlaps(b.Cuts)
		}},
		{"chain-slot", "the chain of holes makes room for the cutter", func(a, b *op.Op) bool {
			return is(b, op.Slot) && is(a, op.CrossDrill, op.Drill) && a.Feature == b.Feature
		}},
		{"cone-first", "the flats' angle comes from the cone", func(a, b *op.Op) bool {
			return is(a, op.Taper, op.Curve, op.Turn) && !a.Rough && is(b, op.Facet) && a.Cuts.Overlaps(b.Cuts)
		}},
		{"mill-grind", "the grinder takes what the mill leaves", func(a, b *op.Op) bool {
			return is(a, op.Facet) && is(b, op.Grind) && a.Feature == b.Feature
		}},
		{"harden", "after hardening only the grinder cuts", func(a, b *op.Op) bool {
			return is(b, op.Harden) && !finishing(a) && !is(a, op.Grind) || is(a, op.Harden) && is(b, op.Grind, op.Etch)
		}},
		{"cure", "heat softens glue that has not cured: wait before anything else", func(a, b *op.Op) bool {
			return is(a, op.Glue) && is(b, op.Wait) ||
				is(a, op.Wait) && is(b, op.Polish, op.Mark, op.Etch) && a.Feature.N < b.Feature.N
		}},
		{"clean-glue", "metal dust and oil spoil glue: all cutting before it", func(a, b *op.Op) bool {
			return is(b, op.Glue) && !finishing(a)
		}},
		{
			"stub-last", "the centre and the cut end stay until everything that needs them is done; then mark and polish",
			func(a, b *op.Op) bool {
				if is(b, op.PartOff) || toPart(b) {
					return !finishing(a) && !is(a, op.PartOff) && (!toPart(a) || is(b, op.PartOff)) &&
						(!is(a, op.Grind) || a.Setup.On == op.Stock)
				}
				return finishing(b) && is(b, op.Polish, op.Mark, op.Etch) && !finishing(a)
			},
		},
		{
			"saw-off", "all that is cut on the bar is done by then, and what is chucked from then on has no bar",
			func(a, b *op.Op) bool {
				if sawnOff(a) {
					lathed := b.Setup.Machine == op.Lathe
					return b.Setup.On != op.Stock && (lathed || b.Setup.Device.Jaws())
				}
				return sawnOff(b) && a.Setup.On == op.Stock && !is(a, op.Saw)
			},
		},
		{"process-order", "the processes come in the order the part gives", func(a, b *op.Op) bool {
			return finishing(a) && finishing(b) && a.Feature.N < b.Feature.N
		}},
	}
}
