package fouling

import (
	"math"

	"setover/setup/base/units"
	"setover/setup/book/practice"
)

// mover is a part that is moved by as much as it takes: from base by no more than
// most either way and not under low, tried in steps. It is set to even values:
// the first of evens, in deg or mm, that serves too.
type mover struct {
	base, low, most, step float64
	evens                 []float64
	put                   func(a *Alternative, v float64)
}

// mover returns how a part is moved of an arrangement; ok is false where there is
// nothing to move.
func (in Input) mover(c Change, a Arrangement) (m mover, ok bool) {
	const mm = 1.0
	out := in.CentreAt != nil && in.knowsBarrel(a)
	rule := practice.RuleStep.Length(units.MM).MM()
	m = mover{step: mm, evens: []float64{rule, rule / 5}}
	switch {
	case c == TurnPost && a.PostTurn != WithSlide:
		post := practice.PostStep.Angle().Deg()
		m.most, m.low, m.evens = practice.PostTurn.Angle().Deg(), math.Inf(-1), []float64{post, post / 5, post / 50}
		m.put = func(a *Alternative, v float64) { a.PostTurned = new(units.Degrees(v)) }
		if a.PostTurned != nil {
			m.base = a.PostTurned.Deg()
		}
	case c == MoveTool:
		m.base, m.low, m.most = in.over(a).MM(), practice.ToolLeast.Length().MM(), practice.ToolOutMost.Length().MM()
		usual := practice.ToolOut.Length().MM()
		if in.Brief { // a plan has simpler ways
			m.most = usual
		}
		m.put = func(a *Alternative, v float64) {
			a.Overhang, a.farOut = new(units.FromFloat(v)), math.Abs(v-m.base) > usual+fine
		}
	case c == MoveBarrel && out:
		m.base, m.most = in.barrelOut(a).MM(), practice.BarrelMore.Length().MM()
		m.low = m.base
		m.put = func(a *Alternative, v float64) { a.BarrelOut = new(units.FromFloat(v)) }
	case c == LongerBar && out:
		m.base, m.most = in.CentreAt.MM(), practice.BarLonger.Length().MM()
		m.low = m.base
		m.put = func(a *Alternative, v float64) { a.CentreAt = new(units.FromFloat(v)) }
	default:
		return m, false
	}
	return m, true
}

// over is how far the tip stands out of the post.
func (in Input) over(a Arrangement) units.Length {
	if a.Overhang != nil {
		return *a.Overhang
	}
	return in.Lathe.ToolPost.Overhang
}

// knowsBarrel reports whether it is known how far the tailstock's barrel stands out.
func (in Input) knowsBarrel(a Arrangement) bool {
	t := in.Lathe.Tailstock
	return t != nil && (t.BarrelOut != nil || a.BarrelOut != nil)
}

// barrelOut is how far the tailstock's barrel stands out.
func (in Input) barrelOut(a Arrangement) units.Length {
	if a.BarrelOut != nil {
		return *a.BarrelOut
	}
	return *in.Lathe.Tailstock.BarrelOut
}

// least returns the value nearest to base that serves: found by steps and then
// between the last two, to a millionth, from the far side so that what is returned
// serves. way is the direction from base.
func (m mover) least(serves func(v float64) bool) (v, way float64, ok bool) {
	for n := 1.0; n*m.step <= m.most+fine; n++ {
		for _, way := range [2]float64{1, -1} {
			if v := m.base + way*n*m.step; v < m.low-fine || !serves(v) {
				continue
			}
			lo, hi := (n-1)*m.step, n*m.step
			for hi-lo > m.step/1e6 {
				if mid := (lo + hi) / 2; serves(m.base + way*mid) {
					hi = mid
				} else {
					lo = mid
				}
			}
			return m.base + way*hi, way, true
		}
	}
	return 0, 0, false
}

// even returns v moved on to the next multiple of the first of the steps that
// serves there too, and v where none does.
func (m mover) even(v, way float64, steps []float64, serves func(v float64) bool) float64 {
	for _, s := range steps {
		e := way * math.Ceil(way*v/s-fine) * s
		if math.Abs(e-m.base) <= m.most+fine && e >= m.low-fine && serves(e) {
			return e
		}
	}
	return v
}

