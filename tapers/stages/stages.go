// Package stages takes an outside of several stages - cylinders, tapers both
// ways and shoulders - one after the other, and says how the compound is set
// for each, which hand of tool cuts it and in what order.
//
// A stage grows or shrinks toward the tailstock; stations run from the left
// end of the drawing, which is the headstock's. Two stations at one z make a
// shoulder. A right-hand tool cuts toward the headstock and its trailing edge
// faces the tailstock; it cuts a taper that grows toward the tailstock only
// where that edge stands off by more than the half angle and 2 deg. Otherwise
// a left-hand tool cuts it, from the small end up.
package stages

import (
	"fmt"
	"slices"
	"strings"

	"setover/setup/cautions"
	"setover/setup/problem"
	"setover/setup/sheet"
	"setover/setup/shop"
	"setover/setup/units"
	"setover/tapers"
	"setover/tapers/compound"
)

// Station is a place on the outside: z from the left end, and the diameter
// there.
type Station struct {
	Z   units.Length `json:"z_mm"`
	Dia units.Length `json:"dia_mm"`
}

// Kind is what a stage is.
type Kind string

// The kinds of stage.
const (
	Cylinder Kind = "cylinder"
	Taper    Kind = "taper"
	Shoulder Kind = "shoulder"
)

// Hand is the hand of a turning tool.
type Hand string

// The two hands.
const (
	Right Hand = "right" // cuts toward the headstock
	Left  Hand = "left"  // cuts toward the tailstock
)

// trailMargin is how far the trailing edge must clear the work.
const trailMargin = 2 // deg

// Input is an outside by its stations, left to right, and the instruments.
type Input struct {
	Stations []Station      `json:"stations"`
	Compound *shop.Compound `json:"-"`
	Tools    []shop.Tool    `json:"-"`
}

// Stage is one stretch of the outside. Angles are nil where it is no taper,
// and readings where there is no compound or its scale does not go so far.
type Stage struct {
	N           int             `json:"n"`
	Kind        Kind            `json:"kind"`
	From        units.Length    `json:"from_mm"`
	To          units.Length    `json:"to_mm"`
	FromDia     units.Length    `json:"from_dia_mm"`
	ToDia       units.Length    `json:"to_dia_mm"`
	HalfAngle   *units.Angle    `json:"half_angle_deg"`
	Reading     *units.Angle    `json:"reading_deg"`
	Mark        *units.Angle    `json:"mark_deg"`
	Swing       *shop.Direction `json:"swing"`
	SlideTravel *units.Length   `json:"slide_travel_mm"`
	ToolHand    Hand            `json:"tool_hand"`
	Clearance   *units.Length   `json:"clearance_mm"`

	// Set is the whole setting of a taper; nil for the others.
	Set *compound.Result `json:"-"`
}

// Result is the stages and the order to cut them in: the numbers of the
// stages, first to last.
type Result struct {
	Inputs Input   `json:"inputs"`
	Stages []Stage `json:"stages"`
	Order  []int   `json:"order"`
	sheet.Remarks
}

