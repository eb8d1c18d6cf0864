package fouling

import (
	"slices"

	"setover/setup/base/check"
	"setover/setup/base/geom"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
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
// says the rest.
type Arrangement struct {
	ToolHand Hand   `json:"tool_hand,omitempty" show:"tool"`
	PostSide Side   `json:"post_side,omitempty" show:"on post's"`
	PostTurn Turn   `json:"post_turn,omitempty" show:"post"`
	Handle   Handle `json:"handle,omitempty" show:"handle"`
}

// Words implements sheet.Value: "right-hand tool".
func (a Arrangement) Words() (mm, inch string) {
	tool := string(a.ToolHand) + "-hand tool"
	return tool, tool
}

// Hung says where the holder hangs and how the post and the slide stand.
func (a Arrangement) Hung() say.Text {
	turn := "square to the work"
	if a.PostTurn == WithSlide {
		turn = "turned with the slide"
	}
	side := a.PostSide
	if side != Front {
		side += " side"
	}
	return say.Of("on the post's ", side, ", post ", turn, ", handle ", a.Handle)
}

// Place is where a taper stands, how it is to be cut and on which lathe.
// FromJaws is how far its headstock-side end is from the face of the jaws, nil
// where nothing is to be checked. CentreAt is the point of a centre that holds
// the work, from the jaws. What is left empty of the arrangement is chosen. Of
// the lathe its chuck, compound, tool post, tools and tailstock are looked at;
// what the shop does not have is nil. Work is the outline of the rest of the
// part, an obstacle for the post alone. Brief asks for the alternatives only
// where something fouls.
type Place struct {
	FromJaws *units.Length `json:"from_jaws_mm,omitempty"`
	CentreAt *units.Length `json:"centre_at_mm,omitempty"`
	Arrangement
	Lathe shop.Lathe    `json:"-"`
	Work  []geom.Convex `json:"-"`
	Brief bool          `json:"-"`
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
	bad.NotBelow0("from-jaws", p.FromJaws)
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

// Short returns by how much the trailing edge of the tools of a's hand is short
// of clearing a taper: half angle + 2 deg - trail, of the tool with the most
// trail. grows says whether the diameter grows toward the tailstock. It is nil
// where the edge clears, where the taper does not grow on the trailing side,
// and where no tool of that hand is known.
//
// A post turned with the slide turns the trailing edge away from the taper by
// the half angle.
func (a Arrangement) Short(tools []shop.Tool, half units.Angle, grows bool) *units.Angle {
	if grows != (a.ToolHand == Right) || !Owns(tools, a.ToolHand) {
		return nil
	}
	short := practice.TrailClear.Angle().Deg()
	if a.PostTurn != WithSlide {
		short += half.Deg()
	}
	trail := 0.0
	for _, t := range tools {
		if Hand(t.Hand) == a.ToolHand {
			trail = max(trail, t.Trail.Deg())
		}
	}
	if short -= trail; short > 1e-9 {
		return new(units.Degrees(short))
	}
	return nil
}

// Owns reports whether there is a tool of the hand.
func Owns(tools []shop.Tool, hand Hand) bool {
	return slices.ContainsFunc(tools, func(t shop.Tool) bool { return Hand(t.Hand) == hand })
}
