package judge

import (
	"os"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
)

// stand is a judgement in the middle of a plan: a bar of 30 from z 0 to 100 of
// which nothing is drawn but its length, in the chuck with the right end out,
// jaws to z 28. Each case alters it and asks one check.
func stand(t *testing.T) *judgement {
	t.Helper()
	text, err := os.ReadFile("testdata/bench.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var shopTree Tree
	if err := yaml.Unmarshal(text, &shopTree); err != nil {
		t.Fatal(err)
	}
	j := &judgement{shop: readShop(shopTree), drawing: partOf(Tree{
		"profile": []any{[]any{0.0, 30.0}, []any{100.0, 30.0}},
	})}
	dia := 30.0
	j.work = newWork(blank{Shape: "round", Dia: &dia, From: 0, To: 100})
	out, face, stick := "right", 28.0, 72.0
	j.setUp = setUp{
		N: 1, Machine: "lathe", Device: "chuck", Out: &out, JawFace: &face, StickOut: &stick,
		Grip: &grip{From: 0, To: 28, Dia: 30, Shape: "round", Stage: "bought"}, Support: &support{Kind: "none"},
	}
	return j
}

func (j *judgement) hold(from, to, dia float64, shape any, stage string) {
	*j.setUp.Grip = grip{From: from, To: to, Dia: dia, Shape: shape, Stage: stage}
	*j.setUp.JawFace = to
}

func (j *judgement) turned(from, to, dia float64) { j.work.turn([]point{{from, dia}, {to, dia}}) }

func (j *judgement) milled(from, to float64, sides int, across float64) {
	j.work.mill(facet{from: from, to: to, sides: sides, acrossA: across, acrossB: across})
}

func (j *judgement) bored(z0, z1, dia float64) {
	j.work.bores = append(j.work.bores, bore{z0: z0, z1: z1, d0: dia, d1: dia})
}

// on puts a centre or a steady under the work.
func (j *judgement) on(kind string, z, dia float64) {
	j.setUp.Support = &support{Kind: kind, Z: &z, Dia: &dia}
}

// slotted mills a slot of 8, and says some of how.
func (j *judgement) slotted(says ...string) {
	j.op.Kind = "slot"
	for _, name := range says {
		j.op.Settings = append(j.op.Settings, setting{Name: name, Value: 2.0, Unit: "mm"})
	}
	j.removes(removal{Shape: "slot", Width: 8})
}

// flattens makes four flats in a waist of 12 across, by a belt or a file.
func (j *judgement) flattens(machine string, from, to float64) {
	j.turned(from, to, 12)
	j.setUp.Machine, j.op.Tool.Hand = machine, nil
	if machine == "bench" {
		j.op.Tool.Hand = new("file")
	}
	j.removes(removal{Shape: "flats", FromZ: from, ToZ: to, Sides: 4, AcrossA: 8.4, AcrossB: 8.4})
}

// lies lays a round of 20 to z 80 with a rim beyond it in V-blocks.
func (j *judgement) lies(a, b, rim float64) {
	j.work = newWork(blank{Shape: "round", Dia: &rim, From: 0, To: 100})
	j.turned(0, 80, 20)
	j.setUp.Device, j.setUp.State.Blocks = "v-blocks", []float64{a, b}
}

// indexes drills across at a roll in the dividing head, the jaws from z 0 to 28, and says so.
func (j *judgement) indexes(z, roll float64, value any, says string) {
	j.setUp.Machine, j.setUp.Device = "mill", "dividing-head"
	j.setUp.Grip, j.setUp.JawFace, j.setUp.Out = &grip{From: 0, To: 28, Dia: 30}, new(28.0), new("right")
	j.shop.tree["dividing_head"] = map[string]any{"ratio": 40}
	j.op.Settings = []setting{{Name: "roll", Value: value, Unit: "deg", Say: says}}
	j.removes(removal{Shape: "cross", Z: z, Roll: roll, Dia: 4})
}

// spots makes the step a centre drill in the right end.
func (j *judgement) spots(dia, pilot float64) {
	j.removes(removal{Shape: "centre", End: "right", Dia: dia, Pilot: pilot})
}

// goes makes the step one that makes a bore through from the right end, so deep.
func (j *judgement) goes(kind string, dia, deep float64) {
	long := j.length
	j.op.Kind, j.op.Settings = kind, []setting{{Name: "depth", Value: deep}}
	j.removes(removal{Shape: "bore", From: "right", Dia: dia, Depth: &long})
}

// reams makes the step one that reams 8 mm 25 deep from the right end, set to a depth, in what is
// drilled 7.8 so deep.
func (j *judgement) reams(drilled, set float64) {
	j.bored(100-drilled, 100, 7.8)
	deep := 25.0
	j.op.Kind, j.op.Settings = "ream", []setting{{Name: "depth", Value: set}}
	j.removes(removal{Shape: "bore", From: "right", Dia: 8, Depth: &deep})
}

// reamsAcross makes the step one that reams a blind hole of 6 across, 12 deep at z 50, in what is
// drilled 5.9 so deep.
func (j *judgement) reamsAcross(drilled, set float64) {
	j.work.cross = append(j.work.cross, cross{z: 50, dia: 5.9, depth: drilled})
	deep := 12.0
	j.op.Kind, j.op.Settings = "ream", []setting{{Name: "depth", Value: set}}
	j.removes(removal{Shape: "cross", Z: 50, Dia: 6, Depth: &deep})
}

// cuts asks gouge of what the step removes.
func cuts(j *judgement) { gouge(j, j.work.clone()) }

// drillsAcross makes the step one that drills a blind hole that is drawn 12 deep so deep.
func (j *judgement) drillsAcross(deep float64, allowed ...any) {
	j.holes = append(j.holes, cross{id: "hole-1", z: 50, dia: 6, depth: 12})
	j.op.Kind, j.op.Allowed = "cross-drill", allowed
	j.removes(removal{Shape: "cross", Z: 50, Dia: 5.9, Depth: &deep})
}

// drillsIn makes the step one that drills a bore that is drawn 10 wide and 20 deep so deep, for its reamer; one of on
// goes on from its floor where that is not 0.
func (j *judgement) drillsIn(deep, on float64) {
	j.bores = []bore{{id: "bore-1", end: "left", z1: 20, d0: 10, d1: 10, depth: 20}}
	if on > 0 {
		j.bores = append(j.bores, bore{id: "bore-2", end: "left", z1: 40, d0: on, d1: on, depth: 40})
	}
	j.op.Kind, j.op.Allowed = "drill", []any{"reamer-lead"}
	j.removes(removal{Shape: "bore", From: "left", Dia: 9.8, Depth: &deep})
}

// onArborOf puts the work, cut off at z 60 and bored, on an arbor.
func (j *judgement) onArborOf(dia, long float64) {
	j.work.cutEnd("right", long, "saw")
	j.bored(0, long, dia)
	*j.setUp.Grip = grip{From: 0, To: long, Dia: dia, Shape: "round", Stage: "finished", Inside: true}
	j.setUp.Device, j.setUp.JawFace = "arbor", nil
}

// onStubArbor puts the work on an arbor in a blind bore, 1 short of its floor.
func (j *judgement) onStubArbor(dia, deep float64) {
	j.bored(0, deep, dia)
	*j.setUp.Grip = grip{From: 0, To: deep - 1, Dia: dia, Shape: "round", Stage: "finished", Inside: true}
	j.setUp.Device, j.setUp.JawFace = "arbor", nil
}

// filesEnd makes the step one that files the right end flat, so wide.
func (j *judgement) filesEnd(dia float64) {
	j.work.turn([]point{{80, dia}, {100, dia}})
	j.op.Kind, j.op.Tool.Name = "face", "file"
	j.removes(removal{Shape: "end", End: "right", Z: 100})
}

// removes makes the step remove one thing.
func (j *judgement) removes(r removal) { j.op.Removes = []removal{r} }

// dies cuts M12 from z 100 down to a place with the die, turned round at the end or not.
func (j *judgement) dies(to float64, round bool) {
	j.turned(60, 100, 12)
	j.op.Tool.Name = "die M12"
	if round {
		j.op.Settings = []setting{{Name: "turn round", Value: "the die"}}
	}
	j.removes(removal{Shape: "thread", FromZ: to, ToZ: 100, RunOut: 3, Spec: "M12", Toward: "headstock"})
}

func (j *judgement) cutOutside(hand string, profile ...[]float64) {
	j.op.Tool.Hand = &hand
	j.removes(removal{Shape: "outside", Profile: profile})
}

// cone cuts a cone of 20 to 18 from the jaws on, 0.2 deep at 0.1 a turn, whose half angle may be off by so
// many degrees.
func (j *judgement) cone(angle float64) {
	j.limits = []limit{{from: 28, to: 100, angle: angle}}
	j.op.Kind = "taper"
	j.op.Settings = []setting{{Name: "depth a pass", Value: 0.2}, {Name: "feed", Value: 0.1}}
	j.cutOutside("right", []float64{28, 20}, []float64{100, 18})
}

// The two sides of what each check asks: want is a part of the fault, "" where
// it holds.
func TestChecks(t *testing.T) {
	for _, c := range []struct {
		what  string
		check func(*judgement)
		alter func(*judgement)
		want  string
	}{
		{"six sides in three jaws", gripSurface, func(j *judgement) {
			j.milled(0, 40, 6, 24)
			j.hold(0, 28, 24, 6.0, "facetted")
		}, ""},
		{"eight sides in three jaws", gripSurface, func(j *judgement) {
			j.milled(0, 40, 8, 24)
			j.hold(0, 28, 24, 8.0, "facetted")
		}, "does not take 8 sides"},
		{"six sides in a collet", gripSurface, func(j *judgement) {
			j.milled(0, 40, 6, 16)
			j.hold(0, 28, 16, 6.0, "facetted")
			j.setUp.Device = "collet"
		}, "does not take 6 sides"},
		{"a thread in the jaws", gripSurface, func(j *judgement) {
			j.work.threads = []thread{{from: 5, to: 20, spec: "M30"}}
		}, "held on the thread M30"},
		{"a thread in a split nut", gripSurface, func(j *judgement) {
			j.work.threads = []thread{{from: 0, to: 40, spec: "M30"}}
			j.setUp.Device = "split-nut"
		}, ""},
		{"a nut over a shoulder and a stub", gripSurface, func(j *judgement) {
			j.turned(0, 40, 20)
			j.turned(10, 30, 18)
			j.hold(12, 28, 18, "round", "threaded")
			j.work.threads = []thread{{from: 10, to: 30, spec: "M18"}}
			j.setUp.Device = "split-nut"
		}, "a split nut is screwed on over 20.00 or 30.00"},
		{"a small hole in the jaws", gripSurface, func(j *judgement) {
			j.work.cross = []cross{{z: 10, dia: 9}}
		}, ""},
		{"a hole over a third", gripSurface, func(j *judgement) {
			j.work.cross = []cross{{z: 10, dia: 11}}
		}, "wider than a third"},
		{"a taper in the jaws", gripSurface, func(j *judgement) {
			j.work.turn([]point{{0, 28}, {28, 30}})
		}, "held as 30.000"},
		{"between centres without centres", gripSurface, func(j *judgement) {
			j.setUp.Device = "between-centres"
		}, "no centre in the left end"},
		{"a dog on a cone", gripSurface, func(j *judgement) {
			j.setUp.Device = "between-centres"
			j.work.turn([]point{{0, 20}, {12, 30}})
		}, "clamped on a cone"},
		{"a dog over a chamfer", gripSurface, func(j *judgement) {
			j.setUp.Device, j.setUp.Grip = "between-centres", &grip{From: 3, To: 12}
			j.work.centres = map[string]*centreHole{"left": {}, "right": {}}
			j.work.turn([]point{{0, 24}, {3, 30}})
		}, ""},
		{"a dog that is said elsewhere", gripSurface, func(j *judgement) {
			j.setUp.Device, j.setUp.Grip = "between-centres", &grip{From: 0, To: 12}
			j.work.centres = map[string]*centreHole{"left": {}, "right": {}}
			j.work.turn([]point{{0, 24}, {3, 30}})
		}, "elsewhere than on z 3.00 to 12.00"},
		{"a cut under the dog", gripSurface, func(j *judgement) {
			j.setUp.Device, j.setUp.Grip = "between-centres", &grip{From: 0, To: 12}
			j.work.centres = map[string]*centreHole{"left": {}, "right": {}}
			j.cutOutside("right", []float64{8, 24}, []float64{50, 24})
		}, "cut under the dog"},
		{"0.6 d", gripLength, func(j *judgement) { j.hold(10, 28, 30, "round", "bought") }, ""},
		{"less than 0.6 d", gripLength, func(j *judgement) { j.hold(11, 28, 30, "round", "bought") }, "needs 18.00"},
		{"what the jaws do not reach", gripLength, func(j *judgement) {
			j.setUp.Grip.From, j.setUp.Grip.To = 0, 12
			*j.setUp.JawFace = 30
		}, "held over 10.00 mm"},
		{"soft jaws for facing near them", gripLength, func(j *judgement) {
			j.work.cutEnd("right", 30, "saw")
			j.hold(0, 5, 30, "round", "finished")
			j.setUp.Device = "soft-jaws"
			j.removes(removal{Shape: "end", End: "right", Z: 29})
		}, ""},
		{"soft jaws for turning", gripLength, func(j *judgement) {
			j.work.cutEnd("right", 30, "saw")
			j.hold(0, 5, 30, "round", "finished")
			j.setUp.Device = "soft-jaws"
			j.cutOutside("right", []float64{6, 20}, []float64{30, 20})
		}, "needs 18.00"},
		{"a collet on 20 mm", gripLength, func(j *judgement) {
			j.hold(7, 27, 30, "round", "bought")
			j.setUp.Device = "collet"
		}, ""},
		{"a mandrel in less than half the bore", gripLength, func(j *judgement) {
			j.bored(0, 100, 10)
			*j.setUp.Grip = grip{From: 0, To: 40, Dia: 10, Shape: "round", Stage: "finished", Inside: true}
			j.setUp.Device, j.setUp.JawFace = "mandrel", nil
		}, "held over 40.00 mm"},
		{"an arbor past a hole in less than half", gripLength, func(j *judgement) {
			j.onArborOf(10, 100)
			j.work.cross = []cross{{z: 54.5, dia: 8}} // 0 to 50.5
		}, ""},
		{"an arbor past a hole in the middle", gripLength, func(j *judgement) {
			j.onArborOf(10, 100)
			j.work.cross = []cross{{z: 50, dia: 8}} // 0 to 46
		}, "held over 46.00 mm"},
		{"a hole on each side of which something is held", gripLength, func(j *judgement) {
			j.onArborOf(10, 100)
			j.work.cross = []cross{{z: 50, dia: 8}}
			j.cutOutside("right", []float64{30, 25}, []float64{70, 25})
		}, ""},
		{"a hole over the bore", gripLength, func(j *judgement) {
			j.onArborOf(10, 100)
			j.work.cross = []cross{{z: 50, dia: 8, depth: 9.9}} // the wall is 10
		}, ""},
		{"a slot into the bore", gripLength, func(j *judgement) {
			j.onArborOf(10, 100)
			j.work.slots = []slot{{from: 40, to: 60, width: 3}}
		}, "held over 40.00 mm"},
		// 0.6 of 20 is 12
		{"an arbor in a blind bore", gripLength, func(j *judgement) { j.onStubArbor(20, 13) }, ""},
		{"too short a one", gripLength, func(j *judgement) { j.onStubArbor(20, 12) }, "and it needs 12.00"},
		{"too short a small one", gripLength, func(j *judgement) { j.onStubArbor(10, 8.5) }, "and it needs 8.00"},
		{"a collar in the jaws", jawRoom, func(j *judgement) {
			j.turned(10, 28, 20)
			j.hold(10, 28, 20, "round", "rough")
		}, "30.000 stands where the jaws are"},
		{"through the spindle", jawRoom, func(j *judgement) {
			j.turned(0, 60, 25)
			j.hold(32, 60, 25, "round", "rough")
			j.setUp.Through = &through{32, 25}
		}, ""},
		{"too thick for the spindle", jawRoom, func(j *judgement) {
			j.hold(32, 60, 30, "round", "bought")
			j.setUp.Through = &through{32, 30}
		}, "does not pass lathe.spindle_bore, 26.00"},
		{"in no key's hole, and told", jawRoom, func(j *judgement) {
			j.hold(32, 60, 30, "round", "bought")
			j.setUp.Through = &through{32, 30}
			delete(j.shop.lathe.tree, "spindle_bore")
			delete(j.shop.lathe.in("chuck").tree, "through")
			j.setUp.NotChecked = []string{"lathe.spindle_bore", "lathe.chuck.through"}
		}, ""},
		{"in no key's hole, and not told", jawRoom, func(j *judgement) {
			j.hold(32, 60, 30, "round", "bought")
			j.setUp.Through = &through{32, 30}
			delete(j.shop.lathe.tree, "spindle_bore")
			j.shop.lathe.in("chuck").tree["through"] = 40
		}, "lathe.spindle_bore is not known"},
		// a cone of 20 to 18 over 72 from the jaws: 36.1 N give it 36.1·72³/4.87731e9·20/18 = 0.00307, 0.00244 deg
		{"a cone that hardly leans", leansAway, func(j *judgement) { j.cone(0.0049) }, ""},
		{"one that leans", leansAway, func(j *judgement) { j.cone(0.0046) }, "leans 0.0024 deg by the spring"},
		{"one that is filed after", leansAway, func(j *judgement) {
			j.cone(0.0046)
			j.op.Settings = append(j.op.Settings, setting{Name: "leave", Value: 0.05})
		}, ""},
		{"one that a name holds", leansAway, func(j *judgement) { // 0.002/24 is 0.0048 deg, a quarter of it 0.0012
			j.cone(0)
			j.limits[0].gauge = "MT2"
		}, "at most 0.0012"},
		{"a slot in passes", slotPasses, func(j *judgement) { j.slotted("depth a pass", "start") }, ""},
		{"a slot in one go", slotPasses, func(j *judgement) { j.slotted("start") }, "0.00 deep a pass"},
		{"a slot that is begun nowhere", slotPasses, func(j *judgement) { j.slotted("depth a pass") }, "told: false"},
		// 4 flats of 8.4 on a waist of 12 between collars of 20, z 40 to 46: 8.4 and 12 across
		{"a file of 6 in a waist of 6", flatsRoom, func(j *judgement) { j.flattens("bench", 40, 46) }, ""},
		{"in one of 5.9", flatsRoom, func(j *judgement) { j.flattens("bench", 40, 45.9) }, "5.90 between two shoulders"},
		{
			"a belt of 50 in it", flatsRoom, func(j *judgement) { j.flattens("belt-grinder", 40, 46) },
			"6.00 between two shoulders, for what is 50.00 wide",
		},
		{"a belt in a waist of 50", flatsRoom, func(j *judgement) { j.flattens("belt-grinder", 40, 90) }, ""},
		{"a belt of 6", flatsRoom, func(j *judgement) {
			j.shop.tree["belt_grinder"] = Tree{"width": 6}
			j.flattens("belt-grinder", 40, 46)
		}, ""},
		{"a belt at the end", flatsRoom, func(j *judgement) { j.flattens("belt-grinder", 94, 100) }, ""},
		// in the bench's V-blocks the axis of a round of 20 is 12 + 10/sin 45 = 26.142 above the table
		{"a rim that hangs clear of the table", supportV, func(j *judgement) { j.lies(20, 70, 52) }, ""},
		{"a rim that does not", supportV, func(j *judgement) { j.lies(20, 70, 52.4) }, "the axis is 26.14 above"},
		{"a block beside the rim", supportV, func(j *judgement) { j.lies(20, 75, 52) }, ""},
		{"a block under it", supportV, func(j *judgement) { j.lies(20, 76, 52) }, "is under 52.00, and 20.00 lies in it"},
		{"one block in the other", supportV, func(j *judgement) { j.lies(20, 29, 52) }, "one in the other"},
		{"a centre drill in the solid", cutsMetal, func(j *judgement) { j.spots(2.12, 1) }, ""},
		{"in a wider centre hole", cutsMetal, func(j *judgement) {
			j.work.centres["right"] = &centreHole{100, 5.3, 2.5}
			j.spots(2.12, 1)
		}, "a centre hole of 5.30 is there"},
		{"in a narrower one", cutsMetal, func(j *judgement) {
			j.work.centres["right"] = &centreHole{100, 2.12, 1}
			j.spots(5.3, 2.5)
		}, ""},
		{"in a bore", cutsMetal, func(j *judgement) {
			j.bored(0, 100, 10)
			j.spots(5.3, 2.5)
		}, "is bored 10.00"},
		{"drilled out of the far face", comesOut, func(j *judgement) { j.goes("drill", 10, 104) }, ""},
		{"its point alone comes out", comesOut, func(j *judgement) { j.goes("drill", 10, 103) }, "is cut 103.00 deep"},
		{"reamed by its lead past it", comesOut, func(j *judgement) { j.goes("ream", 10, 103) }, ""},
		{"reamed to the far face", comesOut, func(j *judgement) { j.goes("ream", 10, 100) }, "102.50 at the least"},
		{"reamed into a counterbore", comesOut, func(j *judgement) {
			j.bored(0, 30, 12)
			j.goes("ream", 10, 73)
		}, ""},
		{"bored to the far face", comesOut, func(j *judgement) { j.goes("bore", 20, 100) }, "100.50 at the least"},
		{"a blind bore reamed by its lead below it", led, func(j *judgement) { j.reams(27, 27) }, ""},
		{"drilled no deeper than it is drawn", led, func(j *judgement) { j.reams(25, 27) }, "0.00 is open where"},
		{"reamed no deeper than it is drawn", led, func(j *judgement) { j.reams(27, 25) }, "is reamed 25.00 deep"},
		{"a blind hole across reamed so", led, func(j *judgement) { j.reamsAcross(14, 14.5) }, ""},
		{"drilled no deeper across", led, func(j *judgement) { j.reamsAcross(12, 14.5) }, "0.00 is open"},
		{"reamed no deeper across", led, func(j *judgement) { j.reamsAcross(14, 13.5) }, "is reamed 13.50 deep"},
		{"a blind hole drilled as it is drawn", cuts, func(j *judgement) { j.drillsAcross(12) }, ""},
		{"deeper for a reamer's lead", cuts, func(j *judgement) { j.drillsAcross(14, "reamer-lead") }, ""},
		{"deeper, and nothing says why", cuts, func(j *judgement) { j.drillsAcross(14) }, "goes deeper than the 12.00"},
		{"deeper than the lead", cuts, func(j *judgement) { j.drillsAcross(15, "reamer-lead") }, "goes deeper than"},
		{"a bore drilled deeper for its reamer", cuts, func(j *judgement) { j.drillsIn(22, 0) }, ""},
		{"a shoulder drilled away for a reamer", cuts, func(j *judgement) { j.drillsIn(22, 6) }, "9.800 wide inside"},
		{"13 mm in the solid", pilotFirst, func(j *judgement) { j.goes("drill", 13.13, 105) }, ""},
		{"14 mm in the solid", pilotFirst, func(j *judgement) { j.goes("drill", 14.13, 105) }, "14.13 in a hole of 0.00"},
		{"14 mm in a hole of 3", pilotFirst, func(j *judgement) {
			j.bored(0, 100, 3)
			j.goes("drill", 14.13, 105)
		}, ""},
		{"20 mm in a hole of 3", pilotFirst, func(j *judgement) {
			j.bored(0, 100, 3)
			j.goes("drill", 20.13, 105)
		}, "20.13 in a hole of 3.00"},
		{"out behind the jaws", comesOut, func(j *judgement) {
			delete(j.shop.lathe.tree, "spindle_bore")
			j.goes("drill", 10, 105)
		}, "lathe.spindle_bore is not known"},
		{"into the bar behind", comesOut, func(j *judgement) {
			delete(j.shop.lathe.tree, "spindle_bore")
			j.work.outside[0].a = -10
			j.goes("drill", 10, 105)
		}, ""},
		{"an end of 20 filed flat", byHand, func(j *judgement) { j.filesEnd(20) }, ""},
		{"an end of 21 filed flat", byHand, func(j *judgement) { j.filesEnd(21) }, "an end of 21.00 is filed flat by hand"},
		{"a wide one of wood", byHand, func(j *judgement) {
			j.material = "hardwood"
			j.filesEnd(40)
		}, ""},
		{"filed 10 from the jaws", byHand, func(j *judgement) {
			j.cutOutside("file", []float64{38, 29.9}, []float64{60, 29.9})
		}, ""},
		{"filed 9 from the jaws", byHand, func(j *judgement) {
			j.cutOutside("file", []float64{37, 29.9}, []float64{60, 29.9})
		}, "filed 9.00 from the jaws"},
		{"a collet of the set", gripRange, func(j *judgement) {
			j.hold(0, 28, 20, "round", "rough")
			j.setUp.Device = "collet"
		}, ""},
		{"larger than the set", gripRange, func(j *judgement) { j.setUp.Device = "collet" }, "no collet takes 30.000"},
		{"smaller than the jaws close", gripRange, func(j *judgement) { j.hold(0, 28, 2, "round", "rough") }, "2.00 in jaws"},
		{"a mandrel that is owned", gripRange, func(j *judgement) {
			j.setUp.Device = "mandrel"
			j.setUp.Grip.Dia = 10
		}, ""},
		{"a mandrel that is not", gripRange, func(j *judgement) { j.setUp.Device = "mandrel" }, "no mandrel for 30.000"},
		{"20 mm out at 30", overhang, func(j *judgement) {
			*j.setUp.JawFace, *j.setUp.StickOut = 80, 20
			j.cutOutside("right", []float64{81, 24}, []float64{100, 24})
		}, ""},
		{"100 mm of 5", overhang, func(j *judgement) {
			j.turned(28, 100, 5)
			j.removes(removal{Shape: "centre", End: "right", Dia: 2})
		}, "14.4 of its diameter"},
		{"the same on a centre", overhang, func(j *judgement) {
			j.turned(28, 100, 5)
			j.on("centre", 100, 2)
			j.removes(removal{Shape: "cross", Z: 50, Dia: 1})
		}, ""},
		{"a head of 30 on a neck of 3", overhang, func(j *judgement) {
			j.turned(60, 70, 3)
			j.removes(removal{Shape: "cross", Z: 50, Dia: 1})
		}, "40.0 mm stands out, 13.3 of its diameter at z 60.0"},
		{"the step that cuts that neck", overhang, func(j *judgement) {
			j.cutOutside("form", []float64{60, 3}, []float64{70, 3})
		}, "40.0 mm stands out, 13.3 of its diameter at z 60.0"},
		{"a head of 30 on a neck of 4", overhang, func(j *judgement) {
			j.turned(60, 70, 4)
			j.removes(removal{Shape: "cross", Z: 50, Dia: 1})
		}, ""},
		{"the same on flats of 3", overhang, func(j *judgement) {
			j.milled(60, 70, 2, 3)
			j.removes(removal{Shape: "cross", Z: 50, Dia: 1})
		}, "40.0 mm stands out, 13.3 of its diameter at z 60.0"},
		{"a neck before a steady", overhang, func(j *judgement) {
			j.turned(60, 70, 3)
			j.on("steady", 80, 30)
			j.removes(removal{Shape: "cross", Z: 50, Dia: 1})
		}, ""},
		{"faced 37 beyond a neck of 6", overhang, func(j *judgement) { // 32·30·37/(π·6³) = 52 MPa of 76
			j.turned(60, 63, 6)
			j.removes(removal{Shape: "end", End: "right", Z: 99})
		}, ""},
		{"faced 40 beyond a neck of 5", overhang, func(j *judgement) { // 32·30·40/(π·5³) = 98 MPa
			j.turned(60, 63, 5)
			j.removes(removal{Shape: "end", End: "right", Z: 99})
		}, "30 N at z 100.0 bend 5.0 mm at z 60"},
		{"a neck of 6 before the centre", overhang, func(j *judgement) { // some 100 N, 4 mm away: 20 MPa
			j.turned(94, 96, 6)
			j.on("centre", 100, 5)
			j.cutOutside("right", []float64{60, 27}, []float64{90, 27})
		}, ""},
		{"a neck of 2 before it", overhang, func(j *judgement) { // some 30 of 55 N: 200 MPa
			j.turned(28, 100, 12)
			j.turned(94, 96, 2)
			j.on("centre", 100, 5)
			j.op.Settings = []setting{{Name: "depth a pass", Value: 1.0}, {Name: "feed", Value: 0.12}}
			j.cutOutside("right", []float64{60, 11}, []float64{90, 11})
		}, "N of the centre bend 2.0 mm"},
		{"plunged on a neck of 7", overhang, func(j *judgement) {
			j.turned(28, 60, 7) // (53³ - 21³)/3/(207e3·π·7⁴/64) = 0.0019 mm/N, and a blade of 2 pushes by 150 N
			last := &j.work.outside[len(j.work.outside)-1]
			last.da, last.db = 30.8, 30.8
			j.op.Settings = []setting{{Name: "width a plunge", Value: 2.0}, {Name: "feed", Value: 0.06}}
			j.cutOutside("form", []float64{80, 30}, []float64{82, 30})
		}, "a plunge of 2.00 springs 0."},
		{"60 out of a nut on 20", overhang, func(j *judgement) {
			j.hold(20, 40, 20, "round", "threaded")
			*j.setUp.StickOut, j.setUp.Device = 60, "split-nut"
			j.removes(removal{Shape: "cross", Z: 50, Dia: 1})
		}, ""},
		{"64 out of a nut on 20", overhang, func(j *judgement) {
			j.hold(16, 36, 20, "round", "threaded")
			*j.setUp.StickOut, j.setUp.Device = 64, "split-nut"
			j.removes(removal{Shape: "cross", Z: 50, Dia: 1})
		}, "64.0 mm stands out of a thread of 20.0"},
		{"parted while 72 of 7.5 hang", overhang, func(j *judgement) {
			j.turned(28, 100, 7.5) // 20·72³/(3·207e3·π·7.5⁴/64) = 0.077
			j.op.Kind = "part-off"
			j.removes(removal{Shape: "end", End: "left", Z: 30})
		}, ""},
		{"parted while a neck springs", overhang, func(j *judgement) {
			j.turned(28, 100, 7.5)
			j.turned(40, 60, 6) // 0.077 and 20·(60³ - 40³)/3·(1/2.63e6 - 1/6.43e6)/5 = 0.12
			j.op.Kind = "part-off"
			j.removes(removal{Shape: "end", End: "left", Z: 30})
		}, "end springs 0."},
		{"faced on an arbor of 4", overhang, func(j *judgement) {
			j.onArborOf(4, 60) // 20·61³/(3·207e3·π·4⁴/64) = 0.58
			j.removes(removal{Shape: "end", End: "right", Z: 60})
		}, "end springs 0.58"},
		{"faced on one of 8", overhang, func(j *judgement) {
			j.onArborOf(8, 60) // 0.036
			j.removes(removal{Shape: "end", End: "right", Z: 60})
		}, ""},
		{"6 times its arbor", slips, func(j *judgement) { j.onArborOf(5, 60) }, ""},
		{"more than 6 times its arbor", slips, func(j *judgement) { j.onArborOf(4.9, 60) }, "on an arbor of 4.90"},
		{"15 times one that is spread", slips, func(j *judgement) {
			j.onArborOf(2, 60)
			j.op.Settings = []setting{{Name: "arbor", Value: "spread"}, {Name: "feed", Value: 0.06}}
		}, ""},
		{"more than 15 times", slips, func(j *judgement) {
			j.onArborOf(1.9, 60)
			j.op.Settings = []setting{{Name: "arbor", Value: "spread"}, {Name: "feed", Value: 0.06}}
		}, "on an arbor of 1.90"},
		{"spread, at a roughing feed", slips, func(j *judgement) {
			j.onArborOf(2, 60)
			j.op.Settings = []setting{{Name: "arbor", Value: "spread"}, {Name: "feed", Value: 0.12}}
		}, "on an arbor of 2.00"},
		{"a finish of 0.02 on a neck", overhang, func(j *judgement) {
			j.turned(28, 60, 6)
			j.limits = []limit{{isPlace: true, place: 80, below: -0.001, above: 0.001, known: true}}
			j.turned(60, 100, 30.4)
			j.cutOutside("right", []float64{60, 30}, []float64{100, 30})
			j.work.outside[len(j.work.outside)-1].da, j.work.outside[len(j.work.outside)-1].db = 30.4, 30.4
		}, "finishing springs"},
		{"a centre in its hole", supported, func(j *judgement) {
			j.work.centres["right"] = &centreHole{100, 5, 2}
			j.on("centre", 100, 5)
		}, ""},
		{"a centre in the way of a bore", supported, func(j *judgement) {
			j.work.centres["right"] = &centreHole{100, 5, 2}
			j.on("centre", 100, 5)
			j.removes(removal{Shape: "bore", From: "right", Dia: 4})
		}, "bore of the right end while a centre stands in it"},
		{"a die over a centre", supported, func(j *judgement) {
			j.work.centres["right"] = &centreHole{100, 5, 2}
			j.on("centre", 100, 5)
			j.op.Tool.Name = "die M30"
			j.removes(removal{Shape: "thread", FromZ: 60, ToZ: 100, Spec: "M30"})
		}, "thread of the right end while a centre stands in it"},
		{"a tap over a centre", supported, func(j *judgement) {
			j.work.centres["right"] = &centreHole{100, 5, 2}
			j.on("centre", 100, 5)
			j.op.Tool.Name = "tap M8"
			j.removes(removal{Shape: "thread", FromZ: 80, ToZ: 100, Spec: "M8", Inside: true})
		}, "thread of the right end while a centre stands in it"},
		{"a single point on a centre", supported, func(j *judgement) {
			j.work.centres["right"] = &centreHole{100, 5, 2}
			j.on("centre", 100, 5)
			j.op.Tool.Name = "threading tool"
			j.removes(removal{Shape: "thread", FromZ: 60, ToZ: 100, Spec: "M30"})
		}, ""},
		{"a mouth that is chamfered", supported, func(j *judgement) {
			j.bored(60, 100, 10)
			j.work.mouths["right"] = 11
			j.on("bore-mouth", 100, 10)
		}, ""},
		{"a mouth that is not", supported, func(j *judgement) {
			j.bored(60, 100, 10)
			j.on("bore-mouth", 100, 10)
		}, "not chamfered"},
		{"a mouth wider than the nose", supported, func(j *judgement) {
			j.bored(60, 100, 14)
			j.work.mouths["right"] = 15
			j.on("bore-mouth", 100, 14)
		}, "the nose fits 12.00"},
		{"a slot a diameter beyond the blocks", supportV, func(j *judgement) {
			j.lies(30, 60, 20)
			j.removes(removal{Shape: "slot", FromZ: 8, ToZ: 40, Width: 4})
		}, ""},
		{"a slot further out", supportV, func(j *judgement) {
			j.lies(30, 60, 20)
			j.removes(removal{Shape: "slot", FromZ: 7.9, ToZ: 40, Width: 4})
		}, "a cutter at z 9.90"},
		{"a quarter of 40 turns", indexed, func(j *judgement) {
			j.indexes(53, 90, 90.0, "crank on 10 turns from the roll datum")
		}, ""},
		{"a third, 13 1/3 turns", indexed, func(j *judgement) {
			j.indexes(53, 120, 120.0, "crank on 13 turns and 5 spaces on the 15 circle from the roll datum")
		}, ""},
		{"a space too many", indexed, func(j *judgement) {
			j.indexes(53, 120, 120.0, "crank on 13 turns and 6 spaces on the 15 circle from the roll datum")
		}, "is turned to 120.600"},
		{"another roll", indexed, func(j *judgement) {
			j.indexes(53, 90, 45.0, "crank on 10 turns")
		}, "is said to be 45"},
		{"two faces of six", indexed, func(j *judgement) {
			j.indexes(53, 120, 120.0, "2 faces of the 6 on from that of the roll datum")
		}, ""},
		{"one face of six", indexed, func(j *judgement) {
			j.indexes(53, 120, 120.0, "1 face of the 6 on from that of the roll datum")
		}, "is turned to 60.000"},
		{"nothing says how", indexed, func(j *judgement) {
			j.indexes(53, 90, 90.0, "")
			j.op.Settings = nil
		}, "nothing says"},
		{"a drill's chuck beside the jaws", indexed, func(j *judgement) {
			j.indexes(52.9, 0, 0.0, "")
		}, "cut across beside jaws"},
		{"a steady on a cylinder", supported, func(j *judgement) { j.on("steady", 70, 30) }, ""},
		{"a steady that is too small", supported, func(j *judgement) {
			j.shop.lathe.in("steady").tree["to"] = 25
			j.on("steady", 70, 30)
		}, "it takes 5.00 to 25.00"},
		{"toward the chuck with a right-hand tool", toolSide, func(j *judgement) {
			j.cutOutside("right", []float64{60, 20}, []float64{100, 20})
		}, ""},
		{"a waist with a right-hand tool", toolSide, func(j *judgement) {
			j.cutOutside("right", []float64{60, 20}, []float64{80, 20})
		}, "behind it 30.000 stands at z 80.00"},
		{"a waist with a form tool", toolSide, func(j *judgement) {
			j.cutOutside("form", []float64{60, 20}, []float64{62, 20})
		}, ""},
		{"straight in 12.5 deep", toolSide, func(j *judgement) {
			j.cutOutside("form", []float64{60, 5}, []float64{62, 5})
		}, ""},
		{"straight in 13 deep", toolSide, func(j *judgement) {
			j.cutOutside("form", []float64{60, 4}, []float64{62, 4})
		}, "straight in 13.00 deep over 2.00"},
		{"finishing between walls 13 high", toolSide, func(j *judgement) {
			j.turned(60, 62, 5)
			j.cutOutside("form", []float64{60, 4}, []float64{62, 4})
		}, "straight in 13.00 deep over 2.00"},
		{"13 deep where the shop parts 28", toolSide, func(j *judgement) {
			j.shop.lathe.in("parting").tree["most"] = 28
			j.cutOutside("form", []float64{60, 4}, []float64{62, 4})
		}, ""},
		{"straight in 9 deep and 1 wide", toolSide, func(j *judgement) {
			j.cutOutside("form", []float64{60, 12}, []float64{61, 12})
		}, "straight in 9.00 deep over 1.00"},
		{"a die over a collar", toolSide, func(j *judgement) {
			j.turned(40, 90, 12)
			j.op.Tool.Name = "die M12"
			j.removes(removal{Shape: "thread", FromZ: 60, ToZ: 90, Spec: "M12"})
		}, "a die for M12 goes on over 30.00"},
		{"a die over its own chamfer", toolSide, func(j *judgement) {
			j.turned(40, 100, 12)
			j.op.Tool.Name = "die M12"
			j.removes(removal{Shape: "thread", FromZ: 60, ToZ: 99, Spec: "M12"})
		}, ""},
		{"the far side of a collar with a left-hand tool", toolSide, func(j *judgement) {
			j.turned(28, 60, 20)
			j.cutOutside("left", []float64{60, 20}, []float64{80, 20})
		}, ""},
		{"a taper of 5 deg that trails", toolSide, func(j *judgement) {
			j.cutOutside("right", []float64{60, 26}, []float64{80, 29.5}, []float64{100, 33})
		}, ""},
		{"a taper of 7 deg that trails", toolSide, func(j *judgement) {
			j.cutOutside("right", []float64{60, 20}, []float64{100, 29.8})
		}, "a right tool"},
		{"a thread into a shoulder", shoulder, func(j *judgement) {
			j.turned(60, 100, 12)
			j.removes(removal{Shape: "thread", FromZ: 61, ToZ: 100, RunOut: 5, Spec: "M12", Toward: "headstock"})
		}, "runs out over 5.00 mm and has 1.00"},
		{"the same away from it", shoulder, func(j *judgement) {
			j.turned(60, 100, 12)
			j.turned(60, 62, 9)
			j.removes(removal{Shape: "thread", FromZ: 62, ToZ: 100, RunOut: 5, Spec: "M12", Toward: "tailstock"})
		}, ""},
		{"the same, begun against it", shoulder, func(j *judgement) {
			j.turned(60, 100, 12)
			j.removes(removal{Shape: "thread", FromZ: 61, ToZ: 100, RunOut: 5, Spec: "M12", Toward: "tailstock"})
		}, "begins against 30.00"},
		{"begun against a stub", shoulder, func(j *judgement) { // the root is 12 - 1.226869·1.75 = 9.85
			j.turned(60, 100, 12)
			j.turned(90, 100, 10)
			j.removes(removal{Shape: "thread", FromZ: 70, ToZ: 90, RunOut: 5, Spec: "M12", Toward: "headstock"})
		}, "the thread M12 begins against 10.00"},
		{"begun in a groove beside it", shoulder, func(j *judgement) {
			j.turned(60, 100, 12)
			j.turned(90, 92, 9.2)
			j.removes(removal{Shape: "thread", FromZ: 70, ToZ: 90, RunOut: 5, Spec: "M12", Toward: "headstock"})
		}, ""},
		{"run out against the jaws", shoulder, func(j *judgement) {
			j.turned(28, 100, 12)
			j.removes(removal{Shape: "thread", FromZ: 31, ToZ: 100, RunOut: 5, Spec: "M12", Toward: "headstock"})
		}, "runs out over 5.00 mm and has 3.00"},
		{
			"a die 3 before a shoulder", shoulder, func(j *judgement) { j.dies(63, false) },
			"a die for M12 comes to 3.00 before a shoulder, and is not turned round",
		},
		{"a die 5.25 before it", shoulder, func(j *judgement) { j.dies(65.25, false) }, ""},
		{"turned round before a collar", shoulder, func(j *judgement) { j.dies(63, true) }, "a collar stands in the 3.00"},
		{"turned round before a groove", shoulder, func(j *judgement) {
			j.dies(63, true)
			j.turned(60, 63, 9.2)
		}, ""},
		{"a tap on the floor", shoulder, func(j *judgement) {
			j.bored(85, 100, 6.8)
			j.removes(removal{Shape: "thread", FromZ: 86, ToZ: 100, RunOut: 2.5, Spec: "M8", Inside: true})
		}, "runs out over 2.50 mm and has 1.00"},
		{"a tap with room", shoulder, func(j *judgement) {
			j.bored(80, 100, 6.8)
			j.removes(removal{Shape: "thread", FromZ: 86, ToZ: 100, RunOut: 2.5, Spec: "M8", Inside: true})
		}, ""},
		{"parted at 24, near the jaws", parting, func(j *judgement) {
			j.turned(28, 100, 24)
			j.op.Kind = "part-off"
			j.removes(removal{Shape: "end", End: "left", Z: 40})
		}, ""},
		{"parted at 30", parting, func(j *judgement) {
			j.op.Kind = "part-off"
			j.removes(removal{Shape: "end", End: "left", Z: 40})
		}, "at most 25.00"},
		{"parted with a thin blade", parting, func(j *judgement) {
			j.turned(28, 100, 24)
			j.shop.lathe.in("parting").tree["blade"] = 1
			j.op.Kind = "part-off"
			j.removes(removal{Shape: "end", End: "left", Z: 40})
		}, "a blade of 1.00 for a depth of 12.00"},
		{"parted with a short blade", parting, func(j *judgement) {
			j.turned(28, 100, 24)
			j.shop.lathe.in("parting").tree["reach"] = 8
			j.op.Kind = "part-off"
			j.removes(removal{Shape: "end", End: "left", Z: 40})
		}, "a blade that reaches 8.00"},
		{"parted on a centre", parting, func(j *judgement) {
			j.turned(28, 100, 24)
			j.on("centre", 100, 5)
			j.op.Kind = "part-off"
			j.removes(removal{Shape: "end", End: "left", Z: 40})
		}, "a centre is in"},
		{"parted in a steady", parting, func(j *judgement) {
			j.turned(28, 100, 24)
			j.on("steady", 90, 24)
			j.op.Kind = "part-off"
			j.removes(removal{Shape: "end", End: "left", Z: 40})
		}, "a steady alone carries"},
		{"a thread in a bore that is too wide", threadPlace, func(j *judgement) {
			j.bored(60, 100, 7.6)
			j.removes(removal{Shape: "thread", FromZ: 80, ToZ: 100, Spec: "M8", Inside: true})
		}, "in a bore of 7.600"},
		{"a thread in no bore", threadPlace, func(j *judgement) {
			j.removes(removal{Shape: "thread", FromZ: 80, ToZ: 100, Spec: "M8", Inside: true})
		}, "in a bore of 0.000"},
		{"a thread on a cylinder of another size", threadPlace, func(j *judgement) {
			j.turned(80, 100, 11)
			j.removes(removal{Shape: "thread", FromZ: 80, ToZ: 100, Spec: "M12"})
		}, "on 11.000"},
		{"a thread longer than its cylinder", threadPlace, func(j *judgement) {
			j.turned(80, 100, 11.85)
			j.removes(removal{Shape: "thread", FromZ: 70, ToZ: 100, Spec: "M12"})
		}, "on 30.000"},
		{"a collar that is under size as measured", startSize, func(j *judgement) {
			j.turned(60, 100, 29.5)
			j.cutOutside("right", []float64{60, 30}, []float64{100, 30})
		}, "29.500 at z 80.00"},
	} {
		j := stand(t)
		c.alter(j)
		c.check(j)
		var got []string
		for _, f := range j.faults {
			got = append(got, f.Text)
		}
		all := strings.Join(got, "; ")
		if c.want == "" && all != "" || !strings.Contains(all, c.want) {
			t.Errorf("%s: %q, want %q", c.what, all, c.want)
		}
	}
}
