package fouling

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
)

// Hand is the hand of a turning tool.
type Hand string

// The two hands.
const (
	Right Hand = "right" // cuts toward the headstock
	Left  Hand = "left"  // cuts toward the tailstock
)

// Side is the side of the tool post that the holder hangs on.
type Side string

// The sides.
const (
	HeadstockSide Side = "headstock"
	TailstockSide Side = "tailstock"
	Front         Side = "front"
)

// Turn is how the tool post stands.
type Turn string

// The turns.
const (
	Square    Turn = "square"     // square to the work
	WithSlide Turn = "with-slide" // turned with the compound's slide
)

// Handle is which way round the compound's slide stands.
type Handle string

// The two ways.
const (
	Normal   Handle = "normal"
	Reversed Handle = "reversed"
)

// Arrangement is how the tool is held.
type Arrangement struct {
	ToolHand Hand   `json:"tool_hand,omitempty"`
	PostSide Side   `json:"post_side,omitempty"`
	PostTurn Turn   `json:"post_turn,omitempty"`
	Handle   Handle `json:"handle,omitempty"`
}

// Place is where a taper stands and how it is to be cut. FromJaws is how far
// its headstock-side end is from the face of the jaws, nil where nothing is to
// be checked. CentreAt is the point of a centre that holds the work, from the
// jaws. What is left empty of the arrangement is chosen. Brief asks for the
// alternatives only where something fouls.
type Place struct {
	FromJaws *units.Length `json:"from_jaws_mm,omitempty"`
	CentreAt *units.Length `json:"centre_at_mm,omitempty"`
	Arrangement
	Brief bool `json:"-"`
}

// The words of each choice.
var (
	Hands   = []Hand{Right, Left}
	Sides   = []Side{HeadstockSide, TailstockSide, Front}
	Turns   = []Turn{Square, WithSlide}
	Handles = []Handle{Normal, Reversed}
)

// Check returns the problems with a place.
func (p Place) Check() error {
	var list problem.List
	word(&list, "tool-hand", p.ToolHand, Hands)
	word(&list, "post-side", p.PostSide, Sides)
	word(&list, "post-turn", p.PostTurn, Turns)
	word(&list, "handle", p.Handle, Handles)
	if p.FromJaws != nil && p.FromJaws.Sign() < 0 {
		list.Add(problem.New(problem.OutOfRange, "from-jaws", p.FromJaws, "the taper starts outside the jaws: 0 or more"))
	}
	if p.CentreAt != nil && p.FromJaws == nil {
		list.Add(problem.New(problem.Missing, "from-jaws", nil, "--centre-at is measured from the jaws: say where the taper is too"))
	}
	return list.Err()
}

// word adds the problem of a choice that is none of its words.
func word[T ~string](list *problem.List, key string, found T, words []T) {
	if found == "" || slices.Contains(words, found) {
		return
	}
	near := make([]string, len(words))
	for i, w := range words {
		near[i] = string(w)
	}
	list.Add(problem.New(problem.Unknown, key, string(found), "not one of the ways: write "+problem.Or(near)).Near(near))
}

// trailMargin is how far the trailing edge must clear the work.
const trailMargin = 2 // deg

// Short returns by how many degrees the trailing edge of the tools of a hand is
// short of clearing a taper: half angle + 2 - trail, of the tool with the most
// trail. grows says whether the diameter grows toward the tailstock. It is 0
// where the edge clears, where the taper does not grow on the trailing side,
// and where no tool of that hand is known.
//
// A post turned with the slide turns the trailing edge away from the taper by
// the half angle.
func Short(tools []shop.Tool, hand Hand, half units.Angle, grows bool, turn Turn) float64 {
	if grows != (hand == Right) {
		return 0
	}
	most := -1.0
	for _, t := range tools {
		if Hand(t.Hand) == hand {
			most = max(most, t.Trail.Deg())
		}
	}
	if most < 0 {
		return 0
	}
	need := half.Deg() + trailMargin
	if turn == WithSlide {
		need = trailMargin
	}
	if short := need - most; short > 1e-9 {
		return short
	}
	return 0
}

// Owns reports whether there is a tool of the hand.
func Owns(tools []shop.Tool, hand Hand) bool {
	return slices.ContainsFunc(tools, func(t shop.Tool) bool { return Hand(t.Hand) == hand })
}
