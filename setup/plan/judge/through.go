package judge

import (
	"math"
	"slices"
)

// cutsMetal: a centre drill meets metal. In a centre hole that is as wide and has as
// wide a pilot, and in a bore as wide as its mouth, it cuts air.
func cutsMetal(j *judgement) {
	for _, r := range j.op.Removes {
		if r.Shape != "centre" {
			continue
		}
		if c := j.work.centres[r.End]; c != nil && r.Dia <= c.dia+tiny && r.Pilot <= c.pilot+tiny {
			j.bad("start-size", "a centre drill of %.2f in the %s end, and a centre hole of %.2f is there", r.Dia, r.End, c.dia)
		}
		if is := j.work.mouth(r.End); is >= r.Dia-tiny {
			j.bad("start-size", "a centre drill of %.2f in the %s end, which is bored %.2f", r.Dia, r.End, is)
		}
	}
}

// reamerLead is how long the lead of a machine reamer is in mm: common practice, no
// source.
const reamerLead = 2.0

// comesOut: what makes a bore that is through goes so deep that its full diameter comes
// out of the metal, a drill by its point more and a reamer by its lead; and what comes
// out behind the jaws passes the hole that is there.
func comesOut(j *judgement) {
	for _, r := range j.op.Removes {
		if r.Shape != "bore" || r.Start > tiny || r.EndDia != nil || !boreOf(r, &j.drawing).through {
			continue
		}
		is, said := j.deepSet()
		if !said {
			j.bad("complete", "a bore of %.2f goes through, and the step says no depth", r.Dia)
			continue
		}
		least := j.metalFrom(r)
		switch j.op.Kind {
		case "drill":
			least += r.Dia / 2 / math.Tan(rad(118)/2) * 0.98 // the drill is a little smaller than its hole
		case "ream":
			least += reamerLead
		}
		if is < least+0.5 {
			j.bad("complete", "a bore of %.2f goes through, and is cut %.2f deep: %.2f at the least", r.Dia, is, least+0.5)
		}
		j.roomBehind(r, is)
	}
}

// led (complete): below where a blind bore or hole that is reamed has its size it is open as far as
// the reamer's lead is long, a millimetre narrower than it at the most, and the reamer goes so deep.
func led(j *judgement) {
	for _, r := range j.op.Removes {
		if j.op.Kind != "ream" || r.Depth == nil || r.Shape == "bore" && boreOf(r, &j.drawing).through {
			continue
		}
		want := *r.Depth + reamerLead
		if is, said := j.deepSet(); !said || is < want-0.01 {
			j.bad("complete", "a blind one of %.2f is reamed %.2f deep: its size is wanted to %.2f less", r.Dia, is, reamerLead)
		}
		if open := j.openBelow(r, want); open < r.Dia-1 {
			j.bad("complete", "a blind one of %.2f is reamed, and %.2f is open where the lead goes, to %.2f", r.Dia, open, want)
		}
	}
}

// openBelow returns how wide a bore or a cross hole is open at a depth.
func (j *judgement) openBelow(r removal, deep float64) (open float64) {
	if r.Shape == "bore" {
		z := deep - 0.05
		if r.From == "right" {
			z = j.length - z
		}
		return j.work.hollow(z)
	}
	for _, h := range j.work.cross {
		if near(h.z, r.Z) && near(h.roll, r.Roll) && near(h.offset, r.Offset) && (h.depth == 0 || h.depth > deep-0.05) {
			open = math.Max(open, h.dia)
		}
	}
	return open
}

// leads returns how much deeper than it is drawn a step may drill, for the lead of the reamer
// that follows.
func (j *judgement) leads() float64 {
	if slices.Contains(j.op.Allowed, any("reamer-lead")) {
		return reamerLead
	}
	return 0
}

// opensMouth reports whether a step says that it may open a mouth or a spot wider than what is drawn.
func (j *judgement) opensMouth() bool {
	return slices.ContainsFunc(j.op.Allowed, func(a any) bool { return a != "reamer-lead" })
}

// deepSet returns the depth that a step is set to.
func (j *judgement) deepSet() (deep float64, ok bool) {
	for _, s := range j.op.Settings {
		if v, is := s.Value.(float64); is && s.Name == "depth" {
			return v, true
		}
	}
	return 0, false
}

// metalFrom returns how far from a bore's end the last metal lies that it meets.
func (j *judgement) metalFrom(r removal) float64 {
	const step = 0.05
	deep := j.length
	for deep > 0 {
		z := deep - step
		if r.From == "right" {
			z = j.length - z
		}
		if j.work.hollow(z) < r.Dia-tiny {
			break
		}
		deep -= step
	}
	return deep
}

// roomBehind looks at a tool that comes out of the work behind the jaws.
func (j *judgement) roomBehind(r removal, deep float64) {
	a, b, ok := j.jaws()
	if !ok || j.setUp.Machine != "lathe" {
		return
	}
	tip := deep
	out := tip > j.work.right()+0.01 && tip > b+0.01
	if r.From == "right" {
		tip = j.length - deep
		out = tip < j.work.left()-0.01 && tip < a-0.01
	}
	if !out {
		return
	}
	j.holeOf("lathe.spindle_bore", j.shop.lathe, "spindle_bore", r.Dia)
	switch j.setUp.Device {
	case "collet":
	case "four-jaw":
		j.holeOf("lathe.four_jaw.through", j.shop.lathe.in("four_jaw"), "through", r.Dia)
	default:
		j.holeOf("lathe.chuck.through", j.shop.lathe.in("chuck"), "through", r.Dia)
	}
}

// pilotFirst (pilot): the web of a drill that is larger than 13 mm runs in a hole of a fifth
// of its diameter, half as deep at the least: common practice, no source.
func pilotFirst(j *judgement) {
	const larger, over, web = 13, 0.3, 0.2 // over: a hole is a little wider than its drill
	for _, r := range j.op.Removes {
		if r.Shape != "bore" || j.op.Kind != "drill" || r.Dia <= larger+over || r.Depth == nil {
			continue
		}
		z := *r.Depth / 2
		if r.From == "right" {
			z = j.length - z
		}
		if is := j.work.hollow(z); is < web*(r.Dia-over) {
			j.bad("pilot", "a drill of %.2f in a hole of %.2f", r.Dia, is)
		}
	}
}
