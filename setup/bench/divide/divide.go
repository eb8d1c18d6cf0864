// Package divide divides the circle: with a dividing head and its hole plates,
// by a rotary table's handwheel, in a collet block or by a chuck's jaws.
//
// A head of the ratio R takes R turns of the crank to one of the spindle, so a
// division of a circle into N takes R/N turns, and an angle A takes R·A/360. The
// whole turns are counted; the fraction f is counted on a circle of c holes as
// f·c spaces. When that is a whole number the circle is exact. All of this is
// done in whole numbers, so "exact" means exact.
//
// Where no circle serves, the nearest hole is named with its error, and with
// change wheels between the spindle and the plate the division comes out exact
// after all: Differential.
//
// Sources: US Army OD 16448 (milling, the dividing head); the differential
// formula as in the handbooks, from memory.
package divide

import (
	"fmt"
	"math"
	"math/big"
	"slices"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
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
	Turns       int         `json:"turns" show:"turns"`
	Spaces      int         `json:"spaces" show:"spaces"`
	Circle      int         `json:"circle" show:"of"`
	Plate       *int        `json:"plate" show:"plate"`
	SectorHoles int         `json:"sector_holes"`
	Error       units.Angle `json:"error_deg" show:"is off" as:"4 signed"`
	Exact       bool        `json:"exact"`

	counted shop.Counted
}

// Rotary is a position on a rotary table, counted from the first: the table's
// angle, and the handwheel's whole turns with what is left of one.
type Rotary struct {
	N         int          `json:"n" show:"cut"`
	Angle     units.Angle  `json:"angle_deg"`
	DMS       string       `json:"dms" show:"angle"`
	Turns     *int         `json:"turns" show:"turns"`
	Remainder *units.Angle `json:"remainder_deg"`
	Handwheel *string      `json:"handwheel_dms" show:"and on the handwheel"`
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
	N      int         `json:"n" show:"to"`
	Turns  int         `json:"turns" show:"turns"`
	Spaces int         `json:"spaces" show:"spaces"`
	Error  units.Angle `json:"error_deg" show:"is off" as:"4 signed"`
}

// Result is how a circle is divided. The best solution's figures stand by
// themselves too; they are nil without a dividing head.
type Result struct {
	Inputs       Input         `json:"inputs"`
	PerDivision  units.Angle   `json:"division_deg" show:"one division" as:"minutes"`
	Turns        *int          `json:"turns" show:"whole turns"`
	Spaces       *int          `json:"spaces" show:"and spaces"`
	Circle       *int          `json:"circle" show:"on the circle of"`
	Plate        *int          `json:"plate"`
	SectorHoles  *int          `json:"sector_holes" show:"holes in the sector" note:"the pin's own among them"`
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
	r := Result{Inputs: in, ratio: in.Ratio, Solutions: []Solution{}, Positions: []Position{}, Blocks: []Block{}}
	r.PerDivision = degrees(part)
	if r.ratio == 0 && in.Head != nil {
		r.ratio = in.Head.Ratio
	}
	circles := in.circles()
	if r.ratio == 0 || len(circles) == 0 {
		r.NotChecked("dividing_head", "no dividing head in this shop: no circle was looked for")
	} else {
		r.head(part, circles)
	}
	r.rotary(part)
	for _, sides := range in.Blocks {
		r.block(part, "collet block", sides)
	}
	r.block(part, jaws, in.Jaws)
	r.Caution(cautions.EyeProtection, cautions.Manual)
	return r, nil
}

func (in Input) check() error {
	var l check.List
	l.ExactlyOne(check.Option{Key: "divisions", Given: in.N != 0}, check.If("angle", in.Angle))
	if in.N != 0 {
		l.Between("divisions", in.N, 1, MaxDivisions, "divisions")
	}
	l.Above0To("angle", in.Angle, units.Degrees(360))
	if in.Ratio != 0 {
		l.Between("ratio", in.Ratio, 1, MaxRatio)
	}
	for _, c := range in.Circles {
		l.Between("circles", c, 1, MaxCircle, "holes in a circle")
	}
	l.Refuse(len(in.Circles) > 0 && in.Ratio == 0 && in.Head == nil, problem.Missing, "ratio", nil, "is needed with ",
		say.Key("circles"), ": no dividing head in this shop (dividing_head)")
	return l.Err()
}

// times returns n times x, and degrees a part of the circle as an angle.
func times(x *big.Rat, n int) *big.Rat { return new(big.Rat).Mul(x, big.NewRat(int64(n), 1)) }

