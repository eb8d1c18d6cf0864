package plan

import (
	"fmt"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/order"
	"setover/tapers"
	"setover/tapers/gauge"
	"setover/threads"
	"setover/threads/cut"
)

// ProjectInput is a project and the shop that makes it.
type ProjectInput struct {
	Project *part.Project `json:"-"`
	Shop    *shop.Shop    `json:"-"`
	Name    string        `json:"project"`
}

// ProjectPart is a part of the project with its plan.
type ProjectPart struct {
	Key  string `json:"key"`
	Plan Result `json:"plan"`
}

// Meeting is how two parts meet. FaceOff is the most that is faced off a
// screwed part's seat to bring its flats or holes in line; SeatAt is where a
// bore stops on a cone, z of the part it is on.
type Meeting struct {
	What    string        `json:"what"`
	FaceOff *units.Length `json:"worst_face_off_mm"`
	SeatAt  *units.Length `json:"seat_at_mm"`
	How     string        `json:"how"`
}

// PartBefore is a part that is made before another, and the rule that says so.
type PartBefore struct {
	Part   string `json:"part"`
	Before string `json:"before"`
	Code   string `json:"code"`
	Reason string `json:"reason"`
}

// ProjectResult is every part planned, and how they meet.
type ProjectResult struct {
	Inputs  ProjectInput  `json:"inputs"`
	Parts   []ProjectPart `json:"parts"`
	Order   []string      `json:"order"`
	Before  []PartBefore  `json:"before"`
	Fits    []Meeting     `json:"fits"`
	Minutes units.Number  `json:"time_min"`
	sheet.Remarks

	fails problem.List
}

// Fails implements sheet.Result.
func (r ProjectResult) Fails() problem.List { return r.fails }

// MakeProject plans every part of a project, puts the parts in an order in
// which each can be fitted to those before, and works out how they meet. It
// fails where Make does, and on a fit whose thread does not exist.
func MakeProject(in ProjectInput) (ProjectResult, error) {
	in.Name = in.Project.Name
	if n := len(in.Project.Parts); n > order.Max {
		return ProjectResult{}, problem.New(problem.TooLarge, "parts", n, fmt.Sprintf("a project takes up to %d parts", order.Max))
	}
	r := ProjectResult{Inputs: in, Fits: []Meeting{}, Before: []PartBefore{}}
	for _, p := range in.Project.Parts {
		one, err := Make(Input{Part: p.Part, Shop: in.Shop})
		if err != nil {
			return ProjectResult{}, err
		}
		r.Parts = append(r.Parts, ProjectPart{p.Key, one})
		r.Minutes += one.Minutes
		for _, f := range one.fails {
			f.At.Key = p.Key + ": " + f.At.Key
			r.fails = append(r.fails, f)
		}
		for _, w := range one.Warnings {
			r.Warnings.Add(w.Code, p.Key+": "+w.Text)
		}
		r.Caution(one.Cautions...)
	}
	for _, f := range in.Project.Fits {
		m, err := r.meeting(f)
		if err != nil {
			return ProjectResult{}, at(err, f.At)
		}
		r.Fits = append(r.Fits, m)
	}
	r.putInOrder()
	return r, nil
}

// putInOrder finds the order of the parts: the male thread before its mate,
// the cone before the collar that seats on it.
func (r *ProjectResult) putInOrder() {
	number := map[string]int{}
	for i, p := range r.Parts {
		number[p.Key] = i
	}
	job := order.Job{Ops: make([]order.Op, len(r.Parts)), Before: make([]uint64, len(r.Parts))}
	for i := range job.Ops {
		job.Ops[i] = order.Op{Setup: i, Grip: i}
	}
	for _, f := range r.Inputs.Project.Fits {
		b := PartBefore{f.Screw, f.Into, "gauge-mate", "the male thread is the gauge for its mate"}
		if f.Seat != "" {
			b = PartBefore{f.On, f.Seat, "measure-mate", "the seat follows the real cone, once it is measured"}
		}
		a, known := number[b.Part]
		c, both := number[b.Before]
		if known && both {
			r.Before = append(r.Before, b)
			job.Before[c] |= 1 << a
		}
	}
	if ring := job.Cycle(); ring != nil {
		r.fails.Add(problem.Problem{Code: problem.RulesCollide, Found: r.Inputs.Name, Want: "its parts wait for one another in a ring: make one of the fits by measuring instead"})
		return
	}
	sequence, _ := job.Best()
	for _, i := range sequence {
		r.Order = append(r.Order, r.Parts[i].Key)
	}
}

// part returns a part of the project by its key.
func (r ProjectResult) part(key string) *part.Part {
	for _, p := range r.Inputs.Project.Parts {
		if p.Key == key {
			return p.Part
		}
	}
	return nil
}

