// Package certify says whether an operation can be done to the work as it
// stands: whether what is held is there and long enough, whether the jaws have
// room, whether the work springs, whether the tool gets at the cut, and whether
// what comes out is the drawing. It knows nothing of why an operation is done or
// of what comes after it.
//
// Every row is one small function, named after its code. It looks at the work
// before the operation and, where it says so, after it. What the shop's file
// does not say is not checked and told by its path; nothing is assumed.
//
// Lengths along the work are counted from the face of the jaws outward, toward
// the end that stands out, so that a way of holding and its mirror are one.
package certify

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// Job is what does not change from operation to operation: the shop, the
// material and the part, with what is asked of them often worked out once. It
// is read only when it is made.
type Job struct {
	Shop     *shop.Shop
	Material *materials.Material
	Shape    *outline.Outline // nil for a block
	Limits   *limits.Limits   // of the finished part
	Centres  part.Centres     // whether a centre hole may stay in it

	*figures
	drawing
	lathe
	tensile float64 // strength of the material, in MPa
}

// NewJob works out what certifying asks of a part in a shop. shape is nil for a
// block.
func NewJob(s *shop.Shop, m *materials.Material, shape *outline.Outline, l *limits.Limits) *Job {
	j := &Job{Shop: s, Material: m, Shape: shape, Limits: l, figures: practised(), lathe: latheOf(s)}
	if m != nil {
		j.tensile = m.TensileStrength().Chosen
	}
	if shape != nil {
		j.draw()
	}
	return j
}

// Case is an operation that is about to be done to the work as it stands.
type Case struct {
	*Job
	Op            *op.Op
	Before, After work.State
}

// Report is what was found. Spring is how far the work gives way under the cut,
// nil where nothing pushes it. NotChecked are the keys of the shop's file that
// are wanting, by their path.
type Report struct {
	Checks     []op.Check
	NotChecked []string
	Spring     *units.Length
}

// rows are the rows of the table, in the order that their checks are listed in.
var rows = []func(*checker){
	gripSurface, gripLength, jawRoom, gripRange, bruise, overhang, support, toolSide, millRoom, fouling, shoulder,
	supportV, parting, gouge, startSize,
}

// Check certifies the operation: of a block how the vice holds it.
func (c Case) Check() Report {
	if c.Before.Box != nil {
		k := checker{Case: c}
		inVice(&k)
		return k.Report
	}
	if c.Shape == nil || len(c.Before.Outside) == 0 {
		return Report{}
	}
	k := checker{Case: c, held: Hold(c)}
	if c.Op.Setup.Device == op.Centres { // it hangs on the centres, the dog only drives it
		k.held.Grip = nil
	}
	k.cuts = cutBetween(c.Before, c.After)
	for _, row := range rows {
		row(&k)
	}
	return k.Report
}

// checker is a case while it is checked: what holds it, and where its outside is
// cut.
type checker struct {
	Case
	Report
	held Held
	cuts []work.Span // from left to right
}

// pass adds a check that holds. Quiet ones have no line on a card.
func (k *checker) pass(code problem.Code, value, limit op.Figure, quiet bool) {
	k.Checks = append(k.Checks, op.Check{Code: code, OK: true, Value: value, Limit: limit, Quiet: quiet})
}

// fail adds a check that does not hold, and what would mend it at the machine.
func (k *checker) fail(code problem.Code, value, limit op.Figure, remedy ...any) {
	k.Checks = append(k.Checks, op.Check{Code: code, Value: value, Limit: limit, Remedy: say.Of(remedy...)})
}

// atMost adds a quiet check of a value that must not be above its limit. It
// returns whether it holds.
func (k *checker) atMost(code problem.Code, value, limit work.Len, of say.Text, remedy func() say.Text) bool {
	defer k.bounded(op.Most)
	if value <= limit {
		k.pass(code, figure(value, of), figure(limit, ""), true)
		return true
	}
	k.fail(code, figure(value, of), figure(limit, "at the most"), remedy())
	return false
}

