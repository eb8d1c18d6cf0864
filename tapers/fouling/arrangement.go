package fouling

import (
	"math"
	"slices"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// How a tool is held.
type (
	Hand   string // of the turning tool
	Side   string // of the tool post, that the holder hangs on
	Turn   string // how the tool post stands
	Handle string // which way round the compound's slide stands
)

// The words of each choice.
const (
	Right         Hand   = "right"   // cuts toward the headstock
	Left          Hand   = "left"    // cuts toward the tailstock
	Neutral       Hand   = "neutral" // pointed, cuts both ways
	Form          Hand   = "form"    // goes straight in: no tool for a taper on the compound
	HeadstockSide Side   = "headstock"
	TailstockSide Side   = "tailstock"
	Front         Side   = "front"
	Square        Turn   = "square"     // square to the work
	WithSlide     Turn   = "with-slide" // turned with the compound's slide
	Normal        Handle = "normal"
	Reversed      Handle = "reversed"
)

// And as lists: the hands are those that a compound's taper is asked for.
var (
	Hands   = []Hand{Right, Left}
	Sides   = []Side{HeadstockSide, TailstockSide, Front}
	Turns   = []Turn{Square, WithSlide}
	Handles = []Handle{Normal, Reversed}
)

// Arrangement is how the tool is held. As a fact it is worded by the tool; Hung
// says the rest. PostTurned is how far a square post is turned all the same,
// clockwise positive, Overhang the tip beyond the post where it is not the
// shop's, BarrelOut how far the tailstock's barrel stands out where that is not:
// nil as the shop has it.
type Arrangement struct {
	ToolHand   Hand          `json:"tool_hand,omitempty" show:"tool"`
	PostSide   Side          `json:"post_side,omitempty" show:"on post's"`
	PostTurn   Turn          `json:"post_turn,omitempty" show:"post"`
	Handle     Handle        `json:"handle,omitempty" show:"handle"`
	PostTurned *units.Angle  `json:"post_turned_deg,omitempty"`
	Overhang   *units.Length `json:"overhang_mm,omitempty"`
	BarrelOut  *units.Length `json:"barrel_out_mm,omitempty"`
}

// Words implements sheet.Value: "right-hand tool".
func (a Arrangement) Words() (mm, inch string) {
	tool := string(a.ToolHand) + "-hand tool"
	if a.ToolHand == Neutral {
		tool = "pointed tool"
	}
	return tool, tool
}

// Hung says where the holder hangs and how the post and the slide stand, and
// what stands out otherwise than the shop has it.
func (a Arrangement) Hung() say.Text { return a.hung(say.Of(", handle ", a.Handle)) }

// Held is Hung for whom the slide's handle is no question.
func (a Arrangement) Held() say.Text { return a.hung("") }

func (a Arrangement) hung(handle say.Text) say.Text {
	text := say.Of("on the ", say.Aside("post's "), a.side(), ", post ", a.Post(), handle)
	if a.Overhang != nil {
		text = say.Of(text, ", tip ", a.Overhang, " beyond the post")
	}
	if a.BarrelOut != nil {
		text = say.Of(text, ", barrel out ", a.BarrelOut)
	}
	return text
}

// side says which side of the post the holder hangs on.
func (a Arrangement) side() say.Text {
	if a.PostSide == Front {
		return "front"
	}
	return say.Of(a.PostSide, " side")
}

// Post says how the post stands.
func (a Arrangement) Post() say.Text {
	switch {
	case a.PostTurn == WithSlide:
		return "turned with the slide"
	case a.PostTurned != nil:
		return say.Of("turned ", turnedBy(*a.PostTurned))
	}
	return "square" + say.Aside(" to the work")
}

// Place is where a taper stands, how it is to be cut and on which lathe.
// FromJaws is how far its headstock-side end is from the face of the jaws, nil
// where nothing is to be checked. CentreAt is the point of a centre that holds
// the work, from the jaws. What is left empty of the arrangement is chosen. Of
// the lathe its chuck, compound, tool post, tools and tailstock are looked at;
// what the shop does not have is nil. Work is the outline of the work as it
// stands, the taper in it at its finished size; where it is nil, the taper is
// all there is. Raw is how thick the taper's own stretch stands before it is cut: where the
// slide is shorter than it, what a later bite cuts is in the way so thick; nil where that is
// not looked at. Brief asks for the alternatives only where something fouls, for those
// that leave the work where it stands, and where one is a plain arrangement for no
// others; All has all of them on the sheet, not the best three.
type Place struct {
	FromJaws *units.Length `json:"from_jaws_mm,omitempty"`
	CentreAt *units.Length `json:"centre_at_mm,omitempty"`
	Arrangement
	Lathe shop.Lathe `json:"-"`
	Work  Profile    `json:"-"`

	Raw *units.Length `json:"-"`

	Brief bool `json:"-"`
	All   bool `json:"-"`

	// Leans is what a leading edge that is turned toward the work beside the taper may lean into
	// it, where that is cut later; nil for nothing.
	Leans *units.Length `json:"-"`
}

// Check returns the problems with a place.
func (p Place) Check() error {
	var bad check.List
	if p.ToolHand != Neutral {
		word(&bad, "tool-hand", p.ToolHand, Hands)
	}
	word(&bad, "post-side", p.PostSide, Sides)
	word(&bad, "post-turn", p.PostTurn, Turns)
	word(&bad, "handle", p.Handle, Handles)
	bad.NotBelow0("from-jaws", p.FromJaws, "barrel-out", p.BarrelOut)
	bad.Above0("overhang", p.Overhang)
	bad.Refuse(p.PostTurned != nil && p.PostTurn == WithSlide, problem.Contradiction, "post-turned", p.PostTurned,
		"the post is turned with the slide already: leave out ", say.Key("post-turn"))
	if p.PostTurned != nil {
		bad.Inside("post-turned", *p.PostTurned, units.Degrees(-90), units.Degrees(90))
	}
	bad.Refuse(p.CentreAt != nil && p.FromJaws == nil, problem.Missing, "from-jaws", nil,
		say.Key("centre-at"), " is measured from the jaws: say where the taper is too")
	return bad.Err()
}

// word adds the problem of a choice that was made and is none of its words.
func word[T ~string](bad *check.List, key string, choice T, words []T) {
	if choice != "" {
		check.OneOf(bad, key, choice, words)
	}
}

// turnedBy words a turn, seen from above.
func turnedBy(a units.Angle) say.Text {
	way := shop.Clockwise
	if a.Deg() < 0 {
		a, way = a.Times(-1), shop.CounterClockwise
	}
	return say.Of(say.Num(a.Deg(), 2), " deg ", way)
}

// Short returns by how much an edge of the tools of a's hand is short of clearing a
// taper: of the trailing one, half angle + 2 deg - trail, of the tool with the most
// trail; of the leading one, which is square to the holder and cuts up to a
// shoulder, half angle - 90 deg. grows says whether the diameter grows toward the
// tailstock. It is nil where both clear and where no tool of that hand is known.
//
// A post turned with the slide turns the trailing edge away from the taper by
// the half angle; one turned clockwise by any other angle adds that to what a
// right-hand tool trails and takes it from what a left-hand one does, and the
// other way round for the edge that leads. A pointed tool trails on both sides.
func (a Arrangement) Short(tools []shop.Tool, half units.Angle, grows bool) *units.Angle {
	rises := a.ToolHand == Neutral || grows == (a.ToolHand == Right)
	if !Owns(tools, a.ToolHand) || !rises && a.PostTurned == nil {
		return nil
	}
	trailing := standsClear() - trailOf(tools, a.ToolHand)
	leading := half.Deg() - 90
	if rises {
		leading = math.Inf(-1)
	}
	turned := 0.0
	if a.PostTurned != nil && a.PostTurn != WithSlide {
		turned = a.PostTurned.Deg()
	}
	if a.ToolHand == Left || a.ToolHand == Neutral && !grows {
		turned = -turned
	}
	falls := trailing - half.Deg() + turned // of a pointed tool, the edge on the other side
	switch {
	case a.PostTurn == WithSlide:
		falls, leading = math.Inf(-1), math.Inf(-1)
	case rises:
		trailing += half.Deg()
	default:
		trailing -= half.Deg()
	}
	if a.ToolHand != Neutral {
		falls = math.Inf(-1)
	}
	if short := max(trailing-turned, leading+turned, falls); short > 1e-9 {
		return new(units.Degrees(short))
	}
	return nil
}

// Owns reports whether there is a tool of the hand.
func Owns(tools []shop.Tool, hand Hand) bool {
	return slices.ContainsFunc(tools, func(t shop.Tool) bool { return Hand(t.Hand) == hand })
}

// NotOnHand warns of a turning tool that was asked for and that the shop, which lists its tools, has
// none of; one that trails on both sides is always had.
func NotOnHand(r *sheet.Remarks, tools []shop.Tool, hand Hand) {
	if len(tools) > 0 && (hand == Left || hand == Right) && !Owns(tools, hand) {
		r.Warn("tool-hand", "no ", Arrangement{ToolHand: hand}, " is on hand in this shop")
	}
}