func (r *ProjectResult) meeting(f part.Fit) (Meeting, error) {
	if f.Seat != "" {
		return r.seat(f)
	}
	spec, err := threads.Parse(f.Thread)
	if err != nil {
		return Meeting{}, err
	}
	m := Meeting{What: fmt.Sprintf("%s screws into %s on %s", f.Screw, f.Into, spec)}
	r.mates(f, spec)
	sides := 1
	if body := r.part(f.Into); f.Align == "facets" && body.Round != nil && len(body.Round.Facets) > 0 {
		sides = body.Round.Facets[0].Sides
	}
	if f.Align == "" {
		m.How = "nothing need line up"
		return m, nil
	}
	c, err := cut.Clock(cut.ClockInput{Thread: cut.Of(spec), Sides: &sides, Short: units.Degrees(clockShort), Within: units.Degrees(clockWithin)})
	if err != nil {
		return Meeting{}, err
	}
	m.FaceOff = c.Worst
	m.How = fmt.Sprintf("cut the male thread first, it is the gauge for the other; screw them up, see how far the %s are from lining up, and face the seat: %s for each degree, at most %s; or cut the %s with both parts screwed together",
		f.Align, sheet.Inline(c.PerDegree, units.Nearest), sheet.Inline(*c.Worst, units.Up), f.Align)
	return m, nil
}

// How far short clocking aims, and how near it comes: common practice, no
// source.
const (
	clockShort  = 7
	clockWithin = 2
)

// mates warns of a screwed fit whose parts lack the thread.
func (r *ProjectResult) mates(f part.Fit, spec threads.Designation) {
	for _, side := range []struct {
		key    string
		inside bool
	}{{f.Screw, false}, {f.Into, true}} {
		found := false
		if p := r.part(side.key); p.Round != nil {
			for _, t := range p.Round.Threads {
				found = found || t.Inside == side.inside && sameThread(t.Spec, spec)
			}
		}
		if !found {
			what := "outside"
			if side.inside {
				what = "inside"
			}
			r.Warnings.Add("no-mate", fmt.Sprintf("%s has no %s thread %s for this fit", side.key, what, spec))
		}
	}
}

// seat works out where a bore stops on the other part's cone.
func (r *ProjectResult) seat(f part.Fit) (Meeting, error) {
	m := Meeting{What: fmt.Sprintf("%s seats on %s with a bore of %s", f.Seat, f.On, size(*f.Bore))}
	body := r.part(f.On)
	if body.Round == nil {
		return m, problem.New(problem.Impossible, "on", f.On, "a bore seats on a turned part")
	}
	for i, b := range body.Round.Profile[1:] {
		a := body.Round.Profile[i]
		large, small, l := units.Max(a.Dia, b.Dia), units.Min(a.Dia, b.Dia), b.Z.Minus(a.Z)
		if large.Equal(small) || l.Sign() == 0 || f.Bore.Less(small) || large.Less(*f.Bore) {
			continue
		}
		s, err := gauge.Seat(gauge.SeatInput{Input: tapers.Input{Large: &large, Small: &small, Length: &l}, Bore: *f.Bore})
		if err != nil {
			return m, err
		}
		z := a.Z.Plus(*s.At)
		if a.Dia.Less(b.Dia) {
			z = b.Z.Minus(*s.At)
		}
		m.SeatAt = &z
		m.How = fmt.Sprintf("measure the cone first, then bore: 0.01 mm in the bore moves the seat by %s", sheet.Inline(units.FromFloat(float64(s.PerMicron)*10).Abs(), units.Nearest))
		return m, nil
	}
	r.fails.Add(problem.New(problem.Impossible, "bore", size(*f.Bore), "no cone of "+f.On+" has this diameter on it").In(f.At))
	return m, nil
}

// Sheet implements sheet.Result.
func (r ProjectResult) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: "Project: " + r.Inputs.Name, Warnings: r.Warnings, Cautions: r.Cautions}
	t := sheet.Table{Title: "Parts", Cols: []sheet.Column{
		{Key: "key", Head: "part"}, {Key: "material", Head: "material"}, {Key: "quantity", Head: "quantity"}, {Key: "setups", Head: "set-ups"}, {Key: "time_min", Head: "time"}, {Key: "blank", Head: "blank"},
	}}
	for _, p := range r.Parts {
		t.Add(sheet.Text(p.Key), sheet.Text(p.Plan.Material), sheet.Count(p.Plan.Quantity), sheet.Count(p.Plan.Setups), sheet.Num(float64(p.Plan.Minutes), 0, "min"), sheet.Text(p.Plan.Blank.Because))
	}
	t.Check = []sheet.Value{sheet.Text("all"), nil, nil, nil, sheet.Num(float64(r.Minutes), 0, "min"), nil}
	s.Tables = append(s.Tables, t)
	if len(r.Fits) > 0 {
		f := sheet.Table{Title: "Where they meet", Cols: []sheet.Column{{Key: "what", Head: "what"}, {Key: "worst_face_off_mm", Head: "face off"}, {Key: "seat_at_mm", Head: "seat at z"}, {Key: "how", Head: "how"}}}
		for _, m := range r.Fits {
			f.Add(sheet.Text(m.What), sheet.LenOrNone(m.FaceOff), sheet.LenOrNone(m.SeatAt), sheet.Text(m.How))
		}
		s.Tables = append(s.Tables, f)
	}
	for _, p := range r.Parts {
		if len(p.Plan.Operations) > 0 {
			o := p.Plan.orderTable()
			o.Title = p.Key + ": order of work"
			s.Tables = append(s.Tables, o)
		}
	}
	if len(r.Order) > 0 {
		s.Notes = append(s.Notes, "Make the parts in the order "+strings.Join(r.Order, ", ")+".")
	}
	for _, b := range r.Before {
		s.Notes = append(s.Notes, fmt.Sprintf("%s before %s: %s (%s).", b.Part, b.Before, b.Reason, b.Code))
	}
	s.Notes = append(s.Notes, "The card of each part, with every setting: setover plan and the part's own file.")
	return s
}
