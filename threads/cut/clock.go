package cut

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/say"
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
	AimFaceOff *units.Length  `json:"aim_face_off_mm" show:"face off first" as:"down"`
	FaceOff    *units.Length  `json:"face_off_mm" show:"in all" as:"down"`
	Worst      *units.Length  `json:"worst_face_off_mm" show:"face off at the most"`
	PerDegree  units.Length   `json:"per_degree_mm" show:"each degree" as:"fine"`
	Sense      string         `json:"sense" show:"facing lets it turn on"`
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
	var list check.List
	list.ExactlyOne(check.If("turn", in.Turn), check.If("sides", in.Sides))
	list.Above0To("turn", in.Turn, units.Degrees(360))
	list.Between("sides", in.Sides, 1, 60, "sides")
	list.Between("short", in.Short, units.Degrees(0), units.Degrees(45))
	list.Between("within", in.Within, units.Degrees(0.1), units.Degrees(45))
	if err := list.Err(); err != nil {
		return ClockResult{}, err
	}
	r := ClockResult{Inputs: in, Sense: "clockwise", Shims: []units.Length{}}
	r.PerDegree = FaceOff(in.Lead, units.Degrees(1))
	if in.Left {
		r.Sense = "counter-clockwise"
	}
	if in.Turn != nil {
		aim := FaceOff(in.Lead, units.Degrees(max(0, in.Turn.Deg()-in.Short.Deg())))
		full := FaceOff(in.Lead, *in.Turn)
		r.FaceOff, r.AimFaceOff = &full, &aim
		if aim.Sign() == 0 {
			r.Warn("pull-up", "the turn is within the ", in.Short,
				" that pulling up gives: face nothing, pull it up and look again")
		}
	} else {
		worst := FaceOff(in.Lead, in.side())
		r.Worst = &worst
		for sum, step := 0.0, 2*in.Within.Deg(); sum < in.side().Deg()-in.Within.Deg(); step *= 2 {
			r.Shims = append(r.Shims, FaceOff(in.Lead, units.Degrees(step)))
			sum += step
		}
	}
	if in.taper {
		r.Warn("taper", "a taper thread jams on its flanks, not against a shoulder: ",
			"facing turns it no further unless the thread is cut deeper too")
	}
	r.Caution(cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// side returns the turn from one of the sides to the next.
func (in ClockInput) side() units.Angle { return units.Degrees(360 / float64(*in.Sides)) }

// shim is a shim for people.
type shim struct {
	Thick units.Length `json:"shims_mm" show:"shim"`
	Turn  units.Angle  `json:"turn_deg" show:"stops it earlier by"`
}

// Sheet implements sheet.Result.
func (r ClockResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Clocking a part on ", in.Designation)
	lead := sheet.Let("P", in.Lead.MM())
	if r.FaceOff != nil {
		s.Remark(&r.AimFaceOff, "stops ", in.Short, " short: pull it up, look, and take the rest")
		s.Remark(&r.FaceOff, "for the whole ", *in.Turn)
		s.Work("face off", "P*t/360", r.FaceOff.MM(), "mm", lead, sheet.Let("t", in.Turn.Deg()))
	}
	if r.Worst != nil {
		s.Remark(&r.Worst, "when it has just gone past: a side comes round every ", say.Num(in.side().Deg(), 3), " deg")
		s.Work("worst", "P/N", r.Worst.MM(), "mm", lead, sheet.Let("N", float64(*in.Sides)))
	}
	s.Remark(&r.Sense, "seen from the free end of the part, on this ", hand(in.Left), " thread")
	s.Figures()
	if len(r.Shims) > 0 {
		var rows []shim
		for i, l := range r.Shims {
			rows = append(rows, shim{l, in.Within.Times(math.Pow(2, float64(i+1)))})
		}
		s.Table(rows, "Shims instead")
		s.Note("Some of these shims together bring any stop to within ", in.Within,
			". A shim stops the part earlier, facing later.")
	}
	s.Note("Face the seat or the part, never the thread's first turn away, and deburr before each trial.")
	return *s
}
