package certify

import (
	"sync"

	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
	foul "setover/tapers/fouling"
)

// jaws are a chuck's. What its file does not say is 0.
type jaws struct {
	there       bool
	path        string // of the chuck in the shop's file
	count       int
	dia         work.Len
	length      work.Len
	through     work.Len
	least, most work.Len // diameters that it grips; most is 0 where they are not said
}

// lathe is the shop's lathe as it is asked here. What its file does not say is
// 0.
type lathe struct {
	chuck, fourJaw jaws
	bore           work.Len // of the spindle
	nose           work.Len // the widest mouth that the centre holds
	tailstock      bool
	tools          map[op.Hand]foul.Tool // those on hand, as the post carries them
}

func latheOf(s *shop.Shop) lathe {
	if s.Lathe == nil {
		return lathe{chuck: jaws{path: "lathe.chuck"}, fourJaw: jaws{path: "lathe.four_jaw"}}
	}
	tools := map[op.Hand]foul.Tool{}
	for _, h := range []op.Hand{op.Right, op.Left, op.Neutral} {
		if t, ok := foul.Mounted(foul.OnHand(s.Lathe.Tools), s.Lathe.ToolPost, foul.Hand(h)); ok {
			tools[h] = t
		}
	}
	return lathe{
		tools: tools,
		chuck: jawsOf(s.Lathe.Chuck, "lathe.chuck"), fourJaw: jawsOf(s.Lathe.FourJaw, "lathe.four_jaw"),
		bore: sizeOf(s.Lathe.SpindleBore), nose: sizeOf(s.Lathe.CentreNose), tailstock: s.Lathe.Tailstock != nil,
	}
}

func jawsOf(c *shop.Chuck, path string) jaws {
	if c == nil {
		return jaws{path: path}
	}
	j := jaws{
		there: true, path: path, count: c.Jaws, dia: op.LenOf(c.Diameter),
		length: sizeOf(c.JawLength), through: sizeOf(c.Through),
	}
	if c.Range != nil {
		j.least, j.most = op.LenOf(c.Range.From), op.LenOf(c.Range.To)
	}
	return j
}

// sizeOf returns a size of the shop's file, 0 where it is not said.
func sizeOf(l *units.Length) work.Len {
	if l == nil {
		return 0
	}
	return op.LenOf(*l)
}

// jawsOn returns the jaws that a device holds with, and whether it has some: a
// dividing head and a rotary table carry the lathe's chuck.
func (l *lathe) jawsOn(d op.Device) (jaws, bool) {
	switch d {
	case op.Chuck, op.SoftJaws, op.SplitNut, op.DividingHead, op.RotaryTable:
		return l.chuck, true
	case op.FourJaw:
		return l.fourJaw, true
	}
	return jaws{}, false
}

// figures are the rows of practice that are asked for each operation, as
// numbers.
type figures struct {
	gripLeast, gripSoftLeast, gripColletMost                                 work.Len
	gripPart, gripSoftPart, gripSoftReach, gripCollet                        float64
	gripMandrel, gripHole, gripThread, jawsThrough, standOut                 float64
	springRough, springAside, springFinish, sideForce                        float64
	leavePolish, standOutScrewed, bendPart, bendJerk                         float64
	steadyLand, vHeight, toolStep, leaveTurning, edgeCuts, dogWidth, dogPast work.Len
	mouthFrom, mouthTo                                                       work.Deg
	vBeyond, partingDepth, partingNear                                       float64
	plungePart, plungeWidth, arborAcross, arborSpread                        float64
	partingMost, brokenEdge                                                  work.Len
	beltWidth, fileWidth, fileRoom, besideJawsLeast                          work.Len
	blockWidth, breakthrough, jawClear, viceHold                             work.Len
	pointAngle                                                               units.Angle
	leastRunOut, dieUnder, reliefDepth, reliefWidth                          float64
}

// practised reads them once.
var practised = sync.OnceValue(func() *figures {
	return &figures{
		gripLeast:       op.LenOf(practice.GripLeast.Length()),
		gripPart:        practice.GripPart.Number(),
		gripSoftLeast:   op.LenOf(practice.GripSoftLeast.Length()),
		gripSoftPart:    practice.GripSoftPart.Number(),
		gripSoftReach:   practice.GripSoftReach.Number(),
		gripCollet:      practice.GripCollet.Number(),
		gripColletMost:  op.LenOf(practice.GripColletMost.Length()),
		gripMandrel:     practice.GripMandrel.Number(),
		gripThread:      practice.GripThread.Number(),
		gripHole:        practice.GripHole.Number(),
		jawsThrough:     practice.JawsThrough.Number(),
		standOut:        practice.StandOut.Number(),
		standOutScrewed: practice.StandOutScrewed.Number(),
		leavePolish:     practice.LeavePolish.Length().MM(),
		bendPart:        practice.BendPart.Number(),
		bendJerk:        practice.BendJerk.Number(),
		springRough:     practice.SpringRough.Length().MM(),
		springAside:     practice.SpringAside.Length().MM(),
		springFinish:    practice.SpringFinish.Number(),
		sideForce:       practice.SideForce.Number(),
		steadyLand:      op.LenOf(practice.SteadyLand.Length()),
		vHeight:         op.LenOf(practice.VHeight.Length()),
		toolStep:        op.LenOf(practice.ToolStep.Length()),
		dogWidth:        op.LenOf(practice.DogWidth.Length()),
		dogPast:         op.LenOf(practice.DogPast.Length()),
		leaveTurning:    op.LenOf(practice.LeaveTurning.Length()),
		edgeCuts:        op.LenOf(practice.EdgeCuts.Length()),
		mouthFrom:       op.DegOf(practice.CentreCone.Angle()),
		mouthTo:         op.DegOf(practice.CountersinkAngle.Angle()),
		vBeyond:         practice.VBeyond.Number(),
		partingDepth:    practice.PartingDepth.Number(),
		partingNear:     practice.PartingNear.Number(),
		arborAcross:     practice.ArborAcross.Number(),
		arborSpread:     practice.ArborSpread.Number(),
		plungePart:      practice.PlungePart.Number(),
		plungeWidth:     practice.PlungeWidth.Number(),
		partingMost:     op.LenOf(practice.PartingMost.Length()),
		brokenEdge:      op.LenOf(practice.BrokenEdge.Length()),
		viceHold:        op.LenOf(practice.ViceHold.Length()),
		jawClear:        op.LenOf(practice.JawClear.Length()),
		beltWidth:       op.LenOf(practice.BeltWidth.Length()),
		fileWidth:       op.LenOf(practice.FileWidth.Length()),
		blockWidth:      op.LenOf(practice.BlockWidth.Length()),
		breakthrough:    op.LenOf(practice.Breakthrough.Length()),
		pointAngle:      practice.PointAngle.Angle(),
		leastRunOut:     practice.LeastRunOut.Number(),
		fileRoom:        op.LenOf(practice.FileRoom.Length()),
		besideJawsLeast: op.LenOf(practice.DrillBesideJaws.Length()),
		dieUnder:        practice.DieUnder.Number(),
		reliefDepth:     practice.ReliefDepth.Number(),
		reliefWidth:     practice.ReliefWidth.Number(),
	}
})

// times returns so many times a length.
func times(l work.Len, n float64) work.Len { return work.Float(l.MM() * n) }