// set moves a part of an alternative by the least that serves, as a person sets it:
// to half a degree or by the rule, which on a page in inches is one in inches.
func (m mover) set(c Change, a Alternative, serves func(Alternative) bool) (Alternative, bool) {
	put := func(v float64) Alternative {
		b := a
		m.put(&b, v)
		return b
	}
	tried := func(v float64) bool { return serves(put(v)) }
	v, way, ok := m.least(tried)
	if !ok {
		return a, false
	}
	out := put(m.even(v, way, m.evens, tried))
	if c != TurnPost {
		inch := practice.RuleStep.Length(units.Inch).MM()
		out.inches = out.inches.with(c, m.even(v, way, []float64{inch, inch / 4}, tried))
	}
	return out, true
}

// inches is what is set on a page in inches where that is another round figure.
type inches [4]struct {
	c Change
	v units.Length
}

func (i inches) with(c Change, mm float64) inches {
	for k := range i {
		if i[k].c == "" || i[k].c == c {
			i[k].c, i[k].v = c, units.FromFloat(mm)
			break
		}
	}
	return i
}

// of returns the figure for a page in inches, where there is one.
func (i inches) of(c Change) (v units.Length, ok bool) {
	for _, k := range i {
		if k.c == c {
			return k.v, true
		}
	}
	return v, false
}

// moved returns an arrangement with one thing moved by the least that clears by
// 3 mm, or so much less, for each of what may be.
func (in Input) moved(now, a Arrangement, lacks float64, what ...Change) (list []Alternative) {
	serves := func(b Alternative) bool { return in.holds(now, b) }
	for _, c := range what {
		m, ok := in.mover(c, a)
		if !ok {
			continue
		}
		from := in.from(now, a, c)
		from.lacks = lacks
		if out, ok := m.set(c, from, serves); ok {
			list = append(list, in.cleared(out))
		}
	}
	return list
}

// from returns an alternative to be moved: its change is what is moved where the
// arrangement is the same.
func (in Input) from(now, a Arrangement, c Change) Alternative {
	out := Alternative{Change: c, Arrangement: a, MoreFromJaws: new(units.Length), parts: changed(now, a)}
	if out.parts > 0 {
		out.Change = in.changeTo(now, a)
	}
	return out
}

// cleared returns an alternative with the clearance that it has.
func (in Input) cleared(a Alternative) Alternative {
	a.Clearance, _, _ = least(in.with(a).pairs(a.Arrangement), 0)
	return a
}

// movedTwice returns an arrangement with two things moved: the tool or the post by
// the least with which the work further out, the barrel or a longer bar clears, and
// these then by the least; or the tool and the post.
func (in Input) movedTwice(now, a Arrangement, lacks float64) (list []Alternative) {
	serves := func(b Alternative) bool { return in.holds(now, b) }
	for _, pair := range [][2]Change{
		{MoveTool, MoveWork},
		{MoveTool, MoveBarrel},
		{MoveTool, LongerBar},
		{TurnPost, MoveWork},
		{TurnPost, MoveBarrel},
		{TurnPost, LongerBar},
		{TurnPost, MoveTool},
	} {
		m, ok := in.mover(pair[0], a)
		n, and := in.mover(pair[1], a)
		if !ok || !and && pair[1] != MoveWork {
			continue
		}
		furthest := func(b Alternative) bool {
			if pair[1] == MoveWork {
				b, ok := in.movedOut(b)
				return ok && serves(b)
			}
			n.put(&b, n.base+n.most)
			return serves(b)
		}
		from := in.from(now, a, pair[0])
		from.lacks = lacks
		if furthest(from) { // the second does alone
			continue
		}
		out, ok := m.set(pair[0], from, furthest)
		if !ok {
			continue
		}
		if pair[1] == MoveWork {
			out, _ = in.movedOut(out)
		} else if out, ok = n.set(pair[1], out, serves); !ok {
			continue
		}
		list = append(list, in.cleared(out))
	}
	return list
}

// movedOut returns an alternative with the work as far out as it needs.
func (in Input) movedOut(a Alternative) (Alternative, bool) {
	there := in.with(a)
	a.MoreFromJaws = moreOut(there.pairs(a.Arrangement), a.wanted())
	a.Moved = a.MoreFromJaws != nil && a.MoreFromJaws.Sign() > 0
	return a, a.Moved
}
