package facets

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/fouling"
	"setover/tapers/swivel"
)

// TaperInput is a polygon that tapers: its size across flats or across corners
// at both ends, and the length between them.
type TaperInput struct {
	Sides  int           `json:"sides"`
	Large  units.Length  `json:"large_mm"`
	Small  units.Length  `json:"small_mm"`
	Length units.Length  `json:"length_mm"`
	Across string        `json:"across"` // flats or corners
	Leave  units.Length  `json:"leave_mm"`
	Every  *units.Length `json:"every_mm,omitempty"`
	Indexing

	// Where the small end is while the cone is turned, the tailstock where not given,
	// and what the compound is set with; as in package compound.
	SmallEnd tapers.End    `json:"small_end,omitempty"`
	Within   *units.Length `json:"within_mm,omitempty"`
	Lathe    shop.Lathe    `json:"-"`
	Tools    swivel.Tools  `json:"-"`
}

// Cone is how the compound is set to turn the cone through the corners. Bites are how
// many it is cut in, nil where that is not known.
type Cone struct {
	swivel.Figures
	Bites *int `json:"bites"`

	steps []say.Text // of turning it, once it is set
}

// Station is the polygon at one distance from the large end.
type Station struct {
	At            units.Length `json:"at_mm" show:"at"`
	AcrossFlats   units.Length `json:"across_flats_mm" show:"flats"`
	AcrossCorners units.Length `json:"across_corners_mm" show:"corners"`
	Blank         units.Length `json:"blank_mm" show:"turn to" as:"up"`
	Width         units.Length `json:"facet_width_mm" show:"flat width"`
	FlatDepth     units.Length `json:"flat_depth_mm" show:"flat depth"`
}

// Tapered is a tapering polygon. The corners lie on a cone of the half angle
// CornerHalfAngle, which the blank is turned to; the flats rise from the axis
// at FacetHalfAngle, which the work is tilted by.
type Tapered struct {
	Inputs          TaperInput  `json:"inputs"`
	CornerHalfAngle units.Angle `json:"corner_half_angle_deg" show:"turn the cone at" as:"minutes"`
	FacetHalfAngle  units.Angle `json:"facet_half_angle_deg" show:"tilt for the flats" as:"minutes"`
	// TopFalls is by how much the top of the cone falls from its large end to its small
	// one, once it is tilted: (B1 - B2)/2·cos f - l·sin f.
	TopFalls units.Length `json:"top_falls_mm" show:"top of the cone falls"`
	Cone     *Cone        `json:"cone"`
	Order
	Stations []Station `json:"stations"`
	sheet.Remarks

	apothems [2]units.Length
}

// maxStations bounds the table.
const maxStations = 1000

// Taper returns a tapering polygon with its sizes at stations from the large
// end, every Every (a tenth of the length where not given) and at the small
// end:
//
//	tan(facet half angle)  = (A1 - A2)/l
//	tan(corner half angle) = (A1 - A2)/(l·cos(180/n))
//
// Sides run from 3 to 24, Large above Small, Small 0 or more, Length above 0,
// Leave 0 or more and less than the large end's apothem, Every above 0 and at least a thousandth of the length.
func Taper(in TaperInput) (Tapered, error) {
	t, err := in.polygon()
	if err != nil {
		return Tapered{}, err
	}
	t.Order = inOrder(in.Sides, in.Leave, t.FacetHalfAngle, in.Indexing, t.ends()...)
	t.remark(&t.Remarks)
	return t, t.turned()
}

// turned fills in how the cone is turned on the compound.
func (t *Tapered) turned() error {
	in, first, last := t.Inputs, t.Stations[0], t.Stations[len(t.Stations)-1]
	if in.SmallEnd == "" {
		in.SmallEnd = tapers.AtTailstock
	}
	r, err := compound.Set(compound.Input{
		Input:    tapers.Input{Large: &first.Blank, Small: &last.Blank, Length: &in.Length},
		SmallEnd: in.SmallEnd, Within: in.Within, Place: fouling.Place{Lathe: in.Lathe}, Tools: in.Tools,
	})
	if err != nil {
		return err
	}
	t.Cone = &Cone{Figures: r.Figures, Bites: r.Bites}
	if len(r.Steps) > 0 {
		t.Cone.steps = r.Steps[1:]
	}
	t.Warnings = append(t.Warnings, r.Warnings...)
	t.No(r.Fails().Err())
	t.Caution(r.Cautions...)
	return nil
}

