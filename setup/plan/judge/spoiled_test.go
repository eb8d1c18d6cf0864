package judge_test

// card is a decoded plan that is spoiled.
type card map[string]any

type object = map[string]any

func (p card) setUp(n int) object { return p["set_ups"].([]any)[n-1].(object) }
func (p card) op(n int) object    { return p["operations"].([]any)[n-1].(object) }
func (p card) totals() object     { return p["totals"].(object) }
func (p card) blank() object      { return p["blank"].(object) }
func (p card) row(i int) object   { return p["predicted"].([]any)[i].(object) }

func (p card) grip(n int) object { return p.setUp(n)["grip"].(object) }

// removal is the first removal of an operation.
func (p card) removal(n int) object { return p.op(n)["removes"].([]any)[0].(object) }

// arranged makes the collar a slight taper, which the compound cuts.
func (p card) arranged(handle string) {
	p.removal(7)["profile"] = profile([2]float64{25, 18.1}, [2]float64{31, 18})
	p.setUp(3)["state"].(object)["arrangement"] = object{
		"tool_hand": "right", "post_side": "headstock", "post_turn": "square", "handle": handle,
	}
}

// half is the half angle of 18.1 to 18 over 6 mm: atan(0.05/6) = 0.477 deg.
const half = 0.477

// compound makes the collar a slight taper that is cut at a mark.
func (p card) compound(stands, reads float64) {
	p.op(7)["kind"] = "taper"
	p.removal(7)["profile"] = profile([2]float64{25, 18.1}, [2]float64{31, 18})
	state := p.setUp(3)["state"].(object)
	state["compound_deg"], state["method"] = stands, "mark"
	p.op(7)["settings"] = []any{object{"name": "compound", "value": reads, "unit": "deg", "say": ""}}
}

// profile is a profile as JSON has it.
func profile(points ...[2]float64) []any {
	var all []any
	for _, q := range points {
		all = append(all, []any{q[0], q[1]})
	}
	return all
}

