package plan

import (
	"math"
	"slices"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
	"setover/tapers/fouling"
)

// Which tool gets at a slope or an arc: one on hand, or one that is ground for it.

// hands are those of turning tools that are fed along the work.
var hands = []fouling.Hand{fouling.Right, fouling.Left, fouling.Neutral}

// finishingTool names the tool of a hand that a taper is cut with.
func finishingTool(hand fouling.Hand) op.Tool {
	switch hand {
	case fouling.Left:
		return op.Tool{Name: "left-hand finishing tool", Hand: op.Left}
	case fouling.Neutral:
		return op.Tool{Name: "pointed tool", Hand: op.Neutral}
	}
	return op.Tool{Name: "finishing tool", Hand: op.Right}
}

// sharpened is a tool that gets at a cut: its hand, and what its edge is ground to for it, 0
// where one on hand does.
type sharpened struct {
	hand  fouling.Hand
	trail units.Angle
}

// isGround reports whether it is ground for the cut: a pointed one that trails by no more than is usual
// is always there.
func (x sharpened) isGround() bool {
	usual := x.hand == fouling.Neutral && x.trail.Rad() <= practice.PointedTrail.Angle().Rad()
	return x.trail.Deg() != 0 && !usual
}

// takes gives an operation a tool, and says what it is ground to for it: a pointed one that
// trails by more than is usual is a grooving tool with a point.
func (x sharpened) takes(o *op.Op) {
	o.Tool = finishingTool(x.hand)
	if !x.isGround() {
		return
	}
	o.Minutes += practice.GrindMinutes.Number()
	trail := sheet.Deg(x.trail)
	if x.hand != fouling.Neutral {
		o.Tool.Name, o.Tool.Trail = say.Of(o.Tool.Name, " that trails by ", trail), x.trail
		o.Set(ground, say.Text("for it"), trail, fromAxis, ", the edge that trails")
		return
	}
	point := units.Degrees(180).Minus(x.trail.Times(2))
	o.Tool = op.Tool{Name: say.Of("grooving tool with a point of ", sheet.Deg(point)), Hand: op.Form, Trail: x.trail}
	o.Set(ground, say.Text("for it"), trail, fromAxis, ", the same on both sides")
}

// What a card says of a tool that is ground for a cut.
const (
	ground   say.Text = "ground"
	fromAxis say.Text = " from the axis with the post square"
)

// standsOff says of the edge of a tool that is ground for a taper on the compound how it stands
// when the post is turned as it is, and by how much it clears the side that it faces:
//
//	trail + turned - half angle
//
// where a right-hand tool's edge turns away from the work with the post clockwise, a left-hand
// one's the other way; a post that is turned with the slide keeps the trail to the side itself.
func (p *tapering) standsOff() {
	o := p.o
	n := slices.IndexFunc(o.Settings, func(s op.Setting) bool { return s.Name == ground })
	if n < 0 {
		return
	}
	hand, stands, half := fouling.Hand(o.Tool.Hand), o.Tool.Trail.Deg(), o.Stands.Compound.Deg()
	if o.Tool.Hand == op.Form { // to a point
		hand = fouling.Neutral
	}
	grows := p.x.Left.Turned.Less(p.x.Right.Turned) == (p.out == part.Right) // toward the tailstock
	faces := hand == fouling.Neutral || grows == (hand == fouling.Right)
	deg := func(v float64) sheet.Number { return sheet.Number{V: v, Places: 1, Unit: "deg"} }
	text, it := o.Settings[n].Say, say.Text(": it")
	if a := o.Stands.Arrangement; a != nil && a.PostTurn == fouling.WithSlide {
		o.Settings[n].Say = say.Of(text, "; turned with the slide it stands so from the taper")
		return
	} else if a != nil && a.PostTurned != nil {
		turned := a.PostTurned.Deg()
		if hand == fouling.Left || hand == fouling.Neutral && !grows {
			turned = -turned
		}
		stands += turned
		text, it = say.Of(text, "; turned ", deg(math.Abs(turned)), " it stands at ", deg(stands)), " and"
	}
	if faces && stands > half {
		text = say.Of(text, it, " clears the ", deg(half), " of the side by ", deg(stands-half))
	}
	o.Settings[n].Say = text
}

