package plan

import (
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
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
	Key  string `json:"key" show:"part"`
	Plan Result `json:"plan"`
}

// Meeting is how two parts meet. FaceOff is the most that is faced off a
// screwed part's seat to bring its flats or holes in line; SeatAt is where a
// bore stops on a cone, z of the part it is on.
type Meeting struct {
	What    say.Text      `json:"what" show:"what"`
	FaceOff *units.Length `json:"worst_face_off_mm" show:"face off"`
	SeatAt  *units.Length `json:"seat_at_mm" show:"seat at z"`
	How     say.Text      `json:"how" show:"how"`
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
}

// MakeProject plans every part of a project, puts the parts in an order in
// which each can be fitted to those before, and works out how they meet. It
// fails where Make does, and on a fit whose thread does not exist.
func MakeProject(in ProjectInput) (ProjectResult, error) {
	in.Name = in.Project.Name
	if n := len(in.Project.Parts); n > order.Max {
		return ProjectResult{}, problem.New(problem.TooLarge, "parts", n, "a project takes up to ", order.Max, " parts")
	}
	r := ProjectResult{Inputs: in, Fits: []Meeting{}, Before: []PartBefore{}}
	for _, p := range in.Project.Parts {
		one, err := Make(Input{Part: p.Part, Shop: in.Shop})
		if err != nil {
			return ProjectResult{}, err
		}
		r.Parts = append(r.Parts, ProjectPart{p.Key, one})
		r.Minutes += one.Totals.Minutes
		for _, f := range one.Fails() {
			f.At.Key = strings.TrimSuffix(p.Key+": "+f.At.Key, ": ")
			r.No(f)
		}
		for _, w := range one.Warnings {
			r.Warn(w.Code, p.Key, ": ", w.Text)
		}
		r.Caution(one.Cautions...)
	}
	for _, f := range in.Project.Fits {
		m, err := r.meeting(f)
		if err != nil {
			return ProjectResult{}, placed(err, f.At)
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
		first, known := number[b.Part]
		second, both := number[b.Before]
		if known && both {
			r.Before = append(r.Before, b)
			job.Before[second] |= 1 << first
		}
	}
	if job.Cycle() != nil {
		r.No(problem.New(problem.RulesCollide, "", r.Inputs.Name,
			"its parts wait for one another in a ring: make one of the fits by measuring instead"))
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

// meeting works out how two parts meet.
func (r *ProjectResult) meeting(f part.Fit) (Meeting, error) {
	if f.Seat != "" {
		return r.seat(f)
	}
	spec, err := threads.Parse(f.Thread)
	if err != nil {
		return Meeting{}, err
	}
	m := Meeting{What: say.Of(f.Screw, " screws into ", f.Into, " on ", spec), How: "nothing need line up"}
	r.mate(f.Screw, "outside", spec)
	r.mate(f.Into, "inside", spec)
	if f.Align == "" {
		return m, nil
	}
	sides := 1
	if body := r.part(f.Into); f.Align == "facets" && body.Round != nil && len(body.Round.Facets) > 0 {
		sides = body.Round.Facets[0].Sides
	}
	c, err := cut.Clock(cut.ClockInput{
		Thread: cut.Of(spec), Sides: &sides, Short: practice.ClockShort.Angle(), Within: practice.ClockWithin.Angle(),
	})
	if err != nil {
		return Meeting{}, err
	}
	m.FaceOff = c.Worst
	m.How = say.Of("cut the male thread first, it is the gauge for the other; screw them up, see how far the ", f.Align,
		" are from lining up, and face the seat: ", c.PerDegree, " for each degree, at most ", c.Worst.Up(),
		"; or cut the ", f.Align, " with both parts screwed together")
	return m, nil
}

// mate warns of a screwed fit when a part of it lacks the thread on its side.
func (r *ProjectResult) mate(key, side string, spec threads.Designation) {
	if p := r.part(key); p.Round != nil {
		for _, t := range p.Round.Threads {
			if t.Inside == (side == "inside") && sameThread(t.Spec, spec) {
				return
			}
		}
	}
	r.Warn("no-mate", key, " has no ", side, " thread ", spec, " for this fit")
}

// seat works out where a bore stops on the other part's cone.
func (r *ProjectResult) seat(f part.Fit) (Meeting, error) {
	m := Meeting{What: say.Of(f.Seat, " seats on ", f.On, " with a bore of ", f.Bore)}
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
		m.How = say.Of("measure the cone first, then bore: ", units.MustLength("0.01mm"), " in the bore moves the seat by ",
			units.FromFloat(float64(s.PerMicron)*10).Abs())
		return m, nil
	}
	r.No(problem.New(problem.Impossible, "bore", f.Bore, "no cone of ", f.On, " has this diameter on it").In(f.At))
	return m, nil
}

// planned is a part of the project in its table.
type planned struct {
	Key      string       `json:"key" show:"part"`
	Material string       `json:"material" show:"material"`
	Quantity int          `json:"quantity" show:"quantity"`
	Setups   int          `json:"setups" show:"set-ups"`
	Minutes  units.Number `json:"time_min" show:"time" as:"0 min"`
	Blank    say.Text     `json:"blank" show:"blank"`
}

// Sheet implements sheet.Result.
func (r ProjectResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Project: ", r.Inputs.Name)
	var parts []planned
	for _, p := range r.Parts {
		q := p.Plan
		parts = append(parts, planned{p.Key, q.Material, q.Quantity, q.Totals.Setups, q.Totals.Minutes, q.Blank.Because})
	}
	s.Table(parts, "Parts").Checked(map[string]sheet.Value{
		"key": sheet.Text("all"), "time_min": sheet.Num(float64(r.Minutes), 0, "min"),
	})
	if len(r.Fits) > 0 {
		s.Table(r.Fits, "Where they meet")
	}
	for _, p := range r.Parts {
		if len(p.Plan.Operations) > 0 {
			s.Table(p.Plan.Operations, p.Key, ": order of work")
		}
	}
	if len(r.Order) > 0 {
		s.Note("Make the parts in the order ", say.Join(r.Order, ", "), ".")
	}
	for _, b := range r.Before {
		s.Note(b.Part, " before ", b.Before, ": ", b.Reason, " (", b.Code, ").")
	}
	s.Note("The card of each part, with every setting: setover plan and the part's own file.")
	return *s
}
