package holes

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"

	"setover/setup/base/problem"
	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
)

// TwistPoint is the included angle of an ordinary twist drill's point.
var TwistPoint = units.Degrees(118)

// Breakthrough is how far the full diameter is drilled past the far side of a
// through hole: common practice, no source.
var Breakthrough = units.Millimetres(1)

// PointLength returns the length of a drill's point:
//
//	(D/2)/tan(A/2)
//
// D is the drill's diameter, above 0, and A the point's included angle, above
// 0 and at most 180 deg, where it is 0. Good to 1e-9 mm.
//
// Source: elementary; 0.3004·D at 118 deg, which the trade rounds to 0.3·D.
func PointLength(dia units.Length, point units.Angle) units.Length {
	return ConeDepth(dia, units.Length{}, point)
}

// ConeDepth returns how deep a cone of the included angle A goes from the
// diameter D at the mouth to d at the bottom:
//
//	(D - d)/2/tan(A/2)
//
// It is what a countersink goes below the surface, and a centre drill below
// the start of its cone. D is above d, d 0 or more, A above 0 and at most
// 180 deg, where it is 0. Good to 1e-9 mm.
//
// Source: elementary.
func ConeDepth(large, small units.Length, included units.Angle) units.Length {
	if included.Deg() >= 180 {
		return units.Length{}
	}
	return units.FromFloat(large.Minus(small).MM() / 2 / included.Half().Tan())
}

// Depth is how far a drill's tip goes below the surface: its point and the
// whole way.
type Depth struct{ Point, Total units.Length }

// DepthOf returns how far the tip of a drill goes for the full diameter to
// reach depth, or for a through hole in that thickness: there the full
// diameter goes Breakthrough past the far side.
func DepthOf(dia units.Length, point units.Angle, depth units.Length, through bool) Depth {
	if through {
		depth = depth.Plus(Breakthrough)
	}
	p := PointLength(dia, point)
	return Depth{p, depth.Plus(p)}
}

// DepthInput is a hole: through a thickness, or blind with a full diameter's
// depth. Past is how far the full diameter goes past the far side, nil for
// Breakthrough. Countersink is a diameter at the surface, Screw a cap screw to
// counterbore for, Centre a centre drill by its pilot with Mouth the diameter
// it makes at the surface.
type DepthInput struct {
	Dia         units.Length  `json:"dia_mm"`
	Point       units.Angle   `json:"point_deg"`
	Through     *units.Length `json:"through_mm,omitempty"`
	Full        *units.Length `json:"full_depth_mm,omitempty"`
	Past        *units.Length `json:"breakthrough_mm,omitempty"`
	Countersink *units.Length `json:"countersink_mm,omitempty"`
	SinkAngle   units.Angle   `json:"countersink_angle_deg"`
	Screw       string        `json:"screw,omitempty"`
	Centre      *units.Length `json:"centre_drill_mm,omitempty"`
	Mouth       *units.Length `json:"mouth_mm,omitempty"`
}

// DepthResult is how deep everything goes. SinkDepth is below the surface;
// CentreDepth is the tapered part of a centre hole, below the start of its
// cone when Centre is all that touches.
type DepthResult struct {
	Inputs       DepthInput    `json:"inputs"`
	Point        units.Length  `json:"point_mm"`
	Total        units.Length  `json:"total_mm"`
	Past         *units.Length `json:"breakthrough_mm"`
	Pecks        bool          `json:"peck"`
	BothSides    bool          `json:"both_sides"`
	SinkDepth    *units.Length `json:"countersink_depth_mm"`
	Clearance    *units.Length `json:"clearance_hole_mm"`
	Counterbore  *units.Length `json:"counterbore_mm"`
	BoreDepth    *units.Length `json:"counterbore_depth_mm"`
	CentreBody   *units.Length `json:"centre_drill_body_mm"`
	CentreMouth  *units.Length `json:"centre_mouth_mm"`
	CentreDepth  *units.Length `json:"centre_cone_mm"`
	CentreSource string        `json:"centre_source,omitempty"`
	sheet.Remarks
}

//go:embed counterbores.csv
var counterboresCSV string

//go:embed centres.csv
var centresCSV string

// Counterbore is what a cap screw wants: the clearance hole and the
// counterbore for its head.
type Counterbore struct {
	Screw           string
	Hole, Bore      units.Length
	Nominal         units.Length // the head is as high as the thread's diameter
	Source, Checked string
}

// Counterbores lists the cap screws by size.
var Counterbores = sync.OnceValue(func() []Counterbore {
	var list []Counterbore
	for _, r := range tables.Rows("counterbores.csv", counterboresCSV) {
		list = append(list, Counterbore{
			r["screw"], units.MustLength(r["hole_mm"] + "mm"), units.MustLength(r["bore_mm"] + "mm"),
			units.MustLength(strings.TrimPrefix(r["screw"], "M") + "mm"), r["src"], r["checked"],
		})
	}
	return list
})