// atLeast is its other side.
func (k *checker) atLeast(code problem.Code, value, limit work.Len, of say.Text, quiet bool,
	remedy func() say.Text,
) bool {
	defer k.bounded(op.Least)
	if value >= limit {
		k.pass(code, figure(value, of), figure(limit, "wanted"), quiet)
		return true
	}
	k.fail(code, figure(value, of), figure(limit, "wanted"), remedy())
	return false
}

// bounded says which side of its limit the value of the last check must be on.
func (k *checker) bounded(b op.Bound) { k.Checks[len(k.Checks)-1].Is = b }

// missing notes a key of the shop's file that is wanting.
func (k *checker) missing(path string) {
	for _, p := range k.NotChecked {
		if p == path {
			return
		}
	}
	k.NotChecked = append(k.NotChecked, path)
}

// figure is a length on a card with words behind it.
func figure(l work.Len, after say.Text) op.Figure { return op.Figure{Value: l.Length(), After: after} }

// either joins the ways out that there are: "a steady, a lighter cut, or wider
// limits". Empty ones are none.
func either(ways ...say.Text) say.Text {
	list := slices.DeleteFunc(slices.Clone(ways), func(t say.Text) bool { return t == "" })
	switch n := len(list); n {
	case 0:
		return ""
	case 1:
		return list[0]
	case 2:
		return say.Join(list, ", or ")
	default:
		return say.Of(say.Join(list[:n-1], ", "), ", or ", list[n-1])
	}
}

// words is a figure that is no number.
func words(t say.Text) op.Figure { return op.Figure{Value: t} }

// over is a span that is worded where it is read: "z 14 mm to 46 mm".
type over work.Span

// Words implements say.Quantity.
func (s over) Words() (mm, inch string) {
	return say.Of("z ", s.From.Length(), " to ", s.To.Length()).Words()
}

// MarshalJSON writes the words.
func (s over) MarshalJSON() ([]byte, error) { return say.Of(s).MarshalJSON() }

// other returns the other end of the part.
func other(e part.End) part.End {
	if e == part.Right {
		return part.Left
	}
	return part.Right
}

// away returns how far z lies from from toward an end.
func away(z, from work.Len, toward part.End) work.Len {
	if toward == part.Right {
		return z - from
	}
	return from - z
}

// beyond returns the span from z toward an end, so long.
func beyond(z work.Len, toward part.End, long work.Len) work.Span {
	if toward == part.Right {
		return work.Span{From: z, To: z + long}
	}
	return work.Span{From: z - long, To: z}
}

// far returns the end of a span that lies toward an end of the part, and near
// the other.
func far(s work.Span, toward part.End) work.Len {
	if toward == part.Right {
		return s.To
	}
	return s.From
}

func near(s work.Span, toward part.End) work.Len { return far(s, other(toward)) }

// within returns z's diameter on a piece of the outside.
func within(p work.Piece, z work.Len) work.Len {
	if p.Left == p.Right || z <= p.From {
		return p.Left
	}
	if z >= p.To {
		return p.Right
	}
	part := float64(z-p.From) / float64(p.To-p.From)
	return p.Left + work.Len(part*float64(p.Right-p.Left))
}

// fine is the least difference that is told from nothing: what rounding a state
// to a millionth leaves.
const fine = work.Len(10)

// cutBetween returns where the outside is smaller after than before, from left
// to right, neighbours joined. What lies beyond the end of one of them is not
// looked at.
func cutBetween(before, after work.State) []work.Span {
	var list []work.Span
	i, j := 0, 0
	for i < len(before.Outside) && j < len(after.Outside) {
		p, q := before.Outside[i], after.Outside[j]
		s := p.Meet(q.Span)
		if s.Length() > 0 &&
			(within(p, s.From)-within(q, s.From) > fine || within(p, s.To)-within(q, s.To) > fine) {
			if n := len(list) - 1; n >= 0 && list[n].To == s.From {
				list[n].To = s.To
			} else {
				list = append(list, s)
			}
		}
		if p.To <= q.To {
			i++
		}
		if q.To <= p.To {
			j++
		}
	}
	return list
}