// ends are the work as it is turned and how deep its flats go, at the large end and
// at the small one.
func (t *Tapered) ends() []end {
	list := make([]end, 2)
	for i, x := range []Station{t.Stations[0], t.Stations[len(t.Stations)-1]} {
		list[i] = end{section{radius: x.Blank.Half().MM()}, t.apothems[i]}
	}
	return list
}

// polygon returns the sizes, and the angles.
func (in TaperInput) polygon() (Tapered, error) {
	at, err := in.check()
	if err != nil {
		return Tapered{}, err
	}
	of := OfFlats
	if in.Across == "corners" {
		of = OfCorners
	}
	p1, p2 := of(in.Sides, in.Large), of(in.Sides, in.Small)
	if err := leaves(in.Leave, p1.Apothem); err != nil {
		return Tapered{}, err
	}
	t := Tapered{
		Inputs:          in,
		FacetHalfAngle:  Rise(p1.Apothem, p2.Apothem, in.Length),
		CornerHalfAngle: units.Radians(math.Atan2(p1.Apothem.Minus(p2.Apothem).MM(), in.Length.MM()*centre(in.Sides).Cos())),
		apothems:        [2]units.Length{p1.Apothem, p2.Apothem},
	}
	for _, z := range at {
		t.Stations = append(t.Stations, t.at(z))
	}
	ends, f := t.ends(), t.FacetHalfAngle
	t.TopFalls = units.FromFloat((ends[0].bare.radius-ends[1].bare.radius)*f.Cos() - in.Length.MM()*f.Sin())
	t.Caution(cautions.EyeProtection, cautions.GrindDust, cautions.Manual)
	return t, nil
}

// check returns the places of the stations, or what is wrong.
func (in TaperInput) check() ([]units.Length, error) {
	var bad check.List
	bad.Between("sides", in.Sides, MinSides, MaxSides, "sides")
	check.OneOf(&bad, "across", in.Across, SizesAcross)
	bad.NotBelow0("small", in.Small)
	bad.Above("large", in.Large, in.Small, "the small end")
	bad.Above0("length", in.Length)
	bad.NotBelow0("leave", in.Leave)
	return places(&bad, "every", in.Every, in.Length), bad.Err()
}

// places returns the places along a length, every step from 0 and its end; a
// tenth of it where no step is given. Too many are refused.
func places(bad *check.List, key string, step *units.Length, over units.Length) (list []units.Length) {
	by := units.FromFloat(over.MM() / 10)
	if step != nil {
		by = *step
		bad.Above0(key, by)
	}
	many := by.Times(maxStations).Less(over)
	bad.Refuse(by.Sign() > 0 && many, problem.OutOfRange, key, by, "makes more than ", maxStations, " rows")
	last := over.Minus(units.FromFloat(slack)) // a tenth that was rounded does not make an eleventh row
	for z := (units.Length{}); by.Sign() > 0 && !many && z.Less(last); z = z.Plus(by) {
		list = append(list, z)
	}
	return append(list, over)
}

// at returns the polygon at z from the large end.
func (t Tapered) at(z units.Length) Station {
	f := z.Over(t.Inputs.Length)
	a := t.apothems[0].Minus(units.FromFloat(f * t.apothems[0].Minus(t.apothems[1]).MM()))
	p := Polygon{t.Inputs.Sides, a}
	blank := p.Blank(t.Inputs.Leave)
	return Station{z, p.AcrossFlats(), p.AcrossCorners(), blank, p.Side(), p.FlatDepth(blank)}
}

