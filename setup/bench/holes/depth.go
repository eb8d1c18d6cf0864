package holes

import (
	"cmp"
	_ "embed"
	"slices"
	"strings"
	"sync"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
)

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
// diameter goes practice.Breakthrough past the far side.
func DepthOf(dia units.Length, point units.Angle, depth units.Length, through bool) Depth {
	if through {
		depth = depth.Plus(practice.Breakthrough.Length())
	}
	p := PointLength(dia, point)
	return Depth{p, depth.Plus(p)}
}

// DepthInput is a hole: through a thickness, or blind with a full diameter's
// depth. Past is how far the full diameter goes past the far side, nil for
// the usual. Countersink is a diameter at the surface, Screw a cap screw to
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

// DepthResult is how deep everything goes. Total is never shown shorter through
// nor deeper blind. SinkDepth is below the surface; CentreDepth is the tapered
// part of a centre hole, below the start of its cone when Centre is all that
// touches.
type DepthResult struct {
	Inputs       DepthInput    `json:"inputs"`
	Total        units.Rounded `json:"total_mm" show:"tip below the surface"`
	Point        units.Length  `json:"point_mm" show:"of that the point"`
	Past         *units.Length `json:"breakthrough_mm"`
	Pecks        bool          `json:"peck"`
	BothSides    bool          `json:"both_sides"`
	SinkDepth    *units.Length `json:"countersink_depth_mm" show:"countersink goes" as:"down"`
	Clearance    *units.Length `json:"clearance_hole_mm" show:"clearance hole"`
	Counterbore  *units.Length `json:"counterbore_mm" show:"counterbore"`
	BoreDepth    *units.Length `json:"counterbore_depth_mm" show:"at least deep" as:"up"`
	CentreBody   *units.Length `json:"centre_drill_body_mm"`
	CentreMouth  *units.Length `json:"centre_mouth_mm" show:"centre hole's mouth"`
	CentreDepth  *units.Length `json:"centre_cone_mm" show:"its cone goes"`
	CentreSource string        `json:"centre_source,omitempty"`
	sheet.Remarks
}

//go:embed counterbores.csv
var counterboresCSV string

//go:embed centres.csv
var centresCSV string

// capScrews are the rows of what cap screws want: the clearance hole, and the
// counterbore for the head.
var capScrews = sync.OnceValue(func() []map[string]string { return tables.Rows("counterbores.csv", counterboresCSV) })

// Screws lists the cap screws by name.
func Screws() []string {
	var names []string
	for _, row := range capScrews() {
		names = append(names, row["screw"])
	}
	return names
}

// centreDrill is a centre drill of the plain 60 deg form. The mouth is the
// diameter at the surface that the standard gives, nil where none is known.
type centreDrill struct {
	name        string
	pilot, body units.Length
	mouth       *units.Length
}