func degrees(part *big.Rat) units.Angle {
	deg, _ := times(part, 360).Float64()
	return units.Degrees(deg)
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

// solve returns how a circle counts a part of the circle, to the nearest space
// and a half space up.
func solve(part *big.Rat, ratio int, c circle) Solution {
	n := shop.DividingHead{Ratio: ratio}.Count(part, c.holes)
	return Solution{
		Turns: n.Turns, Plate: c.plate, Circle: c.holes, Spaces: n.Spaces, SectorHoles: n.Spaces + 1,
		Error: n.Error(ratio), Exact: n.Off.Sign() == 0, counted: n,
	}
}

// head finds the circles that count a division.
func (r *Result) head(part *big.Rat, circles []circle) {
	for _, c := range circles {
		r.Solutions = append(r.Solutions, solve(part, r.ratio, c))
	}
	slices.SortStableFunc(r.Solutions, func(a, b Solution) int { return a.counted.Compare(b.counted) })
	best := r.Solutions[0]
	r.Turns, r.Plate, r.Circle, r.Spaces = &best.Turns, best.Plate, &best.Circle, &best.Spaces
	r.SectorHoles, r.Error, r.Exact = &best.SectorHoles, &best.Error, &best.Exact
	if r.Inputs.List {
		r.list(part, best)
	}
	if best.Exact {
		return
	}
	r.Warn("no-exact-circle",
		"no circle here divides this exactly: the nearest is off by ", seconds(best.Error), " a division")
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
	before := 0
	for k := 1; k <= max(1, r.Inputs.N); k++ {
		s := solve(times(part, k), r.ratio, circle{holes: best.Circle})
		here := s.Turns*s.Circle + s.Spaces
		step := here - before
		r.Positions = append(r.Positions, Position{k, step / s.Circle, step % s.Circle, s.Error})
		before = here
	}
}

// rotary fills in the positions on a rotary table, each from the first.
func (r *Result) rotary(part *big.Rat) {
	table := r.Inputs.Rotary
	if table == nil {
		r.NotChecked("rotary_table", "no rotary table in this shop: the angles stand without handwheel turns")
	}
	for k := range max(1, r.Inputs.N) {
		place := times(part, k)
		if r.Inputs.Angle != nil {
			place = part
		}
		p := Rotary{N: k + 1, Angle: degrees(place)}
		p.DMS = p.Angle.DMS(true)
		if table != nil {
			p.onHandwheel(place, *table)
		}
		r.Rotary = append(r.Rotary, p)
	}
}

// onHandwheel fills in the handwheel's turns for a part of the circle.
func (p *Rotary) onHandwheel(place *big.Rat, table shop.RotaryTable) {
	turns, left := table.Set(place)
	dms := left.DMS(true)
	p.Turns, p.Remainder, p.Handwheel = &turns, &left, &dms
}

// jaws is the kind of block that a chuck's jaws are.
const jaws = "chuck jaws"

// block adds something that divides without a head: a side of which the
// division is a whole number of.
func (r *Result) block(part *big.Rat, kind string, sides int) {
	if step := times(part, sides); sides > 0 && step.IsInt() {
		r.Blocks = append(r.Blocks, Block{kind, sides, int(step.Num().Int64())})
	}
}

// shown is how many circles the sheet lists where none is exact, and few how
// many positions it lists unasked.
const (
	shown = 5
	few   = 36
)

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Divide into ", in.N)
	if in.Angle != nil {
		s.Title = say.Of("Turn by ", in.Angle.DMS(true))
	}
	s.Remark(&r.PerDivision, r.PerDivision.DMS(true))
	if r.Turns != nil {
		r.headOn(s)
	}
	s.Figures()
	if d := r.Differential; d != nil {
		d.on(s, in.N, r.ratio)
	}
	if len(r.Positions) > 0 {
		s.Table(r.Positions, "Every position, with no error carried")
	}
	rotary := r.Rotary
	if len(rotary) > few && !in.List {
		rotary = rotary[:few]
		s.Note("The first ", few, " positions of the rotary table; all of them with ", say.Key("list"), ".")
	}
	s.Table(rotary, "On a rotary table, from the first").WithoutEmpty()
	for _, b := range r.Blocks {
		name, how := say.Of(b.Kind, " of ", b.Sides, " sides"), say.Text("every side")
		if b.Kind == jaws {
			name = say.Of(b.Sides, " ", jaws)
		}
		if b.Step > 1 {
			how = say.Of("every ", b.Step, " sides")
		}
		s.Fact(name, how, "against a stop")
	}
	return *s
}

// headOn adds what there is to say of a dividing head, and its circles.
func (r *Result) headOn(s *sheet.Sheet) {
	crank := say.Of("of a ", r.ratio, ":1 crank")
	s.Remark(&r.Turns, crank)
	s.Remark(&r.Spaces, "exact")
	if !*r.Exact {
		s.Remark(&r.Spaces, "the nearest: off by ", seconds(*r.Error), " a division")
	} else if *r.Spaces == 0 {
		s.Remark(&r.Turns, crank, "; any circle will do")
		s.Skip(&r.Spaces, &r.Circle, &r.SectorHoles)
	}
	if r.Plate != nil {
		s.Remark(&r.Circle, "plate ", *r.Plate)
	}
	n := 0
	for n < len(r.Solutions) && (n < shown || r.Solutions[n].Exact) {
		n++
	}
	s.Table(r.Solutions[:n], "Circles")
	formula := "R/N"
	if r.Inputs.Angle != nil {
		formula = "R*A/360"
	}
	s.Step("turns", formula, sheet.Num(r.PerDivision.Deg()/360*float64(r.ratio), 0, "turns"),
		"R", r.ratio, "N", r.Inputs.N, "A", r.PerDivision)
	s.Note("Set the sector arms over the spaces and one hole more, since the pin's own hole is not counted.")
	s.Note("Always turn the crank the same way; past the hole, go back half a turn and come up again.")
}
