// Package holes places holes: rows across a round bar, circles, grids and
// chain-drilled slots, each with the dial turns that reach them from the datum;
// and it seats the bar, in V-blocks, and says how deep the drill goes.
//
// A row is stated by the facts a part file's rows item has (Row), and Expand is
// the one place where those become holes: the commands, the plan and the wall
// check all call it.
//
// Positions are exact decimals. Each is set on the dial from the datum, not
// from the last hole, so that no error is carried along the row.
package holes

import (
	"math"
	"slices"

	"github.com/shopspring/decimal"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/units"
)

// MaxHoles bounds a row with all its rolls, and every other pattern.
const MaxHoles = 10_000

// Row is a row of holes across a bar, as a part file writes it: where the first
// one is, their diameters, and one of web, pitch and span.
//
// One diameter with a count is that many alike; otherwise Count is 0 or as many
// as there are diameters. Rolls are the directions the row is drilled in, 0
// when there are none.
type Row struct {
	From    units.Length   `json:"from_mm"`
	Dias    []units.Length `json:"dias_mm"`
	Count   int            `json:"count"`
	Web     *units.Length  `json:"web_mm,omitempty"`
	Pitch   *units.Length  `json:"pitch_mm,omitempty"`
	Span    *units.Length  `json:"span_mm,omitempty"`
	Rolls   []units.Angle  `json:"rolls_deg,omitempty"`
	Stagger bool           `json:"stagger"`
}

// Centre is one hole of a row: N counts from 1 over all rolls, roll by roll;
// At is its place along the bar.
type Centre struct {
	N    int
	Dia  units.Length
	At   units.Length
	Roll units.Angle
}

// Expand returns every hole of the row, roll by roll, each roll from From on.
// With d1 … dn the diameters, the step from hole i to the next is
//
//	pitch  p, the same throughout
//	span   L/(n - 1), with L from the first centre to the last
//	web    (di + di+1)/2 + w, which leaves the wall w between neighbours
//
// With Stagger every second roll is moved on by half a step; where the steps
// differ, by half their mean, so that its webs stay as they are. Positions are
// exact, but for a span that does not divide, which is rounded to 1e-9 mm.
//
// Diameters and the spacing are above 0, a span has at least two holes, one
// hole needs no spacing, and there are at most 10,000 holes; otherwise it fails,
// with all problems.
func (r Row) Expand() ([]Centre, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	dias := r.Dias
	if len(dias) == 1 && r.Count > 0 {
		dias = slices.Repeat(dias, r.Count)
	}
	along := r.along(dias)
	rolls := r.Rolls
	if len(rolls) == 0 {
		rolls = []units.Angle{{}}
	}
	shift := r.halfStep(along)
	list := make([]Centre, 0, len(dias)*len(rolls))
	for k, roll := range rolls {
		for i, dia := range dias {
			at := r.From.Plus(along[i])
			if r.Stagger && k%2 == 1 {
				at = at.Plus(shift)
			}
			list = append(list, Centre{len(list) + 1, dia, at, roll})
		}
	}
	return list, nil
}

// along returns how far each centre is from the first.
func (r Row) along(dias []units.Length) []units.Length {
	list := make([]units.Length, len(dias))
	for i := 1; i < len(dias); i++ {
		switch {
		case r.Pitch != nil:
			list[i] = r.Pitch.Times(int64(i))
		case r.Span != nil:
			list[i] = part(*r.Span, i, len(dias)-1)
		default:
			list[i] = list[i-1].Plus(dias[i-1].Plus(dias[i]).Half()).Plus(*r.Web)
		}
	}
	return list
}

// part returns i/n of l, rounded to 1e-9 mm where it does not divide.
func part(l units.Length, i, n int) units.Length {
	return units.FromDecimal(l.Decimal().Mul(decimal.NewFromInt(int64(i))).DivRound(decimal.NewFromInt(int64(n)), 9))
}

// halfStep returns half the mean step of the row.
func (r Row) halfStep(along []units.Length) units.Length {
	n := len(along)
	switch {
	case r.Pitch != nil:
		return r.Pitch.Half()
	case n == 1 && r.Web == nil:
		return units.Length{}
	case n == 1: // one hole of a web: the wall and its own diameter
		return r.Dias[0].Plus(*r.Web).Half()
	}
	return part(along[n-1], 1, 2*(n-1))
}

// check wants, among the rest, exactly one of web, pitch and span; a single hole
// needs none, unless it is staggered.
func (r Row) check() error {
	var l check.List
	l.Refuse(len(r.Dias) == 0, problem.Missing, "dias", nil, "needs at least one diameter")
	for _, d := range r.Dias {
		l.Above0("dias", d)
	}
	l.Refuse(r.Count > 0 && len(r.Dias) > 1 && r.Count != len(r.Dias), problem.Contradiction, "count", r.Count,
		"contradicts the ", len(r.Dias), " diameters given")
	l.NotBelow0("count", r.Count)
	n := max(len(r.Dias), r.Count)
	l.Refuse(n > MaxHoles || n*max(1, len(r.Rolls)) > MaxHoles, problem.TooLarge, "count", n*max(1, len(r.Rolls)),
		"more than ", MaxHoles, " holes")
	l.Above0("pitch", r.Pitch, "span", r.Span, "web", r.Web)
	if n != 1 || r.Stagger || r.Web != nil || r.Pitch != nil || r.Span != nil {
		l.ExactlyOne(check.If("pitch", r.Pitch), check.If("span", r.Span), check.If("web", r.Web))
	}
	l.Refuse(r.Span != nil && n < 2, problem.Impossible, "span", r.Span, "a span needs at least two holes")
	seen := map[float64]units.Angle{}
	for _, a := range r.Rolls {
		turn := math.Mod(math.Mod(a.Deg(), 360)+360, 360)
		before, twice := seen[turn]
		l.Refuse(twice, problem.Duplicate, "roll", a, "the same direction as ", before)
		seen[turn] = a
	}
	l.Refuse(r.Stagger && len(r.Rolls) < 2, problem.Missing, "stagger", nil,
		"needs at least two rolls: every second one is moved on")
	return l.Err()
}
