package certify

import (
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// shoulder: a thread that ends at a shoulder has room for its run-out there: a
// relief at least as wide, or what a die or a tap leaves unfinished; or it is cut
// away from it. The run-out is never less than one pitch, of a die never less than its lead
// unless it is turned round: then no collar is left before the shoulder. Jaws are a shoulder
// too, and so is the floor of a bore. Where a single point begins, nothing stands higher than the
// root of the thread over a pitch.
func shoulder(k *checker) {
	for _, r := range k.Op.Removes {
		t, ok := r.(work.Thread)
		if !ok {
			continue
		}
		stop, way := k.stops(t)
		need := max(t.RunOut, times(k.pitches[t.Spec], k.leastRunOut))
		high := t.Major + k.brokenEdge
		switch {
		case k.Op.DieTurned:
			high = t.Major - k.pitches[t.Spec]
		case k.Op.OnEnd:
			need = max(need, times(k.pitches[t.Spec], k.reliefWidth))
		}
		free := k.freeOutside(high, stop, way, need)
		if t.Inside {
			free = k.freeInside(t, stop, way, need)
		}
		k.atLeast(problem.IntoShoulder, free, need, "free behind the thread", true, func() say.Text {
			if t.Inside {
				return say.Of("bore ", (need - free).Length().Up(), " deeper, or end the thread so much sooner")
			}
			return say.Of("cut a relief ", need.Length().Up(), " wide behind the thread, end it ",
				(need - free).Length().Up(), " sooner, or cut it away from the shoulder")
		})
		if !t.Inside && !k.Op.OnEnd {
			k.begins(t, way)
		}
	}
}

// begins looks at where a single point begins a thread on the outside.
func (k *checker) begins(t work.Thread, way part.End) {
	const fits = 10_000 // nm, that a root is rounded by
	start := far(work.Span{From: t.From, To: t.To}, other(way))
	for i := range k.Shape.Threads {
		d := &k.Shape.Threads[i]
		if d.Inside || d.Spec != t.Spec {
			continue
		}
		root, need := op.LenOf(d.Designation.Sizes().MinorExternal), k.pitches[t.Spec]
		k.atLeast(problem.IntoShoulder, k.freeOutside(root+fits, start, other(way), need), need,
			"free where the thread starts", true, func() say.Text {
				return "cut a groove down to its root first, beyond its start"
			})
		return
	}
}

// stops returns where the tool leaves a thread, and the way it goes there: as it
// is cut; where that is not said, away from the end it begins at.
func (k *checker) stops(t work.Thread) (z work.Len, way part.End) {
	s := work.Span{From: t.From, To: t.To}
	out := k.Op.Setup.Out
	switch {
	case t.Cut == work.ToTailstock:
		way = out
	case t.Cut == work.ToHeadstock || k.onLathe():
		way = other(out)
	case t.From <= k.Before.Length-t.To:
		way = part.Right
	default:
		way = part.Left
	}
	return far(s, way), way
}

// freeOutside returns how much of need is free outside, from where the thread
// stops on: nothing stands higher than high.
func (k *checker) freeOutside(high, stop work.Len, way part.End, need work.Len) work.Len {
	free := need
	if s := k.Op.Setup; s.Device.Jaws() && way != s.Out {
		free = min(free, max(0, away(s.Face(), stop, way)))
	}
	for _, p := range k.Before.Over(beyond(stop, way, need)) {
		if max(p.Left, p.Right) > high {
			free = min(free, max(0, away(near(p.Span, way), stop, way)))
		}
	}
	return free
}

// freeInside returns the same in the bore that the thread is in: it goes on as
// wide.
func (k *checker) freeInside(t work.Thread, stop work.Len, way part.End, need work.Len) work.Len {
	mid := middle(work.Span{From: t.From, To: t.To})
	wide, free := k.Before.Bore(mid), work.Len(0)
	for _, b := range k.Before.Bores {
		s := opened(b, k.Before)
		if b.EndDia != 0 && b.EndDia != b.Dia || b.Dia < wide-fine || stop < s.From || s.To < stop {
			continue
		}
		if b.Through && far(s, way) == k.Before.Reach(way) {
			return need // out into the open
		}
		free = max(free, away(far(s, way), stop, way))
	}
	return min(free, need)
}

// parting: the blade reaches the middle and is at least an eighth of that depth
// wide, the kerf is within two diameters of the jaws, its diameter is one that
// is parted on such a lathe, no centre is in, and no steady: what comes free at the jaws would
// whip in it. The overhang is looked at with
// every cut's.
func parting(k *checker) {
	if k.Op.Kind != op.PartOff || !k.onLathe() {
		return
	}
	for _, r := range k.Op.Removes {
		if cut, ok := r.(work.EndCut); ok {
			k.parts(cut)
		}
	}
}

// parted returns the largest diameter that is parted: the shop's, or what is usual.
func (k *checker) parted() work.Len {
	if p := k.Shop.Parting; p != nil && p.Most != nil {
		return op.LenOf(*p.Most)
	}
	return k.partingMost
}

// parts checks one kerf.
func (k *checker) parts(cut work.EndCut) {
	const code = problem.Parting
	s, p := k.Op.Setup, k.Shop.Parting
	if p == nil {
		k.fail(code, words("it is parted off"), words("there is no parting blade in this shop"),
			"saw it off and face the end")
		return
	}
	blade := op.LenOf(p.Blade)
	kerf := beyond(cut.Z, cut.End, blade)
	dia := k.Before.Largest(kerf)
	deep := (dia - k.Before.Bore(middle(kerf))) / 2
	reach, most := sizeOf(p.Reach), k.parted()
	saw := func() say.Text { return "saw it off and face the end" }
	if s.Support == op.AtCentre || s.Support == op.AtMouth || s.Device == op.Centres {
		k.fail(code, words("a centre is in"), words("it is parted without"), "draw the centre back, or saw it off")
		return
	}
	if s.Support == op.AtSteady {
		k.fail(code, words("a steady alone carries what comes free"), words("it whips when it is cut through"), saw())
		return
	}
	if !k.atMost(code, dia, most, "across the kerf", saw) {
		return
	}
	if reach == 0 {
		k.missing("lathe.parting.reach")
	} else if !k.atMost(code, deep, reach, "to the middle", saw) {
		return
	}
	if !k.atLeast(code, blade, times(deep, k.partingDepth), "wide is the blade", true, func() say.Text {
		return "a wider blade, or saw it off and face the end"
	}) {
		return
	}
	from := max(away(cut.Z, s.Face(), s.Out), away(far(kerf, cut.End), s.Face(), s.Out))
	near := times(dia, k.partingNear)
	k.atMost(code, from, near, "from the jaws", func() say.Text {
		return say.Of("let the kerf stand no more than ", near.Length().Down(), " out of the jaws")
	})
}
