package plan

import (
	"slices"

	"setover/feeds"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/drills"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
)

// pilots returns the drills that go in before one, the narrowest first: as few as may be.
// The web of a drill does not cut, it is pushed: a drill that is large for a tailstock, or
// that the motor does not drive at half its feed, follows a hole that its web runs in.
func (x axial) pilots(base *op.Op, last drills.Drill, metal units.Length, through bool) []drills.Drill {
	deep := metal
	if through {
		deep = deep.Plus(x.past(x.Bore))
	}
	key := piloted{base.Setup.Machine, op.LenOf(last.Dia), op.LenOf(x.open), op.LenOf(metal), op.LenOf(deep)}
	list, known := x.pilotsOf[key]
	if !known {
		list = x.lookForPilots(base, last, metal, deep)
		x.pilotsOf[key] = list
	}
	return list
}

// piloted is what pilots depend on beside the shop and the material: of which machine, before
// which drill, in what is open so wide, through so much metal and so deep.
type piloted struct {
	machine                shop.Machine
	dia, open, metal, deep op.Len
}

func (x axial) lookForPilots(base *op.Op, last drills.Drill, metal, deep units.Length) (list []drills.Drill) {
	for next := last; ; {
		pushed := practice.PilotInLathe.Length().Less(next.Dia) && x.open.Less(practice.PilotPart.Of(next.Dia))
		if !pushed && !x.strains(base, next, metal, x.open) {
			break
		}
		easy, narrow := x.pilotOf(base, next, metal, deep)
		switch {
		case easy != nil:
			next = *easy
		case pushed && narrow != nil: // for the web alone
			next = *narrow
		default: // none would help
			slices.Reverse(list)
			return list
		}
		list = append(list, next)
	}
	slices.Reverse(list)
	return list
}

// pilotOf returns the narrowest drill on hand that is as wide as the web of the next, and as
// what is open, and that is fluted so deep, one of the long series where no other is; and the
// narrowest of those that leave no more to the next than the motor drives. Each is nil where
// there is none.
func (x axial) pilotOf(base *op.Op, next drills.Drill, metal, deep units.Length) (easy, narrow *drills.Drill) {
	web := practice.PilotPart.Of(next.Dia)
	for _, series := range []flutes{practice.DrillFlute, practice.LongDrillFlute} {
		for _, p := range x.twists() {
			narrower := narrow == nil || p.Dia.Less(narrow.Dia)
			easier := easy == nil || p.Dia.Less(easy.Dia)
			fits := web.Cmp(p.Dia) <= 0 && x.open.Less(p.Dia) && p.hole.Less(next.Dia)
			total := func() units.Length { return holes.DepthOf(p.Dia, practice.PointAngle.Angle(), deep, false).Total }
			if !fits || !narrower && !easier || series.Length(p.Dia).Less(total()) {
				continue
			}
			if narrower {
				narrow = &p.Drill
			}
			if easier && !x.strains(base, next, metal, p.hole) {
				easy = &p.Drill
			}
		}
		if narrow != nil {
			break
		}
	}
	return easy, narrow
}

// strains reports whether the motor does not drive half of a drill's feed, in a hole that is
// open so wide.
func (x axial) strains(base *op.Op, d drills.Drill, metal, open units.Length) bool {
	in := cutting(feeds.Drill, d.Dia, metal)
	if open.Sign() > 0 {
		in.To = &open
	}
	r, err := x.run(base, in)
	return err == nil && r.Pilot
}
