package plan

import (
	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/threads"
	"setover/threads/cut"
)

// How fast a thread is cut: by tap or die with the hand, by a single point no faster than a hand
// draws it out.

// byHand says how a tap or a die is turned, and its minutes, which are those of its turns in and out:
//
//	2·length/lead turns
//
// Source: the row thread-hand-turns of practice.
func (t *task) byHand(o *op.Op, in feeds.Input, spec threads.Designation, length units.Length) {
	t.allowed(o, in)
	how := say.Text("switched off: wind the chuck round by hand, and let the tailstock guide the holder and follow it")
	switch {
	case o.Setup.Machine != op.Lathe:
		how = "switched off: turn the tap by its wrench, its upper end guided by a point or a follower in the spindle"
	case o.Kind == op.Tap && t.Shop.Lathe.Tailstock == nil:
		how = "switched off: wind the chuck round by hand, and hold the tap square to the face"
	}
	o.Set("turn", say.Text("by hand"), how, "; every turn or so half a turn back, to break the chip")
	turns := 2 * length.MM() / spec.Lead().MM()
	o.Minutes += turns / practice.ThreadHandTurns.Number()
	if o.Kind == op.Thread {
		o.Minutes += practice.ThreadMinutes.Number()
	}
}

// single is a thread that is cut with a single point: so long, with so much beyond it to draw out in.
type single struct {
	spec        threads.Designation
	length, out units.Length
	inside      bool
}

// runsOut returns how much is left beyond an inside thread for its tool to be drawn out in: to the
// far end of a through hole and beyond, else to the floor.
func (n nut) runsOut() units.Length {
	if n.through {
		return n.spec.Pitch.Length(practice.ReliefWidth.Number())
	}
	return units.Max(n.deep.Minus(n.length), units.Length{})
}

// pointed says how a thread is cut with a single point: how deep, in which passes, straight in by the
// cross slide, as thread passes has them; how fast, as feeds has it but never faster than leaves a
// hand its second in what is beyond the thread; by hand where the lathe does not go so slow; and when
// the half-nuts are closed.
func (t *task) pointed(o *op.Op, s single) {
	r, _ := t.allowed(o, atLead(feeds.Thread, s.spec))
	o.Minutes += practice.ThreadMinutes.Number()
	lathe := t.Shop.Lathe
	in := cut.PassesInput{
		Spec: s.spec, Inside: s.inside, Infeed: new(units.Degrees(0)), Spring: int(practice.SpringPasses.Number()),
		Reaction: units.Number(practice.HandReaction.Number()), Cross: lathe.CrossSlide,
	}
	if s.out.Sign() > 0 {
		in.Relief = &s.out
	}
	p, err := cut.Passes(in)
	if err != nil {
		o.Check(problem.NotReachable, false, say.Of("a single point does not cut ", s.spec),
			say.Text("a form that it cuts is wanted"), "a die or a tap")
		return
	}
	t.infeed(o, p)
	rpm, slow := t.threadSpeed(r, p, s)
	if slow {
		o.Set("speed", say.Text("by hand"), "the motor off, the spindle turned by a crank or by the chuck: ",
			s.out.Down(), " beyond the thread is too little to draw the tool out of under power in ",
			say.Num(practice.HandReaction.Number(), 1), " s")
		rpm = practice.ThreadHandTurns.Number()
	} else if p.MaxRPM == nil {
		o.Set("speed", sheet.Number{V: rpm, Unit: "rpm"}, "from the relief away from the shoulder, toward the tailstock")
	} else {
		note := say.Of("the most at which the tool is drawn out in ", say.Num(practice.HandReaction.Number(), 1),
			" s over the ", s.out.Down(), " beyond the thread is ", sheet.Number{V: p.MaxRPM.RPM(), Unit: "rpm"})
		o.Set("speed", sheet.Number{V: rpm, Unit: "rpm"}, note)
	}
	o.Set("feed", s.spec.Lead().Length(1), "a turn, by the gears")
	turns := s.length.Plus(s.out).MM() / s.spec.Lead().MM()
	o.Minutes += float64(len(p.Passes)) * 2 * turns / rpm
	t.halfNuts(o, s.spec)
}

// threadSpeed returns the speed a thread is cut at, and whether the lathe does not go so slow.
func (t *task) threadSpeed(r feeds.Result, p cut.PassesResult, s single) (rpm float64, slow bool) {
	ideal := r.IdealRPM.RPM()
	most, away := ideal, s.spec.Left && len(p.Fails()) == 0 // it starts in the relief and runs away from the shoulder
	switch {
	case away:
	case p.MaxRPM == nil || s.out.Sign() <= 0:
		return 0, true
	case ideal <= 0 || p.MaxRPM.RPM() < ideal:
		most = p.MaxRPM.RPM()
	}
	spindle := t.Shop.Lathe.Spindle
	if spindle == nil {
		return most, false
	}
	set := spindle.Set(units.RPM(most)).Set.RPM()
	return set, !away && set > p.MaxRPM.RPM()
}

// infeed says how deep a thread is cut and in which passes.
func (t *task) infeed(o *op.Op, p cut.PassesResult) {
	var to []units.Length
	spring := 0
	for _, x := range p.Passes {
		switch in := x.Slide; {
		case x.Spring:
			spring++
		case x.SlideSet != nil:
			to = append(to, *x.SlideSet)
		default:
			to = append(to, in)
		}
	}
	o.Set("thread depth", p.Depth.Down(), "a side, from touching: stop by the mate, a gauge or the wires")
	o.Set("infeed", say.Text("straight in"), "by the cross slide, which is drawn out before the tool goes back")
	o.Set("passes", sheet.Count(len(to)+spring), "the cross slide in to ", say.Join(to, ", "), " from touching, then ",
		say.Count(int64(spring), "pass", "passes"), " more at the last")
}

// halfNuts says when the half-nuts are closed: at the marks of the thread dial that serve, or never
// opened.
func (t *task) halfNuts(o *op.Op, spec threads.Designation) {
	lathe := t.Shop.Lathe
	in := cut.DialInput{Thread: cut.Of(spec), Leadscrew: lathe.Leadscrew}
	if d := lathe.ThreadDial; d != nil {
		in.Gears, in.Marks = d.Gears, d.Marks
	}
	const kept = "from the first pass to the last: draw the tool out and turn the spindle backward to the start"
	if r, err := cut.Dial(in); err == nil {
		for _, m := range r.Marks {
			if len(m.Marks) > 0 {
				o.Set("half-nuts", say.Text("by dial"), say.Text(m.Say), ", on the thread dial with its gear of ", m.Gear, " teeth")
				return
			}
		}
	}
	o.Set("half-nuts", say.Text("kept closed"), kept)
}

// formed gives a form tool that goes straight in from a diameter to another its speed and minutes:
// those of a parting cut.
func (t *task) formed(o *op.Op, from, to units.Length) {
	in := cutting(feeds.PartOff, from)
	in.To = &to
	if p := t.Shop.Parting; p != nil {
		in.Blade = &p.Blade
	}
	t.cut(o, 1, in)
}
