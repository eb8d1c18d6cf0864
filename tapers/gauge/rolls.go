package gauge

import (
	"fmt"
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// RollsInput is a plug that stands on its small end between two rolls, and
// either the taper or what was measured over the rolls: Over on the plate,
// OverRaised with both on blocks of the height Height.
type RollsInput struct {
	tapers.Input
	Roll       units.Length  `json:"roll_mm"`
	Height     units.Length  `json:"height_mm"`
	Over       *units.Length `json:"over_mm,omitempty"`
	OverRaised *units.Length `json:"over_raised_mm,omitempty"`
}

// Figures are what every way of gauging has: the taper, and what a micrometre
// of reading is worth in the half angle. Large and Small are nil where they do
// not follow.
type Figures struct {
	HalfAngle units.Angle   `json:"half_angle_deg"`
	Included  units.Angle   `json:"included_angle_deg"`
	Large     *units.Length `json:"large_mm"`
	Small     *units.Length `json:"small_mm"`
	PerMicron units.Number  `json:"angle_per_um_deg"`
}

// RollsResult is the plug and the sizes over the rolls. Over is nil where the
// small end is not known.
type RollsResult struct {
	Inputs RollsInput `json:"inputs"`
	Figures
	Over       *units.Length `json:"over_mm"`
	OverRaised *units.Length `json:"over_raised_mm"`
	sheet.Remarks
}

// degrees per radian, for what a micrometre is worth.
const perRadian = 180 / math.Pi

// given returns the problem of a taper and measured figures given together, or
// of neither.
func given(taper, measured bool, flags string) error {
	switch {
	case taper && measured:
		return problem.New(problem.Contradiction, "taper", nil, "give the taper or what was measured ("+flags+"), not both")
	case !taper && !measured:
		return problem.New(problem.Missing, "taper", nil, "needs the taper, or what was measured: "+flags)
	}
	return nil
}

// known reports whether in states a slope or enough sizes for one. A length
// alone does not: it may go with what was measured.
func known(in tapers.Input) bool {
	in.Length, in.Standard = nil, ""
	return in != tapers.Input{}
}

func positive(list *problem.List, key string, l units.Length) {
	if l.Sign() <= 0 {
		list.Add(problem.New(problem.OutOfRange, key, l, "must be above 0"))
	}
}

// Rolls works between a plug and the sizes over two equal rolls:
//
//	tan a = (M2 - M1)/(2·H)
//	M1    = d + w·(1 + tan(45 + a/2))
//
// d is the diameter at the plate, w the rolls', H the blocks under them. It is
// exact. It fails on sizes not above 0, where the taper and what was measured
// are both given or neither, where M2 is not above M1, and where the raised
// rolls would stand above the plug.
func Rolls(in RollsInput) (RollsResult, error) {
	var bad problem.List
	positive(&bad, "roll", in.Roll)
	positive(&bad, "height", in.Height)
	measured := in.Over != nil && in.OverRaised != nil
	if !measured && (in.Over != nil || in.OverRaised != nil) {
		bad.Add(problem.New(problem.Missing, "over", nil, "needs both --over and --over-raised"))
	} else {
		bad.Add(given(known(in.Input), measured, "--over and --over-raised"))
	}
	if measured && in.OverRaised.Cmp(*in.Over) <= 0 {
		bad.Add(problem.New(problem.OutOfRange, "over-raised", in.OverRaised, fmt.Sprintf("the plug stands on its small end: more than over the rolls on the plate, %v", in.Over)))
	}
	if len(bad) > 0 {
		return RollsResult{}, bad
	}
	r, length := RollsResult{Inputs: in}, in.Length
	w, h := in.Roll.MM(), in.Height.MM()
	if measured {
		a := units.Radians(math.Atan2(in.OverRaised.Minus(*in.Over).MM(), 2*h))
		d := in.Over.Minus(units.FromFloat(w * (1 + tanHalf(a))))
		if d.Sign() < 0 {
			return RollsResult{}, problem.New(problem.Impossible, "over", in.Over, "less than the rolls alone take up")
		}
		r.Over, r.OverRaised, r.HalfAngle, r.Small = in.Over, in.OverRaised, a, &d
		if in.Length != nil {
			l := d.Plus(units.FromFloat(2 * in.Length.MM() * a.Tan()))
			r.Large = &l
		}
	} else {
		t, err := tapers.Solve(in.Input)
		if err != nil {
			return RollsResult{}, err
		}
		r.HalfAngle, r.Large, r.Small, length = t.HalfAngle, t.Large, t.Small, t.Length
		if t.Small != nil {
			over := t.Small.Plus(units.FromFloat(w * (1 + tanHalf(t.HalfAngle))))
			raised := over.Plus(units.FromFloat(2 * h * t.HalfAngle.Tan()))
			r.Over, r.OverRaised = &over, &raised
		}
	}
	if touch := h + w/2*(1+r.HalfAngle.Sin()); length != nil && touch > length.MM() {
		return RollsResult{}, problem.New(problem.OutOfRange, "height", in.Height, fmt.Sprintf("the raised rolls would touch %s mm up, above the plug of %v", units.FromFloat(touch).Fixed(units.MM, 2, units.Up), length))
	}
	r.Included = r.HalfAngle.Times(2)
	cos := r.HalfAngle.Cos()
	r.PerMicron = units.Number(0.001 * cos * cos / (2 * h) * perRadian)
	return r, nil
}

// tanHalf returns tan(45 + a/2), which is tan a + 1/cos a.
func tanHalf(a units.Angle) float64 { return units.Degrees(45 + a.Deg()/2).Tan() }

// facts lists the figures every way of gauging has.
func (f Figures) facts(perMicron string) []sheet.Fact {
	facts := []sheet.Fact{
		{Key: "half_angle_deg", Label: "half angle", Value: sheet.Ang(f.HalfAngle)},
		{Key: "included_angle_deg", Label: "included angle", Value: sheet.Ang(f.Included)},
	}
	for _, l := range []struct {
		key, label string
		l          *units.Length
	}{{"large_mm", "large diameter", f.Large}, {"small_mm", "small diameter", f.Small}} {
		if l.l != nil {
			facts = append(facts, sheet.Fact{Key: l.key, Label: l.label, Value: sheet.Len(*l.l)})
		}
	}
	return append(facts, sheet.Fact{Key: "angle_per_um_deg", Label: "a micrometre is worth", Value: sheet.Num(float64(f.PerMicron), 6, "deg"), Remark: "in the half angle, " + perMicron})
}

// Sheet implements sheet.Result.
func (r RollsResult) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: "Taper over rolls", Warnings: r.Warnings, Cautions: r.Cautions}
	if r.Over != nil {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "over_mm", Label: "over the rolls, on the plate", Value: sheet.Len(*r.Over)},
			sheet.Fact{Key: "over_raised_mm", Label: "over the rolls, raised", Value: sheet.Len(*r.OverRaised), Remark: "both on blocks of " + sheet.Inline(r.Inputs.Height, units.Nearest)})
	}
	s.Facts = append(s.Facts, r.facts("of the raised reading")...)
	if r.Over != nil {
		s.Working = []sheet.Step{
			sheet.Work("a", "atan((M2 - M1)/(2*H))", r.HalfAngle.Deg(), "deg", sheet.Let("M2", r.OverRaised.MM()), sheet.Let("M1", r.Over.MM()), sheet.Let("H", r.Inputs.Height.MM())),
			sheet.Work("d", "M1 - w*(1 + tan(45 + a/2))", r.Small.MM(), "mm", sheet.Let("M1", r.Over.MM()), sheet.Let("w", r.Inputs.Roll.MM()), sheet.Let("a", r.HalfAngle.Deg())),
		}
	}
	s.Notes = []string{"The plug stands on its small end on a surface plate; the small diameter is the one at the plate."}
	return s
}