// Sheet implements sheet.Result.
func (t Tapered) Sheet() sheet.Sheet {
	s := sheet.Of(&t, "Tapering polygon of ", t.Inputs.Sides, " sides")
	s.Brief = true
	s.Remark(&t.CornerHalfAngle, "half angle through the corners")
	s.Remark(&t.FacetHalfAngle, "from the axis to a flat; flatter than the corners")
	s.Behind(&t.TopFalls)
	first, last := t.Stations[0], t.Stations[len(t.Stations)-1]
	s.Do("Set the compound for the cone: ", t.Cone.Choice().Done())
	s.Do("The cone is turned no smaller than ", first.Blank.Up(), " at the large end and ", last.Blank.Up(),
		" at the small one. ", say.Join(t.Cone.steps[:min(1, len(t.Cone.steps))], ""))
	for i, step := range t.Cone.steps {
		if i > 0 {
			s.Do(step)
		}
	}
	if t.byHand() {
		s.Note("Each flat lies ", sheet.Deg(t.FacetHalfAngle), " from the axis; facets jig has a cradle for that.")
	} else {
		s.Do("Tilt the work by ", sheet.Deg(t.FacetHalfAngle), ", its small end up, so that a flat lies level. ",
			"An indicator along the top of the cone then falls by ", t.TopFalls, " from the large end to the small one.")
	}
	t.explain(s, "Touch the cutter on top of the cone at its large end")
	table := s.Table(t.Stations, "From the large end")
	if t.Inputs.Every == nil { // both ends stand in the steps
		for _, c := range table.Cols {
			table.Leave(c.Key)
		}
	}
	if t.Inputs.Sides%2 == 1 {
		table.Head("across_flats_mm", "flat to corner")
	}
	a1, a2, l := t.apothems[0], t.apothems[1], t.Inputs.Length
	s.Step("facet half angle", "atan((A1 - A2)/l)", t.FacetHalfAngle, "A1", a1, "A2", a2, "l", l)
	b1, b2 := t.Stations[0].Blank, t.Stations[len(t.Stations)-1].Blank
	s.Step("top falls", "(B1 - B2)/2*cos(f) - l*sin(f)", t.TopFalls, "B1", b1, "B2", b2, "f", t.FacetHalfAngle, "l", l)
	s.Step("corner half angle", "atan((A1 - A2)/(l*cos(h)))", t.CornerHalfAngle, "A1", a1, "A2", a2, "l", l,
		"h", centre(t.Inputs.Sides))
	return *s
}

// JigInput is a tapering polygon that is ground in a cradle, and the diameter
// of the wheel the belt or the stone runs on; that of the shop's grinder where it is
// not given.
type JigInput struct {
	TaperInput
	Wheel   *units.Length     `json:"wheel_mm,omitempty"`
	Grinder *shop.BeltGrinder `json:"-"`
}

// JigResult is how the cradle is set. The stops are the heights of the bar's
// axis over the plane of the flat that is being ground, at either end. First
// is what the first flat reads over the round opposite, square to the axis.
// Hollow is what the wheel grinds deeper in the middle of a flat than at its
// edges, and Centre how far the bar's axis is from the wheel's where the stop ends the
// grinding; nil without a wheel.
type JigResult struct {
	Inputs      JigInput      `json:"inputs"`
	Cradle      units.Angle   `json:"cradle_angle_deg" show:"tilt the cradle" as:"minutes"`
	Index       units.Angle   `json:"index_deg" show:"from flat to flat" as:"minutes"`
	StopLarge   units.Length  `json:"stop_large_mm" show:"axis over the flat, large end"`
	StopSmall   units.Length  `json:"stop_small_mm" show:"axis over the flat, small end"`
	Difference  units.Length  `json:"stop_difference_mm" show:"difference"`
	FirstLarge  units.Length  `json:"first_flat_reading_large_mm" show:"first flat reads, large end"`
	FirstSmall  units.Length  `json:"first_flat_reading_small_mm" show:"first flat reads, small end"`
	Wheel       *units.Length `json:"wheel_mm"`
	CentreLarge *units.Length `json:"axis_to_wheel_large_mm" show:"axis to the wheel's, large end"`
	CentreSmall *units.Length `json:"axis_to_wheel_small_mm" show:"axis to the wheel's, small end"`
	HollowLarge *units.Length `json:"hollow_large_mm" show:"hollow by the wheel, large end"`
	HollowSmall *units.Length `json:"hollow_small_mm" show:"hollow by the wheel, small end"`
	Order
	sheet.Remarks

	of Tapered
}

// Hollow returns how much deeper a wheel of the diameter D grinds in the middle
// of a flat of the width w than at its edges, by the rule
//
//	w²/(8·R),  R = D/2
//
// It is short of the exact R - sqrt(R² - w²/4) by about w⁴/(128·R³), which is
// 1 % of it where the flat is a fifth of the wheel wide. w is 0 or more, D above
// w.
func Hollow(width, wheel units.Length) units.Length {
	w := width.MM()
	return units.FromFloat(w * w / (4 * wheel.MM()))
}

