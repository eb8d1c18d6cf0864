package divide

import (
	"cmp"
	"fmt"
	"math"
	"math/big"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// The bounds of what is read.
const (
	MaxDivisions = 10_000
	MaxRatio     = 1_000
	MaxCircle    = 1_000
)

// Input is a division into N, or an Angle to turn by; one of the two. Ratio and
// Circles stand in place of the head's and its plates. List asks for every
// position from the first hole.
//
// The instruments are nil or empty where the shop has none.
type Input struct {
	N       int                `json:"divisions,omitempty"`
	Angle   *units.Angle       `json:"angle_deg,omitempty"`
	Ratio   int                `json:"ratio,omitempty"`
	Circles []int              `json:"circles,omitempty"`
	List    bool               `json:"list"`
	Head    *shop.DividingHead `json:"-"`
	Rotary  *shop.RotaryTable  `json:"-"`
	Blocks  []int              `json:"-"` // sides of the collet blocks
	Jaws    int                `json:"-"` // of the chuck; 0 when there is none
	Wheels  []int              `json:"-"` // change wheels
}

// Solution is one way to count a division: whole turns of the crank and spaces
// on a circle. Plate counts from 1 and is nil for circles that were given. The
// sector arms stand SectorHoles apart: the spaces and the hole the pin is in.
// Error is what one division comes out too large by.
type Solution struct {
	Turns       int         `json:"turns"`
	Plate       *int        `json:"plate"`
	Circle      int         `json:"circle"`
	Spaces      int         `json:"spaces"`
	SectorHoles int         `json:"sector_holes"`
	Error       units.Angle `json:"error_deg"`
	Exact       bool        `json:"exact"`
}

// Rotary is a position on a rotary table, counted from the first: the table's
// angle, and the handwheel's whole turns with what is left of one.
type Rotary struct {
	N         int          `json:"n"`
	Angle     units.Angle  `json:"angle_deg"`
	DMS       string       `json:"dms"`
	Turns     *int         `json:"turns"`
	Remainder *units.Angle `json:"remainder_deg"`
	Handwheel *string      `json:"handwheel_dms"`
}

// Block is something with sides that divides without a head: every Step-th
// side is used.
type Block struct {
	Kind  string `json:"kind"` // collet block or chuck jaws
	Sides int    `json:"sides"`
	Step  int    `json:"step"`
}

// Position is where the pin goes for one division, from the first hole, with
// no error carried: Turns and Spaces from the position before.
type Position struct {
	N      int         `json:"n"`
	Turns  int         `json:"turns"`
	Spaces int         `json:"spaces"`
	Error  units.Angle `json:"error_deg"`
}

// Result is how a circle is divided. The best solution's figures stand by
// themselves too; they are nil without a dividing head.
type Result struct {
	Inputs       Input         `json:"inputs"`
	PerDivision  units.Angle   `json:"division_deg"`
	Turns        *int          `json:"turns"`
	Plate        *int          `json:"plate"`
	Circle       *int          `json:"circle"`
	Spaces       *int          `json:"spaces"`
	SectorHoles  *int          `json:"sector_holes"`
	Error        *units.Angle  `json:"error_deg"`
	Exact        *bool         `json:"exact"`
	Solutions    []Solution    `json:"solutions"`
	Positions    []Position    `json:"positions"`
	Differential *Differential `json:"differential"`
	Rotary       []Rotary      `json:"rotary"`
	Blocks       []Block       `json:"blocks"`
	sheet.Remarks

	ratio int
}

// circle is one circle of holes and the plate it is on, from 1.
type circle struct {
	holes int
	plate *int
}

// Divide returns every way to divide. It fails when not exactly one of N and
// Angle is given; N runs from 1 to 10,000, the angle is above 0 and at most 360
// deg, the ratio runs from 1 to 1,000 and a circle has 1 to 1,000 holes. Given
// circles need a ratio: their own or the head's.
func Divide(in Input) (Result, error) {
	if err := in.check(); err != nil {
		return Result{}, err
	}
	part := in.part()
	r := Result{Inputs: in, ratio: in.Ratio, Solutions: []Solution{}, Positions: []Position{}}
	deg, _ := new(big.Rat).Mul(part, big.NewRat(360, 1)).Float64()
	r.PerDivision = units.Degrees(deg)
	if r.ratio == 0 && in.Head != nil {
		r.ratio = in.Head.Ratio
	}
	circles := in.circles()
	if r.ratio == 0 || len(circles) == 0 {
		r.Warnings.Add("not-checked", "no dividing head in this shop: no circle was looked for (dividing_head)")
	} else {
		r.head(part, circles)
	}
	r.rotary(part)
	r.blocks(part)
	r.Caution(cautions.EyeProtection, cautions.Manual)
	return r, nil
}

func (in Input) check() error {
	var list problem.List
	switch {
	case in.N == 0 && in.Angle == nil:
		list.Add(problem.New(problem.Missing, "divisions", nil, "needs a number of divisions, or an angle"))
	case in.N != 0 && in.Angle != nil:
		list.Add(problem.New(problem.Contradiction, "angle", in.Angle, "give a number of divisions or an angle, not both"))
	case in.N < 0 || in.N > MaxDivisions:
		list.Add(problem.New(problem.OutOfRange, "divisions", in.N, fmt.Sprintf("must be from 1 to %d", MaxDivisions)))
	case in.Angle != nil && (in.Angle.Deg() <= 0 || in.Angle.Deg() > 360):
		list.Add(problem.New(problem.OutOfRange, "angle", in.Angle, "must be above 0 and at most 360 deg"))
	}
	if in.Ratio < 0 || in.Ratio > MaxRatio {
		list.Add(problem.New(problem.OutOfRange, "ratio", in.Ratio, fmt.Sprintf("must be from 1 to %d", MaxRatio)))
	}
	for _, c := range in.Circles {
		if c < 1 || c > MaxCircle {
			list.Add(problem.New(problem.OutOfRange, "circles", c, fmt.Sprintf("a circle has 1 to %d holes", MaxCircle)))
		}
	}
	if len(in.Circles) > 0 && in.Ratio == 0 && in.Head == nil {
		list.Add(problem.New(problem.Missing, "ratio", nil, "is needed with circles: no dividing head in this shop (dividing_head)"))
	}
	return list.Err()
}

// part returns the division as a part of the circle, exactly. An angle is
// taken to the thousandth of a second when it is that near to one, so that
// degrees, minutes and seconds are exact.
func (in Input) part() *big.Rat {
	if in.Angle == nil {
		return big.NewRat(1, int64(in.N))
	}
	const perDegree = 3_600_000
	n := math.Round(in.Angle.Deg() * perDegree)
	if math.Abs(in.Angle.Deg()*perDegree-n) < 1e-4 {
		return big.NewRat(int64(n), 360*perDegree)
	}
	exact := new(big.Rat).SetFloat64(in.Angle.Deg())
	return exact.Quo(exact, big.NewRat(360, 1))
}

// circles returns the circles to be used: those given, or every plate's.
func (in Input) circles() []circle {
	var list []circle
	for _, c := range in.Circles {
		list = append(list, circle{c, nil})
	}
	if len(in.Circles) > 0 || in.Head == nil {
		return list
	}
	for i, plate := range in.Head.Plates {
		n := i + 1
		for _, c := range plate {
			list = append(list, circle{c, &n})
		}
	}
	return list
}

// Count returns how many whole turns and spaces of a circle come nearest to a
// number of crank turns, and the exact rest: set minus exact, in turns. A half
// space is rounded up.
func Count(turns *big.Rat, holes int) (whole, spaces int, rest *big.Rat) {
	scaled := new(big.Rat).Mul(turns, big.NewRat(int64(holes), 1))
	twice := new(big.Int).Add(new(big.Int).Lsh(scaled.Num(), 1), scaled.Denom())
	n := new(big.Int).Div(twice, new(big.Int).Lsh(scaled.Denom(), 1)) // floor(x + 1/2)
	set := new(big.Rat).SetFrac(n, big.NewInt(int64(holes)))
	total := int(n.Int64())
	return total / holes, total % holes, set.Sub(set, turns)
}

// head finds the circles that count a division.
func (r *Result) head(part *big.Rat, circles []circle) {
	turns := new(big.Rat).Mul(part, big.NewRat(int64(r.ratio), 1))
	type rated struct {
		Solution
		off *big.Rat
	}
	var list []rated
	for _, c := range circles {
		whole, spaces, rest := Count(turns, c.holes)
		deg, _ := new(big.Rat).Mul(rest, big.NewRat(360, int64(r.ratio))).Float64()
		list = append(list, rated{Solution{
			Turns: whole, Plate: c.plate, Circle: c.holes, Spaces: spaces, SectorHoles: spaces + 1,
			Error: units.Degrees(deg), Exact: rest.Sign() == 0,
		}, rest.Abs(rest)})
	}
	slices.SortStableFunc(list, func(a, b rated) int {
		return cmp.Or(a.off.Cmp(b.off), cmp.Compare(a.Spaces, b.Spaces), cmp.Compare(a.Circle, b.Circle))
	})
	for _, s := range list {
		r.Solutions = append(r.Solutions, s.Solution)
	}
	best := r.Solutions[0]
	r.Turns, r.Plate, r.Circle, r.Spaces, r.SectorHoles = &best.Turns, best.Plate, &best.Circle, &best.Spaces, &best.SectorHoles
	r.Error, r.Exact = &best.Error, &best.Exact
	if r.Inputs.List {
		r.list(part, best)
	}
	if best.Exact {
		return
	}
	r.Warnings.Add("no-exact-circle", fmt.Sprintf("no circle here divides this exactly: the nearest is off by %s a division", seconds(best.Error)))
	if r.Inputs.N > 0 {
		r.differential(circles)
	}
}

// seconds returns an angle as signed minutes and seconds.
func seconds(a units.Angle) string {
	s := a.Deg() * 3600
	if math.Abs(s) >= 60 {
		return fmt.Sprintf("%+.2f minutes", s/60)
	}
	return fmt.Sprintf("%+.2f seconds", s)
}

// list fills in every position from the first hole, each set by itself, so
// that the error is never more than half a hole.
func (r *Result) list(part *big.Rat, best Solution) {
	n := r.Inputs.N
	if n == 0 {
		n = 1
	}
	turns := new(big.Rat).Mul(part, big.NewRat(int64(r.ratio), 1))
	at := 0
	for k := 1; k <= n; k++ {
		whole, spaces, rest := Count(new(big.Rat).Mul(turns, big.NewRat(int64(k), 1)), best.Circle)
		here := whole*best.Circle + spaces
		deg, _ := new(big.Rat).Mul(rest, big.NewRat(360, int64(r.ratio))).Float64()
		r.Positions = append(r.Positions, Position{k, (here - at) / best.Circle, (here - at) % best.Circle, units.Degrees(deg)})
		at = here
	}
}

// rotary fills in the positions on a rotary table, each from the first.
func (r *Result) rotary(part *big.Rat) {
	n := max(1, r.Inputs.N)
	table := r.Inputs.Rotary
	if table == nil {
		r.Warnings.Add("not-checked", "no rotary table in this shop: the angles stand without handwheel turns (rotary_table)")
	}
	for k := range n {
		at := new(big.Rat).Mul(part, big.NewRat(int64(k), 1))
		if r.Inputs.Angle != nil {
			at = part
		}
		deg, _ := new(big.Rat).Mul(at, big.NewRat(360, 1)).Float64()
		p := Rotary{N: k + 1, Angle: units.Degrees(deg), DMS: units.Degrees(deg).DMS(true)}
		if table != nil {
			p.onHandwheel(at, table.Ratio)
		}
		r.Rotary = append(r.Rotary, p)
	}
}

// onHandwheel fills in the handwheel's turns for a part of the circle. What
// rounds to a whole turn at the second is one.
func (p *Rotary) onHandwheel(at *big.Rat, ratio int) {
	turns := new(big.Rat).Mul(at, big.NewRat(int64(ratio), 1))
	whole := new(big.Int).Div(turns.Num(), turns.Denom())
	turn := units.Degrees(360 / float64(ratio))
	left, _ := turns.Sub(turns, new(big.Rat).SetInt(whole)).Float64()
	count, angle := int(whole.Int64()), turn.Times(left)
	if angle.DMS(true) == turn.DMS(true) {
		count, angle = count+1, angle.Minus(turn)
	}
	dms := angle.DMS(true)
	p.Turns, p.Remainder, p.Handwheel = &count, &angle, &dms
}

// blocks finds what divides without a head: a side of which the division is a
// whole number of.
func (r *Result) blocks(part *big.Rat) {
	r.Blocks = []Block{}
	add := func(kind string, sides int) {
		step := new(big.Rat).Mul(part, big.NewRat(int64(sides), 1))
		if sides > 0 && step.IsInt() {
			r.Blocks = append(r.Blocks, Block{kind, sides, int(step.Num().Int64())})
		}
	}
	for _, sides := range r.Inputs.Blocks {
		add("collet block", sides)
	}
	add("chuck jaws", r.Inputs.Jaws)
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	in := r.Inputs
	title := fmt.Sprintf("Divide into %d", in.N)
	if in.Angle != nil {
		title = "Turn by " + in.Angle.DMS(true)
	}
	s := sheet.Sheet{Title: title, Warnings: r.Warnings, Cautions: r.Cautions}
	s.Facts = []sheet.Fact{{Key: "division_deg", Label: "one division", Value: sheet.Ang(r.PerDivision), Remark: r.PerDivision.DMS(true)}}
	if r.Turns != nil {
		s.Facts = append(s.Facts, r.headFacts()...)
		s.Tables = append(s.Tables, r.circleTable())
		s.Working = append(s.Working, sheet.Work("turns", r.formula(), r.PerDivision.Deg()/360*float64(r.ratio), "turns", r.letters()...))
		s.Notes = append(s.Notes, "Set the sector arms over the spaces and one hole more, since the pin's own hole is not counted.",
			"Always turn the crank the same way; past the hole, go back half a turn and come up again.")
	}
	if d := r.Differential; d != nil {
		s.Facts = append(s.Facts, d.facts()...)
		s.Working = append(s.Working, d.working(in.N, r.ratio))
		s.Notes = append(s.Notes, "Differential: the plate is left free of its stop, and the train runs from the spindle to it. Try it once round and see that the plate turns the right way: if not, add an idler or take one out.")
	}
	if len(r.Positions) > 0 {
		t := sheet.Table{Title: "Every position, with no error carried", Cols: []sheet.Column{{Key: "n", Head: "to"}, {Key: "turns", Head: "turns"}, {Key: "spaces", Head: "spaces"}, {Key: "error_deg", Head: "is off"}}}
		for _, p := range r.Positions {
			t.Add(sheet.Count(p.N), sheet.Count(p.Turns), sheet.Count(p.Spaces), sheet.Number{V: p.Error.Deg(), Places: 4, Unit: "deg", Signed: true})
		}
		s.Tables = append(s.Tables, t)
	}
	s.Tables = append(s.Tables, r.rotaryTable())
	if len(r.Rotary) > few && !in.List {
		s.Notes = append(s.Notes, fmt.Sprintf("The first %d positions of the rotary table; all of them with --list.", few))
	}
	for _, b := range r.Blocks {
		name := fmt.Sprintf("%s of %d sides", b.Kind, b.Sides)
		if b.Kind == "chuck jaws" {
			name = fmt.Sprintf("%d chuck jaws", b.Sides)
		}
		how := "every side"
		if b.Step > 1 {
			how = fmt.Sprintf("every %d sides", b.Step)
		}
		s.Facts = append(s.Facts, sheet.Fact{Label: name, Value: sheet.Text(how), Remark: "against a stop"})
	}
	return s
}

func (r Result) formula() string {
	if r.Inputs.Angle != nil {
		return "R*A/360"
	}
	return "R/N"
}

func (r Result) letters() []sheet.Var {
	return []sheet.Var{sheet.Let("R", float64(r.ratio)), sheet.Let("N", float64(r.Inputs.N)), sheet.Let("A", r.PerDivision.Deg())}
}

func (r Result) headFacts() []sheet.Fact {
	best := r.Solutions[0]
	how := "exact"
	if !best.Exact {
		how = "the nearest: off by " + seconds(best.Error) + " a division"
	}
	facts := []sheet.Fact{
		{Key: "turns", Label: "whole turns", Value: sheet.Count(best.Turns), Remark: fmt.Sprintf("of a %d:1 crank", r.ratio)},
		{Key: "spaces", Label: "and spaces", Value: sheet.Count(best.Spaces), Remark: how},
		{Key: "circle", Label: "on the circle of", Value: sheet.Count(best.Circle), Remark: plateText(best.Plate)},
		{Key: "sector_holes", Label: "holes in the sector", Value: sheet.Count(best.SectorHoles), Remark: "the pin's own among them"},
	}
	if best.Spaces == 0 && best.Exact {
		facts = facts[:1]
		facts[0].Remark += "; any circle will do"
	}
	return facts
}

func plateText(plate *int) string {
	if plate == nil {
		return ""
	}
	return fmt.Sprintf("plate %d", *plate)
}

// shown is how many circles the sheet lists where none is exact, and few how
// many positions it lists unasked.
const (
	shown = 5
	few   = 36
)

func (r Result) circleTable() sheet.Table {
	t := sheet.Table{Title: "Circles", Cols: []sheet.Column{
		{Key: "turns", Head: "turns"}, {Key: "spaces", Head: "spaces"}, {Key: "circle", Head: "of"}, {Key: "plate", Head: "plate"}, {Key: "error_deg", Head: "is off"},
	}}
	for i, s := range r.Solutions {
		if !s.Exact && i >= shown {
			break
		}
		plate := sheet.Value(nil)
		if s.Plate != nil {
			plate = sheet.Count(*s.Plate)
		}
		t.Add(sheet.Count(s.Turns), sheet.Count(s.Spaces), sheet.Count(s.Circle), plate, sheet.Number{V: s.Error.Deg(), Places: 4, Unit: "deg", Signed: true})
	}
	return t
}

func (r Result) rotaryTable() sheet.Table {
	t := sheet.Table{Title: "On a rotary table, from the first", Cols: []sheet.Column{{Key: "n", Head: "cut"}, {Key: "dms", Head: "angle"}}}
	if r.Inputs.Rotary != nil {
		t.Cols = append(t.Cols, sheet.Column{Key: "turns", Head: "turns"}, sheet.Column{Key: "handwheel_dms", Head: "and on the handwheel"})
	}
	for i, p := range r.Rotary {
		if i >= few && !r.Inputs.List {
			break
		}
		row := []sheet.Value{sheet.Count(p.N), sheet.Text(p.DMS)}
		if p.Turns != nil {
			row = append(row, sheet.Count(*p.Turns), sheet.Text(*p.Handwheel))
		}
		t.Add(row...)
	}
	return t
}
