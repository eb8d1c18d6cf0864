package stages

import (
	"cmp"
	"slices"
	"strings"

	"setover/setup/base/geom"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/fouling"
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
type Hand = fouling.Hand

// The two hands.
const (
	Right = fouling.Right // cuts toward the headstock
	Left  = fouling.Left  // cuts toward the tailstock
)

// Input is an outside by its stations, left to right. FromJaws of the place is
// where the first station stands; with it what may foul is checked for every
// taper.
type Input struct {
	Stations []Station `json:"stations"`
	fouling.Place
}

// Stage is one stretch of the outside. Angles are nil where it is no taper,
// the reading where there is no compound, and the mark where its scale has none
// that serves too.
type Stage struct {
	N           int             `json:"n" show:"n"`
	Kind        Kind            `json:"kind" show:"kind"`
	From        units.Length    `json:"from_mm" show:"from"`
	To          units.Length    `json:"to_mm" show:"to"`
	FromDia     units.Length    `json:"from_dia_mm" show:"dia"`
	ToDia       units.Length    `json:"to_dia_mm" show:"to dia"`
	HalfAngle   *units.Angle    `json:"half_angle_deg" show:"half angle"`
	Reading     *units.Angle    `json:"reading_deg" show:"reading"`
	Mark        *units.Angle    `json:"mark_deg" show:"mark"`
	Swing       *shop.Direction `json:"swing" show:"swing"`
	SlideTravel *units.Length   `json:"slide_travel_mm" show:"slide"`
	ToolHand    Hand            `json:"tool_hand" show:"tool"`
	Clearance   *units.Length   `json:"clearance_mm" show:"clearance" as:"down"`
	Fouls       []fouling.Foul  `json:"fouls,omitempty"`

	// Set is the whole setting of a taper; nil for the others. Found is what
	// fouls there; nil where FromJaws was not given.
	Set   *compound.Result `json:"-"`
	Found *fouling.Finding `json:"-"`
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
	if err := in.Place.Check(); err != nil {
		return Result{}, err
	}
	r := Result{Inputs: in}
	for i := range in.Stations[1:] {
		s, err := stage(in, i)
		if err != nil {
			return Result{}, err
		}
		r.Stages = append(r.Stages, s)
	}
	r.warn()
	if err := r.setFouling(); err != nil {
		return Result{}, err
	}
	r.Order = order(r.Stages)
	r.Caution(cautions.LockCompound, cautions.Isolate, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

func check(stations []Station) error {
	if len(stations) < 2 {
		return problem.New(problem.Missing, "station", nil, "needs at least two stations, such as ",
			say.Key("station"), " 0=20 ", say.Key("station"), " 60=12")
	}
	var bad problem.List
	last := len(stations) - 1
	for i, s := range stations {
		no := func(code problem.Code, want ...any) {
			bad.Add(problem.New(code, "station", say.Of(s.Z.Typed(), "=", s.Dia.Typed()), want...))
		}
		if s.Dia.Sign() < 0 || s.Dia.Sign() == 0 && i != 0 && i != last {
			no(problem.OutOfRange, "a diameter must be above 0 (an end may come to a point)")
		}
		if i == 0 {
			continue
		}
		if p := stations[i-1]; s.Z.Less(p.Z) {
			no(problem.Contradiction, "stations run from left to right: this one stands left of ", p.Z)
		} else if s.Z.Equal(p.Z) && s.Dia.Equal(p.Dia) {
			no(problem.Duplicate, "the same station twice")
		}
	}
	return bad.Err()
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
		SmallEnd: end, Place: fouling.Place{Arrangement: in.Arrangement, Lathe: in.Lathe},
	})
	if err != nil {
		return Stage{}, err
	}
	s.Set, s.HalfAngle, s.Swing, s.SlideTravel = &set, &set.HalfAngle, &set.Swing, set.SlideTravel
	s.Reading, s.Mark = set.Reading, set.Mark
	right := fouling.Arrangement{ToolHand: Right, PostTurn: in.PostTurn}
	if in.ToolHand != "" {
		s.ToolHand = in.ToolHand
	} else if grows && (!fouling.Owns(in.Lathe.Tools, Right) || right.Short(in.Lathe.Tools, set.HalfAngle, grows) != nil) {
		s.ToolHand = Left
	}
	return s, nil
}

// warn passes on what the settings warn of, and says what was not checked.
func (r *Result) warn() {
	if r.Inputs.Lathe.Compound == nil {
		r.NotChecked("lathe: compound", "no compound in this shop: the angles are exact, no marks were looked for")
	} else {
		for _, s := range r.Stages {
			if s.Set == nil {
				continue
			}
			for _, w := range s.Set.Warnings {
				how := say.Text("")
				if w.Code == "off-scale" || w.Code == "no-mark" {
					how = say.Of(": ", s.Set.IndicatorReading, " while the slide travels ", s.Set.IndicatorTravel)
				}
				r.Warn(w.Code, "stage ", s.N, ": ", say.Text(w.Text), how)
			}
		}
	}
	if len(r.Inputs.Lathe.Tools) == 0 {
		r.NotChecked("lathe: tools", "whether a tool's trailing edge clears was not checked")
	}
}

// setFouling checks every taper with the tool hand it was given; the other
// stages are in the post's way.
func (r *Result) setFouling() error {
	in := r.Inputs
	if in.FromJaws == nil {
		return nil
	}
	first := in.Stations[0].Z
	fromJaws := func(z units.Length) units.Length { return in.FromJaws.Plus(z.Minus(first)) }
	var work []geom.Convex
	for _, s := range r.Stages {
		if s.Kind != Shoulder {
			work = append(work, fouling.Stretch(fromJaws(s.From), fromJaws(s.To), s.FromDia, s.ToDia))
		}
	}
	for i, s := range r.Stages {
		if s.Set == nil {
			continue
		}
		place := in.Place
		place.FromJaws, place.ToolHand = new(fromJaws(s.From)), s.ToolHand
		found, err := fouling.Check(fouling.Input{
			Head: s.FromDia, Tail: s.ToDia, Length: s.To.Minus(s.From), HalfAngle: *s.HalfAngle, Place: place, Work: work,
		})
		if err != nil {
			return err
		}
		r.Stages[i].Found, r.Stages[i].Clearance, r.Stages[i].Fouls = &found, found.Clearance, found.Fouls
		for _, w := range found.Warnings {
			tools := len(in.Lathe.Tools) == 0 && strings.HasSuffix(w.Text, "(lathe: tools)") // said for all stages already
			if !tools && !slices.Contains(r.Warnings, w) {
				r.Warnings = append(r.Warnings, w)
			}
		}
		clears := say.Text("")
		if a := found.Alternatives; len(a) > 0 && a[0].Clears() {
			clears = say.Of("; it clears with a ", a[0].Arrangement, " ", a[0].Hung())
		}
		for _, f := range found.Fails() {
			r.No(problem.New(f.Code, f.At.Key, nil, "stage ", s.N, ": ", say.Text(f.Want), clears))
		}
	}
	return nil
}

// order returns the stages in the order to cut them: cylinders and shoulders
// first while the compound stands true, the largest first so that slender
// stretches come last, then the tapers, those of one setting together.
func order(list []Stage) []int {
	left := slices.Clone(list)
	taper := func(s Stage) int {
		if s.Kind == Taper {
			return 1
		}
		return 0
	}
	largest := func(s Stage) units.Length { return units.Max(s.FromDia, s.ToDia) }
	slices.SortStableFunc(left, func(a, b Stage) int {
		return cmp.Or(cmp.Compare(taper(a), taper(b)), largest(b).Cmp(largest(a)))
	})
	var out []int
	for len(left) > 0 {
		next := left[0]
		left = slices.DeleteFunc(left, func(s Stage) bool {
			with := s.N == next.N || sameSetting(s, next)
			if with {
				out = append(out, s.N)
			}
			return with
		})
	}
	return out
}

// sameSetting reports whether two stages are tapers that are cut at one setting
// of the slide.
func sameSetting(a, b Stage) bool {
	switch {
	case a.Kind != Taper || b.Kind != Taper || *a.Swing != *b.Swing:
		return false
	case a.Mark != nil && b.Mark != nil:
		return *a.Mark == *b.Mark
	}
	return *a.HalfAngle == *b.HalfAngle
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Stages of an outside")
	s.Table(r.Stages)
	s.Note("Cut the stages in the order ", say.Join(r.Order, ", "), ": cylinders and shoulders while the compound ",
		"stands true, stiff before slender, tapers of one setting together.")
	for i, st := range r.Stages {
		if st.Set == nil {
			continue
		}
		st.Set.WorkSlope(s)
		same := func(o Stage) bool { return sameSetting(o, st) }
		if st.Reading == nil || slices.ContainsFunc(r.Stages[:i], same) {
			continue
		}
		var at []int
		for _, o := range r.Stages[i:] {
			if same(o) {
				at = append(at, o.N)
			}
		}
		s.Note("Stage ", say.Join(at, ", "), ": ", st.Set.Setting(), ".")
	}
	if c := r.Inputs.Lathe.Compound; c != nil {
		s.Note("On this scale ", compound.Zero(c), ".")
	}
	s.Note("z runs from the left end of the drawing, the headstock's; a right-hand tool cuts toward the headstock.")
	if r.Inputs.FromJaws != nil {
		s.Note(fouling.Guide)
	}
	return *s
}
