package gauge

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
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
	HalfAngle units.Angle   `json:"half_angle_deg" show:"half angle" as:"minutes"`
	Included  units.Angle   `json:"included_angle_deg" show:"included angle" as:"minutes"`
	Large     *units.Length `json:"large_mm" show:"large diameter"`
	Small     *units.Length `json:"small_mm" show:"small diameter"`
	PerMicron units.Number  `json:"angle_per_um_deg" show:"a micrometre is worth" as:"6 deg"`
}

// RollsResult is the plug and the sizes over the rolls. Over is nil where the
// small end is not known.
type RollsResult struct {
	Inputs     RollsInput    `json:"inputs"`
	Over       *units.Length `json:"over_mm" show:"over the rolls, on the plate"`
	OverRaised *units.Length `json:"over_raised_mm" show:"over the rolls, raised"`
	Figures
	sheet.Remarks
}

// degrees per radian, for what a micrometre is worth.
const perRadian = 180 / math.Pi

// given checks that either the taper is stated or all that is measured, and
// reports whether it was measured.
func given(bad *check.List, in tapers.Input, measured ...check.Option) bool {
	var keys []say.Text
	part := false
	for _, o := range measured {
		keys, part = append(keys, say.Key(o.Key)), part || o.Given
	}
	flags := say.Join(keys, " and ")
	all := bad.Together(measured...)
	switch {
	case all && known(in):
		bad.Add(problem.New(problem.Contradiction, "taper", nil,
			"give the taper or what was measured (", flags, "), not both"))
	case !part && !known(in):
		bad.Add(problem.New(problem.Missing, "taper", nil, "needs the taper, or what was measured: ", flags))
	}
	return all
}

// known reports whether in states a slope or enough sizes for one. A length
// alone does not: it may go with what was measured.
func known(in tapers.Input) bool {
	in.Length, in.Standard = nil, ""
	return in != tapers.Input{}
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
	var bad check.List
	bad.Above0("roll", in.Roll)
	bad.Above0("height", in.Height)
	measured := given(&bad, in.Input, check.If("over", in.Over), check.If("over-raised", in.OverRaised))
	if measured {
		bad.Above("over-raised", in.OverRaised, *in.Over, "over the rolls on the plate: the plug stands on its small end")
	}
	if err := bad.Err(); err != nil {
		return RollsResult{}, err
	}
	r := RollsResult{Inputs: in, Over: in.Over, OverRaised: in.OverRaised}
	length, err := r.taper(measured)
	if err != nil {
		return RollsResult{}, err
	}
	w, h, cos := in.Roll.MM(), in.Height.MM(), r.HalfAngle.Cos()
	if touch := units.FromFloat(h + w/2*(1+r.HalfAngle.Sin())); length != nil && length.Less(touch) {
		return RollsResult{}, problem.New(problem.OutOfRange, "height", in.Height,
			"the raised rolls would touch ", touch.Up(), " up, above the plug of ", length)
	}
	r.Included = r.HalfAngle.Times(2)
	r.PerMicron = units.Number(0.001 * cos * cos / (2 * h) * perRadian)
	return r, nil
}

// taper fills in the plug from what was measured, or what is to be measured
// from the plug, and returns the plug's length where it is known.
func (r *RollsResult) taper(measured bool) (length *units.Length, err error) {
	in := r.Inputs
	h := in.Height.MM()
	rolls := func(a units.Angle) units.Length { return units.FromFloat(in.Roll.MM() * (1 + tanHalf(a))) }
	wider := func(l float64) units.Length { return units.FromFloat(2 * l * r.HalfAngle.Tan()) }
	if measured {
		r.HalfAngle = units.Radians(math.Atan2(in.OverRaised.Minus(*in.Over).MM(), 2*h))
		d := in.Over.Minus(rolls(r.HalfAngle))
		if d.Sign() < 0 {
			return nil, problem.New(problem.Impossible, "over", in.Over, "less than the rolls alone take up")
		}
		r.Small = &d
		if in.Length != nil {
			r.Large = new(d.Plus(wider(in.Length.MM())))
		}
		return in.Length, nil
	}
	t, err := tapers.Solve(in.Input)
	if err != nil {
		return nil, err
	}
	r.HalfAngle, r.Large, r.Small = t.HalfAngle, t.Large, t.Small
	if t.Small != nil {
		r.Over = new(t.Small.Plus(rolls(t.HalfAngle)))
		r.OverRaised = new(r.Over.Plus(wider(h)))
	}
	return t.Length, nil
}

// tanHalf returns tan(45 + a/2), which is tan a + 1/cos a.
func tanHalf(a units.Angle) float64 { return units.Degrees(45 + a.Deg()/2).Tan() }

// Sheet implements sheet.Result.
func (r RollsResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Taper over rolls")
	s.Remark(&r.OverRaised, "both on blocks of ", r.Inputs.Height)
	s.Remark(&r.PerMicron, "in the half angle, of the raised reading")
	s.Figures()
	if r.Over != nil {
		m1, a := sheet.Let("M1", r.Over.MM()), sheet.Let("a", r.HalfAngle.Deg())
		s.Work("a", "atan((M2 - M1)/(2*H))", a.Value, "deg",
			sheet.Let("M2", r.OverRaised.MM()), m1, sheet.Let("H", r.Inputs.Height.MM()))
		s.Work("d", "M1 - w*(1 + tan(45 + a/2))", r.Small.MM(), "mm", m1, sheet.Let("w", r.Inputs.Roll.MM()), a)
	}
	s.Note("The plug stands on its small end on a surface plate; the small diameter is the one at the plate.")
	return *s
}