// Of returns the stages of an outside. It fails when there are fewer than two
// stations, when they do not run from left to right, when a diameter is not
// above 0 (a last or first one may be 0: a point), and when two following
// stations are the same.
func Of(in Input) (Result, error) {
	if err := check(in.Stations); err != nil {
		return Result{}, err
	}
	r := Result{Inputs: in}
	for i := range in.Stations[1:] {
		s, err := stage(in, i)
		if err != nil {
			return Result{}, err
		}
		r.Stages = append(r.Stages, s)
		if s.Set != nil {
			for _, w := range s.Set.Warnings {
				r.Warnings.Add(w.Code, fmt.Sprintf("stage %d: %s", s.N, w.Text))
			}
		}
	}
	if in.Compound == nil {
		r.Warnings = sheet.Warnings{}
		r.Warnings.Add("not-checked", "no compound in this shop: the angles are exact, no marks were looked for (lathe: compound)")
	}
	if len(in.Tools) == 0 {
		r.Warnings.Add("not-checked", "whether a tool's trailing edge clears was not checked (lathe: tools)")
	}
	r.Order = order(r.Stages)
	r.Caution(cautions.LockCompound, cautions.Isolate, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

func check(stations []Station) error {
	if len(stations) < 2 {
		return problem.New(problem.Missing, "station", nil, "needs at least two stations, such as --station 0=20 --station 60=12")
	}
	var list problem.List
	last := len(stations) - 1
	for i, s := range stations {
		at := fmt.Sprintf("%v=%v", s.Z, s.Dia)
		if s.Dia.Sign() < 0 || s.Dia.Sign() == 0 && i != 0 && i != last {
			list.Add(problem.New(problem.OutOfRange, "station", at, "a diameter must be above 0 (an end may come to a point)"))
		}
		if i == 0 {
			continue
		}
		p := stations[i-1]
		if s.Z.Less(p.Z) {
			list.Add(problem.New(problem.Contradiction, "station", at, fmt.Sprintf("stations run from left to right: this one stands left of %v", p.Z)))
		} else if s.Z.Equal(p.Z) && s.Dia.Equal(p.Dia) {
			list.Add(problem.New(problem.Duplicate, "station", at, "the same station twice"))
		}
	}
	return list.Err()
}

// stage returns the stretch from station i to the next.
func stage(in Input, i int) (Stage, error) {
	a, b := in.Stations[i], in.Stations[i+1]
	s := Stage{N: i + 1, Kind: Cylinder, From: a.Z, To: b.Z, FromDia: a.Dia, ToDia: b.Dia, ToolHand: Right}
	grows := a.Dia.Less(b.Dia)
	switch {
	case a.Z.Equal(b.Z):
		s.Kind = Shoulder
		if grows {
			s.ToolHand = Left
		}
		return s, nil
	case a.Dia.Equal(b.Dia):
		return s, nil
	}
	s.Kind = Taper
	large, small, length := units.Max(a.Dia, b.Dia), units.Min(a.Dia, b.Dia), b.Z.Minus(a.Z)
	end := tapers.AtTailstock
	if grows {
		end = tapers.AtHeadstock
	}
	set, err := compound.Set(compound.Input{
		Input:    tapers.Input{Large: &large, Small: &small, Length: &length},
		SmallEnd: end, Compound: in.Compound,
	})
	if err != nil {
		return Stage{}, err
	}
	s.Set = &set
	s.HalfAngle, s.Reading, s.Mark, s.Swing, s.SlideTravel = &set.HalfAngle, set.Reading, set.Mark, &set.Swing, set.SlideTravel
	if grows && !clears(in.Tools, Right, set.HalfAngle) {
		s.ToolHand = Left
	}
	return s, nil
}

// clears reports whether a tool of that hand on hand cuts a taper of the half
// angle that rises on its trailing side.
func clears(tools []shop.Tool, hand Hand, half units.Angle) bool {
	return slices.ContainsFunc(tools, func(t shop.Tool) bool {
		return Hand(t.Hand) == hand && t.Trail.Deg() > half.Deg()+trailMargin
	})
}

// order returns the stages in the order to cut them: cylinders and shoulders
// first while the compound stands true, the largest first so that slender
// stretches come last, then the tapers, those of one setting together.
func order(list []Stage) []int {
	byStiffness := slices.Clone(list)
	largest := func(s Stage) units.Length { return units.Max(s.FromDia, s.ToDia) }
	slices.SortStableFunc(byStiffness, func(a, b Stage) int {
		if (a.Kind == Taper) != (b.Kind == Taper) {
			if a.Kind == Taper {
				return 1
			}
			return -1
		}
		return largest(b).Cmp(largest(a))
	})
	var out []int
	done := map[int]bool{}
	for _, s := range byStiffness {
		if done[s.N] {
			continue
		}
		out, done[s.N] = append(out, s.N), true
		for _, o := range byStiffness {
			if s.Kind == Taper && o.Kind == Taper && !done[o.N] && sameSetting(s, o) {
				out, done[o.N] = append(out, o.N), true
			}
		}
	}
	return out
}

// sameSetting reports whether two tapers are cut at one setting of the slide.
func sameSetting(a, b Stage) bool {
	if a.Mark != nil && b.Mark != nil {
		return *a.Swing == *b.Swing && *a.Mark == *b.Mark
	}
	return *a.Swing == *b.Swing && *a.HalfAngle == *b.HalfAngle
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: "Stages of an outside", Warnings: r.Warnings, Cautions: r.Cautions}
	t := sheet.Table{Cols: []sheet.Column{
		{Key: "n", Head: "n"},
		{Key: "kind", Head: "kind"},
		{Key: "from_mm", Head: "from"},
		{Key: "to_mm", Head: "to"},
		{Key: "from_dia_mm", Head: "dia"},
		{Key: "to_dia_mm", Head: "to dia"},
		{Key: "half_angle_deg", Head: "half angle"},
		{Key: "mark_deg", Head: "mark"},
		{Key: "swing", Head: "swing"},
		{Key: "slide_travel_mm", Head: "slide"},
		{Key: "tool_hand", Head: "tool"},
	}}
	for _, st := range r.Stages {
		row := []sheet.Value{
			sheet.Count(st.N), sheet.Text(st.Kind), sheet.Len(st.From), sheet.Len(st.To), sheet.Len(st.FromDia), sheet.Len(st.ToDia),
			nil, nil, nil, sheet.LenOrNone(st.SlideTravel), sheet.Text(st.ToolHand),
		}
		if st.HalfAngle != nil {
			row[6], row[8] = sheet.Deg(*st.HalfAngle), sheet.Text(*st.Swing)
			s.Working = append(s.Working, st.Set.Taper.Working()[0])
		}
		if st.Mark != nil {
			row[7] = sheet.Deg(*st.Mark)
		}
		t.Add(row...)
	}
	s.Tables = []sheet.Table{t}
	words := make([]string, len(r.Order))
	for i, n := range r.Order {
		words[i] = fmt.Sprint(n)
	}
	s.Notes = []string{
		"Cut the stages in the order " + strings.Join(words, ", ") + ": cylinders and shoulders while the compound stands true, stiff before slender, tapers of one setting together.",
		"z runs from the left end of the drawing, the headstock's; a right-hand tool cuts toward the headstock.",
	}
	return s
}