// spoiled are plans with one thing wrong each, and the code that it earns.
var spoiled = []struct {
	code, plan, what string
	status           int
	spoil            func(p card)
}{
	{"grip-surface", "pin", "held beyond the end of the bar", 0, func(p card) { p.grip(3)["to_mm"] = 64.0 }},
	{"grip-surface", "pin", "held by a diameter that it has not", 0, func(p card) { p.grip(3)["dia_mm"] = 18.3 }},
	{"grip-surface", "pin", "held as a hexagon", 0, func(p card) { p.grip(3)["shape"] = 6.0 }},
	{"grip-surface", "pin", "called as bought", 0, func(p card) { p.grip(3)["stage"] = "bought" }},
	{"grip-surface", "bush", "held by a bore before it is there", 0, func(p card) {
		p.setUp(1)["device"] = "mandrel"
		g := p.grip(1)
		g["from_mm"], g["to_mm"], g["dia_mm"], g["inside"] = 0.0, 20.0, 10.0, true
	}},
	{"grip-length", "pin", "held over 6 mm", 0, func(p card) {
		p.grip(3)["from_mm"] = 54.0
	}},
	{"jaw-room", "pin", "what goes through is not told", 0, func(p card) { p.setUp(2)["through"] = nil }},
	{"jaw-room", "bush", "told thinner than it is", 0, func(p card) {
		p.setUp(1)["through"].(object)["dia_mm"] = 20.0
	}},
	{"grip-range", "bar", "a collet that is not in the set", 0, func(p card) {
		p.setUp(2)["device"] = "collet"
		p.grip(2)["dia_mm"] = 20.04
	}},
	{"bruise", "pin", "jaws on the finished collar", 0, func(p card) { p.grip(3)["over"] = nil }},
	{"overhang", "pin", "280 mm of bar out of the jaws", 0, func(p card) { p.blank()["from_mm"] = -250.0 }},
	{"overhang", "pin", "a spring that is told ten times too large", 0, func(p card) { p.op(6)["spring_mm"] = 0.5 }},
	{"support", "bar", "a centre in a plain end, which is faced", 0, func(p card) {
		p.setUp(2)["support"] = object{"kind": "centre", "at_mm": -1.0, "dia_mm": 5.0}
	}},
	{"support", "pin", "a steady on a shoulder", 0, func(p card) {
		p.setUp(3)["support"] = object{"kind": "steady", "at_mm": 25.0, "dia_mm": 20.0}
	}},
	{"tool-side", "pin", "the neck with a left-hand tool", 0, func(p card) { p.op(6)["tool"].(object)["hand"] = "left" }},
	{"tool-side", "pin", "no hand", 0, func(p card) { p.op(8)["tool"].(object)["hand"] = nil }},
	{"grip-surface", "pin", "held again, and not set true", 0, func(p card) {
		o := p.op(9)
		o["settings"] = o["settings"].([]any)[1:]
	}},
	{"fouling", "pin", "the handle reversed beside the chuck", 0, func(p card) { p.arranged("reversed") }},
	{"", "pin", "the handle as it is", 0, func(p card) { p.arranged("normal") }},
	{"shoulder", "pin", "a run-out of 12 mm", 0, func(p card) { p.removal(11)["run_out_mm"] = 12.0 }},
	{"support-v", "bar", "a block beside the bar", 0, func(p card) {
		p.setUp(4)["state"].(object)["blocks_mm"] = []any{12.0, 70.0}
	}},
	{"support-v", "bar", "the blocks far from the hole", 0, func(p card) {
		p.setUp(4)["state"].(object)["blocks_mm"] = []any{2.0, 18.0}
	}},
	{"support-v", "bar", "a shim under a bar that lies level", 0, func(p card) {
		p.setUp(4)["state"].(object)["shim_mm"] = 0.5
	}},
	{"support-v", "bar", "the height of another bar", 0, func(p card) {
		p.op(5)["settings"].([]any)[0].(object)["value"] = 30.0
	}},
	{"parting", "bush", "the kerf far from the jaws", 0, func(p card) {
		p.setUp(1)["jaw_face_mm"] = -62.0
		p.grip(1)["from_mm"], p.grip(1)["to_mm"] = -90.0, -62.0
		p.blank()["from_mm"] = -103.0
		p.setUp(1)["stick_out_mm"] = 83.0
	}},
	{"gouge", "pin", "the collar 1 mm under", 0, func(p card) {
		p.removal(7)["profile"] = profile([2]float64{25, 17}, [2]float64{31, 17})
	}},
	{"gouge", "pin", "a chamfer nobody allowed", 0, func(p card) { p.op(10)["allowed"] = []any{} }},
	{"gouge", "bar", "a hole at another place", 0, func(p card) { p.removal(6)["z_mm"] = 45.0 }},
	{"gouge", "bush", "bored too wide", 0, func(p card) {
		p.removal(4)["dia_mm"], p.removal(4)["end_dia_mm"] = 10.2, 10.2
	}},
	{"start-size", "bush", "a bar of 21.5 mm, and it is called so", 0, func(p card) {
		p.blank()["diameter_mm"], p.grip(1)["dia_mm"] = 21.5, 21.5
	}},
	{"complete", "pin", "the thread is left out of what is removed", 0, func(p card) { p.op(11)["removes"] = []any{} }},
	{"complete", "pin", "a thread on a blank of its full size", 0, func(p card) {
		p.removal(9)["profile"] = profile([2]float64{0, 12}, [2]float64{15, 12})
		p.row(0)["out_mm"], p.row(0)["error_mm"], p.row(0)["high_mm"] = 12.0, 0.15, 12.1
	}},
	{"predicted", "pin", "a diameter that is told to less than half a division", 0, func(p card) {
		p.row(1)["told_mm"] = 0.02
	}},
	{"predicted", "pin", "at its limit, with nothing for the reading", 0, func(p card) {
		p.row(1)["high_mm"] = 12.024
	}},
	{"", "pin", "so far from its limit as it is told to", 0, func(p card) { p.row(1)["high_mm"] = 12.025 }},
	{"complete", "bar", "no operation makes the second hole", 0, func(p card) { p.op(6)["makes"] = []any{} }},
	{"complete", "pin", "a thread of another pitch", 0, func(p card) { p.removal(11)["spec"] = "M12x1" }},
	{"complete", "bar", "two operations make one hole", 0, func(p card) { p.op(5)["makes"] = []any{"hole-1", "hole-2"} }},
	{"gouge", "bar", "a slot that nobody drew", 0, func(p card) {
		p.op(6)["removes"] = append(p.op(6)["removes"].([]any), object{
			"shape": "slot", "from_mm": 25.0, "to_mm": 35.0, "roll_deg": 0.0, "width_mm": 3.0, "depth_mm": 2.0,
		})
	}},
	{"overhang", "pin", "told to stand out less than it does", 0, func(p card) { p.setUp(3)["stick_out_mm"] = 20.0 }},
	{"status", "pin", "yes, and a check that says no", 0, func(p card) {
		p.op(4)["checks"] = []any{object{"code": "overhang", "ok": false}}
	}},
	{"owned", "pin", "in a four-jaw chuck that is not there", 0, func(p card) {
		p.setUp(3)["device"] = "four-jaw"
	}},
	{"owned", "bar", "on a mill that is not there", 0, func(p card) { p.setUp(4)["machine"] = "mill" }},
	{"totals", "pin", "a set-up too few", 0, func(p card) { p.totals()["set_ups"] = 2.0 }},
	{"totals", "pin", "less time than the steps take", 0, func(p card) { p.totals()["time_min"] = 5.0 }},
	{"totals", "bush", "two pieces in the time of one third", 0, func(p card) { p.totals()["batch_min"] = 9.0 }},
	{"dial", "pin", "a division too many", 0, func(p card) {
		p.op(4)["dials"].([]any)[0].(object)["divisions"] = 11.0
	}},
	{"blank", "bush", "a bar for one piece of two", 0, func(p card) { p.blank()["bar_mm"] = 40.0 }},
	{"blank", "pin", "a piece shorter than the part", 0, func(p card) { p.blank()["length_mm"] = 59.0 }},
	{"setting", "pin", "a compound that stands at another angle", 0, func(p card) { p.compound(3, 3) }},
	{"", "pin", "a compound at a mark, half a degree", 0, func(p card) { p.compound(half, 0.5) }},
	{"setting", "pin", "a reading that is no mark", 0, func(p card) { p.compound(half, 0.6) }},
	{"predicted", "pin", "an error that is no difference", 0, func(p card) { p.row(1)["error_mm"] = 0.1 }},
	{"predicted", "pin", "a limit wider than the table", 0, func(p card) {
		p.row(2)["low_mm"], p.row(2)["high_mm"] = 17.0, 19.0
	}},
	{"predicted", "pin", "another size than is cut", 0, func(p card) {
		p.row(2)["out_mm"], p.row(2)["error_mm"] = 18.1, 0.1
	}},
	{"predicted", "bush", "a bore of another size than is bored", 0, func(p card) {
		p.removal(4)["dia_mm"], p.removal(4)["end_dia_mm"] = 10.0, 10.0
		p.row(0)["out_mm"], p.row(0)["error_mm"] = 10.035, 0.035
	}},
	{"predicted", "bar", "a hole of another size than is drilled", 0, func(p card) {
		p.row(1)["out_mm"], p.row(1)["error_mm"] = 4.0, 0.0
	}},
	{"predicted", "pin", "a length that is not what it is faced to", 0, func(p card) {
		p.row(3)["out_mm"], p.row(3)["error_mm"] = 60.2, 0.2
	}},
	{"form", "pin", "a reason that is a sentence", 0, func(p card) { p.op(3)["because"] = []any{"as it is usual"} }},
	{"form", "pin", "a number as a text", 0, func(p card) { p.op(3)["time_min"] = "2 min" }},
	{"form", "pin", "a value with its unit", 0, func(p card) {
		p.op(3)["settings"].([]any)[0].(object)["value"] = "0.12 mm/rev"
	}},
	{"form", "pin", "a sentence for a value", 0, func(p card) {
		p.op(3)["settings"].([]any)[0].(object)["value"] = "as deep as it goes"
	}},
	{"form", "pin", "a device that is none", 0, func(p card) { p.setUp(2)["device"] = "three-jaw chuck" }},
	{"form", "pin", "no grip", 0, func(p card) { delete(p.setUp(2), "grip") }},
	{"form", "pin", "an operation of no set-up", 0, func(p card) { p.op(4)["set_up"] = 9.0 }},
	{"form", "pin", "a refusal without a reason", 1, func(card) {}},
	{"form", "pin", "a reason and status 0", 0, func(p card) {
		p["refused"] = []any{object{"code": "overhang", "key": "outside-1", "reason": "it springs", "remedies": []any{}}}
	}},
	{"", "pin", "a refusal with a reason", 1, func(p card) {
		p["refused"] = []any{object{"code": "overhang", "key": "outside-1", "reason": "it springs", "remedies": []any{}}}
	}},
}
