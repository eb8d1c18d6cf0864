package cut

import (
	"fmt"
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
)

// ClockInput is a screwed-on part that stops in the wrong place: the turn it
// is short of, or the number of sides that are to line up. Short is how many
// degrees short the first facing aims, so that pulling it up brings it home;
// Within is how near the shims are to bring it.
type ClockInput struct {
	Thread
	Turn   *units.Angle `json:"turn_deg,omitempty"`
	Sides  *int         `json:"sides,omitempty"`
	Short  units.Angle  `json:"short_deg"`
	Within units.Angle  `json:"within_deg"`
}

// ClockResult is how far to face off. FaceOff and AimFaceOff belong to a known
// turn, Worst and Shims to a number of sides; the others are nil or empty.
type ClockResult struct {
	Inputs     ClockInput     `json:"inputs"`
	FaceOff    *units.Length  `json:"face_off_mm"`
	Worst      *units.Length  `json:"worst_face_off_mm"`
	AimFaceOff *units.Length  `json:"aim_face_off_mm"`
	PerDegree  units.Length   `json:"per_degree_mm"`
	Sense      string         `json:"sense"`
	Shims      []units.Length `json:"shims_mm"`
	sheet.Remarks
}

// FaceOff returns how far a shoulder is faced so that the part on a thread of
// the lead Ph turns further by t:
//
//	Ph·t/360
//
// t is 0 to 360 deg. The result is rounded to 1e-9 mm. Source: elementary.
func FaceOff(lead units.Pitch, t units.Angle) units.Length { return lead.Length(t.Deg() / 360) }

// Clock returns how far to face a shoulder so that a screwed-on part stops
// turned further by Turn, or, for Sides flats that are to line up whichever
// they are, the most that can be needed: just under one side on,
//
//	Ph/N
//
// Facing the seat lets the part turn further in the sense it screws on:
// clockwise seen from its free end for a right-hand thread, counter-clockwise
// for a left-hand one. A shim under it stops it that much earlier. The shims
// double from 2·Within of turn up, so that some of them together bring any
// stop to within Within.
//
// It fails unless exactly one of Turn (above 0, at most 360 deg) and Sides (1
// to 60) is given, Short is 0 to 45 deg and Within 0.1 to 45 deg.
func Clock(in ClockInput) (ClockResult, error) {
	if err := in.check(); err != nil {
		return ClockResult{}, err
	}
	r := ClockResult{Inputs: in, Sense: "clockwise", PerDegree: FaceOff(in.Lead, units.Degrees(1)), Shims: []units.Length{}}
	if in.Left {
		r.Sense = "counter-clockwise"
	}
	if in.Turn != nil {
		full, aim := FaceOff(in.Lead, *in.Turn), FaceOff(in.Lead, units.Degrees(math.Max(0, in.Turn.Deg()-in.Short.Deg())))
		r.FaceOff, r.AimFaceOff = &full, &aim
		if aim.Sign() == 0 {
			r.Warnings.Add("pull-up", fmt.Sprintf("the turn is within the %v that pulling up gives: face nothing, pull it up and look again", in.Short))
		}
	} else {
		side := units.Degrees(360 / float64(*in.Sides))
		worst := FaceOff(in.Lead, side)
		r.Worst = &worst
		for sum, step := 0.0, 2*in.Within.Deg(); sum < side.Deg()-in.Within.Deg(); step *= 2 {
			r.Shims = append(r.Shims, FaceOff(in.Lead, units.Degrees(step)))
			sum += step
		}
	}
	if in.taper {
		r.Warnings.Add("taper", "a taper thread jams on its flanks, not against a shoulder: facing turns it no further unless the thread is cut deeper too")
	}
	r.Caution(cautions.EyeProtection, cautions.Manual)
	return r, nil
}

func (in ClockInput) check() error {
	var list problem.List
	switch {
	case in.Turn == nil && in.Sides == nil:
		list.Add(problem.New(problem.Missing, "turn", nil, "needs one of --turn and --sides"))
	case in.Turn != nil && in.Sides != nil:
		list.Add(problem.New(problem.Contradiction, "turn", in.Turn, "give one of --turn and --sides, not both"))
	}
	if in.Turn != nil && (in.Turn.Deg() <= 0 || in.Turn.Deg() > 360) {
		list.Add(problem.New(problem.OutOfRange, "turn", in.Turn, "a turn here is above 0 and at most 360 deg"))
	}
	if in.Sides != nil && (*in.Sides < 1 || *in.Sides > 60) {
		list.Add(problem.New(problem.OutOfRange, "sides", *in.Sides, "1 to 60 sides are lined up"))
	}
	if in.Short.Deg() < 0 || in.Short.Deg() > 45 {
		list.Add(problem.New(problem.OutOfRange, "short", in.Short, "aim 0 to 45 deg short"))
	}
	if in.Within.Deg() < 0.1 || in.Within.Deg() > 45 {
		list.Add(problem.New(problem.OutOfRange, "within", in.Within, "shims bring it within 0.1 to 45 deg"))
	}
	return list.Err()
}

// Sheet implements sheet.Result.
func (r ClockResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Sheet{Title: "Clocking a part on " + in.Designation, Warnings: r.Warnings, Cautions: r.Cautions}
	lead := in.Lead.MM()
	if r.FaceOff != nil {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "aim_face_off_mm", Label: "face off first", Value: sheet.Down(*r.AimFaceOff), Remark: fmt.Sprintf("stops %v short: pull it up, look, and take the rest", in.Short)},
			sheet.Fact{Key: "face_off_mm", Label: "in all", Value: sheet.Down(*r.FaceOff), Remark: fmt.Sprintf("for the whole %v", in.Turn)})
		s.Working = append(s.Working, sheet.Work("face off", "P*t/360", r.FaceOff.MM(), "mm", sheet.Let("P", lead), sheet.Let("t", in.Turn.Deg())))
	}
	if r.Worst != nil {
		s.Facts = append(s.Facts, sheet.Fact{Key: "worst_face_off_mm", Label: "face off at the most", Value: sheet.Len(*r.Worst), Remark: fmt.Sprintf("when it has just gone past: a side comes round every %s deg", trim(360/float64(*in.Sides)))})
		s.Working = append(s.Working, sheet.Work("worst", "P/N", r.Worst.MM(), "mm", sheet.Let("P", lead), sheet.Let("N", float64(*in.Sides))))
	}
	s.Facts = append(s.Facts,
		sheet.Fact{Key: "per_degree_mm", Label: "each degree", Value: sheet.Fine(r.PerDegree)},
		sheet.Fact{Key: "sense", Label: "facing lets it turn on", Value: sheet.Text(r.Sense), Remark: "seen from the free end of the part, on this " + hand(in.Left) + " thread"})
	if len(r.Shims) > 0 {
		t := sheet.Table{Title: "Shims instead", Cols: []sheet.Column{{Key: "shims_mm", Head: "shim"}, {Key: "turn_deg", Head: "stops it earlier by"}}}
		for i, l := range r.Shims {
			t.Add(sheet.Len(l), sheet.Deg(in.Within.Times(math.Pow(2, float64(i+1)))))
		}
		s.Tables = append(s.Tables, t)
		s.Notes = append(s.Notes, fmt.Sprintf("Some of these shims together bring any stop to within %v. A shim stops the part earlier, facing later.", in.Within))
	}
	s.Notes = append(s.Notes, "Face the seat or the part, never the thread's first turn away, and deburr before each trial.")
	return s
}

// trim writes a number of degrees with at most 3 decimals.
func trim(v float64) string { return fmt.Sprintf("%g", math.Round(v*1000)/1000) }