// reached is a cut in its chucking: what is asked alike of many ways is worked out once.
type reached struct {
	cut               op.Span
	face              op.Len
	out               part.End
	stretches, inmost int // how many are cut in it, and the one by the jaws
	first             fouling.Hand
}

// gets returns the tool whose edges clear the work as it is when all of its chucking is cut:
// one of the hand that is tried first, of another that is on hand, or else the first that can
// be ground for it; where none clears, that of the first hand.
func (t *task) gets(cut op.Span, c chucking, first fouling.Hand) sharpened {
	key := reached{cut, c.setup.Face(), c.out, len(c.stretches), c.stretches[len(c.stretches)-1].N, first}
	x, known := t.reached[key]
	if !known {
		x = t.sharpen(cut, c, first)
		t.reached[key] = x
	}
	return x
}

// sharpen looks for the tool.
func (t *task) sharpen(cut op.Span, c chucking, first fouling.Hand) sharpened {
	lathe, list := t.Shop.Lathe, append([]fouling.Hand{first}, hands...)
	leaves := c.leaves(cut)
	clears := func(tools []shop.Tool) (fouling.Hand, bool) {
		for _, h := range list {
			x, owned := fouling.Mounted(tools, lathe.ToolPost, h)
			far := x
			if far.Far = true; owned && (leaves(x).Clears || leaves(far).Clears) {
				return h, true
			}
		}
		return "", false
	}
	if h, ok := clears(fouling.OnHand(lathe.Tools)); ok {
		return sharpened{hand: h}
	}
	for _, trail := range fouling.GroundTrails() {
		if h, ok := clears(fouling.WithGround(*lathe, trail).Tools); ok {
			return sharpened{h, trail}
		}
	}
	return sharpened{hand: first}
}

// leaves says of tools that cut a stretch whether they leave the rest of what its chucking cuts.
func (c chucking) leaves(cut op.Span) func(fouling.Tool) fouling.Reach {
	from, to, stands := c.fromJaws(cut.From).MM(), c.fromJaws(cut.To).MM(), c.standing(arcChords)
	return func(x fouling.Tool) fouling.Reach { return stands.Reaches(min(from, to), max(from, to), x) }
}

// clearsEdges reports whether tools of each hand that trail by so much leave all of the work
// under their edges, so that it is no use to grind them to trail by more.
func (t *task) clearsEdges(c chucking, cut op.Span, trail units.Angle) bool {
	tools, leaves := fouling.WithGround(*t.Shop.Lathe, trail).Tools, c.leaves(cut)
	return !slices.ContainsFunc(hands, func(h fouling.Hand) bool {
		x, owned := fouling.Mounted(tools, t.Shop.Lathe.ToolPost, h)
		return owned && leaves(x).Deg < 0
	})
}

// standsChords is how many straights stand for an arc while the fouling model is asked.
const standsChords = 8

// stands returns the work from the jaws outward as it is when all of this
// chucking is cut; what is really there then is certified when the order is known.
func (c chucking) stands() fouling.Profile { return c.standing(standsChords) }

// standing is stands with so many straights for an arc.
func (c chucking) standing(chords int) fouling.Profile {
	face := op.LenOf(c.setup.Face().Length())
	var list fouling.Profile
	for _, x := range slices.Backward(c.stretches) {
		points := []work.Point{{Z: op.LenOf(x.From), Dia: op.LenOf(x.Left.Turned)}}
		if x.Kind() == outline.Curve {
			for i := 1; i < chords; i++ {
				z := x.From.Plus(units.FromFloat(x.Length().MM() * float64(i) / float64(chords)))
				points = append(points, work.Point{Z: op.LenOf(z), Dia: op.LenOf(x.At(z).Turned)})
			}
		}
		points = append(points, work.Point{Z: op.LenOf(x.To), Dia: op.LenOf(x.Right.Turned)})
		if c.out == part.Left {
			slices.Reverse(points)
		}
		for _, p := range points {
			if len(list) == 0 { // as thick up to the jaws
				list = append(list, fouling.Corner{Dia: p.Dia.MM()})
			}
			list = append(list, fouling.Corner{Z: max(p.Z-face, face-p.Z).MM(), Dia: p.Dia.MM()})
		}
	}
	return list
}