// Screws lists the cap screws by name.
func Screws() []string {
	var names []string
	for _, c := range Counterbores() {
		names = append(names, c.Screw)
	}
	return names
}

// CentreDrill is a centre drill of the plain 60 deg form. Mouth is the
// diameter at the surface that the standard gives, nil where none is known.
type CentreDrill struct {
	System, Size string
	Pilot, Body  units.Length
	Mouth        *units.Length
	Source       string
}

// CentreDrills lists the centre drills.
var CentreDrills = sync.OnceValue(func() []CentreDrill {
	var list []CentreDrill
	for _, r := range tables.Rows("centres.csv", centresCSV) {
		c := CentreDrill{
			System: r["system"], Size: r["size"], Source: r["src"],
			Pilot: units.MustLength(r["pilot"] + r["unit"]), Body: units.MustLength(r["body"] + r["unit"]),
		}
		if r["mouth"] != "" {
			m := units.MustLength(r["mouth"] + r["unit"])
			c.Mouth = &m
		}
		list = append(list, c)
	}
	return list
})

// Reach returns how deep a hole goes. The diameters and depths are above 0,
// the point is above 0 and at most 180 deg, the countersink's angle above 0
// and at most 179 deg; it fails otherwise, when not exactly one of Through and
// Full is given, when a countersink is no larger than the hole, when a screw
// or a centre drill is not in the table, and when a mouth does not lie between
// the centre drill's pilot and its body.
func Reach(in DepthInput) (DepthResult, error) {
	var list problem.List
	list.Add(positive([]option{{"dia", &in.Dia}, {"countersink", in.Countersink}}))
	list.Add(oneOf("through", []option{{"through", in.Through}, {"full-depth", in.Full}}))
	for _, a := range []struct {
		key   string
		angle units.Angle
		most  float64
	}{{"point", in.Point, 180}, {"countersink-angle", in.SinkAngle, 179}} {
		if a.angle.Deg() <= 0 || a.angle.Deg() > a.most {
			list.Add(problem.New(problem.OutOfRange, a.key, a.angle, fmt.Sprintf("must be above 0 and at most %g deg", a.most)))
		}
	}
	if in.Past != nil && in.Past.Sign() < 0 {
		list.Add(problem.New(problem.OutOfRange, "breakthrough", in.Past, "cannot be negative"))
	}
	if in.Past != nil && in.Full != nil {
		list.Add(problem.New(problem.Contradiction, "breakthrough", in.Past, "is for a hole through, not for a blind one"))
	}
	r := DepthResult{Inputs: in}
	if len(list) == 0 {
		r.drill()
	}
	list.Add(r.sink())
	list.Add(r.counterbore())
	list.Add(r.centre())
	if len(list) > 0 {
		return DepthResult{}, list
	}
	r.Caution(cautions.ClampDrill, cautions.GrabDrill, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

func (r *DepthResult) drill() {
	in := r.Inputs
	r.Point = PointLength(in.Dia, in.Point)
	depth := in.Full
	if in.Through != nil {
		depth = in.Through
		past := Breakthrough
		if in.Past != nil {
			past = *in.Past
		}
		r.Past = &past
		r.Total = depth.Plus(past).Plus(r.Point)
	} else {
		r.Total = depth.Plus(r.Point)
	}
	r.Pecks, r.BothSides = Manner(in.Dia, *depth, in.Through != nil)
}

// Manner says how a hole of the diameter D is drilled to a depth: in pecks
// beyond 3·D, and a through hole from both sides beyond 5·D, since a drill
// wanders (common practice, no source). D is above 0.
func Manner(dia, depth units.Length, through bool) (peck, bothSides bool) {
	return depth.Cmp(dia.Times(3)) > 0, through && depth.Cmp(dia.Times(5)) > 0
}

func (r *DepthResult) sink() error {
	in := r.Inputs
	if in.Countersink == nil || in.Countersink.Sign() <= 0 || in.Dia.Sign() <= 0 {
		return nil
	}
	if in.Countersink.Cmp(in.Dia) <= 0 {
		return problem.New(problem.Impossible, "countersink", in.Countersink, fmt.Sprintf("no larger than the hole, %v", in.Dia))
	}
	d := ConeDepth(*in.Countersink, in.Dia, in.SinkAngle)
	r.SinkDepth = &d
	return nil
}

func (r *DepthResult) counterbore() error {
	name := r.Inputs.Screw
	if name == "" {
		return nil
	}
	for _, c := range Counterbores() {
		if strings.EqualFold(c.Screw, name) {
			r.Inputs.Screw, r.Clearance, r.Counterbore, r.BoreDepth = c.Screw, &c.Hole, &c.Bore, &c.Nominal
			return nil
		}
	}
	return problem.New(problem.Unknown, "counterbore", name, "no such cap screw here: write "+strings.Join(Screws(), ", ")).Near(Screws())
}

func (r *DepthResult) centre() error {
	in := r.Inputs
	if in.Centre == nil {
		if in.Mouth != nil {
			return problem.New(problem.Missing, "centre", nil, "is needed with mouth: the centre drill's pilot diameter")
		}
		return nil
	}
	for _, c := range CentreDrills() {
		if !c.Pilot.Equal(*in.Centre) {
			continue
		}
		mouth := c.Mouth
		if in.Mouth != nil {
			mouth = in.Mouth
		}
		if mouth == nil {
			return problem.New(problem.Missing, "mouth", nil, "is needed for a centre drill of this size: no standard mouth is known here")
		}
		if mouth.Cmp(c.Pilot) <= 0 || c.Body.Less(*mouth) {
			return problem.New(problem.OutOfRange, "mouth", mouth, fmt.Sprintf("must be above the pilot, %v, and at most the body, %v", c.Pilot, c.Body))
		}
		cone := ConeDepth(*mouth, c.Pilot, units.Degrees(60))
		r.CentreBody, r.CentreMouth, r.CentreDepth, r.CentreSource = &c.Body, mouth, &cone, c.System+" "+c.Size
		return nil
	}
	near := CentreDrills()[0]
	for _, c := range CentreDrills() {
		if c.Pilot.Minus(*in.Centre).Abs().Less(near.Pilot.Minus(*in.Centre).Abs()) {
			near = c
		}
	}
	p := problem.New(problem.Unknown, "centre", in.Centre, "no centre drill has this pilot")
	p.Nearest = near.Pilot.String()
	return p
}

// Sheet implements sheet.Result.
func (r DepthResult) Sheet() sheet.Sheet {
	in := r.Inputs
	total := sheet.Down(r.Total) // a blind hole is never shown deeper than it is
	remark := "the full diameter reaches its depth there"
	d, h := sheet.Let("D", in.Dia.MM()), sheet.Let("h", in.Point.Half().Deg())
	s := sheet.Sheet{
		Title:    "Depth of a hole",
		Warnings: r.Warnings, Cautions: r.Cautions,
		Working: []sheet.Step{sheet.Work("point", "D/2/tan(h)", r.Point.MM(), "mm", d, h)},
	}
	if in.Through != nil {
		total, remark = sheet.Up(r.Total), fmt.Sprintf("the full diameter goes %v past the far side", r.Past)
		s.Working = append(s.Working, sheet.Work("total", "T + b + point", r.Total.MM(), "mm", sheet.Let("T", in.Through.MM()), sheet.Let("b", r.Past.MM()), sheet.Let("point", r.Point.MM())))
	} else {
		s.Working = append(s.Working, sheet.Work("total", "T + point", r.Total.MM(), "mm", sheet.Let("T", in.Full.MM()), sheet.Let("point", r.Point.MM())))
	}
	s.Facts = []sheet.Fact{
		{Key: "total_mm", Label: "tip below the surface", Value: total, Remark: remark},
		{Key: "point_mm", Label: "of that the point", Value: sheet.Len(r.Point), Remark: fmt.Sprintf("%v", in.Point)},
	}
	if in.Point.Deg() >= 180 {
		s.Working = s.Working[1:]
	}
	if r.SinkDepth != nil {
		s.Facts = append(s.Facts, sheet.Fact{Key: "countersink_depth_mm", Label: "countersink goes", Value: sheet.Down(*r.SinkDepth), Remark: fmt.Sprintf("below the surface, from the first touch on the edge, for %v at %v", in.Countersink, in.SinkAngle)})
		s.Working = append(s.Working, sheet.Work("sink", "(S - D)/2/tan(c)", r.SinkDepth.MM(), "mm", sheet.Let("S", in.Countersink.MM()), d, sheet.Let("c", in.SinkAngle.Half().Deg())))
	}
	if r.Counterbore != nil {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "clearance_hole_mm", Label: in.Screw + " clearance hole", Value: sheet.Len(*r.Clearance)},
			sheet.Fact{Key: "counterbore_mm", Label: "counterbore", Value: sheet.Len(*r.Counterbore)},
			sheet.Fact{Key: "counterbore_depth_mm", Label: "at least deep", Value: sheet.Up(*r.BoreDepth), Remark: "a cap screw's head is as high as its thread is wide (ISO 4762)"})
	}
	if r.CentreDepth != nil {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "centre_mouth_mm", Label: "centre hole's mouth", Value: sheet.Len(*r.CentreMouth), Remark: r.CentreSource},
			sheet.Fact{Key: "centre_cone_mm", Label: "its cone goes", Value: sheet.Len(*r.CentreDepth), Remark: "from where the cone of the centre drill first touches"})
		s.Working = append(s.Working, sheet.Work("cone", "(M - p)/2/tan(30)", r.CentreDepth.MM(), "mm", sheet.Let("M", r.CentreMouth.MM()), sheet.Let("p", in.Centre.MM())))
	}
	if r.Pecks {
		s.Notes = append(s.Notes, "Deeper than three diameters: peck, and clear the chips.")
	}
	if r.BothSides {
		s.Notes = append(s.Notes, "Deeper than five diameters: drill half the way from each side.")
	}
	return s
}
