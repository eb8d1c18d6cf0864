package stages

import (
	"fmt"
	"slices"
	"strings"

	"setover/setup/base/geom"
	"setover/setup/base/problem"
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

// Input is an outside by its stations, left to right, and the instruments.
// FromJaws of the place is where the first station stands; with it what may
// foul is checked for every taper.
type Input struct {
	Stations []Station `json:"stations"`
	fouling.Place
	Compound  *shop.Compound  `json:"-"`
	Tools     []shop.Tool     `json:"-"`
	Chuck     *shop.Chuck     `json:"-"`
	Post      *shop.ToolPost  `json:"-"`
	Tailstock *shop.Tailstock `json:"-"`
}

// Stage is one stretch of the outside. Angles are nil where it is no taper,
// the reading where there is no compound, and the mark where its scale has none
// that serves too.
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

	fails problem.List
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
		if s.Set != nil {
			for _, w := range s.Set.Warnings {
				if s.Mark == nil && s.Reading != nil && (w.Code == "off-scale" || w.Code == "no-mark") {
					w.Text += fmt.Sprintf(": %s while the slide travels %s", sheet.Inline(s.Set.IndicatorReading, units.Nearest), sheet.Inline(s.Set.IndicatorTravel, units.Nearest))
				}
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
	if err := r.setFouling(); err != nil {
		return Result{}, err
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
		SmallEnd: end, Compound: in.Compound, Place: fouling.Place{Arrangement: in.Arrangement},
	})
	if err != nil {
		return Stage{}, err
	}
	s.Set = &set
	s.HalfAngle, s.Reading, s.Mark, s.Swing, s.SlideTravel = &set.HalfAngle, set.Reading, set.Mark, &set.Swing, set.SlideTravel
	if in.ToolHand != "" {
		s.ToolHand = in.ToolHand
	} else if grows && (!fouling.Owns(in.Tools, Right) || fouling.Short(in.Tools, Right, set.HalfAngle, grows, in.PostTurn) > 0) {
		s.ToolHand = Left
	}
	return s, nil
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
	said := map[string]bool{}
	for i, s := range r.Stages {
		if s.Set == nil {
			continue
		}
		at := fromJaws(s.From)
		place := in.Place
		place.FromJaws, place.ToolHand = &at, s.ToolHand
		found, err := fouling.Check(fouling.Input{
			Head: s.FromDia, Tail: s.ToDia, Length: s.To.Minus(s.From), HalfAngle: *s.HalfAngle, Place: place, Work: work,
			Chuck: in.Chuck, Compound: in.Compound, Post: in.Post, Tools: in.Tools, Tailstock: in.Tailstock,
		})
		if err != nil {
			return err
		}
		r.Stages[i].Found, r.Stages[i].Clearance, r.Stages[i].Fouls = &found, found.Clearance, found.Fouls
		for _, w := range found.NotChecked {
			if !said[w.Text] && !strings.HasSuffix(w.Text, "(lathe: tools)") { // said for all stages already
				said[w.Text] = true
				r.Warnings = append(r.Warnings, w)
			}
		}
		for _, f := range found.Fails() {
			f.Want = fmt.Sprintf("stage %d: %s", s.N, f.Want)
			if len(found.Alternatives) > 0 && found.Alternatives[0].Clears() {
				f.Want += "; it clears with a " + found.Alternatives[0].Arrangement.String()
			}
			r.fails.Add(f)
		}
	}
	return nil
}

// Fails implements sheet.Result.
func (r Result) Fails() problem.List { return r.fails }

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
		{Key: "reading_deg", Head: "reading"},
		{Key: "mark_deg", Head: "mark"},
		{Key: "swing", Head: "swing"},
		{Key: "slide_travel_mm", Head: "slide"},
		{Key: "tool_hand", Head: "tool"},
		{Key: "clearance_mm", Head: "clearance"},
	}}
	for _, st := range r.Stages {
		row := []sheet.Value{
			sheet.Count(st.N), sheet.Text(st.Kind), sheet.Len(st.From), sheet.Len(st.To), sheet.Len(st.FromDia), sheet.Len(st.ToDia),
			nil, nil, nil, nil, sheet.LenOrNone(st.SlideTravel), sheet.Text(st.ToolHand), nil,
		}
		if st.Clearance != nil {
			row[12] = sheet.Down(*st.Clearance)
		}
		if st.HalfAngle != nil {
			row[6], row[9] = sheet.Deg(*st.HalfAngle), sheet.Text(*st.Swing)
			s.Working = append(s.Working, st.Set.Taper.Working()[0])
		}
		if st.Reading != nil {
			row[7] = sheet.Deg(*st.Reading)
		}
		if st.Mark != nil {
			row[8] = sheet.Deg(*st.Mark)
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
	if r.Inputs.FromJaws != nil {
		s.Notes = append(s.Notes, fouling.Guide)
	}
	return s
}