var centreDrills = sync.OnceValue(func() []centreDrill {
	var list []centreDrill
	for _, r := range tables.Rows("centres.csv", centresCSV) {
		size := func(key string) units.Length { return units.MustLength(r[key] + r["unit"]) }
		c := centreDrill{name: r["system"] + " " + r["size"], pilot: size("pilot"), body: size("body")}
		if r["mouth"] != "" {
			c.mouth = new(size("mouth"))
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
	var l check.List
	l.Above0("dia", in.Dia, "through", in.Through, "full-depth", in.Full, "countersink", in.Countersink)
	l.ExactlyOne(check.If("through", in.Through), check.If("full-depth", in.Full))
	l.Above0To("point", in.Point, units.Degrees(180))
	l.Above0To("countersink-angle", in.SinkAngle, units.Degrees(179))
	l.NotBelow0("breakthrough", in.Past)
	l.Refuse(in.Past != nil && in.Full != nil, problem.Contradiction, "breakthrough", in.Past,
		"is for a hole through, not for a blind one")
	r := DepthResult{Inputs: in}
	if l.Err() == nil {
		l.Add(r.drill())
	}
	l.Add(r.counterbore())
	l.Add(r.centre())
	if err := l.Err(); err != nil {
		return DepthResult{}, err
	}
	r.Caution(cautions.ClampDrill, cautions.GrabDrill, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// drill fills in the drill's depth and the countersink's.
func (r *DepthResult) drill() error {
	in := r.Inputs
	r.Point = PointLength(in.Dia, in.Point)
	depth := in.Full
	if in.Full != nil {
		r.Total = depth.Plus(r.Point).Down()
	} else {
		depth, r.Past = in.Through, cmp.Or(in.Past, new(practice.Breakthrough.Length()))
		r.Total = depth.Plus(*r.Past).Plus(r.Point).Up()
	}
	r.Pecks, r.BothSides = Manner(in.Dia, *depth, in.Through != nil)
	if in.Countersink == nil {
		return nil
	}
	if in.Countersink.Cmp(in.Dia) <= 0 {
		return problem.New(problem.Impossible, "countersink", in.Countersink, "no larger than the hole, ", in.Dia)
	}
	r.SinkDepth = new(ConeDepth(*in.Countersink, in.Dia, in.SinkAngle))
	return nil
}

// Manner says how a hole of the diameter D is drilled to a depth: in pecks
// beyond practice.PeckFirst, and a through hole from both sides beyond
// practice.BothSides. D is above 0.
func Manner(dia, depth units.Length, through bool) (peck, bothSides bool) {
	return practice.PeckFirst.Of(dia).Less(depth), through && practice.BothSides.Of(dia).Less(depth)
}

func (r *DepthResult) counterbore() error {
	name := r.Inputs.Screw
	if name == "" {
		return nil
	}
	mm := func(number string) *units.Length { return new(units.MustLength(number + "mm")) }
	for _, row := range capScrews() {
		if screw := row["screw"]; strings.EqualFold(screw, name) {
			r.Inputs.Screw, r.Clearance, r.Counterbore = screw, mm(row["hole_mm"]), mm(row["bore_mm"])
			r.BoreDepth = mm(strings.TrimPrefix(screw, "M")) // the head is as high as the thread's diameter
			return nil
		}
	}
	var l check.List
	check.OneOf(&l, "counterbore", name, Screws())
	return l.Err()
}

func (r *DepthResult) centre() error {
	in := r.Inputs
	if in.Centre == nil {
		if in.Mouth != nil {
			return problem.New(problem.Missing, "centre", nil, "is needed with ", say.Key("mouth"),
				": the centre drill's pilot diameter")
		}
		return nil
	}
	near := slices.MinFunc(centreDrills(), func(a, b centreDrill) int {
		return a.pilot.Minus(*in.Centre).Abs().Cmp(b.pilot.Minus(*in.Centre).Abs())
	})
	mouth := cmp.Or(in.Mouth, near.mouth)
	switch {
	case !near.pilot.Equal(*in.Centre):
		return problem.New(problem.Unknown, "centre", in.Centre, "no centre drill has this pilot; the nearest has ",
			near.pilot.Typed())
	case mouth == nil:
		return problem.New(problem.Missing, "mouth", nil,
			"is needed for a centre drill of this size: no standard mouth is known here")
	case mouth.Cmp(near.pilot) <= 0 || near.body.Less(*mouth):
		return problem.New(problem.OutOfRange, "mouth", mouth,
			"must be above the pilot, ", near.pilot.Typed(), ", and at most the body, ", near.body.Typed())
	}
	r.CentreBody, r.CentreMouth, r.CentreSource = &near.body, mouth, near.name
	r.CentreDepth = new(ConeDepth(*mouth, near.pilot, practice.CentreCone.Angle()))
	return nil
}

// Sheet implements sheet.Result.
func (r DepthResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Depth of a hole")
	s.Remark(&r.Point, in.Point)
	if in.Point.Deg() < 180 {
		s.Step("point", "D/2/tan(h)", r.Point, "D", in.Dia, "h", in.Point.Half())
	}
	if in.Through != nil {
		s.Remark(&r.Total, "the full diameter goes ", r.Past, " past the far side")
		s.Step("total", "T + b + point", r.Total, "T", in.Through, "b", r.Past, "point", r.Point)
	} else {
		s.Remark(&r.Total, "the full diameter reaches its depth there")
		s.Step("total", "T + point", r.Total, "T", in.Full, "point", r.Point)
	}
	if r.SinkDepth != nil {
		s.Remark(&r.SinkDepth, "below the surface, from the first touch on the edge, for ", in.Countersink, " at ",
			in.SinkAngle)
		s.Step("sink", "(S - D)/2/tan(c)", r.SinkDepth, "S", in.Countersink, "D", in.Dia, "c", in.SinkAngle.Half())
	}
	s.Remark(&r.Clearance, "for an ", in.Screw, " cap screw")
	s.Remark(&r.BoreDepth, "a cap screw's head is as high as its thread is wide (ISO 4762)")
	s.Remark(&r.CentreMouth, r.CentreSource)
	if r.CentreDepth != nil {
		s.Remark(&r.CentreDepth, "from where the cone of the centre drill first touches")
		s.Step("cone", "(M - p)/2/tan(30)", r.CentreDepth, "M", r.CentreMouth, "p", in.Centre)
	}
	s.Figures()
	if r.Pecks {
		s.Note("Deeper than three diameters: peck, and clear the chips.")
	}
	if r.BothSides {
		s.Note("Deeper than five diameters: drill half the way from each side.")
	}
	return *s
}