// Jig returns how a cradle is set to grind a tapering polygon: tilted by the
// facet half angle f, so that the flat lies level, the axis A·cos f over it at
// either end, A being the apothem there. It fails where Taper does, and for a
// wheel no larger than the widest flat.
func Jig(in JigInput) (JigResult, error) {
	t, err := in.TaperInput.polygon()
	if err != nil {
		return JigResult{}, err
	}
	r := JigResult{
		Inputs: in, Cradle: t.FacetHalfAngle, Index: units.Degrees(360 / float64(in.Sides)), of: t, Remarks: t.Remarks,
		Order: inOrder(in.Sides, units.Length{}, t.FacetHalfAngle, Indexing{}, t.ends()...),
	}
	first, last := t.Stations[0], t.Stations[len(t.Stations)-1]
	stop := func(a units.Length) units.Length { return units.FromFloat(a.MM() * r.Cradle.Cos()) }
	r.StopLarge, r.StopSmall = stop(t.apothems[0]), stop(t.apothems[1])
	r.Difference = r.StopLarge.Minus(r.StopSmall)
	r.FirstLarge, r.FirstSmall = firstReading(first.Blank, t.apothems[0]), firstReading(last.Blank, t.apothems[1])
	switch r.Wheel = in.Wheel; {
	case in.Wheel == nil && in.Grinder == nil:
		r.NotChecked("belt_grinder", "no grinder in this shop: the hollow of its wheel was not worked out")
		return r, nil
	case in.Wheel != nil && in.Wheel.Cmp(first.Width) <= 0:
		return JigResult{}, problem.New(problem.OutOfRange, "wheel", *in.Wheel,
			"must be larger than the widest flat, ", first.Width.Up())
	case in.Wheel == nil && in.Grinder.Wheel.Cmp(first.Width) <= 0:
		r.Warn("wheel", "the grinder's wheel, ", in.Grinder.Wheel, ", is no larger than the widest flat, ", first.Width.Up(),
			": grind on a flat platen")
		return r, nil
	case in.Wheel == nil:
		r.Wheel = &in.Grinder.Wheel
	}
	r.HollowLarge, r.HollowSmall = new(Hollow(first.Width, *r.Wheel)), new(Hollow(last.Width, *r.Wheel))
	r.CentreLarge, r.CentreSmall = new(r.StopLarge.Plus(r.Wheel.Half())), new(r.StopSmall.Plus(r.Wheel.Half()))
	return r, nil
}

// Sheet implements sheet.Result.
func (r JigResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Cradle for ", in.Sides, " tapering flats")
	s.Brief = true
	s.Remark(&r.Cradle, "so that the flat lies level: the axis nearer to it at the small end")
	s.Remark(&r.StopLarge, "where the stop ends the grinding")
	s.Remark(&r.FirstLarge, "over the flat and the round opposite, square to the axis")
	s.Skip(&r.Circle, &r.Block)
	a1, a2 := r.of.apothems[0], r.of.apothems[1]
	s.Step("f", "atan((A1 - A2)/l)", r.Cradle, "A1", a1, "A2", a2, "l", in.Length)
	s.Step("stop, large end", "A1*cos(f)", r.StopLarge, "A1", a1, "f", r.Cradle)
	s.Step("stop, small end", "A2*cos(f)", r.StopSmall, "A2", a2, "f", r.Cradle)
	first, last := r.of.Stations[0], r.of.Stations[len(r.of.Stations)-1]
	s.Do("Turn the cone, ", first.Blank.Up(), " at the large end and ", last.Blank.Up(), " at the small one; ",
		"facets taper has how the compound is set.")
	s.Do("Set the cradle to ", sheet.Deg(r.Cradle), ", the small end nearer to the platen, and its stop so that ",
		"the bar's axis stays ", r.StopLarge, " off the platen at the large end and ", r.StopSmall, " at the small one.")
	s.Do("Grind or file the flats down to the stop in the order of the table, every second one first; ",
		"at is where the bar stands in the cradle for each, from flat 1. Measure each over what stands opposite.")
	if r.HollowLarge != nil {
		r.onWheel(s)
	}
	s.Behind(&r.Difference, &r.FirstLarge, &r.FirstSmall)
	s.Figures()
	r.table(s)
	return *s
}

// onWheel adds what there is to say of grinding on the wheel.
func (r *JigResult) onWheel(s *sheet.Sheet) {
	w, R := r.of.Stations[0].Width.MM(), r.Wheel.MM()/2
	s.Remark(&r.HollowLarge, "by the rule w²/8R; exactly ", units.FromFloat(R-math.Sqrt(R*R-w*w/4)))
	s.Remark(&r.CentreLarge, "on a wheel of ", *r.Wheel, ", in place of the platen")
	s.Step("hollow", "w^2/(8*R)", r.HollowLarge, "w", w, "R", R)
	s.Step("axis to the wheel's", "stop + R", r.CentreLarge, "stop", r.StopLarge, "R", R)
	s.Do("On the wheel, the bar lying along the wheel's axis, the stop is right when the two axes are ", *r.CentreLarge,
		" and ", *r.CentreSmall, " apart. The flats come out hollow: measure in the middle, then take the edges off on the ",
		"platen, ", r.HollowLarge.Up(), " at most, without touching the middle.")
}
